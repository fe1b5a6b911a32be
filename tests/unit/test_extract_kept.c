/* test_extract_kept.c - what a case tells by its leaf alone: a label of our own and the verdicts on it, and nothing that is unwelcome. */
#include "unit/extract_helper.h"

#include "tenterbook/bench.h"
#include "tenterbook/dispute.h"
#include "tenterbook/goods.h"
#include "tenterbook/void.h"

static void judge(const struct tb_lot *lot, const char *detail, struct tb_arena *mem)
{
    struct tb_judged v = { .lot = lot->id,
                           .verdict = TB_UNDECIDED,
                           .log_ratio = -1,
                           .bolts_burnt = 1,
                           .bolts = 2,
                           .reference = "sha256:0",
                           .detail = detail,
                           .grade = "undecided",
                           .lowest = -3,
                           .highest = 3,
                           .against = "" };

    OK(tb_judged_add(&v, book, mem, &err));
}

/* A verdict on the words of the supplier, a label of our own, and a verdict on that; later the supplier has a word again. */
static void relabel(void)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    struct tb_standing s = {
        .standing = TB_RELABELLED, .why = "lab", .old_words = "old", .new_words = "new"
    };

    OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
    OK(tb_book_begin(book, "Ines", "judge", &err));
    judge(&lot, "{\"of\": \"theirs\"}", &mem);
    tb_book_subject(book, lot_ref);
    OK(tb_book_commit(book, &err));
    OK(tb_book_begin(book, "Ines", "settle", &err));
    s.lot = lot.id;
    s.goods_of = "own";
    OK(tb_standing_add(&s, book, &mem, &err));
    OK(tb_declaration_add(book, lot.id, "our label", TB_ORIGIN_RELABEL, lot.declaration, &err));
    judge(&lot, "{\"of\": \"ours\"}", &mem);
    tb_book_subject(book, lot_ref);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

static void the_supplier_says_more(void)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;

    OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
    OK(tb_book_begin(book, "Ines", "declare", &err));
    OK(tb_declaration_add(book, lot.id, "their last word", TB_ORIGIN_ANSWER, lot.declaration, &err));
    judge(&lot, "{\"of\": \"their last word\"}", &mem);
    tb_book_subject(book, lot_ref);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

static void a_label_of_ours_and_the_verdict_on_it_are_there_by_their_leaves(void **state)
{
    struct tb_extract_proof p;
    struct tb_book *b = NULL;
    char *text, *wrong;
    int64_t later;
    json_t *j;

    (void)state;
    relabel();
    the_supplier_says_more();
    j = extract();
    text = json_dumps(j, 0);
    assert_null(strstr(text, "our label"));
    assert_null(strstr(text, "\\\"ours\\\""));
    assert_non_null(strstr(text, "\\\"theirs\\\""));
    assert_non_null(strstr(text, "\\\"their last word\\\""));
    assert_true(tb_extract_keeps_back(j));
    assert_false(tb_extract_own_words(j));
    OK(tb_extract_shape(j, TB_EXTRACT_FORM_DISPUTES | TB_EXTRACT_KEEPS, &err));
    assert_int_equal(tb_extract_shape(j, TB_EXTRACT_FORM_DISPUTES, &err), TB_EFORMAT);
    wrong = proved(j);
    assert_string_equal(wrong, "");
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_int_equal(p.ours, 3); /* words, verdict, its grade */
    OK(tb_extract_against(&p, &later, j, lot_ref, "2100-01-01T00:00:00Z", book, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
    tb_extract_proof_free(&p);
    OK(tb_extract_book(&b, j, &err));
    tb_book_close(b);
    free(wrong);
    free(text);
    json_decref(j);
}

/* A file that says it keeps something back, and does not. */
static void a_file_without_such_a_row_has_the_form_of_one_without(void **state)
{
    json_t *j = NULL;

    (void)state;
    OK(tb_extract_lot(&j, book, other_ref, &err));
    assert_false(tb_extract_keeps_back(j));
    OK(tb_extract_shape(j, TB_EXTRACT_FORM_DISPUTES, &err));
    assert_int_equal(tb_extract_shape(j, TB_EXTRACT_FORM_DISPUTES | TB_EXTRACT_KEEPS, &err), TB_EFORMAT);
    json_decref(j);
}

/* With its true leaf, so that every digest comes out. */
static void no_other_row_can_be_kept_back(void **state)
{
    json_t *whole = extract(), *list, *row;
    const char *table;
    int tried = 0;
    size_t i;

    (void)state;
    json_object_foreach(json_object_get(whole, "facts"), table, list)
    {
        json_array_foreach(list, i, row)
        {
            json_t *j;
            char *wrong;

            if (tb_kept_back(row))
                continue;
            j = json_deep_copy(whole);
            tb_extract_keep_back(j, table, i);
            assert_true(tb_kept_back(json_array_get(rows(j, table), i)));
            wrong = proved(j);
            if (!strstr(wrong, "the file keeps back a row of table"))
                fail_msg("row %zu of table %s kept back: %s", i, table, wrong);
            free(wrong);
            json_decref(j);
            tried++;
        }
    }
    assert_true(tried >= 20);
    json_decref(whole);
}

/* The book says what a row is that the file keeps back, whatever the file tells beside it. */
static void the_book_shows_what_is_kept_back_and_should_not(void **state)
{
    json_t *j = extract();
    struct tb_extract_proof p;
    int64_t later;

    (void)state;
    tb_extract_keep_back(j, "verdict", 0);
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    tb_text_clear(&p.wrong);
    OK(tb_extract_against(&p, &later, j, lot_ref, "2100-01-01T00:00:00Z", book, &err));
    assert_non_null(
        strstr(tb_text_str(&p.wrong), "recorded a row of table verdict about this lot that is not in"));
    tb_extract_proof_free(&p);
    json_decref(j);
}

static void another_leaf_does_not_fit(void **state)
{
    json_t *j = extract();
    size_t i = 0;
    char *wrong;

    (void)state;
    while (!tb_kept_back(json_array_get(rows(j, "verdict"), i)))
        i++;
    (void)json_object_set_new(json_array_get(rows(j, "verdict"), i), "kept_back",
                              json_string("00000000000000000000000000000000"
                                          "00000000000000000000000000000000"));
    wrong = proved(j);
    assert_non_null(strstr(wrong, "a row of table verdict is not what was recorded"));
    free(wrong);
    (void)json_array_remove(rows(j, "verdict"), i);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "rows of table verdict were recorded"));
    free(wrong);
    json_decref(j);
}

