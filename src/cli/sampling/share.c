/* share: a joint sample, dealt at random from the retained swatches of a lot. */
#include "cli/show.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/anchor.h"

/* Each side takes a note of the book along: from here on the other cannot write it anew unseen (docs/proof.md). */
static tb_rc print(struct tb_ctx *ctx, json_t *j, struct tb_text *t, struct tb_err *err)
{
    struct tb_text line = { 0 };
    struct tb_anchor a;
    tb_rc rc = tb_anchor_now(&a, ctx->book, err);

    if (rc == TB_OK) {
        tb_anchor_line(&line, &a);
        tb_json_put(j, "anchor", json_string(tb_text_str(&line)));
        tb_text_say(t, "The anchor of the book, for both sides to keep (prove --since): %s\n",
                    tb_text_str(&line));
        rc = tb_print(ctx, j, t, err);
    } else {
        json_decref(j);
        tb_text_free(t);
    }
    tb_text_free(&line);
    return rc;
}

/* --show: deal nothing, show what was dealt. */
static tb_rc show(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_joint_sample *j = NULL;
    struct tb_text t = { 0 };
    struct tb_lot lot;
    size_t n = 0;
    tb_rc rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], &ctx->mem, err);

    if (rc != TB_OK || (rc = tb_joint_sample_list(&j, &n, ctx->book, lot.id, &ctx->mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        tb_joint_words(&t, &j[i]);
    if (!n)
        tb_text_say(&t, "No joint sample of lot %s was dealt.\n", lot.ref);
    return n ? print(ctx, tb_json_joints(&lot, j, n), &t, err)
             : tb_print(ctx, tb_json_joints(&lot, j, n), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_share_request r = { .lot = ctx->argv[0],
                                        .seed = tb_opt(ctx, "seed"),
                                        .laboratory = tb_opt(ctx, "laboratory"),
                                        .rule = tb_opt(ctx, "rule"),
                                        .present = tb_opt_list(ctx, "present") };
    struct tb_share_outcome o;
    struct tb_text t = { 0 };
    tb_rc rc;

    if (tb_opt_on(ctx, "show"))
        return show(ctx, err);
    if ((rc = tb_act_share(&o, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_joint_words(&t, &o.sample);
    tb_text_say(&t, "Seal each share in its own bag, write lot, tags and seed on it, and let both sides "
                    "sign; what method and rule decide is agreed before anybody looks.\n");
    return print(ctx, tb_json_joints(&o.lot, &o.sample, 1), &t, err);
}

static const struct tb_opt opts[] = {
    { "laboratory", "NAME", "the laboratory both sides agreed on", false },
    { "rule", "TEXT", "agreed method, and what its result decides", false },
    { "present", "NAMES", "who was there, of both sides", true },
    { "seed", "SEED", "deal by this seed; without it, one is made", false },
    { "show", NULL, "deal nothing: show what was dealt", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_share = {
    .name = "share",
    .args = "LOT [--laboratory NAME] [--rule TEXT] [--present NAMES] [--seed SEED] | LOT --show",
    .brief = "deal a joint sample from the retained swatches of a lot",
    .about = "Deals the swatches of which an unburnt half is kept at random to the supplier, to a laboratory "
             "and to the own shelf: of each part of the cloth as many to the one as to the other, and the "
             "rest stays. The seed is recorded, so that anybody can deal again and see that nobody chose. A "
             "swatch is dealt once.",
    .example = "tenterbook share W26-014.02 --laboratory \"Ring Street Laboratory\" --rule \"ISO 1833-11, 3 "
               "points\"\n"
               "tenterbook share W26-014.02 --show",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
