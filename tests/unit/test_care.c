/* What must not be done to cloth of which such words were said: warned of first, and proposed by nobody. */
#include "evidence_model.h"
#include "unit/verdict_helper.h"

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

/* caution.csv: fluorofibre must not be burned, asbestos not frayed; what the declaration names is enough. */
static void cloth_that_must_not_be_burned_gets_no_test_with_a_flame(void **state)
{
    static const char *const words[] = { "100% PTFE", "100% asbestos", "100% polyester, PTFE membrane",
                                         "80% cotton 20% asbestos" };
    struct tb_observation o = { 0 };

    (void)state;
    tb_observation_see(&o, tb_cue_by_key("in_flame:does_not_burn"));
    for (size_t i = 0; i < TB_COUNT(words); i++) {
        bool asbestos = strstr(words[i], "asbestos") != NULL;
        struct tb_verdict v = { 0 };

        judge(&v, model, words[i], &o, TB_WANT_ALL);
        assert_int_equal(v.handling, asbestos ? TB_HANDLING_LABORATORY : TB_HANDLING_FLAMELESS);
        assert_true(v.n_note > 0);
        assert_non_null(strstr(v.note[0], asbestos ? "Stop" : "Do not burn"));
        assert_false(proposes(&v, "control"));
        assert_int_equal(v.n_power, 0);
        if (v.confirm.test)
            assert_false(v.confirm.hazards & (TB_HAZARD_FLAME | TB_HAZARD_HOT));
        for (size_t k = 0; k < v.n_next; k++) {
            assert_false(v.next[k].hazards & (TB_HAZARD_FLAME | TB_HAZARD_HOT));
            assert_false(asbestos && v.next[k].channel >= 0);
        }
        if (v.kind != TB_FITS) {
            assert_true(proposes(&v, "laboratory") == !asbestos);
            assert_true(proposes(&v, "licensed_laboratory") == asbestos);
        }
        tb_verdict_free(&v);
    }
}

/* caution.csv: known flame-retardant cloth is not burned to find out what it is; resin frees formaldehyde. */
static void a_declared_finish_brings_its_caution_and_flame_retardant_cloth_no_more_burns(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    bool bench = false;

    (void)state;
    tb_observation_see(&o, tb_cue_by_key("in_flame:chars"));
    judge(&v, model, "100% cotton FR", &o, TB_WANT_ALL);
    assert_int_equal(v.handling, TB_HANDLING_ANY);
    assert_true(v.spare_flame && v.n_note > 0);
    assert_non_null(strstr(v.note[0], "do not burn it to find out what it is"));
    assert_non_null(strstr(v.note[0], "bromine"));
    for (size_t k = 0; k < v.n_next; k++) {
        assert_false(v.next[k].hazards & TB_HAZARD_FLAME);
        bench |= v.next[k].channel >= 0;
    }
    assert_true(bench);
    tb_verdict_free(&v);
    judge(&v, model, "100% cotton no-iron", &o, TB_WANT_ALL);
    assert_false(v.spare_flame);
    assert_non_null(strstr(v.note[0], "formaldehyde"));
    tb_verdict_free(&v);
}

static void a_misspelt_word_that_may_mean_asbestos_is_warned_of(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };

    (void)state;
    tb_observation_see(&o, tb_cue_by_key("in_flame:does_not_burn"));
    judge(&v, model, "100% asbstos", &o, TB_WANT_ALL);
    assert_int_equal(v.handling, TB_HANDLING_ANY); /* the nearest word is offered, never taken */
    assert_true(v.n_note > 0);
    assert_non_null(strstr(v.note[0], "'asbstos' may mean asbestos"));
    tb_verdict_free(&v);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cloth_that_must_not_be_burned_gets_no_test_with_a_flame),
        cmocka_unit_test(a_declared_finish_brings_its_caution_and_flame_retardant_cloth_no_more_burns),
        cmocka_unit_test(a_misspelt_word_that_may_mean_asbestos_is_warned_of),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
