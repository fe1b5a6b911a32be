/* cut: a swatch gets its tag, with the cautions for what is declared. */
#include "cli/show.h"

#include <string.h>

static void swatch_words(struct tb_text *t, const struct tb_cut_outcome *cut)
{
    const struct tb_swatch *s = &cut->swatch;
    const struct tb_lot *lot = &cut->lot;

    if (lot->ref && !*lot->declared)
        tb_text_say(t, "Swatch %s: %s of bolt %s, lot %s, of which nothing is declared.\n", s->tag,
                    tb_part_key(s->part), s->bolt_number, lot->ref);
    else if (lot->ref)
        tb_text_say(t, "Swatch %s: %s of bolt %s, lot %s, declared \"%s\".\n", s->tag, tb_part_key(s->part),
                    s->bolt_number, lot->ref, lot->declared);
    else
        tb_text_say(t, "Swatch %s: known cloth, %s.\n", s->tag, s->known);
    if (cut->standing == TB_RETURNED)
        tb_text_say(t, "Bolt %s of lot %s was returned: see that it is here.\n", s->bolt_number, lot->ref);
    tb_early_words(t, s->cut_at, lot);
    for (size_t i = 0; i < cut->n_waiting; i++)
        tb_text_say(
            t,
            "Swatch %s of the same bolt waits for a burn already. If %s is that one registered twice: "
            "tenterbook void %s --why TEXT\n",
            cut->waiting[i], s->tag, s->tag);
}

/* What one cloth asks for and the one before did too is said once. */
static void add_lines(struct tb_text *t, const char *lines)
{
    for (size_t n; *lines; lines += n) {
        struct tb_text line = { 0 };

        n = strcspn(lines, "\n") + 1;
        tb_text_addn(&line, lines, n);
        if (!strstr(tb_text_str(t), line.s))
            tb_text_add(t, line.s);
        tb_text_free(&line);
    }
}

static void cautions(struct tb_text *t, json_t *list, const struct tb_cut_outcome *cut)
{
    const char *words = cut->lot.ref ? cut->lot.declared : cut->swatch.known;
    struct tb_text said = { 0 };
    struct tb_declaration d;

    if (cut->unburnable)
        tb_unburnable_words(&said, "");
    tb_declaration_read(&d, words, strlen(words));
    d.also = cut->also;
    json_array_append_new(list, tb_json_cut(cut, &d));
    tb_cautions_words(&said, &d, "burn");
    tb_declaration_free(&d);
    add_lines(t, tb_text_str(&said));
    tb_text_free(&said);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_cut_outcome *cut, size_t n, struct tb_err *err)
{
    json_t *list = json_array(), *j;
    struct tb_text t = { 0 };

    for (size_t i = 0; i < n; i++)
        swatch_words(&t, &cut[i]);
    if (n == 1)
        tb_text_say(&t, "Write the number on the swatch, and keep an unburnt half.\n");
    else
        tb_text_say(&t, "Write the numbers on the swatches, and keep an unburnt half of each.\n");
    for (size_t i = 0; i < n; i++)
        cautions(&t, list, &cut[i]);
    tb_text_say(&t,
                "Without a flame: microscope, float test, a drop of solvent where the site allows it "
                "(tenterbook try %s --test ...), or a laboratory.\n",
                cut->swatch.tag);
    j = n == 1 ? json_incref(json_array_get(list, 0)) : json_incref(list);
    json_decref(list);
    return tb_print(ctx, j, &t, err);
}

/* None is cut where one of them cannot be. */
static tb_rc check_all(struct tb_ctx *ctx, struct tb_cut_outcome *cut, struct tb_cut_request *request,
                       struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < ctx->argc && rc == TB_OK; i++) {
        request->bolt = ctx->argv[i];
        rc = tb_cut_look(&cut[i], ctx->book, request, &ctx->mem, err);
        for (size_t k = 0; k < i && rc == TB_OK; k++)
            if (strcmp(cut[k].swatch.bolt, cut[i].swatch.bolt) == 0)
                rc = tb_fail(err, TB_EINVAL,
                             "bolt %s is named twice; a second swatch of it is cut by a command of its own",
                             cut[i].swatch.bolt_number);
    }
    return rc;
}

