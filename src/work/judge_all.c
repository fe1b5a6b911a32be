/* Every lot of which something was seen, weighed again: after settings changed, or more known cloth was burned. */
#include "work/judge_all.h"

#include "work/act.h"
#include "work/concern.h"

#include <stdlib.h>
#include <string.h>

/* A lot whose verdict is to be recorded. */
struct due {
    size_t at;  /* among those weighed */
    bool moved; /* somebody recorded something of it since it was weighed */
    bool keep;  /* it contradicts, and stays as a person settled it */
};

struct judging_all {
    struct tb_arena *mem;
    struct tb_evidence *ev;
    struct tb_weighed *one; /* lots of which something was seen; kept from plan to plan */
    size_t n, cap;
    struct due *due;
    size_t dues, dues_cap;
};

/* Lots that somebody burned or tested something of. */
static tb_rc take_seen(void *arg, const struct tb_lot *lot, struct tb_err *err)
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
    tb_weighed_free(w->one, w->n);
    tb_evidence_free(w->ev);
    free(w->due);
    *w = (struct judging_all){ .mem = w->mem };
}

static void count(struct tb_judge_all_outcome *out, const struct tb_verdict *v, int by)
{
    out->kind[v->kind] += (size_t)by;
    if (v->grade == TB_GRADE_SPEAKS_AGAINST)
        out->against += (size_t)by;
}

/* Count all; note those that are to be recorded. */
static tb_rc pick_due(struct judging_all *w, struct tb_job *j)
{
    struct tb_judge_all_outcome *out = j->out;

    for (size_t i = 0; i < w->n; i++) {
        struct tb_weighed *o = &w->one[i];
        struct tb_due due;
        tb_rc rc = tb_verdict_due(&due, j->b, &o->lot, &o->v, j->mem, j->err);

        if (rc != TB_OK)
            return rc;
        count(out, &o->v.verdict, 1);
        out->kept += due.keep;
        if (!due.record)
            continue;
        TB_PUSH_ROOM(w->due, w->dues, w->dues_cap);
        w->due[w->dues++] = (struct due){ .at = i, .keep = due.keep };
    }
    out->lots = w->n;
    j->idle = w->dues == 0;
    return TB_OK;
}

/* What was weighed for an earlier plan and still holds is not weighed again. */
static tb_rc plan(struct tb_job *j)
{
    struct judging_all *w = j->own;
    struct judging_all before = *w;
    struct tb_judge_all_outcome *out = j->out;
    tb_rc rc;

    *w = (struct judging_all){ .mem = w->mem };
    *out = (struct tb_judge_all_outcome){ 0 };
    j->subject = "all lots";
    if ((rc = tb_bench_model(&w->ev, j->b, j->err)) == TB_OK &&
        (rc = tb_lot_each(j->b, NULL, take_seen, w, j->err)) == TB_OK) {
        tb_weighed_carry(w->one, w->n, before.one, before.n);
        rc = tb_weigh_lots(w->one, w->n, j->b, w->ev, j->mem, j->err);
    }
    forget(&before);
    return rc == TB_OK ? pick_due(w, j) : rc;
}

/* A record of one lot does not make the work on ten thousand others worthless: that lot alone is looked at again. */
static bool concerns(struct tb_job *j, const struct tb_journal_row *row)
{
    struct judging_all *w = j->own;

    if (tb_row_concerns_all_judging(row))
        return true;
    for (size_t i = 0; i < w->dues; i++)
        w->due[i].moved |= tb_row_concerns_judging(row, w->one[w->due[i].at].ref);
    return false;
}

/* Others wait meanwhile, but for no more lots than they recorded something of since the plan. */
static tb_rc weigh_anew(struct tb_weighed *o, struct tb_job *j)
{
    const struct judging_all *w = j->own;
    struct tb_judge_all_outcome *out = j->out;
    tb_rc rc;

    count(out, &o->v.verdict, -1);
    if ((rc = tb_weigh_lots(o, 1, j->b, w->ev, j->mem, j->err)) != TB_OK)
        return rc;
    count(out, &o->v.verdict, 1);
    return TB_OK;
}

static tb_rc write(struct tb_job *j)
{
    struct judging_all *w = j->own;
    struct tb_judge_all_outcome *out = j->out;

    out->changed = tb_arena_alloc(j->mem, (w->dues + 1) * sizeof *out->changed);
    for (size_t i = 0; i < w->dues; i++) {
        struct tb_weighed *o = &w->one[w->due[i].at];
        struct tb_due due;
        tb_rc rc;

        if ((w->due[i].moved && (rc = weigh_anew(o, j)) != TB_OK) ||
            (rc = tb_verdict_record(&due, j->b, &o->lot, &o->v, j->mem, j->err)) != TB_OK)
            return rc;
        out->kept = out->kept - w->due[i].keep + due.keep;
        out->held += due.hold;
        if (due.record)
            out->changed[out->recorded++] = (struct tb_changed_lot){ o->ref,
                                                                     o->lot.verdict,
                                                                     o->v.verdict.kind,
                                                                     o->v.verdict.grade,
                                                                     due.hold,
                                                                     tb_confirming(&o->v, j->mem) };
    }
    return TB_OK;
}

tb_rc tb_act_judge_all(struct tb_judge_all_outcome *out, const struct tb_actor *actor, struct tb_arena *mem,
                       struct tb_err *err)
{
    static const struct tb_act act = {
        .verb = TB_VERB_JUDGE, .plan = plan, .write = write, .concerns = concerns, .again = 2
    };
    struct judging_all own = { .mem = mem };
    tb_rc rc;

    *out = (struct tb_judge_all_outcome){ 0 };
    rc = tb_act_do(&act, &(struct tb_job){ .out = out, .mem = mem, .own = &own }, actor, err);
    forget(&own);
    return rc;
}
