/* case_notice.c - case --notice: the letter to the supplier, what stands against sending it, and what is late after it. */
#include "cli/paper/case_notice.h"

#include "cli/show.h"
#include "tenterbook/date.h"
#include "tenterbook/notice.h"

#include <string.h>

/* --- before it is written --------------------------------------------------------------------------------------- */

/* By when it is due, or that nobody knows: said first, since a person may still telephone. */
static void terms_words(struct tb_text *out, const struct tb_lot_claim *now)
{
    const struct tb_claim *c = &now->claim;
    const struct tb_claim_due *due = &c->clock.first;
    char day[TB_COUNTED], left[TB_COUNTED];

    if (c->notified)
        tb_text_say(out, "The supplier was told on %s already.\n", c->notified);
    else if (!c->terms)
        tb_text_say(
            out,
            "No terms are set for %s, so nobody knows by when this notice is due: tenterbook terms \"%s\"\n",
            now->lot.supplier_name, now->lot.supplier_name);
    else if (!due->day[0])
        tb_text_say(out, "No term here names a number of days: this notice is due without delay.\n");
    else if (due->left < 0)
        tb_text_say(out, "This notice is late: it was due by %s, %s (%s).\n", tb_day_words(day, due->day),
                    tb_days_words(left, due->left), c->term[due->by].name);
    else
        tb_text_say(out, "This notice is due by %s, %s (%s).\n", tb_day_words(day, due->day),
                    tb_days_words(left, due->left), c->term[due->by].name);
}

/* What is missing, each with the command that sets it. */
static void lacks_words(struct tb_text *out, const struct tb_notice *n)
{
    struct tb_notice_lacks lacks = tb_notice_lacks(n);
    const char *supplier = tb_notice_supplier(n);

    if (lacks.recipient)
        tb_text_say(
            out,
            "The address of %s is not known: tenterbook address \"%s\" --street LINE --postcode CODE --place "
            "TEXT --country XX\n",
            supplier, supplier);
    if (lacks.language)
        tb_text_say(out,
                    "No language is set for %s, so the notice is in English: tenterbook address \"%s\" "
                    "--language XX\n",
                    supplier, supplier);
    if (lacks.sender)
        tb_text_say(
            out,
            "Our own address is not set: tenterbook address --ours --street LINE --postcode CODE --place "
            "TEXT --country XX\n");
    if (lacks.mail)
        tb_text_say(out,
                    "Our e-mail address is not set, so there is no mail: tenterbook address --ours --email "
                    "ADDRESS\n");
}

/* What of the letter is of use to who receives it, so that nobody posts it unawares. It is true, and stays in. */
static void helps_words(struct tb_text *out, const struct tb_lot_claim *now)
{
    const struct tb_concluded *c = &now->open.concluded;
    struct tb_text kept = { 0 };

    if (c->by == TB_BY_LABORATORY && c->told.grade == TB_GRADE_FITS)
        tb_text_say(
            out,
            "The letter tells burns of ours that fit the declaration, beside what the laboratory found.\n");
    if (c->open == TB_OPEN_DISAGREE)
        tb_text_say(out, "The letter tells that laboratories disagree, and what each found.\n");
    tb_markets_words(&kept, c->kept);
    if (kept.n)
        tb_text_say(out, "The letter tells that the goods conform in other markets%s.\n", kept.s);
    if (now->claim.uses)
        tb_text_say(out, "The letter tells that bolts were cut into, which may end a claim.\n");
    if (now->lot.standing == TB_RELABELLED)
        tb_text_say(out,
                    "The letter tells that the goods were labelled anew, which may read as keeping them.\n");
    if (now->lot.standing == TB_RELEASED || now->lot.released_in_part)
        tb_text_say(out,
                    "The letter tells that goods were released for use, which may read as keeping them.\n");
    tb_text_free(&kept);
}

/* --- after it --------------------------------------------------------------------------------------------------- */

