/* A record made by mistake: it stays in the book and counts no more. */
#include "work/void.h"

#include "base/say.h"
#include "tenterbook/analysis.h"
#include "tenterbook/named.h"
#include "tenterbook/sending.h"
#include "work/verdict.h"

#include <string.h>

/* --- which record ------------------------------------------------------------------------------------------------- */

static bool is_of(const struct tb_void_subject *s, const char *about)
{
    return strcmp(s->about, about) == 0;
}

/* A delivery, lot or swatch that is void says so; a burn, a test or an analysis by its id. */
static tb_rc nothing_called(struct tb_book *b, const char *name, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_bench_test test;
    struct tb_burn burn;
    struct tb_err none;
    bool gone;
    tb_rc rc = tb_analysis_is_void(&gone, b, name, err);

    if (rc != TB_OK)
        return rc;
    if (gone)
        return tb_fail(err, TB_EREFUSED, "analysis %s is void already", name);
    if ((rc = tb_sending_is_void(&gone, b, name, err)) != TB_OK)
        return rc;
    if (gone)
        return tb_fail(err, TB_EREFUSED, "the sending %s is void already", name);
    if (tb_burn_find(&burn, b, name, mem, &none) == TB_OK)
        return tb_fail(err, TB_EREFUSED, "burn %s is void already", name);
    if (tb_bench_test_find(&test, b, name, mem, &none) == TB_OK)
        return tb_fail(err, TB_EREFUSED, "test %s is void already", name);
    rc = tb_fail(err, TB_ENOTFOUND,
                 "there is no delivery, lot, bolt, swatch, burn, test, analysis or sending %s in this book",
                 name);
    return tb_near_offer(b, name, tb_voided_refuse(b, name, rc, err), err);
}

/* A bolt may be numbered like a lot: then the lot is meant, unless the bolt's lot is named. */
tb_rc tb_void_find(struct tb_void_subject *out, struct tb_book *b, const char *name, const char *lot,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_void_subject *all;
    const char *later;
    size_t n, first = 0;
    tb_rc rc = TB_OK;

    if ((lot && (rc = tb_name_written(&lot, b, lot, NULL, mem, err)) != TB_OK) ||
        (rc = tb_name_written(&name, b, name, lot, mem, err)) != TB_OK ||
        (rc = tb_void_subjects(&all, &n, b, name, lot, mem, err)) != TB_OK)
        return rc;
    while (lot && first < n && !is_of(&all[first], "bolt"))
        first++;
    if (first == n)
        return lot ? tb_fail(err, TB_ENOTFOUND, "lot %s has no bolt %s that counts", lot, name)
                   : nothing_called(b, name, mem, err);
    *out = all[first];
    if (is_of(out, "bolt") && n - first > 1)
        return tb_about(
            err, tb_fail(err, TB_EINVAL, "bolt %s is in several lots: name the one that is meant", name),
            "lot");
    if (out->corrected_by)
        return tb_fail(err, TB_EREFUSED, "%s was corrected: void the record in its place, which is %s", name,
                       out->corrected_by);
    if ((rc = tb_void_check_last(&later, b, out, mem, err)) == TB_OK && later)
        rc = tb_fail(err, TB_EREFUSED,
                     "the dispute went on after %s: void the later steps first, the last of which is %s",
                     name, later);
    return rc;
}

/* --- what hangs on it --------------------------------------------------------------------------------------------- */

/* What others hold a piece of, or argue about, is not taken back by one side; an empty lot would be no lot. */
static tb_rc check_alone(const struct tb_void_subject *s, const struct tb_hanging *h, struct tb_err *err)
{
    if (h->disputes)
        return tb_fail(err, TB_EREFUSED, "a dispute about %s is open: close it first (tenterbook dispute)",
                       s->ref);
    if (h->dealt)
        return tb_fail(err, TB_EREFUSED,
                       "%s is in a joint sample, of which the supplier holds pieces too: it stays", s->ref);
    if (is_of(s, "bolt") && !h->beside)
        return tb_fail(err, TB_EREFUSED, "bolt %s is the only one of lot %s: void the lot", s->ref,
                       s->lot_ref);
    if (is_of(s, "lot") && !h->beside)
        return tb_fail(err, TB_EREFUSED, "lot %s is the only one of its delivery: void the delivery", s->ref);
    return TB_OK;
}

