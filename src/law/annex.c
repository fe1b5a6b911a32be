/*
 * annex.c - the rows of Annex I and the quotations of the articles, found in the lines of a saved copy.
 *
 * Nothing here knows a language: rows are found by their numbers, which follow each other from 1, and articles by the one
 * word that stands with most of the numbers ("Article 7", "7. cikk").
 */
#include "tenterbook/law_names.h"

#include "law/page.h"
#include "tenterbook/utf8.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define ROWS_FROM 18 /* rows of Table 1: with fewer in a row it is another table */
#define NUMBER_MOST 99
#define HEADING_MOST 40 /* bytes of "Article 7" */
#define FIRSTS_MOST 64  /* lines "Article 1", "Chapter 1" that are tried: a copy has a handful */
#define ARTICLE_FIRST 7 /* the words of a label stand in these */
#define ARTICLE_LAST 12

struct copy {
    struct tb_law_copy *out;
    char **line;
    size_t lines, cap;
    size_t annex; /* the line of row 1; all of them where it was not found */
};

/* --- lines ------------------------------------------------------------------------------------------------------- */

/* Spaces at the ends go; an empty line is none. */
static void add_line(struct copy *c, const char *at, size_t n)
{
    while (n && (*at == ' ' || *at == '\r' || (*at == '\t' && n == 1)))
        at++, n--;
    while (n && (at[n - 1] == ' ' || at[n - 1] == '\r' || at[n - 1] == '\t'))
        n--;
    if (!n)
        return;
    TB_PUSH_ROOM(c->line, c->lines, c->cap);
    c->line[c->lines++] = tb_arena_strndup(&c->out->mem, at, n);
}

static void cut(struct copy *c, const char *text)
{
    for (const char *at = text, *end; *at; at = *end ? end + 1 : end) {
        end = at + strcspn(at, "\n");
        add_line(c, at, (size_t)(end - at));
    }
}

/* The number a cell holds and nothing else, a point behind it aside; 0: none. */
static int number_of(const char *at, size_t n)
{
    int value = 0;
    size_t i = 0;

    while (n && at[n - 1] == ' ')
        n--;
    n -= n && at[n - 1] == '.';
    for (; i < n && isdigit((unsigned char)at[i]) && value <= NUMBER_MOST; i++)
        value = value * 10 + at[i] - '0';
    return i == n && n && value <= NUMBER_MOST ? value : 0;
}

/* --- rows -------------------------------------------------------------------------------------------------------- */

struct row {
    int number;
    const char *name;
    size_t n;
};

/* "1<tab>wool<tab>fibre from ..."; or, where a text has each cell on a line of its own, a line of a number alone. */
static bool row_at(struct row *out, const struct copy *c, size_t i)
{
    const char *line = c->line[i], *tab = strchr(line, '\t');

    if (tab) {
        const char *name = tab + 1 + strspn(tab + 1, " \t");

        *out = (struct row){ number_of(line, (size_t)(tab - line)), name, strcspn(name, "\t") };
        return out->number && name[out->n] == '\t';
    }
    if (!(out->number = number_of(line, strlen(line))) || i + 2 >= c->lines)
        return false;
    out->name = c->line[i + 1];
    out->n = strlen(out->name);
    return !strchr(out->name, '\t') && !number_of(out->name, out->n);
}

/* How many rows follow each other by number from line i on, which is row 1. */
static int rows_from(const struct copy *c, size_t i)
{
    struct row r;
    int next = 1;

    for (; i < c->lines; i++) {
        if (!row_at(&r, c, i))
            continue;
        if (r.number == 1 && next > 1)
            break;
        next += r.number == next;
    }
    return next - 1;
}

static void add_rows(struct copy *c, size_t i, int last)
{
    struct row r;

    for (int next = 1; i < c->lines && next <= last; i++)
        if (row_at(&r, c, i) && r.number == next) {
            if (r.n <= TB_LAW_TEXT_MOST)
                tb_law_copy_add(c->out,
                                &(struct tb_law_seen){ .number = next,
                                                       .text = tb_arena_strndup(&c->out->mem, r.name, r.n) });
            next++;
        }
}

