/*
 * test_trust.c - what a known key and a noted row show of a book and of a case of it, and what they do not: forgeries by whoever
 * has the files and the public keys, and no secret key but his own.
 */
#include "book/extract_impl.h"
#include "book/key.h"

#include "act_helper.h"

#include <stdio.h>

static struct tb_key ours, his; /* the owner's, and that of somebody who makes things up */

/* A known key against a book and against a case of it: what is wrong, "" where nothing is. */
static char *said_of_book(struct scene *s, const struct tb_held *held)
{
    struct tb_proof p;

    OK(tb_book_prove_held(&p, s->actor.book, held, &err));
    return tb_strdup(p.fits ? "" : p.why);
}

static char *said_of_case(json_t *extract, const char *lot, const struct tb_held *held)
{
    struct tb_extract_proof p;
    char *wrong;

    OK(tb_extract_prove(&p, extract, lot, &err));
    OK(tb_extract_held(&p, extract, held, &err));
    wrong = tb_strdup(tb_text_str(&p.wrong));
    tb_extract_proof_free(&p);
    return wrong;
}

static void says(char *said, const char *want)
{
    if (*want ? !strstr(said, want) : *said)
        fail_msg("'%s' instead of '%s'", said, want);
    free(said);
}

static json_t *extract_of(struct scene *s)
{
    json_t *j = NULL;

    OK(tb_extract_lot(&j, s->actor.book, s->lot.ref, &err));
    return j;
}

/* --- keys in a case ------------------------------------------------------------------------------------------------- */

static json_t *key_json(const struct tb_key *k, const struct tb_key *from, int64_t entry)
{
    unsigned char bytes[TB_HANDOVER_BYTES];
    char handover[TB_SIGNATURE_HEX] = "";

    if (from && tb_handover_bytes(bytes, from->public, k->public))
        tb_key_sign(handover, from, bytes, sizeof bytes);
    return json_pack("{s:s, s:s, s:I}", "public", k->public, "handover", handover, "entry",
                     (json_int_t)entry);
}

/* The last row signed by `by`, with these keys before it. */
static void sign_case(json_t *extract, const struct tb_key *by, json_t *keys)
{
    json_t *head = json_object_get(extract, "head");
    unsigned char bytes[TB_HEAD_BYTES];
    char signature[TB_SIGNATURE_HEX];

    assert_true(tb_head_bytes(bytes, tb_row_whole(head, "number"), tb_row_text(head, "digest")));
    tb_key_sign(signature, by, bytes, sizeof bytes);
    (void)json_object_set_new(head, "signature", json_string(signature));
    (void)json_object_set_new(head, "keys", keys);
}

static void a_case_signed_by_another_key_is_not_trusted_whatever_keys_it_names(void **state)
{
    static const char no[] = "and the known key did not vouch for it";
    struct scene *s = scene_make("100% silk", 1);
    json_t *j = extract_of(s);
    const struct tb_held held = { .key = ours.public };
    const int64_t last = tb_row_whole(json_object_get(j, "head"), "number");
    struct {
        json_t *keys;
        const char *want;
    } tries[] = {
        { json_pack("[o]", key_json(&his, NULL, 1)), no },
        { json_pack("[o,o]", key_json(&his, NULL, 1), key_json(&ours, NULL, last + 1)), "do not rise" },
        { json_pack("[o,o]", key_json(&his, NULL, 1), key_json(&ours, NULL, 1000)), "do not rise" },
        { json_pack("[o,o]", key_json(&ours, NULL, 1), key_json(&his, NULL, 1)), "do not rise" },
        { json_pack("[o,o]", key_json(&ours, NULL, 0), key_json(&his, NULL, 1)), "do not rise" },
        { json_pack("[o,o]", key_json(&his, NULL, 2), key_json(&ours, NULL, 1)), "do not rise" },
        { json_pack("[o,o]", key_json(&his, NULL, 1), key_json(&ours, NULL, 2)), "does not fit" },
        { json_pack("[o,o]", key_json(&ours, NULL, 1), key_json(&his, NULL, 2)), no },
        { json_pack("[o,o]", key_json(&ours, NULL, 1), key_json(&his, &his, 2)),
          "the key before it did not vouch for it" },
        { json_pack("[o]", key_json(&his, &ours, 1)), "the key before it did not vouch for it" },
        { json_pack("[o,o]", key_json(&ours, NULL, 1), key_json(&his, &ours, 2)), "" },
        { json_pack("[]"), "does not fit" },
    };

    (void)state;
    assert_true(last >= 2);
    for (size_t i = 0; i < TB_COUNT(tries); i++) {
        sign_case(j, &his, tries[i].keys);
        says(said_of_case(j, s->lot.ref, &held), tries[i].want);
    }
    json_decref(j);
    scene_free(s);
}

/* --- one rule for both ---------------------------------------------------------------------------------------------- */

