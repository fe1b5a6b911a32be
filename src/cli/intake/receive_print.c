#include "cli/intake/receive.h"

#include "tenterbook/fibre.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define LOTS_SHOWN 40

static void print_columns(struct tb_ctx *ctx, const struct tb_packing_list *l)
{
    struct tb_table t;

    (void)fputs(_("Columns as they were understood:\n"), ctx->out);
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
    tb_table_print(&t, ctx->out, "llll", 60);
}

static void print_delivery(struct tb_ctx *ctx, const struct tb_receipt *r, size_t i)
{
    const struct tb_list_delivery *d = &r->list->delivery[i];
    size_t lots = 0;

    for (size_t k = 0; k < r->list->lots; k++)
        lots += r->list->lot[k].delivery == i;
    (void)fprintf(ctx->out, "%s: ", r->dry ? _("Would be taken in") : r->ref[i]);
    (void)fprintf(ctx->out, _("%s, note %s%s%s, arrived %s: %zu %s, %u %s, %.2f m"), d->supplier, d->note,
                  *d->day ? _(" of ") : "", d->day, r->arrived, lots, lots == 1 ? _("lot") : _("lots"),
                  d->bolts, d->bolts == 1 ? _("bolt") : _("bolts"), d->metres);
    if (*d->order)
        (void)fprintf(ctx->out, _(", order %s"), d->order);
    (void)fprintf(ctx->out, ", %s", r->remark);
    (void)fputs("\n", ctx->out);
}

