/*
 * What does not go together: a bench test and a burn, or two burns, that say opposite things of one cloth. Neither side is
 * overruled: such a lot neither fits nor is contradicted, and the verdict says which two they are.
 */
#include "evidence_model.h"

#include "evidence/conclude.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define PLAIN_COTTON "in_flame:burns_fast,odour:burning_paper,residue_form:light_fluffy_ash"
#define WOOL "odour:burning_hair,residue_form:crushable_bead,removed:self_extinguishes"
#define POLYESTER "approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet"

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

struct seen {
    const char *person, *swatch, *saw;
};

/* Free the verdict. */
static void judge(struct tb_verdict *v, const char *declared, const struct seen *seen, size_t n)
{
    struct tb_observation *o = tb_array(struct tb_observation, n);
    struct tb_declaration d = { 0 };
    struct tb_err why = { 0 };

    tb_declaration_read(&d, declared, strlen(declared));
    for (size_t i = 0; i < n; i++) {
        assert_int_equal(tb_observation_read(&o[i], seen[i].saw, NULL, NULL, &why), TB_OK);
        o[i].person = seen[i].person;
        o[i].swatch = seen[i].swatch;
    }
    *v = (struct tb_verdict){ 0 };
    assert_int_equal(tb_evidence_judge(v, model, &d, o, n, TB_WANT_CUES, &why), TB_OK);
    tb_declaration_free(&d);
    free(o);
}

static bool noted(const struct tb_verdict *v, const char *words)
{
    for (size_t i = 0; i < v->n_note; i++)
        if (strstr(v->note[i], words))
            return true;
    return false;
}

static void is_at_odds(const char *declared, const struct seen *seen, size_t n, const char *words)
{
    struct tb_text text = { 0 };
    struct tb_verdict v;

    judge(&v, declared, seen, n);
    tb_verdict_conclude(&text, &v);
    assert_true(v.at_odds);
    assert_int_equal(v.grade, TB_GRADE_UNDECIDED);
    assert_true(isnan(tb_verdict_chance_false(&v)));
    if (!noted(&v, words))
        fail_msg("%s: '%s' is not noted", declared, words);
    assert_non_null(strstr(text.s, "What was seen contradicts itself"));
    assert_non_null(strstr(text.s, "let other persons test it too, or ask a laboratory"));
    assert_null(strstr(text.s, "times likelier"));
    tb_text_free(&text);
    tb_verdict_free(&v);
}

static void a_test_against_what_the_burn_says_does_not_fit(void **state)
{
    (void)state;
    is_at_odds("100% wool", &(struct seen){ "Ann", "1", WOOL ",microscope:smooth_rod" }, 1,
               "speaks what Ann saw in the flame (swatch 1), against it the microscope");
    is_at_odds("100% nylon",
               &(struct seen){ "Ann", "1", "odour:celery,residue_form:hard_bead,melting:chars" }, 1,
               "against it a melting point on a hot stage");
}

static void a_test_for_it_keeps_burns_from_contradicting(void **state)
{
    struct seen equal[3] = { { "Ann", "1", PLAIN_COTTON },
                             { "Ann", "2", PLAIN_COTTON },
                             { "Ann", "3", PLAIN_COTTON ",melting:240_to_280" } };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% polyester", equal, 2);
    assert_int_equal(v.grade, TB_GRADE_CONTRADICTS);
    tb_verdict_free(&v);
    is_at_odds("100% polyester", equal, 3,
               "speaks a melting point on a hot stage, against it what Ann saw in the flame (swatch 3)");
}

