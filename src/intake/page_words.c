/* page_words.c - the words of a text in one code page: which are known, and which nobody would write. */
#include "intake/page.h"

#include "gen/ref_header_word.h"
#include "tenterbook/fibre.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <unicase.h>
#include <unictype.h>
#include <unistr.h>

#define WORD_MOST 64 /* bytes; a longer one is known to nobody */

/* What languages are written in where it is not UTF-8. English is written in any. */
static const struct {
    const char *languages, *page;
} native[] = { { "de fr es it pt nl da sv no fi ga", "Windows-1252" },
               { "pl cs sk hu sl hr ro", "Windows-1250" },
               { "ru bg", "Windows-1251" },
               { "el", "Windows-1253" },
               { "tr", "Windows-1254" },
               { "lt lv et", "Windows-1257" },
               { "zh", "GB18030" },
               { "zh-Hant", "Big5" },
               { "ja", "Shift-JIS" },
               { "ko", "EUC-KR" } };
#define ANY (1u << 31)

/* A word of the tables, in lower case with its accents, and the pages of the languages that have it, as bits. */
struct known {
    char *word;
    unsigned pages;
    size_t seen; /* by the candidate of this number, from 1 */
};
struct lexicon {
    struct known *known;
    size_t n, cap;
};

static unsigned pages_of(const char *language)
{
    for (size_t i = 0; i < TB_COUNT(native); i++)
        if (tb_word_listed(native[i].languages, language, strlen(language), " "))
            return 1u << i;
    return ANY;
}

/* --- words ------------------------------------------------------------------------------------------------------ */

static bool is_letter(unsigned c)
{
    return c < 0x80 ? (c | 0x20) >= 'a' && (c | 0x20) <= 'z' : uc_is_property_alphabetic(c);
}

/* Scripts that do not mix within a word. */
enum script { OTHER, LATIN, GREEK, CYRILLIC, EAST };

static enum script script_of(unsigned c)
{
    if (c < 0x250)
        return c == 0xAA || c == 0xB5 || c == 0xBA ? OTHER : LATIN;
    if (c >= 0x370 && c < 0x400)
        return GREEK;
    if (c >= 0x400 && c < 0x530)
        return CYRILLIC;
    return (c >= 0x2E80 && c < 0xE000) || (c >= 0xF900 && c < 0xFB00) || (c >= 0xFF61 && c < 0xFFE0) ? EAST
                                                                                                     : OTHER;
}

/* Signs that stand between letters only where the page is wrong. Without those Western words hold: ordinals, the Catalan dot. */
static bool is_sign(unsigned c)
{
    return (c >= 0xA1 && c <= 0xBF && c != 0xAA && c != 0xAD && c != 0xB0 && c != 0xB4 && c != 0xB5 &&
            c != 0xB7 && c != 0xBA) ||
           c == 0xD7 || c == 0xF7 || c == 0x2020 || c == 0x2021 || c == 0x2030 || c == 0x2039 ||
           c == 0x203A || c == 0x20AC || c == 0x201A || c == 0x201E;
}

/* Three characters in a row, letters or not. */
static bool is_odd(unsigned a, unsigned b, unsigned c)
{
    enum script one = script_of(a), two = script_of(b), three = script_of(c);

    if ((b >= 0x80 && b < 0xA0) || (b >= 0xE000 && b < 0xF900))
        return true;
    if (!is_letter(a))
        return false;
    if (is_letter(c) && is_sign(b))
        return true;
    if (!is_letter(b))
        return false;
    if (one == EAST || two == EAST)
        return one == LATIN && two == EAST && three == LATIN && is_letter(c) && uc_is_lower(a) &&
               uc_is_lower(c);
    return (one && two && one != two) || (b >= 0x80 && uc_is_lower(a) && uc_is_upper(b));
}

