/*
 * trunk.h - inside the evidence module: products of the powers of several burns, begun alike, and none multiplied twice.
 *
 * The results of a next test differ in one factor only, the last; what stands before it is one product for all of them.
 */
#ifndef TENTERBOOK_EVIDENCE_TRUNK_H
#define TENTERBOOK_EVIDENCE_TRUNK_H

#include "evidence/kernel.h"

/* The product of another node (TB_TRUNK_ROOT: of nothing) and one power. */
struct tb_trunk_node {
    size_t before, power;
};
#define TB_TRUNK_ROOT ((size_t)-1)

/* Zero-initialise; free with tb_trunk_free. */
struct tb_trunk {
    struct tb_trunk_node *node; /* each behind the one before it */
    size_t n, cap;
    double (*x)[TB_STRIP_MOST]; /* n: of the strip at hand; not of a power by itself */
};
/* The node of a product of powers, by their numbers, in this order; n of them, at least one. */
size_t tb_trunk_add(struct tb_trunk *t, const size_t *power, size_t n);
/*
 * Every product over the chunks of one strip, from its powers. No product may leave the range of a double: whoever adds one
 * knows that.
 */
void tb_trunk_fill(struct tb_trunk *t, const double *const *power, size_t chunks,
                   const struct tb_kernel *kernel);
/* The lanes of one node, as last filled. */
const double *tb_trunk_lanes(const struct tb_trunk *t, size_t node, const double *const *power);
/* Free what is in it. */
void tb_trunk_free(struct tb_trunk *t);

#endif
