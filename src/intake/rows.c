/* The second pass: every row under a header becomes a bolt, a heading, a total, or a bad row. */
#include "rows.h"

#include <libintl.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DELIVERIES_MOST 2000

struct rows *rows_new(void)
{
    struct rows *s = tb_new(struct rows);

    s->width.value = s->mass.value = s->title_width.value = s->title_mass.value = NAN;
    s->block_start = true;
    return s;
}

void rows_free(struct rows *s)
{
    free(s);
}

/* Between sheets the file's sum stays; everything that runs down a column ends. */
void rows_new_sheet(struct rows *s)
{
    struct rows fresh = { .file = s->file, .prices_differ = s->prices_differ, .block_start = true };

    fresh.width.value = fresh.mass.value = fresh.title_width.value = fresh.title_mass.value = NAN;
    *s = fresh;
}

const struct tb_cell *cell_at(const struct tb_row *row, const struct column *c)
{
    return c && c->index < row->n ? &row->cell[c->index] : NULL;
}

bool cell_filled(const struct tb_row *row, const struct column *c)
{
    const struct tb_cell *cell = cell_at(row, c);

    return cell && cell->type != TB_CELL_EMPTY;
}

void row_bad(struct reader *r, const struct tb_row *row, const struct column *c, const char *fmt, ...)
{
    const struct tb_cell *cell = c ? cell_at(row, c) : NULL;
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, dgettext("tenterbook", fmt), ap);
    va_end(ap);
    list_bad(r->list, r->sheet_name, row->line, c ? c->index : SIZE_MAX, c ? c->header : "",
             cell ? cell->text : "", "%s", tb_text_str(&t));
    tb_text_free(&t);
}

/* A name is one line: a break typed into a cell becomes a blank. Declared words are kept as they came. */
static const char *name_of(struct tb_list_store *store, const char *text)
{
    struct tb_text t = { 0 };
    const char *kept;

    for (const char *p = text; *p; p++) {
        bool blank = *p == '\n' || *p == '\r' || *p == '\t';

        if (!blank)
            tb_text_addc(&t, *p);
        else if (t.n && t.s[t.n - 1] != ' ')
            tb_text_addc(&t, ' ');
    }
    kept = store_intern(store, tb_text_str(&t), t.n);
    tb_text_free(&t);
    return kept;
}

/* Text of one column: the one copy of it; a ditto mark is what stood above. NULL when empty. */
static const char *column_text(struct reader *r, const struct tb_row *row, size_t k)
{
    struct rows *s = r->rows;
    const struct tb_cell *cell = cell_at(row, &r->now->column[k]);

    if (!cell || cell->type == TB_CELL_EMPTY)
        return NULL;
    if (s->memo[k] && strcmp(s->memo[k], cell->text) == 0)
        return s->memo[k];
    if (ditto(cell->text))
        return s->memo[k];
    if (r->now->column[k].field != TB_FIELD_COMPOSITION && strpbrk(cell->text, "\n\r\t"))
        return s->memo[k] = name_of(r->list->store, cell->text);
    return s->memo[k] = store_intern(r->list->store, cell->text, strlen(cell->text));
}

const char *field_text(struct reader *r, const struct tb_row *row, enum tb_field f)
{
    struct rows *s = r->rows;
    const char *part[MADE_OF_MOST] = { NULL }, *joint = f == TB_FIELD_ARTICLE ? " / "
                                                        : f == TB_FIELD_LOT   ? "/"
                                                                              : " ";
    struct tb_text t = { 0 };
    size_t n = 0;

    if (r->now->made_of_n[f] == 1)
        return column_text(r, row, r->now->made_of[f][0]);
    for (size_t i = 0; i < r->now->made_of_n[f]; i++)
        if ((part[n] = column_text(r, row, r->now->made_of[f][i])) != NULL && !(n && part[n] == part[n - 1]))
            n++;
    if (n < MADE_OF_MOST)
        part[n] = NULL;
    if (n <= 1)
        return part[0];
    if (memcmp(part, s->in[f], sizeof part) == 0)
        return s->joined[f];
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&t, "%s%s", i ? joint : "", part[i]);
    memcpy(s->in[f], part, sizeof part);
    s->joined[f] = store_intern(r->list->store, t.s, t.n);
    tb_text_free(&t);
    return s->joined[f];
}