/* The book goes on with another key, which `from` vouches for; NULL: nobody does. */
static void take(struct scene *s, const struct tb_key *next, const struct tb_key *from)
{
    json_t *key = key_json(next, from, 0);

    OK(tb_book_begin(s->actor.book, "Ada Fell", "key", &err));
    OK(tb_put_signing_key(
        &(struct tb_signing_key_fact){ .public = next->public, .handover = tb_row_text(key, "handover") },
        s->actor.book, &err));
    s->actor.book->signer = *next;
    (void)snprintf(s->actor.book->key_now, sizeof s->actor.book->key_now, "%s", next->public);
    OK(tb_book_commit(s->actor.book, &err));
    json_decref(key);
}

/* Whoever knows `known` is told this of the book, and that of its case. */
static void both_say(struct scene *s, const char *known, const char *of_book, const char *of_case)
{
    const struct tb_held held = { .key = known };
    json_t *j = extract_of(s);

    says(said_of_book(s, &held), of_book);
    says(said_of_case(j, s->lot.ref, &held), of_case);
    json_decref(j);
}

static void book_and_case_judge_a_key_alike(void **state)
{
    static const char off[] = "another key signs, and the known one did not vouch for it";
    static const char not_vouched[] = "the known key did not vouch for it";
    struct scene *s = scene_make("100% silk", 1);
    struct tb_key first = s->actor.book->signer, third;

    (void)state;
    tb_key_draw(&third);
    both_say(s, first.public, "", "");
    both_say(s, ours.public, "the known key never was a key of this book", not_vouched);
    take(s, &ours, &first);
    both_say(s, first.public, "", "");
    both_say(s, ours.public, "", "");
    take(s, &third, NULL); /* whoever has the file of the book can do this */
    both_say(s, first.public, off, not_vouched);
    both_say(s, ours.public, off, not_vouched);
    both_say(s, third.public, "", "");
    take(s, &ours, NULL); /* rows between were signed by a key that nobody vouched for */
    both_say(s, ours.public, off, not_vouched);
    scene_free(s);
}

static void a_handover_by_another_key_is_found_in_book_and_case(void **state)
{
    static const char wrong[] = "takes another signing key, and the key before it did not vouch for it";
    struct scene *s = scene_make("100% silk", 1);
    json_t *j = extract_of(s);

    (void)state;
    take(s, &his, &ours);
    says(said_of_book(s, &(struct tb_held){ 0 }), wrong);
    sign_case(j, &his, json_pack("[o,o]", key_json(&ours, NULL, 1), key_json(&his, &his, 2)));
    says(said_of_case(j, s->lot.ref, &(struct tb_held){ 0 }), wrong);
    json_decref(j);
    scene_free(s);
}

static void a_note_names_the_key_that_counted_then(void **state)
{
    struct scene *s = scene_make("100% silk", 1);
    struct tb_anchor a;
    const struct tb_held held = { .anchor = &a, .anchors = 1 };
    json_t *j;

    (void)state;
    OK(tb_anchor_now(&a, s->actor.book, &err));
    take(s, &ours, NULL);
    j = extract_of(s);
    says(said_of_book(s, &held), "");
    says(said_of_case(j, s->lot.ref, &held), "");
    (void)snprintf(a.key, sizeof a.key, "%s", ours.public); /* which counts from the next row on */
    says(said_of_book(s, &held), "which did not count in this book then");
    says(said_of_case(j, s->lot.ref, &held), "is signed by a key that did not count then");
    json_decref(j);
    scene_free(s);
}

/* --- how far a note reaches ----------------------------------------------------------------------------------------- */

static struct scene *old_book(void)
{
    struct scene *s = tb_new(struct scene);
    char command[512];

    (void)snprintf(s->dir, sizeof s->dir, "/tmp/tenterbook-test-XXXXXX");
    assert_non_null(mkdtemp(s->dir));
    (void)snprintf(s->path, sizeof s->path, "%s/old.db", s->dir);
    (void)snprintf(command, sizeof command, "cp %s/tests/books/shape-4.db %s", TB_SOURCE_DIR, s->path);
    assert_int_equal(system(command), 0);
    OK(tb_book_open(&s->actor.book, s->path, NULL, &err));
    s->lot.ref = "M26-001.01";
    return s;
}

/* The last row before one that is told by its digest alone is written anew, as are those that lead to it from `at` on. */
static void write_anew(json_t *journal)
{
    json_t *row = NULL, *next;
    char digest[TB_DIGEST_HEX];
    struct tb_journal_row j;
    size_t i = 0;

    while (i + 1 < json_array_size(journal)) {
        row = json_array_get(journal, i);
        next = json_array_get(journal, ++i);
        if (json_object_get(row, "content") && !json_object_get(next, "content"))
            break;
    }
    assert_non_null(json_object_get(row, "content"));
    (void)json_object_set_new(row, "person", json_string("Nobody Atall"));
    j = tb_told_record(row);
    tb_journal_digest(digest, &j);
    (void)json_object_set_new(row, "digest", json_string(digest));
}

