/* test_extract.c - one lot taken out of the book and proved without it: what is in it, and nothing of the others. */
#include "unit/extract_helper.h"

#include "tenterbook/dispute.h"
#include "tenterbook/draws.h"

static void an_untouched_extract_is_proved(void **state)
{
    json_t *j = extract();
    struct tb_extract_proof p;
    int64_t later = -1;

    (void)state;
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
    assert_true(p.journal >= 4);
    assert_int_equal(p.named, 0);
    assert_int_equal(p.partly,
                     0); /* lot, bolts, declaration: recorded together with another lot's, and shown apart */
    assert_int_equal(json_array_size(rows(j, "burn")), 2);
    assert_int_equal(json_array_size(rows(j, "bolt")), 2);
    OK(tb_extract_against(&p, &later, j, lot_ref, "2999-01-01T00:00:00Z", book, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
    assert_int_equal(later, 0);
    assert_int_equal(p.compared, p.facts);
    tb_extract_proof_free(&p);
    json_decref(j);
}

static void the_book_built_again_reads_as_the_book_does(void **state)
{
    json_t *j = extract(), *again = NULL;
    struct tb_book *b = NULL;
    struct tb_arena mem = { 0 };
    struct tb_lot lot;

    (void)state;
    OK(tb_extract_book(&b, j, &err));
    OK(tb_lot_find(&lot, b, lot_ref, &mem, &err));
    assert_string_equal(lot.supplier_name, "Ohm Weavers");
    assert_string_equal(lot.declared, "60% cotton 40% polyester");
    assert_int_equal(lot.bolts_burnt, 2);
    assert_string_equal(tb_book_site(b)->name, "Weir Street store");
    OK(tb_extract_facts(&again, b, lot.id, INT64_MAX, &err)); /* taken out of what was taken out: the same */
    assert_true(json_equal(json_object_get(j, "facts"), again));
    json_decref(again);
    tb_book_close(b);
    tb_arena_free(&mem);
    json_decref(j);
}

/* Its record is proved by size and digest. */
static void a_small_photograph_left_out_is_counted_and_named(void **state)
{
    json_t *j = extract(), *photo = json_array_get(rows(j, "attachment"), 0);
    struct tb_extract_proof p;
    struct tb_book *b = NULL;
    char *wrong;

    (void)state;
    (void)json_object_set_new(photo, "bytes", json_pack("{s:i}", "left_out", (int)strlen("smoke:black")));
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_string_equal(tb_text_str(&p.wrong),
                        "the photograph or paper b.jpg of 11 bytes is left out for its "
                        "size, and there was room for it\n");
    assert_int_equal(p.absent, 1);
    tb_extract_proof_free(&p);
    OK(tb_extract_book(&b, j, &err));
    tb_book_close(b);
    (void)json_object_set_new(photo, "bytes",
                              json_pack("{s:i}", "left_out", 7)); /* as if it had been another one */
    wrong = proved(j);
    assert_non_null(strstr(wrong, "a row of table attachment is not what was recorded"));
    free(wrong);
    json_decref(j);
}

/* Two lots came in one delivery: of the other one not a word is in the extract, only digests that nobody can guess from. */
static void nothing_of_another_lot_is_in_an_extract(void **state)
{
    json_t *j = extract();
    char *text = json_dumps(j, 0);

    (void)state;
    assert_non_null(strstr(text, "60% cotton 40% polyester"));
    assert_null(strstr(text, "100% silk"));
    assert_null(strstr(text, other_ref));
    assert_null(strstr(text, "salt"));
    assert_int_equal(json_array_size(rows(j, "lot")), 1);
    assert_non_null(strstr(text, "\"rows\": [\""));
    free(text);
    json_decref(j);
}

static void what_is_no_extract_is_refused(void **state)
{
    static const char *const bad[] = { "{}", "[]", "{\"facts\":{\"nothing\":[]},\"journal\":[]}",
                                       "{\"facts\":{\"lot\":[{}]},\"journal\":[]}",
                                       "{\"facts\":{\"lot\":[7]},\"journal\":[{\"content\":1}]}" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(bad); i++) {
        json_t *j = json_loads(bad[i], 0, NULL);
        struct tb_book *b = NULL;

        assert_non_null(j);
        assert_int_equal(tb_extract_book(&b, j, &err), TB_EFORMAT);
        json_decref(j);
    }
}

/* One record about the lot alone, by somebody who never wrote before: no row of the extract names them. */
static void record(const char *who, const char *verb, const char *ref)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;

    OK(tb_lot_find(&lot, book, ref, &mem, &err));
    OK(tb_book_begin(book, who, verb, &err));
    if (strcmp(verb, "declare") == 0) {
        OK(tb_declaration_add(book, lot.id, "55% cotton 45% polyester", TB_ORIGIN_ANSWER, NULL, &err));
    } else {
        struct tb_draw d = { .about = lot.ref,
                             .plan = "every",
                             .bolts = 2,
                             .cut = 2,
                             .bad = 1,
                             .chance = 1,
                             .sure = 0.95,
                             .catch_one = 1,
                             .catch_from = "given",
                             .aql = NAN,
                             .level = "",
                             .inspection = "",
                             .refuse = 1,
                             .seed = "a seed" };

        OK(tb_draw_add(&d, book, NULL, 0, &mem, &err));
    }
    tb_book_subject(book, lot.ref);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

static void whoever_first_wrote_about_the_lot_is_in_its_extract(void **state)
{
    json_t *j, *row;
    char *wrong;
    size_t i;

    (void)state;
    record("Zoe", "declare", lot_ref);
    record("Yuri", "draw", lot_ref);
    record("Xenia", "declare", other_ref);
    j = extract();
    wrong = proved(j);
    assert_string_equal(wrong, "");
    assert_int_equal(json_array_size(rows(j, "person")),
                     3); /* who drew and who declared, not the other lot's */
    json_array_foreach(rows(j, "person"), i, row)
    {
        assert_string_not_equal(json_string_value(json_object_get(row, "name")), "Xenia");
    }
    free(wrong);
    (void)json_array_remove(rows(j, "person"), 1);
    wrong = proved(j);
    assert_non_null(strstr(wrong, "(declare W26-001.01 by Zoe"));
    assert_non_null(strstr(wrong, "1 rows of table person were recorded, 0 are here"));
    free(wrong);
    json_decref(j);
}

/* A dispute about a lot, opened with a letter: the paper is attached to the lot, as the command does it. */
static void dispute(const char *ref, const char *letter)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    struct tb_attachment paper = {
        .about = "lot", .name = letter, .media = "application/pdf", .bytes = letter, .size = strlen(letter)
    };
    struct tb_dispute d = { 0 };
    struct tb_dispute_step opened = { .day = "2026-03-09",
                                      .step = TB_OPENED,
                                      .words = "what we mean to ask for",
                                      .channel = "",
                                      .proof = "",
                                      .amount = NAN,
                                      .currency = "" };

    OK(tb_lot_find(&lot, book, ref, &mem, &err));
    OK(tb_book_begin(book, "Ines", "dispute", &err));
    paper.subject = d.lot = lot.id;
    OK(tb_attachment_add(&paper, book, &mem, &err));
    opened.document = paper.id;
    OK(tb_dispute_open(&d, book, &opened, &mem, &err));
    tb_book_subject(book, lot.ref);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

static void only_the_lots_own_dispute_with_its_documents_is_in_its_extract(void **state)
{
    json_t *j, *row;
    char *wrong;
    size_t i, ours = 0;

    (void)state;
    dispute(lot_ref, "our letter.pdf");
    dispute(other_ref, "about the silk.pdf");
    j = extract();
    json_array_foreach(rows(j, "attachment"), i, row)
    {
        const char *name = json_string_value(json_object_get(row, "name"));

        assert_string_not_equal(name, "about the silk.pdf");
        ours += strcmp(name, "our letter.pdf") == 0;
    }
    assert_int_equal(ours, 1);
    assert_int_equal(json_array_size(rows(j, "dispute")), 1);
    assert_int_equal(json_array_size(rows(j, "dispute_step")), 1);
    assert_string_equal(tb_row_text(json_array_get(rows(j, "dispute"), 0), "lot"),
                        tb_row_text(json_array_get(rows(j, "lot"), 0), "id"));
    wrong = proved(j);
    assert_string_equal(wrong, "");
    free(wrong);
    json_decref(j);
}

/* Two of 30 MiB: the first takes the room of the second, and a small one after it still has some. */
static void a_photograph_without_room_is_left_out_and_its_record_proved(void **state)
{
    static const size_t size[] = { 30u << 20, 30u << 20, 11 };
    char *bytes = tb_alloc(size[0], 1);
    struct tb_extract_proof p;
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    json_t *j;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(size); i++) {
        struct tb_attachment a = {
            .about = "lot", .name = "large.jpg", .media = "image/jpeg", .bytes = bytes, .size = size[i]
        };

        bytes[0] = (char)('a' + (int)i);
        OK(tb_book_begin(book, "Ines", "attach", &err));
        OK(tb_lot_find(&lot, book, lot_ref, &mem, &err));
        a.subject = lot.id;
        OK(tb_attachment_add(&a, book, &mem, &err));
        tb_book_subject(book, lot.ref);
        OK(tb_book_commit(book, &err));
    }
    j = extract();
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
    assert_int_equal(p.absent, 1);
    tb_extract_proof_free(&p);
    json_decref(j);
    tb_arena_free(&mem);
    free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_untouched_extract_is_proved),
        cmocka_unit_test(the_book_built_again_reads_as_the_book_does),
        cmocka_unit_test(a_small_photograph_left_out_is_counted_and_named),
        cmocka_unit_test(nothing_of_another_lot_is_in_an_extract),
        cmocka_unit_test(what_is_no_extract_is_refused),
        cmocka_unit_test(whoever_first_wrote_about_the_lot_is_in_its_extract),
        cmocka_unit_test(only_the_lots_own_dispute_with_its_documents_is_in_its_extract),
        cmocka_unit_test(a_photograph_without_room_is_left_out_and_its_record_proved),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
