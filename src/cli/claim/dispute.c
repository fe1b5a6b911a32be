/* dispute: opened, the supplier told, answered, a remedy agreed, closed. */
#include "cli/show.h"
#include "tenterbook/act_claim.h"
#include "tenterbook/act_void.h"
#include "tenterbook/attachment.h"
#include "tenterbook/figure.h"
#include "tenterbook/limits.h"
#include "tenterbook/status.h"

#include <math.h>
#include <string.h>

/* --- the list --------------------------------------------------------------------------------------------------- */

/* A claim without a day due still has its row: no day known is not the same as nothing to do. */
static void list_row(struct tb_table *t, const struct tb_claim_open *o)
{
    char left[TB_COUNTED];

    tb_table_texts(t, o->lot, o->supplier, tb_word(&tb_concluded_words, (int)o->concluded.kind),
                   tb_claim_state_words(o->state), *o->due ? o->due : tb_undated_reason(o->undated));
    tb_table_cell(t, "%s%s", *o->due ? tb_days_words(left, o->left) : "", o->overdue ? _(", OVERDUE") : "");
    tb_table_texts(t, o->opened_on ? o->opened_on : "-");
    tb_table_cell(t, isnan(o->amount) ? "-" : "%.2f %s", tb_cents(o->amount), o->amount_currency);
    tb_table_cell(t, isnan(o->awaited) ? "-" : "%.2f", tb_cents(o->awaited));
}

/* Nothing to list: which of the two questions that answers. */
static void say_none(struct tb_ctx *ctx, size_t open)
{
    if (open)
        (void)fprintf(ctx->out,
                      _n("%zu claim is open, and it is not overdue.\n",
                         "%zu claims are open, and none of them is overdue.\n", open),
                      open);
    else
        tb_say(ctx->out, "No claims are open.\n");
}

/* What may be late comes with what is: without terms nobody can say that it is not. */
static void say_unsaid(struct tb_ctx *ctx, size_t unsaid)
{
    if (unsaid)
        tb_say(ctx->out,
               _n("Of %zu claim nobody can say whether it is overdue, since no term that names days is set: "
                  "tenterbook terms\n",
                  "Of %zu claims nobody can say whether they are overdue, since no term that names days is "
                  "set: tenterbook terms\n",
                  unsaid),
               unsaid);
}

static tb_rc list(struct tb_ctx *ctx, const char *today, struct tb_err *err)
{
    const char *const head[] = { _("LOT"),  _("SUPPLIER"), _("CONCLUSION"), _("NEXT"),   _("DUE"),
                                 _("DAYS"), _("OPENED"),   _("AMOUNT"),     _("AWAITED") };
    struct tb_claim_open *o;
    struct tb_table t;
    json_t *json;
    size_t n, unsaid = 0;
    tb_rc rc = tb_claim_open_list(&o, &n, ctx->book, today, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    json = json_array();
    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < n; i++) {
        if (tb_opt_on(ctx, "overdue") && !o[i].overdue && !o[i].unsaid)
            continue;
        unsaid += o[i].unsaid;
        list_row(&t, &o[i]);
        tb_json_push(json, tb_json_claim_open(&o[i]));
    }
    if (ctx->json)
        rc = tb_print_json(ctx, json_incref(json), err);
    else if (json_array_size(json))
        tb_table_print(&t, ctx->out, "llllllrrr", 40);
    else
        say_none(ctx, n);
    if (!ctx->json)
        say_unsaid(ctx, unsaid);
    tb_table_drop(&t);
    json_decref(json);
    return rc;
}

/* --- one step --------------------------------------------------------------------------------------------------- */

/* The options that record a step are named as the steps are. */
static tb_rc which_step(enum tb_step_kind *out, struct tb_ctx *ctx, struct tb_err *err)
{
    *out = TB_STEP_NONE;
    for (enum tb_step_kind s = TB_OPENED; s <= TB_CLOSED; s++)
        if (tb_opt_on(ctx, tb_step_key(s))) {
            if (*out != TB_STEP_NONE)
                return tb_misuse(err, "one step at a time: --%s or --%s", tb_step_key(*out), tb_step_key(s));
            *out = s;
        }
    return TB_OK;
}

