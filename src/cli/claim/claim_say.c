/* Claims in words: days, terms, the clock of a lot, the steps of its disputes, joint samples. */
#include "cli/claim/claim_say.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void tb_days_words(struct tb_text *out, long left)
{
    if (left == 0)
        tb_text_add(out, _("today"));
    else if (left == 1)
        tb_text_add(out, _("tomorrow"));
    else if (left > 0)
        tb_text_addf(out, _("in %ld days"), left);
    else if (left == -1)
        tb_text_add(out, _("1 day ago"));
    else
        tb_text_addf(out, _("%ld days ago"), -left);
}

void tb_day_words(struct tb_text *out, const char *day)
{
    const char *const name[] = { _("Sunday"),   _("Monday"), _("Tuesday"), _("Wednesday"),
                                 _("Thursday"), _("Friday"), _("Saturday") };

    tb_text_addf(out, "%s %s", name[tb_day_of_week(day)], day);
}

const char *tb_claim_state_words(enum tb_claim_state s)
{
    switch (s) {
    case TB_CLAIM_TELL:
        return _("tell the supplier");
    case TB_CLAIM_ANSWER:
        return _("answer awaited");
    case TB_CLAIM_AGREE:
        return _("agree on a remedy");
    case TB_CLAIM_DO:
        return _("remedy awaited");
    default:
        return _("nothing open");
    }
}

static void days_from(struct tb_text *out, int days, bool working, const char *from)
{
    if (out->n)
        tb_text_add(out, ", ");
    tb_text_addf(out,
                 working ? _n("%d working day from %s", "%d working days from %s", days)
                         : _n("%d day from %s", "%d days from %s", days),
                 days, from);
}

void tb_term_words(struct tb_text *out, const struct tb_claim_term *t)
{
    if (t->open_days != TB_CLAIM_NO_TERM)
        days_from(out, t->open_days, t->working, _("arrival"));
    if (t->hidden_days != TB_CLAIM_NO_TERM)
        days_from(out, t->hidden_days, t->working,
                  t->hidden_from_arrival ? _("arrival if hidden") : _("discovery if hidden"));
    if (!out->n)
        tb_text_add(out, _("no number of days"));
    if (t->before_cutting)
        tb_text_add(out, _(", before the first cut"));
    if (t->last_months != TB_CLAIM_NO_TERM)
        tb_text_addf(out,
                     strcmp(t->last_of, "action") == 0
                         ? _n(", %d month to sue", ", %d months to sue", t->last_months)
                         : _n(", at most %d month", ", at most %d months", t->last_months),
                     t->last_months);
}

void tb_print_no_advice(FILE *out)
{
    (void)fputs(
        _("Information, not legal advice: the contract, the official text and local counsel decide.\n"), out);
}

/* --- the clock -------------------------------------------------------------------------------------------------- */

static const char *unchecked(const char *status)
{
    return strcmp(status, "memory") == 0 ? _(" [from memory, nobody looked it up]") : "";
}

static void print_due(FILE *out, const struct tb_claim *c, const struct tb_claim_due *d, const char *what)
{
    struct tb_text day = { 0 };

    if (!d->day[0])
        return;
    tb_day_words(&day, d->day);
    (void)fprintf(out, _("  %s: by %s (%s)%s"), what, day.s, c->term[d->by].name,
                  unchecked(c->term[d->by].status));
    if (strcmp(d->work_by, d->day) != 0) {
        tb_text_clear(&day);
        tb_day_words(&day, d->work_by);
        (void)fprintf(out, _("; the last working day is %s"), day.s);
    }
    (void)fputc('\n', out);
    tb_text_free(&day);
}

static void print_headline(FILE *out, const struct tb_claim *c, const struct tb_lot *lot)
{
    const struct tb_claim_due *d = &c->clock.first;
    struct tb_text day = { 0 }, left = { 0 };

    if (c->notified)
        (void)fprintf(out, _("Claim: the supplier was told on %s\n"), c->notified);
    else if (!c->terms)
        (void)fprintf(out, _("Claim: no terms are set for %s; tenterbook terms shows what there is\n"),
                      lot->supplier_name);
    else if (!d->day[0])
        (void)fputs(_("Claim: notice is due without delay; no term here names a number of days\n"), out);
    else {
        tb_day_words(&day, d->day);
        tb_days_words(&left, d->left);
        (void)fprintf(
            out, d->left < 0 ? _("Claim: notice was due by %s, %s\n") : _("Claim: notice is due by %s, %s\n"),
            day.s, left.s);
    }
    tb_text_free(&day);
    tb_text_free(&left);
}

static void print_uses(FILE *out, const struct tb_claim *c)
{
    for (size_t i = 0; i < c->uses; i++) {
        const struct tb_bolt_use *u = &c->use[i];

        (void)fprintf(out, _("Cut into: bolt %s at %s by %s"), u->bolt_number, u->used_at, u->used_by);
        if (!isnan(u->metres))
            (void)fprintf(out, _(", %.2f m"), u->metres);
        if (u->anyway)
            (void)fputs(_(", although the lot was held or in dispute"), out);
        (void)fprintf(out, "%s%s\n", *u->why ? ": " : "", u->why);
    }
}

