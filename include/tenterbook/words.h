/*
 * words.h - closed sets of words: what a book or a table holds as a word is a number in the program.
 *
 * Each set has one table, beside its enumeration, and is looked up only there. A word that is stored never changes:
 * books hold it.
 */
#ifndef TENTERBOOK_WORDS_H
#define TENTERBOOK_WORDS_H

#include "tenterbook/base.h"

/* A set of words. The place of a word in the list is the value of its enumerator; the first may be "": nothing is said. */
struct tb_words {
    const char *const *word; /* n of them, static */
    size_t n;
    const char *wrong; /* the sentence about a word that is not in the set, with one %s for it */
};

/* The word of an enumerator. Asserts that there is one: only a programmer can ask for another. Static text. */
const char *tb_word(const struct tb_words *w, int kind);
/* The enumerator of a word, exactly as it is written. False, and *kind untouched, when the set has no such word. */
bool tb_word_find(int *kind, const struct tb_words *w, const char *text);
/* The same, where the word is given by a person or a file: TB_EINVAL with the sentence of the set, for "" too. */
tb_rc tb_word_read(int *kind, const struct tb_words *w, const char *text, struct tb_err *err);
/* Are the n bytes one of the words of a list, such as "5;7;21"? `between` are the characters that separate them; NULL: no list. */
bool tb_word_listed(const char *list, const char *word, size_t n, const char *between);

/*
 * TB_WORDS - define a set: TB_WORDS(tb_step_words, TB_CLOSED + 1, "'%s' is not a step; ...", "", "opened", ...); there are as
 * many words as kinds, in the order of the enumerators, and the sentence is found by translators.
 */
#define TB_WORDS(name, kinds, wrong, ...)                                                                    \
    static const char *const name##_in_order[] = { __VA_ARGS__ };                                            \
    _Static_assert(TB_COUNT(name##_in_order) == (kinds), "a word is missing, or one too many");              \
    const struct tb_words name = { name##_in_order, TB_COUNT(name##_in_order), wrong }

#endif
