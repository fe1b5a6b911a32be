/*
 * evidence.h - from what a burning swatch did to what that says of a declaration.
 *
 * Pure: values in, values out; nothing here reads a clock, a file or the book, and nothing is global. The model
 * is described, so that it can be written again from the page alone, in docs/method.md; how far it can be
 * trusted is in docs/calibration.md. Every figure it uses is a row of sql/reference/burn_*.csv and bench_*.csv.
 *
 * Words: a *channel* is one thing to look at (smoke, odour, residue_form ..., and the bench tests: acetone,
 * melting, microscope ...); a *cue* is what may be seen there, written `channel:cue`. A channel nobody looked at
 * says nothing; a cue of a channel that was looked at and was not seen does say something.
 *
 * A verdict `fits` says that burning found nothing against the declaration. It never says the declaration is
 * right: percentages and fibres that burn alike cannot be told apart.
 */
#ifndef TENTERBOOK_EVIDENCE_H
#define TENTERBOOK_EVIDENCE_H

#include "tenterbook/base.h"
#include "tenterbook/fibre.h"
#include "tenterbook/tongue.h"
#include "tenterbook/verdict.h"

#include <jansson.h>

/* --- cues and channels ------------------------------------------------------------------------------- */

#define TB_CHANNELS_MOST 32
#define TB_CUES_MOST 224

/* How the cue of a blend comes from the cues of its fibres (docs/method.md, combining laws). */
enum tb_cue_law {
    TB_LAW_ANY, /* shows as soon as one fibre that is plentiful enough makes it: a bead, a smell */
    TB_LAW_ALL, /* shows only when every fibre that is plentiful enough allows it: no smoke, all dissolved */
    TB_LAW_SHARE,  /* by mass: goes out by itself, burns slowly */
    TB_LAW_PARTLY, /* a bench test with results that exclude each other: the mixed one ("dissolves partly") */
};

struct tb_channel {
    const char *key;  /* "smoke"; "acetone" */
    const char *name; /* "smoke"; "a drop of acetone": as it stands in a sentence */
    bool bench;     /* a bench test (solvent, melting, microscope, float), not something seen while burning */
    bool exclusive; /* its cues exclude each other: one result a test */
    int first, n;   /* its cues are first .. first + n - 1 */
};

struct tb_cue {
    const char *key;     /* "smoke:black" */
    const char *name;    /* "black": the part after the colon */
    const char *meaning; /* "black smoke": what the person at the bench sees */
    int channel;
    enum tb_cue_law law;
    bool memory; /* every figure behind it is from memory: it counts less, and is shown as such */
};

/* How many channels the table has, at most TB_CHANNELS_MOST. */
size_t tb_channel_count(void);
/* A channel by its number, 0 to tb_channel_count() - 1; its texts are static. */
void tb_channel_at(struct tb_channel *out, int channel);
/* The number of "smoke"; -1: there is no such channel. */
int tb_channel_by_key(const char *key);
/* How many cues the table has, at most TB_CUES_MOST. */
size_t tb_cue_count(void);
/* A cue by its number, 0 to tb_cue_count() - 1; its texts are static. */
void tb_cue_at(struct tb_cue *out, int cue);
/* The number of "smoke:black"; -1: there is no such cue. */
int tb_cue_by_key(const char *key);
/*
 * tb_cue_told - how many published descriptions of a fibre that tell of the cue's channel say the cue, and of how many.
 *   fibre_key  key of fibre.csv
 *   false      no description of the fibre tells of the channel, or the cue is of a test without a flame
 *   source     burn_profile.csv
 */
bool tb_cue_told(double *said, double *of, const char *fibre_key, const char *cue_key);
/*
 * tb_result_next - the next result of a bench test as it is recorded: "smooth_rod, twisted_ribbon" of "microscope".
 *
 *   at    how far it was read, 0 at first
 *   cue   the cue of that result; -1: this program has no such result of that test
 *   false nothing is left
 */
bool tb_result_next(int *cue, const char *test, const char *results, size_t *at);

/*
 * tb_cue_find - the cue a person named: "smoke:black", upper case and spaces forgiven, and a cue without its channel
 * where only one channel has it ("vinegar").
 *   fails  TB_EINVAL, the sentence offers the nearest names, or the channels a bare cue may belong to
 */
tb_rc tb_cue_find(int *out, const char *word, struct tb_err *err);
/* The same for the name of a channel. */
tb_rc tb_channel_find(int *out, const char *word, struct tb_err *err);

