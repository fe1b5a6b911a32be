/*
 * heads.c - what stands above a table and between its blocks: "Supplier: ...", a label with its value beside
 * or below.
 */
#include "intake/heads.h"

#include <string.h>

#define NUMBER_WORDS 3 /* "PO 4410 B" */

/* "2026": four figures that may as well be a year of now. */
static bool is_year(const char *s)
{
    return strlen(s) == 4 && strspn(s, "0123456789") == 4 &&
           (strncmp(s, "19", 2) == 0 || strncmp(s, "20", 2) == 0);
}

/* More words than a number has, or a day: "Order shipped complete on 12 September". */
static bool is_sentence(const char *s)
{
    struct tb_day_reading day;
    size_t words = 1, digits = 0, n;

    for (const char *c = s; *c; c++) {
        words += *c == ' ';
        digits += *c >= '0' && *c <= '9';
    }
    return words > NUMBER_WORDS || (words > 1 && digits < TB_ORDER_DIGITS) ||
           tb_day_find(&day, s, &n) != SIZE_MAX;
}

/* "Rendelés szám: R-7714": words of the label that the table does not know end in its colon. */
static const char *behind_colon(const char *s)
{
    const char *colon = strchr(s, ':');

    return colon && (size_t)(colon - s) < strcspn(s, "0123456789") ? colon + 1 + strspn(colon + 1, " ") : s;
}

/* "Packing list no. PL-2231": the longest beginning that is a label, and a value with a digit in it. */
static bool take_prefix(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                        const char *text)
{
    for (size_t at = strlen(text); at > 1; at--) {
        enum tb_field f;
        const char *value = text + at;

        if (text[at - 1] != ' ' && text[at - 1] != '#')
            continue;
        f = tb_head_label(h, w, text, at - (text[at - 1] == ' '));
        if (f != TB_FIELD_NOTE && f != TB_FIELD_ORDER && f != TB_FIELD_DAY)
            continue;
        value = behind_colon(value);
        if (!strpbrk(value, "0123456789") || (f == TB_FIELD_ORDER && is_sentence(value)) ||
            (f == TB_FIELD_ORDER && tb_head_is_quantity(w, text, at, value, strlen(value))))
            continue;
        if (is_year(value) && !strpbrk(text, ".#"))
            return false; /* "Packing list 2026" is a title */
        tb_head_set(h, s, f, value, strlen(value));
        return true;
    }
    return false;
}

/* "Art. 77 Gabardine": an abbreviated label, and a name with a digit in it; told, since no colon shows it. */
static bool take_article(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                         const char *text)
{
    const char *stop = strstr(text, ". ");
    size_t n = stop ? (size_t)(stop - text) + 1 : 0;
    enum tb_field f =
        n && strlen(text) <= 40 && strpbrk(stop, "0123456789") ? tb_head_label(h, w, text, n) : TB_FIELD_NONE;

    if ((f != TB_FIELD_ARTICLE && f != TB_FIELD_DESIGN) ||
        (h->value[f] && !tb_head_begins_with_share(h->value[f])))
        return false;
    tb_head_set(h, s, f, text + n, strlen(text + n));
    h->guessed = f;
    return true;
}

static size_t next_filled(const struct tb_row *row, size_t i)
{
    for (i++; i < row->n && row->cell[i].type == TB_CELL_EMPTY; i++)
        ;
    return i;
}

static const char *behind_first_colon(const char *s)
{
    return *s == ':' ? s + 1 + strspn(s + 1, " ") : s;
}

/* A value that is itself a label belongs to the label after it. */
static bool is_label(const struct tb_header_words *w, const struct tb_cell *c)
{
    const char *colon = c->type == TB_CELL_TEXT ? tb_colon_in(c->text, NULL) : NULL;

    /* in columns of spaces the colon may stand before the value: "Article      : Loden" */
    return c->type == TB_CELL_TEXT &&
           (tb_label_field(w, c->text, strlen(c->text)) || (colon && colon != c->text));
}

/* Values below the labels of the row before. */
static size_t take_pending(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                           const struct tb_row *row)
{
    size_t found = 0;

    for (size_t i = 0; i < h->pending_n && i < row->n; i++)
        if (h->pending[i] && row->cell[i].type && !is_label(w, &row->cell[i])) {
            tb_head_set(h, s, h->pending[i], row->cell[i].text, strlen(row->cell[i].text));
            found++;
        }
    h->pending_n = 0;
    return found;
}

/* Labels without a value in their row wait for the row below, where forms put them. */
size_t tb_heads_take(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_row *row)
{
    size_t found, labels = 0, n = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST;
    enum tb_field waiting[TB_COLUMNS_MOST] = { 0 };
    const char *note = h->value[TB_FIELD_NOTE];

    h->line = row->line;
    h->label = NULL;
    found = take_pending(h, w, s, row);
    for (size_t i = 0; i < n; i++) {
        const char *text = row->cell[i].text;
        enum tb_field f;
        size_t next, got;

        if (row->cell[i].type != TB_CELL_TEXT)
            continue;
        if (tb_head_note(h, s, row, &i)) {
            found++;
            continue;
        }
        got = tb_head_colons(h, w, s, text, &f);
        found += got;
        if (got && !f)
            continue;
        if (!f && tb_row_alone(row) && !tb_head_label(h, w, text, strlen(text))) {
            enum tb_parts parts = tb_heads_parts(h, w, s, text);

            h->unclear = h->unclear || parts == TB_PARTS_UNCLEAR;
            if (parts != TB_PARTS_NOT) {
                tb_heads_stand_in(h);
                return found + 1;
            }
        }
        if (!f && !(f = tb_head_label(h, w, text, strlen(text)))) {
            found += take_prefix(h, w, s, text) || take_article(h, w, s, text);
            continue;
        }
        next = next_filled(row, i);
        if (f == TB_FIELD_ORDER && next < row->n &&
            tb_head_is_quantity(w, text, strcspn(text, ":"), row->cell[next].text,
                                strlen(row->cell[next].text))) {
            i = next;
            continue;
        }
        if (next < row->n && !is_label(w, &row->cell[next])) {
            const char *value = behind_first_colon(row->cell[next].text);

            h->label = tb_store_intern(s, text, strcspn(text, ":"));
            tb_head_set(h, s, f, value, strlen(value));
            found++;
            i = next;
        } else {
            waiting[i] = f;
            labels++;
        }
    }
    if (labels >= 2) {
        memcpy(h->pending, waiting, sizeof waiting);
        h->pending_n = n;
    }
    tb_head_split_day(h, s);
    if (h->value[TB_FIELD_NOTE] != note)
        tb_head_day_beside(h, s, row);
    tb_head_trim_day(h, s);
    tb_head_order(h, w, s, row);
    tb_head_split_composition(h, w, s);
    tb_head_split_lot(h, w, s);
    tb_heads_stand_in(h);
    return found;
}
