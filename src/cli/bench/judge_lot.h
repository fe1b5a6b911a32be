/* judge_lot.h - `judge LOT`: the verdict on a lot of the book. */
#ifndef TENTERBOOK_CLI_JUDGE_LOT_H
#define TENTERBOOK_CLI_JUDGE_LOT_H

#include "cli/cmd.h"

/* Judge the lot named by the first argument. Records the verdict where it changed; with --as-of ROW computes the
 * one of that journal row again and writes nothing. */
tb_rc tb_judge_lot(struct tb_ctx *ctx, struct tb_err *err);

#endif
