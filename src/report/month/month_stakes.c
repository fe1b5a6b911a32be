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
static void add_stake(struct month *m, const struct stake *of)
{
    struct stake *s = &m->stake[m->n_stake++];
    const char *kind = tb_length_kind(m->sums.bolts, m->sums.derived, m->sums.unknown);
    bool length = strcmp(of->unit, "m") == 0;

    *s = *of;
    if (length && *kind)
        (void)snprintf(s->words, sizeof s->words, _("length: %.0f of %.0f %s (%s)"), s->held, s->all, s->unit,
                       kind);
    else
        (void)snprintf(s->words, sizeof s->words,
                       s->money ? _("value: %.0f of %.0f %s")
                       : length ? _("length: %.0f of %.0f %s")
                                : _("besides, only weighed: %.1f of %.1f %s"),
                       s->held, s->all, s->unit);
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
    else
        tb_month_put_over(t, m, held ? s->held_column : s->all_column, &where, s->money, value,
                          TB_COL_NUMBER);
}

static tb_rc put(struct month *m, const struct stake *s, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_STAKES];

    tb_put_text(t, s->money ? _("Value") : strcmp(s->unit, "m") == 0 ? _("Length") : _("Weight"));
    tb_put_text(t, s->unit);
    put_sum(m, s, false);
    put_sum(m, s, true);
    tb_month_put_share(t, "held", "came_in", s->all > 0 ? s->held / s->all : NAN);
    tb_put_text(t, s->words);
    return tb_tab_row(t, err);
}

/* Length first, then what was only weighed; value for each currency that occurs. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    const struct tb_month_sums *s = &m->sums;
    tb_rc rc = TB_OK;

    if (s->metres > 0 || (s->lots && !(s->kg > 0)))
        add_stake(m, &(struct stake){ .unit = "m",
                                      .all_column = "length_m",
                                      .held_column = "held_m",
                                      .all = s->metres,
                                      .held = s->held.metres });
    if (s->kg > 0)
        add_stake(m, &(struct stake){ .unit = "kg",
                                      .all_column = "weight_kg",
                                      .held_column = "held_kg",
                                      .all = s->kg,
                                      .held = s->held.kg });
    for (size_t i = 0; i < s->monies; i++) {
        struct stake one = { .all_column = "value",
                             .held_column = "held_value",
                             .money = true,
                             .all = s->money[i].all,
                             .held = s->money[i].held };

        (void)snprintf(one.unit, sizeof one.unit, "%s", s->money[i].currency);
        add_stake(m, &one);
    }
    for (size_t i = 0; i < m->n_stake && rc == TB_OK; i++)
        rc = put(m, &m->stake[i], err);
    return rc;
}

const struct sheet tb_month_stakes = {
    .key = "stakes",
    .tab = N_("At stake"),
    .title = N_("What came in and what is held"),
    .note = N_(
        "Length as declared, of bolts whose length is known; bolts that were only weighed are in Weight, and "
        "in no length. Value is price times quantity as invoiced, of lots with a price, every "
        "currency by itself. A single bolt that is held counts by itself."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .fill = fill,
};
