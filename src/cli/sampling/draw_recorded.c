/* draw --again and --proof: a recorded draw drawn again, and what its burns prove so far. */
#include "cli/sampling/draw.h"

/* --- drawn again --- */

/* What a reader has to know of the draw before he trusts it: others beside it, and a seed given by hand. */
static void say_draw_itself(FILE *out, const struct tb_draw *r, size_t draws)
{
    if (draws > 1)
        tb_say(out, "%zu draws of these bolts are in the journal; this is the one of %.10s by %s.\n", draws,
               r->drawn_at, r->drawn_by);
    if (tb_seed_by_hand(r->seed))
        tb_say(out, "Its seed %s was given by hand: whoever tries several can choose among the bolts.\n",
               r->seed);
}

tb_rc draw_anew(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_outcome o;
    struct tb_draw r = { 0 };
    tb_rc rc = tb_draw_again(&o, &r, ctx->book, (const char *const *)ctx->argv, ctx->argc, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:s, s:s, s:b, s:s, s:s, s:I}", "about", o.about, "seed", r.seed,
                                       "same", 1, "drawn_at", r.drawn_at, "drawn_by", r.drawn_by, "cut",
                                       (json_int_t)r.cut),
                             err);
    tb_say(ctx->out,
           _n("Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolt.\n",
              "Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolts.\n", o.n),
           r.drawn_by, r.drawn_at, o.n);
    draw_print_bolts(ctx->out, &o);
    say_draw_itself(ctx->out, &r, o.befores);
    return TB_OK;
}

/* --- what the burns so far prove --- */

/* In metres too: a claim is made for a length, and the longest bolts may be the false ones. */
static void say_bound(FILE *out, const struct tb_draw_proof *p)
{
    char conf[TB_PERCENT], share[TB_PERCENT];

    (void)tb_percent(conf, p->sure);
    (void)tb_percent(share, p->most_metres / p->metres);
    tb_say(out,
           _n("With a confidence of %s no more than %ld of the %ld bolt delivered is false, and no more than "
              "%.1f of the %.1f m (%s).\n",
              "With a confidence of %s no more than %ld of the %ld bolts delivered are false, and they hold "
              "no more than %.1f of the %.1f m (%s).\n",
              p->bolts),
           conf, p->most_false, p->bolts, p->most_metres, p->metres, share);
}

static void say_proof(FILE *out, const struct tb_draw_proof *p)
{
    char chance[TB_PERCENT];
    long unburnt = p->drawn - p->burned;

    if (p->burned == 0) {
        tb_say(out,
               _n("The %ld bolt drawn was not burned yet: nothing is proved.\n",
                  "None of the %ld bolts drawn was burned yet: nothing is proved.\n", p->drawn),
               p->drawn);
        return;
    }
    tb_say(out,
           _n("Of the %ld bolt drawn at random %ld was burned, and %ld shown false.\n",
              "Of the %ld bolts drawn at random %ld were burned, and %ld shown false.\n", p->drawn),
           p->drawn, p->burned, p->found);
    if (p->besides > 0)
        tb_say(out,
               _n("%ld bolt that this draw did not take was shown false too.\n",
                  "%ld bolts that this draw did not take were shown false too.\n", p->besides),
               p->besides);
    say_bound(out, p);
    if (unburnt > 0)
        tb_say(out,
               _n("%ld of the drawn bolts is not burned yet; the rest are taken to be as good as drawn at "
                  "random.\n",
                  "%ld of the drawn bolts are not burned yet; the rest are taken to be as good as drawn at "
                  "random.\n",
                  unburnt),
               unburnt);
    tb_say(
        out,
        "It holds for this delivery only, and for burns that show a false bolt with a chance of %s (%s).\n",
        tb_percent(chance, p->caught.one), p->caught.words);
    say_draw_itself(out, &p->draw, p->befores);
}

#define PROOF(member, key) TB_JSON_AS(struct tb_draw_proof, member, key)
TB_JSON_MEMBERS(proof_members, PROOF(about, "about"), PROOF(bolts, "bolts"), PROOF(drawn, "drawn"),
                PROOF(burned, "burned"), PROOF(found, "found"), PROOF(besides, "found_besides"),
                PROOF(befores, "draws"), PROOF(draw.seed, "seed"), PROOF(sure, "sure"),
                PROOF(caught.one, "catch"), PROOF(most_false, "most_false"),
                PROOF(most_metres, "most_metres"), PROOF(metres, "metres"));

tb_rc draw_prove(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_proof_request r = { .name = (const char *const *)ctx->argv, .names = ctx->argc };
    struct tb_plan_wish want; /* of the options of a plan, a proof hears only --sure and --catch */
    struct tb_draw_proof p;
    tb_rc rc = draw_options(&want, ctx, TB_LOT_MOST, err);

    r.sure = want.sure;
    r.catch_one = want.catch_one;
    if (rc != TB_OK || (rc = tb_draw_prove(&p, ctx->book, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_of(proof_members, &p), err);
    say_proof(ctx->out, &p);
    return TB_OK;
}
