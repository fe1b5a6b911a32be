/* pick.c - which bolts: places drawn from SHA-256 in counter mode, so that anybody can draw them again. */
#include "sampling/inside.h"

#include <sodium.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* A slash would make "a/b" with label "c" the same as "a" with label "b/c". */
static tb_rc check_seed(const char *seed, struct tb_err *err)
{
    size_t n = strlen(seed);

    if (n < 1 || n > TB_SEED_MOST)
        return tb_fail(err, TB_EINVAL, "a seed has 1 to %d characters; this one has %zu", TB_SEED_MOST, n);
    for (size_t i = 0; i < n; i++)
        if (seed[i] <= ' ' || seed[i] > '~' || seed[i] == '/')
            return tb_fail(
                err, TB_EINVAL,
                "a seed consists of letters, digits and signs without spaces or '/'; '%s' does not", seed);
    return TB_OK;
}

/* The first eight bytes of SHA-256("seed/label/i"), most significant first. */
static uint64_t number_at(struct tb_text *t, const char *seed, const char *label, uint64_t i)
{
    unsigned char digest[crypto_hash_sha256_BYTES];
    uint64_t v = 0;

    tb_text_clear(t);
    tb_text_addf(t, "%s/%s/%llu", seed, label, (unsigned long long)i);
    (void)crypto_hash_sha256(digest, (const unsigned char *)t->s, t->n);
    for (int k = 0; k < 8; k++)
        v = v << 8 | digest[k];
    return v;
}

/* Marks `wanted` of the places at random. A number beyond the last whole multiple of `bolts` is passed over, so
 * that every place is equally likely; a place drawn before is passed over too. */
static void mark(unsigned char *marked, uint64_t bolts, long wanted, const char *seed, const char *label)
{
    uint64_t fair = UINT64_MAX - (UINT64_MAX % bolts + 1) % bolts;
    struct tb_text t = { 0 };

    for (uint64_t i = 1; wanted > 0; i++) {
        uint64_t v = number_at(&t, seed, label, i);

        if (v > fair || marked[v % bolts])
            continue;
        marked[v % bolts] = 1;
        wanted--;
    }
    tb_text_free(&t);
}

/* The smaller of the two sets is drawn, so that few places are hit twice. */
tb_rc tb_pick(long *place, long bolts, long cut, const char *seed, const char *label, struct tb_err *err)
{
    unsigned char *marked;
    bool leave; /* more than half are cut: the ones to leave are drawn instead */
    long n = 0;
    tb_rc rc;

    if ((rc = tb_check_lot(bolts, err)) != TB_OK || (rc = tb_check_cut(cut, bolts, err)) != TB_OK ||
        (rc = check_seed(seed, err)) != TB_OK)
        return rc;
    marked = tb_array(unsigned char, (size_t)bolts);
    leave = cut > bolts / 2;
    mark(marked, (uint64_t)bolts, leave ? bolts - cut : cut, seed, label);
    for (long i = 0; i < bolts; i++)
        if ((marked[i] != 0) != leave)
            place[n++] = i + 1;
    free(marked);
    return TB_OK;
}
