/* What is said of a true blend, and of each of its fibres declared alone, by the same burn. */
#include "evidence_model.h"
#include "unit/verdict_helper.h"

#include <math.h>

static int make_model(void **state)
{
    (void)state;
    return make_model_of(3);
}

#define PAPER_AND_PLASTIC "odour:burning_paper odour:chemical_plastic "
#define HAIR "odour:burning_hair removed:self_extinguishes residue_form:crushable_char "

/* Burns as the published sentences on blends have them: what each fibre shows of itself, beside the other. Grades: our own. */
static const struct {
    const char *saw, *declared, *alone;
    enum tb_grade grade, of_alone;
    double
        behind; /* so many times as likely of the pure cloth, at most: what the burn shows of that fibre alone */
} row[] = {
    { PAPER_AND_PLASTIC "in_flame:melts smoke:black residue_form:hard_bead", "65% polyester 35% cotton",
      "100% polyester", TB_GRADE_UNDECIDED, TB_GRADE_UNDECIDED, 1 },
    { PAPER_AND_PLASTIC "in_flame:melts smoke:black residue_form:hard_bead", "80% polyester 20% cotton",
      "100% polyester", TB_GRADE_UNDECIDED, TB_GRADE_UNDECIDED, 1 },
    { PAPER_AND_PLASTIC "in_flame:melts smoke:black residue_form:hard_bead", "80% polyester 20% cotton",
      "100% cotton", TB_GRADE_UNDECIDED, TB_GRADE_CONTRADICTS, 1 },
    { "in_flame:burns_fast removed:continues_to_burn odour:burning_paper residue_form:hard_bead",
      "65% polyester 35% cotton", "100% cotton", TB_GRADE_FITS, TB_GRADE_SPEAKS_AGAINST, 1 },
    /* ash, and nothing that melted: the burn of a cotton that smelled of something else too */
    { PAPER_AND_PLASTIC "in_flame:burns_fast residue_form:ash", "65% polyester 35% cotton", "100% cotton",
      TB_GRADE_UNDECIDED, TB_GRADE_FITS, 3 },
    /* core-spun: the sheath alone was seen */
    { "in_flame:burns_fast removed:afterglow odour:burning_paper residue_form:coherent_char "
      "residue_colour:black",
      "60% cotton 40% polyester", "100% cotton", TB_GRADE_UNDECIDED, TB_GRADE_FITS, 30 },
    { "in_flame:burns_fast removed:afterglow odour:burning_paper residue_form:light_fluffy_ash "
      "residue_colour:grey",
      "95% cotton 5% elastane", "100% cotton", TB_GRADE_FITS, TB_GRADE_FITS, 2 },
    { HAIR "microscope:smooth_rod", "80% wool 20% polyamide", "100% wool", TB_GRADE_FITS, TB_GRADE_UNDECIDED,
      1 },
    { HAIR "microscope:scales microscope:smooth_rod", "80% wool 20% polyamide", "100% wool", TB_GRADE_FITS,
      TB_GRADE_UNDECIDED, 1 },
    { HAIR "microscope:scales microscope:smooth_rod", "80% wool 20% polyamide", "100% polyamide",
      TB_GRADE_FITS, TB_GRADE_CONTRADICTS, 1 },
    /* scales alone: a fifth of another fibre may not be in the mount, and was not seen */
    { HAIR "microscope:scales", "80% wool 20% polyamide", "100% wool", TB_GRADE_UNDECIDED, TB_GRADE_FITS,
      16 },
    { "in_flame:burns_fast removed:afterglow odour:burning_paper residue_form:light_fluffy_ash "
      "residue_colour:grey",
      "55% linen 45% viscose", "100% linen", TB_GRADE_FITS, TB_GRADE_FITS, 3 },
};

static void a_true_blend_is_behind_a_pure_cloth_by_no_more_than_the_burn_shows(void **state)
{
    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict blend = { 0 }, alone = { 0 };

        OK(tb_observation_read(&o, row[i].saw, NULL, NULL, &err));
        judge(&blend, model, row[i].declared, &o, TB_WANT_GRADE);
        judge(&alone, model, row[i].alone, &o, TB_WANT_GRADE);
        assert_int_equal(blend.grade, row[i].grade);
        assert_int_equal(alone.grade, row[i].of_alone);
        assert_true(alone.log_declared - blend.log_declared <= log(row[i].behind));
        tb_verdict_free(&blend);
        tb_verdict_free(&alone);
    }
}

static bool notes(const struct tb_verdict *v, const char *text)
{
    for (size_t i = 0; i < v->n_note; i++)
        if (strstr(v->note[i], text))
            return true;
    return false;
}

