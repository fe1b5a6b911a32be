/* What becomes of a lot: a person's decision, with its reason. */
#include "work/settle.h"
#include "base/say.h"
#include "work/act.h"
#include "work/declare.h"
#include "work/moment.h"
#include "work/verdict.h"

#include <string.h>

tb_rc tb_settle_check(enum tb_standing_kind as, const char *why, const char *at, struct tb_err *err)
{
    if (as == TB_STANDING_NONE)
        return tb_fail(err, TB_EINVAL, tb_standing_words.wrong, "");
    if (!why || !*why)
        return tb_about(err, tb_fail(err, TB_EINVAL, "a standing needs its reason"), "why");
    return tb_moment_check("the moment of the decision", at, err);
}

tb_rc tb_settle_check_back(enum tb_standing_kind as, const struct tb_lot *lot, struct tb_err *err)
{
    if (lot->standing == TB_RETURNED && as != TB_WAITING && as != TB_RETURNED)
        return tb_fail(err, TB_EREFUSED, "lot %s was returned; if it is back, settle it as waiting first",
                       lot->ref);
    return TB_OK;
}

tb_rc tb_settle_check_after(struct tb_job *j, const struct tb_lot *lot, const char *at, bool anyway)
{
    struct tb_settled last;
    tb_rc rc;

    if (!at)
        return TB_OK;
    if (strncmp(at, lot->arrived, TB_DAY_LEN) < 0)
        return tb_about(
            j->err,
            tb_fail(j->err, TB_EINVAL, "decided at %s, but lot %s arrived on %s", at, lot->ref, lot->arrived),
            "at");
    rc = tb_settled_latest(&last, j->b, lot->id, j->mem, j->err);
    if (rc != TB_OK)
        return rc == TB_ENOTFOUND ? TB_OK : rc;
    if (anyway || strcmp(at, last.settled_at) >= 0)
        return TB_OK;
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EREFUSED,
                "decided at %s, but lot %s is %s since %s, which is later: say that this is known, where "
                "the moment is right",
                at, lot->ref, tb_standing_key(last.standing), last.settled_at),
        "at anyway");
}

tb_rc tb_settle_check_named(struct tb_job *j, const char *name, const struct tb_lot *lot)
{
    struct tb_err none = { 0 };
    struct tb_bolt bolt;
    tb_rc rc =
        strcmp(name, lot->ref) == 0 ? TB_ENOTFOUND : tb_bolt_find(&bolt, j->b, lot->id, name, j->mem, &none);

    if (rc == TB_ENOTFOUND)
        return TB_OK;
    return tb_about(j->err,
                    tb_fail(j->err, TB_EINVAL,
                            "%s is a bolt of lot %s: name that lot, and this bolt of it where the others are "
                            "not meant",
                            name, lot->ref),
                    "bolt");
}

static tb_rc check(const struct tb_settle_request *r, const struct tb_lot *lot, struct tb_err *err)
{
    bool relabel = r->as == TB_RELABELLED;
    tb_rc rc = tb_settle_check(r->as, r->why, r->settled_at, err);

    if (rc != TB_OK)
        return rc;
    if (relabel && (!r->new_words || !*r->new_words || !r->goods_of || !*r->goods_of))
        return tb_about(
            err, tb_fail(err, TB_EINVAL, "relabelling needs the new label's words and whose goods they are"),
            "new goods-of");
    if (!relabel && (r->new_words || r->goods_of || r->old_words))
        return tb_about(
            err,
            tb_fail(err, TB_EINVAL,
                    "a label's old and new words, and whose goods they are, belong to relabelling"),
            "old new goods-of");
    if ((rc = tb_settle_check_back(r->as, lot, err)) != TB_OK)
        return rc;
    return relabel && !r->anyway ? tb_words_check(r->new_words, "anyway", err) : TB_OK;
}

