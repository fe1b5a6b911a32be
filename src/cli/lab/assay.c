/* assay - laboratory masses to percentages, their uncertainty, and what they say of a declaration. */
#include "cli/lab/assay.h"

#include "tenterbook/law.h"
#include "tenterbook/limits.h"

#include <stdlib.h>

/* Without a lot nothing is recorded, and no book is needed. */
static tb_rc compute(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_assay *a = tb_new(struct tb_assay);
    struct tb_assay_request request;
    struct tb_text t = { 0 };
    tb_rc rc = assay_read(&request, ctx, err);

    if (rc == TB_OK && (rc = tb_assay_compute(a, &request, err)) == TB_OK) {
        tb_assay_words(&t, a, ASSAY_CONDITION);
        rc = tb_print(ctx, tb_assay_json(a), &t, err);
    }
    tb_assay_free(a);
    free(a);
    return rc;
}

/* Which methods separate a mixture, and what to expect on the balance. */
static tb_rc plan(struct tb_ctx *ctx, const char *text, struct tb_err *err)
{
    struct tb_assay_plan p = { 0 };
    struct tb_text t = { 0 };
    double gsm = tb_opt_number(ctx, "mass-per-area", 0, TB_MASS_LEAST, TB_MASS_MOST);
    tb_rc rc = ctx->rc;

    if (rc == TB_OK && (rc = tb_assay_plan_make(&p, text, err)) == TB_OK) {
        tb_assay_plan_words(&t, &p);
        if (gsm > 0)
            tb_text_say(&t,
                        "A specimen of 1 g takes %.0f cm2 of this cloth; cut it across a whole repeat of the "
                        "warp, and take more: pre-treatment and drying cost some.\n",
                        tb_lab_cloth_cm2(1, gsm));
        rc = tb_print(ctx, tb_json_assay_plan(&p), &t, err);
    }
    tb_assay_plan_free(&p);
    return rc;
}

/* A lot makes it a record, a mixture alone a plan, neither a computation. */
static tb_rc assay(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *mixture = tb_opt(ctx, "plan");

    if (mixture && ctx->argc)
        return tb_misuse(err, "--plan takes a mixture and no lot");
    if (mixture)
        return plan(ctx, mixture, err);
    if (!ctx->argc && (tb_opt_on(ctx, "sent-to") || tb_opt_on(ctx, "swatches")))
        return tb_misuse(err, "--sent-to takes the lot whose swatches went to the laboratory");
    return ctx->argc ? assay_on_book(ctx, err) : compute(ctx, err);
}

static const struct tb_opt opts[] = {
    { "plan", "TEXT", "which methods separate this mixture: reagent, factors, hazard, limit", false },
    { "mass-per-area", "G", "with --plan: grams a square metre, to say how much cloth a specimen takes",
      false },
    { "mixture", "TEXT", "the fibres that were separated; three: a / b / c in the order of the variant",
      false },
    { "declared", "TEXT", "the declaration to compare with", false },
    { "dissolved", "FIBRE", "which of two fibres went", false },
    { "method", "N", "method of Annex VIII, 1 to 17; two for three fibres", true },
    { "variant", "N", "three fibres: variant 1 to 4", false },
    { "by-hand", NULL, "the fibres were separated by hand and weighed", false },
    { "nitrogen", NULL, "jute with animal fibre, by nitrogen", false },
    { "masses", "FILE", "determinations from CSV or XLSX, columns named as the options below", false },
    { "specimen", "G", "dry mass of the specimen", true },
    { "residue", "G", "dry mass of what stayed", true },
    { "specimen2", "G", "second specimen (variants 1 to 3)", true },
    { "residue2", "G", "second residue", true },
    { "weights", "G,G,..", "separated by hand: the mass of each fibre", true },
    { "acid", "ML", "nitrogen: standard acid used", true },
    { "blank", "ML", "nitrogen: standard acid of the blank", true },
    { "normality", "N", "nitrogen: strength of the acid", true },
    { "d", "D,D,..", "correction factors measured by the laboratory, instead of the tables'", true },
    { "condition", "FIBRE=WORD", "cotton=unbleached, cotton=mercerised, wool=combed, nylon=filament ...",
      true },
    { "found", "TEXT", "percentages as a laboratory reports them, instead of masses", false },
    { "uncertainty", "U", "standard uncertainty of --found, points", false },
    { "market", "M",
      "compare under the rules of this market (without it, of a lot those of the setting market, else those "
      "known in full)",
      true },
    { "basis", "B", "compare on this basis: dry, eu or us", false },
    { "sure", "P", "probability before an answer is given (0.95)", false },
    { "carded", NULL, "the cloth went through carding", false },
    { "virgin", NULL, "it is sold as virgin wool", false },
    { "balance", "G", "a weighing may be off by this much either way (0.0002)", false },
    { "limit", "POINTS", "95 % limit between laboratories, where the method's own is not used", false },
    { "part", "PART", "with LOT: the part of the cloth that was analysed (whole)", false },
    { "laboratory", "NAME", "with LOT: who analysed", false },
    { "report", "NUMBER", "with LOT: number of the laboratory's report", false },
    { "sent-to", "NAME", "with LOT: a sample went to this laboratory, and its report is to come", false },
    { "swatches", "TAGS", "with --sent-to: the swatches that went there", true },
    { "on", "DAY", "with LOT: day of the analysis, or of the sending (today)", false },
    { "corrects", "ID",
      "with LOT: the analysis in whose place this one comes: it was wrong, or the cloth was analysed again",
      false },
    { "anyway", NULL,
      "with LOT: --on is right, although the lot, its swatches or what was sent of it is of a later day; or "
      "another report of the lot is right too; or the lot was returned, and that is known",
      false },
    { NULL, NULL, NULL, false },
};

