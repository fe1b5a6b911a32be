/* dispute: opened, the supplier told, answered, a remedy agreed, closed. */
#include "cli/claim/claim_say.h"
#include "cli/keepfile.h"
#include "tenterbook/setting.h"

#include <math.h>
#include <string.h>

static const char *const steps[] = { "opened", "notified", "answered", "agreed", "closed" };

/* --- the list --------------------------------------------------------------------------------------------------- */

static void list_row(struct tb_table *t, const struct tb_claim_open *o)
{
    struct tb_text left = { 0 };

    if (*o->due)
        tb_days_words(&left, o->left);
    tb_table_cell(t, "%s", o->lot);
    tb_table_cell(t, "%s", o->supplier);
    tb_table_cell(t, "%s", tb_claim_state_words(o->state));
    tb_table_cell(t, "%s", *o->due ? o->due : _("no day known"));
    tb_table_cell(t, "%s%s", tb_text_str(&left), o->overdue ? _(", OVERDUE") : "");
    tb_table_cell(t, "%s", o->opened_on ? o->opened_on : "-");
    if (isnan(o->amount))
        tb_table_cell(t, "-");
    else
        tb_table_cell(t, "%.2f %s", o->amount, o->amount_currency);
    tb_text_free(&left);
}

static tb_rc list(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    const char *const head[] = { _("LOT"),  _("SUPPLIER"), _("NEXT"),  _("DUE"),
                                 _("DAYS"), _("OPENED"),   _("AMOUNT") };
    struct tb_claim_open *o;
    struct tb_table t;
    json_t *json;
    char today[TB_DAY_LEN + 1];
    size_t n, shown = 0;
    tb_rc rc;

    tb_today(today);
    if ((rc = tb_claim_open_list(&o, &n, ctx->book, today, mem, err)) != TB_OK)
        return rc;
    json = json_array();
    tb_table_begin(&t, TB_COUNT(head));
    for (size_t i = 0; i < TB_COUNT(head); i++)
        tb_table_cell(&t, "%s", head[i]);
    for (size_t i = 0; i < n; i++) {
        if (tb_opt_on(ctx, "overdue") && !o[i].overdue)
            continue;
        list_row(&t, &o[i]);
        (void)json_array_append_new(json, tb_json_claim_open(&o[i]));
        shown++;
    }
    if (ctx->json)
        rc = tb_print_json(ctx, json_incref(json), err);
    else if (shown)
        tb_table_print(&t, ctx->out, "lllllrr", 40);
    else
        (void)fputs(_("No claims are open.\n"), ctx->out);
    tb_table_drop(&t);
    json_decref(json);
    return rc;
}

/* --- one step --------------------------------------------------------------------------------------------------- */

static tb_rc which_step(const char **out, struct tb_ctx *ctx, struct tb_err *err)
{
    *out = NULL;
    for (size_t i = 0; i < TB_COUNT(steps); i++)
        if (tb_opt_on(ctx, steps[i])) {
            if (*out)
                return tb_misuse(err, "one step at a time: --%s or --%s", *out, steps[i]);
            *out = steps[i];
        }
    return TB_OK;
}

static tb_rc not_to_come(const char *day, const char *today, const char *option, struct tb_err *err)
{
    return day && strcmp(day, today) > 0
               ? tb_fail(err, TB_EINVAL, "--%s is %s, and today is %s", option, day, today)
               : TB_OK;
}

static tb_rc read_step(struct tb_dispute_step *s, struct tb_ctx *ctx, const char *today, struct tb_err *err)
{
    tb_rc rc;

    s->day = today;
    s->words = tb_opt(ctx, "words");
    s->remedy = tb_opt(ctx, "agreed");
    s->currency = tb_opt(ctx, "currency");
    s->channel = tb_opt(ctx, "by");
    s->proof = tb_opt(ctx, "proof");
    s->amount = (double)NAN;
    if ((rc = tb_opt_day(&s->day, ctx, "on", err)) != TB_OK ||
        (rc = not_to_come(s->day, today, "on", err)) != TB_OK ||
        (rc = tb_opt_day(&s->due, ctx, "due", err)) != TB_OK ||
        (rc = tb_opt_day(&s->keep_until, ctx, "keep-until", err)) != TB_OK)
        return rc;
    if (s->remedy && strcmp(s->remedy, "credit") != 0 && strcmp(s->remedy, "return") != 0 &&
        strcmp(s->remedy, "relabel") != 0 && strcmp(s->remedy, "replacement") != 0)
        return tb_fail(err, TB_EINVAL, "'%s' is no remedy; agreed are credit, return, relabel or replacement",
                       s->remedy);
    return tb_opt_number(&s->amount, ctx, "amount", 0, 1e12, err);
}

