/*
 * act_drill.h - drills: known swatches dealt blind to a tester, answered by burning, and what the answers say of testers.
 *
 * Functions whose name begins with tb_act_ record something; the others only read one steady state of the book. Text and
 * arrays of an outcome lie in the caller's arena; text of a request is borrowed for the call. Source: docs/sampling.md,
 * "Testers".
 */
#ifndef TENTERBOOK_ACT_DRILL_H
#define TENTERBOOK_ACT_DRILL_H

#include "tenterbook/act.h"
#include "tenterbook/draws.h"
#include "tenterbook/evidence.h"
#include "tenterbook/sampling.h"

/* ---- deal ---------------------------------------------------------------------------------------------- */

#define TB_CARDS_DEFAULT 10
#define TB_CARDS_MOST 200

struct tb_drill_request {
    const char *to;   /* name of the tester */
    size_t count;     /* cards, up to TB_CARDS_MOST; 0: TB_CARDS_DEFAULT */
    const char *seed; /* gives the order of an earlier drill again; NULL: one is made */
};
struct tb_drill_outcome {
    int64_t drill; /* its number; card i is called drill-i, from 1: 3-07 */
    const char *to, *seed;
    const char **tag; /* of the swatch behind each card, in the order they are to be burned */
    size_t n;
};
/*
 * tb_act_drill - deal known swatches to a tester in random order, each as often as any other within one.
 *
 *   fails   TB_EINVAL nobody to deal to, no known cloth, too many cards, a seed that tb_pick does not take
 */
tb_rc tb_act_drill(struct tb_drill_outcome *out, const struct tb_actor *actor,
                   const struct tb_drill_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- answer -------------------------------------------------------------------------------------------- */

#define TB_CLASS_MIXED "mixed"     /* fibres of several classes */
#define TB_CLASS_UNKNOWN "unknown" /* the tester could not tell */

/* The class a known composition burns as: a burn class of the fibre table, or TB_CLASS_MIXED. Static text. */
const char *tb_drill_class_of(const char *known);
/* The class a word means: a class, a fibre of it, mixed or unknown. NULL: none of them. Static text. */
const char *tb_drill_class_named(const char *word);

struct tb_answer_request {
    const char *card;                  /* what it is called: "3-07" */
    const char *named;                 /* what the tester takes it for: see tb_drill_class_named */
    const struct tb_observation *seen; /* what was seen, denied and looked at; part and swatch are ignored */
    const char *flame;                 /* candle, spirit lamp ...; NULL not said */
};
struct tb_answer_outcome {
    struct tb_card card;
    const char *answer, *truth; /* classes */
    bool right;
    struct tb_burn burn; /* as recorded */
};
/*
 * tb_act_answer - record what a tester saw of a card and took it for, as a burn. An answer is not changed.
 *
 *   fails   TB_EINVAL no such class, not a card's name, nothing looked at, a bench test among the cues; TB_ENOTFOUND no
 *           such card; TB_EREFUSED dealt to somebody else, or flame work is not permitted; TB_EEXISTS answered already
 */
tb_rc tb_act_answer(struct tb_answer_outcome *out, const struct tb_actor *actor,
                    const struct tb_answer_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- how testers do ------------------------------------------------------------------------------------ */

/* How often a tester reports a cue, and others on the same swatches. Counts of answers. */
struct tb_drill_cue {
    const char *cue; /* static */
    long looked, seen, others_looked, others_seen;
    bool missed; /* reported so much more rarely than by others that chance does not explain it */
};
/* A class that is taken for another one, most often for this one. */
struct tb_drill_mistake {
    const char *was, *named; /* classes */
    long times, of;
};
struct tb_drill_tester {
    const char *name;
    long answered, right;
    double *confusion; /* classes x classes of the scores, counts; rows what it was */
    struct tb_kappa
        kappa; /* with the truth; all NAN where nothing was answered or one class is all there is */
    struct tb_drill_cue *cue;
    size_t cues; /* those reported by anybody */
    struct tb_drill_mistake *mistake;
    size_t mistakes;
    /* burns of real bolts that somebody else burned too, over the cues of channels both looked at */
    long pairs;
    struct tb_kappa doubled; /* all NAN where there is nothing to compare */
};
struct tb_drill_scores {
    size_t dealt, answered; /* cards */
    const char **class_key; /* classes that were dealt or named */
    size_t classes;
    struct tb_drill_tester *tester;
    size_t testers;
    struct tb_fleiss together; /* all testers on the swatches every one of them answered */
    size_t swatches;           /* so many; 0: too few, and `together` says nothing */
    struct tb_drilled drilled; /* mistakes at the bench; all 0: too few burns yet ... */
    double bench_error;        /* ... and the chance of one that stands in every verdict */
};
/*
 * tb_drill_scores_read - how testers do, in the order of their first answers.
 *
 *   only    one tester alone, by name; NULL: all of them
 *   fails   TB_ENOTFOUND when that one has answered no card and burned no bolt that another burned too
 */
tb_rc tb_drill_scores_read(struct tb_drill_scores *out, struct tb_book *b, const char *only,
                           struct tb_arena *mem, struct tb_err *err);

#endif
