/* day.c - the day at the bench: which lots first. */
#include "tenterbook/sampling.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MINUTES_SLACK 1e-12 /* minutes that add up to the day but for rounding still fit */

struct ranked {
    size_t task;
    double gain, minutes;
};

/* Most worth a minute first; of equals the greater gain, then the order given. */
static int by_worth(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    double left = x->gain * y->minutes, right = y->gain * x->minutes;

    if (left != right)
        return left > right ? -1 : 1;
    if (x->gain != y->gain)
        return x->gain > y->gain ? -1 : 1;
    return x->task < y->task ? -1 : x->task > y->task;
}

/* Each figure is looked at, so that the sentence can name the task. */
static tb_rc check(const struct tb_task *t, size_t n, double minutes, struct tb_err *err)
{
    if (!(minutes > 0) || !isfinite(minutes))
        return tb_fail(err, TB_EINVAL, "a day of %g minutes at the bench cannot be planned", minutes);
    for (size_t i = 0; i < n; i++) {
        if (!(t[i].value >= 0) || !isfinite(t[i].value))
            return tb_fail(err, TB_EINVAL, "task %zu: a value of %g is not possible", i + 1, t[i].value);
        if (!(t[i].chance >= 0 && t[i].chance <= 1 && t[i].catch_ >= 0 && t[i].catch_ <= 1))
            return tb_fail(err, TB_EINVAL, "task %zu: a chance lies between 0 and 1", i + 1);
        if (!(t[i].minutes > 0) || !isfinite(t[i].minutes))
            return tb_fail(err, TB_EINVAL, "task %zu: %g minutes of work are not possible", i + 1,
                           t[i].minutes);
    }
    return TB_OK;
}

/* Take what fits, in order of worth. The bound is that of the divisible problem: what fits until the first that
 * does not, and the fitting part of that one. */
static void take(struct tb_day *d, const struct ranked *r, size_t n, double minutes)
{
    bool full = false;

    for (size_t i = 0; i < n; i++) {
        double left = minutes - d->minutes;

        if (!(r[i].gain > 0))
            break;
        if (r[i].minutes <= left * (1 + MINUTES_SLACK)) {
            d->order[d->n++] = r[i].task;
            d->minutes += r[i].minutes;
            d->gain += r[i].gain;
            if (!full)
                d->most = d->gain;
        } else if (!full) {
            d->most = d->gain + r[i].gain * left / r[i].minutes;
            full = true;
        }
    }
}

/* A single task that fits and gains more than all that were taken is taken in their stead: with this the greedy
 * choice gains at least half of the best one (docs/sampling.md, "The day"). */
static void single(struct tb_day *d, const struct ranked *r, size_t n, double minutes)
{
    const struct ranked *best = NULL;

    for (size_t i = 0; i < n; i++)
        if (r[i].minutes <= minutes && r[i].gain > d->gain && (!best || r[i].gain > best->gain))
            best = &r[i];
    if (!best)
        return;
    d->n = 1;
    d->order[0] = best->task;
    d->minutes = best->minutes;
    d->gain = best->gain;
    for (size_t i = 0; i < n; i++)
        if (&r[i] != best && r[i].gain > 0 && r[i].minutes <= minutes - d->minutes) {
            d->order[d->n++] = r[i].task;
            d->minutes += r[i].minutes;
            d->gain += r[i].gain;
        }
}

/* The order is found by worth a minute, the guarantee by the single task that may beat it. */
tb_rc tb_day_plan(struct tb_day *out, const struct tb_task *task, size_t n, double minutes,
                  struct tb_err *err)
{
    struct tb_day d = { 0 };
    struct ranked *r;
    size_t fit = 0;
    tb_rc rc = check(task, n, minutes, err);

    if (rc != TB_OK)
        return rc;
    r = tb_array(struct ranked, n + 1);
    d.order = (size_t *)tb_alloc(n + 1, sizeof *d.order);
    for (size_t i = 0; i < n; i++) /* a task longer than the day can never be taken whole */
        if (task[i].minutes <= minutes)
            r[fit++] = (struct ranked){ i, task[i].value * task[i].chance * task[i].catch_, task[i].minutes };
    qsort(r, fit, sizeof *r, by_worth);
    take(&d, r, fit, minutes);
    single(&d, r, fit, minutes);
    free(r);
    *out = d;
    return TB_OK;
}

void tb_day_free(struct tb_day *d)
{
    free(d->order);
    *d = (struct tb_day){ 0 };
}
