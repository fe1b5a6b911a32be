/* judge: what a burn showed against what was declared, of words, of a lot, of every lot. */
#include "cli/bench/judge.h"

#include "tenterbook/stored_verdict.h"

#include "cli/show.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_judge_model(struct tb_evidence **out, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_evidence_settings set;

    tb_evidence_defaults(&set);
    set.contradicts_below = tb_opt_number(ctx, "contradicts", set.contradicts_below, 1e-6, 0.999);
    set.speaks_below = tb_opt_number(ctx, "speaks", set.speaks_below, 1e-6, 0.999);
    set.fits_above = tb_opt_number(ctx, "fits", set.fits_above, 1.001, 1e6);
    set.base_from = TB_BASE_PUBLISHED;
    set.base_rate = tb_base_rate_published();
    set.fibres_most = (int)tb_opt_whole(ctx, "fibres", set.fibres_most, 1, 3);
    return ctx->rc == TB_OK ? tb_evidence_new(out, &set, NULL, 0, err) : ctx->rc;
}

static tb_rc print_verdict(struct tb_ctx *ctx, const struct tb_verdict *v, const struct tb_declaration *decl,
                           struct tb_err *err)
{
    struct tb_text t = { 0 };

    tb_verdict_explain(&t, v, decl);
    return tb_print(ctx, tb_verdict_json(v, NULL, decl), &t, err);
}

static tb_rc judge_words(struct tb_ctx *ctx, const char *words, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_observation o = { .part = (enum tb_part_kind)tb_opt_word(ctx, "part", TB_PART_WHOLE,
                                                                       &tb_part_words) };
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    tb_rc rc;

    tb_declaration_read(&decl, words, strlen(words));
    if ((rc = tb_judge_model(&ev, ctx, err)) != TB_OK || (rc = tb_opt_seen(&o, ctx)) != TB_OK ||
        (rc = tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_ALL, err)) != TB_OK)
        goto out;
    rc = print_verdict(ctx, &v, &decl, err);
out:
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    tb_evidence_free(ev);
    return rc;
}

/* --- a lot of the book --- */

/* As the book would keep it: one function says it of a verdict, kept or not. */
static tb_rc bolts_words(struct tb_text *out, const struct tb_rejudged *r, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_stored_verdict stored;
    json_t *kept = tb_lot_verdict_json(&r->v, &r->lot);
    tb_rc rc = tb_stored_verdict_read(&stored, kept, mem, err);

    if (rc == TB_OK)
        tb_bolts_words(out, &stored, "");
    json_decref(kept);
    return rc;
}

static tb_rc print_lot(struct tb_ctx *ctx, const struct tb_rejudged *r, struct tb_err *err)
{
    const struct tb_lot *lot = &r->lot;
    const struct tb_lot_verdict *v = &r->v;
    struct tb_text t = { 0 };
    tb_rc rc;

    tb_text_addf(&t, _("Lot %s of %s, arrived %s: "), lot->ref, lot->supplier_name, lot->arrived);
    tb_bench_coverage(&t, TB_READER, lot->bolts_burnt, lot->bolts_tested, lot->bolts);
    tb_text_add(&t, lot->bolts_tested
                        ? _("; the verdict speaks of those, and of the metres they hold, not of the rest.\n")
                        : _("; nothing can be said yet.\n"));
    tb_their_words(&t, r);
    if (r->said)
        tb_text_say(&t, "What follows is about our own label, and no answer to the supplier:\n");
    tb_laboratory_words(&t, TB_READER, &r->laboratory, lot->declared, v->verdict.grade);
    if ((rc = bolts_words(&t, r, &ctx->mem, err)) != TB_OK) {
        tb_text_free(&t);
        return rc;
    }
    tb_verdict_explain(&t, &v->verdict, &v->declaration);
    tb_hold_words(&t, r);
    return tb_print(ctx, tb_json_judged_lot(r), &t, err);
}

