/*
 * trunk.h - inside the evidence module: products of powers of several burns that have parts in common, none worked out twice.
 *
 * The results of a next test differ in one factor only; what stands beside it is one product for all of them. Burns that count the
 * same are multiplied first and raised together, since it is the power that takes the time.
 */
#ifndef TENTERBOOK_EVIDENCE_TRUNK_H
#define TENTERBOOK_EVIDENCE_TRUNK_H

#include "evidence/kernel.h"

enum tb_trunk_kind {
    TB_TRUNK_LEAF,  /* of: its number among the likelihoods */
    TB_TRUNK_TIMES, /* the nodes of and by */
    TB_TRUNK_POWER  /* the node of, to the exponent */
};
struct tb_trunk_node {
    enum tb_trunk_kind kind;
    size_t of, by;
    double exponent; /* at most 1 and not 0 */
};
#define TB_TRUNK_NONE ((size_t)-1)

/* Zero-initialise; free with tb_trunk_free. */
struct tb_trunk {
    struct tb_trunk_node *node; /* each behind those it is made of */
    size_t n, cap;
    double (*x)[TB_STRIP_MOST]; /* n: of the strip at hand; not of a leaf */
};
/*
 * The node of all that a pick multiplies; none is made twice. Burns of the same power stand together.
 *   p  n above 0
 */
struct tb_pick;
size_t tb_trunk_pick(struct tb_trunk *t, const struct tb_pick *p);
/* Marks what the marked nodes are made of: need[node], and of the leaves table[of]. */
void tb_trunk_need(bool *need, bool *table, const struct tb_trunk *t);
/*
 * Every node that is needed (NULL: all) over the chunks of one strip, from the likelihoods. No product may leave the range of a
 * double: whoever makes one knows that.
 */
void tb_trunk_fill(struct tb_trunk *t, const double *const *leaf, size_t chunks, const bool *need,
                   const struct tb_kernel *kernel);
/* The lanes of one node, as last filled. */
const double *tb_trunk_lanes(const struct tb_trunk *t, size_t node, const double *const *leaf);
/* Free what is in it. */
void tb_trunk_free(struct tb_trunk *t);

#endif
