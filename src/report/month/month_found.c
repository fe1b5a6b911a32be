/* month_found.c - found instead of declared: the matrix of kinds as a list. */
#include "report/month/month_impl.h"

#include <stdio.h>
#include <string.h>

#define FOUND_BESIDE 4 /* columns besides those of the kinds */

/* A kind as a key of the twin: "cellulose + polyester" is found_cellulose_polyester. */
static char *key_of(const char *word)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, "found_");
    for (const char *c = word; *c; c++)
        if (*c == ' ' || *c == '+') {
            if (t.s[t.n - 1] != '_')
                tb_text_addc(&t, '_');
        } else
            tb_text_addc(&t, *c);
    return tb_text_take(&t);
}

/* The columns are the kinds that were found, so they differ from month to month; the twin names them by key. */
static struct tb_column *found_columns(const struct month *m)
{
    struct tb_column *c = tb_array(struct tb_column, m->columns + FOUND_BESIDE);

    c[0] = (struct tb_column){
        .key = "declared_kind", .heading = _("Kinds declared"), .type = TB_COL_TEXT, .width = 26, .wrap = true
    };
    for (size_t i = 0; i < m->columns; i++)
        c[i + 1] = (struct tb_column){
            .key = key_of(m->seen[i]), .heading = m->seen[i], .type = TB_COL_COUNT, .width = 13, .total = true
        };
    c[m->columns + 1] = (struct tb_column){
        .key = "looked_at", .heading = _("Lots looked at"), .type = TB_COL_COUNT, .width = 9, .total = true
    };
    c[m->columns + 2] = (struct tb_column){
        .key = "as_declared", .heading = _("As declared"), .type = TB_COL_COUNT, .width = 9, .total = true
    };
    c[m->columns + 3] = (struct tb_column){
        .key = "otherwise", .heading = _("Otherwise"), .type = TB_COL_COUNT, .width = 9, .total = true
    };
    return c;
}

/* Lots of a row and a column; the row or column of the rest is what the others leave, a plain figure. */
static void put_cell(struct month *m, size_t r, size_t c)
{
    struct tb_tab *t = m->tab[TAB_FOUND];
    double v = m->cell[r * m->columns + c];
    char row[32] = "=", cell[24];
    struct tb_where where[2] = { { "declared_kind", row }, { "found_kind", m->seen[c] } };
    bool same = strcmp(m->declared[r], m->seen[c]) == 0, undecided = c + 1 == m->columns;

    tb_tab_cell(cell, t, "declared_kind");
    (void)snprintf(row, sizeof row, "=%s", cell);
    tb_put_tone(t, v == 0 ? TB_TONE_QUIET : same ? TB_TONE_AGREE : undecided ? TB_TONE_DOUBT : TB_TONE_ALARM);
    if (r == m->rest_row || c == m->rest_column)
        tb_put_count(t, (int64_t)v);
    else
        tb_month_put_over(t, m, NULL, where, 2, v, TB_COL_COUNT);
}

/* For the chart, which has room for few hatchings: as declared, otherwise, and undecided, which has its column. */
static void put_beside(struct month *m, size_t r, double sum)
{
    struct tb_tab *t = m->tab[TAB_FOUND];
    double undecided = m->cell[r * m->columns + m->columns - 1], same = 0;
    char all[24], cell[24], open[24];
    size_t c = 0;

    while (c < m->columns && strcmp(m->declared[r], m->seen[c]) != 0)
        c++;
    if (c < m->columns) {
        same = m->cell[r * m->columns + c];
        tb_tab_cell(cell, t, m->found_column[c + 1].key);
        tb_put_formula(t, same, TB_COL_COUNT, "=SUM(%s)", cell);
    } else {
        tb_put_count(t, 0);
    }
    tb_tab_cell(all, t, "looked_at");
    tb_tab_cell(cell, t, "as_declared");
    tb_tab_cell(open, t, m->found_column[m->columns].key);
    tb_put_formula(t, sum - same - undecided, TB_COL_COUNT, "=SUM(%s,-%s,-%s)", all, cell, open);
}

/* The sum of a row is a formula over the row, whatever stands in it. */
static tb_rc put(struct month *m, size_t r, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_FOUND];
    double sum = 0;

    tb_put_text(t, m->declared[r]);
    for (size_t c = 0; c < m->columns; c++) {
        put_cell(m, r, c);
        sum += m->cell[r * m->columns + c];
    }
    tb_month_put_sum(t, m->found_column[1].key, m->found_column[m->columns].key, sum);
    put_beside(m, r, sum);
    return tb_tab_row(t, err);
}

/* The columns live as long as the sheet: the library is handed pointers into them. */
static void prepare(struct month *m, struct tb_tab_plan *plan)
{
    tb_month_matrix(m);
    plan->column = m->found_column = found_columns(m);
    plan->columns = m->columns + FOUND_BESIDE;
    plan->printed = m->columns + 2;
    if (!m->columns)
        plan->note = _("No lot was looked at.");
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t r = 0; r < m->rows && m->columns && rc == TB_OK; r++)
        rc = put(m, r, err);
    return rc;
}

const struct sheet tb_month_found = {
    .key = "found",
    .tab = N_("Found"),
    .title = N_("Found instead of declared"),
    .note = N_("Lots looked at: kinds of fibre declared (rows) and found (columns), of 10 % or more. What a "
               "laboratory found "
               "counts; else, where a lot contradicts, the likeliest composition, unless a test without a "
               "flame says otherwise; "
               "kinds, not shares."),
    .prepare = prepare,
    .fill = fill,
};