static void two_persons_who_saw_opposite_things_decide_nothing(void **state)
{
    const struct seen wool[2] = { { "Ann", "1", WOOL }, { "Bob", "2", PLAIN_COTTON } };
    const struct seen aramid[4] = {
        { "Ann", "1", "in_flame:chars,removed:self_extinguishes,residue_form:crushable_char,odour:sweet" },
        { "Ann", "2", "in_flame:chars,removed:self_extinguishes,residue_form:crushable_char,odour:sweet" },
        { "Ann", "3", "in_flame:chars,removed:self_extinguishes,residue_form:crushable_char,odour:sweet" },
        { "Bob", "3", PLAIN_COTTON }
    };

    (void)state;
    is_at_odds(
        "100% wool", wool, 2,
        "speaks what Ann saw in the flame (swatch 1), against it what Bob saw in the flame (swatch 2)");
    is_at_odds(
        "100% cotton", wool, 2,
        "speaks what Bob saw in the flame (swatch 2), against it what Ann saw in the flame (swatch 1)");
    is_at_odds("100% aramid", aramid, 4, "against it what Bob saw in the flame");
}

/* Two burns that cannot both be true of one cloth; whoever made them, no page may say that the good one is what was found. */
#define SILK                                                                                                 \
    "approach:shrinks_away,in_flame:burns_slow,removed:self_extinguishes,odour:burning_hair,residue_form:"   \
    "crushable_char"

static void one_person_who_saw_opposite_things_of_one_bolt_decides_nothing_either(void **state)
{
    const struct seen silk[4] = {
        { "Ann", "1", SILK }, { "Ann", "2", POLYESTER }, { "Ann", "3", SILK }, { "Ann", "4", SILK }
    };
    const struct seen back[2] = { silk[1], silk[0] };
    struct tb_text text = { 0 };
    struct tb_verdict v;

    (void)state;
    is_at_odds(
        "100% silk", silk, 2,
        "speaks what Ann saw in the flame (swatch 1), against it what Ann saw in the flame (swatch 2)");
    is_at_odds("100% silk", back, 2, "against it what Ann saw in the flame (swatch 2)");
    is_at_odds("100% polyester", silk, 2, "against it what Ann saw in the flame (swatch 1)");
    is_at_odds("100% silk", silk, 4, "against it what Ann saw in the flame (swatch 2)"); /* nor by going on */
    judge(&v, "100% silk", back, 2);
    tb_verdict_conclude(&text, &v);
    assert_non_null(strstr(text.s, "tenterbook void 2 --why TEXT, or tenterbook void 1 --why TEXT"));
    tb_text_free(&text);
    tb_verdict_free(&v);
}

/* Ann has made a mistake, whichever. One more look settles nothing; two persons who agree do. A test is not outvoted by two burns. */
static void two_other_persons_decide_between_two_burns(void **state)
{
    const struct seen good[4] = {
        { "Ann", "1", SILK }, { "Ann", "2", POLYESTER }, { "Bob", "3", SILK }, { "Cy", "4", SILK }
    };
    const struct seen bad[4] = {
        { "Ann", "1", SILK }, { "Ann", "2", POLYESTER }, { "Bob", "3", POLYESTER }, { "Cy", "4", POLYESTER }
    };
    const struct seen again[4] = {
        { "Ann", "1", POLYESTER }, { "Ann", "2", POLYESTER }, { "Ann", "3", SILK }, { "Bob", "4", SILK }
    };
    const struct seen two[3] = { { "Ann", "1", SILK }, { "Cy", "2", POLYESTER }, { "Bob", "3", SILK } };
    const struct seen test[2] = { { "Ann", "1", WOOL ",microscope:smooth_rod" }, { "Bob", "2", WOOL } };
    struct tb_verdict v;

    (void)state;
    is_at_odds("100% silk", good, 3, "against it what Ann saw in the flame (swatch 2)");
    is_at_odds("100% silk", bad, 3, "speaks what Ann saw in the flame (swatch 1)");
    is_at_odds("100% silk", again, 4, "both cannot be true of one cloth");
    judge(&v, "100% silk", good, 4);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    assert_true(noted(&v, "the most so what Ann saw in the flame (swatch 2); that is taken for a mistake"));
    tb_verdict_free(&v);
    judge(&v, "100% silk", bad, 4);
    assert_false(v.at_odds);
    assert_true(v.grade >= TB_GRADE_SPEAKS_AGAINST);
    assert_true(noted(&v, "the most so what Ann saw in the flame (swatch 1); that is taken for a mistake"));
    tb_verdict_free(&v);
    judge(&v, "100% silk", two, 3);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    tb_verdict_free(&v);
    is_at_odds("100% wool", test, 2, "against it the microscope");
}