static void name_markets(struct tb_text *out)
{
    struct tb_text full = { 0 }, rest = { 0 };

    for (size_t i = 0; i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);
        struct tb_text *list = m.coverage == TB_COVERAGE_FULL ? &full : &rest;

        tb_text_addf(list, "%s%s", list->n ? ", " : "", m.key);
    }
    tb_text_addf(out,
                 _("Without --market the result is compared in the markets whose rules are known in full: "
                   "%s. Others, known in part: %s."),
                 tb_text_str(&full), tb_text_str(&rest));
    tb_text_free(&full);
    tb_text_free(&rest);
}

const struct tb_cmd tb_cmd_assay = {
    .name = "assay",
    .args =
        "[LOT] --mixture TEXT --method N --masses FILE | LOT --sent-to NAME --swatches TAGS | --plan TEXT",
    .brief = "laboratory masses to percentages, and whether they fit the declaration",
    .about =
        "Turns the masses of a quantitative analysis into percentages: two fibres with one dissolved, "
        "parts weighed by hand, three fibres by variant 1 to 4, jute by nitrogen. Percentages come on "
        "dry mass, with the agreed allowances of Regulation (EU) 1007/2011 and with the commercial "
        "regains of the United States, each with its uncertainty.\n\n"
        "With --declared the result is compared market by market: it conforms, it does not, or it "
        "cannot be said, with the probability and the guard band (JCGM 106). With a LOT it is compared "
        "with what the lot declares and recorded in the book; a LOT alone lists what was recorded. "
        "--sent-to records that swatches of the lot went to a laboratory: they wait in todo, in the page "
        "of the lot and in the month until its report is recorded.\n\n"
        "At least two determinations are advised: repeat --specimen and --residue, or put them in a "
        "table.\n\n"
        "The reagents are dangerous: licensed laboratories only, local rules first. Information, not "
        "legal advice.",
    .also = name_markets,
    .example =
        "tenterbook assay --plan \"60% cotton 40% polyester\"\n"
        "tenterbook assay --mixture \"cotton / polyester\" --dissolved cotton --specimen 1.002 "
        "--residue 0.403 --specimen 0.998 --residue 0.399 --declared \"60% cotton 40% polyester\"\n"
        "tenterbook assay --variant 1 --method 2 --method 4 --mixture \"wool / nylon / cotton\" "
        "--masses masses.csv\n"
        "tenterbook assay W26-014.02 --sent-to \"Ring Street Laboratory\" --swatches W26-014.02.01 --on "
        "2026-10-06",
    .opts = opts,
    .max = 1,
    .flags = TB_BOOK_MAYBE,
    .run = assay,
};
