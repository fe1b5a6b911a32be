/* The header that is made: names of statements, structs, prototypes. */
#include "gen/sqlgen.h"

#include <ctype.h>
#include <string.h>

bool read_by_column(const struct statement *s)
{
    return strncmp(s->name, "facts_", 6) == 0 || strncmp(s->name, "extract_", 8) == 0;
}

/* The type of a member or parameter, ready for its name. */
static void write_type(FILE *f, const struct column *c)
{
    if (c->kind == WORD)
        (void)fprintf(f, "enum tb_%s_kind ", c->word);
    else
        (void)fputs(kinds[c->kind].type, f);
}

static void write_members(FILE *f, const struct columns *list)
{
    (void)fputs(" {\n", f);
    for (size_t i = 0; i < list->n; i++) {
        const struct column *c = &list->column[i];

        if (c->kind > WORD)
            continue; /* the book knows it itself */
        (void)fputs("    ", f);
        write_type(f, c);
        (void)fprintf(f, "%s;\n", c->name);
        if (c->kind == BYTES)
            (void)fputs("    size_t size;\n", f);
    }
    (void)fputs("};\n", f);
}

void write_parameters(FILE *f, const struct statement *s, bool typed)
{
    for (size_t i = 0; i < s->in.n; i++) {
        (void)fputs(", ", f);
        if (typed)
            write_type(f, &s->in.column[i]);
        (void)fputs(s->in.column[i].name, f);
    }
}

void write_head(FILE *f, const struct statement *s)
{
    if (s->fact) {
        if (s->from.text)
            (void)fprintf(f, "tb_rc tb_put_%s(const struct tb_%s *r", s->fact, s->from.text);
        else
            (void)fprintf(f, "tb_rc tb_put_%s(const struct tb_%s_fact *r", s->fact, s->fact);
        (void)fputs(", struct tb_book *b, struct tb_err *err)", f);
        return;
    }
    (void)fprintf(f, "struct tb_stmt *tb_sql_%s(struct tb_book *b", s->name);
    if (s->from.text)
        (void)fprintf(f, ", const struct tb_%s *r", s->from.text);
    else
        write_parameters(f, s, true);
    (void)fputc(')', f);
}

static void write_include(FILE *f, const struct book_sql *all, const char *header, size_t rows,
                          size_t statements)
{
    for (size_t i = 0; i < rows; i++)
        if (all->row[i].header && strcmp(all->row[i].header, header) == 0)
            return;
    for (size_t i = 0; i < statements; i++)
        if (all->statement[i].from_header && strcmp(all->statement[i].from_header, header) == 0)
            return;
    (void)fprintf(f, "#include \"%s\"\n", header);
}

static void write_includes(FILE *f, const struct book_sql *all)
{
    (void)fputs("/* made from sql/ */\n#pragma once\n", f);
    for (size_t i = 0; i < all->rows; i++)
        if (all->row[i].header)
            write_include(f, all, all->row[i].header, i, 0);
    for (size_t i = 0; i < all->statements; i++)
        if (all->statement[i].from_header)
            write_include(f, all, all->statement[i].from_header, all->rows, i);
}

static void write_names(FILE *f, const struct book_sql *all)
{
    (void)fputs("\nenum tb_sql {\n", f);
    for (size_t i = 0; i < all->statements; i++) {
        (void)fputs("    TB_SQL_", f);
        for (const char *s = all->statement[i].name; *s; s++)
            (void)fputc(toupper((unsigned char)*s), f);
        (void)fputs(",\n", f);
    }
    (void)fputs("    TB_SQL_COUNT\n};\n", f);
}

