/* amend_unit.h - inside the module: what a list's figures were, said to be of another unit than they were taken in. */
#ifndef TENTERBOOK_WORK_AMEND_UNIT_H
#define TENTERBOOK_WORK_AMEND_UNIT_H

#include "work/act.h"

#include "tenterbook/goods.h"
#include "tenterbook/void.h"

/* The amendment of the unit of one lot. */
struct tb_unit_change {
    const char *old, *new;     /* as the book keeps them: yd, m, or read (nothing is computed anew) */
    double metres_was, metres; /* of the lot until now, and then; NAN not known */
};
/*
 * tb_unit_change_of - what an amendment of the unit comes to for a lot. It goes by the figures as they were written, never by what
 * an earlier amendment made of them.
 *   asked  yd or m: what the figures are of; read: as they were read
 *   fails  TB_EREFUSED the lot was counted in kilograms, or its lengths were written in several units or in another one, or it is
 *          priced by another unit than it was measured in: such a delivery is received anew
 *   memory in the memory of the job
 */
tb_rc tb_unit_change_of(struct tb_unit_change *out, struct tb_job *j, const struct tb_lot *lot,
                        const char *asked);
/*
 * tb_said_as_amended - what bolts were written as ("100 yd"), in the unit that an amendment says the figures are of: without one where
 * they were metres.
 *   amendment  of the lot, in the order of the journal
 *   memory     new words are in `mem`
 */
void tb_said_as_amended(struct tb_bolt *bolt, size_t bolts, const struct tb_amendment *amendment,
                        size_t amendments, struct tb_arena *mem);

#endif
