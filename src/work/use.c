/* Bolts that are cut into. With the first cut the right to claim usually ends. */
#include "base/say.h"
#include "tenterbook/lot_claim.h"
#include "work/act.h"
#include "work/moment.h"
#include "work/verdict.h"

#include <math.h>
#include <string.h>

struct using
{
    struct tb_bolt *bolt;
    struct tb_claim claim;
    enum tb_standing_kind standing; /* of the bolts: the strictest, if they do not stand alike */
    bool anyway;                    /* something stands against it, and a person knows */
};

/* Held goods, goods in dispute and goods that something is known against are cut only by somebody who says that he knows. */
static tb_rc refuse_obstacle(const struct tb_use_request *r, const char *lot, const char *what,
                             struct tb_err *err)
{
    if (!r->anyway)
        return tb_about(
            err,
            tb_fail(err, TB_EREFUSED,
                    "lot %s: %s, and the right to claim usually ends with the first cut; leave it "
                    "whole, or say why it is cut anyway",
                    lot, what),
            "anyway why");
    if (!r->why || !*r->why)
        return tb_about(
            err, tb_fail(err, TB_EINVAL, "lot %s: %s; cutting it all the same needs a reason", lot, what),
            "why");
    return TB_OK;
}

/* A bolt that was released out of a held lot may be cut, and one that is held in a released lot may not. */
static tb_rc find_standing(struct tb_job *j)
{
    static const int strict[] = {
        [TB_RELEASED] = 1, [TB_RELABELLED] = 1, [TB_WAITING] = 2, [TB_HELD] = 3, [TB_RETURNED] = 4
    };
    const struct tb_use_request *r = j->request;
    const struct tb_use_outcome *out = j->out;
    struct using *w = j->own;
    tb_rc rc = TB_OK;

    w->standing = TB_RELEASED;
    for (size_t i = 0; i < r->bolts && rc == TB_OK; i++) {
        enum tb_standing_kind one;

        rc = tb_bolt_standing_now(&one, j->b, &out->lot, w->bolt[i].id, j->mem, j->err);
        if (rc == TB_OK && (i == 0 || strict[one] > strict[w->standing]))
            w->standing = one;
    }
    return rc;
}

