/*
 * sampling.h - how many bolts to cut and which, what the result proves, how a supplier and a tester have done.
 *
 * Pure: values in, values out; no clock, file or global. Counts are whole, shares lie in 0 .. 1, confidences and
 * chances strictly between 0 and 1 where not said otherwise. Every function refuses what cannot be (a lot of no
 * bolts, a confidence of 1, a negative share) with TB_EINVAL and one sentence, and leaves its results untouched.
 * A "false" bolt is one that is not what was declared; `catch` is the chance that the burns of one false bolt
 * show it, 0 < catch <= 1. Formulas, sources and proofs: docs/sampling.md, one section for each part below.
 */
#ifndef TENTERBOOK_SAMPLING_H
#define TENTERBOOK_SAMPLING_H

#include "tenterbook/base.h"
#include "tenterbook/holder.h"

#define TB_LOT_MOST 1000000000L /* bolts in one lot; above it is a typing error */

/* The chance taken for one burn to show a swap before the evidence model knows the pair of fibres: a careful
 * guess, stated as such wherever it is used (docs/sampling.md, "Defaults"). */
#define TB_CATCH_DEFAULT 0.8
#define TB_SURE_DEFAULT 0.95

/* --- discovery: to see at least one ------------------------------------------------------------------------ */

/*
 * tb_discovery_chance - chance that burning `drawn` bolts of `lot`, drawn at random, shows at least one of `bad`.
 *
 *   chance, miss  the chance and its complement; each keeps its digits where it is small. Either may be NULL
 *   bad           0 .. lot;  drawn 0 .. lot
 */
tb_rc tb_discovery_chance(double *chance, double *miss, long lot, long bad, long drawn, double catch_chance,
                          struct tb_err *err);
/*
 * tb_discovery_cut - smallest number of bolts that shows at least one of `bad` false ones with chance `sure`.
 *
 *   cut   1 .. lot; -1 when even burning every bolt does not reach it
 */
tb_rc tb_discovery_cut(long *cut, long lot, long bad, double sure, double catch_chance, struct tb_err *err);

/* Bolts of one dye lot (or shade): how many there are and how many are cut. */
struct tb_stratum {
    long bolts, cut;
};
/*
 * tb_spread - share out `cut` bolts over the strata so that the least share looked at is as large as it can be
 * (Adams' divisor rule): every stratum gets one before any gets two. cut: 0 .. sum of bolts.
 */
tb_rc tb_spread(struct tb_stratum *strata, size_t n, long cut, struct tb_err *err);
#define TB_SPREAD_EXACT 5000
/*
 * tb_spread_chance - chance that bolts drawn at random within each stratum show at least one of `bad` false ones,
 * however they are placed: the worst placing counts. Exact up to TB_SPREAD_EXACT false bolts, a lower bound above.
 */
tb_rc tb_spread_chance(double *chance, double *miss, const struct tb_stratum *strata, size_t n, long bad,
                       double catch_chance, struct tb_err *err);
/* tb_spread_cut - as tb_discovery_cut, guaranteed for the worst placing; strata[].cut is set. -1: cannot be. */
tb_rc tb_spread_cut(long *cut, struct tb_stratum *strata, size_t n, long bad, double sure,
                    double catch_chance, struct tb_err *err);

/* --- what the result proves -------------------------------------------------------------------------------- */

/*
 * tb_proof_most - most false bolts the lot can hold, with confidence `conf`, after `found` of `drawn` were shown.
 *
 *   most   found .. lot: the exact one-sided bound (finite lot, imperfect burns)
 */
tb_rc tb_proof_most(long *most, long lot, long drawn, long found, double catch_chance, double conf,
                    struct tb_err *err);
/*
 * tb_proof_least - fewest false bolts the lot holds, with confidence `conf`, after `found` of `drawn` were shown and are taken as false.
 * It takes no chance of detection: those that were found are false, and those that a look missed only add to them.
 *
 *   least   found .. lot: the exact one-sided bound; with tb_proof_most an interval of confidence 2 conf - 1
 *   source  docs/sampling.md, "At least and at most"
 */
