/*
 * draw.h - what the files of the command `draw` share: one plan, worked out, to be said in words, JSON or a curve.
 */
#ifndef TENTERBOOK_CLI_DRAW_H
#define TENTERBOOK_CLI_DRAW_H

#include "cli/cmd.h"
#include "tenterbook/sampling.h"

#include <jansson.h>

enum draw_plan { DRAW_DISCOVERY, DRAW_ACCEPTANCE, DRAW_SHARE, DRAW_EVERY };

struct draw {
    enum draw_plan plan;
    long bolts;           /* in the lot */
    long bad;             /* false bolts to be seen */
    bool bad_given;       /* asked for; else the smallest number that is seen with chance `sure` */
    double sure;          /* chance asked for */
    double catch_one;     /* chance that a false bolt that is burned is recognised */
    char catch_from[256]; /* where that chance comes from, in words */
    double share;         /* DRAW_SHARE: part of the bolts, 0 .. 1 */
    double aql;           /* DRAW_ACCEPTANCE, per cent */
    enum tb_level level;
    enum tb_inspection inspection;
    struct tb_acceptance acceptance;
    long cut;      /* -1: not even every bolt is enough */
    long accept;   /* the lot passes when no more than this many are shown false */
    double chance; /* that `bad` false bolts show */
    /* bolts in strata (dye lots) where there are several; else NULL */
    struct tb_stratum *strata;
    size_t n_strata;
};

/* The guess of how well a burn shows a false bolt that stands where nothing better is known, and says so. */
void draw_assume(struct draw *d);
/* Reads the options that choose a plan; bolts and strata are there already. */
tb_rc draw_options(struct draw *d, const struct tb_ctx *ctx, struct tb_err *err);
/* Works the plan out. */
tb_rc draw_work_out(struct draw *d, struct tb_err *err);
/* Chance that more than `accept` of `bad` false bolts are shown. */
tb_rc draw_shows(double *chance, const struct draw *d, long bad, struct tb_err *err);

struct draw_point {
    long bad;
    double chance;
};
#define DRAW_POINTS_MOST 40
/* Points of the operating characteristic, rising; at most `most` of them. */
tb_rc draw_curve(struct draw_point *out, size_t *n, size_t most, const struct draw *d, struct tb_err *err);
tb_rc draw_curve_svg(const char *path, const struct draw *d, struct tb_err *err);

/* "95.2 %"; never "100.0 %" or "0.0 %" for what is not certain. */
const char *draw_percent(char out[32], double share);
/* One sentence: what the plan would show, with what chance. Yours to free. */
char *draw_statement(const struct draw *d);
tb_rc draw_say(FILE *out, const struct draw *d, struct tb_err *err);
/* The plan as JSON; the caller adds places or bolts. */
tb_rc draw_json(json_t **out, const struct draw *d, struct tb_err *err);

/* The stateless forms beside the plan: what burns proved, and the drawn numbers. */
tb_rc draw_proof(struct tb_ctx *ctx, struct tb_err *err);
tb_rc draw_on_book(struct tb_ctx *ctx, struct tb_err *err);

/* A seed of 16 hexadecimal digits from the system's random source. */
void draw_seed_make(char out[17]);

#endif
