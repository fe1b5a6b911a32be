/* What a laboratory, drills and the judged lots of a site bring to its verdicts, and that each is told. */
#include "unit/bench_helper.h"

#include "tenterbook/act_drill.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/tell.h"
#include "work/model.h"

#include <math.h>

#define LOTS 12

static tb_rc analysed_part(struct scene *s, const char *lot, const char *found, const char *part)
{
    struct tb_assay_request a;
    struct tb_assay_lot_request r = { .lot = lot, .laboratory = "Ring Street", .anyway = true, .assay = &a };
    struct tb_assay_lot_outcome out;
    tb_rc rc;

    tb_assay_request_init(&a);
    a.found = found;
    a.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    r.part = part ? (enum tb_part_kind)tb_part_by_key(part) : TB_PART_WHOLE;
    rc = tb_act_assay(&out, &s->actor, &r, &s->mem, &err);
    tb_assay_lot_outcome_free(&out);
    return rc;
}

static tb_rc analysed(struct scene *s, const char *lot, const char *found)
{
    return analysed_part(s, lot, found, NULL);
}

/* One lot more, in a delivery of its own, with a bolt of that number. */
static const char *another_lot(struct scene *s, const char *letter, const char *declared)
{
    struct tb_book *b = s->actor.book;
    struct tb_lot lot;

    OK(tb_book_begin(b, "Ada Fell", "receive", &err));
    s->delivery = (struct tb_delivery){ .arrived = "2026-10-06", .supplier = s->supplier.id };
    OK(tb_delivery_add(&s->delivery, b, &s->mem, &err));
    scene_add_lot(s, &lot, 1, declared, 1, letter);
    OK(tb_book_commit(b, &err));
    return tb_arena_strdup(&s->mem, lot.ref);
}

static void burned(struct scene *s, const char *bolt, const char *cues)
{
    struct tb_burn_outcome out = burn_one(s, cut_one(s, bolt, TB_PART_WHOLE), cues);

    tb_rejudged_free(&out.judged);
}

/* The lot judged now. */
static struct tb_rejudged judged(struct scene *s, const char *lot)
{
    struct tb_rejudged out;

    OK(tb_act_judge(&out, &s->actor, lot, 0, &s->mem, &err));
    return out;
}

static double lowest(struct scene *s, const char *lot)
{
    struct tb_rejudged out = judged(s, lot);
    double low = out.v.verdict.bounds.low;

    tb_rejudged_free(&out);
    return low;
}

static size_t behind(struct scene *s, const char *lot)
{
    struct tb_rejudged out = judged(s, lot);
    size_t n = out.v.verdict.settled_lots;

    tb_rejudged_free(&out);
    return n;
}

/* So many lots that burned as cotton, which is declared; some of them settled by a laboratory. */
static const char *with_lots(struct scene *s, bool settled, const char *found)
{
    const char *last = NULL;

    for (int i = 0; i < LOTS; i++) {
        char letter[] = { (char)('C' + i), '\0' }, bolt[] = { (char)('C' + i), '1', '\0' };

        last = another_lot(s, letter, "100% cotton");
        burned(s, bolt, AS_COTTON);
        if (settled)
            OK(analysed(s, last, found));
    }
    return last;
}

static void a_lot_that_a_laboratory_settled_widens_the_limit_of_every_other(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *note = "this site's own that a laboratory settled afterwards (lots: 12;";
    struct tb_rejudged out;
    struct tb_bounds none;
    bool told = false;
    json_t *j;

    (void)state;
    tb_bounds_published(&none);
    burned(s, "B1", AS_COTTON " in_flame:burns_fast removed:afterglow"); /* as many looks as were tested */
    (void)with_lots(s, true, "100% cotton");
    out = judged(s, s->lot.ref);
    assert_true(out.v.verdict.bounds.low < none.low);
    assert_true(out.recorded); /* with other limits it is another verdict */
    for (size_t i = 0; i < out.v.verdict.n_note; i++)
        told |= strstr(out.v.verdict.note[i], note) != NULL;
    assert_true(told);
    j = tb_lot_verdict_json(&out.v, &out.lot);
    assert_int_equal(json_integer_value(json_object_get(json_object_get(j, "limits"), "settled_lots")), LOTS);
    json_decref(j);
    tb_rejudged_free(&out);
    scene_free(s);
}

