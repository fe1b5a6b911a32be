/*
 * other_unit.c - a header that names one unit of length, and a title or a total that names another: which of them is true the file
 * does not say, unless somebody does.
 */
#include "intake/rows.h"

#include <math.h>
#include <string.h>

#define TO_THE_DIGIT 0.006 /* of the column's unit: sums of figures with two decimals */
#define NEARLY 0.15        /* a total that lacks a bolt or two, and is no other measure of the same bolts */
#define CONVERTED 0.005    /* a total in the other unit, rounded */
#define FIGURES_MOST 8     /* of one row */

static const char between[] = " \n\t()[]{}|,;:-_=#'\"";

static bool is_length_unit(enum tb_unit u)
{
    return u == TB_UNIT_M || u == TB_UNIT_YD;
}

static bool has_digit(const char *s)
{
    return strpbrk(s, "0123456789") != NULL;
}

/* "Mill Yard" is an address and "Meter Ltd" a firm: one of these says a unit only behind "in". */
static bool says_unit(const char *word, size_t n, bool behind_in)
{
    return behind_in ||
           (n >= 2 && !tb_word_listed("yard Yard YARD meter Meter METER metre Metre METRE", word, n, " ") &&
            (n >= 3 || tb_unit_find(TB_FIELD_LENGTH, word, n) == TB_UNIT_YD));
}

/* "All figures in yards", "Quantity in yds": the unit of a sentence without figures; NONE: it names none, or that of another measure. */
static enum tb_unit stated(const struct tb_list_reader *r, const char *text)
{
    static const uint64_t other = (uint64_t)1 << TB_FIELD_PRICE | (uint64_t)1 << TB_FIELD_MASS |
                                  (uint64_t)1 << TB_FIELD_MASS_LINEAR | (uint64_t)1 << TB_FIELD_WIDTH |
                                  (uint64_t)1 << TB_FIELD_WIDTH_USABLE | (uint64_t)1 << TB_FIELD_CURRENCY;
    enum tb_unit u = tb_header_words_unit(text);
    bool behind_in = false;

    if (!is_length_unit(u) || strchr(text, '/') || tb_header_words_hint(r->words, text) & other)
        return TB_UNIT_NONE;
    for (const char *s = text + strspn(text, between); *s; s += strspn(s, between)) {
        size_t n = strcspn(s, between);

        if (tb_unit_find(TB_FIELD_LENGTH, s, n) == u && says_unit(s, n, behind_in))
            return u;
        behind_in = tb_word_listed("in In IN en En EN em Em EM w W v V au", s, n, " ");
        s += n;
    }
    return TB_UNIT_NONE;
}

/* Figures of a row with the unit that stands behind each or, for all without, the only one that the row names. */
struct amounts {
    struct {
        double point, comma;
        enum tb_unit unit;
    } at[FIGURES_MOST];
    size_t n;
    unsigned named;   /* bit per enum tb_unit that the words of the row name */
    const char *text; /* the first cell that names one; borrowed from the row */
};

static void put(struct amounts *a, double point, double comma, enum tb_unit unit)
{
    if (a->n < FIGURES_MOST) {
        a->at[a->n].point = point;
        a->at[a->n].comma = comma;
        a->at[a->n++].unit = unit;
    }
}

/* "2 rolls 45.6 yds": each figure by itself. */
static void figures_of(struct amounts *a, const char *text)
{
    for (const char *s = text + strcspn(text, "0123456789"); *s; s += strcspn(s, "0123456789")) {
        size_t n = strspn(s, "0123456789.,"), gap = strspn(s + n, " "), unit;
        struct tb_figure f;
        char one[32];

        if (n < sizeof one) {
            memcpy(one, s, n);
            one[n] = '\0';
            unit = strcspn(s + n + gap, " ()[]{}|,;:0123456789");
            if (tb_figure_scan(&f, one))
                put(a, f.point, f.comma,
                    unit ? tb_unit_find(TB_FIELD_LENGTH, s + n + gap, unit) : TB_UNIT_NONE);
        }
        s += n;
    }
}