/* Which fields fit which step is known to the book: they are only read here. */
static tb_rc read_step(struct tb_dispute_request *r, struct tb_ctx *ctx)
{
    struct tb_dispute_step *s = &r->step;

    s->remedy = (enum tb_remedy_kind)tb_opt_word(ctx, "agreed", TB_REMEDY_NONE, &tb_remedy_words);
    s->words = tb_opt(ctx, "words");
    s->currency = tb_opt(ctx, "currency");
    s->channel = tb_opt(ctx, "by");
    s->proof = tb_opt(ctx, "proof");
    s->day = tb_opt_day(ctx, "on");
    s->due = tb_opt_day(ctx, "due");
    s->keep_until = tb_opt_any_day(ctx, "keep-until");
    s->amount = tb_opt_number(ctx, "amount", (double)NAN, 0, TB_AMOUNT_MOST);
    r->found_on = tb_opt_day(ctx, "found");
    r->anyway = tb_opt_on(ctx, "anyway");
    return ctx->rc;
}

/* --- showing ---------------------------------------------------------------------------------------------------- */

/* What the step did besides being recorded. */
static void done_words(struct tb_text *out, const struct tb_dispute_outcome *done)
{
    const char *lot = done->now.lot.ref;

    if (done->held)
        tb_text_say(out, "Lot %s is held now: goods in dispute stay whole.\n", lot);
    if (done->step.step != TB_CLOSED)
        return;
    if (done->kept_by.name)
        tb_text_say(out, "The file is kept until %s (%s%s).\n", done->step.keep_until, done->kept_by.name,
                    tb_status_memory(done->kept_by.status) ? _("; from memory, nobody looked it up") : "");
    tb_text_say(out, "Decide what becomes of the goods: tenterbook settle %s --as ...\n", lot);
}

/* The same after a step as when it is only looked at. */
static tb_rc show(struct tb_ctx *ctx, struct tb_text *words, const struct tb_lot_claim *now,
                  struct tb_err *err)
{
    tb_lot_claim_words(words, now);
    return tb_print(ctx, tb_json_lot_claim(now), words, err);
}

