/* Claims in words: days, whose turn it is, terms, the clock of a lot. */
#include "base/say.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *tb_days_words(char out[TB_COUNTED], long left)
{
    if (left == 0)
        return _("today");
    if (left == 1)
        return _("tomorrow");
    if (left == -1)
        return _("1 day ago");
    (void)snprintf(out, TB_COUNTED, left > 0 ? _("in %ld days") : _("%ld days ago"), labs(left));
    return out;
}

const char *tb_day_words(char out[TB_COUNTED], const char *day)
{
    const char *const name[] = { _("Sunday"),   _("Monday"), _("Tuesday"), _("Wednesday"),
                                 _("Thursday"), _("Friday"), _("Saturday") };

    (void)snprintf(out, TB_COUNTED, "%s %s", name[tb_day_of_week(day)], day);
    return out;
}

const char *tb_undated_reason(enum tb_undated u)
{
    return u == TB_NO_TERMS ? _("no terms set") : u == TB_NO_DAYS ? _("without delay") : _("no day named");
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
    case TB_CLAIM_CLOSE:
        return _("close it: what was agreed came in");
    case TB_CLAIM_CREDIT:
        return _("returned: credit note awaited");
    default:
        return _("nothing open");
    }
}

/* Days to tell of a fault that an examination shows, and of a hidden one; a term counts calendar or working days. */
static void open_words(struct tb_text *out, int days, bool working)
{
    tb_part(out,
            working ? _n("%d working day from arrival", "%d working days from arrival", days)
                    : _n("%d day from arrival", "%d days from arrival", days),
            days);
}

static void hidden_words(struct tb_text *out, int days, bool working, bool from_arrival)
{
    if (from_arrival)
        tb_part(out,
                working ? _n("%d working day from arrival if hidden",
                             "%d working days from arrival if hidden", days)
                        : _n("%d day from arrival if hidden", "%d days from arrival if hidden", days),
                days);
    else
        tb_part(out,
                working ? _n("%d working day from discovery if hidden",
                             "%d working days from discovery if hidden", days)
                        : _n("%d day from discovery if hidden", "%d days from discovery if hidden", days),
                days);
}

/* The same order for every term, so that two of them can be compared line under line. */
void tb_term_words(struct tb_text *out, const struct tb_claim_term *t)
{
    if (t->open_days != TB_CLAIM_NO_TERM)
        open_words(out, t->open_days, t->working);
    if (t->hidden_days != TB_CLAIM_NO_TERM)
        hidden_words(out, t->hidden_days, t->working, t->hidden_from_arrival);
    if (!out->n)
        tb_text_add(out, _("no number of days"));
    if (t->before_cutting)
        tb_part(out, "before the first cut");
    if (t->last_months == TB_CLAIM_NO_TERM)
        return;
    tb_part(out,
            strcmp(t->last_of, "action") == 0 ? _n("%d month to sue", "%d months to sue", t->last_months)
                                              : _n("at most %d month", "at most %d months", t->last_months),
            t->last_months);
}

/* Terms without a supplier are for a country, without a country for everybody. */
static void whose(struct tb_text *out, const struct tb_supplier_term *t)
{
    if (t->supplier)
        tb_text_addf(out, *t->country ? "%s (%s)" : "%s", t->supplier_name, t->country);
    else
        tb_text_say(out, *t->country ? N_("all suppliers in %s") : N_("all suppliers"), t->country);
}

void tb_terms_set_words(struct tb_text *out, const struct tb_supplier_term *t)
{
    const struct tb_claim_term own = { .open_days = t->open_days,
                                       .hidden_days = t->hidden_days,
                                       .working = t->working,
                                       .before_cutting = t->before_cutting,
                                       .last_months = TB_CLAIM_NO_TERM };
    struct tb_text who = { 0 }, term = { 0 };
    const char *laws = *t->laws ? t->laws : "-";

    whose(&who, t);
    if (t->open_days >= 0 || t->hidden_days >= 0 || t->before_cutting)
        tb_term_words(&term, &own);
    if (!term.n)
        tb_text_say(out, "%s: laws and customs: %s\n", who.s, laws);
    else if (*t->stands_in)
        tb_text_say(out, "%s: own term %s (%s); laws and customs: %s\n", who.s, term.s, t->stands_in, laws);
    else
        tb_text_say(out, "%s: own term %s; laws and customs: %s\n", who.s, term.s, laws);
    tb_text_free(&who);
    tb_text_free(&term);
}

