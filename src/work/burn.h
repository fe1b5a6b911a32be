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

/* Photographs to be kept with one record. */
struct tb_photos {
    const char *about; /* "burn" or "swatch" */
    const struct tb_attachment *photo;
    size_t n;
};
/*
 * tb_photos_check - can they be kept with it?
 *   subject  id of the record; NULL: it is not there yet, and has none
 *   fails    TB_EINVAL more than TB_PHOTOS_MOST with those it has, one given twice, one that is none; TB_EEXISTS one is kept already
 */
tb_rc tb_photos_check(const struct tb_photos *p, struct tb_job *job, const char *subject);
/* Between begin and commit: keep them. */
tb_rc tb_photos_add(const struct tb_photos *p, struct tb_job *job, const char *subject);

/* Between begin and commit: what is kept with one record is kept with the one in its place too. */
tb_rc tb_photos_copy(struct tb_job *job, const char *from, const char *to);

/* Whether the rows of a file (the request of the job) were recorded before. TB_EEXISTS, unless the request knows it. */
tb_rc tb_burn_file_check_new(struct tb_job *job);
/* Between begin and commit: keep that they were. */
tb_rc tb_burn_file_note(struct tb_job *job);

#endif
