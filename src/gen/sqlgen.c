/*
 * sqlgen - turn named statements and migrations into C.
 *
 *   sqlgen OUT.h OUT.c FILE.sql...
 *
 * A file under .../schema/ named NNN-what.sql is one migration. Any other holds named statements:
 *
 *   -- name: lot_by_ref
 *   -- in:   $1 ref text
 *   -- out:  id text, metres double        (absent: gives no rows)
 *   -- fact: bolt                          (only on an INSERT of one row into a journalled table)
 *   SELECT ...;
 *
 * Result: enum tb_sql { TB_SQL_LOT_BY_REF, ... }, tb_sql_table[] and tb_migration_table[].
 */
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct piece {
    char *name, *in, *out, *fact, *text;
};

static struct piece *statement, *migration;
static size_t statements, migrations;

static void stop(const char *file, const char *what)
{
    (void)fprintf(stderr, "sqlgen: %s: %s\n", file, what);
    exit(1);
}

static struct piece *add(struct piece **list, size_t *n)
{
    *list = realloc(*list, (*n + 1) * sizeof **list);
    if (!*list)
        stop("memory", "exhausted");
    (*list)[*n] = (struct piece){ 0 };
    return &(*list)[(*n)++];
}

static char *join(char *old, const char *more)
{
    size_t a = old ? strlen(old) : 0, b = strlen(more);
    char *s = realloc(old, a + b + 1);

    if (!s)
        stop("memory", "exhausted");
    memcpy(s + a, more, b + 1);
    return s;
}

/* The value after "-- key:", trimmed; NULL when the line is another one. */
static char *tagged(const char *line, const char *key)
{
    size_t n = strlen(key);
    char *v, *end;

    if (strncmp(line, "-- ", 3) != 0 || strncmp(line + 3, key, n) != 0 || line[3 + n] != ':')
        return NULL;
    for (line += 4 + n; isspace((unsigned char)*line); line++)
        ;
    v = join(NULL, line);
    for (end = v + strlen(v); end > v && isspace((unsigned char)end[-1]); end--)
        ;
    *end = '\0';
    return v;
}

static void read_file(const char *file)
{
    FILE *f = fopen(file, "r");
    char line[4096], *v;
    struct piece *p = NULL;
    int schema = strstr(file, "/schema/") != NULL;

    if (!f)
        stop(file, "cannot be read");
    if (schema) {
        const char *base = strrchr(file, '/') + 1;

        p = add(&migration, &migrations);
        p->name = join(NULL, base);
        if ((size_t)atoi(base) != migrations)
            stop(file, "migrations are numbered 001, 002, ... without gaps");
    }
    while (fgets(line, sizeof line, f)) {
        if (schema) {
            p->text = join(p->text, line);
        } else if ((v = tagged(line, "name"))) {
            p = add(&statement, &statements);
            p->name = v;
        } else if (p && (v = tagged(line, "in"))) {
            p->in = v;
        } else if (p && (v = tagged(line, "out"))) {
            p->out = v;
        } else if (p && (v = tagged(line, "fact"))) {
            p->fact = v;
        } else if (strncmp(line, "--", 2) != 0 && strspn(line, " \t\r\n") != strlen(line)) {
            if (!p)
                stop(file, "a statement without '-- name:'");
            p->text = join(p->text, line);
        }
    }
    (void)fclose(f);
}

static void put_string(FILE *f, const char *s)
{
    if (!s)
        s = "";
    (void)fputc('"', f);
    for (; *s; s++) {
        unsigned char b = (unsigned char)*s;

        if (b == '\n')
            (void)fputs("\\n\"\n\"", f);
        else if (b == '"' || b == '\\')
            (void)fprintf(f, "\\%c", b);
        else if (b < 32 || b > 126 || b == '?')
            (void)fprintf(f, "\\%03o", b);
        else
            (void)fputc(b, f);
    }
    (void)fputc('"', f);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct piece *)a)->name, ((const struct piece *)b)->name);
}

int main(int argc, char **argv)
{
    FILE *h, *c;

    if (argc < 4)
        return 2;
    for (int i = 3; i < argc; i++)
        read_file(argv[i]);
    if (statements)
        qsort(statement, statements, sizeof *statement, by_name);
    if (!(h = fopen(argv[1], "w")) || !(c = fopen(argv[2], "w")))
        stop(argv[1], "cannot be written");
    (void)fputs("/* made from sql/ */\n#pragma once\n#include <stddef.h>\nenum tb_sql {\n", h);
    for (size_t i = 0; i < statements; i++) {
        if (!statement[i].text)
            stop(statement[i].name, "has no text");
        if (i && strcmp(statement[i].name, statement[i - 1].name) == 0)
            stop(statement[i].name, "is there twice");
        (void)fputs("    TB_SQL_", h);
        for (const char *s = statement[i].name; *s; s++)
            (void)fputc(toupper((unsigned char)*s), h);
        (void)fputs(",\n", h);
    }
    (void)fputs("    TB_SQL_COUNT\n};\n"
                "struct tb_sql_text { const char *name, *in, *out, *fact, *text; };\n"
                "extern const struct tb_sql_text tb_sql_table[];\n"
                "struct tb_migration { const char *name, *text; };\n"
                "extern const struct tb_migration tb_migration_table[];\n"
                "extern const size_t tb_migration_n;\n",
                h);
    (void)fputs("#include \"gen/sql.h\"\nconst struct tb_sql_text tb_sql_table[] = {\n", c);
    for (size_t i = 0; i < statements; i++) {
        const struct piece *p = &statement[i];
        const char *const part[] = { p->name, p->in, p->out, p->fact, p->text };

        for (size_t k = 0; k < 5; k++) {
            (void)fputs(k ? ", " : "    { ", c);
            put_string(c, part[k]);
        }
        (void)fputs(" },\n", c);
    }
    (void)fputs("    { 0 },\n};\nconst struct tb_migration tb_migration_table[] = {\n", c);
    for (size_t i = 0; i < migrations; i++) {
        (void)fputs("    { ", c);
        put_string(c, migration[i].name);
        (void)fputs(", ", c);
        put_string(c, migration[i].text);
        (void)fputs(" },\n", c);
    }
    (void)fprintf(c, "    { 0 },\n};\nconst size_t tb_migration_n = %zu;\n", migrations);
    return fclose(h) || fclose(c) ? 1 : 0;
}
