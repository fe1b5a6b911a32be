/* hold.h - inside the module: lots that a laboratory's result holds, as a verdict that contradicts does (verdict.h). */
#ifndef TENTERBOOK_WORK_HOLD_H
#define TENTERBOOK_WORK_HOLD_H

#include "tenterbook/analysis.h"
#include "work/act.h"

/*
 * tb_hold_by_laboratory - after x was recorded of the lot: it is held where it was waiting or released, x does not conform in a
 * market, and no other result outweighs that.
 *   held  whether it was
 *   lot   read again where it was
 */
tb_rc tb_hold_by_laboratory(bool *held, struct tb_job *j, struct tb_lot *lot, const struct tb_analysis *x);
/*
 * tb_hold_ends - after a result was corrected or voided: a lot that it held stands as it stood before, unless something else holds it.
 *   lifted  whether it is held no more
 */
tb_rc tb_hold_ends(bool *lifted, struct tb_job *j, struct tb_lot *lot);
/* tb_hold_again - after a result counts again: a lot that waits is held where it does not conform. */
tb_rc tb_hold_again(struct tb_job *j, struct tb_lot *lot);

#endif
