/* What was voided by mistake counts again. */
#include "base/say.h"
#include "work/verdict.h"
#include "work/void.h"

#include <string.h>

static bool is_of(const struct tb_voiding *v, const char *about)
{
    return strcmp(v->about, about) == 0;
}

static tb_rc find(struct tb_voiding *out, struct tb_job *j)
{
    const struct tb_void_request *r = j->request;
    struct tb_voiding *all;
    size_t n;
    tb_rc rc = tb_voiding_open(&all, &n, j->b, r->name, r->lot, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    if (n == 0)
        return tb_fail(j->err, TB_ENOTFOUND, "nothing that is void by itself is called %s", r->name);
    if (n > 1 && is_of(&all[0], "bolt"))
        return tb_about(j->err,
                        tb_fail(j->err, TB_EINVAL,
                                "several void bolts are called %s: name the lot of the one meant", r->name),
                        "lot");
    *out = all[0];
    if (*out->instead)
        return tb_fail(j->err, TB_EREFUSED, "burn %s was moved: move the record in its place, which is %s",
                       r->name, out->instead);
    return TB_OK;
}

/* A lot that went with its delivery comes back with it. */
static tb_rc check_delivery(struct tb_job *j, const struct tb_voiding *v)
{
    struct tb_delivery d;
    struct tb_lot lot;
    tb_rc rc = tb_lot_ever(&lot, j->b, v->ref, j->mem, j->err);

    return rc == TB_OK ? tb_delivery_find(&d, j->b, lot.delivery_ref, j->mem, j->err) : rc;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_void_request *r = j->request;
    struct tb_void_outcome *out = j->out;
    struct tb_voiding *was = j->own;
    tb_rc rc;

    *out = (struct tb_void_outcome){ 0 };
    if (!r->why || !*r->why)
        return tb_about(
            j->err, tb_fail(j->err, TB_EINVAL, "say why it counts again: what was said so far stays"), "why");
    if ((rc = find(was, j)) == TB_OK && is_of(was, "lot"))
        rc = check_delivery(j, was);
    if (rc == TB_OK) /* of a burn the reference of its lot is found once it counts */
        j->subject = *was->ref ? was->ref : was->subject;
    return rc;
}

/* That it counts now: not with a lot or a swatch that is void itself, nor where another record stands in its place. */
static tb_rc check_counts(struct tb_job *j, const struct tb_voiding *v)
{
    const struct tb_void_request *r = j->request;
    struct tb_void_outcome *out = j->out;
    struct tb_void_subject *all;
    size_t n;
    tb_rc rc = tb_void_subjects(&all, &n, j->b, r->name, r->lot, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(all[i].id, v->subject) == 0) {
            out->subject = all[i];
            if (!all[i].replaces)
                return TB_OK;
            return tb_fail(j->err, TB_EREFUSED, "%s corrected %s, which counts since: correct that one anew",
                           r->name, all[i].replaces);
        }
    return rc == TB_OK ? tb_fail(j->err, TB_EREFUSED, "what %s is of is void too: that comes first", r->name)
                       : rc;
}

static tb_rc write_back(struct tb_job *j, const struct tb_voiding *was)
{
    struct tb_void_outcome *out = j->out;

    out->voiding = *was;
    out->voiding.why = ((const struct tb_void_request *)j->request)->why;
    out->voiding.instead = NULL;
    out->voiding.replaces = was->id;
    return tb_voiding_add(&out->voiding, j->b, j->mem, j->err);
}

static tb_rc write(struct tb_job *j)
{
    struct tb_void_outcome *out = j->out;
    const struct tb_voiding *was = j->own;
    enum tb_standing_kind before = TB_STANDING_NONE;
    struct tb_voiding *with;
    size_t n = 0;
    tb_rc rc = is_of(was, "delivery") ? tb_voiding_with(&with, &n, j->b, was->id, j->mem, j->err) : TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(with[i].id, was->id) != 0)
            rc = write_back(j, &with[i]);
    if (rc == TB_OK)
        rc = write_back(j, was);
    if (rc != TB_OK || (rc = check_counts(j, was)) != TB_OK)
        return rc;
    if (!was->lot || is_of(was, "lot"))
        return TB_OK;
    j->subject = is_of(was, "bolt") ? out->subject.lot_ref : out->subject.ref;
    return tb_void_rejudge(&out->lot, j, out->subject.lot_ref, before);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_void_request, name, N_("what counts again")),
    TB_SAYS(tb_void_request, lot, N_("the lot")),
    TB_SAYS(tb_void_request, why, N_("the reason")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_void_back(struct tb_void_outcome *out, const struct tb_actor *actor,
                       const struct tb_void_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_VOID,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_void_request),
                                       .said = said };
    struct tb_voiding own = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };
    tb_rc rc;

    *out = (struct tb_void_outcome){ 0 };
    if ((rc = tb_act_do(&act, &job, actor, err)) != TB_OK)
        tb_rejudged_free(&out->lot.judged);
    return rc;
}
