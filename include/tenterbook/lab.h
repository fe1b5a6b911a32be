/*
 * lab.h - quantitative fibre analysis: masses in, percentages with their uncertainty and a decision out.
 *
 * Pure: values in, values out. Masses are grams, dry; percentages 0..100 by mass; factors near 1. Formulas and
 * symbols are those of Regulation (EU) 1007/2011, Annex VIII; docs/laboratory.md gives them in our own words.
 * Fibres are numbers of fibre.h; "eu" numbers are entries of Annex I of the Regulation.
 */
#ifndef TENTERBOOK_LAB_H
#define TENTERBOOK_LAB_H

#include "tenterbook/fibre.h"
#include "tenterbook/lab_standard.h"

#define TB_LAB_FIBRES_MOST 6  /* fibres of one analysis (by hand; the chemical routes take 2 or 3) */
#define TB_LAB_INPUTS_MOST 6  /* readings of one determination */
#define TB_LAB_FACTORS_MOST 4 /* correction factors d */
#define TB_LAB_DETS_MOST 200  /* determinations of one analysis */

/* How the fibres were separated. The order of the fibres is fixed by the route. */
enum tb_lab_route {
    TB_LAB_DISSOLVE, /* two fibres: [0] stays as residue, [1] is dissolved.   specimen residue; d */
    TB_LAB_HAND,     /* 2..6 fibres separated by hand, weighed.               one mass a fibre; no d */
    TB_LAB_VARIANT_1, /* a gone from specimen 1, b from specimen 2             specimen residue specimen2 residue2 */
    TB_LAB_VARIANT_2, /* a gone from specimen 1, a and b from specimen 2       (as variant 1) */
    TB_LAB_VARIANT_3, /* a and b gone from specimen 1, b and c from specimen 2 (as variant 1) */
    TB_LAB_VARIANT_4, /* one specimen: a goes, then b                          specimen residue residue2 */
    TB_LAB_NITROGEN, /* [0] animal fibre, [1] jute                            specimen acid blank normality */
    TB_LAB_ROUTES
};
/* "variant_1": static. */
const char *tb_lab_route_key(enum tb_lab_route route);
/* How many readings a determination has, at most TB_LAB_INPUTS_MOST. */
size_t tb_lab_inputs(enum tb_lab_route route, size_t fibres);
/* The name of reading k, such as "residue2": static; NULL by hand, where the fibres name the readings. */
const char *tb_lab_input_name(enum tb_lab_route route, size_t k);
/* How many correction factors d the route uses, at most TB_LAB_FACTORS_MOST. */
size_t tb_lab_factors(enum tb_lab_route route);
/* Does the route take so many fibres? */
bool tb_lab_fibres_fit(enum tb_lab_route route, size_t fibres);

/* One determination: the readings in the order of tb_lab_input_name(). */
struct tb_lab_det {
    double in[TB_LAB_INPUTS_MOST];
};

/* --- the formulas, one by one ------------------------------------------------------------------------- */
/*
 * tb_lab_check - could a person have weighed this?
 *   fails  TB_EINVAL, naming reading and value: not a number, zero, negative, residue above specimen (or
 *          residue2 above residue in variant 4), blank not below acid
 */
tb_rc tb_lab_check(enum tb_lab_route route, size_t fibres, const struct tb_lab_det *det, struct tb_err *err);
/*
 * tb_lab_dry - percentages of dry mass, as the Regulation calculates them.
 *   dry    `fibres` percentages; they sum to 100
 *   d      tb_lab_factors(route) factors, each 0.5..2; 1 is "loses nothing"
 *   fails  as tb_lab_check; a factor out of range; a share beyond -1..101 (masses or fibres cannot be right)
 */
tb_rc tb_lab_dry(double *dry, enum tb_lab_route route, size_t fibres, const double *d,
                 const struct tb_lab_det *det, struct tb_err *err);
