#include "cli/show.h"
#include "tenterbook/dispute.h"

#include <string.h>

static tb_rc check(const struct tb_standing *s, const struct tb_lot *lot, struct tb_err *err)
{
    bool relabel = strcmp(s->standing, "relabelled") == 0;

    if (!tb_standing_valid(s->standing))
        return tb_fail(err, TB_EINVAL,
                       "'%s' is no standing; a lot is waiting, held, released, relabelled or returned",
                       s->standing);
    if (!*s->why)
        return tb_fail(err, TB_EINVAL, "a standing needs its reason: --why TEXT");
    if (relabel && (!s->new_words || !*s->new_words || !s->goods_of || !*s->goods_of))
        return tb_fail(
            err, TB_EINVAL,
            "relabelling needs the new label's words and whose goods they are: --new TEXT --goods-of NAME");
    if (!relabel && (s->new_words || s->goods_of || s->old_words))
        return tb_fail(err, TB_EINVAL, "--old, --new and --goods-of belong to --as relabelled");
    if (strcmp(lot->standing, "returned") == 0 && strcmp(s->standing, "waiting") != 0 &&
        strcmp(s->standing, "returned") != 0)
        return tb_fail(err, TB_EREFUSED, "lot %s was returned; if it is back, settle it as waiting first",
                       lot->ref);
    return TB_OK;
}

/* The verdict that stands beside the decision: the new one where the lot was judged again, else the one it has. */
static void print_verdict(struct tb_ctx *ctx, const struct tb_rejudged *r)
{
    const struct tb_lot *lot = &r->lot;
    struct tb_text t = { 0 };

    if (r->judged) {
        tb_print_rejudged(ctx, r);
        return;
    }
    tb_ratio_words(&t, lot->log_ratio);
    tb_text_add(&t, "; ");
    tb_bench_coverage(&t, lot->bolts_burnt, lot->bolts);
    (void)fprintf(ctx->out, _("Lot %s, declared \"%s\": %s, %s.\n"), lot->ref, lot->declared, lot->verdict,
                  t.s);
    tb_text_free(&t);
}

/* Whoever lets goods go should know that a dispute about them is open. */
static tb_rc print_dispute(struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_dispute d;
    tb_rc rc = tb_dispute_now(&d, ctx->book, lot->id, &mem, err);

    if (rc == TB_OK)
        (void)fprintf(ctx->out,
                      _("Note: the dispute about it, opened on %s, is still open (tenterbook dispute %s).\n"),
                      d.step[0].day, lot->ref);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_standing *s, const struct tb_rejudged *r,
                   struct tb_err *err)
{
    const struct tb_lot *lot = &r->lot;

    if (ctx->json) {
        json_t *j = tb_json_lot(lot);

        tb_print_early(ctx, j, s->settled_at, lot);
        return tb_print_json(ctx, j, err);
    }
    (void)fprintf(ctx->out, _("Lot %s is %s: %s.\n"), lot->ref, s->standing, s->why);
    tb_print_early(ctx, NULL, s->settled_at, lot);
    if (*lot->verdict)
        print_verdict(ctx, r);
    if (strcmp(s->standing, "released") == 0 && strcmp(lot->verdict, "contradicts") == 0)
        (void)fputs(_("Note: it is released although what was seen contradicts the declaration.\n"),
                    ctx->out);
    if (strcmp(s->standing, "relabelled") == 0)
        (void)fprintf(ctx->out,
                      _("The old words (\"%s\"), the new ones, who, when and whose goods are kept; 15 U.S.C. "
                        "70d(b) asks "
                        "for three years. The official text and local counsel decide.\n"),
                      s->old_words);
    return strcmp(s->standing, "held") == 0 ? TB_OK : print_dispute(ctx, lot, err);
}

static tb_rc write_it(struct tb_ctx *ctx, struct tb_standing *s, const struct tb_lot *lot,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_rejudged r = { 0 };
    tb_rc rc = tb_ctx_begin(ctx, "settle", err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(ctx->book, lot->ref);
    rc = tb_standing_add(s, ctx->book, mem, err);
    if (rc == TB_OK && s->new_words)
        rc = tb_declaration_add(ctx->book, lot->id, s->new_words, "relabel", lot->declaration, err);
    /* judged again only where there is something to judge; a hold never undoes what was just settled */
    if (rc == TB_OK && s->new_words && lot->burns > 0)
        rc = tb_rejudge(&r, ctx, lot->ref, TB_WANT_CUES, mem, err);
    if (rc == TB_OK && !r.lot.ref)
        rc = tb_lot_find(&r.lot, ctx->book, lot->ref, mem, err);
    if (rc == TB_OK)
        rc = tb_book_commit(ctx->book, err);
    else
        tb_book_rollback(ctx->book);
    if (rc == TB_OK)
        rc = print(ctx, s, &r, err);
    tb_rejudged_free(&r);
    return rc;
}

static tb_rc settle_it(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    const char *as = tb_opt(ctx, "as"), *why = tb_opt(ctx, "why");
    struct tb_standing s = { .standing = as,
                             .why = why ? why : "",
                             .old_words = tb_opt(ctx, "old"),
                             .new_words = tb_opt(ctx, "new"),
                             .goods_of = tb_opt(ctx, "goods-of") };
    struct tb_lot lot;
    tb_rc rc;

    if (!as)
        return tb_misuse(err, "settle needs --as held, released, relabelled, returned or waiting");
    if ((rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], mem, err)) != TB_OK ||
        (rc = check(&s, &lot, err)) != TB_OK ||
        (rc = tb_opt_moment(&s.settled_at, ctx, "at", mem, err)) != TB_OK)
        return rc;
    s.lot = lot.id;
    if (s.new_words && !s.old_words)
        s.old_words = lot.declared;
    return write_it(ctx, &s, &lot, mem, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = settle_it(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "as", "STANDING", "held, released, relabelled, returned, or waiting (open again)", false },
    { "why", "TEXT", "the reason, in a sentence", false },
    { "old", "TEXT", "relabelled: the old label's words, where they are not the declaration's", false },
    { "new", "TEXT", "relabelled: the new label's words", false },
    { "goods-of", "NAME", "relabelled: whose goods they were", false },
    { "at", "MOMENT", "when it was decided, UTC, where that is not now", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_settle = {
    .name = "settle",
    .args = "LOT --as STANDING --why TEXT",
    .brief = "decide what becomes of a lot",
    .about = "Records a decision about a lot: held, released, relabelled or returned, or waiting to open it "
             "again. The "
             "history stays. Relabelling records the old words, the new ones, who, when and whose goods they "
             "were.",
    .example = "tenterbook settle W26-014.02 --as returned --why \"supplier agreed to take it back\"\n"
               "tenterbook settle W26-014.03 --as relabelled --why \"laboratory report 88\" --new \"100% "
               "polyester\" --goods-of \"own stock\"",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
