/* evidence.c - a model is made, from the reference tables and the burns the site knows, and freed. */
#include "evidence/bounds.h"
#include "evidence/chances.h"
#include "evidence/counts.h"
#include "evidence/space.h"
#include "evidence/sums.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void tb_evidence_defaults(struct tb_evidence_settings *out)
{
    *out = (struct tb_evidence_settings){ .contradicts_below = 1.0 / 20,
                                          .speaks_below = tb_model_figure("speaks_below"),
                                          .fits_above = tb_model_figure("fits_above"),
                                          .fibres_most = 3,
                                          .hazards_allowed = TB_HAZARD_ALL,
                                          .site_weight = 1,
                                          .bench_error = tb_model_figure("bench_error"),
                                          .bench_error_weight = tb_model_figure("bench_error_weight"),
                                          .commonness = 1 };
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
    if (!(s->commonness >= 0 && s->commonness <= 1))
        return tb_fail(err, TB_EINVAL, "the weight of what is common in trade is %g; it lies between 0 and 1",
                       s->commonness);
    if (!(s->bench_error >= 0 && s->bench_error <= TB_BENCH_ERROR_MOST))
        return tb_fail(err, TB_EINVAL,
                       "the chance of a mistake at the bench is %g; it lies between 0 and 0.5",
                       s->bench_error);
    if (!(s->base_rate >= 0 && s->base_rate < 1))
        return tb_fail(err, TB_EINVAL,
                       "the share of lots that are not as declared is %g; it lies between 0 and 1",
                       s->base_rate);
    return TB_OK;
}

/* The lots of every unit but one, and what was judged beside them; of all where `without` is NULL. */
static void take_settled(struct tb_evidence *ev, const struct tb_site_lots *site, const char *without)
{
    struct tb_settled_ratio *own;
    bool gone = false;

    ev->mem = (struct tb_arena){ 0 };
    own = tb_arena_alloc(&ev->mem, (site->n + 1) * sizeof *own);
    ev->site = *site;
    ev->site.lot = own;
    ev->site.n = 0;
    for (size_t i = 0; i < site->n; i++) {
        const struct tb_settled_ratio *lot = &site->lot[i];

        if (!without || !lot->unit || strcmp(lot->unit, without) != 0) {
            own[ev->site.n] = *lot;
            own[ev->site.n++].unit = lot->unit ? tb_arena_strdup(&ev->mem, lot->unit) : NULL;
            continue;
        }
        for (int g = 0; g < TB_GRADES && !gone; g++)
            ev->site.judged[g] -= lot->judged[g];
        gone = true; /* each lot of a unit has the counts of all of it */
    }
    ev->settled_lots = ev->site.n;
    ev->settled_cases = tb_bounds_make(&ev->bounds, &ev->site);
}

/* Those of the site; or the bounds that a verdict was made with, as it told them. */
static void take_bounds(struct tb_evidence *ev, const struct tb_evidence_settings *set)
{
    struct tb_site_lots site = { .lot = set->settled, .n = set->bounds ? 0 : set->n_settled };

    memcpy(site.judged, set->judged, sizeof site.judged);
    take_settled(ev, &site, NULL);
    if (!set->bounds)
        return;
    tb_bounds_near(&ev->bounds, set->bounds);
    ev->settled_lots = set->n_settled;
    ev->settled_cases = set->told_cases;
}

/* The sums of the prior are made here once: every verdict divides by them. */
tb_rc tb_evidence_of(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                     const struct tb_other_figures *other, const struct tb_known_burn *known, size_t n_known,
                     struct tb_err *err)
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
    ev->set.settled = NULL; /* both are the caller's, and may be gone tomorrow */
    ev->set.bounds = NULL;
    tb_model_take(ev, other);
    take_bounds(ev, &set);
    tb_counts_take(n, ev, known, n_known);
    tb_counts_chances(ev, n);
    if (tb_counts_blends(n, ev, known, n_known))
        tb_counts_chances(ev, n);
    tb_counts_digest(ev, n);
    tb_chances_of_pure(ev);
    tb_chances_bricks(ev);
    free(n);
    (void)tb_kernels(&ev->kernel, 1);
    tb_space_weigh(&(struct tb_pick){ .sums = &ev->prior_sums }, 1, ev, NULL, 0, ev->kernel);
    *out = ev;
    return TB_OK;
}

tb_rc tb_evidence_new(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                      const struct tb_known_burn *known, size_t n_known, struct tb_err *err)
{
    return tb_evidence_of(out, settings, NULL, known, n_known, err);
}

struct tb_evidence *tb_evidence_apart(const struct tb_evidence *ev, const char *unit)
{
    struct tb_evidence *own;
    bool any = false;

    for (size_t i = 0; unit && i < ev->site.n; i++)
        any |= ev->site.lot[i].unit && strcmp(ev->site.lot[i].unit, unit) == 0;
    if (!any)
        return NULL;
    own = tb_new(struct tb_evidence);
    *own = *ev;
    own->apart = true;
    take_settled(own, &ev->site, unit);
    tb_bounds_digest(own);
    return own;
}

void tb_evidence_free(struct tb_evidence *ev)
{
    if (!ev)
        return;
    if (!ev->apart) {
        tb_sums_free(&ev->prior_sums);
        free(ev->brick);
    }
    tb_arena_free(&ev->mem);
    free(ev);
}
