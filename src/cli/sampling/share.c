/* share: a joint sample, dealt at random from the retained swatches of a lot. */
#include "cli/claim/claim_say.h"
#include "cli/sampling/draw.h"

#include <stdlib.h>
#include <string.h>

/* Swatches of one part of the cloth: only those are alike. */
struct heap {
    const char *part;
    size_t *at; /* places in the list of retained swatches */
    size_t n;
};

static size_t heaps_of(struct heap **out, const struct tb_swatch *s, size_t n, struct tb_arena *mem)
{
    struct heap *h = tb_arena_alloc(mem, (n + 1) * sizeof *h);
    size_t heaps = 0;

    for (size_t i = 0; i < n; i++) {
        size_t k = 0;

        while (k < heaps && strcmp(h[k].part, s[i].part) != 0)
            k++;
        if (k == heaps) {
            h[k].part = s[i].part;
            h[k].at = tb_arena_alloc(mem, n * sizeof *h[k].at);
            heaps++;
        }
        h[k].at[h[k].n++] = i;
    }
    *out = h;
    return heaps;
}

/* Draw `each` of the swatches left in the heap for one holder, and take them out of it. */
static tb_rc deal(struct tb_joint_piece *piece, struct heap *h, const char *holder, long each,
                  const char *seed, struct tb_err *err)
{
    long *place = tb_array(long, (size_t)each + 1);
    char label[64];
    size_t left = 0;
    long k = 0;
    tb_rc rc;

    (void)snprintf(label, sizeof label, "%s-%s", h->part, holder);
    if ((rc = tb_pick(place, (long)h->n, each, seed, label, err)) == TB_OK) {
        for (size_t i = 0; i < h->n; i++)
            if (k < each && place[k] == (long)i + 1) {
                piece[h->at[i]].holder = holder;
                k++;
            } else {
                h->at[left++] = h->at[i];
            }
        h->n = left;
    }
    free(place);
    return rc;
}

static tb_rc deal_all(struct tb_joint_sample *j, const struct tb_swatch *s, size_t n, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct heap *h;
    size_t heaps = heaps_of(&h, s, n, mem);
    tb_rc rc = TB_OK;

    j->piece = tb_arena_alloc(mem, (n + 1) * sizeof *j->piece);
    j->pieces = n;
    j->swatches = (int64_t)n;
    for (size_t i = 0; i < n; i++)
        j->piece[i] = (struct tb_joint_piece){ .swatch = s[i].id, .holder = "own" };
    for (size_t i = 0; i < heaps && rc == TB_OK; i++) {
        long each = (long)(h[i].n / 3);

        j->each_one += each;
        if (each && (rc = deal(j->piece, &h[i], "supplier", each, j->seed, err)) == TB_OK)
            rc = deal(j->piece, &h[i], "laboratory", each, j->seed, err);
    }
    if (rc == TB_OK && j->each_one == 0)
        rc = tb_fail(
            err, TB_EREFUSED,
            "there are %zu retained swatches to deal, and it takes three of one part of the cloth; cut more "
            "and say where they are kept (tenterbook cut BOLT --kept WHERE)",
            n);
    return rc;
}

static tb_rc record(struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_arena *mem, struct tb_err *err)
{
    const char *seed = tb_opt(ctx, "seed");
    struct tb_joint_sample j = { .lot = lot->id,
                                 .seed = seed,
                                 .laboratory = tb_opt(ctx, "laboratory"),
                                 .rule = tb_opt(ctx, "rule"),
                                 .present = tb_opt(ctx, "present") };
    struct tb_swatch *s;
    char made[17];
    size_t n;
    tb_rc rc = tb_ctx_begin(ctx, "share", err);

    if (rc != TB_OK)
        return rc;
    draw_seed_make(made);
    j.seed = seed ? seed : made;
    tb_book_subject(ctx->book, lot->ref);
    /* looked up inside the transaction: a swatch is dealt once */
    if ((rc = tb_retained_list(&s, &n, ctx->book, lot->id, mem, err)) == TB_OK &&
        (rc = tb_within(err, deal_all(&j, s, n, mem, err), "lot %s", lot->ref)) == TB_OK)
        rc = tb_joint_sample_add(&j, ctx->book, mem, err);
    if (rc == TB_OK)
        return tb_book_commit(ctx->book, err);
    tb_book_rollback(ctx->book);
    return rc;
}

static tb_rc show(struct tb_ctx *ctx, const struct tb_lot *lot, bool last, struct tb_arena *mem,
                  struct tb_err *err)
{
    struct tb_joint_sample *j;
    json_t *list;
    size_t n;
    tb_rc rc = tb_joint_sample_list(&j, &n, ctx->book, lot->id, mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json) {
        list = json_array();
        for (size_t i = last && n ? n - 1 : 0; i < n; i++)
            (void)json_array_append_new(list, tb_json_joint(&j[i]));
        return tb_print_json(ctx, json_pack("{s:s, s:o}", "lot", lot->ref, "joint_samples", list), err);
    }
    for (size_t i = last && n ? n - 1 : 0; i < n; i++)
        tb_print_joint(ctx->out, &j[i]);
    if (!n)
        (void)fprintf(ctx->out, _("No joint sample of lot %s was dealt.\n"), lot->ref);
    else if (last)
        (void)fputs(
            _("Seal each share in its own bag, write lot, tags and seed on it, and let both sides sign; what "
              "method and rule decide is agreed before anybody looks.\n"),
            ctx->out);
    return TB_OK;
}

static tb_rc share(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    bool deals = !tb_opt_on(ctx, "show");
    struct tb_lot lot;
    tb_rc rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], mem, err);

    if (rc == TB_OK && deals)
        rc = record(ctx, &lot, mem, err);
    return rc == TB_OK ? show(ctx, &lot, deals, mem, err) : rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = share(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "laboratory", "NAME", "the laboratory both sides agreed on", false },
    { "rule", "TEXT", "agreed method, and what its result decides", false },
    { "present", "NAMES", "who was there, of both sides", false },
    { "seed", "SEED", "deal by this seed; without it, one is made", false },
    { "show", NULL, "deal nothing: show what was dealt", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_share = {
    .name = "share",
    .args = "LOT [--laboratory NAME] [--rule TEXT] [--present NAMES] [--seed SEED] | LOT --show",
    .brief = "deal a joint sample from the retained swatches of a lot",
    .about =
        "Deals the swatches of which an unburnt half is kept at random to the supplier, to a laboratory and "
        "to "
        "the own shelf: of each part of the cloth as many to the one as to the other, and the rest stays. "
        "The "
        "seed is recorded, so that anybody can deal again and see that nobody chose. A swatch is dealt once.",
    .example = "tenterbook share W26-014.02 --laboratory \"Ring Street Laboratory\" --rule \"ISO 1833-11, 3 "
               "points\"\n"
               "tenterbook share W26-014.02 --show",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
