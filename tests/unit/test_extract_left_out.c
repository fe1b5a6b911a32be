/* test_extract_left_out.c - a lot of a larger delivery: no fact of its share can be left out, lent or told twice. */
#include "unit/extract_helper.h"

#include "tenterbook/void.h"

/* The lots came in one journal row, which is about both: it shows no less of each than a row about one lot alone. */
static void no_fact_can_be_left_out(void **state)
{
    json_t *whole = extract(), *list;
    const char *table;
    int tried = 0;

    (void)state;
    json_object_foreach(json_object_get(whole, "facts"), table, list)
    {
        for (size_t i = 0; i < json_array_size(list); i++, tried++) {
            json_t *j = json_deep_copy(whole);
            char *wrong;

            (void)json_array_remove(rows(j, table), i);
            make_trees_anew(j);
            wrong = proved(j);
            if (!*wrong)
                fail_msg("row %zu of table %s left out: proves", i, table);
            free(wrong);
            json_decref(j);
        }
    }
    assert_true(tried >= 18);
    json_decref(whole);
}

static void a_bolt_left_out_of_a_delivery_is_told_in_one_sentence(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_array_remove(rows(j, "bolt"), 1);
    (void)json_object_set_new(json_array_get(rows(j, "lot"), 0), "bolts", json_integer(1));
    make_trees_anew(j);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "by Ines, "));
    assert_non_null(strstr(
        wrong, "what it recorded of this lot is not what is here: a fact was left out, added or changed\n"));
    free(wrong);
    json_decref(j);
}

static void a_lot_of_another_program_with_a_bolt_left_out_is_named_by_its_count(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_array_remove(rows(j, "bolt"), 0);
    make_trees_anew(j);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "the lot came with 2 bolts, and the file tells 1 of them\n"));
    free(wrong);
    json_decref(j);
}

/* A true bolt, of the same journal row, with its true place in the tree; only it is of the other lot. */
static void a_fact_of_another_lot_in_its_place_is_named(void **state)
{
    json_t *j = extract(), *other = NULL;
    char *wrong;

    (void)state;
    OK(tb_extract_lot(&other, book, other_ref, &err));
    (void)json_array_remove(rows(j, "bolt"), 1);
    (void)json_array_append(rows(j, "bolt"), json_array_get(rows(other, "bolt"), 1));
    make_trees_anew(j);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "the file holds a row of table bolt that is of another lot"));
    assert_non_null(strstr(wrong, "what it recorded of this lot is not what is here"));
    free(wrong);
    json_decref(other);
    json_decref(j);
}

static void a_fact_told_twice_is_named(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_array_append(rows(j, "declaration"), json_array_get(rows(j, "declaration"), 0));
    wrong = proved(j);
    assert_non_null(strstr(wrong, "the file holds a row of table declaration twice"));
    free(wrong);
    json_decref(j);
}

/* Under the rule before nothing was said of shares; a row cannot be told as one of that rule. */
static void a_row_told_under_an_older_rule_is_named(void **state)
{
    json_t *j = extract(), *journal = json_object_get(j, "journal"), *row;
    char *wrong;
    size_t i;

    (void)state;
    json_array_foreach(journal, i, row)
    {
        if (json_object_get(row, "shares"))
            (void)json_object_set_new(row, "rule", json_integer(TB_RULE_TREES));
    }
    wrong = proved(j);
    assert_non_null(strstr(wrong, "itself was changed"));
    free(wrong);
    json_decref(j);
}

static void shares_that_are_not_those_of_the_row_are_named(void **state)
{
    static const char *const members[] = { "shares", "beside", "about" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(members); i++) {
        json_t *j = extract(), *row = json_array_get(json_object_get(j, "journal"), 1);
        char *wrong;

        assert_int_equal(json_object_del(row, members[i]), 0);
        wrong = proved(j);
        if (!strstr(wrong, "a fact was left out, added or changed") && !strstr(wrong, "itself was changed"))
            fail_msg("without %s: %s", members[i], wrong);
        free(wrong);
        json_decref(j);
    }
}

