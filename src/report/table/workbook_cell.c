/* workbook_cell.c - the place and the look of the next cell; each goes to the worksheet and to its twin. */
#include "report/table/workbook_impl.h"

#include <assert.h>

/* The column the next cell belongs to. */
struct column *tb_cell_next(struct tb_tab *s, enum tb_column_type type)
{
    struct column *c;

    assert(!s->ended && s->at < s->plan.columns);
    c = &s->col[s->at];
    assert(type == TB_COL_ANY || c->plan.type == TB_COL_ANY || c->plan.type == type);
    (void)type;
    if (s->at == 0)
        tb_tab_row_begin(s);
    return c;
}

bool tb_cell_first(const struct tb_tab *s)
{
    return s->at == 0 && s->plan.layout == TB_LAYOUT_LIST;
}

/*
 * In lists a column has one look for each tone, kept with the column: asking for it costs a good part of a long list.
 */
lxw_format *tb_cell_look(struct tb_tab *s, struct column *c, enum tb_column_type type)
{
    struct look l = { .role = LOOK_BODY, .type = type, .tone = s->tone, .wrap = c->plan.wrap };
    lxw_format **kept = &c->body[s->tone];

    l.decimals = s->decimals == DECIMALS_OF_COLUMN ? c->plan.decimals : s->decimals;
    l.indent = s->at > 0;
    if (s->summing) {
        l.role = LOOK_TOTAL;
        return tb_look(s->w, &l);
    }
    if (c->plan.type == TB_COL_ANY)
        return tb_look(s->w, &l);
    if (!*kept)
        *kept = tb_look(s->w, &l);
    return *kept;
}

void tb_cell_done(struct tb_tab *s)
{
    s->at++;
    s->tone = TB_TONE_PLAIN;
    s->decimals = DECIMALS_OF_COLUMN;
}

void tb_put_tone(struct tb_tab *s, enum tb_tone tone)
{
    s->tone = tone;
}

void tb_put_decimals(struct tb_tab *s, int decimals)
{
    s->decimals = decimals;
}

void tb_put_none(struct tb_tab *s)
{
    struct column *c = tb_cell_next(s, TB_COL_ANY);

    tb_tab_take(s, worksheet_write_blank(tb_tab_here(s)->ws, s->row, (lxw_col_t)s->at,
                                         tb_cell_look(s, c, c->plan.type)));
    if (s->csv)
        tb_csv_plain(s->csv, tb_cell_first(s), "");
    tb_cell_done(s);
}
