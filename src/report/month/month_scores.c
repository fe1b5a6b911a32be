/* month_scores.c - a card for each supplier: its months one below the other, on a page of its own when printed. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CARD_ALONE 6       /* months from which a card has a page of its own */
#define LINES_OF_A_PAGE 30 /* of shorter cards, which share pages and are not torn */

struct score {
    char *supplier;
    char month[8];
    struct tally t;
    struct amount amount;
};

static const struct tb_column columns[] = {
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 30, true, false, TB_FROM_HAND },
    { "month", N_("Month of arrival"), NULL, TB_COL_TEXT, 0, 12, false, false, TB_FROM_HAND },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 8, false, false, TB_FROM_HAND },
    { "looked_at", N_("Lots looked at"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "conforming", N_("Conform"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "nothing_against", N_("No finding against"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "not_conforming", N_("Do not conform"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
    { "open", N_("Open"), NULL, TB_COL_COUNT, 0, 8, false, false, TB_FROM_HAND },
    { "share", N_("Share that does not conform"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 12, false, false, TB_FROM_HAND },
    { "held_m", N_("Held now"), "m", TB_COL_NUMBER, 1, 12, false, false, TB_FROM_HAND },
    { "note", N_("Remark"), NULL, TB_COL_TEXT, 0, 20, false, false, TB_FROM_HAND },
    { "weight_kg", N_("Weight where the length is not known"), "kg", TB_COL_NUMBER, 2, 12, false, false,
      TB_FROM_HAND },
    { "held_kg", N_("Of that held now"), "kg", TB_COL_NUMBER, 2, 12, false, false, TB_FROM_HAND },
};

void tb_month_score(struct month *m, const char *supplier, const char *arrived, const struct tb_concluded *c,
                    const struct amount *amount)
{
    size_t i = m->scores;

    /* the lots of one supplier arrive together */
    while (i > 0 && (strncmp(m->score[i - 1].month, arrived, 7) != 0 ||
                     strcmp(m->score[i - 1].supplier, supplier) != 0))
        i--;
    if (i == 0) {
        TB_PUSH_ROOM(m->score, m->scores, m->score_cap);
        m->score[m->scores] = (struct score){ .supplier = tb_strdup(supplier) };
        memcpy(m->score[m->scores].month, arrived, 7);
        i = ++m->scores;
    }
    tb_month_amount_add(&m->score[i - 1].amount, amount);
    tb_month_count(&m->score[i - 1].t, c);
}

void tb_month_scores_free(struct month *m)
{
    for (size_t i = 0; i < m->scores; i++)
        free(m->score[i].supplier);
    free(m->score);
}

static int by_supplier(const void *a, const void *b)
{
    const struct score *x = a, *y = b;
    int order = strcmp(x->supplier, y->supplier);

    return order ? order : strcmp(x->month, y->month);
}

static tb_rc put(struct month *m, const char *supplier, const struct trend *d, const struct score *s,
                 struct tb_err *err)
{
    static const struct score none;
    struct tb_tab *t = m->tab[TAB_SCORES];
    struct rate r;
    tb_rc rc;

    if (!s)
        s = &none;
    if ((rc = tb_month_rate(&r, &s->t, err)) != TB_OK)
        return rc;
    tb_put_text(t, supplier);
    tb_put_text(t, d->month);
    tb_put_count(t, s->t.lots);
    tb_put_count(t, r.judged);
    tb_put_count(t, s->t.conforms);
    tb_put_count(t, s->t.nothing_against);
    tb_put_count(t, s->t.does_not);
    tb_put_count(t, s->t.open);
    tb_put_share(t, r.share);
    tb_put_share(t, r.low);
    tb_put_share(t, r.high);
    tb_put_number(t, s->amount.metres);
    tb_put_number(t, s->amount.held_metres);
    tb_put_text(t, s->t.lots ? "" : _("no delivery arrived"));
    tb_put_number(t, s->amount.kg);
    tb_put_number(t, s->amount.held_kg);
    return tb_tab_row(t, err);
}

/* A card of one or two lines would be as many empty pages. */
static size_t cards_of_a_page(const struct month *m)
{
    return m->trends >= CARD_ALONE || !m->trends ? 1 : LINES_OF_A_PAGE / m->trends;
}

/* Every month has its place on every card, so that cards can be laid beside each other. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    size_t at = 0, cards = 0;
    tb_rc rc = TB_OK;

    if (m->scores)
        qsort(m->score, m->scores, sizeof *m->score, by_supplier);
    while (at < m->scores && rc == TB_OK) {
        const char *supplier = m->score[at].supplier;

        if (cards && cards % cards_of_a_page(m) == 0)
            tb_tab_break(m->tab[TAB_SCORES]);
        cards++;
        for (size_t i = 0; i < m->trends && rc == TB_OK; i++) {
            bool there = at < m->scores && strcmp(m->score[at].supplier, supplier) == 0 &&
                         strcmp(m->score[at].month, m->trend[i].month) == 0;

            rc = put(m, supplier, &m->trend[i], there ? &m->score[at] : NULL, err);
            at += there;
        }
    }
    return rc;
}

const struct sheet tb_month_scores = {
    .key = "scorecards",
    .tab = N_("Scorecards"),
    .title = N_("Suppliers, month by month"),
    .note = N_("Each supplier with every month of the sheet Months, on a page of its own where there are "
               "six or more: figures of the book. Few lots prove little: see the interval."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = TB_COUNT(columns) - 2,
    .last = true,
    .fill = fill,
};
