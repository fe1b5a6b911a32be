/* A whole analysis: determinations to mean percentages with their uncertainty, on every basis. */
#include "lab/inside.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Step of the complex derivative: its square vanishes beside 1 in double precision. */
#define STEP 1e-30

/* A half-width within which every value is equally likely has this many times its size as deviation. */
#define RECTANGLE (1 / sqrt(3.0))

const char *tb_lab_basis_key(enum tb_lab_basis basis)
{
    static const char *const key[] = { "dry", "eu", "us" };

    return key[basis];
}

void tb_lab_task_init(struct tb_lab_task *task, enum tb_lab_route route, size_t fibres)
{
    *task = (struct tb_lab_task){ .route = route,
                                  .fibres = fibres,
                                  .d = { 1, 1, 1, 1 },
                                  .mass_error = 0.0002,
                                  .volume_error = 0.02,
                                  .factor_error = 0.005,
                                  .limit = { NAN, NAN } };
    for (size_t b = TB_LAB_EU; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < TB_LAB_FIBRES_MOST; i++)
            task->allowance[b][i] = NAN;
}

/* Percentages on one basis as a function of readings and factors, for values and derivatives alike. */
static void percentages(tb_lab_z *out, const struct tb_lab_task *t, enum tb_lab_basis basis,
                        const tb_lab_z *d, const tb_lab_z *in)
{
    static const double none[TB_LAB_FIBRES_MOST];
    tb_lab_z dry[TB_LAB_FIBRES_MOST] = { 0 };

    tb_lab_dry_z(dry, t->route, t->fibres, d, in);
    tb_lab_adjust_z(out, dry, t->allowance[basis], basis == TB_LAB_EU ? t->loss : none, t->fibres);
}

static void load(tb_lab_z *d, tb_lab_z *in, const struct tb_lab_task *t, const struct tb_lab_det *det)
{
    for (size_t i = 0; i < TB_LAB_FACTORS_MOST; i++)
        d[i] = t->d[i];
    for (size_t i = 0; i < TB_LAB_INPUTS_MOST; i++)
        in[i] = det->in[i];
}

/* Standard uncertainty of a reading. A net mass is two weighings, gross and empty. */
static double reading_u(const struct tb_lab_task *t, size_t k, double value)
{
    if (t->route == TB_LAB_NITROGEN && k == 3)
        return 0.002 * value * RECTANGLE; /* a standard acid is made up to about 0.2 % */
    if (t->route == TB_LAB_NITROGEN && k > 0)
        return t->volume_error * RECTANGLE;
    return t->mass_error * RECTANGLE * sqrt(2);
}

/* Sums over the determinations of one basis. */
struct sums {
    double value[TB_LAB_DETS_MOST];     /* one fibre's results */
    double factor[TB_LAB_FACTORS_MOST]; /* sum of derivatives by each factor: fully shared by all */
    double weigh;                       /* sum of squares from the readings: independent */
};

/* Derivatives of fibre i by everything uncertain, added to the sums. */
static void add_sensitivities(struct sums *s, size_t i, const struct tb_lab_task *t, enum tb_lab_basis basis,
                              const struct tb_lab_det *det)
{
    tb_lab_z d[TB_LAB_FACTORS_MOST], in[TB_LAB_INPUTS_MOST], out[TB_LAB_FIBRES_MOST];

    load(d, in, t, det);
    for (size_t k = 0; k < tb_lab_inputs(t->route, t->fibres); k++) {
        double slope;

        in[k] = det->in[k] + STEP * _Complex_I;
        percentages(out, t, basis, d, in);
        in[k] = det->in[k];
        slope = cimag(out[i]) / STEP * reading_u(t, k, det->in[k]);
        s->weigh += slope * slope;
    }
    for (size_t k = 0; k < tb_lab_factors(t->route); k++) {
        d[k] = t->d[k] + STEP * _Complex_I;
        percentages(out, t, basis, d, in);
        d[k] = t->d[k];
        s->factor[k] += cimag(out[i]) / STEP;
    }
}

static void gather(struct sums *s, size_t i, const struct tb_lab_task *t, enum tb_lab_basis basis,
                   const struct tb_lab_det *det, size_t dets)
{
    *s = (struct sums){ .weigh = 0 };
    for (size_t k = 0; k < dets; k++) {
        tb_lab_z d[TB_LAB_FACTORS_MOST], in[TB_LAB_INPUTS_MOST], out[TB_LAB_FIBRES_MOST];

        load(d, in, t, &det[k]);
        percentages(out, t, basis, d, in);
        s->value[k] = creal(out[i]);
        add_sensitivities(s, i, t, basis, &det[k]);
    }
}

