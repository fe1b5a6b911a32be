/* receive.h - inside the module: a packing list that was read goes into the book. */
#ifndef TENTERBOOK_WORK_RECEIVE_H
#define TENTERBOOK_WORK_RECEIVE_H

#include "tenterbook/act_intake.h"

/* What the file is called: its path, or the name it was sent under. */
const char *tb_receive_name(const struct tb_receive_request *request);

/*
 * Whether the book has what the list brings, in other bytes, or a supplier whose name looks like one of the list. After the list was
 * read, and under the lock or in a look at the book.
 *   fails  TB_EEXISTS, and out->twin tells what it is like
 */
tb_rc tb_receive_twice(struct tb_receive_outcome *out, struct tb_book *b,
                       const struct tb_receive_request *request, struct tb_arena *mem, struct tb_err *err);

/* Was it said that the goods come again, and why? One or two letters are no reason. */
bool tb_receive_explained(const struct tb_receive_request *request);
/* The delivery of the book that a list is like, with the sums of its goods; the list itself is still to be put beside it. */
tb_rc tb_receive_beside(struct tb_receive_twin *twin, struct tb_book *b, const char *ref,
                        struct tb_arena *mem, struct tb_err *err);

/* Writes deliveries, lots and bolts of out->list and fills in their references. Between begin and commit. */
tb_rc tb_receive_store(struct tb_receive_outcome *out, struct tb_book *b,
                       const struct tb_receive_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
