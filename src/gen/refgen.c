/*
 * refgen - turn one reference table (CSV) into a C header and source.
 *
 *   refgen NAME OUT.h OUT.c IN.csv [MORE.csv ...]
 *
 * The rows of further files stand behind those of the first; their header must be the same.
 *
 * The header row names the members. A cell `name` is text, `name:number` a double (empty: NAN), `name:integer`
 * an int (empty: TB_REF_NONE). The result is `struct tb_ref_NAME`, `tb_ref_NAME[]` and `tb_ref_NAME_n`.
 * Anything odd (a short row, text in a number column, a quote not closed) stops the build and names the line.
 */
#include <csv.h>
#include <ctype.h>
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COLUMNS_MOST 64

enum kind { TEXT, NUMBER, INTEGER };

struct table {
    const char *name, *file;
    FILE *h, *c;
    char *column[COLUMNS_MOST];
    enum kind kind[COLUMNS_MOST];
    size_t columns, cell;
    size_t row;  /* of the file at hand, its header included */
    size_t rows; /* written so far, from all files */
    bool more;   /* a further file: its header is only compared */
};

/* The place is file, line and cell: a cell never holds a line break. */
static void stop(const struct table *t, const char *what, const char *value)
{
    (void)fprintf(stderr, "refgen: %s:%zu:%zu: %s '%s'\n", t->file, t->row + 1, t->cell + 1, what, value);
    exit(1);
}

static void put_string(FILE *f, const char *s)
{
    (void)fputc('"', f);
    for (; *s; s++) {
        unsigned char b = (unsigned char)*s;

        if (b == '"' || b == '\\')
            (void)fprintf(f, "\\%c", b);
        else if (b < 32 || b > 126 ||
                 b == '?') /* octal is self-limiting where hexadecimal is not; ? may begin a trigraph */
            (void)fprintf(f, "\\%03o", b);
        else
            (void)fputc(b, f);
    }
    (void)fputc('"', f);
}

/* "says", "number:number": the header's cell for a column that is known. */
static bool same_column(const struct table *t, const char *text)
{
    size_t n = strcspn(text, ":");

    return t->cell < t->columns && strlen(t->column[t->cell]) == n &&
           memcmp(t->column[t->cell], text, n) == 0;
}

static void check_column(struct table *t, const char *text)
{
    if (!same_column(t, text))
        stop(t, "the header is not that of the first file at", text);
    t->cell++;
}

static void add_column(struct table *t, const char *text)
{
    char *name = strdup(text), *colon;

    if (!name || t->columns == COLUMNS_MOST)
        stop(t, "too many columns at", text);
    if ((colon = strchr(name, ':'))) {
        *colon++ = '\0';
        if (strcmp(colon, "number") != 0 && strcmp(colon, "integer") != 0)
            stop(t, "a column is text, :number or :integer, not", text);
    }
    for (const char *p = name; *p; p++)
        if (!(islower((unsigned char)*p) || isdigit((unsigned char)*p) || *p == '_'))
            stop(t, "column names are lower case letters, digits and _, not", text);
    t->column[t->columns] = name;
    t->kind[t->columns++] = !colon ? TEXT : colon[0] == 'n' ? NUMBER : INTEGER;
}

static void put_cell(struct table *t, const char *text)
{
    char *end = NULL;

    if (t->cell >= t->columns)
        stop(t, "more cells than columns, at", text);
    (void)fprintf(t->c, "%s.%s = ", t->cell ? ", " : "    { ", t->column[t->cell]);
    errno = 0;
    if (t->kind[t->cell] == TEXT) {
        put_string(t->c, text);
    } else if (t->kind[t->cell] == NUMBER) {
        double v = strtod(text, &end);

        if (*text && (*end || errno))
            stop(t, "not a number:", text);
        if (*text)
            (void)fprintf(t->c, "%.17g", v);
        else
            (void)fputs("NAN", t->c);
    } else {
        long v = strtol(text, &end, 10);

        if (*text && (*end || errno))
            stop(t, "not a whole number:", text);
        if (*text)
            (void)fprintf(t->c, "%ld", v);
        else
            (void)fputs("TB_REF_NONE", t->c);
    }
    t->cell++;
}

