/* sheet_csv.c - CSV by libcsv, strict: delimiter found, lines counted; a mark for inches is no quotation mark. */
#include "base/sheet_in.h"
#include "base/sheet_text.h"

#include <csv.h>
#include <math.h>
#include <string.h>
#include <strings.h>

struct csv_in {
    struct csv_parser parser;
    const struct tb_sheet_sink *sink;
    struct tb_err *err;
    struct tb_row_buf row;
    size_t column, line, row_line;
    bool aligned; /* no CSV: its columns stand below one another */
    bool fired;   /* a row ended on this line */
    bool filled;  /* this line holds something besides white space */
    bool between; /* no row is open: the next filled line begins one */
    char eol;
    tb_rc rc;
};

#define STEADY_COUNTS 256

/* How steadily a delimiter divides the lines of the sample: lines with the commonest count, then that count. */
static size_t steadiness(const char *s, size_t n, char delimiter)
{
    enum { COUNTS = STEADY_COUNTS };
    size_t lines[COUNTS] = { 0 }, best = 0, count = 0, filled = 0;
    bool quoted = false;

    for (size_t i = 0; i < n; i++) {
        if (s[i] == '"' &&
            (quoted || i == 0 || s[i - 1] == delimiter || s[i - 1] == '\n' || s[i - 1] == '\r'))
            quoted = !quoted;
        else if (!quoted && s[i] == delimiter)
            count++;
        if (!quoted && (s[i] == '\n' || s[i] == '\r')) {
            if (filled)
                lines[count < COUNTS ? count : COUNTS - 1]++;
            count = filled = 0;
        } else {
            filled = 1;
        }
    }
    if (filled)
        lines[count < COUNTS ? count : COUNTS - 1]++;
    for (size_t k = 1; k < COUNTS; k++)
        if (lines[k] && lines[k] >= lines[best ? best : k])
            best = k;
    return best ? lines[best] * COUNTS + best : 0;
}

/* Does every comma stand between two digits, as a decimal sign does? */
static bool only_decimals(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (s[i] == ',' &&
            !(i && i + 1 < n && s[i - 1] >= '0' && s[i - 1] <= '9' && s[i + 1] >= '0' && s[i + 1] <= '9'))
            return false;
    return true;
}

#define PASTED_LINES 3 /* with the same number of tabs */

/* Nobody types tabs: lines with the same number of them are a table that was pasted, whatever commas stand around it. */
static bool pasted_table(const char *s, size_t n)
{
    size_t steady = steadiness(s, n, '\t');

    return steady / STEADY_COUNTS >= PASTED_LINES && steady % STEADY_COUNTS >= 2;
}

/* The one that gives most lines the same number of cells; a line "sep=;" is an order. */
static char find_delimiter(const char *s, size_t n)
{
    static const char choice[] = { '\t', ';', ',' };
    size_t most = 0;
    char found = ',';

    if (n > 5 && strncasecmp(s, "sep=", 4) == 0 && strchr(",;\t", s[4]) && strchr("\r\n", s[5]))
        return s[4];
    if (pasted_table(s, n))
        return '\t';
    for (size_t i = 0; i < sizeof choice; i++) {
        size_t steady = steadiness(s, n, choice[i]);

        if (steady > most) {
            most = steady;
            found = choice[i];
        }
    }
    for (size_t i = 0; i < 2 && found == ','; i++)
        if (steadiness(s, n, choice[i]) >= 2 * STEADY_COUNTS && only_decimals(s, n))
            found = choice[i];
    return found;
}

/* After a failure the rest of the chunk still comes through here and is ignored. */
static void on_cell(void *data, size_t n, void *arg)
{
    struct csv_in *in = arg;

    if (in->rc != TB_OK)
        return;
    if (!tb_row_put(&in->row, in->column++, TB_CELL_TEXT, data, n, NAN))
        in->rc = tb_fail(in->err, TB_EFORMAT, "line %zu has more than %d columns", in->row_line,
                         TB_SHEET_COLUMNS_MOST);
}

/* A line "sep=;" is read like any other and then not handed on. */
static void on_row(int end, void *arg)
{
    struct csv_in *in = arg;
    bool hint = in->row_line == 1 && in->column <= 2 && in->row.cells &&
                strncasecmp(in->row.text + in->row.at[0], "sep=", 4) == 0;

    (void)end;
    in->fired = true;
    if (in->rc == TB_OK && !hint)
        in->rc = tb_row_emit(&in->row, in->row_line, in->sink, in->err);
    tb_row_begin(&in->row);
    in->column = 0;
}

static bool ends_cell(char c, char delimiter)
{
    return c == delimiter || c == '\n' || c == '\r';
}

/* Does a cell that begins with a mark end with it at once? A ditto mark: no quotation begins with what divides cells. */
static bool has_lone_mark(const struct csv_in *in, const char *s, size_t n)
{
    char delimiter = (char)in->parser.delim_char;

    for (size_t i = 0; i < n; i++) {
        while (i < n && s[i] == ' ')
            i++;
        if (i < n && s[i] == '"') {
            if (i + 1 == n || ends_cell(s[i + 1], delimiter))
                return true;
            for (i++; i < n && (s[i] != '"' || (i + 1 < n && s[i + 1] == '"')); i++)
                i += s[i] == '"';
        }
        while (i < n && !ends_cell(s[i], delimiter))
            i++;
    }
    return false;
}

