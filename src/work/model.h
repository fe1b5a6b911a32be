/* model.h - inside the module: what a site's own records bring to the model besides its known cloth. */
#ifndef TENTERBOOK_WORK_MODEL_H
#define TENTERBOOK_WORK_MODEL_H

#include "tenterbook/work.h"

/*
 * Lots that a laboratory settled after their verdict, as they stood after a journal row, and how many lots were judged besides;
 * unit: the delivery. Into members settled, n_settled and judged of the settings; the list and its text are in mem.
 */
tb_rc tb_settled_read(struct tb_evidence_settings *out, struct tb_book *b, int64_t upto, struct tb_arena *mem,
                      struct tb_err *err);

/*
 * tb_bench_error_read - the chance of a mistake at the bench after a journal row: the published one, or what it and the
 * drills of the site say together once TB_DRILLED_LEAST burns of them count. Counted is a burn of a cloth of one fibre that
 * has a published profile; a mistake is one that contradicts that cloth by the published model of pure cloths.
 */
tb_rc tb_bench_error_read(double *chance, struct tb_drilled *out, struct tb_book *b, int64_t upto,
                          struct tb_arena *mem, struct tb_err *err);

/* The fibre of a known cloth, in the fibre table; -1 where it is not a single one. */
int tb_known_fibre(const char *known);

#endif
