/* remark_words.c - the words of a remark or a heading, held against the reference table: what did not come, what goes on, mere praise. */
#include "intake/remark_words.h"

#include "gen/ref_remark_word.h"

#include "tenterbook/base.h"
#include "tenterbook/utf8.h"

#include <pthread.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

enum kind { PART, WHOLE, PRAISE, GOES_ON, MAY_GO_ON, BEFORE, HERE, KINDS };

/* As the table calls them. */
static const char *const kind_word[KINDS] = { "unsent",    "unsent whole", "praise", "goes on",
                                              "may go on", "before",       "this" };

struct entry {
    char *word; /* plain */
    size_t n;
    enum kind kind;
};

/* Folded once for the whole program, by whichever thread comes first, and then only read. */
static struct {
    struct entry *entry;
    size_t from[257]; /* those that begin with a byte stand together */
} table;
static pthread_once_t table_once = PTHREAD_ONCE_INIT;

/* Folded, and letters with a stroke or joined ones as people without them type them: two bytes, one letter or two. */
static char *plain(const char *text)
{
    static const char *const letter[][2] = { { "ł", "l" }, { "ø", "o" },  { "đ", "d" },
                                             { "ı", "i" }, { "æ", "ae" }, { "œ", "oe" } };
    char *s = tb_fold(text, strlen(text)), *to = s;

    for (const char *from = s; *from;) {
        size_t i = 0;

        while (i < TB_COUNT(letter) && strncmp(from, letter[i][0], 2) != 0)
            i++;
        for (const char *c = i < TB_COUNT(letter) ? letter[i][1] : ""; *c; c++)
            *to++ = *c;
        if (i == TB_COUNT(letter))
            *to++ = *from++;
        else
            from += 2;
    }
    *to = '\0';
    return s;
}

static int by_word(const void *a, const void *b)
{
    return strcmp(((const struct entry *)a)->word, ((const struct entry *)b)->word);
}

static void fill(void)
{
    size_t n = tb_ref_remark_word_n;

    table.entry = tb_array(struct entry, n);
    for (size_t i = 0; i < n; i++) {
        const struct tb_ref_remark_word *r = &tb_ref_remark_word[i];
        struct entry *e = &table.entry[i];

        e->word = plain(r->word);
        e->n = strlen(e->word);
        while (e->kind + 1 < KINDS && strcmp(kind_word[e->kind], r->kind) != 0)
            e->kind++;
    }
    qsort(table.entry, n, sizeof *table.entry, by_word);
    for (size_t i = 0; i < n; i++)
        table.from[(unsigned char)table.entry[i].word[0] + 1]++;
    for (size_t b = 1; b < TB_COUNT(table.from); b++)
        table.from[b] += table.from[b - 1];
}

static bool letter(char c)
{
    return (unsigned char)c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

/* Chinese, Japanese and Korean are written without spaces: a word may begin anywhere. */
static bool begins(const char *s, size_t at)
{
    return at == 0 || (unsigned char)s[at] >= 0xE3 || !letter(s[at - 1]);
}

/* Kinds whose words are all that is said. */
static const bool whole[KINDS] = { [WHOLE] = true, [PRAISE] = true, [MAY_GO_ON] = true };

/* Is it said from byte `at` of the n bytes on? */
static bool said_at(const char *s, size_t n, size_t at, enum kind kind)
{
    size_t b = (unsigned char)s[at];

    for (size_t i = table.from[b]; i < table.from[b + 1]; i++) {
        const struct entry *e = &table.entry[i];

        if (e->kind == kind && strncmp(s + at, e->word, e->n) == 0 && (!whole[kind] || at + e->n == n))
            return true;
    }
    return false;
}

/* The folded text without the signs around it: *at to the end that is returned. */
static size_t bare(const char *s, size_t *at)
{
    size_t n = strlen(s);

    for (*at = 0; *at < n && !letter(s[*at]); ++*at)
        ;
    while (n > *at && !letter(s[n - 1]))
        n--;
    return n;
}

/* Is one of these words anywhere in the n bytes from `at` on? */
static bool said_in(const char *s, size_t n, size_t at, enum kind kind)
{
    for (; at < n; at++)
        if (begins(s, at) && said_at(s, n, at, kind))
            return true;
    return false;
}

bool tb_words_unsent(const char *text)
{
    char *s = plain(text);
    size_t at, n = bare(s, &at);
    bool found;

    (void)pthread_once(&table_once, fill);
    found = (at < n && said_at(s, n, at, WHOLE)) || said_in(s, n, at, PART);
    free(s);
    return found;
}

enum tb_words_above tb_words_heading(const char *text)
{
    char *s = plain(text);
    size_t at, n = bare(s, &at);
    enum tb_words_above is = TB_ABOVE_NOTHING;

    (void)pthread_once(&table_once, fill);
    if (said_in(s, n, at, GOES_ON))
        is = TB_ABOVE_NOTHING;
    else if (said_in(s, n, at, BEFORE))
        is = TB_ABOVE_EARLIER;
    else if (said_in(s, n, at, HERE))
        is = TB_ABOVE_CAME;
    else if (tb_words_unsent(text))
        is = at < n && !strchr(s + n, ':') && said_at(s, n, at, MAY_GO_ON) ? TB_ABOVE_UNCLEAR
                                                                           : TB_ABOVE_NOT_COME;
    free(s);
    return is;
}

bool tb_words_praise(const char *text)
{
    char *s = plain(text);
    size_t at, n = bare(s, &at);
    bool found;

    (void)pthread_once(&table_once, fill);
    found = at >= n || said_at(s, n, at, PRAISE);
    free(s);
    return found;
}
