/* What becomes of single bolts of a lot. */
#include "base/say.h"
#include "work/settle.h"
#include "work/verdict.h"

#include <string.h>

struct deciding {
    struct tb_bolt *bolt; /* those named */
};

static bool is_named(const struct deciding *w, size_t n, const char *id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(w->bolt[i].id, id) == 0)
            return true;
    return false;
}

/* What is not there cannot be held or released; how many of the others stand as these will. */
static tb_rc look_at_others(int64_t *alike, struct tb_job *j)
{
    const struct tb_settle_bolts_request *r = j->request;
    const struct tb_settle_bolts_outcome *out = j->out;
    const struct deciding *w = j->own;
    struct tb_bolt_standing *s;
    size_t n = 0;
    int64_t single = 0, same = 0;
    tb_rc rc = tb_bolt_standing_list(&s, &n, j->b, out->lot.id, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        bool named = is_named(w, r->bolts, s[i].bolt);

        if (!s[i].counts)
            continue;
        if (named && s[i].standing == TB_RETURNED && r->as != TB_RETURNED)
            return tb_fail(j->err, TB_EREFUSED,
                           "bolt %s of lot %s was returned; if it is back, settle the lot as waiting first",
                           s[i].number, out->lot.ref);
        single += !named;
        same += !named && s[i].standing == r->as;
    }
    *alike = out->lot.standing == r->as ? out->lot.bolts - (int64_t)r->bolts - single + same : same;
    return rc;
}

/* Of the bolts that are named alone. */
static tb_rc find_cuts(struct tb_job *j)
{
    const struct tb_settle_bolts_request *r = j->request;
    struct tb_settle_bolts_outcome *out = j->out;
    size_t all = 0;
    tb_rc rc = tb_settle_cut(&out->cut, &all, j, &out->lot, r->as);

    out->cuts = 0;
    for (size_t i = 0; i < all && rc == TB_OK; i++)
        if (is_named(j->own, r->bolts, out->cut[i].bolt))
            out->cut[out->cuts++] = out->cut[i];
    return rc;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_settle_bolts_request *r = j->request;
    struct tb_settle_bolts_outcome *out = j->out;
    struct deciding *w = j->own;
    int64_t alike = 0;
    tb_rc rc = tb_settle_check(r->as, r->why, r->settled_at, j->err);

    *out = (struct tb_settle_bolts_outcome){ .as = r->as, .why = r->why, .bolts = r->bolts };
    if (rc == TB_OK && r->as != TB_HELD && r->as != TB_RELEASED && r->as != TB_RETURNED)
        rc = tb_fail(j->err, TB_EINVAL,
                     "single bolts of a lot are held, released or returned; a lot is %s as a whole",
                     tb_standing_key(r->as));
    if (rc != TB_OK || (rc = tb_job_bolts(&w->bolt, &out->lot, j, r->lot, r->bolt, r->bolts)) != TB_OK ||
        (rc = tb_settle_check_back(r->as, &out->lot, j->err)) != TB_OK ||
        (rc = tb_settle_check_after(j, &out->lot, r->settled_at, r->anyway)) != TB_OK ||
        (rc = look_at_others(&alike, j)) != TB_OK || (rc = find_cuts(j)) != TB_OK)
        return rc;
    if ((rc = tb_lot_concluded(&out->concluded, j->b, &out->lot, j->mem, j->err)) != TB_OK ||
        (rc = tb_lot_handling(&out->handling, j->b, &out->lot, j->err)) != TB_OK)
        return rc;
    out->bolt = tb_arena_alloc(j->mem, (r->bolts + 1) * sizeof *out->bolt);
    for (size_t i = 0; i < r->bolts; i++)
        out->bolt[i] = w->bolt[i].number;
    /* the hold of a lot is not of whoever holds a bolt of it: it may go, and the bolt stays held */
    out->whole = alike + (int64_t)r->bolts == out->lot.bolts &&
                 !(r->as == TB_HELD && out->lot.standing == TB_HELD && (int64_t)r->bolts < out->lot.bolts);
    return tb_settle_dispute(&out->dispute_opened, j, &out->lot);
}

/* Where all of its bolts stand so, the lot does: nobody has to count them. */
static tb_rc write(struct tb_job *j)
{
    const struct tb_settle_bolts_request *r = j->request;
    struct tb_settle_bolts_outcome *out = j->out;
    const struct deciding *w = j->own;
    tb_rc rc = TB_OK;

    if (out->whole) {
        struct tb_standing s = {
            .lot = out->lot.id, .standing = r->as, .why = r->why, .settled_at = r->settled_at
        };

        rc = tb_standing_add(&s, j->b, j->mem, j->err);
    }
    for (size_t i = 0; i < r->bolts && rc == TB_OK && !out->whole; i++) {
        struct tb_bolt_standing s = { .lot = out->lot.id,
                                      .bolt = w->bolt[i].id,
                                      .standing = r->as,
                                      .why = r->why,
                                      .settled_at = r->settled_at };

        rc = tb_bolt_standing_add(&s, j->b, j->mem, j->err);
    }
    return rc == TB_OK ? tb_lot_find(&out->lot, j->b, out->lot.ref, j->mem, j->err) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_settle_bolts_request, lot, N_("the lot")),
    TB_SAYS_ALL(tb_settle_bolts_request, bolt, bolts, N_("the number of a bolt")),
    TB_SAYS_WHY(tb_settle_bolts_request),
    TB_SAYS(tb_settle_bolts_request, settled_at, N_("the moment")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_settle_bolts(struct tb_settle_bolts_outcome *out, const struct tb_actor *actor,
                          const struct tb_settle_bolts_request *request, struct tb_arena *mem,
                          struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_SETTLE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_settle_bolts_request),
                                       .said = said };
    struct deciding own = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };

    *out = (struct tb_settle_bolts_outcome){ 0 };
    if (request->bolts == 0)
        return tb_fail(err, TB_EINVAL, "name the bolts that are settled");
    return tb_act_do(&act, &job, actor, err);
}