static void look(struct amounts *a, const struct tb_row *row)
{
    *a = (struct amounts){ 0 };
    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *cell = &row->cell[i];

        if (cell->type == TB_CELL_NUMBER) {
            put(a, cell->number, cell->number, TB_UNIT_NONE);
        } else if (cell->type == TB_CELL_TEXT && strlen(cell->text) <= 160) {
            enum tb_unit u = tb_header_words_unit(cell->text);

            figures_of(a, cell->text);
            a->named |= is_length_unit(u) ? 1u << u : 0;
            a->text = a->text || !is_length_unit(u) ? a->text : cell->text;
        }
    }
}

static bool near(double v, double w, double most)
{
    return w > 0 && fabs(v - w) <= most;
}

/* What the bolts above come to, of one of the groups that a total may be of. */
struct compared {
    bool same, converted, comparable;
};

static void compare(struct compared *c, double v, enum tb_unit unit, double sum, enum tb_unit own)
{
    double other = sum * tb_unit_metres(own) / tb_unit_metres(unit);

    c->same = c->same || near(v, sum, TO_THE_DIGIT);
    c->converted = c->converted || near(v, other, other * CONVERTED);
    c->comparable = c->comparable || near(v, sum, sum * NEARLY);
}

/* Does the row give, in the other unit, what the figures above add up to; or, where it is a total, something that is neither? */
static bool proves(const struct tb_list_reader *r, const struct amounts *a, enum tb_unit *unit, bool total)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_LENGTH];
    const struct tb_plain_sums *s = &r->plain;
    bool doubt = false;

    for (size_t i = 0; i < a->n && s->figures; i++) {
        enum tb_unit u = a->at[i].unit;
        struct compared k = { false, false, false };

        if (!u && !(a->named & (a->named - 1)))
            u = a->named == 1u << TB_UNIT_YD ? TB_UNIT_YD : a->named ? TB_UNIT_M : TB_UNIT_NONE;
        if (!is_length_unit(u) || u == c->unit)
            continue;
        compare(&k, a->at[i].point, u, s->block, c->unit);
        compare(&k, a->at[i].point, u, s->table, c->unit);
        compare(&k, a->at[i].point, u, s->file, c->unit);
        compare(&k, a->at[i].comma, u, s->block, c->unit);
        compare(&k, a->at[i].comma, u, s->table, c->unit);
        compare(&k, a->at[i].comma, u, s->file, c->unit);
        if (k.same || (total && k.comparable && !k.converted)) {
            *unit = u;
            doubt = true;
        }
    }
    return doubt;
}

static void keep(struct tb_list_reader *r, const struct tb_row *row, const char *text, enum tb_unit unit,
                 const struct tb_table_layout *proved)
{
    if (r->unit_saids < TB_COUNT(r->unit_said))
        r->unit_said[r->unit_saids++] = (struct tb_unit_said){ .line = row->line,
                                                               .said = tb_store_brief(r->list->store, text),
                                                               .unit = unit,
                                                               .sheet = r->sheet.number,
                                                               .proved = proved };
}

static void learn_stated(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *cell = &row->cell[i];
        enum tb_unit u;

        if (cell->type != TB_CELL_TEXT || strlen(cell->text) > 160 || has_digit(cell->text) ||
            (r->now && tb_header_is_unit(cell->text))) /* a row of units begins another table */
            continue;
        if ((u = stated(r, cell->text)) != TB_UNIT_NONE)
            keep(r, row, cell->text, u, NULL);
    }
}

/* A figure that names no unit of its own is in that of its column. */
static void add(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    struct tb_figure f;
    double v;

    if (!cell || !tb_cell_figure(cell, &v) ||
        (cell->type == TB_CELL_TEXT && tb_figure_scan(&f, cell->text) && f.rest_n))
        return;
    r->plain.figures++;
    r->plain.block += v;
    r->plain.table += v;
    r->plain.file += v;
}