/* --- headings ------------------------------------------------------------------------------------------------ */
static const enum tb_field group_field[] = { TB_FIELD_COLOUR, TB_FIELD_LOT, TB_FIELD_COMPOSITION,
                                             TB_FIELD_ORIGIN, TB_FIELD_PRICE };

/*
 * Another article: nothing that ran down from the one above holds for it, but what a heading said does. A heading
 * holds until another of its kind, or until a heading (not a cell of a row) names another article.
 */
static void new_article(struct rows *s, const char *article, bool in_heading)
{
    if (article == s->carry[TB_FIELD_ARTICLE])
        return;
    for (size_t i = 0; i < TB_COUNT(group_field); i++) {
        enum tb_field f = group_field[i];

        if (!s->fresh[f] && (in_heading || !s->from_heading[f]))
            s->carry[f] = NULL;
    }
    s->width = s->mass = (struct measure){ .value = NAN };
    s->carry[TB_FIELD_ARTICLE] = article;
}

static void carry_from(struct rows *s, const struct heads *h)
{
    static const enum tb_field field[] = { TB_FIELD_SUPPLIER,   TB_FIELD_NOTE,   TB_FIELD_DAY,
                                           TB_FIELD_ORDER,      TB_FIELD_COLOUR, TB_FIELD_LOT,
                                           TB_FIELD_ORIGIN,     TB_FIELD_PRICE,  TB_FIELD_CURRENCY,
                                           TB_FIELD_COMPOSITION };

    if (h->value[TB_FIELD_ARTICLE])
        new_article(s, h->value[TB_FIELD_ARTICLE], true);
    for (size_t i = 0; i < TB_COUNT(field); i++)
        if (h->value[field[i]]) {
            s->carry[field[i]] = h->value[field[i]];
            s->from_heading[field[i]] = s->fresh[field[i]] = true;
        }
}

/* A row with neither bolt nor length: the heading of a block, or words that belong to nobody. */
static void take_heading(struct reader *r, const struct tb_row *row)
{
    struct rows *s = r->rows;
    struct heads h = { 0 };
    size_t cells = 0, mapped = 0;
    const char *article, *alone;

    if (heads_take(&h, r->words, r->list->store, row) > 0) {
        carry_from(s, &h);
        return;
    }
    for (size_t i = 0; i < row->n; i++)
        cells += row->cell[i].type != TB_CELL_EMPTY;
    for (size_t k = 0; k < r->now->n; k++)
        mapped += cell_filled(row, &r->now->column[k]);
    if (mapped == 0 || (cells == 1 && !s->block_start && s->article_in_row))
        return; /* a footnote */
    article = field_text(r, row, TB_FIELD_ARTICLE);
    alone = article ? article : field_text(r, row, TB_FIELD_COLOUR);
    alone = alone ? alone : field_text(r, row, TB_FIELD_LOT);
    if (cells == 1 && (!alone || strlen(alone) > 60))
        return;
    h = (struct heads){ .value[TB_FIELD_ARTICLE] = article };
    for (enum tb_field f = TB_FIELD_SUPPLIER; f <= TB_FIELD_CURRENCY; f++)
        if (f != TB_FIELD_ARTICLE && f != TB_FIELD_DESIGN && f != TB_FIELD_SHADE_GROUP && r->now->of[f])
            h.value[f] = field_text(r, row, f);
    carry_from(s, &h);
    s->from_heading[TB_FIELD_COMPOSITION] = h.value[TB_FIELD_COMPOSITION] != NULL;
}

