/* draw: how many bolts to cut and which, and what the burns then prove. */
#include "cli/sampling/draw.h"
#include "cli/show.h"

#include <stdlib.h>
#include <string.h>

void draw_assume(struct draw *d)
{
    d->catch_one = TB_CATCH_DEFAULT;
    (void)snprintf(d->catch_from, sizeof d->catch_from, "%s",
                   _("assumed; no burn test has a published rate"));
}

/* --- what the result proves, without a book --- */

static void say_proof(FILE *out, const struct draw *d, long burned, long found, long most)
{
    char share[32], conf[32];
    long bolts = d->bolts;

    (void)draw_percent(share, (double)most / (double)bolts);
    (void)draw_percent(conf, d->sure);
    if (found == 0)
        (void)fprintf(out,
                      _n("%ld of %ld bolt was burned and none was shown false.\n",
                         "%ld of %ld bolts were burned and none was shown false.\n", bolts),
                      burned, bolts);
    else
        (void)fprintf(out,
                      _n("%ld of %ld bolt was burned and %ld shown false.\n",
                         "%ld of %ld bolts were burned and %ld of them were shown false.\n", bolts),
                      burned, bolts, found);
    if (most == 0 && burned == bolts && d->catch_one >= 1)
        (void)fputs(_("Every bolt was looked at: none of the lot is false.\n"), out);
    else if (most == 0)
        (void)fprintf(out, _("With a confidence of %s none of the lot is false.\n"), conf);
    else
        (void)fprintf(out,
                      _n("With a confidence of %s no more than %ld of the %ld bolt (%s) is false.\n",
                         "With a confidence of %s no more than %ld of the %ld bolts (%s) are false.\n",
                         bolts),
                      conf, most, bolts, share);
    (void)fprintf(out, _("It holds for burns that show a false bolt with a chance of %s (%s).\n"),
                  draw_percent(share, d->catch_one), d->catch_from);
}

tb_rc draw_proof(struct tb_ctx *ctx, struct tb_err *err)
{
    long bolts = 0, burned = 0, found = 0, most = 0;
    struct draw d = { 0 };
    json_t *o;
    tb_rc rc = tb_opt_whole(&bolts, ctx, "bolts", 1, TB_LOT_MOST, err);

    d.bolts = bolts;
    draw_assume(&d);
    if (rc == TB_OK)
        rc = tb_opt_whole(&burned, ctx, "burned", 0, bolts, err);
    if (rc == TB_OK)
        rc = tb_opt_whole(&found, ctx, "found", 0, burned, err);
    if (rc == TB_OK)
        rc = draw_options(&d, ctx, err);
    if (rc == TB_OK)
        rc = tb_proof_most(&most, bolts, burned, found, d.catch_one, d.sure, err);
    if (rc != TB_OK)
        return rc;
    if (!ctx->json) {
        say_proof(ctx->out, &d, burned, found, most);
        return TB_OK;
    }
    o = json_pack("{s:I, s:I, s:I, s:f, s:f, s:s, s:I, s:f}", "bolts", (json_int_t)bolts, "burned",
                  (json_int_t)burned, "found", (json_int_t)found, "sure", d.sure, "catch", d.catch_one,
                  "catch_from", d.catch_from, "most_false", (json_int_t)most, "most_share",
                  (double)most / (double)bolts);
    return tb_print_json(ctx, o, err);
}

/* --- a plan for a number of bolts, without a book --- */

static tb_rc places(long **out, const struct draw *d, const char *seed, struct tb_err *err)
{
    *out = NULL;
    if (!seed || d->cut < 0)
        return TB_OK;
    *out = (long *)tb_alloc((size_t)d->cut + 1, sizeof **out);
    return tb_pick(*out, d->bolts, d->cut, seed, "", err);
}

static void say_places(FILE *out, const struct draw *d, const long *place, const char *seed)
{
    (void)fprintf(out, _("\nDrawn with seed %s (places in the list of bolts, from 1):\n"), seed);
    for (long i = 0; i < d->cut; i++)
        (void)fprintf(out, "%ld%s", place[i], i + 1 == d->cut ? "\n" : i % 10 == 9 ? "\n" : " ");
}

static tb_rc print_json(struct tb_ctx *ctx, const struct draw *d, const long *place, const char *seed,
                        struct tb_err *err)
{
    json_t *o, *list;
    tb_rc rc = draw_json(&o, d, err);

    if (rc != TB_OK)
        return rc;
    if (place) {
        list = json_array();
        for (long i = 0; i < d->cut; i++)
            (void)json_array_append_new(list, json_integer(place[i]));
        (void)json_object_set_new(o, "seed", json_string(seed));
        (void)json_object_set_new(o, "places", list);
    }
    return tb_print_json(ctx, o, err);
}

static tb_rc plan_for_number(struct tb_ctx *ctx, struct tb_err *err)
{
    struct draw d = { 0 };
    const char *seed = tb_opt(ctx, "seed"), *svg = tb_opt(ctx, "curve");
    long *place = NULL;
    tb_rc rc = tb_opt_whole(&d.bolts, ctx, "bolts", 1, TB_LOT_MOST, err);

    draw_assume(&d);
    if (rc == TB_OK)
        rc = draw_options(&d, ctx, err);
    if (rc == TB_OK)
        rc = draw_work_out(&d, err);
    if (rc == TB_OK)
        rc = places(&place, &d, seed, err);
    if (rc == TB_OK && svg)
        rc = draw_curve_svg(svg, &d, err);
    if (rc == TB_OK && ctx->json)
        rc = print_json(ctx, &d, place, seed, err);
    else if (rc == TB_OK && (rc = draw_say(ctx->out, &d, err)) == TB_OK && place)
        say_places(ctx->out, &d, place, seed);
    free(place);
    return rc;
}

