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
        cmocka_unit_test(one_burn_or_an_open_verdict_names_none),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