/* --- texts of a bolt ---------------------------------------------------------------------------------------- */
/* The cell, else what runs down from above, else the title. */
static const char *group_text(struct reader *r, const struct tb_row *row, enum tb_field f)
{
    struct rows *s = r->rows;
    const char *text =
        r->now->of[f] || f == TB_FIELD_ARTICLE || f == TB_FIELD_COLOUR ? field_text(r, row, f) : NULL;

    if (text) {
        if (f == TB_FIELD_ARTICLE)
            new_article(s, text, false);
        s->carry[f] = text;
        s->from_heading[f] = false;
        return text;
    }
    if (s->carry[f]) {
        if (r->now->of[f] && !s->from_heading[f])
            r->now->of[f]->filled++;
        return s->carry[f];
    }
    return r->title.value[f];
}

static const char *or_empty(const char *s)
{
    return s ? s : "";
}

/* Another supplier: what the one above delivered under, sold and declared is not theirs; what a heading said holds on. */
static void new_supplier(struct rows *s)
{
    static const enum tb_field of_delivery[] = { TB_FIELD_NOTE, TB_FIELD_DAY, TB_FIELD_ORDER,
                                                 TB_FIELD_ARTICLE };

    for (size_t i = 0; i < TB_COUNT(of_delivery) + TB_COUNT(group_field); i++) {
        enum tb_field f = i < TB_COUNT(of_delivery) ? of_delivery[i] : group_field[i - TB_COUNT(of_delivery)];

        if (!s->fresh[f] && !s->from_heading[f])
            s->carry[f] = NULL;
    }
    s->width = s->mass = (struct measure){ .value = NAN };
}

static tb_rc take_delivery(struct reader *r, const struct tb_row *row, struct tb_err *err)
{
    static const enum tb_field of_note[] = { TB_FIELD_DAY, TB_FIELD_ORDER };
    struct rows *s = r->rows;
    const char *supplier = r->opts->supplier ? r->opts->supplier : group_text(r, row, TB_FIELD_SUPPLIER);
    const char *note;

    if (s->last_supplier && supplier != s->last_supplier)
        new_supplier(s);
    note = r->opts->note ? r->opts->note : group_text(r, row, TB_FIELD_NOTE);
    if (!supplier)
        return tb_fail(err, TB_EINVAL, "line %zu: the file does not name the supplier; say --supplier NAME",
                       row->line);
    if (!note)
        return tb_fail(err, TB_EINVAL,
                       "line %zu: the file does not give the number of the delivery note; say --note NUMBER",
                       row->line);
    if (supplier == s->last_supplier && note == s->last_note)
        return TB_OK;
    s->last_supplier = supplier;
    s->last_note = note;
    for (size_t i = 0; i < TB_COUNT(of_note);
         i++) /* another note: the date of the one above is not its date */
        if (!s->fresh[of_note[i]] && !cell_filled(row, r->now->of[of_note[i]]))
            s->carry[of_note[i]] = NULL;
    if (r->list->deliveries >= DELIVERIES_MOST)
        return tb_fail(err, TB_EINVAL, "line %zu: the file holds more than %d deliveries; split it",
                       row->line, DELIVERIES_MOST);
    s->delivery = list_delivery(r->list, store_intern(r->list->store, supplier, strlen(supplier)),
                                store_intern(r->list->store, note, strlen(note)));
    return TB_OK;
}

/* Is the order among those listed, "PO 1, PO 7"? */
static bool listed(const char *orders, const char *order)
{
    size_t n = strlen(order);

    for (const char *at = orders; (at = strstr(at, order)) != NULL; at++)
        if ((at == orders || (at >= orders + 2 && at[-1] == ' ' && at[-2] == ',')) &&
            (at[n] == '\0' || at[n] == ','))
            return true;
    return false;
}

/* Several orders in one delivery are listed, as many as fit a line. */
static void take_order(struct reader *r, const struct tb_row *row, struct tb_list_delivery *d)
{
    const char *order = r->opts->order ? r->opts->order : group_text(r, row, TB_FIELD_ORDER);
    struct tb_text t = { 0 };

    if (!order || order == d->order || listed(d->order, order) || strlen(d->order) + strlen(order) > 200)
        return;
    tb_text_addf(&t, "%s%s%s", d->order, *d->order ? ", " : "", order);
    d->order = store_intern(r->list->store, t.s, t.n);
    tb_text_free(&t);
}