/* Two burns of the warp agree; what is wrong with the weft is no reason against them. */
static void a_false_weft_is_not_at_odds_with_the_warp(void **state)
{
    static const char words[] = "warp: 100% cotton; weft: 100% linen";
    const char *const saw[3] = { PLAIN_COTTON, "in_flame:burns_fast,odour:burning_paper", WOOL };
    struct tb_observation o[3] = { { .part = TB_PART_WARP, .person = "Ann" },
                                   { .part = TB_PART_WARP, .person = "Ann" },
                                   { .part = TB_PART_WEFT, .person = "Ann" } };
    struct tb_declaration d = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err why = { 0 };

    (void)state;
    tb_declaration_read(&d, words, sizeof words - 1);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(tb_observation_read(&o[i], saw[i], NULL, NULL, &why), TB_OK);
    assert_int_equal(tb_evidence_judge(&v, model, &d, o, 3, 0, &why), TB_OK);
    assert_false(v.at_odds);
    assert_int_equal(v.grade, TB_GRADE_CONTRADICTS);
    tb_verdict_free(&v);
    tb_declaration_free(&d);
}

static void one_record_against_many_is_a_mistake_and_is_named(void **state)
{
    const struct seen false_wool[5] = {
        { "Ann", "1", WOOL },
        { "Bob", "2", PLAIN_COTTON ",microscope:twisted_ribbon,bleach:stays,sodium_hydroxide:stays" },
        { "Cy", "3", PLAIN_COTTON },
        { "Dan", "4", PLAIN_COTTON },
        { "Eve", "5", PLAIN_COTTON }
    };
    const struct seen true_wool[5] = { { "Bob", "1", PLAIN_COTTON },
                                       { "Ann", "2", WOOL },
                                       { "Cy", "3", WOOL },
                                       { "Dan", "4", WOOL },
                                       { "Eve", "5", WOOL ",microscope:scales" } };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% wool", false_wool, 5);
    assert_int_equal(v.grade, TB_GRADE_CONTRADICTS);
    assert_true(noted(&v, "say the opposite of the others, the most so what Ann saw in the flame"));
    tb_verdict_free(&v);
    judge(&v, "100% wool", true_wool, 5);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    assert_true(noted(&v, "the most so what Bob saw in the flame"));
    tb_verdict_free(&v);
}

/* Three bolts by one person, of which the second is doubtful; it says in the lot what it says by itself. */
static void is_held_back(const char *saw, bool at_odds, enum tb_grade grade)
{
    const char *const bolt[3] = { WOOL ",residue_colour:black", saw, WOOL ",residue_colour:black" };
    const size_t set[3] = { 0, 1, 2 };
    struct tb_observation o[3] = { 0 };
    struct tb_verdict together = { 0 }, alone[3] = { { 0 } }, row;
    struct tb_declaration d = { 0 };
    struct tb_err why = { 0 };

    tb_declaration_read(&d, "100% wool", 9);
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(tb_observation_read(&o[i], bolt[i], NULL, NULL, &why), TB_OK);
        o[i].person = "Ann";
    }
    assert_int_equal(tb_evidence_judge_sets(&together, alone, model, NULL, &d, o, 3, set, 3, 0, &why), TB_OK);
    judge(&row, "100% wool", &(struct seen){ "Ann", NULL, saw }, 1);
    assert_int_equal(together.grade, TB_GRADE_FITS); /* the two others outweigh it */
    assert_int_equal(alone[0].grade, TB_GRADE_FITS);
    assert_int_equal(together.by_set, 1 + 1);
    assert_int_equal(alone[1].grade, grade);
    assert_int_equal(alone[1].at_odds, at_odds);
    assert_int_equal(row.grade, grade);
    assert_int_equal(row.at_odds, at_odds);
    tb_verdict_free(&row);
    tb_verdict_free(&together);
    for (size_t i = 0; i < 3; i++)
        tb_verdict_free(&alone[i]);
    tb_declaration_free(&d);
}