/* Rows of bolts are by far the most, and only those that leave a column out are looked at word by word. */
static bool may_be_total(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *number = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);
    size_t filled = tb_row_cells(row);

    if (filled >= r->plain.fullest && number && has_digit(number->text)) {
        r->plain.fullest = filled;
        return false;
    }
    return true;
}

void tb_learn_other_unit(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = r->now ? r->now->of[TB_FIELD_LENGTH] : NULL;
    const struct tb_cell *number = r->now ? tb_cell_at(row, r->now->of[TB_FIELD_BOLT]) : NULL;
    struct amounts a;
    enum tb_unit unit;
    bool total, numbered = number && has_digit(number->text);

    if (r->now != r->plain.of) {
        r->plain.of = r->now;
        r->plain.block = r->plain.table = 0;
        r->plain.fullest = 0;
    }
    if (!r->now) {
        learn_stated(r, row);
        return;
    }
    if (!c || !is_length_unit(c->unit) || r->now->of[TB_FIELD_UNIT])
        return;
    if (!may_be_total(r, row)) {
        add(r, row);
        return;
    }
    total = tb_row_says_total(r, row);
    if (!total && numbered) {
        add(r, row);
        return;
    }
    look(&a, row);
    if (a.named && proves(r, &a, &unit, total))
        keep(r, row, a.text, unit, r->now);
    else if (!total)
        learn_stated(r, row);
    if (!total && !a.named && !r->now->of[TB_FIELD_BOLT])
        add(r, row);
    if (total)
        r->plain.block = 0;
}

/* A column of its own is in the other unit: what names it speaks of that one. */
static bool in_a_header(const struct tb_list_reader *r, enum tb_unit unit)
{
    for (size_t i = 0; i < r->list->columns; i++)
        if (tb_header_words_unit(r->list->column[i].header) == unit)
            return true;
    return false;
}

static bool table_on(const struct tb_list_reader *r, size_t sheet)
{
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->sheet == sheet)
            return true;
    return false;
}

/* A cover speaks of the sheets behind it, a title of those below it. */
static bool speaks_of(const struct tb_list_reader *r, const struct tb_unit_said *s,
                      const struct tb_table_layout *l)
{
    return s->proved ? s->proved == l
                     : s->sheet == l->sheet || (s->sheet < l->sheet && !table_on(r, s->sheet));
}

const struct tb_unit_said *tb_other_unit(const struct tb_list_reader *r, const struct tb_table_layout *l,
                                         enum tb_unit own)
{
    const struct tb_unit_said *found = NULL;

    if (!is_length_unit(own) || l->of[TB_FIELD_UNIT])
        return NULL;
    for (size_t i = 0; i < r->unit_saids; i++) {
        const struct tb_unit_said *s = &r->unit_said[i];

        if (!speaks_of(r, s, l))
            continue;
        if (s->proved)
            return s;
        if (s->unit == own)
            return NULL;
        found = found || in_a_header(r, s->unit) ? found : s;
    }
    return found;
}

void tb_ask_other_unit(struct tb_list_reader *r, const struct tb_source_column *c,
                       const struct tb_unit_said *s)
{
    struct tb_question *q = tb_list_ask(
        r->list, s->line,
        s->proved
            ? "the header '%s' says its lengths are in %s, line %zu says '%s', and the figures agree only "
              "if both are in one unit; say --unit m or --unit yd"
            : "the header '%s' says its lengths are in %s, and line %zu says '%s'; which is true? Say --unit "
              "m or --unit yd",
        c->header, tb_unit_key(c->unit), s->line, s->said);

    tb_list_answer(r->list, q, "unit", tb_unit_key(s->unit));
    tb_list_answer(r->list, q, "unit", tb_unit_key(c->unit));
    if (q)
        q->open = true;
}