/* Neither report was taken back: the lots are open, and no limit moves by them, whichever came last. */
static void lots_about_which_laboratories_disagree_move_no_limit(void **state)
{
    static const char *const found[][2] = { { "100% cotton", "100% polyester" },
                                            { "100% polyester", "100% cotton" } };
    struct tb_bounds none;

    (void)state;
    tb_bounds_published(&none);
    for (size_t order = 0; order < 2; order++) {
        struct scene *s = scene_make("100% cotton", 1);
        struct tb_rejudged out;
        const char *lot;

        burned(s, "B1",
               AS_COTTON " in_flame:burns_fast removed:afterglow"); /* as many looks as were tested */
        for (int i = 0; i < LOTS; i++) {
            char letter[] = { (char)('C' + i), '\0' }, bolt[] = { (char)('C' + i), '1', '\0' };

            lot = another_lot(s, letter, "100% cotton");
            burned(s, bolt, AS_COTTON);
            OK(analysed(s, lot, found[order][0]));
            OK(analysed(s, lot, found[order][1]));
        }
        out = judged(s, s->lot.ref);
        assert_float_equal(out.v.verdict.bounds.low, none.low, 1e-9);
        assert_float_equal(out.v.verdict.bounds.high, none.high, 1e-9);
        assert_int_equal(out.v.verdict.settled_lots, 0);
        tb_rejudged_free(&out);
        scene_free(s);
    }
}

static bool noted(const struct tb_verdict *v, const char *text)
{
    for (size_t i = 0; i < v->n_note; i++)
        if (strstr(v->note[i], text))
            return true;
    return false;
}

/* Vergeer et al. 2016: one misleading case narrows a bound; whoever reads the verdict is told that no burn contradicts then. */
static void a_lot_that_contradicted_and_was_cleared_narrows_the_limit_and_every_verdict_says_so(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *cleared = another_lot(s, "C", "100% cotton");
    struct tb_rejudged out;
    struct tb_bounds none;

    (void)state;
    tb_bounds_published(&none);
    burned(s, "B1", AS_COTTON " in_flame:burns_fast removed:afterglow");
    burned(s, "C1", AS_POLYESTER);
    out = judged(s, s->lot.ref);
    assert_false(noted(&out.v.verdict, "burned otherwise than the laboratory found them"));
    tb_rejudged_free(&out);
    OK(analysed(s, cleared, "100% cotton"));
    out = judged(s, s->lot.ref);
    assert_true(out.v.verdict.full_bounds.low > none.low);
    assert_true(noted(&out.v.verdict, "burned otherwise than the laboratory found them"));
    assert_int_equal(noted(&out.v.verdict, "no burn contradicts a declaration"),
                     exp(out.v.verdict.full_bounds.low) >= out.v.verdict.contradicts_below);
    tb_rejudged_free(&out);
    scene_free(s);
}

/* Only what was in doubt is sent, so it is no sample of what comes in: Begg and Greenes 1983. */
static void a_doubted_lot_that_was_cleared_counts_by_the_lots_that_were_not_sent(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *cleared = another_lot(s, "P", "100% cotton");
    struct tb_evidence_settings set = { 0 };
    struct tb_rejudged out;

    (void)state;
    burned(s, "B1", AS_COTTON " in_flame:burns_fast removed:afterglow");
    burned(s, "P1", AS_POLYESTER);
    (void)with_lots(s, false, NULL);
    OK(analysed(s, cleared, "100% cotton"));
    OK(tb_settled_read(&set, s->actor.book, TB_BOOK_NOW, &s->mem, &err));
    assert_int_equal(set.n_settled, 1);
    assert_int_equal(set.settled[0].grade, TB_GRADE_CONTRADICTS);
    assert_true(set.settled[0].judged[TB_GRADE_CONTRADICTS] == 1);
    assert_true(set.judged[TB_GRADE_CONTRADICTS] == 1 && set.judged[TB_GRADE_FITS] == LOTS + 1);
    out = judged(s, s->lot.ref);
    assert_true(fabs(out.v.verdict.settled_cases - 1.0 / (LOTS + 2)) < 1e-12);
    assert_true(out.v.verdict.full_bounds.low < log(out.v.verdict.contradicts_below));
    assert_true(noted(&out.v.verdict, "They count as 0.071 cases"));
    assert_false(noted(&out.v.verdict, "no burn contradicts a declaration"));
    tb_rejudged_free(&out);
    burned(s, (another_lot(s, "Q", "100% cotton"), "Q1"), AS_COTTON); /* judged after the laboratory spoke */
    set = (struct tb_evidence_settings){ 0 };
    OK(tb_settled_read(&set, s->actor.book, TB_BOOK_NOW, &s->mem, &err));
    assert_true(set.judged[TB_GRADE_FITS] == LOTS + 1);
    scene_free(s);
}

