/* Claims in lines of text: the clock of a lot, the steps of its disputes, joint samples. */
#include "cli/claim/claim_say.h"
#include "tenterbook/status.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void tb_print_no_advice(FILE *out)
{
    tb_say(out, "Information, not legal advice: the contract, the official text and local counsel decide.\n");
}

/* --- the clock -------------------------------------------------------------------------------------------------- */

/* A term nobody looked up may be wrong, and a day that rests on it too. */
static const char *unchecked(const char *status)
{
    return tb_status_memory(status) ? _(" [from memory, nobody looked it up]") : "";
}

/* Notice on a holiday may reach nobody: where the last day is not a working day, the one before is told too. */
static void print_due(FILE *out, const struct tb_claim *c, const struct tb_claim_due *d, const char *what)
{
    const struct tb_claim_term *by = &c->term[d->by];
    struct tb_text day = { 0 }, work_by = { 0 };

    if (!d->day[0])
        return;
    tb_day_words(&day, d->day);
    tb_day_words(&work_by, d->work_by);
    if (strcmp(d->work_by, d->day) == 0)
        tb_say(out, "  %s: by %s (%s)%s\n", what, day.s, by->name, unchecked(by->status));
    else
        tb_say(out, "  %s: by %s (%s)%s; the last working day is %s\n", what, day.s, by->name,
               unchecked(by->status), work_by.s);
    tb_text_free(&day);
    tb_text_free(&work_by);
}

/* The one line that is read: told already, no terms, no days, or the day itself. */
static void print_headline(FILE *out, const struct tb_claim *c, const struct tb_lot *lot)
{
    const struct tb_claim_due *d = &c->clock.first;
    struct tb_text day = { 0 }, left = { 0 };

    if (c->notified)
        tb_say(out, "Claim: the supplier was told on %s\n", c->notified);
    else if (!c->terms)
        tb_say(out, "Claim: no terms are set for %s; tenterbook terms shows what there is\n",
               lot->supplier_name);
    else if (!d->day[0])
        tb_say(out, "Claim: notice is due without delay; no term here names a number of days\n");
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

/* Cutting is what ends a claim most often, so every cut is listed with its reason. */
static void print_uses(FILE *out, const struct tb_claim *c)
{
    for (size_t i = 0; i < c->uses; i++) {
        const struct tb_bolt_use *u = &c->use[i];
        struct tb_text t = { 0 };

        tb_part(&t, "Cut into: bolt %s at %s by %s", u->bolt_number, u->used_at, u->used_by);
        if (!isnan(u->metres))
            tb_part(&t, "%.2f m", u->metres);
        if (u->anyway)
            tb_part(&t, "although the lot was held or in dispute");
        (void)fprintf(out, "%s%s%s\n", t.s, *u->why ? ": " : "", u->why);
        tb_text_free(&t);
    }
}

/* After the days come the terms that name none, which may be the stricter ones. */
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
        tb_say(out, "  and before the cloth is cut (%s)\n", c->term[k->cutting_by].name);
    if (k->last.day[0])
        tb_say(out, "  last day of all: %s, %s (%s)%s\n", k->last.day,
               strcmp(c->term[k->last.by].last_of, "action") == 0 ? _("to sue") : _("for any notice"),
               c->term[k->last.by].name, unchecked(c->term[k->last.by].last_status));
    print_uses(out, c);
}

/* --- disputes --------------------------------------------------------------------------------------------------- */

/* A step shows only what was said of it. */
static void print_step(FILE *out, const struct tb_dispute_step *s)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, tb_dispute_step_words(s->step));
    if (s->remedy != TB_REMEDY_NONE)
        tb_text_addf(&t, " %s", tb_remedy_key(s->remedy));
    if (!isnan(s->amount))
        tb_part(&t, "%.2f %s", s->amount, s->currency);
    if (*s->channel)
        tb_part(&t, "by %s", s->channel);
    if (*s->proof)
        tb_part(&t, "proof %s", s->proof);
    if (s->due)
        tb_part(&t, "due %s", s->due);
    if (s->keep_until)
        tb_part(&t, "file kept until %s", s->keep_until);
    (void)fprintf(out, "  %s %s (%s)%s%s\n", s->day, t.s, s->recorded_by, *s->words ? ": " : "", s->words);
    if (s->document)
        tb_say(out, "    document %s, SHA-256 %s\n", s->document_name, s->document_sha256);
    tb_text_free(&t);
}

void tb_print_disputes(FILE *out, const struct tb_claim *c)
{
    for (size_t i = 0; i < c->disputes; i++) {
        const struct tb_dispute *d = &c->dispute[i];

        if (tb_dispute_last(d, TB_CLOSED))
            tb_say(out, "Dispute %lld, closed\n", (long long)d->serial);
        else
            tb_say(out, "Dispute %lld, open\n", (long long)d->serial);
        for (size_t k = 0; k < d->steps; k++)
            print_step(out, &d->step[k]);
    }
}

/* --- joint samples ---------------------------------------------------------------------------------------------- */

/* A dash for a holder without pieces: that it got none is what the other side will ask. */
static void print_holder(FILE *out, const struct tb_joint_sample *j, enum tb_holder_kind holder,
                         const char *words)
{
    size_t n = 0;

    (void)fprintf(out, "  %s:", words);
    for (size_t i = 0; i < j->pieces; i++)
        if (j->piece[i].holder == holder)
            (void)fprintf(out, "%s %s", n++ ? "," : "", j->piece[i].tag);
    (void)fputs(n ? "\n" : " -\n", out);
}

void tb_print_joint(FILE *out, const struct tb_joint_sample *j)
{
    tb_say(out, "Joint sample %lld: %lld retained swatches dealt at %s by %s, seed %s\n",
           (long long)j->serial, (long long)j->swatches, j->dealt_at, j->dealt_by, j->seed);
    print_holder(out, j, TB_HOLDER_SUPPLIER, _("to the supplier"));
    print_holder(out, j, TB_HOLDER_LABORATORY, *j->laboratory ? j->laboratory : _("to the laboratory"));
    print_holder(out, j, TB_HOLDER_OWN, _("own shelf"));
    if (*j->rule)
        tb_say(out, "  agreed: %s\n", j->rule);
    if (*j->present)
        tb_say(out, "  present: %s\n", j->present);
}