static tb_rc judge_lot(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_rejudged r = { 0 };
    long row = tb_opt_whole(ctx, "as-of", 0, 1, 1000000000);
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK && (rc = ctx->rc) == TB_OK &&
        (rc = row ? tb_judge_as_of(&r, ctx->book, ctx->argv[0], row, &ctx->mem, err)
                  : tb_act_judge(&r, &ctx->actor, ctx->argv[0], TB_WANT_ALL, &ctx->mem, err)) == TB_OK)
        rc = print_lot(ctx, &r, err);
    tb_rejudged_free(&r);
    return rc;
}

/* --- every burnt lot --- */

static void changed_words(struct tb_text *out, const struct tb_changed_lot *c)
{
    const char *now = tb_grade_key(c->grade);
    bool other = c->was != TB_UNJUDGED && c->was != c->now;

    if (other)
        tb_text_say(out, c->held ? N_("%s: %s, was %s; now held.\n") : N_("%s: %s, was %s.\n"), c->ref, now,
                    tb_verdict_key(c->was));
    else
        tb_text_say(out, c->held ? N_("%s: %s; now held.\n") : N_("%s: %s.\n"), c->ref, now);
    if (*c->confirm)
        tb_text_say(out, "  The confirming test: %s.\n", c->confirm);
}

static tb_rc print_all(struct tb_ctx *ctx, const struct tb_judge_all_outcome *j, struct tb_err *err)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < j->recorded; i++)
        changed_words(&t, &j->changed[i]);
    if (j->lots == 0)
        tb_text_say(&t, "No lot has been burnt yet.\n");
    else
        tb_text_say(
            &t,
            "Lots weighed again: %zu. Fits %zu, contradicts %zu, speaks against %zu, undecided %zu; recorded "
            "because something changed: %zu; now held: %zu.\n",
            j->lots, j->kind[TB_FITS], j->kind[TB_CONTRADICTS], j->against,
            j->kind[TB_UNDECIDED] - j->against, j->recorded, j->held);
    if (j->kept)
        tb_text_addf(
            &t,
            _n("%zu lot contradicts and stays as somebody settled it: nothing of it was burned, tested or "
               "declared since.\n",
               "%zu lots contradict and stay as somebody settled them: nothing of them was burned, tested or "
               "declared since.\n",
               j->kept),
            j->kept);
    return tb_print(ctx, tb_json_judged_all(j), &t, err);
}

static tb_rc judge_all(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_judge_all_outcome done;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK && (rc = tb_act_judge_all(&done, &ctx->actor, &ctx->mem, err)) == TB_OK)
        rc = print_all(ctx, &done, err);
    return rc;
}

/* --- the command --- */

/* Options that would go unheard where they stand. */
static tb_rc refuse_strays(const struct tb_ctx *ctx, bool words, struct tb_err *err)
{
    static const char *const of_words[] = { "saw", "not", "looked", "could-not", "part" },
                             *const of_model[] = { "fibres", "contradicts", "speaks", "fits" };

    for (size_t i = 0; i < TB_COUNT(of_words) && !words; i++)
        if (tb_opt(ctx, of_words[i]))
            return tb_misuse(
                err, "--%s goes with --declared: a lot has its burns in the book, a table in its rows",
                of_words[i]);
    for (size_t i = 0; i < TB_COUNT(of_model) && !words && !tb_opt(ctx, "from"); i++)
        if (tb_opt(ctx, of_model[i]))
            return tb_misuse(
                err, "--%s goes with --declared and --from: lots are judged by the settings of the book",
                of_model[i]);
    if (tb_opt_on(ctx, "outcomes") && !tb_opt(ctx, "from"))
        return tb_misuse(err, "--outcomes goes with --from: any other verdict says them already");
    if (tb_opt(ctx, "as-of") && ctx->argc != 1)
        return tb_misuse(err, "--as-of goes with a lot");
    return TB_OK;
}

