/* burn_ask.h - a burn asked for at a terminal, one key a cue. */
#ifndef TENTERBOOK_CLI_BENCH_BURN_ASK_H
#define TENTERBOOK_CLI_BENCH_BURN_ASK_H

#include "cli/show.h"

/*
 * What was seen of a swatch. Cautions that this run has not shown yet come first.
 *   like   id of a burn to begin with; NULL: none
 *   fails  as tb_burn_guide_read; TB_EINVAL the person left, or what was marked cannot be
 */
tb_rc tb_burn_ask(struct tb_observation *seen, struct tb_ctx *ctx, const char *swatch, const char *like,
                  struct tb_err *err);

#endif
