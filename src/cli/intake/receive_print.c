/* What receive prints: how a list was understood, what came of it, and what could not be taken. */
#include "cli/intake/receive.h"

#include "tenterbook/fibre.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define LOTS_SHOWN 40

static void print_columns(FILE *out, const struct tb_packing_list *l)
{
    struct tb_table t;

    tb_say(out, "Columns as they were understood:\n");
    tb_table_begin(&t, 4);
    for (size_t i = 0; i < l->columns; i++) {
        const struct tb_list_column *c = &l->column[i];
        char letters[8];

        tb_column_letters(letters, c->column);
        tb_table_cell(&t, "  %s%s%s", c->sheet, *c->sheet ? " " : "", letters);
        tb_table_cell(&t, "%s", c->header);
        tb_table_cell(&t, "%s",
                      c->field == TB_FIELD_NONE   ? _("not understood, left out")
                      : c->field > TB_FIELD_PARTS ? _("left out")
                                                  : _(tb_field_name(c->field)));
        tb_table_cell(&t, "%s%s", c->field > TB_FIELD_PARTS ? _(tb_field_name(c->field)) : "",
                      c->field && c->field <= TB_FIELD_PARTS ? tb_unit_key(c->unit) : "");
    }
    tb_table_print(&t, out, "llll", 60);
}

static void print_delivery(FILE *out, const struct tb_receive_outcome *r, size_t i)
{
    const struct tb_list_delivery *d = &r->list.delivery[i];
    size_t lots = 0;

    for (size_t k = 0; k < r->list.lots; k++)
        lots += r->list.lot[k].delivery == i;
    (void)fprintf(out, "%s: ", r->delivery ? r->delivery[i] : _("Would be taken in"));
    tb_say(out, "%s, note %s%s%s, arrived %s: %zu %s, %u %s, %.2f m", d->supplier, d->note,
           *d->day ? _(" of ") : "", d->day, r->arrived, lots, lots == 1 ? _("lot") : _("lots"), d->bolts,
           d->bolts == 1 ? _("bolt") : _("bolts"), d->metres);
    if (*d->order)
        tb_say(out, ", order %s", d->order);
    (void)fprintf(out, ", %s", r->remark);
    (void)fputs("\n", out);
}

static void print_lots(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    struct tb_table t;

    tb_table_begin(&t, 7);
    for (size_t i = 0; i < l->lots && i < LOTS_SHOWN; i++) {
        const struct tb_list_lot *o = &l->lot[i];

        tb_table_cell(&t, "  %s", r->lot ? r->lot[i] : "");
        tb_table_cell(&t, "%s", o->article);
        tb_table_cell(&t, "%s", o->shade);
        tb_table_cell(&t, "%s", o->dye_lot);
        tb_table_cell(&t, "%u %s", o->bolts, o->bolts == 1 ? _("bolt") : _("bolts"));
        tb_table_cell(&t, "%.2f m", o->metres);
        tb_table_cell(&t, "%s", *o->declared ? o->declared : _("nothing declared"));
    }
    tb_table_print(&t, out, "llllrrl", 60);
    if (l->lots > LOTS_SHOWN)
        (void)fprintf(out, _n("  and %zu lot more\n", "  and %zu lots more\n", l->lots - LOTS_SHOWN),
                      l->lots - LOTS_SHOWN);
}

/* Called for each lot whose declaration leaves a doubt; lots with the same words share their doubts. */
static bool said_before(const struct tb_packing_list *l, size_t lot)
{
    for (size_t k = 0; k < lot; k++)
        if (l->lot[k].declared == l->lot[lot].declared)
            return true;
    return false;
}

static void lots_with(struct tb_text *out, const struct tb_receive_outcome *r, const char *declared)
{
    size_t n = 0, more = 0;

    for (size_t k = 0; k < r->list.lots; k++)
        if (r->list.lot[k].declared == declared) {
            if (n < 6)
                tb_text_addf(out, "%s%s", n ? ", " : "", r->lot ? r->lot[k] : r->list.lot[k].article);
            else
                more++;
            n++;
        }
    if (more)
        tb_text_addf(out, _(" and %zu more"), more);
}

