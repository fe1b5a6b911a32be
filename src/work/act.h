/* act.h - inside the module: how an act reads first, then writes under a short lock. */
#ifndef TENTERBOOK_WORK_ACT_H
#define TENTERBOOK_WORK_ACT_H

#include "tenterbook/act.h"

/*
 * An act in two halves. `plan` reads the book and computes all that takes time; `write` records what was planned.
 * Nobody else has to wait while an act plans: the lock is taken only to write. If somebody wrote in between
 * something that concerns the act, it plans again; after a few times it plans under the lock, so that it always
 * comes to an end.
 */
struct tb_act {
    const char *verb; /* the journal's word: "burn" */
    /*
     * Reads one steady state of the book. May run several times, so it begins afresh each time. Sets *write to false
     * where there is nothing to record; then the act ends without a lock. NULL: nothing is read beforehand.
     */
    tb_rc (*plan)(void *arg, bool *write, struct tb_book *b, struct tb_err *err);
    /* Whether a journal row written after the plan's reading makes the plan worthless. NULL: every row does. */
    bool (*concerns)(void *arg, const struct tb_journal_row *row);
    /* Between begin and commit. A failure takes everything back. */
    tb_rc (*write)(void *arg, struct tb_book *b, struct tb_err *err);
};

/*
 * tb_act_do - carry out an act: plan, take the lock, see that the plan still holds, write, commit.
 *
 *   arg    handed to the functions of the act
 *   fails  what they fail with; TB_EINVAL when nobody is named; TB_EBUSY when another writer did not finish in time
 */
tb_rc tb_act_do(const struct tb_act *act, void *arg, const struct tb_actor *actor, struct tb_err *err);

#endif