/* A step of a dispute and a burn, both void: without the dispute the first is kept back, and the second cannot be. */
static void of_what_is_void_only_a_step_of_a_dispute_is_kept_back(void **state)
{
    struct tb_arena mem = { 0 };
    struct tb_voiding step = { .about = "dispute_step", .why = "typed for another lot" },
                      burn = { .about = "burn", .why = "blown out" };
    struct tb_dispute_step first = {
        .step = TB_OPENED, .day = "2026-03-04", .amount = NAN, .words = "not as declared"
    };
    struct tb_dispute opened = { 0 };
    struct tb_lot lot;
    struct tb_burn *of = NULL;
    struct tb_dispute *d = NULL;
    char *text, *wrong;
    size_t n = 0;
    json_t *j;

    (void)state;
    OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
    opened.lot = lot.id;
    OK(tb_book_begin(book, "Ines", "dispute", &err));
    OK(tb_dispute_open(&opened, book, &first, &mem, &err));
    tb_book_subject(book, lot_ref);
    OK(tb_book_commit(book, &err));
    OK(tb_dispute_list(&d, &n, book, lot.id, &mem, &err));
    OK(tb_burn_list_upto(&of, &n, book, lot.id, TB_BOOK_NOW, &mem, &err));
    step.subject = d[0].step[0].id;
    burn.subject = of[0].id;
    for (int i = 0; i < 2; i++) {
        struct tb_voiding *v = i ? &burn : &step;

        v->lot = lot.id;
        OK(tb_book_begin(book, "Ines", "void", &err));
        OK(tb_voiding_add(v, book, &mem, &err));
        if (i)
            judge(&lot, "{}", &mem);
        tb_book_subject(book, lot_ref);
        OK(tb_book_commit(book, &err));
    }
    j = extract();
    tb_extract_keep_back_disputes(j);
    text = json_dumps(j, 0);
    assert_null(strstr(text, "typed for another lot"));
    assert_non_null(strstr(text, "blown out"));
    wrong = proved(j);
    assert_string_equal(wrong, "");
    free(wrong);
    tb_extract_keep_back(j, "voiding", 1);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "the file keeps back a row of table voiding"));
    free(wrong);
    free(text);
    json_decref(j);
    tb_arena_free(&mem);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_label_of_ours_and_the_verdict_on_it_are_there_by_their_leaves),
        cmocka_unit_test(a_file_without_such_a_row_has_the_form_of_one_without),
        cmocka_unit_test(no_other_row_can_be_kept_back),
        cmocka_unit_test(the_book_shows_what_is_kept_back_and_should_not),
        cmocka_unit_test(another_leaf_does_not_fit),
        cmocka_unit_test(of_what_is_void_only_a_step_of_a_dispute_is_kept_back),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
