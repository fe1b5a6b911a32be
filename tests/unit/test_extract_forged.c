/* test_extract_forged.c - what a forger would try on the file of a lot: words, burns, rows of the journal, trees. */
#include "unit/extract_helper.h"

static void a_changed_word_is_named(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_object_set_new(json_array_get(rows(j, "cue_seen"), 0), "cue", json_string("smoke:white"));
    wrong = proved(j);
    assert_non_null(strstr(wrong, "a row of table cue_seen is not what was recorded"));
    free(wrong);
    json_decref(j);
}

static void a_burn_taken_out_is_named(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_array_remove(rows(j, "burn"), 0);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "1 rows of table burn were recorded, 0 are here"));
    free(wrong);
    json_decref(j);
}

static void a_journal_row_taken_out_is_named(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_array_remove(json_object_get(j, "journal"),
                            json_array_size(json_object_get(j, "journal")) - 2);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "are missing"));
    free(wrong);
    json_decref(j);
}

static void last_burns_left_out_whole_show_against_the_book(void **state)
{
    json_t *j = extract(), *journal = json_object_get(j, "journal"), *row;
    json_int_t last =
        json_integer_value(json_object_get(json_array_get(journal, json_array_size(journal) - 1), "number"));
    struct tb_extract_proof p;
    struct tb_arena mem = { 0 };
    struct tb_journal_row *rows;
    const char *table;
    json_t *list;
    int64_t later;
    size_t n;

    (void)state;
    /* everything the last row recorded, and the row itself: as if it had never been */
    (void)json_array_remove(journal, json_array_size(journal) - 1);
    OK(tb_journal_list(&rows, &n, book, "", &mem, &err));
    (void)json_object_set_new(j, "head",
                              json_pack("{s:I, s:s}", "number", last - 1, "digest", rows[last - 2].digest));
    tb_arena_free(&mem);
    json_object_foreach(json_object_get(j, "facts"), table, list)
    {
        for (size_t i = json_array_size(list); i-- > 0;) {
            row = json_array_get(list, i);
            if (json_integer_value(json_object_get(row, "entry")) == last)
                (void)json_array_remove(list, i);
        }
    }
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_string_equal(tb_text_str(&p.wrong), ""); /* sound in itself: only the book knows better */
    OK(tb_extract_against(&p, &later, j, lot_ref, "2999-01-01T00:00:00Z", book, &err));
    assert_int_equal(later, 1);
    assert_non_null(strstr(tb_text_str(&p.wrong), "was written before the case was made, and is not in it"));
    tb_extract_proof_free(&p);
    json_decref(j);
}

static void a_changed_journal_row_is_named(void **state)
{
    json_t *j = extract(), *last;
    char *wrong;

    (void)state;
    last = json_array_get(json_object_get(j, "journal"), json_array_size(json_object_get(j, "journal")) - 1);
    (void)json_object_set_new(last, "person", json_string("Nobody"));
    wrong = proved(j);
    assert_non_null(strstr(wrong, "by Nobody"));
    assert_non_null(strstr(wrong, "itself was changed"));
    free(wrong);
    json_decref(j);
}

/* A burn that does not suit whoever makes the case: its facts, their trees and its journal row are told no more. */
static void a_burn_left_out_with_its_journal_row_hidden_is_named(void **state)
{
    json_t *j = extract(), *journal = json_object_get(j, "journal"), *list;
    size_t at = json_array_size(journal) - 1;
    json_int_t last = json_integer_value(json_object_get(json_array_get(journal, at), "number"));
    const char *table;
    char *wrong;

    (void)state;
    hide(j, at);
    json_object_foreach(json_object_get(j, "facts"), table, list)
    {
        for (size_t i = json_array_size(list); i-- > 0;)
            if (tb_row_whole(json_array_get(list, i), "entry") == last)
                (void)json_array_remove(list, i);
    }
    wrong = proved(j);
    assert_string_equal(wrong,
                        "journal row 5 recorded something of this lot, and the file does not tell what\n");
    free(wrong);
    json_decref(j);
}

