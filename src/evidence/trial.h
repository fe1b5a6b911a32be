/* trial.h - inside the evidence module: burns drawn from the model, held against one declaration. */
#ifndef TENTERBOOK_EVIDENCE_TRIAL_H
#define TENTERBOOK_EVIDENCE_TRIAL_H

#include "evidence/shortlist.h"

#include <stdint.h>

/* Every composition the declaration is held against, with the logarithms of all its cues. */
struct tb_trial {
    const struct tb_evidence *ev;
    struct tb_shortlist list; /* declared and everything else, log_weight: the prior of each */
    double *said, *unsaid;    /* [entry * cues + cue] */
    double *rest, *telling, *weight;
    double *base_rest, *base_telling; /* every channel looked at, nothing seen */
    int pure[TB_FIBRES_MOST];         /* entry of each pure fibre, appended with no weight */
    uint64_t seed;
    struct tb_arena mem; /* of all the figures above */
};
/* Free with tb_trial_close. Borrows the model. */
void tb_trial_open(struct tb_trial *t, const struct tb_evidence *ev, const struct tb_declared_blend *d);
/* Free what is in it. */
void tb_trial_close(struct tb_trial *t);
/*
 * tb_trial_run - how often one and two careful burns of this blend contradict the declaration, and one burn with
 * this test; fills one, two, with_test (NAN without a test) and draws.
 *
 *   test   a channel whose results exclude each other; NULL: none
 */
void tb_trial_run(struct tb_power *p, struct tb_trial *t, const struct tb_blend *b,
                  const struct tb_channel *test);

#endif