/* The last finding against the words that count, of which whoever released the lot since did not know; NULL: none. */
static tb_rc find_finding(const char **what, struct tb_job *j)
{
    struct tb_use_outcome *out = j->out;
    struct tb_settled last = { 0 };
    struct tb_analysis *a = NULL;
    size_t n = 0;
    tb_rc rc;

    if (out->concluded.kind != TB_DOES_NOT || out->concluded.by != TB_BY_LABORATORY)
        return TB_OK;
    if ((rc = tb_analysis_list(&a, &n, j->b, out->lot.id, j->mem, j->err)) != TB_OK)
        return rc;
    rc = tb_settled_latest(&last, j->b, out->lot.id, j->mem, j->err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    for (size_t i = 0; i < n; i++) {
        struct tb_text t = { 0 };
        bool same =
            a[i].declaration && out->lot.declaration && strcmp(a[i].declaration, out->lot.declaration) == 0;
        bool known = last.standing == TB_RELEASED && strcmp(a[i].recorded_at, last.settled_at) <= 0;

        if (!same || known || !tb_analysis_against(&a[i]))
            continue;
        tb_text_addf(&t, _("a laboratory found %s in it (%s, %s), which does not conform to \"%s\""),
                     a[i].found, *a[i].laboratory ? a[i].laboratory : "-", a[i].analysed_on,
                     out->lot.declared);
        *what = tb_arena_take(j->mem, &t);
    }
    return TB_OK;
}

/* What is known against a lot that nobody released: there is something to claim for, and the cut would end it. */
static tb_rc find_doubt(const char **what, struct tb_job *j)
{
    const struct tb_concluded *c = &((struct tb_use_outcome *)j->out)->concluded;
    const struct using *w = j->own;

    if (w->standing != TB_WAITING)
        return find_finding(what, j);
    if (c->open == TB_OPEN_DISAGREE)
        *what = _("laboratories disagree about it, and nobody released it");
    else if (c->kind == TB_DOES_NOT && c->by != TB_BY_LABORATORY)
        *what = _("what was seen contradicts its declaration, and nobody released it");
    else if (c->open == TB_OPEN_AGAINST)
        *what = _("what was seen speaks against its declaration, and nobody released it");
    return *what ? TB_OK : find_finding(what, j);
}

static tb_rc check(struct tb_job *j)
{
    const struct tb_use_request *r = j->request;
    struct tb_use_outcome *out = j->out;
    const struct tb_lot *lot = &out->lot;
    struct using *w = j->own;
    enum tb_handling handling = TB_HANDLING_ANY;
    tb_rc rc = r->back ? TB_OK : tb_lot_handling(&handling, j->b, lot, j->err);
    const char *what =
        handling == TB_HANDLING_LABORATORY
            ? "it holds asbestos, or may: whoever cuts it frees fibres that harm the lungs, and a "
              "laboratory licensed for it comes first"
        : w->standing == TB_RETURNED ? "it was returned"
        : w->claim.open              ? "a dispute about it is open"
        : w->standing != TB_HELD     ? NULL
        : lot->standing == TB_HELD   ? "it is held"
        : r->bolts == 1              ? "this bolt of it is held"
                                     : "a bolt of these is held";

    if (rc != TB_OK || (rc = tb_lot_concluded(&out->concluded, j->b, lot, j->mem, j->err)) != TB_OK ||
        (!what && (rc = find_doubt(&what, j)) != TB_OK))
        return rc;
    w->anyway = what && !r->back;
    if (r->back && !isnan(r->metres))
        return tb_about(j->err, tb_fail(j->err, TB_EINVAL, "a record is taken back whole, not metres of it"),
                        "back");
    return w->anyway ? refuse_obstacle(r, lot->ref, what, j->err) : TB_OK;
}

/* More than the bolt has, cut off in several steps, is a slip in one of the records. */
static tb_rc check_metres(const struct tb_claim *c, const struct tb_bolt *bolt, double metres,
                          struct tb_err *err)
{
    double gone = tb_bolt_cut_off(c->use, c->uses, bolt->id);

    if (isnan(metres) || isnan(bolt->metres) || metres > bolt->metres ||
        gone + metres <= bolt->metres + TB_METRES_SLACK)
        return TB_OK;
    return tb_about(
        err,
        tb_fail(err, TB_EINVAL,
                "%g m cannot be cut from bolt %s, which had %.2f m, of which %.2f m were cut off before; the "
                "last record of it can be taken back",
                metres, bolt->number, bolt->metres, gone),
        "back");
}

/* The latest record of the bolt that counts, but for `skip` of them; NULL: there are not so many. */
static const struct tb_bolt_use *last_use(const struct tb_claim *c, const char *bolt, size_t skip)
{
    for (size_t i = c->uses; i > 0; i--)
        if (strcmp(c->use[i - 1].bolt, bolt) == 0 && skip-- == 0)
            return &c->use[i - 1];
    return NULL;
}

/* Nothing is left of a bolt that was cut whole: one of the two records is a slip, or the metres were not said. */
static void note_before(struct tb_use_outcome *out, const struct using *w, const char *bolt, bool back)
{
    const struct tb_bolt_use *before = last_use(&w->claim, bolt, back ? 1 : 0);

    if (before && (back || isnan(before->metres)))
        out->before[out->befores++] = *before;
}

static enum tb_use_warning warning(const struct using *w, bool back, enum tb_standing_kind standing)
{
    if (back)
        return TB_USE_FINE;
    if (w->anyway)
        return TB_USE_ANYWAY;
    if (standing == TB_WAITING)
        return TB_USE_UNRELEASED;
    return w->claim.clock.before_cutting && !w->claim.notified ? TB_USE_ENDS_TERM : TB_USE_FINE;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_use_request *r = j->request;
    struct tb_use_outcome *out = j->out;
    struct using *w = j->own;
    char today[TB_DAY_LEN + 1];
    tb_rc rc;

    tb_today(today);
    if ((rc = tb_moment_check("the moment of the cut", r->used_at, j->err)) != TB_OK ||
        (rc = tb_job_bolts(&w->bolt, &out->lot, j, r->lot, r->bolt, r->bolts)) != TB_OK ||
        (rc = find_standing(j)) != TB_OK ||
        (rc = tb_claim_of_lot(&w->claim, j->b, &out->lot, today, j->mem, j->err)) != TB_OK ||
        (rc = check(j)) != TB_OK)
        return rc;
    out->befores = 0;
    out->before = tb_arena_alloc(j->mem, r->bolts * sizeof *out->before);
    for (size_t i = 0; i < r->bolts && rc == TB_OK; i++) {
        rc = check_metres(&w->claim, &w->bolt[i], r->metres, j->err);
        if (rc == TB_OK && r->back && !last_use(&w->claim, w->bolt[i].id, 0))
            rc = tb_fail(j->err, TB_ENOTFOUND, "bolt %s was not cut into", w->bolt[i].number);
        note_before(out, w, w->bolt[i].id, r->back);
    }
    if (rc == TB_OK)
        out->warning = warning(w, r->back, w->standing);
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_use_request *r = j->request;
    const struct using *w = j->own;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < r->bolts && rc == TB_OK; i++) {
        struct tb_bolt_use u = { .used = !r->back,
                                 .metres = r->metres,
                                 .why = r->why,
                                 .used_at = r->used_at,
                                 .anyway = w->anyway,
                                 .replaces = r->back ? last_use(&w->claim, w->bolt[i].id, 0)->id : NULL };

        rc = tb_bolt_use_add(&u, j->b, &w->bolt[i], j->mem, j->err);
    }
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS_ALL(tb_use_request, bolt, bolts, N_("the number of a bolt")),
    TB_SAYS(tb_use_request, lot, N_("the lot")),
    TB_SAYS_WHY(tb_use_request),
    TB_SAYS(tb_use_request, used_at, N_("the moment")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_use(struct tb_use_outcome *out, const struct tb_actor *actor,
                 const struct tb_use_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = {
        .verb = TB_VERB_USE, .plan = plan, .write = write, .size = sizeof(struct tb_use_request), .said = said
    };
    struct using own = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };

    *out = (struct tb_use_outcome){ 0 };
    if (request->bolts == 0)
        return tb_fail(err, TB_EINVAL, "name the bolts that are cut into");
    return tb_act_do(&act, &job, actor, err);
}
