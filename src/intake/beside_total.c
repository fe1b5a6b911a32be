/* beside_total.c - totals under tables side by side: of the table above them, or of all tables. */
#include "intake/beside.h"

#include "intake/rows.h"

#include <math.h>
#include <string.h>

/* The only table in which a row holds anything; SIZE_MAX: there are several, or none. */
static size_t only_table(const struct tb_beside *b, const struct tb_row *row)
{
    struct tb_cell cell[TB_COLUMNS_MOST];
    size_t only = SIZE_MAX;
    struct tb_row one;

    for (size_t t = 0; t < b->tables; t++)
        if (tb_beside_part(cell, &one, b, row, t)) {
            if (only != SIZE_MAX)
                return SIZE_MAX;
            only = t;
        }
    return only;
}

/* What the rows that are held back come to in one of the tables. */
static double sum_of_table(const struct tb_list_reader *r, size_t t)
{
    struct tb_cell cell[TB_COLUMNS_MOST];
    double sum = 0;
    struct tb_row one;

    for (size_t i = 0; i < r->beside->rows; i++)
        if (tb_beside_part(cell, &one, r->beside, &r->beside->row[i], t)) {
            const struct tb_cell *length = tb_cell_at(&one, r->now->of[TB_FIELD_LENGTH]);

            sum += tb_cell_is_length(length) ? tb_length_metres(r, &one, length) : 0;
        }
    return sum;
}

/* "Total | 429.5" under the first of three tables: where it is not the sum of that one it is that of all of them. */
static bool totals_all(const struct tb_list_reader *r, const struct tb_row *one, size_t t)
{
    const struct tb_cell *length = tb_cell_at(one, r->now->of[TB_FIELD_LENGTH]);
    const struct tb_cell *number = tb_cell_at(one, r->now->of[TB_FIELD_BOLT]);

    return tb_cell_is_length(length) &&
           (tb_number_like(&r->now->habit, number ? number->text : "") <= TB_NUMBER_STRANGE ||
            tb_row_says_total(r, one)) &&
           fabs(sum_of_table(r, t) - tb_length_metres(r, one, length)) >
               0.005 * (double)r->beside->rows + 0.011;
}

/* The cell of another table that holds a word for a total; alone: and no other table has a length. NULL: there is none. */
static const struct tb_cell *word_beside(const struct tb_list_reader *r, const struct tb_row *row, size_t t,
                                         bool alone)
{
    const struct tb_source_column *number = r->now->of[TB_FIELD_BOLT], *length = r->now->of[TB_FIELD_LENGTH];
    struct tb_cell cell[TB_COLUMNS_MOST];
    const struct tb_beside *b = r->beside;
    const struct tb_cell *found = NULL;
    struct tb_row one;

    for (size_t k = 0; k < b->tables; k++) {
        if (k == t || !tb_beside_part(cell, &one, b, row, k))
            continue;
        if (alone && tb_cell_filled(&one, length))
            return NULL;
        if (!found && tb_cell_filled(&one, number) && tb_row_says_total(r, &one))
            found = &row->cell[number->index + k * b->width];
    }
    return found;
}

/* Has this part of the row a length, and room for the word that another part has? */
static bool wants_word(const struct tb_list_reader *r, const struct tb_row *one)
{
    const struct tb_source_column *number = r->now->of[TB_FIELD_BOLT];

    return number && number->index >= r->beside->common && !tb_cell_filled(one, number) &&
           tb_cell_filled(one, r->now->of[TB_FIELD_LENGTH]);
}

void tb_beside_name_total(struct tb_cell cell[TB_COLUMNS_MOST], struct tb_row *one, struct tb_list_reader *r,
                          const struct tb_row *row, size_t t)
{
    const struct tb_cell *word = wants_word(r, one) ? word_beside(r, row, t, false) : NULL;
    size_t n = word ? strcspn(word->text, "0123456789:=([") : 0;

    if (n)
        cell[r->now->of[TB_FIELD_BOLT]->index] =
            (struct tb_cell){ TB_CELL_TEXT, tb_store_intern(r->list->store, word->text, n), 0 };
}

size_t tb_beside_total(struct tb_cell cell[TB_COLUMNS_MOST], struct tb_row *one,
                       const struct tb_list_reader *r, const struct tb_row *row)
{
    size_t t = only_table(r->beside, row);

    if (t != SIZE_MAX)
        return tb_beside_part(cell, one, r->beside, row, t) && totals_all(r, one, t) ? t : SIZE_MAX;
    for (t = 0; t < r->beside->tables; t++) {
        const struct tb_cell *word;

        if (!tb_beside_part(cell, one, r->beside, row, t) || !wants_word(r, one) ||
            !(word = word_beside(r, row, t, true)))
            continue;
        cell[r->now->of[TB_FIELD_BOLT]->index] = *word;
        return totals_all(r, one, t) ? t : SIZE_MAX;
    }
    return SIZE_MAX;
}