tb_rc tb_proof_least(long *least, long lot, long drawn, long found, double conf, struct tb_err *err);
/* As tb_proof_most for bolts drawn within strata, true for any placing of the false ones. */
tb_rc tb_proof_most_spread(long *most, const struct tb_stratum *strata, size_t n, long found,
                           double catch_chance, double conf, struct tb_err *err);
/*
 * tb_proof_metres - most metres in false bolts: those found and the longest others, up to `most` bolts together.
 *
 *   found, n_found  metres of the bolts that were shown false
 *   other, n_other  metres of every other bolt that can still be false (all bolts that were not burned, and the
 *                   burned ones too when catch < 1); sorted in place, longest first
 */
tb_rc tb_proof_metres(double *metres, long most, const double *found, size_t n_found, double *other,
                      size_t n_other, struct tb_err *err);

/* --- acceptance sampling by attributes ---------------------------------------------------------------------- */

enum tb_level { TB_LEVEL_S1, TB_LEVEL_S2, TB_LEVEL_S3, TB_LEVEL_S4, TB_LEVEL_I, TB_LEVEL_II, TB_LEVEL_III };
enum tb_inspection { TB_NORMAL, TB_TIGHTENED, TB_REDUCED };
/* "S-1" to "III" in any case as a level; -1: the word is not one of them. */
int tb_level_by_key(const char *key);
/* The word of a level, static. */
const char *tb_level_key(enum tb_level level);
/* "normal", "tightened" or "reduced" in any case; -1: the word is not one of them. */
int tb_inspection_by_key(const char *key);
/* The word of an inspection, static. */
const char *tb_inspection_key(enum tb_inspection inspection);

struct tb_acceptance {
    const char *code;     /* the letter of the lot size and level; static text */
    const char *use_code; /* the letter of the plan an arrow leads to; the same where there is none */
    long table_n;         /* sample size of that plan */
    long cut;             /* bolts to cut: table_n, or the whole lot where that is smaller */
    long accept, refuse;  /* accept the lot at this many or fewer, refuse it at this many or more */
};
/*
 * tb_acceptance_plan - single sampling plan of MIL-STD-105E (Tables I and II); ISO 2859-1 uses the same letters.
 *
 *   lot   1 .. TB_LOT_MOST; a lot of one is looked at whole
 *   aql   percent; one of the values of the table (0.010 .. 1000), others are refused and the neighbours named
 */
tb_rc tb_acceptance_plan(struct tb_acceptance *out, long lot, enum tb_level level, double aql,
                         enum tb_inspection inspection, struct tb_err *err);

/* Operating characteristic: chance that at most `accept` are shown false, for `bad` false ones in this lot. */
tb_rc tb_accept_lot(double *chance, long lot, long bad, long drawn, long accept, double catch_chance,
                    struct tb_err *err);

/*
 * --- switching between normal, tightened and reduced
 * ---------------------------------------------------------
 */

enum tb_rules {
    TB_RULES_2859, /* ISO 2859-1: a switching score of 30 allows reduced inspection */
    TB_RULES_105E  /* MIL-STD-105E: ten lots accepted, and the found below a limit number the caller knows */
};

struct tb_lot_outcome {
    bool refused;             /* found >= refuse */
    bool between;             /* accept < found < refuse: accepted, but reduced inspection ends */
    bool would_pass_tighter;  /* found also acceptable one AQL step tighter */
    bool accept_number_small; /* the plan's acceptance number is 0 or 1 */
    bool steady;              /* production steady, and reduced inspection wanted by the house */
    bool below_limit;         /* 105E only: found over the last ten lots within the limit number */
    bool resubmitted;         /* a lot offered again is not counted */
};

