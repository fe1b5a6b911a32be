/* weight.c - what a bolt weighs whose length counts: knitted goods are listed by both and invoiced by the kilogram. */
#include "intake/rows.h"

#include "base/say.h"
#include "tenterbook/limits.h"

#include <math.h>
#include <string.h>

#define NAMED_MOST 6 /* bolts without a weight that are named */

const struct tb_source_column *tb_weight_column(const struct tb_table_layout *l)
{
    const struct tb_source_column *length = l->of[TB_FIELD_LENGTH], *net = l->of[TB_FIELD_WEIGHT_NET],
                                  *mass = l->of[TB_FIELD_MASS];

    if (!length || length->weight || length->unit == TB_UNIT_KG)
        return NULL;
    if (net)
        return net->unit == TB_UNIT_KG ? net : NULL;
    return mass && mass->unit == TB_UNIT_KG ? mass : NULL;
}

bool tb_priced_by_kg(const struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *price = l->of[TB_FIELD_PRICE];

    return price && (price->unit ? price->unit == TB_UNIT_KG : r->opts->price_unit == TB_UNIT_KG);
}

/* ---- between the passes ---------------------------------------------------------------------------------------- */

/* "20,500" is 20.5 kg: a bolt of 20,500 kg nobody lifts. Else it is settled as any other figure. */
static bool settle_thousands(struct tb_list_reader *r, struct tb_source_column *c)
{
    struct tb_figure f;

    if (c->only_point || c->only_comma || r->opts->decimal || !c->either ||
        !tb_figure_scan(&f, c->either_text) || (f.point > 1000) == (f.comma > 1000))
        return false;
    c->decimal = f.comma > 1000 ? '.' : ',';
    tb_list_say(r->list, "'%s' in the column '%s', line %zu, is read as %.10g kg", c->either_text, c->header,
                c->either_line, f.comma > 1000 ? f.point : f.comma);
    return true;
}

/* The column as it is told: with the unit that was found, or left out. */
static void tell(struct tb_packing_list *l, const struct tb_table_layout *table,
                 const struct tb_source_column *c)
{
    for (size_t i = 0; i < l->columns; i++)
        if (l->column[i].column == c->index && l->column[i].header == c->header &&
            strcmp(l->column[i].sheet, table->sheet_name) == 0) {
            l->column[i].unit = c->unit;
            l->column[i].kept = c->unit == TB_UNIT_KG;
        }
}

/* Of a price by the kilogram the weight is the quantity, so a weight in a unit that nobody names is asked about. */
bool tb_settle_weight(struct tb_list_reader *r, const struct tb_table_layout *l, struct tb_source_column *c)
{
    const struct tb_source_column *length = l->of[TB_FIELD_LENGTH];

    if (!length || length->weight)
        return true;
    if (!c->unit)
        c->unit = c->seen && !c->seen_two            ? c->seen
                  : r->opts->mass_unit == TB_UNIT_KG ? TB_UNIT_KG
                                                     : TB_UNIT_NONE;
    if (!c->unit && c->unitless && tb_priced_by_kg(r, l) && !tb_list_asked(r->list, "mass-unit", NULL))
        tb_list_answer(
            r->list,
            tb_list_ask(r->list, 0,
                        "the weights in the column '%s' ('%s') do not say in which unit they are; say "
                        "--mass-unit kg if they are kilograms",
                        c->header, c->unitless),
            "mass-unit", "kg");
    tell(r->list, l, c);
    return c->unit != TB_UNIT_KG || settle_thousands(r, c);
}

/* Net is what is invoiced: a gross weight holds tube and wrapping. */
void tb_ask_gross(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *length = l->of[TB_FIELD_LENGTH], *price = l->of[TB_FIELD_PRICE];

    if (!tb_priced_by_kg(r, l) || !length || length->weight || length->unit == TB_UNIT_KG ||
        l->of[TB_FIELD_WEIGHT_NET] || tb_weight_column(l))
        return;
    for (size_t i = 0; i < r->list->columns; i++) {
        const struct tb_list_column *c = &r->list->column[i];
        struct tb_question *q;

        if (c->field != TB_FIELD_WEIGHT_GROSS || strcmp(c->sheet, l->sheet_name) != 0)
            continue;
        q = tb_list_ask(r->list, 0,
                        "the column '%s' is priced by the kilogram, and the only weight is gross ('%s'); say "
                        "--map \"%s=weight_net\" if that is what is invoiced, --map \"%s=ignore\" if not",
                        price->header, c->header, c->header, c->header);
        tb_list_answer(r->list, q, "map", tb_store_internf(r->list->store, "%s=weight_net", c->header));
        tb_list_answer(r->list, q, "map", tb_store_internf(r->list->store, "%s=ignore", c->header));
        if (q)
            q->open = true;
        return;
    }
}

/* ---- rows ------------------------------------------------------------------------------------------------------ */

/* Why a weight cannot be taken; NULL when it can. */
static const char *weight_fault(double *kg, const struct tb_source_column *c, const struct tb_cell *cell)
{
    struct tb_figure f = { .parts = 1 };

    *kg = cell->number;
    if (cell->type == TB_CELL_DAY)
        return _("the spreadsheet keeps this weight as a date");
    if (cell->type == TB_CELL_TEXT) {
        if (!tb_figure_scan(&f, cell->text) || f.before_n || f.range)
            return _("this is not a weight");
        if (f.rest_n && tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n) != TB_UNIT_KG)
            return _("its unit is not the kilogram");
        *kg = tb_figure_value(&f, c->decimal);
        if (isnan(*kg))
            return tb_decimal_fault(c->decimal);
    }
    if (*kg == 0)
        return _("a bolt without weight");
    return *kg < TB_KG_LEAST || *kg > TB_KG_MOST ? _("no bolt weighs that: it takes 0.001 to 100,000 kg")
                                                 : NULL;
}