static bool hangs(const struct tb_hanging *h)
{
    return h->lots + h->bolts + h->swatches + h->burns + h->tests + h->uses + h->analyses + h->draws +
               h->sendings + h->answers + h->singles + h->decisions + h->holds >
           0;
}

static tb_rc check_known(const struct tb_void_request *r, const struct tb_void_outcome *out,
                         struct tb_err *err)
{
    const struct tb_hanging *h = &out->hanging;

    if (r->knowing || !hangs(h))
        return TB_OK;
    return tb_about(err,
                    tb_fail(err, TB_EREFUSED,
                            "on %s hangs what would not count any more either: say that this is known",
                            out->subject.ref),
                    "yes");
}

static tb_rc look(struct tb_void_outcome *out, struct tb_book *b, const struct tb_void_request *r,
                  struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_void_find(&out->subject, b, r->name, r->lot, mem, err)) != TB_OK ||
        (rc = tb_hanging_on(&out->hanging, b, out->subject.id, err)) != TB_OK)
        return rc;
    if (is_of(&out->subject, "burn")) /* which is not hanging on itself */
        out->hanging.burns = 0;
    return check_alone(&out->subject, &out->hanging, err);
}

tb_rc tb_void_look(struct tb_void_outcome *out, struct tb_book *b, const struct tb_void_request *r,
                   struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_void_outcome){ 0 };
    if (rc == TB_OK)
        rc = look(out, b, r, mem, err);
    tb_book_look_away(b);
    return rc;
}

/* --- the act ------------------------------------------------------------------------------------------------------ */

static tb_rc weigh(struct tb_void_lot *out, struct tb_job *j, const char *lot_ref, struct tb_remains *left)
{
    struct tb_rejudged *r = &out->judged;
    struct tb_lot_burns burns;
    struct tb_due due;
    tb_rc rc;

    if ((rc = tb_lot_find(&r->lot, j->b, lot_ref, j->mem, j->err)) != TB_OK ||
        (rc = tb_bench_read(&burns, j->b, &r->lot, NULL, TB_BOOK_NOW, j->mem, j->err)) != TB_OK ||
        burns.n == 0)
        return rc;
    rc = tb_remains_take(&r->v, &out->ahead, left, j, &burns);
    r->judged = rc == TB_OK;
    if (rc == TB_OK && (rc = tb_verdict_record(&due, j->b, &r->lot, &r->v, j->mem, j->err)) == TB_OK)
        tb_rejudged_note(r, &due);
    return rc;
}

tb_rc tb_void_rejudge(struct tb_void_lot *out, struct tb_job *j, const char *lot_ref,
                      enum tb_standing_kind was, struct tb_remains *left)
{
    tb_rc rc = weigh(out, j, lot_ref, left);

    if (rc == TB_OK)
        rc = tb_lot_find(&out->judged.lot, j->b, lot_ref, j->mem, j->err);
    return rc == TB_OK ? tb_hold_after(&out->judged, j, was) : rc;
}

/* The lots of a delivery that count, by id. */
struct lots {
    struct tb_arena *mem;
    const char **id;
    size_t n, cap;
};

static tb_rc take_lot(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct lots *l = arg;

    (void)err;
    TB_ARENA_ROOM(l->mem, l->id, l->n, l->cap);
    l->id[l->n++] = tb_arena_strdup(l->mem, lot->id);
    return TB_OK;
}

/* Each lot of a delivery gets a row, which the share of that lot shows. */
static tb_rc void_lots(struct tb_job *j, const struct tb_void_subject *delivery, const char *why)
{
    struct lots lots = { .mem = j->mem };
    tb_rc rc =
        tb_lot_each(j->b, &(struct tb_lot_filter){ .delivery = delivery->id }, take_lot, &lots, j->err);

    for (size_t i = 0; i < lots.n && rc == TB_OK; i++)
        rc = tb_voiding_add(
            &(struct tb_voiding){ .about = "lot", .subject = lots.id[i], .lot = lots.id[i], .why = why },
            j->b, j->mem, j->err);
    return rc;
}