/* As older programs told it: each row by itself, those of others by number and digest. */
static void to_form_1(json_t *extract)
{
    json_t *out = json_array(), *item;
    size_t i;

    json_array_foreach(json_object_get(extract, "journal"), i, item)
    {
        int64_t number = tb_row_whole(item, "number");
        struct tb_text bytes = { 0 };

        if (json_object_get(item, "content"))
            (void)json_array_append(out, item);
        else if (tb_base64_of_json(&bytes, json_object_get(item, "digests")))
            for (size_t k = 0; k < bytes.n; k += TB_HASH, number++) {
                char hex[TB_DIGEST_HEX];

                tb_hash_hex(hex, (const unsigned char *)bytes.s + k);
                (void)json_array_append_new(
                    out, json_pack("{s:I, s:s}", "number", (json_int_t)number, "digest", hex));
            }
        tb_text_free(&bytes);
    }
    (void)json_object_set_new(extract, "journal", out);
    (void)json_object_del(extract, "head");
}

static void a_note_shows_nothing_across_a_row_told_by_its_digest_alone(void **state)
{
    static const char no_note[] =
        "the note of journal row 24 shows nothing of what the file tells of rows 1 to ";
    static const char no_sign[] =
        "the signature of journal row 24 shows nothing of what the file tells of rows 1 ";
    struct scene *s = old_book();
    struct tb_anchor a;
    struct tb_extract_proof p;
    const struct tb_held noted = { .anchor = &a, .anchors = 1 };
    int64_t later;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "dates", "dmy", &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_anchor_now(&a, s->actor.book, &err));
    assert_int_equal(a.number, 24);
    for (int forged = 0; forged < 2; forged++) {
        json_t *j = extract_of(s);
        const struct tb_held known = { .key = a.key };

        if (forged)
            write_anew(json_object_get(j, "journal"));
        says(said_of_case(j, s->lot.ref, &(struct tb_held){ 0 }), ""); /* it agrees with itself */
        says(said_of_case(j, s->lot.ref, &noted), no_note);
        says(said_of_case(j, s->lot.ref, &known), no_sign);
        OK(tb_extract_prove(&p, j, s->lot.ref, &err));
        OK(tb_extract_against(&p, &later, j, s->lot.ref, "2999-01-01T00:00:00Z", s->actor.book, &err));
        OK(tb_extract_held(&p, j, &noted, &err));
        says(tb_strdup(tb_text_str(&p.wrong)), forged ? "is another one in the book" : "");
        tb_extract_proof_free(&p);
        json_decref(j);
    }
    scene_free(s);
}

/* The true head of the book behind rows that somebody made up, in each form that is still read. */
static void a_true_digest_glued_behind_other_rows_shows_nothing_of_them(void **state)
{
    static const char no[] = "the note of journal row 23 shows nothing of what the file tells of rows 1 to ";
    struct scene *s = old_book();
    struct tb_anchor a;
    const struct tb_held noted = { .anchor = &a, .anchors = 1 };

    (void)state;
    OK(tb_anchor_now(&a, s->actor.book, &err));
    for (int form = 1; form <= 2; form++) {
        json_t *j = extract_of(s);

        write_anew(json_object_get(j, "journal"));
        if (form == 1)
            to_form_1(j);
        says(said_of_case(j, s->lot.ref, &(struct tb_held){ 0 }), "");
        says(said_of_case(j, s->lot.ref, &noted), no);
        json_decref(j);
    }
    scene_free(s);
}

/* A row that was shown by the note: from the digest on there is no break. */
static void a_note_shows_what_leads_to_its_row_without_a_break(void **state)
{
    struct scene *s = scene_make("100% silk", 1);
    json_t *j = extract_of(s);
    struct tb_told told;

    (void)state;
    tb_told_read(&told, NULL, j);
    assert_int_equal(tb_told_reach(&told, (int64_t)told.n), 1);
    assert_int_equal(tb_told_reach(&told, 1), 1);
    assert_int_equal(tb_told_reach(&told, 99), 0);
    told.row[0].follows = false;
    assert_int_equal(tb_told_reach(&told, 1), 2);
    assert_int_equal(tb_told_reach(&told, (int64_t)told.n), 2);
    tb_told_free(&told);
    json_decref(j);
    scene_free(s);
}

static int draw_keys(void **state)
{
    (void)state;
    tb_key_draw(&ours);
    tb_key_draw(&his);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_case_signed_by_another_key_is_not_trusted_whatever_keys_it_names),
        cmocka_unit_test(book_and_case_judge_a_key_alike),
        cmocka_unit_test(a_handover_by_another_key_is_found_in_book_and_case),
        cmocka_unit_test(a_note_names_the_key_that_counted_then),
        cmocka_unit_test(a_note_shows_nothing_across_a_row_told_by_its_digest_alone),
        cmocka_unit_test(a_true_digest_glued_behind_other_rows_shows_nothing_of_them),
        cmocka_unit_test(a_note_shows_what_leads_to_its_row_without_a_break),
    };

    return cmocka_run_group_tests(tests, draw_keys, NULL);
}
