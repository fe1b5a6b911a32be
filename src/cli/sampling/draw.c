/* draw: how many bolts to cut and which, and what the burns then prove. */
#include "cli/sampling/draw.h"

/* An option that would go unheard is refused: its reader would take the answer for one to it. */
static tb_rc unheard(const struct tb_ctx *ctx, const char *names, const char *say, struct tb_err *err)
{
    const char *name = tb_opt_among(ctx, names);

    return name ? tb_misuse(err, say, name) : TB_OK;
}

static tb_rc without_book(struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc = unheard(ctx, "against proof again dry-run", N_("--%s needs a lot of the book"), err);

    if (rc != TB_OK)
        return rc;
    if (!tb_opt_on(ctx, "burned"))
        return tb_opt_on(ctx, "found") ? tb_misuse(err, "--found needs --burned")
                                       : draw_plan_of_number(ctx, err);
    rc = unheard(ctx, "false aql level inspection share every seed curve replace",
                 N_("--%s belongs to a plan, not to what burns prove"), err);
    return rc == TB_OK ? draw_proof_of_number(ctx, err) : rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    if (ctx->argc > 0 && tb_opt_on(ctx, "bolts"))
        return tb_misuse(err, "give a lot of the book or --bolts, not both");
    if (ctx->argc > 0) {
        rc = unheard(ctx, "burned found", N_("--%s goes with --bolts; a lot of the book takes --proof"), err);
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
    { "curve", "FILE.svg", "write the operating characteristic as SVG", false },
    { "replace", NULL, "write the curve over one that is there already", false },
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
        "asked for, computed exactly for the lot at hand and for burns that miss some swaps.\n\n"
        "--aql takes the single sampling plans of MIL-STD-105E (the tables ISO 2859-1 uses too); --share a "
        "fixed part; --every all bolts.\n\n"
        "A delivery, or several lots, are drawn from together and the bolts spread over its shades and dye "
        "lots, so that the chance holds wherever the false bolts are. The draw is recorded with its seed. "
        "Earlier draws of the same bolts are named, and so is a seed that was given by hand.\n\n"
        "--again asks and records nothing. Where a drawn bolt is void since, it names the bolt that the same "
        "seed draws in its "
        "place; the cut of that one counts as chosen by hand, and a proof says so: only a draw made before "
        "the cuts proves "
        "something of the others.\n\n"
        "What a sample proves, it proves for the lot it was drawn from: each delivered length needs its own.",
    .example = "tenterbook draw --bolts 100 --false 5 --sure 0.95 --catch 0.9\n"
               "tenterbook draw --bolts 1000 --level II --aql 2.5 --inspection normal\n"
               "tenterbook draw --bolts 100 --burned 45 --found 0\n"
               "tenterbook draw W26-014.02\n"
               "tenterbook draw W26-014 --false 4 --sure 0.9\n"
               "tenterbook draw W26-014.02 --proof",
    .opts = opts,
    .max = 64,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
