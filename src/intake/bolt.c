/* bolt.c - a row that is a bolt: its number, and everything it belongs to. */
#include "intake/rows.h"

#include "base/say.h"
#include "tenterbook/limits.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* "11~15", or "1-10" beside a count of 10: several bolts under one length. */
static bool is_range(const struct tb_list_reader *r, const struct tb_row *row, const char *number)
{
    const struct tb_source_column *count = r->now->of[TB_FIELD_COUNT];
    const struct tb_cell *cell = tb_cell_at(row, count);
    char *end;
    unsigned long from = strtoul(number, &end, 10), to;

    if (end == number || (*end != '~' && *end != '-') || end[1] < '0' || end[1] > '9')
        return false;
    to = strtoul(end + 1, &end, 10);
    if (*end || to <= from)
        return false;
    return strchr(number, '~') || (cell && cell->type && strtoul(cell->text, NULL, 10) == to - from + 1);
}

/* A bolt without a number gets one of the program's own, that no other of its delivery has. */
static const char *own_number(struct tb_list_reader *r)
{
    const char *number;

    do
        number = tb_store_internf(r->list->store, "T%zu", ++r->rows->numbered);
    while (tb_list_find_bolt(r->list, r->rows->delivery, number) != SIZE_MAX);
    return number;
}

/* What numbers may start again in: the dye lot, else the colour, else the article. */
static const char *numbered_within(const struct tb_list_lot *lot)
{
    return *lot->dye_lot ? lot->dye_lot : *lot->shade ? lot->shade : lot->article;
}

/* What stands in for several bolts is refused: the book would hold a bolt that does not exist. */
static bool take_number(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_BOLT];
    const struct tb_cell *cell = tb_cell_at(row, c);
    const char *number = cell && cell->type ? cell->text : own_number(r), *why = NULL;
    const char *within = numbered_within(&r->list->lot[bolt->lot]);

    if (is_range(r, row, number))
        why = _("several bolts under one length; each bolt needs a row of its own");
    else if (strlen(number) > TB_BOLT_NUMBER_MOST)
        why = _("a bolt number of more than 80 bytes");
    else if (tb_is_ditto(number))
        why = _("a ditto mark is not a bolt number");
    else if (strpbrk(number, "\n\r\t"))
        why = _("a bolt number with a line break in it");
    if (why) {
        tb_row_bad_why(r, row, c, why);
        return false;
    }
    bolt->number =
        r->opts->number_by_lot ? tb_store_internf(r->list->store, "%s/%s", within, number) : number;
    return true;
}

/* Metres that nobody knows are in no sum. */
static void add_goods(struct tb_list_lot *lot, struct tb_list_delivery *d, const struct tb_list_bolt *bolt)
{
    bool unknown = isnan(bolt->metres);

    lot->bolts++;
    d->bolts++;
    lot->metres += unknown ? 0 : bolt->metres;
    d->metres += unknown ? 0 : bolt->metres;
    lot->kg += bolt->kg;
    d->kg += bolt->kg;
    lot->weight_kg += bolt->weight_kg;
    d->weight_kg += bolt->weight_kg;
    lot->weighed += bolt->weight_kg > 0;
    d->weighed += bolt->weight_kg > 0;
    lot->derived += bolt->derived;
    d->derived += bolt->derived;
    lot->unknown += unknown;
    d->unknown += unknown;
}

/* The number of the first bolt of a dye lot stands in another: they start again there. */
static bool starts_again(const struct tb_list_reader *r, const struct tb_list_bolt *a,
                         const struct tb_list_bolt *b)
{
    const struct tb_list_lot *one = &r->list->lot[a->lot], *other = &r->list->lot[b->lot];

    if (r->opts->number_by_lot || !*one->dye_lot != !*other->dye_lot ||
        strcmp(numbered_within(one), numbered_within(other)) == 0)
        return false;
    return other->bolts == 0 || tb_list_asked(r->list, "numbers-by-lot", NULL);
}

static void ask_by_lot(struct tb_list_reader *r, const struct tb_row *row, const struct tb_list_lot *lot)
{
    const char *say =
        *lot->dye_lot ? N_("line %zu: the bolt number '%s' stands in another dye lot already; if numbers "
                           "start again in every dye lot, say --numbers-by-lot: they are kept as LOT/NUMBER")
        : *lot->shade
            ? N_("line %zu: the bolt number '%s' stands in another colour already; if numbers "
                 "start again in every colour, say --numbers-by-lot: they are kept as COLOUR/NUMBER")
            : N_("line %zu: the bolt number '%s' stands in another article already; if numbers start "
                 "again in every article, say --numbers-by-lot: they are kept as ARTICLE/NUMBER");

    if (tb_list_asked(r->list, "numbers-by-lot", NULL))
        return;
    tb_list_answer(
        r->list,
        tb_list_ask(r->list, row->line, say, row->line,
                    tb_store_brief(r->list->store, tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text)),
        "numbers-by-lot", "");
}