static void a_table_that_is_not_told_is_named(void **state)
{
    json_t *j = extract();
    char *wrong;

    (void)state;
    (void)json_object_del(json_object_get(j, "facts"), "bench_test");
    wrong = proved(j);
    assert_string_equal(wrong, "the file does not tell what table bench_test holds of the lot\n");
    free(wrong);
    json_decref(j);
}

static void a_swapped_photograph_is_named(void **state)
{
    json_t *j = extract(), *photo;
    char *wrong;

    (void)state;
    photo = json_array_get(rows(j, "attachment"), 0);
    (void)json_object_set_new(photo, "bytes", json_pack("{s:s}", "base64", "AAAA"));
    wrong = proved(j);
    assert_non_null(strstr(wrong, "the photograph or paper b.jpg is not the one that was recorded"));
    assert_non_null(strstr(wrong, "a row of table attachment is not what was recorded"));
    free(wrong);
    json_decref(j);
}

static json_t *tree(json_t *j, const char *table)
{
    json_t *t;
    size_t i;

    json_array_foreach(json_object_get(j, "trees"), i, t)
    {
        if (strcmp(json_string_value(json_object_get(t, "table")), table) == 0)
            return t;
    }
    fail_msg("no tree over table %s", table);
    return NULL;
}

/* Each of these would let a forger show facts that were not recorded so, or say that fewer were. */
static void a_tree_that_was_tampered_with_is_named(void **state)
{
    static const char *const members[] = { "at", "nonces", "beside", "row", "table" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(members); i++) {
        json_t *j = extract(), *t = tree(j, "bolt");
        char *wrong;

        assert_int_equal(json_object_del(t, members[i]), 0);
        wrong = proved(j);
        if (!strstr(wrong, "a row of table bolt is not what was recorded"))
            fail_msg("without %s: %s", members[i], wrong);
        free(wrong);
        json_decref(j);
    }
    {
        json_t *j = extract(), *t = tree(j, "bolt");
        char *wrong;

        assert_int_equal(json_integer_value(json_array_get(json_object_get(t, "at"), 0)), 0);
        (void)json_array_set_new(json_object_get(t, "at"), 0, json_integer(-1));
        wrong = proved(j);
        assert_non_null(strstr(wrong, "a row of table bolt is not what was recorded"));
        free(wrong);
        json_decref(j);
    }
}

static void a_fact_that_only_the_book_or_only_the_file_has_is_named(void **state)
{
    json_t *j = extract();
    struct tb_extract_proof p;
    int64_t later;

    (void)state;
    (void)json_object_set_new(json_array_get(rows(j, "bolt"), 0), "id",
                              json_string("zzzzzzzzzzzzzzzzzzzzzzzzzz"));
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    tb_text_clear(&p.wrong);
    OK(tb_extract_against(&p, &later, j, lot_ref, "2999-01-01T00:00:00Z", book, &err));
    assert_non_null(
        strstr(tb_text_str(&p.wrong), "recorded a row of table bolt about this lot that is not in the file"));
    assert_non_null(strstr(tb_text_str(&p.wrong),
                           "a row of table bolt of the file, said to be of journal row 2, is not "
                           "in the book"));
    tb_extract_proof_free(&p);
    json_decref(j);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_changed_word_is_named),
        cmocka_unit_test(a_burn_taken_out_is_named),
        cmocka_unit_test(a_journal_row_taken_out_is_named),
        cmocka_unit_test(last_burns_left_out_whole_show_against_the_book),
        cmocka_unit_test(a_changed_journal_row_is_named),
        cmocka_unit_test(a_burn_left_out_with_its_journal_row_hidden_is_named),
        cmocka_unit_test(a_table_that_is_not_told_is_named),
        cmocka_unit_test(a_swapped_photograph_is_named),
        cmocka_unit_test(a_tree_that_was_tampered_with_is_named),
        cmocka_unit_test(a_fact_that_only_the_book_or_only_the_file_has_is_named),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
