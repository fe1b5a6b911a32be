/* A supplier's record worked out: share, change, inspection, advice. */
#include "cli/sampling/record.h"

#include "tenterbook/interval.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static void step(struct tb_switching *s, const struct tb_lot_result *lot)
{
    /* a lot is refused as soon as one bolt is false: acceptance number 0 */
    const struct tb_lot_outcome outcome = { .refused = lot->outcome == TB_OUTCOME_WRONG,
                                            .would_pass_tighter = true,
                                            .accept_number_small = true,
                                            .steady = true };

    (void)tb_switching_step(s, &outcome);
}

void record_replay(struct tb_switching *s, const struct tb_lot_result *const *lot, size_t n,
                   const char *resumed)
{
    bool waits = *resumed != '\0'; /* the day has not ended a stop yet */

    tb_switching_start(s, TB_RULES_2859);
    for (size_t i = 0; i < n; i++) {
        if (lot[i]->outcome == TB_OUTCOME_OPEN)
            continue;
        if (s->stopped && waits && strcmp(lot[i]->arrived, resumed) >= 0) {
            tb_switching_resume(s);
            waits = false;
        }
        step(s, lot[i]);
        if (s->stopped && strcmp(lot[i]->arrived, resumed) > 0)
            waits = false; /* stopped by a lot that came later: what was put right did not hold */
    }
    if (waits)
        tb_switching_resume(s);
}

tb_rc record_resumed(const char **day, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                     struct tb_err *err)
{
    struct tb_text name = { 0 };
    const char *value = "";
    tb_rc rc;

    tb_text_addf(&name, "resumed:%s", supplier_id);
    rc = tb_setting_get(&value, b, name.s, TB_BOOK_NOW, mem, err);
    tb_text_free(&name);
    *day = rc == TB_OK && strlen(value) >= TB_DAY_LEN ? tb_arena_strndup(mem, value, TB_DAY_LEN) : "";
    return rc;
}

tb_rc record_standing(struct tb_switching *s, struct tb_book *b, const char *supplier_id,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lot_result *lot = NULL;
    const struct tb_lot_result **list;
    const char *resumed = "";
    size_t n = 0;
    tb_rc rc = tb_supplier_lots(&lot, &n, b, supplier_id, mem, err);

    if (rc != TB_OK || (rc = record_resumed(&resumed, b, supplier_id, mem, err)) != TB_OK)
        return rc;
    list = tb_arena_alloc(mem, (n + 1) * sizeof(const struct tb_lot_result *));
    for (size_t i = 0; i < n; i++)
        list[i] = &lot[i];
    record_replay(s, list, n, resumed);
    return TB_OK;
}

/* The sum begins again after each alarm; the last one counts. */
static void alarms(struct record *r, const bool *wrong)
{
    size_t from = 0;

    r->alarm_at = r->since = r->n;
    while (from < r->n) {
        size_t at, since;

        tb_cusum_run(&at, &since, &r->cusum, wrong + from, r->n - from);
        if (from + at >= r->n)
            return;
        r->alarm_at = from + at;
        r->since = from + since;
        from += at + 1;
    }
}

static tb_rc changes(struct record *r, struct tb_err *err)
{
    bool *wrong = tb_array(bool, r->n + 1);
    double p0 = fmin(fmax(r->usual, 0.005), 0.4);
    tb_rc rc = tb_cusum_design(&r->cusum, p0, fmin(2 * p0, 0.8), r->run, err);

    record_replay(&r->state, r->judged, r->n, r->resumed ? r->resumed : "");
    r->right_run = 0;
    for (size_t i = 0; i < r->n; i++) {
        wrong[i] = r->judged[i]->outcome == TB_OUTCOME_WRONG;
        r->right_run = wrong[i] ? 0 : r->right_run + 1;
    }
    r->alarm_at = r->since = r->n;
    if (rc == TB_OK)
        alarms(r, wrong);
    free(wrong);
    return rc;
}

static void advise(struct record *r)
{
    const char *rule = r->state.why ? _(r->state.why) : "";

    r->advice = RECORD_KEEP;
    (void)snprintf(r->why, sizeof r->why, "%s", _("nothing in the record asks for a change"));
    if (r->state.stopped) {
        r->advice = RECORD_STOP;
        (void)snprintf(r->why, sizeof r->why, "%s", rule);
    } else if (r->state.now == TB_TIGHTENED) {
        r->advice = RECORD_TIGHTEN;
        (void)snprintf(r->why, sizeof r->why, "%s", rule);
    } else if (r->alarm_at < r->n &&
               r->right_run < 5) { /* five right in a row end it, as the rules have it */
        r->advice = RECORD_TIGHTEN;
        (void)snprintf(r->why, sizeof r->why, _("more lots were wrong than usual, noticed with lot %s on %s"),
                       r->judged[r->alarm_at]->ref, r->judged[r->alarm_at]->arrived);
    } else if (r->state.now == TB_REDUCED && r->post.hi < 2 * r->usual) {
        r->advice = RECORD_REDUCE;
        (void)snprintf(r->why, sizeof r->why, "%s", rule);
    } else if (r->own.lots == 0) {
        (void)snprintf(r->why, sizeof r->why, "%s", _("no lot of theirs was judged yet"));
    }
}

tb_rc record_work_out(struct record *r, struct tb_err *err)
{
    tb_rc rc = tb_record_posterior(&r->post, &r->prior, &r->own, r->conf, err);

    if (rc == TB_OK && r->own.lots > 0)
        rc = tb_interval_exact(&r->exact[0], &r->exact[1], r->own.wrong, r->own.lots, r->conf, err);
    if (rc == TB_OK && r->own.lots > 0)
        rc = tb_interval_jeffreys(&r->jeffreys[0], &r->jeffreys[1], r->own.wrong, r->own.lots, r->conf, err);
    if (!(r->usual > 0))
        r->usual = r->prior.a / (r->prior.a + r->prior.b);
    if (rc == TB_OK)
        rc = changes(r, err);
    if (rc == TB_OK)
        advise(r);
    return rc;
}

tb_rc record_months(struct record_month **out, size_t *n, const struct record *r, struct tb_arena *mem,
                    struct tb_err *err)
{
    struct record_month *m = tb_arena_alloc(mem, (r->n + 1) * sizeof *m);
    tb_rc rc = TB_OK;

    *n = 0;
    for (size_t i = 0; i < r->n; i++) {
        if (*n == 0 || strncmp(m[*n - 1].month, r->judged[i]->arrived, 7) != 0)
            (void)snprintf(m[(*n)++].month, sizeof m->month, "%.7s", r->judged[i]->arrived);
        m[*n - 1].lots++;
        m[*n - 1].wrong += r->judged[i]->outcome == TB_OUTCOME_WRONG;
    }
    for (size_t i = 0; i < *n && rc == TB_OK; i++)
        rc = tb_pchart_limits(&m[i].low, &m[i].high, r->usual, m[i].lots, 0.00135, err);
    *out = m;
    return rc;
}

const char *record_advice_key(enum record_advice a)
{
    static const char *const keys[] = { "keep", "tighten", "reduce", "stop" };

    return keys[a];
}