/* The first table whose rows go far enough; Annex I is before all others that are numbered so. */
static void find_rows(struct copy *c)
{
    struct row r;

    c->annex = c->lines;
    for (size_t i = 0; i < c->lines; i++)
        if (row_at(&r, c, i) && r.number == 1) {
            int last = rows_from(c, i);

            if (last >= ROWS_FROM) {
                add_rows(c, i, last);
                c->annex = i;
                return;
            }
        }
}

/* --- articles ---------------------------------------------------------------------------------------------------- */

/* "Article 7" is 7 and "Article "; "7. cikk" is 7 and ". cikk". 0: the line is no heading. */
static int heading(const char *line, char word[HEADING_MOST])
{
    size_t at = strcspn(line, "0123456789"), digits = strspn(line + at, "0123456789"), n = strlen(line);
    int number = number_of(line + at, digits);

    if (!number || n >= HEADING_MOST || n <= digits + 1 || strpbrk(line + at + digits, "0123456789\t"))
        return 0;
    memcpy(word, line, at);
    (void)strcpy(word + at, line + at + digits);
    return number;
}

/*
 * The word for an article: the one that stands with the most numbers that follow each other from 1. The articles stand before the annex,
 * where other words are numbered, too.
 */
static void article_word(const struct copy *c, char best[HEADING_MOST])
{
    char word[HEADING_MOST], other[HEADING_MOST];
    int most = ARTICLE_LAST - 1;
    size_t tried = 0;

    *best = '\0';
    for (size_t i = 0; i < c->annex && tried < FIRSTS_MOST; i++) {
        int next = 2;

        if (heading(c->line[i], word) != 1)
            continue;
        tried++;
        for (size_t k = i + 1; k < c->annex; k++)
            next += heading(c->line[k], other) == next && strcmp(word, other) == 0;
        if (next - 1 > most) {
            most = next - 1;
            memcpy(best, word, sizeof word);
        }
    }
}

/* Signs a quotation begins and ends with, in the languages of the Union. An apostrophe begins none. */
static const struct {
    const char *from, *to;
} marks[] = { { "\u2018", "\u2019" }, { "\u201E", "\u201D" }, { "\u201E", "\u201C" }, { "\u201C", "\u201D" },
              { "\u00AB", "\u00BB" }, { "\u00BB", "\u00AB" }, { "\u201D", "\u201D" }, { "\"", "\"" } };

/* The sign within so many bytes as a quotation may have, so that a row of opening signs is not searched to the end for each. */
static const char *near(const char *text, const char *sign)
{
    size_t room = strnlen(text, TB_LAW_TEXT_MOST + 8), n = strlen(sign);

    for (size_t i = 0; i + n <= room; i++)
        if (memcmp(text + i, sign, n) == 0)
            return text + i;
    return NULL;
}

/* Where the quotation that begins at `at` ends: its nearest closing sign; NULL: none begins, or it does not end. */
static const char *quoted(const char *at, size_t *skip, size_t *close)
{
    const char *nearest = NULL;

    for (size_t m = 0; m < TB_COUNT(marks); m++) {
        size_t from = strlen(marks[m].from);
        const char *end = strncmp(at, marks[m].from, from) == 0 ? near(at + from, marks[m].to) : NULL;

        if (end && (!nearest || end < nearest)) {
            nearest = end;
            *skip = from;
            *close = strlen(marks[m].to);
        }
    }
    return nearest;
}

