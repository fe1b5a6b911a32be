/* What was voided by mistake counts again. */
#include "base/say.h"
#include "tenterbook/named.h"
#include "work/verdict.h"
#include "work/void.h"

#include <string.h>

struct back {
    struct tb_voiding was;
    struct tb_remains left;
};

static bool is_of(const struct tb_voiding *v, const char *about)
{
    return strcmp(v->about, about) == 0;
}

static tb_rc find(struct tb_voiding *out, struct tb_job *j)
{
    const struct tb_void_request *r = j->request;
    const char *name = r->name, *lot = r->lot;
    struct tb_voiding *all;
    size_t n;
    tb_rc rc = TB_OK;

    if ((lot && (rc = tb_name_written(&lot, j->b, lot, NULL, j->mem, j->err)) != TB_OK) ||
        (rc = tb_name_written(&name, j->b, name, lot, j->mem, j->err)) != TB_OK ||
        (rc = tb_voiding_open(&all, &n, j->b, name, lot, j->mem, j->err)) != TB_OK)
        return rc;
    if (n == 0)
        return tb_fail(j->err, TB_ENOTFOUND, "nothing that is void by itself is called %s", r->name);
    if (n > 1 && is_of(&all[0], "bolt") && strcmp(all[0].ref, name) == 0)
        while (n > 1 && strcmp(all[n - 1].ref, name) != 0)
            n--; /* written just so, it is meant */
    if (n > 1 && is_of(&all[0], "bolt"))
        return tb_about(j->err,
                        tb_fail(j->err, TB_EINVAL,
                                "several void bolts are called %s: name the lot of the one meant", r->name),
                        "lot");
    *out = all[0];
    if (*out->instead)
        return tb_fail(j->err, TB_EREFUSED, "%s was moved: move the record in its place, which is %s",
                       r->name, out->instead);
    return TB_OK;
}

/* Goods that were received anew in its place would count twice. Of a list without a note its file is asked for. */
static tb_rc check_twin(struct tb_job *j, const struct tb_voiding *v)
{
    const struct tb_void_request *r = j->request;
    struct tb_delivery was, there;
    tb_rc rc = tb_delivery_ever(&was, j->b, v->subject, j->mem, j->err);

    if (rc != TB_OK || r->again || !(*was.note || *was.file_digest))
        return rc;
    rc = *was.note ? tb_delivery_of_note(&there, j->b, was.supplier, was.note, NULL, j->mem, j->err)
                   : tb_delivery_by_file(&there, j->b, was.file_digest, j->mem, j->err);
    if (rc != TB_OK || strcmp(there.supplier, was.supplier) != 0 || strcmp(there.note, was.note) != 0)
        return rc == TB_ENOTFOUND ? TB_OK : rc;
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EEXISTS,
                "the same goods count as delivery %s: both would count; void that one, or say that "
                "%s is another delivery",
                there.ref, r->name),
        "again");
}

/* A lot that went with its delivery comes back with it. */
static tb_rc check_delivery(struct tb_job *j, const struct tb_voiding *v)
{
    struct tb_delivery d;
    struct tb_lot lot;
    tb_rc rc = tb_lot_ever(&lot, j->b, v->ref, j->mem, j->err);

    return rc == TB_OK ? tb_delivery_find(&d, j->b, lot.delivery_ref, j->mem, j->err) : rc;
}

static tb_rc weigh_ahead(struct tb_job *j, const struct tb_voiding *was)
{
    struct back *w = j->own;
    struct tb_pending pending = { 0 };
    struct tb_lot lot;
    tb_rc rc;

    tb_remains_free(&w->left);
    if (!was->lot || is_of(was, "lot") || tb_void_is_paper(was->about))
        return TB_OK;
    if ((rc = tb_lot_of_id(&lot, j->b, was->lot, j->mem, j->err)) != TB_OK ||
        (rc = tb_remains_back(&pending, j, was)) != TB_OK)
        return rc;
    return tb_remains_weigh(&w->left, j, &lot, &pending);
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_void_request *r = j->request;
    struct tb_void_outcome *out = j->out;
    struct tb_voiding *was = &((struct back *)j->own)->was;
    tb_rc rc;

    *out = (struct tb_void_outcome){ 0 };
    if (!r->why || !*r->why)
        return tb_about(
            j->err, tb_fail(j->err, TB_EINVAL, "say why it counts again: what was said so far stays"), "why");
    if ((rc = find(was, j)) == TB_OK && is_of(was, "lot"))
        rc = check_delivery(j, was);
    if (rc == TB_OK && is_of(was, "delivery"))
        rc = check_twin(j, was);
    if (rc == TB_OK) /* of a burn the reference of its lot is found once it counts */
        j->subject = *was->ref ? was->ref : was->subject;
    return rc == TB_OK ? weigh_ahead(j, was) : rc;
}

