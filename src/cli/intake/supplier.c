/* supplier: two spellings of one. */
#include "cli/show.h"

static tb_rc print(struct tb_ctx *ctx, const struct tb_same_outcome *done, bool apart, struct tb_err *err)
{
    struct tb_text t = { 0 };

    if (done->fresh)
        tb_text_say(
            &t,
            "%s is a supplier on its own now, beside %s. What came so far stays with %s; what is %s's goes "
            "over with tenterbook amend DELIVERY --supplier \"%s\" --why ...\n",
            done->supplier.name, done->was.name, done->was.name, done->supplier.name, done->supplier.name);
    else
        tb_same_words(&t, done, apart);
    return tb_print(ctx, tb_json_same(done), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_same_request request = { .supplier = ctx->argv[0],
                                             .same_as = tb_opt(ctx, "same-as"),
                                             .why = tb_opt(ctx, "why") };
    bool apart = tb_opt_on(ctx, "apart");
    struct tb_same_outcome done;
    tb_rc rc;

    if (apart == (request.same_as != NULL) || !request.why || !*request.why)
        return tb_misuse(err, "supplier needs --same-as NAME or --apart, and --why");
    if ((rc = tb_act_same(&done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, apart, err);
    return rc;
}

static const struct tb_opt opts[] = {
    { "same-as", "NAME", "whose spelling it is", false },
    { "apart", NULL, "it is a supplier on its own again", false },
    { "why", "TEXT", "how that is known, in a sentence", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_supplier = {
    .name = "supplier",
    .args = "NAME --same-as NAME --why TEXT | NAME --apart --why TEXT",
    .brief = "make two spellings of a supplier one",
    .about =
        "Two spellings of one supplier: deliveries and record are then of one, under the second name. Both "
        "names stay in the book, and a list that comes under either is of that supplier. Terms and address "
        "are those set for the second name; what was set for the first is told and not in force, and each "
        "lot whose days to tell the supplier are others then is named. --apart takes it back. It "
        "also parts a name that differs "
        "from one in the book by accents alone, and was taken for it.",
    .example = "tenterbook supplier \"Kestrel Mill Ltd\" --same-as \"Kestrel Mill\" --why \"letterhead\"",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