/* A burn that was recorded by mistake, and the day of a delivery of two lots: one journal row each. */
static void put_right(void)
{
    const char *const ref[] = { lot_ref, other_ref };
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    struct tb_burn *burn;
    struct tb_bolt *bolt;
    size_t n;

    OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
    OK(tb_burn_list(&burn, &n, book, lot.id, &mem, &err));
    OK(tb_book_begin(book, "Ines", "void", &err));
    OK(tb_voiding_add(
        &(struct tb_voiding){ .about = "burn", .subject = burn[0].id, .lot = lot.id, .why = "wrong cloth" },
        book, &mem, &err));
    tb_book_subject(book, burn[0].tag);
    OK(tb_book_commit(book, &err));
    OK(tb_book_begin(book, "Ines", "amend", &err));
    for (size_t i = 0; i < 2; i++) {
        OK(tb_lot_find(&lot, book, ref[i], &mem, &err));
        OK(tb_amendment_add(&(struct tb_amendment){ .delivery = lot.delivery,
                                                    .lot = lot.id,
                                                    .field = "arrived",
                                                    .old = lot.arrived,
                                                    .new = "2026-03-01",
                                                    .why = "a slip" },
                            book, &mem, &err));
    }
    tb_book_subject(book, lot.delivery_ref);
    OK(tb_book_commit(book, &err));
    OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
    OK(tb_bolt_list(&bolt, &n, book, lot.id, &mem, &err));
    OK(tb_book_begin(book, "Ines", "settle", &err));
    OK(tb_bolt_standing_add(
        &(struct tb_bolt_standing){
            .lot = lot.id, .bolt = bolt[0].id, .standing = TB_RELEASED, .why = "tested" },
        book, &mem, &err));
    tb_book_subject(book, lot.ref);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

/* A program that did not know these tables recorded nothing in them, and its cases stay true. */
static void a_case_of_a_program_without_the_later_tables_is_proved(void **state)
{
    static const char *const later[] = { "bolt_mass",     "lot_mass",    "bolt_standing",
                                         "verdict_grade", "lot_price",   "sending",
                                         "sending_piece", "bolt_weight", "lot_weight" };
    json_t *whole = extract();
    char *wrong;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(later); i++)
        assert_int_equal(json_object_del(json_object_get(whole, "facts"), later[i]), 0);
    wrong = proved(whole);
    assert_string_equal(wrong, "");
    free(wrong);
    assert_int_equal(json_object_del(json_object_get(whole, "facts"), "voiding"), 0);
    wrong = proved(whole);
    assert_non_null(strstr(wrong, "the file does not tell what table voiding holds of the lot"));
    free(wrong);
    json_decref(whole);
}

/* Whoever makes a case cannot have a record count that is void, nor a delivery come on another day. */
static void what_is_void_and_what_was_amended_cannot_be_left_out(void **state)
{
    static const char *const table[] = { "voiding", "amendment", "bolt_standing" };
    json_t *whole;
    char *wrong;

    (void)state;
    put_right();
    whole = extract();
    wrong = proved(whole);
    assert_string_equal(wrong, "");
    free(wrong);
    for (size_t i = 0; i < TB_COUNT(table); i++) {
        json_t *j = json_deep_copy(whole), *journal = json_object_get(j, "journal");
        json_int_t entry = tb_row_whole(json_array_get(rows(j, table[i]), 0), "entry");

        assert_int_equal(json_array_size(rows(j, table[i])), 1);
        (void)json_array_clear(rows(j, table[i]));
        make_trees_anew(j);
        wrong = proved(j);
        if (!strstr(wrong, "what it recorded of this lot is not what is here"))
            fail_msg("table %s left out: '%s'", table[i], wrong);
        free(wrong);
        for (size_t at = 0; at < json_array_size(journal); at++) /* with its row hidden among the others' */
            if (tb_row_whole(json_array_get(journal, at), "number") == entry) {
                hide(j, at);
                break;
            }
        wrong = proved(j);
        assert_non_null(strstr(wrong, "recorded something of this lot, and the file does not tell what"));
        free(wrong);
        json_decref(j);
        j = json_deep_copy(whole); /* nor may the table be missing */
        assert_int_equal(json_object_del(json_object_get(j, "facts"), table[i]), 0);
        wrong = proved(j);
        assert_non_null(strstr(wrong, "the file does not tell what table"));
        free(wrong);
        json_decref(j);
    }
    json_decref(whole);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_fact_can_be_left_out),
        cmocka_unit_test(a_bolt_left_out_of_a_delivery_is_told_in_one_sentence),
        cmocka_unit_test(a_lot_of_another_program_with_a_bolt_left_out_is_named_by_its_count),
        cmocka_unit_test(a_fact_of_another_lot_in_its_place_is_named),
        cmocka_unit_test(a_fact_told_twice_is_named),
        cmocka_unit_test(a_row_told_under_an_older_rule_is_named),
        cmocka_unit_test(shares_that_are_not_those_of_the_row_are_named),
        cmocka_unit_test(a_case_of_a_program_without_the_later_tables_is_proved),
        cmocka_unit_test(what_is_void_and_what_was_amended_cannot_be_left_out),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
