/* legend_row.c - what a legend tells of a bolt is put behind the cells of its row, or asked about where it does not tell it. */
#include "intake/legend.h"

#include "base/say.h"
#include "intake/rows.h"
#include "tenterbook/utf8.h"

#include <string.h>

static bool is_bolt(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_table_layout *l = r->now;
    const struct tb_source_column *c = l->of[TB_FIELD_BOLT];

    if (!tb_cell_has_figure(tb_cell_at(row, l->of[TB_FIELD_LENGTH])) || (c && !tb_cell_filled(row, c)) ||
        tb_row_says_total(r, row) || tb_said_total(r, row))
        return false;
    return !c || tb_number_like(&l->habit, tb_cell_at(row, c)->text) > TB_NUMBER_STRANGE;
}

/* The names of this row, and those that run down to it. True: one of them stands in the row. */
static bool take_keys(struct tb_list_reader *r, const struct tb_row *row)
{
    static const enum tb_field field[] = { TB_FIELD_ARTICLE, TB_FIELD_DESIGN, TB_FIELD_COLOUR,
                                           TB_FIELD_SHADE_GROUP, TB_FIELD_LOT };
    struct tb_legends *all = r->legends;
    bool any = false;

    if (all->of != r->now || r->opts->whole_rows)
        memset(all->key, 0, sizeof all->key);
    all->of = r->now;
    for (size_t i = 0; i < TB_COUNT(field); i++) {
        const struct tb_source_column *c = r->now->of[field[i]];
        const char *text = c && !c->below && tb_cell_filled(row, c) ? tb_cell_at(row, c)->text : NULL;

        if (!text || tb_is_ditto(text))
            continue;
        text = tb_store_text(r->list->store, text);
        if (i == 0 && all->key[TB_FIELD_ARTICLE] && all->key[TB_FIELD_ARTICLE] != text)
            memset(all->key, 0, sizeof all->key);
        all->key[field[i]] = text;
        any = true;
    }
    return any;
}

/* Does row i of the legend name the goods of the bolt? */
static bool names(const struct tb_list_reader *r, const struct tb_legend *g, size_t i)
{
    for (size_t k = 0; k < g->columns; k++) {
        enum tb_field f = tb_legend_key(g, k, r->now);
        const char *text = tb_legend_text(g, i, k);

        if (f && (!text || !r->legends->key[f] || !tb_fold_same(text, r->legends->key[f])))
            return false;
    }
    return true;
}

/* The one thing that the legend tells of the bolt in its column k; NULL: nothing, or two things. *rows: that name the bolt. */
static const char *told(const struct tb_list_reader *r, const struct tb_legend *g, size_t k, size_t *rows)
{
    const char *one = NULL;

    *rows = 0;
    for (size_t i = 0; i < g->rows; i++) {
        const char *text = tb_legend_text(g, i, k);

        if (!names(r, g, i))
            continue;
        if (++*rows > 1 && text != one)
            return NULL;
        one = text;
    }
    return one;
}

/* What table l lacks of it, as its headers say. */
static void lacking(struct tb_text *out, const struct tb_legend *g, const struct tb_table_layout *l)
{
    for (size_t k = 0; k < g->columns; k++)
        if (!tb_legend_key(g, k, l) &&
            (!tb_legend_has(l, g->column[k].field) || l->of[g->column[k].field]->below))
            tb_text_addf(out, "%s'%s'", out->n ? ", " : "", g->column[k].header);
}

/* Once a legend; none of the answers is likely. */
static void ask(struct tb_list_reader *r, struct tb_legend *g, const struct tb_row *row, const char *why)
{
    struct tb_text what = { 0 }, whose = { 0 };
    struct tb_question *q;

    if (g->asked)
        return;
    g->asked = true;
    lacking(&what, g, r->now);
    for (size_t k = 0; k < g->columns; k++) {
        enum tb_field f = tb_legend_key(g, k, r->now);
        const char *own = r->legends->key[f];

        if (f && own)
            tb_text_addf(&whose, "%s'%s'", whose.n ? ", " : "", tb_store_brief(r->list->store, own));
    }
    if (!whose.n)
        tb_text_add(&whose,
                    tb_store_brief(r->list->store, tb_cell_at(row, r->now->of[TB_FIELD_LENGTH])->text));
    q = tb_list_ask(r->list, row->line, why, g->line, tb_text_str(&what), row->line, tb_text_str(&whose),
                    g->place);
    tb_list_answer(r->list, q, "total-line", g->place);
    if (q)
        q->open = true;
    tb_text_free(&what);
    tb_text_free(&whose);
}