void tb_offer_words(struct tb_text *out, const struct tb_claim_term *t)
{
    struct tb_text term = { 0 };

    tb_term_words(&term, t);
    tb_text_addf(out, "%-16s %s: %s\n%17s%s\n%17s[%s; %s]\n", t->key, t->name, term.s, "", t->says, "",
                 t->status, t->source);
    tb_text_free(&term);
}

/* --- the clock of a lot ----------------------------------------------------------------------------------------- */

/* A term nobody looked up may be wrong, and a day that rests on it too. */
static const char *unchecked(const char *status)
{
    return tb_status_memory(status) ? _(" [from memory, nobody looked it up]") : "";
}

/* Notice on a holiday may reach nobody: where the last day is not a working day, the one before is told too. */
static void due_words(struct tb_text *out, const struct tb_claim *c, const struct tb_claim_due *d,
                      const char *what)
{
    const struct tb_claim_term *by = &c->term[d->by];
    char day[TB_COUNTED], work_by[TB_COUNTED];

    if (!d->day[0])
        return;
    if (strcmp(d->work_by, d->day) == 0)
        tb_text_say(out, "  %s: by %s (%s)%s\n", what, tb_day_words(day, d->day), by->name,
                    unchecked(by->status));
    else
        tb_text_say(out, "  %s: by %s (%s)%s; the last working day is %s\n", what, tb_day_words(day, d->day),
                    by->name, unchecked(by->status), tb_day_words(work_by, d->work_by));
}

/* The one line that is read: told already, no terms, no days, or the day itself. */
static void headline(struct tb_text *out, const struct tb_claim *c, const struct tb_lot *lot)
{
    const struct tb_claim_due *d = &c->clock.first;
    char day[TB_COUNTED], left[TB_COUNTED];

    if (lot->voided)
        tb_text_add(out, _("Claim: no term runs, since the lot is void\n"));
    else if (c->notified)
        tb_text_say(out, "Claim: the supplier was told on %s\n", c->notified);
    else if (!c->terms)
        tb_text_say(out, "Claim: no terms are set for %s; tenterbook terms shows what there is\n",
                    lot->supplier_name);
    else if (!d->day[0])
        tb_text_say(out, "Claim: notice is due without delay; no term here names a number of days\n");
    else
        tb_text_say(out,
                    d->left < 0 ? N_("Claim: notice was due by %s, %s\n")
                                : N_("Claim: notice is due by %s, %s\n"),
                    tb_day_words(day, d->day), tb_days_words(left, d->left));
}

/* Cutting is what ends a claim most often, so every cut is listed with its reason. */
static void use_words(struct tb_text *out, const struct tb_bolt_use *u)
{
    struct tb_text t = { 0 };

    tb_part(&t, "Cut into: bolt %s at %s by %s", u->bolt_number, u->used_at, u->used_by);
    if (!isnan(u->metres))
        tb_part(&t, "%.2f m", u->metres);
    if (u->anyway)
        tb_part(&t, "although the lot was held or in dispute");
    tb_text_addf(out, *u->why ? "%s: %s\n" : "%s\n", t.s, u->why);
    tb_text_free(&t);
}

/* After the days come the terms that name none, which may be the stricter ones. */
void tb_claim_words(struct tb_text *out, const struct tb_claim *c, const struct tb_lot *lot)
{
    const struct tb_claim_clock *k = &c->clock;
    struct tb_text what = { 0 };

    headline(out, c, lot);
    due_words(out, c, &k->arrival, _("a fault that an examination shows"));
    if (c->found_typed)
        tb_text_say(&what, "a hidden fault, seen on %s and typed up on %s", c->found_on, c->found_typed);
    else
        tb_text_say(&what, c->found_on ? N_("a hidden fault, found on %s") : N_("a hidden fault"),
                    c->found_on);
    due_words(out, c, &k->discovery, what.s);
    tb_text_free(&what);
    for (size_t i = 0; i < c->terms; i++)
        if (c->term[i].open_days == TB_CLAIM_NO_TERM && c->term[i].hidden_days == TB_CLAIM_NO_TERM &&
            *c->term[i].says)
            tb_text_addf(out, "  %s: %s%s\n", c->term[i].name, c->term[i].says, unchecked(c->term[i].status));
    if (k->before_cutting)
        tb_text_say(out, "  and before the cloth is cut (%s)\n", c->term[k->cutting_by].name);
    if (k->last.day[0])
        tb_text_say(out, "  last day of all: %s, %s (%s)%s\n", k->last.day,
                    strcmp(c->term[k->last.by].last_of, "action") == 0 ? _("to sue") : _("for any notice"),
                    c->term[k->last.by].name, unchecked(c->term[k->last.by].last_status));
    for (size_t i = 0; i < c->uses; i++)
        use_words(out, &c->use[i]);
}
