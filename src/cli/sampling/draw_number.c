/* draw --bolts N: a plan for so many bolts, and what so many burns prove, without a book. */
#include "cli/sampling/draw.h"

#include <stdlib.h>

/* The lot of --bolts, and how well its burns are taken to show a false bolt. */
static tb_rc read_number(struct tb_plan *p, struct tb_catch *caught, struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    p->bolts = tb_opt_whole(ctx, "bolts", 0, 1, TB_LOT_MOST);
    if ((rc = draw_options(&p->want, ctx, p->bolts, err)) != TB_OK)
        return rc;
    if (p->want.catch_one > 0)
        tb_catch_give(caught, p->want.catch_one);
    else
        tb_catch_assume(caught);
    return TB_OK;
}

/* --- what burns prove --- */

tb_rc draw_proof_of_number(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_proof b = { 0 };
    struct tb_plan p = { 0 };
    struct tb_text t = { 0 };
    tb_rc rc = read_number(&p, &b.caught, ctx, err);

    if (rc != TB_OK)
        return rc;
    b.bolts = p.bolts;
    b.burned = tb_opt_whole(ctx, "burned", 0, 0, p.bolts);
    b.found = tb_opt_whole(ctx, "found", 0, 0, b.burned);
    b.sure = p.want.sure > 0 ? p.want.sure : TB_SURE_DEFAULT;
    if ((rc = ctx->rc) != TB_OK ||
        (rc = tb_proof_most(&b.most_false, b.bolts, b.burned, b.found, b.caught.one, b.sure, err)) != TB_OK ||
        (rc = tb_proof_least(&b.least_false, b.bolts, b.burned, b.found, b.sure, err)) != TB_OK)
        return rc;
    tb_bound_words(&t, &b);
    return tb_print(ctx, tb_json_bound(&b), &t, err);
}

/* --- a plan --- */

/* Which places to cut, where a seed is given; without a book a seed is not made, since nobody would keep it. */
static tb_rc places(long **out, const struct tb_plan *p, const char *seed, struct tb_err *err)
{
    *out = NULL;
    if (!seed || p->cut < 0)
        return TB_OK;
    *out = tb_array(long, (size_t)p->cut + 1);
    return tb_pick(*out, p->bolts, p->cut, seed, "", err);
}

static void add_places(json_t *j, struct tb_text *t, const struct tb_plan *p, const long *place,
                       const char *seed)
{
    json_t *list = json_array();

    tb_text_say(t, "\nDrawn with seed %s (places in the list of bolts, from 1):\n", seed);
    for (long i = 0; i < p->cut; i++) {
        tb_text_addf(t, "%ld%s", place[i], i + 1 == p->cut || i % 10 == 9 ? "\n" : " ");
        tb_json_push(list, json_integer(place[i]));
    }
    tb_json_put(j, "seed", json_string(seed));
    tb_json_put(j, "places", list);
}

static tb_rc print_plan(struct tb_ctx *ctx, const struct tb_plan *p, const struct tb_catch *caught,
                        const long *place, const char *seed, struct tb_err *err)
{
    struct tb_text t = { 0 };
    json_t *j = NULL;
    tb_rc rc = tb_plan_words(&t, p, caught, TB_HANDLING_ANY, err);

    if (rc == TB_OK)
        rc = tb_json_plan(&j, p, caught, err);
    if (rc == TB_OK && place)
        add_places(j, &t, p, place, seed);
    if (rc == TB_OK)
        return tb_print(ctx, j, &t, err);
    tb_text_free(&t);
    return rc;
}

tb_rc draw_plan_of_number(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *seed = tb_opt(ctx, "seed");
    struct tb_plan p = { 0 };
    struct tb_catch caught;
    struct tb_outset curve = { 0 };
    long *place = NULL;
    tb_rc rc = read_number(&p, &caught, ctx, err);

    if (rc == TB_OK)
        rc = tb_plan_work_out(&p, err);
    if (rc == TB_OK)
        rc = places(&place, &p, seed, err);
    if (rc == TB_OK)
        rc = draw_curve_begin(&curve, ctx, err);
    rc = draw_curve_end(&curve, rc, &p, err);
    ctx->done = rc == TB_OK && tb_opt_on(ctx, "curve");
    if (rc == TB_OK)
        rc = print_plan(ctx, &p, &caught, place, seed, err);
    free(place);
    return rc;
}
