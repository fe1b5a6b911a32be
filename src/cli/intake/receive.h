/* receive.h - what receive prints, kept apart from what it does. */
#ifndef TENTERBOOK_CLI_RECEIVE_H
#define TENTERBOOK_CLI_RECEIVE_H

#include "cli/show.h"
#include "tenterbook/act_intake.h"

/* What was taken in, or would be: columns (of a dry run), deliveries, lots, doubts and notes. */
void tb_receipt_print(FILE *out, const struct tb_receive_outcome *taken);
/* Every value that cannot be taken, one a line, on standard error. */
void tb_receipt_bad(struct tb_ctx *ctx, const char *path, const struct tb_packing_list *list);

#endif
