/* alike.c - how a row compares with the bolts of its table: what its number looks like, and what it fills. */
#include "intake/rows.h"

#include <string.h>

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Bytes beyond ASCII count as letters: every script writes words. */
static bool letter(char c)
{
    return (unsigned char)c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* How a number is built: figures become '9', letters and signs stay: "R-9" of "R-0815". At most 15 bytes. */
static void shape_of(char out[16], const char *s)
{
    size_t n = 0;

    for (; *s && n < 15; s++)
        if (!digit(*s) || !n || out[n - 1] != '9')
            out[n++] = digit(*s) ? '9' : *s;
    out[n] = '\0';
}

bool tb_number_same_shape(const char *a, const char *b)
{
    char one[16], other[16];

    shape_of(one, a);
    shape_of(other, b);
    return strcmp(one, other) == 0 && strpbrk(a, "0123456789");
}

/* Does it begin with a word, or hold a long one: "Total 5", "W sumie 5", never "A 12 bis"? */
static bool has_word(const char *s)
{
    size_t n = 0, words = 0;

    for (; *s; s++) {
        n = letter(*s) ? n + 1 : 0;
        words += n == 1;
        if (n >= (words == 1 ? 2u : 4u))
            return true;
    }
    return false;
}

static bool has_digit(const char *s)
{
    return strpbrk(s, "0123456789") != NULL;
}

/* The commonest shapes fill the table first; a list with more than eight has no habit to speak of. */
static void learn_shape(struct tb_bolt_habit *h, const char *number)
{
    char shape[16];

    shape_of(shape, number);
    if (h->rows == 1)
        memcpy(h->first, shape, sizeof shape);
    for (size_t i = 0; i < TB_SHAPES_MOST; i++) {
        if (h->shape[i].n && strcmp(h->shape[i].text, shape) != 0)
            continue;
        memcpy(h->shape[i].text, shape, sizeof shape);
        h->shape[i].n++;
        return;
    }
}

void tb_habit_learn(struct tb_table_layout *l, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, l->of[TB_FIELD_BOLT]);
    const char *number = cell ? cell->text : "";
    bool digits =
        has_digit(number) || !cell; /* where bolts have no numbers, any row with a length may be one */

    l->habit.rows++;
    l->habit.digits += digits;
    learn_shape(&l->habit, number);
    for (size_t i = 0; digits && i < l->n; i++)
        l->column[i].with_bolt += tb_cell_filled(row, &l->column[i]);
}

/* The shape that more than half of the numbers have; NULL: they differ. */
static const char *usual_shape(const struct tb_bolt_habit *h)
{
    for (size_t i = 0; i < TB_SHAPES_MOST; i++)
        if (h->shape[i].n * 2 > h->rows)
            return h->shape[i].text;
    return NULL;
}

/* "Total: 4", "4 pcs": a word and a figure with something between them. */
static bool words_and_figures(const char *s)
{
    return strpbrk(s, " :=(") != NULL;
}

enum tb_number_like tb_number_like(const struct tb_bolt_habit *h, const char *number)
{
    const char *usual = usual_shape(h);
    char shape[16];

    if (!*number)
        return TB_NUMBER_NONE;
    if (!has_digit(number) && h->digits * 4 >= h->rows)
        return TB_NUMBER_STRANGE;
    shape_of(shape, number);
    if (strcmp(h->first, shape) == 0)
        return TB_NUMBER_PLAIN;
    if (has_word(number) && words_and_figures(number))
        return TB_NUMBER_STRANGE;
    if (usual && strcmp(usual, shape) == 0)
        return TB_NUMBER_PLAIN;
    return usual ? TB_NUMBER_ODD : TB_NUMBER_PLAIN;
}

/* What belongs to the row itself says nothing about its likeness: a total states lengths and counts too. */
static bool tells(enum tb_field f)
{
    return f != TB_FIELD_BOLT && f != TB_FIELD_LENGTH && f != TB_FIELD_UNIT && f <= TB_FIELD_PARTS;
}

bool tb_row_like_bolts(size_t *missing, size_t *steady, const struct tb_table_layout *l,
                       const struct tb_row *row)
{
    *steady = *missing = 0;
    for (size_t i = 0; i < l->n; i++) {
        const struct tb_source_column *c = &l->column[i];

        if (!tells(c->field) || c->with_bolt * 2 <= l->habit.digits)
            continue;
        ++*steady;
        *missing += !tb_cell_filled(row, c);
    }
    return *missing * 2 <= *steady && !(*steady && *missing == *steady);
}

bool tb_row_continues(const struct tb_table_layout *l, const struct tb_row *row)
{
    const struct tb_source_column *bolt = l->of[TB_FIELD_BOLT], *length = l->of[TB_FIELD_LENGTH];
    const struct tb_cell *number = tb_cell_at(row, bolt), *cell = tb_cell_at(row, length);
    struct tb_figure f;
    size_t missing, steady;

    if (!bolt || !number || !number->type || !cell || !cell->type || !has_digit(number->text))
        return false;
    if (cell->type != TB_CELL_NUMBER &&
        (cell->type != TB_CELL_TEXT || !tb_figure_scan(&f, cell->text) || f.before_n || f.range))
        return false;
    return tb_number_like(&l->habit, number->text) == TB_NUMBER_PLAIN &&
           tb_row_like_bolts(&missing, &steady, l, row);
}