/* The same number twice is one bolt typed twice, or numbers that start again in every dye lot. */
static void add_bolt(struct tb_list_reader *r, const struct tb_row *row, const struct tb_list_bolt *bolt)
{
    struct tb_packing_list *l = r->list;
    size_t before = tb_list_put_bolt(l, r->rows->delivery, bolt);

    if (before != SIZE_MAX) {
        const struct tb_list_bolt *b = &l->bolt[before];
        const struct tb_source_column *c = r->now->of[TB_FIELD_BOLT];

        if (starts_again(r, b, bolt)) {
            ask_by_lot(r, row, &l->lot[bolt->lot]);
            return;
        }
        if (b->sheet == r->rows->sheet_index)
            tb_row_bad(r, row, c,
                       r->opts->number_by_lot
                           ? N_("this bolt number stands on line %u already, in the same dye lot")
                           : N_("this bolt number stands on line %u already; if numbers start again in every "
                                "dye lot, say --numbers-by-lot"),
                       b->line);
        else if (r->opts->number_by_lot)
            tb_row_bad(r, row, c,
                       "this bolt number stands on line %u of the sheet '%s' already, in the same dye lot",
                       b->line, l->sheet[b->sheet]);
        else
            tb_row_bad(
                r, row, c,
                "this bolt number stands on line %u of the sheet '%s' already; if numbers start again in "
                "every dye lot, say --numbers-by-lot",
                b->line, l->sheet[b->sheet]);
        return;
    }
    add_goods(&l->lot[bolt->lot], &l->delivery[r->rows->delivery], bolt);
    tb_keep_remarks(r, row, l->bolt[l->bolts - 1].number);
    tb_keep_unplaced(r, row);
}

/* All of them are looked at, so that one reading names every cell to mend. */
static bool texts_fit(struct tb_list_reader *r, const struct tb_row *row)
{
    bool fit = true;

    for (size_t k = 0; k < r->now->n; k++) {
        const struct tb_source_column *c = &r->now->column[k];
        const struct tb_cell *cell = tb_cell_at(row, c);

        if (!cell || c->field == TB_FIELD_IGNORE || strlen(cell->text) <= TB_INTAKE_TEXT_MOST)
            continue;
        tb_row_bad(r, row, c, "a value of more than %d bytes", TB_INTAKE_TEXT_MOST);
        fit = false;
    }
    return fit;
}

/* A length that cannot be taken does not hide a bad width in the same row. */
tb_rc tb_take_bolt(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_list_bolt bolt = {
        .line = (uint32_t)row->line, .sheet = r->rows->sheet_index, .parts = 1, .said = ""
    };
    bool good;
    tb_rc rc;

    if (!texts_fit(r, row))
        return TB_OK;
    if (r->rows->heads)
        tb_settle_heads(r);
    if ((rc = tb_take_delivery(r, row, err)) != TB_OK)
        return rc;
    tb_take_order(r, row, &r->list->delivery[r->rows->delivery]);
    good = tb_take_day(r, row, &r->list->delivery[r->rows->delivery]);
    good = tb_take_lot(r, row, &bolt) && good; /* all faults of a row are listed, not only the first */
    good = tb_take_length(r, row, &bolt) && good;
    if (bolt.kg > 0 || bolt.metres > 0)
        tb_sum_add(r->rows, bolt.lot, bolt.kg > 0 ? bolt.kg : bolt.metres);
    good = tb_take_weight(r, row, &bolt) && good;
    good = tb_take_width_mass(r, row, &bolt) && good;
    good = good && tb_derive_length(r, row, &bolt);
    if (r->list->lots > bolt.lot)
        good = take_number(r, row, &bolt) && good;
    if (good)
        add_bolt(r, row, &bolt);
    r->rows->block_start = false;
    memset(r->rows->fresh, 0, sizeof r->rows->fresh);
    r->rows->article_in_row = tb_cell_filled(row, r->now->of[TB_FIELD_ARTICLE]);
    return TB_OK;
}
