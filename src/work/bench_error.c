/*
 * bench_error.c - how often a bench records one cloth as another, from the drills: known swatches that were burned blind.
 *
 * Published figures are the prior and drilled burns the data of a beta. Source: docs/method.md, section 4.
 */
#include "work/model.h"
#include "work/observe.h"

#include "tenterbook/draws.h"
#include "tenterbook/interval.h"

#include <math.h>
#include <string.h>

#define SURE 0.95

/*
 * Cloths of one fibre, published counts: a site's own known burns, the mistakes among them included, would have taught the
 * model to expect them.
 */
static tb_rc published_model(struct tb_evidence **out, struct tb_err *err)
{
    struct tb_evidence_settings set;

    tb_evidence_defaults(&set);
    set.fibres_most = 1;
    return tb_evidence_new(out, &set, NULL, 0, err);
}

/* Counts one burn, where a verdict on its cloth is possible. */
static tb_rc count(struct tb_drilled *out, const struct tb_evidence *ev, const struct tb_drilled_burn *d,
                   struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_declaration known = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_observation seen;
    struct tb_burn burn;
    tb_rc rc;

    if (tb_known_fibre(d->known) < 0)
        return TB_OK;
    if ((rc = tb_burn_find(&burn, b, d->burn, mem, err)) != TB_OK ||
        (rc = tb_burn_observed(&seen, &burn, err)) != TB_OK)
        return rc;
    tb_declaration_read(&known, d->known, strlen(d->known));
    seen.part = TB_PART_WHOLE;
    if ((rc = tb_evidence_judge(&v, ev, &known, &seen, 1, 0, err)) == TB_OK && !v.reason) {
        out->burns++;
        out->mistakes += v.log_ratio < log(v.contradicts_below);
    }
    tb_verdict_free(&v);
    tb_declaration_free(&known);
    return rc;
}

static tb_rc count_all(struct tb_drilled *out, const struct tb_drilled_burn *list, size_t n,
                       struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    tb_rc rc = published_model(&ev, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = count(out, ev, &list[i], b, mem, err);
    tb_evidence_free(ev);
    return rc;
}

/* Too few say nothing yet, and are not worth the time of judging them for every verdict. */
tb_rc tb_bench_error_read(double *chance, struct tb_drilled *out, struct tb_book *b, int64_t upto,
                          struct tb_arena *mem, struct tb_err *err)
{
    struct tb_evidence_settings set;
    struct tb_drilled_burn *list = NULL;
    struct tb_drilled d = { 0 };
    double wrong, right;
    size_t n = 0;
    tb_rc rc = tb_drill_burns(&list, &n, b, upto, mem, err);

    tb_evidence_defaults(&set);
    *chance = set.bench_error;
    *out = (struct tb_drilled){ 0 };
    if (rc != TB_OK || n < TB_DRILLED_LEAST || (rc = count_all(&d, list, n, b, mem, err)) != TB_OK ||
        d.burns < TB_DRILLED_LEAST)
        return rc;
    wrong = set.bench_error * set.bench_error_weight + (double)d.mistakes;
    right = (1 - set.bench_error) * set.bench_error_weight + (double)(d.burns - d.mistakes);
    if ((rc = tb_interval_beta(&d.lower, &d.upper, wrong, right, SURE, err)) != TB_OK)
        return rc;
    *chance = fmin(wrong / (wrong + right), TB_BENCH_ERROR_MOST);
    *out = d;
    return TB_OK;
}