static void a_lot_that_no_laboratory_settled_changes_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_bounds none;

    (void)state;
    tb_bounds_published(&none);
    burned(s, "B1", AS_COTTON);
    (void)with_lots(s, false, NULL);
    assert_true(lowest(s, s->lot.ref) >= none.low);
    assert_int_equal(behind(s, s->lot.ref), 0);
    scene_free(s);
}

/* What the laboratory found of a delivery would strengthen the burns that it settled. */
static void no_lot_widens_the_limit_it_is_judged_by(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_lot beside;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &beside, 2, "100% cotton", 1, "A");
    OK(tb_book_commit(s->actor.book, &err));
    burned(s, "B1", AS_COTTON);
    burned(s, "A1", AS_COTTON);
    OK(analysed(s, s->lot.ref, "100% cotton"));
    assert_int_equal(behind(s, s->lot.ref), 0);
    assert_int_equal(behind(s, beside.ref), 0); /* of the same delivery */
    burned(s, (another_lot(s, "C", "100% cotton"), "C1"), AS_COTTON);
    assert_int_equal(behind(s, "C1"), 1);
    scene_free(s);
}

/* Whoever burns what the laboratory has named sees what was named. */
static void burns_after_the_laboratory_spoke_settle_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *late = another_lot(s, "C", "100% cotton");

    (void)state;
    burned(s, "B1", AS_COTTON);
    OK(analysed(s, late, "100% cotton"));
    burned(s, "C1", AS_COTTON);
    assert_int_equal(behind(s, s->lot.ref), 0);
    OK(analysed(s, late, "100% cotton"));
    assert_int_equal(behind(s, s->lot.ref), 0); /* the first analysis counts, not the last */
    scene_free(s);
}

/*
 * By the rule that judges burns: linen burns like cotton, a little elastane may be there or not, wool is something else, a
 * lot of two parts is settled when both were analysed, or one of them is false.
 */
static void what_was_found_is_as_declared_where_it_burns_like_it(void **state)
{
    static const struct {
        const char *declared, *found, *part;
        size_t lots;
        bool as_declared;
    } row[] = { { "100% cotton", "100% linen", NULL, 1, true },
                { "97% cotton 3% elastane", "100% cotton", NULL, 1, true },
                { "97% cotton 3% elastane", "88% cotton 12% elastane", NULL, 1, true },
                { "100% cotton", "60% cotton 40% polyester", NULL, 1, false },
                { "60% cotton 40% polyester", "100% cotton", NULL, 1, false },
                { "100% cotton", "92% cotton 8% polyester", NULL, 1, true },
                { "warp: 100% cotton; weft: 100% polyester", "100% cotton", "warp", 0, false },
                { "warp: 100% cotton; weft: 100% polyester", "100% cotton", "weft", 1, false } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct scene *s = scene_make(row[i].declared, 1);
        struct tb_evidence_settings set = { 0 };

        burned(s, "B1", AS_COTTON);
        OK(analysed_part(s, s->lot.ref, row[i].found, row[i].part));
        OK(tb_settled_read(&set, s->actor.book, TB_BOOK_NOW, &s->mem, &err));
        if (set.n_settled != row[i].lots || (row[i].lots && set.settled[0].as_declared != row[i].as_declared))
            fail_msg("%s, found %s", row[i].declared, row[i].found);
        if (row[i].lots)
            assert_string_equal(set.settled[0].unit, s->lot.delivery);
        OK(tb_settled_read(&set, s->actor.book, scene_head(s) - 1, &s->mem, &err));
        assert_int_equal(set.n_settled, 0); /* before the laboratory had spoken */
        scene_free(s);
    }
}

