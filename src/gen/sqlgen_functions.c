/* The functions that are made: parameters bound and rows read in the order of the comments. */
#include "gen/sqlgen.h"

#include <ctype.h>

/* One parameter; `r` says where its value stands: "r->" in the struct, "" among the parameters. */
static void write_bind(FILE *f, const char *r, size_t n, const struct column *c)
{
    const char *name = c->name;

    switch (c->kind) {
    case TEXT:
        if (c->nothing == OR_EMPTY)
            (void)fprintf(f, "    tb_bind_text(q, %zu, %s%s ? %s%s : \"\");\n", n, r, name, r, name);
        else
            (void)fprintf(f, "    tb_bind_text(q, %zu, %s%s);\n", n, r, name);
        break;
    case WHOLE:
    case INT:
    case SIZE:
        (void)fprintf(f, "    tb_bind_%s(q, %zu, %s%s);\n", c->nothing == OR_MINUS ? "count" : "whole", n, r,
                      name);
        break;
    case NUMBER:
        (void)fprintf(f, "    tb_bind_number(q, %zu, %s%s);\n", n, r, name);
        break;
    case FLAG:
        (void)fprintf(f, "    tb_bind_whole(q, %zu, %s%s);\n", n, r, name);
        break;
    case BYTES:
        (void)fprintf(f, "    tb_bind_bytes(q, %zu, %s%s, %ssize);\n", n, r, name, r);
        break;
    case WORD:
        (void)fprintf(f, "    tb_bind_text(q, %zu, ", n);
        if (c->nothing == OR_NULL)
            (void)fprintf(f, "%s%s == 0 ? NULL : ", r, name);
        (void)fprintf(f, "tb_word(&tb_%s_words, (int)%s%s));\n", c->word, r, name);
        break;
    case PERSON:
        (void)fprintf(f, "    tb_bind_text(q, %zu, tb_book_person(b));\n", n);
        break;
    case ENTRY:
        (void)fprintf(f, "    tb_bind_whole(q, %zu, tb_entry(b));\n", n);
        break;
    case NOW:
        (void)fprintf(f, "    tb_bind_text(q, %zu, tb_book_now(b));\n", n);
        break;
    default:
        (void)fprintf(f, "    tb_bind_text(q, %zu, tb_book_site(b)->id);\n", n);
    }
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
    switch (c->kind) {
    case TEXT:
        (void)fprintf(f, "    r->%s = tb_col_text(q, %zu, mem);\n", c->name, n);
        break;
    case WHOLE:
    case INT:
    case SIZE:
        (void)fprintf(f, "    r->%s = %stb_col_%s(q, %zu);\n", c->name,
                      c->kind == INT    ? "(int)"
                      : c->kind == SIZE ? "(size_t)"
                                        : "",
                      c->nothing == OR_MINUS ? "count" : "whole", n);
        break;
    case NUMBER:
        (void)fprintf(f, "    r->%s = tb_col_number(q, %zu);\n", c->name, n);
        break;
    case FLAG:
        (void)fprintf(f, "    r->%s = tb_col_whole(q, %zu) != 0;\n", c->name, n);
        break;
    case BYTES:
        (void)fprintf(f, "    r->%s = tb_col_bytes(q, %zu, &r->size, mem);\n", c->name, n);
        break;
    default:
        (void)fprintf(
            f,
            "    if ((rc = tb_col_word(&word, q, %zu, &tb_%s_words, err)) != TB_OK)\n        return rc;\n"
            "    r->%s = (enum tb_%s_kind)word;\n",
            n, c->word, c->name, c->word);
    }
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

void write_functions(FILE *f, const struct book_sql *all)
{
    for (size_t i = 0; i < all->rows; i++)
        write_reader(f, &all->row[i]);
    for (size_t i = 0; i < all->statements; i++)
        if (!read_by_column(&all->statement[i]))
            write_binder(f, &all->statement[i]);
}
