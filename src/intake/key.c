/* key.c - the form in which header words are compared, whatever their spelling. */
#include "intake/words.h"

#include "tenterbook/utf8.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Words for "number" in the languages of the table, folded. */
static bool is_number_word(const char *s, size_t n)
{
    return tb_word_listed("no n nr nro num number nummer numero numara numarasi", s, n, " ");
}

/*
 * Folded text with everything but letters, digits and slashes as spaces; *number: a sign for "number" was in
 * it.
 */
static void tidy_up(char *tidy, size_t room, const char *folded, bool *number)
{
    size_t k = 0;

    for (const char *c = folded; *c && k < room - 3; c++) {
        if (strncmp(c, "\xC4\xB1", 2) == 0) { /* the dotless i */
            tidy[k++] = 'i';
            c++;
        } else if (strncmp(c, "\xC2\xB0", 2) == 0) { /* the degree sign, as in "n\u00B0" */
            tidy[k++] = ' ';
            c++;
        } else if (*c == '#') {
            *number = true;
            tidy[k++] = ' ';
        } else if (strchr(".:;,_*\"'!?=()[]{}<>-", *c) || strncmp(c, "\xE2\x80\x99", 3) == 0) {
            tidy[k++] = ' ';
            c += *c == '\xE2' ? 2 : 0;
        } else if (*c == '/') {
            while (k && tidy[k - 1] == ' ')
                k--;
            tidy[k++] = '/';
            while (c[1] == ' ')
                c++;
        } else {
            tidy[k++] = *c;
        }
    }
    tidy[k] = '\0';
}

/*
 * Words of a tidy text with one space between them, those for "number" left out; SIZE_MAX when they are too
 * long.
 */
static size_t join_words(char key[TB_HEADER_KEY_MOST], char *tidy, bool *number)
{
    char *save = NULL;
    size_t k = 0;
    bool after_n = false; /* the "o" of "n.o" */

    for (char *word = strtok_r(tidy, " ", &save); word; word = strtok_r(NULL, " ", &save)) {
        size_t len = strlen(word);

        if (is_number_word(word, len) || (after_n && len == 1 && *word == 'o')) {
            after_n = len == 1 && *word == 'n';
            *number = true;
            continue;
        }
        after_n = false;
        if (k + len + 3 > TB_HEADER_KEY_MOST)
            return SIZE_MAX;
        if (k)
            key[k++] = ' ';
        for (size_t i = 0; i < len; i++)
            key[k++] = word[i];
    }
    return k;
}

bool tb_header_key(char key[TB_HEADER_KEY_MOST], const char *text, size_t n)
{
    char *folded, tidy[TB_HEADER_KEY_MOST * 2];
    bool number = false;
    size_t k;

    key[0] = '\0';
    if (n >= TB_HEADER_KEY_MOST)
        return false;
    folded = tb_fold(text, n);
    tidy_up(tidy, sizeof tidy, folded, &number);
    free(folded);
    k = join_words(key, tidy, &number);
    if (k == SIZE_MAX || (!k && !number))
        return false;
    if (number)
        key[k++] = '#';
    key[k] = '\0';
    return true;
}

void tb_header_key_plain(char *key)
{
    char *out = key;

    for (const char *c = key; *c; c++) {
        *out++ = *c;
        if ((*c == 'a' || *c == 'o' || *c == 'u') && c[1] == 'e')
            c++;
    }
    *out = '\0';
}

void tb_header_key_flip(char *key)
{
    size_t k = strlen(key);

    if (k > 1 && key[k - 1] == '#') {
        key[k - 1] = '\0';
    } else if (k + 2 < TB_HEADER_KEY_MOST && key[0] != '#') {
        key[k] = '#';
        key[k + 1] = '\0';
    }
}
