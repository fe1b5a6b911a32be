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
    tb_observation_see(&o, tb_cue_by_key("approach:shrinks_away"));
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

/* fibre.csv, column handling: cellulose nitrate burns explosively, and its rayon is no viscose; a fibre that is said to be absent is none. */
static void words_that_name_a_danger_or_an_absence_are_read_as_such(void **state)
{
    static const struct {
        const char *words, *fibre;
        enum tb_handling handling;
    } row[] = { { "nitrate rayon", "cellulose_nitrate", TB_HANDLING_FLAMELESS },
                { "100% Zelluloid", "cellulose_nitrate", TB_HANDLING_FLAMELESS },
                { "100% nitrocellulose", "cellulose_nitrate", TB_HANDLING_FLAMELESS },
                { "100% viscose rayon", "viscose", TB_HANDLING_ANY },
                { "100% basalt", "basalt", TB_HANDLING_ANY },
                { "100% PBO", "polybenzoxazole", TB_HANDLING_ANY },
                { "100% melamine fibre", "melamine", TB_HANDLING_ANY },
                { "100% cotton, elastane free", "cotton", TB_HANDLING_ANY },
                { "100% Baumwolle ohne Elasthan", "cotton", TB_HANDLING_ANY },
                { "100% Baumwolle, elasthanfrei", "cotton", TB_HANDLING_ANY },
                { "100% coton sans \xC3\xA9lasthanne", "cotton", TB_HANDLING_ANY } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_declaration d;

        tb_declaration_read(&d, row[i].words, strlen(row[i].words));
        assert_int_equal(d.comp.n, 1);
        assert_int_equal(d.comp.part[0].n, 1);
        assert_int_equal(d.comp.part[0].share[0].fibre, tb_fibre_by_key(row[i].fibre));
        assert_int_equal(tb_declaration_handling(&d, NULL), row[i].handling);
        tb_declaration_free(&d);
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

/* What the cloth could be, in data as in words; a reader of data sees no fibre that the page keeps silent of. */
static void is_listed(const struct tb_verdict *v, bool listed)
{
    static const char *const lists[] = { "likeliest", "present", "twins" };
    struct tb_declaration none = { 0 };
    json_t *told = tb_verdict_json(v, NULL, &none);
    struct tb_text words = { 0 };

    tb_verdict_likeliest(&words, v);
    assert_int_equal(strstr(tb_text_str(&words), "is not listed") == NULL, listed);
    assert_int_equal(json_array_size(json_object_get(told, "likeliest")) > 0, listed);
    for (size_t i = 0; i < TB_COUNT(lists) && !listed; i++)
        assert_int_equal(json_array_size(json_object_get(told, lists[i])), 0);
    tb_text_free(&words);
    json_decref(told);
}

/* caution.csv, row of asbestos, glass and metal: what does not burn at all may be old asbestos. */
static void cloth_that_neither_burns_nor_melts_is_left_alone(void **state)
{
    static const struct {
        const char *declared, *saw;
        bool stop;
    } row[] = { { "", "in_flame:does_not_burn residue_form:keeps_shape smoke:none", true },
                { "100% cotton", "in_flame:does_not_burn residue_form:keeps_shape", true },
                { "100% cotton", "in_flame:does_not_burn residue_colour:black", true },
                { "", "in_flame:does_not_burn residue_form:keeps_shape residue_colour:black", true },
                { "", "in_flame:does_not_burn residue_form:ash", true },
                { "", "in_flame:does_not_burn residue_form:crushable_char residue_colour:black", false },
                { "", "in_flame:does_not_burn in_flame:chars residue_colour:black", false },
                { "", "residue_form:ash residue_colour:grey", false },
                { "100% modacrylic", "in_flame:does_not_burn removed:out_at_once", false },
                { "", "in_flame:melts residue_form:hard_bead", false },
                { "100% cotton", "approach:no_reaction in_flame:burns residue_form:keeps_shape", false },
                { "", "approach:no_reaction residue_form:keeps_shape odour:burning_paper", true },
                { "", "in_flame:glows residue_form:keeps_shape removed:out_at_once odour:faint_none", true },
                { "", "in_flame:glows removed:afterglow residue_form:keeps_shape", false },
                { "", "in_flame:does_not_burn odour:chemical_plastic smoke:little", true },
                { "85% glass 15% PTFE", "in_flame:does_not_burn residue_form:keeps_shape", true },
                { "100% PTFE", "in_flame:does_not_burn", true },
                { "100% PTFE", "in_flame:does_not_burn approach:shrinks_away", false } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict v = { 0 };
        bool told = false;

        OK(tb_observation_read(&o, row[i].saw, NULL, NULL, &err));
        judge(&v, model, row[i].declared, &o, TB_WANT_ALL);
        for (size_t k = 0; k < v.n_note; k++)
            told |= strstr(v.note[k], "burning cannot tell from glass or any other mineral fibre") != NULL;
        assert_int_equal(told, row[i].stop);
        assert_int_equal(v.handling == TB_HANDLING_LABORATORY, row[i].stop);
        assert_int_equal(proposes(&v, "licensed_laboratory"), row[i].stop);
        for (size_t k = 0; k < v.n_next; k++)
            assert_false(row[i].stop && v.next[k].channel >= 0);
        is_listed(&v, !row[i].stop);
        if (row[i].stop)
            assert_string_equal(v.confirm.test, "licensed_laboratory");
        tb_verdict_free(&v);
    }
}

/* The same row: glass that fits may still be asbestos, so that the caution stands beside the fit. */
static void glass_that_fits_is_warned_of_all_the_same(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    bool told = false;

    (void)state;
    OK(tb_observation_read(&o,
                           "in_flame:does_not_burn approach:no_reaction residue_form:keeps_shape smoke:none "
                           "odour:faint_none",
                           NULL, NULL, &err));
    judge(&v, model, "100% glass", &o, TB_WANT_ALL);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    assert_int_equal(v.handling, TB_HANDLING_ANY);
    assert_true(v.spare_flame);
    for (size_t k = 0; k < v.n_note; k++)
        told |= strstr(v.note[k], "asbestos does neither too") != NULL;
    assert_true(told);
    tb_verdict_free(&v);
}

/* method.md, shares: of what nobody published, five in a hundred are passed over and named; six, or a dangerous one, are not. */
static void a_trace_of_what_nobody_published_shields_nothing(void **state)
{
    static const char *const saw =
        "approach:shrinks_away in_flame:melts in_flame:drips smoke:black odour:sweet "
        "residue_form:hard_bead residue_colour:black";
    static const struct {
        const char *declared, *named; /* NULL: it is not judged at all */
    } row[] = { { "98% wool 2% carbon", "carbon" },
                { "97% cotton 3% metallic", "metallic" },
                { "95% wool 5% carbon", "carbon" },
                { "94% wool 6% carbon", NULL },
                { "94% wool 3% carbon 3% metallic", NULL } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict v = { 0 };
        bool told = false;

        OK(tb_observation_read(&o, saw, NULL, NULL, &err));
        judge(&v, model, row[i].declared, &o, 0);
        assert_int_equal(v.grade == TB_GRADE_CONTRADICTS, row[i].named != NULL);
        for (size_t k = 0; k < v.n_note && row[i].named; k++)
            told |= strstr(v.note[k], "Nothing published says how") && strstr(v.note[k], row[i].named);
        assert_int_equal(told, row[i].named != NULL);
        tb_verdict_free(&v);
    }
}

/* finish_effect.csv, coating_pvc: what dissolves a declared coating tells nothing against the declaration. */
static void a_solvent_of_a_declared_coating_is_not_held_against_the_cloth(void **state)
{
    static const char *const saw = "flame_colour:green_edge odour:acid_pungent removed:self_extinguishes "
                                   "residue_form:hard_mass ";
    static const char *const result[] = { "dimethylformamide:partly", "dimethylformamide:dissolves",
                                          "dimethylformamide:stays" };
    double most = 0;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(result); i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict coated = { 0 }, bare = { 0 };
        char both[256];

        (void)snprintf(both, sizeof both, "%s%s", saw, result[i]);
        OK(tb_observation_read(&o, both, NULL, NULL, &err));
        judge(&coated, model, "100% polyester, PVC coated", &o, TB_WANT_NEXT);
        judge(&bare, model, "100% polyester", &o, 0);
        assert_int_not_equal(coated.grade, TB_GRADE_CONTRADICTS);
        if (i < 2)
            assert_true(coated.log_ratio > bare.log_ratio + 2);
        most = coated.log_ratio > most ? coated.log_ratio : most;
        tb_verdict_free(&coated);
        tb_verdict_free(&bare);
    }
    assert_true(most > 0);
}

static void a_misspelt_word_that_may_mean_asbestos_is_warned_of(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };

    (void)state;
    tb_observation_see(&o, tb_cue_by_key("smoke:none"));
    judge(&v, model, "100% asbstos", &o, TB_WANT_ALL);
    assert_int_equal(v.handling, TB_HANDLING_ANY); /* the nearest word is offered, never taken */
    assert_true(v.n_note > 0);
    assert_non_null(strstr(v.note[0], "'asbstos' may mean asbestos"));
    tb_verdict_free(&v);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_that_name_a_danger_or_an_absence_are_read_as_such),
        cmocka_unit_test(cloth_that_must_not_be_burned_gets_no_test_with_a_flame),
        cmocka_unit_test(a_declared_finish_brings_its_caution_and_flame_retardant_cloth_no_more_burns),
        cmocka_unit_test(cloth_that_neither_burns_nor_melts_is_left_alone),
        cmocka_unit_test(glass_that_fits_is_warned_of_all_the_same),
        cmocka_unit_test(a_trace_of_what_nobody_published_shields_nothing),
        cmocka_unit_test(a_solvent_of_a_declared_coating_is_not_held_against_the_cloth),
        cmocka_unit_test(a_misspelt_word_that_may_mean_asbestos_is_warned_of),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