/* --- what was observed ------------------------------------------------------------------------------- */

enum tb_sight {
    TB_SIGHT_NONE = 0, /* nothing said: absent if its channel was looked at */
    TB_SIGHT_SEEN,
    TB_SIGHT_DENIED, /* looked for, and said to be absent */
};

/* One burn (and what bench tests found), of one swatch. Zero-initialise: whole cloth, nothing looked at. */
struct tb_observation {
    enum tb_part_kind part;
    const char *swatch; /* borrowed; burns with the same text are repeats of one swatch. NULL: its own */
    const char *person; /* borrowed; who burned it. NULL: the same as all others of whom nothing is said */
    unsigned char looked[TB_CHANNELS_MOST];
    unsigned char sight[TB_CUES_MOST]; /* enum tb_sight */
    unsigned char could_not
        [TB_CHANNELS_MOST]; /* nobody could judge it, and said so; no ratio reads it, the next test does */
};

/* The cue was seen, and its channel looked at. Of a cue both seen and denied the later call counts. */
void tb_observation_see(struct tb_observation *o, int cue);
/* The cue was looked for and was not there; its channel was looked at. */
void tb_observation_deny(struct tb_observation *o, int cue);
/* The channel was looked at: its cues that are not seen say something. */
void tb_observation_look(struct tb_observation *o, int channel);
/*
 * Did the cloth neither burn nor melt, as asbestos does not: it did not burn, or nothing happened as it neared the flame, or it
 * glowed, and it kept its shape, and nothing else that was seen says otherwise? Smells and bench tests say nothing of this.
 *   source  caution.csv, row of asbestos; that asbestos may glow: memory
 */
bool tb_observation_mineral(const struct tb_observation *o);
/* Was no channel looked at? */
bool tb_observation_empty(const struct tb_observation *o);
/* Whether a cue that was seen says by its meaning that the other one was there: columns `kind_of` and `implies` of cue.csv. */
bool tb_cue_implies(int seen, int other);
/*
 * tb_observation_read - lists of cues seen, cues denied and channels looked at, separated by commas, semicolons
 * or spaces; a leading ! in `saw` denies. Any of them may be NULL or empty.
 *   fails  TB_EINVAL: a name that is not in the table (nearest offered), a cue both seen and denied, "nothing" beside
 *          something in one channel (no smoke, black smoke), two results of one exclusive test, a cue denied that another one seen
 *          implies (drips, and no melting), or seen though that one rules it out
 *   out    part, swatch and person are left alone; untouched on failure
 */
tb_rc tb_observation_read(struct tb_observation *out, const char *saw, const char *not_seen,
                          const char *looked, struct tb_err *err);
/*
 * tb_observation_could_not - channels that could not be judged, separated as above: a cold, fumes, a mask. They stay not looked
 * at, so that no ratio changes; what is kept is that it was so on purpose. To be called after tb_observation_read.
 *   list   NULL or empty: none
 *   fails  TB_EINVAL: a name that is not in the table (nearest offered), a channel that was looked at or of which a cue was
 *          seen or denied; o is then untouched
 */
tb_rc tb_observation_could_not(struct tb_observation *o, const char *list, struct tb_err *err);

/* --- the model ---------------------------------------------------------------------------------------- */

/* Burns of swatches whose fibre is known for certain: they teach the site's model. */
struct tb_known_burn {
    int fibre; /* of the fibre table; a pure fibre */
    struct tb_observation seen;
    double weight; /* 1: one burn; burns of one swatch should share 1 */
    const struct tb_part
        *blend; /* several fibres with their shares, borrowed: `fibre` is not read; NULL: a pure fibre */
};

/* Dangers of a bench test, bits. */
enum tb_hazard {
    TB_HAZARD_FLAME = 1 << 0, /* needs an open flame */
    TB_HAZARD_FLAMMABLE = 1 << 1,
    TB_HAZARD_TOXIC = 1 << 2,
    TB_HAZARD_CORROSIVE = 1 << 3,
    TB_HAZARD_HOT = 1 << 4, /* hot surface or bath */
};
#define TB_HAZARD_ALL 0x1fu
/* The word of one danger, static: "flammable". */
const char *tb_hazard_key(enum tb_hazard one);

/*
 * How far a ratio may go, as natural logarithms: low <= 0 <= high. A ratio beyond it would be an extrapolation past what
 * the model was tested on (Vergeer et al., Science and Justice 56 (2016) 482).
 */
