#include "tenterbook/evidence.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_evidence *model;

static int make_model(void **state)
{
    struct tb_evidence_settings set;
    struct tb_err err = { 0 };

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    return tb_evidence_new(&model, &set, NULL, 0, &err) == TB_OK ? 0 : -1;
}

static int free_model(void **state)
{
    (void)state;
    tb_evidence_free(model);
    return 0;
}

/* The verdict on one burn of the whole cloth. */
static struct tb_verdict judged(const char *words, const char *saw, const char *not_seen, const char *looked)
{
    struct tb_declaration decl = { 0 };
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    tb_declaration_read(&decl, words, strlen(words));
    if (tb_observation_read(&o, saw, not_seen, looked, &err) != TB_OK ||
        tb_evidence_judge(&v, model, &decl, &o, 1, 0, &err) != TB_OK)
        fail_msg("%s", err.msg);
    tb_declaration_free(&decl);
    return v;
}

static double log_ratio(const char *words, const char *saw, const char *not_seen, const char *looked)
{
    struct tb_verdict v = judged(words, saw, not_seen, looked);
    double r = v.log_ratio;

    tb_verdict_free(&v);
    return r;
}

static void the_table_of_cues_is_whole(void **state)
{
    (void)state;
    assert_true(tb_cue_count() <= TB_CUES_MOST && tb_channel_count() <= TB_CHANNELS_MOST);
    for (int c = 0; c < (int)tb_cue_count(); c++) {
        struct tb_cue cue;
        struct tb_channel ch;

        tb_cue_at(&cue, c);
        tb_channel_at(&ch, cue.channel);
        assert_int_equal(tb_cue_by_key(cue.key), c);
        assert_true(c >= ch.first && c < ch.first + ch.n);
        assert_true(strncmp(cue.key, ch.key, strlen(ch.key)) == 0);
    }
}

static void an_unknown_cue_offers_the_nearest(void **state)
{
    struct tb_err err = { 0 };
    int cue = -7;

    (void)state;
    assert_int_equal(tb_cue_find(&cue, "smoke:blak", &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "smoke:black"));
    assert_int_equal(cue, -7);
    assert_int_equal(tb_channel_find(&cue, "odor", &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "odour"));
}

static void a_cue_without_its_channel_is_taken_where_only_one_has_it(void **state)
{
    struct tb_err err = { 0 };
    int cue;

    (void)state;
    assert_int_equal(tb_cue_find(&cue, "Vinegar", &err), TB_OK);
    assert_int_equal(cue, tb_cue_by_key("odour:vinegar"));
    assert_int_equal(tb_cue_find(&cue, "black", &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "residue_colour:black"));
}

static void a_cue_both_seen_and_denied_is_refused(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_observation_read(&o, "smoke:black", "smoke:black", NULL, &err), TB_EINVAL);
    assert_int_equal(tb_observation_read(&o, "acetone:stays acetone:dissolves", NULL, NULL, &err), TB_EINVAL);
    assert_true(tb_observation_empty(&o));
}

static void a_burn_of_paper_smell_and_ash_contradicts_silk(void **state)
{
    struct tb_verdict v =
        judged("100% silk", "odour:burning_paper residue_form:light_fluffy_ash", NULL, NULL);

    (void)state;
    assert_int_equal(v.kind, TB_CONTRADICTS);
    assert_true(v.n_likely > 0 && v.n_present > 0);
    tb_verdict_free(&v);
}

static void nothing_looked_at_is_undecided_with_a_reason(void **state)
{
    struct tb_verdict v = judged("100% silk", NULL, NULL, NULL);

    (void)state;
    assert_int_equal(v.kind, TB_UNDECIDED);
    assert_non_null(v.reason);
    assert_true(isnan(v.ratio));
    tb_verdict_free(&v);
}

static void a_fibre_nobody_published_the_burning_of_is_undecided_with_a_reason(void **state)
{
    struct tb_verdict v = judged("100% melamine", "smoke:black", NULL, NULL);

    (void)state;
    assert_int_equal(v.kind, TB_UNDECIDED);
    assert_non_null(strstr(v.reason, "melamine"));
    tb_verdict_free(&v);
}

static void a_fibre_without_a_profile_of_its_own_is_judged_as_its_twin(void **state)
{
    struct tb_verdict v = judged("100% alpaca", "odour:burning_hair residue_form:crushable_bead", NULL, NULL);

    (void)state;
    assert_int_equal(v.kind, TB_FITS);
    assert_true(v.n_note > 0);
    tb_verdict_free(&v);
}

static void the_order_of_cues_does_not_matter(void **state)
{
    (void)state;
    assert_true(
        log_ratio("60% cotton 40% polyester", "smoke:black odour:acrid removed:afterglow", NULL, NULL) ==
        log_ratio("60% cotton 40% polyester", "removed:afterglow smoke:black odour:acrid", NULL, NULL));
}

static void three_percent_elastane_never_makes_a_verdict(void **state)
{
    static const char saw[] = "approach:ignites_easily odour:burning_paper residue_form:light_fluffy_ash";

    (void)state;
    assert_true(log_ratio("97% cotton 3% elastane", saw, NULL, NULL) > log(3));
    assert_true(fabs(log_ratio("97% cotton 3% elastane", saw, NULL, NULL) -
                     log_ratio("100% cotton", saw, NULL, NULL)) < 0.5);
}

static void the_digest_changes_with_what_the_site_learned(void **state)
{
    struct tb_known_burn known = { .fibre = tb_fibre_by_key("wool"), .weight = 1 };
    struct tb_evidence_settings set;
    struct tb_evidence *taught = NULL;
    struct tb_err err = { 0 };

    (void)state;
    tb_observation_see(&known.seen, tb_cue_by_key("odour:burning_hair"));
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    assert_int_equal(tb_evidence_new(&taught, &set, &known, 1, &err), TB_OK);
    assert_string_not_equal(tb_evidence_digest(taught), tb_evidence_digest(model));
    assert_int_equal(strncmp(tb_evidence_digest(model), "sha256:", 7), 0);
    tb_evidence_free(taught);
}

static void thresholds_out_of_order_are_refused(void **state)
{
    struct tb_evidence_settings set;
    struct tb_evidence *ev = NULL;
    struct tb_err err = { 0 };

    (void)state;
    tb_evidence_defaults(&set);
    set.contradicts_below = 2;
    assert_int_equal(tb_evidence_new(&ev, &set, NULL, 0, &err), TB_EINVAL);
    assert_null(ev);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_of_cues_is_whole),
        cmocka_unit_test(an_unknown_cue_offers_the_nearest),
        cmocka_unit_test(a_cue_without_its_channel_is_taken_where_only_one_has_it),
        cmocka_unit_test(a_cue_both_seen_and_denied_is_refused),
        cmocka_unit_test(a_burn_of_paper_smell_and_ash_contradicts_silk),
        cmocka_unit_test(nothing_looked_at_is_undecided_with_a_reason),
        cmocka_unit_test(a_fibre_nobody_published_the_burning_of_is_undecided_with_a_reason),
        cmocka_unit_test(a_fibre_without_a_profile_of_its_own_is_judged_as_its_twin),
        cmocka_unit_test(the_order_of_cues_does_not_matter),
        cmocka_unit_test(three_percent_elastane_never_makes_a_verdict),
        cmocka_unit_test(the_digest_changes_with_what_the_site_learned),
        cmocka_unit_test(thresholds_out_of_order_are_refused),
    };
    return cmocka_run_group_tests(tests, make_model, free_model);
}
