/* burn.h - what the files of the command `burn` share. */
#ifndef TENTERBOOK_CLI_BURN_H
#define TENTERBOOK_CLI_BURN_H

#include "cli/cmd.h"

/* Record every burn of a file, and say what became of the lots it touched. */
tb_rc tb_burn_from(struct tb_ctx *ctx, const char *path, struct tb_arena *mem, struct tb_err *err);

#endif
