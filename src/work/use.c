/* Bolts that are cut into. With the first cut the right to claim usually ends. */
#include "tenterbook/lot_claim.h"
#include "work/act.h"
#include "work/moment.h"
#include "work/verdict.h"

#include <math.h>
#include <string.h>

#define METRES_SLACK 0.005 /* what rounding to centimetres may leave */

struct using
{
    const struct tb_use_request *request;
    struct tb_use_outcome *out;
    struct tb_arena *mem;
    struct tb_bolt *bolt;
    struct tb_claim claim;
    bool anyway; /* something stands against it, and a person knows */
};

/* The lot of all the bolts: named, or that of the first one. */
static tb_rc find_bolts(struct using *w, struct tb_book *b, struct tb_err *err)
{
    const struct tb_use_request *r = w->request;
    struct tb_lot *lot = &w->out->lot;
    tb_rc rc = tb_lot_find(lot, b, r->lot ? r->lot : r->bolt[0], w->mem, err);

    if (rc == TB_OK && !r->lot && strcmp(lot->ref, r->bolt[0]) == 0)
        return tb_fail(err, TB_EINVAL, "%s is a lot; name its bolts, and --lot %s", lot->ref, lot->ref);
    w->bolt = tb_arena_alloc(w->mem, r->bolts * sizeof *w->bolt);
    for (size_t i = 0; i < r->bolts && rc == TB_OK; i++) {
        for (size_t k = 0; k < i; k++)
            if (strcmp(r->bolt[k], r->bolt[i]) == 0)
                return tb_fail(err, TB_EINVAL, "bolt %s is named twice", r->bolt[i]);
        rc = tb_within(err, tb_bolt_find(&w->bolt[i], b, lot->id, r->bolt[i], w->mem, err), "lot %s",
                       lot->ref);
    }
    return rc;
}

/* Held goods and goods in dispute are cut only by somebody who says that he knows. */
static tb_rc refuse_obstacle(const struct using *w, const char *what, struct tb_err *err)
{
    const struct tb_use_request *r = w->request;

    if (!r->anyway)
        return tb_fail(
            err, TB_EREFUSED,
            "lot %s: %s, and the right to claim usually ends with the first cut; leave it whole, or say "
            "--anyway --why TEXT",
            w->out->lot.ref, what);
    if (!r->why || !*r->why)
        return tb_fail(err, TB_EINVAL, "lot %s: %s; cutting it all the same needs a reason: --why TEXT",
                       w->out->lot.ref, what);
    return TB_OK;
}

static tb_rc check(struct using *w, struct tb_err *err)
{
    const struct tb_use_request *r = w->request;
    enum tb_standing_kind standing = w->out->lot.standing;
    const char *what = standing == TB_RETURNED ? "it was returned"
                       : w->claim.open         ? "a dispute about it is open"
                       : standing == TB_HELD   ? "it is held"
                                               : NULL;

    w->anyway = false;
    if (r->back)
        return isnan(r->metres)
                   ? TB_OK
                   : tb_fail(err, TB_EINVAL, "--back takes a whole record back, not metres of it");
    if (!what)
        return TB_OK;
    w->anyway = true;
    return refuse_obstacle(w, what, err);
}

/* More than the bolt has, cut off in several steps, is a slip in one of the records. */
static tb_rc check_metres(const struct using *w, const struct tb_bolt *bolt, struct tb_err *err)
{
    const struct tb_claim *c = &w->claim;
    double gone = 0, metres = w->request->metres;

    for (size_t i = 0; i < c->uses; i++)
        if (strcmp(c->use[i].bolt, bolt->id) == 0 && !isnan(c->use[i].metres))
            gone += c->use[i].metres;
    if (isnan(metres) || metres > bolt->metres || gone + metres <= bolt->metres + METRES_SLACK)
        return TB_OK;
    return tb_fail(
        err, TB_EINVAL,
        "%g m cannot be cut from bolt %s, which had %.2f m, of which %.2f m were cut off before; --back "
        "takes the last record back",
        metres, bolt->number, bolt->metres, gone);
}

/* The latest record of the bolt that counts. */
static const char *last_use(const struct tb_claim *c, const char *bolt)
{
    for (size_t i = c->uses; i > 0; i--)
        if (strcmp(c->use[i - 1].bolt, bolt) == 0)
            return c->use[i - 1].id;
    return NULL;
}

static enum tb_use_warning warning(const struct using *w)
{
    if (w->request->back)
        return TB_USE_FINE;
    if (w->anyway)
        return TB_USE_ANYWAY;
    if (w->out->lot.standing == TB_WAITING)
        return TB_USE_UNRELEASED;
    return w->claim.clock.before_cutting && !w->claim.notified ? TB_USE_ENDS_TERM : TB_USE_FINE;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct using *w = arg;
    char today[TB_DAY_LEN + 1];
    tb_rc rc;

    (void)write;
    tb_today(today);
    if ((rc = tb_moment_check("the moment of the cut", w->request->used_at, err)) != TB_OK ||
        (rc = find_bolts(w, b, err)) != TB_OK ||
        (rc = tb_claim_of_lot(&w->claim, b, &w->out->lot, today, w->mem, err)) != TB_OK ||
        (rc = check(w, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < w->request->bolts && rc == TB_OK; i++) {
        rc = check_metres(w, &w->bolt[i], err);
        if (rc == TB_OK && w->request->back && !last_use(&w->claim, w->bolt[i].id))
            rc = tb_fail(err, TB_ENOTFOUND, "bolt %s was not cut into", w->bolt[i].number);
    }
    w->out->warning = warning(w);
    return rc;
}

static bool concerns(void *arg, const struct tb_journal_row *row)
{
    const struct using *w = arg;

    return tb_row_concerns_lot(row, w->out->lot.ref);
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct using *w = arg;
    const struct tb_use_request *r = w->request;
    tb_rc rc = TB_OK;

    tb_book_subject(b, w->out->lot.ref);
    for (size_t i = 0; i < r->bolts && rc == TB_OK; i++) {
        struct tb_bolt_use u = {
            .used = !r->back, .metres = r->metres, .why = r->why, .used_at = r->used_at, .anyway = w->anyway
        };

        if (r->back)
            u.replaces = last_use(&w->claim, w->bolt[i].id);
        rc = tb_bolt_use_add(&u, b, &w->bolt[i], w->mem, err);
    }
    return rc;
}

tb_rc tb_act_use(struct tb_use_outcome *out, const struct tb_actor *actor,
                 const struct tb_use_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "use", plan, concerns, write };
    struct using w = { .request = request, .out = out, .mem = mem };

    *out = (struct tb_use_outcome){ 0 };
    if (request->bolts == 0)
        return tb_fail(err, TB_EINVAL, "name the bolts that are cut into");
    return tb_act_do(&act, &w, actor, err);
}