struct tb_bounds {
    double low, high;
    bool untested; /* of a blend, or declared finish: no burns of such cloth stand behind them */
};
#define TB_FULL_LOOKS                                                                                        \
    4 /* looks from which on a burn is like those that the bounds were tested on; for fewer there are narrower ones */
/* What is carried without the lots of any site: by the published families that were each left out in turn. */
void tb_bounds_published(struct tb_bounds *out);
/* A log ratio, no further than the bounds; NAN stays NAN. */
double tb_bounded(const struct tb_bounds *b, double log_ratio);
/*
 * Which bound a log ratio comes to, or goes beyond, so that it may be told as "at least": -1 the low one, 1 the high one; 0: none, or
 * nothing tested says so. Every page asks here.
 */
int tb_bounds_reached(const struct tb_bounds *b, double log_ratio);
/* Does it come to a bound that nothing tested stands behind? Then its figure is told with that. */
bool tb_bounds_argued(const struct tb_bounds *b, double log_ratio);

/* A lot of the site that was burned, and that a laboratory settled after its verdict. */
struct tb_settled_ratio {
    const char
        *unit; /* lots of one unit, such as a delivery, are one case together on either side; NULL: alone */
    bool as_declared;    /* what the laboratory found burns like what was declared */
    double log_ratio;    /* natural logarithm of the ratio the burns had, without bounds */
    enum tb_grade grade; /* what the burns were called */
    double judged
        [TB_GRADES]; /* lots of its unit that were judged, by grade, this one among them; all 0: nobody counted */
};
/* How lots of the site count towards the bounds, told in the verdict. Older programs told none, and counted each fully. */
#define TB_BOUNDS_RULE 2

/* What drills say of mistakes at the bench of a site; all 0: nothing yet, and the published chance is taken. */
struct tb_drilled {
    long burns, mistakes; /* drilled burns, and those that contradict the cloth they were of */
    double lower, upper;  /* of the chance of a mistake, 95 % */
};

#define TB_DRILLED_LEAST 30     /* burns: fewer do not change the published chance */
#define TB_BENCH_ERROR_MOST 0.5 /* no record says anything where half of them are mistakes */

/* Where the share of lots that are not as declared comes from. */
enum tb_base_from {
    TB_BASE_UNSAID,
    TB_BASE_PUBLISHED, /* inspections of labels, by others */
    TB_BASE_SITE,      /* lots judged at this site */
    TB_BASE_SETTING,   /* the site says so itself */
    TB_BASES
};
extern const struct tb_words tb_base_words;

struct tb_evidence_settings {
    double contradicts_below; /* evidence ratio; default 1/20 */
    double speaks_below; /* below it the burn speaks against the declaration; default: figure speaks_below */
    double fits_above;   /* default: figure fits_above */
    int fibres_most;     /* compositions of up to 1, 2 or 3 fibres; default 3 */
    unsigned hazards_allowed; /* tests with any other hazard are not proposed; default TB_HAZARD_ALL */
    double site_weight; /* what one known burn of the site counts against one published family; default 1 */
    double bench_error; /* chance of a mistake at the bench; default: figure bench_error */
    double
        bench_error_weight; /* drilled burns the published chance counts as; default: figure bench_error_weight */
    struct tb_drilled drilled; /* told in the verdict: what bench_error comes from */
    /* told in the verdict as well, and in no ratio: share of lots that are not as declared, 0..1; 0: nobody said */
    double base_rate;
    enum tb_base_from base_from;
    double
        commonness; /* how far what is common in trade leads the list of what it could be, 0..1; default 1 */
    const struct tb_settled_ratio *settled; /* n_settled lots of the site; borrowed while the model is made */
    size_t n_settled;
    double judged
        [TB_GRADES]; /* lots of the site by grade, settled or not; all 0: nobody counted, and each counts fully */
    /*
     * Those that a verdict was made with, to make it again; n_settled tells of how many lots, told_cases of how many cases (NAN:
     * not told). NULL: from `settled`.
     */
    const struct tb_bounds *bounds;
    double told_cases;
};
/* Fill in what is said above of each member. */
void tb_evidence_defaults(struct tb_evidence_settings *out);

struct tb_evidence; /* never changes after it is made: one may serve many threads */

