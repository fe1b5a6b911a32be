/* test_tree.c - the tree over facts: its shape, and the root computed again from some of its leaves. */
#include "book/private.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#define MOST 17

static unsigned char leaves[MOST * TB_HASH];

/* Leaf i of a tree: nonce of bytes i, and the bytes "fact i". */
static int make_leaves(void **state)
{
    (void)state;
    for (int i = 0; i < MOST; i++) {
        unsigned char nonce[TB_HASH];
        char bytes[32];

        memset(nonce, i, sizeof nonce);
        (void)snprintf(bytes, sizeof bytes, "fact %d", i);
        tb_leaf(leaves + i * TB_HASH, nonce, bytes, strlen(bytes));
    }
    return 0;
}

/* The definition of RFC 6962, section 2.1, word by word. */
static void by_definition(unsigned char out[TB_HASH], const unsigned char *leaf, size_t n)
{
    unsigned char both[1 + 2 * TB_HASH] = { 1 };
    size_t k = 1;

    if (n == 1) {
        memcpy(out, leaf, TB_HASH);
        return;
    }
    while (2 * k < n)
        k *= 2;
    by_definition(both + 1, leaf, k);
    by_definition(both + 1 + TB_HASH, leaf + k * TB_HASH, n - k);
    (void)crypto_hash_sha256(out, both, sizeof both);
}

static void root_of(unsigned char out[TB_HASH], size_t n)
{
    struct tb_tree t = { 0 };

    for (size_t i = 0; i < n; i++)
        tb_tree_add(&t, leaves + i * TB_HASH);
    tb_tree_root(out, &t);
}

static void a_tree_that_grows_has_the_shape_of_the_definition(void **state)
{
    unsigned char grown[TB_HASH], defined[TB_HASH];

    (void)state;
    for (size_t n = 1; n <= MOST; n++) {
        root_of(grown, n);
        by_definition(defined, leaves, n);
        assert_memory_equal(grown, defined, TB_HASH);
    }
}

/* Python: H = lambda b: hashlib.sha256(b).digest(); L = lambda i: H(b"\0" + bytes([i]) * 32 + b"fact %d" % i);
 * N = lambda a, b: H(b"\1" + a + b); N(N(L(0), L(1)), L(2)).hex() */
static void the_root_of_three_leaves_is_what_another_program_computes(void **state)
{
    unsigned char root[TB_HASH];
    char hex[TB_DIGEST_HEX];

    (void)state;
    root_of(root, 3);
    tb_hash_hex(hex, root);
    assert_string_equal(hex, "f85e1e21cfc8160f2b8953a4c5494f07385bc0ccba798524f5d4bcf2b5c1e865");
}

/* The leaves whose bits are set, out of n. */
static size_t choose(uint64_t at[MOST], unsigned char shown[], unsigned bits, size_t n)
{
    size_t k = 0;

    for (size_t i = 0; i < n; i++)
        if (bits >> i & 1) {
            at[k] = i;
            memcpy(shown + k++ * TB_HASH, leaves + i * TB_HASH, TB_HASH);
        }
    return k;
}

static void from_any_leaves_the_root_is_computed_and_from_others_it_is_not(void **state)
{
    (void)state;
    for (size_t n = 1; n <= 10; n++)
        for (unsigned bits = 1; bits < 1u << n; bits++) {
            unsigned char shown[MOST * TB_HASH], root[TB_HASH], again[TB_HASH];
            struct tb_text beside = { 0 };
            uint64_t at[MOST];
            size_t k = choose(at, shown, bits, n);

            root_of(root, n);
            tb_tree_beside(&beside, leaves, n, at, k);
            assert_true(tb_tree_from(again, n, shown, at, k, tb_text_str(&beside), beside.n));
            assert_memory_equal(root, again, TB_HASH);
            shown[(k - 1) * TB_HASH] ^= 1; /* another fact */
            assert_true(tb_tree_from(again, n, shown, at, k, tb_text_str(&beside), beside.n));
            assert_memory_not_equal(root, again, TB_HASH);
            tb_text_free(&beside);
        }
}

static void what_does_not_go_with_the_tree_is_refused(void **state)
{
    uint64_t at[] = { 1, 4 }, same[] = { 4, 4 }, falling[] = { 4, 1 }, beyond[] = { 1, 7 };
    unsigned char shown[2 * TB_HASH] = { 0 }, out[TB_HASH] = "untouched";
    struct tb_text beside = { 0 };

    (void)state;
    tb_tree_beside(&beside, leaves, 7, at, 2);
    assert_true(beside.n > 0);
    assert_false(tb_tree_from(out, 7, shown, at, 2, beside.s, beside.n - TB_HASH)); /* too few */
    assert_false(tb_tree_from(out, 7, shown, at, 2, beside.s, beside.n - 1));
    tb_text_addn(&beside, (const char *)leaves, TB_HASH);
    assert_false(tb_tree_from(out, 7, shown, at, 2, beside.s, beside.n)); /* too many */
    beside.n -= TB_HASH;
    assert_false(tb_tree_from(out, 7, shown, same, 2, beside.s, beside.n));
    assert_false(tb_tree_from(out, 7, shown, falling, 2, beside.s, beside.n));
    assert_false(tb_tree_from(out, 7, shown, beyond, 2, beside.s, beside.n));
    assert_false(tb_tree_from(out, 7, shown, at, 0, beside.s, beside.n));
    assert_false(tb_tree_from(out, UINT64_MAX, shown, at, 2, beside.s, beside.n));
    assert_string_equal((const char *)out, "untouched");
    tb_text_free(&beside);
}

static void no_two_facts_of_a_row_share_a_nonce(void **state)
{
    unsigned char salt[TB_HASH] = { 7 }, a[TB_HASH], b[TB_HASH];

    (void)state;
    tb_fact_nonce(a, salt, "bolt", 0);
    tb_fact_nonce(b, salt, "bolt", 1);
    assert_memory_not_equal(a, b, TB_HASH);
    tb_fact_nonce(b, salt, "lot", 0);
    assert_memory_not_equal(a, b, TB_HASH);
    salt[31] = 1;
    tb_fact_nonce(b, salt, "bolt", 0);
    assert_memory_not_equal(a, b, TB_HASH);
}

/* Long bytes go through another library: both must say the same, around the length where it changes. */
static void long_bytes_hash_as_short_ones_do(void **state)
{
    static unsigned char bytes[1 + 70000];
    unsigned char got[TB_HASH], want[TB_HASH];

    (void)state;
    bytes[0] = 9;
    for (size_t i = 1; i < sizeof bytes; i++)
        bytes[i] = (unsigned char)(i * i >> 3);
    for (size_t n = 0; n < sizeof bytes; n += n < 4200 ? 1 : 997) {
        tb_hash_behind(got, bytes, 1, bytes + 1, n);
        (void)crypto_hash_sha256(want, bytes, 1 + n);
        assert_memory_equal(got, want, TB_HASH);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tree_that_grows_has_the_shape_of_the_definition),
        cmocka_unit_test(the_root_of_three_leaves_is_what_another_program_computes),
        cmocka_unit_test(from_any_leaves_the_root_is_computed_and_from_others_it_is_not),
        cmocka_unit_test(what_does_not_go_with_the_tree_is_refused),
        cmocka_unit_test(no_two_facts_of_a_row_share_a_nonce),
        cmocka_unit_test(long_bytes_hash_as_short_ones_do),
    };

    return cmocka_run_group_tests(tests, make_leaves, NULL);
}
