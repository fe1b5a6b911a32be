/* test_cue_implied.c - what a look implies is neither looked for in vain nor seen twice. */
#include "evidence/likelihood.h"
#include "evidence_model.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static int make_model(void **state)
{
    (void)state;
    return make_model_of(1);
}

/* What an observation says of a cue: '+' seen, '-' not seen, '!' expressly denied, ' ' nothing. */
static char says(const char *saw, const char *not_seen, const char *looked, const char *cue)
{
    struct tb_observation o = { 0 };
    struct tb_terms t;
    struct tb_err err = { 0 };

    if (tb_observation_read(&o, saw, not_seen, looked, &err) != TB_OK)
        fail_msg("%s", err.msg);
    tb_terms_of(&t, model, &o);
    for (size_t i = 0; i < t.n; i++)
        if (t.term[i].cue == tb_cue_by_key(cue))
            return t.term[i].seen ? '+' : t.term[i].denied ? '!' : '-';
    return ' ';
}

static void what_only_a_melt_does_is_no_melting_looked_for_in_vain(void **state)
{
    static const char *const by[] = { "in_flame:drips",
                                      "removed:continues_melting",
                                      "residue_form:hard_bead",
                                      "residue_form:fused_mass",
                                      "residue_form:strings",
                                      "residue_form:molten_adheres",
                                      "residue_form:greasy_smear",
                                      "approach:melts",
                                      "approach:turns_black" };

    (void)state;
    assert_int_equal(says("in_flame:burns", "", "", "in_flame:melts"), '-');
    for (size_t i = 0; i < TB_COUNT(by); i++)
        assert_int_equal(says(by[i], "", "in_flame", "in_flame:melts"), ' ');
    assert_int_equal(says("approach:turns_black", "", "", "approach:melts"), ' ');
}

static void what_other_cloth_does_too_implies_no_melt(void **state)
{
    static const char *const by[] = { "approach:shrinks_away",       "approach:curls_away",
                                      "residue_form:bead",           "residue_form:brittle_bead",
                                      "residue_form:crushable_bead", "residue_form:hard_mass",
                                      "residue_form:sticky",         "residue_form:waxy_mass",
                                      "removed:self_extinguishes" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(by); i++)
        assert_int_equal(says(by[i], "", "in_flame", "in_flame:melts"), '-');
    assert_int_equal(says("in_flame:drips", "", "approach", "approach:melts"), '-');
    assert_int_equal(says("in_flame:melts", "", "approach", "approach:melts"), '-');
}

/* Books of old hold such burns; none is taken in any more. */
static void who_saw_the_melt_or_expressly_did_not_is_heard(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_terms t;
    int drips = tb_cue_by_key("in_flame:drips"), melts = tb_cue_by_key("in_flame:melts"), heard = 0;

    (void)state;
    assert_int_equal(says("in_flame:drips in_flame:melts", "", "", "in_flame:melts"), '+');
    tb_observation_see(&o, drips);
    tb_observation_deny(&o, melts);
    tb_terms_of(&t, model, &o);
    for (size_t i = 0; i < t.n; i++)
        heard += t.term[i].cue == melts && t.term[i].denied;
    assert_int_equal(heard, 1);
}

static void what_contradicts_what_was_seen_is_refused_and_both_are_named(void **state)
{
    static const struct {
        const char *saw, *not_seen, *says; /* NULL: it is taken */
    } row[] = {
        { "in_flame:drips", "in_flame:melts", "in_flame:drips (" },
        { "in_flame:drips", "in_flame:melts", "means in_flame:melts (" },
        { "in_flame:drips !in_flame:melts", "", "means in_flame:melts (" },
        { "residue_form:hard_bead", "in_flame:melts", "means in_flame:melts (" }, /* of another channel */
        { "residue_form:hard_bead", "residue_form:bead",
          "means residue_form:bead (" }, /* the kind it is of */
        { "smoke:black", "smoke:smoky", "means smoke:smoky (" },
        { "smoke:little smoke:dense", "", "cannot both be seen" },
        { "in_flame:does_not_burn in_flame:burns", "", "cannot both be seen" },
        { "in_flame:melts", "in_flame:drips", NULL }, /* what melts need not drip */
        { "smoke:smoky", "smoke:black", NULL },
        { "smoke:sooty", "smoke:black", NULL }, /* the table has soot beside smoke of any colour */
        { "smoke:none", "smoke:black", NULL },
    };
    struct tb_observation o;
    struct tb_err err;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        tb_rc rc;

        o = (struct tb_observation){ 0 };
        err = (struct tb_err){ 0 };
        rc = tb_observation_read(&o, row[i].saw, row[i].not_seen, "", &err);
        assert_int_equal(rc, row[i].says ? TB_EINVAL : TB_OK);
        if (row[i].says && !strstr(err.msg, row[i].says))
            fail_msg("%s, not %s: %s", row[i].saw, row[i].not_seen, err.msg);
        assert_int_equal(tb_observation_empty(&o), row[i].says != NULL); /* untouched where it is refused */
    }
}

static void beside_nothing_at_all_no_kind_of_it_is_looked_for(void **state)
{
    static const char *const pair[][2] = { { "smoke:none", "smoke:black" },
                                           { "smoke:none", "smoke:smoky" },
                                           { "residue_form:no_residue", "residue_form:hard_bead" },
                                           { "approach:no_reaction", "approach:shrinks_away" },
                                           { "in_flame:does_not_burn", "in_flame:burns_fast" },
                                           { "in_flame:does_not_burn", "in_flame:burns" },
                                           { "smoke:little", "smoke:dense" } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(pair); i++) {
        assert_int_equal(says(pair[i][0], "", "", pair[i][1]), ' ');
        assert_int_equal(says(pair[i][0], pair[i][1], "", pair[i][1]), ' ');
        assert_int_equal(says(pair[i][0], "", "", pair[i][0]), '+');
    }
    assert_int_equal(says("in_flame:does_not_burn", "", "", "in_flame:melts"), '-');
    assert_int_equal(says("smoke:little", "", "", "smoke:black"), '-');
}

static void drips_are_no_reason_for_silk(void **state)
{
    struct tb_declaration decl;
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_declaration_read(&decl, "100% silk", 9);
    assert_int_equal(tb_observation_read(&o, "in_flame:drips odour:burning_hair", "", "", &err), TB_OK);
    assert_int_equal(tb_evidence_judge(&v, model, &decl, &o, 1, TB_WANT_CUES, &err), TB_OK);
    assert_true(v.n_cue > 0);
    for (size_t i = 0; i < v.n_cue; i++) {
        assert_int_not_equal(v.cue[i].cue, tb_cue_by_key("in_flame:melts"));
        if (v.cue[i].cue == tb_cue_by_key("in_flame:drips"))
            assert_true(v.cue[i].alone_db < 0);
    }
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_only_a_melt_does_is_no_melting_looked_for_in_vain),
        cmocka_unit_test(what_other_cloth_does_too_implies_no_melt),
        cmocka_unit_test(who_saw_the_melt_or_expressly_did_not_is_heard),
        cmocka_unit_test(what_contradicts_what_was_seen_is_refused_and_both_are_named),
        cmocka_unit_test(beside_nothing_at_all_no_kind_of_it_is_looked_for),
        cmocka_unit_test(drips_are_no_reason_for_silk),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
