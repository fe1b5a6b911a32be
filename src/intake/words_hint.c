/* words_hint.c - what a header speaks of that is not known as a whole: the meanings of the words in it. */
#include "intake/words.h"

#include "intake/written.h"

#include <string.h>

#define COMPOUND_LEAST 4 /* bytes: shorter ends of words mean nothing */

static uint64_t meanings(const struct tb_header_words *w, const char *word, size_t n)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t found = tb_header_words_exact(w, word, n, hit);
    uint64_t bits = 0;

    for (size_t i = 0; i < found; i++)
        bits |= (uint64_t)1 << hit[i].field;
    return bits;
}

/* The word itself, else its longest end that is one: German and its neighbours write compounds. */
static uint64_t of_word(const struct tb_header_words *w, const char *word, size_t n)
{
    uint64_t bits = meanings(w, word, n);

    for (size_t at = 1; !bits && at + COMPOUND_LEAST <= n; at++)
        if (((unsigned char)word[at] & 0xC0) != 0x80)
            bits = meanings(w, word + at, n - at);
    return bits;
}

uint64_t tb_header_words_hint(const struct tb_header_words *w, const char *text)
{
    static const char between[] = " \n\t()[]{}/|,;:-_=#'\"+&";
    uint64_t bits = 0;

    for (const char *s = text + strspn(text, between); *s; s += strspn(s, between)) {
        size_t n = strcspn(s, between);

        bits |= of_word(w, s, n);
        s += n;
    }
    return bits;
}

/* "in" is a word of its own but at the end: "Width in cm", "Ancho in". */
enum tb_unit tb_header_words_width(const char *text)
{
    static const char between[] = " \n\t()[]{}/|,;:-_=";
    enum tb_unit named = TB_UNIT_NONE;

    for (const char *s = text + strspn(text, between); *s;) {
        size_t n = strcspn(s, between), gap = strspn(s + n, between);
        enum tb_unit u =
            n == 2 && (s[0] | 0x20) == 'i' && s[n + gap] ? TB_UNIT_NONE : tb_unit_find(TB_FIELD_WIDTH, s, n);

        if (u == TB_UNIT_CM || u == TB_UNIT_IN) {
            if (named && u != named)
                return TB_UNIT_NONE;
            named = u;
        }
        s += n + gap;
    }
    return named;
}

/* Units that nothing else than the mass of cloth is measured in: "mm" and "oz" may be others. */
static enum tb_unit mass_alone(const char *s, size_t n)
{
    enum tb_unit u = tb_unit_find(TB_FIELD_MASS, s, n);

    return u == TB_UNIT_GSM || u == TB_UNIT_OZ_YD2 || u == TB_UNIT_G_PER_M || u == TB_UNIT_OZ_PER_YD
               ? u
               : TB_UNIT_NONE;
}

enum tb_unit tb_header_words_mass(const char *text)
{
    const char *open = strpbrk(text, "([{"), *close = open ? strpbrk(open, ")]}") : NULL;
    enum tb_unit u = close ? mass_alone(open + 1, (size_t)(close - open - 1)) : TB_UNIT_NONE;

    for (const char *s = text; !u && (s = strpbrk(s, " ,\n")) != NULL;) {
        s += strspn(s, " ,\n");
        u = mass_alone(s, strlen(s));
    }
    return u;
}
