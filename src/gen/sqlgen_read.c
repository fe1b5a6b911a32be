/* Reading a file of statements: its comments as tokens with their places, its text as it stands. */
#include "gen/sqlgen.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define GOES_ON "--   " /* a line that continues the comment above it */

/* A file while it is read: the statement that is open, and which of its comments. */
struct reader {
    struct book_sql *all;
    struct place at;
    struct statement *open;
    char key[8]; /* "in", "out" ...; "" no comment is open */
    struct tokens tokens;
    struct place key_at;
};

static void add_token(struct tokens *t, const char *s, size_t n, struct place at)
{
    char *text = grown(NULL, n + 1, 1);

    memcpy(text, s, n);
    text[n] = '\0';
    t->token = grown(t->token, t->n + 1, sizeof *t->token);
    t->token[t->n++] = (struct token){ text, at };
}

static void tokenise(struct reader *r, const char *line, size_t from)
{
    size_t n;

    for (const char *p = line + from; *p; p += n) {
        struct place at = { r->at.file, r->at.line, (int)(p - line) + 1 };

        n = 1;
        if (isspace((unsigned char)*p))
            continue;
        if (*p == '(') {
            n = strcspn(p, ")");
            if (!p[n++])
                stop(at, "a bracket is not closed on its line");
            add_token(&r->tokens, p, n, at);
            continue;
        }
        if (*p != ',' && *p != ':')
            n = strcspn(p, " \t\r\n,:(");
        add_token(&r->tokens, p, n, at);
    }
}

static const char *only(const struct reader *r)
{
    if (r->tokens.n != 1)
        stop(r->key_at, "one name stands behind '%s:'", r->key);
    return r->tokens.token[0].text;
}

/* What stands in brackets, without them. */
static char *inside(const struct token *t)
{
    char *s = joined(NULL, t->text + 1);

    s[strlen(s) - 1] = '\0';
    return s;
}

static void end_row(struct reader *r)
{
    const struct tokens *t = &r->tokens;
    size_t i = 1;
    struct row row = { .at = r->key_at };

    if (t->n < 3)
        stop(r->key_at, "a row is a name, a header in brackets, a colon and columns");
    row.name = t->token[0].text;
    if (t->token[i].text[0] == '(')
        row.header = inside(&t->token[i++]);
    if (strcmp(t->token[i].text, ":") != 0)
        stop(t->token[i].at, "a colon stands before the columns of a row, not '%s'", t->token[i].text);
    row.columns = read_columns(t, i + 1, false);
    r->all->row = grown(r->all->row, r->all->rows + 1, sizeof row);
    r->all->row[r->all->rows++] = row;
}

static void end_name(struct reader *r)
{
    struct book_sql *all = r->all;

    all->statement = grown(all->statement, all->statements + 1, sizeof *all->statement);
    r->open = &all->statement[all->statements++];
    *r->open = (struct statement){ .name = joined(NULL, only(r)), .at = r->key_at };
}

/* "in", "out", "from", "fact", "list", "find": what the open statement takes and gives. */
static void end_part(struct reader *r)
{
    struct statement *s = r->open;
    const struct tokens *t = &r->tokens;

    if (!s) {
        stop(r->key_at, "'%s:' stands before any '-- name:'", r->key);
        return; /* for cppcheck, which does not see that stop() ends the program */
    }
    if (s->text)
        stop(r->key_at, "'%s:' stands behind the text of its statement", r->key);
    if (strcmp(r->key, "in") == 0) {
        s->in = read_columns(t, 0, true);
    } else if (strcmp(r->key, "fact") == 0) {
        s->fact = joined(NULL, only(r));
    } else if (strcmp(r->key, "list") == 0) {
        s->list = joined(NULL, only(r));
    } else if (strcmp(r->key, "find") == 0) {
        s->find = joined(NULL, only(r));
    } else if (strcmp(r->key, "out") == 0) {
        s->gives_fact = t->n == 2 && strcmp(t->token[0].text, "fact") == 0;
        if (t->n == 1 || s->gives_fact)
            s->gives = t->token[t->n - 1];
        else
            s->out = read_columns(t, 0, false);
    } else {
        if (t->n == 0 || t->n > 2)
            stop(r->key_at,
                 "a struct stands behind 'from:', and its header in brackets where no row has its name");
        s->from = t->token[0];
        s->from_header = t->n == 2 ? inside(&t->token[1]) : NULL;
    }
}

