/*
 * strip.h - inside the evidence module: the compositions of the grid, strip by strip.
 *
 * Compositions of two and of three fibres are laid out in chunks of eight ways to share the cloth out. The chunk is
 * the outer loop, so that what every fibre brings to it (a few hundred kilobytes for all 171 ways, a tenth of that
 * for one chunk) stays in the cache; docs/architecture.md has the figures.
 */
#ifndef TENTERBOOK_EVIDENCE_STRIP_H
#define TENTERBOOK_EVIDENCE_STRIP_H

#include "evidence/model.h"

#define TB_CHUNKS_OF_TWO 3 /* 19 ways of two fibres, and what pads them */
#define TB_CHUNKS_MOST 22  /* 171 ways of three fibres, likewise */

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
/* The ways to share out twenty steps among 2 or 3 roles. */
void tb_layout_make(struct tb_layout *out, int roles);

/* Compositions of one chunk that differ in the last fibre only: first, first + 1, ... first + n - 1. */
struct tb_strip {
    const struct tb_layout *layout;
    int chunk, i, j; /* fibres before the last; j is -1 where the layout has two roles */
    int first, n;
};
/* The first strip of a layout; *out.n is 0 where there is none. Then the next; false after the last. */
bool tb_strip_first(struct tb_strip *out, const struct tb_layout *layout, int fibres);
/* The next strip; false after the last. */
bool tb_strip_next(struct tb_strip *s, int fibres);

#endif
