/* named.h - inside the module: what a person typed, as the book writes it. */
#ifndef TENTERBOOK_BOOK_NAMED_H
#define TENTERBOOK_BOOK_NAMED_H

#include "tenterbook/named.h"

/*
 * tb_ref_as_written - a reference or tag as the book writes it: "w26-1.3" is W26-001.03. NULL where it is written so already, or is
 * no reference at all. In mem.
 */
const char *tb_ref_as_written(const char *typed, struct tb_arena *mem);

/* tb_person_known - as tb_person_find; whoever never wrote has the id "" and is called as `name` says. */
tb_rc tb_person_known(struct tb_person *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                      struct tb_err *err);

/*
 * tb_nearest_offer - to the refusal of a name that nothing has (TB_ENOTFOUND) the names are added that are written nearly so.
 *   about   of which kinds, separated by spaces: "delivery lot swatch bolt", or "person" or "supplier" alone
 *   lot_id  the bolts of this lot alone; NULL
 *   returns rc, and adds nothing to other failures
 */
tb_rc tb_nearest_offer(struct tb_book *b, const char *about, const char *lot_id, const char *typed, tb_rc rc,
                       struct tb_err *err);

#endif
