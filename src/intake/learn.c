/* learn.c - the first pass, inside a table: how the file writes its figures and days. */
#include "intake/below.h"
#include "intake/legend.h"
#include "intake/rows.h"
#include "intake/shares.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

unsigned tb_day_possible(const struct tb_list_reader *r, const struct tb_day_reading *day, unsigned orders)
{
    unsigned late = 0;

    for (size_t i = 0; i < TB_DAY_ORDERS && r->opts->arrived; i++) {
        const struct tb_day_order *o = &tb_day_orders[i];
        const char *v = orders & o->bit ? tb_day_value(day, o->name[0]) : NULL;

        late |= v && strcmp(v, r->opts->arrived) > 0 ? o->bit : 0;
    }
    return late == orders ? orders : orders & ~late;
}

/* Days that have one reading only narrow the orders; the first doubtful one is kept to be asked about. */
void tb_learn_day(struct tb_list_reader *r, const char *text, size_t line)
{
    struct tb_day_reading day;
    unsigned orders, possible;

    if (r->opts->without & (uint64_t)1 << TB_FIELD_DAY)
        return;
    if (r->last_day && strcmp(r->last_day, text) == 0)
        return;
    r->last_day = tb_store_text(r->list->store, text);
    orders = tb_day_scan(&day, text);
    if (!orders || orders == TB_DAY_ALL)
        return; /* no day at all is a bad cell of the second pass; the same in every order settles nothing */
    r->days_written &= orders;
    possible = tb_day_possible(r, &day, orders);
    if (possible != orders && !r->late_day) {
        r->late_day = tb_store_text(r->list->store, text);
        r->late_line = line;
    }
    orders = possible;
    r->days &= orders;
    if (!r->day_text || (!r->day_open && (orders & (orders - 1)))) {
        r->day_open = (orders & (orders - 1)) != 0;
        r->day_text = tb_store_text(r->list->store, text);
        r->day_line = line;
    }
}

/* The first place is what a person is shown. */
static void note_first(struct tb_list_reader *r, const char **text, size_t *line, const char *seen, size_t at)
{
    if (!*text) {
        *text = tb_store_brief(r->list->store, seen);
        *line = at;
    }
}

/* Units that make a bare width or mass plausible; shares of packing_lists practice, wide at both ends. */
static unsigned plausible_units(enum tb_field field, double v)
{
    unsigned mask = 0;

    if (field == TB_FIELD_WIDTH || field == TB_FIELD_WIDTH_USABLE) {
        mask |= v >= 0.3 && v <= 3.6 ? 1u << TB_UNIT_M : 0;
        mask |= v >= 30 && v <= 360 ? 1u << TB_UNIT_CM : 0;
        mask |= v >= 12 && v <= 130 ? 1u << TB_UNIT_IN : 0;
        mask |= v >= 500 && v <= 3600 ? 1u << TB_UNIT_MM : 0;
    } else {
        mask |= v >= 10 && v <= 1500 ? 1u << TB_UNIT_GSM : 0;
        mask |= v >= 0.5 && v <= 60 ? 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_OZ_PER_YD : 0;
        mask |= v >= 3 && v <= 60 ? 1u << TB_UNIT_MOMME : 0;
        mask |= v >= 0.1 && v <= 120 ? 1u << TB_UNIT_KG : 0; /* of a bolt */
    }
    return mask;
}

/* A unit every figure of the column fits is a unit the column may have. */
static void learn_units(struct tb_list_reader *r, struct tb_source_column *c, const char *text, double point,
                        double comma)
{
    unsigned mask = 0;

    if (!c->unitless)
        c->unitless = tb_store_brief(r->list->store, text);
    if (c->field == TB_FIELD_LENGTH || c->field == TB_FIELD_PRICE || c->field == TB_FIELD_WEIGHT_NET)
        return;
    if (!isnan(point))
        mask |= plausible_units(c->field, point);
    if (!isnan(comma))
        mask |= plausible_units(c->field, comma);
    c->unit_mask &= mask;
}

