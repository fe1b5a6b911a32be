/* csv_in.c - the reference tables as text, each row with its place, so that a complaint can name it. */
#include "gen/gen.h"

#include <csv.h>
#include <errno.h>
#include <string.h>

struct reading {
    struct csv_rows rows;
    struct place at; /* of the cell that comes next */
    struct csv_row row;
};

static void on_cell(void *data, size_t len, void *arg)
{
    struct reading *r = arg;
    char *text = grown(NULL, len + 1, 1);

    if (len)
        memcpy(text, data, len);
    text[len] = '\0';
    if (strpbrk(text, "\r\n"))
        stop(r->at, "a cell is one line, not '%s'", text);
    if (r->rows.n && r->row.n == r->rows.row[0].n)
        stop(r->at, "more cells than columns, at '%s'", text);
    r->row.cell = grown(r->row.cell, r->row.n + 1, sizeof text);
    r->row.cell[r->row.n++] = text;
    r->at.column++;
}

static void on_row(int ch, void *arg)
{
    struct reading *r = arg;

    (void)ch;
    if (r->rows.n && r->row.n < r->rows.row[0].n)
        stop(r->at, "fewer cells than columns, first column '%s'", r->rows.row[0].cell[0]);
    r->row.at = (struct place){ .file = r->at.file, .line = r->at.line };
    r->rows.row = grown(r->rows.row, r->rows.n + 1, sizeof r->row);
    r->rows.row[r->rows.n++] = r->row;
    r->row = (struct csv_row){ .at = r->at };
    r->at = (struct place){ r->at.file, r->at.line + 1, 1 };
}

struct csv_rows read_csv(const char *file)
{
    struct reading r = { .at = { file, 1, 1 } };
    FILE *in = fopen(file, "rb");
    struct csv_parser p;
    char buf[65536];
    size_t n;

    if (!in || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        stop((struct place){ .file = file }, "the file cannot be read: %s", strerror(errno));
        return r.rows; /* for cppcheck, which does not see that stop() ends the program */
    }
    while ((n = fread(buf, 1, sizeof buf, in)) > 0)
        if (csv_parse(&p, buf, n, on_cell, on_row, &r) != n)
            stop(r.at, "broken CSV: %s", csv_strerror(csv_error(&p)));
    if (csv_fini(&p, on_cell, on_row, &r) != 0)
        stop(r.at, "broken CSV: %s", csv_strerror(csv_error(&p)));
    if (r.rows.n < 2)
        stop((struct place){ .file = file }, "a table needs a header and a row");
    csv_free(&p);
    (void)fclose(in);
    return r.rows;
}
