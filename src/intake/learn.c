/* The first pass: where the tables begin, and how the file writes its figures and days. */
#include "intake_in.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TABLES_MOST 2000

static void learn_day(struct reader *r, const char *text, size_t line)
{
    struct day_reading day;
    unsigned orders;

    if (r->last_day && strcmp(r->last_day, text) == 0)
        return;
    r->last_day = store_intern(r->list->store, text, strlen(text));
    orders = day_scan(&day, text);
    if (!orders || orders == DAY_ALL)
        return; /* no day at all is a bad cell of the second pass; the same in every order settles nothing */
    r->days &= orders;
    if (!r->day_text || (!r->day_open && (orders & (orders - 1)))) {
        r->day_open = (orders & (orders - 1)) != 0;
        r->day_text = store_intern(r->list->store, text, strlen(text));
        r->day_line = line;
    }
}

static void note_first(struct reader *r, const char **text, size_t *line, const char *seen, size_t at)
{
    if (!*text) {
        *text = store_brief(r->list->store, seen);
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
    }
    return mask;
}

static void learn_units(struct reader *r, struct column *c, const char *text, double point, double comma)
{
    unsigned mask = 0;

    if (!c->unitless)
        c->unitless = store_brief(r->list->store, text);
    if (c->field == TB_FIELD_LENGTH || c->field == TB_FIELD_PRICE)
        return;
    if (!isnan(point))
        mask |= plausible_units(c->field, point);
    if (!isnan(comma))
        mask |= plausible_units(c->field, comma);
    c->unit_mask &= mask;
}

static void learn_figure(struct reader *r, struct column *c, const struct tb_cell *cell, size_t line)
{
    struct figure f;

    if (cell->type == TB_CELL_NUMBER) {
        if (!c->unit)
            learn_units(r, c, cell->text, cell->number, cell->number);
        return;
    }
    if (cell->type != TB_CELL_TEXT || strcmp(c->last, cell->text) == 0 || !figure_scan(&f, cell->text))
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
    if (!c->unit && !(f.rest_n && unit_find(c->field, f.rest, f.rest_n)))
        learn_units(r, c, cell->text, f.point, f.comma);
}

/* "Total", "5": a count of bolts under their numbers. Looked for only where the spreadsheet keeps a number. */
static bool counts_bolts(const struct reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT)
            return words_total(r->words, row->cell[i].text);
    return false;
}

