/* beside_heads.c - headings of tables side by side, above their headers: rows wait until the row below them shows what they head. */
#include "intake/beside.h"

#include "intake/rows.h"

#include <stdlib.h>
#include <string.h>

#define WAITING_MOST 8

static bool is_figure(const struct tb_cell *c)
{
    return c->type == TB_CELL_NUMBER || (c->text[0] >= '0' && c->text[0] <= '9');
}

bool tb_beside_may_head(const struct tb_beside *above, const struct tb_row *row)
{
    size_t cells = 0, figures = 0, labels = 0;

    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        cells++;
        figures += is_figure(&row->cell[i]);
        labels += tb_colon_in(row->cell[i].text, NULL) != NULL;
    }
    if (row->n > TB_COLUMNS_MOST || (above && above->rows == WAITING_MOST))
        return false;
    return cells == 0 ? above != NULL : (cells > 1 || above) && figures <= labels;
}

/* "Colour: red" above one table and "Colour: blue" above the next: each holds for its own. */
bool tb_beside_heads_each(const struct tb_list_reader *r, const struct tb_row *row)
{
    const char *said[TB_FIELDS] = { NULL };
    struct tb_cell cell[TB_COLUMNS_MOST];
    struct tb_row one;

    for (size_t t = 0; t < r->beside->tables; t++) {
        struct tb_heads h = { 0 };

        if (!tb_beside_part(cell, &one, r->beside, row, t) ||
            !tb_heads_take(&h, r->words, r->list->store, &one))
            continue;
        for (int f = 0; f < TB_FIELDS; f++) {
            if (h.value[f] && said[f] && h.value[f] != said[f])
                return true;
            said[f] = h.value[f] ? h.value[f] : said[f];
        }
    }
    return false;
}

/* One name above each table, and no two of them the same: what each is nobody says. */
static bool names_each(const struct tb_beside *b, const struct tb_row *row)
{
    const char *name[TB_COLUMNS_MOST];
    size_t n = 0, at = SIZE_MAX;

    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *c = &row->cell[i];
        size_t t = i < b->common ? SIZE_MAX : (i - b->common) / b->width;

        if (c->type == TB_CELL_EMPTY)
            continue;
        if (c->type != TB_CELL_TEXT || t == at || t >= b->tables || tb_colon_in(c->text, NULL))
            return false;
        for (size_t k = 0; k < n; k++)
            if (strcmp(name[k], c->text) == 0)
                return false;
        name[n++] = c->text;
        at = t;
    }
    return n >= 2 && n == b->tables;
}

/* "Lot 771" above each is its label with a value: it becomes "Lot: 771". False: one of them has no label. */
static bool label_each(const struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_cell *cell = tb_arena_alloc(&r->beside->mem, (row->n + 1) * sizeof *cell);

    for (size_t i = 0; i < row->n; i++) {
        const char *said = row->cell[i].type == TB_CELL_TEXT
                               ? tb_heads_labelled(r->words, r->list->store, row->cell[i].text)
                               : NULL;

        if (row->cell[i].type != TB_CELL_EMPTY && !said)
            return false;
        cell[i] = row->cell[i];
        cell[i].text = said ? said : "";
    }
    tb_beside_head(r->beside, &(struct tb_row){ row->line, cell, row->n, row->look });
    return true;
}

static void refuse_names(struct tb_list_reader *r, const struct tb_row *row)
{
    size_t i = 0, k;

    if (!r->second_pass || tb_said_total(r, row))
        return;
    while (row->cell[i].type == TB_CELL_EMPTY)
        i++;
    for (k = i + 1; row->cell[k].type == TB_CELL_EMPTY; k++)
        ;
    tb_row_bad(r, row, NULL,
               "'%s' and '%s' stand above tables side by side, and nothing says what they are; write before "
               "each what it is (Colour: ...), or say --total-line %s to leave the row out",
               tb_store_brief(r->list->store, row->cell[i].text),
               tb_store_brief(r->list->store, row->cell[k].text), tb_row_place(r, row));
}

/* The header has come: a row that heads each of its tables stands before the rows of each, any other above all of them. */
tb_rc tb_beside_sort(struct tb_list_reader *r, struct tb_beside *above,
                     tb_rc (*hand_on)(struct tb_list_reader *, const struct tb_row *, struct tb_err *),
                     struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < above->rows && rc == TB_OK; i++) {
        const struct tb_row *row = &above->row[i];

        if (tb_beside_heads_each(r, row))
            tb_beside_head(r->beside, row);
        else if (!names_each(r->beside, row))
            rc = hand_on(r, row, err);
        else if (!label_each(r, row))
            refuse_names(r, row);
    }
    return rc;
}