static void print_lots(struct tb_ctx *ctx, const struct tb_receipt *r)
{
    const struct tb_packing_list *l = r->list;
    struct tb_table t;

    tb_table_begin(&t, 7);
    for (size_t i = 0; i < l->lots && i < LOTS_SHOWN; i++) {
        const struct tb_list_lot *o = &l->lot[i];

        tb_table_cell(&t, "  %s", r->dry ? "" : r->lot[i]);
        tb_table_cell(&t, "%s", o->article);
        tb_table_cell(&t, "%s", o->shade);
        tb_table_cell(&t, "%s", o->dye_lot);
        tb_table_cell(&t, "%u %s", o->bolts, o->bolts == 1 ? _("bolt") : _("bolts"));
        tb_table_cell(&t, "%.2f m", o->metres);
        tb_table_cell(&t, "%s", *o->declared ? o->declared : _("nothing declared"));
    }
    tb_table_print(&t, ctx->out, "llllrrl", 60);
    if (l->lots > LOTS_SHOWN)
        (void)fprintf(ctx->out, _n("  and %zu lot more\n", "  and %zu lots more\n", l->lots - LOTS_SHOWN),
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

static void lots_with(struct tb_text *out, const struct tb_receipt *r, const char *declared)
{
    size_t n = 0, more = 0;

    for (size_t k = 0; k < r->list->lots; k++)
        if (r->list->lot[k].declared == declared) {
            if (n < 6)
                tb_text_addf(out, "%s%s", n ? ", " : "", r->dry ? r->list->lot[k].article : r->lot[k]);
            else
                more++;
            n++;
        }
    if (more)
        tb_text_addf(out, _(" and %zu more"), more);
}

static void print_doubts(struct tb_ctx *ctx, const struct tb_receipt *r)
{
    const struct tb_packing_list *l = r->list;
    bool any = false;

    for (size_t i = 0; i < l->lots && i < 2000; i++) {
        struct tb_declaration d = { 0 };
        struct tb_text who = { 0 };

        if (!*l->lot[i].declared || said_before(l, i))
            continue;
        tb_declaration_read(&d, l->lot[i].declared, strlen(l->lot[i].declared));
        lots_with(&who, r, l->lot[i].declared);
        if (d.n && !any)
            (void)fputs(_("Doubts in what is declared (a lot waits until those that matter are answered):\n"),
                        ctx->out);
        any = any || d.n;
        for (size_t k = 0; k < d.n; k++)
            (void)fprintf(ctx->out, "  %s: \"%s\": %s\n", tb_text_str(&who), l->lot[i].declared,
                          d.doubt[k].say);
        tb_text_free(&who);
        tb_declaration_free(&d);
    }
}

/* A note written after the goods came: the arrival counts for every term, so a wrong one should be seen now. */
static bool late_note(const struct tb_receipt *r, const struct tb_list_delivery *d)
{
    return *d->day && strcmp(d->day, r->arrived) > 0;
}

static void print_notes(struct tb_ctx *ctx, const struct tb_receipt *r)
{
    const struct tb_packing_list *l = r->list;
    size_t late = 0;

    for (size_t i = 0; i < l->deliveries; i++)
        late += late_note(r, &l->delivery[i]);
    if (l->says + late)
        (void)fputs(_("Please note:\n"), ctx->out);
    for (size_t i = 0; i < l->deliveries; i++)
        if (late_note(r, &l->delivery[i]))
            (void)fprintf(
                ctx->out,
                _("  - note %s is dated %s, after the arrival on %s: one of the two days is wrong\n"),
                l->delivery[i].note, l->delivery[i].day, r->arrived);
    for (size_t i = 0; i < l->says; i++)
        (void)fprintf(ctx->out, "  - %s\n", l->say[i]);
    if (l->says_left_out)
        (void)fprintf(ctx->out, _n("  - and %zu note more\n", "  - and %zu notes more\n", l->says_left_out),
                      l->says_left_out);
}

void tb_receipt_print(struct tb_ctx *ctx, const struct tb_receipt *r)
{
    if (r->dry)
        print_columns(ctx, r->list);
    for (size_t i = 0; i < r->list->deliveries; i++)
        print_delivery(ctx, r, i);
    print_lots(ctx, r);
    if (r->list->totals)
        (void)fprintf(ctx->out,
                      r->list->totals == 1 ? _("%zu total of the list agrees with its bolts.\n")
                                           : _("%zu totals of the list agree with its bolts.\n"),
                      r->list->totals);
    print_doubts(ctx, r);
    print_notes(ctx, r);
    if (r->dry)
        (void)fputs(_("Nothing was stored.\n"), ctx->out);
}

void tb_receipt_bad(const struct tb_receipt *r)
{
    const struct tb_packing_list *l = r->list;

    for (size_t i = 0; i < l->bads; i++) {
        const struct tb_bad *b = &l->bad[i];
        char letters[8] = "";

        if (b->column != SIZE_MAX)
            tb_column_letters(letters, b->column);
        (void)fprintf(stderr, "%s: ", r->path);
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
        (void)fprintf(stderr, _("%s: and %zu more\n"), r->path, l->bad_count - l->bads);
}

/* --- JSON ---------------------------------------------------------------------------------------------------- */
static json_t *json_declared(const char *text)
{
    struct tb_declaration d = { 0 };
    struct tb_text reading = { 0 };
    json_t *j = json_object(), *doubts = json_array();

    tb_declaration_read(&d, text, strlen(text));
    tb_composition_print(&reading, &d.comp);
    for (size_t i = 0; i < d.n; i++)
        (void)json_array_append_new(doubts, json_pack("{s:s, s:o}", "doubt", tb_doubt_key(d.doubt[i].kind),
                                                      "say", tb_json_text(d.doubt[i].say)));
    (void)json_object_set_new(j, "text", tb_json_text(text));
    (void)json_object_set_new(j, "reading", tb_json_text(tb_text_str(&reading)));
    (void)json_object_set_new(j, "clear", json_boolean(tb_declaration_clear(&d)));
    (void)json_object_set_new(j, "doubts", doubts);
    tb_declaration_free(&d);
    tb_text_free(&reading);
    return j;
}

static json_t *json_lot(const struct tb_receipt *r, size_t i)
{
    const struct tb_list_lot *o = &r->list->lot[i];
    json_t *j = json_object();

    (void)json_object_set_new(j, "lot", r->dry ? json_null() : tb_json_text(r->lot[i]));
    (void)json_object_set_new(j, "article", tb_json_text(o->article));
    (void)json_object_set_new(j, "colour", tb_json_text(o->shade));
    (void)json_object_set_new(j, "dye_lot", tb_json_text(o->dye_lot));
    (void)json_object_set_new(j, "origin", tb_json_text(o->origin));
    (void)json_object_set_new(j, "unit_price", tb_json_number(tb_price_per_metre(o)));
    (void)json_object_set_new(j, "currency", tb_json_text(o->currency));
    (void)json_object_set_new(j, "declared", json_declared(o->declared));
    (void)json_object_set_new(j, "bolts", json_integer(o->bolts));
    (void)json_object_set_new(j, "metres", tb_json_number(o->metres));
    return j;
}

static json_t *json_delivery(const struct tb_receipt *r, size_t i)
{
    const struct tb_list_delivery *d = &r->list->delivery[i];
    json_t *j = json_object(), *lots = json_array();

    for (size_t k = 0; k < r->list->lots; k++)
        if (r->list->lot[k].delivery == i)
            (void)json_array_append_new(lots, json_lot(r, k));
    (void)json_object_set_new(j, "delivery", r->dry ? json_null() : tb_json_text(r->ref[i]));
    (void)json_object_set_new(j, "supplier", tb_json_text(d->supplier));
    (void)json_object_set_new(j, "note", tb_json_text(d->note));
    (void)json_object_set_new(j, "note_day", *d->day ? tb_json_text(d->day) : json_null());
    (void)json_object_set_new(j, "order", tb_json_text(d->order));
    (void)json_object_set_new(j, "arrived", tb_json_text(r->arrived));
    (void)json_object_set_new(j, "remark", tb_json_text(r->remark));
    (void)json_object_set_new(j, "bolts", json_integer(d->bolts));
    (void)json_object_set_new(j, "metres", tb_json_number(d->metres));
    (void)json_object_set_new(j, "lots", lots);
    return j;
}

static json_t *json_columns(const struct tb_packing_list *l)
{
    json_t *list = json_array();

    for (size_t i = 0; i < l->columns; i++) {
        const struct tb_list_column *c = &l->column[i];
        json_t *j = json_object();

        (void)json_object_set_new(j, "sheet", tb_json_text(c->sheet));
        (void)json_object_set_new(j, "column", json_integer((json_int_t)c->column + 1));
        (void)json_object_set_new(j, "header", tb_json_text(c->header));
        (void)json_object_set_new(j, "field", c->field ? tb_json_text(tb_field_key(c->field)) : json_null());
        (void)json_object_set_new(j, "unit", c->unit ? tb_json_text(tb_unit_key(c->unit)) : json_null());
        (void)json_array_append_new(list, j);
    }
    return list;
}

static json_t *json_bad(const struct tb_packing_list *l)
{
    json_t *list = json_array();

    for (size_t i = 0; i < l->bads; i++) {
        const struct tb_bad *b = &l->bad[i];
        json_t *j = json_object();

        (void)json_object_set_new(j, "sheet", tb_json_text(b->sheet));
        (void)json_object_set_new(j, "line", json_integer((json_int_t)b->line));
        (void)json_object_set_new(
            j, "column", b->column == SIZE_MAX ? json_null() : json_integer((json_int_t)b->column + 1));
        (void)json_object_set_new(j, "header", tb_json_text(b->header));
        (void)json_object_set_new(j, "value", tb_json_text(b->value));
        (void)json_object_set_new(j, "why", tb_json_text(b->why));
        (void)json_array_append_new(list, j);
    }
    return list;
}

json_t *tb_receipt_json(const struct tb_receipt *r)
{
    json_t *j = json_object(), *deliveries = json_array(), *notes = json_array();

    for (size_t i = 0; r->list->bad_count == 0 && i < r->list->deliveries; i++)
        (void)json_array_append_new(deliveries, json_delivery(r, i));
    for (size_t i = 0; i < r->list->says; i++)
        (void)json_array_append_new(notes, tb_json_text(r->list->say[i]));
    (void)json_object_set_new(j, "file", tb_json_text(r->path));
    (void)json_object_set_new(j, "digest", tb_json_text(r->list->digest));
    (void)json_object_set_new(j, "stored", json_boolean(r->ref != NULL));
    (void)json_object_set_new(j, "deliveries", deliveries);
    (void)json_object_set_new(j, "columns", json_columns(r->list));
    (void)json_object_set_new(j, "notes", notes);
    (void)json_object_set_new(j, "bad", json_bad(r->list));
    (void)json_object_set_new(j, "bad_count", json_integer((json_int_t)r->list->bad_count));
    return j;
}
