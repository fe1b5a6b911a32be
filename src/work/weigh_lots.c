/* Many lots weighed side by side: one thread reads the book, all processors weigh. */
#include "work/judge_all.h"
#include "work/threads.h"

#include <stdlib.h>
#include <string.h>

#include <sodium.h>

#define BATCH 512 /* lots whose burns are in memory at a time */

struct batch {
    const struct tb_evidence *ev;
    struct tb_weighed *one;
    struct tb_lot_burns *burns;
    struct tb_likeness *mark; /* equal where the same was seen */
    struct tb_err *err;
    tb_rc *rc;
};

/* With its NUL, or "ab" then "c" would be "a" then "bc". */
static void stamp_text(crypto_hash_sha256_state *h, const char *s)
{
    (void)crypto_hash_sha256_update(h, (const unsigned char *)s, strlen(s) + 1);
}

void tb_weighed_stamp(unsigned char out[TB_STAMP], const struct tb_lot_burns *burns,
                      const struct tb_evidence *ev)
{
    crypto_hash_sha256_state h;
    unsigned char model[TB_STAMP];

    tb_evidence_stamp(model, ev);
    (void)crypto_hash_sha256_init(&h);
    (void)crypto_hash_sha256_update(&h, model, sizeof model);
    stamp_text(&h, burns->declared);
    for (size_t i = 0; i < burns->says; i++)
        stamp_text(&h, burns->said[i]);
    for (size_t i = 0; i < burns->n; i++) {
        const struct tb_observation *o = &burns->obs[i];

        stamp_text(&h, tb_part_key(o->part));
        stamp_text(&h, o->swatch);
        stamp_text(&h, o->person ? o->person : "");
        stamp_text(&h, burns->bolt[i]);
        (void)crypto_hash_sha256_update(&h, o->looked, sizeof o->looked);
        (void)crypto_hash_sha256_update(&h, o->sight, sizeof o->sight);
        (void)crypto_hash_sha256_update(&h, o->could_not, sizeof o->could_not);
    }
    (void)crypto_hash_sha256_final(&h, out);
}

/* What was seen of the lot, whatever was declared of it and whoever burned. */
static void mark(void *arg, size_t i)
{
    struct batch *b = arg;
    crypto_hash_sha256_state h;

    (void)crypto_hash_sha256_init(&h);
    for (size_t k = 0; k < b->burns[i].n; k++) {
        const struct tb_observation *o = &b->burns[i].obs[k];

        (void)crypto_hash_sha256_update(&h, o->looked, sizeof o->looked);
        (void)crypto_hash_sha256_update(&h, o->sight, sizeof o->sight);
        (void)crypto_hash_sha256_update(&h, o->could_not, sizeof o->could_not);
    }
    (void)crypto_hash_sha256_final(&h, b->mark[i].byte);
}

/* Few lots contradict, and whoever holds one has to know which test would end that. */
static tb_rc weigh_one(struct tb_lot_verdict *out, const struct tb_lot_burns *burns,
                       const struct tb_evidence *ev, struct tb_recall *recall, struct tb_err *err)
{
    tb_rc rc = tb_bench_weigh(out, burns, ev, recall, 0, err);

    if (rc != TB_OK || out->verdict.kind != TB_CONTRADICTS)
        return rc;
    tb_lot_verdict_free(out);
    return tb_bench_weigh(out, burns, ev, recall, TB_WANT_NEXT | TB_WANT_OUTCOMES, err);
}

static void weigh(struct batch *b, size_t i, struct tb_recall *recall)
{
    struct tb_weighed *o = &b->one[i];
    unsigned char now[TB_STAMP];

    tb_weighed_stamp(now, &b->burns[i], b->ev);
    if (o->weighed && memcmp(now, o->stamp, sizeof now) == 0)
        return;
    tb_lot_verdict_free(&o->v);
    b->rc[i] = weigh_one(&o->v, &b->burns[i], b->ev, recall, &b->err[i]);
    o->weighed = b->rc[i] == TB_OK;
    memcpy(o->stamp, now, sizeof now);
}

/* Lots that saw the same are weighed against all compositions once. */
static void weigh_alike(void *arg, const size_t *lot, size_t n)
{
    struct batch *b = arg;
    struct tb_recall *recall = tb_recall_new(b->ev);

    for (size_t i = 0; i < n; i++)
        weigh(b, lot[i], recall);
    tb_recall_free(recall);
}

static tb_rc weigh_batch(struct batch *t, size_t n, struct tb_book *b, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_arena burns = { 0 };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = tb_lot_find(&t->one[i].lot, b, t->one[i].ref, mem, err)) == TB_OK)
            rc = tb_bench_read(&t->burns[i], b, &t->one[i].lot, t->one[i].pending, TB_BOOK_NOW, &burns, err);
    memset(t->rc, 0, n * sizeof *t->rc);
    if (rc == TB_OK) {
        tb_in_parallel(mark, t, n);
        tb_alike_in_parallel(weigh_alike, t, t->mark, n);
    }
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = t->rc[i]) != TB_OK)
            *err = t->err[i];
    tb_arena_free(&burns);
    return rc;
}

tb_rc tb_weigh_lots(struct tb_weighed *one, size_t n, struct tb_book *b, const struct tb_evidence *ev,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct batch t = { .ev = ev,
                       .burns = tb_array(struct tb_lot_burns, BATCH),
                       .mark = tb_array(struct tb_likeness, BATCH),
                       .err = tb_array(struct tb_err, BATCH),
                       .rc = tb_array(tb_rc, BATCH) };
    tb_rc rc = TB_OK;

    for (size_t at = 0; at < n && rc == TB_OK; at += BATCH) {
        t.one = one + at;
        rc = weigh_batch(&t, n - at < BATCH ? n - at : BATCH, b, mem, err);
    }
    free(t.burns);
    free(t.mark);
    free(t.err);
    free(t.rc);
    return rc;
}

/* Most lots stand where they stood: the search begins behind the last one that was found. */
void tb_weighed_carry(struct tb_weighed *now, size_t n, struct tb_weighed *before, size_t befores)
{
    size_t at = 0;

    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < befores; k++) {
            struct tb_weighed *o = &before[(at + k) % befores];

            if (strcmp(o->ref, now[i].ref) != 0)
                continue;
            now[i].v = o->v;
            now[i].weighed = o->weighed;
            memcpy(now[i].stamp, o->stamp, sizeof o->stamp);
            o->v = (struct tb_lot_verdict){ 0 };
            o->weighed = false;
            at = (at + k + 1) % befores;
            break;
        }
}

void tb_weighed_free(struct tb_weighed *one, size_t n)
{
    for (size_t i = 0; i < n && one; i++)
        tb_lot_verdict_free(&one[i].v);
    free(one);
}
