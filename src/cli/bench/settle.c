/* settle: what becomes of a lot. */
#include "cli/show.h"

#include <math.h>
#include <string.h>

/* The verdict that stands beside the decision: the new one where the lot was judged again, else the one it has. */
static void verdict_words(struct tb_text *out, const struct tb_settle_outcome *done)
{
    const struct tb_rejudged *r = &done->judged;
    const struct tb_lot *lot = &r->lot;
    struct tb_text t = { 0 };

    if (r->judged) {
        tb_rejudged_words(out, r);
        return;
    }
    if (!isnan(done->told.log_ratio)) {
        tb_strength_words(&t, TB_READER, done->told.log_ratio, &done->told.bounds, done->told.at_odds);
        tb_text_add(&t, "; ");
    }
    tb_bench_coverage(&t, TB_READER, lot->bolts_burnt, lot->bolts_tested, lot->bolts);
    if (isnan(done->told.log_ratio) && *lot->declared) /* whoever settles it decides, not a burn */
        tb_text_say(out,
                    "Lot %s, declared \"%s\": its burns could not be held against that, and a person "
                    "decided; %s.\n",
                    lot->ref, lot->declared, t.s);
    else if (isnan(done->told.log_ratio))
        tb_text_say(out,
                    "Lot %s, of which nothing is declared: its burns could not be held against anything, and "
                    "a person decided; %s.\n",
                    lot->ref, t.s);
    else if (*lot->declared)
        tb_text_say(out, "Lot %s, declared \"%s\": %s, %s.\n", lot->ref, lot->declared,
                    tb_grade_key(done->told.grade), t.s);
    else
        tb_text_say(out, "Lot %s, of which nothing is declared: %s, %s.\n", lot->ref,
                    tb_grade_key(done->told.grade), t.s);
    tb_text_free(&t);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_settle_outcome *done, struct tb_err *err)
{
    const struct tb_standing *s = &done->standing;
    const struct tb_lot *lot = &done->judged.lot;
    struct tb_text t = { 0 };

    tb_text_say(&t, "Lot %s is %s: %s.\n", lot->ref, tb_standing_key(s->standing), s->why);
    tb_ended_words(&t, lot, done->ended, done->endeds);
    tb_early_words(&t, s->settled_at, lot);
    tb_cut_before_words(&t, done->cut, done->cuts, false);
    if (done->concluded.by == TB_BY_LABORATORY && !lot->own_words) /* it weighs more than what was seen */
        tb_concluded_words_add(&t, TB_READER, &done->concluded);
    else if (lot->verdict != TB_UNJUDGED)
        verdict_words(&t, done);
    if (s->standing == TB_RELEASED)
        tb_released_words(&t, lot, &done->concluded, done->handling);
    if (s->standing == TB_RELABELLED)
        tb_text_say(
            &t,
            "The old words (\"%s\"), the new ones, who, when and whose goods are kept; 15 U.S.C. 70d(b) "
            "asks for three years. The official text and local counsel decide.\n",
            s->old_words);
    if (s->standing == TB_WAITING && lot->verdict == TB_CONTRADICTS)
        tb_text_say(
            &t,
            "What was seen speaks against its words all the same, and the term to tell the supplier runs: "
            "tenterbook look %s\n",
            lot->ref);
    /* whoever lets goods go should know that a dispute about them is open */
    if (done->dispute_opened && s->standing != TB_HELD)
        tb_text_say(&t, "Note: the dispute about it, opened on %s, is still open (tenterbook dispute %s).\n",
                    done->dispute_opened, lot->ref);
    return tb_print(ctx, tb_json_settled(done), &t, err);
}

