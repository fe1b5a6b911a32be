/* hold.c - lots that a laboratory's result holds, and that it holds no more. */
#include "work/hold.h"

#include "tenterbook/bench.h"
#include "tenterbook/concluded.h"
#include "tenterbook/dispute.h"
#include "tenterbook/standing.h"

#include <string.h>

/* By one laboratory at least the goods are not what was declared. */
static tb_rc speaks_against(bool *out, struct tb_job *j, const struct tb_lot *lot)
{
    struct tb_concluded c;
    tb_rc rc = tb_lot_concluded(&c, j->b, lot, j->mem, j->err);

    *out = rc == TB_OK && c.by == TB_BY_LABORATORY && (c.kind == TB_DOES_NOT || c.open == TB_OPEN_DISAGREE);
    return rc;
}

static tb_rc decide(struct tb_job *j, struct tb_lot *lot, enum tb_standing_kind as, enum tb_decided_by by)
{
    tb_rc rc =
        tb_standing_add(&(struct tb_standing){ .lot = lot->id, .standing = as, .why = tb_decision_why(by) },
                        j->b, j->mem, j->err);

    return rc == TB_OK ? tb_lot_find(lot, j->b, lot->ref, j->mem, j->err) : rc;
}

/* Whoever released the lot, or some bolts of it, did not know of what is new; whoever relabelled or returned it is done with it. */
tb_rc tb_hold_by_laboratory(bool *held, struct tb_job *j, struct tb_lot *lot, const struct tb_analysis *x)
{
    bool against = false;
    tb_rc rc = tb_lot_find(lot, j->b, lot->ref, j->mem, j->err); /* with what was just recorded */

    *held = false;
    if (rc != TB_OK)
        return rc;
    if (lot->standing != TB_WAITING && lot->standing != TB_RELEASED)
        return TB_OK;
    if (tb_analysis_against(x))
        rc = speaks_against(&against, j, lot);
    if (rc == TB_OK && against)
        rc = decide(j, lot, TB_HELD, TB_DECIDED_BY_LABORATORY);
    *held = rc == TB_OK && against;
    return rc;
}

/* The last decision that counts before a hold of a laboratory's result; none: the lot was waiting. */
static enum tb_standing_kind before_hold(const struct tb_standing *all, size_t n)
{
    while (n && (all[n - 1].gone || tb_decided_by(all[n - 1].why) == TB_DECIDED_BY_LABORATORY))
        n--;
    return n ? all[n - 1].standing : TB_WAITING;
}

tb_rc tb_hold_ends(bool *lifted, struct tb_job *j, struct tb_lot *lot)
{
    struct tb_standing *all;
    struct tb_dispute d;
    struct tb_concluded c;
    size_t n;
    tb_rc rc;

    *lifted = false;
    if ((rc = tb_lot_find(lot, j->b, lot->ref, j->mem, j->err)) != TB_OK || lot->standing != TB_HELD)
        return rc;
    if ((rc = tb_standing_list(&all, &n, j->b, lot->id, j->mem, j->err)) != TB_OK)
        return rc;
    while (n && all[n - 1].gone)
        n--;
    if (!n || tb_decided_by(all[n - 1].why) != TB_DECIDED_BY_LABORATORY ||
        (rc = tb_lot_concluded(&c, j->b, lot, j->mem, j->err)) != TB_OK || c.open == TB_OPEN_DISAGREE)
        return rc;
    if (c.kind == TB_DOES_NOT)
        return c.by == TB_BY_LABORATORY ? TB_OK : decide(j, lot, TB_HELD, TB_DECIDED_BY_VERDICT);
    rc = tb_dispute_now(&d, j->b, lot->id, j->mem, j->err);
    if (rc == TB_OK)
        return decide(j, lot, TB_HELD, TB_DECIDED_BY_OPEN_DISPUTE);
    if (rc != TB_ENOTFOUND)
        return rc;
    rc = decide(j, lot, before_hold(all, n), TB_DECIDED_BY_LIFTING);
    *lifted = rc == TB_OK && lot->standing != TB_HELD;
    return rc;
}

tb_rc tb_hold_again(struct tb_job *j, struct tb_lot *lot)
{
    bool against = false;
    tb_rc rc = lot->standing == TB_WAITING ? speaks_against(&against, j, lot) : TB_OK;

    return rc == TB_OK && against ? decide(j, lot, TB_HELD, TB_DECIDED_BY_LABORATORY) : rc;
}