static void add_quotations(struct copy *c, const char *line, int article, int *place)
{
    size_t skip = 0, close = 0;

    for (const char *at = line; *at;) {
        const char *end = quoted(at, &skip, &close);
        const char *text = at + skip;
        size_t n = end ? (size_t)(end - text) : 0;

        if (!end) {
            at++;
            continue;
        }
        while (n && *text == ' ')
            text++, n--;
        while (n && text[n - 1] == ' ')
            n--;
        if (n && n <= TB_LAW_TEXT_MOST)
            tb_law_copy_add(c->out, &(struct tb_law_seen){ .quoted = true,
                                                           .number = article,
                                                           .place = ++*place,
                                                           .text = tb_arena_strndup(&c->out->mem, text, n) });
        at = end + close;
    }
}

static void find_quotations(struct copy *c)
{
    char word[HEADING_MOST], other[HEADING_MOST];
    int article = 0, place = 0;

    article_word(c, word);
    for (size_t i = 0; i < c->annex && *word; i++) {
        int number = heading(c->line[i], other);

        if (number == article + 1 && strcmp(word, other) == 0) {
            article = number;
            place = 0;
        } else if (article >= ARTICLE_FIRST && article <= ARTICLE_LAST) {
            add_quotations(c, c->line[i], article, &place);
        }
    }
}

/* --- amendments -------------------------------------------------------------------------------------------------- */

/* Behind the sign: which amendment, "M2", "B", "C1", and a space; 0: no such word. */
static size_t mark_of(const char *at)
{
    size_t space = strspn(at, " "), n;

    if (!isupper((unsigned char)at[space]))
        return 0;
    n = space + 1 + strspn(at + space + 1, "0123456789");
    return at[n] == ' ' ? n + 1 : at[n] == '\0' || at[n] == '\n' || at[n] == '\t' ? n : 0;
}

/* A consolidated text says where it was amended: "\u25BAM2 polyacrylate \u25C4", "\u25BCM1" before a part. These are no words of the law. */
static void without_marks(struct tb_text *out, const char *lines)
{
    static const char *const begins[] = { "\u25BA", "\u25BC" }, *const ends = "\u25C4";

    for (const char *at = lines; *at;) {
        const size_t sign = strlen(ends);
        size_t n = 0;

        if (strncmp(at, ends, sign) == 0)
            n = sign;
        for (size_t i = 0; i < TB_COUNT(begins) && !n; i++)
            if (strncmp(at, begins[i], sign) == 0)
                n = sign + mark_of(at + sign);
        if (!n)
            tb_text_addc(out, *at++);
        at += n;
    }
}

/* --- the copy ---------------------------------------------------------------------------------------------------- */

void tb_law_copy_add(struct tb_law_copy *copy, const struct tb_law_seen *one)
{
    if (copy->n == TB_LAW_SEEN_MOST)
        return;
    TB_PUSH_ROOM(copy->seen, copy->n, copy->cap);
    copy->seen[copy->n++] = *one;
}

/* Spaces that do not break are spaces here: « pur » is pur. */
static char *plain_spaces(const char *bytes, size_t n)
{
    char *text = tb_utf8_mend(bytes, n), *to = text;

    for (const char *at = text; *at;) {
        size_t width = strncmp(at, "\u00A0", 2) == 0 ? 2 : strncmp(at, "\u202F", 3) == 0 ? 3 : 0;

        *to++ = width ? ' ' : *at;
        at += width ? width : 1;
    }
    *to = '\0';
    return text;
}

void tb_law_copy_read(struct tb_law_copy *out, const char *bytes, size_t n)
{
    struct copy c = { .out = out };
    struct tb_text lines = { 0 }, plain = { 0 };
    char *whole = plain_spaces(bytes, n);

    *out = (struct tb_law_copy){ 0 };
    tb_page_lines(&lines, whole, strlen(whole));
    without_marks(&plain, tb_text_str(&lines));
    cut(&c, tb_text_str(&plain));
    find_rows(&c);
    find_quotations(&c);
    free(c.line);
    free(whole);
    tb_text_free(&lines);
    tb_text_free(&plain);
}

void tb_law_copy_free(struct tb_law_copy *copy)
{
    free(copy->seen);
    tb_arena_free(&copy->mem);
    *copy = (struct tb_law_copy){ 0 };
}
