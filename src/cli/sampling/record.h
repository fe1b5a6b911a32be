/*
 * record.h - what the files of the command `record` share: a supplier's record, worked out.
 */
#ifndef TENTERBOOK_CLI_RECORD_H
#define TENTERBOOK_CLI_RECORD_H

#include "cli/cmd.h"
#include "tenterbook/draws.h"
#include "tenterbook/sampling.h"

#include <jansson.h>

enum record_advice { RECORD_KEEP, RECORD_TIGHTEN, RECORD_REDUCE, RECORD_STOP };

struct record {
    const char *supplier; /* NULL without a book */
    struct tb_tally own;  /* judged lots */
    long lots;            /* all, open ones too */
    double conf;
    struct tb_beta prior;
    bool prior_own; /* from this site's suppliers; else from published rates */
    struct tb_posterior post;
    double exact[2], jeffreys[2]; /* of the supplier's own share; set when own.lots > 0 */
    /* history, oldest first; n judged lots */
    const struct tb_lot_result **judged;
    size_t n;
    double usual, run; /* share called usual; least lots to a false alarm */
    struct tb_cusum cusum;
    size_t alarm_at, since; /* the last alarm and where it began: indices into judged, n: none */
    size_t right_run;       /* lots right in a row at the end */
    const char *resumed;    /* day the supplier was let in again after a stop; NULL or "" never */
    struct tb_switching state;
    enum record_advice advice;
    char why[300];
};

/* Months of the record with their exact limits. */
struct record_month {
    char month[8];
    long lots, wrong, low, high; /* signal at wrong <= low or wrong >= high */
};

/* A supplier's lots, oldest first, taken through the switching rules. `resumed` is the day it was let in again after
 * a stop, "" for never: it ends the stop that stood on that day, and no later one. */
void record_replay(struct tb_switching *s, const struct tb_lot_result *const *lot, size_t n,
                   const char *resumed);
/* That day as the book has it. */
tb_rc record_resumed(const char **day, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                     struct tb_err *err);

/* Where the switching rules have the supplier now, from the book. */
tb_rc record_standing(struct tb_switching *s, struct tb_book *b, const char *supplier_id,
                      struct tb_arena *mem, struct tb_err *err);

tb_rc record_work_out(struct record *r, struct tb_err *err);
/* The array is in mem. */
tb_rc record_months(struct record_month **out, size_t *n, const struct record *r, struct tb_arena *mem,
                    struct tb_err *err);
const char *record_advice_key(enum record_advice a);
tb_rc record_say(struct tb_ctx *ctx, const struct record *r, struct tb_err *err);
tb_rc record_json(struct tb_ctx *ctx, const struct record *r, struct tb_err *err);

#endif
