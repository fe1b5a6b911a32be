/* judge --all: every burnt lot weighed again, and what changed. */
#include "cli/bench/judge.h"
#include "cli/show.h"

static void tell(FILE *out, const struct tb_changed_lot *c)
{
    const char *now = tb_verdict_key(c->now);
    bool other = c->was != TB_UNJUDGED && c->was != c->now;

    if (other && c->held)
        tb_say(out, "%s: %s, was %s; now held.\n", c->ref, now, tb_verdict_key(c->was));
    else if (other)
        tb_say(out, "%s: %s, was %s.\n", c->ref, now, tb_verdict_key(c->was));
    else if (c->held)
        tb_say(out, "%s: %s; now held.\n", c->ref, now);
    else
        tb_say(out, "%s: %s.\n", c->ref, now);
}

static json_t *as_json(const struct tb_judge_all_outcome *j)
{
    json_t *list = json_array();

    for (size_t i = 0; i < j->recorded; i++) {
        const struct tb_changed_lot *c = &j->changed[i];

        tb_json_push(list, json_pack("{s:s, s:o, s:s, s:b}", "lot", c->ref, "was",
                                     tb_json_some(tb_verdict_key(c->was)), "verdict", tb_verdict_key(c->now),
                                     "held", c->held));
    }
    return json_pack("{s:I, s:I, s:I, s:I, s:I, s:I, s:o}", "lots", (json_int_t)j->lots, "fits",
                     (json_int_t)j->kind[TB_FITS], "contradicts", (json_int_t)j->kind[TB_CONTRADICTS],
                     "undecided", (json_int_t)j->kind[TB_UNDECIDED], "held", (json_int_t)j->held, "kept",
                     (json_int_t)j->kept, "recorded", list);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_judge_all_outcome *j, struct tb_err *err)
{
    if (ctx->json)
        return tb_print_json(ctx, as_json(j), err);
    if (j->lots == 0) {
        tb_say(ctx->out, "No lot has been burnt yet.\n");
        return TB_OK;
    }
    for (size_t i = 0; i < j->recorded; i++)
        tell(ctx->out, &j->changed[i]);
    tb_say(ctx->out,
           "Lots weighed again: %zu. Fits %zu, contradicts %zu, undecided %zu; recorded because something "
           "changed: %zu; now held: %zu.\n",
           j->lots, j->kind[TB_FITS], j->kind[TB_CONTRADICTS], j->kind[TB_UNDECIDED], j->recorded, j->held);
    if (j->kept)
        (void)fprintf(
            ctx->out,
            _n("%zu lot contradicts and stays as somebody settled it: nothing of it was burned, tested or "
               "declared since.\n",
               "%zu lots contradict and stay as somebody settled them: nothing of them was burned, tested or "
               "declared since.\n",
               j->kept),
            j->kept);
    return TB_OK;
}

tb_rc tb_judge_all(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_judge_all_outcome done;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK && (rc = tb_act_judge_all(&done, &ctx->actor, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    return rc;
}
