/* receive.h - what receive prints, kept apart from what it does. */
#ifndef TENTERBOOK_CLI_RECEIVE_H
#define TENTERBOOK_CLI_RECEIVE_H

#include "cli/show.h"
#include "tenterbook/act_intake.h"

/* What was taken in, or would be: columns (of a dry run), deliveries, lots, doubts and notes. */
void tb_receipt_print(FILE *out, const struct tb_receive_outcome *taken);
/* Every value that cannot be taken, one a line, on standard error. */
void tb_receipt_bad(struct tb_ctx *ctx, const char *path, const struct tb_packing_list *list);

/* What the likely answers would take in: deliveries, lots, metres and totals. */
void tb_receipt_preview(FILE *out, const struct tb_receive_outcome *would);

/* Everything a list leaves open, each with its likely answer, and one command line that gives them all; on standard error. */
void tb_receive_open(struct tb_ctx *ctx, const char *path, const struct tb_packing_list *list);
/*
 * One list, with what is said of it: read, asked about where a person can be asked, stored, and what came of it printed or,
 * as JSON, added to files.
 *   path    how it is called
 */
tb_rc tb_receive_list(struct tb_ctx *ctx, const struct tb_receive_request *said, const char *path,
                      json_t *files, struct tb_err *err);
/* receive --by-hand: typed first, then as any list. What was typed and not taken in is kept where that was said. */
tb_rc tb_receive_by_hand(struct tb_ctx *ctx, const struct tb_receive_request *said, struct tb_err *err);
/* All of standard input, as pasted or piped; from a terminal up to its end, after which it can be read on. */
tb_rc tb_receive_standard(struct tb_text *bytes, struct tb_err *err);
/* Is there a person at a terminal to ask? */
bool tb_receive_at_terminal(const struct tb_ctx *ctx);
/*
 * Ask that person what the list leaves open and, unless it is a dry run, whether it is to be taken in. The answers go into
 * the request. TB_EINVAL: they went away, or left the list; or the list cannot be taken.
 */
tb_rc tb_receive_converse(struct tb_ctx *ctx, struct tb_receive_request *request, struct tb_err *err);

/* On standard error: the delivery of the book that the list is like, beside that of the list; nothing where there is none. */
void tb_receipt_twin(struct tb_ctx *ctx, const struct tb_receive_twin *twin);

#endif