static tb_rc judge(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *words = tb_opt(ctx, "declared"), *from = tb_opt(ctx, "from");
    tb_rc rc;

    if ((words != NULL) + (from != NULL) + (tb_opt_on(ctx, "all")) + (ctx->argc == 1) != 1)
        return tb_misuse(err, "judge takes a lot, or --all, or --declared TEXT, or --from FILE");
    if ((rc = refuse_strays(ctx, words != NULL, err)) != TB_OK)
        return rc;
    if (words)
        return judge_words(ctx, words, err);
    if (from)
        return tb_judge_table(ctx, from, err);
    return ctx->argc == 1 ? judge_lot(ctx, err) : judge_all(ctx, err);
}

static const struct tb_opt opts[] = {
    { "all", NULL, "weigh every lot that was burnt again, with the settings and known cloth in force",
      false },
    { "declared", "TEXT", "the supplier's words: \"60% cotton 40% polyester\"", false },
    { "saw", "C,..", "cues seen, channel:cue, separated by commas or spaces", true },
    { "not", "C,..", "cues looked for and absent", true },
    { "looked", "CH,..", "channels looked at besides those of the cues given", true },
    { "could-not", "CH,..", "channels that could not be judged: as if they were not looked at", true },
    { "part", "PART", "the part that was burned: whole (unless said), warp, weft, pile, ground ...", false },
    { "from", "FILE.csv",
      "judge a table: columns id, declared, saw, not, looked, could-not; one JSON object a line", false },
    { "outcomes", NULL,
      "with --from: also what each result of the test to make next would do to a row that is no fit; slower",
      false },
    { "fibres", "N", "weigh compositions of up to N fibres, 1 to 3 (3)", false },
    { "contradicts", "RATIO",
      "evidence ratio below which a burn contradicts; the verdict says which is in force", false },
    { "speaks", "RATIO", "evidence ratio below which a burn speaks against the words; likewise", false },
    { "fits", "RATIO", "evidence ratio above which it fits; likewise", false },
    { "as-of", "ROW", "with a lot: compute the verdict of that journal row again, exactly", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_judge = {
    .name = "judge",
    .args = "LOT | --all | --declared TEXT --saw C,.. [--not C,..] [--looked CH,..] | --from FILE.csv",
    .brief = "weigh what a burn showed against what was declared",
    .about = "With a lot, weighs every burn and bench test of it that the book holds, records the verdict "
             "where it changed and holds the lot where it contradicts. --all does so for every lot that was "
             "burnt: after settings changed, or more known cloth was burned. Without either, weighs what is "
             "given.\n\nSays whether what a burning swatch did fits the declaration, contradicts it, speaks "
             "against it, or leaves it undecided, with the weight of every cue, what else it could be, what "
             "burning cannot tell apart, and the next test worth making. What speaks against the declaration "
             "asks for a test; only what contradicts it holds a lot. What one person saw in one channel "
             "decides alone in neither direction. No ratio is said beyond what the tests of the model carry. "
             "A cue that was looked for and not seen counts; a channel nobody looked at does not.\n\nA burn "
             "shows kinds of fibre, not percentages. \"Fits\" never means that the label is right.\n\nA lot, "
             "and all lots, are judged by the settings of the book and by the burns in it: --saw, --not, "
             "--looked, --could-not and --part go with --declared only, --fibres, --contradicts, --speaks "
             "and --fits with --declared and --from.\n\n--from reads a CSV file (or - for standard input) "
             "and prints one JSON object a line, in the order of the file, working on all processors. A row "
             "that cannot be used gives an object with its id, line and reason, the others are judged all "
             "the same, and the command ends with exit code 1. Each object names the tests worth making "
             "next; --outcomes adds what each result of the first of them would do.",
    .example =
        "tenterbook judge --declared \"100% silk\" --saw odour:burning_paper,residue_form:light_fluffy_ash\n"
        "tenterbook judge --from burns.csv\n"
        "tenterbook judge M26-014.02\n"
        "tenterbook judge --all",
    .opts = opts,
    .max = 1,
    .flags = TB_BOOK_MAYBE,
    .run = judge,
};
