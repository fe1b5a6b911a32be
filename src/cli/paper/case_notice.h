/* case_notice.h - case --notice. Internal. */
#ifndef TENTERBOOK_CLI_CASE_NOTICE_H
#define TENTERBOOK_CLI_CASE_NOTICE_H

#include "line/cmd.h"

/* tb_case_notice - write the notice that the command line asks for, and say what is late and what is missing. */
tb_rc tb_case_notice(struct tb_ctx *ctx, struct tb_err *err);

#endif
