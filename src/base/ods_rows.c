/* ods_rows.c - the sheets of an OpenDocument spreadsheet: they lie in one part, styles first, and are read as they come. */
#include "base/ods_in.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TABLE_DEPTH 4 /* document, body, spreadsheet, table: what lies deeper is a table in a cell */
#define STYLES_MOST 10000
#define SPACES_MOST 1000
#define REPEATED_MOST 4000000 /* cells of rows that stand once and count as many */

struct ods {
    const struct tb_sheet_sink *sink;
    char *style; /* the style of tables or cells that is being read */
    bool of_cells;
    struct names {
        char **name;
        size_t n, cap;
    } hidden, struck; /* styles of tables that are not shown, and of cells that a line goes through */
    bool row_struck, cell_struck;
    bool skip;      /* this sheet is not wanted */
    bool in_sheet;  /* and the rows of this one are */
    unsigned inner; /* tables inside a cell that are open */
    size_t sheets, line, column;
    struct tb_row_buf row;
    size_t row_repeat, cell_repeat, repeated;
    unsigned cell_depth; /* 0: no cell is open */
    bool covered;        /* by a cell that was joined with it */
    size_t paragraphs;
    char type;      /* 'n' number, 'd' day, 'b' truth, 't' text and all else */
    char value[64]; /* of a number, a day or a truth, as the file keeps it */
};

static size_t repeats(const char **attr, const char *name)
{
    const char *said = tb_xml_attr(attr, name);
    unsigned long n = said ? strtoul(said, NULL, 10) : 1;

    return n > TB_SHEET_ROWS_MOST ? TB_SHEET_ROWS_MOST : n ? n : 1;
}

static void keep(struct names *n, const char *style)
{
    if (n->n == STYLES_MOST)
        return;
    TB_PUSH_ROOM(n->name, n->n, n->cap);
    n->name[n->n++] = tb_strdup(style);
}

static void drop(struct names *n)
{
    for (size_t i = 0; i < n->n; i++)
        free(n->name[i]);
    free(n->name);
}

/* Which tables are hidden, and which cells are struck through, is a matter of their style. */
static void style_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct ods *o = m->arg;

    if (strcmp(name, "style") == 0) {
        const char *family = tb_xml_attr(attr, "family"), *called = tb_xml_attr(attr, "name");

        free(o->style);
        o->of_cells = family && strcmp(family, "table-cell") == 0;
        o->style =
            called && (o->of_cells || (family && strcmp(family, "table") == 0)) ? tb_strdup(called) : NULL;
    } else if (strcmp(name, "table-properties") == 0 && o->style && !o->of_cells) {
        const char *display = tb_xml_attr(attr, "display");

        if (display && strcmp(display, "false") == 0)
            keep(&o->hidden, o->style);
    } else if (strcmp(name, "text-properties") == 0 && o->style && o->of_cells) {
        const char *line = tb_xml_attr(attr, "text-line-through-style");

        if (line && strcmp(line, "none") != 0)
            keep(&o->struck, o->style);
    }
}

static bool is_among(const struct names *n, const char *style)
{
    for (size_t i = 0; style && i < n->n; i++)
        if (strcmp(n->name[i], style) == 0)
            return true;
    return false;
}

/* What a spreadsheet keeps of another file it points to looks like a sheet, and is none of this one. */
static void table_start(struct tb_xml *m, const char **attr)
{
    struct ods *o = m->arg;
    const char *name = tb_xml_attr(attr, "name");
    const struct tb_sheet sheet = { .kind = TB_SHEET_XLSX,
                                    .name = name ? name : "",
                                    .number = o->sheets + 1,
                                    .hidden = is_among(&o->hidden, tb_xml_attr(attr, "style-name")),
                                    .encoding = "UTF-8" };

    if (m->depth != TABLE_DEPTH) {
        o->inner += o->in_sheet;
        return;
    }
    if (++o->sheets > TB_ODS_SHEETS_MOST) {
        m->rc = tb_fail(m->x->err, TB_EFORMAT, "the workbook has more than %d sheets", TB_ODS_SHEETS_MOST);
        return;
    }
    o->in_sheet = true;
    o->line = 0;
    o->skip = strncmp(sheet.name, "'file:", 6) == 0;
    if (!o->skip && o->sink->sheet)
        m->rc = o->sink->sheet(o->sink->arg, &sheet, &o->skip, m->x->err);
}