/* A lot of which a record was voided is judged by what is left, and that is known before anything is written. */
static tb_rc weigh_ahead(struct tb_job *j)
{
    const struct tb_void_outcome *out = j->out;
    struct tb_pending pending = { 0 };
    struct tb_lot lot;
    tb_rc rc;

    tb_remains_free(j->own);
    if (!out->subject.lot || is_of(&out->subject, "lot") || tb_void_is_paper(out->subject.about))
        return TB_OK;
    if ((rc = tb_lot_find(&lot, j->b, out->subject.lot_ref, j->mem, j->err)) != TB_OK ||
        (rc = tb_remains_without(&pending, j, &out->subject)) != TB_OK)
        return rc;
    return tb_remains_weigh(j->own, j, &lot, &pending);
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_void_request *r = j->request;
    struct tb_void_outcome *out = j->out;
    tb_rc rc;

    *out = (struct tb_void_outcome){ 0 };
    if (!r->why || !*r->why)
        return tb_about(
            j->err, tb_fail(j->err, TB_EINVAL, "say why it was recorded by mistake: both stay in the book"),
            "why");
    if ((rc = look(out, j->b, r, j->mem, j->err)) != TB_OK || (rc = check_known(r, out, j->err)) != TB_OK)
        return rc;
    out->voiding = (struct tb_voiding){ .about = out->subject.about,
                                        .subject = out->subject.id,
                                        .lot = out->subject.lot,
                                        .why = r->why,
                                        .ref = out->subject.ref };
    j->lot = *out->subject.lot_ref ? out->subject.lot_ref : NULL;
    j->subject = is_of(&out->subject, "bolt") || tb_void_is_paper(out->subject.about) ? out->subject.lot_ref
                                                                                      : out->subject.ref;
    return weigh_ahead(j);
}

/* Read before the commit: afterwards nothing may fail. */
static tb_rc find_ground(struct tb_void_lot *out, struct tb_job *j)
{
    const char *ref = out->judged.lot.ref;
    tb_rc rc = ref ? tb_ground_gone(&out->ground, j->b, ref, j->mem, j->err) : TB_ENOTFOUND;

    if (rc == TB_ENOTFOUND)
        out->ground = (struct tb_todo_row){ 0 };
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc write(struct tb_job *j)
{
    struct tb_void_outcome *out = j->out;
    const struct tb_void_subject *s = &out->subject;
    struct tb_lot before = { 0 };
    tb_rc rc = TB_OK;

    if (s->lot)
        rc = tb_lot_find(&before, j->b, s->lot_ref, j->mem, j->err);
    if (rc == TB_OK && is_of(s, "delivery"))
        rc = void_lots(j, s, out->voiding.why);
    if (rc == TB_OK)
        rc = tb_voiding_add(&out->voiding, j->b, j->mem, j->err);
    if (rc != TB_OK || !s->lot || is_of(s, "lot"))
        return rc;
    if (tb_void_is_paper(s->about))
        return tb_void_paper_after(&out->lot, j, s->lot_ref, before.standing);
    out->lot.bare = before.burns + before.tests == 0;
    rc = tb_void_rejudge(&out->lot, j, s->lot_ref, before.standing, j->own);
    if (rc == TB_OK && (rc = tb_decision_after(&out->lot.judged, j, out->subject.id)) == TB_OK)
        rc = find_ground(&out->lot, j);
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_void_request, name, N_("what is void")),
    TB_SAYS(tb_void_request, lot, N_("the lot")),
    TB_SAYS_WHY(tb_void_request),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_void(struct tb_void_outcome *out, const struct tb_actor *actor,
                  const struct tb_void_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_VOID,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_void_request),
                                       .said = said };
    struct tb_remains left = { 0 };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &left };
    tb_rc rc;

    *out = (struct tb_void_outcome){ 0 };
    if ((rc = tb_act_do(&act, &job, actor, err)) != TB_OK)
        tb_rejudged_free(&out->lot.judged);
    tb_remains_free(&left);
    return rc;
}
