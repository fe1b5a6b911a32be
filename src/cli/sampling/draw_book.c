/* draw on lots of the book: which bolts to cut, recorded with the seed; drawn again; what their burns prove. */
#include "cli/sampling/draw.h"

#include <math.h>

/* Computed from kilograms, in brackets; a dash where nobody knows it. What they mean is said below the table. */
static void metres_cell(struct tb_table *t, const struct tb_drawn *d)
{
    if (isnan(d->metres))
        tb_table_cell(t, "-");
    else
        tb_table_cell(t, d->derived ? "(%.1f)" : "%.1f", d->metres);
}

static void say_metres(FILE *out, const struct tb_draw_outcome *o)
{
    bool derived = false, unknown = false;

    for (size_t i = 0; i < o->n; i++) {
        derived = derived || o->drawn[i].derived;
        unknown = unknown || isnan(o->drawn[i].metres);
    }
    if (derived)
        tb_say(out, "Metres in brackets are computed from kilograms, width and mass per area.\n");
    if (unknown)
        tb_say(out, "A dash: the bolt was counted in kilograms, and its length is not known.\n");
}

/* The parts stand beside each bolt: warp and weft that are declared apart are two swatches. */
static void burn_table(FILE *out, const struct tb_draw_outcome *o)
{
    const char *const head[] = { _("LOT"), _("BOLT"), _("METRES"), _("BURN") };
    struct tb_table t;

    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < o->n; i++) {
        tb_table_texts(&t, o->drawn[i].lot_ref, o->drawn[i].number);
        metres_cell(&t, &o->drawn[i]);
        tb_table_cell(&t, "%s", o->drawn[i].gone ? _("void since") : o->drawn[i].parts);
    }
    tb_table_print(&t, out, "llrl", 40);
    say_metres(out, o);
}

/* Where not all may be burned, no column says so of the others. */
static void handling_table(FILE *out, const struct tb_draw_outcome *o)
{
    const char *const head[] = { _("LOT"), _("BOLT"), _("METRES"), _("PART"), _("WHAT TO DO") };
    struct tb_table t;

    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < o->n; i++) {
        enum tb_handling h = o->drawn[i].handling;

        tb_table_texts(&t, o->drawn[i].lot_ref, o->drawn[i].number);
        metres_cell(&t, &o->drawn[i]);
        tb_table_texts(&t, o->drawn[i].parts,
                       h == TB_HANDLING_ANY         ? _("burn it")
                       : h == TB_HANDLING_FLAMELESS ? _("do not burn it: test it without a flame")
                                                    : _("do not cut it: keep it closed"));
    }
    tb_table_print(&t, out, "llrll", 50);
    say_metres(out, o);
}

/* Bolts that were drawn, one a line, and how to draw them again. */
static void print_bolts(FILE *out, const struct tb_draw_outcome *o)
{
    bool all = !(o->handling & ~(1u << TB_HANDLING_ANY));

    (void)fputc('\n', out);
    (all ? burn_table : handling_table)(out, o);
    if (all)
        tb_say(out,
               _n("%zu swatch to burn. Seed %s draws the same bolt again.\n",
                  "%zu swatches to burn. Seed %s draws the same bolts again.\n", o->swatches),
               o->swatches, o->seed);
    else if (o->swatches == 0)
        tb_say(out, "Seed %s draws the same bolts again.\n", o->seed);
    else
        tb_say(out,
               _n("%zu swatch to cut, for what is said beside its bolt. Seed %s draws the same bolt again.\n",
                  "%zu swatches to cut, for what is said beside the bolts. Seed %s draws the same bolts "
                  "again.\n",
                  o->swatches),
               o->swatches, o->seed);
    if (!o->recorded)
        tb_say(out, "Not recorded.\n");
}