static void on_cell(void *data, size_t len, void *arg)
{
    struct table *t = arg;
    char *text = strndup(data ? data : "", data ? len : 0);

    if (!text)
        stop(t, "out of memory", "");
    if (strpbrk(text, "\r\n"))
        stop(t, "a cell is one line, not", text);
    if (t->row == 0 && t->more)
        check_column(t, text);
    else if (t->row == 0)
        add_column(t, text);
    else
        put_cell(t, text);
    free(text);
}

static void put_head(const struct table *t)
{
    (void)fprintf(
        t->h,
        "/* made from %s */\n#pragma once\n#include <limits.h>\n#include <math.h>\n#include <stddef.h>\n",
        t->file);
    (void)fprintf(t->h, "#define TB_REF_NONE INT_MIN\nstruct tb_ref_%s {\n", t->name);
    for (size_t i = 0; i < t->columns; i++)
        (void)fprintf(t->h, "    %s%s;\n",
                      t->kind[i] == TEXT     ? "const char *"
                      : t->kind[i] == NUMBER ? "double "
                                             : "int ",
                      t->column[i]);
    (void)fprintf(t->h, "};\nextern const struct tb_ref_%s tb_ref_%s[];\nextern const size_t tb_ref_%s_n;\n",
                  t->name, t->name, t->name);
    (void)fprintf(t->c, "#include \"gen/ref_%s.h\"\nconst struct tb_ref_%s tb_ref_%s[] = {\n", t->name,
                  t->name, t->name);
}

static void on_row(int ch, void *arg)
{
    struct table *t = arg;

    (void)ch;
    if (t->row == 0 && !t->more) {
        put_head(t);
    } else {
        if (t->cell != t->columns)
            stop(t, "fewer cells than columns, first column", t->column[0]);
        if (t->row) {
            (void)fputs(" },\n", t->c);
            t->rows++;
        }
    }
    t->cell = 0;
    t->row++;
}

static void read_file(struct table *t, const char *file)
{
    FILE *in = fopen(file, "rb");
    struct csv_parser p;
    char buf[65536];
    size_t n;

    t->file = file;
    t->row = t->cell = 0;
    if (!in || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0)
        stop(t, "cannot be read:", strerror(errno));
    while ((n = fread(buf, 1, sizeof buf, in)) > 0)
        if (csv_parse(&p, buf, n, on_cell, on_row, t) != n)
            stop(t, "broken CSV:", csv_strerror(csv_error(&p)));
    if (csv_fini(&p, on_cell, on_row, t) != 0)
        stop(t, "broken CSV:", csv_strerror(csv_error(&p)));
    if (t->row < 2)
        stop(t, "a table needs a header and a row", "");
    csv_free(&p);
    (void)fclose(in);
}

int main(int argc, char **argv)
{
    struct table t = { 0 };

    if (argc < 5) {
        (void)fputs("usage: refgen NAME OUT.h OUT.c IN.csv [MORE.csv ...]\n", stderr);
        return 2;
    }
    t.name = argv[1];
    t.h = fopen(argv[2], "w");
    t.c = fopen(argv[3], "w");
    if (!t.h || !t.c) {
        perror("refgen");
        exit(1);
    }
    for (int i = 4; i < argc; i++, t.more = true)
        read_file(&t, argv[i]);
    (void)fprintf(t.c, "};\nconst size_t tb_ref_%s_n = %zu;\n", t.name, t.rows);
    for (size_t i = 0; i < t.columns; i++)
        free(t.column[i]);
    return fclose(t.h) || fclose(t.c) ? 1 : 0;
}