/* Cotton dealt blind, and answered as it burns; but for the first `wrong` cards, which burn as polyester. */
static void drilled(struct scene *s, size_t cards, size_t wrong)
{
    struct tb_drill_outcome dealt;
    struct tb_actor wren = { s->actor.book, "Wren Dale" };
    struct tb_cut_outcome cut;

    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = "100% cotton" }, &s->mem, &err));
    OK(tb_act_drill(&dealt, &s->actor, &(struct tb_drill_request){ "Wren Dale", cards, "abc" }, &s->mem,
                    &err));
    for (size_t i = 0; i < cards; i++) {
        struct tb_observation seen = seen_as(i < wrong ? AS_POLYESTER : AS_COTTON);
        struct tb_answer_request r = { tb_arena_printf(&s->mem, "1-%02zu", i + 1), "cellulose", &seen,
                                       "candle" };
        struct tb_answer_outcome out;

        OK(tb_act_answer(&out, &wren, &r, &s->mem, &err));
    }
}

/* By hand: the published 0.003 counts as 125 burns, so (0.375 + mistakes) of (125 + burns). */
static void drills_give_the_chance_of_a_mistake_once_there_are_enough(void **state)
{
    static const struct {
        size_t cards, wrong;
        double chance;
    } row[] = { { TB_DRILLED_LEAST - 1, 1, 0.003 },
                { TB_DRILLED_LEAST, 1, 1.375 / 155 },
                { TB_DRILLED_LEAST, 0, 0.375 / 155 } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct scene *s = scene_make("100% cotton", 1);
        bool enough = row[i].cards >= TB_DRILLED_LEAST;
        struct tb_drilled d;
        struct tb_rejudged out;
        struct tb_drill_scores scores;
        struct tb_text said = { 0 };
        double chance;

        drilled(s, row[i].cards, row[i].wrong);
        OK(tb_bench_error_read(&chance, &d, s->actor.book, TB_BOOK_NOW, &s->mem, &err));
        OK(tb_drill_scores_read(&scores, s->actor.book, NULL, &s->mem, &err));
        tb_testers_together_words(&said, &scores);
        assert_int_equal(strstr(tb_text_str(&said), "taken to happen in") != NULL, enough);
        tb_text_free(&said);
        assert_float_equal(chance, row[i].chance, 1e-12);
        assert_int_equal(d.burns, enough ? row[i].cards : 0);
        assert_int_equal(d.mistakes, enough ? row[i].wrong : 0);
        assert_true(!enough || (d.lower < chance && chance < d.upper));
        burned(s, "B1", AS_COTTON);
        out = judged(s, s->lot.ref);
        assert_float_equal(out.v.verdict.bench_error, row[i].chance, 1e-12);
        tb_rejudged_free(&out);
        /* the last answer is not counted in what the book held before it */
        OK(tb_bench_error_read(&chance, &d, s->actor.book, scene_head(s) - 6, &s->mem, &err));
        assert_int_equal(d.burns, 0);
        scene_free(s);
    }
}

