/* Every burnt lot weighed again: after settings changed, or more known cloth was burned. */
#include "work/judge_all.h"

#include "work/act.h"

#include <stdlib.h>
#include <string.h>

struct judging_all {
    struct tb_arena *mem;
    struct tb_weighed *one; /* those whose verdict is to be recorded come first */
    size_t n, cap, due;
    bool *moved; /* of those: somebody recorded something of the lot since it was weighed */
};

/* Lots that somebody burned something of. */
static tb_rc take_burnt(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct judging_all *w = arg;

    (void)err;
    if (lot->bolts_burnt == 0 && lot->verdict == TB_UNJUDGED)
        return TB_OK;
    TB_PUSH_ROOM(w->one, w->n, w->cap);
    w->one[w->n++] = (struct tb_weighed){ .ref = tb_arena_strdup(w->mem, lot->ref) };
    return TB_OK;
}

static void forget(struct judging_all *w)
{
    for (size_t i = 0; i < w->n; i++)
        tb_lot_verdict_free(&w->one[i].v);
    free(w->one);
    w->one = NULL;
    w->n = w->cap = w->due = 0;
}

/* Count all; keep those that are to be recorded in front, and let go of the rest. */
static tb_rc pick_due(struct judging_all *w, struct tb_job *j)
{
    struct tb_judge_all_outcome *out = j->out;

    for (size_t i = 0; i < w->n; i++) {
        struct tb_weighed *o = &w->one[i];
        struct tb_due due;
        tb_rc rc = tb_verdict_due(&due, j->b, &o->lot, &o->v, j->mem, j->err);

        if (rc != TB_OK)
            return rc;
        out->kind[o->v.verdict.kind]++;
        out->kept += due.keep;
        if (!due.record) {
            tb_lot_verdict_free(&o->v);
        } else if (i != w->due) {
            w->one[w->due++] = *o;
            o->v = (struct tb_lot_verdict){ 0 };
        } else {
            w->due++;
        }
    }
    out->lots = w->n;
    w->moved = tb_arena_alloc(j->mem, w->due + 1);
    j->idle = w->due == 0;
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    struct judging_all *w = j->own;
    struct tb_judge_all_outcome *out = j->out;
    struct tb_evidence *ev = NULL;
    tb_rc rc;

    forget(w);
    *out = (struct tb_judge_all_outcome){ 0 };
    j->subject = "all lots";
    if ((rc = tb_bench_model(&ev, j->b, j->err)) == TB_OK &&
        (rc = tb_lot_each(j->b, NULL, take_burnt, w, j->err)) == TB_OK &&
        (rc = tb_weigh_lots(w->one, w->n, j->b, ev, j->mem, j->err)) == TB_OK)
        rc = pick_due(w, j);
    tb_evidence_free(ev);
    return rc;
}

/*
 * A record of one lot does not make the work on ten thousand others worthless: who recorded it judged that lot with it,
 * and it is left alone here.
 */
static bool concerns(struct tb_job *j, const struct tb_journal_row *row)
{
    struct judging_all *w = j->own;

    if (tb_row_concerns_all_lots(row))
        return true;
    for (size_t i = 0; i < w->due; i++)
        w->moved[i] |= tb_row_concerns_lot(row, w->one[i].ref);
    return false;
}

static tb_rc write(struct tb_job *j)
{
    struct judging_all *w = j->own;
    struct tb_judge_all_outcome *out = j->out;
    tb_rc rc = TB_OK;

    out->changed = tb_arena_alloc(j->mem, (w->due + 1) * sizeof *out->changed);
    for (size_t i = 0; i < w->due && rc == TB_OK; i++) {
        const struct tb_weighed *o = &w->one[i];
        bool recorded = false, held = false;

        if (w->moved[i])
            continue;
        rc = tb_bench_record(&recorded, &held, j->b, &o->lot, &o->v, j->err);
        if (rc == TB_OK && recorded)
            out->changed[out->recorded++] =
                (struct tb_changed_lot){ o->ref, o->lot.verdict, o->v.verdict.kind, held };
        out->held += held;
    }
    return rc;
}

tb_rc tb_act_judge_all(struct tb_judge_all_outcome *out, const struct tb_actor *actor, struct tb_arena *mem,
                       struct tb_err *err)
{
    static const struct tb_act act = { "judge", plan, write, concerns, NULL };
    struct judging_all own = { .mem = mem };
    tb_rc rc;

    *out = (struct tb_judge_all_outcome){ 0 };
    rc = tb_act_do(&act, &(struct tb_job){ .out = out, .mem = mem, .own = &own }, actor, err);
    forget(&own);
    return rc;
}
