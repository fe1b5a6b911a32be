/* cells.c - the texts of a row: cells, columns that join into a field, ditto marks. */
#include "intake/rows.h"

#include "base/say.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

const struct tb_cell *tb_cell_at(const struct tb_row *row, const struct tb_source_column *c)
{
    return c && c->index < row->n ? &row->cell[c->index] : NULL;
}

bool tb_row_filled(const struct tb_row *row, size_t at)
{
    return at < row->n && row->cell[at].type != TB_CELL_EMPTY;
}

bool tb_cell_filled(const struct tb_row *row, const struct tb_source_column *c)
{
    return c && tb_row_filled(row, c->index);
}

size_t tb_row_cells(const struct tb_row *row)
{
    size_t cells = 0;

    for (size_t i = 0; i < row->n; i++)
        cells += row->cell[i].type != TB_CELL_EMPTY;
    return cells;
}

bool tb_cell_is_length(const struct tb_cell *c)
{
    struct tb_figure f;

    return c && (c->type == TB_CELL_NUMBER ||
                 (c->type == TB_CELL_TEXT && tb_figure_scan(&f, c->text) && !f.before_n && !f.range &&
                  (!f.rest_n || tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n))));
}

bool tb_cell_has_figure(const struct tb_cell *c)
{
    struct tb_figure f;

    return c && (c->type == TB_CELL_NUMBER || (c->type == TB_CELL_TEXT && tb_figure_scan(&f, c->text)));
}

bool tb_cell_figure(const struct tb_cell *cell, double *v)
{
    struct tb_figure f;

    if (cell->type == TB_CELL_NUMBER)
        return *v = cell->number, true;
    if (cell->type != TB_CELL_TEXT || !tb_figure_scan(&f, cell->text) || f.range || f.before_n)
        return false;
    *v = isnan(f.point) ? f.comma : isnan(f.comma) ? f.point : f.point < f.comma ? f.point : f.comma;
    return true;
}

void tb_row_bad_why(struct tb_list_reader *r, const struct tb_row *row, const struct tb_source_column *c,
                    const char *why)
{
    const struct tb_cell *cell = tb_cell_at(row, c);
    const struct tb_bad bad = { .sheet = r->sheet_name,
                                .line = row->line,
                                .column = !c                           ? SIZE_MAX
                                          : c->index >= r->beside_from ? c->index + r->beside_shift
                                                                       : c->index,
                                .header = c ? c->header : "",
                                .value = cell ? cell->text : "" };

    tb_list_note_bad(r->list, &bad, why);
}

/* The sentence is made here, where its format can be looked up. */
void tb_row_bad(struct tb_list_reader *r, const struct tb_row *row, const struct tb_source_column *c,
                const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vsay(&t, fmt, ap);
    va_end(ap);
    tb_row_bad_why(r, row, c, tb_text_str(&t));
    tb_text_free(&t);
}

/* A name is one line: a break typed into a cell becomes a space. Declared words are kept as they came. */
static const char *name_of(struct tb_list_store *store, const char *text)
{
    struct tb_text t = { 0 };
    const char *kept;

    for (const char *p = text; *p; p++) {
        bool space = *p == '\n' || *p == '\r' || *p == '\t';

        if (!space)
            tb_text_addc(&t, *p);
        else if (t.n && t.s[t.n - 1] != ' ')
            tb_text_addc(&t, ' ');
    }
    kept = tb_store_intern(store, tb_text_str(&t), t.n);
    tb_text_free(&t);
    return kept;
}

/* Text of one column: the one copy of it; a ditto mark is what stood above. NULL when empty. */
static const char *column_text(struct tb_list_reader *r, const struct tb_row *row, size_t k)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_cell *cell = tb_cell_at(row, &r->now->column[k]);

    if (!cell || cell->type == TB_CELL_EMPTY)
        return NULL;
    if (s->memo[k] && strcmp(s->memo[k], cell->text) == 0)
        return s->memo[k];
    if (tb_is_ditto(cell->text))
        return s->memo[k];
    if (r->now->column[k].field != TB_FIELD_COMPOSITION && strpbrk(cell->text, "\n\r\t"))
        return s->memo[k] = name_of(r->list->store, cell->text);
    return s->memo[k] = tb_store_text(r->list->store, cell->text);
}

/* Joined texts are kept with what they were joined from, since most rows repeat the row above. */
const char *tb_field_text(struct tb_list_reader *r, const struct tb_row *row, enum tb_field f)
{
    struct tb_list_rows *s = r->rows;
    const char *part[TB_MADE_OF_MOST] = { NULL }, *head[TB_MADE_OF_MOST] = { NULL };
    const char *joint = f == TB_FIELD_ARTICLE ? " / " : f == TB_FIELD_LOT ? "/" : " ";
    bool sides = f == TB_FIELD_COMPOSITION; /* "Face" and "Back": the header says of which the words are */
    struct tb_text t = { 0 };
    size_t n = 0;

    if (r->now->made_of_n[f] == 1)
        return column_text(r, row, r->now->made_of[f][0]);
    for (size_t i = 0; i < r->now->made_of_n[f]; i++)
        if ((part[n] = column_text(r, row, r->now->made_of[f][i])) != NULL &&
            (sides || !(n && part[n] == part[n - 1])))
            head[n++] = r->now->column[r->now->made_of[f][i]].header;
    if (n < TB_MADE_OF_MOST)
        part[n] = NULL;
    if (n <= 1)
        return part[0];
    if (memcmp(part, s->in[f], sizeof part) == 0)
        return s->joined[f];
    for (size_t i = 1; i < n && sides; i++)
        if (head[i] != head[0])
            break;
        else if (i + 1 == n) { /* one header over all of them */
            sides = false;
            joint = " ";
        }
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&t, "%s%s%s%s",
                     i == 0  ? ""
                     : sides ? "; "
                             : joint,
                     sides ? head[i] : "", sides ? ": " : "", part[i]);
    memcpy(s->in[f], part, sizeof part);
    s->joined[f] = tb_store_intern(r->list->store, t.s, t.n);
    tb_text_free(&t);
    return s->joined[f];
}

const char *tb_decimal_fault(char decimal)
{
    return decimal == ',' ? _("this is not a number with a decimal comma, as the rest of the column is")
                          : _("this is not a number with a decimal point, as the rest of the column is");
}