/*
 * tb_lab_dry_exact - the same from the mass balance solved exactly. Differs from tb_lab_dry only in variant 1,
 * where the Regulation's formula uses each residue uncorrected for the other reagent.
 */
tb_rc tb_lab_dry_exact(double *dry, enum tb_lab_route route, size_t fibres, const double *d,
                       const struct tb_lab_det *det, struct tb_err *err);
/*
 * tb_lab_expect - the other way round: the readings a specimen of 1 g (each) of these dry shares would give.
 *   dry    percentages summing to 100
 *   fails  TB_EINVAL for shares or factors out of range; the nitrogen route is answered for 0.02 N, blank 0.5 ml
 */
tb_rc tb_lab_expect(struct tb_lab_det *out, enum tb_lab_route route, size_t fibres, const double *d,
                    const double *dry, struct tb_err *err);
/*
 * tb_lab_adjust - dry shares to shares with agreed allowances a and pre-treatment losses b (all percent).
 *   fails  TB_EINVAL when a share is not finite, a is beyond 0..100 or b beyond 0..50
 */
tb_rc tb_lab_adjust(double *out, const double *dry, const double *a, const double *b, size_t fibres,
                    struct tb_err *err);
/* tb_lab_round - to `decimals` (0..6) so that the rounded shares sum to what the whole rounds to: the units left
 * over go to the largest remainders (this gives the printed results of both examples of the Regulation). */
void tb_lab_round(double *out, const double *in, size_t n, int decimals);
/* How much cloth weighs `grams`, cm2 (chapter 1). */
double tb_lab_cloth_cm2(double grams, double grams_a_square_metre);

/* --- a whole analysis --------------------------------------------------------------------------------- */
/* On which mass the percentages are counted. */
enum tb_lab_basis {
    TB_LAB_DRY, /* oven-dry mass */
    TB_LAB_EU,  /* agreed allowances of Annex IX and losses in normal pre-treatment */
    TB_LAB_US,  /* commercial moisture regain (ASTM D1909); no fixed losses */
    TB_LAB_BASES
};
/* "dry", "eu" or "us": static. */
const char *tb_lab_basis_key(enum tb_lab_basis basis);

struct tb_lab_task {
    enum tb_lab_route route;
    size_t fibres;
    double d[TB_LAB_FACTORS_MOST];
    double allowance[TB_LAB_BASES][TB_LAB_FIBRES_MOST]; /* percent; NAN: no figure, that basis is left out */
    double loss[TB_LAB_FIBRES_MOST];                    /* percent, EU basis only */
    double mass_error;                                  /* a weighing may be off by this much either way, g */
    double volume_error;                                /* the same of a burette reading, ml */
    double factor_error; /* the same of a factor d; 0 where the method's limit covers it */
    double limit[2];     /* 95 % limit of the first and second method, points; NAN: not known */
};
/* d = 1, losses 0, allowances NAN except dry, 0.0002 g, 0.02 ml, factor_error 0.005, limits unknown. */
void tb_lab_task_init(struct tb_lab_task *task, enum tb_lab_route route, size_t fibres);

/* One fibre on one basis. u is the root of the sum of the squares of its four parts. */
struct tb_lab_share {
    double percent;  /* mean of the determinations */
    double rounded;  /* to one decimal, all of them summing to 100.0 */
    double spread;   /* greatest less smallest determination, points */
    double u;        /* standard uncertainty of the mean, points */
    double u_repeat; /* from the scatter of the determinations */
    double u_weigh;  /* from weighing (and burette) */
    double u_factor; /* from the factors d */
    double u_method; /* from the method's limit between laboratories */
    double
        freedom; /* effective degrees of freedom (Welch-Satterthwaite); INFINITY when nothing is estimated */
    double coverage; /* factor for 95 % */
    double low,
        high; /* 95 % interval, either end cut to 0..100; both are 0 or 100 where all of it lies beyond */
};

