/* Of several burns the look that carries the verdict is named, though no single one of them is missed. */
#include "evidence_model.h"
#include "unit/verdict_helper.h"

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

/* The note on the loudest channel after so many persons saw the same on a bolt each; NULL: none. */
static char *note_of(const char *declared, const char *saw, size_t persons)
{
    static const char *const who[] = { "Ann", "Bob", "Cy" }, *const swatch[] = { "a", "b", "c" };
    struct tb_observation o[TB_COUNT(who)] = { 0 };
    struct tb_declaration decl;
    struct tb_verdict v = { 0 };
    char *note = NULL;

    for (size_t i = 0; i < persons; i++) {
        OK(tb_observation_read(&o[i], saw, NULL, NULL, &err));
        o[i].person = who[i];
        o[i].swatch = swatch[i];
    }
    tb_declaration_read(&decl, declared, strlen(declared));
    OK(tb_evidence_judge(&v, model, &decl, o, persons, TB_WANT_CUES, &err));
    for (size_t i = 0; i < v.n_note; i++)
        if (strstr(v.note[i], "Over all burns and by itself"))
            note = tb_strdup(v.note[i]);
    tb_declaration_free(&decl);
    tb_verdict_free(&v);
    return note;
}

static void the_smell_that_carries_a_fit_by_several_persons_is_named(void **state)
{
    char *note =
        note_of("100% cashmere", "odour:burning_hair residue_form:crushable_bead residue_colour:black", 2);

    (void)state;
    assert_non_null(note);
    assert_non_null(strstr(note, "most for the declaration is the smell"));
    assert_non_null(strstr(note, "odour:burning_hair"));
    free(note);
}

static void the_smell_that_carries_a_contradiction_by_several_persons_is_named(void **state)
{
    char *note =
        note_of("100% cotton", "odour:burning_hair removed:self_extinguishes residue_form:crushable_bead", 3);

    (void)state;
    assert_non_null(note);
    assert_non_null(strstr(note, "most against the declaration is the smell"));
    assert_non_null(strstr(note, "odour:burning_hair"));
    free(note);
}

static const char paper[] = "odour:burning_paper residue_form:light_fluffy_ash",
                  hair[] = "odour:burning_hair residue_form:crushable_bead";

/* Five of six smelled hair, one paper. */
static void judge_six(struct tb_verdict *v)
{
    static const char *const who[] = { "Ann", "Bob", "Cy", "Dee", "Eve", "Flo" };
    struct tb_observation o[TB_COUNT(who)] = { 0 };
    struct tb_declaration decl;

    for (size_t i = 0; i < TB_COUNT(who); i++) {
        OK(tb_observation_read(&o[i], i == 1 ? paper : hair, NULL, NULL, &err));
        o[i].person = o[i].swatch = who[i];
    }
    tb_declaration_read(&decl, "100% cashmere", strlen("100% cashmere"));
    OK(tb_evidence_judge(v, model, &decl, o, TB_COUNT(who), TB_WANT_CUES, &err));
    tb_declaration_free(&decl);
}

static void what_one_of_six_saw_against_it_is_no_reason_for_it(void **state)
{
    struct tb_verdict v = { 0 };
    struct tb_text pro = { 0 };
    const char *note = NULL;

    (void)state;
    judge_six(&v);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    for (size_t i = 0; i < v.n_note; i++)
        if (strstr(v.note[i], "Over all burns and by itself"))
            note = v.note[i];
    assert_non_null(note);
    assert_non_null(strstr(note, "(odour:burning_hair), seen by 5 of 6 persons."));
    assert_null(strstr(note, "odour:burning_paper"));
    tb_verdict_reasons(&pro, &v, 1, 9);
    assert_null(strstr(pro.s, "odour:burning_hair"));
    tb_text_free(&pro);
    tb_verdict_free(&v);
}

static void a_cue_that_some_saw_and_one_did_not_is_listed_both_ways(void **state)
{
    struct tb_verdict v = { 0 };
    size_t seen = 0, unseen = 0;

    (void)state;
    judge_six(&v);
    for (size_t i = 0; i < v.n_cue; i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, v.cue[i].cue);
        if (strcmp(cue.key, "odour:burning_hair") == 0) {
            seen += v.cue[i].sight == TB_SIGHT_SEEN;
            unseen += v.cue[i].sight != TB_SIGHT_SEEN;
        }
    }
    assert_int_equal(seen, 1);
    assert_int_equal(unseen, 1);
    tb_verdict_free(&v);
}

/* The weights of the cues of one burn say it; where nothing decides, nothing carries it. */
static void one_burn_or_an_open_verdict_names_none(void **state)
{
    (void)state;
    assert_null(
        note_of("100% cashmere", "odour:burning_hair residue_form:crushable_bead residue_colour:black", 1));
    assert_null(note_of("100% polyester", "residue_colour:black", 2));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_smell_that_carries_a_fit_by_several_persons_is_named),
        cmocka_unit_test(the_smell_that_carries_a_contradiction_by_several_persons_is_named),
        cmocka_unit_test(what_one_of_six_saw_against_it_is_no_reason_for_it),
        cmocka_unit_test(a_cue_that_some_saw_and_one_did_not_is_listed_both_ways),
        cmocka_unit_test(one_burn_or_an_open_verdict_names_none),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
