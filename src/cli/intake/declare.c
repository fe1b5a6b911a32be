/* declare: the words that count for a lot from now on. */
#include "cli/show.h"

#include <string.h>

static tb_rc print(struct tb_ctx *ctx, const struct tb_rejudged *r, struct tb_err *err)
{
    struct tb_text t = { 0 };

    tb_text_say(&t, "Lot %s is now declared \"%s\", read as: %s.\n", r->lot.ref, r->lot.declared,
                *r->lot.reading ? r->lot.reading : _("nothing that could be read"));
    if (*r->lot.doubts)
        tb_text_say(&t, "Doubts:\n%s\n", r->lot.doubts);
    if (r->judged)
        tb_rejudged_words(&t, r);
    tb_corrected_words(&t, r);
    if (r->of_old_words)
        tb_text_say(
            &t,
            "The lot stays held: what was seen contradicted the words before these, and its page keeps the "
            "days to tell the supplier (tenterbook look %s). Where those words were typed here by mistake, "
            "say "
            "so (tenterbook declare %s --text ... --slip --why ...); else decide (tenterbook settle %s --as "
            "...).\n",
            r->lot.ref, r->lot.ref, r->lot.ref);
    return tb_print(ctx, tb_json_declared(r), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_declare_request request = { .lot = ctx->argv[0],
                                                .text = tb_opt(ctx, "text"),
                                                .why = tb_opt(ctx, "why"),
                                                .slip = tb_opt_on(ctx, "slip"),
                                                .anyway = tb_opt_on(ctx, "anyway") };
    struct tb_rejudged r = { 0 };
    tb_rc rc;

    if (!request.text || !*request.text)
        return tb_misuse(err, "declare needs --text with the composition");
    if ((rc = tb_act_declare(&r, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &r, err);
    tb_rejudged_free(&r);
    return rc;
}

static const struct tb_opt opts[] = {
    { "text", "TEXT", "the composition, as the supplier answered", false },
    { "why", "TEXT",
      "where it comes from (a letter, a mail), where the words so far say nothing or no fibre can be read in "
      "it",
      false },
    { "slip", NULL, "the words so far were typed here by mistake: --why says how", false },
    { "anyway", NULL, "--slip: although the words came out of the supplier's file, which the book holds",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_declare = {
    .name = "declare",
    .args = "LOT --text TEXT [--why TEXT] [--slip [--anyway]]",
    .brief = "record the supplier's answer to a doubtful declaration",
    .about =
        "Where a declaration could not be read for certain (PE: polyester or polyethylene?), records what "
        "the supplier answered. The words as received stay in the book; the answer counts from now on. It "
        "must be "
        "a reading of them: it keeps what could be read and names what a doubtful word may mean. Where "
        "nothing was "
        "declared, or nobody can tell of what the cloth is by the words, any answer is taken, with --why. "
        "Words that "
        "were clear no answer replaces, at any time: the goods came under them. What the supplier writes "
        "then, a "
        "corrected list too, is a step of the dispute, and a new label is settled as relabelled. "
        "Words that were typed here by mistake are put "
        "right with "
        "--slip: the page of the lot says so, and not that the supplier answered; verdicts against the wrong "
        "words count no "
        "more, and the hold and the days to tell the supplier that only those made go with them.",
    .example = "tenterbook declare W26-014.02 --text \"65% polyester 35% cotton\"",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