/* What nobody said: an answer is due after the site's usual days, a file is kept as long as the longest rule says. */
static tb_rc fill_in(struct tb_dispute_step *s, struct tb_keep_rule *kept_by, struct tb_ctx *ctx,
                     const struct tb_claim *c, struct tb_arena *mem, struct tb_err *err)
{
    const char *const country[] = { c->country, tb_book_site(ctx->book)->country };
    char day[TB_DAY_LEN + 1];
    double days;
    tb_rc rc = TB_OK;

    if (strcmp(s->step, "notified") == 0 && !s->due &&
        (rc = tb_setting_number(&days, ctx->book, "answer_days", TB_BOOK_NOW, err)) == TB_OK) {
        tb_day_after(day, s->day, (int)days, false, TB_WEEKEND_SAT_SUN);
        s->due = tb_arena_strdup(mem, day);
    }
    if (strcmp(s->step, "closed") == 0 && !s->keep_until) {
        tb_claim_keep_until(day, kept_by, s->day, country, TB_COUNT(country));
        s->keep_until = tb_arena_strdup(mem, day);
    }
    return rc;
}

static tb_rc add_document(struct tb_dispute_step *s, struct tb_ctx *ctx, const struct tb_lot *lot,
                          struct tb_attachment *a, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (!a->bytes)
        return TB_OK;
    a->about = "lot";
    a->subject = lot->id;
    if ((rc = tb_attachment_add(a, ctx->book, mem, err)) == TB_OK)
        s->document = a->id;
    return rc;
}

/* Goods in dispute stay whole: a lot that waits or was released is held. */
static tb_rc hold(struct tb_ctx *ctx, const struct tb_lot *lot, bool *held, struct tb_arena *mem,
                  struct tb_err *err)
{
    struct tb_standing s = { .lot = lot->id, .standing = "held", .why = "a dispute was opened" };

    *held = strcmp(lot->standing, "waiting") == 0 || strcmp(lot->standing, "released") == 0;
    return *held ? tb_standing_add(&s, ctx->book, mem, err) : TB_OK;
}

static tb_rc open_it(struct tb_ctx *ctx, struct tb_dispute_step *s, const struct tb_lot *lot, bool *held,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct tb_dispute *d = tb_arena_alloc(mem, sizeof *d);
    tb_rc rc;

    d->lot = lot->id;
    if ((rc = tb_opt_day(&d->found_on, ctx, "found", err)) != TB_OK)
        return rc;
    if (d->found_on && strcmp(d->found_on, lot->arrived) < 0)
        return tb_fail(err, TB_EINVAL, "found on %s, but the goods arrived on %s", d->found_on, lot->arrived);
    if (strcmp(s->day, lot->arrived) < 0)
        return tb_fail(err, TB_EINVAL, "opened on %s, but the goods arrived on %s", s->day, lot->arrived);
    rc = tb_dispute_open(d, ctx->book, s, mem, err);
    return rc == TB_OK ? hold(ctx, lot, held, mem, err) : rc;
}

static tb_rc write_it(struct tb_ctx *ctx, struct tb_dispute_step *s, const struct tb_lot *lot,
                      const struct tb_claim *c, struct tb_attachment *paper, bool *held, struct tb_arena *mem,
                      struct tb_err *err)
{
    tb_rc rc = tb_ctx_begin(ctx, "dispute", err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(ctx->book, lot->ref);
    rc = add_document(s, ctx, lot, paper, mem, err);
    if (rc == TB_OK && strcmp(s->step, "opened") == 0)
        rc = open_it(ctx, s, lot, held, mem, err);
    else if (rc == TB_OK)
        rc = tb_dispute_step_add(s, ctx->book, c->open, mem, err);
    if (rc == TB_OK)
        return tb_book_commit(ctx->book, err);
    tb_book_rollback(ctx->book);
    return rc;
}

/* --- showing ---------------------------------------------------------------------------------------------------- */

static tb_rc show(struct tb_ctx *ctx, const char *ref, const char *today, struct tb_arena *mem,
                  struct tb_err *err)
{
    struct tb_claim_open o;
    struct tb_claim c;
    struct tb_lot lot;
    struct tb_text left = { 0 };
    tb_rc rc = tb_lot_find(&lot, ctx->book, ref, mem, err);

    if (rc != TB_OK || (rc = tb_claim_of_lot(&c, ctx->book, &lot, today, mem, err)) != TB_OK)
        return rc;
    tb_claim_open_of(&o, &c, &lot, today);
    if (ctx->json) {
        json_t *j = tb_json_claim_open(&o);

        (void)json_object_set_new(j, "claim", tb_json_claim(&c));
        return tb_print_json(ctx, j, err);
    }
    (void)fprintf(ctx->out, _("Lot %s, %s: %s"), lot.ref, lot.supplier_name, tb_claim_state_words(o.state));
    if (*o.due) {
        tb_days_words(&left, o.left);
        (void)fprintf(ctx->out, _(", due %s, %s%s"), o.due, left.s, o.overdue ? _(", OVERDUE") : "");
    }
    (void)fputc('\n', ctx->out);
    tb_text_free(&left);
    tb_print_disputes(ctx->out, &c);
    tb_print_claim(ctx->out, &c, &lot);
    tb_print_no_advice(ctx->out);
    return TB_OK;
}

static void say_done(struct tb_ctx *ctx, const struct tb_dispute_step *s, const struct tb_keep_rule *kept_by,
                     const struct tb_lot *lot, bool held)
{
    if (held)
        (void)fprintf(ctx->out, _("Lot %s is held now: goods in dispute stay whole.\n"), lot->ref);
    if (strcmp(s->step, "closed") != 0)
        return;
    if (kept_by->name)
        (void)fprintf(ctx->out, _("The file is kept until %s (%s%s).\n"), s->keep_until, kept_by->name,
                      strcmp(kept_by->status, "memory") == 0 ? _("; from memory, nobody looked it up") : "");
    (void)fprintf(ctx->out, _("Decide what becomes of the goods: tenterbook settle %s --as ...\n"), lot->ref);
}

static tb_rc step_on(struct tb_ctx *ctx, const char *step, const char *today, struct tb_arena *mem,
                     struct tb_err *err)
{
    struct tb_dispute_step s = { .step = step };
    struct tb_keep_rule kept_by = { 0 };
    struct tb_attachment paper = { 0 };
    struct tb_claim c;
    struct tb_lot lot;
    bool held = false;
    tb_rc rc = read_step(&s, ctx, today, err);

