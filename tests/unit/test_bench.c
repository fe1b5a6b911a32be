/* Where the book and the evidence meet: one lot has one verdict, a bolt that contradicts speaks for its lot. */
#include "gen/ref_caution.h"
#include "tenterbook/setting.h"
#include "tenterbook/work.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <sodium.h>

#include "work/verdict.h"

#define OK(call)                                                                                             \
    do {                                                                                                     \
        tb_rc rc_ = (call);                                                                                  \
        if (rc_ != TB_OK)                                                                                    \
            fail_msg("%s: %d %s (%s)", #call, (int)rc_, err.msg, err.detail);                                \
    } while (0)

struct scene {
    char dir[64], path[96];
    struct tb_book *book;
    struct tb_arena mem;
    struct tb_lot lot;
};

static struct tb_err err;

/* A lot of two bolts, declared as the test says. */
static struct scene *make_scene(const char *declared)
{
    struct scene *s = tb_new(struct scene);
    struct tb_delivery d = { .arrived = "2026-10-05" };
    struct tb_supplier supplier;

    (void)snprintf(s->dir, sizeof s->dir, "/tmp/tenterbook-test-XXXXXX");
    assert_non_null(mkdtemp(s->dir));
    (void)snprintf(s->path, sizeof s->path, "%s/a.book", s->dir);
    OK(tb_book_make(s->path, "W", "Westgate shed", "GB", "Ada Fell", &err));
    OK(tb_book_open(&s->book, s->path, NULL, &err));
    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&supplier, s->book, "Harrow Mill", &s->mem, &err));
    d.supplier = supplier.id;
    OK(tb_delivery_add(&d, s->book, &s->mem, &err));
    s->lot = (struct tb_lot){ .unit_price = (double)NAN, .bolts = 2, .metres = 100 };
    OK(tb_lot_add(&s->lot, s->book, &d, 1, &s->mem, &err));
    OK(tb_declaration_add(s->book, s->lot.id, declared, TB_ORIGIN_ROW, NULL, &err));
    for (int i = 0; i < 2; i++) {
        struct tb_bolt bolt = { .lot = s->lot.id,
                                .number = i ? "B2" : "B1",
                                .metres = 50,
                                .width_cm = (double)NAN,
                                .mass_gm2 = (double)NAN };

        OK(tb_bolt_add(&bolt, s->book, &err));
    }
    OK(tb_book_commit(s->book, &err));
    return s;
}

static void drop_scene(struct scene *s)
{
    char command[128];

    tb_book_close(s->book);
    tb_arena_free(&s->mem);
    (void)snprintf(command, sizeof command, "rm -rf '%s'", s->dir);
    (void)!system(command);
    free(s);
}

/* Record one burn of a bolt (or of known cloth, bolt NULL); cues parted by blanks. Answers its id. */
static const char *burn(struct scene *s, const char *bolt_number, const char *known, const char *cues,
                        const char *replaces)
{
    struct tb_swatch swatch = { .part = TB_PART_WHOLE, .known = known };
    struct tb_observation o = { 0 };
    struct tb_cue_seen seen[16];
    struct tb_burn u = { .cue = seen, .looked = "", .replaces = replaces, .sample_mm = (double)NAN };
    struct tb_bolt bolt;

    OK(tb_observation_read(&o, cues, NULL, NULL, &err));
    for (size_t i = 0; i < tb_cue_count(); i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, (int)i);
        if (o.sight[i] == TB_SIGHT_SEEN)
            seen[u.cues++] = (struct tb_cue_seen){ cue.key, true };
    }
    OK(tb_book_begin(s->book, "Ben Ito", "burn", &err));
    if (replaces) {
        struct tb_burn old;

        OK(tb_burn_find(&old, s->book, replaces, &s->mem, &err));
        u.swatch = old.swatch;
    } else {
        if (bolt_number) {
            OK(tb_bolt_find(&bolt, s->book, s->lot.id, bolt_number, &s->mem, &err));
            swatch.lot = s->lot.id;
            swatch.lot_ref = s->lot.ref;
            swatch.bolt = bolt.id;
        }
        OK(tb_swatch_add(&swatch, s->book, &s->mem, &err));
        u.swatch = swatch.id;
    }
    OK(tb_burn_add(&u, s->book, &s->mem, &err));
    OK(tb_book_commit(s->book, &err));
    return u.id;
}

static void judge(struct scene *s, struct tb_lot_verdict *v, bool *recorded, bool *held)
{
    struct tb_evidence *ev = NULL;
    struct tb_due due;
    struct tb_lot lot;

    OK(tb_bench_model(&ev, s->book, &err));
    OK(tb_book_begin(s->book, "Ben Ito", "judge", &err));
    OK(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err));
    OK(tb_bench_judge(v, s->book, &lot, ev, 0, TB_BOOK_NOW, &err));
    OK(tb_verdict_record(&due, s->book, &lot, v, &s->mem, &err));
    OK(tb_book_commit(s->book, &err));
    if (recorded)
        *recorded = due.record;
    if (held)
        *held = due.hold;
    tb_evidence_free(ev);
}

