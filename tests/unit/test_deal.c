/* Things dealt by a seed: a real permutation, the same for everybody, and as many to the one side as to the other. */
#include "tenterbook/sampling.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>
#include <sodium.h>

static struct tb_err err;

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s", #call, err.msg);                                                              \
    } while (0)

/* Expected orders: docs/sampling.md, "Drawing again by hand" and "Testers", in Python with hashlib. */
static void a_shuffle_is_the_one_anybody_computes_from_the_seed(void **state)
{
    const size_t twelve[] = { 0, 4, 1, 2, 3, 1, 4, 2, 3, 0, 2, 1 }, five[] = { 3, 2, 0, 1, 4 },
                 seven[] = { 0, 4, 6, 2, 3, 1, 5 };
    size_t got[12];

    (void)state;
    OK(tb_shuffle(got, 12, 5, "abc", &err));
    assert_memory_equal(got, twelve, sizeof twelve);
    OK(tb_shuffle(got, 5, 5, "abd", &err));
    assert_memory_equal(got, five, sizeof five);
    OK(tb_shuffle(got, 7, 7, "W26", &err));
    assert_memory_equal(got, seven, sizeof seven);
}

/* Every full round of n cards has each of the n things once, whatever n and seed. */
static void all_things_are_dealt_before_any_comes_again(void **state)
{
    (void)state;
    for (size_t n = 1; n <= 12; n++)
        for (int k = 0; k < 20; k++) {
            size_t got[40], count = 3 * n;
            char seed[32];

            (void)snprintf(seed, sizeof seed, "seed-%d", k);
            OK(tb_shuffle(got, count, n, seed, &err));
            for (size_t round = 0; round < 3; round++) {
                int seen[12] = { 0 };

                for (size_t i = 0; i < n; i++) {
                    assert_true(got[round * n + i] < n);
                    assert_int_equal(seen[got[round * n + i]]++, 0);
                }
            }
        }
}

/* Of 600 seeds each of the six orders of three things takes about 100: 25 away is 2.7 deviations of the binomial. */
static void every_order_is_as_likely_as_any_other(void **state)
{
    int times[27] = { 0 }, orders = 0;

    (void)state;
    for (int k = 0; k < 600; k++) {
        size_t got[3];
        char seed[32];

        (void)snprintf(seed, sizeof seed, "s%d", k);
        OK(tb_shuffle(got, 3, 3, seed, &err));
        times[9 * got[0] + 3 * got[1] + got[2]]++;
    }
    for (int i = 0; i < 27; i++)
        if (times[i]) {
            assert_in_range(times[i], 75, 125);
            orders++;
        }
    assert_int_equal(orders, 6);
}

static void what_cannot_be_shuffled_is_refused_and_leaves_the_result(void **state)
{
    size_t got[3] = { 7, 7, 7 };

    (void)state;
    assert_int_equal(tb_shuffle(got, 3, 0, "abc", &err), TB_EINVAL);
    assert_int_equal(tb_shuffle(got, 3, 3, "a b", &err), TB_EINVAL);
    assert_int_equal(tb_shuffle(got, 3, 3, "", &err), TB_EINVAL);
    for (int i = 0; i < 3; i++)
        assert_int_equal(got[i], 7);
    OK(tb_shuffle(got, 0, 3, "abc", &err));
    assert_int_equal(got[0], 7);
}

static long held(const enum tb_holder_kind *holder, const char *const *kind, size_t n, const char *of,
                 enum tb_holder_kind by)
{
    long times = 0;

    for (size_t i = 0; i < n; i++)
        times += strcmp(kind[i], of) == 0 && holder[i] == by;
    return times;
}

