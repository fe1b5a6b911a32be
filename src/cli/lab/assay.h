/* assay.h - what the files of the assay command share. */
#ifndef TENTERBOOK_CLI_ASSAY_H
#define TENTERBOOK_CLI_ASSAY_H

#include "cli/show.h"
#include "tenterbook/act_lab.h"

/* assay_input.c: what the options say. Lists and a table are in ctx->mem. */
tb_rc assay_read(struct tb_assay_request *r, struct tb_ctx *ctx, struct tb_err *err);
/* assay_book.c: with a LOT, record a result, or list what was recorded. */
tb_rc assay_on_book(struct tb_ctx *ctx, struct tb_err *err);
/* LOT --sent-to: swatches of it went to a laboratory. */
tb_rc assay_send(struct tb_ctx *ctx, struct tb_err *err);

#define ASSAY_CONDITION "--condition" /* how a fibre's condition is said, for tb_assay_words */

#endif
