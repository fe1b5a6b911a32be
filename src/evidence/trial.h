/* trial.h - inside the evidence module: burns drawn from the model, held against one declaration. */
#ifndef TENTERBOOK_EVIDENCE_TRIAL_H
#define TENTERBOOK_EVIDENCE_TRIAL_H

#include "evidence/shortlist.h"

#include <stdint.h>

/* Compositions that share what an odd burn weighs, and their side. */
enum tb_trial_kind {
    TB_TRIAL_BARE,      /* every pure fibre, without weight: the odd burns are drawn from them */
    TB_TRIAL_PURE,      /* of one fibre, with a finish or without: as declared, ... */
    TB_TRIAL_PURE_ELSE, /* ... and not */
    TB_TRIAL_BLEND,
    TB_TRIAL_BLEND_ELSE,
    TB_TRIAL_BOUND, /* no composition: a few of the kind before it in one lane, the most that any of them reaches */
    TB_TRIAL_KINDS
};

#define TB_TRIAL_BOUND_OF                                                                                    \
    5 /* compositions in one lane of TB_TRIAL_BOUND: a pair of fibres in all its shares */

/*
 * Every composition the declaration is held against, a lane each, in chunks for the kernel. A burn is weighed by what
 * differs from a careful look at nothing, which most cues do not.
 */
struct tb_trial {
    const struct tb_evidence *ev;
    size_t from[TB_TRIAL_KINDS + 1]; /* chunks */
    size_t *lane;                    /* of each entry of the list */
    double log_else;
    double *prior;              /* within its side; bare and padding 0 */
    double *base[2];            /* what a careful look at nothing multiplies to, [1] of firm cues */
    double *seen[TB_CUES_MOST]; /* changes that where the cue is seen ... */
    double *open[TB_CUES_MOST]; /* ... or says nothing after all; NULL where nothing changes */
    double *work;               /* free for whoever fills the lanes */
    double *pure;               /* [fibre * TB_CUES_MOST + cue]: chances of the bare fibres */
    uint64_t seed;
    struct tb_shortlist list;
    struct tb_arena mem; /* of all the figures above */
};
/* Fills the lanes of TB_TRIAL_BOUND from the others. */
void tb_trial_bound(double *lanes, const struct tb_trial *t);
/* Free with tb_trial_close. Borrows the model. */
void tb_trial_open(struct tb_trial *t, const struct tb_evidence *ev, const struct tb_declared_blend *d);
/* Free what is in it. */
void tb_trial_close(struct tb_trial *t);
/* Is the cue seen while burning, and not on the bench? */
static inline bool tb_trial_cue(const struct tb_evidence *ev, int cue)
{
    return !ev->channel[ev->cue[cue].channel].bench && ev->cue[cue].counts_as < 0;
}
/* A careful burn looks at every channel a flame shows. */
void tb_trial_look(struct tb_observation *o, const struct tb_evidence *ev);
/* The bench test beside a burn, whose results exclude each other. */
struct tb_trial_test {
    const struct tb_channel *channel; /* NULL: there is none */
    double *result[TB_CUES_MOST];     /* what each result multiplies into the lanes */
};
/* The results are in `mem`. Borrows the channel. */
void tb_trial_test_open(struct tb_trial_test *out, const struct tb_trial *t, const struct tb_channel *ch,
                        struct tb_arena *mem);
/* Burns of one blend, not weighed yet. */
struct tb_trial_burns;
/*
 * tb_trial_draw - burns of this blend, drawn in the order of the calls. Free with tb_trial_burns_free; borrows the trial.
 *
 *   test   a channel whose results exclude each other; NULL: none
 */
struct tb_trial_burns *tb_trial_draw(struct tb_trial *t, const struct tb_blend *b,
                                     const struct tb_channel *test);
#define TB_TRIAL_PIECES 2 /* as many processors as most sites have */
/* The burns of one piece, 0 .. TB_TRIAL_PIECES - 1, are weighed. Pieces, and those of several blends, may be weighed side by side. */
void tb_trial_weigh(struct tb_trial_burns *t, size_t piece);
/*
 * Once all pieces were weighed: how often one and two of these burns contradict the declaration, and one with its test. Fills one, two,
 * with_test (NAN without a test) and draws.
 */
void tb_trial_take(struct tb_power *p, const struct tb_trial_burns *t);
/* NULL is accepted. */
void tb_trial_burns_free(struct tb_trial_burns *t);

#endif
