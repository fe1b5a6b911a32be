/* Claims in words: days, whose turn it is, terms, steps. */
#include "base/say.h"
#include "tenterbook/tell.h"

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

const char *tb_dispute_step_words(enum tb_step_kind step)
{
    return step == TB_OPENED     ? _("opened")
           : step == TB_NOTIFIED ? _("supplier told")
           : step == TB_ANSWERED ? _("supplier answered")
           : step == TB_AGREED   ? _("agreed")
                                 : _("closed");
}
