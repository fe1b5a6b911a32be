/* head_set.c - a label and its value: which field it is of, and how a value is kept. */
#include "intake/heads.h"

#include <string.h>

bool tb_field_measured(enum tb_field f)
{
    return f == TB_FIELD_WIDTH || f == TB_FIELD_WIDTH_USABLE || f == TB_FIELD_MASS ||
           f == TB_FIELD_MASS_LINEAR;
}

/* Bytes of "Width" in "Width (cm)"; 0: no unit ends the label. */
static size_t before_unit(const char *s, size_t n)
{
    char unit[16];
    size_t at, end = n;

    while (end && strchr(")] ", s[end - 1]))
        end--;
    for (at = end; at && !strchr("([ ", s[at - 1]); at--)
        ;
    if (!at || end - at >= sizeof unit)
        return 0;
    memcpy(unit, s + at, end - at);
    unit[end - at] = '\0';
    while (at && strchr("([ ", s[at - 1]))
        at--;
    return tb_header_is_unit(unit) ? at : 0;
}

/* The field of a label; a second order is not kept where it is the supplier's own number of it, or the contract of the sale. */
enum tb_field tb_head_label(const struct tb_heads *h, const struct tb_header_words *w, const char *s,
                            size_t n)
{
    enum tb_field f = tb_label_field(w, s, n);
    size_t core = f ? 0 : before_unit(s, n);

    if (core && tb_field_measured(f = tb_label_field(w, s, core)))
        return f;
    f = core ? TB_FIELD_NONE : f;
    return f == TB_FIELD_ORDER && h->value[f] && (tb_label_is_ours(s, n) || tb_label_is_contract(s, n))
               ? TB_FIELD_IGNORE
               : f;
}

/* "100% Rayon Challis" under a label of the goods: no name where there is another. */
bool tb_head_begins_with_share(const char *text)
{
    struct tb_stretch part;

    return text && tb_declares(&part, text) && part.at == 0;
}

bool tb_field_of_goods(enum tb_field f)
{
    return f == TB_FIELD_ARTICLE || f == TB_FIELD_DESIGN || f == TB_FIELD_COLOUR || f == TB_FIELD_LOT ||
           f == TB_FIELD_SHADE_GROUP || f == TB_FIELD_COMPOSITION || f == TB_FIELD_WIDTH ||
           f == TB_FIELD_WIDTH_USABLE || f == TB_FIELD_MASS;
}

/* "Material: Flannel Hana": the word names the goods as often as what they are made of. */
static bool may_name_goods(const struct tb_head_said *said)
{
    return said->label && tb_label_is_material(said->label) && !tb_holds_fibre(said->value);
}

/* Where another label declares and nothing names the article, what stands under such a word is the article. */
static void name_by_material(struct tb_heads *h)
{
    struct tb_head_said *name = NULL, *declared = NULL;
    struct tb_stretch part;

    for (size_t i = 0; i < h->saids; i++) {
        if (h->said[i].field == TB_FIELD_COMPOSITION && may_name_goods(&h->said[i]))
            name = name ? name : &h->said[i];
        else if (h->said[i].field == TB_FIELD_COMPOSITION && tb_declares(&part, h->said[i].value))
            declared = &h->said[i];
    }
    if (!name || !declared || h->value[TB_FIELD_ARTICLE] || h->value[TB_FIELD_DESIGN])
        return;
    name->field = TB_FIELD_ARTICLE;
    h->value[TB_FIELD_ARTICLE] = name->value;
    h->value[TB_FIELD_COMPOSITION] = declared->value;
    h->guessed = TB_FIELD_ARTICLE;
}

/* A name takes the place of a composition under a label of the goods, as in the value itself. */
void tb_heads_keep(struct tb_heads *h, enum tb_field f, const char *text)
{
    h->value[f] = text;
    if (!tb_field_of_goods(f))
        return;
    for (size_t i = 0; i < h->saids; i++)
        if (h->said[i].field == f &&
            (h->said[i].value == text ||
             (f == TB_FIELD_ARTICLE && tb_head_begins_with_share(h->said[i].value)))) {
            h->said[i].value = text;
            return;
        }
    h->saids -= h->saids == TB_HEADS_SAID_MOST;
    h->said[h->saids++] = (struct tb_head_said){ f, text, h->label, h->line };
    if (f == TB_FIELD_COMPOSITION)
        name_by_material(h);
}

