/* month_stakes.c - what came in and what of it is held: length, and value in each currency. */
#include "report/month/month_impl.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct tb_column columns[] = {
    { "measure", N_("Measure"), NULL, TB_COL_TEXT, 0, 16, false, false, TB_FROM_HAND },
    { "unit", N_("Unit"), NULL, TB_COL_TEXT, 0, 10, false, false, TB_FROM_HAND },
    { "came_in", N_("Came in"), NULL, TB_COL_NUMBER, 2, 18, false, false, TB_FROM_HAND },
    { "held", N_("Held now"), NULL, TB_COL_NUMBER, 2, 18, false, false, TB_FROM_HAND },
    { "share", N_("Share held"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "words", N_("In words"), NULL, TB_COL_TEXT, 0, 44, false, false, TB_FROM_HAND },
};

/* The words are made here, once for the chart and the page. */
static void add_stake(struct month *m, const char *unit, bool money, double all, double held)
{
    struct stake *s = &m->stake[m->n_stake++];
    const char *kind = tb_length_kind(m->sums.bolts, m->sums.derived, m->sums.unknown);

    *s = (struct stake){ .money = money, .all = all, .held = held };
    (void)snprintf(s->unit, sizeof s->unit, "%s", unit);
    if (!money && *kind)
        (void)snprintf(s->words, sizeof s->words, _("length: %.0f of %.0f %s (%s)"), held, all, unit, kind);
    else
        (void)snprintf(s->words, sizeof s->words,
                       money ? _("value: %.0f of %.0f %s") : _("length: %.0f of %.0f %s"), held, all, unit);
}

/* Three capital letters, as ISO 4217 has them. */
static bool is_currency(const char *s)
{
    return strlen(s) == 3 && strspn(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3;
}

/* Over the list of lots: of one currency, and of what is held only. */
static void put_sum(struct month *m, const struct stake *s, bool held)
{
    struct tb_tab *t = m->tab[TAB_STAKES];
    const struct tb_where where = { "currency", s->unit };
    double value = held ? s->held : s->all;

    if (s->money && !is_currency(s->unit))
        tb_put_number(t, value); /* a word of the supplier's: never into a formula */
    else if (s->money)
        tb_month_put_over(t, m, held ? "held_value" : "value", &where, 1, value, TB_COL_NUMBER);
    else
        tb_month_put_over(t, m, held ? "held_m" : "length_m", NULL, 0, value, TB_COL_NUMBER);
}

static tb_rc put(struct month *m, const struct stake *s, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_STAKES];

    tb_put_text(t, s->money ? _("Value") : _("Length"));
    tb_put_text(t, s->unit);
    put_sum(m, s, false);
    put_sum(m, s, true);
    tb_month_put_share(t, "held", "came_in", s->all > 0 ? s->held / s->all : NAN);
    tb_put_text(t, s->words);
    return tb_tab_row(t, err);
}

/* Length first, since every lot has one; value for each currency that occurs. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (m->sums.lots)
        add_stake(m, "m", false, m->sums.metres, m->sums.held.metres);
    for (size_t i = 0; i < m->sums.monies; i++)
        add_stake(m, m->sums.money[i].currency, true, m->sums.money[i].all, m->sums.money[i].held);
    for (size_t i = 0; i < m->n_stake && rc == TB_OK; i++)
        rc = put(m, &m->stake[i], err);
    return rc;
}

const struct sheet tb_month_stakes = {
    .key = "stakes",
    .tab = N_("At stake"),
    .title = N_("What came in and what is held"),
    .note = N_("Length as declared; value is price times quantity as invoiced, of lots with a price, every "
               "currency by itself. A single bolt that is held counts by itself."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .fill = fill,
};