/* A verdict that a drill came after is computed again as it was. */
static void an_old_verdict_is_computed_with_the_drills_and_laboratories_of_its_day(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_rejudged out;
    int64_t row;

    (void)state;
    burned(s, "B1", AS_COTTON);
    row = scene_head(s);
    drilled(s, TB_DRILLED_LEAST, 3);
    (void)with_lots(s, true, "100% cotton");
    out = judged(s, s->lot.ref);
    assert_true(out.recorded);
    tb_rejudged_free(&out);
    OK(tb_judge_as_of(&out, s->actor.book, s->lot.ref, row, &s->mem, &err));
    assert_int_equal(out.v.verdict.settled_lots, 0);
    assert_float_equal(out.v.verdict.bench_error, 0.003, 1e-12);
    tb_rejudged_free(&out);
    OK(tb_judge_as_of(&out, s->actor.book, s->lot.ref, scene_head(s), &s->mem, &err));
    assert_int_equal(out.v.verdict.settled_lots, LOTS);
    assert_int_equal(out.v.verdict.drilled.mistakes, 3);
    tb_rejudged_free(&out);
    scene_free(s);
}

/* Bayes by hand: b / (b + (1 - b) r). */
static void a_ratio_means_what_bayes_makes_of_it_at_the_base_rate(void **state)
{
    static const struct {
        double rate, ratio, chance;
    } row[] = { { 0.03, 35, 0.000882872277 },       /* 0.03 / (0.03 + 0.97 * 35) */
                { 0.03, 1.0 / 46, 0.587234042553 }, /* 1.38 / (1.38 + 0.97) */
                { 0.5, 4, 0.2 },
                { 0.25, 1, 0.25 } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        const struct tb_verdict v = { .base_rate = row[i].rate, .ratio = row[i].ratio };

        assert_float_equal(tb_verdict_chance_false(&v), row[i].chance, 1e-9);
    }
    assert_true(isnan(tb_verdict_chance_false(&(struct tb_verdict){ .ratio = 35 }))); /* nobody said */
}

static void the_base_rate_is_published_until_the_site_says_otherwise(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_rejudged before, after;
    enum tb_base_from from;
    double published, rate;

    (void)state;
    published = tb_base_rate_published();
    OK(tb_base_rate_read(&rate, &from, s->actor.book, &s->mem, &err));
    assert_int_equal(from, TB_BASE_PUBLISHED);
    assert_float_equal(rate, published, 1e-12);
    burned(s, "B1", AS_COTTON);
    before = judged(s, s->lot.ref);
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "base_rate", "0.02", &err));
    OK(tb_book_commit(s->actor.book, &err));
    after = judged(s, s->lot.ref);
    assert_int_equal(after.v.verdict.base_from, TB_BASE_SETTING);
    assert_float_equal(after.v.verdict.base_rate, 0.02, 1e-12);
    /* the ratio never contains it: nothing new is to be recorded */
    assert_float_equal(after.v.verdict.log_ratio, before.v.verdict.log_ratio, 1e-12);
    assert_string_equal(after.v.verdict.digest, before.v.verdict.digest);
    assert_false(after.recorded);
    tb_rejudged_free(&before);
    tb_rejudged_free(&after);
    scene_free(s);
}

/* What laboratories answered of a lot, as a verdict on it is told. */
static void answers(struct scene *s, const char *lot, enum tb_lab_answer answer, bool settled, bool again)
{
    struct tb_rejudged out;
    bool proposed = false;

    OK(tb_act_judge(&out, &s->actor, lot, TB_WANT_NEXT, &s->mem, &err));
    assert_int_equal(out.laboratory.answer, answer);
    assert_int_equal(out.laboratory.settled, settled);
    for (size_t i = 0; i < out.v.verdict.n_next; i++)
        proposed = proposed || strcmp(out.v.verdict.next[i].test, "laboratory") == 0;
    assert_int_equal(proposed, again);
    assert_int_equal(isnan(tb_verdict_chance_false(&out.v.verdict)), settled);
    tb_rejudged_free(&out);
}