/* Nothing is late while this notice still waits to be sent, but the notice itself. */
static void late_words(struct tb_text *out, const struct tb_lot_claim *now)
{
    const struct tb_claim_open *o = &now->open;
    char left[TB_COUNTED];

    if (o->overdue)
        tb_text_say(out, "Late now: %s, due by %s, %s (%s).\n", tb_claim_state_words(o->state), o->due,
                    tb_days_words(left, o->left), o->due_by);
}

static json_t *as_json(const struct tb_notice *n, const char *path, const char *mail)
{
    struct tb_notice_lacks lacks = tb_notice_lacks(n);
    struct tb_text text = { 0 };
    json_t *j;

    tb_notice_text(&text, n);
    j = json_pack("{s:s, s:s, s:o, s:s, s:o, s:{s:b, s:b, s:b, s:b}}", "lot", tb_notice_lot(n), "file", path,
                  "text", tb_json_text(text.s), "language", tb_notice_language(n), "mail",
                  lacks.mail ? json_null() : tb_json_text(mail), "missing", "sender", lacks.sender,
                  "recipient", lacks.recipient, "language", lacks.language, "mail", lacks.mail);
    tb_json_put(j, "claim", tb_json_claim(&tb_notice_now(n)->claim));
    tb_text_free(&text);
    return j;
}

/* The next command is offered whole: a notice that nobody can prove was sent is worth little. */
static tb_rc print_after(struct tb_ctx *ctx, const struct tb_notice *n, const char *path, struct tb_err *err)
{
    const char *mail = tb_file_twin(ctx, path, ".eml"), *text = tb_file_twin(ctx, path, ".txt");
    const char *due =
        tb_opt(ctx, "answer-by"); /* else the dispute counts the days of the setting, as the letter did */
    struct tb_text t = { 0 };

    if (tb_notice_lacks(n).mail)
        tb_text_say(&t, "Written: %s, and the same as text in %s.\n", path, text);
    else
        tb_text_say(&t, "Written: %s, the same as text in %s, and as a mail that is not sent yet in %s.\n",
                    path, text, mail);
    tb_text_say(&t,
                "Send it in a way that can be proved, then record it with the file itself:\n"
                "  tenterbook dispute %s --notified --by CHANNEL --proof NUMBER --document %s%s%s\n",
                tb_notice_lot(n), path, due ? " --due " : "", due ? due : "");
    late_words(&t, tb_notice_now(n));
    tb_text_add(&t, tb_no_advice_words());
    return tb_print(ctx, as_json(n, path, mail), &t, err);
}

/* Said before the files are made; a program finds it in the object at the end. */
static void print_before(struct tb_ctx *ctx, const struct tb_notice *n)
{
    struct tb_text t = { 0 };

    terms_words(&t, tb_notice_now(n));
    lacks_words(&t, n);
    helps_words(&t, tb_notice_now(n));
    if (!ctx->json && t.n) {
        (void)fputs(t.s, ctx->out);
        (void)fflush(ctx->out);
    }
    tb_text_free(&t);
}

tb_rc tb_case_notice(struct tb_ctx *ctx, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];
    struct tb_notice_plan plan = { .lot = ctx->argv[0],
                                   .day = today,
                                   .today = today,
                                   .by = ctx->who,
                                   .asked = tb_opt(ctx, "ask"),
                                   .remedy = (enum tb_remedy_kind)tb_opt_word(ctx, "remedy", TB_REMEDY_NONE,
                                                                              &tb_remedy_words),
                                   .answer_by = tb_opt_day(ctx, "answer-by"),
                                   .again = tb_opt_on(ctx, "again"),
                                   .language = tb_opt(ctx, "language") };
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
    print_before(ctx, n);
    rc = tb_notice_write(&files, path, n, err);
    rc = tb_outset_end(&files, rc, err);
    ctx->done = rc == TB_OK;
    if (rc == TB_OK)
        rc = print_after(ctx, n, path, err);
    tb_notice_free(n);
    return rc;
}
