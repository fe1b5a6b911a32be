/*
 * strip.h - inside the evidence module: the compositions of the grid, strip by strip.
 *
 * Compositions of two and of three fibres are laid out in chunks of eight ways to share the cloth out. The chunk is
 * the outer loop, so that what every fibre brings to it (about 150 kB) stays in the cache. Two fibres are weighed in all
 * 19 ways of the grid. Of three, 39 of the 171 ways stand for all: docs/method.md, section 5, has their weights and how
 * far their sums are from those of all.
 */
#ifndef TENTERBOOK_EVIDENCE_STRIP_H
#define TENTERBOOK_EVIDENCE_STRIP_H

#include "evidence/model.h"

#define TB_CHUNKS_OF_TWO 3 /* 19 ways of two fibres, and what pads them */
#define TB_CHUNKS_MOST 5   /* 39 ways of three fibres, likewise */

/* Lanes of a chunk that show the same fibres. */
struct tb_run {
    unsigned shows; /* bits: role r is shown */
    double weight
        [TB_CHUNK]; /* ways of the grid that each lane stands for, 1 or more; 0 in the padding and in other runs */
};

struct tb_chunk {
    unsigned char steps[3]
                       [TB_CHUNK]; /* share of each role, in twentieths; the padding repeats the last way */
    struct tb_run run[TB_CHUNK];
    int runs, ways; /* lanes before the padding */
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
