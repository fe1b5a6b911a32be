/* use: bolts that are cut into. With the first cut the right to claim usually ends. */
#include "cli/claim/claim_say.h"

#include <math.h>
#include <string.h>

/* The lot of all the bolts: named, or that of the first one. */
static tb_rc find_bolts(struct tb_lot *lot, struct tb_bolt *bolt, struct tb_ctx *ctx, struct tb_arena *mem,
                        struct tb_err *err)
{
    const char *where = tb_opt(ctx, "lot");
    tb_rc rc = tb_lot_find(lot, ctx->book, where ? where : ctx->argv[0], mem, err);

    if (rc == TB_OK && !where && strcmp(lot->ref, ctx->argv[0]) == 0)
        return tb_fail(err, TB_EINVAL, "%s is a lot; name its bolts, and --lot %s", lot->ref, lot->ref);
    for (size_t i = 0; i < ctx->argc && rc == TB_OK; i++) {
        for (size_t k = 0; k < i; k++)
            if (strcmp(ctx->argv[k], ctx->argv[i]) == 0)
                return tb_misuse(err, "bolt %s is named twice", ctx->argv[i]);
        rc = tb_within(err, tb_bolt_find(&bolt[i], ctx->book, lot->id, ctx->argv[i], mem, err), "lot %s",
                       lot->ref);
    }
    return rc;
}

static const char *obstacle(const struct tb_claim *c, const struct tb_lot *lot)
{
    return strcmp(lot->standing, "returned") == 0 ? _("it was returned")
           : c->open                              ? _("a dispute about it is open")
           : strcmp(lot->standing, "held") == 0   ? _("it is held")
                                                  : NULL;
}

/* Held goods and goods in dispute are cut only by somebody who says that he knows. */
static tb_rc check(bool *anyway, struct tb_ctx *ctx, const struct tb_claim *c, const struct tb_lot *lot,
                   struct tb_err *err)
{
    const char *what = obstacle(c, lot), *why = tb_opt(ctx, "why");

    *anyway = false;
    if (tb_opt_on(ctx, "back"))
        return tb_opt_on(ctx, "metres") ? tb_misuse(err, "--back takes a whole record back, not metres of it")
                                        : TB_OK;
    if (!what)
        return TB_OK;
    if (!tb_opt_on(ctx, "anyway"))
        return tb_fail(
            err, TB_EREFUSED,
            "lot %s: %s, and the right to claim usually ends with the first cut; leave it whole, or say "
            "--anyway --why TEXT",
            lot->ref, what);
    if (!why || !*why)
        return tb_fail(err, TB_EINVAL, "lot %s: %s; cutting it all the same needs a reason: --why TEXT",
                       lot->ref, what);
    *anyway = true;
    return TB_OK;
}

/* The latest record of the bolt that counts. */
static const char *last_use(const struct tb_claim *c, const char *bolt)
{
    for (size_t i = c->uses; i > 0; i--)
        if (strcmp(c->use[i - 1].bolt, bolt) == 0)
            return c->use[i - 1].id;
    return NULL;
}

/* More than the bolt has, cut off by and by, is a slip in one of the records. */
static tb_rc check_metres(double metres, const struct tb_claim *c, const struct tb_bolt *bolt,
                          struct tb_err *err)
{
    double gone = 0;

    for (size_t i = 0; i < c->uses; i++)
        if (strcmp(c->use[i].bolt, bolt->id) == 0 && !isnan(c->use[i].metres))
            gone += c->use[i].metres;
    if (isnan(metres) || metres > bolt->metres || gone + metres <= bolt->metres + 0.005)
        return TB_OK;
    return tb_fail(
        err, TB_EINVAL,
        "%g m cannot be cut from bolt %s, which had %.2f m, of which %.2f m were cut off before; --back "
        "takes the last record back",
        metres, bolt->number, bolt->metres, gone);
}

/* `u` as said for all bolts of the command. */
static tb_rc record_one(struct tb_book *b, struct tb_bolt_use u, const struct tb_claim *c,
                        const struct tb_bolt *bolt, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check_metres(u.metres, c, bolt, err);

    if (rc != TB_OK)
        return rc;
    if (!u.used && !(u.replaces = last_use(c, bolt->id)))
        return tb_fail(err, TB_ENOTFOUND, "bolt %s was not cut into", bolt->number);
    return tb_bolt_use_add(&u, b, bolt, mem, err);
}

static tb_rc record(struct tb_ctx *ctx, const struct tb_claim *c, const struct tb_lot *lot,
                    const struct tb_bolt *bolt, bool anyway, const char *used_at, struct tb_arena *mem,
                    struct tb_err *err)
{
    struct tb_bolt_use u = { .used = !tb_opt_on(ctx, "back"),
                             .metres = (double)NAN,
                             .why = tb_opt(ctx, "why"),
                             .used_at = used_at,
                             .anyway = anyway };
    tb_rc rc = tb_opt_number(&u.metres, ctx, "metres", 0, 1e6, err);