/* Lots of which a burn shows too little, and what else can be done with them. */
static void left_words(struct tb_text *out, const struct tb_draw_outcome *o)
{
    char chance[TB_PERCENT];

    for (size_t i = 0; i < o->lefts; i++)
        if (o->left[i].handling != TB_HANDLING_ANY)
            tb_text_say(out,
                        "Lot %s, declared \"%s\", is left out: its bolts must not be burned, so that no burn "
                        "proves anything of them.\n",
                        o->left[i].lot, o->left[i].declared);
        else
            tb_text_say(out,
                        "Lot %s, declared \"%s\", is left out: a burn shows a false bolt of it with a chance "
                        "of only %s "
                        "(%s), and with it the draw could not reach what is asked.\n",
                        o->left[i].lot, o->left[i].declared, tb_percent(chance, o->left[i].caught.one),
                        o->left[i].caught.words);
    if (o->lefts)
        tb_text_say(
            out,
            "Its bolts are drawn by themselves: tenterbook draw %s --every, or --share F; --against FIBRE "
            "names another swap, --catch P says what your burns and tests show. Where burning shows too "
            "little, a bench test or a laboratory shows more.\n",
            o->left[0].lot);
}

static tb_rc print_draw(struct tb_ctx *ctx, const struct tb_draw_outcome *o, int64_t step, struct tb_err *err)
{
    struct tb_text t = { 0 };
    enum tb_handling most = TB_HANDLING_ANY;
    tb_rc rc;

    while (most < TB_HANDLING_LABORATORY && !(o->handling & 1u << most))
        most++;
    rc = tb_plan_words(&t, &o->plan, &o->caught, most, err);

    if (rc != TB_OK)
        return rc;
    if (tb_history_words(&t, o))
        tb_text_say(&t, "This plan is the normal one; --inspection reduced takes the other.\n");
    tb_apart_words(&t, o);
    left_words(&t, o);
    tb_handling_words(&t, o);
    tb_print_words(ctx, &t);
    if (o->plan.cut >= 0) {
        print_bolts(ctx->out, o);
        tb_draws_before_words(&t, o);
    }
    tb_clock_step_words(&t, step); /* which draw came first is what its proof rests on */
    if (o->lefts)
        tb_text_say(&t, "What its burns prove: tenterbook draw %s --proof\n", o->about);
    tb_print_words(ctx, &t);
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

static tb_rc print_json(struct tb_ctx *ctx, const struct tb_draw_outcome *o, int64_t step, struct tb_err *err)
{
    json_t *j;
    tb_rc rc = tb_json_draw(&j, o, step, err);

    return rc == TB_OK ? tb_print_json(ctx, j, err) : rc;
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

/* --again: a recorded draw drawn again. */
static tb_rc anew(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_outcome o;
    struct tb_draw r = { 0 };
    struct tb_text t = { 0 };
    tb_rc rc = tb_draw_again(&o, &r, ctx->book, (const char *const *)ctx->argv, ctx->argc, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_draw_again(&r, &o), err);
    tb_say(ctx->out,
           _n("Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolt.\n",
              "Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolts.\n", o.n),
           r.drawn_by, r.drawn_at, o.n);
    print_bolts(ctx->out, &o);
    for (size_t i = 0; i < o.n; i++)
        tb_instead_words(&t, &o.drawn[i]);
    tb_draw_caveat_words(&t, &r, o.befores);
    tb_print_words(ctx, &t);
    return TB_OK;
}

/* --proof: what its burns prove so far. */
static tb_rc prove(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_proof_request r = { .name = (const char *const *)ctx->argv, .names = ctx->argc };
    struct tb_plan_wish want; /* of the options of a plan, a proof hears only --sure and --catch */
    struct tb_draw_proof p;
    struct tb_text t = { 0 };
    tb_rc rc = draw_options(&want, ctx, TB_LOT_MOST, err);

    r.sure = want.sure;
    r.catch_one = want.catch_one;
    if (rc != TB_OK || (rc = tb_draw_prove(&p, ctx->book, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_proof_words(&t, &p);
    return tb_print(ctx, tb_json_proof(&p), &t, err);
}

tb_rc draw_on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    if (tb_opt_on(ctx, "again") && tb_opt_on(ctx, "proof"))
        return tb_misuse(err, "--again and --proof are two questions; ask one");
    if ((rc = tb_ctx_book(ctx, err)) != TB_OK)
        return rc;
    if (tb_opt_on(ctx, "again"))
        rc = anew(ctx, err);
    else if (tb_opt_on(ctx, "proof"))
        rc = prove(ctx, err);
    else
        rc = draw_now(ctx, err);
    /* whoever names a lot twice has mistyped the command; the act only knows that it is named twice */
    return rc == TB_EEXISTS ? TB_EUSAGE : rc;
}
