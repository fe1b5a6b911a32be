/* The act of an analysis: what is recorded, what is compared, each refusal, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/act_lab.h"
#include "tenterbook/act_site.h"
#include "tenterbook/concluded.h"

/* A laboratory reports a composition with half a point of uncertainty. */
static struct tb_assay_request reported(const char *found)
{
    struct tb_assay_request r;

    tb_assay_request_init(&r);
    r.found = found;
    r.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    return r;
}

static tb_rc assay(struct tb_assay_lot_outcome *out, struct scene *s, const struct tb_assay_lot_request *r)
{
    return tb_act_assay(out, &s->actor, r, &s->mem, &err);
}

static void an_analysis_is_recorded_with_what_it_was_compared_with(void **state)
{
    struct scene *s = scene_make("60% cotton 40% polyester", 1);
    struct tb_assay_request found = reported("45% cotton 55% polyester");
    struct tb_assay_lot_request r = {
        .lot = "B1", .laboratory = "Ring Street", .report = "77", .analysed_on = "2026-10-06", .assay = &found
    };
    struct tb_assay_lot_outcome out;
    struct tb_analysis *x;
    size_t n;
    int64_t head = scene_head(s);

    (void)state;
    OK(assay(&out, s, &r));
    assert_int_equal(scene_head(s), head + 1);
    assert_string_equal(out.lot.ref, s->lot.ref);
    assert_int_equal(out.assay.conform[0].answer, TB_LAB_FAILS);
    assert_true(out.held);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    OK(tb_analysis_list(&x, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(x[0].id, out.analysis.id);
    assert_int_equal(x[0].part, TB_PART_WHOLE);
    assert_string_equal(x[0].laboratory, "Ring Street");
    assert_string_equal(x[0].route, "reported");
    assert_string_equal(x[0].found, "45 % cotton, 55 % polyester");
    assert_non_null(strstr(x[0].answers, "eu:does_not_conform"));
    assert_non_null(strstr(x[0].detail, "\"route\":\"reported\""));
    assert_string_equal(x[0].declared, "60% cotton 40% polyester");
    assert_string_equal(x[0].analysed_on, "2026-10-06");
    assert_string_equal(x[0].recorded_by, "Ada Fell");
    assert_float_equal(x[0].u, 0.5, 1e-12);
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

static void masses_are_computed_for_the_fibres_the_lot_declares(void **state)
{
    struct scene *s = scene_make("60% cotton 40% polyester", 1);
    const char *weights[] = { "0.6, 0.4", "0.61, 0.39" };
    struct tb_assay_request masses;
    struct tb_assay_lot_request r = { .lot = s->lot.ref, .assay = &masses };
    struct tb_assay_lot_outcome out;

    (void)state;
    tb_assay_request_init(&masses);
    masses.route = TB_LAB_HAND;
    masses.reading[masses.readings++] = (struct tb_assay_reading){ "weights", weights, 2 };
    OK(assay(&out, s, &r));
    assert_string_equal(out.analysis.route, "hand");
    assert_string_equal(out.analysis.methods, "");
    assert_true(out.analysis.u > 0);
    assert_int_equal(out.assay.result.dets, 2);
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

static void a_part_is_compared_with_what_is_declared_of_it(void **state)
{
    struct scene *s = scene_make("warp: 100% cotton; weft: 100% linen", 1);
    struct tb_assay_request found = reported("100% cotton");
    struct tb_assay_lot_request r = { .lot = s->lot.ref, .part = TB_PART_WEFT, .assay = &found };
    struct tb_assay_lot_outcome out;

    (void)state;
    OK(assay(&out, s, &r));
    assert_int_equal(out.assay.conform[0].answer, TB_LAB_FAILS);
    tb_assay_lot_outcome_free(&out);
    r.part = TB_PART_WARP;
    OK(assay(&out, s, &r));
    /* in the European Union, which allows 2 points of other fibre: 16 CFR and C.R.C. c. 1551 allow none */
    assert_non_null(strstr(out.analysis.answers, "eu:conforms"));
    tb_assay_lot_outcome_free(&out);
    r.part = TB_PART_PILE;
    REFUSED(s, assay(&out, s, &r), TB_EINVAL, "there is no pile in it; say which part was analysed");
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

static void a_doubtful_declaration_is_compared_with_nothing_and_the_result_recorded(void **state)
{
    struct scene *s = scene_make("100% PE", 1);
    struct tb_assay_request found = reported("100% polyester");
    struct tb_assay_lot_request r = { .lot = s->lot.ref, .assay = &found };
    struct tb_assay_lot_outcome out;

    (void)state;
    OK(assay(&out, s, &r));
    assert_null(out.assay.claim);
    assert_null(out.analysis.declaration);
    assert_string_equal(out.analysis.answers, "");
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

static void a_correction_takes_the_place_of_its_analysis_once(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_assay_request found = reported("100% linen");
    struct tb_assay_lot_request r = { .lot = s->lot.ref, .assay = &found };
    struct tb_assay_lot_outcome out;
    struct tb_analysis *x;
    struct tb_lot other;
    size_t n;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% cotton", 1, "C");
    OK(tb_book_commit(s->actor.book, &err));
    OK(assay(&out, s, &r));
    r.corrects = out.analysis.id;
    tb_assay_lot_outcome_free(&out);
    found.found = "100% cotton";
    OK(assay(&out, s, &r));
    tb_assay_lot_outcome_free(&out);
    OK(tb_analysis_list(&x, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(x[0].found, "100 % cotton");
    REFUSED(s, assay(&out, s, &r), TB_EINVAL, "was corrected already");
    tb_assay_lot_outcome_free(&out);
    r.corrects = x[0].id;
    r.lot = other.ref;
    REFUSED(s, assay(&out, s, &r), TB_EINVAL, "is of another lot");
    tb_assay_lot_outcome_free(&out);
    r.corrects = "nothing";
    REFUSED(s, assay(&out, s, &r), TB_ENOTFOUND, "there is no analysis nothing");
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

static void a_report_that_says_the_opposite_or_came_before_is_asked_about(void **state)
{
    struct scene *s = scene_make("60% cotton 40% polyester", 1);
    struct tb_assay_request fails = reported("45% cotton 55% polyester"),
                            fits = reported("60% cotton 40% polyester");
    struct tb_assay_lot_request r = {
        .lot = "B1", .laboratory = "Ring Street", .report = "77", .analysed_on = "2026-10-08", .assay = &fails
    };
    struct tb_assay_lot_outcome out;
    struct tb_concluded c;
    struct tb_analysis *x;
    struct tb_lot lot;
    size_t n;

    (void)state;
    OK(assay(&out, s, &r));
    tb_assay_lot_outcome_free(&out);
    REFUSED(s, assay(&out, s, &r), TB_EEXISTS, "report 77 of Ring Street is recorded already");
    tb_assay_lot_outcome_free(&out);
    r.report = "78";
    r.assay = &fits;
    r.analysed_on = "2026-10-07";
    REFUSED(s, assay(&out, s, &r), TB_EREFUSED, "this one says the opposite");
    tb_assay_lot_outcome_free(&out);
    r.anyway = true;
    OK(assay(&out, s, &r));
    tb_assay_lot_outcome_free(&out);
    /* neither was taken back: no day decides, and no order of typing */
    lot = scene_lot(s);
    OK(tb_lot_concluded(&c, s->actor.book, &lot, &s->mem, &err));
    assert_int_equal(c.kind, TB_OPEN);
    assert_int_equal(c.open, TB_OPEN_DISAGREE);
    OK(tb_analysis_list(&x, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_string_equal(x[1].report, "77");
    assert_int_equal(scene_lot(s).analyses, 2);
    /* the same cloth analysed again, in the place of the first */
    r.corrects = x[1].id;
    r.report = "79";
    OK(assay(&out, s, &r));
    tb_assay_lot_outcome_free(&out);
    OK(tb_lot_concluded(&c, s->actor.book, &lot, &s->mem, &err));
    assert_int_equal(c.kind, TB_CONFORMS);
    assert_int_equal(scene_lot(s).standing, TB_WAITING); /* nothing holds it any more */
    scene_free(s);
}

/* 98.5 % is within the 2 % that Article 8 of Regulation (EU) 1007/2011 leaves a pure product, and not within 16 CFR 303.43 for one fibre. */
static void where_no_market_is_named_those_count_that_the_site_sells_to(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_assay_request near = reported("98.5% cotton 1.5% polyester");
    struct tb_assay_lot_request r = { .lot = "B1", .report = "1", .assay = &near };
    struct tb_assay_lot_outcome out;
    struct tb_concluded c;
    struct tb_lot lot;

    (void)state;
    near.figure[TB_ASSAY_UNCERTAINTY] = 0.1;
    OK(assay(&out, s, &r));
    tb_assay_lot_outcome_free(&out);
    lot = scene_lot(s);
    OK(tb_lot_concluded(&c, s->actor.book, &lot, &s->mem, &err));
    assert_int_equal(c.kind, TB_DOES_NOT);
    assert_string_equal(c.markets, "us ca");
    assert_string_equal(c.kept, "eu gb");
    OK(tb_act_set(&s->actor, &(struct tb_set_request){ .name = "market", .value = "gb" }, &err));
    r.corrects = tb_arena_strdup(&s->mem, c.record);
    r.report = "2";
    OK(assay(&out, s, &r));
    tb_assay_lot_outcome_free(&out);
    OK(tb_lot_concluded(&c, s->actor.book, &lot, &s->mem, &err));
    assert_int_equal(c.kind, TB_CONFORMS);
    assert_string_equal(c.markets, "gb");
    scene_free(s);
}

static void what_cannot_be_recorded_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_assay_request found = reported("100% linen");
    struct tb_assay_lot_outcome out;
    struct tb_assay_lot_request good = { .lot = s->lot.ref, .assay = &found }, r;

    (void)state;
#define NO(code, words, field, value)                                                                        \
    r = good;                                                                                                \
    r.field = value;                                                                                         \
    REFUSED(s, assay(&out, s, &r), code, words);                                                             \
    tb_assay_lot_outcome_free(&out)
    NO(TB_ENOTFOUND, "W99-001.01", lot, "W99-001.01");
    NO(TB_EINVAL, "2999-01-01 is later than today", analysed_on, "2999-01-01");
    NO(TB_EINVAL, "the day of the analysis '2026-02-30'", analysed_on, "2026-02-30");
    REFUSED(s, tb_act_assay(&out, &nobody, &good, &s->mem, &err), TB_EINVAL, "say who is writing");
    tb_assay_lot_outcome_free(&out);
    found.figure[TB_ASSAY_UNCERTAINTY] = (double)NAN;
    REFUSED(s, assay(&out, s, &good), TB_EUSAGE, "need its standard uncertainty");
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_analysis_is_recorded_with_what_it_was_compared_with),
        cmocka_unit_test(masses_are_computed_for_the_fibres_the_lot_declares),
        cmocka_unit_test(a_part_is_compared_with_what_is_declared_of_it),
        cmocka_unit_test(a_doubtful_declaration_is_compared_with_nothing_and_the_result_recorded),
        cmocka_unit_test(a_correction_takes_the_place_of_its_analysis_once),
        cmocka_unit_test(where_no_market_is_named_those_count_that_the_site_sells_to),
        cmocka_unit_test(a_report_that_says_the_opposite_or_came_before_is_asked_about),
        cmocka_unit_test(what_cannot_be_recorded_is_refused_and_leaves_nothing),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
