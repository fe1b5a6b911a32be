/* What a person could get wrong in a file of statements, found while building. */
#include "gen/sqlgen.h"

#include <stdlib.h>
#include <string.h>

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct statement *)a)->name, ((const struct statement *)b)->name);
}

static struct row *row_by_name(const struct book_sql *all, const char *name)
{
    for (size_t i = 0; i < all->rows; i++)
        if (strcmp(all->row[i].name, name) == 0)
            return &all->row[i];
    return NULL;
}

static const struct columns *fact_by_name(const struct book_sql *all, const char *table)
{
    for (size_t i = 0; i < all->statements; i++)
        if (all->statement[i].fact && strcmp(all->statement[i].fact, table) == 0)
            return &all->statement[i].in;
    return NULL;
}

/* A name alone behind "out:" is a row; "from:" wants a struct whose header is known. */
static void tie(const struct book_sql *all, struct statement *s)
{
    if (s->gives_fact) {
        const struct columns *list = fact_by_name(all, s->gives.text);

        if (!list)
            stop(s->gives.at, "there is no fact '%s'", s->gives.text);
        if (!read_by_column(s))
            stop(s->gives.at, "only statements named facts_ and extract_ give whole facts");
        s->out = *list;
    } else if (s->gives.text) {
        s->row = row_by_name(all, s->gives.text);
        if (!s->row)
            stop(s->gives.at, "there is no row '%s'", s->gives.text);
        s->out = s->row->columns;
    }
    if (s->from.text && !s->from_header && !row_by_name(all, s->from.text))
        stop(s->from.at, "the header of struct tb_%s is not known: name it in brackets", s->from.text);
}

/* Every $n that the text uses is described, and every one described is used. */
static void check_parameters(const struct statement *s)
{
    bool used[64] = { false };

    if (s->in.n >= sizeof used / sizeof *used)
        stop(s->at, "'%s' has more than %zu parameters", s->name, sizeof used / sizeof *used - 1);
    for (const char *p = s->text; (p = strchr(p, '$')); p++) {
        unsigned long n = strtoul(p + 1, NULL, 10);

        if (n == 0 || n > s->in.n)
            stop(s->at, "'%s' uses $%lu, which '-- in:' does not describe", s->name, n);
        used[n] = true;
    }
    for (size_t n = 1; n <= s->in.n; n++)
        if (!used[n])
            stop(s->in.column[n - 1].at, "'%s' does not use $%zu", s->name, n);
}

/* INSERT INTO table (a, b) VALUES: a, b are the parameters in order, so that the digest covers what is stored. */
static void check_fact(const struct statement *s)
{
    const char *p = strchr(s->text, '(');
    size_t i = 0;

    if (strncmp(s->text, "INSERT INTO ", 12) != 0 || !p) {
        stop(s->at, "'%s' is a fact and not an INSERT with its columns", s->name);
        return; /* for cppcheck, which does not see that stop() ends the program */
    }
    for (; *p && *p != ')' && i < s->in.n; i++) {
        size_t n = strcspn(p += 1 + strspn(p + 1, " \n"), " ,)\n");
        const struct column *c = &s->in.column[i];

        if (strlen(c->name) != n || strncmp(c->name, p, n) != 0)
            stop(c->at, "the INSERT has the column '%.*s' in place of '%s'", (int)n, p, c->name);
        p += n;
    }
    if (*p != ')' || i != s->in.n)
        stop(s->at, "'%s' has not as many columns as parameters", s->name);
    if (strcmp(s->in.column[0].name, "id") != 0 || s->in.column[i - 1].kind != ENTRY)
        stop(s->at, "the first parameter of a fact is its id, the last its entry");
}

/* A word of a set that nobody named is a slip in a kind. */
static void check_words(const struct book_sql *all, const struct columns *list)
{
    for (size_t i = 0; i < list->n; i++) {
        const struct column *c = &list->column[i];
        bool named = c->kind != WORD;

        for (size_t k = 0; !named && k < all->sets; k++)
            named = strcmp(all->words[k].text, c->word) == 0;
        if (!named)
            stop_kind(c->kind_at, c->word);
    }
}

static void check_kinds(const struct statement *s)
{
    for (size_t i = 0; i < s->in.n; i++)
        if (s->in.column[i].kind > WORD && !s->fact)
            stop(s->in.column[i].at, "only a fact takes what the book knows itself");
}

void check_sql(struct book_sql *all)
{
    if (!all->statements)
        stop((struct place){ 0 }, "there are no statements");
    qsort(all->statement, all->statements, sizeof *all->statement, by_name);
    for (size_t i = 0; i < all->rows; i++) {
        if (row_by_name(all, all->row[i].name) != &all->row[i])
            stop(all->row[i].at, "the row '%s' is there twice", all->row[i].name);
        check_words(all, &all->row[i].columns);
    }
    for (size_t i = 0; i < all->statements; i++) {
        struct statement *s = &all->statement[i];

        if (i && strcmp(s->name, s[-1].name) == 0)
            stop(s->at, "the statement '%s' is there twice", s->name);
        if (!s->text)
            stop(s->at, "the statement '%s' has no text", s->name);
        check_words(all, &s->in);
        check_words(all, &s->out);
        tie(all, s);
        check_parameters(s);
        check_kinds(s);
        if (s->fact)
            check_fact(s);
    }
}