static void a_bolt_that_is_doubtful_by_itself_keeps_the_lot_from_fitting(void **state)
{
    (void)state;
    is_held_back("approach:melts,in_flame:sputters,removed:continues_to_burn,smoke:sooty,odour:acrid,"
                 "residue_form:hard_mass,residue_colour:black,microscope:scales",
                 true, TB_GRADE_UNDECIDED);
    is_held_back("approach:melts,residue_form:hard_bead", false, TB_GRADE_SPEAKS_AGAINST);
}

/* Rows S27, S28 and S47 of burn_profile.csv: three ways in which nylon was published to burn, none of them usual. */
static void burns_of_which_none_contradicts_do_not_contradict_together(void **state)
{
    const struct seen nylon[3] = {
        { "Ann", "1",
          "approach:melts,approach:shrinks_away,in_flame:melts,in_flame:burns,odour:sweet,"
          "residue_form:hard_mass,residue_form:glassy,residue_form:strings,residue_colour:dark" },
        { "Bob", "2",
          "in_flame:melts,odour:burning_hair,odour:fishy,odour:sweet,residue_form:hard_bead,"
          "residue_form:glassy,residue_form:strings" },
        { "Cy", "3", "in_flame:melts,in_flame:burns,smoke:black,residue_form:hard_mass,residue_colour:black" }
    };
    struct tb_verdict v;

    (void)state;
    for (size_t i = 0; i < 3; i++) {
        judge(&v, "100% nylon", &nylon[i], 1);
        assert_int_not_equal(v.grade, TB_GRADE_CONTRADICTS);
        tb_verdict_free(&v);
    }
    judge(&v, "100% nylon", nylon, 3);
    assert_int_not_equal(v.grade, TB_GRADE_CONTRADICTS);
    tb_verdict_free(&v);
}

static void a_flame_retardant_that_does_not_show_is_said(void **state)
{
    const struct seen plain = { "Ann", "1", PLAIN_COTTON ",removed:continues_to_burn" };
    const struct seen safe = { "Ann", "1", "in_flame:chars,removed:self_extinguishes,residue_colour:black" };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% cotton, flame retardant", &plain, 1);
    assert_true(noted(&v, "do not trust the finish before a test of flammability"));
    tb_verdict_free(&v);
    judge(&v, "100% cotton, flame retardant", &safe, 1);
    assert_false(noted(&v, "do not trust the finish"));
    tb_verdict_free(&v);
    judge(&v, "100% cotton", &plain, 1);
    assert_false(noted(&v, "do not trust the finish"));
    tb_verdict_free(&v);
}

/* A published burn of cotton with a flame retardant (composed_burns.csv), its char crumbling, and nobody named the finish. */
static void a_finish_excuses_cheap_cloth_and_hides_none_that_protects(void **state)
{
    const struct seen char_ = {
        "Ann", "1",
        "in_flame:chars,removed:self_extinguishes,residue_form:crushable_char,residue_colour:black"
    };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% cotton", &char_, 1);
    assert_int_equal(v.grade, TB_GRADE_SPEAKS_AGAINST);
    assert_string_equal(v.excused, "flame_retardant");
    tb_verdict_free(&v);
    judge(&v, "100% aramid", &char_, 1);
    assert_int_equal(v.grade, TB_GRADE_UNDECIDED);
    assert_true(v.imitated);
    tb_verdict_free(&v);
}

/* Aramid chars and goes out (Kadolph; any text): what burns on is no such cloth, whatever it smells of. */
static void cloth_that_is_to_protect_and_burns_on_does_not_fit(void **state)
{
    static const char *const speed[] = { "burns_fast", "burns_moderate" };
    const char *on =
        ",removed:continues_to_burn,odour:sweet,residue_form:crushable_char,residue_colour:black";

    (void)state;
    for (size_t i = 0; i < TB_COUNT(speed); i++) {
        struct tb_text saw = { 0 };
        struct tb_verdict v;

        tb_text_addf(&saw, "in_flame:%s%s", speed[i], on);
        judge(&v, "100% aramid", &(struct seen){ "Ann", "1", saw.s }, 1);
        assert_int_equal(v.grade, TB_GRADE_UNDECIDED);
        assert_true(v.imitated);
        assert_true(noted(&v, "do not trust it to protect anybody"));
        tb_verdict_free(&v);
        tb_text_free(&saw);
    }
}

