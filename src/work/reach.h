/* reach.h - inside the module: what a draw from a lot could show, for whoever plans before anybody draws. */
#ifndef TENTERBOOK_WORK_REACH_H
#define TENTERBOOK_WORK_REACH_H

#include "work/draw.h"

/* The model, and what it said of words that were asked about: it is asked once for the same words. Zeroed it is empty. */
struct tb_reach {
    struct tb_evidence *ev;
    struct tb_reached {
        const char *declared;
        struct tb_catch caught;
    } * said;
    size_t n, cap;
    struct tb_arena *mem;
};
/*
 * tb_reach_lot - the plan that a draw from so many bolts of a lot would have. Its words take a simulation, unless plan->want says
 * how well a burn shows a false bolt.
 *   plan    want is read; the rest is worked out. cut is -1: not even every bolt is enough, and a draw is refused
 *   fails   as tb_plan_work_out
 */
tb_rc tb_reach_lot(struct tb_plan *plan, struct tb_reach *r, struct tb_book *b, const struct tb_lot *lot,
                   long bolts, const struct tb_plan_wish *want, struct tb_err *err);
void tb_reach_free(struct tb_reach *r);

#endif
