/* cut: a swatch gets its tag, with the cautions for what is declared. */
#include "cli/show.h"
#include "tenterbook/act_bench.h"

#include <stdlib.h>
#include <string.h>

/* Those of a flame, as they are printed: whoever shows the answer elsewhere shows them too. */
static json_t *cautions(struct tb_ctx *ctx, const struct tb_composition *c)
{
    const struct tb_caution *list;
    json_t *j = json_array();
    size_t n;

    tb_bench_cautions(&list, &n, c, "burn", &ctx->mem);
    for (size_t i = 0; i < n; i++)
        tb_json_push(j, tb_json_text(list[i].say));
    return j;
}

static void say(struct tb_ctx *ctx, const struct tb_swatch *s, const struct tb_lot *lot,
                const struct tb_composition *c)
{
    if (lot->ref)
        tb_say(ctx->out, "Swatch %s: %s of bolt %s, lot %s, declared \"%s\".\n", s->tag, tb_part_key(s->part),
               ctx->argv[0], lot->ref, lot->declared);
    else
        tb_say(ctx->out, "Swatch %s: known cloth, %s.\n", s->tag, s->known);
    tb_print_early(ctx, NULL, s->cut_at, lot);
    tb_say(ctx->out, "Write the number on the swatch, and keep an unburnt half.\n");
    tb_print_cautions(ctx, c, "burn");
    tb_say(ctx->out,
           "Without a flame: microscope, float test, a drop of solvent where the site allows it (tenterbook "
           "try %s --test ...), or a laboratory.\n",
           s->tag);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_swatch *s, const struct tb_lot *lot,
                   struct tb_err *err)
{
    const char *words = lot->ref ? lot->declared : s->known;
    struct tb_declaration d;
    tb_rc rc = TB_OK;

    tb_declaration_read(&d, words, strlen(words));
    if (ctx->json) {
        json_t *j =
            json_pack("{s:s, s:s, s:o, s:o, s:s}", "swatch", s->tag, "part", tb_part_key(s->part), "lot",
                      tb_json_text(lot->ref), "known", tb_json_text(s->known), "cut_at", s->cut_at);

        tb_print_early(ctx, j, s->cut_at, lot);
        tb_json_put(j, "cautions", cautions(ctx, &d.comp));
        rc = tb_print_json(ctx, j, err);
    } else {
        say(ctx, s, lot, &d.comp);
    }
    tb_declaration_free(&d);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_cut_request request = { .bolt = ctx->argc ? ctx->argv[0] : NULL,
                                      .lot = tb_opt(ctx, "lot"),
                                      .known = tb_opt(ctx, "known"),
                                      .kept = tb_opt(ctx, "kept") };
    struct tb_cut_outcome cut;
    tb_rc rc;

    if ((request.known != NULL) == (request.bolt != NULL))
        return tb_misuse(err, "cut takes a bolt, or --known COMPOSITION for known cloth");
    request.part = (enum tb_part_kind)tb_opt_word(ctx, "part", TB_PART_WHOLE, &tb_part_words);
    request.cut_at = tb_opt_moment(ctx, "at");
    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_cut(&cut, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    return print(ctx, &cut.swatch, &cut.lot, err);
}

static const struct tb_opt opts[] = {
    { "part", "PART", "whole (default), warp, weft, pile, ground, face, back, coating", false },
    { "lot", "LOT", "the lot, where several have a bolt of that number", false },
    { "kept", "WHERE", "where the unburnt half is kept", false },
    { "known", "COMPOSITION", "known cloth instead of a bolt: its burns teach the site's reference", false },
    { "at", "MOMENT", "when it was cut, UTC, where that is not now", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_cut = {
    .name = "cut",
    .args = "BOLT [--part PART] [--lot LOT] | --known COMPOSITION",
    .brief = "register a swatch and give it its tag number",
    .about = "Registers a swatch cut from a bolt, or from cloth of known composition, and prints the tag "
             "number to write on it. Warp and weft that look different are two swatches.\n\n"
             "Prints the cautions that fit what is declared before anything is burned.",
    .example = "tenterbook cut 00412 --part warp\ntenterbook cut --known \"100% wool\"",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
