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

/* The longest label of an order that begins here; 0: none does. */
static size_t label_at(const struct tb_header_words *w, const char *s)
{
    size_t best = 0, words = 0;

    for (size_t n = 1; s[n - 1] && words < LABEL_WORDS; n++) {
        if (!ends_word(s[n]) && s[n - 1] != '.')
            continue;
        words += s[n] == ' ' || !s[n];
        if (tb_label_field(w, s, n) == TB_FIELD_ORDER)
            best = n;
    }
    return best;
}

static const char *find(const struct tb_header_words *w, const char *text, size_t *n)
{
    for (const char *s = text; *s; s++) {
        size_t label;
        const char *number;

        if ((s > text && !ends_word(s[-1])) || ends_word(*s) || !(label = label_at(w, s)))
            continue;
        if (tb_label_is_ours(s, label)) { /* "Our order 88123" is the supplier's */
            s += label - 1;
            continue;
        }
        number = s + label + strspn(s + label, " :.#");
        if ((*n = number_at(number)) > 0 && !measures(number + *n))
            return number;
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
