#include "cli/bench/judge.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_judge_settings(struct tb_evidence_settings *set, const struct tb_ctx *ctx, struct tb_err *err)
{
    long most = set->fibres_most;
    tb_rc rc;

    if ((rc = tb_opt_number(&set->contradicts_below, ctx, "contradicts", 1e-6, 0.999, err)) != TB_OK ||
        (rc = tb_opt_number(&set->fits_above, ctx, "fits", 1.001, 1e6, err)) != TB_OK ||
        (rc = tb_opt_whole(&most, ctx, "fibres", 1, 3, err)) != TB_OK)
        return rc;
    set->fibres_most = (int)most;
    return TB_OK;
}

/* --part, --saw, --not, --looked: one burn. */
static tb_rc one_burn(struct tb_observation *o, const struct tb_ctx *ctx, struct tb_err *err)
{
    int kind = TB_PART_WHOLE;
    tb_rc rc = tb_opt_word(&kind, ctx, "part", &tb_part_words, err);

    if (rc != TB_OK)
        return rc;
    o->part = (enum tb_part_kind)kind;
    return tb_observation_read(o, tb_opt(ctx, "saw"), tb_opt(ctx, "not"), tb_opt(ctx, "looked"), err);
}

static tb_rc print_verdict(struct tb_ctx *ctx, const struct tb_verdict *v, const struct tb_declaration *decl,
                           struct tb_err *err)
{
    struct tb_text t = { 0 };

    if (ctx->json) {
        json_t *o = tb_verdict_json(v, NULL, decl);
        char *s = json_dumps(o, JSON_INDENT(2) | JSON_REAL_PRECISION(17));

        json_decref(o);
        if (!s)
            return tb_fail(err, TB_EFORMAT, "the declaration holds bytes that are not text (UTF-8)");
        (void)fprintf(ctx->out, "%s\n", s);
        free(s);
        return TB_OK;
    }
    tb_verdict_explain(&t, v, decl);
    (void)fputs(tb_text_str(&t), ctx->out);
    tb_text_free(&t);
    return TB_OK;
}

static tb_rc judge_words(struct tb_ctx *ctx, const char *words, struct tb_err *err)
{
    struct tb_evidence_settings set;
    struct tb_evidence *ev = NULL;
    struct tb_observation o = { 0 };
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    tb_rc rc;

    tb_evidence_defaults(&set);
    tb_declaration_read(&decl, words, strlen(words));
    if ((rc = tb_judge_settings(&set, ctx, err)) != TB_OK || (rc = one_burn(&o, ctx, err)) != TB_OK ||
        (rc = tb_evidence_new(&ev, &set, NULL, 0, err)) != TB_OK ||
        (rc = tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_ALL, err)) != TB_OK)
        goto out;
    rc = print_verdict(ctx, &v, &decl, err);
out:
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    tb_evidence_free(ev);
    return rc;
}

/* Options that would go unheard where they stand. */
static tb_rc refuse_strays(const struct tb_ctx *ctx, bool words, struct tb_err *err)
{
    static const char *const of_words[] = { "saw", "not", "looked", "part" }, *const of_model[] = {
        "fibres", "contradicts", "fits"
    };

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
    return ctx->argc == 1 ? tb_judge_lot(ctx, err) : tb_judge_all(ctx, err);
}

static const struct tb_opt opts[] = {
    { "all", NULL, "weigh every lot that was burnt again, with the settings and known cloth in force",
      false },
    { "declared", "TEXT", "the supplier's words: \"60% cotton 40% polyester\"", false },
    { "saw", "C,..", "cues seen, channel:cue, separated by commas or blanks", false },
    { "not", "C,..", "cues looked for and absent", false },
    { "looked", "CH,..", "channels looked at besides those of the cues given", false },
    { "part", "PART", "the part that was burned: whole (unless said), warp, weft, pile, ground ...", false },
    { "from", "FILE.csv", "judge a table: columns id, declared, saw, not, looked; one JSON object a line",
      false },
    { "fibres", "N", "weigh compositions of up to N fibres, 1 to 3 (3)", false },
    { "contradicts", "RATIO", "evidence ratio below which a burn contradicts (0.05)", false },
    { "fits", "RATIO", "evidence ratio above which it fits (3)", false },
    { "as-of", "ROW", "with a lot: compute the verdict of that journal row again, exactly", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_judge = {
    .name = "judge",
    .args = "LOT | --all | --declared TEXT --saw C,.. [--not C,..] [--looked CH,..] | --from FILE.csv",
    .brief = "weigh what a burn showed against what was declared",
    .about =
        "With a lot, weighs every burn and bench test of it that the book holds, records the verdict where "
        "it changed and holds the lot where it contradicts. --all does so for every lot that was burnt: "
        "after settings changed, or more known cloth was burned. Without either, weighs what is given.\n\n"
        "Says whether what a burning swatch did fits the declaration, contradicts it, or leaves it "
        "undecided, with the weight of every cue, what else it could be, what burning cannot tell apart, and "
        "the next test worth making. A cue that was looked for and not seen counts; a channel nobody looked "
        "at does not.\n\n"
        "A burn shows kinds of fibre, not percentages. \"Fits\" never means that the label is right.\n\n"
        "--from reads a CSV file (or - for standard input) and prints one JSON object a line, in the order "
        "of the file, working on all processors. A row that cannot be used gives an object with its id, line "
        "and reason, the others are judged all the same, and the command ends with exit code 1.",
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