#define WOOL                                                                                                 \
    "in_flame:sizzles in_flame:bubbles removed:self_extinguishes odour:burning_hair "                        \
    "residue_form:crushable_bead"
#define ACRYLIC                                                                                              \
    "approach:melts in_flame:burns_fast in_flame:drips removed:continues_to_burn smoke:black odour:acrid "   \
    "residue_form:hard_bead"

static void one_false_bolt_contradicts_its_lot_and_is_named(void **state)
{
    struct scene *s = make_scene("100% wool");
    struct tb_lot_verdict v;
    bool recorded, held;

    (void)state;
    for (int i = 0; i < 3; i++) /* honest cloth in plenty must not outweigh the false bolt */
        (void)burn(s, "B1", NULL, WOOL, NULL);
    judge(s, &v, &recorded, &held);
    assert_int_equal(v.verdict.kind, TB_FITS);
    assert_false(held);
    tb_lot_verdict_free(&v);
    (void)burn(s, "B2", NULL, ACRYLIC, NULL);
    judge(s, &v, &recorded, &held);
    assert_int_equal(v.verdict.kind, TB_CONTRADICTS);
    assert_true(held);
    assert_int_equal(v.bolts, 2);
    assert_string_equal(v.bolt[1].number, "B2");
    assert_int_equal(v.bolt[0].kind, TB_FITS);
    assert_int_equal(v.bolt[1].kind, TB_CONTRADICTS);
    tb_lot_verdict_free(&v);
    drop_scene(s);
}

static void a_verdict_that_did_not_change_is_not_written_again(void **state)
{
    struct scene *s = make_scene("100% wool");
    struct tb_lot_verdict v;
    bool recorded, held;

    (void)state;
    judge(s, &v, &recorded, &held);
    assert_false(recorded); /* nothing burnt, nothing to say */
    tb_lot_verdict_free(&v);
    (void)burn(s, "B1", NULL, WOOL, NULL);
    judge(s, &v, &recorded, &held);
    assert_true(recorded);
    tb_lot_verdict_free(&v);
    judge(s, &v, &recorded, &held);
    assert_false(recorded);
    tb_lot_verdict_free(&v);
    drop_scene(s);
}

static void a_hold_ends_by_a_person_or_with_what_made_it(void **state)
{
    struct scene *s = make_scene("100% wool");
    struct tb_lot_verdict v;
    struct tb_lot lot;
    const char *id = burn(s, "B1", NULL, ACRYLIC, NULL);
    bool recorded, held;

    (void)state;
    judge(s, &v, &recorded, &held);
    assert_true(held);
    tb_lot_verdict_free(&v);
    judge(s, &v, &recorded, &held);
    tb_lot_verdict_free(&v);
    OK(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err));
    assert_int_equal(lot.standing, TB_HELD); /* however often it is judged */
    (void)burn(s, NULL, NULL, WOOL, id);     /* the record was wrong: corrected */
    judge(s, &v, &recorded, &held);
    assert_int_equal(v.verdict.kind, TB_FITS);
    tb_lot_verdict_free(&v);
    OK(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err));
    assert_int_equal(lot.standing, TB_WAITING);
    assert_int_equal(lot.verdict, TB_FITS);
    drop_scene(s);
}

static void a_verdict_comes_out_again_as_it_was_then(void **state)
{
    struct scene *s = make_scene("100% wool");
    struct tb_lot_verdict now, then;
    struct tb_evidence *ev = NULL;
    struct tb_judged *list;
    struct tb_lot lot;
    bool recorded, held;
    size_t n;

    (void)state;
    (void)burn(s, "B1", NULL, WOOL, NULL);
    judge(s, &now, &recorded, &held);
    tb_lot_verdict_free(&now);
    (void)burn(s, NULL, "100% wool", WOOL, NULL); /* known cloth teaches the model */
    (void)burn(s, "B2", NULL, "odour:burning_hair smoke:grey", NULL);
    judge(s, &now, &recorded, &held);
    OK(tb_judged_list(&list, &n, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_string_not_equal(list[0].reference, list[1].reference);
    OK(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err));
    OK(tb_bench_model_upto(&ev, s->book, list[0].entry, &err));
    OK(tb_bench_judge(&then, s->book, &lot, ev, 0, list[0].entry, &err));
    assert_string_equal(then.verdict.digest, list[0].reference);
    assert_true(then.verdict.log_ratio == list[0].log_ratio);
    tb_evidence_free(ev);
    tb_lot_verdict_free(&then);
    tb_lot_verdict_free(&now);
    drop_scene(s);
}

static bool says(const struct tb_caution *list, size_t n, const char *sentence)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(list[i].say, sentence) == 0)
            return true;
    return false;
}

