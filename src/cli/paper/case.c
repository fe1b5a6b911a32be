/* case - the buyer's file on one lot. */
#include "tenterbook/case.h"
#include "cli/paper/case_notice.h"
#include "cli/paper/case_tells.h"
#include "cli/show.h"
#include "tenterbook/date.h"

/* Said before the files are made; a program finds it in the object at the end. */
static void print_before(struct tb_ctx *ctx, const struct tb_case_tells *tells, const char *lot)
{
    struct tb_text t = { 0 };

    if (ctx->json)
        return;
    tb_case_tells_words(&t, tells, lot);
    (void)fputs(t.s, ctx->out);
    (void)fflush(ctx->out);
    tb_text_free(&t);
}

static tb_rc print(struct tb_ctx *ctx, const char *lot, const char *pdf, const char *xlsx,
                   const char *language, const struct tb_case_tells *tells, struct tb_err *err)
{
    json_t *j =
        json_pack("{s:s, s:s, s:s, s:s}", "lot", lot, "file", pdf, "workbook", xlsx, "language", language);
    struct tb_text t = { 0 };

    tb_json_put(j, "gives_away", tb_json_case_tells(tells));
    tb_text_say(&t,
                "Written: %s, with its data attached, and %s with each of its sheets as CSV beside it.\n"
                "Anyone with the program can check it: tenterbook prove --case %s\n",
                pdf, xlsx, pdf);
    return tb_print(ctx, j, &t, err);
}

static tb_rc make(struct tb_ctx *ctx, struct tb_err *err)
{
    char now[TB_MOMENT_LEN + 1];
    struct tb_case_plan plan = { .lot = ctx->argv[0],
                                 .made = now,
                                 .by = ctx->who,
                                 .asked = tb_opt(ctx, "ask"),
                                 .answer_by = tb_opt_day(ctx, "answer-by"),
                                 .without_dispute = tb_opt_on(ctx, "without-dispute"),
                                 .language = tb_opt(ctx, "language") };
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    struct tb_case_tells tells = { 0 };
    json_t *data = NULL;
    const char *lot, *language, *xlsx, *pdf = tb_opt(ctx, "out");
    tb_rc rc;

    if (tb_opt_on(ctx, "notice"))
        return plan.without_dispute ? tb_misuse(err, "--without-dispute is of a case, not of a --notice")
                                    : tb_case_notice(ctx, err);
    if (tb_opt_on(ctx, "on"))
        return tb_misuse(err, "--on is the day of a --notice");
    if (tb_opt_on(ctx, "remedy"))
        return tb_misuse(err, "--remedy is of a --notice");
    if (tb_opt_on(ctx, "again"))
        return tb_misuse(err, "--again is of a --notice");
    tb_paper_now(now);
    if ((rc = ctx->rc) != TB_OK || (rc = tb_case_data(&data, ctx->book, &plan, err)) != TB_OK)
        return rc;
    lot = json_string_value(json_object_get(data, "lot"));
    language = json_string_value(json_object_get(data, "language"));
    if (!pdf)
        pdf = tb_arena_printf(&ctx->mem, "case-%s.pdf", lot);
    xlsx = tb_file_twin(ctx, pdf, ".xlsx");
    tb_case_tells(&tells, data);
    if (rc == TB_OK)
        print_before(ctx, &tells, lot);
    if (rc == TB_OK && (rc = tb_case_write(&files, pdf, data, err)) == TB_OK)
        rc = tb_case_sheets(&files, xlsx, data, err);
    rc = tb_outset_end(&files, rc, err);
    ctx->done = rc == TB_OK;
    if (rc == TB_OK)
        rc = print(ctx, lot, pdf, xlsx, language ? language : "en", &tells, err);
    tb_case_tells_free(&tells);
    json_decref(data);
    return rc;
}

static const struct tb_opt opts[] = {
    { "ask", "TEXT",
      "what the supplier is asked; without it, records and, where swatches are kept, a joint sample", false },
    { "answer-by", "DAY", "day by which an answer is asked", false },
    { "without-dispute", NULL, "keep back what was claimed, sent, answered and agreed so far", false },
    { "out", "FILE.pdf", "where to write; without it, case-LOT.pdf (notice-LOT.pdf) here", false },
    { "replace", NULL, "write over papers that are there already", false },
    { "notice", NULL, "instead, the notice to the supplier: a letter as PDF, text and mail", false },
    { "on", "DAY", "--notice: the day on it; today", false },
    { "remedy", "REMEDY", "--notice: what is asked for: credit, return, relabel or replacement", false },
    { "again", NULL, "--notice: also where the dispute is closed, or all that was agreed came in", false },
    { "language", "XX", "en, de, es, fr, it, pl, pt, tr or zh; without it, that of the supplier's address",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_case = {
    .name = "case",
    .args = "LOT [--notice] [--ask TEXT] [--answer-by DAY] [--language XX] [--out FILE.pdf]",
    .brief = "write the file that answers a supplier's every question",
    .about =
        "Writes a PDF about one lot: on page one what was declared and what was found, how sure that is, "
        "what "
        "is at stake and what is asked; then the declaration in the supplier's own words, how it was "
        "decided, "
        "bench tests and laboratory, every cue and its weight, photographs, what a burn can and cannot "
        "prove, "
        "how many bolts were burnt, who did what and when; and a workbook with the same.\n\n"
        "The records behind it are attached to the PDF with the rows of the journal over them, so that the "
        "other side can check it with: tenterbook prove --case FILE.pdf. Its pages are in the language set "
        "for the supplier, or as --language says; people's own words, the data and the workbook stay as they "
        "are. Nothing of other lots and suppliers is in it. What it gives away of this one besides what was "
        "seen, such as reasons that people typed and the dispute, is said before it is written; "
        "--without-dispute "
        "keeps the dispute back, and the proof names how many records are missing. A book that does not "
        "prove gives no case and no notice.\n\n"
        "With --notice, a letter to the supplier in its language: from whom to whom, which goods, the words "
        "of the "
        "declaration, what was found and how sure that is, which bolts were burnt and what was seen, what "
        "the goods are "
        "worth, and what of all that is asked has not happened yet; as PDF, as text and as a mail to look at "
        "and send. "
        "Addresses and languages are set with 'tenterbook address'. A notice without particulars is refused.",
    .example = "tenterbook case M26-003.02\n"
               "tenterbook case M26-003.02 --answer-by 2026-11-20 --out claim.pdf\n"
               "tenterbook case M26-003.02 --notice --remedy credit --answer-by 2026-11-20",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_BOOK,
    .run = make,
};