static void cell_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct ods *o = m->arg;
    const char *type = tb_xml_attr(attr, "value-type"), *style = tb_xml_attr(attr, "style-name"),
               *value = NULL;

    o->cell_depth = m->depth;
    o->cell_struck = style ? is_among(&o->struck, style) : o->row_struck;
    o->covered = *name == 'c';
    o->cell_repeat = repeats(attr, "number-columns-repeated");
    o->paragraphs = 0;
    o->type = 't';
    tb_text_clear(&m->text);
    if (!type)
        return;
    if (strcmp(type, "float") == 0 || strcmp(type, "currency") == 0 || strcmp(type, "percentage") == 0) {
        o->type = 'n';
        value = tb_xml_attr(attr, "value");
    } else if (strcmp(type, "date") == 0) {
        o->type = 'd';
        value = tb_xml_attr(attr, "date-value");
    } else if (strcmp(type, "boolean") == 0) {
        o->type = 'b';
        value = tb_xml_attr(attr, "boolean-value");
    }
    (void)snprintf(o->value, sizeof o->value, "%s", value ? value : "");
}

/* Spaces and ends of lines are elements; a remark, a drawing or a phonetic reading in a cell is not its text. */
static void text_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct ods *o = m->arg;

    if (strcmp(name, "p") == 0 && m->depth == o->cell_depth + 1) {
        m->keep = true;
        if (o->paragraphs++)
            tb_text_addc(&m->text, '\n');
    } else if (!m->keep) {
        return;
    } else if (strcmp(name, "s") == 0) {
        const char *said = tb_xml_attr(attr, "c");
        unsigned long n = said ? strtoul(said, NULL, 10) : 1;

        for (size_t i = 0; i < n && i < SPACES_MOST && m->text.n < TB_SHEET_FIELD_MOST; i++)
            tb_text_addc(&m->text, ' ');
    } else if (strcmp(name, "tab") == 0 || strcmp(name, "line-break") == 0) {
        tb_text_addc(&m->text, *name == 't' ? '\t' : '\n');
    } else if (strcmp(name, "ruby-text") == 0) {
        m->keep = false;
    }
}

static void row_start(struct ods *o, const char **attr)
{
    const char *seen = tb_xml_attr(attr, "visibility");

    tb_row_begin(&o->row);
    o->row_struck = is_among(&o->struck, tb_xml_attr(attr, "default-cell-style-name"));
    if (seen && strcmp(seen, "visible") != 0)
        o->row.look = TB_ROW_HIDDEN;
}

static void ods_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct ods *o = m->arg;

    if (strcmp(name, "table") == 0) {
        table_start(m, attr);
    } else if (!o->in_sheet) {
        style_start(m, name, attr);
    } else if (o->skip || o->inner) {
        return;
    } else if (strcmp(name, "table-row") == 0) {
        o->row_repeat = repeats(attr, "number-rows-repeated");
        o->column = 0;
        row_start(o, attr);
    } else if (strcmp(name, "table-cell") == 0 || strcmp(name, "covered-table-cell") == 0) {
        cell_start(m, name, attr);
    } else if (o->cell_depth) {
        text_start(m, name, attr);
    }
}

/* A number shown with zeros before it is meant with them. */
static bool padded(const char *shown, double value)
{
    size_t n = strlen(shown);

    return n > 1 && n < 20 && shown[0] == '0' && strspn(shown, "0123456789") == n &&
           strtod(shown, NULL) == value;
}

static void put(struct ods *o, enum tb_cell_type type, const char *text, double number)
{
    tb_row_count(&o->row, o->cell_struck);
    for (size_t i = 0; i < o->cell_repeat && o->column + i < TB_SHEET_COLUMNS_MOST; i++)
        (void)tb_row_put(&o->row, o->column + i, type, text, strlen(text), number);
}

