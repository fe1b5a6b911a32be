/* budget.c - the uncertainty of one share: its parts, and the interval they make. */
#include "lab/inside.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Step of the complex derivative: its square vanishes beside 1 in double precision. */
#define STEP 1e-30

/* A half-width within which every value is equally likely has this many times its size as deviation. */
#define RECTANGLE (1 / sqrt(3.0))

#define FREEDOM_ENDLESS 1e6 /* Student's factor is that of the normal distribution to six digits */

/* Percentages on one basis as a function of readings and factors, for values and derivatives alike. */
static void percentages(tb_lab_z *out, const struct tb_lab_task *t, enum tb_lab_basis basis,
                        const tb_lab_z *d, const tb_lab_z *in)
{
    static const double none[TB_LAB_FIBRES_MOST];
    tb_lab_z dry[TB_LAB_FIBRES_MOST] = { 0 };

    tb_lab_dry_z(dry, t->route, t->fibres, d, in);
    tb_lab_adjust_z(out, dry, t->allowance[basis], basis == TB_LAB_EU ? t->loss : none, t->fibres);
}

/* Real numbers as complex ones without an imaginary part: the point at which derivatives are taken. */
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

/* Factors are shared by all determinations, so their slopes are summed before they are squared. */
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
    if (s->freedom > FREEDOM_ENDLESS)
        s->freedom = INFINITY;
    s->coverage = isinf(s->freedom) ? gsl_cdf_ugaussian_Pinv(0.975) : gsl_cdf_tdist_Pinv(0.975, s->freedom);
    s->low = within_whole(s->percent - s->coverage * s->u);
    s->high = within_whole(s->percent + s->coverage * s->u);
}

/* Fibre by fibre; only the rounding needs all of them together. */
void tb_lab_one_basis(struct tb_lab_result *r, const struct tb_lab_task *t, enum tb_lab_basis basis,
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
