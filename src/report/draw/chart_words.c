/* chart_words.c - a chart in words: every value it shows, for those who cannot see it. */
#include "report/draw/chart_impl.h"

#include <math.h>
#include <string.h>

/* What is not known is a dash, never 0. */
static void value_words(struct tb_text *out, double v, bool share)
{
    if (!isfinite(v))
        tb_text_add(out, "-");
    else if (share)
        tb_text_addf(out, "%.1f %%", v * 100);
    else
        tb_text_addf(out, "%.6g", v);
}

/* The label where there is one, in one line, else the place on the axis. */
static void point_words(struct tb_text *out, const struct tb_chart *k, const struct tb_chart_point *p)
{
    tb_text_add(out, " ");
    for (const char *l = p->label ? p->label : ""; *l; l++)
        tb_text_addc(out, *l == '\n' ? ' ' : *l);
    if (!p->label)
        value_words(out, p->x, k->x_share);
    tb_text_add(out, ": ");
    value_words(out, p->y, k->y_share);
    if (isfinite(p->lo) && isfinite(p->hi)) {
        tb_text_add(out, " (");
        value_words(out, p->lo, k->y_share);
        tb_text_add(out, " .. ");
        value_words(out, p->hi, k->y_share);
        tb_text_add(out, ")");
    }
    if (p->note)
        tb_text_addf(out, ", %s", p->note);
    if (p->aim > 0) {
        tb_text_add(out, ", aim ");
        value_words(out, p->aim, k->y_share);
    }
    tb_text_add(out, ";");
}

/* Empty cells of a matrix, and those of nothing, are left out: a list of all the combinations that did not occur hides those that did. */
void tb_chart_words(struct tb_text *out, const struct tb_chart *k)
{
    bool empty = k->empty && !tb_chart_valued(k);
    const char *note = empty ? k->empty : k->note;

    tb_text_addf(out, "%s.", k->title ? k->title : "");
    if (note && *note)
        tb_text_addf(out, note[strlen(note) - 1] == '.' ? " %s" : " %s.", note);
    if (empty)
        return;
    for (size_t i = 0; i < k->limits; i++) {
        tb_text_addf(out, " %s: ", k->limit[i].label ? k->limit[i].label : "-");
        value_words(out, k->limit[i].at, k->y_share);
        tb_text_add(out, ";");
    }
    for (size_t s = 0; s < k->n; s++) {
        if (k->series[s].name)
            tb_text_addf(out, " %s:", k->series[s].name);
        for (size_t i = 0; i < k->series[s].n; i++)
            point_words(out, k, &k->series[s].point[i]);
    }
    for (size_t r = 0; r < k->rows && k->kind == TB_CHART_MATRIX; r++)
        for (size_t i = 0; i < k->columns; i++)
            if (isfinite(k->cell[r * k->columns + i]) && k->cell[r * k->columns + i] > 0)
                tb_text_addf(out, " %s / %s: %.6g;", k->row[r], k->column[i], k->cell[r * k->columns + i]);
}
