/* The memory behind a packing list: texts kept once, deliveries and lots found again, bolts by number. */
#include "intake_in.h"

#include <libintl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK (1u << 20)
#define NONE UINT32_MAX

struct block {
    struct block *before;
    char bytes[];
};

struct tb_list_store {
    struct block *block;
    size_t used, room; /* of the current block */
    /* interned texts, open addressing */
    const char **text;
    size_t texts, text_slots;
    /* lots and bolts by hash, open addressing over indexes */
    uint32_t *lot, *bolt;
    size_t lot_slots, bolt_slots;
    size_t bolt_cap, lot_cap, delivery_cap, say_cap, sheet_cap, column_cap;
};

struct tb_list_store *store_new(void)
{
    return tb_new(struct tb_list_store);
}

void store_free(struct tb_list_store *s)
{
    if (!s)
        return;
    for (struct block *b = s->block, *before; b; b = before) {
        before = b->before;
        free(b);
    }
    free(s->text);
    free(s->lot);
    free(s->bolt);
    free(s);
}

const char *store_keep(struct tb_list_store *s, const char *text, size_t n)
{
    char *copy;

    if (n + 1 > s->room - s->used || !s->block) {
        size_t room = n + 1 > BLOCK ? n + 1 : BLOCK;
        struct block *b = tb_realloc(NULL, sizeof *b + room, 1);

        b->before = s->block;
        s->block = b;
        s->used = 0;
        s->room = room;
    }
    copy = s->block->bytes + s->used;
    memcpy(copy, text, n);
    copy[n] = '\0';
    s->used += n + 1;
    return copy;
}

static uint64_t hash_bytes(const char *s, size_t n, uint64_t seed)
{
    uint64_t h = seed ^ 1469598103934665603ull;

    for (size_t i = 0; i < n; i++)
        h = (h ^ (unsigned char)s[i]) * 1099511628211ull;
    return h ^ h >> 29;
}

static void grow_texts(struct tb_list_store *s)
{
    size_t slots = s->text_slots ? s->text_slots * 2 : 1024;
    const char **text = (const char **)tb_array(char *, slots);

    for (size_t i = 0; i < s->text_slots; i++) {
        size_t at;

        if (!s->text[i])
            continue;
        for (at = hash_bytes(s->text[i], strlen(s->text[i]), 0) & (slots - 1); text[at];
             at = (at + 1) & (slots - 1))
            ;
        text[at] = s->text[i];
    }
    free(s->text);
    s->text = text;
    s->text_slots = slots;
}

const char *store_intern(struct tb_list_store *s, const char *text, size_t n)
{
    size_t at;

    if (s->texts * 2 >= s->text_slots)
        grow_texts(s);
    for (at = hash_bytes(text, n, 0) & (s->text_slots - 1); s->text[at]; at = (at + 1) & (s->text_slots - 1))
        if (strncmp(s->text[at], text, n) == 0 && s->text[at][n] == '\0')
            return s->text[at];
    s->texts++;
    return s->text[at] = store_keep(s, text, n);
}

void list_say(struct tb_packing_list *l, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    if (l->says == TB_SAY_MOST) {
        l->says_left_out++;
        return;
    }
    va_start(ap, fmt);
    tb_text_vaddf(&t, dgettext("tenterbook", fmt), ap);
    va_end(ap);
    TB_PUSH_ROOM(l->say, l->says, l->store->say_cap);
    l->say[l->says++] = store_keep(l->store, tb_text_str(&t), t.n);
    tb_text_free(&t);
}

const char *store_brief(struct tb_list_store *s, const char *text)
{
    size_t n = 0, characters = 0;

    for (; text[n]; n++)
        if (((unsigned char)text[n] & 0xC0) != 0x80 && ++characters > 60)
            break;
    return text[n] ? store_keep(s, text, n) : store_intern(s, text, n);
}

void list_bad(struct tb_packing_list *l, const char *sheet, size_t line, size_t column, const char *header,
              const char *value, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    l->bad_count++;
    if (l->bads == TB_BAD_MOST)
        return;
    if (!l->bad)
        l->bad = tb_array(struct tb_bad, TB_BAD_MOST);
    va_start(ap, fmt);
    tb_text_vaddf(&t, dgettext("tenterbook", fmt), ap);
    va_end(ap);
    l->bad[l->bads++] = (struct tb_bad){ .sheet = sheet,
                                         .line = line,
                                         .column = column,
                                         .header = header ? header : "",
                                         .value = store_brief(l->store, value),
                                         .why = store_keep(l->store, tb_text_str(&t), t.n) };
    tb_text_free(&t);
}

uint32_t list_delivery(struct tb_packing_list *l, const char *supplier, const char *note)
{
    for (size_t i = l->deliveries; i > 0; i--)
        if (l->delivery[i - 1].supplier == supplier && l->delivery[i - 1].note == note)
            return (uint32_t)(i - 1);
    TB_PUSH_ROOM(l->delivery, l->deliveries, l->store->delivery_cap);
    l->delivery[l->deliveries] = (struct tb_list_delivery){ .supplier = supplier, .note = note, .order = "" };
    return (uint32_t)l->deliveries++;
}

static uint64_t lot_hash(const struct tb_list_lot *k)
{
    uintptr_t part[5] = { k->delivery, (uintptr_t)k->article, (uintptr_t)k->shade, (uintptr_t)k->dye_lot,
                          (uintptr_t)k->declared };

    return hash_bytes((const char *)part, sizeof part, 1);
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

uint32_t list_lot(struct tb_packing_list *l, const struct tb_list_lot *key)
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

static size_t bolt_slot(const struct tb_packing_list *l, uint32_t delivery, const char *number)
{
    const struct tb_list_store *s = l->store;
    size_t at = hash_bytes(number, strlen(number), delivery + 2) & (s->bolt_slots - 1);

    while (s->bolt[at] != NONE) {
        const struct tb_list_bolt *b = &l->bolt[s->bolt[at]];

        if (l->lot[b->lot].delivery == delivery && strcmp(b->number, number) == 0)
            break;
        at = (at + 1) & (s->bolt_slots - 1);
    }
    return at;
}

size_t list_bolt(struct tb_packing_list *l, uint32_t delivery, const struct tb_list_bolt *b)
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
    l->bolt[l->bolts].number = store_keep(s, b->number, strlen(b->number));
    s->bolt[at] = (uint32_t)l->bolts++;
    return SIZE_MAX;
}

uint8_t list_sheet(struct tb_packing_list *l, const char *name)
{
    for (size_t i = 0; i < l->sheets; i++)
        if (strcmp(l->sheet[i], name) == 0)
            return (uint8_t)(i < 255 ? i : 255);
    TB_PUSH_ROOM(l->sheet, l->sheets, l->store->sheet_cap);
    l->sheet[l->sheets++] = store_intern(l->store, name, strlen(name));
    return (uint8_t)(l->sheets - 1 < 255 ? l->sheets - 1 : 255);
}

void list_column(struct tb_packing_list *l, const struct tb_list_column *c)
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
    store_free(l->store);
    *l = (struct tb_packing_list){ 0 };
}
