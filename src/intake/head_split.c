/* head_split.c - values that hold two things: a name and its composition, the number of a note and its day. */
#include "intake/heads.h"

#include <string.h>

#define MEASURE_MOST 64   /* bytes */
#define LOT_LABEL_WORDS 2 /* "Dye lot" */

/* The field that "150 cm", "420 g/m2" or "Width 150 cm" measures; TB_FIELD_NONE: it is neither. */
static enum tb_field measure_of(const struct tb_header_words *w, const char *text)
{
    static const enum tb_field measured[] = { TB_FIELD_WIDTH, TB_FIELD_MASS };
    struct tb_figure f;

    if (!tb_figure_scan(&f, text) || !f.rest_n)
        return TB_FIELD_NONE;
    for (size_t i = 0; i < TB_COUNT(measured); i++)
        if (tb_unit_find(measured[i], f.rest, f.rest_n) &&
            (!f.before_n || tb_label_field(w, f.before, f.before_n) == measured[i]))
            return measured[i];
    return TB_FIELD_NONE;
}

/* ", 150 cm, 420 g/m2" behind a composition: nothing but measures of the cloth, which `h` then has; NULL `h`: is it that? */
static bool measures(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                     const char *tail)
{
    while (*(tail += strspn(tail, " ,;/|-"))) {
        size_t n = strcspn(tail, ",;|");
        char one[MEASURE_MOST];
        enum tb_field f = TB_FIELD_NONE;
        const char *figure = NULL;

        if (n < sizeof one && tb_head_plain(one, sizeof one, tail, n) > 0) {
            f = measure_of(w, one);
            figure = strpbrk(one, "0123456789"); /* without its label */
        }
        if (!f || !figure)
            return false;
        if (h && !h->value[f])
            tb_head_set(h, s, f, figure, strlen(figure));
        tail += n;
    }
    return true;
}

static const char separators[] = " /|,;-(";

/* Of n bytes those before what parts two values: "014 Marine" of "014 Marine \u2013 ". */
static size_t before_separator(const char *v, size_t n)
{
    static const char dash[] = "\u2013";
    const size_t wide = sizeof dash - 1;

    for (;;)
        if (n && strchr(separators, v[n - 1]))
            n--;
        else if (n >= wide && memcmp(v + n - wide, dash, wide) == 0)
            n -= wide;
        else
            return n;
}

/* "Lot: 771 / 100% cotton": what follows the value without a label of its own is the composition, and measures may follow that. */
void tb_head_split_composition(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s)
{
    static const enum tb_field named[] = { TB_FIELD_COMPOSITION, TB_FIELD_ARTICLE, TB_FIELD_DESIGN,
                                           TB_FIELD_COLOUR, TB_FIELD_LOT };
    struct tb_stretch part;

    for (size_t i = 0; i < TB_COUNT(named); i++) {
        const char *v = h->value[named[i]];
        bool alone = named[i] == TB_FIELD_COMPOSITION;
        size_t n;

        if (!v || (!alone && h->value[TB_FIELD_COMPOSITION]) || !tb_declares(&part, v) ||
            (part.at == 0) != alone || !measures(NULL, w, s, v + part.at + part.n))
            continue;
        n = alone ? part.n : part.at;
        n = before_separator(v, n);
        (void)measures(h, w, s, v + part.at + part.n);
        if (!alone)
            tb_head_set(h, s, TB_FIELD_COMPOSITION, v + part.at, part.n);
        tb_head_cut(h, s, named[i], v, n);
    }
}

/* "Lot 22817" at this place: bytes of the label, where it is one of a dye lot and a number follows; 0: it is not. */
static size_t lot_label(const struct tb_header_words *w, const char *s)
{
    size_t words = 0;

    for (size_t n = 1; s[n] && words < LOT_LABEL_WORDS; n++)
        if (s[n] == ' ') {
            size_t value = n + strspn(s + n, " .#");

            words++;
            if (tb_label_field(w, s, n) == TB_FIELD_LOT &&
                strcspn(s + value, "0123456789") < strcspn(s + value, " "))
                return value;
        }
    return 0;
}

/* "Coloris : 014 Marine - Bain 22817": the dye lot behind the colour has a label, and no colon. */
void tb_head_split_lot(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s)
{
    static const enum tb_field before[] = { TB_FIELD_COLOUR, TB_FIELD_DESIGN, TB_FIELD_ARTICLE };

    for (size_t i = 0; i < TB_COUNT(before) && !h->value[TB_FIELD_LOT]; i++) {
        const char *v = h->value[before[i]];
        size_t n = v ? strlen(v) : 0, label;

        for (size_t at = 1; at < n; at++) {
            size_t end = at;

            if (!strchr(separators, v[at - 1]) || (label = lot_label(w, v + at)) == 0)
                continue;
            end = before_separator(v, end);
            tb_head_set(h, s, TB_FIELD_LOT, v + at + label, strcspn(v + at + label, " ,;)"));
            tb_head_cut(h, s, before[i], v, end);
            break;
        }
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

/* "123 del 12/03/2026": bytes of the number before a day at the end of a value; 0: there is no such day. The small words between are of neither. */
static size_t number_before(const char *v, size_t *day_at, size_t *day_n)
{
    struct tb_day_reading day;
    size_t end = 0, at = v ? tb_day_find(&day, v, day_n) : SIZE_MAX;

    if (at == SIZE_MAX || at == 0)
        return 0;
    *day_at = at;
    for (; (end = without_last_word(v, at)) < at; at = end)
        ;
    return end;
}

/* "DDT n. 123 del 12/03/2026": a number that ends in a date gives both; the day of an order is not that of the note. */
void tb_head_split_day(struct tb_heads *h, struct tb_list_store *s)
{
    const char *note = h->value[TB_FIELD_NOTE], *order = h->value[TB_FIELD_ORDER];
    size_t at, n, end = number_before(note, &at, &n);

    if (end && !h->value[TB_FIELD_DAY])
        tb_head_set(h, s, TB_FIELD_DAY, note + at, n);
    if (end)
        tb_head_set(h, s, TB_FIELD_NOTE, note, end);
    if ((end = number_before(order, &at, &n)) > 0)
        tb_head_set(h, s, TB_FIELD_ORDER, order, end);
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
void tb_head_day_beside(struct tb_heads *h, struct tb_list_store *s, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && !h->value[TB_FIELD_DAY]; i++) {
        const char *text = row->cell[i].text;
        struct tb_day_reading day;
        size_t n, at;

        if (row->cell[i].type == TB_CELL_DAY)
            tb_head_set(h, s, TB_FIELD_DAY, text, strlen(text));
        else if (row->cell[i].type == TB_CELL_TEXT && (at = tb_day_find(&day, text, &n)) != SIZE_MAX &&
                 letters_in(text, at) <= 8 && letters_in(text + at + n, strlen(text) - at - n) <= 4)
            tb_head_set(h, s, TB_FIELD_DAY, text + at, n);
    }
}

/* "Friday, 11 September 2026": the day in what a label says. */
void tb_head_trim_day(struct tb_heads *h, struct tb_list_store *s)
{
    const char *v = h->value[TB_FIELD_DAY];
    struct tb_day_reading day;
    size_t n, at;

    if (v && !tb_day_scan(&day, v) && (at = tb_day_find(&day, v, &n)) != SIZE_MAX)
        tb_head_set(h, s, TB_FIELD_DAY, v + at, n);
}
