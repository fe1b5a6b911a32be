/* A verdict after each record: what `burn`, `try`, `settle` and `judge LOT` share. */
#include "cli/show.h"

#include <math.h>
#include <string.h>

tb_rc tb_rejudge(struct tb_rejudged *out, struct tb_ctx *ctx, const char *lot_ref, unsigned want,
                 struct tb_arena *mem, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    tb_rc rc;

    *out = (struct tb_rejudged){ 0 };
    if ((rc = tb_bench_model(&ev, ctx->book, err)) == TB_OK &&
        (rc = tb_lot_find(&out->lot, ctx->book, lot_ref, mem, err)) == TB_OK)
        rc = tb_bench_judge(&out->v, ctx->book, &out->lot, ev, want, TB_BOOK_NOW, err);
    tb_evidence_free(ev);
    out->judged = rc == TB_OK;
    if (rc == TB_OK &&
        (rc = tb_bench_record(&out->recorded, &out->held, ctx->book, &out->lot, &out->v, err)) == TB_OK)
        rc = tb_lot_find(&out->lot, ctx->book, lot_ref, mem, err);
    if (rc != TB_OK)
        tb_rejudged_free(out);
    return rc;
}

void tb_rejudged_free(struct tb_rejudged *r)
{
    tb_lot_verdict_free(&r->v);
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
    tb_bench_coverage(&t, r->lot.bolts_burnt, r->lot.bolts);
    (void)fprintf(ctx->out, "%s.\n", t.s);
    if (r->held)
        (void)fprintf(ctx->out,
                      _("The lot is now held: no bolt of it goes into use until somebody settles it "
                        "(tenterbook settle %s --as ... --why ...).\n"),
                      r->lot.ref);
    tb_text_free(&t);
}
