/* The tables that are made: the text of every statement, its parameters and columns; the migrations. */
#include "gen/sqlgen.h"

static void write_columns(FILE *f, const char *way, const struct statement *s, const struct columns *list)
{
    if (!list->n)
        return;
    (void)fprintf(f, "static const struct tb_sql_column %s_%s[] = {\n", way, s->name);
    for (size_t i = 0; i < list->n; i++) {
        const struct column *c = &list->column[i];

        (void)fprintf(f, "    { \"%s\", TB_KIND_%s, %s },\n", c->name, kinds[c->kind].stored,
                      c->nothing == OR_NULL || c->nothing == OR_MINUS ? "true" : "false");
    }
    (void)fputs("};\n", f);
}

static void write_statement(FILE *f, const struct statement *s)
{
    (void)fprintf(f, "    { \"%s\", \"%s\", ", s->name, s->fact ? s->fact : "");
    write_string(f, s->text);
    (void)fprintf(f, s->in.n ? ", in_%s" : ", NULL", s->name);
    (void)fprintf(f, s->out.n ? ", out_%s" : ", NULL", s->name);
    (void)fprintf(f, ", %zu, %zu },\n", s->in.n, s->out.n);
}

void write_tables(FILE *f, const struct book_sql *all)
{
    (void)fputs("/* made from sql/ */\n#include \"book/stmt.h\"\n\n", f);
    for (size_t i = 0; i < all->statements; i++) {
        write_columns(f, "in", &all->statement[i], &all->statement[i].in);
        write_columns(f, "out", &all->statement[i], &all->statement[i].out);
    }
    (void)fputs("const struct tb_sql_text tb_sql_table[] = {\n", f);
    for (size_t i = 0; i < all->statements; i++)
        write_statement(f, &all->statement[i]);
    (void)fputs("};\n\nconst struct tb_migration tb_migration_table[] = {\n", f);
    for (size_t i = 0; i < all->migrations; i++) {
        (void)fprintf(f, "    { \"%s\", ", all->migration[i].name);
        write_string(f, all->migration[i].text);
        (void)fputs(" },\n", f);
    }
    (void)fprintf(f, "    { 0 },\n};\nconst size_t tb_migration_n = %zu;\n", all->migrations);
}
