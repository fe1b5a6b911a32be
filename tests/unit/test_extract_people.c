/* test_extract_people.c - somebody whose first record was of another lot: the file shows the name, and nothing of that record. */
#include "unit/extract_helper.h"

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

static json_t *person(json_t *j, const char *name)
{
    json_t *list = rows(j, "person"), *one;
    size_t i;

    json_array_foreach(list, i, one)
    {
        if (strcmp(tb_row_text(one, "name"), name) == 0)
            return one;
    }
    return NULL;
}

static void a_row_that_is_there_for_a_name_alone_is_told_as_one_of_others(void **state)
{
    struct tb_extract_proof p;
    struct tb_book *b = NULL;
    char *text, *wrong;
    int64_t later;
    json_t *j;

    (void)state;
    cut("Bob", other_ref);
    cut("Bob", lot_ref);
    cut("Carol", other_ref); /* of our lot she wrote nothing */
    cut("Ada", lot_ref);     /* her first record: it stays */
    j = extract();
    text = json_dumps(j, 0);
    assert_null(strstr(text, other_ref));
    assert_null(strstr(text, "Carol"));
    assert_non_null(person(j, "Bob"));
    assert_non_null(person(j, "Ada"));
    wrong = proved(j);
    assert_string_equal(wrong, "");
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    OK(tb_extract_against(&p, &later, j, lot_ref, "2100-01-01T00:00:00Z", book, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
    tb_extract_proof_free(&p);
    OK(tb_extract_book(&b, j, &err));
    tb_book_close(b);
    free(wrong);
    free(text);
    json_decref(j);
}

static void a_name_that_is_not_that_of_the_rows_is_found(void **state)
{
    static const char *const name[] = { "Bob", "Ada" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(name); i++) {
        json_t *j = extract();
        char *wrong;

        (void)json_object_set_new(person(j, name[i]), "name", json_string("Dave"));
        wrong = proved(j);
        if (!*wrong)
            fail_msg("%s is called Dave: proves", name[i]);
        free(wrong);
        json_decref(j);
    }
}

static void somebody_whom_no_row_names_cannot_be_added(void **state)
{
    json_t *j = extract(), *more = json_deep_copy(person(j, "Bob"));
    struct tb_extract_proof p;
    char *wrong;
    int64_t later;

    (void)state;
    (void)json_object_set_new(more, "id", json_string("0123456789abcdefghijklmnop"));
    (void)json_object_set_new(more, "name", json_string("Dave"));
    (void)json_array_append_new(rows(j, "person"), more);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "no journal row of the file shows that somebody is called Dave"));
    free(wrong);
    json_decref(j);
    /* and one that the facts name cannot be left out */
    j = extract();
    for (size_t i = json_array_size(rows(j, "person")); i > 0; i--)
        if (strcmp(tb_row_text(json_array_get(rows(j, "person"), i - 1), "name"), "Bob") == 0)
            (void)json_array_remove(rows(j, "person"), i - 1);
    wrong = proved(j);
    assert_string_not_equal(wrong, "");
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    tb_text_clear(&p.wrong);
    OK(tb_extract_against(&p, &later, j, lot_ref, "2100-01-01T00:00:00Z", book, &err));
    assert_non_null(strstr(tb_text_str(&p.wrong), "recorded a row of table person"));
    tb_extract_proof_free(&p);
    free(wrong);
    json_decref(j);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_that_is_there_for_a_name_alone_is_told_as_one_of_others),
        cmocka_unit_test(a_name_that_is_not_that_of_the_rows_is_found),
        cmocka_unit_test(somebody_whom_no_row_names_cannot_be_added),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