/* Mean, spread and standard deviation of the mean. */
static void mean_of(struct tb_lab_share *share, const double *value, size_t n)
{
    double least = value[0], most = value[0], sum = 0, squares = 0;

    for (size_t k = 0; k < n; k++) {
        sum += value[k];
        least = fmin(least, value[k]);
        most = fmax(most, value[k]);
    }
    share->percent = sum / (double)n;
    share->spread = most - least;
    for (size_t k = 0; k < n; k++)
        squares += (value[k] - share->percent) * (value[k] - share->percent);
    share->u_repeat = n > 1 ? sqrt(squares / (double)(n - 1) / (double)n) : 0;
}

/* Either end: readings may put a share a little below 0 or above 100, and then its whole interval. */
static double within_whole(double percent)
{
    return fmin(100, fmax(0, percent));
}

/* Combine the parts; only the scatter is estimated from few values, so Welch-Satterthwaite has one term. */
static void combine(struct tb_lab_share *s, size_t dets)
{
    double u2 = s->u_repeat * s->u_repeat + s->u_weigh * s->u_weigh + s->u_factor * s->u_factor +
                s->u_method * s->u_method;
    double ratio = s->u_repeat > 0 ? u2 / (s->u_repeat * s->u_repeat) : INFINITY;

    s->u = sqrt(u2);
    s->freedom = dets > 1 ? ratio * ratio * (double)(dets - 1) : INFINITY;
    if (s->freedom > 1e6)
        s->freedom = INFINITY;
    s->coverage = isinf(s->freedom) ? gsl_cdf_ugaussian_Pinv(0.975) : gsl_cdf_tdist_Pinv(0.975, s->freedom);
    s->low = within_whole(s->percent - s->coverage * s->u);
    s->high = within_whole(s->percent + s->coverage * s->u);
}

void tb_lab_limits(double *out, enum tb_lab_route route, size_t fibres, const double limit[2])
{
    double e1 = limit[0], e2 = limit[1], both = e1 + e2;

    for (size_t i = 0; i < fibres; i++)
        out[i] = e1;
    if (route == TB_LAB_HAND)
        for (size_t i = 0; i < fibres; i++)
            out[i] = NAN;
    if (route < TB_LAB_VARIANT_1 || route > TB_LAB_VARIANT_4)
        return;
    out[0] = e1;
    out[1] = route == TB_LAB_VARIANT_1 ? e2 : both;
    out[2] = route == TB_LAB_VARIANT_2 || route == TB_LAB_VARIANT_3 ? e2 : both;
}

static void one_basis(struct tb_lab_result *r, const struct tb_lab_task *t, enum tb_lab_basis basis,
                      const struct tb_lab_det *det, size_t dets)
{
    double limit[TB_LAB_FIBRES_MOST], percent[TB_LAB_FIBRES_MOST], rounded[TB_LAB_FIBRES_MOST];
    struct sums s;

    tb_lab_limits(limit, t->route, t->fibres, t->limit);
    for (size_t i = 0; i < t->fibres; i++) {
        struct tb_lab_share *share = &r->share[basis][i];
        double factor2 = 0;

        gather(&s, i, t, basis, det, dets);
        mean_of(share, s.value, dets);
        share->u_weigh = sqrt(s.weigh) / (double)dets;
        for (size_t k = 0; k < TB_LAB_FACTORS_MOST; k++) {
            double u = s.factor[k] / (double)dets * t->factor_error * RECTANGLE;

            factor2 += u * u;
        }
        share->u_factor = sqrt(factor2);
        share->u_method = isnan(limit[i]) ? 0 : limit[i] / gsl_cdf_ugaussian_Pinv(0.975);
        combine(share, dets);
        percent[i] = share->percent;
    }
    tb_lab_round(rounded, percent, t->fibres, 1);
    for (size_t i = 0; i < t->fibres; i++)
        r->share[basis][i].rounded = rounded[i];
}

/* P(range of n normal results <= w) - 0.95, by Simpson's rule over the smallest of them. */
static double range_excess(double w, size_t n)
{
    enum { CELLS = 400 };
    double from = -8, step = 16.0 / CELLS, sum = 0;

    for (int i = 0; i <= CELLS; i++) {
        double x = from + i * step;
        double f = exp(-x * x / 2) / sqrt(2 * M_PI) *
                   pow(gsl_cdf_ugaussian_P(x + w) - gsl_cdf_ugaussian_P(x), (double)n - 1);

        sum += f * (i == 0 || i == CELLS ? 1 : i % 2 ? 4 : 2);
    }
    return (double)n * sum * step / 3 - 0.95;
}

double tb_lab_critical_range(size_t n)
{
    double low = 0, high = 12;

    if (n < 2)
        return INFINITY;
    for (int i = 0; i < 50; i++) {
        double at = (low + high) / 2;

        if (range_excess(at, n) < 0)
            low = at;
        else
            high = at;
    }
    return (low + high) / 2;
}

