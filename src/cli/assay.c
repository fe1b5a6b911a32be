/* assay - laboratory masses to percentages, their uncertainty, and what they say of a declaration. */
#include "cli/assay.h"

#include <stdlib.h>

static void let_go(struct assay *a)
{
    tb_declaration_free(&a->mixture);
    tb_declaration_free(&a->declared);
    for (size_t i = 0; i < TB_LAB_FIBRES_MOST; i++)
        tb_text_free(&a->condition[i]);
    tb_text_free(&a->unknown);
    free(a);
}

static tb_rc say_json(FILE *out, const struct assay *a, struct tb_err *err)
{
    json_t *j = assay_json(a);
    int bad = !j || json_dumpf(j, out, JSON_REAL_PRECISION(15)) != 0 || fputc('\n', out) == EOF;

    json_decref(j);
    return bad ? tb_fail(err, TB_EIO, "the answer cannot be written") : TB_OK;
}

static tb_rc assay(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *plan = tb_opt(ctx, "plan");
    struct assay *a;
    tb_rc rc;

    if (plan)
        return assay_plan(ctx, plan, err);
    a = tb_new(struct assay);
    rc = assay_read(a, ctx, err);
    if (rc == TB_OK)
        rc = assay_judge(a, ctx, err);
    if (rc == TB_OK && ctx->json)
        rc = say_json(ctx->out, a, err);
    else if (rc == TB_OK)
        assay_print(ctx->out, a);
    let_go(a);
    return rc;
}

static const struct tb_opt opts[] = {
    { "plan", "TEXT", "which methods part this mixture: reagent, factors, hazard, limit", false },
    { "mixture", "TEXT", "the fibres that were parted; three: a / b / c in the order of the variant", false },
    { "declared", "TEXT", "the declaration to compare with", false },
    { "dissolved", "FIBRE", "which of two fibres went", false },
    { "method", "N", "method of Annex VIII, 1 to 17; two for three fibres", true },
    { "variant", "N", "three fibres: variant 1 to 4", false },
    { "by-hand", NULL, "the fibres were parted by hand and weighed", false },
    { "nitrogen", NULL, "jute with animal fibre, by nitrogen", false },
    { "masses", "FILE", "determinations from CSV or XLSX, columns named as the options below", false },
    { "specimen", "G", "dry mass of the specimen", true },
    { "residue", "G", "dry mass of what stayed", true },
    { "specimen2", "G", "second specimen (variants 1 to 3)", true },
    { "residue2", "G", "second residue", true },
    { "weights", "G,G,..", "parted by hand: the mass of each fibre", true },
    { "acid", "ML", "nitrogen: standard acid used", true },
    { "blank", "ML", "nitrogen: standard acid of the blank", true },
    { "normality", "N", "nitrogen: strength of the acid", true },
    { "d", "D,D,..", "correction factors measured by the laboratory, instead of the tables'", false },
    { "condition", "FIBRE=WORD", "cotton=unbleached, cotton=mercerised, wool=combed, nylon=filament ...",
      true },
    { "found", "TEXT", "percentages as a laboratory reports them, instead of masses", false },
    { "uncertainty", "U", "standard uncertainty of --found, points", false },
    { "market", "M", "compare under the rules of this market (us, ca, eu, gb when not given)", true },
    { "basis", "B", "compare on this basis: dry, eu or us", false },
    { "sure", "P", "probability before an answer is given (0.95)", false },
    { "carded", NULL, "the cloth went through carding", false },
    { "virgin", NULL, "it is sold as virgin wool", false },
    { "balance", "G", "a weighing may be off by this much either way (0.0002)", false },
    { "limit", "POINTS", "95 % limit between laboratories, where the method's own is not used", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_assay = {
    .name = "assay",
    .args = "--mixture TEXT --method N --masses FILE",
    .brief = "laboratory masses to percentages, and whether they fit the declaration",
    .about = "Turns the masses of a quantitative analysis into percentages: two fibres with one dissolved, "
             "parts weighed by "
             "hand, three fibres by variant 1 to 4, jute by nitrogen. Percentages come on dry mass, with the "
             "agreed "
             "allowances of Regulation (EU) 1007/2011 and with the commercial regains of the United States, "
             "each with its "
             "uncertainty.\n\n"
             "With --declared the result is compared market by market: it conforms, it does not, or it "
             "cannot be said, with "
             "the probability and the guard band (JCGM 106). At least two determinations are advised: repeat "
             "--specimen and "
             "--residue, or put them in a table.\n\n"
             "The reagents are dangerous: licensed laboratories only, local rules first. Information, not "
             "legal advice.",
    .example = "tenterbook assay --plan \"60% cotton 40% polyester\"\n"
               "tenterbook assay --mixture \"cotton / polyester\" --dissolved cotton --specimen 1.002 "
               "--residue 0.403 "
               "--specimen 0.998 --residue 0.399 --declared \"60% cotton 40% polyester\"\n"
               "tenterbook assay --variant 1 --method 2 --method 4 --mixture \"wool / nylon / cotton\" "
               "--masses masses.csv",
    .opts = opts,
    .max = 0,
    .run = assay,
};
