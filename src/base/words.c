/* words.c - looking words of a closed set up: a handful each, so one after the other. */
#include "tenterbook/words.h"

#include <assert.h>
#include <string.h>

const char *tb_word(const struct tb_words *w, int kind)
{
    assert(kind >= 0 && (size_t)kind < w->n);
    return w->word[kind];
}

bool tb_word_find(int *kind, const struct tb_words *w, const char *text)
{
    for (size_t i = 0; i < w->n; i++)
        if (strcmp(w->word[i], text) == 0) {
            *kind = (int)i;
            return true;
        }
    return false;
}

tb_rc tb_word_read(int *kind, const struct tb_words *w, const char *text, struct tb_err *err)
{
    return *text && tb_word_find(kind, w, text) ? TB_OK : tb_fail(err, TB_EINVAL, w->wrong, text);
}

/* Whole words: "bleached" is not listed by "unbleached". */
bool tb_word_listed(const char *list, const char *word, size_t n, const char *between)
{
    for (const char *s = list; s && *s; s += strcspn(s, between)) {
        s += strspn(s, between);
        if (n && strcspn(s, between) == n && memcmp(s, word, n) == 0)
            return true;
    }
    return false;
}
