/* The functions that are made: parameters bound and rows read in the order of the comments. */
#include "gen/sqlgen.h"

#include <ctype.h>

/* One parameter; `r` says where its value stands: "r->" in the struct, "" among the parameters. */
static void write_bind(FILE *f, const char *r, size_t n, const struct column *c)
{
    const struct kind_of *k = &kinds[c->kind];

    (void)fprintf(f, "    tb_bind_%s(q, %zu, ", c->nothing == OR_MINUS ? "count" : k->bind, n);
    if (c->kind == WORD && c->nothing == OR_NULL)
        (void)fprintf(f, "%s%s == 0 ? NULL : ", r, c->name);
    (void)fprintf(f, k->value, r, c->name, c->word);
    if (c->nothing == OR_EMPTY)
        (void)fprintf(f, " ? %s%s : \"\"", r, c->name);
    (void)fputs(");\n", f);
}

/* A fact is written at once; what gives rows is handed over bound. */
static void write_binder(FILE *f, const struct statement *s)
{
    (void)fputc('\n', f);
    write_head(f, s);
    (void)fputs("\n{\n    struct tb_stmt *q = tb_query(b, TB_SQL_", f);
    for (const char *p = s->name; *p; p++)
        (void)fputc(toupper((unsigned char)*p), f);
    (void)fputs(");\n\n", f);
    for (size_t i = 0; i < s->in.n; i++)
        write_bind(f, s->fact || s->from.text ? "r->" : "", i + 1, &s->in.column[i]);
    (void)fputs(s->fact ? "    return tb_run(q, err);\n}\n" : "    return q;\n}\n", f);
}

static void write_read(FILE *f, size_t n, const struct column *c)
{
    if (c->kind == WORD) {
        (void)fprintf(
            f,
            "    if ((rc = tb_col_word(&word, q, %zu, &tb_%s_words, err)) != TB_OK)\n        return rc;\n"
            "    r->%s = (enum tb_%s_kind)word;\n",
            n, c->word, c->name, c->word);
        return;
    }
    (void)fprintf(f, "    r->%s = ", c->name);
    (void)fprintf(f, kinds[c->kind].read, n, c->nothing == OR_MINUS ? "count" : "whole");
    (void)fputs(";\n", f);
}

/* A row is cleared before it is filled: members that are no columns (a burn's cues) start empty. */
static void write_reader(FILE *f, const struct row *row)
{
    bool text = false, words = false;

    for (size_t i = 0; i < row->columns.n; i++) {
        text = text || row->columns.column[i].kind == TEXT || row->columns.column[i].kind == BYTES;
        words = words || row->columns.column[i].kind == WORD;
    }
    (void)fprintf(
        f,
        "\ntb_rc tb_read_%s(void *row, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err)\n{\n"
        "    struct tb_%s *r = row;\n",
        row->name, row->name);
    (void)fputs(words ? "    tb_rc rc;\n    int word;\n\n" : "\n    (void)err;\n", f);
    if (!text)
        (void)fputs("    (void)mem;\n", f);
    (void)fprintf(f, "    *r = (struct tb_%s){ 0 };\n", row->name);
    for (size_t i = 0; i < row->columns.n; i++)
        write_read(f, i, &row->columns.column[i]);
    (void)fputs("    return TB_OK;\n}\n", f);
}

/* A documented function that only hands on what a statement gives: "list" all rows, "find" the first. */
static void write_answer(FILE *f, const struct statement *s)
{
    const char *row = s->row ? s->row->name : "text", *type = s->row ? "struct tb_" : "const char *";

    (void)fprintf(f, "\ntb_rc tb_%s(%s%s *%sout%s, struct tb_book *b", s->list ? s->list : s->find, type,
                  s->row ? row : "", s->list ? "*" : "", s->list ? ", size_t *n" : "");
    write_parameters(f, s, true);
    (void)fprintf(f, ", struct tb_arena *mem, struct tb_err *err)\n{\n    return tb_%s_%s(out, %stb_sql_%s(b",
                  s->list ? "all" : "one", row, s->list ? "n, " : "", s->name);
    write_parameters(f, s, false);
    (void)fputs("), mem, err);\n}\n", f);
}

void write_functions(FILE *f, const struct book_sql *all)
{
    for (size_t i = 0; i < all->rows; i++)
        write_reader(f, &all->row[i]);
    for (size_t i = 0; i < all->statements; i++)
        if (!read_by_column(&all->statement[i]))
            write_binder(f, &all->statement[i]);
    for (size_t i = 0; i < all->statements; i++)
        if (all->statement[i].list || all->statement[i].find)
            write_answer(f, &all->statement[i]);
}
