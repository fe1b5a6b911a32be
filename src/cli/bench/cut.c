#include "cli/show.h"

#include <stdlib.h>
#include <string.h>

/* The lot and bolt a person means: a bolt number, made plain by --lot where several lots have it. */
static tb_rc find_bolt(struct tb_lot *lot, struct tb_bolt *bolt, struct tb_ctx *ctx, struct tb_arena *mem,
                       struct tb_err *err)
{
    const char *where = tb_opt(ctx, "lot");
    tb_rc rc = tb_lot_find(lot, ctx->book, where ? where : ctx->argv[0], mem, err);

    if (rc == TB_OK && !where && strcmp(lot->ref, ctx->argv[0]) == 0)
        return tb_fail(err, TB_EINVAL, "%s is a lot; name the bolt to cut, and --lot %s", lot->ref, lot->ref);
    if (rc == TB_OK)
        rc = tb_within(err, tb_bolt_find(bolt, ctx->book, lot->id, ctx->argv[0], mem, err), "lot %s",
                       lot->ref);
    return rc;
}

static tb_rc check_known(const char *known, struct tb_err *err)
{
    struct tb_declaration d;
    tb_rc rc = TB_OK;

    tb_declaration_read(&d, known, strlen(known));
    if (!tb_declaration_clear(&d))
        rc = tb_fail(err, TB_EINVAL, "--known '%s' cannot be read for certain: %s", known,
                     d.n ? d.doubt[0].say : "no composition in it");
    tb_declaration_free(&d);
    return rc;
}

static tb_rc record(struct tb_swatch *s, struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_ctx_begin(ctx, "cut", err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_swatch_add(s, ctx->book, mem, err)) != TB_OK) {
        tb_book_rollback(ctx->book);
        return rc;
    }
    tb_book_subject(ctx->book, s->tag);
    return tb_book_commit(ctx->book, err);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_swatch *s, const struct tb_lot *lot,
                   struct tb_err *err)
{
    struct tb_declaration d;

    if (ctx->json) {
        json_t *j = json_pack("{s:s, s:s, s:o, s:o, s:s}", "swatch", s->tag, "part", s->part, "lot",
                              tb_json_text(lot->ref), "known", tb_json_text(s->known), "cut_at", s->cut_at);

        tb_print_early(ctx, j, s->cut_at, lot);
        return tb_print_json(ctx, j, err);
    }
    if (lot->ref)
        (void)fprintf(ctx->out, _("Swatch %s: %s of bolt %s, lot %s, declared \"%s\".\n"), s->tag, s->part,
                      ctx->argv[0], lot->ref, lot->declared);
    else
        (void)fprintf(ctx->out, _("Swatch %s: known cloth, %s.\n"), s->tag, s->known);
    tb_print_early(ctx, NULL, s->cut_at, lot);
    (void)fputs(_("Write the number on the swatch, and keep an unburnt half.\n"), ctx->out);
    tb_declaration_read(&d, lot->ref ? lot->declared : s->known, strlen(lot->ref ? lot->declared : s->known));
    tb_print_cautions(ctx, &d.comp, "burn");
    tb_declaration_free(&d);
    (void)fprintf(ctx->out,
                  _("Without a flame: microscope, float test, a drop of solvent where the site allows it "
                    "(tenterbook try %s --test ...), or a laboratory.\n"),
                  s->tag);
    return TB_OK;
}

static tb_rc cut_it(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    const char *part = tb_opt(ctx, "part"), *known = tb_opt(ctx, "known");
    struct tb_swatch s = { .part = part ? part : "whole",
                           .kept = tb_opt(ctx, "kept"),
                           .known = known ? known : "" };
    struct tb_lot lot = { 0 };
    struct tb_bolt bolt = { 0 };
    tb_rc rc = TB_OK;

    if ((known != NULL) == (ctx->argc == 1))
        return tb_misuse(err, "cut takes a bolt, or --known COMPOSITION for known cloth");
    if (tb_part_by_key(s.part) < 0)
        return tb_fail(
            err, TB_EINVAL,
            "'%s' is no part of a cloth; parts are whole, warp, weft, pile, ground, face, back, coating",
            s.part);
    if ((rc = tb_opt_moment(&s.cut_at, ctx, "at", mem, err)) != TB_OK)
        return rc;
    if (known) {
        rc = check_known(known, err);
    } else if ((rc = find_bolt(&lot, &bolt, ctx, mem, err)) == TB_OK) {
        s.lot = lot.id;
        s.lot_ref = lot.ref;
        s.bolt = bolt.id;
    }
    if (rc == TB_OK)
        rc = record(&s, ctx, mem, err);
    return rc == TB_OK ? print(ctx, &s, &lot, err) : rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = cut_it(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
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
             "number to "
             "write on it. Warp and weft that look different are two swatches.\n\n"
             "Prints the cautions that fit what is declared before anything is burned.",
    .example = "tenterbook cut 00412 --part warp\ntenterbook cut --known \"100% wool\"",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
