/* factored.h - inside the evidence module: one observation ready for the kernel, and its working memory. */
#ifndef TENTERBOOK_EVIDENCE_FACTORED_H
#define TENTERBOOK_EVIDENCE_FACTORED_H

#include "evidence/likelihood.h"
#include "evidence/strip.h"

/* What a fibre brings to a row, by its share in steps. */
struct tb_brings {
    double u[TB_FIBRES_MOST][TB_STEPS + 1];
};

/* A bench test made on the same swatch: another act, with mistakes of its own. */
struct tb_act {
    struct tb_factors factors;
    double log_scale;
    double any; /* on that scale: any result alike, by a mistake in the test */
};
#define TB_ACTS_MOST 16

/* An observation as factors, with the products of the pure fibres. */
struct tb_factored {
    int fibres, rows;
    struct tb_brings *brings; /* [row] */
    struct tb_factor_row *row;
    struct tb_factor factor[TB_CUES_MOST];
    struct tb_factors rest, telling;
    struct tb_act act[TB_ACTS_MOST];
    int acts, act_row; /* act_row: the first row of the acts */
    const struct tb_factored
        *same_burn;   /* borrowed: one with the same rest and telling, worked through before; NULL */
    double log_scale; /* of telling times rest times the acts */
    double odd;       /* on the scale of rest */
    double burn;      /* on the scale of telling times rest: not of this cloth, by a mistake in burning */
    double any;       /* on the scale of all: a swatch of another cloth altogether */
    double pure_telling[TB_FIBRES_MOST], pure_rest[TB_FIBRES_MOST];
    double pure_tests[TB_FIBRES_MOST]; /* of all acts, their mistakes in it */
    /* with the finishes a pure cloth may have unnamed, by their shares: of the acts, with telling, with both */
    double finished_tests[TB_FIBRES_MOST], finished_telling[TB_FIBRES_MOST], finished[TB_FIBRES_MOST];
};
/* Yours to free with tb_factored_free, which accepts NULL. */
struct tb_factored *tb_factored_new(const struct tb_evidence *ev, const struct tb_terms *terms);
/* NULL is accepted. */
void tb_factored_free(struct tb_factored *t);

/* ---- working memory for one observation at one chunk (room.c) ----------------------------------------------- */

#define TB_STRIPS_MOST 8 /* worked through together; more would not fit beside a table in the second cache */

/* The products of every composition of a strip. */
struct tb_parts {
    double telling[TB_STRIP_MOST], rest[TB_STRIP_MOST];
};

/* Open with tb_room_open, free with tb_room_free; borrows the observation. One thread at a time. */
struct tb_room {
    const struct tb_factored *of;
    int roles, chunk; /* the layout and chunk that `role` holds; 0 roles: none yet */
    double *role[3];  /* [(fibre * rows + row) * TB_CHUNK + lane] */
    double *x;        /* [(strip * rows + row) * TB_CHUNK + lane]: the fibres before the last, met */
};
/* Memory for one observation, which is borrowed; free with tb_room_free. */
void tb_room_open(struct tb_room *r, const struct tb_factored *of);
/* Free it and make it reusable. */
void tb_room_free(struct tb_room *r);
/*
 * tb_room_fill - the products of some strips of one chunk; of an observation with the same burn as another they are left as they were
 * filled for that. Strips are quickest in the order of tb_strip_next.
 *
 *   parts, s  of TB_STRIPS_MOST strips at most, of which
 *   which     names n: the others are left as they are
 */
void tb_room_fill(struct tb_parts *parts, struct tb_room *r, const struct tb_strip *s, const size_t *which,
                  size_t n, const struct tb_kernel *kernel);

/*
 * `like` times what the bench tests say of the same compositions, and behind them `mixed_up` added: a swatch of another cloth;
 * s[strip] is one of those that tb_room_fill was last asked for.
 */
void tb_room_tests(double *like, const struct tb_room *r, const struct tb_strip *s, size_t strip,
                   double test_error, double mixed_up, const struct tb_kernel *kernel);

#endif
