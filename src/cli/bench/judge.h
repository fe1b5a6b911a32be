/* judge.h - what the pieces of `judge` share. */
#ifndef TENTERBOOK_CLI_JUDGE_H
#define TENTERBOOK_CLI_JUDGE_H

#include "cli/cmd.h"
#include "tenterbook/evidence.h"

/* Settings of the model from the options (--contradicts, --fits, --fibres), over the defaults or the book's. */
tb_rc tb_judge_settings(struct tb_evidence_settings *set, const struct tb_ctx *ctx, struct tb_err *err);
/* Judge the lot named by the first argument. Records the verdict where it changed; with --as-of ROW computes the
 * one of that journal row again and writes nothing. */
tb_rc tb_judge_lot(struct tb_ctx *ctx, struct tb_err *err);
/* judge --all: every lot that was burnt. Writes nothing where nothing changed. */
tb_rc tb_judge_all(struct tb_ctx *ctx, struct tb_err *err);
/* judge --from FILE */
tb_rc tb_judge_table(struct tb_ctx *ctx, const char *path, struct tb_err *err);

#endif
