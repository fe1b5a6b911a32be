/* What a draw from a lot could show: the chance of its own words, as the draw itself takes it, and the plan that follows. */
#include "work/reach.h"

#include "tenterbook/work.h"

#include <string.h>

static tb_rc caught_of(double *out, struct tb_reach *r, struct tb_book *b, const struct tb_lot *lot,
                       struct tb_err *err)
{
    struct tb_catch caught;
    tb_rc rc = r->ev ? TB_OK : tb_bench_model(&r->ev, b, err);

    for (size_t i = 0; i < r->n; i++)
        if (strcmp(r->said[i].declared, lot->declared) == 0) {
            *out = r->said[i].caught.one;
            return TB_OK;
        }
    if (rc != TB_OK || (rc = tb_catch_lot(&caught, r->ev, lot, NULL, r->mem, err)) != TB_OK)
        return rc;
    TB_ARENA_ROOM(r->mem, r->said, r->n, r->cap);
    r->said[r->n++] = (struct tb_reached){ tb_arena_strdup(r->mem, lot->declared), caught };
    *out = caught.one;
    return TB_OK;
}

tb_rc tb_reach_lot(struct tb_plan *plan, struct tb_reach *r, struct tb_book *b, const struct tb_lot *lot,
                   long bolts, const struct tb_plan_wish *want, struct tb_err *err)
{
    tb_rc rc;

    *plan = (struct tb_plan){ .want = *want, .bolts = bolts };
    if (!(want->catch_one > 0) && (rc = caught_of(&plan->want.catch_one, r, b, lot, err)) != TB_OK)
        return rc;
    return tb_plan_work_out(plan, err);
}

void tb_reach_free(struct tb_reach *r)
{
    tb_evidence_free(r->ev);
    *r = (struct tb_reach){ 0 };
}
