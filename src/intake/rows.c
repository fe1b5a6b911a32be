/* rows.c - the second pass: every row under a header becomes a bolt, a heading, a total, or a bad row. */
#include "intake/rows.h"

#include "intake/legend.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct tb_list_rows *tb_rows_new(void)
{
    struct tb_list_rows *s = tb_new(struct tb_list_rows);

    tb_rows_new_sheet(s);
    return s;
}

void tb_rows_free(struct tb_list_rows *s)
{
    free(s);
}

/* Between sheets the file's sum stays; everything that runs down a column ends. */
void tb_rows_new_sheet(struct tb_list_rows *s)
{
    struct tb_list_rows fresh = { .file = s->file,
                                  .prices_differ = s->prices_differ,
                                  .declared_by_option = s->declared_by_option,
                                  .numbered = s->numbered,
                                  .block_start = true,
                                  .delivery = s->delivery,
                                  .last_lot = UINT32_MAX };

    fresh.width.value = fresh.mass.value = fresh.title_width.value = fresh.title_mass.value = NAN;
    *s = fresh;
}

/* Words that stood in the header, or a row of units: the header on another page, or that of other columns. */
static bool looks_like_header(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c[] = { r->now->of[TB_FIELD_LENGTH], r->now->of[TB_FIELD_BOLT] };
    struct tb_figure f;

    for (size_t i = 0; i < TB_COUNT(c); i++) {
        const struct tb_cell *cell = tb_cell_at(row, c[i]);
        size_t n = cell ? strlen(cell->text) : 0;

        if (cell && c[i] && cell->type == TB_CELL_TEXT && n >= 2 &&
            strncmp(c[i]->header, cell->text, n) == 0 && !(i == 0 && tb_figure_scan(&f, cell->text)))
            return true;
    }
    return tb_cell_filled(row, c[0]) && !tb_cell_filled(row, c[1]) && !r->now->given &&
           tb_header_second(r->words, row);
}

/* "(yd)" below a column of metres says that what follows is something else; "(m)" says nothing new. */
static bool agrees_in_units(const struct tb_table_layout *l, const struct tb_row *row)
{
    size_t cells = tb_row_cells(row), agree = 0;

    for (size_t i = 0; i < l->n; i++) {
        const struct tb_source_column *c = &l->column[i];
        const char *text = tb_cell_filled(row, c) ? tb_cell_at(row, c)->text : "";
        size_t n = strlen(text), skip = n > 2 && strchr("([", text[0]) ? 1 : 0;

        agree += n && c->unit && tb_unit_find(c->field, text + skip, n - 2 * skip) == c->unit;
    }
    return agree == cells;
}

const char *tb_line_place(struct tb_list_reader *r, size_t line)
{
    return *r->sheet_name ? tb_store_internf(r->list->store, "%s:%zu", r->sheet_name, line)
                          : tb_store_internf(r->list->store, "%zu", line);
}

const char *tb_row_place(struct tb_list_reader *r, const struct tb_row *row)
{
    return tb_line_place(r, row->line);
}

/* A header that was no table of its own, and is not the one that stands: what is below it would be read by the wrong columns. */
static void refuse_header(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *at = tb_row_place(r, row);

    tb_row_bad(r, row, NULL,
               "this looks like a header, but its columns or units are not those of line %zu. Write a whole "
               "header there, with its units; or say --total-line %s if the columns and units stay the same",
               r->now->line, at);
}

/* "Prepared by: Wang | Checked by:", or words where the numbers of bolts have figures: signatures below the last length. */
static bool is_foot(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);
    const char *number = cell ? cell->text : "";
    bool labels = true;

    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *c = &row->cell[i];

        if (c->type != TB_CELL_EMPTY && c->type != TB_CELL_TEXT)
            return false;
        labels = labels && (c->type == TB_CELL_EMPTY || tb_colon_in(c->text, NULL));
    }
    return labels || (*number && !strpbrk(number, "0123456789") &&
                      tb_number_like(&r->now->habit, number) == TB_NUMBER_STRANGE);
}

