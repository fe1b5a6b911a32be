/*
 * history.c - a supplier's judged lots in their order: the inspection they ask for, a change for the worse,
 * the advice.
 */
#include "tenterbook/record.h"

#include "tenterbook/interval.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Right lots in a row that end an alarm: as many as the rules take to loosen tightened inspection. */
#define RIGHT_RUN_ENDS 5
/* What each side of the monthly chart leaves out by chance: the usual three-sigma chart. */
#define MONTH_ALPHA 0.00135
/*
 * The share called usual is kept in these bounds: a sum for a share outside of them would never, or always,
 * call.
 */
#define USUAL_LEAST 0.005
#define USUAL_MOST 0.4
#define FOUND_MOST 0.8

static void step(struct tb_switching *s, const struct tb_record_lot *lot)
{
    const struct tb_lot_outcome outcome = {
        .refused = lot->wrong, .would_pass_tighter = true, .accept_number_small = true, .steady = true
    };

    (void)tb_switching_step(s, &outcome);
}

void tb_switching_replay(struct tb_switching *s, const struct tb_record_lot *lot, size_t n,
                         const char *resumed)
{
    bool waits = *resumed != '\0'; /* the day has not ended a stop yet */

    tb_switching_start(s, TB_RULES_2859);
    for (size_t i = 0; i < n; i++) {
        if (s->stopped && waits && strcmp(lot[i].arrived, resumed) >= 0) {
            tb_switching_resume(s);
            waits = false;
        }
        step(s, &lot[i]);
        if (s->stopped && strcmp(lot[i].arrived, resumed) > 0)
            waits = false; /* stopped by a lot that came later: what was put right did not hold */
    }
    if (waits)
        tb_switching_resume(s);
}

const char *tb_advice_key(enum tb_advice advice)
{
    static const char *const keys[] = { "keep", "tighten", "reduce", "stop" };

    return keys[advice];
}

/*
 * The sum begins again after each alarm; the last one counts. An alarm whose sum never stood at 0 since the one before is
 * that one going on: the change is dated, and was noticed, by the first.
 */
static void alarms(struct tb_record *r, const bool *wrong)
{
    size_t from = 0;

    while (from < r->n) {
        size_t at, since;

        tb_cusum_run(&at, &since, &r->cusum, wrong + from, r->n - from);
        if (from + at >= r->n)
            return;
        if (from == 0 || since > 0) {
            r->alarm_at = from + at;
            r->since = from + since;
        }
        from += at + 1;
    }
}

static tb_rc changes(struct tb_record *r, struct tb_err *err)
{
    bool *wrong = tb_array(bool, r->n + 1);
    double usual = fmin(fmax(r->usual, USUAL_LEAST), USUAL_MOST);
    tb_rc rc = tb_cusum_design(&r->cusum, usual, fmin(2 * usual, FOUND_MOST), r->run, err);

    tb_switching_replay(&r->state, r->lot, r->n, r->resumed ? r->resumed : "");
    r->right_run = 0;
    r->alarm_at = r->since = r->n;
    for (size_t i = 0; i < r->n; i++) {
        wrong[i] = r->lot[i].wrong;
        r->right_run = wrong[i] ? 0 : r->right_run + 1;
    }
    if (rc == TB_OK)
        alarms(r, wrong);
    free(wrong);
    return rc;
}

/* The strictest reason counts; only a share that is small for certain lets the rule reduce. */
static void advise(struct tb_record *r)
{
    r->advice = TB_ADVICE_KEEP;
    r->ground = TB_GROUND_RULE;
    if (r->state.stopped) {
        r->advice = TB_ADVICE_STOP;
    } else if (r->state.now == TB_TIGHTENED) {
        r->advice = TB_ADVICE_TIGHTEN;
    } else if (r->alarm_at < r->n && r->right_run < RIGHT_RUN_ENDS) {
        r->advice = TB_ADVICE_TIGHTEN;
        r->ground = TB_GROUND_CHANGE;
    } else if (r->state.now == TB_REDUCED && r->post.hi < 2 * r->usual) {
        r->advice = TB_ADVICE_REDUCE;
    } else {
        r->ground = r->own.lots == 0 ? TB_GROUND_NOT_JUDGED : TB_GROUND_NOTHING;
    }
}

tb_rc tb_record_work_out(struct tb_record *r, struct tb_err *err)
{
    tb_rc rc;

    if (r->conf == 0)
        r->conf = TB_RECORD_CONFIDENCE;
    if (r->run == 0)
        r->run = TB_RECORD_RUN;
    if (!(r->usual > 0))
        r->usual = r->prior.a / (r->prior.a + r->prior.b);
    rc = r->belief ? tb_belief_posterior(&r->post, r->belief, &r->own, r->conf, err)
                   : tb_record_posterior(&r->post, &r->prior, &r->own, r->conf, err);
    if (rc == TB_OK && r->own.lots > 0)
        rc = tb_interval_exact(&r->exact[0], &r->exact[1], r->own.wrong, r->own.lots, r->conf, err);
    if (rc == TB_OK && r->own.lots > 0)
        rc = tb_interval_jeffreys(&r->jeffreys[0], &r->jeffreys[1], r->own.wrong, r->own.lots, r->conf, err);
    if (rc == TB_OK)
        rc = changes(r, err);
    if (rc == TB_OK)
        advise(r);
    return rc;
}

tb_rc tb_record_months(struct tb_record_month *out, size_t *n, const struct tb_record *r, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    *n = 0;
    for (size_t i = 0; i < r->n; i++) {
        if (*n == 0 || strncmp(out[*n - 1].month, r->lot[i].arrived, 7) != 0) {
            out[*n] = (struct tb_record_month){ 0 };
            (void)snprintf(out[*n].month, sizeof out->month, "%.7s", r->lot[i].arrived);
            ++*n;
        }
        out[*n - 1].lots++;
        out[*n - 1].wrong += r->lot[i].wrong;
    }
    for (size_t i = 0; i < *n && rc == TB_OK; i++)
        rc = tb_pchart_limits(&out[i].low, &out[i].high, r->usual, out[i].lots, MONTH_ALPHA, err);
    return rc;
}

tb_rc tb_record_all(struct tb_posterior *out, struct tb_belief *belief, const struct tb_tally *tally,
                    size_t n, double conf, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_record_belief(belief, tally, n, mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = tb_belief_posterior(&out[i], belief, &tally[i], conf == 0 ? TB_RECORD_CONFIDENCE : conf, err);
    return rc;
}