/* A published limit is 95 % for one result; without one, a point is the usual figure of the methods. */
static void look_for_trouble(struct tb_lab_result *r, const struct tb_lab_task *t)
{
    double limit[TB_LAB_FIBRES_MOST], widest = 0;

    tb_lab_limits(limit, t->route, t->fibres, t->limit);
    r->spread_limit = INFINITY;
    if (r->dets == 1)
        r->warnings |= TB_LAB_WARN_SINGLE;
    for (size_t i = 0; i < t->fibres; i++) {
        const struct tb_lab_share *s = &r->share[TB_LAB_DRY][i];
        double one = isnan(limit[i]) ? 1 : limit[i];
        double most = tb_lab_critical_range(r->dets) * one / gsl_cdf_ugaussian_Pinv(0.975);

        if (isnan(limit[i]))
            r->warnings |= TB_LAB_WARN_NO_LIMIT;
        if (r->dets > 1 && s->spread > most)
            r->warnings |= TB_LAB_WARN_SPREAD;
        if (r->dets > 1 && (widest == 0 || most < widest))
            r->spread_limit = widest = most;
        if (s->percent < 0 || s->percent > 100)
            r->warnings |= TB_LAB_WARN_OUTSIDE;
    }
}

static tb_rc check_task(const struct tb_lab_task *t, struct tb_err *err)
{
    static const double fine[TB_LAB_FIBRES_MOST];
    double shares[TB_LAB_FIBRES_MOST] = { 100 }, out[TB_LAB_FIBRES_MOST];
    tb_rc rc = tb_lab_check_shape(t->route, t->fibres, t->d, err);

    if (rc != TB_OK)
        return rc;
    if (!(t->mass_error >= 0 && t->mass_error <= 1) || !(t->volume_error >= 0 && t->volume_error <= 10) ||
        !(t->factor_error >= 0 && t->factor_error <= 0.5))
        return tb_fail(err, TB_EINVAL, "the error of a weighing, a burette or a factor is out of range");
    for (size_t k = 0; k < 2; k++)
        if (!isnan(t->limit[k]) && !(t->limit[k] >= 0 && t->limit[k] <= 50))
            return tb_fail(err, TB_EINVAL, "a method's limit is %g points; it lies between 0 and 50",
                           t->limit[k]);
    if ((rc = tb_lab_adjust(out, shares, fine, t->loss, t->fibres, err)) != TB_OK)
        return rc;
    for (size_t b = 0; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < t->fibres; i++)
            if (!isnan(t->allowance[b][i]) && !(t->allowance[b][i] >= 0 && t->allowance[b][i] <= 100))
                return tb_fail(err, TB_EINVAL, "allowance %zu is %g %%; it lies between 0 and 100", i + 1,
                               t->allowance[b][i]);
    return TB_OK;
}

/* Dry shares of every determination, legal and exact: refuses what cannot be, and leaves the bias. */
static tb_rc compare_exact(struct tb_lab_result *r, const struct tb_lab_task *t, const struct tb_lab_det *det,
                           size_t dets, struct tb_err *err)
{
    for (size_t k = 0; k < dets; k++) {
        double legal[TB_LAB_FIBRES_MOST], exact[TB_LAB_FIBRES_MOST];
        tb_rc rc = tb_lab_dry(legal, t->route, t->fibres, t->d, &det[k], err);

        if (rc == TB_OK)
            rc = tb_lab_dry_exact(exact, t->route, t->fibres, t->d, &det[k], err);
        if (rc != TB_OK)
            return tb_within(err, rc, "determination %zu", k + 1);
        for (size_t i = 0; i < t->fibres; i++) {
            r->exact[i] += exact[i] / (double)dets;
            r->bias[i] += (legal[i] - exact[i]) / (double)dets;
        }
    }
    return TB_OK;
}

tb_rc tb_lab_compute(struct tb_lab_result *out, const struct tb_lab_task *task, const struct tb_lab_det *det,
                     size_t dets, struct tb_err *err)
{
    struct tb_lab_result r = { .fibres = task->fibres, .dets = dets };
    tb_rc rc = check_task(task, err);

    if (rc != TB_OK)
        return rc;
    if (dets < 1 || dets > TB_LAB_DETS_MOST)
        return tb_fail(err, TB_EINVAL,
                       "%zu determinations; an analysis has 1 to %d, and at least two are advised", dets,
                       TB_LAB_DETS_MOST);
    if ((rc = compare_exact(&r, task, det, dets, err)) != TB_OK)
        return rc;
    for (enum tb_lab_basis b = TB_LAB_DRY; b < TB_LAB_BASES; b++) {
        r.known[b] = true;
        for (size_t i = 0; i < task->fibres; i++)
            r.known[b] = r.known[b] && !isnan(task->allowance[b][i]);
        if (r.known[b])
            one_basis(&r, task, b, det, dets);
    }
    look_for_trouble(&r, task);
    *out = r;
    return TB_OK;
}