/*
 * tb_evidence_new - the model from the reference tables, the site's own known burns added.
 *   fails   TB_EINVAL: thresholds out of order (0 < contradicts_below < 1 < fits_above), fibres_most not 1..3
 *   memory  yours, tb_evidence_free; `known` is only read during the call
 */
tb_rc tb_evidence_new(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                      const struct tb_known_burn *known, size_t n_known, struct tb_err *err);
/* NULL is accepted. */
void tb_evidence_free(struct tb_evidence *ev);
/*
 * tb_evidence_apart - the same model for judging cloth of a unit that has settled lots itself: they have no say in its
 * bounds, or what the laboratory found would strengthen the burns that it settled.
 *   returns  NULL where the unit has none, and `ev` itself serves; else yours, tb_evidence_free, before `ev` is freed
 */
struct tb_evidence *tb_evidence_apart(const struct tb_evidence *ev, const char *unit);
#define TB_STAMP 32
#define TB_REFERENCE 80 /* room for "sha256:..." */
/* A digest of all that a verdict rests on besides what was seen and declared: figures, counts of the site, settings. */
void tb_evidence_stamp(unsigned char out[TB_STAMP], const struct tb_evidence *ev);
/* The digest that verdicts of this model name as their reference; as long as the model. */
const char *tb_evidence_reference(const struct tb_evidence *ev);

/* --- the verdict --------------------------------------------------------------------------------------- */

struct tb_likely {
    enum tb_part_kind part;
    int n;
    int fibre[3]; /* of the fibre table */
    double percent[3];
    double
        probability;  /* 0..1, that the part shows just these fibres, if cloths come as often as in trade and
                         nothing had been declared; the percentages are the likeliest, and a burn hardly tells them from others */
    bool as_declared; /* of the declared fibres, or of such as burning cannot tell from them */
};

struct tb_present {
    enum tb_part_kind part;
    int fibre;
    double
        probability; /* 0..1, that the part shows some of it: the sum of what struct tb_likely has over all sets with this fibre */
};

struct tb_twins {
    int *
        fibre; /* n of the fibre table, the declared one or the likely one first, then the commonest in trade */
    size_t n;
};

struct tb_cue_weight {
    enum tb_part_kind part;
    int cue;
    enum tb_sight sight; /* TB_SIGHT_NONE: its channel was looked at, and it was not seen */
    double weight_db;    /* decibans (10 log10), > 0 for the declaration: beside all else that was observed */
    double alone_db;     /* the same of the cue by itself: from the declared against what else it could be */
};

/* A test worth making, best first, and of those that tell as good as the same the least harmful; behind them what can always be done: a control burn, a laboratory. */
struct tb_next {
    enum tb_part_kind part;
    const char *test; /* "burn:odour", "acetone", "control", "laboratory": static key */
    const char *name; /* static; a sentence's object: "burn again and look at the odour" */
    int channel;      /* -1: none, such as of a laboratory */
    double
        gain_bits; /* expected information about "is this part as declared", 0..1, at even prior odds and by the
                         bounded ratio; NAN: not worked out */
    double settles; /* the same as a share of what is open by that ratio, 0..1; NAN */
    double cost; /* material or order, in the unit of the reference table (euro, order of size); 0: nothing */
    double minutes;
    const char *effort; /* static: "minutes at the bench", "a laboratory order" */
    unsigned hazards;
    const char *caution; /* static */
    bool memory;         /* its figures are from memory */
    unsigned
        likely; /* of a bench test, bits by result: a chance of a tenth and more, as declared or as what else it could be */
    size_t bolts; /* it is made on a swatch of each of so many bolts; 0: of one swatch */
    bool
        turns; /* of a bench test: by what the list of compositions says, its likely results may lead to two grades */
};

/* What one result of the confirming test would do. */
struct tb_outcome {
    const char *
        result; /* "acetone:stays"; "again": another swatch burns the same; "as_declared": as is published, or all kinds of fibre declared in one mount; "without_for", "without_against": of what is at odds one side is withdrawn */
    const char *meaning;       /* static; in words: "acetone leaves it as it was" */
    enum tb_verdict_kind kind; /* the verdict with it, ... */
    enum tb_grade grade;       /* ... its grade ... */
    double bounded;            /* ... and its ratio within the bounds, a natural logarithm */
    const char *
        conclusion; /* of a laboratory's answer, after which the burns stay as they were graded: word of tb_concluded_words; NULL */
};