void tb_print_claim(FILE *out, const struct tb_claim *c, const struct tb_lot *lot)
{
    const struct tb_claim_clock *k = &c->clock;
    struct tb_text what = { 0 };

    print_headline(out, c, lot);
    print_due(out, c, &k->arrival, _("a fault that an examination shows"));
    if (c->found_on)
        tb_text_addf(&what, _("a hidden fault, found on %s"), c->found_on);
    else
        tb_text_add(&what, _("a hidden fault"));
    print_due(out, c, &k->discovery, what.s);
    tb_text_free(&what);
    for (size_t i = 0; i < c->terms; i++)
        if (c->term[i].open_days == TB_CLAIM_NO_TERM && c->term[i].hidden_days == TB_CLAIM_NO_TERM &&
            *c->term[i].says)
            (void)fprintf(out, "  %s: %s%s\n", c->term[i].name, c->term[i].says,
                          unchecked(c->term[i].status));
    if (k->before_cutting)
        (void)fprintf(out, _("  and before the cloth is cut (%s)\n"), c->term[k->cutting_by].name);
    if (k->last.day[0])
        (void)fprintf(out, _("  last day of all: %s, %s (%s)%s\n"), k->last.day,
                      strcmp(c->term[k->last.by].last_of, "action") == 0 ? _("to sue") : _("for any notice"),
                      c->term[k->last.by].name, unchecked(c->term[k->last.by].last_status));
    print_uses(out, c);
}

/* --- disputes --------------------------------------------------------------------------------------------------- */

static const char *step_words(enum tb_step_kind step)
{
    return step == TB_OPENED     ? _("opened")
           : step == TB_NOTIFIED ? _("supplier told")
           : step == TB_ANSWERED ? _("supplier answered")
           : step == TB_AGREED   ? _("agreed")
                                 : _("closed");
}

static void print_step(FILE *out, const struct tb_dispute_step *s)
{
    (void)fprintf(out, "  %s %s", s->day, step_words(s->step));
    if (s->remedy != TB_REMEDY_NONE)
        (void)fprintf(out, " %s", tb_remedy_key(s->remedy));
    if (!isnan(s->amount))
        (void)fprintf(out, ", %.2f %s", s->amount, s->currency);
    if (*s->channel)
        (void)fprintf(out, _(", by %s"), s->channel);
    if (*s->proof)
        (void)fprintf(out, _(", proof %s"), s->proof);
    if (s->due)
        (void)fprintf(out, _(", due %s"), s->due);
    if (s->keep_until)
        (void)fprintf(out, _(", file kept until %s"), s->keep_until);
    (void)fprintf(out, _(" (%s)%s%s\n"), s->recorded_by, *s->words ? ": " : "", s->words);
    if (s->document)
        (void)fprintf(out, _("    document %s, SHA-256 %s\n"), s->document_name, s->document_sha256);
}

void tb_print_disputes(FILE *out, const struct tb_claim *c)
{
    for (size_t i = 0; i < c->disputes; i++) {
        const struct tb_dispute *d = &c->dispute[i];

        (void)fprintf(out, _("Dispute %lld%s\n"), (long long)d->serial,
                      tb_dispute_last(d, TB_CLOSED) ? _(", closed") : _(", open"));
        for (size_t k = 0; k < d->steps; k++)
            print_step(out, &d->step[k]);
    }
}

/* --- joint samples ---------------------------------------------------------------------------------------------- */

static void print_holder(FILE *out, const struct tb_joint_sample *j, const char *holder, const char *words)
{
    size_t n = 0;

    (void)fprintf(out, "  %s:", words);
    for (size_t i = 0; i < j->pieces; i++)
        if (strcmp(j->piece[i].holder, holder) == 0)
            (void)fprintf(out, "%s %s", n++ ? "," : "", j->piece[i].tag);
    (void)fputs(n ? "\n" : " -\n", out);
}

void tb_print_joint(FILE *out, const struct tb_joint_sample *j)
{
    (void)fprintf(out, _("Joint sample %lld: %lld retained swatches dealt at %s by %s, seed %s\n"),
                  (long long)j->serial, (long long)j->swatches, j->dealt_at, j->dealt_by, j->seed);
    print_holder(out, j, "supplier", _("to the supplier"));
    print_holder(out, j, "laboratory", *j->laboratory ? j->laboratory : _("to the laboratory"));
    print_holder(out, j, "own", _("own shelf"));
    if (*j->rule)
        (void)fprintf(out, _("  agreed: %s\n"), j->rule);
    if (*j->present)
        (void)fprintf(out, _("  present: %s\n"), j->present);
}
