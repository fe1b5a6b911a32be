/* prove.h - the two proofs: of the book, and of a case file. */
#ifndef TENTERBOOK_CLI_PROVE_H
#define TENTERBOOK_CLI_PROVE_H

#include "cli/cmd.h"

/* prove --case: the file at `path`, and the book of --against beside it where one is named. */
tb_rc tb_prove_case(struct tb_ctx *ctx, const char *path, struct tb_err *err);

#endif