static double weight_in(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = tb_weight_column(r->now);
    const struct tb_cell *cell = tb_cell_at(row, c);
    double kg;

    return cell && cell->type && !weight_fault(&kg, c, cell) ? kg : (double)NAN;
}

/* What is no weight stops a list only where the price is by the kilogram; else it is told. */
bool tb_take_weight(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    const struct tb_source_column *c = tb_weight_column(r->now);
    const struct tb_cell *cell = tb_cell_at(row, c);
    struct tb_list_rows *s = r->rows;
    const char *fault;

    if (!cell || !cell->type || tb_is_ditto(cell->text) || bolt->kg > 0)
        return true;
    fault = weight_fault(&bolt->weight_kg, c, cell);
    if (!fault) {
        tb_sum_weigh(s, bolt->weight_kg);
        return true;
    }
    bolt->weight_kg = 0;
    if (bolt->lot < r->list->lots && r->list->lot[bolt->lot].price_unit == TB_UNIT_KG) {
        tb_row_bad_why(r, row, c, fault);
        return false;
    }
    if (!s->no_weight++) {
        s->no_weight_line = row->line;
        s->no_weight_text = tb_store_brief(r->list->store, cell->text);
        s->no_weight_why = fault;
    }
    return true;
}

/* A further length with a weight of its own makes the bolt heavier; one without leaves it as it is, the weight being that of all of it. */
void tb_part_weight(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    struct tb_list_lot *lot = &r->list->lot[bolt->lot];
    struct tb_list_delivery *d = &r->list->delivery[r->rows->delivery];
    double kg = weight_in(r, row);

    if (isnan(kg) || !(bolt->weight_kg > 0))
        return;
    bolt->weight_kg += kg;
    lot->weight_kg += kg;
    d->weight_kg += kg;
    tb_sum_weigh_more(r->rows, kg);
}

/* As with lengths: a difference is said and never mended. */
void tb_check_weight(struct tb_list_reader *r, const struct tb_row *row, const struct tb_list_sum *group)
{
    double kg = weight_in(r, row);

    if (isnan(kg) || !group->weighed || (kg == floor(kg) && tb_sum_counts(r->rows, (size_t)kg)))
        return;
    if (fabs(group->kg - kg) <= 0.005 * (double)group->weighed + 0.011) {
        r->list->totals += !tb_cell_filled(row, r->now->of[TB_FIELD_LENGTH]); /* else it is counted already */
        return;
    }
    r->list->totals_off++;
    tb_list_say(r->list,
                group->weighed < group->bolts
                    ? "line %zu: the total says %.2f kg, and of the %zu bolts above it those with a weight "
                      "come to %.2f kg: a difference of %+.2f kg"
                    : "line %zu: the total says %.2f kg, the %zu bolts above it come to %.2f kg: a "
                      "difference of %+.2f kg",
                row->line, kg, group->bolts, group->kg, kg - group->kg);
}

/* ---- what is told ---------------------------------------------------------------------------------------------- */

static bool is_priced(const struct tb_list_lot *lot)
{
    return lot->price_unit == TB_UNIT_KG && !isnan(lot->price);
}

/* Bolts without a weight beside others, or priced by it. */
static void say_without(struct tb_list_reader *r, size_t weighed)
{
    const struct tb_packing_list *l = r->list;
    struct tb_text names = { 0 };
    size_t n = 0, priced = 0;

    for (size_t i = 0; i < l->bolts; i++) {
        const struct tb_list_bolt *b = &l->bolt[i];

        if (b->kg > 0 || b->weight_kg > 0 || !(weighed || is_priced(&l->lot[b->lot])))
            continue;
        priced += is_priced(&l->lot[b->lot]);
        if (n++ < NAMED_MOST)
            tb_text_addf(&names, "%s%s", n > 1 ? ", " : "", tb_store_brief(l->store, b->number));
    }
    if (n > NAMED_MOST)
        tb_text_add(&names, " ...");
    if (n && priced)
        tb_list_say(r->list,
                    n == 1
                        ? "%zu bolt has no weight (%s): what its lot is worth by the kilogram is not known"
                        : "%zu bolts have no weight (%s): what their lots are worth by the kilogram is not "
                          "known",
                    n, tb_text_str(&names));
    else if (n)
        tb_list_say(r->list, n == 1 ? "%zu bolt has no weight (%s)" : "%zu bolts have no weight (%s)", n,
                    tb_text_str(&names));
    tb_text_free(&names);
}

void tb_say_weights(struct tb_list_reader *r)
{
    const struct tb_packing_list *l = r->list;
    const struct tb_list_rows *s = r->rows;
    size_t weighed = 0;
    bool priced = false;

    for (size_t i = 0; i < l->lots; i++) {
        weighed += l->lot[i].weighed;
        priced = priced || (l->lot[i].weighed && is_priced(&l->lot[i]));
    }
    if (s->no_weight)
        tb_list_say(r->list,
                    s->no_weight == 1 ? "%zu weight is not read: '%s' on line %zu: %s"
                                      : "%zu weights are not read: the first is '%s' on line %zu: %s",
                    s->no_weight, s->no_weight_text, s->no_weight_line, s->no_weight_why);
    if (priced)
        tb_list_say(r->list,
                    "lengths and weights are both kept: sums and samples go by the length, the value by "
                    "the kilograms");
    say_without(r, weighed);
}
