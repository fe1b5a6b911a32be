/* What a verdict does: it is recorded where it is new, and holds a lot that it contradicts. */
#include "work/verdict.h"

#include "tenterbook/circumstance.h"
#include "tenterbook/dispute.h"
#include "tenterbook/stored_verdict.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* NAN (not judged) is stored as no evidence either way; the reason stands in the detail. */
static double stored_ratio(const struct tb_verdict *v)
{
    return isnan(v->log_ratio) ? 0.0 : v->log_ratio;
}

/* A burn that says no more than was said leaves the ratio as it is; the verdict speaks of one burn more all the same. */
static bool of_as_many(const struct tb_judged *last, const struct tb_verdict *v, struct tb_arena *mem)
{
    struct tb_stored_verdict stored;
    struct tb_err ignored = { 0 };

    return tb_stored_verdict_parse(&stored, last->detail ? last->detail : "", mem, &ignored) == TB_OK &&
           stored.observations == (int64_t)v->burns;
}

/* The grade as well as the word: a site may have set another limit, and both are the same word. */
bool tb_verdict_same(const struct tb_judged *last, const struct tb_verdict *v, const struct tb_lot *lot,
                     struct tb_arena *mem)
{
    bool ratio = isnan(v->log_ratio) ? isnan(last->log_ratio) : fabs(last->log_ratio - v->log_ratio) < 1e-12;
    struct tb_told_verdict told;

    tb_judged_told(&told, last);
    return last->verdict == v->kind && told.grade == tb_grade_of(v->grade, v->kind) && ratio &&
           strcmp(last->reference, v->digest) == 0 && last->bolts_burnt == lot->bolts_burnt &&
           last->bolts == lot->bolts && of_as_many(last, v, mem);
}

/* How strongly, and of how many bolts, stands in the verdict: said here too, it could be told otherwise than there. */
static tb_rc hold(struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem, struct tb_err *err)
{
    return tb_standing_add(&(struct tb_standing){ .lot = lot->id,
                                                  .standing = TB_HELD,
                                                  .why = tb_decision_why(TB_DECIDED_BY_VERDICT) },
                           b, mem, err);
}

/*
 * A person who released the lot, or opened it again, knew what had been seen by then: only what is new overrules that. So did
 * who released some of its bolts, and a new hold is of those too.
 */
static tb_rc weigh_decision(struct tb_due *due, struct tb_book *b, const struct tb_lot *lot,
                            struct tb_arena *mem, struct tb_err *err)
{
    bool part = lot->released_in_part > 0 && lot->standing != TB_RELEASED;
    bool open = part || lot->standing == TB_WAITING || lot->standing == TB_RELEASED;
    tb_rc rc = part ? tb_bolts_released_last(&due->before, b, lot->id, mem, err)
                    : tb_settled_latest(&due->before, b, lot->id, mem, err);

    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    due->keep = open && rc == TB_OK && !due->before.fresh;
    due->hold = open && !due->keep && due->record;
    return TB_OK;
}

tb_rc tb_verdict_due(struct tb_due *due, struct tb_book *b, const struct tb_lot *lot,
                     const struct tb_lot_verdict *v, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_judged last = { 0 };
    tb_rc rc = tb_judged_latest(&last, b, lot->id, mem, err);

    *due = (struct tb_due){ 0 };
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    due->record = rc == TB_OK ? !tb_verdict_same(&last, &v->verdict, lot, mem) : v->observations > 0;
    return v->verdict.kind == TB_CONTRADICTS ? weigh_decision(due, b, lot, mem, err) : TB_OK;
}

/* Those whose own burns contradict, one a line. */
static const char *bolts_against(const struct tb_lot_verdict *v, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < v->bolts; i++)
        if (v->bolt[i].kind == TB_CONTRADICTS)
            tb_text_addf(&t, "%s%s", t.n ? "\n" : "", v->bolt[i].number);
    return tb_arena_take(mem, &t);
}

