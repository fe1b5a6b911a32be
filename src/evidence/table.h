/* table.h - what space.c and posterior.c share: an observation as factors, and blocks of compositions. */
#ifndef TENTERBOOK_EVIDENCE_TABLE_H
#define TENTERBOOK_EVIDENCE_TABLE_H

#include "evidence/space.h"

/* Where the lanes of a block lie: runs of lanes that show the same fibres. */
struct tb_layout {
    int roles;                        /* 2 or 3 */
    size_t lanes, used;               /* a multiple of 8; how many are compositions */
    unsigned char steps[3][TB_LANES]; /* share of each role, in twentieths; 0 in the padding */
    int run_from[8], run_to[8];       /* lanes */
    unsigned run_shows[8];            /* bits: role r is shown */
    int runs;
};
void tb_layout_make(struct tb_layout *out, int roles);

struct tb_table {
    struct tb_layout layout[2]; /* two roles, three roles */
    int rows, telling_row;      /* row 0 and row telling_row hold what is additive in logarithms */
    unsigned char row_sums[2 * TB_CUES_MOST];
    double rest_leaks, telling_leaks; /* what the leaks of absent cues leave, in any blend */
    struct tb_factor factor[TB_CUES_MOST];
    struct tb_factors rest, telling;
    bool has_rest, has_telling; /* some term is of that kind */
    double log_scale;           /* of telling times rest */
    double odd;                 /* on the scale of rest */
    double pure_telling[TB_FIBRES_MOST], pure_rest[TB_FIBRES_MOST];
    double *role[2][3]; /* [layout][role]: [(fibre * rows + row) * TB_LANES + lane] */
};

/* A pair's rows, met with nothing (two roles: rows of the second fibre go as w). */
void tb_table_pair(double *uv, const struct tb_table *t, int layout, int i, int j);
const double *tb_table_rows(const struct tb_table *t, int layout, int role, int fibre);
/*
 * The two products of every composition of a block; `uv` the rows of the fibres before the last. With `over` they
 * are multiplied (1) or divided (-1) by what the table brings.
 */
void tb_block_fill(double *telling, double *rest, const struct tb_table *t, int layout, const double *uv,
                   const double *w, const struct tb_kernel *kernel, int over);
/* The sums from products that were kept: blocks of pairs, then of triples, in order. log_scale is left at 0. */
void tb_space_sum(struct tb_sums *out, const struct tb_evidence *ev, const double *telling,
                  const double *rest, const double *pure_telling, const double *pure_rest, double odd);

#endif
