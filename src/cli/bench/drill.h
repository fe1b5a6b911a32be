/*
 * drill.h - what the files of the command `drill` share: answered cards and what they say of a tester.
 */
#ifndef TENTERBOOK_CLI_DRILL_H
#define TENTERBOOK_CLI_DRILL_H

#include "cli/cmd.h"
#include "tenterbook/draws.h"
#include "tenterbook/sampling.h"

#include <jansson.h>

#define DRILL_MIXED "mixed"     /* fibres of several classes */
#define DRILL_UNKNOWN "unknown" /* could not tell */

/* The class a known composition burns as: a burn class of the fibre table, or DRILL_MIXED. Static text. */
const char *drill_class_of(const char *known);
/* Whether a person may answer this; NULL when not, else the key as it is kept. */
const char *drill_answer_key(const char *word);

struct drill_answered {
    const struct tb_card *card;
    const char *truth;   /* class */
    struct tb_burn burn; /* what was seen */
};

struct drills {
    struct tb_arena mem;
    struct drill_answered *answered;
    size_t n;
    size_t dealt;
    const char **class_key; /* classes that were dealt or named */
    size_t classes;
    const char **tester; /* names, in order of first answer */
    size_t testers;
};
tb_rc drills_read(struct drills *out, struct tb_ctx *ctx, struct tb_err *err);
void drills_free(struct drills *d);

struct drill_cue {
    const char *cue;
    long looked, seen, others_looked, others_seen; /* on the same swatches */
};

struct drill_tester {
    const char *name;
    long answered, right;
    double *confusion; /* classes x classes, rows what it was */
    struct tb_kappa kappa;
    struct drill_cue *cue;
    size_t cues;
    const char **practise; /* sentences */
    size_t n_practise;
    /* doubled burns of real bolts with anybody else, over the cues of channels both looked at */
    long pairs;
    struct tb_kappa doubled;
};
tb_rc drill_tester_work_out(struct drill_tester *out, struct drills *d, const char *name, struct tb_ctx *ctx,
                            struct tb_err *err);
/* Agreement among all testers on the swatches every one of them answered; *swatches 0 when there are too few. */
tb_rc drills_together(struct tb_fleiss *out, size_t *swatches, struct drills *d, struct tb_err *err);

tb_rc drill_show(struct tb_ctx *ctx, const char *name, struct tb_err *err);

#endif
