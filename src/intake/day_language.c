/* day_language.c - in which order the language of a header writes days: 03/11/2026 is read two ways in English alone. */
#include "intake/reader.h"

#include "gen/ref_header_word.h"

#include <string.h>

/* Languages that write the day first, whatever stands between the figures (Unicode CLDR, short dates; from memory). */
static const char day_first[] = "fr it es pt de nl pl cs sk sl hr ro el tr ru bg da no fi et uk";

#define WORDS_LEAST 2 /* one word may be a name */

static bool beyond_ascii(const char *s)
{
    for (; *s; s++)
        if ((unsigned char)*s >= 0x80)
            return true;
    return false;
}

/* What the languages of one header tell: a language with the day first and no other, English and none of those, or neither. */
enum told { NOTHING, DAY_FIRST, OTHER };

static enum told told_by(const char *header)
{
    char key[TB_HEADER_KEY_MOST], word[TB_HEADER_KEY_MOST];
    bool day = false, other = false;

    if (!tb_header_key(key, header, tb_header_core(header)))
        return NOTHING;
    for (size_t i = 0; i < tb_ref_header_word_n; i++) {
        const struct tb_ref_header_word *w = &tb_ref_header_word[i];

        if (beyond_ascii(header) && !beyond_ascii(w->word))
            continue; /* "pièce" is no English word */
        if (!tb_header_key(word, w->word, strlen(w->word)) || strcmp(word, key) != 0)
            continue;
        if (tb_word_listed(day_first, w->language, strlen(w->language), " "))
            day = true;
        else
            other = true;
    }
    return day && !other ? DAY_FIRST : other && !day ? OTHER : NOTHING;
}

bool tb_header_day_first(const struct tb_list_reader *r)
{
    size_t words = 0;

    for (size_t i = 0; i < r->list->columns; i++) {
        enum told is = told_by(r->list->column[i].header);

        if (is == OTHER)
            return false;
        words += is == DAY_FIRST;
    }
    return words >= WORDS_LEAST;
}
