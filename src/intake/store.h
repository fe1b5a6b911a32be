/* store.h - inside the packing-list reader: texts kept once, and the list that grows row by row. */
#ifndef TENTERBOOK_INTAKE_STORE_H
#define TENTERBOOK_INTAKE_STORE_H

#include "tenterbook/intake.h"

#include <string.h>

struct tb_list_store {
    struct tb_arena mem; /* a text stays where it is as long as the list */
    /* interned texts, open addressing */
    const char **text;
    size_t texts, text_slots;
    /* lots and bolts by hash, open addressing over indexes */
    uint32_t *lot, *bolt;
    size_t lot_slots, bolt_slots;
    size_t bolt_cap, lot_cap, delivery_cap, say_cap, sheet_cap, column_cap;
};

/* An empty store; free with tb_store_free, which accepts NULL. */
struct tb_list_store *tb_store_new(void);
/* NULL is accepted. */
void tb_store_free(struct tb_list_store *s);
/* A copy of n bytes, NUL-terminated. */
const char *tb_store_keep(struct tb_list_store *s, const char *text, size_t n);
/* The one copy of a text: equal texts have equal pointers. */
const char *tb_store_intern(struct tb_list_store *s, const char *text, size_t n);
/* The same of a whole text. */
static inline const char *tb_store_text(struct tb_list_store *s, const char *text)
{
    return tb_store_intern(s, text, strlen(text));
}
/* The same of what printf would print. */
const char *tb_store_internf(struct tb_list_store *s, const char *fmt, ...) TB_PRINTF(2, 3);
/* At most 60 characters of a text, never half of one: for sentences. */
const char *tb_store_brief(struct tb_list_store *s, const char *text);
/* A hash of n bytes (FNV-1a, its bits mixed once more), different for each seed. */
uint64_t tb_store_hash(const char *bytes, size_t n, uint64_t seed);

/* list.c: a remark for the person who receives; the format is looked up in the message catalogue. */
void tb_list_say(struct tb_packing_list *l, const char *fmt, ...) TB_PRINTF(2, 3);
/* A bad value: sheet, line, column, header and value of `where`, and the sentence `why`, which is copied. */
void tb_list_note_bad(struct tb_packing_list *l, const struct tb_bad *where, const char *why);
/*
 * ask.c: something the file leaves open. The sentence is looked up in the catalogue; answers, the likely one first, are
 * added with tb_list_answer. NULL: there are too many already, and the question is only counted.
 */
struct tb_question *tb_list_ask(struct tb_packing_list *l, size_t line, const char *fmt, ...) TB_PRINTF(3, 4);
/* Takes back the questions after the first n. */
void tb_list_unask(struct tb_packing_list *l, size_t n);
/* One more answer of a question; NULL is accepted. The texts are copied. */
void tb_list_answer(struct tb_packing_list *l, struct tb_question *q, const char *option, const char *value);
/* Is it an answer to what was asked already that the column of that header means something? */
bool tb_list_asked_of(const struct tb_packing_list *l, const char *header);
/* Was it asked already, with this first answer; NULL: with any answer of that option? */
bool tb_list_asked(const struct tb_packing_list *l, const char *option, const char *value);
/* Numbers of what is found or made; supplier, note and the texts of a lot are interned. */
uint32_t tb_list_put_delivery(struct tb_packing_list *l, const char *supplier, const char *note);
/* The lot that agrees in delivery, article, shade, dye lot and declared words. */
uint32_t tb_list_put_lot(struct tb_packing_list *l, const struct tb_list_lot *key);
/* SIZE_MAX when the number is new in its delivery, and the bolt is taken; else the bolt that has it. */
size_t tb_list_put_bolt(struct tb_packing_list *l, uint32_t delivery, const struct tb_list_bolt *b);
/* The bolt of that number in its delivery; SIZE_MAX: there is none. */
size_t tb_list_find_bolt(const struct tb_packing_list *l, uint32_t delivery, const char *number);
/* The number of a sheet by its name, at most 255. */
uint8_t tb_list_put_sheet(struct tb_packing_list *l, const char *name);
/* One more column as it was understood. */
void tb_list_put_column(struct tb_packing_list *l, const struct tb_list_column *c);

#endif
