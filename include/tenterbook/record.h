/*
 * record.h - a supplier's record, worked out: the share of its lots that will count as not as declared, a change for
 * the worse and when it began, the inspection the switching rules ask for, and the advice for the next delivery.
 *
 * Pure: values in, values out. Days are "2026-10-05". The distributions and rules are those of sampling.h; source:
 * docs/sampling.md, "A supplier's record", "Has something changed?" and "Acceptance sampling".
 */
#ifndef TENTERBOOK_RECORD_H
#define TENTERBOOK_RECORD_H

#include "tenterbook/sampling.h"

/* One judged lot. Text is borrowed. */
struct tb_record_lot {
    const char *ref, *arrived;
    bool wrong;
};

/*
 * tb_switching_replay - take a supplier's judged lots through the switching rules of ISO 2859-1.
 *
 *   s        where the rules have the supplier after the last lot
 *   lot      n lots, oldest first; a lot is refused as soon as one bolt is false (acceptance number 0)
 *   resumed  day the supplier was let in again after a stop, "" for never: it ends the stop that stood on that day,
 *            and no later one
 */
void tb_switching_replay(struct tb_switching *s, const struct tb_record_lot *lot, size_t n,
                         const char *resumed);

enum tb_advice { TB_ADVICE_KEEP, TB_ADVICE_TIGHTEN, TB_ADVICE_REDUCE, TB_ADVICE_STOP };
const char *tb_advice_key(enum tb_advice advice); /* "keep", "tighten", "reduce", "stop"; static text */

/* What an advice rests on. */
enum tb_advice_ground {
    TB_GROUND_NOTHING,    /* nothing asks for a change */
    TB_GROUND_NOT_JUDGED, /* no lot was judged yet */
    TB_GROUND_RULE,       /* a switching rule: state.why */
    TB_GROUND_CHANGE      /* more lots were wrong than usual, noticed with lot[alarm_at] */
};

#define TB_RECORD_CONFIDENCE 0.95
#define TB_RECORD_RUN 200.0

struct tb_record {
    /* given */
    struct tb_tally own; /* judged lots, and how many of them were wrong */
    const struct tb_record_lot
        *lot; /* the same lots, oldest first, borrowed; n is 0 where only the tally is known */
    size_t n;
    struct tb_beta prior;           /* what is believed before the own lots */
    const struct tb_belief *belief; /* the same with how sure that is, borrowed; NULL: the prior alone */
    double conf;                    /* of the intervals; 0: TB_RECORD_CONFIDENCE */
    double usual;                   /* share of wrong lots called usual; 0: the mean of the prior */
    double run;          /* least number of lots to one false alarm of a change; 0: TB_RECORD_RUN */
    const char *resumed; /* as tb_switching_replay takes it; NULL never */
    /* worked out */
    struct tb_posterior post;
    double exact[2],
        jeffreys[2]; /* of the supplier's own share, lower and upper; 0 where no lot was judged */
    struct tb_cusum cusum;
    size_t alarm_at, since; /* the last alarm and the lot it began with: places in lot; n: none */
    size_t right_run;       /* lots right in a row at the end */
    struct tb_switching state;
    enum tb_advice advice;
    enum tb_advice_ground ground;
};
/*
 * tb_record_work_out - fill in everything that is not given.
 *
 *   fails   TB_EINVAL: more wrong lots than lots, a confidence that is not between 0 and 1, a run of 1 or less
 *   memory  allocates nothing that stays
 */
tb_rc tb_record_work_out(struct tb_record *record, struct tb_err *err);

/* Lots of one month of arrival, with the exact limits of a chart of counts. */
struct tb_record_month {
    char month[8];               /* "2026-10" */
    long lots, wrong, low, high; /* a signal where wrong <= low or wrong >= high */
};
/*
 * tb_record_months - the judged lots of a record that was worked out, month by month.
 *
 *   out, n  room for record->n months; only months with a judged lot
 *   fails   as tb_pchart_limits
 */
tb_rc tb_record_months(struct tb_record_month *out, size_t *n, const struct tb_record *record,
                       struct tb_err *err);

/*
 * tb_record_all - every supplier's share, with strength borrowed from the others.
 *
 *   out     n posteriors, in the order of the tallies
 *   belief  as tb_record_belief gives it
 *   conf    of the intervals; 0: TB_RECORD_CONFIDENCE
 *   fails   TB_EINVAL as tb_record_belief and tb_belief_posterior
 *   memory  points of the belief in mem
 */
tb_rc tb_record_all(struct tb_posterior *out, struct tb_belief *belief, const struct tb_tally *tally,
                    size_t n, double conf, struct tb_arena *mem, struct tb_err *err);

#endif