/* No hit rate of burn tests has been published: however sure the simulation is, no chance is told or planned with beyond this. */
#define TB_POWER_MOST 0.95
#define TB_HARDLY 0.05 /* up to here a burn hardly ever contradicts a swap */

/* What a burn can catch: one common false composition in place of the declared one. */
struct tb_power {
    enum tb_part_kind part;
    char *instead; /* "100 % polyester" */
    bool blind;    /* burns like the declared one: cannot be caught by burning at all */
    double one,
        two; /* chance that one, two careful burns contradict, as simulated; 0..1, told by tb_power_told */
    double with_test; /* one burn and the best bench test; NAN when there is none */
    const char *test; /* that test; NULL */
    int draws;        /* simulated burns behind each figure */
};

struct tb_verdict {
    enum tb_verdict_kind kind;
    enum tb_grade grade;
    enum tb_handling
        handling; /* what is declared, and what a burn stopped, allows no more at a bench: no test beyond it is proposed */
    bool spare_flame; /* no burn is proposed: it must not be burned, or is declared flame retardant */
    bool
        unburnable; /* it neither burned nor melted, and that fits what is declared: a caution, where `handling` stops nothing */
    char *reason; /* why it could not be judged at all; NULL when it was */
    double
        ratio; /* P(seen | declared fibres) / P(seen | anything else), within the bounds; NAN when not judged */
    double log_ratio;              /* natural logarithm of the same without bounds: for sorting */
    double log_declared, log_else; /* log P(seen | .), natural */
    struct tb_bounds bounds;       /* of burns with as many looks */
    struct tb_bounds full_bounds;  /* those of the model, of burns with many */
    size_t looks;                  /* channels looked at, by each person and of each part */
    size_t settled_lots;           /* of the site, behind the bounds besides the published families */
    double settled_cases;          /* the cases that they count as; NAN: told without */
    double contradicts_below, speaks_below, fits_above;
    size_t
        by_set; /* 1 + the set that is heard in place of all together: it contradicts by itself, or all would fit without it: what is asked for is told of it; else 0 */
    bool one_look; /* far enough to contradict or to fit, but without one look the rest is no reason */
    bool
        coated; /* it speaks against the declaration, and a coating of which nothing was said would explain it about as well */
    bool none_alone; /* it would contradict, but none of the burns does by itself, and no bench test */
    bool few_tell;   /* it would contradict, but too few have described how what is declared burns */
    const char *
        excused; /* it would contradict, but with this finish, which nobody named, what is declared would burn so; else NULL */
    bool
        at_odds; /* a burn or a bench test says the opposite of another, or of the rest: undecided, whatever the ratio */
    char *odd_swatch
        [2]; /* whose burns they are, where two burns are at odds and their swatches are known; else NULL */
    bool
        outdone; /* it would fit, but one other pure cloth makes what was seen three times likelier, or a second kind of fibre in it does */
    bool
        imitated; /* it would fit, but cheaper cloth than what is bought for its safety in a flame would burn so too */
    /* declared is a blend, or a finish is named: no burns of such cloths stand behind the bounds */
    bool untested_blend, untested_finish;
    double bench_error; /* chance of a mistake at the bench that stands in every burn */
    struct tb_drilled drilled;
    double base_rate; /* share of lots that are not as declared, 0..1; 0: nobody said */
    enum tb_base_from base_from;
    struct tb_likely *likely;
    size_t n_likely;
    struct tb_present *present; /* falling probability, those of 0.005 and more */
    size_t n_present;
    struct tb_twins *twins;
    size_t n_twins;
    struct tb_cue_weight *cue; /* by size of weight, largest first */
    size_t n_cue;
    struct tb_next *next; /* falling gain, but the less harmful first where gains are near */
    size_t n_next;
    struct tb_next
        confirm; /* the test that would confirm the verdict or lift it; test NULL: not worked out, or none */
    char *confirm_swatch;       /* which swatch its outcomes are of; NULL: no swatch is named */
    char *confirm_beside;       /* a burned swatch, of whose bolt a new one is burned; NULL: of none */
    char *confirm_bolt;         /* the number of that bolt, where a book knows it; else NULL */
    struct tb_outcome *outcome; /* of that test */
    size_t n_outcome;
    char *supposed; /* nothing declared could be judged: the outcomes are of this, the likeliest; else NULL */
    struct tb_power *power;
    size_t n_power;
    char **note; /* plain sentences: judged as a twin, too small to show, repeats discounted ... */
    size_t n_note;
    size_t burns;              /* observations used */
    char digest[TB_REFERENCE]; /* over every figure of the reference in force, the site's counts included */
};

