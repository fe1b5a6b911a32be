/* draw on lots of the book: which bolts to cut, recorded with the seed. */
#include "cli/sampling/draw.h"

void draw_print_bolts(FILE *out, const struct tb_draw_outcome *o)
{
    /* the parts stand beside each bolt: warp and weft that are declared apart are two swatches */
    const char *const head[] = { _("LOT"), _("BOLT"), _("METRES"), _("BURN") };
    struct tb_table t;

    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < o->n; i++) {
        tb_table_cell(&t, "%s", o->drawn[i].lot_ref);
        tb_table_cell(&t, "%s", o->drawn[i].number);
        tb_table_cell(&t, "%.1f", o->drawn[i].metres);
        tb_table_cell(&t, "%s", o->drawn[i].parts);
    }
    (void)fputc('\n', out);
    tb_table_print(&t, out, "llrl", 40);
    tb_say(out,
           _n("%zu swatch to burn. Seed %s draws the same bolt again.\n",
              "%zu swatches to burn. Seed %s draws the same bolts again.\n", o->swatches),
           o->swatches, o->seed);
    if (!o->recorded)
        tb_say(out, "Not recorded.\n");
}

/* What inspection the suppliers' history asks for. */
static void say_history(FILE *out, const struct tb_draw_outcome *o)
{
    bool reduced = o->suppliers > 0;

    for (size_t i = 0; i < o->suppliers; i++) {
        const struct tb_inspected *s = &o->inspected[i];

        reduced = reduced && s->now == TB_REDUCED;
        if (s->now == TB_REDUCED)
            tb_say(out, "%s's history allows reduced inspection: %s.\n", s->supplier, _(s->why));
        else if (s->why)
            tb_say(out, "%s inspection after %s's history: %s.\n", tb_inspection_key(s->now), s->supplier,
                   _(s->why));
    }
    if (reduced)
        tb_say(out, "This plan is the normal one; --inspection reduced takes the other.\n");
}

/* Other draws of the same bolts, and a seed given by hand: whoever could choose among several proves nothing. */
static void say_before(FILE *out, const struct tb_draw_outcome *o)
{
    const struct tb_draw *last = o->last;

    if (last)
        tb_say(out,
               _n("They were drawn from before: %zu draw, by %s on %.10s with seed %s. Every draw is in the "
                  "journal.\n",
                  "They were drawn from before: %zu draws, the last by %s on %.10s with seed %s. Every draw "
                  "is in the journal.\n",
                  o->befores),
               o->befores, last->drawn_by, last->drawn_at, last->seed);
    if (o->seed_from == TB_SEED_GIVEN)
        tb_say(out, "The seed was given by hand: whoever tries several can choose among the bolts.\n");
}

/* Lots of which a burn shows too little, and what else can be done with them. */
static void say_left(FILE *out, const struct tb_draw_outcome *o)
{
    char chance[TB_PERCENT];

    for (size_t i = 0; i < o->lefts; i++)
        tb_say(
            out,
            "Lot %s, declared \"%s\", is left out: a burn shows a false bolt of it with a chance of only %s "
            "(%s), and with it the draw could not reach what is asked.\n",
            o->left[i].lot, o->left[i].declared, tb_percent(chance, o->left[i].caught.one),
            o->left[i].caught.words);
    if (o->lefts)
        tb_say(out,
               "Its bolts are drawn by themselves: tenterbook draw %s --every, or --share F; --against FIBRE "
               "names another swap, --catch P says what your burns and tests show. Where burning shows too "
               "little, a bench test or a laboratory shows more.\n",
               o->left[0].lot);
}

static tb_rc print_draw(struct tb_ctx *ctx, const struct tb_draw_outcome *o, int64_t step, struct tb_err *err)
{
    struct tb_text clock = { 0 };
    tb_rc rc = draw_say(ctx->out, &o->plan, &o->caught, err);

    if (rc != TB_OK)
        return rc;
    say_history(ctx->out, o);
    say_left(ctx->out, o);
    if (o->plan.cut >= 0) {
        draw_print_bolts(ctx->out, o);
        say_before(ctx->out, o);
    }
    /* which draw came first is what its proof rests on */
    tb_clock_step_words(&clock, step);
    (void)fputs(tb_text_str(&clock), ctx->out);
    tb_text_free(&clock);
    if (o->lefts)
        tb_say(ctx->out, "What its burns prove: tenterbook draw %s --proof\n", o->about);
    return TB_OK;
}