/* The value as it was said is cut. */
void tb_head_cut(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n)
{
    const char *whole = h->value[f];

    while (n && strchr(" ,;(", text[n - 1]))
        n--;
    if (!n)
        return;
    h->value[f] = tb_store_intern(s, text, n);
    for (size_t i = 0; i < h->saids; i++)
        if (h->said[i].field == f && h->said[i].value == whole)
            h->said[i].value = h->value[f];
}

/* Is it spelt with its last letter accented, which the form in which words are compared does not show? */
static bool ends_accented(const char *label, size_t n)
{
    while (n && strchr(" :.", label[n - 1]))
        n--;
    return n && (unsigned char)label[n - 1] >= 0x80;
}

bool tb_head_is_quantity(const struct tb_header_words *w, const char *label, size_t label_n,
                         const char *value, size_t n)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t hits = tb_header_words_exact(w, label, label_n, hit), digits = 0;
    char text[32];
    struct tb_figure f;
    bool ordered = false;

    for (size_t i = 0; i < hits; i++)
        ordered = ordered || hit[i].field == TB_FIELD_LENGTH_ORDERED;
    if (!ordered || n >= sizeof text)
        return false;
    memcpy(text, value, n);
    text[n] = '\0';
    if (!tb_figure_scan(&f, text) || (f.rest_n && !tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n)))
        return false;
    for (size_t i = 0; i < n; i++)
        digits += text[i] >= '0' && text[i] <= '9';
    return f.rest_n || digits < TB_ORDER_DIGITS || strpbrk(text, ".,") || ends_accented(label, label_n);
}

#define WORD_LEAST 4 /* letters: "col." is cut short, "Dune." ends a sentence */

size_t tb_head_without_stop(const char *text, size_t n)
{
    size_t letters = 0;

    if (!n || text[n - 1] != '.' || memchr(text, '.', n - 1))
        return n;
    while (letters < n - 1 &&
           ((unsigned char)text[n - 2 - letters] >= 0x80 ||
            ((text[n - 2 - letters] | 0x20) >= 'a' && (text[n - 2 - letters] | 0x20) <= 'z')))
        letters++;
    return letters >= WORD_LEAST ? n - 1 : n;
}

/* "Width (cm)" over "145": the unit of the figure stands in its label. */
static const char *with_unit(const struct tb_heads *h, struct tb_list_store *s, enum tb_field f,
                             const char *text)
{
    size_t at = h->label && tb_field_measured(f) ? before_unit(h->label, strlen(h->label)) : 0, n;
    const char *unit;

    if (!at || text[strspn(text, "0123456789., ")])
        return text;
    unit = h->label + at + strspn(h->label + at, " ([");
    n = strcspn(unit, ")] ");
    return tb_unit_find(f, unit, n) ? tb_store_internf(s, "%s %.*s", text, (int)n, unit) : text;
}

/* A later value counts: a page repeats its labels with what is true of it. */
void tb_head_set(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n)
{
    bool digit = false;
    char plain[256];

    while (n && (strchr(" ;,|\n\t", text[n - 1]) || (text[n - 1] == '/' && n > 1 && text[n - 2] == ' ')))
        n--;
    while (n && strchr(" \n\t", *text)) {
        text++;
        n--;
    }
    n = tb_head_without_stop(text, n);
    if ((f == TB_FIELD_NOTE || f == TB_FIELD_ORDER) && n < sizeof plain) {
        n = tb_head_plain(plain, sizeof plain, text, n);
        text = plain;
    }
    for (size_t i = 0; i < n && !digit; i++)
        digit = text[i] >= '0' && text[i] <= '9';
    if (!digit && (f == TB_FIELD_NOTE || f == TB_FIELD_ORDER || f == TB_FIELD_DAY))
        return; /* "Packing list" is as often the title of the page as the label of a number */
    if (!n || n >= 4096)
        return;
    if (f == TB_FIELD_SUPPLIER && memchr(text, '@', n))
        return; /* "From:" in a mail names whoever sent or passed on the mail, not the firm */
    text = with_unit(h, s, f, tb_store_intern(s, text, n));
    if (f != TB_FIELD_ARTICLE || !h->value[f] || !tb_head_begins_with_share(text))
        tb_heads_keep(h, f, text);
}
