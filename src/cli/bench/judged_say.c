/* The verdict after a record, in words: what every command says that changes what is known of a lot. */
#include "cli/show.h"

/* A hold that goes against a decision says so, and so does a decision that goes on against a verdict. */
void tb_print_hold(struct tb_ctx *ctx, const struct tb_rejudged *r)
{
    const struct tb_settled *was = &r->before;

    if (r->held && was->standing == TB_STANDING_NONE)
        tb_say(ctx->out,
               "The lot is now held: no bolt of it goes into use until somebody settles it (tenterbook "
               "settle %s --as ... --why ...).\n",
               r->lot.ref);
    else if (r->held)
        tb_say(
            ctx->out,
            "The lot is now held again: this evidence is newer than the decision of %s at %s (%s). No bolt "
            "of it goes into use until somebody settles it (tenterbook settle %s --as ... --why ...).\n",
            was->settled_by, was->settled_at, tb_standing_key(was->standing), r->lot.ref);
    else if (r->kept)
        tb_say(ctx->out,
               "The lot stays %s: %s decided so at %s, and nothing of it was burned, tested or declared "
               "since.\n",
               tb_standing_key(was->standing), was->settled_by, was->settled_at);
}

void tb_print_rejudged(struct tb_ctx *ctx, const struct tb_rejudged *r)
{
    const struct tb_verdict *v = &r->v.verdict;
    struct tb_text t = { 0 };

    tb_text_addf(&t, _("Lot %s, declared \"%s\": %s"), r->lot.ref, r->lot.declared, tb_verdict_key(v->kind));
    if (v->reason) {
        tb_text_addf(&t, " (%s)", v->reason);
    } else {
        tb_text_add(&t, ", ");
        tb_ratio_words(&t, v->log_ratio);
    }
    tb_text_add(&t, "; ");
    tb_bench_coverage(&t, r->lot.bolts_burnt, r->lot.bolts_tested, r->lot.bolts);
    (void)fprintf(ctx->out, "%s.\n", t.s);
    tb_print_hold(ctx, r);
    tb_text_clear(&t);
    tb_verdict_confirm(&t, v); /* whoever holds cloth up should know what would end it */
    (void)fputs(tb_text_str(&t), ctx->out);
    tb_text_free(&t);
}

void tb_json_rejudged(json_t *json, const struct tb_rejudged *r, const char *moment)
{
    tb_json_put(json, "lot", tb_json_lot(&r->lot));
    tb_json_put(json, "judged", tb_lot_verdict_json(&r->v, &r->lot));
    tb_json_put(json, "held", json_boolean(r->held));
    tb_json_put_early(json, moment, &r->lot);
}