/*
 * Are the marks of a whole line, if it has any, no quotes around cells? So it is where no cell begins with one, and in each cell
 * they stand in pairs (Weavers "Lena"), after a figure (58") or between dashes alone (- " -). Any other mark may be half of a quotation that was broken.
 */
static bool marks_are_text(const struct csv_in *in, const char *s, size_t n)
{
    bool begun = false, pair = false, ditto = true;

    for (size_t i = 0; i < n; i++) {
        if (s[i] == '"') {
            if (!begun)
                return false;
            if (pair || !(s[i - 1] >= '0' && s[i - 1] <= '9'))
                pair = !pair;
        } else if (s[i] == (char)in->parser.delim_char || s[i] == '\n' || s[i] == '\r') {
            if (pair && !ditto)
                return false;
            begun = pair = false;
            ditto = true;
        } else {
            begun = begun || s[i] != ' ';
            ditto = ditto && (s[i] == ' ' || s[i] == '-');
        }
    }
    return !pair || ditto;
}

/* Feed a piece that ends with the line, or with the chunk. */
static tb_rc feed(struct csv_in *in, const char *s, size_t n)
{
    if (in->between && !in->filled)
        in->row_line = in->line;
    if (memchr(s, '\0', n))
        return tb_fail(in->err, TB_EFORMAT, "line %zu holds a zero byte; this is not a table in text form",
                       in->line);
    if (in->between && !in->filled)
        csv_set_quote(&in->parser,
                      s[n - 1] == in->eol && (has_lone_mark(in, s, n) || marks_are_text(in, s, n)) ? '\0'
                                                                                                   : '"');
    for (size_t i = 0; i < n && !in->filled; i++)
        in->filled = s[i] != ' ' && s[i] != '\t' && s[i] != '\r' && s[i] != '\n';
    if (csv_parse(&in->parser, s, n, on_cell, on_row, in) != n && csv_error(&in->parser) == CSV_ENOMEM)
        tb_no_memory();
    if (csv_error(&in->parser) != CSV_SUCCESS)
        return tb_fail(
            in->err, TB_EFORMAT,
            "line %zu has a quotation mark where there may not be one; a cell that holds one must be "
            "quoted whole and the mark written twice",
            in->line);
    if (in->parser.entry_pos > TB_SHEET_FIELD_MOST)
        return tb_fail(
            in->err, TB_EFORMAT,
            "the row that begins on line %zu has a cell without end; is a quotation mark not closed?",
            in->row_line);
    return in->rc;
}

/* Line by line, so that a fault can be reported with its line, and quoted line ends count too. */
static tb_rc feed_chunk(struct csv_in *in, const char *s, size_t n)
{
    const char *end = s + n;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && s < end) {
        const char *nl = memchr(s, in->eol, (size_t)(end - s)), *stop = nl ? nl + 1 : end;

        rc = feed(in, s, (size_t)(stop - s));
        if (nl) {
            in->line++;
            if (in->fired || in->filled)
                in->between = in->fired;
            in->fired = in->filled = false;
        }
        s = stop;
    }
    return rc;
}

/* The end of the file is a test of its own: a quotation mark may still be open. */
static tb_rc read_all(struct csv_in *in, struct tb_decoder *d, const char *text, size_t n)
{
    tb_rc rc = TB_OK;

    while (rc == TB_OK && n > 0) {
        rc = feed_chunk(in, text, n);
        if (rc == TB_OK)
            rc = tb_decoder_next(d, &text, &n, in->err);
    }
    if (rc == TB_OK && csv_fini(&in->parser, on_cell, on_row, in) != 0)
        rc = tb_fail(in->err, TB_EFORMAT, "the quotation mark opened in the row of line %zu is never closed",
                     in->row_line);
    return rc == TB_OK ? in->rc : rc;
}

/* Only now is the delimiter known; the parser takes it before its first byte. */
static tb_rc begin(struct csv_in *in, struct tb_decoder *d, const char *text, size_t n, bool *skip)
{
    struct tb_sheet sheet = { .kind = TB_SHEET_CSV, .name = "", .number = 1 };

    sheet.encoding = tb_decoder_encoding(d);
    sheet.delimiter = in->aligned ? ' ' : find_delimiter(text, n);
    in->eol = memchr(text, '\r', n) && !memchr(text, '\n', n) ? '\r' : '\n';
    csv_set_delim(&in->parser, (unsigned char)sheet.delimiter);
    return in->sink->sheet ? in->sink->sheet(in->sink->arg, &sheet, skip, in->err) : TB_OK;
}

tb_rc tb_csv_read(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct csv_in in = { .sink = sink, .err = err, .line = 1, .row_line = 1, .between = true };
    struct tb_decoder *d;
    const char *text;
    size_t n;
    bool skip = false;
    tb_rc rc;

    if (csv_init(&in.parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return tb_fail(err, TB_EIO, "the CSV reader cannot start");
    tb_row_begin(&in.row);
    rc = tb_decoder_new(&d, f, sink->encoding, err);
    if (rc == TB_OK && (rc = tb_decoder_next(d, &text, &n, err)) == TB_OK) {
        in.aligned = tb_text_aligned(text, n);
        rc = begin(&in, d, text, n, &skip);
    }
    if (rc == TB_OK && !skip)
        rc = in.aligned ? tb_text_read(d, text, n, sink, err) : read_all(&in, d, text, n);
    csv_free(&in.parser);
    tb_row_free(&in.row);
    tb_decoder_close(d);
    return rc;
}
