/* burn.h - inside the module: what one burn and a file of burns share. */
#ifndef TENTERBOOK_WORK_BURN_H
#define TENTERBOOK_WORK_BURN_H

#include "tenterbook/book.h"
#include "tenterbook/evidence.h"

/*
 * What was observed as the record of a burn: fills looked, cue and cues, in mem.
 *   fails  TB_EINVAL: nothing looked at, or a bench test among the cues
 */
tb_rc tb_burn_observe(struct tb_burn *burn, const struct tb_observation *seen, struct tb_arena *mem,
                      struct tb_err *err);

#endif
