/*
 * refgen - turn one reference table (CSV) into a C header and source.
 *
 *   refgen NAME IN.csv OUT.h OUT.c
 *
 * The header row names the members. A cell `name` is text, `name:number` a double (empty: NAN), `name:integer`
 * an int (empty: TB_REF_NONE). The result is `struct tb_ref_NAME`, `tb_ref_NAME[]` and `tb_ref_NAME_n`.
 * Anything odd (a short row, text in a number column, a quote not closed) stops the build and names the line.
 */
#include <csv.h>
#include <ctype.h>
#include <errno.h>
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
    size_t columns, cell, row;
};

static void stop(const struct table *t, const char *what, const char *value)
{
    (void)fprintf(stderr, "refgen: %s row %zu: %s '%s'\n", t->file, t->row + 1, what, value);
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
    if (t->row == 0)
        add_column(t, text);
    else
        put_cell(t, text);
    free(text);
}

static void on_row(int ch, void *arg)
{
    struct table *t = arg;

    (void)ch;
    if (t->row == 0) {
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
        (void)fprintf(t->h,
                      "};\nextern const struct tb_ref_%s tb_ref_%s[];\nextern const size_t tb_ref_%s_n;\n",
                      t->name, t->name, t->name);
        (void)fprintf(t->c, "#include \"gen/ref_%s.h\"\nconst struct tb_ref_%s tb_ref_%s[] = {\n", t->name,
                      t->name, t->name);
    } else {
        if (t->cell != t->columns)
            stop(t, "fewer cells than columns, first column", t->column[0]);
        (void)fputs(" },\n", t->c);
    }
    t->cell = 0;
    t->row++;
}

int main(int argc, char **argv)
{
    struct table t = { 0 };
    struct csv_parser p;
    char buf[65536];
    size_t n;
    FILE *in;

    if (argc != 5 || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        (void)fputs("usage: refgen NAME IN.csv OUT.h OUT.c\n", stderr);
        return 2;
    }
    t.name = argv[1];
    t.file = argv[2];
    in = fopen(argv[2], "rb");
    t.h = fopen(argv[3], "w");
    t.c = fopen(argv[4], "w");
    if (!in || !t.h || !t.c) {
        perror("refgen");
        return 1;
    }
    while ((n = fread(buf, 1, sizeof buf, in)) > 0)
        if (csv_parse(&p, buf, n, on_cell, on_row, &t) != n)
            stop(&t, "broken CSV:", csv_strerror(csv_error(&p)));
    if (csv_fini(&p, on_cell, on_row, &t) != 0)
        stop(&t, "broken CSV:", csv_strerror(csv_error(&p)));
    if (t.row < 2)
        stop(&t, "a table needs a header and a row", "");
    (void)fprintf(t.c, "};\nconst size_t tb_ref_%s_n = %zu;\n", t.name, t.row - 1);
    csv_free(&p);
    for (size_t i = 0; i < t.columns; i++)
        free(t.column[i]);
    return fclose(in) || fclose(t.h) || fclose(t.c) ? 1 : 0;
}