/* A share of false lots that is the site's own is over all its suppliers: what a case tells of the verdict does not have it. */
static char *verdict_text(json_t *json, struct tb_book *b, const struct tb_verdict *v)
{
    if (v->base_from == TB_BASE_SETTING || v->base_from == TB_BASE_SITE) {
        (void)json_object_set_new(json, "base_rate", json_null());
        tb_book_aside(b, TB_ASIDE_BASE,
                      json_pack("{s:f, s:s}", "rate", v->base_rate, "from",
                                tb_word(&tb_base_words, (int)v->base_from)));
    }
    return json_dumps(json, JSON_COMPACT | JSON_SORT_KEYS | JSON_REAL_PRECISION(17));
}

static tb_rc write_verdict(struct tb_book *b, const struct tb_lot *lot, const struct tb_lot_verdict *v,
                           struct tb_arena *mem, struct tb_err *err)
{
    json_t *json = tb_lot_verdict_json(v, lot);
    struct tb_bounds bounds = v->verdict.bounds;
    char *detail = verdict_text(json, b, &v->verdict);
    struct tb_judged now = { .lot = lot->id,
                             .verdict = v->verdict.kind,
                             .log_ratio = stored_ratio(&v->verdict),
                             .bolts_burnt = lot->bolts_burnt,
                             .bolts = lot->bolts,
                             .reference = v->verdict.digest,
                             .detail = detail,
                             .grade = tb_grade_key(tb_grade_of(v->verdict.grade, v->verdict.kind)),
                             .lowest = bounds.low,
                             .highest = bounds.high,
                             .one_look = v->verdict.one_look,
                             .against = bolts_against(v, mem) };
    tb_rc rc;

    if (!(bounds.high > 0)) { /* nothing was weighed */
        tb_bounds_published(&bounds);
        now.lowest = bounds.low;
        now.highest = bounds.high;
    }
    rc = detail
             ? tb_judged_add(&now, b, mem, err)
             : tb_fail(err, TB_EINVAL,
                       "the verdict on lot %s holds a text that is not UTF-8; it is not recorded", lot->ref);

    json_decref(json);
    free(detail);
    return rc;
}

tb_rc tb_verdict_record(struct tb_due *due, struct tb_book *b, const struct tb_lot *lot,
                        const struct tb_lot_verdict *v, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_verdict_due(due, b, lot, v, mem, err);

    if (rc == TB_OK && due->record)
        rc = write_verdict(b, lot, v, mem, err);
    return rc == TB_OK && due->hold ? hold(b, lot, mem, err) : rc;
}

const char *tb_confirming(const struct tb_lot_verdict *v, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    tb_verdict_confirm_clause(&t, &v->verdict);
    return t.n ? tb_arena_take(mem, &t) : "";
}

void tb_rejudged_note(struct tb_rejudged *r, const struct tb_due *due)
{
    r->recorded = due->record;
    r->held = due->hold;
    r->kept = due->keep;
    r->before = due->before;
}

/* Whoever reads what comes of our own label reads first what was found of the supplier's words. */
static tb_rc read_said(struct tb_job *j)
{
    struct tb_rejudged *out = j->judged;
    struct tb_lot_said said;
    tb_rc rc;

    if (!out->lot.own_words)
        return TB_OK;
    if ((rc = tb_said_of_lot(&said, j->b, out->lot.id, j->mem, j->err)) != TB_OK)
        return rc;
    out->said = said.said;
    return tb_said_concluded(&out->concluded, j->b, &said, j->mem, j->err);
}