static void what_is_sold_as_flame_retardant_and_burns_on_is_not_to_be_trusted(void **state)
{
    const struct seen melts = { "Ann", "1", POLYESTER ",removed:continues_to_burn" };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% polyester, flame retardant", &melts, 1);
    assert_true(noted(&v, "do not trust it to protect anybody"));
    tb_verdict_free(&v);
    judge(&v, "100% polyester", &melts, 1);
    assert_false(noted(&v, "do not trust it"));
    tb_verdict_free(&v);
}

static void burns_that_agree_are_not_at_odds(void **state)
{
    const struct seen cotton[2] = { { "Ann", "1", PLAIN_COTTON }, { "Bob", "2", PLAIN_COTTON } };
    /* a smooth rod is polyamide as well: no reason for polyester beside the smell of the other */
    const struct seen nylon = { "Ann", "1", "odour:celery,residue_form:hard_bead,microscope:smooth_rod" };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% cotton", cotton, 2);
    assert_false(v.at_odds);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    tb_verdict_free(&v);
    judge(&v, "100% polyester", cotton, 2);
    assert_false(v.at_odds);
    assert_int_equal(v.grade, TB_GRADE_CONTRADICTS);
    tb_verdict_free(&v);
    judge(&v, "100% polyester", &nylon, 1);
    assert_false(v.at_odds);
    tb_verdict_free(&v);
}

static void what_one_burn_showed_and_another_did_not_is_said_so(void **state)
{
    const struct seen wool[2] = { { "Ann", "1", WOOL }, { "Bob", "1", PLAIN_COTTON } };
    struct tb_text pro = { 0 }, con = { 0 };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% wool", wool, 2);
    tb_verdict_reasons(&pro, &v, 1, 20);
    tb_verdict_reasons(&con, &v, -1, 20);
    assert_non_null(strstr(pro.s, "burnt hair"));
    assert_null(strstr(pro.s, "not seen: burnt hair"));
    assert_null(strstr(pro.s, "not seen in every burn: burnt hair"));
    assert_null(strstr(con.s ? con.s : "", "not seen: burnt hair"));
    tb_text_free(&pro);
    tb_text_free(&con);
    tb_verdict_free(&v);
}

/*
 * Wool that leaves a hard bead, seen by two persons on three bolts, which shows scales and nothing else and dissolves wholly in
 * bleach: a tester calls that undecided and sends it to a laboratory (common practice, no source).
 */
#define HARD_WOOL                                                                                            \
    "approach:curls_away,in_flame:burns_moderate,in_flame:bubbles,removed:continues_to_burn,odour:burning_"  \
    "hair,"                                                                                                  \
    "residue_form:hard_bead,residue_colour:black"

