/*
 * scan.h - a text on its way to tokens, as the files that cut words, numbers and signs out of it share it.
 */
#ifndef TENTERBOOK_FIBRE_SCAN_H
#define TENTERBOOK_FIBRE_SCAN_H

#include "tenterbook/token.h"

#include <stdint.h>

struct scan {
    const char *text;
    const struct tb_vocabulary *v; /* never NULL */
    struct tb_tokens *out;
    char *s;        /* the folded text, which ends with a zero byte */
    uint32_t *from; /* for each of its bytes the byte of the text it came from; [n] is the end */
    size_t n, cap;
    size_t at; /* in the folded text */
};

static inline bool scan_is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static inline bool scan_is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (unsigned char)c >= 0x80;
}

/* Skip spaces, but no line break. */
static inline size_t scan_past_spaces(const struct scan *s, size_t at)
{
    while (at < s->n && s->s[at] == ' ')
        at++;
    return at;
}

static inline size_t scan_word_end(const struct scan *s, size_t at)
{
    while (at < s->n && scan_is_letter(s->s[at]))
        at++;
    return at;
}

/* Scripts written without spaces between words: Chinese, Japanese, Korean (folded to its letters), Thai. */
static inline bool scan_is_unspaced(const char *s)
{
    unsigned char b = (unsigned char)*s;

    return b >= 0xE1 && !(b == 0xE1 && (unsigned char)s[1] >= 0xB8) &&
           !(b == 0xE2 && (unsigned char)s[1] < 0xBA);
}

/* Add a token made of the folded bytes from .. to - 1; good until the next one. */
struct tb_token *tb_scan_push(struct scan *s, enum tb_token_kind kind, size_t from, size_t to);
/* A word, or a number, begins at s->at: add it and move behind it. */
void tb_scan_word(struct scan *s);
void tb_scan_number(struct scan *s, bool percent);
/* Does a word for "per cent" begin here? Then *end is where it ends. */
bool tb_scan_percent_word(struct scan *s, size_t at, size_t *end);

/* How many phrases of a sorted list are exactly the n bytes at `folded`; *first is where the first of them is. */
size_t tb_phrases_find(const struct tb_phrases *list, const char *folded, size_t n, size_t *first);

#endif
