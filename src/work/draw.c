/* Drawing: bolts of one or more lots at random, enough of them for what is asked, recorded with the seed. */
#include "work/draw.h"

#include "base/say.h"
#include "work/act.h"
#include "work/seed.h"
#include "work/standing.h"

#include <math.h>
#include <string.h>

/* Whether an earlier lot of these is of the same supplier: its history counts once. */
static bool asked_before(const struct tb_piles *p, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (strcmp(p->pile[i].lot.supplier, p->pile[at].lot.supplier) == 0)
            return true;
    return false;
}

/* Of several suppliers the strictest counts. Reduced inspection is for a person to choose: the history only allows it. */
static tb_rc inspection_by_history(struct tb_job *j, struct tb_plan_wish *want, const struct tb_piles *p)
{
    struct tb_draw_outcome *out = j->out;

    want->inspection = TB_NORMAL; /* whatever stood there was not chosen by a person */
    out->inspected = tb_arena_alloc(j->mem, (p->n + 1) * sizeof *out->inspected);
    for (size_t i = 0; i < p->n; i++) {
        const struct tb_lot *lot = &p->pile[i].lot;
        struct tb_switching state;
        tb_rc rc;

        if (asked_before(p, i))
            continue;
        if ((rc = tb_supplier_standing(&state, j->b, lot->supplier, j->mem, j->err)) != TB_OK)
            return rc;
        if (state.now == TB_TIGHTENED)
            want->inspection = TB_TIGHTENED;
        out->inspected[out->suppliers++] = (struct tb_inspected){ lot->supplier_name, state.now, state.why };
    }
    return TB_OK;
}

/*
 * Bolts that must not be burned prove nothing by burns, and would be counted as burned; those that must not be cut would be counted
 * as to cut: beside others they are left out, to be drawn by themselves.
 */
static tb_rc leave_out_unburnable(struct tb_job *j, struct tb_piles *p)
{
    struct tb_draw_outcome *out = j->out;
    const char **ref = tb_arena_alloc(j->mem, (p->n + 1) * sizeof *ref);
    enum tb_handling least = TB_HANDLING_LABORATORY;
    size_t n = 0;
    tb_rc rc;

    out->handling = tb_piles_handling(p);
    for (size_t i = 0; i < p->n; i++)
        least = p->pile[i].handling < least ? p->pile[i].handling : least;
    out->left = tb_arena_alloc(j->mem, (p->n + 1) * sizeof *out->left);
    for (size_t i = 0; i < p->n; i++) {
        const struct tb_pile *pile = &p->pile[i];

        if (pile->handling == least)
            ref[n++] = pile->lot.ref;
        else
            out->left[out->lefts++] =
                (struct tb_left_out){ pile->lot.ref, pile->lot.declared, pile->caught, pile->handling };
    }
    if (!out->lefts)
        return TB_OK;
    rc = tb_piles_gather(p, j->b, ref, n, j->mem, j->err);
    return rc == TB_OK ? tb_piles_to_draw(p, j->b, NULL, j->mem, j->err) : rc;
}

/* What is asked, with the inspection that the book knows of; then the plan. */
static tb_rc plan_for(struct tb_job *j, const struct tb_piles *p)
{
    const struct tb_draw_request *r = j->request;
    struct tb_draw_outcome *out = j->out;
    struct tb_plan *plan = &out->plan;
    tb_rc rc = TB_OK;

    *plan = (struct tb_plan){ .want = r->want, .bolts = p->bolts, .strata = p->strata, .n_strata = p->n };
    plan->want.catch_one = out->caught.one;
    if (r->want.kind == TB_PLAN_ACCEPTANCE && !r->inspection_chosen)
        rc = inspection_by_history(j, &plan->want, p);
    return rc == TB_OK ? tb_plan_work_out(plan, j->err) : rc;
}

/*
 * One lot whose burns show next to nothing must not keep the others from being drawn from: lots are left out, those that
 * show least first, until the rest reaches what is asked. Where none does, everything stays as it was.
 */
static tb_rc leave_out(struct tb_job *j, struct tb_piles *p)
{
    const struct tb_draw_request *r = j->request;
    struct tb_draw_outcome *out = j->out, all = *out;
    struct tb_piles from = *p, rest;
    struct tb_left_out *left = tb_arena_alloc(j->mem, (p->n + out->lefts + 1) * sizeof *left);
    size_t lefts = out->lefts;
    tb_rc rc;

    for (size_t i = 0; i < lefts; i++)
        left[i] = out->left[i];
    while (out->plan.cut < 0) {
        if ((rc = tb_piles_without_least(&rest, left, &lefts, &from, j->b, j->mem, j->err)) != TB_OK)
            return rc;
        if (rest.n == 0 || r->want.bad > rest.bolts) {
            *out = all;
            return TB_OK;
        }
        out->caught = *tb_catch_least(&rest);
        if ((rc = plan_for(j, &rest)) != TB_OK)
            return rc;
        from = rest;
    }
    *p = from;
    out->left = left;
    out->lefts = lefts;
    return TB_OK;
}

