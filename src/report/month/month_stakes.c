/* month_stakes.c - what came in and what of it is held: length, and value in each currency. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct tb_column stake_columns[] = {
    { "measure", N_("Measure"), NULL, TB_COL_TEXT, 0, 16, false, false },
    { "unit", N_("Unit"), NULL, TB_COL_TEXT, 0, 10, false, false },
    { "came_in", N_("Came in"), NULL, TB_COL_NUMBER, 2, 18, false, false },
    { "held", N_("Held now"), NULL, TB_COL_NUMBER, 2, 18, false, false },
    { "share", N_("Share held"), NULL, TB_COL_SHARE, 1, 12, false, false },
    { "words", N_("In words"), NULL, TB_COL_TEXT, 0, 44, false, false },
};

/* The words are made here, once for the chart and the page. */
static void add_stake(struct month *m, const char *unit, bool money, double all, double held)
{
    struct stake *s = &m->stake[m->n_stake++];

    *s = (struct stake){ .money = money, .all = all, .held = held };
    (void)snprintf(s->unit, sizeof s->unit, "%s", unit);
    (void)snprintf(s->words, sizeof s->words,
                   money ? _("value: %.0f of %.0f %s") : _("length: %.0f of %.0f %s"), held, all, unit);
}

/* Three capital letters, as ISO 4217 has them. */
static bool is_currency(const char *s)
{
    return strlen(s) == 3 && strspn(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3;
}

/* Over the list of lots: of one currency, and of what is held only. */
static void put_stake_sum(struct month *m, const struct stake *s, bool held)
{
    struct tb_where where[2];
    size_t n = 0;
    double value = held ? s->held : s->all;

    if (s->money)
        where[n++] = (struct tb_where){ "currency", s->unit };
    if (held)
        where[n++] = (struct tb_where){ "standing", tb_standing_key(TB_HELD) };
    if (s->money && !is_currency(s->unit))
        tb_put_number(m->stakes, value); /* a word of the supplier's: never into a formula */
    else if (n)
        tb_month_put_over(m->stakes, m, s->money ? "value" : "length_m", where, n, value, TB_COL_NUMBER);
    else {
        struct tb_text f = { 0 };

        tb_tab_formula(&f, m->lots, "SUM", "length_m", NULL);
        tb_put_formula(m->stakes, tb_text_str(&f), value, TB_COL_NUMBER);
        tb_text_free(&f);
    }
}

static tb_rc put_stake(struct month *m, const struct stake *s, struct tb_err *err)
{
    struct tb_tab *t = m->stakes;
    struct tb_text f = { 0 };
    char all[24], held[24];

    tb_put_text(t, s->money ? _("Value") : _("Length"));
    tb_put_text(t, s->unit);
    put_stake_sum(m, s, false);
    put_stake_sum(m, s, true);
    tb_tab_cell(all, t, "came_in");
    tb_tab_cell(held, t, "held");
    tb_text_addf(&f, "=IF(%s=0,\"\",%s/%s)", all, held, all);
    tb_put_formula(t, tb_text_str(&f), s->all > 0 ? s->held / s->all : NAN, TB_COL_SHARE);
    tb_text_free(&f);
    tb_put_text(t, s->words);
    return tb_tab_row(t, err);
}

/* Length first, since every lot has one; value for each currency that occurs. */
tb_rc tb_month_stakes(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "stakes",
        .tab = _("At stake"),
        .note = _("Length as declared; value is price a metre times length, of lots with a price, every "
                  "currency by itself."),
        .column = stake_columns,
        .columns = TB_COUNT(stake_columns),
    };
    tb_rc rc = tb_month_list(&m->stakes, m, plan, _("What came in and what is held"), err);

    if (m->sums.lots)
        add_stake(m, "m", false, m->sums.metres, m->sums.held.metres);
    for (size_t i = 0; i < m->sums.monies; i++)
        add_stake(m, m->sums.money[i].currency, true, m->sums.money[i].all, m->sums.money[i].held);
    for (size_t i = 0; i < m->n_stake && rc == TB_OK; i++)
        rc = put_stake(m, &m->stake[i], err);
    return rc == TB_OK ? tb_tab_end(m->stakes, err) : rc;
}
