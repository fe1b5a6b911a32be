/* test_label_goods.c - what stands in the way of a label, row by row: how the goods stand and what is concluded of them. */
#include "tenterbook/label_lot.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* common practice, no source: nothing is sewn on that the house itself doubts, and what a laboratory found weighs most */
static const struct row {
    enum tb_standing_kind standing;
    bool held_in_part, released_in_part, own_words, refuted;
    enum tb_concluded_kind kind;
    enum tb_ground_kind by;
    enum tb_open_kind open;
    enum tb_label_goods expected;
} rows[] = {
    { TB_WAITING, 0, 0, 0, 0, TB_OPEN, TB_BY_NOTHING, TB_OPEN_UNTESTED, TB_GOODS_UNTESTED },
    { TB_WAITING, 0, 0, 0, 0, TB_OPEN, TB_BY_NOTHING, TB_OPEN_WORDS, TB_GOODS_UNTESTED },
    { TB_WAITING, 0, 0, 0, 0, TB_OPEN, TB_BY_BURNING, TB_OPEN_UNDECIDED, TB_GOODS_UNDECIDED },
    { TB_WAITING, 0, 0, 0, 0, TB_OPEN, TB_BY_BURNING, TB_OPEN_AGAINST, TB_GOODS_AGAINST },
    { TB_WAITING, 0, 0, 0, 0, TB_OPEN, TB_BY_LABORATORY, TB_OPEN_LABORATORY, TB_GOODS_LABORATORY_OPEN },
    { TB_WAITING, 0, 0, 0, 0, TB_NOTHING_AGAINST, TB_BY_BURNING, TB_NOT_OPEN, TB_GOODS_CLEAR },
    { TB_WAITING, 0, 0, 0, 0, TB_CONFORMS, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_CLEAR },
    { TB_WAITING, 0, 0, 0, 0, TB_DOES_NOT, TB_BY_BURNING, TB_NOT_OPEN, TB_GOODS_NOT_AS_SAID },
    { TB_WAITING, 0, 1, 0, 0, TB_OPEN, TB_BY_NOTHING, TB_OPEN_UNTESTED, TB_GOODS_CLEAR },
    { TB_WAITING, 1, 1, 0, 0, TB_OPEN, TB_BY_NOTHING, TB_OPEN_UNTESTED, TB_GOODS_HELD },
    { TB_HELD, 0, 0, 0, 0, TB_CONFORMS, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_HELD },
    { TB_HELD, 0, 0, 0, 0, TB_DOES_NOT, TB_BY_BENCH_TEST, TB_NOT_OPEN, TB_GOODS_NOT_AS_SAID },
    { TB_HELD, 0, 0, 1, 0, TB_DOES_NOT, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_HELD },
    { TB_RELEASED, 0, 0, 0, 0, TB_OPEN, TB_BY_NOTHING, TB_OPEN_UNTESTED, TB_GOODS_CLEAR },
    { TB_RELEASED, 0, 0, 0, 0, TB_OPEN, TB_BY_BURNING, TB_OPEN_UNDECIDED, TB_GOODS_CLEAR },
    { TB_RELEASED, 0, 0, 0, 0, TB_OPEN, TB_BY_BURNING, TB_OPEN_AGAINST, TB_GOODS_AGAINST },
    { TB_RELEASED, 0, 0, 0, 0, TB_OPEN, TB_BY_LABORATORY, TB_OPEN_LABORATORY, TB_GOODS_LABORATORY_OPEN },
    { TB_RELEASED, 0, 0, 0, 0, TB_DOES_NOT, TB_BY_BURNING, TB_NOT_OPEN, TB_GOODS_CONTRADICTED },
    { TB_RELEASED, 0, 0, 0, 0, TB_DOES_NOT, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_NOT_AS_SAID },
    { TB_RELEASED, 1, 0, 0, 0, TB_CONFORMS, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_HELD },
    { TB_RELABELLED, 0, 0, 1, 0, TB_DOES_NOT, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_CLEAR },
    { TB_RELABELLED, 0, 0, 1, 1, TB_DOES_NOT, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_REFUTED },
    { TB_RELABELLED, 1, 0, 1, 1, TB_DOES_NOT, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_HELD },
    { TB_RETURNED, 0, 0, 1, 1, TB_DOES_NOT, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_RETURNED },
    { TB_RELABELLED, 1, 0, 1, 0, TB_OPEN, TB_BY_NOTHING, TB_OPEN_UNTESTED, TB_GOODS_HELD },
    { TB_RETURNED, 0, 0, 1, 0, TB_CONFORMS, TB_BY_LABORATORY, TB_NOT_OPEN, TB_GOODS_RETURNED },
};

static void what_weighs_most_is_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < TB_COUNT(rows); i++) {
        const struct row *r = &rows[i];
        const struct tb_goods_stand stand = { r->standing, r->held_in_part, r->released_in_part, r->own_words,
                                              r->refuted };
        const struct tb_concluded c = { .kind = r->kind, .by = r->by, .open = r->open };
        enum tb_label_goods got = tb_label_goods_of(&stand, &c);

        if (got != r->expected)
            fail_msg("row %zu: '%s', not '%s'", i, tb_word(&tb_label_goods_words, (int)got),
                     tb_word(&tb_label_goods_words, (int)r->expected));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(what_weighs_most_is_named) };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