static void a_verdict_knows_what_a_laboratory_answered_to_the_words_of_now(void **state)
{
    struct scene *s = scene_make("60% cotton 40% viscose", 1);
    struct tb_declare_request again = { .lot = s->lot.ref,
                                        .text = "50% cotton 50% polyester",
                                        .why = "the mill says so",
                                        .slip = true,
                                        .anyway = true };
    struct tb_rejudged out;

    (void)state;
    burned(s, "B1", AS_POLYESTER);
    answers(s, s->lot.ref, TB_LAB_UNSAID, false, true);
    OK(analysed(s, s->lot.ref, "60% cotton 40% viscose"));
    answers(s, s->lot.ref, TB_LAB_CONFORMS, true, false);
    out = judged(s, s->lot.ref);
    assert_int_equal(out.v.verdict.kind, TB_CONTRADICTS); /* the burns say what they said */
    tb_rejudged_free(&out);
    /* two that contradict each other answer neither way, and an answer to other words is none */
    OK(analysed(s, s->lot.ref, "55% cotton 45% polyester"));
    answers(s, s->lot.ref, TB_LAB_UNSAID, true, false);
    OK(tb_act_declare(&out, &s->actor, &again, &s->mem, &err));
    assert_int_equal(out.laboratory.n, 2);
    assert_int_equal(out.laboratory.answer, TB_LAB_UNSAID);
    tb_rejudged_free(&out);
    scene_free(s);
}

static void a_laboratory_answers_for_a_lot_when_all_its_parts_are_analysed(void **state)
{
    struct scene *s = scene_make("warp 60% cotton 40% viscose, weft 70% wool 30% nylon", 1);
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B1", TB_PART_WARP), AS_POLYESTER);

    (void)state;
    OK(analysed_part(s, s->lot.ref, "60% cotton 40% viscose", "warp"));
    answers(s, s->lot.ref, TB_LAB_UNSAID, false, true);
    OK(analysed_part(s, s->lot.ref, "70% wool 30% nylon", "weft"));
    answers(s, s->lot.ref, TB_LAB_CONFORMS, true, false);
    OK(analysed_part(s, s->lot.ref, "100% polyester", "weft"));
    answers(s, s->lot.ref, TB_LAB_UNSAID, true, false);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

static void what_a_laboratory_found_in_cloth_without_a_label_is_its_answer(void **state)
{
    struct scene *s = scene_make("", 1);
    struct tb_text said = { 0 };
    struct tb_rejudged out;

    (void)state;
    burned(s, "B1", AS_POLYESTER);
    OK(analysed(s, s->lot.ref, "100% polyester"));
    OK(tb_act_judge(&out, &s->actor, s->lot.ref, TB_WANT_NEXT, &s->mem, &err));
    assert_true(out.laboratory.settled);
    tb_laboratory_words(&said, TB_READER, &out.laboratory, "", out.v.verdict.grade);
    assert_non_null(
        strstr(said.s, "by Ring Street: 100 % polyester. It was compared with no declaration.\n"));
    assert_non_null(strstr(said.s, "A laboratory's result weighs more than any burn"));
    tb_text_free(&said);
    tb_rejudged_free(&out);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lot_that_a_laboratory_settled_widens_the_limit_of_every_other),
        cmocka_unit_test(lots_about_which_laboratories_disagree_move_no_limit),
        cmocka_unit_test(a_lot_that_contradicted_and_was_cleared_narrows_the_limit_and_every_verdict_says_so),
        cmocka_unit_test(a_doubted_lot_that_was_cleared_counts_by_the_lots_that_were_not_sent),
        cmocka_unit_test(a_lot_that_no_laboratory_settled_changes_nothing),
        cmocka_unit_test(no_lot_widens_the_limit_it_is_judged_by),
        cmocka_unit_test(burns_after_the_laboratory_spoke_settle_nothing),
        cmocka_unit_test(drills_give_the_chance_of_a_mistake_once_there_are_enough),
        cmocka_unit_test(an_old_verdict_is_computed_with_the_drills_and_laboratories_of_its_day),
        cmocka_unit_test(a_ratio_means_what_bayes_makes_of_it_at_the_base_rate),
        cmocka_unit_test(the_base_rate_is_published_until_the_site_says_otherwise),
        cmocka_unit_test(what_was_found_is_as_declared_where_it_burns_like_it),
        cmocka_unit_test(a_verdict_knows_what_a_laboratory_answered_to_the_words_of_now),
        cmocka_unit_test(a_laboratory_answers_for_a_lot_when_all_its_parts_are_analysed),
        cmocka_unit_test(what_a_laboratory_found_in_cloth_without_a_label_is_its_answer),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
