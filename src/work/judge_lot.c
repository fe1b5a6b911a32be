/* The verdict on one lot: now, or as it was after a journal row. */
#include "base/say.h"
#include "tenterbook/circumstance.h"
#include "tenterbook/stored_verdict.h"
#include "work/act.h"
#include "work/verdict.h"

#include <math.h>
#include <string.h>

#define SAME_RATIO 1e-9 /* relative difference of log ratios that rounding alone can make */

struct judging {
    const char *lot;
    unsigned want;
};

static tb_rc plan(struct tb_job *j)
{
    const struct judging *r = j->request;
    struct tb_due due;
    tb_rc rc = tb_rejudge_plan(j, r->lot, NULL, r->want);

    if (rc != TB_OK ||
        (rc = tb_verdict_due(&due, j->b, &j->judged->lot, &j->judged->v, j->mem, j->err)) != TB_OK)
        return rc;
    j->idle = !due.record;
    if (j->idle)
        tb_rejudged_note(j->judged, &due);
    return TB_OK;
}

static const struct tb_said said[] = {
    TB_SAYS(judging, lot, N_("the lot")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_judge(struct tb_rejudged *out, const struct tb_actor *actor, const char *lot, unsigned want,
                   struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_JUDGE,
                                       .plan = plan,
                                       .write = tb_rejudge_write,
                                       .size = sizeof(struct judging),
                                       .said = said };
    struct tb_job job = { .request = &(struct judging){ lot, want }, .mem = mem, .judged = out };

    tb_rc rc;

    *out = (struct tb_rejudged){ 0 };
    rc = tb_act_do(&act, &job, actor, err);
    if (rc == TB_OK && out->laboratory.settled) /* what is recorded is what the burns say by themselves */
        tb_verdict_answered(&out->v.verdict);
    return rc;
}

/* The verdict in force after a journal row. */
static tb_rc find_judged(struct tb_judged *then, struct tb_book *b, const struct tb_lot *lot, int64_t row,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_judged *list = NULL;
    size_t n = 0, at;
    tb_rc rc = tb_judged_list(&list, &n, b, lot->id, mem, err);

    /* in force was the latest that did not rest on something void by then */
    for (at = n; at > 0 && (list[at - 1].entry > row || (list[at - 1].gone && list[at - 1].gone <= row));
         at--)
        ;
    if (rc == TB_OK && at == 0)
        return tb_fail(err, TB_ENOTFOUND, "lot %s had no verdict by journal row %lld", lot->ref,
                       (long long)row);
    if (rc == TB_OK)
        *then = list[at - 1];
    return rc;
}

static tb_rc compare(const struct tb_verdict *now, const struct tb_judged *then, struct tb_err *err)
{
    if (strcmp(now->digest, then->reference) != 0)
        return tb_fail(err, TB_EREFUSED,
                       "the verdict of journal row %lld was computed with other reference tables (%s, here "
                       "%s); the program of that time computes it again",
                       (long long)then->entry, then->reference, now->digest);
    if (isnan(now->log_ratio) != isnan(then->log_ratio) ||
        fabs(now->log_ratio - then->log_ratio) > SAME_RATIO * (1 + fabs(then->log_ratio)))
        return tb_fail(err, TB_EFORMAT,
                       "journal row %lld recorded a log ratio of %.12g; computed again it is %.12g",
                       (long long)then->entry, then->log_ratio, now->log_ratio);
    return TB_OK;
}

/* No ratio rests on the base rate: it is told as it was told then, where it was; that of the site stands beside the row. */
static tb_rc take_base(struct tb_verdict *v, struct tb_book *b, const struct tb_judged *then,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stored_verdict stored;
    struct tb_err ignored = { 0 };
    const json_t *base;
    json_t *aside;
    int from;
    tb_rc rc;

    if (tb_stored_verdict_parse(&stored, then->detail, mem, &ignored) == TB_OK) {
        v->base_rate = stored.base_rate;
        v->base_from = stored.base_from;
    }
    if ((rc = tb_aside_of(&aside, b, then->entry, err)) != TB_OK)
        return rc;
    base = json_object_get(aside, TB_ASIDE_BASE);
    if (v->base_from == TB_BASE_UNSAID && json_is_string(json_object_get(base, "from")) &&
        tb_word_find(&from, &tb_base_words, json_string_value(json_object_get(base, "from")))) {
        v->base_rate = json_number_value(json_object_get(base, "rate"));
        v->base_from = (enum tb_base_from)from;
    }
    json_decref(aside);
    return TB_OK;
}

static tb_rc judge_again(struct tb_rejudged *out, struct tb_book *b, const char *lot, int64_t row,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_judged then = { 0 };
    tb_rc rc;

    if ((rc = tb_lot_find(&out->lot, b, lot, mem, err)) != TB_OK ||
        (rc = find_judged(&then, b, &out->lot, row, mem, err)) != TB_OK ||
        (rc = tb_bench_model_upto(&ev, b, then.entry, err)) != TB_OK)
        return rc;
    rc = tb_bench_judge(&out->v, b, &out->lot, ev, TB_WANT_CUES, then.entry, err);
    if (rc == TB_OK)
        rc = take_base(&out->v.verdict, b, &then, mem, err);
    tb_evidence_free(ev);
    out->judged = rc == TB_OK;
    out->lot.bolts_burnt = then.bolts_burnt;
    out->lot.bolts_tested = then.bolts_tested;
    return rc == TB_OK ? compare(&out->v.verdict, &then, err) : rc;
}

tb_rc tb_judge_as_of(struct tb_rejudged *out, struct tb_book *b, const char *lot, int64_t row,
                     struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_rejudged){ 0 };
    if (rc == TB_OK)
        rc = judge_again(out, b, lot, row, mem, err);
    tb_book_look_away(b);
    return rc;
}