/* That it counts now: not with a lot or a swatch that is void itself, nor where another record stands in its place. */
static tb_rc check_counts(struct tb_job *j, const struct tb_voiding *v)
{
    const struct tb_void_request *r = j->request;
    struct tb_void_outcome *out = j->out;
    struct tb_void_subject *all;
    size_t n;
    tb_rc rc = tb_void_subjects(&all, &n, j->b, *v->ref ? v->ref : v->subject, NULL, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(all[i].id, v->subject) == 0) {
            out->subject = all[i];
            if (!all[i].replaces)
                return tb_void_check_turn(j->b, &all[i], j->mem, j->err);
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

struct held {
    const char *lot; /* id of the one that came back; NULL: all of its delivery */
    struct tb_text refs;
};

static tb_rc take_held(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct held *h = arg;

    (void)err;
    if (lot->standing == TB_HELD && (!h->lot || strcmp(h->lot, lot->id) == 0))
        tb_text_addf(&h->refs, "%s%s", h->refs.n ? ", " : "", lot->ref);
    return TB_OK;
}

/* A hold comes back with its lot, and nobody should find that only when the cloth is wanted. */
static tb_rc find_held(struct tb_job *j, const struct tb_voiding *was)
{
    struct tb_void_outcome *out = j->out;
    struct held h = { .lot = is_of(was, "lot") ? was->subject : NULL };
    struct tb_lot lot = { .delivery = was->subject };
    tb_rc rc = h.lot ? tb_lot_find(&lot, j->b, out->subject.ref, j->mem, j->err) : TB_OK;

    if (rc == TB_OK)
        rc = tb_lot_each(j->b, &(struct tb_lot_filter){ .delivery = lot.delivery }, take_held, &h, j->err);
    out->held = h.refs.n ? tb_arena_take(j->mem, &h.refs) : NULL;
    tb_text_free(&h.refs);
    return rc;
}

/* Before its record comes back: a hold that is made by what is void does not stand. */
static tb_rc was_held(bool *out, struct tb_job *j, const char *lot)
{
    struct tb_standing *all;
    size_t n;
    tb_rc rc = tb_standing_list(&all, &n, j->b, lot, j->mem, j->err);

    *out = false;
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (!all[i].gone)
            *out = all[i].standing == TB_HELD;
    return rc;
}

/* The lot of what came back is weighed, and a hold that came back with it is told where the verdict does not tell it. */
static tb_rc rejudge(struct tb_job *j, bool held)
{
    struct tb_void_outcome *out = j->out;
    const struct tb_rejudged *r = &out->lot.judged;
    tb_rc rc;

    out->lot.bare = true; /* where nothing is there to judge it by, nothing came back */
    rc =
        tb_void_rejudge(&out->lot, j, out->subject.lot_ref, TB_STANDING_NONE, &((struct back *)j->own)->left);

    if (rc == TB_OK && !held && !r->held && r->lot.standing == TB_HELD)
        out->held = r->lot.ref;
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    struct tb_void_outcome *out = j->out;
    const struct tb_voiding *was = &((struct back *)j->own)->was;
    bool held = false;
    struct tb_voiding *with;
    size_t n = 0;
    tb_rc rc = is_of(was, "delivery") ? tb_voiding_with(&with, &n, j->b, was->id, j->mem, j->err) : TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(with[i].id, was->id) != 0)
            rc = write_back(j, &with[i]);
    if (rc == TB_OK && was->lot)
        rc = was_held(&held, j, was->lot);
    if (rc == TB_OK)
        rc = write_back(j, was);
    if (rc != TB_OK || (rc = check_counts(j, was)) != TB_OK)
        return rc;
    if (is_of(was, "lot") || is_of(was, "delivery"))
        return find_held(j, was);
    if (!was->lot)
        return TB_OK;
    j->subject = is_of(was, "bolt") || tb_void_is_paper(was->about) ? out->subject.lot_ref : out->subject.ref;
    if (!tb_void_is_paper(was->about))
        return rejudge(j, held);
    rc = tb_void_paper_after(&out->lot, j, out->subject.lot_ref, TB_STANDING_NONE);
    if (rc == TB_OK && !held && out->lot.judged.lot.standing == TB_HELD)
        out->held = out->lot.judged.lot.ref;
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_void_request, name, N_("what counts again")),
    TB_SAYS(tb_void_request, lot, N_("the lot")),
    TB_SAYS_WHY(tb_void_request),
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
    struct back own = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };
    tb_rc rc;

    *out = (struct tb_void_outcome){ 0 };
    if ((rc = tb_act_do(&act, &job, actor, err)) != TB_OK)
        tb_rejudged_free(&out->lot.judged);
    tb_remains_free(&own.left);
    return rc;
}
