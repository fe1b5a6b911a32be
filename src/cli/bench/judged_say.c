/* The verdict after a record, in words: what every command says that changes what is known of a lot. */
#include "cli/show.h"

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
    tb_bench_coverage(&t, r->lot.bolts_burnt, r->lot.bolts);
    (void)fprintf(ctx->out, "%s.\n", t.s);
    if (r->held)
        tb_say(ctx->out,
               "The lot is now held: no bolt of it goes into use until somebody settles it (tenterbook "
               "settle %s --as ... --why ...).\n",
               r->lot.ref);
    tb_text_free(&t);
}