struct tb_switching {
    enum tb_rules rules;
    enum tb_inspection now;
    bool stopped;          /* stop until the supplier has put the cause right */
    int since_refused;     /* normal: lots since the last refusal, 0: none among the last four */
    int accepted_run;      /* lots accepted in a row under the present inspection */
    int refused_tightened; /* tightened: lots refused since it began */
    int score;             /* ISO 2859-1 switching score */
    const char *why;       /* the rule of the last change, static text; NULL before the first */
};
/* A supplier without a history: normal inspection. */
void tb_switching_start(struct tb_switching *s, enum tb_rules rules);
/* One lot further, in the order of submission. Returns true when the inspection changed. */
bool tb_switching_step(struct tb_switching *s, const struct tb_lot_outcome *lot);
/* The supplier has shown what was put right: tightened inspection starts again. */
void tb_switching_resume(struct tb_switching *s);

/*
 * --- which bolts
 * ---------------------------------------------------------------------------------------------
 */

#define TB_SEED_MOST 64
/*
 * tb_pick - draw `cut` of `bolts` places at random, again the same for the same seed and label on any machine.
 *
 *   place  cut numbers, 1 .. bolts, rising; room for `cut`
 *   seed   1 .. TB_SEED_MOST printable characters, as recorded with the draw
 *   label  names the stratum ("" where there is none), so that strata are drawn independently
 *   how    SHA-256 of "seed/label/i", i = 1, 2, ...: docs/sampling.md, "Drawing again by hand"
 */
tb_rc tb_pick(long *place, long bolts, long cut, const char *seed, const char *label, struct tb_err *err);

/*
 * tb_shuffle - `count` of n things in random order, each as often as any other within one: all n are dealt before any
 * of them comes again. The same seed gives the same order on any machine.
 *
 *   out    count places, 0 .. n - 1; untouched on failure
 *   n      1 .. TB_LOT_MOST
 *   fails  TB_EINVAL: nothing to deal from, a seed that tb_pick does not take
 *   how    place i is drawn by tb_pick, with the label "card i", from those left: docs/sampling.md, "Testers"
 */
tb_rc tb_shuffle(size_t *out, size_t count, size_t n, const char *seed, struct tb_err *err);

#define TB_DEAL_LEAST 3 /* things of one kind: one for each side, and one that stays */
/*
 * tb_deal - deal things at random to a supplier and a laboratory, of each kind as many to the one as to the other; the
 * rest stays with their owner.
 *
 *   holder  n of them, none TB_HOLDER_NONE; what they are after a failure means nothing
 *   each    how many the supplier got, and the laboratory as many; 0 where no kind has TB_DEAL_LEAST things
 *   kind    n short words, 1 .. 40 characters; only things of one kind are alike
 *   fails   TB_EINVAL: a seed that tb_pick does not take
 *   how     tb_pick among those of a kind that are left, with the label "kind-holder": "warp-supplier"
 */
tb_rc tb_deal(enum tb_holder_kind *holder, long *each, const char *const *kind, size_t n, const char *seed,
              struct tb_err *err);

/*
 * --- a supplier's record
 * -------------------------------------------------------------------------------------
 */

struct tb_tally {
    long lots, wrong; /* lots judged, and those of them that did not conform */
};

struct tb_beta {
    double a, b; /* beta(a, b): mean a / (a + b), weight a + b lots */
};

#define TB_WEIGHT_LEAST 0.1
#define TB_WEIGHT_MOST 1000.0
/*
 * tb_record_fit - how the share of wrong lots differs between suppliers: beta-binomial by maximum likelihood.
 *
 *   out    weight a + b kept between TB_WEIGHT_LEAST and TB_WEIGHT_MOST; *at_edge says that it stopped there
 *   fails  TB_EINVAL when there is no lot at all, or none or every one was wrong: no maximum exists then
 */
tb_rc tb_record_fit(struct tb_beta *out, double *log_likelihood, bool *at_edge, const struct tb_tally *tally,
                    size_t n, struct tb_err *err);
