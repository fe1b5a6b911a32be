/* A word cut out of the text: the longest phrase that some list has, else the letters up to the next known word. */
#include "fibre/fold.h"
#include "fibre/index.h"
#include "fibre/scan.h"

#include <string.h>

#define PHRASE_MOST 160 /* bytes of the longest phrase looked up; the longest of the tables has 116 */

/* A word that some list has: its row of the table of names, and what the reader's own list has for it. */
struct found {
    int row;
    size_t phrase, phrases;
    size_t end; /* in the folded text */
};

/* Does the word as written have the capitals or accents that a row asks for? */
static bool written_so(const char *written, size_t len, int row)
{
    bool accents = false, lower = false, wants = false; /* "E" is a code, "e" an Italian "and" */

    if (tb_name_more[row].casing == TB_CASING_ANY)
        return true;
    for (size_t i = 0; i < len; i++) {
        accents |= (unsigned char)written[i] >= 0x80;
        lower |= written[i] >= 'a' && written[i] <= 'z';
    }
    for (const char *p = tb_name_table[row].word; *p; p++)
        wants |= (unsigned char)*p >= 0x80;
    return tb_name_more[row].casing == TB_CASING_UPPER ? !lower && !accents : accents == wants;
}

static bool counts(const struct tb_vocabulary *v, int row, const char *written, size_t len)
{
    return written_so(written, len, row) && (!v->knows || v->knows(v->who, (size_t)row, written, len));
}

int tb_token_next_row(const struct tb_token *t, int row, const char *text, const struct tb_vocabulary *v)
{
    static const struct tb_vocabulary names_alone = { 0 };

    if (row < 0)
        return -1;
    for (int r = row + 1; r < (int)tb_name_table_n && tb_name_more[r].rows == 0; r++)
        if (counts(v ? v : &names_alone, r, text + t->at, t->len))
            return r;
    return -1;
}

/* Look the folded bytes up that stand for s->s[from .. to - 1]. Is there a word? */
static bool look_up(const struct scan *s, size_t from, size_t to, const char *folded, size_t n, uint32_t hash,
                    struct found *out)
{
    struct found f = { .row = -1, .end = to };
    const char *written = s->text + s->from[from];
    size_t len = s->from[to] - s->from[from];
    int first = tb_name_lookup(folded, n, hash);

    for (int r = first; first >= 0 && r < first + tb_name_more[first].rows && f.row < 0; r++)
        if (counts(s->v, r, written, len))
            f.row = r;
    if (s->v->phrases)
        f.phrases = tb_phrases_find(s->v->phrases, folded, n, &f.phrase);
    if (f.row < 0 && f.phrases == 0)
        return false;
    *out = f;
    return true;
}

/* Looking further than the longest phrase there is would only cost time. */
static size_t longest_known(const struct scan *s)
{
    size_t own = s->v->phrases ? s->v->phrases->longest : 0;

    return own > tb_name_longest ? own : tb_name_longest;
}

/*
 * The longest phrase that begins here. Between words a phrase may have spaces, hyphens, points or apostrophes, all
 * of which fold to one space, or a slash.
 */
static bool longest_phrase(const struct scan *s, size_t at, struct found *out)
{
    char phrase[PHRASE_MOST];
    size_t n = 0, words = 0, from = at, most = longest_known(s);
    uint32_t h = TB_HASH_START;
    bool any = false;

    for (;;) {
        size_t stop = scan_word_end(s, at), gap;

        if (n + (stop - at) + 1 > sizeof phrase)
            break;
        for (; at < stop; at++) {
            phrase[n++] = s->s[at];
            h = tb_hash_byte(h, s->s[at]);
        }
        any |= look_up(s, from, at, phrase, n, h, out);
        if (++words == most)
            break;
        /* what may stand between two words of a phrase; a comma or a line break may not */
        for (gap = at; gap < s->n && s->s[gap] && strchr(" -'./", s->s[gap]); gap++)
            ;
        if (gap == at || gap == s->n || !scan_is_letter(s->s[gap]))
            break;
        phrase[n] = memchr(s->s + at, '/', gap - at) ? '/' : ' ';
        h = tb_hash_byte(h, phrase[n++]);
        at = gap;
    }
    return any;
}

static size_t char_end(const struct scan *s, size_t at)
{
    at++;
    while (at < s->n && ((unsigned char)s->s[at] & 0xC0) == 0x80)
        at++;
    return at;
}

/* In a script without spaces: the longest word that begins here, character by character. */
static bool longest_unspaced(const struct scan *s, size_t at, struct found *out)
{
    uint32_t h = TB_HASH_START;
    size_t from = at;
    bool any = false;

    while (at < s->n && scan_is_unspaced(s->s + at) && at - from < PHRASE_MOST) {
        size_t stop = char_end(s, at);

        for (; at < stop; at++)
            h = tb_hash_byte(h, s->s[at]);
        any |= look_up(s, from, at, s->s + from, at - from, h, out);
    }
    return any;
}

bool tb_scan_percent_word(struct scan *s, size_t at, size_t *end)
{
    static const struct tb_vocabulary all = { 0 }; /* a reader may not care for the word where no number is */
    struct scan plain = *s;
    struct found f;

    plain.v = &all;
    if (at >= s->n || !scan_is_letter(s->s[at]) || !longest_phrase(&plain, at, &f))
        return false;
    *end = f.end;
    return tb_name_table[f.row].kind == TB_WORD_PERCENT;
}

/* Where an unknown word ends: in a script without spaces at the next word that is known. */
static size_t unknown_end(const struct scan *s)
{
    size_t end = s->at;
    bool unspaced = scan_is_unspaced(s->s + s->at);
    struct found f;

    do
        end = char_end(s, end);
    while (end < s->n && (unspaced ? scan_is_unspaced(s->s + end) && !longest_unspaced(s, end, &f)
                                   : scan_is_letter(s->s[end]) && !scan_is_unspaced(s->s + end)));
    return end;
}

void tb_scan_word(struct scan *s)
{
    struct found f = { .row = -1 };
    bool known =
        scan_is_unspaced(s->s + s->at) ? longest_unspaced(s, s->at, &f) : longest_phrase(s, s->at, &f);
    size_t end = known ? f.end : unknown_end(s);
    struct tb_token *t = tb_scan_push(s, TB_TOKEN_WORD, s->at, end);

    t->row = f.row;
    if (f.phrases) {
        t->what = s->v->phrases->item[f.phrase].what;
        t->part = s->v->phrases->item[f.phrase].part;
    } else if (known) {
        t->what = tb_name_table[f.row].kind;
        t->part = tb_name_more[f.row].part;
    }
    t->phrase = f.phrase;
    t->phrases = f.phrases;
    s->at = end;
}