static void end_words(struct reader *r)
{
    struct book_sql *all = r->all;

    for (size_t i = 0; i < r->tokens.n; i++) {
        if (strcmp(r->tokens.token[i].text, ",") == 0)
            continue;
        all->words = grown(all->words, all->sets + 1, sizeof *all->words);
        all->words[all->sets++] = r->tokens.token[i];
    }
}

static void end_comment(struct reader *r)
{
    if (!r->key[0])
        return;
    if (strcmp(r->key, "words") == 0)
        end_words(r);
    else if (strcmp(r->key, "row") == 0)
        end_row(r);
    else if (strcmp(r->key, "name") == 0)
        end_name(r);
    else
        end_part(r);
    r->key[0] = '\0';
    r->tokens = (struct tokens){ 0 };
}

/* Does a line begin one of our comments? Then its key, and where the rest begins. */
static size_t begins(char key[8], const char *line)
{
    static const char *const known[] = {
        "words", "row", "name", "in", "out", "from", "fact", "list", "find"
    };

    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        size_t n = strlen(known[i]);

        if (strncmp(line, "-- ", 3) == 0 && strncmp(line + 3, known[i], n) == 0 && line[3 + n] == ':') {
            memcpy(key, known[i], n + 1);
            return n + 4;
        }
    }
    return 0;
}

/* A word and a colon are meant as one of ours: a slip would make a statement without its parameters. */
static void refuse_slip(const struct reader *r, const char *line)
{
    size_t n = strncmp(line, "-- ", 3) == 0 ? strspn(line + 3, "abcdefghijklmnopqrstuvwxyz_") : 0;

    if (n && line[3 + n] == ':')
        stop((struct place){ r->at.file, r->at.line, 4 },
             "'%.*s:' is not a comment of a statement: words, row, name, in, out, from, fact, list or find",
             (int)n, line + 3);
}

static void read_line(struct reader *r, const char *line)
{
    char key[8];
    size_t from = begins(key, line);

    if (!from)
        refuse_slip(r, line);
    if (!from && r->key[0] && strncmp(line, GOES_ON, strlen(GOES_ON)) == 0) {
        tokenise(r, line, 2);
        return;
    }
    end_comment(r);
    if (from) {
        memcpy(r->key, key, sizeof key);
        r->key_at = (struct place){ r->at.file, r->at.line, 4 };
        tokenise(r, line, from);
    } else if (strncmp(line, "--", 2) != 0 && strspn(line, " \t\r\n") != strlen(line)) {
        if (!r->open)
            stop(r->at, "a statement needs a '-- name:'");
        r->open->text = joined(r->open->text, line);
    }
}

static void read_migration(struct book_sql *all, FILE *f, struct place at)
{
    const char *base = strrchr(at.file, '/') + 1;
    struct migration m = { joined(NULL, base), NULL };
    char line[4096];

    if ((size_t)strtoul(base, NULL, 10) != all->migrations + 1)
        stop(at, "migrations are numbered 001, 002, ... without gaps");
    while (fgets(line, sizeof line, f))
        m.text = joined(m.text, line);
    all->migration = grown(all->migration, all->migrations + 1, sizeof m);
    all->migration[all->migrations++] = m;
}

void read_sql(struct book_sql *all, const char *file)
{
    struct reader r = { .all = all, .at = { file, 1, 1 } };
    FILE *f = fopen(file, "r");
    char line[4096];

    if (!f)
        stop(r.at, "the file cannot be read");
    if (strstr(file, "/schema/")) {
        read_migration(all, f, r.at);
    } else {
        for (; fgets(line, sizeof line, f); r.at.line++) {
            if (!strchr(line, '\n'))
                stop(r.at, "the line is longer than %zu characters or the last one does not end",
                     sizeof line - 2);
            read_line(&r, line);
        }
        end_comment(&r);
    }
    (void)fclose(f);
}
