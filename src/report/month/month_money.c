/* month_money.c - what claims came to in the span: a sheet by supplier, month and currency, lines of the summary, words of the page. */
#include "report/month/month_impl.h"

#include "tenterbook/money.h"

#include <math.h>
#include <string.h>

/* --- the sheet ---------------------------------------------------------------------------------------------------- */

struct money_row {
    const struct tb_money_sum *sum;
    const struct tb_money_rate *rate; /* NULL: it is in the money of the site, or none is set */
};

/* By which rate the amounts of a row are converted; its months are those of the rates that were used. */
static const struct tb_money_rate *rate_of(const struct tb_money *m, const struct tb_money_sum *s)
{
    for (size_t i = 0; i < m->rates; i++)
        if (strcmp(m->rate[i].currency, s->currency) == 0 && strcmp(m->rate[i].first, s->month) <= 0 &&
            strcmp(m->rate[i].last, s->month) >= 0)
            return &m->rate[i];
    return NULL;
}

static const struct tb_column columns[] = {
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 30, true, false, TB_FROM_HAND },
    { "month", N_("Month"), NULL, TB_COL_TEXT, 0, 10, false, false, TB_FROM_HAND },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 8, false, false, TB_FROM_HAND },
    { "claimed", N_("Claimed"), NULL, TB_COL_NUMBER, 2, 14, false, false, TB_FROM_HAND },
    { "agreed", N_("Agreed"), NULL, TB_COL_NUMBER, 2, 14, false, false, TB_FROM_HAND },
    { "recovered", N_("Recovered"), NULL, TB_COL_NUMBER, 2, 14, false, false, TB_FROM_HAND },
    { "awaited", N_("Awaited"), NULL, TB_COL_NUMBER, 2, 14, false, false, TB_FROM_HAND },
    { "rate", N_("Rate"), NULL, TB_COL_NUMBER, 4, 10, false, false, TB_FROM_HAND },
    { "rate_from", N_("Rate set from"), NULL, TB_COL_DAY, 0, 11, false, false, TB_FROM_HAND },
};

static tb_rc put_row(struct tb_tab *t, const struct money_row *r, struct tb_err *err)
{
    const struct tb_money_sum *s = r->sum;

    tb_put_text(t, s->supplier);
    tb_put_text(t, s->month);
    tb_put_text(t, s->currency);
    tb_put_number(t, s->claimed);
    tb_put_number(t, s->agreed);
    tb_put_number(t, s->recovered);
    tb_put_number(t, s->awaited);
    tb_put_number(t, r->rate ? r->rate->rate : NAN);
    if (r->rate && *r->rate->day)
        tb_put_day(t, r->rate->day);
    else
        tb_put_none(t);
    return tb_tab_row(t, err);
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    const struct tb_money *all = m->plan->money;
    tb_rc rc = TB_OK;

    for (size_t i = 0; all && i < all->rows && rc == TB_OK; i++)
        rc = put_row(m->tab[TAB_MONEY], &(struct money_row){ &all->row[i], rate_of(all, &all->row[i]) }, err);
    return rc;
}

static void prepare(struct month *m, struct tb_tab_plan *plan)
{
    if (!m->plan->money || !m->plan->money->rows)
        plan->note = _("None: no amount of a claim was named in the span.");
}

/* --- the summary -------------------------------------------------------------------------------------------------- */

/* Each rate with its day, and each money that has none: a sum without it looks like all of it. */
static void say_rates(struct tb_text *out, const struct tb_money *m)
{
    for (size_t i = 0; i < m->rates; i++) {
        const struct tb_money_rate *r = &m->rate[i];

        tb_text_add(out, out->n ? "; " : "");
        if (isnan(r->rate))
            tb_text_addf(out, _("%s has no rate and is not in it"), r->currency);
        else if (strncmp(r->day, r->last, strlen(r->last)) > 0)
            tb_text_addf(out, _("1 %s = %g %s, set from %s on, for %s to %s, when none was set yet"),
                         r->currency, r->rate, m->money, r->day, r->first, r->last);
        else
            tb_text_addf(out, _("1 %s = %g %s, set from %s on"), r->currency, r->rate, m->money, r->day);
    }
}