/* What stands in such a row is told, cell by cell. */
static bool take_foot(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *length = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);

    if (row->line <= r->now->last_length || tb_row_alone(row) || tb_cell_has_figure(length) ||
        !is_foot(r, row))
        return false;
    if (!tb_hold_figures(r, row))
        tb_not_read(r, row, NULL);
    return true;
}

/* Below the last length of its table no bolt stands any more: a name under a mail, the number of the bolts. */
static bool take_tail(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *text = tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text;
    size_t digits = strspn(text, "0123456789");

    if (row->line <= r->now->last_length || !tb_row_alone(row))
        return false;
    if (strpbrk(text, "0123456789") && !strchr(text, '@') &&
        (text[digits] || digits > 6 || !tb_sum_counts(r->rows, (size_t)strtoul(text, NULL, 10))))
        return false;
    tb_list_say(r->list, "line %zu: '%s' is taken for a remark", row->line,
                tb_store_brief(r->list->store, text));
    return true;
}

/* Words alone in the bolt column: the heading of a block, or "Page 2", "Thank you for your order". */
static bool take_words(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *text = tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text;
    struct tb_heads h = { 0 };

    if (!tb_row_alone(row))
        return false;
    if (tb_heads_take(&h, r->words, r->list->store, row) > 0) {
        tb_heads_say(r, row, &h);
        tb_carry_from(r, row, &h);
        return true;
    }
    if (!strchr(text, ' ') || (text[0] >= '0' && text[0] <= '9') ||
        (r->beside && strpbrk(text, "0123456789"))) /* it is not alone: bolts stand beside it */
        return false;
    tb_list_say(r->list, "line %zu: '%s' is taken for a remark", row->line,
                tb_store_brief(r->list->store, text));
    return true;
}

/* Words right below the header, where numbers and lengths should stand: the rest of the header, which nobody should leave out as a total. */
static bool refuse_rest_of_header(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_LENGTH];
    size_t cells = 0;

    if (r->now->given || row->line != r->now->last_line + 1 || !tb_cell_filled(row, c))
        return false;
    for (size_t i = 0; i < row->n; i++) {
        if (row->cell[i].type != TB_CELL_EMPTY && row->cell[i].type != TB_CELL_TEXT)
            return false;
        if (strpbrk(row->cell[i].text, "0123456789"))
            return false;
        cells += row->cell[i].type != TB_CELL_EMPTY;
    }
    if (cells < 2)
        return false;
    tb_row_bad(r, row, c,
               "this row seems to be the rest of the header above it, and is not understood; write the whole "
               "header in one row");
    return true;
}

/* What stands where the number of a bolt would, and has no length. */
static void take_lengthless(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *number = tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text;

    if (tb_is_page_number(number)) {
        tb_not_read(r, row, NULL); /* beside the rest of a letter head */
        return;
    }
    if (!tb_take_name_alone(r, row) && !take_words(r, row) && !take_tail(r, row))
        tb_row_bad(r, row, r->now->of[TB_FIELD_LENGTH],
                   "the bolt '%s' has no length; if the row is no bolt, --total-line %s leaves it out",
                   tb_store_brief(r->list->store, number), tb_row_place(r, row));
}

