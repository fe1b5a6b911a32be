/* workbook_formula.c - formulas over a list, over all the worksheets it goes on on. */
#include "report/table/workbook_impl.h"

#include <assert.h>
#include <string.h>

lxw_col_t tb_tab_column(const struct tb_tab *s, const char *key)
{
    lxw_col_t c = 0;

    while (c < s->plan.columns && strcmp(s->col[c].plan.key, key) != 0)
        c++;
    assert(c < s->plan.columns);
    return c;
}

/* Absolute, with the name of the worksheet in quotes: names may hold spaces. */
static void add_range(struct tb_text *out, const struct piece *p, lxw_col_t c)
{
    char from[LXW_MAX_CELL_NAME_LENGTH], to[LXW_MAX_CELL_NAME_LENGTH];

    lxw_rowcol_to_cell_abs(from, p->first, c, LXW_TRUE, LXW_TRUE);
    lxw_rowcol_to_cell_abs(to, p->last, c, LXW_TRUE, LXW_TRUE);
    tb_text_addf(out, "'%s'!%s:%s", p->tab, from, to);
}

/*
 * A list on several worksheets gives a sum of several functions: a reference over worksheets is not known to all programs.
 * A condition without a column is about the one before it.
 */
static void add_calls(struct tb_text *out, const struct tb_tab *s, const char *function, const char *column,
                      const struct tb_where *where, size_t n)
{
    size_t parts = 0;

    for (size_t i = 0; i < s->pieces; i++) {
        const struct piece *p = &s->piece[i];

        if (p->last < p->first)
            continue;
        tb_text_addf(out, "%s%s(", parts++ ? "+" : "=", function);
        if (column)
            add_range(out, p, tb_tab_column(s, column));
        for (size_t k = 0; k < n; k++) {
            bool cell = where[k].test[0] == '=';

            if (where[k].column) {
                tb_text_add(out, k || column ? "," : "");
                add_range(out, p, tb_tab_column(s, where[k].column));
            }
            tb_text_addf(out, cell ? ",%s" : ",\"%s\"", where[k].test + cell);
        }
        tb_text_addc(out, ')');
    }
    if (!parts)
        tb_text_add(out, "=0");
}

void tb_tab_formula(struct tb_text *out, const struct tb_tab *s, const char *function, const char *column,
                    const char *test)
{
    add_calls(out, s, function, column, &(struct tb_where){ NULL, test }, test ? 1 : 0);
}

void tb_tab_formula_where(struct tb_text *out, const struct tb_tab *s, const char *column,
                          const struct tb_where *where, size_t n)
{
    add_calls(out, s, column ? "SUMIFS" : "COUNTIFS", column, where, n);
}

/* The column is fixed and the row is not: the formula can be copied down. */
void tb_tab_cell(char out[24], const struct tb_tab *s, const char *column)
{
    char name[LXW_MAX_CELL_NAME_LENGTH];

    lxw_rowcol_to_cell_abs(name, s->row, tb_tab_column(s, column), LXW_FALSE, LXW_TRUE);
    (void)snprintf(out, 24, "%s", name);
}
