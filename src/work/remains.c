/*
 * What is left of a lot once a record of it counts no more, or counts again. It is weighed before the lock is taken, from what the
 * book holds and what the act is going to change; under the lock it is only seen whether that came true.
 */
#include "work/remains.h"

#include "work/judge_all.h"
#include "work/verdict.h"

#include <string.h>

#define WANT (TB_WANT_CUES | TB_WANT_NEXT | TB_WANT_OUTCOMES)

void tb_remains_free(struct tb_remains *left)
{
    tb_lot_verdict_free(&left->v);
    *left = (struct tb_remains){ 0 };
}

tb_rc tb_remains_weigh(struct tb_remains *out, struct tb_job *j, const struct tb_lot *lot,
                       const struct tb_pending *pending)
{
    struct tb_evidence *ev = NULL;
    struct tb_lot_burns burns;
    tb_rc rc = tb_bench_read(&burns, j->b, lot, pending, TB_BOOK_NOW, j->mem, j->err);

    tb_remains_free(out);
    if (rc != TB_OK || burns.n == 0)
        return rc;
    if ((rc = tb_bench_model(&ev, j->b, j->err)) == TB_OK)
        rc = tb_bench_weigh(&out->v, &burns, ev, NULL, WANT, j->err);
    out->weighed = rc == TB_OK;
    if (out->weighed)
        tb_weighed_stamp(out->stamp, &burns, ev);
    tb_evidence_free(ev);
    return rc;
}

tb_rc tb_remains_take(struct tb_lot_verdict *out, bool *ahead, struct tb_remains *left, struct tb_job *j,
                      const struct tb_lot_burns *burns)
{
    unsigned char now[TB_STAMP];
    struct tb_evidence *ev = NULL;
    tb_rc rc = tb_bench_model(&ev, j->b, j->err);

    if (rc != TB_OK)
        return rc;
    tb_weighed_stamp(now, burns, ev);
    *ahead = left->weighed && memcmp(now, left->stamp, sizeof now) == 0;
    if (*ahead) {
        *out = left->v;
        *left = (struct tb_remains){ 0 };
    } else
        rc = tb_bench_weigh(out, burns, ev, NULL, WANT, j->err);
    tb_evidence_free(ev);
    return rc;
}

/* --- what changes ------------------------------------------------------------------------------------------------- */

static bool is_of(const char *about, const char *kind)
{
    return strcmp(about, kind) == 0;
}

/* A record, its swatch, or the swatches of a bolt, by their ids. */
static tb_rc ids_of(const char *const **out, size_t *n, struct tb_job *j, const char *about, const char *id,
                    const char *lot)
{
    struct tb_swatch *swatch = NULL;
    size_t swatches = 0;
    const char **list;
    tb_rc rc =
        is_of(about, "bolt") ? tb_swatch_ever_list(&swatch, &swatches, j->b, lot, j->mem, j->err) : TB_OK;

    list = tb_arena_alloc(j->mem, (swatches + 1) * sizeof *list);
    *n = 0;
    if (!is_of(about, "bolt"))
        list[(*n)++] = id;
    for (size_t i = 0; i < swatches; i++)
        if (swatch[i].bolt && strcmp(swatch[i].bolt, id) == 0)
            list[(*n)++] = swatch[i].id;
    *out = list;
    return rc;
}

static tb_rc corrected_burn(struct tb_pending *out, struct tb_job *j, const char *id)
{
    struct tb_burn *one = tb_arena_alloc(j->mem, sizeof *one);
    tb_rc rc = tb_burn_find(one, j->b, id, j->mem, j->err);

    out->back = one;
    out->backs = 1;
    return rc;
}

static tb_rc corrected_test(struct tb_pending *out, struct tb_job *j, const char *lot, const char *id)
{
    struct tb_bench_test *all;
    size_t n;
    tb_rc rc = tb_bench_test_corrected_list(&all, &n, j->b, lot, j->mem, j->err);

    for (size_t i = 0; rc == TB_OK && i < n; i++)
        if (strcmp(all[i].id, id) == 0) {
            out->back_test = &all[i];
            out->back_tests = 1;
        }
    return rc;
}

tb_rc tb_remains_without(struct tb_pending *out, struct tb_job *j, const struct tb_void_subject *s)
{
    tb_rc rc = ids_of(&out->without, &out->withouts, j, s->about, s->id, s->lot);

    if (rc != TB_OK || !s->replaces)
        return rc;
    return is_of(s->about, "burn") ? corrected_burn(out, j, s->replaces)
                                   : corrected_test(out, j, s->lot, s->replaces);
}

static bool listed(const struct tb_pending *p, const char *id, const char *swatch)
{
    for (size_t i = 0; i < p->withouts; i++)
        if (strcmp(p->without[i], id) == 0 || strcmp(p->without[i], swatch) == 0)
            return true;
    return false;
}

tb_rc tb_remains_back(struct tb_pending *out, struct tb_job *j, const struct tb_voiding *v)
{
    struct tb_pending named = { 0 };
    struct tb_bench_test *test;
    struct tb_burn *burn;
    size_t burns, tests;
    tb_rc rc;

    if ((rc = ids_of(&named.without, &named.withouts, j, v->about, v->subject, v->lot)) != TB_OK ||
        (rc = tb_burn_voided_list(&burn, &burns, j->b, v->lot, j->mem, j->err)) != TB_OK ||
        (rc = tb_bench_test_voided_list(&test, &tests, j->b, v->lot, j->mem, j->err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < burns; i++)
        if (listed(&named, burn[i].id, burn[i].swatch))
            burn[out->backs++] = burn[i];
    for (size_t i = 0; i < tests; i++)
        if (listed(&named, test[i].id, test[i].swatch))
            test[out->back_tests++] = test[i];
    out->back = burn;
    out->back_test = test;
    return TB_OK;
}
