/* dist.c - probabilities of counts: binomial, hypergeometric, beta. */
#include "sampling/dist.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_sf_log.h>
#include <math.h>
#include <stdbool.h>

/* ln of Gamma(z) over its Stirling form; the part that stays when the large terms are taken out by hand. */
static double stirling_rest(double z)
{
    return log(gsl_sf_gammastar(z));
}

/* Deviance x ln(x / m) + m - x, accurate where m is close to x. */
static double deviance(double x, double m)
{
    double d;

    if (x == 0)
        return m;
    d = (m - x) / x;
    return fabs(d) < 0.5 ? -x * gsl_sf_log_1plusx_mx(d) : x * log(x / m) + m - x;
}

/* x^a y^b Gamma(a+b+1) / (Gamma(a+1) Gamma(b+1)), y = 1 - x given apart so that neither loses digits. */
static double binomial_raw(double a, double b, double x, double y)
{
    double n = a + b;

    if (x <= 0)
        return a == 0 ? 1 : 0;
    if (y <= 0)
        return b == 0 ? 1 : 0;
    if (a == 0)
        return exp(n * (x < 0.5 ? log1p(-x) : log(y)));
    if (b == 0)
        return exp(n * (y < 0.5 ? log1p(-y) : log(x)));
    return exp(stirling_rest(n) - stirling_rest(a) - stirling_rest(b) - deviance(a, n * x) -
               deviance(b, n * y)) *
           sqrt(n / (2 * M_PI * a * b));
}

#define ALMOST_ZERO 1e-300     /* far below every denominator that is one */
#define FRACTION_SETTLED 4e-16 /* two units in the last place */
#define TAIL_OUT_OF_RANGE 1e-280
#define LOGIT_SETTLED 1e-15

/* Keeps a partial denominator away from zero, as the modified Lentz rule asks. */
static double off_zero(double v)
{
    return fabs(v) < ALMOST_ZERO ? ALMOST_ZERO : v;
}

/* Continued fraction of the incomplete beta (NIST DLMF 8.17.22) by the modified Lentz rule; it needs of the order
 * of sqrt(max(a, b)) steps for x below (a + 1) / (a + b + 2), a few thousand for a lot of a million. */
static double beta_fraction(double a, double b, double x)
{
    double c = 1, d = 1 / off_zero(1 - (a + b) * x / (a + 1)), value = d;

    for (int i = 1; i <= 1000000; i++) {
        double m = i, even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));

        d = 1 / off_zero(1 + even * d);
        c = off_zero(1 + even / c);
        value *= d * c;
        d = 1 / off_zero(1 + odd * d);
        c = off_zero(1 + odd / c);
        value *= d * c;
        if (fabs(d * c - 1) < FRACTION_SETTLED)
            break;
    }
    return value;
}

/* x^a y^b / B(a, b) */
static double beta_front(double a, double b, double x, double y)
{
    return binomial_raw(a, b, x, y) * (a / (a + b)) * b;
}

/* Lower and upper tail at x (y = 1 - x). */
static void beta_tails(double *lower, double *upper, double a, double b, double x, double y)
{
    if (x <= 0 || y <= 0) {
        *lower = x <= 0 ? 0 : 1;
        *upper = 1 - *lower;
    } else if (x * (a + b + 2) < a + 1) {
        *lower = beta_front(a, b, x, y) * beta_fraction(a, b, x) / a;
        *upper = 1 - *lower;
    } else {
        *upper = beta_front(a, b, x, y) * beta_fraction(b, a, y) / b;
        *lower = 1 - *upper;
    }
}

double tb_dist_binomial_pmf(long k, long n, double p)
{
    if (k < 0 || k > n)
        return 0;
    return binomial_raw((double)k, (double)(n - k), p, 1 - p);
}

/* The upper tail of a beta law: exact, and with its digits where it is small. */
double tb_dist_binomial_at_most(long k, long n, double p)
{
    double lower, upper;

    if (k < 0)
        return 0;
    if (k >= n)
        return 1;
    beta_tails(&lower, &upper, (double)k + 1, (double)(n - k), p, 1 - p);
    return upper;
}

double tb_dist_binomial_at_least(long k, long n, double p)
{
    double lower, upper;

    if (k <= 0)
        return 1;
    if (k > n)
        return 0;
    beta_tails(&lower, &upper, (double)k, (double)(n - k + 1), p, 1 - p);
    return lower;
}