tb_rc tb_settle_dispute(const char **opened, struct tb_job *j, const struct tb_lot *lot)
{
    struct tb_dispute d;
    tb_rc rc = tb_dispute_now(&d, j->b, lot->id, j->mem, j->err);

    *opened = rc == TB_OK ? d.step[0].day : NULL;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_settle_ended(struct tb_bolt_standing **out, size_t *n, struct tb_job *j, const struct tb_lot *lot,
                      enum tb_standing_kind as)
{
    size_t all = 0;
    tb_rc rc = tb_bolt_standing_list(out, &all, j->b, lot->id, j->mem, j->err);

    *n = 0;
    for (size_t i = 0; i < all && rc == TB_OK; i++)
        if ((*out)[i].counts && (*out)[i].standing != as &&
            ((*out)[i].standing != TB_RETURNED || as == TB_WAITING)) {
            (*out)[*n] = (*out)[i];
            (*out)[(*n)++].counts = false;
        }
    return rc;
}

tb_rc tb_settle_cut(struct tb_bolt_use **out, size_t *n, struct tb_job *j, const struct tb_lot *lot,
                    enum tb_standing_kind as)
{
    *n = 0;
    return as == TB_RETURNED ? tb_bolt_use_list(out, n, j->b, lot->id, j->mem, j->err) : TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_settle_request *r = j->request;
    struct tb_settle_outcome *out = j->out;
    struct tb_lot *lot = &out->judged.lot;
    struct tb_pending pending = { .declared = r->new_words };
    tb_rc rc;

    tb_rejudged_free(&out->judged);
    if ((rc = tb_job_lot(lot, j, r->lot)) != TB_OK || (rc = tb_settle_check_named(j, r->lot, lot)) != TB_OK ||
        (rc = check(r, lot, j->err)) != TB_OK ||
        (rc = tb_settle_check_after(j, lot, r->settled_at, r->anyway)) != TB_OK ||
        (rc = tb_settle_dispute(&out->dispute_opened, j, lot)) != TB_OK ||
        (rc = tb_settle_ended(&out->ended, &out->endeds, j, lot, r->as)) != TB_OK ||
        (rc = tb_settle_cut(&out->cut, &out->cuts, j, lot, r->as)) != TB_OK ||
        (rc = tb_lot_handling(&out->handling, j->b, lot, j->err)) != TB_OK)
        return rc;
    out->standing =
        (struct tb_standing){ .lot = lot->id,
                              .standing = r->as,
                              .why = r->why,
                              .old_words = r->new_words && !r->old_words ? lot->declared : r->old_words,
                              .new_words = r->new_words,
                              .goods_of = r->goods_of,
                              .settled_at = r->settled_at };
    /* a hold never undoes what is settled here */
    if (!r->new_words)
        return (rc = tb_lot_told(&out->told, j->b, lot, j->err)) == TB_OK
                   ? tb_lot_concluded(&out->concluded, j->b, lot, j->mem, j->err)
                   : rc;
    return tb_rejudge_plan(j, lot->ref, &pending, TB_WANT_CUES);
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_settle_request *r = j->request;
    struct tb_settle_outcome *out = j->out;
    struct tb_lot *lot = &out->judged.lot;
    tb_rc rc = tb_standing_add(&out->standing, j->b, j->mem, j->err);

    if (rc == TB_OK && r->new_words)
        rc = tb_declaration_add(j->b, lot->id, r->new_words, TB_ORIGIN_RELABEL, lot->declaration, j->err);
    return rc == TB_OK ? tb_rejudge_write(j) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_settle_request, lot, N_("the lot")),
    TB_SAYS_WHY(tb_settle_request),
    TB_SAYS(tb_settle_request, old_words, N_("the old label")),
    TB_SAYS(tb_settle_request, new_words, N_("the new label")),
    TB_SAYS(tb_settle_request, goods_of, N_("whose goods they are")),
    TB_SAYS(tb_settle_request, settled_at, N_("the moment")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_settle(struct tb_settle_outcome *out, const struct tb_actor *actor,
                    const struct tb_settle_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_SETTLE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_settle_request),
                                       .said = said };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .judged = &out->judged };

    *out = (struct tb_settle_outcome){ 0 };
    return tb_act_do(&act, &job, actor, err);
}
