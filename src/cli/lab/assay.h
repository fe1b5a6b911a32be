/* assay.h - what the files of the assay command share. */
#ifndef TENTERBOOK_CLI_ASSAY_H
#define TENTERBOOK_CLI_ASSAY_H

#include "cli/show.h"
#include "tenterbook/act_lab.h"

/* assay_input.c: what the options say. Lists and a table are in ctx->mem. */
tb_rc assay_read(struct tb_assay_request *r, struct tb_ctx *ctx, struct tb_err *err);
/* assay_book.c: with a LOT, record a result, or list what was recorded. */
tb_rc assay_on_book(struct tb_ctx *ctx, struct tb_err *err);
/* assay_plan.c: which methods separate a mixture. */
tb_rc assay_plan(struct tb_ctx *ctx, const char *text, struct tb_err *err);
/* assay_standards.c: ways by published standards; number them from `first` on */
void assay_print_paths(FILE *out, const struct tb_lab_path *path, size_t n, size_t first);
json_t *assay_paths_json(const struct tb_lab_path *path, size_t n);
/* assay_print.c: all of it for a person */
void assay_print(FILE *out, const struct tb_assay *a);
/* assay_notes.c: the result beside the declaration, market by market */
void assay_print_conformity(FILE *out, const struct tb_assay *a);
/* and what a reader should know of it */
void assay_print_notes(FILE *out, const struct tb_assay *a);

#endif
