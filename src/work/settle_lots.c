/* What becomes of several lots at once, of whole deliveries too: all of them or none. */
#include "base/say.h"
#include "work/settle.h"
#include "work/verdict.h"

#include <string.h>

struct gathering {
    struct tb_job *job;
    const char **ref; /* of the lots named, each once */
    size_t n, cap;
};

static tb_rc add(struct gathering *g, const char *ref)
{
    for (size_t i = 0; i < g->n; i++)
        if (strcmp(g->ref[i], ref) == 0)
            return tb_fail(g->job->err, TB_EEXISTS, "lot %s is named twice", ref);
    TB_ARENA_ROOM(g->job->mem, g->ref, g->n, g->cap);
    g->ref[g->n++] = tb_arena_strdup(g->job->mem, ref);
    return TB_OK;
}

static tb_rc take_lot(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    (void)err;
    return add(arg, lot->ref);
}

/* A delivery stands for all its lots. */
static tb_rc gather(struct gathering *g, const char *name)
{
    struct tb_job *j = g->job;
    struct tb_delivery d;
    struct tb_lot lot;
    struct tb_err none = { 0 };
    tb_rc rc = tb_delivery_find(&d, j->b, name, j->mem, &none);

    if (rc == TB_OK)
        return tb_lot_each(j->b, &(struct tb_lot_filter){ .delivery = d.id }, take_lot, g, j->err);
    if ((rc = tb_lot_find(&lot, j->b, name, j->mem, j->err)) == TB_OK)
        rc = tb_settle_check_named(j, name, &lot);
    return rc == TB_OK ? add(g, lot.ref) : rc;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_settle_lots_request *r = j->request;
    struct tb_settle_lots_outcome *out = j->out;
    struct gathering g = { .job = j };
    struct tb_text all = { 0 };
    tb_rc rc = tb_settle_check(r->as, r->why, r->settled_at, j->err);

    if (rc == TB_OK && r->as == TB_RELABELLED)
        rc = tb_fail(j->err, TB_EINVAL, "relabelling takes one lot at a time: each has its own words");
    for (size_t i = 0; i < r->names && rc == TB_OK; i++)
        rc = gather(&g, r->name[i]);
    *out = (struct tb_settle_lots_outcome){ .as = r->as, .why = r->why };
    out->lot = tb_arena_alloc(j->mem, (g.n + 1) * sizeof *out->lot);
    for (size_t i = 0; i < g.n && rc == TB_OK; i++, out->n++) {
        struct tb_settled_lot *l = &out->lot[i];

        if ((rc = tb_lot_find(&l->lot, j->b, g.ref[i], j->mem, j->err)) == TB_OK &&
            (rc = tb_settle_check_back(r->as, &l->lot, j->err)) == TB_OK &&
            (rc = tb_settle_check_after(j, &l->lot, r->settled_at, r->anyway)) == TB_OK &&
            (rc = tb_settle_dispute(&l->dispute_opened, j, &l->lot)) == TB_OK &&
            (rc = tb_settle_ended(&l->ended, &l->endeds, j, &l->lot, r->as)) == TB_OK &&
            (rc = tb_settle_cut(&l->cut, &l->cuts, j, &l->lot, r->as)) == TB_OK &&
            (rc = tb_lot_handling(&l->handling, j->b, &l->lot, j->err)) == TB_OK)
            rc = tb_lot_concluded(&l->concluded, j->b, &l->lot, j->mem, j->err);
        tb_text_addf(&all, "%s%s", i ? " " : "", g.ref[i]);
    }
    j->subject = r->names == 1 && g.n > 1 ? r->name[0] : tb_arena_take(j->mem, &all);
    tb_text_free(&all);
    if (rc == TB_OK && g.n == 0)
        rc = tb_fail(j->err, TB_EINVAL, "name the lots that are settled");
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_settle_lots_request *r = j->request;
    struct tb_settle_lots_outcome *out = j->out;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < out->n && rc == TB_OK; i++) {
        struct tb_lot *lot = &out->lot[i].lot;
        struct tb_standing s = {
            .lot = lot->id, .standing = r->as, .why = r->why, .settled_at = r->settled_at
        };

        if ((rc = tb_standing_add(&s, j->b, j->mem, j->err)) == TB_OK)
            rc = tb_lot_find(lot, j->b, lot->ref, j->mem, j->err);
    }
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS_ALL(tb_settle_lots_request, name, names, N_("the lot")),
    TB_SAYS_WHY(tb_settle_lots_request),
    TB_SAYS(tb_settle_lots_request, settled_at, N_("the moment")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_settle_lots(struct tb_settle_lots_outcome *out, const struct tb_actor *actor,
                         const struct tb_settle_lots_request *request, struct tb_arena *mem,
                         struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_SETTLE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_settle_lots_request),
                                       .said = said };
    struct tb_job job = { .request = request, .out = out, .mem = mem };

    *out = (struct tb_settle_lots_outcome){ 0 };
    return tb_act_do(&act, &job, actor, err);
}
