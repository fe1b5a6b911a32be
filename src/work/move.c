/* What was recorded of the wrong swatch, a burn or a test: void there, and recorded of the right one as it was. */
#include "base/say.h"
#include "work/burn.h"
#include "work/verdict.h"
#include "work/void.h"

#include <string.h>

struct moving {
    bool test; /* a bench test; else a burn */
    struct tb_burn burn;
    struct tb_bench_test tried;
    struct tb_swatch from, to;
    struct tb_lot
        lot[2]; /* of the swatch it is of, and the one it was taken from, where that is another one */
    struct tb_remains left[2];
    size_t lots; /* known cloth is of none */
};

static const char *moment_of(const struct moving *w)
{
    return w->test ? w->tried.tested_at : w->burn.burned_at;
}

static tb_rc check(struct tb_job *j, const char *id)
{
    const struct moving *w = j->own;
    struct tb_hanging h;
    tb_rc rc = tb_hanging_on(&h, j->b, id, j->err);

    if (rc != TB_OK)
        return rc;
    if (strcmp(w->from.id, w->to.id) == 0)
        return tb_fail(j->err, TB_EINVAL,
                       w->test ? N_("test %s is of swatch %s already")
                               : N_("burn %s is of swatch %s already"),
                       id, w->to.tag);
    if (strcmp(moment_of(w), w->to.cut_at) < 0)
        return tb_fail(j->err, TB_EINVAL,
                       w->test ? N_("swatch %s was cut at %s; it cannot have been tested at %s")
                               : N_("swatch %s was cut at %s; it cannot have been burned at %s"),
                       w->to.tag, w->to.cut_at, moment_of(w));
    if (h.answers)
        return tb_fail(j->err, TB_EREFUSED, "burn %s answers a card of a drill: an answer is not changed",
                       id);
    return TB_OK;
}

static tb_rc find_record(struct tb_job *j, const struct tb_void_subject *s, const char *name)
{
    struct moving *w = j->own;
    bool burn = strcmp(s->about, "burn") == 0;
    tb_rc rc;

    w->test = strcmp(s->about, "bench_test") == 0;
    if (strcmp(s->about, "analysis") == 0)
        return tb_fail(
            j->err, TB_EINVAL,
            "analysis %s was compared with the words of lot %s: void it, and record it of the other lot "
            "(tenterbook assay)",
            name, s->lot_ref);
    if (!burn && !w->test)
        return tb_fail(j->err, TB_EINVAL,
                       "%s is not a burn and not a test: only those move to another swatch", name);
    rc = burn ? tb_burn_find(&w->burn, j->b, s->id, j->mem, j->err)
              : tb_bench_test_find(&w->tried, j->b, s->id, j->mem, j->err);
    if (rc == TB_OK)
        rc = tb_swatch_find(&w->from, j->b, burn ? w->burn.tag : w->tried.tag, j->mem, j->err);
    return rc;
}

/* --- both lots, weighed by what will be left of them -------------------------------------------------------------- */

static void pend_new(struct tb_pending *p, struct moving *w)
{
    p->who = w->test ? w->tried.tested_by : w->burn.burned_by;
    if (w->test) {
        p->test = &w->tried;
    } else {
        p->burn = &w->burn;
        p->burns = 1;
    }
}

static tb_rc weigh_ahead(struct tb_job *j, const char *old)
{
    struct moving *w = j->own, of = *w;
    const char *const without[] = { old };
    tb_rc rc = TB_OK;

    /* as it will be recorded: of the other swatch, and a record that corrects nothing */
    of.burn.swatch = of.tried.swatch = w->to.id;
    of.burn.tag = of.tried.tag = w->to.tag;
    of.burn.part = of.tried.part = w->to.part;
    of.burn.bolt_number = of.tried.bolt_number = w->to.bolt_number;
    of.burn.replaces = of.tried.replaces = NULL;
    for (size_t i = 0; i < w->lots && rc == TB_OK; i++) {
        bool to = w->to.lot && strcmp(w->lot[i].id, w->to.lot) == 0;
        bool from = w->from.lot && strcmp(w->lot[i].id, w->from.lot) == 0;
        struct tb_pending p = { .without = without, .withouts = from };

        if (to)
            pend_new(&p, &of);
        rc = tb_remains_weigh(&w->left[i], j, &w->lot[i], &p);
    }
    return rc;
}