static tb_rc cut_bolts(struct tb_ctx *ctx, struct tb_cut_request *request, struct tb_err *err)
{
    struct tb_cut_outcome *cut = tb_arena_alloc(&ctx->mem, ctx->argc * sizeof *cut);
    size_t n = 0;
    tb_rc rc = check_all(ctx, cut, request, err), said = TB_OK;
    struct tb_err why = { 0 };

    for (; n < ctx->argc && rc == TB_OK; n += rc == TB_OK) {
        request->bolt = ctx->argv[n];
        rc = tb_act_cut(&cut[n], &ctx->actor, request, &ctx->mem, err);
    }
    if (n) /* also where another one failed: these have their tags */
        said = print(ctx, cut, n, &why);
    if (rc == TB_OK && said != TB_OK)
        *err = why;
    return rc == TB_OK ? said : rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_cut_request request = { .lot = tb_opt(ctx, "lot"),
                                      .known = tb_opt(ctx, "known"),
                                      .kept = tb_opt(ctx, "kept") };
    struct tb_cut_outcome cut;
    tb_rc rc;

    if ((request.known != NULL) == (ctx->argc != 0))
        return tb_misuse(err, "cut takes a bolt, or --known COMPOSITION for known cloth");
    request.part = (enum tb_part_kind)tb_opt_word(ctx, "part", TB_PART_WHOLE, &tb_part_words);
    request.cut_at = tb_opt_moment(ctx, "at");
    if (ctx->rc != TB_OK)
        return ctx->rc;
    if (ctx->argc > 1 && tb_opt_on(ctx, "photo"))
        return tb_misuse(err, "a photograph shows one swatch: with --photo, name one bolt");
    if ((rc = tb_opt_photos(&request.photo, &request.photos, ctx, err)) != TB_OK)
        return rc;
    if (ctx->argc)
        return cut_bolts(ctx, &request, err);
    rc = tb_act_cut(&cut, &ctx->actor, &request, &ctx->mem, err);
    return rc == TB_OK ? print(ctx, &cut, 1, err) : rc;
}

static const struct tb_opt opts[] = {
    { "part", "PART", "whole (default), warp, weft, pile, ground, face, back, coating", false },
    { "lot", "LOT", "the lot, where several have a bolt of that number", false },
    { "kept", "WHERE", "where the unburnt half is kept", false },
    { "known", "COMPOSITION", "known cloth instead of a bolt: its burns teach the site's reference", false },
    { "photo", "FILE", "a photograph (JPEG, PNG) of the unburnt cloth, to keep with the swatch", true },
    { "at", "MOMENT", "when it was cut, UTC, where that is not now", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_cut = {
    .name = "cut",
    .args = "BOLT ... [--part PART] [--lot LOT] | --known COMPOSITION",
    .brief = "register swatches and give them their tag numbers",
    .about =
        "Registers a swatch cut from each bolt, or from cloth of known composition, and prints the tag "
        "number to write on it. Warp and weft that look different are two swatches. Where one of several "
        "bolts cannot be cut none is.\n\n"
        "A photograph of the unburnt cloth stands in the case with tag, bolt, day and person; one that comes "
        "later: tenterbook burn "
        "--to SWATCH --unburnt --photo FILE.\n\n"
        "Prints the cautions that fit what is declared before anything is burned.",
    .example = "tenterbook cut 00412 --part warp\ntenterbook cut 00412 00415 00419\ntenterbook cut --known "
               "\"100% wool\"",
    .opts = opts,
    .max = 200,
    .flags = TB_WRITES,
    .run = run,
};