/* tb_record_published - the fit to the published rates of wrong fibre content, 2015 on (18 samples, inspectors'
 * choice: an upper guide, not a forecast). */
struct tb_beta tb_record_published(void);
#define TB_OWN_SUPPLIERS 5
#define TB_OWN_LOTS 30
/*
 * tb_record_prior - what to believe of a supplier before its own lots: the site's own fit once there are at least
 * TB_OWN_SUPPLIERS suppliers with TB_OWN_LOTS judged lots together and the fit exists; the published one until then.
 */
tb_rc tb_record_prior(struct tb_beta *out, bool *own, const struct tb_tally *tally, size_t n,
                      struct tb_err *err);

struct tb_posterior {
    struct tb_beta beta; /* after the supplier's own lots */
    double mean, lo, hi; /* equal tails at conf */
    double next_wrong;   /* chance that the next lot does not conform (the mean) */
};
/*
 * The prior after the supplier's own lots, with the interval at this confidence. Fails with TB_EINVAL as
 * tb_record_fit.
 */
tb_rc tb_record_posterior(struct tb_posterior *out, const struct tb_beta *prior, const struct tb_tally *own,
                          double conf, struct tb_err *err);

/* One law of shares between suppliers, beta(a, b), and how likely it is beside the others. */
struct tb_belief_point {
    double a, b;
    double share; /* of all points; they add up to 1 */
};
/* What is believed of suppliers where how much they differ is itself known only roughly. */
struct tb_belief {
    struct tb_beta fit; /* the likeliest one, as tb_record_prior has it */
    bool own;           /* of this site's own suppliers; else as published, which is taken as it is */
    const struct tb_belief_point *point;
    size_t n;                  /* points, by weight a + b; 0: the fit alone */
    double lightest, heaviest; /* weight a + b in lots: between these with a chance of 95 % */
};
/*
 * tb_record_belief - every beta(a, b) that the tallies leave likely, with its share.
 *
 * Even over the mean and over (a + b)^-1/2, for weights of TB_WEIGHT_LEAST .. TB_WEIGHT_MOST: density (a + b)^-5/2 over (a, b).
 *
 *   tally   all suppliers of the site, the one asked about among them
 *   fails   as tb_record_prior
 *   memory  the points in mem
 *   source  A. Gelman and others, Bayesian Data Analysis, 3rd edition, section 5.3 (from memory)
 */
tb_rc tb_record_belief(struct tb_belief *out, const struct tb_tally *tally, size_t n, struct tb_arena *mem,
                       struct tb_err *err);
/*
 * tb_belief_posterior - a supplier's share after its own lots, over all that is believed of suppliers.
 *
 *   out     beta is the one of the same mean and variance; mean, lo and hi are exact
 *   own     one of the tallies of the belief, or of a supplier that is none of them and has no lots
 *   fails   TB_EINVAL: more wrong lots than lots, a confidence that is not between 0 and 1
 */
tb_rc tb_belief_posterior(struct tb_posterior *out, const struct tb_belief *belief,
                          const struct tb_tally *own, double conf, struct tb_err *err);

/*
 * --- has something changed?
 * ----------------------------------------------------------------------------------
 */

/*
 * tb_pchart_limits - exact limits of a chart of counts: signal when found <= low or found >= high.
 *
 *   low    largest count c with P(X <= c) <= alpha, -1: none;  high smallest c with P(X >= c) <= alpha, n + 1: none
 *   alpha  0.00135 on each side is the usual three-sigma chart
 */
tb_rc tb_pchart_limits(long *low, long *high, double p, long n, double alpha, struct tb_err *err);
/* Two-sided exact p-value (outcomes no more likely than k), and the tail k or fewer / k or more. */
tb_rc tb_binomial_p(double *two_sided, double *at_most, double *at_least, long k, long n, double p,
                    struct tb_err *err);

