/* judge_all.c - many lots weighed again at one go: `judge --all`, and the lots a file of burns touched. */
#include "cli/bench/judge_all.h"

#include "cli/show.h"
#include "work/threads.h"

#include <stdlib.h>
#include <string.h>

#define BATCH 512 /* lots read, weighed side by side, and recorded, before the next */

struct one {
    struct tb_lot lot;
    struct tb_lot_burns burns;
    struct tb_lot_verdict v;
    struct tb_err err;
    tb_rc rc;
};

struct batch {
    const struct tb_evidence *ev;
    struct one *one;
    struct tb_arena mem;
};

static void weigh(void *arg, size_t i)
{
    struct batch *b = arg;
    struct one *o = &b->one[i];

    o->rc = tb_bench_weigh(&o->v, &o->burns, b->ev, 0, &o->err);
}

static tb_rc record(struct tb_judged_again *out, struct tb_ctx *ctx, const struct one *o, tb_judged_fn *fn,
                    void *arg, struct tb_err *err)
{
    bool recorded = false, held = false;
    tb_rc rc = tb_bench_record(&recorded, &held, ctx->book, &o->lot, &o->v, err);

    if (rc != TB_OK)
        return rc;
    out->kind[o->v.verdict.kind]++;
    out->recorded += recorded;
    out->held += held;
    if (fn && recorded)
        fn(arg, &o->lot, &o->v, held);
    return TB_OK;
}

static tb_rc one_batch(struct tb_judged_again *out, struct batch *b, struct tb_ctx *ctx, const char **ref,
                       size_t n, tb_judged_fn *fn, void *arg, struct tb_err *err)
{
    size_t weighed = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        b->one[i] = (struct one){ .rc = TB_OK };
        if ((rc = tb_lot_find(&b->one[i].lot, ctx->book, ref[i], &b->mem, err)) == TB_OK)
            rc = tb_bench_read(&b->one[i].burns, ctx->book, &b->one[i].lot, TB_BOOK_NOW, &b->mem, err);
    }
    if (rc == TB_OK) {
        tb_in_parallel(weigh, b, n);
        weighed = n;
    }
    for (size_t i = 0; i < weighed && rc == TB_OK; i++) {
        if (b->one[i].rc != TB_OK)
            *err = b->one[i].err;
        rc = b->one[i].rc == TB_OK ? record(out, ctx, &b->one[i], fn, arg, err) : b->one[i].rc;
    }
    for (size_t i = 0; i < weighed; i++)
        tb_lot_verdict_free(&b->one[i].v);
    tb_arena_free(&b->mem);
    return rc;
}

tb_rc tb_judge_again(struct tb_judged_again *out, struct tb_ctx *ctx, const char **ref, size_t n,
                     tb_judged_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct batch b = { .one = tb_array(struct one, BATCH) };
    tb_rc rc = tb_bench_model(&ev, ctx->book, err);

    *out = (struct tb_judged_again){ .lots = n };
    b.ev = ev;
    for (size_t at = 0; at < n && rc == TB_OK; at += BATCH)
        rc = one_batch(out, &b, ctx, ref + at, n - at < BATCH ? n - at : BATCH, fn, arg, err);
    tb_evidence_free(ev);
    free(b.one);
    return rc;
}

/* --- judge --all ---------------------------------------------------------------------------------------------- */

struct burnt {
    const char **ref;
    size_t n, cap;
    struct tb_arena mem;
};

/* Lots that somebody burned something of. */
static tb_rc take_burnt(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct burnt *b = arg;

    (void)err;
    if (lot->bolts_burnt == 0 && !*lot->verdict)
        return TB_OK;
    TB_PUSH_ROOM(b->ref, b->n, b->cap);
    b->ref[b->n++] = tb_arena_strdup(&b->mem, lot->ref);
    return TB_OK;
}

struct told {
    struct tb_text text;
    json_t *json;
};

static void tell(void *arg, const struct tb_lot *lot, const struct tb_lot_verdict *v, bool held)
{
    struct told *t = arg;
    const char *now = tb_verdict_key(v->verdict.kind), *was = *lot->verdict ? lot->verdict : NULL;

    (void)json_array_append_new(t->json, json_pack("{s:s, s:s?, s:s, s:b}", "lot", lot->ref, "was", was,
                                                   "verdict", now, "held", held));
    tb_text_addf(&t->text, _("%s: %s"), lot->ref, now);
    if (was && strcmp(was, now) != 0)
        tb_text_addf(&t->text, _(", was %s"), was);
    tb_text_add(&t->text, held ? _("; now held.\n") : ".\n");
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_judged_again *j, struct told *t, struct tb_err *err)
{
    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:I, s:I, s:I, s:I, s:I, s:O}", "lots", (json_int_t)j->lots, "fits",
                                       (json_int_t)j->kind[TB_FITS], "contradicts",
                                       (json_int_t)j->kind[TB_CONTRADICTS], "undecided",
                                       (json_int_t)j->kind[TB_UNDECIDED], "held", (json_int_t)j->held,
                                       "recorded", t->json),
                             err);
    if (j->lots == 0) {
        (void)fputs(_("No lot has been burnt yet.\n"), ctx->out);
        return TB_OK;
    }
    (void)fputs(tb_text_str(&t->text), ctx->out);
    (void)fprintf(
        ctx->out,
        _("Lots weighed again: %zu. Fits %zu, contradicts %zu, undecided %zu; recorded because something "
          "changed: %zu; now held: %zu.\n"),
        j->lots, j->kind[TB_FITS], j->kind[TB_CONTRADICTS], j->kind[TB_UNDECIDED], j->recorded, j->held);
    return TB_OK;
}

tb_rc tb_judge_all(struct tb_ctx *ctx, struct tb_err *err)
{
    struct burnt b = { 0 };
    struct told t = { .json = json_array() };
    struct tb_judged_again j = { 0 };
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK &&
        (rc = tb_lot_each(ctx->book, &(struct tb_lot_filter){ 0 }, take_burnt, &b, err)) == TB_OK &&
        (rc = tb_ctx_begin(ctx, "judge", err)) == TB_OK) {
        tb_book_subject(ctx->book, "all lots");
        rc = tb_judge_again(&j, ctx, b.ref, b.n, tell, &t, err);
        if (rc == TB_OK && j.recorded)
            rc = tb_book_commit(ctx->book, err);
        else
            tb_book_rollback(ctx->book);
        if (rc == TB_OK)
            rc = print(ctx, &j, &t, err);
    }
    tb_text_free(&t.text);
    json_decref(t.json);
    free(b.ref);
    tb_arena_free(&b.mem);
    return rc;
}