enum tb_lab_warning {
    TB_LAB_WARN_SINGLE = 1 << 0,  /* one determination; the Regulation wants two or more */
    TB_LAB_WARN_SPREAD = 1 << 1,  /* determinations further apart than chance explains */
    TB_LAB_WARN_OUTSIDE = 1 << 2, /* a share below 0 or above 100 by up to a point */
    TB_LAB_WARN_NO_LIMIT = 1 << 3 /* no published limit: what laboratories differ by is not in u */
};

struct tb_lab_result {
    size_t fibres, dets;
    bool known[TB_LAB_BASES]; /* false: an allowance is missing */
    struct tb_lab_share share[TB_LAB_BASES][TB_LAB_FIBRES_MOST];
    double exact[TB_LAB_FIBRES_MOST]; /* mean dry shares from the exact mass balance */
    double bias[TB_LAB_FIBRES_MOST];  /* legal formula less exact, points of dry mass; 0 outside variant 1 */
    double spread_limit; /* what TB_LAB_WARN_SPREAD compares with: 95 % of ranges stay below it, points */
    unsigned warnings;   /* enum tb_lab_warning */
};
/*
 * tb_lab_compute - determinations to percentages with uncertainty.
 *   fails  TB_EINVAL naming the determination (tb_lab_check, tb_lab_dry); none or more than TB_LAB_DETS_MOST;
 *          a number of fibres the route does not take
 */
tb_rc tb_lab_compute(struct tb_lab_result *out, const struct tb_lab_task *task, const struct tb_lab_det *det,
                     size_t dets, struct tb_err *err);
/* Range below which 95 % of the ranges of n results of standard deviation 1 stay; n 2..200. */
double tb_lab_critical_range(size_t n);
/* 95 % limits of the fibres from the limits of the methods used (Annex VIII chapter 3, III.1). */
void tb_lab_limits(double *out, enum tb_lab_route route, size_t fibres, const double limit[2]);

/*
 * Determinations from the rows of a table. The first row names the readings, in any order: `specimen`,
 * `residue`, `specimen2`, `residue2`, `acid`, `blank`, `normality`; by hand one column a fibre, headed by its
 * name as given in `names`. Columns headed id, determination, note or nothing are passed over; so are empty rows.
 */
struct tb_lab_masses {
    enum tb_lab_route route;
    size_t fibres;
    const char *const *names; /* of the fibres, for TB_LAB_HAND; borrowed */
    bool headed;              /* the first row was taken */
    int reading[64];          /* which reading a column holds; -1: it is passed over */
    size_t columns;
    size_t n; /* determinations taken */
    struct tb_lab_det det[TB_LAB_DETS_MOST];
};
/* An empty table of this route; *m needs no preparation, and nothing in it is to be freed. */
void tb_lab_masses_start(struct tb_lab_masses *m, enum tb_lab_route route, size_t fibres,
                         const char *const *names);
/*
 * tb_lab_masses_row - take one row; `line` is its number in the file, for the sentence.
 *   cell   n texts; a decimal comma is read as a point
 *   fails  TB_EINVAL naming line and column: an unknown or repeated heading, one missing, a cell that is not
 *          a number, masses nobody can have weighed (tb_lab_check), too many rows
 */
tb_rc tb_lab_masses_row(struct tb_lab_masses *m, const char *const *cell, size_t n, size_t line,
                        struct tb_err *err);
/* The table is whole. Fails with TB_EINVAL when there was no heading or no determination. */
tb_rc tb_lab_masses_end(const struct tb_lab_masses *m, struct tb_err *err);
/*
 * tb_lab_number - a number as people write it: "1.002", "1,002" (both one point zero zero two), spaces around it.
 *   fails  TB_EINVAL naming the text; not a number, infinite or followed by anything
 */
tb_rc tb_lab_number(double *out, const char *text, struct tb_err *err);

