/* test_extract.c - one lot taken out of the book, proved without it, and what a forger would try. Invented trade. */
#include "book/extract_impl.h"
#include "tenterbook/dispute.h"
#include "tenterbook/draws.h"
#include "tenterbook/extract.h"
#include "tenterbook/void.h"

#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static char folder[] = "/tmp/test_extract_XXXXXX";
static struct tb_book *book;
static struct tb_err err;
static char lot_ref[32], other_ref[32];

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s (%s)", #call, err.msg, err.detail);                                             \
    } while (0)

static void receive(struct tb_lot *out, const char *words, int64_t serial, const struct tb_delivery *d,
                    struct tb_arena *mem)
{
    *out = (struct tb_lot){ .article = "a",
                            .colour = "",
                            .dye_lot = "",
                            .origin = "",
                            .unit_price = 4,
                            .currency = "EUR",
                            .bolts = 2,
                            .metres = 100 };
    OK(tb_lot_add(out, book, d, serial, mem, &err));
    OK(tb_declaration_add(book, out->id, words, TB_ORIGIN_ROW, NULL, &err));
    for (int i = 0; i < 2; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = out->id, .number = number, .metres = 50, .width_cm = NAN, .mass_gm2 = 180, .said = ""
        };

        (void)snprintf(number, sizeof number, "B%d", i + 1);
        OK(tb_bolt_add(&bolt, book, &err));
    }
}

/* A burn with a photograph, judged and recorded in the same transaction, as the command does it. */
static void burn(const struct tb_lot *lot, const char *number, const char *cue, struct tb_arena *mem)
{
    struct tb_cue_seen seen[] = { { cue, true }, { "odour:burning_hair", false } };
    struct tb_bolt bolt;
    struct tb_swatch s = {
        .lot = lot->id, .lot_ref = lot->ref, .part = TB_PART_WHOLE, .known = "", .kept = "box 4"
    };
    struct tb_burn b = { .looked = "smoke odour", .flame = "candle", .note = "", .cue = seen, .cues = 2 };
    struct tb_attachment a = {
        .about = "burn", .name = "b.jpg", .media = "image/jpeg", .bytes = cue, .size = strlen(cue)
    };

    OK(tb_book_begin(book, "Ines", "burn", &err));
    OK(tb_bolt_find(&bolt, book, lot->id, number, mem, &err));
    s.bolt = bolt.id;
    OK(tb_swatch_add(&s, book, mem, &err));
    b.swatch = s.id;
    OK(tb_burn_add(&b, book, mem, &err));
    a.subject = b.id;
    OK(tb_attachment_add(&a, book, mem, &err));
    tb_book_subject(book, s.tag);
    OK(tb_book_commit(book, &err));
}

static void trade(void)
{
    struct tb_arena mem = { 0 };
    struct tb_supplier s;
    struct tb_delivery d = { .note = "N1",
                             .order_no = "",
                             .file_name = "",
                             .file_digest = "",
                             .remark = "",
                             .arrived = "2026-03-02" };
    struct tb_lot a, b;

    OK(tb_book_begin(book, "Ines", "receive", &err));
    OK(tb_supplier_ensure(&s, book, "Ohm Weavers", &mem, &err));
    d.supplier = s.id;
    OK(tb_delivery_add(&d, book, &mem, &err));
    receive(&a, "60% cotton 40% polyester", 1, &d, &mem);
    receive(&b, "100% silk", 2, &d, &mem);
    tb_book_subject(book, d.ref);
    OK(tb_book_commit(book, &err));
    burn(&a, "B1", "smoke:black", &mem);
    burn(&b, "B1", "smoke:white", &mem); /* another lot's row between ours */
    burn(&a, "B2", "smoke:black", &mem);
    (void)snprintf(lot_ref, sizeof lot_ref, "%s", a.ref);
    (void)snprintf(other_ref, sizeof other_ref, "%s", b.ref);
    tb_arena_free(&mem);
}

static json_t *extract(void)
{
    json_t *j = NULL;

    OK(tb_extract_lot(&j, book, lot_ref, &err));
    return j;
}

/* What the proof says of it after a trip through text; freed by the caller. */
static char *proved(json_t *j)
{
    struct tb_extract_proof p;
    char *text = json_dumps(j, JSON_SORT_KEYS | JSON_REAL_PRECISION(17)), *wrong;
    json_t *again = json_loads(text, JSON_REJECT_DUPLICATES, NULL);

    assert_non_null(again);
    OK(tb_extract_prove(&p, again, lot_ref, &err));
    wrong = tb_strdup(tb_text_str(&p.wrong));
    tb_extract_proof_free(&p);
    json_decref(again);
    free(text);
    return wrong;
}

static json_t *rows(json_t *j, const char *table)
{
    return json_object_get(json_object_get(j, "facts"), table);
}

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
    OK(tb_extract_facts(&again, b, lot.id, &err)); /* taken out of what was taken out: the same */
    assert_true(json_equal(json_object_get(j, "facts"), again));
    json_decref(again);
    tb_book_close(b);
    tb_arena_free(&mem);
    json_decref(j);
}

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