/* Three binomial masses of one chance, in which the large factors cancel. */
double tb_dist_hyper_pmf(long k, long lot, long bad, long drawn)
{
    double x = (double)drawn / (double)lot, y = (double)(lot - drawn) / (double)lot;

    if (k < 0 || k > bad || k > drawn || drawn - k > lot - bad)
        return 0;
    return binomial_raw((double)k, (double)(bad - k), x, y) *
           binomial_raw((double)(drawn - k), (double)(lot - bad - drawn + k), x, y) /
           binomial_raw((double)drawn, (double)(lot - drawn), x, y);
}

/* Ratio of the point masses at k + 1 and k. */
static double hyper_up(long k, long lot, long bad, long drawn)
{
    return (double)(bad - k) / (double)(k + 1) * ((double)(drawn - k) / (double)(lot - bad - drawn + k + 1));
}

/* The masses fall at least geometrically away from the mode, so the sum ends when a term no longer counts. */
static double hyper_sum_down(long k, long lot, long bad, long drawn)
{
    double term = tb_dist_hyper_pmf(k, lot, bad, drawn), sum = term;

    for (; k > 0 && term > sum * TB_TERM_COUNTS; k--) {
        if (lot - bad - drawn + k <= 0)
            break;
        term /= hyper_up(k - 1, lot, bad, drawn);
        sum += term;
    }
    return sum;
}

/* The same in the other direction. */
static double hyper_sum_up(long k, long lot, long bad, long drawn)
{
    double term = tb_dist_hyper_pmf(k, lot, bad, drawn), sum = term;

    for (; k < bad && k < drawn && term > sum * TB_TERM_COUNTS; k++) {
        term *= hyper_up(k, lot, bad, drawn);
        sum += term;
    }
    return sum;
}

/* The tail away from the mode is summed, the other one is its complement. */
static bool below_mode(long k, long lot, long bad, long drawn)
{
    return (double)k < ((double)bad + 1) * ((double)drawn + 1) / ((double)lot + 2);
}

static long hyper_least(long lot, long bad, long drawn)
{
    return drawn > lot - bad ? drawn - (lot - bad) : 0;
}

/* The tail away from the mode is the smaller one; the other is its complement. */
double tb_dist_hyper_at_most(long k, long lot, long bad, long drawn)
{
    if (k < hyper_least(lot, bad, drawn))
        return 0;
    if (k >= bad || k >= drawn)
        return 1;
    if (below_mode(k, lot, bad, drawn))
        return hyper_sum_down(k, lot, bad, drawn);
    return 1 - hyper_sum_up(k + 1, lot, bad, drawn);
}

/* Newton on ln(lower tail) over u = ln(x / (1 - x)): the tail is log-concave in u, so from the second step on it
 * climbs to the root from one side and cannot overshoot. */
static double lower_quantile(double p, double a, double b)
{
    double u = log(a / b), lower, upper;

    for (int i = 0; i < 500; i++) {
        double x = 1 / (1 + exp(-u)), y = 1 / (1 + exp(u)), step;

        beta_tails(&lower, &upper, a, b, x, y);
        if (lower < TAIL_OUT_OF_RANGE) { /* out of range on the left, or nearly: walk back towards the mean */
            u = (u + log(a / b)) / 2;
            continue;
        }
        step = log(p / lower) * lower / beta_front(a, b, x, y);
        u += step;
        if (fabs(step) < LOGIT_SETTLED * fmax(1, fabs(u)))
            break;
    }
    return u;
}

/* In the logit, so that shares near 0 and near 1 both keep their digits. */
double tb_dist_beta_quantile(double p, double a, double b, double *one_minus)
{
    double u, x;

    if (p <= 0 || p >= 1) {
        x = p <= 0 ? 0 : 1;
        if (one_minus)
            *one_minus = 1 - x;
        return x;
    }
    /* the smaller tail is matched, so that no digits are lost: 1 - X is beta(b, a) */
    u = p <= 0.5 ? lower_quantile(p, a, b) : -lower_quantile(1 - p, b, a);
    if (one_minus)
        *one_minus = 1 / (1 + exp(u));
    return 1 / (1 + exp(-u));
}

double tb_dist_beta_below(double *front, double a, double b, double u)
{
    double x = 1 / (1 + exp(-u)), y = 1 / (1 + exp(u)), lower, upper;

    *front = x > 0 && y > 0 ? beta_front(a, b, x, y) : 0;
    beta_tails(&lower, &upper, a, b, x, y);
    return lower;
}