static tb_rc settle_bolts(struct tb_ctx *ctx, enum tb_standing_kind as, struct tb_err *err)
{
    struct tb_settle_bolts_request r = { .lot = ctx->argc ? ctx->argv[0] : NULL,
                                         .as = as,
                                         .why = tb_opt(ctx, "why"),
                                         .settled_at = tb_opt_moment(ctx, "at"),
                                         .anyway = tb_opt_on(ctx, "anyway") };
    struct tb_settle_bolts_outcome done;
    struct tb_text t = { 0 };
    tb_rc rc;

    r.bolt = tb_opt_each(&r.bolts, ctx, "bolt");
    if (ctx->argc > 1)
        return tb_misuse(err, "--bolt names bolts of one lot");
    if (!r.bolts)
        return tb_misuse(err, "--bolt needs the number of a bolt");
    if ((rc = ctx->rc) != TB_OK ||
        (rc = tb_act_settle_bolts(&done, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_settled_bolts_words(&t, &done);
    return tb_print(ctx, tb_json_settled_bolts(&done), &t, err);
}

static tb_rc settle_lots(struct tb_ctx *ctx, enum tb_standing_kind as, struct tb_err *err)
{
    struct tb_settle_lots_request r = { .name = (const char *const *)ctx->argv,
                                        .names = ctx->argc,
                                        .as = as,
                                        .why = tb_opt(ctx, "why"),
                                        .settled_at = tb_opt_moment(ctx, "at"),
                                        .anyway = tb_opt_on(ctx, "anyway") };
    struct tb_settle_lots_outcome done;
    struct tb_text t = { 0 };
    tb_rc rc;

    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_settle_lots(&done, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_settled_lots_words(&t, &done);
    return tb_print(ctx, tb_json_settled_lots(&done), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_delivery delivery;
    struct tb_err none = { 0 };
    struct tb_settle_request request = { .lot = ctx->argc ? ctx->argv[0] : NULL,
                                         .why = tb_opt(ctx, "why"),
                                         .old_words = tb_opt(ctx, "old"),
                                         .new_words = tb_opt(ctx, "new"),
                                         .goods_of = tb_opt(ctx, "goods-of"),
                                         .anyway = tb_opt_on(ctx, "anyway") };
    struct tb_settle_outcome done = { 0 };
    tb_rc rc;

    if (!tb_opt(ctx, "as"))
        return tb_misuse(err, "settle needs --as held, released, relabelled, returned or waiting");
    request.as = (enum tb_standing_kind)tb_opt_word(ctx, "as", TB_STANDING_NONE, &tb_standing_words);
    if ((rc = ctx->rc) != TB_OK)
        return rc;
    if (tb_opt_on(ctx, "bolt"))
        return tb_opt_among(ctx, "old new goods-of")
                   ? tb_misuse(err, "a label is changed for a whole lot, not with --bolt")
                   : settle_bolts(ctx, request.as, err);
    if (!ctx->argc)
        return tb_misuse(err, "settle needs a lot, or --bolt");
    if (!tb_opt_among(ctx, "old new goods-of") &&
        (ctx->argc > 1 || tb_delivery_find(&delivery, ctx->book, ctx->argv[0], &ctx->mem, &none) == TB_OK))
        return settle_lots(ctx, request.as, err);
    if (ctx->argc > 1)
        return tb_misuse(err, "relabelling takes one lot at a time: each has its own words");
    request.settled_at = tb_opt_moment(ctx, "at");
    if ((rc = ctx->rc) == TB_OK &&
        (rc = tb_act_settle(&done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    tb_rejudged_free(&done.judged);
    return rc;
}

static const struct tb_opt opts[] = {
    { "as", "STANDING", "held, released, relabelled, returned, or waiting (open again)", false },
    { "why", "TEXT", "the reason, in a sentence", false },
    { "bolt", "NUMBER", "this bolt of the lot only, or several: A,B; a lot may be released in part", true },
    { "old", "TEXT", "relabelled: the old label's words, where they are not the declaration's", false },
    { "new", "TEXT", "relabelled: the new label's words", false },
    { "goods-of", "NAME", "relabelled: whose goods they were", false },
    { "anyway", NULL,
      "relabelled: although no fibre can be read in the new words; --at: that is right, although something "
      "was "
      "decided of the lot since",
      false },
    { "at", "MOMENT", "when it was decided, UTC, where that is not now", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_settle = {
    .name = "settle",
    .args = "LOT ... | DELIVERY | LOT --bolt NUMBER --as STANDING --why TEXT",
    .brief = "decide what becomes of a lot",
    .about =
        "Records a decision about a lot: held, released, relabelled or returned, or waiting to open it "
        "again. The history stays. Relabelling records the old words, the new ones, who, when and whose "
        "goods they were.\n\n"
        "Several lots, or all of a delivery, are settled together or not at all. With --bolt single bolts "
        "are held, released or returned, and every list and paper says that the lot is released in part. "
        "What is decided of "
        "the whole lot later, and a hold, is of all its bolts.",
    .example = "tenterbook settle W26-014.02 --as returned --why \"supplier agreed to take it back\"\n"
               "tenterbook settle W26-014.03 --as relabelled --why \"laboratory report 88\" --new \"100% "
               "polyester\" --goods-of \"own stock\"\n"
               "tenterbook settle W26-015 W26-014.04 --as released --why \"all fit\"\n"
               "tenterbook settle W26-014.05 --bolt 00417 --bolt 00418 --as released --why \"both tested\"",
    .opts = opts,
    .max = 1000,
    .flags = TB_WRITES,
    .run = run,
};