    tb_book_subject(ctx->book, lot->ref);
    for (size_t i = 0; i < ctx->argc && rc == TB_OK; i++)
        rc = record_one(ctx->book, u, c, &bolt[i], mem, err);
    return rc == TB_OK ? tb_book_commit(ctx->book, err) : rc;
}

/* Why the person should know, in one sentence; NULL: nothing stands against cutting. */
static const char *warning(const struct tb_claim *c, const struct tb_lot *lot, bool anyway)
{
    if (anyway)
        return _("The lot was cut although it is held or in dispute; the reason is kept. The right to claim "
                 "usually "
                 "ends here.");
    if (strcmp(lot->standing, "waiting") == 0)
        return _("Nobody released this lot yet. The right to claim usually ends with the first cut: burn and "
                 "judge "
                 "it before more is cut.");
    if (c->clock.before_cutting && !c->notified)
        return _("A term with this supplier ends with the first cut: a claim may be lost from here on.");
    return NULL;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_claim *c, const struct tb_lot *lot, bool anyway,
                   const char *used_at, struct tb_err *err)
{
    bool back = tb_opt_on(ctx, "back");
    const char *warn = back ? NULL : warning(c, lot, anyway);
    json_t *list, *j;

    if (ctx->json) {
        list = json_array();
        for (size_t i = 0; i < ctx->argc; i++)
            (void)json_array_append_new(list, tb_json_text(ctx->argv[i]));
        j = json_pack("{s:s, s:o, s:b, s:b, s:o}", "lot", lot->ref, "bolts", list, "used", !back, "anyway",
                      anyway, "warning", tb_json_text(warn));
        tb_print_early(ctx, j, used_at, lot);
        return tb_print_json(ctx, j, err);
    }
    for (size_t i = 0; i < ctx->argc; i++)
        (void)fprintf(ctx->out,
                      back ? _("Bolt %s of lot %s is not cut into: the record is taken back.\n")
                           : _("Bolt %s of lot %s is cut into.\n"),
                      ctx->argv[i], lot->ref);
    tb_print_early(ctx, NULL, used_at, lot);
    if (warn)
        (void)fprintf(ctx->out, "%s\n", warn);
    return TB_OK;
}

static tb_rc use(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_bolt *bolt = tb_arena_alloc(mem, ctx->argc * sizeof *bolt);
    char today[TB_DAY_LEN + 1];
    const char *used_at = NULL;
    struct tb_lot lot = { 0 };
    struct tb_claim c;
    bool anyway;
    tb_rc rc =
        tb_ctx_begin(ctx, "use", err); /* first, so that what is checked is still so when it is recorded */

    tb_today(today);
    if (rc != TB_OK)
        return rc;
    if ((rc = tb_opt_moment(&used_at, ctx, "at", mem, err)) != TB_OK ||
        (rc = find_bolts(&lot, bolt, ctx, mem, err)) != TB_OK ||
        (rc = tb_claim_of_lot(&c, ctx->book, &lot, today, mem, err)) != TB_OK ||
        (rc = check(&anyway, ctx, &c, &lot, err)) != TB_OK ||
        (rc = record(ctx, &c, &lot, bolt, anyway, used_at, mem, err)) != TB_OK) {
        tb_book_rollback(ctx->book);
        return rc;
    }
    return print(ctx, &c, &lot, anyway, used_at, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = use(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "lot", "LOT", "the lot, where several have a bolt of that number", false },
    { "metres", "M", "how much is cut off each, where that is not the whole bolt", false },
    { "why", "TEXT", "what for; with --anyway, the reason", false },
    { "at", "MOMENT", "when it was cut, UTC, where that is not now", false },
    { "anyway", NULL, "although the lot is held or in dispute", false },
    { "back", NULL, "take the last record of these bolts back: it was a mistake", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_use = {
    .name = "use",
    .args = "BOLT... [--lot LOT] [--metres M] [--anyway --why TEXT]",
    .brief = "record bolts that are cut into",
    .about = "Records that bolts are taken into use. Refused while their lot is held, returned or in "
             "dispute, unless "
             "somebody says that it shall be cut all the same, and why: under nearly every term of the trade "
             "the right "
             "to claim ends with the first cut. Cutting a swatch is no use (tenterbook cut).",
    .example =
        "tenterbook use 00412 00413 --why \"order 88\"\ntenterbook use 00412 --back --why \"wrong bolt\"",
    .opts = opts,
    .min = 1,
    .max = 1000,
    .flags = TB_WRITES,
    .run = run,
};
