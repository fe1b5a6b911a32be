/*
 * heads.c - what stands above a table and between its blocks: "Supplier: ...", a label with its value beside
 * or below.
 */
#include "intake/header.h"

#include "intake/written.h"

#include <string.h>

/* The field of a label; a second order is not kept where it is the supplier's own number of it. */
static enum tb_field label(const struct tb_heads *h, const struct tb_header_words *w, const char *s, size_t n)
{
    enum tb_field f = tb_label_field(w, s, n);

    return f == TB_FIELD_ORDER && h->value[f] && tb_label_is_ours(s, n) ? TB_FIELD_IGNORE : f;
}

static size_t colon_at(const char *s)
{
    return *s == ':' ? 1 : strncmp(s, "\xEF\xBC\x9A", 3) == 0 ? 3 : 0; /* U+FF1A, full-width */
}

/* "Shade" of "Poplin / Shade": the label of a part, where the whole is none. */
static size_t part_start(const char *s, size_t from, size_t colon)
{
    size_t at = colon;

    while (at > from + 2 && !(s[at - 1] == ' ' && s[at - 2] == '/' && s[at - 3] == ' '))
        at--;
    return at > from + 2 ? at : from;
}

/* "Dye lot" of "Poplin 40s Dye lot": the longest end that is a label, where a value stands before it. */
static size_t end_start(const struct tb_header_words *w, const char *s, size_t from, size_t colon)
{
    for (size_t at = from + 1; at < colon; at++)
        if (s[at - 1] == ' ' && tb_label_field(w, s + at, colon - at))
            return at;
    return from;
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

/* "100% Rayon Challis" under a label of the goods: no name where there is another. */
static bool begins_with_share(const char *text)
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

/* A name takes the place of a composition under a label of the goods, as in the value itself. */
void tb_heads_keep(struct tb_heads *h, enum tb_field f, const char *text)
{
    h->value[f] = text;
    if (!tb_field_of_goods(f))
        return;
    for (size_t i = 0; i < h->saids; i++)
        if (h->said[i].field == f &&
            (h->said[i].value == text || (f == TB_FIELD_ARTICLE && begins_with_share(h->said[i].value)))) {
            h->said[i].value = text;
            return;
        }
    h->saids -= h->saids == TB_HEADS_SAID_MOST;
    h->said[h->saids++] = (struct tb_head_said){ f, text, h->label, h->line };
}

/* The value as it was said is cut. */
static void cut(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n)
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

/* A later value counts: a page repeats its labels with what is true of it. */
static void set(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n)
{
    bool digit = false;

    while (n && (strchr(" ;,|\n\t", text[n - 1]) || (text[n - 1] == '/' && n > 1 && text[n - 2] == ' ')))
        n--;
    while (n && strchr(" \n\t", *text)) {
        text++;
        n--;
    }
    for (size_t i = 0; i < n && !digit; i++)
        digit = text[i] >= '0' && text[i] <= '9';
    if (!digit && (f == TB_FIELD_NOTE || f == TB_FIELD_ORDER || f == TB_FIELD_DAY))
        return; /* "Packing list" is as often the title of the page as the label of a number */
    if (!n || n >= 4096)
        return;
    text = tb_store_intern(s, text, n);
    if (f != TB_FIELD_ARTICLE || !h->value[f] || !begins_with_share(text))
        tb_heads_keep(h, f, text);
}

/* "Lot: 771 / 100% cotton": what follows the value without a label of its own is the composition. */
static void split_composition(struct tb_heads *h, struct tb_list_store *s)
{
    static const enum tb_field named[] = { TB_FIELD_ARTICLE, TB_FIELD_DESIGN, TB_FIELD_COLOUR, TB_FIELD_LOT };
    struct tb_stretch part;

    for (size_t i = 0; i < TB_COUNT(named) && !h->value[TB_FIELD_COMPOSITION]; i++) {
        const char *v = h->value[named[i]];
        size_t n;

        if (!v || !tb_declares(&part, v) || part.at == 0 || v[part.at + part.n])
            continue;
        n = part.at;
        while (n && strchr(" /|,;-(", v[n - 1]))
            n--;
        set(h, s, TB_FIELD_COMPOSITION, v + part.at, part.n);
        cut(h, s, named[i], v, n);
    }
}

/* "123 del": the number without the small word behind it; n: the last word is a part of the number. */
static size_t without_last_word(const char *s, size_t n)
{
    size_t from;
    bool figure = false, capital = false, number = false;

    while (n && strchr(" ,;(", s[n - 1]))
        n--;
    for (from = n; from && s[from - 1] != ' '; from--) {
        figure = figure || (s[from - 1] >= '0' && s[from - 1] <= '9');
        capital = capital || (s[from - 1] >= 'A' && s[from - 1] <= 'Z');
    }
    for (size_t i = 0; i < from; i++)
        number = number || (s[i] >= '0' && s[i] <= '9');
    return figure || capital || !number ? n : from;
}

/* "DDT n. 123 del 12/03/2026": a note number that ends in a date gives both; the small words between are of neither. */
static void split_day(struct tb_heads *h, struct tb_list_store *s)
{
    const char *v = h->value[TB_FIELD_NOTE];
    struct tb_day_reading day;
    size_t n, at = v ? tb_day_find(&day, v, &n) : SIZE_MAX, end = at;

    if (at == SIZE_MAX || at == 0)
        return;
    if (!h->value[TB_FIELD_DAY])
        set(h, s, TB_FIELD_DAY, v + at, n);
    for (n = end; (end = without_last_word(v, n)) < n; n = end)
        ;
    set(h, s, TB_FIELD_NOTE, v, end);
}

static size_t letters_in(const char *s, size_t n)
{
    size_t letters = 0;

    for (size_t i = 0; i < n; i++)
        letters +=
            (unsigned char)s[i] >= 0xC0 || (s[i] >= 'a' && s[i] <= 'z') || (s[i] >= 'A' && s[i] <= 'Z');
    return letters;
}

/* A day in the row that gives the number of the note: "le 07/09/2026", with small words at most before it. */
static void take_day_beside(struct tb_heads *h, struct tb_list_store *s, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && !h->value[TB_FIELD_DAY]; i++) {
        const char *text = row->cell[i].text;
        struct tb_day_reading day;
        size_t n, at;

        if (row->cell[i].type == TB_CELL_DAY)
            set(h, s, TB_FIELD_DAY, text, strlen(text));
        else if (row->cell[i].type == TB_CELL_TEXT && (at = tb_day_find(&day, text, &n)) != SIZE_MAX &&
                 letters_in(text, at) <= 8 && letters_in(text + at + n, strlen(text) - at - n) <= 4)
            set(h, s, TB_FIELD_DAY, text + at, n);
    }
}

