/*
 * fold.h - the form in which words of a declaration are compared: one character at a time, so that the place
 * in the text is never lost. Used by the reader and, at build time, by the generator of the word index.
 */
#ifndef TENTERBOOK_FIBRE_FOLD_H
#define TENTERBOOK_FIBRE_FOLD_H

#include <stddef.h>
#include <stdint.h>

#define TB_FOLD_MOST 64

/*
 * Fold the character at s: lower case, no accent, full-width made plain, dashes one '-', white space ' '.
 * Writes at most TB_FOLD_MOST bytes and answers how many (0: a combining mark); *used is its length in s.
 * A byte that is no UTF-8 becomes 0x01, which is in no word.
 */
size_t tb_fold_char(const char *s, size_t n, size_t *used, char *out);
/* Fold a whole word or phrase as the table spells it; everything between words is one space. Yours to free. */
char *tb_fold_word(const char *s, size_t n);

/* FNV-1a, so that the hash of a phrase is continued from the hash of its beginning. */
#define TB_HASH_START 2166136261u
static inline uint32_t tb_hash_byte(uint32_t h, char c)
{
    return (h ^ (unsigned char)c) * 16777619u;
}

/* Which letters occur in a folded word: one edit changes at most two of them, which spares most comparisons. */
static inline uint64_t tb_fold_letters(const char *s)
{
    uint64_t set = 0;

    for (; *s; s++)
        set |= (uint64_t)1 << ((unsigned char)*s & 63);
    return set;
}

#endif
