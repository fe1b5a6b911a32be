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
#include "gen/gen.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* What a column is, by what its header says behind the colon. */
static const struct kind {
    const char *suffix, *type, *empty;
} kinds[] = { { "", "const char *", NULL },
              { ":number", "double ", "NAN" },
              { ":integer", "int ", "TB_REF_NONE" } };
enum { TEXT, NUMBER, INTEGER, KINDS };

struct column {
    char *name;
    int kind;
};

/* The place of a cell of a row. */
static struct place cell_at(const struct csv_row *row, size_t cell)
{
    return (struct place){ row->at.file, row->at.line, (int)cell + 1 };
}

static struct column *read_header(const struct csv_row *header)
{
    struct column *list = grown(NULL, header->n, sizeof *list);

    for (size_t i = 0; i < header->n; i++) {
        char *name = joined(NULL, header->cell[i]);
        size_t n = strspn(name, "abcdefghijklmnopqrstuvwxyz0123456789_");
        int kind = 0;

        while (kind < KINDS && strcmp(kinds[kind].suffix, name + n) != 0)
            kind++;
        if (n == 0 || (name[n] && name[n] != ':'))
            stop(cell_at(header, i), "column names are lower case letters, digits and _, not '%s'", name);
        if (kind == KINDS)
            stop(cell_at(header, i), "a column is text, :number or :integer, not '%s'", name);
        name[n] = '\0';
        list[i] = (struct column){ name, kind };
    }
    return list;
}

/* A further file says the columns again, with or without their kinds. */
static void check_header(const struct csv_row *header, const struct column *column, size_t n)
{
    for (size_t i = 0; i < header->n; i++) {
        size_t len = strcspn(header->cell[i], ":");

        if (header->n != n || strlen(column[i].name) != len ||
            memcmp(column[i].name, header->cell[i], len) != 0)
            stop(cell_at(header, i), "the header is not that of the first file at '%s'", header->cell[i]);
    }
}

static void write_cell(FILE *c, const char *text, int kind, struct place at)
{
    char *end = NULL;

    errno = 0;
    if (kind == TEXT) {
        write_string(c, text);
    } else if (!*text) {
        (void)fputs(kinds[kind].empty, c);
    } else if (kind == NUMBER) {
        double v = strtod(text, &end);

        if (*end || errno)
            stop(at, "not a number: '%s'", text);
        (void)fprintf(c, "%.17g", v);
    } else {
        long v = strtol(text, &end, 10);

        if (*end || errno)
            stop(at, "not a whole number: '%s'", text);
        (void)fprintf(c, "%ld", v);
    }
}

static void write_row(FILE *c, const struct csv_row *row, const struct column *column)
{
    for (size_t i = 0; i < row->n; i++) {
        (void)fprintf(c, "%s.%s = ", i ? ", " : "    { ", column[i].name);
        write_cell(c, row->cell[i], column[i].kind, cell_at(row, i));
    }
    (void)fputs(" },\n", c);
}

static void write_head(FILE *h, FILE *c, const char *name, const char *file, const struct column *column,
                       size_t n)
{
    (void)fprintf(
        h, "/* made from %s */\n#pragma once\n#include <limits.h>\n#include <math.h>\n#include <stddef.h>\n",
        file);
    (void)fprintf(h, "#define TB_REF_NONE INT_MIN\nstruct tb_ref_%s {\n", name);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(h, "    %s%s;\n", kinds[column[i].kind].type, column[i].name);
    (void)fprintf(h, "};\nextern const struct tb_ref_%s tb_ref_%s[];\nextern const size_t tb_ref_%s_n;\n",
                  name, name, name);
    (void)fprintf(c, "#include \"gen/ref_%s.h\"\nconst struct tb_ref_%s tb_ref_%s[] = {\n", name, name, name);
}

int main(int argc, char **argv)
{
    struct column *column = NULL;
    size_t columns = 0, rows = 0;
    FILE *h, *c;

    if (argc < 5) {
        (void)fputs("usage: refgen NAME OUT.h OUT.c IN.csv [MORE.csv ...]\n", stderr);
        return 2;
    }
    h = made(argv[2]);
    c = made(argv[3]);
    for (int i = 4; i < argc; i++) {
        const struct csv_rows all = read_csv(argv[i]);

        if (i > 4) {
            check_header(&all.row[0], column, columns);
        } else {
            columns = all.row[0].n;
            column = read_header(&all.row[0]);
            write_head(h, c, argv[1], argv[4], column, columns);
        }
        for (size_t r = 1; r < all.n; r++)
            write_row(c, &all.row[r], column);
        rows += all.n - 1;
    }
    (void)fprintf(c, "};\nconst size_t tb_ref_%s_n = %zu;\n", argv[1], rows);
    return fclose(h) || fclose(c) ? 1 : 0;
}
