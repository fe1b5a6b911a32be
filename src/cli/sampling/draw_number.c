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

/* What was burned of a lot, and the bound that comes of it. */
struct bound {
    long bolts, burned, found, most;
    double sure;
};

static void say_proof(FILE *out, const struct bound *b, const struct tb_catch *caught)
{
    char share[TB_PERCENT], conf[TB_PERCENT];
    long bolts = b->bolts;

    (void)tb_percent(share, (double)b->most / (double)bolts);
    (void)tb_percent(conf, b->sure);
    if (b->found == 0)
        tb_say(out,
               _n("%ld of %ld bolt was burned and none was shown false.\n",
                  "%ld of %ld bolts were burned and none was shown false.\n", bolts),
               b->burned, bolts);
    else
        tb_say(out,
               _n("%ld of %ld bolt was burned and %ld shown false.\n",
                  "%ld of %ld bolts were burned and %ld of them were shown false.\n", bolts),
               b->burned, bolts, b->found);
    /* a certainty is claimed only where every bolt was burned, and by burns that miss none */
    if (b->most == 0 && b->burned == bolts && caught->one >= 1)
        tb_say(out, "Every bolt was looked at: none of the lot is false.\n");
    else if (b->most == 0)
        tb_say(out, "With a confidence of %s none of the lot is false.\n", conf);
    else
        tb_say(out,
               _n("With a confidence of %s no more than %ld of the %ld bolt (%s) is false.\n",
                  "With a confidence of %s no more than %ld of the %ld bolts (%s) are false.\n", bolts),
               conf, b->most, bolts, share);
    tb_say(out, "It holds for burns that show a false bolt with a chance of %s (%s).\n",
           tb_percent(share, caught->one), caught->words);
}

tb_rc draw_proof_of_number(struct tb_ctx *ctx, struct tb_err *err)
{
    struct bound b = { 0 };
    struct tb_plan p = { 0 };
    struct tb_catch caught;
    tb_rc rc;

    if ((rc = read_number(&p, &caught, ctx, err)) != TB_OK)
        return rc;
    b.bolts = p.bolts;
    b.burned = tb_opt_whole(ctx, "burned", 0, 0, p.bolts);
    b.found = tb_opt_whole(ctx, "found", 0, 0, b.burned);
    b.sure = p.want.sure > 0 ? p.want.sure : TB_SURE_DEFAULT;
    if ((rc = ctx->rc) != TB_OK ||
        (rc = tb_proof_most(&b.most, b.bolts, b.burned, b.found, caught.one, b.sure, err)) != TB_OK)
        return rc;
    if (!ctx->json) {
        say_proof(ctx->out, &b, &caught);
        return TB_OK;
    }
    return tb_print_json(ctx,
                         json_pack("{s:I, s:I, s:I, s:f, s:f, s:s, s:I, s:f}", "bolts", (json_int_t)b.bolts,
                                   "burned", (json_int_t)b.burned, "found", (json_int_t)b.found, "sure",
                                   b.sure, "catch", caught.one, "catch_from", caught.words, "most_false",
                                   (json_int_t)b.most, "most_share", (double)b.most / (double)b.bolts),
                         err);
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

static void say_places(FILE *out, const struct tb_plan *p, const long *place, const char *seed)
{
    tb_say(out, "\nDrawn with seed %s (places in the list of bolts, from 1):\n", seed);
    for (long i = 0; i < p->cut; i++)
        (void)fprintf(out, "%ld%s", place[i], i + 1 == p->cut ? "\n" : i % 10 == 9 ? "\n" : " ");
}

static tb_rc print_plan(struct tb_ctx *ctx, const struct tb_plan *p, const struct tb_catch *caught,
                        const long *place, const char *seed, struct tb_err *err)
{
    json_t *o, *list;
    tb_rc rc;

    if (!ctx->json) {
        if ((rc = draw_say(ctx->out, p, caught, err)) == TB_OK && place)
            say_places(ctx->out, p, place, seed);
        return rc;
    }
    if ((rc = draw_json(&o, p, caught, err)) != TB_OK)
        return rc;
    if (place) {
        list = json_array();
        for (long i = 0; i < p->cut; i++)
            tb_json_push(list, json_integer(place[i]));
        tb_json_put(o, "seed", json_string(seed));
        tb_json_put(o, "places", list);
    }
    return tb_print_json(ctx, o, err);
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