static void learn_bolt(const struct reader *r, struct column *c, const struct tb_cell *cell,
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

/* A heading between blocks may name the article or the composition for the rows under it. */
static void learn_heading(struct reader *r, const struct tb_row *row)
{
    struct heads h = { 0 };

    (void)heads_take(&h, r->words, r->list->store, row);
    r->any_article = r->any_article || h.value[TB_FIELD_ARTICLE];
    r->any_composition = r->any_composition || h.value[TB_FIELD_COMPOSITION];
    if (h.value[TB_FIELD_DAY])
        learn_day(r, h.value[TB_FIELD_DAY], row->line);
}

static void learn_body(struct reader *r, const struct tb_row *row)
{
    struct layout *l = r->now;
    bool bolt = false, length = false;

    for (size_t i = 0; i < l->n; i++) {
        struct column *c = &l->column[i];
        const struct tb_cell *cell = c->index < row->n ? &row->cell[c->index] : NULL;

        if (!cell || cell->type == TB_CELL_EMPTY)
            continue;
        switch (c->field) {
        case TB_FIELD_LENGTH:
            length = true;
            learn_figure(r, c, cell, row->line);
            break;
        case TB_FIELD_WIDTH:
        case TB_FIELD_WIDTH_USABLE:
        case TB_FIELD_MASS:
        case TB_FIELD_MASS_LINEAR:
        case TB_FIELD_PRICE:
            learn_figure(r, c, cell, row->line);
            break;
        case TB_FIELD_BOLT:
            bolt = true;
            learn_bolt(r, c, cell, row);
            break;
        case TB_FIELD_DAY:
            if (cell->type == TB_CELL_TEXT)
                learn_day(r, cell->text, row->line);
            break;
        default:
            break;
        }
    }
    if (!length && (!bolt || row_alone(row)))
        learn_heading(r, row);
}

/* --- header search ------------------------------------------------------------------------------------------ */
/* The fullest header that lacks bolts or lengths: what a refusal will name. */
static void keep_partial(struct reader *r, struct layout *l)
{
    if (r->partial && r->partial->n >= l->n) {
        free(l);
        return;
    }
    free(r->partial);
    r->partial = l;
    texts_free(&r->best);
    r->best = r->held;
    r->best.known = SIZE_MAX;
    r->held = (struct texts){ 0 };
}

static tb_rc refuse_hidden(const struct reader *r, struct tb_err *err)
{
    return tb_fail(err, TB_EINVAL,
                   "the sheet '%s' is hidden and holds a table of bolts; --sheet '%s' takes it in, --sheet "
                   "with the names of the others leaves it out",
                   r->sheet_name, r->sheet_name);
}

static tb_rc begin_table(struct reader *r, const struct tb_row *second, struct tb_err *err)
{
    size_t columns = r->list->columns, says = r->list->says;
    struct layout *l;
    tb_rc rc;

    if (r->layouts == TABLES_MOST)
        return tb_fail(err, TB_EINVAL, "the file has more than %d tables", TABLES_MOST);
    l = tb_new(struct layout);
    l->sheet = r->sheet.number;
    l->sheet_name = r->sheet_name;
    l->line = r->held.line;
    l->last_line = second ? second->line : l->line;
    rc = header_map(l, r->words, r->list, second, &r->held, err);
    if (rc == TB_OK && !(l->of[TB_FIELD_BOLT] && l->of[TB_FIELD_LENGTH])) {
        /* a summary, or labels of the title: not a table of bolts, unless nothing better comes */
        r->list->columns = columns;
        r->list->says = says;
        keep_partial(r, l);
    } else {
        TB_PUSH_ROOM(r->layout, r->layouts, r->layout_cap);
        r->layout[r->layouts++] = l;
        r->now = l;
    }
    texts_free(&r->held);
    return rc == TB_OK && r->now == l && r->sheet.hidden ? refuse_hidden(r, err) : rc;
}

/* Does the row repeat the header that stands? Then it is one more page, not a new table. */
static bool repeats(const struct layout *l, const struct tb_row *row)
{
    size_t same = 0;

    for (size_t i = 0; i < l->n; i++) {
        const struct column *c = &l->column[i];
        size_t n;

        if (c->index >= row->n || row->cell[c->index].type == TB_CELL_EMPTY)
            continue;
        n = strlen(row->cell[c->index].text);
        same += strncmp(c->header, row->cell[c->index].text, n) == 0;
    }
    return same * 2 > l->n;
}

static void remember_best(struct reader *r, const struct header_look *k, const struct tb_row *row)
{
    if (k->figures || k->cells < 2 || (r->best.n && k->known <= r->best.known))
        return;
    texts_take(&r->best, row);
    r->best.known = k->known;
    r->best.sheet = r->sheet.number;
}

/* A row that may be a header: hold it until the row after it is seen. True: it was one. */
static bool try_header(struct reader *r, const struct tb_row *row)
{
    struct header_look k;

    header_look(&k, r->words, row);
    if (r->now == NULL)
        remember_best(r, &k, row);
    if (!header_is(&k))
        return false;
    if (r->now && repeats(r->now, row))
        return true;
    texts_take(&r->held, row);
    return true;
}

static bool length_is_words(const struct reader *r, const struct tb_row *row)
{
    const struct column *c = r->now->of[TB_FIELD_LENGTH], *b = r->now->of[TB_FIELD_BOLT];
    struct figure f;

    if (c && c->index < row->n && row->cell[c->index].type == TB_CELL_TEXT)
        return !(row->cell[c->index].text[0] >= '0' && row->cell[c->index].text[0] <= '9') &&
               !figure_scan(&f, row->cell[c->index].text);
    /* a second table with other columns: neither length nor bolt stands where it stood */
    return !(c && c->index < row->n && row->cell[c->index].type) &&
           !(b && b->index < row->n && row->cell[b->index].type);
}

tb_rc learn_row(struct reader *r, const struct tb_row *row, struct tb_err *err)
{
    tb_rc rc;

    if (r->held.n) {
        bool second = header_second(r->words, row);

        size_t tables = r->layouts;

        rc = begin_table(r, second ? row : NULL, err);
        if (rc != TB_OK || (second && r->layouts > tables))
            return rc;
    }
    if (!r->now) {
        if (try_header(r, row))
            return TB_OK;
        (void)heads_take(&r->title, r->words, r->list->store, row);
        if (r->title.value[TB_FIELD_DAY])
            learn_day(r, r->title.value[TB_FIELD_DAY], row->line);
        return TB_OK;
    }
    if (length_is_words(r, row) && try_header(r, row))
        return TB_OK;
    learn_body(r, row);
    return TB_OK;
}

tb_rc learn_sheet_end(struct reader *r, struct tb_err *err)
{
    tb_rc rc = r->held.n ? begin_table(r, NULL, err) : TB_OK;

    r->any_article = r->any_article || r->title.value[TB_FIELD_ARTICLE];
    r->any_composition = r->any_composition || r->title.value[TB_FIELD_COMPOSITION];
    return rc;
}
