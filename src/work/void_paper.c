/* What was on paper and is void, or counts again: what a laboratory reported, and a step of a dispute. No burn is weighed anew. */
#include "work/void.h"

#include "tenterbook/concluded.h"
#include "tenterbook/dispute.h"
#include "work/hold.h"

#include <string.h>

bool tb_void_is_paper(const char *about)
{
    return strcmp(about, "analysis") == 0 || strcmp(about, "dispute_step") == 0 ||
           strcmp(about, "sending") == 0;
}

/* A dispute is told step by step: only the last that counts, of the last dispute, can go without making the others untrue. */
tb_rc tb_void_check_last(const char **later, struct tb_book *b, const struct tb_void_subject *s,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_dispute *d;
    size_t n;
    tb_rc rc;

    *later = NULL;
    if (strcmp(s->about, "dispute_step") != 0)
        return TB_OK;
    if ((rc = tb_dispute_list(&d, &n, b, s->lot, mem, err)) != TB_OK || n == 0)
        return rc;
    if (strcmp(d[n - 1].step[d[n - 1].steps - 1].id, s->id) != 0)
        *later = d[n - 1].step[d[n - 1].steps - 1].id;
    return TB_OK;
}

/* Nobody answers, and nothing is agreed, before the supplier was told. */
tb_rc tb_void_check_turn(struct tb_book *b, const struct tb_void_subject *s, struct tb_arena *mem,
                         struct tb_err *err)
{
    const struct tb_dispute_step *step;
    struct tb_dispute *d;
    const char *later;
    size_t n;
    tb_rc rc = tb_void_check_last(&later, b, s, mem, err);

    if (rc == TB_OK && later)
        rc =
            tb_fail(err, TB_EREFUSED, "the dispute went on without it, with %s: record the step anew", later);
    if (rc != TB_OK || strcmp(s->about, "dispute_step") != 0 ||
        (rc = tb_dispute_list(&d, &n, b, s->lot, mem, err)) != TB_OK)
        return rc;
    step = &d[n - 1].step[d[n - 1].steps - 1];
    if ((step->step == TB_ANSWERED || step->step == TB_AGREED) && !tb_dispute_last(&d[n - 1], TB_NOTIFIED))
        rc = tb_fail(err, TB_EREFUSED, "the notice before it is void: that comes first");
    return rc;
}

tb_rc tb_void_paper_after(struct tb_void_lot *out, struct tb_job *j, const char *lot_ref,
                          enum tb_standing_kind was)
{
    struct tb_lot *lot = &out->judged.lot;
    bool lifted = false;
    tb_rc rc = tb_lot_find(lot, j->b, lot_ref, j->mem, j->err);

    out->paper = out->bare = true;
    out->undisputed = rc == TB_OK && was == TB_HELD && lot->standing != TB_HELD;
    if (rc == TB_OK)
        rc = was == TB_STANDING_NONE ? tb_hold_again(j, lot) : tb_hold_ends(&lifted, j, lot);
    out->judged.lifted = lifted;
    return rc == TB_OK ? tb_lot_concluded(&out->concluded, j->b, lot, j->mem, j->err) : rc;
}
