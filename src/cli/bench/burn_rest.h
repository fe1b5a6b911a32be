/* burn_rest.h - what a correction says nothing of, while the record it corrects does. */
#ifndef TENTERBOOK_CLI_BENCH_BURN_REST_H
#define TENTERBOOK_CLI_BENCH_BURN_REST_H

#include "cli/show.h"

/*
 * The options --rest (it stays) and --afresh (it goes) decide of the channels that only the record speaks of. Without either nothing is
 * dropped or kept by silence: what the record says of them is named and asked about.
 *   seen   what the correction says; with --rest the rest of the record is added
 *   fails  TB_EINVAL neither is said, or both; TB_ENOTFOUND no such burn
 */
tb_rc tb_burn_rest(struct tb_observation *seen, struct tb_ctx *ctx, struct tb_err *err);

#endif
