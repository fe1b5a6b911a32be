/* test_extract_against.c - a sound file beside the book it was taken out of, which went on: later rows make nothing of it wrong. */
#include "unit/extract_helper.h"

#include "tenterbook/dispute.h"
#include "tenterbook/goods.h"

static void cut(const char *person, const char *of_lot)
{
    struct tb_arena mem = { 0 };
    struct tb_swatch s = { .part = TB_PART_WHOLE, .known = "", .kept = "box 4" };
    struct tb_bolt bolt;
    struct tb_lot lot;

    OK(tb_book_begin(book, person, "cut", &err));
    OK(tb_lot_find(&lot, book, of_lot, &mem, &err));
    OK(tb_bolt_find(&bolt, book, lot.id, "B1", &mem, &err));
    s.lot = lot.id;
    s.lot_ref = lot.ref;
    s.bolt = bolt.id;
    OK(tb_swatch_add(&s, book, &mem, &err));
    tb_book_subject(book, s.tag);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

static void compare(struct tb_extract_proof *p, const json_t *j, const char *made)
{
    int64_t later;

    OK(tb_extract_prove(p, j, lot_ref, &err));
    tb_text_clear(&p->wrong);
    OK(tb_extract_against(p, &later, j, lot_ref, made, book, &err));
}

static void a_person_who_came_to_the_lot_after_the_case_is_not_missing_from_it(void **state)
{
    struct tb_extract_proof p;
    json_t *j;

    (void)state;
    cut("Bob", other_ref);
    j = extract();
    cut("Bob", lot_ref);
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_string_equal(tb_text_str(&p.wrong), "");
    assert_int_equal(p.newer_rows, 1);
    tb_extract_proof_free(&p);
    json_decref(j);
}

/* By then Bob has cut a swatch of the lot. */
static void a_person_whom_a_row_of_the_file_names_is_missing_from_it(void **state)
{
    json_t *j = extract(), *people = rows(j, "person");
    struct tb_extract_proof p;
    size_t bob = json_array_size(people) - 1;

    (void)state;
    assert_string_equal(tb_row_text(json_array_get(people, bob), "name"), "Bob");
    (void)json_array_remove(people, bob);
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_non_null(strstr(tb_text_str(&p.wrong),
                           "recorded a row of table person about this lot that is not in the file"));
    tb_extract_proof_free(&p);
    json_decref(j);
}

static void same_as(const char *supplier_id, const char *same_as_id)
{
    OK(tb_book_begin(book, "Ines", "supplier", &err));
    OK(tb_supplier_same(book, supplier_id, same_as_id, "one firm", &err));
    OK(tb_book_commit(book, &err));
}

static void a_supplier_who_is_the_same_only_since_then_is_not_missing(void **state)
{
    struct tb_arena mem = { 0 };
    struct tb_supplier ours, older;
    struct tb_extract_proof p;
    json_t *j;

    (void)state;
    OK(tb_book_begin(book, "Ines", "supplier", &err));
    OK(tb_supplier_ensure(&older, book, "Ampere Mills", &mem, &err));
    OK(tb_supplier_ensure(&ours, book, "Ohm Weavers", &mem, &err));
    OK(tb_book_commit(book, &err));
    j = extract();
    same_as(ours.id, older.id);
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_string_equal(tb_text_str(&p.wrong), "");
    tb_extract_proof_free(&p);
    json_decref(j);
    j = extract(); /* which tells both, and not without one of them */
    assert_int_equal(json_array_size(rows(j, "supplier")), 2);
    (void)json_array_remove(rows(j, "supplier"), 1);
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_non_null(strstr(tb_text_str(&p.wrong), "recorded a row of table supplier about this lot"));
    tb_extract_proof_free(&p);
    json_decref(j);
    tb_arena_free(&mem);
}

static void a_later_row_by_a_clock_that_was_set_back_is_a_later_row(void **state)
{
    struct tb_extract_proof p;
    json_t *j = extract();

    (void)state;
    assert_int_equal(setenv("TENTERBOOK_CLOCK", "1700000000", 1), 0); /* November 2023 */
    cut("Ines", lot_ref);
    (void)unsetenv("TENTERBOOK_CLOCK");
    compare(&p, j, "2999-01-01T00:00:00Z");
    assert_string_equal(tb_text_str(&p.wrong), "");
    assert_int_equal(p.newer_rows, 1);
    assert_non_null(strstr(tb_text_str(&p.newer), "2023-11-14T22:13:20Z"));
    tb_extract_proof_free(&p);
    json_decref(j);
}

static void open_dispute(void)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    struct tb_dispute d = { 0 };
    struct tb_dispute_step opened = { .day = "2026-03-09",
                                      .step = TB_OPENED,
                                      .words = "not as declared",
                                      .channel = "",
                                      .proof = "",
                                      .amount = 1480,
                                      .currency = "EUR" };

    OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
    OK(tb_book_begin(book, "Ines", "dispute", &err));
    d.lot = lot.id;
    OK(tb_dispute_open(&d, book, &opened, &mem, &err));
    tb_book_subject(book, lot.ref);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

/* Such a file has neither table; one that has them, and not this step, lacks it. */
static void a_file_of_an_older_program_lacks_no_dispute(void **state)
{
    struct tb_extract_proof p;
    json_t *j, *facts;

    (void)state;
    open_dispute();
    j = extract();
    facts = json_object_get(j, "facts");
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_string_equal(tb_text_str(&p.wrong), "");
    tb_extract_proof_free(&p);
    (void)json_array_clear(rows(j, "dispute_step"));
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_non_null(strstr(tb_text_str(&p.wrong), "recorded a row of table dispute_step about this lot"));
    tb_extract_proof_free(&p);
    (void)json_object_del(facts, "dispute");
    (void)json_object_del(facts, "dispute_step");
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
    tb_extract_proof_free(&p);
    compare(&p, j, "2000-01-01T00:00:00Z");
    assert_string_equal(tb_text_str(&p.wrong), "");
    tb_extract_proof_free(&p);
    json_decref(j);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_person_who_came_to_the_lot_after_the_case_is_not_missing_from_it),
        cmocka_unit_test(a_person_whom_a_row_of_the_file_names_is_missing_from_it),
        cmocka_unit_test(a_supplier_who_is_the_same_only_since_then_is_not_missing),
        cmocka_unit_test(a_later_row_by_a_clock_that_was_set_back_is_a_later_row),
        cmocka_unit_test(a_file_of_an_older_program_lacks_no_dispute),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
