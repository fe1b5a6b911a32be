/* case.h - the two things the command `case` writes. */
#ifndef TENTERBOOK_CLI_CASE_H
#define TENTERBOOK_CLI_CASE_H

#include "cli/show.h"

/* case LOT --notice */
tb_rc tb_case_notice(struct tb_ctx *ctx, struct tb_err *err);

#endif
