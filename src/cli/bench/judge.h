/* judge.h - what the pieces of `judge` share. */
#ifndef TENTERBOOK_CLI_JUDGE_H
#define TENTERBOOK_CLI_JUDGE_H

#include "line/cmd.h"
#include "tenterbook/evidence.h"

/* The model as the options have it (--contradicts, --fits, --fibres), over the defaults. Free with tb_evidence_free. */
tb_rc tb_judge_model(struct tb_evidence **out, struct tb_ctx *ctx, struct tb_err *err);
/* judge --from FILE */
tb_rc tb_judge_table(struct tb_ctx *ctx, const char *path, struct tb_err *err);

#endif