/* In the order of what is easiest to tell: a page header, a total, a heading, and then a bolt. */
static tb_rc take_body(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_BOLT], *l = r->now->of[TB_FIELD_LENGTH];
    bool bolt = tb_cell_filled(row, c), length = tb_cell_filled(row, l), again, heads;
    size_t bads;
    tb_rc rc;

    if (!bolt && !length && !row->n)
        return TB_OK;
    again = !r->now->given && tb_header_same(r->now, r->words, row);
    if (again || (looks_like_header(r, row) && !tb_said_total(r, row))) {
        tb_sum_mark(r->rows);
        if (!again && !r->now->given && !agrees_in_units(r->now, row))
            refuse_header(r, row);
        return TB_OK;
    }
    if (tb_left_unsent(r, row) || refuse_rest_of_header(r, row) || (!length && tb_not_come_heading(r, row)))
        return TB_OK;
    if (length && tb_said_part(r, row)) {
        tb_take_part(r, row);
        return TB_OK;
    }
    heads = tb_row_heads(r, row) && !tb_said_total(r, row) && !tb_said_bolt(r, row);
    if (!heads && length && tb_is_page_number(tb_cell_at(row, l)->text)) { /* at the foot of a page */
        tb_not_read(r, row, NULL);
        return TB_OK;
    }
    if (!heads && tb_take_total(r, row))
        return TB_OK;
    if (heads || (!bolt && !length)) {
        tb_sum_mark(r->rows);
        tb_note_below(r, row);
        tb_take_heading(r, row);
        return TB_OK;
    }
    if (bolt && tb_number_like(&r->now->habit, tb_cell_at(row, c)->text) > TB_NUMBER_STRANGE &&
        tb_refuse_ragged(r, row))
        return TB_OK;
    if ((bolt || r->given.lengths) && take_foot(r, row))
        return TB_OK;
    if (length && tb_not_come(r, row))
        return TB_OK;
    if (length && tb_take_times(r, row, &rc, err))
        return rc;
    if (!bolt && c && !tb_said_bolt(r, row)) {
        tb_row_bad(
            r, row, c,
            "a length without a bolt number, '%s'; if the row is no bolt, --total-line %s leaves it out",
            tb_store_brief(r->list->store, tb_cell_at(row, l)->text), tb_row_place(r, row));
        return TB_OK;
    }
    if (!length) {
        take_lengthless(r, row);
        return TB_OK;
    }
    tb_ask_below(r, row);
    tb_ask_not_sent(r, row);
    tb_ask_named_twice(r, row);
    tb_settle_alone(r, row);
    bads = r->list->bad_count;
    rc = tb_take_bolt(r, row, err);
    if (rc == TB_OK && r->list->bad_count == bads) /* what is bad is named already */
        tb_ask_moved(r, row);
    return rc;
}

/* Once a table: what stands above it holds for all its bolts. */
void tb_title_measures(struct tb_list_reader *r)
{
    struct tb_list_rows *s = r->rows;
    const struct {
        enum tb_field field;
        struct tb_measure *to;
        enum tb_unit unit;
    } part[] = { { TB_FIELD_WIDTH, &s->title_width, r->opts->width_unit },
                 { TB_FIELD_MASS, &s->title_mass, r->opts->mass_unit } };

    for (size_t i = 0; i < TB_COUNT(part); i++)
        tb_title_measure(r, part[i].field, part[i].to, part[i].unit);
}

static struct tb_table_layout *table_at(const struct tb_list_reader *r, size_t line)
{
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->sheet == r->sheet.number && r->layout[i]->line == line)
            return r->layout[i];
    return NULL;
}

/* The first pass has found the tables, so a row above all of them belongs to the title. */
tb_rc tb_take_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_table_layout *l = table_at(r, row->line);
    struct tb_row more;

    if (l && l == r->now && !l->given)
        return TB_OK;
    if (l && l != r->now) {
        if (r->now) { /* a second table of the sheet: columns do not run on */
            memset(r->rows->memo, 0, sizeof r->rows->memo);
            memset(r->rows->in, 0, sizeof r->rows->in);
        }
        r->now = l;
        r->rows->sheet_index = tb_list_put_sheet(r->list, r->sheet_name);
        tb_settle_title(r);
        tb_title_measures(r);
        if (!l->given)
            return TB_OK;
    }
    if (!r->now) {
        if (tb_said_total(r, row)) /* it is left out */
            return TB_OK;
        (void)tb_heads_take(&r->title, r->words, r->list->store, row);
        tb_heads_say(r, row, &r->title);
        tb_not_read(r, row, &r->title);
        r->title.guessed = TB_FIELD_NONE;
        r->title.unclear = false;
        return TB_OK;
    }
    if (row->line <= r->now->last_line && row->line > r->now->line)
        return TB_OK;
    return take_body(r, tb_legend_join(r, row, &more), err);
}