/* caution.csv: a row is for the burn, for one bench test, or with "*" for every bench test. */
static void a_caution_for_every_bench_test_is_said_at_each_and_not_at_a_burn(void **state)
{
    struct tb_declaration d;
    const struct tb_caution *burn, *acetone, *melting;
    struct tb_arena mem = { 0 };
    size_t burns, acetones, meltings, rows = 0;

    (void)state;
    tb_declaration_read(&d, "100% cotton", 11);
    tb_bench_cautions(&burn, &burns, &d, "burn", &mem);
    tb_bench_cautions(&acetone, &acetones, &d, "acetone", &mem);
    tb_bench_cautions(&melting, &meltings, &d, "melting", &mem);
    for (size_t i = 0; i < tb_ref_caution_n; i++) {
        const struct tb_ref_caution *r = &tb_ref_caution[i];

        if (*r->fibres && strcmp(r->fibres, "*") != 0) /* of cloth that this is not */
            continue;
        if (strcmp(r->test, "*") == 0) {
            rows++;
            assert_true(says(acetone, acetones, r->say) && says(melting, meltings, r->say));
            assert_false(says(burn, burns, r->say));
        } else if (strcmp(r->test, "acetone") == 0) {
            rows++;
            assert_true(says(acetone, acetones, r->say));
            assert_false(says(melting, meltings, r->say) || says(burn, burns, r->say));
        }
    }
    assert_true(rows >= 2);
    tb_declaration_free(&d);
    tb_arena_free(&mem);
}

static void cautions_fit_what_is_declared(void **state)
{
    struct tb_declaration d;
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    bool cyanide = false, drips = false;
    size_t n, all;

    (void)state;
    tb_declaration_read(&d, "100% acrylic", 12);
    tb_bench_cautions(&list, &n, &d, "burn", &mem);
    for (size_t i = 0; i < n; i++) {
        cyanide = cyanide || strstr(list[i].say, "cyanide");
        drips = drips || strstr(list[i].say, "Drips");
        assert_true(list[i].source[0] != '\0');
    }
    assert_true(cyanide && drips);
    tb_declaration_free(&d);
    tb_declaration_read(&d, "100% cotton", 11);
    tb_bench_cautions(&list, &n, &d, "burn", &mem);
    for (size_t i = 0; i < n; i++)
        assert_null(strstr(list[i].say, "cyanide"));
    tb_declaration_free(&d);
    tb_declaration_read(&d, "?", 1); /* nothing known: the worst is assumed */
    tb_bench_cautions(&list, &all, &d, "burn", &mem);
    assert_true(all > n);
    tb_declaration_free(&d);
    tb_arena_free(&mem);
}

static void a_declared_finish_has_cautions_of_its_own(void **state)
{
    struct tb_declaration d;
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    size_t n, formaldehyde = 0, plain = 0;

    (void)state;
    tb_declaration_read(&d, "100% cotton flame retardant", 27);
    tb_bench_cautions(&list, &n, &d, "burn", &mem);
    for (size_t i = 0; i < n; i++)
        formaldehyde += strstr(list[i].say, "formaldehyde") && strstr(list[i].say, "bromine");
    tb_declaration_free(&d);
    tb_declaration_read(&d, "100% cotton", 11);
    tb_bench_cautions(&list, &n, &d, "burn", &mem);
    for (size_t i = 0; i < n; i++)
        plain += strstr(list[i].say, "formaldehyde") != NULL;
    assert_int_equal(formaldehyde, 1);
    assert_int_equal(plain, 0);
    tb_declaration_free(&d);
    tb_arena_free(&mem);
}

static void settings_refuse_what_they_do_not_take(void **state)
{
    const struct tb_setting_spec *spec;

    (void)state;
    OK(tb_setting_spec(&spec, "flame", &err));
    OK(tb_setting_check(spec, "yes", &err));
    assert_int_equal(tb_setting_check(spec, "perhaps", &err), TB_EINVAL);
    assert_int_equal(tb_setting_check(spec, "", &err), TB_EINVAL);
    OK(tb_setting_spec(&spec, "contradicts_below", &err));
    assert_int_equal(tb_setting_check(spec, "1.5", &err), TB_EINVAL);
    assert_int_equal(tb_setting_check(spec, "nan", &err), TB_EINVAL);
    OK(tb_setting_spec(&spec, "header:Ware", &err));
    assert_int_equal(tb_setting_spec(&spec, "flaem", &err), TB_ENOTFOUND);
    assert_non_null(strstr(err.msg, "'flame'"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_false_bolt_contradicts_its_lot_and_is_named),
        cmocka_unit_test(a_verdict_that_did_not_change_is_not_written_again),
        cmocka_unit_test(a_hold_ends_by_a_person_or_with_what_made_it),
        cmocka_unit_test(a_verdict_comes_out_again_as_it_was_then),
        cmocka_unit_test(a_caution_for_every_bench_test_is_said_at_each_and_not_at_a_burn),
        cmocka_unit_test(cautions_fit_what_is_declared),
        cmocka_unit_test(a_declared_finish_has_cautions_of_its_own),
        cmocka_unit_test(settings_refuse_what_they_do_not_take),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
