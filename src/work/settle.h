/* settle.h - inside the module: what decisions about lots and about single bolts have in common. */
#ifndef TENTERBOOK_WORK_SETTLE_H
#define TENTERBOOK_WORK_SETTLE_H

#include "tenterbook/bench.h"
#include "tenterbook/book.h"
#include "tenterbook/dispute.h"
#include "work/act.h"

/* A standing, its reason, a moment that has passed. TB_EINVAL. */
tb_rc tb_settle_check(enum tb_standing_kind as, const char *why, const char *at, struct tb_err *err);
/* Whoever names a bolt, by which its lot was found, does not decide about the others unawares. TB_EINVAL. */
tb_rc tb_settle_check_named(struct tb_job *job, const char *name, const struct tb_lot *lot);
/* What was returned has to be waiting before anything else is decided of it. TB_EREFUSED. */
tb_rc tb_settle_check_back(enum tb_standing_kind as, const struct tb_lot *lot, struct tb_err *err);
/* The day on which the dispute that is open about a lot was opened, NULL: whoever lets goods go should know of it. */
tb_rc tb_settle_dispute(const char **opened, struct tb_job *job, const struct tb_lot *lot);
/*
 * A moment (NULL: now) of a decision: after the goods came, and after what it decides upon, the standing in force.
 *   fails  TB_EINVAL before the lot arrived; TB_EREFUSED before the standing, without `anyway`: that may have been typed up later
 */
tb_rc tb_settle_check_after(struct tb_job *job, const struct tb_lot *lot, const char *at, bool anyway);
/* What was decided of single bolts of the lot, is in force, and ends as the whole lot becomes this. A bolt that was returned is not
 * there, and stays so until the lot is waiting again. In mem of the job. */
tb_rc tb_settle_ended(struct tb_bolt_standing **out, size_t *n, struct tb_job *job, const struct tb_lot *lot,
                      enum tb_standing_kind as);
/* Of what goes back: the cuts into bolts of the lot that count. Of any other decision none. In mem of the job. */
tb_rc tb_settle_cut(struct tb_bolt_use **out, size_t *n, struct tb_job *job, const struct tb_lot *lot,
                    enum tb_standing_kind as);

#endif