/* The note's date must be one; the same text is read once. */
static bool take_day(struct reader *r, const struct tb_row *row, struct tb_list_delivery *d)
{
    struct rows *s = r->rows;
    const char *text = group_text(r, row, TB_FIELD_DAY), *day;
    struct day_reading reading;

    if (!text)
        return true;
    if (text != s->day_text) {
        day = day_scan(&reading, text) ? day_value(&reading, r->day_order) : NULL;
        if (!day) {
            row_bad(r, row, r->now->of[TB_FIELD_DAY], "'%s' is no date that can be read %s",
                    store_brief(r->list->store, text),
                    r->day_order == 'm'   ? "month first"
                    : r->day_order == 'y' ? "year first"
                                          : "day first");
            return false;
        }
        s->day_text = text;
        memcpy(s->day, day, sizeof s->day);
    }
    if (!d->day[0])
        memcpy(d->day, s->day, sizeof d->day);
    else if (strcmp(d->day, s->day) != 0)
        list_say(r->list, "line %zu: the delivery note %s is dated %s and %s; the first counts", row->line,
                 d->note, d->day, s->day);
    return true;
}

static bool take_lot(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    struct rows *s = r->rows;
    struct tb_list_lot key = { .delivery = s->delivery, .price = NAN, .currency = "" };
    const char *article = group_text(r, row, TB_FIELD_ARTICLE), *declared;
    struct tb_list_lot *lot;

    if (!article)
        article = r->opts->article ? store_intern(r->list->store, r->opts->article, strlen(r->opts->article))
                                   : NULL;
    if (!article) {
        row_bad(r, row, r->now->of[TB_FIELD_ARTICLE], "the bolt names no article, and none stands above it");
        return false;
    }
    key.article = article;
    key.shade = or_empty(group_text(r, row, TB_FIELD_COLOUR));
    key.dye_lot = or_empty(group_text(r, row, TB_FIELD_LOT));
    key.origin = or_empty(group_text(r, row, TB_FIELD_ORIGIN));
    declared = group_text(r, row, TB_FIELD_COMPOSITION);
    key.declared_from = !declared                                                                  ? "option"
                        : !s->carry[TB_FIELD_COMPOSITION] || s->from_heading[TB_FIELD_COMPOSITION] ? "title"
                                                                                                   : "row";
    if (!declared)
        declared = or_empty(r->opts->declared);
    key.declared = *declared ? store_intern(r->list->store, declared, strlen(declared)) : "";
    if (!take_price(r, row, &key))
        return false;
    bolt->lot = list_lot(r->list, &key);
    lot = &r->list->lot[bolt->lot];
    if (isnan(lot->price) && !isnan(key.price)) {
        lot->price = key.price;
        lot->currency = key.currency;
        lot->price_unit = key.price_unit;
    } else if (!isnan(key.price) && key.price != lot->price) {
        s->prices_differ++;
    }
    if (!*lot->origin)
        lot->origin = key.origin;
    return true;
}

/* --- the bolt itself ------------------------------------------------------------------------------------------ */
/* "11~15", or "1-10" beside a count of 10: several bolts under one length. */
static bool is_range(const struct reader *r, const struct tb_row *row, const char *number)
{
    const struct column *count = r->now->of[TB_FIELD_COUNT];
    const struct tb_cell *cell = cell_at(row, count);
    char *end;
    unsigned long from = strtoul(number, &end, 10), to;

    if (end == number || (*end != '~' && *end != '-') || end[1] < '0' || end[1] > '9')
        return false;
    to = strtoul(end + 1, &end, 10);
    if (*end || to <= from)
        return false;
    return strchr(number, '~') || (cell && cell->type && strtoul(cell->text, NULL, 10) == to - from + 1);
}