static void put_number(struct tb_xml *m, const char *shown)
{
    struct ods *o = m->arg;
    char text[TB_NUMBER_TEXT], *end, cell[8];
    double v = strtod(o->value, &end);

    if (!*o->value || *end || !isfinite(v)) {
        tb_column_letters(cell, o->column);
        m->rc = tb_fail(m->x->err, TB_EFORMAT,
                        "cell %s%zu holds a number that cannot be read; the workbook is damaged", cell,
                        o->line + 1);
        return;
    }
    tb_number_text(text, v);
    put(o, TB_CELL_NUMBER, padded(shown, v) ? shown : text, v);
}

static void cell_end(struct tb_xml *m)
{
    struct ods *o = m->arg;
    const char *shown = tb_text_str(&m->text);

    o->cell_depth = 0;
    if (o->covered) {
        /* under a joined cell nothing is shown */
    } else if (o->type == 'n') {
        put_number(m, shown);
    } else if (o->type == 'd') {
        char *time = strchr(o->value, 'T');

        if (time)
            *time = '\0';
        put(o, tb_day_valid(o->value) ? TB_CELL_DAY : TB_CELL_TEXT, tb_day_valid(o->value) ? o->value : shown,
            NAN);
    } else if (o->type == 'b') {
        put(o, TB_CELL_TEXT, strcmp(o->value, "true") == 0 ? "TRUE" : "FALSE", NAN);
    } else if (*shown) {
        put(o, TB_CELL_TEXT, shown, NAN);
    }
    o->column += o->cell_repeat;
    if (o->column > TB_SHEET_COLUMNS_MOST)
        o->column = TB_SHEET_COLUMNS_MOST;
}

/* Rows that are alike may stand once with their number: a few bytes can come to any number of cells. */
static void row_end(struct tb_xml *m)
{
    struct ods *o = m->arg;
    size_t n = o->row.cells ? o->row_repeat : 0;

    if (n && o->line + n > TB_SHEET_ROWS_MOST)
        m->rc = tb_fail(m->x->err, TB_EFORMAT, "the sheet has more rows than the %d a spreadsheet can hold",
                        TB_SHEET_ROWS_MOST);
    else if (n && (o->repeated += (n - 1) * o->row.cells) > REPEATED_MOST)
        m->rc = tb_fail(m->x->err, TB_EFORMAT,
                        "the workbook repeats rows until they come to more than %d cells; it is not read",
                        REPEATED_MOST);
    for (size_t i = 0; m->rc == TB_OK && i < n; i++)
        m->rc = tb_row_emit(&o->row, o->line + i + 1, o->sink, m->x->err);
    o->line += o->row_repeat;
}

static void ods_end(struct tb_xml *m, const char *name)
{
    struct ods *o = m->arg;

    if (!o->in_sheet)
        return;
    if (strcmp(name, "table") == 0 && m->depth == TABLE_DEPTH - 1)
        o->in_sheet = false;
    else if (strcmp(name, "table") == 0)
        o->inner -= o->inner > 0;
    else if (o->skip || o->inner)
        return;
    else if (o->cell_depth && m->depth + 1 == o->cell_depth)
        cell_end(m);
    else if (strcmp(name, "p") == 0)
        m->keep = false;
    else if (strcmp(name, "ruby-text") == 0)
        m->keep = o->cell_depth != 0;
    else if (strcmp(name, "table-row") == 0)
        row_end(m);
}

tb_rc tb_ods_rows(struct tb_xlsx *x, const struct tb_sheet_sink *sink)
{
    struct ods o = { .sink = sink };
    struct tb_xml m = { .start = ods_start, .end = ods_end, .arg = &o };
    tb_rc rc;

    tb_row_begin(&o.row);
    rc = tb_xml_part(x, &m, "content.xml");
    if (rc == TB_OK && o.sheets == 0)
        rc = tb_fail(x->err, TB_EFORMAT, "the workbook has no sheet");
    drop(&o.hidden);
    drop(&o.struck);
    free(o.style);
    tb_row_free(&o.row);
    return rc;
}
