/* cusum.c - cumulative sums: how long they run when nothing has changed, and when something has. */
#include "sampling/inside.h"

#include <gsl/gsl_linalg.h>
#include <math.h>

#define ALARM_MOST 5000
#define SUM_SLACK 1e-12 /* chances that add up to 1 may do so but for rounding */

/* Solves m x = right in place of right; false when it cannot be. */
static bool solve(gsl_matrix *m, gsl_vector *right)
{
    gsl_permutation *p = gsl_permutation_alloc(m->size1);
    int sign;
    bool ok = gsl_linalg_LU_decomp(m, p, &sign) == 0;

    for (size_t i = 0; ok && i < m->size1; i++)
        ok = gsl_matrix_get(m, i, i) != 0; /* the solver would stop the program on a singular matrix */
    ok = ok && gsl_linalg_LU_svx(m, p, right) == 0;
    gsl_permutation_free(p);
    return ok;
}

/* (I - Q) L = 1 over the states 0 .. alarm - 1. */
static bool lattice(gsl_vector *run, const long *step, const double *chance, size_t n, long alarm)
{
    gsl_matrix *m = gsl_matrix_alloc((size_t)alarm, (size_t)alarm);
    bool ok;

    gsl_matrix_set_identity(m);
    gsl_vector_set_all(run, 1);
    for (long s = 0; s < alarm; s++)
        for (size_t i = 0; i < n; i++) {
            long to = s + step[i] > 0 ? s + step[i] : 0;

            if (to < alarm)
                *gsl_matrix_ptr(m, (size_t)s, (size_t)to) -= chance[i];
        }
    ok = solve(m, run);
    gsl_matrix_free(m);
    return ok;
}

/* Chances may sum to less than 1; what is missing ends the run, as the alarm does. */
tb_rc tb_cusum_lattice(double *arl, const long *step, const double *chance, size_t n, long alarm, long start,
                       struct tb_err *err)
{
    gsl_vector *run;
    double sum = 0;
    bool ok;

    if (alarm < 1 || alarm > ALARM_MOST || start < 0 || start >= alarm)
        return tb_fail(err, TB_EINVAL,
                       "an alarm at %ld from %ld is not possible; it is 1 to %d and above the start", alarm,
                       start, ALARM_MOST);
    for (size_t i = 0; i < n; i++) {
        if (!(chance[i] >= 0))
            return tb_fail(err, TB_EINVAL, "a chance of %g is not possible", chance[i]);
        sum += chance[i];
    }
    if (!(sum <= 1 + SUM_SLACK))
        return tb_fail(err, TB_EINVAL, "the chances sum to %g; they sum to at most 1", sum);
    run = gsl_vector_alloc((size_t)alarm);
    ok = lattice(run, step, chance, n, alarm);
    if (ok)
        *arl = gsl_vector_get(run, (size_t)start);
    gsl_vector_free(run);
    return ok ? TB_OK : tb_fail(err, TB_EINVAL, "the sum never reaches %ld with these steps", alarm);
}

/* Expected lots to the alarm of the sum at a share p. */
static tb_rc lots_to_alarm(double *arl, const struct tb_cusum *c, double p, struct tb_err *err)
{
    const long step[] = { c->up, -1 };
    const double chance[] = { p, 1 - p };

    return tb_cusum_lattice(arl, step, chance, 2, c->alarm, 0, err);
}

/* The likelihood ratio gives a wrong lot ln(p1/p0) and a right one ln((1-p1)/(1-p0)) < 0; measured in the latter a
 * wrong lot weighs `up`, rounded to a whole number so that the run length is exact. */
tb_rc tb_cusum_design(struct tb_cusum *out, double p0, double p1, double run, struct tb_err *err)
{
    struct tb_cusum c = { .p0 = p0, .p1 = p1 };
    long least = 1, most = 1;
    tb_rc rc = TB_OK;

    if (!(p0 > 0 && p0 < p1 && p1 < 1))
        return tb_fail(err, TB_EINVAL,
                       "a change from a share of %g to %g is not possible; both lie above 0, "
                       "below 1 and the second is larger",
                       p0, p1);
    if (!(run > 1 && run <= 1e9))
        return tb_fail(err, TB_EINVAL,
                       "one false alarm in %g lots is not possible; it is above 1, at most 1e9", run);
    c.up = (long)fmax(1, fmin(200, round(log(p1 / p0) / (log1p(-p0) - log1p(-p1)))));
    for (c.alarm = 1; rc == TB_OK; c.alarm = most) {
        rc = lots_to_alarm(&c.run_usual, &c, p0, err);
        if (rc != TB_OK || c.run_usual >= run)
            break;
        least = c.alarm + 1;
        most = 2 * c.alarm;
        if (most > ALARM_MOST / 2)
            return tb_fail(err, TB_EINVAL, "one false alarm in %g lots asks for a longer sum than is kept",
                           run);
    }
    while (rc == TB_OK && least < most) {
        c.alarm = least + (most - least) / 2;
        rc = lots_to_alarm(&c.run_usual, &c, p0, err);
        if (c.run_usual >= run)
            most = c.alarm;
        else
            least = c.alarm + 1;
    }
    c.alarm = most;
    if (rc == TB_OK)
        rc = lots_to_alarm(&c.run_usual, &c, p0, err);
    if (rc == TB_OK)
        rc = lots_to_alarm(&c.run_found, &c, p1, err);
    if (rc == TB_OK)
        *out = c;
    return rc;
}

/* The change is dated from the last lot at which the sum stood at 0. */
void tb_cusum_run(size_t *alarm_at, size_t *since, const struct tb_cusum *c, const bool *wrong, size_t n)
{
    long sum = 0;
    size_t from = 0;

    *alarm_at = *since = n;
    for (size_t i = 0; i < n; i++) {
        sum += wrong[i] ? c->up : -1;
        if (sum <= 0) {
            sum = 0;
            from = i + 1;
        }
        if (sum >= c->alarm) {
            *alarm_at = i;
            *since = from;
            return;
        }
    }
}