/* The chance to catch is a person's, or the model's; that takes a simulation, made only where nobody gave one. */
static tb_rc work_out(struct tb_job *j, struct tb_piles *p)
{
    const struct tb_draw_request *r = j->request;
    struct tb_draw_outcome *out = j->out;
    bool given = r->want.catch_one > 0;
    tb_rc rc = given ? TB_OK : tb_catch_each(p, r->against, j->b, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    if (given)
        tb_catch_give(&out->caught, r->want.catch_one);
    else
        out->caught = *tb_catch_least(p);
    rc = plan_for(j, p);
    return rc == TB_OK && out->plan.cut < 0 && !given ? leave_out(j, p) : rc;
}

/*
 * Where the seed comes from. One that looks made and belongs to no draw was given to pass for one that is made; and
 * whoever tries until he likes the bolts gets seeds that say so.
 */
static tb_rc choose_seed(struct tb_job *j, const struct tb_piles *p)
{
    const char *given = ((const struct tb_draw_request *)j->request)->seed;
    const char *mark = j->own;
    struct tb_draw_outcome *out = j->out;

    out->seed = given ? tb_arena_strdup(j->mem, given)
                      : tb_arena_printf(j->mem, "%s%s", mark, tb_seed_make(j->mem) + strlen(mark));
    out->seed_from = given ? TB_SEED_GIVEN : TB_SEED_MADE;
    for (size_t i = 0; i < p->befores && given; i++)
        if (strcmp(p->before[i].seed, given) == 0)
            out->seed_from = TB_SEED_EARLIER;
    if (out->seed_from == TB_SEED_GIVEN && !tb_seed_by_hand(given))
        return tb_about(j->err,
                        tb_fail(j->err, TB_EREFUSED,
                                "seed %s looks like one that was made for a draw, and no draw of these bolts "
                                "has it; leave the seed out and one is made",
                                given),
                        "seed");
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_draw_request *r = j->request;
    struct tb_draw_outcome *out = j->out;
    struct tb_piles p;
    tb_rc rc;

    *out = (struct tb_draw_outcome){ 0 };
    if (r->against && r->want.catch_one > 0)
        return tb_fail(j->err, TB_EINVAL,
                       "a chance to catch and the swap at issue both say how well a burn shows it; give one");
    if ((rc = tb_piles_gather(&p, j->b, r->name, r->names, j->mem, j->err)) != TB_OK ||
        (rc = tb_piles_to_draw(&p, j->b, NULL, j->mem, j->err)) != TB_OK)
        return rc;
    out->apart = p.apart;
    if ((rc = leave_out_unburnable(j, &p)) != TB_OK || (rc = work_out(j, &p)) != TB_OK ||
        (rc = choose_seed(j, &p)) != TB_OK)
        return rc;
    out->about = j->subject = p.about;
    out->before = p.before;
    out->befores = p.befores;
    out->last = tb_piles_last_draw(&p);
    j->idle = out->plan.cut < 0; /* a draw that cannot show what is asked is told, and is none */
    if (!j->idle && (rc = tb_piles_pick(&p, out->seed, j->mem, j->err)) == TB_OK)
        tb_piles_drawn(out, &p, j->mem);
    return rc;
}

/* Everything that the statement of the draw rests on is recorded: a reader can compute its chance again. */
static tb_rc write(struct tb_job *j)
{
    struct tb_draw_outcome *out = j->out;
    const struct tb_plan *p = &out->plan;
    bool table = p->want.kind == TB_PLAN_ACCEPTANCE;
    struct tb_draw r = { .about = out->about,
                         .plan = tb_plan_key(p->want.kind),
                         .bolts = p->bolts,
                         .cut = p->cut,
                         .bad = p->want.bad,
                         .chance = p->chance,
                         .sure = p->want.sure,
                         .catch_one = p->want.catch_one,
                         .catch_from = out->caught.words,
                         .aql = table ? p->want.aql : (double)NAN,
                         .level = table ? tb_level_key(p->want.level) : "",
                         .inspection = table ? tb_inspection_key(p->want.inspection) : "",
                         .accept = table ? p->acceptance.accept : 0,
                         .refuse = table ? p->acceptance.refuse : 1,
                         .seed = out->seed };
    const char **id = tb_arena_alloc(j->mem, (out->n + 1) * sizeof *id);
    tb_rc rc;

    for (size_t i = 0; i < out->n; i++)
        id[i] = out->drawn[i].bolt;
    rc = tb_draw_add(&r, j->b, id, out->n, j->mem, j->err);
    out->recorded = rc == TB_OK;
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS_ALL(tb_draw_request, name, names, N_("a name")),
    TB_SAYS(tb_draw_request, against, N_("the swap at issue")),
    TB_SAYS(tb_draw_request, seed, N_("the seed")),
    TB_SAYS_NO_MORE,
};

static const struct tb_act act = {
    .verb = TB_VERB_DRAW, .plan = plan, .write = write, .size = sizeof(struct tb_draw_request), .said = said
};

tb_rc tb_act_draw(struct tb_draw_outcome *out, const struct tb_actor *actor,
                  const struct tb_draw_request *request, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = "" };

    return tb_act_do(&act, &job, actor, err);
}

tb_rc tb_draw_try(struct tb_draw_outcome *out, struct tb_book *b, const struct tb_draw_request *request,
                  struct tb_arena *mem, struct tb_err *err)
{
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = "try-" };

    return tb_act_try_out(&act, &job, b, err);
}
