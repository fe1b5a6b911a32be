/* What becomes of a lot: a person's decision, with its reason. */
#include "work/act.h"
#include "work/moment.h"
#include "work/verdict.h"

#include <string.h>

struct settling {
    const struct tb_settle_request *request;
    struct tb_settle_outcome *out;
    struct tb_arena *mem;
};

static tb_rc check(const struct tb_settle_request *r, const struct tb_lot *lot, struct tb_err *err)
{
    bool relabel;

    if (r->as == TB_STANDING_NONE)
        return tb_fail(err, TB_EINVAL, tb_standing_words.wrong, "");
    if (!r->why || !*r->why)
        return tb_fail(err, TB_EINVAL, "a standing needs its reason: --why TEXT");
    relabel = r->as == TB_RELABELLED;
    if (relabel && (!r->new_words || !*r->new_words || !r->goods_of || !*r->goods_of))
        return tb_fail(
            err, TB_EINVAL,
            "relabelling needs the new label's words and whose goods they are: --new TEXT --goods-of NAME");
    if (!relabel && (r->new_words || r->goods_of || r->old_words))
        return tb_fail(err, TB_EINVAL, "--old, --new and --goods-of belong to --as relabelled");
    if (lot->standing == TB_RETURNED && r->as != TB_WAITING && r->as != TB_RETURNED)
        return tb_fail(err, TB_EREFUSED, "lot %s was returned; if it is back, settle it as waiting first",
                       lot->ref);
    return tb_moment_check("the moment of the decision", r->settled_at, err);
}

/* Whoever lets goods go should know that a dispute about them is open. */
static tb_rc find_dispute(struct settling *w, struct tb_book *b, struct tb_err *err)
{
    struct tb_dispute d;
    tb_rc rc = tb_dispute_now(&d, b, w->out->judged.lot.id, w->mem, err);

    w->out->dispute_opened = rc == TB_OK ? d.step[0].day : NULL;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct settling *w = arg;
    const struct tb_settle_request *r = w->request;
    struct tb_lot *lot = &w->out->judged.lot;
    struct tb_pending pending = { .declared = r->new_words };
    tb_rc rc;

    (void)write;
    tb_rejudged_free(&w->out->judged);
    if ((rc = tb_lot_find(lot, b, r->lot, w->mem, err)) != TB_OK || (rc = check(r, lot, err)) != TB_OK ||
        (rc = find_dispute(w, b, err)) != TB_OK)
        return rc;
    w->out->standing =
        (struct tb_standing){ .lot = lot->id,
                              .standing = r->as,
                              .why = r->why,
                              .old_words = r->new_words && !r->old_words ? lot->declared : r->old_words,
                              .new_words = r->new_words,
                              .goods_of = r->goods_of,
                              .settled_at = r->settled_at };
    /* judged again only where there is something to judge; a hold never undoes what is settled here */
    if (!r->new_words || lot->burns == 0)
        return TB_OK;
    return tb_rejudge_plan(&w->out->judged, b, lot->ref, &pending, TB_WANT_CUES, w->mem, err);
}

static bool concerns(void *arg, const struct tb_journal_row *row)
{
    const struct settling *w = arg;

    return tb_row_concerns_lot(row, w->out->judged.lot.ref);
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct settling *w = arg;
    struct tb_lot *lot = &w->out->judged.lot;
    const char *new_words = w->request->new_words;
    tb_rc rc;

    tb_book_subject(b, lot->ref);
    if ((rc = tb_standing_add(&w->out->standing, b, w->mem, err)) != TB_OK ||
        (new_words &&
         (rc = tb_declaration_add(b, lot->id, new_words, TB_ORIGIN_RELABEL, lot->declaration, err)) != TB_OK))
        return rc;
    return w->out->judged.judged ? tb_rejudge_write(&w->out->judged, b, w->mem, err)
                                 : tb_lot_find(lot, b, lot->ref, w->mem, err);
}

tb_rc tb_act_settle(struct tb_settle_outcome *out, const struct tb_actor *actor,
                    const struct tb_settle_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "settle", plan, concerns, write };
    struct settling w = { request, out, mem };
    tb_rc rc;

    *out = (struct tb_settle_outcome){ 0 };
    rc = tb_act_do(&act, &w, actor, err);
    if (rc != TB_OK)
        tb_rejudged_free(&out->judged);
    return rc;
}