static tb_rc find_lots(struct tb_job *j)
{
    struct moving *w = j->own;
    const struct tb_swatch *of[] = { &w->to, &w->from };
    tb_rc rc = TB_OK;

    w->lots = 0;
    for (size_t i = 0; i < 2 && rc == TB_OK; i++) {
        if (!of[i]->lot || (w->lots && strcmp(w->lot[0].ref, of[i]->lot_ref) == 0))
            continue;
        rc = tb_lot_find(&w->lot[w->lots++], j->b, of[i]->lot_ref, j->mem, j->err);
    }
    return rc;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_move_request *r = j->request;
    struct tb_move_outcome *out = j->out;
    struct moving *w = j->own;
    struct tb_void_subject s;
    tb_rc rc;

    *out = (struct tb_move_outcome){ 0 };
    if (!r->why || !*r->why)
        return tb_about(j->err,
                        tb_fail(j->err, TB_EINVAL, "say why it was the wrong swatch: both stay in the book"),
                        "why");
    if ((rc = tb_void_find(&s, j->b, r->burn, NULL, j->mem, j->err)) != TB_OK ||
        (rc = find_record(j, &s, r->burn)) != TB_OK ||
        (rc = tb_swatch_find(&w->to, j->b, r->swatch, j->mem, j->err)) != TB_OK ||
        (rc = check(j, s.id)) != TB_OK || (rc = find_lots(j)) != TB_OK)
        return rc;
    out->was = s.id;
    out->from = w->from.tag;
    /* of two lots: neither supplier reads the other's reference in the journal row of a case */
    j->subject = w->from.lot && w->to.lot && strcmp(w->from.lot, w->to.lot) == 0 ? w->to.tag : s.id;
    return weigh_ahead(j, s.id);
}

/* --- the records -------------------------------------------------------------------------------------------------- */

static tb_rc record_burn(struct tb_job *j)
{
    struct tb_move_outcome *out = j->out;
    const struct moving *w = j->own;
    tb_rc rc;

    out->burn = w->burn;
    out->burn.swatch = w->to.id;
    out->burn.tag = w->to.tag;
    out->burn.part = w->to.part;
    out->burn.bolt_number = w->to.bolt_number;
    out->burn.known = w->to.known;
    out->burn.lot = w->to.lot;
    out->burn.replaces = NULL;
    rc = tb_burn_add(&out->burn, j->b, j->mem, j->err);
    return rc == TB_OK ? tb_photos_copy(j, w->burn.id, out->burn.id) : rc;
}

static tb_rc record_test(struct tb_job *j)
{
    struct tb_move_outcome *out = j->out;
    const struct moving *w = j->own;

    out->test = w->tried;
    out->test.swatch = w->to.id;
    out->test.tag = w->to.tag;
    out->test.part = w->to.part;
    out->test.bolt_number = w->to.bolt_number;
    out->test.replaces = NULL;
    return tb_bench_test_add(&out->test, j->b, j->mem, j->err);
}

/* What the record corrected; NULL: nothing. */
static tb_rc step_back(const char **id, struct tb_job *j)
{
    const struct moving *w = j->own;
    struct tb_bench_test test = { 0 };
    struct tb_burn burn = { 0 };
    tb_rc rc = w->test ? tb_bench_test_find(&test, j->b, *id, j->mem, j->err)
                       : tb_burn_find(&burn, j->b, *id, j->mem, j->err);

    *id = w->test ? test.replaces : burn.replaces;
    return rc;
}

/* It and what it corrected: those were of the wrong swatch too. */
static tb_rc void_chain(struct tb_job *j)
{
    const struct tb_move_request *r = j->request;
    const struct tb_move_outcome *out = j->out;
    const struct moving *w = j->own;
    const char *id = out->was;
    tb_rc rc = TB_OK;

    while (id && rc == TB_OK) {
        struct tb_voiding v = { .about = w->test ? "bench_test" : "burn",
                                .subject = id,
                                .lot = w->from.lot,
                                .why = r->why,
                                .instead = w->test ? out->test.id : out->burn.id };

        if ((rc = tb_voiding_add(&v, j->b, j->mem, j->err)) == TB_OK)
            rc = step_back(&id, j);
    }
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    struct tb_move_outcome *out = j->out;
    struct moving *w = j->own;
    tb_rc rc = w->test ? record_test(j) : record_burn(j);

    if (rc != TB_OK || (rc = void_chain(j)) != TB_OK)
        return rc;
    for (out->lots = 0; out->lots < w->lots && rc == TB_OK; out->lots++) {
        const struct tb_lot *lot = &w->lot[out->lots];

        rc = tb_void_rejudge(&out->lot[out->lots], j, lot->ref, lot->standing, &w->left[out->lots]);
    }
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_move_request, burn, N_("the record")),
    TB_SAYS(tb_move_request, swatch, N_("the swatch")),
    TB_SAYS_WHY(tb_move_request),
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
    tb_remains_free(&own.left[0]);
    tb_remains_free(&own.left[1]);
    return rc;
}

void tb_move_free(struct tb_move_outcome *out)
{
    for (size_t i = 0; i < TB_COUNT(out->lot); i++)
        tb_rejudged_free(&out->lot[i].judged);
}