/* What to work out besides the verdict itself; each costs time. */
enum tb_judge_want {
    TB_WANT_CUES = 1 << 0, /* weight of every cue */
    TB_WANT_NEXT = 1 << 1,
    TB_WANT_POWER = 1 << 2, /* by simulation: the slow one (some tens of milliseconds a kind of swap) */
    TB_WANT_OUTCOMES =
        1 << 3,             /* with TB_WANT_NEXT: what the confirming test would do; a judgement a result */
    TB_WANT_GRADE = 1 << 4, /* nothing but the ratio and the grade: no list of what it could be */
};
#define TB_WANT_ALL 15u

/*
 * The burns that were weighed last, so that others that say the same are judged without weighing them again, to the same
 * last digit, whatever was declared of them. Of one model; one thread at a time.
 */
struct tb_recall;
/* Free with tb_recall_free; the model is borrowed. */
struct tb_recall *tb_recall_new(const struct tb_evidence *ev);
/* NULL is accepted. */
void tb_recall_free(struct tb_recall *r);
/* Calls fn(arg, 0) .. fn(arg, n - 1), in any order, side by side where it can, and comes back when all are done. */
typedef void tb_together_fn(void (*fn)(void *arg, size_t i), void *arg, size_t n);
/*
 * What is judged with this recall is worked through side by side from now on, to the same last bit; NULL: one after the other, as at
 * first. For one judgement at a time: where many go side by side, each has a processor already.
 */
void tb_recall_together(struct tb_recall *r, tb_together_fn *together);

/*
 * tb_evidence_judge - weigh what was observed against what was declared.
 *
 *   out    filled; free with tb_verdict_free. A declaration that cannot be read, a fibre nobody published the
 *          burning of, and no channel looked at all give `undecided` with a reason: answers, not failures.
 *          Where something was seen, it says all the same what the cloth is likeliest to be, and the next test
 *   decl   the supplier's composition, parts included
 *   obs    n observations; those of one part are judged together, repeats of one swatch count less
 *   fails  TB_EINVAL: an observation of a part that the declaration does not have and cannot stand for
 */
tb_rc tb_evidence_judge(struct tb_verdict *out, const struct tb_evidence *ev,
                        const struct tb_declaration *decl, const struct tb_observation *obs, size_t n,
                        unsigned want, struct tb_err *err);
/*
 * tb_evidence_judge_sets - the same of all observations together and of each of some sets alone (the bolts of a
 * lot), for little more than the work of one: every observation is worked through once.
 *
 *   together  of all: together->by_set says whether the verdict of a set takes its place
 *   alone  `sets` verdicts, made with `want` 0 but for the set that takes the place of all together, if one does; free each
 *          of no set or one: all of it is of one bolt
 *   recall what was weighed before, of the same model; NULL: nothing
 *   set    n numbers from 0 to sets - 1: which set an observation belongs to; burns of one swatch to the same
 *   fails  as above; nothing is filled then
 */
tb_rc tb_evidence_judge_sets(struct tb_verdict *together, struct tb_verdict *alone,
                             const struct tb_evidence *ev, struct tb_recall *recall,
                             const struct tb_declaration *decl, const struct tb_observation *obs, size_t n,
                             const size_t *set, size_t sets, unsigned want, struct tb_err *err);
/*
 * tb_evidence_telling - how much each cue of a burn would tell of a declaration, were it seen: the more, the sooner a person is
 * asked for it. Natural units, 0 and above; 0 for bench tests and where nothing can be judged by that declaration.
 *   telling  by number of the cue
 *   part     what was burned
 *   fails    as tb_evidence_judge
 */
tb_rc tb_evidence_telling(double telling[TB_CUES_MOST], const struct tb_evidence *ev,
                          const struct tb_declaration *decl, enum tb_part_kind part, struct tb_err *err);
/* Free what is in it and make it reusable. */
void tb_verdict_free(struct tb_verdict *v);

/*
 * tb_verdict_answered - a laboratory has answered for the cloth: a verdict that is told beside it proposes no laboratory
 * again, nor a test to confirm it, and says nothing of how many lots like it are not as declared, since this one is known. What was recorded of the
 * verdict stays.
 */
