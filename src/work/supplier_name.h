/* supplier_name.h - inside the module: the name of a supplier as it was said, and who is meant. */
#ifndef TENTERBOOK_WORK_SUPPLIER_NAME_H
#define TENTERBOOK_WORK_SUPPLIER_NAME_H

#include "tenterbook/goods.h"

/*
 * tb_supplier_named - who is meant by a name, wherever it is said: on a list, or by whoever amends a delivery.
 *   out      id NULL: it is a new supplier
 *   seen     what was noticed of the name without being refused
 *   another  a person says that it is another supplier than the one whose name looks or is nearly the same
 *   fails    TB_EEXISTS it is new and looks like one in the book, written in other letters; TB_EREFUSED another is said of one who is in
 *            the book by this very name
 */
tb_rc tb_supplier_named(struct tb_supplier *out, struct tb_name_noticed *seen, struct tb_book *b,
                        const char *name, bool another, struct tb_arena *mem, struct tb_err *err);
/* tb_supplier_store - that supplier, recorded where it is new. After tb_supplier_named, between begin and commit. */
tb_rc tb_supplier_store(struct tb_supplier *out, struct tb_book *b, const char *name, bool another,
                        struct tb_arena *mem, struct tb_err *err);

/*
 * tb_note_taken - whether a supplier has a delivery with this note already, other than `except` (its id; NULL: any).
 *   there  that one, where it fails so; note "" is none
 *   fails  TB_EEXISTS it has
 */
tb_rc tb_note_taken(struct tb_delivery *there, struct tb_book *b, const char *supplier, const char *note,
                    const char *except, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_note_nearly_taken - the same of a note that is written nearly so: without zeros, case and signs, or, of the same day, with a word before
 * it or a number behind.
 *   except  reference of a delivery that is not meant; NULL: any
 */
tb_rc tb_note_nearly_taken(struct tb_delivery *there, struct tb_book *b, const char *supplier,
                           const char *note, const char *day, const char *except, struct tb_arena *mem,
                           struct tb_err *err);

#endif
