#include "cli/bench/judge_lot.h"

#include "cli/show.h"

#include <math.h>
#include <string.h>

static json_t *as_json(const struct tb_lot *lot, const struct tb_lot_verdict *v)
{
    json_t *j = tb_lot_verdict_json(v, lot);

    (void)json_object_set_new(j, "standing", tb_json_text(lot->standing));
    return j;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_lot *lot, const struct tb_lot_verdict *v, bool held,
                   struct tb_err *err)
{
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (ctx->json)
        return tb_print_json(ctx, as_json(lot, v), err);
    tb_text_addf(&t, _("Lot %s of %s, arrived %s: "), lot->ref, lot->supplier_name, lot->arrived);
    tb_bench_coverage(&t, lot->bolts_burnt, lot->bolts);
    tb_text_add(&t, lot->bolts_burnt
                        ? _("; the verdict speaks of those, and of the metres they hold, not of the rest.\n")
                        : _("; nothing can be said yet.\n"));
    tb_verdict_explain(&t, &v->verdict, &v->declaration);
    if (held)
        tb_text_addf(
            &t, _("The lot is now held until somebody settles it: tenterbook settle %s --as ... --why ...\n"),
            lot->ref);
    if (fputs(t.s, ctx->out) == EOF)
        rc = tb_fail(err, TB_EIO, "the output could not be written");
    tb_text_free(&t);
    return rc;
}

/* The verdict that a journal row holds, computed again with what the book held then. */
static tb_rc judge_as_of(struct tb_ctx *ctx, const struct tb_lot *lot, int64_t row, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_lot_verdict v = { 0 };
    struct tb_judged *list = NULL;
    const struct tb_judged *then = NULL;
    size_t n = 0;
    tb_rc rc = tb_judged_list(&list, &n, ctx->book, lot->id, mem, err);

    for (size_t i = 0; i < n; i++)
        if (list[i].entry <= row)
            then = &list[i];
    if (rc == TB_OK && !then)
        return tb_fail(err, TB_ENOTFOUND, "lot %s had no verdict by journal row %lld", lot->ref,
                       (long long)row);
    if (rc != TB_OK || (rc = tb_bench_model_upto(&ev, ctx->book, then->entry, err)) != TB_OK)
        return rc;
    rc = tb_bench_judge(&v, ctx->book, lot, ev, TB_WANT_CUES, then->entry, err);
    tb_evidence_free(ev);
    if (rc == TB_OK && strcmp(v.verdict.digest, then->reference) != 0)
        rc = tb_fail(err, TB_EREFUSED,
                     "the verdict of journal row %lld was computed with other reference tables (%s, here "
                     "%s); the program of "
                     "that time computes it again",
                     (long long)then->entry, then->reference, v.verdict.digest);
    if (rc == TB_OK && fabs(v.verdict.log_ratio - then->log_ratio) > 1e-9 * (1 + fabs(then->log_ratio)) &&
        !isnan(v.verdict.log_ratio))
        rc = tb_fail(err, TB_EFORMAT,
                     "journal row %lld recorded a log ratio of %.12g; computed again it is %.12g",
                     (long long)then->entry, then->log_ratio, v.verdict.log_ratio);
    if (rc == TB_OK) {
        struct tb_lot as_then = *lot;

        as_then.bolts_burnt = then->bolts_burnt;
        rc = print(ctx, &as_then, &v, false, err);
    }
    tb_lot_verdict_free(&v);
    return rc;
}

static tb_rc judge_now(struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_rejudged r = { 0 };
    tb_rc rc = tb_ctx_begin(ctx, "judge", err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(ctx->book, lot->ref);
    rc = tb_rejudge(&r, ctx, lot->ref, TB_WANT_ALL, mem, err);
    if (rc == TB_OK && r.recorded)
        rc = tb_book_commit(ctx->book, err);
    else
        tb_book_rollback(ctx->book);
    if (rc == TB_OK)
        rc = print(ctx, &r.lot, &r.v, r.held, err);
    tb_rejudged_free(&r);
    return rc;
}

tb_rc tb_judge_lot(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    long row = 0;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK && (rc = tb_opt_whole(&row, ctx, "as-of", 1, 1000000000, err)) == TB_OK &&
        (rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], &mem, err)) == TB_OK)
        rc = row ? judge_as_of(ctx, &lot, row, &mem, err) : judge_now(ctx, &lot, &mem, err);
    tb_arena_free(&mem);
    return rc;
}