/* Expected holders: as above, with the labels "kind-holder". */
static void a_deal_is_the_one_anybody_computes_from_the_seed(void **state)
{
    const char *const kind[] = { "whole", "whole", "whole", "whole", "whole", "whole", "whole" };
    const char *const want[] = { "own", "own", "laboratory", "supplier", "own", "laboratory", "supplier" };
    const char *const parts[] = { "warp", "weft", "warp", "weft", "warp", "weft", "warp", "weft" };
    const char *const both[] = { "own", "supplier", "supplier",   "own",
                                 "own", "own",      "laboratory", "laboratory" };
    enum tb_holder_kind holder[8];
    long each;

    (void)state;
    OK(tb_deal(holder, &each, kind, 7, "abc", &err));
    assert_int_equal(each, 2);
    for (size_t i = 0; i < 7; i++)
        assert_string_equal(tb_word(&tb_holder_words, (int)holder[i]), want[i]);
    OK(tb_deal(holder, &each, parts, 8, "W26", &err));
    assert_int_equal(each, 2);
    for (size_t i = 0; i < 8; i++)
        assert_string_equal(tb_word(&tb_holder_words, (int)holder[i]), both[i]);
}

static void of_each_kind_both_sides_get_as_many_and_the_owner_keeps_the_rest(void **state)
{
    const char *const kind[] = { "warp", "weft", "warp", "pile", "warp", "weft", "warp",
                                 "weft", "warp", "pile", "warp", "warp", "weft" };
    enum tb_holder_kind holder[13];
    long each;

    (void)state;
    for (int k = 0; k < 50; k++) {
        char seed[32];

        (void)snprintf(seed, sizeof seed, "seed-%d", k);
        OK(tb_deal(holder, &each, kind, 13, seed, &err));
        assert_int_equal(each, 3); /* 7 warp give two to each side, 4 weft one, 2 pile none */
        assert_int_equal(held(holder, kind, 13, "warp", TB_HOLDER_SUPPLIER), 2);
        assert_int_equal(held(holder, kind, 13, "warp", TB_HOLDER_LABORATORY), 2);
        assert_int_equal(held(holder, kind, 13, "warp", TB_HOLDER_OWN), 3);
        assert_int_equal(held(holder, kind, 13, "weft", TB_HOLDER_SUPPLIER), 1);
        assert_int_equal(held(holder, kind, 13, "weft", TB_HOLDER_LABORATORY), 1);
        assert_int_equal(held(holder, kind, 13, "weft", TB_HOLDER_OWN), 2);
        assert_int_equal(held(holder, kind, 13, "pile", TB_HOLDER_OWN), 2);
    }
}

static void too_few_of_every_kind_leave_all_with_the_owner(void **state)
{
    const char *const kind[] = { "warp", "warp", "weft", "weft" };
    enum tb_holder_kind holder[4];
    long each = -1;

    (void)state;
    OK(tb_deal(holder, &each, kind, 4, "abc", &err));
    assert_int_equal(each, 0);
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(holder[i], TB_HOLDER_OWN);
    OK(tb_deal(holder, &each, kind, 0, "abc", &err));
    assert_int_equal(each, 0);
}

static void a_deal_with_a_bad_seed_is_refused(void **state)
{
    const char *const kind[] = { "whole", "whole", "whole" };
    enum tb_holder_kind holder[3];
    long each;

    (void)state;
    assert_int_equal(tb_deal(holder, &each, kind, 3, "a/b", &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "letters, digits and signs"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shuffle_is_the_one_anybody_computes_from_the_seed),
        cmocka_unit_test(all_things_are_dealt_before_any_comes_again),
        cmocka_unit_test(every_order_is_as_likely_as_any_other),
        cmocka_unit_test(what_cannot_be_shuffled_is_refused_and_leaves_the_result),
        cmocka_unit_test(a_deal_is_the_one_anybody_computes_from_the_seed),
        cmocka_unit_test(of_each_kind_both_sides_get_as_many_and_the_owner_keeps_the_rest),
        cmocka_unit_test(too_few_of_every_kind_leave_all_with_the_owner),
        cmocka_unit_test(a_deal_with_a_bad_seed_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
