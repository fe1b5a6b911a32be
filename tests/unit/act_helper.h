/* act_helper.h - a small book to try acts on, and a way to see that a refused act left nothing in it. */
#ifndef TENTERBOOK_TESTS_ACT_HELPER_H
#define TENTERBOOK_TESTS_ACT_HELPER_H

#include "tenterbook/act.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/analysis.h"
#include "tenterbook/book.h"
#include "tenterbook/setting.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>
#include <sodium.h>

static struct tb_err err;

#define OK(call)                                                                                             \
    do {                                                                                                     \
        tb_rc rc_ = (call);                                                                                  \
        if (rc_ != TB_OK)                                                                                    \
            fail_msg("%s: %d %s (%s)", #call, (int)rc_, err.msg, err.detail);                                \
    } while (0)

/* One delivery with one lot, M-number bolts B1, B2 ...; flame work is permitted. */
struct scene {
    char dir[64], path[96];
    struct tb_actor actor;
    struct tb_arena mem;
    struct tb_supplier supplier;
    struct tb_delivery delivery;
    struct tb_lot lot;
};

/* A file in the scene's folder; its path is in the scene's arena. */
static inline const char *scene_file(struct scene *s, const char *name, const char *text)
{
    const char *path = tb_arena_printf(&s->mem, "%s/%s", s->dir, name);
    FILE *f = fopen(path, "w");

    assert_non_null(f);
    assert_true(fputs(text, f) >= 0);
    assert_int_equal(fclose(f), 0);
    return path;
}

static inline void scene_add_lot(struct scene *s, struct tb_lot *lot, int64_t serial, const char *declared,
                                 int bolts, const char *letter)
{
    struct tb_book *b = s->actor.book;

    *lot = (struct tb_lot){ .unit_price = 4, .currency = "EUR", .bolts = bolts, .metres = 50.0 * bolts };
    OK(tb_lot_add(lot, b, &s->delivery, serial, &s->mem, &err));
    OK(tb_declaration_add(b, lot->id, declared, TB_ORIGIN_ROW, NULL, &err));
    for (int i = 0; i < bolts; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = lot->id, .number = number, .metres = 50, .width_cm = (double)NAN, .mass_gm2 = (double)NAN
        };

        (void)snprintf(number, sizeof number, "%s%d", letter, i + 1);
        OK(tb_bolt_add(&bolt, b, &err));
    }
}

/* A book with a lot W..-001.01 of so many bolts, declared as the test says, and flame work permitted. */
static inline struct scene *scene_make(const char *declared, int bolts)
{
    struct scene *s = tb_new(struct scene);
    struct tb_book *b;

    (void)snprintf(s->dir, sizeof s->dir, "/tmp/tenterbook-test-XXXXXX");
    assert_non_null(mkdtemp(s->dir));
    (void)setenv("TENTERBOOK_CLOCK", "1795694400",
                 0); /* 2026-11-26T12:00:00Z, unless the test has a day of its own */
    (void)snprintf(s->path, sizeof s->path, "%s/a.book", s->dir);
    OK(tb_book_make(s->path, "W", "Westgate shed", "GB", "Ada Fell", &err));
    OK(tb_book_open(&b, s->path, NULL, &err));
    s->actor = (struct tb_actor){ b, "Ada Fell" };
    OK(tb_book_begin(b, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&s->supplier, b, "Harrow Mill", &s->mem, &err));
    s->delivery.arrived = "2026-10-05";
    s->delivery.supplier = s->supplier.id;
    OK(tb_delivery_add(&s->delivery, b, &s->mem, &err));
    scene_add_lot(s, &s->lot, 1, declared, bolts, "B");
    OK(tb_setting_set(b, "flame", "yes", &err));
    OK(tb_book_commit(b, &err));
    return s;
}

static inline void scene_free(struct scene *s)
{
    char rm[128];

    tb_book_close(s->actor.book);
    tb_arena_free(&s->mem);
    (void)snprintf(rm, sizeof rm, "rm -rf %s", s->dir);
    assert_int_equal(system(rm), 0);
    free(s);
}

/* A swatch of a bolt is cut and tried without a flame: the lot has a verdict then. */
static inline void scene_try(struct scene *s, const char *lot, const char *bolt)
{
    struct tb_cut_outcome cut;
    struct tb_try_outcome tried = { 0 };

    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .lot = lot, .bolt = bolt }, &s->mem, &err));
    OK(tb_act_try(&tried, &s->actor,
                  &(struct tb_try_request){ .swatch = cut.swatch.tag, .test = "acetone", .result = "stays" },
                  &s->mem, &err));
    tb_rejudged_free(&tried.judged);
}

/* A laboratory answers to the words of a lot: it turned out as declared, or not. */
static inline void scene_answer(struct scene *s, const char *ref, bool kept)
{
    struct tb_book *b = s->actor.book;
    struct tb_lot lot;
    struct tb_analysis a;

    OK(tb_lot_find(&lot, b, ref, &s->mem, &err));
    a = (struct tb_analysis){ .lot = lot.id,
                              .declaration = lot.declaration,
                              .part = TB_PART_WHOLE,
                              .route = "reported",
                              .methods = "",
                              .found = "100 % cotton",
                              .answers = kept ? "eu:conforms" : "eu:does_not_conform",
                              .detail = "{}",
                              .analysed_on = "2026-10-20" };
    OK(tb_book_begin(b, "Ada Fell", "assay", &err));
    OK(tb_analysis_add(&a, b, &s->mem, &err));
    OK(tb_book_commit(b, &err));
}

/* The number of the last journal row: it moves with every act that records something, and with no other. */
static inline int64_t scene_head(struct scene *s)
{
    char digest[65];
    int64_t number = -1;

    OK(tb_book_head(&number, digest, s->actor.book, &err));
    return number;
}

/* The lot as the book has it now. */
static inline struct tb_lot scene_lot(struct scene *s)
{
    struct tb_lot lot;

    OK(tb_lot_find(&lot, s->actor.book, s->lot.ref, &s->mem, &err));
    return lot;
}

/* The book is as it was before a refusal: no journal row, and no fact that no row covers. */
static inline void scene_is_unchanged(struct scene *s, int64_t head)
{
    struct tb_proof proof;

    assert_int_equal(scene_head(s), head);
    OK(tb_book_prove(&proof, s->actor.book, &err));
    assert_int_equal(proof.first_bad, 0);
    assert_string_equal(proof.why, "");
}

/* The act is refused with this code and a sentence that holds these words, and nothing of it is in the book. */
#define REFUSED(scene, call, code, words)                                                                    \
    do {                                                                                                     \
        int64_t head_ = scene_head(scene);                                                                   \
        tb_rc got_;                                                                                          \
        err.msg[0] = '\0';                                                                                   \
        got_ = (call);                                                                                       \
        if (got_ != (code) || !strstr(err.msg, words))                                                       \
            fail_msg("%s: %d '%s', not %d '...%s...'", #call, (int)got_, err.msg, (int)(code), words);       \
        scene_is_unchanged(scene, head_);                                                                    \
    } while (0)

#endif
