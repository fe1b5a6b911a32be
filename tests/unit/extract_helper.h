/* extract_helper.h - a small trade of two lots in one delivery, and one of them taken out of the book. Invented. */
#ifndef TENTERBOOK_TESTS_EXTRACT_HELPER_H
#define TENTERBOOK_TESTS_EXTRACT_HELPER_H

#include "book/extract_impl.h"
#include "tenterbook/extract.h"

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

static inline void receive(struct tb_lot *out, const char *words, int64_t serial, const struct tb_delivery *d,
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
static inline void burn(const struct tb_lot *lot, const char *number, const char *cue, struct tb_arena *mem)
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

static inline void trade(void)
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

static inline json_t *extract(void)
{
    json_t *j = NULL;

    OK(tb_extract_lot(&j, book, lot_ref, &err));
    return j;
}

/* What the proof says of it after a trip through text; freed by the caller. */
static inline char *proved(json_t *j)
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

static inline json_t *rows(json_t *j, const char *table)
{
    return json_object_get(json_object_get(j, "facts"), table);
}

/* As a row of another lot would be told: the digest of what it says, and that of the lots it is about. */
static inline void hide(json_t *j, size_t at)
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

/* What a forger who has the book does: the trees are made anew for the facts that are told, and fit them. */
static inline void make_trees_anew(json_t *j)
{
    json_t *trees = NULL;

    OK(tb_extract_trees(&trees, book, json_object_get(j, "facts"), &err));
    (void)json_object_set_new(j, "trees", trees);
}

static inline int make_book(void **state)
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

static inline int remove_book(void **state)
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

#endif