/* As a row of another lot would be told: the digest of what it says, and that of the lots it is about. */
static void hide(json_t *j, size_t at)
{
    json_t *journal = json_object_get(j, "journal"), *row = json_array_get(journal, at);
    struct tb_journal_row record = tb_told_record(row);
    unsigned char nonce[TB_HASH], header[TB_HASH], shares[TB_HASH];
    struct tb_text bytes = { 0 }, about = { 0 };

    assert_true(tb_hash_of_hex(nonce, tb_row_text(row, "nonce")));
    assert_true(tb_hash_of_hex(shares, tb_row_text(row, "shares")));
    assert_true(tb_base64_of_json(&about, json_object_get(row, "about")));
    tb_journal_header(header, &record, nonce);
    tb_text_addn(&bytes, (const char *)header, TB_HASH);
    tb_text_addn(&bytes, (const char *)shares, TB_HASH);
    tb_text_addn(&bytes, about.s, about.n);
    (void)json_array_set_new(journal, at,
                             json_pack("{s:I, s:I, s:[o]}", "number", (json_int_t)record.number, "rule",
                                       (json_int_t)record.rule, "rows", tb_base64_json(bytes.s, bytes.n)));
    tb_text_free(&bytes);
    tb_text_free(&about);
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

/* What a forger who has the book does: the trees are made anew for the facts that are told, and fit them. */
static void make_trees_anew(json_t *j)
{
    json_t *trees = NULL;

    OK(tb_extract_trees(&trees, book, json_object_get(j, "facts"), &err));
    (void)json_object_set_new(j, "trees", trees);
}

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

/* As where the photographs of a lot are too many for a file: the record of each is proved by size and digest. */
static void a_photograph_left_out_is_proved_by_its_digest_and_counted(void **state)
{
    json_t *j = extract(), *photo = json_array_get(rows(j, "attachment"), 0);
    struct tb_extract_proof p;
    struct tb_book *b = NULL;
    char *wrong;

    (void)state;
    (void)json_object_set_new(photo, "bytes", json_pack("{s:i}", "left_out", (int)strlen("smoke:black")));
    OK(tb_extract_prove(&p, j, lot_ref, &err));
    assert_string_equal(tb_text_str(&p.wrong), "");
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

static void only_documents_of_the_lots_own_dispute_are_in_its_extract(void **state)
{
    json_t *j, *row;
    char *wrong, *facts;
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
    assert_null(rows(j, "dispute_step"));
    facts = json_dumps(json_object_get(j, "facts"), 0);
    assert_null(strstr(facts, "what we mean to ask for")); /* the buyer's own words stay at home */
    wrong = proved(j);
    assert_string_equal(wrong, "");
    free(wrong);
    free(facts);
    json_decref(j);
}

static int make_book(void **state)
{
    struct tb_text path = { 0 };

    (void)state;
    if (!mkdtemp(folder))
        return -1;
    tb_text_addf(&path, "%s/book.db", folder);
    if (tb_book_make(path.s, "W", "Weir Street store", "GB", "Ines", &err) != TB_OK ||
        tb_book_open(&book, path.s, NULL, &err) != TB_OK)
        return -1;
    tb_text_free(&path);
    trade();
    return 0;
}

static int remove_book(void **state)
{
    struct tb_text path = { 0 };

    (void)state;
    tb_book_close(book);
    tb_text_addf(&path, "%s/book.db", folder);
    (void)unlink(path.s);
    tb_text_add(&path, ".key");
    (void)unlink(path.s);
    tb_text_free(&path);
    return rmdir(folder);
}

/* A burn that was recorded by mistake, and the day of a delivery of two lots: one journal row each. */
static void put_right(void)
{
    const char *const ref[] = { lot_ref, other_ref };
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    struct tb_burn *burn;
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
    tb_arena_free(&mem);
}

/* Whoever makes a case cannot have a record count that is void, nor a delivery come on another day. */
static void what_is_void_and_what_was_amended_cannot_be_left_out(void **state)
{
    static const char *const table[] = { "voiding", "amendment" };
    json_t *whole;
    char *wrong;

    (void)state;
    put_right();
    whole = extract();
    wrong = proved(whole);
    assert_string_equal(wrong, "");
    free(wrong);
    for (size_t i = 0; i < 2; i++) {
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
    }
    json_decref(whole);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_untouched_extract_is_proved),
        cmocka_unit_test(the_book_built_again_reads_as_the_book_does),
        cmocka_unit_test(a_changed_word_is_named),
        cmocka_unit_test(a_burn_taken_out_is_named),
        cmocka_unit_test(a_journal_row_taken_out_is_named),
        cmocka_unit_test(last_burns_left_out_whole_show_against_the_book),
        cmocka_unit_test(a_changed_journal_row_is_named),
        cmocka_unit_test(a_burn_left_out_with_its_journal_row_hidden_is_named),
        cmocka_unit_test(no_fact_can_be_left_out),
        cmocka_unit_test(a_bolt_left_out_of_a_delivery_is_told_in_one_sentence),
        cmocka_unit_test(a_lot_of_another_program_with_a_bolt_left_out_is_named_by_its_count),
        cmocka_unit_test(a_fact_of_another_lot_in_its_place_is_named),
        cmocka_unit_test(a_fact_told_twice_is_named),
        cmocka_unit_test(a_row_told_under_an_older_rule_is_named),
        cmocka_unit_test(shares_that_are_not_those_of_the_row_are_named),
        cmocka_unit_test(a_table_that_is_not_told_is_named),
        cmocka_unit_test(a_swapped_photograph_is_named),
        cmocka_unit_test(a_photograph_left_out_is_proved_by_its_digest_and_counted),
        cmocka_unit_test(a_tree_that_was_tampered_with_is_named),
        cmocka_unit_test(nothing_of_another_lot_is_in_an_extract),
        cmocka_unit_test(a_fact_that_only_the_book_or_only_the_file_has_is_named),
        cmocka_unit_test(what_is_no_extract_is_refused),
        cmocka_unit_test(whoever_first_wrote_about_the_lot_is_in_its_extract),
        cmocka_unit_test(only_documents_of_the_lots_own_dispute_are_in_its_extract),
        cmocka_unit_test(what_is_void_and_what_was_amended_cannot_be_left_out),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