static tb_rc step_on(struct tb_ctx *ctx, enum tb_step_kind step, struct tb_err *err)
{
    struct tb_dispute_request request = { .lot = ctx->argv[0], .step.step = step };
    struct tb_dispute_outcome done;
    struct tb_attachment paper = { 0 };
    struct tb_text t = { 0 };
    const char *document = tb_opt(ctx, "document");
    tb_rc rc = read_step(&request, ctx);

    if (rc == TB_OK && document && (rc = tb_attachment_read(&paper, document, &ctx->mem, err)) == TB_OK)
        request.document = &paper;
    if (rc != TB_OK || (rc = tb_act_dispute(&done, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    done_words(&t, &done);
    return show(ctx, &t, &done.now, err);
}

/* The last step was recorded by mistake: it stays on the page of the lot, and the one before it is the last again. */
static tb_rc step_back(struct tb_ctx *ctx, const char *today, struct tb_err *err)
{
    struct tb_void_request request = { .why = tb_opt(ctx, "why"), .knowing = true };
    struct tb_void_outcome done;
    struct tb_lot_claim now;
    struct tb_text t = { 0 };
    tb_rc rc = tb_lot_claim_read(&now, ctx->book, ctx->argv[0], today, &ctx->mem, err);

    if (rc == TB_OK && !now.claim.disputes)
        rc = tb_fail(err, TB_ENOTFOUND, "no dispute about lot %s is recorded", now.lot.ref);
    if (rc != TB_OK)
        return rc;
    request.name = now.claim.dispute[now.claim.disputes - 1]
                       .step[now.claim.dispute[now.claim.disputes - 1].steps - 1]
                       .id;
    if ((rc = tb_act_void(&done, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_text_say(&t,
                "Taken back: the last step of the dispute about lot %s, number %s. It stays on the page of "
                "the lot.\n",
                now.lot.ref, request.name);
    tb_void_lot_words(&t, &done.lot);
    rc = tb_lot_claim_read(&now, ctx->book, now.lot.ref, today, &ctx->mem, err);
    if (rc == TB_OK)
        rc = show(ctx, &t, &now, err);
    else
        tb_text_free(&t);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_lot_claim now;
    struct tb_text t = { 0 };
    char today[TB_DAY_LEN + 1];
    enum tb_step_kind step;
    tb_rc rc = which_step(&step, ctx, err);

    tb_today(today);
    if (rc != TB_OK)
        return rc;
    if (ctx->argc == 0)
        return step != TB_STEP_NONE ? tb_misuse(err, "name the lot") : list(ctx, today, err);
    if (tb_opt_on(ctx, "back"))
        return step == TB_STEP_NONE && tb_opt(ctx, "why")
                   ? step_back(ctx, today, err)
                   : tb_misuse(err, "--back takes the last step back: it needs --why, and names no step");
    if (step != TB_STEP_NONE)
        return step_on(ctx, step, err);
    rc = tb_lot_claim_read(&now, ctx->book, ctx->argv[0], today, &ctx->mem, err);
    return rc == TB_OK ? show(ctx, &t, &now, err) : rc;
}

static const struct tb_opt opts[] = {
    { "opened", NULL, "open one; --words says what is claimed", false },
    { "notified", NULL, "the supplier was told", false },
    { "answered", NULL, "the supplier answered; --words says what", false },
    { "agreed", "REMEDY", "credit, return, relabel or replacement", false },
    { "recovered", NULL, "some or all of it came in: --amount, or --words says what", false },
    { "closed", NULL, "it is over; --words says how it ended", false },
    { "on", "DAY", "the day it happened; today", false },
    { "words", "TEXT", "in a sentence", false },
    { "found", "DAY", "--opened: day the fault was found, where that is not the first verdict against it",
      false },
    { "anyway", NULL,
      "what was asked about is right: --found, although the book has an earlier finding; an --amount far "
      "above the invoice or "
      "more than was agreed; a --currency other than agreed",
      false },
    { "due", "DAY", "--notified: answer by (setting answer_days); --agreed: to be done by", false },
    { "amount", "N", "claimed, offered or agreed; --recovered, --closed: what came in with this step",
      false },
    { "currency", "CODE", "its money: EUR", false },
    { "by", "CHANNEL", "--notified: how it was sent: post, e-mail ...", false },
    { "proof", "TEXT", "--notified: proof of sending: tracking number, message id", false },
    { "document", "FILE", "the exact paper sent or received (PDF, JPEG, PNG); kept with its SHA-256", false },
    { "keep-until", "DAY", "--closed: keep the file at least so long", false },
    { "back", NULL, "take the last step back: it was recorded by mistake", false },
    { "why", "TEXT", "--back: why, in a sentence", false },
    { "overdue", NULL, "without a lot: only what is overdue, and what may be since no terms are set", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_dispute = {
    .name = "dispute",
    .args = "[LOT [--opened|--notified|--answered|--agreed REMEDY|--recovered|--closed] [--words TEXT]]",
    .brief = "follow a dispute with a supplier about a lot",
    .about =
        "Without a lot lists every open claim, what is overdue at the top: lots in dispute, lots that are "
        "held and whose supplier was not told yet, and goods that went back and for which no credit is "
        "recorded. With a lot shows its disputes and its clock; "
        "with a step records it: opened, supplier notified, answered, remedy agreed, an amount came in, "
        "closed. Opening a "
        "dispute holds the lot.\n\n"
        "The case file tells each step with its words: write what the other side may read.\n\n"
        "Nothing recorded is changed: what turned out otherwise is a later step. What was recorded by "
        "mistake is "
        "taken back with --back, the last step first; it stays on the page of the lot. Where the opening is "
        "taken back, so is the hold it made. Amounts and days are "
        "what people wrote; information, not legal advice.",
    .example =
        "tenterbook dispute W26-014.02 --opened --words \"not 100 % cotton\" --amount 1480 --currency EUR\n"
        "tenterbook dispute W26-014.02 --notified --by post --proof RR12345 --document "
        "notice-W26-014.02.pdf\n"
        "tenterbook dispute W26-014.02 --agreed credit --amount 900 --currency EUR --due 2026-12-01\n"
        "tenterbook dispute W26-014.02 --recovered --amount 900 --currency EUR --words \"credit note 77\"\n"
        "tenterbook dispute --overdue",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
