/* month_draw.c - the charts of the page, as the chart module draws them: the same figures as in the workbook. */
#include "report/month/month_draw.h"

#include "tenterbook/chart.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PAGE_RANKED 8 /* suppliers there is room for */

/* Without anything to draw a sentence, and no axes that mean nothing. The same in words, for those who cannot see it. */
static void draw(cairo_t *c, struct tb_chart *k, const double box[4], struct tb_text *told)
{
    k->empty = _("Nothing to draw yet.");
    tb_chart_draw(c, k, box[0], box[1], box[2], box[3]);
    tb_chart_words(told, k);
}

/* Beside every share the counts it comes from: 100 % of 1 is not 100 % of 20. */
static char *count_words(int64_t k, int64_t n)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, _("%lld of %lld"), (long long)k, (long long)n);
    return tb_text_take(&t);
}

static void free_notes(const struct tb_chart_point *p, size_t n)
{
    for (size_t i = 0; i < n; i++)
        free((char *)p[i].note);
}

/* The year stands under the first month and each January: thirteen places on half a page have room for no more. */
static char *month_words(const char *month, bool with_year)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, with_year ? "%d\n\xE2\x80\x99%.2s" : "%d", atoi(month + 5), month + 2);
    return tb_text_take(&t);
}

/* The last thirteen months, however long the span: more would not be read on half a page. */
void tb_month_draw_trend(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told)
{
    size_t from = m->trends > MONTH_TREND ? m->trends - MONTH_TREND : 0, n = 0;
    struct tb_chart_point p[MONTH_TREND] = { { 0 } };
    struct tb_chart_series s = { .point = p };
    bool aimed = false;
    struct tb_chart k = {
        .kind = TB_CHART_BARS, .title = _("Not conforming, by month"), .y_share = true, .series = &s, .n = 1
    };

    for (size_t i = from; i < m->trends; i++, n++) {
        const struct trend *d = &m->trend[i];
        struct tb_text count = { 0 };

        tb_text_addf(&count, d->t.lots ? "%lld/%lld" : "\xE2\x80\x93", (long long)d->t.does_not,
                     (long long)d->rate.judged);
        p[n] = (struct tb_chart_point){ month_words(d->month, n == 0 || strcmp(d->month + 5, "01") == 0),
                                        0,
                                        d->rate.share,
                                        d->rate.low,
                                        d->rate.high,
                                        tb_text_take(&count),
                                        d->aim };
        aimed = aimed || d->aim > 0;
    }
    s.n = n;
    k.note = aimed ? _("share of lots looked at, and of how many; upright line: exact 95 % interval; "
                       "\xE2\x80\x93: no delivery; broken line: the target of the site")
                   : _("share of lots looked at, and of how many; upright line: exact 95 % interval; "
                       "\xE2\x80\x93: no delivery");
    draw(c, &k, box, told);
    free_notes(p, n);
    for (size_t i = 0; i < n; i++)
        free((char *)p[i].label);
}

/* Suppliers with a judged lot only, as many as there is room for; the list has all of them. */
void tb_month_draw_ranks(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told)
{
    struct tb_chart_point p[PAGE_RANKED] = { { 0 } };
    struct tb_chart_series s = { .point = p };
    struct tb_text note = { 0 };
    size_t all = tb_month_ranked(m);
    struct tb_chart k = { .kind = TB_CHART_RANK,
                          .title = _("Not conforming, by supplier"),
                          .y_share = true,
                          .series = &s,
                          .n = 1 };

    if (all > PAGE_RANKED)
        tb_text_addf(&note,
                     _("bar: share; dot: at least this (95 %%), the order goes by it; the first %d of %zu"),
                     PAGE_RANKED, all);
    else
        tb_text_addf(&note, _("bar: share; dot: at least this (95 %%), the order goes by it"));
    k.note = tb_text_str(&note);

    for (size_t i = 0; i < all && s.n < PAGE_RANKED; i++) {
        const struct ranked *r = &m->rank[i];

        p[s.n++] = (struct tb_chart_point){
            r->name, 0, r->rate.share, r->rate.low, r->rate.high, count_words(r->t.does_not, r->rate.judged),
            0
        };
    }
    draw(c, &k, box, told);
    free_notes(p, s.n);
    tb_text_free(&note);
}

void tb_month_draw_matrix(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told)
{
    struct tb_chart k = { .kind = TB_CHART_MATRIX,
                          .title = _("What was found instead of what was declared"),
                          .note =
                              _("lots looked at, by kinds of fibre; in a heavy frame: nothing against it"),
                          .x_name = _("found"),
                          .y_name = _("declared"),
                          .row = (const char *const *)m->declared,
                          .column = (const char *const *)m->seen,
                          .rows = m->rows,
                          .columns = m->columns,
                          .cell = m->cell,
                          .same_framed = true };

    draw(c, &k, box, told);
}

/* What is held, as a share, with the amount below: the amounts of different units cannot share an axis. */
void tb_month_draw_stakes(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told)
{
    struct tb_chart_point p[TB_MONTH_MONEY + 1] = { { 0 } };
    struct tb_chart_series s = { .point = p };
    struct tb_chart k = { .kind = TB_CHART_BARS,
                          .title = _("Held now, of what came in"),
                          .note = _("share of metres, of value by currency; below: how much"),
                          .y_share = true,
                          .y_most = 1,
                          .series = &s,
                          .n = 1 };
    char label[TB_MONTH_MONEY + 1][48], note[TB_MONTH_MONEY + 1][48];

    for (size_t i = 0; i < m->n_stake && i < TB_COUNT(p); i++) {
        const struct stake *a = &m->stake[i];

        (void)snprintf(label[i], sizeof label[i], "%s", a->unit);
        (void)snprintf(note[i], sizeof note[i], "%.0f", a->held);
        p[s.n++] =
            (struct tb_chart_point){ label[i], 0, a->all > 0 ? a->held / a->all : NAN, NAN, NAN, note[i], 0 };
    }
    draw(c, &k, box, told);
}
