/*
 * draw.h - what the files of the command `draw` share: the plan asked for by options, and its curve.
 */
#ifndef TENTERBOOK_CLI_DRAW_H
#define TENTERBOOK_CLI_DRAW_H

#include "cli/show.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/outfile.h"

/* Reads the options that choose a plan; at most `bolts` of them may be false. */
tb_rc draw_options(struct tb_plan_wish *want, struct tb_ctx *ctx, long bolts, struct tb_err *err);

/* The file of --curve: begun before anything is recorded, so that a folder that is not there is told in time. */
tb_rc draw_curve_begin(struct tb_outset *files, const struct tb_ctx *ctx, struct tb_err *err);
/* The curve into it; nothing where it was not asked for. After a failure, rc, the file is thrown away. Answers rc. */
tb_rc draw_curve_end(struct tb_outset *files, tb_rc rc, const struct tb_plan *p, struct tb_err *err);

/* `draw --bolts N`: a plan for so many, or what their burns prove. No book is opened. */
tb_rc draw_plan_of_number(struct tb_ctx *ctx, struct tb_err *err);
tb_rc draw_proof_of_number(struct tb_ctx *ctx, struct tb_err *err);
/* `draw` with bolts of the book: a draw, --again, --proof. */
tb_rc draw_on_book(struct tb_ctx *ctx, struct tb_err *err);

#endif
