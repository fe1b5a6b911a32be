/* case - the buyer's file on one lot. */
#include "tenterbook/case.h"
#include "cli/show.h"
#include "tenterbook/date.h"
#include "tenterbook/notice.h"

static tb_rc print(struct tb_ctx *ctx, const char *lot, const char *pdf, const char *xlsx, bool stale,
                   struct tb_err *err)
{
    json_t *j =
        json_pack("{s:s, s:s, s:s, s:b}", "lot", lot, "file", pdf, "workbook", xlsx, "judge_again", stale);
    struct tb_text t = { 0 };

    tb_text_say(&t,
                "Written: %s, with its data attached, and %s with each of its sheets as CSV beside it.\n"
                "Anyone with the program can check it: tenterbook prove --case %s\n",
                pdf, xlsx, pdf);
    if (stale)
        tb_text_say(
            &t,
            "Please note: the verdict on its pages was recorded before settings or known cloth changed, and "
            "the attached data give another one; judge the lot again and make the case anew: tenterbook "
            "judge %s\n",
            lot);
    return tb_print(ctx, j, &t, err);
}

/* --- the one-page notice, and the same as text --- */

/* The next command is offered whole: a notice that nobody can prove was sent is worth little. */
static tb_rc print_notice(struct tb_ctx *ctx, const struct tb_notice *n, const char *path, struct tb_err *err)
{
    struct tb_text text = { 0 }, t = { 0 };
    json_t *j;

    tb_notice_text(&text, n);
    j = json_pack("{s:s, s:s, s:o}", "lot", tb_notice_lot(n), "file", path, "text", tb_json_text(text.s));
    tb_text_free(&text);
    tb_text_say(&t,
                "Written: %s, and the same as text in %s.\n"
                "Send it in a way that can be proved, then record it with the file itself:\n"
                "  tenterbook dispute %s --notified --by CHANNEL --proof NUMBER --document %s\n",
                path, tb_file_twin(ctx, path, ".txt"), tb_notice_lot(n), path);
    tb_text_add(&t, tb_no_advice_words());
    return tb_print(ctx, j, &t, err);
}

static tb_rc notice(struct tb_ctx *ctx, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];
    struct tb_notice_plan plan = { .lot = ctx->argv[0],
                                   .day = today,
                                   .by = ctx->who,
                                   .asked = tb_opt(ctx, "ask"),
                                   .answer_by = tb_opt_day(ctx, "answer-by") };
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    const char *path = tb_opt(ctx, "out");
    struct tb_notice *n = NULL;
    tb_rc rc;

    tb_today(today);
    if (tb_opt(ctx, "on"))
        plan.day = tb_opt_day(ctx, "on");
    if ((rc = ctx->rc) != TB_OK || (rc = tb_notice_make(&n, ctx->book, &plan, err)) != TB_OK)
        return rc;
    if (!path)
        path = tb_arena_printf(&ctx->mem, "notice-%s.pdf", tb_notice_lot(n));
    rc = tb_notice_write(&files, path, n, err);
    rc = tb_outset_end(&files, rc, err);
    ctx->done = rc == TB_OK;
    if (rc == TB_OK)
        rc = print_notice(ctx, n, path, err);
    tb_notice_free(n);
    return rc;
}

static tb_rc make(struct tb_ctx *ctx, struct tb_err *err)
{
    char now[TB_MOMENT_LEN + 1];
    struct tb_case_plan plan = { .lot = ctx->argv[0],
                                 .made = now,
                                 .by = ctx->who,
                                 .asked = tb_opt(ctx, "ask"),
                                 .answer_by = tb_opt_day(ctx, "answer-by") };
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    json_t *data = NULL;
    const char *lot, *xlsx, *pdf = tb_opt(ctx, "out");
    bool stale;
    tb_rc rc;

    if (tb_opt_on(ctx, "notice"))
        return notice(ctx, err);
    if (tb_opt_on(ctx, "on"))
        return tb_misuse(err, "--on is the day of a --notice");
    tb_paper_now(now);
    if ((rc = ctx->rc) != TB_OK || (rc = tb_case_data(&data, ctx->book, &plan, err)) != TB_OK)
        return rc;
    rc = tb_case_stale(&stale, ctx->book, data, err);
    lot = json_string_value(json_object_get(data, "lot"));
    if (!pdf)
        pdf = tb_arena_printf(&ctx->mem, "case-%s.pdf", lot);
    xlsx = tb_file_twin(ctx, pdf, ".xlsx");
    if (rc == TB_OK && (rc = tb_case_write(&files, pdf, data, err)) == TB_OK)
        rc = tb_case_sheets(&files, xlsx, data, err);
    rc = tb_outset_end(&files, rc, err);
    ctx->done = rc == TB_OK;
    if (rc == TB_OK)
        rc = print(ctx, lot, pdf, xlsx, stale, err);
    json_decref(data);
    return rc;
}

static const struct tb_opt opts[] = {
    { "ask", "TEXT", "what the supplier is asked; without it, records and a joint sample", false },
    { "answer-by", "DAY", "day by which an answer is asked", false },
    { "out", "FILE.pdf", "where to write; without it, case-LOT.pdf (notice-LOT.pdf) here", false },
    { "replace", NULL, "write over papers that are there already", false },
    { "notice", NULL, "instead, the one-page notice to the supplier, as PDF and as text", false },
    { "on", "DAY", "--notice: the day on it; today", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_case = {
    .name = "case",
    .args = "LOT [--notice] [--ask TEXT] [--answer-by DAY] [--out FILE.pdf]",
    .brief = "write the file that answers a supplier's every question",
    .about =
        "Writes a PDF about one lot: the declaration in the supplier's own words, what was found and how it "
        "was decided, every cue and its weight, photographs, what a burn can and cannot prove, bench tests "
        "and laboratory, how many bolts were burnt, who did what and when, what is at stake, what is asked; "
        "and a workbook with the same.\n\n"
        "The records behind it are attached to the PDF with the rows of the journal over them, so that the "
        "other side can check it with: tenterbook prove --case FILE.pdf. Nothing of other lots, suppliers or "
        "prices is in it. A book that does not prove gives no case and no notice.\n\n"
        "With --notice, one page that tells the supplier: which goods, the words of the declaration, which "
        "bolts were burnt and what was seen, what is asked. A notice without particulars is refused.",
    .example = "tenterbook case M26-003.02\n"
               "tenterbook case M26-003.02 --answer-by 2026-11-20 --out claim.pdf\n"
               "tenterbook case M26-003.02 --notice --answer-by 2026-11-20",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_BOOK,
    .run = make,
};