/* A spreadsheet's number has no decimal sign to learn from. */
static void learn_figure(struct tb_list_reader *r, struct tb_source_column *c, const struct tb_cell *cell,
                         size_t line)
{
    struct tb_figure f;
    size_t at = 0;

    if (cell->type == TB_CELL_NUMBER) {
        if (!c->unit)
            learn_units(r, c, cell->text, cell->number, cell->number);
        return;
    }
    if (cell->type != TB_CELL_TEXT || strcmp(c->last, cell->text) == 0)
        return;
    if (c->field == TB_FIELD_LENGTH && !tb_count_times(cell->text, &at))
        at = 0;
    if (!tb_figure_scan(&f, cell->text + at))
        return;
    (void)snprintf(c->last, sizeof c->last, "%s", cell->text);
    if (isnan(f.comma)) {
        c->only_point++;
        note_first(r, &c->point_text, &c->point_line, cell->text, line);
    } else if (isnan(f.point)) {
        c->only_comma++;
        note_first(r, &c->comma_text, &c->comma_line, cell->text, line);
    } else if (f.point != f.comma) {
        c->either++;
        note_first(r, &c->either_text, &c->either_line, cell->text, line);
    }
    if (!c->unit && !(f.rest_n && (c->field == TB_FIELD_LENGTH || tb_unit_find(c->field, f.rest, f.rest_n))))
        learn_units(r, c, cell->text, f.point, f.comma);
}

static void see_unit(struct tb_source_column *c, enum tb_unit unit)
{
    c->seen_two = c->seen_two || (unit && c->seen && c->seen != unit);
    c->seen = unit ? unit : c->seen;
}

/* "45.6 kg" in the total, or "kg" behind it, tells what the bare figures above are. */
static void learn_seen(struct tb_source_column *c, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, c), *next = c->index + 1 < row->n ? cell + 1 : NULL;
    struct tb_figure f;

    if (cell->type == TB_CELL_TEXT && tb_figure_scan(&f, cell->text) && f.rest_n)
        see_unit(c, tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n));
    else if (next && next->type == TB_CELL_TEXT)
        see_unit(c, tb_unit_find(TB_FIELD_LENGTH, next->text, strlen(next->text)));
}

/* "Total", "5": a count of bolts under their numbers. Looked for only where the spreadsheet keeps a number. */
static bool counts_bolts(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT)
            return tb_header_word_total(r->words, row->cell[i].text) != TB_TOTAL_NOT;
    return false;
}

/* What was typed is lost where the spreadsheet made a number or a day of it; that is reported. */
static void learn_bolt(const struct tb_list_reader *r, struct tb_source_column *c, const struct tb_cell *cell,
                       const struct tb_row *row)
{
    if ((cell->type != TB_CELL_NUMBER && cell->type != TB_CELL_DAY) || counts_bolts(r, row))
        return;
    if (!c->typed_line)
        c->typed_line = row->line;
    if (cell->type == TB_CELL_NUMBER)
        c->typed_number++;
    else
        c->typed_day++;
}

void tb_learn_said(struct tb_list_reader *r, const struct tb_heads *h)
{
    for (int f = 0; f < TB_FIELDS; f++)
        if (h->value[f])
            r->said |= (uint64_t)1 << f;
}

void tb_learn_named(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT && strlen(row->cell[i].text) <= 160)
            r->named |= 1u << tb_header_words_unit(row->cell[i].text);
}

/* "R-0815", "17": the row numbers a bolt. */
static bool has_digit(const struct tb_row *row, const struct tb_source_column *c)
{
    const struct tb_cell *cell = tb_cell_at(row, c);

    return cell && (cell->type == TB_CELL_NUMBER || strpbrk(cell->text, "0123456789"));
}