void tb_verdict_answered(struct tb_verdict *v);
/* A simulated chance as it is told: no further than TB_POWER_MOST; NAN stays NAN. */
double tb_power_told(double chance);
/* Is the ratio at one of its bounds? Then more is likely so, and nothing tested says how much. */
bool tb_verdict_at_limit(const struct tb_verdict *v);
/* Chance that a lot with this verdict is not as declared, where the base rate is as said; NAN: not said, not judged, at odds, imitated. */
double tb_verdict_chance_false(const struct tb_verdict *v);
#define TB_TIMES 40
#define TB_TIMES_EVEN 1.1 /* below it neither side is called likelier */
/* tb_times - how many times likelier one side is, as every page has it: below ten with one digit more. Returns text. */
const char *tb_times(char text[TB_TIMES], double ratio);
/* How strong a verdict is and what stands in its way, computed now or read back from where it was recorded. */
struct tb_conclusion {
    enum tb_grade grade;
    double ratio;                              /* within its bounds */
    bool limit;                                /* at one of them */
    bool one_look, at_odds, outdone, imitated; /* as struct tb_verdict has them */
    bool few_tell, excused;
    bool spared; /* the cloth must not be burned again */
};
/* The same in sentences, without a line's end: what every page says of a verdict. */
void tb_conclusion_words(struct tb_text *out, enum tb_tongue to, const struct tb_conclusion *c);
/* What a ratio means for lots like the one judged. */
struct tb_meaning {
    double base_rate; /* share of lots that are not as declared, 0..1; 0: nobody said */
    enum tb_base_from base_from;
    double not_as_declared; /* what follows for lots with burns like these; NAN: not said */
    int limit; /* 0: it is about so much; > 0: the ratio is at its upper bound, so at most; < 0: at least */
};
/* The meaning of a verdict. */
void tb_meaning_of(struct tb_meaning *out, const struct tb_verdict *v);
/* Both shares with where the first comes from, a sentence each, added to out; nothing where nobody said how many. */
void tb_meaning_words(struct tb_text *out, enum tb_tongue to, const struct tb_meaning *m);
#define TB_IN_HUNDRED 40
/* tb_in_hundred - a share of lots, 0..1, in hundreds, as people count lots; what is less than ten of them has two digits. */
void tb_in_hundred(char text[TB_IN_HUNDRED], double share);
/* The rule the verdict was made by, in words. Yours to free. */
char *tb_verdict_rule(const struct tb_verdict *v);
/*
 * tb_verdict_json - the object of `judge --json`. A new reference, yours to json_decref.
 *   id    may be NULL: no member "id"
 */
json_t *tb_verdict_json(const struct tb_verdict *v, const char *id, const struct tb_declaration *decl);
/* tb_verdict_first_likely - what each part is likeliest to be, the first alone: a new list, yours to free; none where it must not be told. */
size_t tb_verdict_first_likely(struct tb_likely **out, const struct tb_verdict *v);
/* Such a list as `judge --json` has it. A new reference, yours to json_decref. */
json_t *tb_likely_json(const struct tb_likely *l, size_t n);
/* The same as an expert's note, in plain words. */
void tb_verdict_explain(struct tb_text *out, const struct tb_verdict *v, const struct tb_declaration *decl);
/*
 * The test that would confirm a verdict or lift it, its effort and its caution, and below it, a line a verdict, which
 * results lead to it. Nothing where TB_WANT_OUTCOMES was not asked for, or after a burn that fits.
 */
void tb_verdict_confirm(struct tb_text *out, const struct tb_verdict *v);
/* What each part could be, likeliest first, a line a part. */
void tb_verdict_likeliest(struct tb_text *out, const struct tb_verdict *v);
/* A test as one clause, "warp: look at the fibres under the microscope, on each of the 3 bolts"; bolts 0: on one. */
void tb_next_clause(struct tb_text *out, enum tb_tongue to, enum tb_part_kind part, const char *name,
                    size_t bolts);
/* That test as one clause, "warp: look at the fibres under the microscope"; nothing where none is named. */
void tb_verdict_confirm_clause(struct tb_text *out, const struct tb_verdict *v);
/*
 * The weightiest cues for (side > 0) or against (side < 0) as one phrase: "black smoke (smoke:black), 9 to 1; ..." Where
 * no cue weighs anything while the others stand, since any two of them say enough, each is weighed by itself.
 */
void tb_verdict_reasons(struct tb_text *out, const struct tb_verdict *v, int side, size_t most);

#endif