/* Walks the words of a text: a function of each, in lower case. */
static void each_word(const char *s, size_t n, void (*take)(void *, const char *, bool), void *arg)
{
    char word[WORD_MOST + 8];
    size_t len = 0;
    bool beyond = false;

    for (size_t at = 0, step; at <= n; at += step) {
        unsigned c = ' ';
        int more;

        step = at < n ? tb_utf8_next(s + at, n - at, &c) : 1;
        if (is_letter(c) && len < WORD_MOST) {
            more = u8_uctomb((uint8_t *)word + len, uc_tolower(c), 8);
            len += more > 0 ? (size_t)more : 0;
            beyond = beyond || c >= 0x80;
        } else if (!is_letter(c)) {
            word[len] = '\0';
            if (len)
                take(arg, word, beyond);
            len = 0;
            beyond = false;
        }
    }
}

/* --- the words that are known ----------------------------------------------------------------------------------- */

struct adding {
    struct lexicon *lexicon;
    unsigned pages;
};

/* Single Latin letters are no words. */
static void add_word(void *arg, const char *word, bool beyond)
{
    struct adding *a = arg;
    struct lexicon *l = a->lexicon;

    if (!word[1] || (!beyond && strlen(word) < 3))
        return;
    TB_PUSH_ROOM(l->known, l->n, l->cap);
    l->known[l->n++] = (struct known){ tb_strdup(word), a->pages, 0 };
}

static int by_word(const void *a, const void *b)
{
    return strcmp(((const struct known *)a)->word, ((const struct known *)b)->word);
}

/* Headers, totals and names of fibres; a word that several languages have is one word of all of them. */
static void learn_words(struct lexicon *l)
{
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_header_word_n; i++) {
        struct adding a = { l, pages_of(tb_ref_header_word[i].language) };

        each_word(tb_ref_header_word[i].word, strlen(tb_ref_header_word[i].word), add_word, &a);
    }
    for (size_t i = 0; i < tb_name_count(); i++) {
        struct adding a = { l, pages_of(tb_name_at(i)->lang) };

        each_word(tb_name_at(i)->word, strlen(tb_name_at(i)->word), add_word, &a);
    }
    if (l->n)
        qsort(l->known, l->n, sizeof *l->known, by_word);
    for (size_t i = 0; i < l->n; i++) {
        if (n && strcmp(l->known[n - 1].word, l->known[i].word) == 0) {
            l->known[n - 1].pages |= l->known[i].pages;
            free(l->known[i].word);
        } else {
            l->known[n++] = l->known[i];
        }
    }
    l->n = n;
}

/* --- one candidate ---------------------------------------------------------------------------------------------- */

struct weighing {
    struct lexicon *lexicon;
    struct tb_candidate *c;
    size_t number;
    unsigned own; /* the bit of its page */
};

static void weigh_word(void *arg, const char *word, bool beyond)
{
    struct weighing *w = arg;
    const struct known want = { .word = (char *)word };
    struct known *k = bsearch(&want, w->lexicon->known, w->lexicon->n, sizeof want, by_word);

    w->c->runs += beyond;
    if (!k || k->seen == w->number)
        return;
    k->seen = w->number;
    w->c->words += beyond;
    w->c->native += k->pages == w->own;
}

static void count_odd(struct tb_candidate *c)
{
    unsigned a = ' ', b = ' ', next;

    for (size_t at = 0; at < c->text.n;) {
        at += tb_utf8_next(c->text.s + at, c->text.n - at, &next);
        c->odd += is_odd(a, b, next);
        a = b;
        b = next;
    }
}

void tb_page_weigh(struct tb_candidate *c, size_t n)
{
    struct lexicon l = { 0 };

    learn_words(&l);
    for (size_t i = 0; i < n; i++) {
        struct weighing w = { &l, &c[i], i + 1, 0 };

        for (size_t k = 0; k < TB_COUNT(native); k++)
            if (strcmp(native[k].page, c[i].page->name) == 0)
                w.own = 1u << k;
        each_word(c[i].text.s, c[i].text.n, weigh_word, &w);
        count_odd(&c[i]);
    }
    for (size_t i = 0; i < l.n; i++)
        free(l.known[i].word);
    free(l.known);
}
