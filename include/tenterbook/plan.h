/*
 * plan.h - a draw planned: how many bolts to cut, and with what chance that shows false ones.
 *
 * Pure: values in, values out. Shares, chances and confidences lie in 0 .. 1, the AQL is in per cent. The ways to plan
 * and their figures are those of sampling.h. Source: docs/sampling.md, "Defaults" and the section of each way.
 */
#ifndef TENTERBOOK_PLAN_H
#define TENTERBOOK_PLAN_H

#include "tenterbook/sampling.h"

enum tb_plan_kind {
    TB_PLAN_DISCOVERY,  /* as many as show one of `bad` false bolts with chance `sure` */
    TB_PLAN_ACCEPTANCE, /* the standard's table, by AQL, level and inspection */
    TB_PLAN_SHARE,      /* a fixed part of the bolts */
    TB_PLAN_EVERY       /* all of them */
};
/* "discovery", "acceptance", "share", "every": as the book and JSON have it. Static text. */
const char *tb_plan_key(enum tb_plan_kind kind);

/* What is asked of a draw. A number that is 0 takes its default. */
struct tb_plan_wish {
    enum tb_plan_kind kind;
    long bad; /* false bolts that must not slip through; 0: a tenth of them with TB_PLAN_DISCOVERY, with the
                         other plans the smallest number that shows with chance `sure` */
    double sure;      /* chance asked for; 0: TB_SURE_DEFAULT */
    double catch_one; /* chance that burning a false bolt shows it; 0: TB_CATCH_DEFAULT */
    double share;     /* TB_PLAN_SHARE only: above 0, at most 1 */
    double aql;       /* TB_PLAN_ACCEPTANCE only, as are the next two */
    enum tb_level level;
    enum tb_inspection inspection;
};

struct tb_plan {
    struct tb_plan_wish want; /* given; the defaults are filled in */
    long bolts;               /* given: drawn from so many */
    struct tb_stratum
        *strata; /* given where bolts are drawn by lot, borrowed; .cut is filled. NULL: bolts alone */
    size_t n_strata;
    struct tb_acceptance acceptance; /* TB_PLAN_ACCEPTANCE only */
    long cut;                        /* bolts to cut; -1: not even every bolt is enough */
    long accept;                     /* the lot passes when no more than this many are shown false */
    double chance;                   /* that want.bad false bolts show */
};
/*
 * tb_plan_work_out - fill in everything that is not given.
 *
 *   fails   TB_EINVAL for what cannot be: no bolts, more false ones than bolts, an AQL that is not in the table
 *   memory  allocates nothing
 */
tb_rc tb_plan_work_out(struct tb_plan *plan, struct tb_err *err);
/*
 * tb_plan_shows - the chance that more than `accept` of `bad` false bolts are shown by a plan that was worked out.
 *
 *   bad    0 .. bolts
 *   fails  TB_EINVAL outside of that; *chance is untouched then
 */
tb_rc tb_plan_shows(double *chance, const struct tb_plan *plan, long bad, struct tb_err *err);

/* One point of an operating characteristic. */
struct tb_plan_point {
    long bad;
    double chance;
};
#define TB_PLAN_POINTS_MOST 40
/*
 * tb_plan_curve - points of the operating characteristic of a plan that was worked out, by rising number of false
 * bolts, close together where there are few of them, up to the number that shows nearly always.
 *
 *   out, n  at most `most` points, 2 .. TB_PLAN_POINTS_MOST
 *   fails   as tb_plan_shows
 */
tb_rc tb_plan_curve(struct tb_plan_point *out, size_t *n, size_t most, const struct tb_plan *plan,
                    struct tb_err *err);

#endif
