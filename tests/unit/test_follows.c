/* Whether a kept verdict still follows: held against weighing the same burn again with the model in force. */
#include "tenterbook/follows.h"
#include "unit/verdict_helper.h"

#include <math.h>

#define CASES 5

static const struct {
    const char *words, *saw;
} burned[CASES] = {
    { "100% cotton", "approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet" },
    { "100% cotton",
      "approach:ignites_easily,odour:burning_paper,residue_form:light_fluffy_ash,removed:afterglow" },
    { "100% cotton", "smoke:black" },
    { "100% cotton", "odour:burning_paper" },
    { "100% wool", "odour:burning_hair,residue_form:crushable_bead" },
};

static void judged(struct tb_verdict *v, const struct tb_evidence *ev, size_t i)
{
    struct tb_observation o = { .swatch = "a" };

    OK(tb_observation_read(&o, burned[i].saw, "", "", &err));
    judge(v, ev, burned[i].words, &o, 0);
}

static struct tb_once kept(const struct tb_verdict *v)
{
    return (struct tb_once){ .reference = v->digest,
                             .grade = v->grade,
                             .log_ratio = v->log_ratio,
                             .full_bounds = v->full_bounds,
                             .looks = v->looks,
                             .at_odds = v->at_odds,
                             .hindered = v->one_look || v->none_alone || v->few_tell || v->excused ||
                                         v->outdone || v->imitated };
}

/*
 * Of each burn: kept by one model, and weighed again by another, where all but limits and thresholds are alike. What goes further by now
 * is said to be another verdict, though something may hinder it that was not asked for then.
 */
static void held_against(const struct tb_evidence_settings *then, const struct tb_evidence_settings *now,
                         size_t *otherwise)
{
    struct tb_evidence *before = NULL, *after = NULL;

    *otherwise = 0;
    OK(tb_evidence_new(&before, then, NULL, 0, &err));
    OK(tb_evidence_new(&after, now, NULL, 0, &err));
    for (size_t i = 0; i < CASES; i++) {
        struct tb_verdict was, is;
        struct tb_once once;

        judged(&was, before, i);
        judged(&is, after, i);
        once = kept(&was);
        assert_int_equal(tb_evidence_follows(before, &once), TB_FOLLOWS);
        if (was.grade != is.grade)
            assert_int_equal(tb_evidence_follows(after, &once), TB_FOLLOWS_NOT);
        else if (was.grade != TB_GRADE_UNDECIDED && was.grade != TB_GRADE_SPEAKS_AGAINST)
            assert_int_equal(tb_evidence_follows(after, &once), TB_FOLLOWS);
        *otherwise += was.grade != is.grade;
        tb_verdict_free(&was);
        tb_verdict_free(&is);
    }
    tb_evidence_free(before);
    tb_evidence_free(after);
}

static void within_other_limits_it_is_what_weighing_again_gives(void **state)
{
    struct tb_evidence_settings plain, told;
    const struct tb_bounds narrow = { .low = -log(10), .high = log(10) };
    size_t otherwise;

    (void)state;
    tb_evidence_defaults(&plain);
    told = plain;
    held_against(&plain, &told, &otherwise);
    assert_int_equal(otherwise, 0);
    told.bounds = &narrow;
    held_against(&plain, &told, &otherwise);
    assert_true(otherwise > 0); /* nothing contradicts within them */
    held_against(&told, &plain, &otherwise);
    assert_true(otherwise > 0); /* and back */
}

static void with_other_thresholds_too(void **state)
{
    struct tb_evidence_settings plain, strict;
    size_t otherwise;

    (void)state;
    tb_evidence_defaults(&plain);
    strict = plain;
    strict.fits_above = 1e6;
    held_against(&plain, &strict, &otherwise);
    assert_true(otherwise > 0);
    held_against(&strict, &plain, &otherwise);
    assert_true(otherwise > 0);
    strict = plain;
    strict.contradicts_below = 1e-6;
    held_against(&plain, &strict, &otherwise);
    assert_true(otherwise > 0);
}

static void with_other_figures_it_is_not_seen(void **state)
{
    struct tb_evidence_settings plain, slips;
    struct tb_evidence *before = NULL, *after = NULL;
    struct tb_verdict v;
    struct tb_once once;

    (void)state;
    tb_evidence_defaults(&plain);
    slips = plain;
    slips.bench_error = 0.2;
    OK(tb_evidence_new(&before, &plain, NULL, 0, &err));
    OK(tb_evidence_new(&after, &slips, NULL, 0, &err));
    judged(&v, before, 0);
    once = kept(&v);
    assert_int_equal(tb_evidence_follows(after, &once), TB_FOLLOWS_UNSEEN);
    once.log_ratio = NAN; /* nothing was weighed: no figure changes that */
    assert_int_equal(tb_evidence_follows(after, &once), TB_FOLLOWS);
    tb_verdict_free(&v);
    tb_evidence_free(before);
    tb_evidence_free(after);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(within_other_limits_it_is_what_weighing_again_gives),
                                        cmocka_unit_test(with_other_thresholds_too),
                                        cmocka_unit_test(with_other_figures_it_is_not_seen) };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
