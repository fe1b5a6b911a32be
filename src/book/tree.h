/*
 * tree.h - a digest over many facts that can be opened for some of them. Private to src/book.
 *
 * The tree of RFC 6962, section 2.1: a leaf is SHA-256(00 | nonce | bytes), a node is SHA-256(01 | left | right), and of n
 * leaves the left side takes the largest power of two below n. A nonce for each leaf keeps whoever knows the digests beside a
 * leaf from guessing what they are of.
 */
#ifndef TENTERBOOK_BOOK_TREE_H
#define TENTERBOOK_BOOK_TREE_H

#include "tenterbook/base.h"

#include <stdint.h>

#define TB_HASH 32         /* bytes of a SHA-256 */
#define TB_TREE_HIGHEST 63 /* more leaves than a signed number counts are never added */

/* A tree that grows at its right end: of each height at most one whole part, however many leaves there are. Begin with { 0 }. */
struct tb_tree {
    uint64_t n; /* leaves */
    unsigned char part[TB_TREE_HIGHEST][TB_HASH];
};

/* tb_hash_behind - SHA-256 of `heads` bytes and the n behind them. */
void tb_hash_behind(unsigned char out[TB_HASH], const void *head, size_t heads, const void *bytes, size_t n);
/* tb_leaf - the hash of one leaf. */
void tb_leaf(unsigned char out[TB_HASH], const unsigned char nonce[TB_HASH], const void *bytes, size_t n);
/* tb_tree_add - one more leaf at the right end. */
void tb_tree_add(struct tb_tree *t, const unsigned char leaf[TB_HASH]);
/* tb_tree_root - the hash of the whole tree; of no leaf, the SHA-256 of nothing. */
void tb_tree_root(unsigned char out[TB_HASH], const struct tb_tree *t);

/*
 * tb_tree_beside - what somebody needs beside some leaves to compute the root.
 *
 *   out    32 bytes are added for each part of the tree that holds none of the leaves shown, from left to right
 *   leaf   the hashes of all n leaves, one after the other, n >= 1
 *   at     numbers of the leaves shown, from 0, rising; `shown` of them, at least one
 */
void tb_tree_beside(struct tb_text *out, const unsigned char *leaf, uint64_t n, const uint64_t *at,
                    size_t shown);
/*
 * tb_tree_from - the root again, from some leaves and what tb_tree_beside gave.
 *
 *   out      untouched where the result is false
 *   leaf     the hashes of the leaves shown, one after the other, in the order of `at`
 *   beside   `size` bytes of anybody's making
 *   result   false: there are not exactly as many bytes as the tree needs, or `at` is empty, does not rise, or reaches n
 */
bool tb_tree_from(unsigned char out[TB_HASH], uint64_t n, const unsigned char *leaf, const uint64_t *at,
                  size_t shown, const void *beside, size_t size);

#endif
