/* xlsx_rows.c - the cells of one worksheet. */
#include "base/say.h"
#include "base/xlsx_in.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct rows {
    const struct tb_sheet_sink *sink;
    struct tb_row_buf row;
    size_t line, seen;
    size_t column, next_column;
    unsigned style;
    char type; /* 'n' number, 's' shared, 'i' inline or formula text, 'b' truth, 'd' ISO date */
    bool in_cell, phonetic, inline_text;
};

/* The sentence names the cell: its column and its row. */
static void damaged(struct tb_xml *m, const char *sentence)
{
    const struct rows *r = m->arg;
    char cell[8];

    tb_column_letters(cell, r->column);
    m->rc = tb_fail(m->x->err, TB_EFORMAT, sentence, cell, r->line);
}

/* "C5" is column 2; SIZE_MAX when it is not a reference. */
static size_t column_of(const char *ref)
{
    size_t c = 0, n = 0;

    for (; isupper((unsigned char)ref[n]); n++) {
        c = c * 26 + (size_t)(ref[n] - 'A') + 1;
        if (c > TB_SHEET_COLUMNS_MOST)
            return SIZE_MAX;
    }
    return n && isdigit((unsigned char)ref[n]) ? c - 1 : SIZE_MAX;
}

/* Hidden by name, or as low as nothing. */
static bool is_hidden(const char **attr)
{
    const char *hidden = tb_xml_attr(attr, "hidden"), *height = tb_xml_attr(attr, "ht");

    return (hidden && (strcmp(hidden, "1") == 0 || strcmp(hidden, "true") == 0)) ||
           (height && *height && strtod(height, NULL) == 0);
}

/* A row may leave out its number, and then it is the one after the last. */
static void start_row(struct tb_xml *m, const char **attr)
{
    struct rows *r = m->arg;
    const char *number = tb_xml_attr(attr, "r");
    unsigned long line = number ? strtoul(number, NULL, 10) : r->line + 1;

    if (++r->seen > TB_SHEET_ROWS_MOST || line == 0 || line > TB_SHEET_ROWS_MOST) {
        m->rc = tb_fail(m->x->err, TB_EFORMAT, "the sheet has more rows than the %d a spreadsheet can hold",
                        TB_SHEET_ROWS_MOST);
        return;
    }
    r->line = line;
    r->next_column = 0;
    tb_row_begin(&r->row);
    if (is_hidden(attr))
        r->row.look = TB_ROW_HIDDEN;
}

/* A cell may leave out its address too; a wrong one is refused, since the columns would shift. */
static void start_cell(struct tb_xml *m, const char **attr)
{
    struct rows *r = m->arg;
    const char *ref = tb_xml_attr(attr, "r"), *type = tb_xml_attr(attr, "t"), *style = tb_xml_attr(attr, "s");

    r->column = r->next_column;
    if (ref && (r->column = column_of(ref)) == SIZE_MAX) {
        r->column = r->next_column;
        damaged(m, N_("cell %s%zu has an address that cannot be read; the workbook is damaged"));
        return;
    }
    r->next_column = r->column + 1;
    r->style = style ? (unsigned)strtoul(style, NULL, 10) : 0;
    r->type = !type                            ? 'n'
              : strcmp(type, "inlineStr") == 0 ? 'i'
              : strcmp(type, "str") == 0       ? 'i'
              : strcmp(type, "e") == 0         ? 'i'
                                               : *type;
    r->in_cell = true;
    tb_text_clear(&m->text);
}

/* Only what is inside a cell is kept; a phonetic reading of a text is not the text. */
static void rows_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct rows *r = m->arg;

    if (strcmp(name, "row") == 0)
        start_row(m, attr);
    else if (strcmp(name, "c") == 0)
        start_cell(m, attr);
    else if (!r->in_cell)
        return;
    else if (strcmp(name, "v") == 0)
        m->keep = true;
    else if (strcmp(name, "is") == 0)
        r->inline_text = true;
    else if (strcmp(name, "rPh") == 0)
        r->phonetic = true;
    else if (strcmp(name, "t") == 0)
        m->keep = r->inline_text && !r->phonetic;
}

static bool put(struct rows *r, enum tb_cell_type type, const char *text, double number)
{
    return tb_row_put(&r->row, r->column, type, text, strlen(text), number);
}

static void end_number(struct tb_xml *m, const char *text)
{
    struct rows *r = m->arg;
    unsigned char style = r->style < m->x->styles ? m->x->style[r->style] : TB_STYLE_NUMBER;
    char *end;
    double v = strtod(text, &end);

    if (*end || !isfinite(v)) {
        damaged(m, N_("cell %s%zu holds a number that cannot be read; the workbook is damaged"));
        return;
    }
    tb_style_put(&r->row, r->column, style, m->x->epoch1904, v);
}

/* An index beyond the list means that part of the workbook is missing. */
static void end_shared(struct tb_xml *m, const char *text)
{
    char *end;
    unsigned long index = strtoul(text, &end, 10);

    if (!isdigit((unsigned char)*text) || *end || index >= m->x->strings)
        damaged(m, N_("cell %s%zu points to a text that is not there; the workbook is damaged"));
    else
        (void)put(m->arg, TB_CELL_TEXT, m->x->text + m->x->at[index], NAN);
}

static void end_cell(struct tb_xml *m)
{
    struct rows *r = m->arg;
    const char *text = tb_text_str(&m->text);
    char day[TB_DAY_LEN + 1];

    r->in_cell = r->inline_text = false;
    if (!*text)
        return;
    tb_row_count(&r->row, r->style < m->x->styles && m->x->struck[r->style]);
    switch (r->type) {
    case 's':
        end_shared(m, text);
        break;
    case 'b':
        (void)put(r, TB_CELL_TEXT, strcmp(text, "0") == 0 ? "FALSE" : "TRUE", NAN);
        break;
    case 'd':
        (void)snprintf(day, sizeof day, "%.10s", text);
        (void)put(r, tb_day_valid(day) ? TB_CELL_DAY : TB_CELL_TEXT, tb_day_valid(day) ? day : text, NAN);
        break;
    case 'i':
        tb_xml_unescape(&m->text);
        (void)put(r, TB_CELL_TEXT, tb_text_str(&m->text), NAN);
        break;
    default:
        end_number(m, text);
    }
}

/* A row is handed on when it ends, so that one row is all that is in memory. */
static void rows_end(struct tb_xml *m, const char *name)
{
    struct rows *r = m->arg;

    if (strcmp(name, "v") == 0 || strcmp(name, "t") == 0)
        m->keep = false;
    else if (strcmp(name, "rPh") == 0)
        r->phonetic = false;
    else if (strcmp(name, "is") == 0)
        r->inline_text = false;
    else if (strcmp(name, "c") == 0 && r->in_cell)
        end_cell(m);
    else if (strcmp(name, "row") == 0 && r->row.cells)
        m->rc = tb_row_emit(&r->row, r->line, r->sink, m->x->err);
}

tb_rc tb_xlsx_rows(struct tb_xlsx *x, const struct tb_xlsx_sheet *sheet, const struct tb_sheet_sink *sink)
{
    struct rows r = { .sink = sink };
    struct tb_xml m = { .start = rows_start, .end = rows_end, .arg = &r };
    tb_rc rc;

    tb_row_begin(&r.row);
    rc = tb_xml_part(x, &m, sheet->part);
    if (rc == TB_ENOTFOUND && m.rc == TB_OK)
        rc = tb_fail(x->err, TB_EFORMAT, "the sheet '%s' is missing from the workbook; it is damaged",
                     sheet->name);
    tb_row_free(&r.row);
    return rc;
}