/*
 * tb_cusum_lattice - expected lots until the sum S = max(0, S + step) reaches `alarm`, from `start`.
 *
 *   step, chance  n steps and their chances (>= 0, sum <= 1; the rest is taken as a step that raises the alarm)
 *   alarm         1 .. 5000
 */
tb_rc tb_cusum_lattice(double *arl, const long *step, const double *chance, size_t n, long alarm, long start,
                       struct tb_err *err);

/* A sum for lots that conform (step -1) or not (step +up), alarm at `alarm`. */
struct tb_cusum {
    long up, alarm;
    double p0, p1;    /* the share it calls usual, and the share it is tuned to find */
    double run_usual; /* expected lots to a false alarm at p0, >= the chosen one */
    double run_found; /* expected lots to the alarm at p1 */
};
/* tb_cusum_design - tune it: 0 < p0 < p1 < 1, run: the least expected number of lots to a false alarm (> 1). */
tb_rc tb_cusum_design(struct tb_cusum *out, double p0, double p1, double run, struct tb_err *err);
/* tb_cusum_run - feed lots in order; *alarm_at is the index of the first alarm, *since the lot after which the sum
 * last stood at 0 before it (where the change began), both n when there was none. */
void tb_cusum_run(size_t *alarm_at, size_t *since, const struct tb_cusum *c, const bool *wrong, size_t n);

/*
 * --- testers
 * -------------------------------------------------------------------------------------------------
 */

struct tb_kappa {
    double agreement; /* share of the swatches both named alike */
    double kappa;     /* 1: always alike, 0: no more than chance; NAN when only one answer was ever given */
    double error; /* standard error; 0 when kappa is 1 or one side never varied: no interval is known then */
    double error_h0; /* standard error where there is no agreement beyond chance */
    double z, p;     /* kappa / error_h0 and its two-sided chance */
    double lo, hi;   /* interval at conf, cut to -1 .. 1 */
};
/* tb_kappa_cohen - two testers, or a tester against the truth; table is classes x classes, rows the first. */
tb_rc tb_kappa_cohen(struct tb_kappa *out, const double *table, size_t classes, double conf,
                     struct tb_err *err);

struct tb_fleiss {
    double agreement;     /* mean share of agreeing pairs */
    double kappa;         /* Fleiss (marginals as found); NAN when only one answer was ever given */
    double free_marginal; /* Randolph's, chance = 1 / classes */
    double z;             /* kappa / its standard error where there is no agreement beyond chance */
    double error, lo, hi; /* jackknife over the swatches; NAN with fewer than three */
};
/* tb_kappa_fleiss - several testers: counts is swatches x classes, every row with the same sum of 2 or more. */
tb_rc tb_kappa_fleiss(struct tb_fleiss *out, const double *counts, size_t swatches, size_t classes,
                      double conf, struct tb_err *err);

/* Known swatches a tester must have answered before reporting rates of his own may be used. */
#define TB_DRILLS_ENOUGH 30

/*
 * --- the day
 * -------------------------------------------------------------------------------------------------
 */

struct tb_task {
    double value;   /* at stake, in one currency, >= 0 */
    double chance;  /* that the lot is false, 0 .. 1 */
    double catch_;  /* that the burns show it, 0 .. 1 */
    double minutes; /* at the bench, > 0 */
};

struct tb_day {
    size_t *order; /* tasks taken, the most worth a minute first; n of them; yours to free */
    size_t n;
    double minutes; /* used */
    double gain;    /* expected value caught */
    double most;    /* no choice of tasks can gain more than this */
};
/* tb_day_plan - which tasks first in so many minutes; gains at least half of what the best choice would. */
tb_rc tb_day_plan(struct tb_day *out, const struct tb_task *task, size_t n, double minutes,
                  struct tb_err *err);
/* Free its order and make it reusable. */
void tb_day_free(struct tb_day *d);

#endif
