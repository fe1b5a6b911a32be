/* cut: a swatch gets its tag, with the cautions for what is declared. */
#include "cli/show.h"

#include <string.h>

static tb_rc print(struct tb_ctx *ctx, const struct tb_cut_outcome *cut, struct tb_err *err)
{
    const struct tb_swatch *s = &cut->swatch;
    const struct tb_lot *lot = &cut->lot;
    const char *words = lot->ref ? lot->declared : s->known;
    struct tb_declaration d;
    struct tb_text t = { 0 };
    json_t *j;

    tb_declaration_read(&d, words, strlen(words));
    d.also = cut->also;
    j = tb_json_cut(cut, &d);
    if (lot->ref && !*lot->declared)
        tb_text_say(&t, "Swatch %s: %s of bolt %s, lot %s, of which nothing is declared.\n", s->tag,
                    tb_part_key(s->part), s->bolt_number, lot->ref);
    else if (lot->ref)
        tb_text_say(&t, "Swatch %s: %s of bolt %s, lot %s, declared \"%s\".\n", s->tag, tb_part_key(s->part),
                    s->bolt_number, lot->ref, lot->declared);
    else
        tb_text_say(&t, "Swatch %s: known cloth, %s.\n", s->tag, s->known);
    tb_early_words(&t, s->cut_at, lot);
    tb_text_say(&t, "Write the number on the swatch, and keep an unburnt half.\n");
    tb_cautions_words(&t, &d, "burn");
    tb_text_say(&t,
                "Without a flame: microscope, float test, a drop of solvent where the site allows it "
                "(tenterbook try %s --test ...), or a laboratory.\n",
                s->tag);
    tb_declaration_free(&d);
    return tb_print(ctx, j, &t, err);
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
    return print(ctx, &cut, err);
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
