/* below.c - compositions in the article's column, below the first bolt of each article: they are moved beside it. */
#include "intake/below.h"

#include "intake/rows.h"

#include <stdlib.h>
#include <string.h>

/* The row of a bolt that waits for the row below it. */
struct tb_below {
    struct tb_row row;    /* a copy; n is 0: none waits */
    struct tb_cell *cell; /* its cells, with room for the composition */
    struct tb_arena mem;
};

/* Is it a composition and nothing else? */
static bool is_composition(const struct tb_row *row, size_t i)
{
    struct tb_stretch part;

    return tb_row_filled(row, i) && row->cell[i].type == TB_CELL_TEXT &&
           tb_declares(&part, row->cell[i].text) && tb_declares_wholly(&part, row->cell[i].text);
}

/* Does the row of a bolt begin other goods than those of the bolt above it? *article: another article. */
static bool begins(struct tb_list_reader *r, const struct tb_row *row, bool *article)
{
    static const enum tb_field field[] = { TB_FIELD_ARTICLE, TB_FIELD_COLOUR, TB_FIELD_LOT };
    struct tb_table_layout *l = r->now;
    bool any = false;

    *article = false;
    for (size_t i = 0; i < TB_COUNT(field); i++) {
        const struct tb_cell *cell = tb_cell_at(row, l->of[field[i]]);
        const char *text;

        if (!cell || cell->type == TB_CELL_EMPTY || tb_is_ditto(cell->text) ||
            (i == 0 && is_composition(row, l->of[field[i]]->index)))
            continue;
        text = tb_store_text(r->list->store, cell->text);
        any = any || text != l->below.name[i];
        *article = *article || (i == 0 && text != l->below.name[i]);
        l->below.name[i] = text;
    }
    return any;
}

void tb_below_learn(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_table_layout *l = r->now;
    const struct tb_source_column *c = l->of[TB_FIELD_ARTICLE];
    bool article, first;

    if (!c || r->beside || l->given || row->n > TB_COLUMNS_MOST)
        return;
    if (is_composition(row, c->index)) {
        l->below.articles_with += l->below.open && l->below.open_article;
        l->below.others += !l->below.open;
        l->below.found++;
        l->below.open = false;
        return;
    }
    l->below.open = false;
    if (!tb_cell_filled(row, l->of[TB_FIELD_BOLT]) ||
        !tb_cell_is_length(tb_cell_at(row, l->of[TB_FIELD_LENGTH])) || tb_row_says_total(r, row))
        return;
    first = begins(r, row, &article);
    l->below.articles += article;
    l->below.open = first && tb_cell_filled(row, c);
    l->below.open_article = article;
}

bool tb_below_is(const struct tb_table_layout *l)
{
    return l->below.found && !l->below.others && l->below.articles_with == l->below.articles &&
           !l->of[TB_FIELD_COMPOSITION];
}

/* The table that the row is in, where it is such a one; NULL: it is not. */
static const struct tb_shown *table_of(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < r->shown.n; i++) {
        const struct tb_shown *s = &r->shown.at[i];

        if (s->below && s->sheet == r->sheet.number && row->line > s->line && row->line < s->end)
            return s;
    }
    return NULL;
}

/* A copy of the row with room for one cell more, at `at`. */
static void hold(struct tb_below *b, const struct tb_row *row, size_t at)
{
    size_t n = row->n > at + 1 ? row->n : at + 1;
    struct tb_cell *cell;

    tb_arena_free(&b->mem);
    b->mem = (struct tb_arena){ 0 };
    cell = tb_arena_alloc(&b->mem, n * sizeof *cell);
    for (size_t i = 0; i < n; i++) {
        cell[i] = i < row->n ? row->cell[i] : (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
        cell[i].text = tb_arena_strdup(&b->mem, cell[i].text);
    }
    b->cell = cell;
    b->row = (struct tb_row){ row->line, cell, row->n, row->look };
}

tb_rc tb_below_end(struct tb_list_reader *r,
                   tb_rc (*on)(struct tb_list_reader *, const struct tb_row *, struct tb_err *),
                   struct tb_err *err)
{
    tb_rc rc = r->below && r->below->row.n ? on(r, &r->below->row, err) : TB_OK;

    if (r->below)
        r->below->row.n = 0;
    return rc;
}

tb_rc tb_below_row(struct tb_list_reader *r, const struct tb_row *row,
                   tb_rc (*on)(struct tb_list_reader *, const struct tb_row *, struct tb_err *),
                   struct tb_err *err)
{
    const struct tb_shown *s = table_of(r, row);
    bool composition = s && is_composition(row, s->name);
    tb_rc rc;

    if (composition && r->below && r->below->row.n) {
        struct tb_cell *cell = r->below->cell;

        cell[s->index] = row->cell[s->name];
        cell[s->index].text = tb_arena_strdup(&r->below->mem, cell[s->index].text);
        r->below->row.n = r->below->row.n > s->index ? r->below->row.n : s->index + 1;
    }
    if ((rc = tb_below_end(r, on, err)) != TB_OK)
        return rc;
    if (!s)
        return on(r, row, err);
    if (!r->below)
        r->below = tb_new(struct tb_below);
    hold(r->below, row, s->index);
    if (composition)
        r->below->cell[s->name] = (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
    return composition ? tb_below_end(r, on, err) : TB_OK;
}

void tb_below_free(struct tb_list_reader *r)
{
    if (r->below)
        tb_arena_free(&r->below->mem);
    free(r->below);
    r->below = NULL;
}