/* Two kinds of fibre in one look: named, with what would tell; one kind alone says nothing of another. */
static void a_second_kind_of_fibre_keeps_a_pure_declaration_from_fitting(void **state)
{
    static const struct {
        const char *saw, *declared, *with; /* NULL: none */
    } one[] = { { PAPER_AND_PLASTIC "in_flame:melts smoke:black residue_form:hard_bead", "100% polyester",
                  "With a part of cotton" },
                { HAIR "microscope:scales microscope:smooth_rod", "100% wool", "With a part of " },
                { "odour:chemical_plastic in_flame:melts smoke:black residue_form:hard_bead",
                  "100% polyester", NULL },
                { HAIR "microscope:scales", "100% wool", NULL } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(one); i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict v = { 0 };

        OK(tb_observation_read(&o, one[i].saw, NULL, NULL, &err));
        judge(&v, model, one[i].declared, &o, TB_WANT_GRADE);
        assert_int_equal(v.grade, one[i].with ? TB_GRADE_UNDECIDED : TB_GRADE_FITS);
        assert_int_equal(v.outdone, one[i].with != NULL);
        assert_int_equal(notes(&v, one[i].with ? one[i].with : "With a part of"), one[i].with != NULL);
        tb_verdict_free(&v);
    }
}

static void what_a_burn_cannot_tell_of_a_blend_stands_beside_the_verdict(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };

    (void)state;
    OK(tb_observation_read(&o, row[0].saw, NULL, NULL, &err));
    judge(&v, model, row[0].declared, &o, TB_WANT_ALL);
    assert_true(notes(&v, "it cannot tell this blend from"));
    assert_true(notes(&v, "hardly ever shows that it is one of these instead: 100 % polyester"));
    tb_verdict_free(&v);
}

/* The percentage that a note names before the fibre; 0: none does. */
static int room_for(const struct tb_verdict *v, const char *fibre)
{
    for (size_t i = 0; i < v->n_note; i++) {
        const char *at = strstr(v->note[i], "is all there is") ? strstr(v->note[i], fibre) : NULL;

        if (at && at - v->note[i] > 5)
            return atoi(at - 5); /* "15 % " */
    }
    return 0;
}

/* The figures themselves are held against another program: tests/oracle/test_evidence.py. */
static void a_pure_cloth_that_fits_says_how_much_of_another_fibre_it_may_hold(void **state)
{
    static const struct {
        const char *saw, *declared;
    } none[] = { { HAIR, "100% polyester" },         /* contradicted */
                 { HAIR, "80% wool 20% polyamide" }, /* a blend has notes of its own */
                 { "smoke:grey", "100% wool" } };    /* undecided */
    struct tb_observation brief = { 0 }, careful = { 0 };
    struct tb_verdict little = { 0 }, much = { 0 };

    (void)state;
    OK(tb_observation_read(&brief, "odour:burning_hair residue_form:crushable_char", NULL, NULL, &err));
    OK(tb_observation_read(&careful, HAIR, NULL, "in_flame residue_form residue_colour removed", &err));
    judge(&little, model, "100% wool", &brief, TB_WANT_POWER);
    judge(&much, model, "100% wool", &careful, TB_WANT_POWER);
    assert_int_equal(little.grade, TB_GRADE_FITS);
    assert_int_equal(much.grade, TB_GRADE_FITS);
    assert_true(room_for(&much, "polyamide") > 0);
    assert_true(room_for(&little, "polyamide") >= 20); /* the everyday blend: common practice, no source */
    assert_true(room_for(&little, "polyamide") > room_for(&much, "polyamide"));
    assert_false(notes(&little, "% silk") ||
                 notes(&little, "% cashmere")); /* a class that burns alike is told as such */
    tb_verdict_free(&little);
    tb_verdict_free(&much);
    for (size_t i = 0; i < TB_COUNT(none); i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict v = { 0 };

        OK(tb_observation_read(&o, none[i].saw, NULL, NULL, &err));
        judge(&v, model, none[i].declared, &o, TB_WANT_POWER);
        assert_false(notes(&v, "is all there is"));
        tb_verdict_free(&v);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_true_blend_is_behind_a_pure_cloth_by_no_more_than_the_burn_shows),
        cmocka_unit_test(a_second_kind_of_fibre_keeps_a_pure_declaration_from_fitting),
        cmocka_unit_test(what_a_burn_cannot_tell_of_a_blend_stands_beside_the_verdict),
        cmocka_unit_test(a_pure_cloth_that_fits_says_how_much_of_another_fibre_it_may_hold),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
