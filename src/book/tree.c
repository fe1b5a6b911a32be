/* The tree over the facts of one table in one journal row (tree.h). */
#include "book/tree.h"

#include <sodium.h>
#include <string.h>

void tb_leaf(unsigned char out[TB_HASH], const unsigned char nonce[TB_HASH], const void *bytes, size_t n)
{
    unsigned char head[1 + TB_HASH] = { 0 };

    memcpy(head + 1, nonce, TB_HASH);
    tb_hash_behind(out, head, sizeof head, bytes, n);
}

/* `out` may be one of the two. */
static void node(unsigned char out[TB_HASH], const unsigned char left[TB_HASH],
                 const unsigned char right[TB_HASH])
{
    unsigned char both[1 + 2 * TB_HASH] = { 1 };

    memcpy(both + 1, left, TB_HASH);
    memcpy(both + 1 + TB_HASH, right, TB_HASH);
    (void)crypto_hash_sha256(out, both, sizeof both);
}

/* As a binary number is counted up: where a place is taken, both go one place higher together. */
void tb_tree_add(struct tb_tree *t, const unsigned char leaf[TB_HASH])
{
    unsigned char up[TB_HASH];
    int h = 0;

    memcpy(up, leaf, TB_HASH);
    for (; t->n >> h & 1; h++)
        node(up, t->part[h], up);
    memcpy(t->part[h], up, TB_HASH);
    t->n++;
}

void tb_tree_root(unsigned char out[TB_HASH], const struct tb_tree *t)
{
    bool any = false;

    if (t->n == 0)
        (void)crypto_hash_sha256(out, NULL, 0);
    for (int h = 0; h < TB_TREE_HIGHEST; h++) {
        if (!(t->n >> h & 1))
            continue;
        if (any)
            node(out, t->part[h], out);
        else
            memcpy(out, t->part[h], TB_HASH);
        any = true;
    }
}

/* --- some leaves of it ------------------------------------------------------------------------------------------ */

/* How many of n > 1 leaves go to the left. */
static uint64_t left_of(uint64_t n)
{
    uint64_t k = 1;

    while (k < n - k)
        k *= 2;
    return k;
}

/* Some leaves of a part of the tree: its leaves are `from` and the n - 1 after it, and at[0 .. shown) are shown. */
struct part {
    uint64_t from, n;
    const uint64_t *at;
    size_t shown;
};

static void halve(struct part *left, struct part *right, const struct part *p)
{
    uint64_t k = left_of(p->n);
    size_t c = 0;

    while (c < p->shown && p->at[c] < p->from + k)
        c++;
    *left = (struct part){ p->from, k, p->at, c };
    *right = (struct part){ p->from + k, p->n - k, p->at + c, p->shown - c };
}

static void add_beside(struct tb_text *out, const unsigned char *leaf, struct part p)
{
    struct part left, right;

    if (p.shown == 0) {
        struct tb_tree t = { 0 };
        unsigned char root[TB_HASH];

        for (uint64_t i = 0; i < p.n; i++)
            tb_tree_add(&t, leaf + (p.from + i) * TB_HASH);
        tb_tree_root(root, &t);
        tb_text_addn(out, (const char *)root, TB_HASH);
    } else if (p.n > 1) {
        halve(&left, &right, &p);
        add_beside(out, leaf, left);
        add_beside(out, leaf, right);
    }
}

void tb_tree_beside(struct tb_text *out, const unsigned char *leaf, uint64_t n, const uint64_t *at,
                    size_t shown)
{
    add_beside(out, leaf, (struct part){ 0, n, at, shown });
}

/* What is left of the leaves and of what stands beside them. */
struct rest {
    const unsigned char *leaf, *beside;
    size_t size;
};

static bool compute(unsigned char out[TB_HASH], struct rest *r, struct part p)
{
    unsigned char a[TB_HASH], b[TB_HASH];
    struct part left, right;

    if (p.shown == 0) {
        if (r->size < TB_HASH)
            return false;
        memcpy(out, r->beside, TB_HASH);
        r->beside += TB_HASH;
        r->size -= TB_HASH;
    } else if (p.n == 1) {
        memcpy(out, r->leaf, TB_HASH);
        r->leaf += TB_HASH;
    } else {
        halve(&left, &right, &p);
        if (!compute(a, r, left) || !compute(b, r, right))
            return false;
        node(out, a, b);
    }
    return true;
}

bool tb_tree_from(unsigned char out[TB_HASH], uint64_t n, const unsigned char *leaf, const uint64_t *at,
                  size_t shown, const void *beside, size_t size)
{
    struct rest r = { leaf, beside, size };
    unsigned char root[TB_HASH];

    if (shown == 0 || n > INT64_MAX || at[shown - 1] >= n)
        return false;
    for (size_t i = 1; i < shown; i++)
        if (at[i] <= at[i - 1])
            return false;
    if (!compute(root, &r, (struct part){ 0, n, at, shown }) || r.size != 0)
        return false;
    memcpy(out, root, TB_HASH);
    return true;
}