static bool take_number(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt,
                        struct tb_text *spare)
{
    const struct column *c = r->now->of[TB_FIELD_BOLT];
    const char *number = cell_at(row, c)->text, *why = NULL;
    const char *dye_lot = r->list->lot[bolt->lot].dye_lot;

    if (is_range(r, row, number))
        why = "several bolts under one length; each bolt needs a row of its own";
    else if (strlen(number) > 80)
        why = "a bolt number of more than 80 bytes";
    else if (ditto(number))
        why = "a ditto mark is no bolt number";
    else if (strpbrk(number, "\n\r\t"))
        why = "a bolt number with a line break in it";
    if (why) {
        row_bad(r, row, c, "%s", why);
        return false;
    }
    if (r->opts->number_by_lot && *dye_lot) {
        tb_text_clear(spare);
        tb_text_addf(spare, "%s/%s", dye_lot, number);
        number = spare->s;
    }
    bolt->number = number;
    return true;
}

static void add_sums(struct rows *s, double metres)
{
    struct sum *sum[] = { &s->block, &s->sheet, &s->file };

    for (size_t i = 0; i < TB_COUNT(sum); i++) {
        sum[i]->metres += metres;
        sum[i]->bolts++;
    }
}

static void add_bolt(struct reader *r, const struct tb_row *row, const struct tb_list_bolt *bolt)
{
    struct tb_packing_list *l = r->list;
    size_t before = list_bolt(l, r->rows->delivery, bolt);

    if (before != SIZE_MAX) {
        const struct tb_list_bolt *b = &l->bolt[before];
        const struct column *c = r->now->of[TB_FIELD_BOLT];

        if (b->sheet == r->rows->sheet_index)
            row_bad(
                r, row, c,
                "this bolt number stands on line %u already; if numbers start again in every dye lot, say "
                "--numbers-by-lot",
                b->line);
        else
            row_bad(r, row, c,
                    "this bolt number stands on line %u of the sheet '%s' already; if numbers start again in "
                    "every "
                    "dye lot, say --numbers-by-lot",
                    b->line, l->sheet[b->sheet]);
        return;
    }
    l->lot[bolt->lot].bolts++;
    l->lot[bolt->lot].metres += bolt->metres;
    l->delivery[r->rows->delivery].bolts++;
    l->delivery[r->rows->delivery].metres += bolt->metres;
}

static bool texts_fit(struct reader *r, const struct tb_row *row)
{
    bool fit = true;

    for (size_t k = 0; k < r->now->n; k++) {
        const struct column *c = &r->now->column[k];
        const struct tb_cell *cell = cell_at(row, c);

        if (!cell || c->field == TB_FIELD_IGNORE || strlen(cell->text) <= TB_INTAKE_TEXT_MOST)
            continue;
        row_bad(r, row, c, "a value of more than %d bytes", TB_INTAKE_TEXT_MOST);
        fit = false;
    }
    return fit;
}

static tb_rc take_bolt(struct reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_list_bolt bolt = {
        .line = (uint32_t)row->line, .sheet = r->rows->sheet_index, .parts = 1, .said = ""
    };
    struct tb_text spare = { 0 };
    bool good;
    tb_rc rc;

    if (!texts_fit(r, row))
        return TB_OK;
    if ((rc = take_delivery(r, row, err)) != TB_OK)
        return rc;
    take_order(r, row, &r->list->delivery[r->rows->delivery]);
    good = take_day(r, row, &r->list->delivery[r->rows->delivery]);
    good = take_lot(r, row, &bolt) && good; /* all faults of a row are listed, not only the first */
    good = take_length(r, row, &bolt) && good;
    if (bolt.metres > 0)
        add_sums(r->rows, bolt.metres);
    good = take_width_mass(r, row, &bolt) && good;
    if (r->list->lots > bolt.lot)
        good = take_number(r, row, &bolt, &spare) && good;
    if (good)
        add_bolt(r, row, &bolt);
    r->rows->block_start = false;
    memset(r->rows->fresh, 0, sizeof r->rows->fresh);
    r->rows->article_in_row = cell_filled(row, r->now->of[TB_FIELD_ARTICLE]);
    tb_text_free(&spare);
    return TB_OK;
}