    if (rc != TB_OK || (rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], mem, err)) != TB_OK ||
        (rc = tb_claim_of_lot(&c, ctx->book, &lot, today, mem, err)) != TB_OK)
        return rc;
    if (strcmp(step, "opened") != 0 && tb_opt_on(ctx, "found"))
        return tb_misuse(err, "--found belongs to --opened");
    if (strcmp(step, "opened") != 0 && !c.open)
        return tb_fail(err, TB_EREFUSED,
                       "no dispute about lot %s is open; open one with --opened --words TEXT", lot.ref);
    if (tb_opt(ctx, "document") &&
        (rc = tb_attachment_read(&paper, tb_opt(ctx, "document"), mem, err)) != TB_OK)
        return rc;
    if ((rc = fill_in(&s, &kept_by, ctx, &c, mem, err)) != TB_OK ||
        (rc = tb_within(err, write_it(ctx, &s, &lot, &c, &paper, &held, mem, err), "lot %s", lot.ref)) !=
            TB_OK)
        return rc;
    if (!ctx->json)
        say_done(ctx, &s, &kept_by, &lot, held);
    return show(ctx, lot.ref, today, mem, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    char today[TB_DAY_LEN + 1];
    const char *step;
    tb_rc rc = which_step(&step, ctx, err);

    tb_today(today);
    if (rc == TB_OK && ctx->argc == 0)
        rc = step ? tb_misuse(err, "name the lot") : list(ctx, &mem, err);
    else if (rc == TB_OK)
        rc = step ? step_on(ctx, step, today, &mem, err) : show(ctx, ctx->argv[0], today, &mem, err);
    tb_arena_free(&mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "opened", NULL, "open one; --words says what is claimed", false },
    { "notified", NULL, "the supplier was told", false },
    { "answered", NULL, "the supplier answered; --words says what", false },
    { "agreed", "REMEDY", "credit, return, relabel or replacement", false },
    { "closed", NULL, "it is over; --words says how it ended", false },
    { "on", "DAY", "the day it happened; today", false },
    { "words", "TEXT", "in a sentence", false },
    { "found", "DAY", "--opened: day the fault was found, where that is not the first verdict against it",
      false },
    { "due", "DAY", "--notified: answer by (setting answer_days); --agreed: to be done by", false },
    { "amount", "N", "claimed, offered, agreed or paid", false },
    { "currency", "CODE", "its money: EUR", false },
    { "by", "CHANNEL", "--notified: how it was sent: post, e-mail ...", false },
    { "proof", "TEXT", "--notified: proof of sending: tracking number, message id", false },
    { "document", "FILE", "the exact paper sent or received (PDF, JPEG, PNG); kept with its SHA-256", false },
    { "keep-until", "DAY", "--closed: keep the file at least so long", false },
    { "overdue", NULL, "without a lot: only what is overdue", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_dispute = {
    .name = "dispute",
    .args = "[LOT [--opened|--notified|--answered|--agreed REMEDY|--closed] [--words TEXT]]",
    .brief = "follow a dispute with a supplier about a lot",
    .about =
        "Without a lot lists every open claim, what is due first first: lots in dispute, and lots that are "
        "held "
        "and whose supplier was not told yet. With a lot shows its disputes and its clock; with a step "
        "records "
        "it: opened, supplier notified, answered, remedy agreed, closed. Opening a dispute holds the lot.\n\n"
        "Nothing recorded is changed: what turned out otherwise is a later step. Amounts and days are what "
        "people "
        "wrote; information, not legal advice.",
    .example =
        "tenterbook dispute W26-014.02 --opened --words \"not 100 % cotton\" --amount 1480 --currency EUR\n"
        "tenterbook dispute W26-014.02 --notified --by post --proof RR12345 --document "
        "notice-W26-014.02.pdf\n"
        "tenterbook dispute W26-014.02 --agreed credit --amount 900 --currency EUR --due 2026-12-01\n"
        "tenterbook dispute --overdue",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