/* Nothing was drawn: whoever does not read the sentence above must not take it for done. */
static tb_rc refuse_empty(const struct tb_draw_outcome *o, struct tb_err *err)
{
    char chance[TB_PERCENT];

    if (o->plan.cut >= 0)
        return TB_OK;
    return tb_fail(
        err, TB_EREFUSED,
        "nothing was drawn from %s and nothing is recorded: a burn shows a false bolt with a chance "
        "of only %s (%s). --every cuts all bolts and --share F a part of them, without that "
        "promise; --false D asks for less, --against FIBRE names another swap, --catch P says what "
        "your burns and tests show",
        o->about, tb_percent(chance, o->caught.one), o->caught.words);
}

#define DRAWN(member, key) TB_JSON_AS(struct tb_drawn, member, key)
TB_JSON_MEMBERS(drawn_members, DRAWN(lot_ref, "lot"), DRAWN(number, "bolt"), DRAWN(metres, "metres"),
                DRAWN(parts, "parts"));

#define LEFT(member, key) TB_JSON_AS(struct tb_left_out, member, key)
TB_JSON_MEMBERS(left_members, LEFT(lot, "lot"), LEFT(declared, "declared"), LEFT(caught.one, "catch"),
                LEFT(caught.words, "catch_from"));

/* Where no number of bolts is enough, "drawn" is an empty list and "recorded" is false. */
static tb_rc print_json(struct tb_ctx *ctx, const struct tb_draw_outcome *o, int64_t step, struct tb_err *err)
{
    static const char *const kinds[] = { "made", "earlier draw", "given" };
    json_t *j;
    tb_rc rc = draw_json(&j, &o->plan, &o->caught, err);

    if (rc != TB_OK)
        return rc;
    tb_json_put(j, "about", tb_json_text(o->about));
    tb_json_put(j, "seed", json_string(o->seed));
    tb_json_put(j, "seed_from", json_string(kinds[o->seed_from]));
    tb_json_put(j, "drawn_before", json_integer((json_int_t)o->befores));
    tb_json_put(j, "recorded", json_boolean(o->recorded));
    if (step)
        tb_json_put(j, "clock_step_s", json_integer((json_int_t)step));
    tb_json_put(j, "drawn", tb_json_all(drawn_members, o->drawn, o->n));
    tb_json_put(j, "left_out", tb_json_all(left_members, o->left, o->lefts));
    return tb_print_json(ctx, j, err);
}

static tb_rc draw_now(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_request r = { .name = (const char *const *)ctx->argv,
                                 .names = ctx->argc,
                                 .inspection_chosen = tb_opt_on(ctx, "inspection"),
                                 .against = tb_opt(ctx, "against"),
                                 .seed = tb_opt(ctx, "seed") };
    struct tb_draw_outcome o = { 0 };
    struct tb_outset curve = { 0 };
    struct tb_recorded done = { 0 };
    tb_rc rc;

    if (r.against && tb_opt_on(ctx, "catch"))
        return tb_misuse(err, "--catch and --against both say how well a burn shows the swap; give one");
    /* begun first: a draw that is recorded and whose curve cannot be written would have to be made again */
    if ((rc = draw_options(&r.want, ctx, TB_LOT_MOST, err)) != TB_OK ||
        (rc = draw_curve_begin(&curve, ctx, err)) != TB_OK)
        return tb_outset_end(&curve, rc, err);
    if (tb_opt_on(ctx, "dry-run"))
        rc = tb_draw_try(&o, ctx->book, &r, &ctx->mem, err);
    else
        rc = tb_act_draw(&o, &ctx->actor, &r, &ctx->mem, err);
    if (rc != TB_OK)
        return tb_outset_end(&curve, rc, err);
    if (draw_curve_end(&curve, rc, &o.plan, err) != TB_OK)
        return o.recorded ? TB_EAFTER : TB_EIO;
    if (o.recorded)
        tb_book_recorded(&done, ctx->book);
    rc = ctx->json ? print_json(ctx, &o, done.step, err) : print_draw(ctx, &o, done.step, err);
    return rc == TB_OK ? refuse_empty(&o, err) : rc;
}

tb_rc draw_on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    if (tb_opt_on(ctx, "again") && tb_opt_on(ctx, "proof"))
        return tb_misuse(err, "--again and --proof are two questions; ask one");
    if ((rc = tb_ctx_book(ctx, err)) != TB_OK)
        return rc;
    if (tb_opt_on(ctx, "again"))
        rc = draw_anew(ctx, err);
    else if (tb_opt_on(ctx, "proof"))
        rc = draw_prove(ctx, err);
    else
        rc = draw_now(ctx, err);
    /* whoever names a lot twice has mistyped the command; the act only knows that it is named twice */
    return rc == TB_EEXISTS ? TB_EUSAGE : rc;
}