/* The header again on another page, or the row of units under it. */
static bool is_header_again(const struct reader *r, const struct tb_row *row)
{
    const struct column *c[] = { r->now->of[TB_FIELD_LENGTH], r->now->of[TB_FIELD_BOLT] };
    struct figure f;

    for (size_t i = 0; i < TB_COUNT(c); i++) {
        const struct tb_cell *cell = cell_at(row, c[i]);
        size_t n = cell ? strlen(cell->text) : 0;

        if (cell && cell->type == TB_CELL_TEXT && n >= 2 && strncmp(c[i]->header, cell->text, n) == 0 &&
            !(i == 0 && figure_scan(&f, cell->text)))
            return true;
    }
    return cell_filled(row, c[0]) && !cell_filled(row, c[1]) && header_second(r->words, row);
}

/* Words alone in the bolt column: the heading of a block, or "Page 2", "Thank you for your order". */
static bool take_words(struct reader *r, const struct tb_row *row)
{
    const char *text = cell_at(row, r->now->of[TB_FIELD_BOLT])->text;
    struct heads h = { 0 };

    if (!row_alone(row))
        return false;
    if (heads_take(&h, r->words, r->list->store, row) > 0) {
        carry_from(r->rows, &h);
        return true;
    }
    if (!strchr(text, ' ') || (text[0] >= '0' && text[0] <= '9'))
        return false;
    list_say(r->list, "line %zu: '%s' is taken for a remark", row->line, store_brief(r->list->store, text));
    return true;
}

static tb_rc take_body(struct reader *r, const struct tb_row *row, struct tb_err *err)
{
    const struct column *c = r->now->of[TB_FIELD_BOLT], *l = r->now->of[TB_FIELD_LENGTH];
    bool bolt = cell_filled(row, c), length = cell_filled(row, l);

    if (!bolt && !length && !row->n)
        return TB_OK;
    if (is_header_again(r, row))
        return TB_OK;
    if (take_total(r, row))
        return TB_OK;
    if (!bolt && !length) {
        take_heading(r, row);
        return TB_OK;
    }
    if (!bolt) {
        row_bad(r, row, c, "a length without a bolt number");
        return TB_OK;
    }
    if (!length && take_words(r, row))
        return TB_OK;
    if (!length) {
        row_bad(r, row, l, "the bolt '%s' has no length", store_brief(r->list->store, cell_at(row, c)->text));
        return TB_OK;
    }
    return take_bolt(r, row, err);
}

/* --- title and tables ------------------------------------------------------------------------------------------- */
static void title_measures(struct reader *r)
{
    struct rows *s = r->rows;
    const struct {
        enum tb_field field;
        struct measure *to;
        enum tb_unit unit;
    } part[] = { { TB_FIELD_WIDTH, &s->title_width, r->opts->width_unit },
                 { TB_FIELD_MASS, &s->title_mass, r->opts->mass_unit } };

    for (size_t i = 0; i < TB_COUNT(part); i++)
        title_measure(r, part[i].field, part[i].to, part[i].unit);
}

static struct layout *table_at(const struct reader *r, size_t line)
{
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->sheet == r->sheet.number && r->layout[i]->line == line)
            return r->layout[i];
    return NULL;
}

tb_rc take_row(struct reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct layout *l = table_at(r, row->line);

    if (l) {
        if (r->now) { /* a second table of the sheet: columns do not run on */
            memset(r->rows->memo, 0, sizeof r->rows->memo);
            memset(r->rows->in, 0, sizeof r->rows->in);
        }
        r->now = l;
        r->rows->sheet_index = list_sheet(r->list, r->sheet_name);
        title_measures(r);
        return TB_OK;
    }
    if (!r->now) {
        (void)heads_take(&r->title, r->words, r->list->store, row);
        return TB_OK;
    }
    if (row->line <= r->now->last_line && row->line > r->now->line)
        return TB_OK;
    return take_body(r, row, err);
}