/* --- conformity (JCGM 106:2012) ----------------------------------------------------------------------- */
/* What is allowed; an end may be -INFINITY or INFINITY. The tolerance itself comes from the law of a market. */
struct tb_lab_limit {
    double lower, upper;
};
/* declared +- tolerance; open above when 100 is within, open below when 0 is. */
struct tb_lab_limit tb_lab_limit_around(double declared, double tolerance);

/* Chance that the true value lies within; freedom INFINITY is the normal distribution. u 0 is certainty. */
double tb_lab_conformity(double y, double u, double freedom, struct tb_lab_limit limit);
/* Width of the guard band for probability p (0.5..1) at one limit: quantile times u. */
double tb_lab_guard(double u, double freedom, double p);

enum tb_lab_answer { TB_LAB_UNSAID, TB_LAB_CONFORMS, TB_LAB_FAILS };
/* "conforms", "does_not_conform" or "cannot_be_said": static. */
const char *tb_lab_answer_key(enum tb_lab_answer answer);

struct tb_lab_decision {
    enum tb_lab_answer answer;
    double probability;         /* of conformity */
    double guard;               /* guard band, points */
    struct tb_lab_limit accept; /* results that would conform; lower > upper: none can, u is too large */
};
/*
 * tb_lab_decide - conforms when the probability is at least `sure`, fails when it is at most 1 - sure.
 *   y, u, limit  shares, in percent. A share of 100 where 100 is the least allowed conforms, and a share of 0 where 0 is the
 *                most: nothing else was found, and no share lies beyond.
 *   fails  TB_EINVAL when sure is not above 0.5 and below 1, u is negative, or something is not a number
 */
tb_rc tb_lab_decide(struct tb_lab_decision *out, double y, double u, double freedom,
                    struct tb_lab_limit limit, double sure, struct tb_err *err);

/* --- reference tables --------------------------------------------------------------------------------- */
/* One binary method of Annex VIII chapter 2. Text is static. */
struct tb_lab_method {
    int number;
    const char *dissolves; /* words */
    const char *reagent, *conditions, *hazard, *note;
    const char *effort;              /* "a laboratory order" */
    struct tb_lab_standard standard; /* the published one that it is like; its status is of its number */
    double limit;                    /* 95 % limit, points; NAN: not known */
    const char *source, *status;
};
/* How many methods there are; they are numbered from 1. */
size_t tb_lab_method_count(void);
/* Filled in place; false when there is no method of that number. */
bool tb_lab_method_get(struct tb_lab_method *out, int number);
enum tb_lab_role { TB_LAB_ROLE_NONE, TB_LAB_ROLE_DISSOLVED, TB_LAB_ROLE_SOME, TB_LAB_ROLE_RESIDUE };
/* How a method treats a fibre: SOME means that only some kinds of it are dissolved. */
enum tb_lab_role tb_lab_method_role(int number, int fibre);
/*
 * tb_lab_factor - d of a residue fibre; conditions is a list such as "unbleached,mercerised" or NULL.
 *   fails  TB_ENOTFOUND when the method gives none for that fibre
 */
tb_rc tb_lab_factor(double *d, int method, int fibre, const char *conditions, struct tb_err *err);

/* Agreed allowance or regain, and what is known of it. */
struct tb_lab_allowance {
    double percent;
    double loss;                 /* in normal pre-treatment (EU basis), percent */
    const char *condition;       /* "carded or unknown"; "" when there is only one figure */
    bool assumed;                /* the condition was not said: the default was taken */
    const char *source, *status; /* status "seen", "second-hand" or "memory" */
};
/* `conditions` is a list such as "unbleached,mercerised" or NULL; words that no table knows are passed over.
 * fails  TB_ENOTFOUND: no figure for that fibre on that basis. The dry basis is always 0. */
tb_rc tb_lab_allowance(struct tb_lab_allowance *out, enum tb_lab_basis basis, int fibre,
                       const char *conditions, struct tb_err *err);
