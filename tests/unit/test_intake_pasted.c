/*
 * test_intake_pasted.c - text of two columns out of a mail, whose figures have decimal commas: no comma divides it.
 * Expected values: common practice, no source.
 */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "Weaver Inlet", .note = "7" };
#define TITLE "Artikel: Velours\nZusammensetzung: 100% Leinen\nFarbe: natur\n\n"
#define TWO "D Weaver Inlet|7||\nL Velours|natur||100% Leinen|title|\n"

static void a_decimal_comma_behind_spaces_divides_no_cells(void **state)
{
    struct tb_intake_opts given = said;

    (void)state;
    given.columns = "bolt,length";
    taken(TITLE "4411    52,3 m\n4412    50,8 m\n", &given, TWO "B 0:4411|52.30\nB 0:4412|50.80\n");
    taken("Guten Tag,\n\n" TITLE "4411    1.052,35 m\n4412    50,80 m\n", &given,
          TWO "B 0:4411|1052.35\nB 0:4412|50.80\n");
    taken(TITLE "Rolle     Meter\n4411      52,35\n4412      50,80\n", &said,
          TWO "B 0:4411|52.35\nB 0:4412|50.80\n");
}

static void a_decimal_comma_behind_words_divides_no_cells(void **state)
{
    struct tb_intake_opts given = said;
    struct seen s;

    (void)state;
    given.columns = "bolt,length";
    s = read_text(TITLE "Rolle 4411: 52,35 m\nRolle 4412: 50,80 m\n", &given);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.bolts, 0);
    seen_free(&s);
}

/* A comma stands between words, or at more than one place of a line: it divides cells. */
static void commas_that_divide_cells_still_do(void **state)
{
    (void)state;
    taken("Composition,100% linen\nArticle,Velour\nRoll,Metres\nR 101,50\nR 102,49\n",
          &(struct tb_intake_opts){ .supplier = "Weaver Inlet", .note = "7", .length_unit = TB_UNIT_M },
          "D Weaver Inlet|7||\nL Velour|||100% linen|title|\nB 0:R 101|50.00\nB 0:R 102|49.00\n");
    taken("Composition;100% linen\nArticle;Velour\nRoll;Metres\nR 101;50,5\nR 102;49,5\n", &said,
          "D Weaver Inlet|7||\nL Velour|||100% linen|title|\nB 0:R 101|50.50\nB 0:R 102|49.50\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decimal_comma_behind_spaces_divides_no_cells),
        cmocka_unit_test(a_decimal_comma_behind_words_divides_no_cells),
        cmocka_unit_test(commas_that_divide_cells_still_do),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