/* An option that would go unheard is refused: its reader would take the answer for one to it. */
static tb_rc unheard(const struct tb_ctx *ctx, const char *const *name, size_t n, const char *why,
                     struct tb_err *err)
{
    for (size_t i = 0; i < n; i++)
        if (tb_opt_on(ctx, name[i]))
            return tb_misuse(err, "--%s %s", name[i], why);
    return TB_OK;
}

static tb_rc without_book(struct tb_ctx *ctx, struct tb_err *err)
{
    static const char *const of_book[] = { "against", "proof", "again", "dry-run" };
    static const char *const of_plan[] = { "false", "aql",   "level", "inspection",
                                           "share", "every", "seed",  "curve" };
    tb_rc rc = unheard(ctx, of_book, TB_COUNT(of_book), "needs a lot of the book", err);

    if (rc == TB_OK && tb_opt_on(ctx, "found") && !tb_opt_on(ctx, "burned"))
        return tb_misuse(err, "--found needs --burned");
    if (rc == TB_OK && tb_opt_on(ctx, "burned"))
        rc = unheard(ctx, of_plan, TB_COUNT(of_plan), "belongs to a plan, not to what burns prove", err);
    if (rc != TB_OK)
        return rc;
    return tb_opt_on(ctx, "burned") ? draw_proof(ctx, err) : plan_for_number(ctx, err);
}

static tb_rc draw(struct tb_ctx *ctx, struct tb_err *err)
{
    static const char *const of_number[] = { "burned", "found" };
    tb_rc rc;

    if (ctx->argc > 0 && tb_opt_on(ctx, "bolts"))
        return tb_misuse(err, "give a lot of the book or --bolts, not both");
    if (ctx->argc > 0) {
        rc = unheard(ctx, of_number, TB_COUNT(of_number),
                     "goes with --bolts; a lot of the book takes --proof", err);
        return rc == TB_OK ? draw_on_book(ctx, err) : rc;
    }
    if (!tb_opt_on(ctx, "bolts"))
        return tb_misuse(err, "say which lot to draw from, or how many bolts it has with --bolts");
    return without_book(ctx, err);
}

static const struct tb_opt opts[] = {
    { "bolts", "N", "without a book: a lot of N bolts", false },
    { "false", "D", "number of false bolts that must not slip through (default: a tenth of the lot)", false },
    { "sure", "P", "chance to see at least one of them (default 0.95)", false },
    { "catch", "P", "chance that burning a false bolt shows it (default 0.8)", false },
    { "against", "FIBRE", "the swap at issue: its chance to be caught comes from the evidence model", false },
    { "aql", "PERCENT", "acceptance sampling: quality level of the standard's table", false },
    { "level", "LEVEL", "with --aql: inspection level S-1 .. S-4, I, II (default), III", false },
    { "inspection", "HOW", "with --aql: normal (default), tightened, reduced", false },
    { "share", "F", "cut this part of the bolts, 0.1 for a tenth", false },
    { "every", NULL, "cut every bolt", false },
    { "seed", "TEXT", "draw again with the seed of an earlier draw", false },
    { "curve", "FILE", "write the operating characteristic as SVG", false },
    { "burned", "N", "with --bolts: N were burned; say what that proves", false },
    { "found", "K", "with --burned: K of them were shown false", false },
    { "proof", NULL, "what the burns of the bolts drawn so far prove", false },
    { "again", NULL, "draw the recorded bolts again from their seed and compare", false },
    { "dry-run", NULL, "show the draw and record nothing", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_draw = {
    .name = "draw",
    .args = "LOT ... | DELIVERY | --bolts N",
    .brief = "how many bolts to cut, which, and what that proves",
    .about =
        "Without a plan named, enough bolts are drawn to see at least one of D false bolts with the chance "
        "asked for, reckoned exactly for the lot at hand and for burns that miss some swaps.\n\n"
        "--aql takes the single sampling plans of MIL-STD-105E (the tables ISO 2859-1 uses too); --share a "
        "fixed "
        "part; --every all bolts.\n\n"
        "A delivery, or several lots, are drawn from together and the bolts spread over its shades and dye "
        "lots so that "
        "the chance holds wherever the false bolts are. The draw is recorded with its seed; earlier draws of "
        "the same "
        "bolts are told, and so is a seed given by hand.\n\n"
        "What a sample proves it proves for the lot it was drawn from: each delivered length needs its own.",
    .example = "tenterbook draw --bolts 100 --false 5 --sure 0.95 --catch 0.9\n"
               "tenterbook draw --bolts 1000 --level II --aql 2.5 --inspection normal\n"
               "tenterbook draw --bolts 100 --burned 45 --found 0\n"
               "tenterbook draw W26-014.02\n"
               "tenterbook draw W26-014 --false 4 --sure 0.9\n"
               "tenterbook draw W26-014.02 --proof",
    .opts = opts,
    .max = 64,
    .flags = TB_BOOK_MAYBE,
    .run = draw,
};