static void print_doubts(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    bool any = false;

    for (size_t i = 0; i < l->lots && i < 2000; i++) {
        struct tb_declaration d = { 0 };
        struct tb_text who = { 0 };

        if (!*l->lot[i].declared || said_before(l, i))
            continue;
        tb_declaration_read(&d, l->lot[i].declared, strlen(l->lot[i].declared));
        lots_with(&who, r, l->lot[i].declared);
        if (d.n && !any)
            tb_say(out, "Doubts in what is declared (a lot waits until those that matter are answered):\n");
        any = any || d.n;
        for (size_t k = 0; k < d.n; k++)
            (void)fprintf(out, "  %s: \"%s\": %s\n", tb_text_str(&who), l->lot[i].declared, d.doubt[k].say);
        tb_text_free(&who);
        tb_declaration_free(&d);
    }
}

/* A note written after the goods came: the arrival counts for every term, so a wrong one should be seen now. */
static bool late_note(const struct tb_receive_outcome *r, const struct tb_list_delivery *d)
{
    return *d->day && strcmp(d->day, r->arrived) > 0;
}

static void print_notes(FILE *out, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    size_t late = 0;

    for (size_t i = 0; i < l->deliveries; i++)
        late += late_note(r, &l->delivery[i]);
    if (l->says + late)
        tb_say(out, "Please note:\n");
    for (size_t i = 0; i < l->deliveries; i++)
        if (late_note(r, &l->delivery[i]))
            (void)fprintf(
                out, _("  - note %s is dated %s, after the arrival on %s: one of the two days is wrong\n"),
                l->delivery[i].note, l->delivery[i].day, r->arrived);
    for (size_t i = 0; i < l->says; i++)
        (void)fprintf(out, "  - %s\n", l->say[i]);
    if (l->says_left_out)
        (void)fprintf(out, _n("  - and %zu note more\n", "  - and %zu notes more\n", l->says_left_out),
                      l->says_left_out);
}

void tb_receipt_print(FILE *out, const struct tb_receive_outcome *r)
{
    if (!r->delivery)
        print_columns(out, &r->list);
    for (size_t i = 0; i < r->list.deliveries; i++)
        print_delivery(out, r, i);
    print_lots(out, r);
    if (r->list.totals)
        (void)fprintf(out,
                      r->list.totals == 1 ? _("%zu total of the list agrees with its bolts.\n")
                                          : _("%zu totals of the list agree with its bolts.\n"),
                      r->list.totals);
    print_doubts(out, r);
    print_notes(out, r);
    if (!r->delivery)
        tb_say(out, "Nothing was stored.\n");
}

void tb_receipt_bad(const char *path, const struct tb_packing_list *l)
{
    for (size_t i = 0; i < l->bads; i++) {
        const struct tb_bad *b = &l->bad[i];
        char letters[8] = "";

        if (b->column != SIZE_MAX)
            tb_column_letters(letters, b->column);
        (void)fprintf(stderr, "%s: ", path);
        if (*b->sheet)
            (void)fprintf(stderr, _("sheet '%s', "), b->sheet);
        (void)fprintf(stderr, _("line %zu"), b->line);
        if (*letters)
            (void)fprintf(stderr, _(", column %s '%s'"), letters, b->header);
        if (*b->value)
            (void)fprintf(stderr, _(", value '%s'"), b->value);
        (void)fprintf(stderr, ": %s\n", b->why);
    }
    if (l->bad_count > l->bads)
        (void)fprintf(stderr, _("%s: and %zu more\n"), path, l->bad_count - l->bads);
}

/* --- JSON ---------------------------------------------------------------------------------------------------- */
static json_t *json_declared(const char *text)
{
    struct tb_declaration d = { 0 };
    struct tb_text reading = { 0 };
    json_t *j, *doubts = json_array();

    tb_declaration_read(&d, text, strlen(text));
    tb_composition_print(&reading, &d.comp);
    for (size_t i = 0; i < d.n; i++)
        tb_json_push(doubts, json_pack("{s:s, s:o}", "doubt", tb_doubt_key(d.doubt[i].kind), "say",
                                       tb_json_text(d.doubt[i].say)));
    j = json_pack("{s:o, s:o, s:b, s:o}", "text", tb_json_text(text), "reading",
                  tb_json_text(tb_text_str(&reading)), "clear", tb_declaration_clear(&d), "doubts", doubts);
    tb_declaration_free(&d);
    tb_text_free(&reading);
    return j;
}

