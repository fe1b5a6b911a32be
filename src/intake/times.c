/* times.c - "3 x 50.0": several bolts of one length in one row; asked about, then each is a bolt. */
#include "intake/rows.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TIMES_MOST 99

static size_t digits_at(const char *s)
{
    return strspn(s, "0123456789");
}

size_t tb_count_times(const char *text, size_t *at)
{
    size_t n = digits_at(text), from = n + strspn(text + n, " "), wide;
    unsigned long count = n && n <= 2 ? strtoul(text, NULL, 10) : 0;

    wide = text[from] == 'x' || text[from] == 'X' || text[from] == '*' ? 1
           : strncmp(text + from, "\u00D7", 2) == 0                    ? 2
                                                                       : 0;
    if (count < 2 || count > TIMES_MOST || !wide)
        return 0;
    *at = from + wide + strspn(text + from + wide, " ");
    if (!digits_at(text + *at) || strpbrk(text + *at, "xX*"))
        return 0;
    return count;
}

/* "1-3" for three bolts is 1, 2 and 3; another number is that of all of them. */
static const char *number_of(struct tb_list_reader *r, const char *number, size_t count, size_t k)
{
    const char *dash = strpbrk(number, "-~");
    size_t n = dash ? (size_t)(dash - number) : 0, digits = 0;
    unsigned long from, to;

    if (!*number)
        return number;
    while (n && digits < n && number[n - digits - 1] >= '0' && number[n - digits - 1] <= '9')
        digits++;
    if (dash && digits && digits < 9 && digits_at(dash + 1) && !dash[1 + digits_at(dash + 1)]) {
        from = strtoul(number + n - digits, NULL, 10);
        to = strtoul(dash + 1, NULL, 10);
        if (to >= from && to - from + 1 == count)
            return tb_store_internf(r->list->store, "%.*s%0*lu", (int)(n - digits), number, (int)digits,
                                    from + (unsigned long)k);
    }
    return tb_store_internf(r->list->store, "%s/%zu", number, k + 1);
}

static void ask(struct tb_list_reader *r, const struct tb_row *row, size_t count, const char *text,
                const char *each)
{
    const char *at = tb_row_place(r, row);
    struct tb_question *q = tb_list_ask(r->list, row->line,
                                        "line %zu: '%s' is read as %zu bolts of '%s' each; say --bolt-line "
                                        "%s if that is so, --total-line %s to "
                                        "leave the row out",
                                        row->line, tb_store_brief(r->list->store, text), count,
                                        tb_store_brief(r->list->store, each), at, at);

    tb_list_answer(r->list, q, "bolt-line", at);
    tb_list_answer(r->list, q, "total-line", at);
}

bool tb_take_times(struct tb_list_reader *r, const struct tb_row *row, tb_rc *rc, struct tb_err *err)
{
    const struct tb_source_column *length = r->now->of[TB_FIELD_LENGTH], *bolt = r->now->of[TB_FIELD_BOLT],
                                  *weight = tb_weight_column(r->now);
    const struct tb_cell *cell = tb_cell_at(row, length);
    size_t at = 0, count = cell && cell->type == TB_CELL_TEXT ? tb_count_times(cell->text, &at) : 0;
    struct tb_cell *copy;
    struct tb_row one = *row;

    *rc = TB_OK;
    if (!count)
        return false;
    if (!tb_said_bolt(r, row)) {
        ask(r, row, count, cell->text, cell->text + at);
        return true;
    }
    copy = tb_array(struct tb_cell, row->n);
    memcpy(copy, row->cell, row->n * sizeof *copy);
    one.cell = copy;
    copy[length->index].text = cell->text + at;
    if (weight && weight->index < row->n) /* that of all of them */
        copy[weight->index] = (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
    for (size_t k = 0; k < count && *rc == TB_OK; k++) {
        if (tb_cell_filled(row, bolt))
            copy[bolt->index].text = number_of(r, tb_cell_at(row, bolt)->text, count, k);
        *rc = tb_take_bolt(r, &one, err);
    }
    free(copy);
    return true;
}
