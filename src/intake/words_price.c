/* words_price.c - what a price is for, as headers and cells say it: "Price per kg", "Preis/kg", "EUR je lfm", "公斤单价". */
#include "intake/words.h"

#include "intake/written.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define MARKS " ()[]{}/|,;:" /* between words, of a text that is folded */

/* Chinese, Japanese and Korean signs take three bytes, the first of them E3 to ED. */
static bool east_asian(const char *s)
{
    return (unsigned char)*s >= 0xE3 && (unsigned char)*s < 0xEE;
}

/* Bytes of the word at s: to the next mark, or to where the script changes. */
static size_t word_length(const char *s)
{
    size_t n = 0;

    while (s[n] && !strchr(MARKS, s[n]) && east_asian(s + n) == east_asian(s))
        for (n++; ((unsigned char)s[n] & 0xC0) == 0x80;)
            n++;
    return n;
}

/* A currency and nothing else: "EUR", "US$", not "EURO/kg" and not "try it". */
static bool is_currency(const char *s, size_t n)
{
    char text[16];

    if (n >= sizeof text)
        return false;
    memcpy(text, s, n);
    text[n] = '\0';
    return strcmp(text, "$") == 0 || tb_currency_find(text, n) != NULL;
}

/* "per", "je", "al", "за": between a price and what it is for; folded. */
static bool is_per(const char *s, size_t n)
{
    static const char words[] =
        "per pro je a au par le la the por el al il o ao da za na po pe pr. pr pa for "
        "de di del in en em 1 на за по ανα το uz kohta basına 每 当たり 당";

    return tb_word_listed(words, s, n, " ");
}

/* What a text is made of that speaks of a price. */
struct price_words {
    enum tb_unit unit; /* what it is for */
    bool several;      /* two of them */
    bool currency, per;
    struct tb_text rest; /* all other words */
};

static void take_apart(struct price_words *p, const char *text, size_t length)
{
    char *folded = tb_fold(text, length);

    for (const char *s = folded; *s;) {
        size_t n = word_length(s);
        enum tb_unit u = n ? tb_unit_find(TB_FIELD_PRICE, s, n) : TB_UNIT_NONE;

        if (u) {
            p->several = p->several || (p->unit && p->unit != u);
            p->unit = u;
        } else if (n == 0 || is_per(s, n)) {
            p->per = p->per || n || *s == '/';
        } else if (is_currency(s, n)) {
            p->currency = true;
        } else {
            tb_text_addf(&p->rest, "%s%.*s", p->rest.n ? " " : "", (int)n, s);
        }
        s += n ? n : 1;
    }
    free(folded);
}

enum tb_unit tb_price_words_unit(const char *text, size_t n)
{
    struct price_words p = { 0 };

    take_apart(&p, text, n);
    tb_text_free(&p.rest);
    return p.several || !p.per ? TB_UNIT_NONE : p.unit;
}

/* Nothing but a word for a price, what it is for, its currency, and small words between. */
size_t tb_header_words_price(const struct tb_header_words *w, const char *text,
                             struct tb_word_hit hit[TB_HITS_MOST])
{
    struct price_words p = { 0 };
    size_t n = 0, kept = 0;

    take_apart(&p, text, strlen(text));
    if (p.rest.n)
        n = tb_header_words_exact(w, p.rest.s, p.rest.n, hit);
    for (size_t i = 0; i < n; i++)
        if (hit[i].field == TB_FIELD_PRICE)
            hit[kept++] = hit[i];
    if (!p.rest.n && p.currency && p.per) /* "EUR/kg" */
        hit[kept++] = (struct tb_word_hit){ .field = TB_FIELD_PRICE };
    tb_text_free(&p.rest);
    if (!p.unit || p.several)
        return 0;
    for (size_t i = 0; i < kept; i++)
        hit[i].unit = p.unit;
    return kept;
}