/* Why a legend tells nothing of a bolt: two rows of it, or none, or nothing is known of the bolt. */
static void ask_untold(struct tb_list_reader *r, struct tb_legend *g, const struct tb_row *row, size_t rows)
{
    ask(r, g, row,
        rows > 1
            ? N_("line %zu begins a table that tells %s by the names of goods, and more than one row of it "
                 "is "
                 "of the bolt on line %zu (%s); write this in the row of each bolt, or say --total-line %s "
                 "to leave the table out")
            : N_("line %zu begins a table that tells %s by the names of goods, and it does not tell it of "
                 "the "
                 "bolt on line %zu (%s); write this in the row of each bolt, or say --total-line %s to "
                 "leave the table out"));
}

static void ask_loose(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < r->legends->n; i++) {
        struct tb_legend *g = &r->legends->legend[i];

        if (g->state == TB_LEGEND_LOOSE && !g->left)
            ask(r, g, row,
                N_("line %zu begins a table that tells %s by the names of goods, and not of which bolts: "
                   "none of its "
                   "names is a column of the bolt on line %zu (%s); write this in the row of each bolt, or "
                   "say "
                   "--total-line %s to leave the table out"));
    }
}

/* Is the column one of this table's, and of a legend? */
static struct tb_legend *legend_of(const struct tb_list_reader *r, const struct tb_shown *s)
{
    return s->legend && s->sheet == r->now->sheet && s->line == r->now->line
               ? &r->legends->legend[s->legend - 1]
               : NULL;
}

bool tb_legend_takes(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; r->legends && i < r->legends->n; i++) {
        const struct tb_legend *g = &r->legends->legend[i];

        if (g->state && g->sheet == r->sheet.number && row->line >= g->line && row->line <= g->last)
            return true;
    }
    return false;
}

const struct tb_row *tb_legend_join(struct tb_list_reader *r, const struct tb_row *row, struct tb_row *out)
{
    struct tb_legends *all = r->legends;
    bool own, bolt;
    size_t n = row->n;

    if (!all || row->n > TB_COLUMNS_MOST)
        return row;
    bolt = is_bolt(r, row);
    if (!bolt && tb_row_heads(r, row))
        memset(all->key, 0, sizeof all->key);
    own = take_keys(r, row);
    if (!bolt)
        return row;
    if (r->second_pass)
        ask_loose(r, row);
    memcpy(all->cell, row->cell, n * sizeof *all->cell);
    for (size_t i = 0; i < r->shown.n; i++) {
        const struct tb_shown *s = &r->shown.at[i];
        struct tb_legend *g = legend_of(r, s);
        size_t rows;
        const char *text = g ? told(r, g, s->told, &rows) : NULL;

        if (!g)
            continue;
        for (; n <= s->index; n++)
            all->cell[n] = (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
        if (text)
            g->used = true;
        else if (r->second_pass)
            ask_untold(r, g, row, rows);
        if (text && own)
            all->cell[s->index] = (struct tb_cell){ TB_CELL_TEXT, text, 0 };
    }
    *out = (struct tb_row){ row->line, all->cell, n, row->look };
    return out;
}

/* Headers of a legend that are columns on the paper, or that are not. */
static void headers(struct tb_text *out, const struct tb_list_reader *r, const struct tb_legend *g,
                    bool told_of)
{
    for (size_t k = 0; k < g->columns; k++) {
        bool is = false;

        for (size_t i = 0; i < r->shown.n; i++)
            is = is || (r->shown.at[i].legend && &r->legends->legend[r->shown.at[i].legend - 1] == g &&
                        r->shown.at[i].told == k);
        if (is == told_of && (told_of || tb_legend_names(g->column[k].field)))
            tb_text_addf(out, "%s'%s'", out->n ? ", " : "", g->column[k].header);
    }
}

void tb_legend_say(struct tb_list_reader *r)
{
    for (size_t i = 0; r->legends && i < r->legends->n; i++) {
        const struct tb_legend *g = &r->legends->legend[i];
        struct tb_text what = { 0 }, by = { 0 };

        headers(&what, r, g, true);
        headers(&by, r, g, false);
        if (g->left && g->state)
            tb_list_say(r->list, "the table on lines %zu to %zu is left out, as you said", g->line, g->last);
        else if (g->state == TB_LEGEND_SAME)
            tb_list_say(r->list,
                        "the table on lines %zu to %zu is not read: each bolt says it in its own row",
                        g->line, g->last);
        else if (g->used)
            tb_list_say(r->list, "the table on lines %zu to %zu tells %s of each bolt, found by %s", g->line,
                        g->last, tb_text_str(&what), tb_text_str(&by));
        tb_text_free(&what);
        tb_text_free(&by);
    }
}
