/* list.c - what a packing list holds: remarks, bad values, deliveries and lots found again, bolts by number. */
#include "intake/store.h"

#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

/* A file with a thousand oddities is not read by anybody; beyond the limit they are counted. */
void tb_list_say(struct tb_packing_list *l, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    if (l->says == TB_SAY_MOST) {
        l->says_left_out++;
        return;
    }
    va_start(ap, fmt);
    tb_text_vsay(&t, fmt, ap);
    va_end(ap);
    TB_PUSH_ROOM(l->say, l->says, l->store->say_cap);
    l->say[l->says++] = tb_store_keep(l->store, tb_text_str(&t), t.n);
    tb_text_free(&t);
}

/* Counted even where it is no longer kept, so that the sum is right. */
void tb_list_note_bad(struct tb_packing_list *l, const struct tb_bad *where, const char *why)
{
    struct tb_bad *b;

    l->bad_count++;
    if (l->bads == TB_BAD_MOST)
        return;
    if (!l->bad)
        l->bad = tb_array(struct tb_bad, TB_BAD_MOST);
    b = &l->bad[l->bads++];
    *b = *where;
    b->value = tb_store_brief(l->store, where->value);
    b->why = tb_store_keep(l->store, why, strlen(why));
}

/* From the end: rows of one delivery stand together. */
uint32_t tb_list_put_delivery(struct tb_packing_list *l, const char *supplier, const char *note)
{
    for (size_t i = l->deliveries; i > 0; i--)
        if (l->delivery[i - 1].supplier == supplier && l->delivery[i - 1].note == note)
            return (uint32_t)(i - 1);
    TB_PUSH_ROOM(l->delivery, l->deliveries, l->store->delivery_cap);
    l->delivery[l->deliveries] = (struct tb_list_delivery){ .supplier = supplier, .note = note, .order = "" };
    return (uint32_t)l->deliveries++;
}

/* Texts are interned, so their addresses stand for them. */
static uint64_t lot_hash(const struct tb_list_lot *k)
{
    uintptr_t part[5] = { k->delivery, (uintptr_t)k->article, (uintptr_t)k->shade, (uintptr_t)k->dye_lot,
                          (uintptr_t)k->declared };

    return tb_store_hash((const char *)part, sizeof part, 1);
}

static bool lot_same(const struct tb_list_lot *a, const struct tb_list_lot *b)
{
    return a->delivery == b->delivery && a->article == b->article && a->shade == b->shade &&
           a->dye_lot == b->dye_lot && a->declared == b->declared;
}

static size_t lot_slot(const struct tb_packing_list *l, const struct tb_list_lot *k)
{
    const struct tb_list_store *s = l->store;
    size_t at = lot_hash(k) & (s->lot_slots - 1);

    while (s->lot[at] != NONE && !lot_same(&l->lot[s->lot[at]], k))
        at = (at + 1) & (s->lot_slots - 1);
    return at;
}

static uint32_t *new_slots(size_t n)
{
    uint32_t *p = tb_realloc(NULL, n, sizeof *p);

    memset(p, 0xFF, n * sizeof *p);
    return p;
}

/* The table is made anew when it is half full, which keeps chains short. */
uint32_t tb_list_put_lot(struct tb_packing_list *l, const struct tb_list_lot *key)
{
    struct tb_list_store *s = l->store;
    size_t at;

    if (l->lots * 2 >= s->lot_slots) {
        s->lot_slots = s->lot_slots ? s->lot_slots * 2 : 64;
        free(s->lot);
        s->lot = new_slots(s->lot_slots);
        for (size_t i = 0; i < l->lots; i++)
            s->lot[lot_slot(l, &l->lot[i])] = (uint32_t)i;
    }
    at = lot_slot(l, key);
    if (s->lot[at] == NONE) {
        TB_PUSH_ROOM(l->lot, l->lots, s->lot_cap);
        l->lot[l->lots] = *key;
        s->lot[at] = (uint32_t)l->lots++;
    }
    return s->lot[at];
}

/* By the text: numbers are not interned, as hardly any repeats. */
static size_t bolt_slot(const struct tb_packing_list *l, uint32_t delivery, const char *number)
{
    const struct tb_list_store *s = l->store;
    size_t at = tb_store_hash(number, strlen(number), delivery + 2) & (s->bolt_slots - 1);

    while (s->bolt[at] != NONE) {
        const struct tb_list_bolt *b = &l->bolt[s->bolt[at]];

        if (l->lot[b->lot].delivery == delivery && strcmp(b->number, number) == 0)
            break;
        at = (at + 1) & (s->bolt_slots - 1);
    }
    return at;
}

size_t tb_list_find_bolt(const struct tb_packing_list *l, uint32_t delivery, const char *number)
{
    uint32_t i = l->bolts ? l->store->bolt[bolt_slot(l, delivery, number)] : NONE;

    return i == NONE ? SIZE_MAX : i;
}

/* The number is copied only when the bolt is new. */
size_t tb_list_put_bolt(struct tb_packing_list *l, uint32_t delivery, const struct tb_list_bolt *b)
{
    struct tb_list_store *s = l->store;
    size_t at;

    if (l->bolts * 2 >= s->bolt_slots) {
        s->bolt_slots = s->bolt_slots ? s->bolt_slots * 2 : 1024;
        free(s->bolt);
        s->bolt = new_slots(s->bolt_slots);
        for (size_t i = 0; i < l->bolts; i++)
            s->bolt[bolt_slot(l, l->lot[l->bolt[i].lot].delivery, l->bolt[i].number)] = (uint32_t)i;
    }
    at = bolt_slot(l, delivery, b->number);
    if (s->bolt[at] != NONE)
        return s->bolt[at];
    TB_PUSH_ROOM(l->bolt, l->bolts, s->bolt_cap);
    l->bolt[l->bolts] = *b;
    l->bolt[l->bolts].number = tb_store_keep(s, b->number, strlen(b->number));
    s->bolt[at] = (uint32_t)l->bolts++;
    return SIZE_MAX;
}

uint8_t tb_list_put_sheet(struct tb_packing_list *l, const char *name)
{
    for (size_t i = 0; i < l->sheets; i++)
        if (strcmp(l->sheet[i], name) == 0)
            return (uint8_t)(i < 255 ? i : 255);
    TB_PUSH_ROOM(l->sheet, l->sheets, l->store->sheet_cap);
    l->sheet[l->sheets++] = tb_store_text(l->store, name);
    return (uint8_t)(l->sheets - 1 < 255 ? l->sheets - 1 : 255);
}

void tb_list_put_column(struct tb_packing_list *l, const struct tb_list_column *c)
{
    TB_PUSH_ROOM(l->column, l->columns, l->store->column_cap);
    l->column[l->columns++] = *c;
}

void tb_packing_list_free(struct tb_packing_list *l)
{
    if (!l)
        return;
    free(l->delivery);
    free(l->lot);
    free(l->bolt);
    free(l->sheet);
    free(l->column);
    free(l->say);
    free(l->bad);
    free(l->question);
    tb_store_free(l->store);
    *l = (struct tb_packing_list){ 0 };
}
