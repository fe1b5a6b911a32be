/*
 * table.h - an observation as factors, and the compositions strip by strip.
 *
 * Compositions of two and of three fibres are laid out in chunks of eight ways to share the cloth out. The chunk is
 * the outer loop, so that what every fibre brings to it (a few hundred kilobytes for all 171 ways, a tenth of that
 * for one chunk) stays in the cache; docs/architecture.md has the figures.
 */
#ifndef TENTERBOOK_EVIDENCE_TABLE_H
#define TENTERBOOK_EVIDENCE_TABLE_H

#include "evidence/space.h"

/* --- the ways to share twenty steps ---------------------------------------------------------------------- */

#define TB_CHUNKS_MOST 22 /* 171 ways of three fibres, and what pads them */

/* Lanes from .. to - 1 of a chunk that show the same fibres. */
struct tb_run {
    int from, to;
    unsigned shows; /* bits: role r is shown */
};

struct tb_chunk {
    unsigned char steps[3][TB_CHUNK]; /* share of each role, in twentieths; 0 in the padding */
    struct tb_run run[TB_CHUNK];
    int runs;
};

struct tb_layout {
    int roles; /* 2 or 3 */
    int chunks;
    struct tb_chunk chunk[TB_CHUNKS_MOST];
};
void tb_layout_make(struct tb_layout *out, int roles);

/* --- strips ------------------------------------------------------------------------------------------------ */

/* Compositions of one chunk that differ in the last fibre only: first, first + 1, ... first + n - 1. */
struct tb_strip {
    const struct tb_layout *layout;
    int chunk, i, j; /* fibres before the last; j is -1 where the layout has two roles */
    int first, n;
};
/* The first strip of a layout; *out.n is 0 where there is none. Then the next; false after the last. */
bool tb_strip_first(struct tb_strip *out, const struct tb_layout *layout, int fibres);
bool tb_strip_next(struct tb_strip *s, int fibres);

/* --- an observation as factors ------------------------------------------------------------------------------ */

/* What a fibre brings to a row, by its share in steps. */
struct tb_brings {
    double u[TB_FIBRES_MOST][TB_STEPS + 1];
};

struct tb_table {
    int fibres, rows;
    struct tb_brings *brings; /* [row] */
    struct tb_row *row;
    struct tb_factor factor[TB_CUES_MOST];
    struct tb_factors rest, telling;
    double log_scale; /* of telling times rest */
    double odd;       /* on the scale of rest */
    double pure_telling[TB_FIBRES_MOST], pure_rest[TB_FIBRES_MOST];
};

/* Working memory: one table at one chunk. Zero-initialise; tb_room_free. One thread at a time. */
struct tb_room {
    const struct tb_table *table;
    int roles, chunk; /* the layout and chunk that `role` holds; 0 roles: none yet */
    double *role[3];  /* [(fibre * rows + row) * TB_CHUNK + lane] */
    double *x;        /* [row * TB_CHUNK + lane]: the fibres before the last, met */
};
void tb_room_open(struct tb_room *r, const struct tb_table *t);
void tb_room_free(struct tb_room *r);
/* The two products of every composition of a strip. Strips are quickest in the order of tb_strip_next. */
void tb_strip_fill(double *telling, double *rest, struct tb_room *r, const struct tb_strip *s,
                   const struct tb_kernel *kernel);

#endif
