/* burn.h - inside the module: what one burn and a file of burns share. */
#ifndef TENTERBOOK_WORK_BURN_H
#define TENTERBOOK_WORK_BURN_H

#include "tenterbook/act_bench.h"
#include "work/act.h"

/*
 * What was observed as the record of a burn: fills looked, could_not, cue and cues, in mem.
 *   fails  TB_EINVAL: nothing looked at, or a bench test among the cues
 */
tb_rc tb_burn_observe(struct tb_burn *burn, const struct tb_observation *seen, struct tb_arena *mem,
                      struct tb_err *err);

/* tb_photos_check_new - TB_EINVAL where one photograph is given twice, TB_EEXISTS where one is among those kept already. */
tb_rc tb_photos_check_new(const struct tb_attachment *photo, size_t n, const struct tb_attachment *there,
                          size_t theres, struct tb_arena *mem, struct tb_err *err);

/* Whether the rows of a file (the request of the job) were recorded before. TB_EEXISTS, unless the request knows it. */
tb_rc tb_burn_file_check_new(struct tb_job *job);
/* Between begin and commit: keep that they were. */
tb_rc tb_burn_file_note(struct tb_job *job);

#endif