static void two_kinds_of_test_that_agree_leave_one_channel_of_the_burns_undecided(void **state)
{
    static const char *const agree = "Bench tests of two kinds or more";
    const char *all = HARD_WOOL ",microscope:scales,bleach:dissolves", *one = HARD_WOOL ",bleach:dissolves";
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% wool", (struct seen[]){ { "Ann", "1", all }, { "Ann", "2", all }, { "Bob", "3", all } },
          3);
    assert_int_equal(v.grade, TB_GRADE_UNDECIDED);
    assert_true(v.at_odds && noted(&v, agree) && noted(&v, "alone, what was left."));
    tb_verdict_free(&v);
    /* one kind of test alone does not do it, nor two of one swatch, nor where a third one is against it */
    judge(&v, "100% wool", (struct seen[]){ { "Ann", "1", one }, { "Ann", "2", one }, { "Bob", "3", one } },
          3);
    assert_false(noted(&v, agree));
    tb_verdict_free(&v);
    judge(&v, "100% wool",
          (struct seen[]){ { "Ann", "1", all }, { "Ann", "2", HARD_WOOL }, { "Bob", "3", HARD_WOOL } }, 3);
    assert_false(noted(&v, agree));
    tb_verdict_free(&v);
    judge(&v, "100% wool",
          (struct seen[]){
              { "Ann", "1", all }, { "Ann", "2", all }, { "Bob", "3", HARD_WOOL ",melting:200_to_240" } },
          3);
    assert_false(noted(&v, agree));
    tb_verdict_free(&v);
    /* what two channels are against is no lone bead */
    judge(&v, "100% wool",
          (struct seen[]){ { "Ann", "1", POLYESTER ",microscope:scales,bleach:dissolves" },
                           { "Ann", "2", POLYESTER ",microscope:scales,bleach:dissolves" } },
          2);
    assert_int_not_equal(v.grade, TB_GRADE_FITS);
    tb_verdict_free(&v);
}

/* No burns of waxed cloth are published: soot, paraffin and a smear are the wax, and may be on any cloth. */
static void what_a_declared_finish_does_by_itself_is_no_fit(void **state)
{
    static const char *const wax =
        "smoke:sooty,smoke:black,odour:wax_paraffin,residue_form:greasy_smear,residue_colour:black";
    struct tb_text text = { 0 };
    struct tb_verdict v;

    (void)state;
    judge(&v, "100% waxed cotton", &(struct seen){ "Ann", "1", wax }, 1);
    assert_int_equal(v.grade, TB_GRADE_UNDECIDED);
    assert_true(v.outdone && noted(&v, "no evidence of the fibre"));
    v.base_rate = 0.3;
    assert_true(isnan(tb_verdict_chance_false(&v)));
    tb_verdict_free(&v);
    judge(&v, "100% waxed cotton",
          &(struct seen){
              "Ann", "1",
              "approach:ignites_easily,in_flame:burns_fast,removed:continues_to_burn,flame_colour:yellow,"
              "smoke:sooty,odour:wax_paraffin,residue_form:greasy_smear" },
          1);
    assert_int_equal(v.grade, TB_GRADE_FITS); /* wax neither lights faster nor keeps a melt from shrinking */
    tb_verdict_conclude(&text, &v);
    assert_null(strstr(text.s, "at least"));
    tb_text_free(&text);
    tb_verdict_free(&v);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_test_against_what_the_burn_says_does_not_fit),
        cmocka_unit_test(a_test_for_it_keeps_burns_from_contradicting),
        cmocka_unit_test(two_persons_who_saw_opposite_things_decide_nothing),
        cmocka_unit_test(one_person_who_saw_opposite_things_of_one_bolt_decides_nothing_either),
        cmocka_unit_test(two_other_persons_decide_between_two_burns),
        cmocka_unit_test(a_false_weft_is_not_at_odds_with_the_warp),
        cmocka_unit_test(one_record_against_many_is_a_mistake_and_is_named),
        cmocka_unit_test(a_bolt_that_is_doubtful_by_itself_keeps_the_lot_from_fitting),
        cmocka_unit_test(burns_of_which_none_contradicts_do_not_contradict_together),
        cmocka_unit_test(a_flame_retardant_that_does_not_show_is_said),
        cmocka_unit_test(a_finish_excuses_cheap_cloth_and_hides_none_that_protects),
        cmocka_unit_test(cloth_that_is_to_protect_and_burns_on_does_not_fit),
        cmocka_unit_test(what_is_sold_as_flame_retardant_and_burns_on_is_not_to_be_trusted),
        cmocka_unit_test(burns_that_agree_are_not_at_odds),
        cmocka_unit_test(what_one_burn_showed_and_another_did_not_is_said_so),
        cmocka_unit_test(what_a_declared_finish_does_by_itself_is_no_fit),
        cmocka_unit_test(two_kinds_of_test_that_agree_leave_one_channel_of_the_burns_undecided),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