/* "Friday, 11 September 2026": the day in what a label says. */
static void trim_day(struct tb_heads *h, struct tb_list_store *s)
{
    const char *v = h->value[TB_FIELD_DAY];
    struct tb_day_reading day;
    size_t n, at;

    if (v && !tb_day_scan(&day, v) && (at = tb_day_find(&day, v, &n)) != SIZE_MAX)
        set(h, s, TB_FIELD_DAY, v + at, n);
}

/* "Poplin 40s / Shade: ivory": the name before the first label is the article. */
static void take_name(struct tb_heads *h, struct tb_list_store *s, const char *text, size_t n)
{
    if (h->value[TB_FIELD_ARTICLE])
        return;
    set(h, s, TB_FIELD_ARTICLE, text, n);
    h->guessed = h->value[TB_FIELD_ARTICLE] ? TB_FIELD_ARTICLE : h->guessed;
}

/* Labels with colons inside one cell. *open is the last label when nothing follows it in the cell. */
static size_t take_colons(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                          const char *text, enum tb_field *open)
{
    enum tb_field field = TB_FIELD_NONE;
    size_t from = 0, value = 0, found = 0, n = strlen(text);
    const char *named = NULL;

    *open = TB_FIELD_NONE;
    for (size_t i = 0; i < n; i++) {
        size_t wide = colon_at(text + i), start;
        enum tb_field f;

        if (!wide)
            continue;
        start = label_start(text, from, i);
        f = label(h, w, text + start, i - start);
        if (!f && (start = part_start(text, start, i)) > from && (f = label(h, w, text + start, i - start)) &&
            !field)
            take_name(h, s, text, start);
        if (!f && field && (start = end_start(w, text, start, i)) > from)
            f = label(h, w, text + start, i - start);
        if (!f)
            continue;
        if (field && start > value) {
            size_t end = start;

            while (end > value && strchr(" .", text[end - 1])) /* the end of a sentence */
                end--;
            h->label = named;
            set(h, s, field, text + value, end - value);
            found++;
        }
        field = f;
        named = tb_store_intern(s, text + start, i - start);
        from = value = i + wide;
    }
    h->label = named;
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
        f = label(h, w, text, at - (text[at - 1] == ' '));
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

/* "Art. 77 Gabardine": an abbreviated label, and a name with a digit in it; told, since no colon shows it. */
static bool take_article(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                         const char *text)
{
    const char *stop = strstr(text, ". ");
    size_t n = stop ? (size_t)(stop - text) + 1 : 0;
    enum tb_field f =
        n && strlen(text) <= 40 && strpbrk(stop, "0123456789") ? label(h, w, text, n) : TB_FIELD_NONE;

    if ((f != TB_FIELD_ARTICLE && f != TB_FIELD_DESIGN) || (h->value[f] && !begins_with_share(h->value[f])))
        return false;
    set(h, s, f, text + n, strlen(text + n));
    h->guessed = f;
    return true;
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
    return c->type == TB_CELL_TEXT && (tb_label_field(w, c->text, strlen(c->text)) || strpbrk(c->text, ":"));
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
        got = take_colons(h, w, s, text, &f);
        found += got;
        if (got && !f)
            continue;
        if (!f && tb_row_alone(row) && !label(h, w, text, strlen(text))) {
            enum tb_parts parts = tb_heads_parts(h, w, s, text);

            h->unclear = h->unclear || parts == TB_PARTS_UNCLEAR;
            if (parts != TB_PARTS_NOT) {
                tb_heads_stand_in(h);
                return found + 1;
            }
        }
        if (!f && !(f = label(h, w, text, strlen(text)))) {
            found += take_prefix(h, w, s, text) || take_article(h, w, s, text);
            continue;
        }
        next = next_filled(row, i);
        if (next < row->n && !is_label(w, &row->cell[next])) {
            h->label = tb_store_intern(s, text, strcspn(text, ":"));
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
    if (h->value[TB_FIELD_NOTE] != note)
        take_day_beside(h, s, row);
    trim_day(h, s);
    split_composition(h, s);
    tb_heads_stand_in(h);
    return found;
}
