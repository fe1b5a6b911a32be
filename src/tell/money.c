/* What claims come to, in words and as JSON. */
#include "tenterbook/money.h"
#include "base/say.h"
#include "tenterbook/figure.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

/* A rate with the day it counts from; one that was set after the months it stands for says so. */
static void rate_words(struct tb_text *out, const struct tb_money_rate *r, const char *money)
{
    if (isnan(r->rate))
        tb_text_say(out, "  %s has no rate and is not in it (tenterbook set rate:%s NUMBER)\n", r->currency,
                    r->currency);
    else if (strncmp(r->day, r->last, strlen(r->last)) > 0)
        tb_text_say(out, "  1 %s = %g %s, set from %s on, for %s to %s, when none was set yet\n", r->currency,
                    r->rate, money, r->day, r->first, r->last);
    else
        tb_text_say(out, "  1 %s = %g %s, set from %s on, for %s to %s\n", r->currency, r->rate, money,
                    r->day, r->first, r->last);
}

/* What was converted and by what; what could not be stays named, since a sum without it looks like all of it. */
void tb_money_words(struct tb_text *out, const struct tb_money *m)
{
    const struct tb_money_sum *w = &m->whole;

    if (!*m->money) {
        if (m->totals > 1)
            tb_text_say(out,
                        "Nothing is converted: tenterbook set money EUR, and set rate:USD 0.92, say into "
                        "what and at what rate.\n");
        return;
    }
    if (!m->rates)
        return;
    if (m->unrated < m->rates || w->disputes || w->awaited > 0)
        tb_text_say(out, "In %s: claimed %.2f, agreed %.2f, recovered %.2f, awaited %.2f\n", m->money,
                    tb_cents(w->claimed), tb_cents(w->agreed), tb_cents(w->recovered), tb_cents(w->awaited));
    for (size_t i = 0; i < m->rates; i++)
        rate_words(out, &m->rate[i], m->money);
}

#define SUM(member) TB_JSON_AS(struct tb_money_sum, member, #member)
TB_JSON_MEMBERS(row_members, SUM(supplier), SUM(month), SUM(currency), SUM(claimed), SUM(agreed),
                SUM(recovered), SUM(awaited), SUM(disputes));
TB_JSON_MEMBERS(sum_members, SUM(currency), SUM(claimed), SUM(agreed), SUM(recovered), SUM(awaited),
                SUM(disputes));
#define RATE(member, key) TB_JSON_AS(struct tb_money_rate, member, key)
TB_JSON_MEMBERS(rate_members, RATE(currency, "currency"), RATE(rate, "rate"),
                TB_JSON_SOME_AS(struct tb_money_rate, day, "set_on"), RATE(first, "first_month"),
                RATE(last, "last_month"));

json_t *tb_json_money(const struct tb_money *m)
{
    json_t *j = json_object();

    tb_json_put(j, "rows", tb_json_all(row_members, m->row, m->rows));
    tb_json_put(j, "totals", tb_json_all(sum_members, m->total, m->totals));
    tb_json_put(j, "converted", *m->money ? tb_json_of(sum_members, &m->whole) : json_null());
    tb_json_put(j, "rates", tb_json_all(rate_members, m->rate, m->rates));
    tb_json_put(j, "without_rate", json_integer((json_int_t)m->unrated));
    return j;
}
