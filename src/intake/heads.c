/*
 * heads.c - what stands above a table and between its blocks: "Supplier: ...", a label with its value beside
 * or below.
 */
#include "intake/header.h"

#include "intake/written.h"

#include <string.h>

/* What names or describes a delivery; a bolt or a length above a table is a heading. */
static bool wanted(enum tb_field f)
{
    return f >= TB_FIELD_SUPPLIER && f <= TB_FIELD_CURRENCY && f != TB_FIELD_BOLT && f != TB_FIELD_LENGTH;
}

/* The field of a label, TB_FIELD_NONE when it is not a label. */
static enum tb_field label(const struct tb_header_words *w, const char *s, size_t n)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t found;

    while (n && (s[n - 1] == ' ' || s[n - 1] == ':'))
        n--;
    found = n ? tb_header_words_exact(w, s, n, hit) : 0;
    for (size_t i = 0; i < found; i++)
        if (wanted(hit[i].field))
            return hit[i].field;
    return TB_FIELD_NONE;
}

static size_t colon_at(const char *s)
{
    return *s == ':' ? 1 : strncmp(s, "\xEF\xBC\x9A", 3) == 0 ? 3 : 0; /* U+FF1A, full-width */
}

/* Where the label before a colon begins: after a line break, semicolon, comma, vertical bar or two spaces. */
static size_t label_start(const char *s, size_t from, size_t colon)
{
    size_t at = colon;

    while (at > from) {
        char c = s[at - 1];

        if (c == '\n' || c == ';' || c == ',' || c == '|' || c == '\t')
            break;
        if (c == ' ' && at - 1 > from && s[at - 2] == ' ')
            break;
        at--;
    }
    return at;
}

/* A later value counts: a page repeats its labels with what is true of it. */
static void set(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n)
{
    bool digit = false;

    while (n && strchr(" ;,|\n\t", text[n - 1]))
        n--;
    while (n && strchr(" \n\t", *text)) {
        text++;
        n--;
    }
    for (size_t i = 0; i < n && !digit; i++)
        digit = text[i] >= '0' && text[i] <= '9';
    if (!digit && (f == TB_FIELD_NOTE || f == TB_FIELD_ORDER || f == TB_FIELD_DAY))
        return; /* "Packing list" is as often the title of the page as the label of a number */
    if (n && n < 4096)
        h->value[f] = tb_store_intern(s, text, n);
}

/* "DDT n. 123 del 12/03/2026": a note number that ends in a date gives both. */
static void split_day(struct tb_heads *h, struct tb_list_store *s)
{
    const char *v = h->value[TB_FIELD_NOTE], *space = v ? strrchr(v, ' ') : NULL;
    struct tb_day_reading day;
    size_t n;

    if (!space || !strpbrk(space, "./-") || !tb_day_scan(&day, space + 1))
        return;
    n = (size_t)(space - v);
    if (!h->value[TB_FIELD_DAY])
        set(h, s, TB_FIELD_DAY, space + 1, strlen(space + 1));
    while (n && v[n - 1] != ' ')
        n--; /* the small word before the date: del, vom, du, of */
    if (n && strcspn(v + n, "0123456789") >= (size_t)(space - v) - n)
        set(h, s, TB_FIELD_NOTE, v, n);
    else
        set(h, s, TB_FIELD_NOTE, v, (size_t)(space - v));
}

/* Labels with colons inside one cell. *open is the last label when nothing follows it in the cell. */
static size_t take_colons(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                          const char *text, enum tb_field *open)
{
    enum tb_field field = TB_FIELD_NONE;
    size_t from = 0, value = 0, found = 0, n = strlen(text);

    *open = TB_FIELD_NONE;
    for (size_t i = 0; i < n; i++) {
        size_t wide = colon_at(text + i), start;
        enum tb_field f;

        if (!wide)
            continue;
        start = label_start(text, from, i);
        f = label(w, text + start, i - start);
        if (!f)
            continue;
        if (field && start > value) {
            set(h, s, field, text + value, start - value);
            found++;
        }
        field = f;
        from = value = i + wide;
    }
    if (field && strspn(text + value, " ") < n - value) {
        set(h, s, field, text + value, n - value);
        found++;
    } else {
        *open = field;
    }
    return found;
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
        f = label(w, text, at - (text[at - 1] == ' '));
        if (f != TB_FIELD_NOTE && f != TB_FIELD_ORDER && f != TB_FIELD_DAY)
            continue;
        if (!strpbrk(value, "0123456789"))
            continue;
        if (strlen(value) == 4 && strspn(value, "0123456789") == 4 && !strpbrk(text, ".#"))
            return false; /* "Packing list 2026" is a title */
        set(h, s, f, value, strlen(value));
        return true;
    }
    return false;
}

static size_t next_filled(const struct tb_row *row, size_t i)
{
    for (i++; i < row->n && row->cell[i].type == TB_CELL_EMPTY; i++)
        ;
    return i;
}

/* A value that is itself a label belongs to the label after it. */
static bool is_label(const struct tb_header_words *w, const struct tb_cell *c)
{
    return c->type == TB_CELL_TEXT && (label(w, c->text, strlen(c->text)) || strpbrk(c->text, ":"));
}

/* Values below the labels of the row before. */
static size_t take_pending(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                           const struct tb_row *row)
{
    size_t found = 0;

    for (size_t i = 0; i < h->pending_n && i < row->n; i++)
        if (h->pending[i] && row->cell[i].type && !is_label(w, &row->cell[i])) {
            set(h, s, h->pending[i], row->cell[i].text, strlen(row->cell[i].text));
            found++;
        }
    h->pending_n = 0;
    return found;
}

/* Labels without a value in their row wait for the row below, where forms put them. */
size_t tb_heads_take(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_row *row)
{
    size_t found = take_pending(h, w, s, row), labels = 0,
           n = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST;
    enum tb_field waiting[TB_COLUMNS_MOST] = { 0 };

    for (size_t i = 0; i < n; i++) {
        const char *text = row->cell[i].text;
        enum tb_field f;
        size_t next, got;

        if (row->cell[i].type != TB_CELL_TEXT)
            continue;
        got = take_colons(h, w, s, text, &f);
        found += got;
        if (got && !f)
            continue;
        if (!f && tb_row_alone(row) && !label(w, text, strlen(text))) {
            enum tb_parts parts = tb_heads_parts(h, w, s, text);

            h->unclear = h->unclear || parts == TB_PARTS_UNCLEAR;
            if (parts != TB_PARTS_NOT)
                return found + 1;
        }
        if (!f && !(f = label(w, text, strlen(text)))) {
            found += take_prefix(h, w, s, text);
            continue;
        }
        next = next_filled(row, i);
        if (next < row->n && !is_label(w, &row->cell[next])) {
            set(h, s, f, row->cell[next].text, strlen(row->cell[next].text));
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
    split_day(h, s);
    return found;
}