/* A heading between blocks may name the article or the composition for the rows under it. */
static void learn_heading(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_heads h = { 0 };

    (void)tb_heads_take(&h, r->words, r->list->store, row);
    if (!h.value[TB_FIELD_COMPOSITION])
        tb_learn_loose(r, row);
    else if (!tb_learn_labelled(r, row, h.value[TB_FIELD_COMPOSITION]))
        r->any_composition = true;
    tb_learn_said(r, &h);
    if (h.value[TB_FIELD_ARTICLE] && !r->headed.said)
        r->headed =
            (struct tb_loose){ h.value[TB_FIELD_ARTICLE], row->line, true, r->now, NULL, false, NULL, NULL };
    if (h.value[TB_FIELD_DAY])
        tb_learn_day(r, h.value[TB_FIELD_DAY], row->line);
}

/* "Art. 4410 / Navy / Lot 7731 100% cotton" in the article's column declares too. */
static bool declares(const struct tb_list_reader *r, const char *article)
{
    struct tb_heads h = { 0 };
    struct tb_stretch part;

    return (strchr(article, '%') && tb_article_parts(&h, r, article) == TB_PARTS_TAKEN &&
            h.value[TB_FIELD_COMPOSITION]) ||
           tb_declares(&part, article);
}

/* Every row is looked at before any is taken, so that a doubt at its end is asked about at the start. */
void tb_learn_body(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_table_layout *l = r->now;
    bool bolt = false, length = false, in_article = false;
    bool numbered = !l->of[TB_FIELD_BOLT] || has_digit(row, l->of[TB_FIELD_BOLT]) ||
                    (tb_cell_filled(row, l->of[TB_FIELD_BOLT]) && !tb_row_says_total(r, row));
    struct tb_row more;

    row = tb_legend_join(r, row, &more);
    tb_below_learn(r, row);
    tb_learn_other_unit(r, row);
    if (tb_row_heads(r, row)) {
        learn_heading(r, row);
        return;
    }
    for (size_t i = 0; i < l->n; i++) {
        struct tb_source_column *c = &l->column[i];
        const struct tb_cell *cell = tb_cell_at(row, c);

        if (!cell || cell->type == TB_CELL_EMPTY)
            continue;
        c->cells++;
        switch (c->field) {
        case TB_FIELD_LENGTH:
            length = true;
            learn_figure(r, c, cell, row->line);
            if (!c->unit)
                learn_seen(c, row);
            break;
        case TB_FIELD_WIDTH:
        case TB_FIELD_WIDTH_USABLE:
        case TB_FIELD_MASS:
        case TB_FIELD_MASS_LINEAR:
        case TB_FIELD_PRICE:
            if (numbered) /* "3 rolls" of a total may stand in any column */
                learn_figure(r, c, cell, row->line);
            break;
        case TB_FIELD_WEIGHT_NET:
            if (!numbered)
                break;
            learn_figure(r, c, cell, row->line);
            if (!c->unit)
                learn_seen(c, row);
            break;
        case TB_FIELD_BOLT:
            bolt = true;
            learn_bolt(r, c, cell, row);
            break;
        case TB_FIELD_ARTICLE:
            in_article = in_article || declares(r, cell->text);
            break;
        case TB_FIELD_DAY:
            if (cell->type == TB_CELL_TEXT)
                tb_learn_day(r, cell->text, row->line);
            break;
        default:
            break;
        }
    }
    if ((bolt || !l->of[TB_FIELD_BOLT]) && length) {
        tb_habit_learn(l, row);
        tb_content_learn(l, row);
        tb_shares_learn(l, row);
        tb_kinds_learn(r, row);
        tb_learn_goods(r, row);
    }
    if (!has_digit(row, l->of[TB_FIELD_BOLT]) && (!length || l->of[TB_FIELD_BOLT]))
        tb_learn_named(r, row);
    r->any_composition = r->any_composition || (length && in_article);
    if (length && tb_cell_has_figure(tb_cell_at(row, l->of[TB_FIELD_LENGTH])) && row->line > l->last_length)
        l->last_length = row->line;
    if (!length && (!bolt || tb_row_alone(row)))
        learn_heading(r, row);
}
