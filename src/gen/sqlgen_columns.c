/* Columns and their kinds, read from the tokens of a comment. */
#include "gen/sqlgen.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* clang-format off */
const struct kind_of kinds[KINDS] = {
    [TEXT] =   { "text",   "const char *", "TEXT",   "text",   "%s%s",                  "tb_col_text(q, %zu, mem)" },
    [WHOLE] =  { "whole",  "int64_t ",     "WHOLE",  "whole",  "%s%s",                  "tb_col_%2$s(q, %1$zu)" },
    [INT] =    { "int",    "int ",         "WHOLE",  "whole",  "%s%s",                  "(int)tb_col_%2$s(q, %1$zu)" },
    [SIZE] =   { "size",   "size_t ",      "WHOLE",  "whole",  "%s%s",                  "(size_t)tb_col_%2$s(q, %1$zu)" },
    [NUMBER] = { "number", "double ",      "NUMBER", "number", "%s%s",                  "tb_col_number(q, %zu)" },
    [FLAG] =   { "flag",   "bool ",        "WHOLE",  "whole",  "%s%s",                  "tb_col_whole(q, %zu) != 0" },
    [BYTES] =  { "bytes",  "const void *", "BYTES",  "bytes",  "%1$s%2$s, %1$ssize",    "tb_col_bytes(q, %zu, &r->size, mem)" },
    [WORD] =   { "",       NULL,           "TEXT",   "text",   "tb_word(&tb_%3$s_words, (int)%1$s%2$s)", NULL },
    [KEY] =    { "key",    NULL,           "TEXT",   "text",   "tb_next_key(b)",        NULL },
    [PERSON] = { "person", NULL,           "TEXT",   "text",   "tb_book_person(b)",     NULL },
    [ENTRY] =  { "entry",  NULL,           "WHOLE",  "whole",  "tb_entry(b)",           NULL },
    [NOW] =    { "now",    NULL,           "TEXT",   "text",   "tb_book_now(b)",        NULL },
    [SITE] =   { "site",   NULL,           "TEXT",   "text",   "tb_book_site(b)->id",   NULL },
};
/* clang-format on */

static const struct token *next(const struct tokens *t, size_t i, const struct token *last, const char *what)
{
    if (i >= t->n)
        stop(last->at, "behind '%s' stands nothing; %s is missing", last->text, what);
    return &t->token[i];
}

static bool is_name(const char *s)
{
    if (!islower((unsigned char)*s))
        return false;
    while (islower((unsigned char)*s) || isdigit((unsigned char)*s) || *s == '_')
        s++;
    return *s == '\0';
}

void stop_kind(struct place at, const char *word)
{
    stop(at,
         "'%s' is not a kind: text, whole, int, size, number, flag, bytes or a set of words named by "
         "'-- words:'",
         word);
}

static void read_kind(struct column *c, const struct token *t, bool parameter)
{
    c->kind = WORD;
    for (int k = 0; k < KINDS; k++)
        if (strcmp(kinds[k].name, t->text) == 0)
            c->kind = (enum kind)k;
    c->kind_at = t->at;
    if (!is_name(t->text))
        stop_kind(t->at, t->text);
    if (c->kind > WORD && !parameter)
        stop(t->at, "'%s' is a kind of parameters, not of columns", t->text);
    if (c->kind == WORD)
        c->word = t->text;
}

/* "or NULL", "or ''", "or -1": how the column is said to be empty. */
static void read_nothing(struct column *c, const struct token *t)
{
    static const struct {
        const char *text;
        enum nothing nothing;
        unsigned kinds;
    } known[] = { { "NULL", OR_NULL, 1u << TEXT | 1u << NUMBER | 1u << WORD },
                  { "''", OR_EMPTY, 1u << TEXT },
                  { "-1", OR_MINUS, 1u << WHOLE | 1u << INT } };

    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcmp(known[i].text, t->text) == 0) {
            c->nothing = known[i].nothing;
            if (!(known[i].kinds & 1u << c->kind))
                stop(t->at, "a column of this kind cannot be '%s'", t->text);
            return;
        }
    stop(t->at, "'%s' does not say how nothing is written: NULL, '' or -1", t->text);
}

static void read_number(const struct token *t, size_t want)
{
    if (t->text[0] != '$' || strtoul(t->text + 1, NULL, 10) != want)
        stop(t->at, "'%s' stands where the parameter $%zu is expected", t->text, want);
}

struct columns read_columns(const struct tokens *t, size_t i, bool numbered)
{
    struct columns list = { 0 };

    for (;; i++) {
        const struct token *last = &t->token[i ? i - 1 : 0], *name;
        struct column c = { 0 };

        if (numbered)
            read_number(next(t, i++, last, "a parameter"), list.n + 1);
        name = next(t, i++, last, "a column");
        if (!is_name(name->text))
            stop(name->at, "'%s' is not a name of a column", name->text);
        c.name = name->text;
        c.at = name->at;
        read_kind(&c, next(t, i++, name, "its kind"), numbered);
        if (i < t->n && strcmp(t->token[i].text, "or") == 0) {
            read_nothing(&c, next(t, i + 1, &t->token[i], "NULL, '' or -1"));
            i += 2;
        }
        if (i < t->n && t->token[i].text[0] == '(')
            i++; /* a remark */
        list.column = grown(list.column, list.n + 1, sizeof c);
        list.column[list.n++] = c;
        if (i == t->n)
            return list;
        if (strcmp(t->token[i].text, ",") != 0)
            stop(t->token[i].at, "a comma stands between columns, not '%s'", t->token[i].text);
    }
}
