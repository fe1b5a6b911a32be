/* kappa.c - agreement of testers with each other and with known swatches. */
#include "sampling/inside.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#define ROUNDING 1e-14   /* of figures near 1 */
#define CERTAIN 1e-12    /* agreement by chance this close to 1 leaves nothing to measure */
#define WHOLE_SLACK 1e-9 /* counts are whole numbers */

struct margins {
    double *row, *column;       /* shares of the answers of each */
    double total, seen, chance; /* swatches; agreement seen and by chance */
};

/* Chance agreement comes from how often each gives an answer, whatever the swatch. */
static void margins_take(struct margins *m, const double *t, size_t n)
{
    for (size_t i = 0; i < n * n; i++)
        m->total += t[i];
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            m->row[i] += t[i * n + j] / m->total;
            m->column[j] += t[i * n + j] / m->total;
        }
    for (size_t i = 0; i < n; i++) {
        m->seen += t[i * n + i] / m->total;
        m->chance += m->row[i] * m->column[i];
    }
}

/* a - b of two figures near 1, 0 where they differ by rounding only. */
static double beyond(double a, double b)
{
    return fabs(a - b) > ROUNDING ? a - b : 0;
}

/* Fleiss, Cohen and Everitt (1969): variances with and without agreement beyond chance. */
static void errors(struct tb_kappa *k, const struct margins *m, const double *t, size_t n)
{
    double here = 0, none = 0, apart = 1 - m->chance;
    double shift = k->kappa - m->chance * (1 - k->kappa);

    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            double w = i == j, mean = m->column[i] + m->row[j];
            double d = w - mean * (1 - k->kappa), d0 = w - mean;

            here += t[i * n + j] / m->total * d * d;
            none += m->row[i] * m->column[j] * d0 * d0;
        }
    k->error = sqrt(fmax(0, beyond(here, shift * shift))) / (apart * sqrt(m->total));
    k->error_h0 = sqrt(fmax(0, beyond(none, m->chance * m->chance))) / (apart * sqrt(m->total));
}

/* Counts come as real numbers; that they are whole matters only where answers are compared in number. */
static tb_rc check_counts(const double *t, size_t rows, size_t classes, struct tb_err *err)
{
    double sum = 0;

    if (classes < 2)
        return tb_fail(err, TB_EINVAL, "agreement needs two kinds of answer or more; there are %zu", classes);
    for (size_t i = 0; i < rows * classes; i++) {
        if (!(t[i] >= 0) || !isfinite(t[i]))
            return tb_fail(err, TB_EINVAL, "%g answers are not possible", t[i]);
        sum += t[i];
    }
    if (!(sum > 0))
        return tb_fail(err, TB_EINVAL, "no swatch was answered by both");
    return TB_OK;
}

/* Cut to what a kappa can be. */
static void spread(double *lo, double *hi, double centre, double error, double conf)
{
    double half = error * gsl_cdf_ugaussian_Qinv((1 - conf) / 2);

    *lo = fmax(-1, centre - half);
    *hi = fmin(1, centre + half);
}

/* Where only one answer was ever given, chance explains everything and kappa has no value. */
tb_rc tb_kappa_cohen(struct tb_kappa *out, const double *table, size_t classes, double conf,
                     struct tb_err *err)
{
    struct tb_kappa k = { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
    struct margins m = { 0 };
    double *room;
    tb_rc rc;

