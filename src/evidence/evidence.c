/* evidence.c - a model is made, from the reference tables and the burns the site knows, and freed. */
#include "evidence/bounds.h"
#include "evidence/counts.h"
#include "evidence/space.h"
#include "evidence/sums.h"

#include <math.h>
#include <stdlib.h>

void tb_evidence_defaults(struct tb_evidence_settings *out)
{
    *out = (struct tb_evidence_settings){ .contradicts_below = 1.0 / 20,
                                          .speaks_below = tb_model_figure("speaks_below"),
                                          .fits_above = 3,
                                          .fibres_most = 3,
                                          .hazards_allowed = TB_HAZARD_ALL,
                                          .site_weight = 1,
                                          .bench_error = tb_model_figure("bench_error") };
}

/* A threshold of 1 would call a burn that says nothing a contradiction or a fit. */
static tb_rc check_settings(const struct tb_evidence_settings *s, struct tb_err *err)
{
    if (!(s->contradicts_below > 0 && s->contradicts_below < 1 && s->fits_above > 1 &&
          isfinite(s->fits_above)))
        return tb_fail(
            err, TB_EINVAL,
            "the evidence thresholds are %g and %g; the first lies between 0 and 1, the second above 1",
            s->contradicts_below, s->fits_above);
    if (s->fibres_most < 1 || s->fibres_most > 3)
        return tb_fail(err, TB_EINVAL,
                       "compositions of up to %d fibres were asked for; 1, 2 or 3 can be weighed",
                       s->fibres_most);
    if (!(s->site_weight >= 0 && s->site_weight <= 100))
        return tb_fail(err, TB_EINVAL, "the weight of the site's own burns is %g; it lies between 0 and 100",
                       s->site_weight);
    if (!(s->speaks_below > 0 && s->speaks_below < 1))
        return tb_fail(
            err, TB_EINVAL,
            "a burn would speak against the declaration below a ratio of %g; it lies between 0 and 1",
            s->speaks_below);
    if (!(s->bench_error >= 0 && s->bench_error <= 0.5))
        return tb_fail(err, TB_EINVAL,
                       "the chance of a mistake at the bench is %g; it lies between 0 and 0.5",
                       s->bench_error);
    return TB_OK;
}

/* The sums of the prior are made here once: every verdict divides by them. */
tb_rc tb_evidence_new(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                      const struct tb_known_burn *known, size_t n_known, struct tb_err *err)
{
    struct tb_evidence_settings set;
    struct tb_evidence *ev;
    struct tb_counts *n;
    tb_rc rc;

    tb_evidence_defaults(&set);
    if (settings)
        set = *settings;
    if ((rc = check_settings(&set, err)) != TB_OK)
        return rc;
    ev = tb_new(struct tb_evidence);
    n = tb_new(struct tb_counts);
    ev->set = set;
    ev->set.settled = NULL; /* it is the caller's, and may be gone tomorrow */
    tb_model_take(ev);
    tb_bounds_make(&ev->bounds, set.settled, set.n_settled);
    tb_counts_take(n, ev, known, n_known);
    tb_counts_chances(ev, n);
    tb_counts_digest(ev, n);
    free(n);
    (void)tb_kernels(&ev->kernel, 1);
    tb_space_weigh(&(struct tb_pick){ NULL, 0, 1, &ev->prior_sums }, 1, ev, NULL, 0, ev->kernel);
    *out = ev;
    return TB_OK;
}

void tb_evidence_free(struct tb_evidence *ev)
{
    if (ev)
        tb_sums_free(&ev->prior_sums);
    free(ev);
}
