/* words.c - header words: the reference table and a site's own list. */
#include "intake/words.h"

#include "gen/ref_header_word.h"

#include <pthread.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define SLOTS 8192 /* at least twice the words there are */

struct entry {
    char *key;
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t n;
};

struct tb_header_words {
    struct entry slot[SLOTS];
    size_t used;
};

/* FNV-1a with open addressing: the table never fills beyond half. */
static struct entry *slot_of(const struct tb_header_words *w, const char *key)
{
    uint32_t h = 2166136261u;

    for (const char *c = key; *c; c++)
        h = (h ^ (unsigned char)*c) * 16777619u;
    for (size_t i = h % SLOTS;; i = (i + 1) % SLOTS)
        if (!w->slot[i].key || strcmp(w->slot[i].key, key) == 0)
            return (struct entry *)&w->slot[i];
}

/* A word with several fields has several readings, which the columns around it decide between. */
static void add(struct tb_header_words *w, const char *text, struct tb_word_hit hit)
{
    char key[TB_HEADER_KEY_MOST];
    struct entry *e;

    if (!tb_header_key(key, text, strlen(text)) || w->used >= SLOTS / 2)
        return;
    e = slot_of(w, key);
    if (!e->key) {
        e->key = tb_strdup(key);
        w->used++;
    }
    if (e->n && e->hit[0].site)
        return; /* a site's own word stands alone */
    for (size_t i = 0; i < e->n; i++)
        if (e->hit[i].field == hit.field) {
            if (!e->hit[i].unit)
                e->hit[i].unit = hit.unit;
            e->hit[i].weak = e->hit[i].weak && hit.weak;
            return;
        }
    if (e->n < TB_HITS_MOST)
        e->hit[e->n++] = hit;
}

/*
 * The reference table is keyed once for the whole program, by whichever thread comes first, and then only
 * read.
 */
static struct tb_header_words reference;
static pthread_once_t reference_once = PTHREAD_ONCE_INIT;

static void key_reference(void)
{
    for (size_t i = 0; i < tb_ref_header_word_n; i++) {
        const struct tb_ref_header_word *r = &tb_ref_header_word[i];
        int field = tb_field_by_key(r->field), unit = tb_unit_by_key(r->unit);

        add(&reference, r->word,
            (struct tb_word_hit){ .field = field > 0 ? (enum tb_field)field : TB_FIELD_IGNORE,
                                  .unit = unit > 0 ? (enum tb_unit)unit : TB_UNIT_NONE,
                                  .weak = r->weak == 1 });
    }
}

struct tb_header_words *tb_header_words_new(const struct tb_header_word *site, size_t n)
{
    struct tb_header_words *w = tb_new(struct tb_header_words);

    (void)pthread_once(&reference_once, key_reference);
    for (size_t i = n; i > 0; i--) /* the last one given counts */
        add(w, site[i - 1].word, (struct tb_word_hit){ .field = site[i - 1].field, .site = true });
    return w;
}

void tb_header_words_free(struct tb_header_words *w)
{
    for (size_t i = 0; w && w->used && i < SLOTS; i++)
        free(w->slot[i].key);
    free(w);
}

/* The site's word, else that of the reference table. */
static const struct entry *look_up(const struct tb_header_words *w, const char *key)
{
    const struct entry *e = w->used ? slot_of(w, key) : NULL;

    return e && e->key ? e : slot_of(&reference, key);
}

/* What is measured has no number: "Metre no." does not hold metres. */
static bool is_figure(enum tb_field f)
{
    return f == TB_FIELD_LENGTH || f == TB_FIELD_WIDTH || f == TB_FIELD_MASS || f == TB_FIELD_WEIGHT_NET;
}

static size_t copy(const struct entry *e, bool numbered, struct tb_word_hit hit[TB_HITS_MOST])
{
    size_t n = 0;

    for (size_t i = 0; i < e->n; i++)
        if (!numbered || e->hit[i].site || !is_figure(e->hit[i].field))
            hit[n++] = e->hit[i];
    return n;
}

/* Four spellings are tried, the nearest first: umlauts written out, with and without "no.". */
size_t tb_header_words_exact(const struct tb_header_words *w, const char *text, size_t n,
                             struct tb_word_hit hit[TB_HITS_MOST])
{
    char key[TB_HEADER_KEY_MOST];
    bool numbered;

    if (!tb_header_key(key, text, n))
        return 0;
    numbered = key[strlen(key) - 1] == '#';
    for (int turn = 0; turn < 4; turn++) { /* as it is, umlauts plain; then both without or with the number */
        const struct entry *e;
        char plain[TB_HEADER_KEY_MOST];

        if (turn == 2)
            tb_header_key_flip(key);
        memcpy(plain, key, sizeof plain);
        if (turn % 2)
            tb_header_key_plain(plain);
        e = look_up(w, plain);
        if (e->key)
            return copy(e, numbered && turn >= 2, hit);
    }
    return 0;
}

bool tb_header_word_is_number(const char *text)
{
    char key[TB_HEADER_KEY_MOST];

    return tb_header_key(key, text, strlen(text)) && strcmp(key, "#") == 0;
}

static bool is_total(const struct tb_header_words *w, const char *s, size_t n)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t found = tb_header_words_exact(w, s, n, hit);

    for (size_t i = 0; i < found; i++)
        if (hit[i].field == TB_FIELD_TOTAL)
            return true;
    return false;
}

static bool letters_in(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)s[i] >= 0x80 || (s[i] >= 'a' && s[i] <= 'z') || (s[i] >= 'A' && s[i] <= 'Z'))
            return true;
    return false;
}

/* A word may end here: a space, a colon, or where a figure begins or ends. */
static bool word_ends(const char *s, size_t at)
{
    bool before = s[at - 1] >= '0' && s[at - 1] <= '9', here = s[at] >= '0' && s[at] <= '9';

    return s[at] == ' ' || s[at] == ':' || s[at] == '(' || before != here;
}

/* The word may stand at either end: "Total Partie 4", "Partie 4 Total". */
enum tb_total_word tb_header_word_total(const struct tb_header_words *w, const char *text)
{
    size_t n = strlen(text);
    bool plain = true, digits = false; /* "R0001": a number of something, by far the commonest case */
    enum tb_total_word found = TB_TOTAL_NOT;

    for (size_t i = 0; i < n && plain; i++) {
        plain = (unsigned char)text[i] < 0x80 && text[i] != ' ' && text[i] != ':';
        digits = digits || (text[i] >= '0' && text[i] <= '9');
    }
    if (n == 0 || n > 80 || (plain && digits))
        return TB_TOTAL_NOT;
    if (is_total(w, text, n))
        return TB_TOTAL_ALONE;
    for (size_t at = 1; at < n && found < TB_TOTAL_ALONE; at++) {
        const char *rest = text + at;

        if (!word_ends(text, at))
            continue;
        if (is_total(w, text, at))
            found = letters_in(rest, n - at) ? TB_TOTAL_IN : TB_TOTAL_ALONE;
        else if (is_total(w, rest, n - at))
            found = letters_in(text, at) ? TB_TOTAL_IN : TB_TOTAL_ALONE;
    }
    return found;
}