/* Is this a condition any table knows for the fibre ("mercerised", "unbleached", "filament" ...)? */
bool tb_lab_condition_known(int fibre, const char *condition);

/* One way to analyse a mixture. */
struct tb_lab_way {
    enum tb_lab_route route;
    int method[2];                 /* second 0 when one method serves */
    int fibre[3];                  /* in the order of the route */
    double d[TB_LAB_FACTORS_MOST]; /* NAN: the tables give none */
    double limit[3];               /* 95 % limit of each fibre, points; NAN not known */
    bool check_solubility;         /* the method takes only some kinds of the dissolved fibre */
    bool derived;                  /* two methods put together here; not in the Regulation's table */
    char caution[240];             /* "" or why another way is better */
};
#define TB_LAB_WAYS_MOST 64
/*
 * tb_lab_plan - which methods separate these fibres, best first (no caution, then narrow limit, then mild reagent).
 *   out    room for TB_LAB_WAYS_MOST; *n how many
 *   part   2 or 3 fibres; percentages may be NAN
 *   conditions  one list a share, or NULL altogether
 *   fails  TB_EINVAL: one fibre, more than three, one twice, or one that is no fibre; TB_ENOTFOUND: no method
 */
tb_rc tb_lab_plan(struct tb_lab_way *out, size_t *n, const struct tb_part *part,
                  const char *const *conditions, struct tb_err *err);
/*
 * tb_lab_forecast - the readings a specimen of 1 g of that mixture would give on a way of tb_lab_plan.
 *   part     as given to tb_lab_plan; shares with agreed allowances, as they are declared
 *   returns  false where a percentage, an allowance or a factor is not known
 */
bool tb_lab_forecast(struct tb_lab_det *out, const struct tb_lab_way *way, const struct tb_part *part);

/* --- from what a person says to a task ---------------------------------------------------------------- */
/* What was said. Zeroed means: not said, but for dissolved (-1), limit (NAN) and route. */
struct tb_lab_wish {
    enum tb_lab_route route;
    const struct tb_part *mixture; /* the fibres, percentages of no account */
    const char *const *conditions; /* one list a fibre of the mixture ("unbleached"); NULL: none said */
    int method[2];                 /* 0: not said */
    int dissolved;                 /* fibre that went (TB_LAB_DISSOLVE); -1: not said */
    double d[TB_LAB_FACTORS_MOST]; /* factors measured by the laboratory itself ... */
    size_t factors;                /* ... how many; 0: those of the tables */
};
/* A wish that says nothing but the route and the fibres; both are borrowed. */
void tb_lab_wish_init(struct tb_lab_wish *wish, enum tb_lab_route route, const struct tb_part *mixture);

/* An analysis ready to be computed: fibres in the order of the route, factors and allowances looked up. */
struct tb_lab_setup {
    struct tb_lab_task task;
    int fibre[TB_LAB_FIBRES_MOST];
    const char *condition[TB_LAB_FIBRES_MOST]; /* borrowed from the wish; NULL none */
    int method[2];                             /* 0: none */
    struct tb_lab_allowance allowance[TB_LAB_BASES]
                                     [TB_LAB_FIBRES_MOST]; /* status "" where there is no figure */
    bool found_method;     /* the method was not said: the only one there is was taken */
    bool check_solubility; /* the method takes only some kinds of a fibre it dissolves */
    char caution[240];     /* "" or why the Regulation points elsewhere */
};
/*
 * tb_lab_setup_make - settle order, methods, factors, limits and allowances.
 *   fails  TB_EINVAL: a number of fibres the route does not take, factors that do not fit the route, several
 *          methods come into question, the dissolved fibre is not one of the mixture; TB_ENOTFOUND: no method of
 *          the tables separates the mixture that way, or its factor is not in them
 */
tb_rc tb_lab_setup_make(struct tb_lab_setup *out, const struct tb_lab_wish *wish, struct tb_err *err);

#endif
