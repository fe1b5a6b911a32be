/* test_intake_shares.c - compositions over several columns, one for each fibre; the shapes: common practice, no source. */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "M", .note = "1" };

static void shares_in_columns_become_the_composition_of_the_row(void **state)
{
    static const struct {
        const char *header, *one, *two, *first, *second;
    } shape[] = {
        { "CO %;PL %", "60;40", "100;0", "60% CO 40% PL", "100% CO" },
        { "CO;PES", "60;40", "100;", "60% CO 40% PES", "100% CO" },
        { "Cotton %;Polyester %", "60%;40%", "100%;", "60% Cotton 40% Polyester", "100% Cotton" },
        { "Cotton (%);Elastane (%)", "97,5;2,5", "100;", "97.5% Cotton 2.5% Elastane", "100% Cotton" },
        { "% Baumwolle;% Leinen", "55;45", "0;100", "55% Baumwolle 45% Leinen", "100% Leinen" },
        { "CO %;PES %", "0.6;0.4", "1;", "60% CO 40% PES", "100% CO" }, /* a spreadsheet keeps them so */
        { "Fibre 1;%;Fibre 2;%", "cotton;60;polyester;40", "wool;100;;", "60% cotton 40% polyester",
          "100% wool" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(shape); i++) {
        struct tb_text t = { 0 }, want = { 0 };

        tb_text_addf(
            &t, "Roll;Article;Colour;%s;Metres\n1;T9;navy;%s;50.5\n2;T9;navy;%s;50.1\n3;T8;navy;%s;51.2\n",
            shape[i].header, shape[i].one, shape[i].one, shape[i].two);
        tb_text_addf(
            &want, "D M|1||\nL T9|navy||%s|row|\nL T8|navy||%s|row|\nB 0:1|50.50\nB 0:2|50.10\nB 1:3|51.20\n",
            shape[i].first, shape[i].second);
        taken(tb_text_str(&t), &said, tb_text_str(&want));
        tb_text_free(&t);
        tb_text_free(&want);
    }
}

static void that_they_were_put_together_is_said_and_a_header_may_stand_again(void **state)
{
    struct seen s =
        read_text("Roll;Article;CO %;PL %;Metres\n1;T9;60;40;50.5\n2;T9;60;40;50\nTotal;;;;100.5\n"
                  "Roll;Article;CO %;PL %;Metres\n3;T9;;;51\n4;T9;50;50;52\n",
                  &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "the declared composition is put together from the columns 'CO %', 'PL %'"));
    assert_false(says(&s, "columns that are left out"));
    assert_non_null(strstr(s.text.s, "L T9|||60% CO 40% PL|row|\nL T9|||50% CO 50% PL|row|\n"));
    assert_int_equal(s.list.bolts, 4);
    assert_int_equal(s.list.totals, 1);
    seen_free(&s);
}

/* Nobody is told that nothing is declared where columns may declare something. */
static void columns_that_are_not_understood_make_no_answer_likely(void **state)
{
    static const char *const list[] = {
        "Roll;Article;CO %;XQ %;Metres\n1;T9;60;40;150.5\n2;T9;60;40;150.1\n", /* no such fibre */
        "Roll;Article;XA %;XQ %;Metres\n1;T9;60;40;150.5\n2;T9;60;40;150.1\n",
        "Roll;Article;Cotton %;Wool %;Metres\n1;T9;20;30;150.5\n2;T9;20;30;150.1\n", /* they come to no whole */
    };
    struct seen s;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        s = read_text(list[i], &said);
        assert_int_equal(s.rc, TB_EINVAL);
        if (!strstr(s.err.msg, "these columns may: '"))
            print_error("%s%s\n", list[i], s.err.msg);
        assert_non_null(strstr(s.err.msg, "these columns may: '"));
        assert_true(s.list.question[0].open);
        seen_free(&s);
    }
    s = read_text("Roll;Article;Shrinkage %;Metres\n1;T9;2;150.5\n2;T9;3;150.1\n", &said);
    assert_non_null(strstr(s.err.msg, "nothing in the file says what the goods are declared to be"));
    assert_false(s.list.question[0].open);
    seen_free(&s);
}

/* A column that declares is the composition, and shares beside it are not. */
static void a_column_of_compositions_goes_before(void **state)
{
    (void)state;
    bolts("Roll;Article;Composition;CO;PES;Metres\n1;T9;100% wool;60;40;50.5\n", &said, "B 0:1|50.50\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_in_columns_become_the_composition_of_the_row),
        cmocka_unit_test(that_they_were_put_together_is_said_and_a_header_may_stand_again),
        cmocka_unit_test(columns_that_are_not_understood_make_no_answer_likely),
        cmocka_unit_test(a_column_of_compositions_goes_before),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