    if ((rc = check_counts(table, classes, classes, err)) != TB_OK ||
        (rc = tb_check_sure(conf, err)) != TB_OK)
        return rc;
    room = tb_array(double, 2 * classes);
    m.row = room;
    m.column = room + classes;
    margins_take(&m, table, classes);
    k.agreement = m.seen;
    if (1 - m.chance > CERTAIN) {
        k.kappa = beyond(m.seen, m.chance) / (1 - m.chance);
        errors(&k, &m, table, classes);
        k.z = k.error_h0 > 0 ? k.kappa / k.error_h0 : NAN;
        k.p = isnan(k.z) ? NAN : 2 * gsl_cdf_ugaussian_Q(fabs(k.z));
        spread(&k.lo, &k.hi, k.kappa, k.error, conf);
    }
    free(room);
    *out = k;
    return TB_OK;
}

/* Share of agreeing pairs on one swatch. */
static double agreement(const double *counts, size_t classes)
{
    double sum = 0, pairs = 0;

    for (size_t j = 0; j < classes; j++) {
        sum += counts[j];
        pairs += counts[j] * (counts[j] - 1);
    }
    return pairs / (sum * (sum - 1));
}

/* Kappa with one swatch left out (skip < swatches) or none; NAN when chance agreement is certain. */
static double fleiss(double *seen, double *chance, const double *c, size_t swatches, size_t classes,
                     size_t skip)
{
    double total = 0;

    *seen = *chance = 0;
    for (size_t i = 0; i < swatches; i++)
        if (i != skip)
            *seen += agreement(c + i * classes, classes) / (double)(swatches - (skip < swatches));
    for (size_t i = 0; i < swatches * classes; i++)
        if (i / classes != skip)
            total += c[i];
    for (size_t j = 0; j < classes; j++) {
        double share = 0;

        for (size_t i = 0; i < swatches; i++)
            if (i != skip)
                share += c[i * classes + j] / total;
        *chance += share * share;
    }
    return 1 - *chance > CERTAIN ? (*seen - *chance) / (1 - *chance) : NAN;
}

/* Standard error with no agreement beyond chance (Fleiss, Nee and Landis 1979). */
static double fleiss_error_h0(const double *c, size_t swatches, size_t classes, double raters)
{
    double total = raters * (double)swatches, spread2 = 0, skew = 0;

    for (size_t j = 0; j < classes; j++) {
        double p = 0, q;

        for (size_t i = 0; i < swatches; i++)
            p += c[i * classes + j] / total;
        q = 1 - p;
        spread2 += p * q;
        skew += p * q * (q - p);
    }
    return sqrt(2 * (spread2 * spread2 - skew)) / (spread2 * sqrt(total * (raters - 1)));
}

/* Each swatch is left out once; the spread of what that changes is the error. */
static void jackknife(struct tb_fleiss *f, const double *c, size_t swatches, size_t classes, double conf)
{
    double mean = 0, square = 0, seen, chance, n = (double)swatches;

    for (size_t i = 0; i < swatches; i++) {
        double k = fleiss(&seen, &chance, c, swatches, classes, i);
        double pseudo = n * f->kappa - (n - 1) * k, step = pseudo - mean;

        mean += step / (double)(i + 1);
        square += step * (pseudo - mean);
    }
    f->error = sqrt(square / (n - 1) / n);
    if (isfinite(f->error))
        spread(&f->lo, &f->hi, f->kappa, f->error, conf);
}

/* All swatches have the same number of answers, or the formula does not hold. */
tb_rc tb_kappa_fleiss(struct tb_fleiss *out, const double *counts, size_t swatches, size_t classes,
                      double conf, struct tb_err *err)
{
    struct tb_fleiss f = { NAN, NAN, NAN, NAN, NAN, NAN, NAN };
    double raters = 0, chance;
    tb_rc rc = check_counts(counts, swatches, classes, err);

    if (rc == TB_OK)
        rc = tb_check_sure(conf, err);
    for (size_t i = 0; rc == TB_OK && i < swatches; i++) {
        double sum = 0;

        for (size_t j = 0; j < classes; j++)
            sum += counts[i * classes + j];
        raters = i == 0 ? sum : raters;
        if (sum < 2 || fabs(sum - raters) > WHOLE_SLACK)
            rc = tb_fail(err, TB_EINVAL,
                         "swatch %zu has %g answers; all must have the same number, 2 or more", i + 1, sum);
    }
    if (rc != TB_OK)
        return rc;
    f.kappa = fleiss(&f.agreement, &chance, counts, swatches, classes, swatches);
    f.free_marginal = (f.agreement - 1 / (double)classes) / (1 - 1 / (double)classes);
    if (!isnan(f.kappa)) {
        f.z = f.kappa / fleiss_error_h0(counts, swatches, classes, raters);
        if (swatches >= 3)
            jackknife(&f, counts, swatches, classes, conf);
    }
    *out = f;
    return TB_OK;
}