#define LOT(member, key) TB_JSON_AS(struct tb_list_lot, member, key)
TB_JSON_MEMBERS(goods_members, LOT(article, "article"), LOT(shade, "colour"), LOT(dye_lot, "dye_lot"),
                LOT(origin, "origin"));
TB_JSON_MEMBERS(amount_members, LOT(bolts, "bolts"), LOT(metres, "metres"));

static json_t *json_lot(const struct tb_receive_outcome *r, size_t i)
{
    const struct tb_list_lot *o = &r->list.lot[i];
    json_t *j = json_pack("{s:o}", "lot", tb_json_text(r->lot ? r->lot[i] : NULL));

    tb_json_add(j, goods_members, TB_COUNT(goods_members), o);
    tb_json_put(j, "unit_price", tb_json_number(tb_price_per_metre(o)));
    tb_json_put(j, "currency", tb_json_text(o->currency));
    tb_json_put(j, "declared", json_declared(o->declared));
    tb_json_add(j, amount_members, TB_COUNT(amount_members), o);
    return j;
}

static json_t *json_delivery(const struct tb_receive_outcome *r, size_t i)
{
    const struct tb_list_delivery *d = &r->list.delivery[i];
    json_t *lots = json_array();

    for (size_t k = 0; k < r->list.lots; k++)
        if (r->list.lot[k].delivery == i)
            tb_json_push(lots, json_lot(r, k));
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:I, s:o, s:o}", "delivery",
                     tb_json_text(r->delivery ? r->delivery[i] : NULL), "supplier", tb_json_text(d->supplier),
                     "note", tb_json_text(d->note), "note_day", tb_json_some(d->day), "order",
                     tb_json_text(d->order), "arrived", tb_json_text(r->arrived), "remark",
                     tb_json_text(r->remark), "bolts", (json_int_t)d->bolts, "metres",
                     tb_json_number(d->metres), "lots", lots);
}

static json_t *json_columns(const struct tb_packing_list *l)
{
    json_t *list = json_array();

    for (size_t i = 0; i < l->columns; i++) {
        const struct tb_list_column *c = &l->column[i];

        tb_json_push(list, json_pack("{s:o, s:I, s:o, s:o, s:o}", "sheet", tb_json_text(c->sheet), "column",
                                     (json_int_t)c->column + 1, "header", tb_json_text(c->header), "field",
                                     tb_json_some(c->field ? tb_field_key(c->field) : NULL), "unit",
                                     tb_json_some(c->unit ? tb_unit_key(c->unit) : NULL)));
    }
    return list;
}

static json_t *json_bad(const struct tb_packing_list *l)
{
    json_t *list = json_array();

    for (size_t i = 0; i < l->bads; i++) {
        const struct tb_bad *b = &l->bad[i];
        bool whole_row = b->column == SIZE_MAX;

        tb_json_push(list, json_pack("{s:o, s:I, s:o, s:o, s:o, s:o}", "sheet", tb_json_text(b->sheet),
                                     "line", (json_int_t)b->line, "column",
                                     whole_row ? json_null() : json_integer((json_int_t)b->column + 1),
                                     "header", tb_json_text(b->header), "value", tb_json_text(b->value),
                                     "why", tb_json_text(b->why)));
    }
    return list;
}

json_t *tb_receipt_json(const char *path, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    json_t *deliveries = json_array(), *notes = json_array();

    for (size_t i = 0; l->bad_count == 0 && i < l->deliveries; i++)
        tb_json_push(deliveries, json_delivery(r, i));
    for (size_t i = 0; i < l->says; i++)
        tb_json_push(notes, tb_json_text(l->say[i]));
    return json_pack("{s:o, s:s, s:b, s:o, s:o, s:o, s:o, s:I}", "file", tb_json_text(path), "digest",
                     l->digest, "stored", r->delivery != NULL, "deliveries", deliveries, "columns",
                     json_columns(l), "notes", notes, "bad", json_bad(l), "bad_count",
                     (json_int_t)l->bad_count);
}
