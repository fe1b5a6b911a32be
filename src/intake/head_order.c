/* head_order.c - the number of an order inside other words: "DDT n. 441 - Vs. ordine n. 8812/B", "the list for your order PO-5520". */
#include "intake/heads.h"

#include <string.h>

#define LABEL_WORDS 5 /* "your purchase order no." */
#define TEXT_MOST 300 /* bytes: what is longer is prose of another kind */
#define NUMBER_MOST 40

static bool ends_word(char c)
{
    return !c || strchr(" ,;()[]\n\t:", c) != NULL;
}

/* Most rows of words hold no number: looking for labels in all of them would be felt. */
static bool worth_reading(const char *text)
{
    size_t digits = 0;

    for (const char *c = text; *c; c++)
        digits += *c >= '0' && *c <= '9';
    return digits >= TB_ORDER_DIGITS && strlen(text) <= TEXT_MOST;
}

/* Bytes of a word that holds figures enough for a number of an order, without the sentence's own stops; 0: it is none. */
static size_t number_at(const char *s)
{
    struct tb_day_reading day;
    size_t n = 0, digits = 0, day_n;

    while (!ends_word(s[n]))
        n++;
    while (n && strchr(".:!?", s[n - 1]))
        n--;
    for (size_t i = 0; i < n; i++)
        digits += s[i] >= '0' && s[i] <= '9';
    if (digits < TB_ORDER_DIGITS || n > NUMBER_MOST || tb_day_find(&day, s, &day_n) == 0)
        return 0;
    return n;
}

/* "order 500 m" speaks of metres. */
static bool measures(const char *behind)
{
    const char *s = behind + strspn(behind, " ");

    return tb_unit_find(TB_FIELD_LENGTH, s, strcspn(s, " .,;)")) != TB_UNIT_NONE;
}

/* Where the word before this place begins. */
static size_t word_before(const char *text, size_t at)
{
    while (at && ends_word(text[at - 1]))
        at--;
    while (at && !ends_word(text[at - 1]))
        at--;
    return at;
}

/* Is what stands before this place a word for the buyer's order? Of several labels the longest counts: "Our order" is the supplier's. */
static bool behind_label(const struct tb_header_words *w, const char *text, size_t at, size_t n)
{
    size_t end = at, start = at, label = at;

    while (end && strchr(" :.#", text[end - 1]))
        end--;
    for (size_t words = 0; words < LABEL_WORDS && start; words++) {
        start = word_before(text, start);
        if (start < end && tb_label_field(w, text + start, end - start) == TB_FIELD_ORDER)
            label = start;
    }
    return label < at && !tb_label_is_ours(text + label, end - label) &&
           !tb_head_is_quantity(w, text + label, end - label, text + at, n);
}

#define PREFIX_MOST 5

/* "PED" of "su pedido PED 2291": capitals before the figures are of the number. Where they begin; `at`: there are none. */
static size_t with_prefix(const char *text, size_t at)
{
    size_t start = word_before(text, at), n = 0;

    while (text[start + n] >= 'A' && text[start + n] <= 'Z')
        n++;
    if (tb_word_listed("NO NR NUM REF", text + start, n, " "))
        return at;
    return n >= 2 && n <= PREFIX_MOST && start + n + 1 == at && text[start + n] == ' ' ? start : at;
}

/* From the numbers back to their words: there are few of them, and to look for labels everywhere would be felt. */
static const char *find(const struct tb_header_words *w, const char *text, size_t *n)
{
    for (size_t at = 0; text[at]; at++)
        if ((!at || ends_word(text[at - 1]) || text[at - 1] == '.' || text[at - 1] == '#') &&
            (*n = number_at(text + at)) > 0 && !measures(text + at + *n)) {
            size_t prefix = with_prefix(text, at);

            if (prefix < at && behind_label(w, text, prefix, at - prefix + *n)) {
                *n += at - prefix;
                return text + prefix;
            }
            if (behind_label(w, text, at, *n))
                return text + at;
        }
    return NULL;
}

void tb_head_order(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                   const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && !h->value[TB_FIELD_ORDER]; i++) {
        size_t n = 0;
        const char *number = row->cell[i].type == TB_CELL_TEXT && worth_reading(row->cell[i].text)
                                 ? find(w, row->cell[i].text, &n)
                                 : NULL;

        if (number)
            tb_head_set(h, s, TB_FIELD_ORDER, number, n);
    }
}