tb_rc tb_rejudge_plan(struct tb_job *j, const char *lot_ref, const struct tb_pending *pending, unsigned want)
{
    struct tb_rejudged *out = j->judged;
    struct tb_evidence *ev = NULL;
    struct tb_lot_burns burns;
    tb_rc rc;

    tb_rejudged_free(out);
    if ((rc = tb_job_lot(&out->lot, j, lot_ref)) != TB_OK ||
        (rc = tb_bench_read(&burns, j->b, &out->lot, pending, TB_BOOK_NOW, j->mem, j->err)) != TB_OK)
        return rc;
    /* words alone are no evidence: nothing was burnt and nothing tested */
    if (pending && burns.n == 0)
        return TB_OK;
    if ((rc = tb_bench_model(&ev, j->b, j->err)) == TB_OK &&
        (rc = tb_laboratory_read(&out->laboratory, j->b, &out->lot, burns.declared, j->mem, j->err)) == TB_OK)
        rc = tb_bench_weigh(&out->v, &burns, ev, NULL, want, j->err);
    tb_evidence_free(ev);
    out->judged = rc == TB_OK;
    return rc == TB_OK ? read_said(j) : rc;
}

/* A lot that somebody argues about stays whole. */
static tb_rc hold_disputed(struct tb_rejudged *r, struct tb_job *j)
{
    struct tb_standing s = { .lot = r->lot.id,
                             .standing = TB_HELD,
                             .why = tb_decision_why(TB_DECIDED_BY_OPEN_DISPUTE) };
    struct tb_dispute d;
    tb_rc rc = tb_dispute_now(&d, j->b, s.lot, j->mem, j->err);

    if (rc != TB_OK)
        return rc == TB_ENOTFOUND ? TB_OK : rc;
    r->disputed = true;
    return tb_standing_add(&s, j->b, j->mem, j->err);
}

tb_rc tb_hold_after(struct tb_rejudged *r, struct tb_job *j, enum tb_standing_kind was)
{
    tb_rc rc;

    if (was != TB_HELD || r->lot.standing == TB_HELD)
        return TB_OK;
    if ((rc = hold_disputed(r, j)) == TB_OK)
        rc = tb_lot_find(&r->lot, j->b, r->lot.ref, j->mem, j->err);
    r->lifted = !r->disputed;
    return rc;
}

/* A decision of a person stays. Keys grow with time: one made after the record was may rest on it. */
tb_rc tb_decision_after(struct tb_rejudged *r, struct tb_job *j, const char *id)
{
    const struct tb_lot *lot = &r->lot;
    struct tb_standing *all;
    size_t n;
    tb_rc rc;

    if (lot->standing != TB_RELEASED && lot->standing != TB_RETURNED && lot->standing != TB_RELABELLED)
        return TB_OK;
    rc = tb_standing_list(&all, &n, j->b, lot->id, j->mem, j->err);
    while (rc == TB_OK && n && all[n - 1].gone)
        n--;
    if (rc == TB_OK && n && strcmp(all[n - 1].id, id) > 0)
        r->stays = tb_arena_strndup(j->mem, all[n - 1].settled_at, TB_DAY_LEN);
    return rc;
}

tb_rc tb_rejudge_write(struct tb_job *j)
{
    struct tb_rejudged *out = j->judged;
    tb_rc rc = j->lot ? tb_job_lot(&out->lot, j, j->lot) : TB_OK; /* as it is with what was just recorded */

    if (rc == TB_OK && out->judged) {
        struct tb_due due;

        if ((rc = tb_verdict_record(&due, j->b, &out->lot, &out->v, j->mem, j->err)) == TB_OK)
            tb_rejudged_note(out, &due);
    }
    if (rc == TB_OK && out->recorded)
        rc = tb_job_lot(&out->lot, j, j->lot);
    return rc == TB_OK && j->lot ? read_said(j) : rc;
}

tb_rc tb_rejudge_corrected(struct tb_job *j, const char *corrected)
{
    enum tb_standing_kind was = j->judged->lot.standing; /* as the plan, which still holds, read it */
    tb_rc rc = tb_rejudge_write(j);

    if (rc != TB_OK || !corrected || !j->lot)
        return rc;
    rc = tb_hold_after(j->judged, j, was);
    return rc == TB_OK ? tb_decision_after(j->judged, j, corrected) : rc;
}

void tb_rejudged_free(struct tb_rejudged *r)
{
    tb_lot_verdict_free(&r->v);
    *r = (struct tb_rejudged){ 0 };
}
