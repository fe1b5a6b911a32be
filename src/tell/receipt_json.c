/* What was taken in, or would be, for programs. */
#include "tenterbook/tell.h"

#include "tenterbook/fibre.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* The doubts are those of the words alone: what the site answered later is not in a receipt. */
static json_t *json_declared(const char *text)
{
    struct tb_declaration d = { 0 };
    struct tb_text reading = { 0 };
    json_t *j, *doubts = json_array();

    tb_declaration_read(&d, text, strlen(text));
    tb_declaration_print(&reading, &d);
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

/* Metres that nobody knows are null, not a figure. What was counted in kilograms says so. */
static void put_amount(json_t *j, const struct tb_lengths *l)
{
    tb_json_put(j, "bolts", json_integer((json_int_t)l->bolts));
    tb_json_put(j, "metres", tb_json_number(l->unknown == l->bolts && l->bolts ? (double)NAN : l->metres));
    if (l->weighed) {
        tb_json_put(j, "weight_kg", tb_json_number(l->weight_kg));
        tb_json_put(j, "bolts_weighed", json_integer((json_int_t)l->weighed));
    }
    if (!(l->kg > 0))
        return;
    tb_json_put(j, "kg", tb_json_number(l->kg));
    tb_json_put(j, "bolts_with_derived_length", json_integer((json_int_t)l->derived));
    tb_json_put(j, "bolts_without_length", json_integer((json_int_t)l->unknown));
}

static json_t *json_lot(const struct tb_receive_outcome *r, size_t i)
{
    const struct tb_list_lot *o = &r->list.lot[i];
    json_t *j = json_pack("{s:o}", "lot", tb_json_text(r->lot ? r->lot[i] : NULL));

    tb_json_add(j, goods_members, TB_COUNT(goods_members), o);
    tb_json_put(j, "unit_price", tb_json_price(tb_price_per_metre(o)));
    tb_json_put(j, "currency", tb_json_text(o->currency));
    tb_json_put(j, "declared", json_declared(o->declared));
    put_amount(j, &(struct tb_lengths){ o->metres, o->kg, o->bolts, o->derived, o->unknown, false,
                                        o->weight_kg, o->weighed });
    return j;
}

static json_t *json_delivery(const struct tb_receive_outcome *r, size_t i)
{
    const struct tb_list_delivery *d = &r->list.delivery[i];
    json_t *lots = json_array();

    for (size_t k = 0; k < r->list.lots; k++)
        if (r->list.lot[k].delivery == i)
            tb_json_push(lots, json_lot(r, k));
    json_t *j = json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "delivery",
                          tb_json_text(r->delivery ? r->delivery[i] : NULL), "supplier",
                          tb_json_text(d->supplier), "note", tb_json_text(d->note), "note_day",
                          tb_json_some(d->day), "order", tb_json_text(d->order), "arrived",
                          tb_json_text(r->arrived), "remark", tb_json_text(r->remark));

    put_amount(j, &(struct tb_lengths){ d->metres, d->kg, d->bolts, d->derived, d->unknown, false,
                                        d->weight_kg, d->weighed });
    tb_json_put(j, "lots", lots);
    return j;
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

/* Places count from 1, as a spreadsheet shows them; a row refused as a whole has no column. */
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

/* Everything that is left open, the likely answer first. */
static json_t *json_questions(const struct tb_packing_list *l)
{
    json_t *list = json_array();

    for (size_t i = 0; i < l->questions; i++) {
        const struct tb_question *q = &l->question[i];
        json_t *answers = json_array();

        for (size_t k = 0; k < q->answers; k++)
            tb_json_push(answers, json_pack("{s:o, s:o}", "option", tb_json_text(q->answer[k].option),
                                            "value", tb_json_text(q->answer[k].value)));
        tb_json_push(list, json_pack("{s:I, s:o, s:o, s:b, s:b}", "line", (json_int_t)q->line, "ask",
                                     tb_json_text(q->ask), "answers", answers, "any_text", q->proposed,
                                     "none_likely", q->open));
    }
    return list;
}

/* What of the book the list is like. */
static json_t *json_twin(const struct tb_receive_twin *t)
{
    return json_pack("{s:s, s:s, s:s, s:I, s:I, s:f, s:I, s:I, s:I}", "delivery", t->there.ref, "note",
                     t->there.note, "arrived", t->there.arrived, "lots", (json_int_t)t->lots, "bolts",
                     (json_int_t)t->bolts, "metres", t->metres, "bolts_without_length",
                     (json_int_t)t->unknown, "same_bolts", (json_int_t)t->same, "looked_at",
                     (json_int_t)t->looked);
}

json_t *tb_json_receipt(const char *path, const struct tb_receive_outcome *r)
{
    const struct tb_packing_list *l = &r->list;
    json_t *deliveries = json_array(), *notes = json_array();

    for (size_t i = 0; l->bad_count == 0 && l->question_count == 0 && i < l->deliveries; i++)
        tb_json_push(deliveries, json_delivery(r, i));
    for (size_t i = 0; i < l->says; i++)
        tb_json_push(notes, tb_json_text(l->say[i]));
    json_t *twin = r->twin.there.ref ? json_twin(&r->twin) : NULL;

    return json_pack("{s:o, s:s, s:b, s:o, s:o, s:o, s:o, s:o, s:I, s:o*, s:s*, s:s*}", "file",
                     tb_json_text(path), "digest", l->digest, "stored", r->delivery != NULL, "deliveries",
                     deliveries, "columns", json_columns(l), "notes", notes, "questions", json_questions(l),
                     "bad", json_bad(l), "bad_count", (json_int_t)l->bad_count, "twin", twin, "near_supplier",
                     r->seen.near, "taken_for", r->seen.taken_as);
}
