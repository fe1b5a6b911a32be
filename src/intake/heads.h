/* heads.h - inside the reading of labels and their values (heads.c): how one value is kept, and what else it may hold. */
#ifndef TENTERBOOK_INTAKE_HEADS_H
#define TENTERBOOK_INTAKE_HEADS_H

#include "intake/header.h"

#include "intake/written.h"

/* head_set.c: the field of a label of n bytes; of two orders the supplier's own is left out (TB_FIELD_IGNORE). */
enum tb_field tb_head_label(const struct tb_heads *h, const struct tb_header_words *w, const char *s,
                            size_t n);
/* Does it begin with a composition? NULL does not. */
bool tb_head_begins_with_share(const char *text);
/* n bytes of text count as the value of f, without what stands around them; a number or a day without a figure is none. */
void tb_head_set(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n);
/*
 * Is the value of that label a length that was ordered, and no number of an order: "Commandé | 90", "Commandé : 150,5 m"? A label that
 * can only name an order is not asked about.
 */
bool tb_head_is_quantity(const struct tb_header_words *w, const char *label, size_t label_n,
                         const char *value, size_t n);
/* n without the stop of a sentence at the end of n bytes of text; that of a word cut short stays. */
size_t tb_head_without_stop(const char *text, size_t n);
/* Is it a width or a mass of the cloth? */
bool tb_field_measured(enum tb_field f);
/* Of the value of f the first n bytes of `text` are left. */
void tb_head_cut(struct tb_heads *h, struct tb_list_store *s, enum tb_field f, const char *text, size_t n);

/*
 * head_note.c: "Note;000881" or "Note: 4711" in the cell *at of a row: the word stands over remarks too, a number alone tells. *at is then the
 * cell of the number.
 */
bool tb_head_note(struct tb_heads *h, struct tb_list_store *s, const struct tb_row *row, size_t *at);
/* n bytes of text with full-width figures, strokes and points made plain, ended by a NUL; how many bytes are in out. */
size_t tb_head_plain(char *out, size_t size, const char *text, size_t n);

/* head_colons.c: labels with colons inside one cell; how many values. *open: the last label where nothing follows it in the cell. */
size_t tb_head_colons(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                      const char *text, enum tb_field *open);

/* head_split.c: the composition behind a name, the dye lot behind a colour, measures behind that, the day behind the number of the note, a day in the row of that number. */
void tb_head_split_composition(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s);
void tb_head_split_lot(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s);
void tb_head_split_day(struct tb_heads *h, struct tb_list_store *s);
void tb_head_day_beside(struct tb_heads *h, struct tb_list_store *s, const struct tb_row *row);
/* "Friday, 11 September 2026": the day in what a label says. */
void tb_head_trim_day(struct tb_heads *h, struct tb_list_store *s);

#define TB_ORDER_DIGITS 3 /* "order 2 rolls" gives no number */
/* head_order.c: where no label gives the order, the number behind a word for it inside other words of the row. */
void tb_head_order(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                   const struct tb_row *row);

#endif