static tb_rc put_line(struct tb_tab *t, const char *item, double value, const char *currency,
                      const char *note, struct tb_err *err)
{
    tb_put_text(t, item);
    tb_put_decimals(t, 2);
    tb_put_number(t, value);
    tb_put_text(t, currency);
    tb_put_text(t, note);
    return tb_tab_row(t, err);
}

static tb_rc put_sums(struct tb_tab *t, const struct tb_money_sum *s, const char *note, struct tb_err *err)
{
    tb_rc rc = put_line(t, _("Claimed"), s->claimed, s->currency,
                        note ? note : _("the latest amount of each claim, by the month it was said"), err);

    if (rc == TB_OK)
        rc = put_line(t, _("Agreed"), s->agreed, s->currency, note, err);
    if (rc == TB_OK)
        rc = put_line(t, _("Recovered"), s->recovered, s->currency, note, err);
    if (rc == TB_OK)
        rc = put_line(
            t, _("Awaited"), s->awaited, s->currency,
            note ? note : _("agreed and not recovered; and goods sent back of whose credit nothing is said"),
            err);
    return rc;
}

/* Something is converted: another money than the site's occurs, and one at least has a rate. */
static bool converted(const struct tb_money *all)
{
    return *all->money && all->rates > all->unrated;
}

tb_rc tb_month_money_lines(struct month *m, struct tb_err *err)
{
    const struct tb_money *all = m->plan->money;
    struct tb_tab *t = m->tab[TAB_SUMMARY];
    struct tb_text rates = { 0 };
    tb_rc rc = TB_OK;

    if (!all)
        return TB_OK;
    rc = tb_tab_section(t, _("Claims on suppliers, amounts named in the span"), err);
    if (rc == TB_OK && !all->totals)
        rc = put_line(t, _("Claimed"), 0, NULL, _("none: no amount was named"), err);
    for (size_t i = 0; i < all->totals && rc == TB_OK; i++)
        rc = put_sums(t, &all->total[i], NULL, err);
    say_rates(&rates, all);
    if (rc == TB_OK && converted(all) && (rc = tb_tab_section(t, _("The same in one money"), err)) == TB_OK)
        rc = put_sums(t, &all->whole, tb_text_str(&rates), err);
    tb_text_free(&rates);
    return rc;
}

/* --- the page ----------------------------------------------------------------------------------------------------- */

static void say_sums(struct tb_text *out, const char *before, const struct tb_money_sum *s)
{
    tb_text_addf(out, _("%s%s claimed %.0f, agreed %.0f, recovered %.0f, awaited %.0f"), before, s->currency,
                 s->claimed, s->agreed, s->recovered, s->awaited);
}

void tb_month_money_words(struct tb_text *out, const struct month *m)
{
    const struct tb_money *all = m->plan->money;

    tb_text_clear(out);
    if (!all || !all->totals)
        return;
    tb_text_add(out, _("Amounts of claims named in the span:"));
    for (size_t i = 0; i < all->totals; i++)
        say_sums(out, i ? "; " : " ", &all->total[i]);
    if (!converted(all))
        return;
    say_sums(out, _("; in all, "), &all->whole);
    tb_text_add(out, all->unrated ? _(" (rates in sheet Money, which not every money has)")
                                  : _(" (rates in sheet Money)"));
}

const struct sheet tb_month_money = {
    .key = "money",
    .tab = N_("Money"),
    .title = N_("What claims came to"),
    .note = N_("Amounts that were named in the span, by supplier, month and currency. Claimed: the latest "
               "amount of each claim. Awaited: "
               "agreed and not recovered, and what goods were invoiced at that were sent back and of whose "
               "credit nothing is said. "
               "Rate: into the money of the site, as it set it; one that is set from a later day than the "
               "month stands for "
               "it all the same, where none was set yet; what has none is converted nowhere."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .prepare = prepare,
    .fill = fill,
};
