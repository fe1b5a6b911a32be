/* A burn that was recorded of the wrong swatch: void there, and recorded of the right one as it was. */
#include "base/say.h"
#include "tenterbook/attachment.h"
#include "work/verdict.h"
#include "work/void.h"

#include <string.h>

struct moving {
    struct tb_burn old;
    struct tb_swatch from, to;
};

static tb_rc check(struct tb_job *j, const struct tb_hanging *h)
{
    const struct moving *w = j->own;

    if (strcmp(w->from.id, w->to.id) == 0)
        return tb_fail(j->err, TB_EINVAL, "burn %s is of swatch %s already", w->old.id, w->to.tag);
    if (strcmp(w->old.burned_at, w->to.cut_at) < 0)
        return tb_fail(j->err, TB_EINVAL, "swatch %s was cut at %s; it cannot have been burned at %s",
                       w->to.tag, w->to.cut_at, w->old.burned_at);
    if (h->answers)
        return tb_fail(j->err, TB_EREFUSED, "burn %s answers a card of a drill: an answer is not changed",
                       w->old.id);
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_move_request *r = j->request;
    struct tb_move_outcome *out = j->out;
    struct moving *w = j->own;
    struct tb_void_subject s;
    struct tb_hanging h;
    tb_rc rc;

    *out = (struct tb_move_outcome){ 0 };
    if (!r->why || !*r->why)
        return tb_about(j->err,
                        tb_fail(j->err, TB_EINVAL, "say why it was the wrong swatch: both stay in the book"),
                        "why");
    if ((rc = tb_void_find(&s, j->b, r->burn, NULL, j->mem, j->err)) != TB_OK)
        return rc;
    if (strcmp(s.about, "burn") != 0)
        return tb_fail(j->err, TB_EINVAL, "%s is not a burn: only a burn moves to another swatch", r->burn);
    if ((rc = tb_burn_find(&w->old, j->b, s.id, j->mem, j->err)) != TB_OK ||
        (rc = tb_swatch_find(&w->from, j->b, w->old.tag, j->mem, j->err)) != TB_OK ||
        (rc = tb_swatch_find(&w->to, j->b, r->swatch, j->mem, j->err)) != TB_OK ||
        (rc = tb_hanging_on(&h, j->b, s.id, j->err)) != TB_OK || (rc = check(j, &h)) != TB_OK)
        return rc;
    out->was = w->old.id;
    out->from = w->from.tag;
    /* of two lots: neither supplier reads the other's reference in the journal row of a case */
    j->subject = w->from.lot && w->to.lot && strcmp(w->from.lot, w->to.lot) == 0 ? w->to.tag : w->old.id;
    return TB_OK;
}

static tb_rc copy_photos(struct tb_job *j, const char *from, const char *to)
{
    struct tb_attachment *photo, one;
    size_t n;
    tb_rc rc = tb_attachment_list(&photo, &n, j->b, from, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = tb_attachment_load(&one, j->b, photo[i].id, j->mem, j->err)) == TB_OK) {
            one.subject = to;
            rc = tb_attachment_add(&one, j->b, j->mem, j->err);
        }
    return rc;
}

static tb_rc record(struct tb_job *j)
{
    struct tb_move_outcome *out = j->out;
    const struct moving *w = j->own;
    tb_rc rc;

    out->burn = w->old;
    out->burn.swatch = w->to.id;
    out->burn.tag = w->to.tag;
    out->burn.part = w->to.part;
    out->burn.bolt_number = w->to.bolt_number;
    out->burn.known = w->to.known;
    out->burn.lot = w->to.lot;
    out->burn.replaces = NULL;
    rc = tb_burn_add(&out->burn, j->b, j->mem, j->err);
    return rc == TB_OK ? copy_photos(j, w->old.id, out->burn.id) : rc;
}

/* It and what it corrected: those were of the wrong swatch too. */
static tb_rc void_chain(struct tb_job *j)
{
    const struct tb_move_request *r = j->request;
    const struct tb_move_outcome *out = j->out;
    const struct moving *w = j->own;
    struct tb_burn one = w->old;
    tb_rc rc = TB_OK;

    while (rc == TB_OK) {
        const char *before = one.replaces;
        struct tb_voiding v = {
            .about = "burn", .subject = one.id, .lot = w->from.lot, .why = r->why, .instead = out->burn.id
        };

        rc = tb_voiding_add(&v, j->b, j->mem, j->err);
        if (!before)
            break;
        if (rc == TB_OK)
            rc = tb_burn_find(&one, j->b, before, j->mem, j->err);
    }
    return rc;
}

/* The lot of the swatch it is of, and the one it was taken from, where that is another one; known cloth is of none. */
struct lots {
    const char *ref[2];
    enum tb_standing_kind was[2]; /* as each stood before */
    size_t n;
};

static tb_rc find_lots(struct lots *out, struct tb_job *j)
{
    const struct moving *w = j->own;
    const struct tb_swatch *of[] = { &w->to, &w->from };
    tb_rc rc = TB_OK;

    *out = (struct lots){ 0 };
    for (size_t i = 0; i < 2 && rc == TB_OK; i++) {
        struct tb_lot lot = { 0 };

        if (!of[i]->lot || (out->n && strcmp(out->ref[0], of[i]->lot_ref) == 0))
            continue;
        rc = tb_lot_find(&lot, j->b, of[i]->lot_ref, j->mem, j->err);
        out->was[out->n] = lot.standing;
        out->ref[out->n++] = of[i]->lot_ref;
    }
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    struct tb_move_outcome *out = j->out;
    struct lots lots;
    tb_rc rc;

    if ((rc = find_lots(&lots, j)) != TB_OK || (rc = record(j)) != TB_OK || (rc = void_chain(j)) != TB_OK)
        return rc;
    for (out->lots = 0; out->lots < lots.n && rc == TB_OK; out->lots++)
        rc = tb_void_rejudge(&out->lot[out->lots], j, lots.ref[out->lots], lots.was[out->lots]);
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_move_request, burn, N_("the burn")),
    TB_SAYS(tb_move_request, swatch, N_("the swatch")),
    TB_SAYS(tb_move_request, why, N_("the reason")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_move(struct tb_move_outcome *out, const struct tb_actor *actor,
                  const struct tb_move_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_MOVE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_move_request),
                                       .said = said };
    struct moving own = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };
    tb_rc rc;

    *out = (struct tb_move_outcome){ 0 };
    if ((rc = tb_act_do(&act, &job, actor, err)) != TB_OK)
        tb_move_free(out);
    return rc;
}

void tb_move_free(struct tb_move_outcome *out)
{
    for (size_t i = 0; i < TB_COUNT(out->lot); i++)
        tb_rejudged_free(&out->lot[i].judged);
}