/* What the driver offers to the functions that are made, and the tables. */
static void write_fixed(FILE *f)
{
    (void)fputs(
        "enum tb_sql_kind { TB_KIND_TEXT, TB_KIND_WHOLE, TB_KIND_NUMBER, TB_KIND_BYTES };\n"
        "struct tb_sql_column {\n    const char *name;\n    enum tb_sql_kind kind;\n"
        "    bool null; /* it may hold nothing */\n};\n"
        "struct tb_sql_text {\n    const char *name, *fact /* table; \"\" none */, *text;\n"
        "    const struct tb_sql_column *in, *out;\n    int ins, outs;\n};\n"
        "extern const struct tb_sql_text tb_sql_table[];\n"
        "struct tb_migration {\n    const char *name, *text;\n};\n"
        "extern const struct tb_migration tb_migration_table[];\n"
        "extern const size_t tb_migration_n;\n"
        "extern const unsigned char tb_schema_digest[32]; /* of what all of them make: examine.c */\n\n"
        "struct tb_stmt;\nvoid tb_done(struct tb_stmt *q);\n"
        "typedef tb_rc tb_row_fn(void *row, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err);\n"
        "tb_rc tb_next(void *row, tb_row_fn *read, struct tb_stmt *q, struct tb_arena *mem, "
        "struct tb_err *err);\n"
        "tb_rc tb_one(void *row, tb_row_fn *read, struct tb_stmt *q, struct tb_arena *mem, "
        "struct tb_err *err);\n"
        "tb_rc tb_all(void **rows, size_t *n, size_t size, tb_row_fn *read, struct tb_stmt *q, "
        "struct tb_arena *mem, struct tb_err *err);\n",
        f);
}

/* The ways of reading rows, with the type of the row. */
static void write_row(FILE *f, const struct row *row)
{
    const char *n = row->name;

    (void)fputc('\n', f);
    if (!row->header) {
        (void)fprintf(f, "struct tb_%s", n);
        write_members(f, &row->columns);
    }
    (void)fprintf(f, "tb_row_fn tb_read_%s;\n", n);
    for (int one = 0; one < 2; one++)
        (void)fprintf(
            f,
            "static inline tb_rc tb_%s_%s(struct tb_%s *out, struct tb_stmt *q, struct tb_arena *mem, "
            "struct tb_err *err)\n{\n    return tb_%s(out, tb_read_%s, q, mem, err);\n}\n",
            one ? "one" : "next", n, n, one ? "one" : "next", n);
    (void)fprintf(f,
                  "static inline tb_rc tb_all_%s(struct tb_%s **out, size_t *n, struct tb_stmt *q, "
                  "struct tb_arena *mem, struct tb_err *err)\n{\n    void *rows = NULL;\n"
                  "    tb_rc rc = tb_all(&rows, n, sizeof **out, tb_read_%s, q, mem, err);\n\n"
                  "    if (rc == TB_OK)\n        *out = rows;\n    return rc;\n}\n",
                  n, n, n);
    /* one row at a time: a walk over all rows of all years must not grow */
    (void)fprintf(
        f,
        "static inline tb_rc tb_each_%s(struct tb_stmt *q,\n"
        "    tb_rc (*fn)(void *arg, const struct tb_%s *row, struct tb_err *err), void *arg, struct tb_err "
        "*err)\n"
        "{\n    struct tb_arena mem = { 0 };\n"
        "    struct tb_%s row;\n    tb_rc rc;\n\n"
        "    while ((rc = tb_next_%s(&row, q, &mem, err)) == TB_OK && (rc = fn(arg, &row, err)) == TB_OK)\n"
        "        tb_arena_free(&mem);\n    tb_done(q);\n    tb_arena_free(&mem);\n"
        "    return rc == TB_ENOTFOUND ? TB_OK : rc;\n}\n",
        n, n, n, n);
}

void write_header(FILE *f, const struct book_sql *all)
{
    write_includes(f, all);
    write_names(f, all);
    write_fixed(f);
    for (size_t i = 0; i < all->rows; i++)
        write_row(f, &all->row[i]);
    (void)fputc('\n', f);
    for (size_t i = 0; i < all->statements; i++) {
        const struct statement *s = &all->statement[i];

        if (read_by_column(s))
            continue;
        if (s->fact && !s->from.text) {
            (void)fprintf(f, "struct tb_%s_fact", s->fact);
            write_members(f, &s->in);
        }
        write_head(f, s);
        (void)fputs(";\n", f);
    }
}
