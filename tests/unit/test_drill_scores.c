/* How testers do: right answers, mistakes, cues reported, agreement with others. Expected figures by hand. */
#include "unit/act_helper.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/act_drill.h"

#define HAIR "odour:burning_hair"
#define PAPER "odour:burning_paper"

#define NEAR(a, b) assert_true(fabs((a) - (b)) < 1e-9)

/* A book with these known cloths; cards are answered through the acts, and what a card is comes from the book. */
static struct scene *with_cloths(const char *const *known, size_t n)
{
    struct scene *s = scene_make("100% cotton", 2);

    for (size_t i = 0; i < n; i++) {
        struct tb_cut_outcome cut;

        OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = known[i] }, &s->mem, &err));
    }
    return s;
}

static const char *const two[] = { "100% cotton", "100% wool" };

/* What a tester answers to a card of this class. */
typedef void answer_fn(const char *truth, size_t nth, const char **named, const char **saw);

static void answers_right(const char *truth, size_t nth, const char **named, const char **saw)
{
    (void)nth;
    *named = truth;
    *saw = strcmp(truth, "protein") == 0 ? HAIR : PAPER;
}

/* Everything is cellulose, and hair is never smelt. */
static void answers_paper(const char *truth, size_t nth, const char **named, const char **saw)
{
    (void)truth;
    (void)nth;
    *named = "cellulose";
    *saw = PAPER;
}

/* Deal so many cards to a tester and have them answered, odour being all that is looked at. */
static void drill(struct scene *s, const char *who, size_t count, answer_fn *fn)
{
    struct tb_actor actor = { s->actor.book, who };
    struct tb_drill_outcome deal;

    OK(tb_act_drill(&deal, &s->actor, &(struct tb_drill_request){ who, count, "abc" }, &s->mem, &err));
    for (size_t i = 0; i < deal.n; i++) {
        struct tb_observation seen = { 0 };
        struct tb_answer_outcome out;
        struct tb_card card;
        const char *named, *saw;
        char name[32];

        (void)snprintf(name, sizeof name, "%lld-%zu", (long long)deal.drill, i + 1);
        OK(tb_card_find(&card, s->actor.book, deal.drill, (int64_t)i + 1, &s->mem, &err));
        fn(tb_drill_class_of(card.known), i, &named, &saw);
        OK(tb_observation_read(&seen, saw, NULL, NULL, &err));
        OK(tb_act_answer(&out, &actor, &(struct tb_answer_request){ name, named, &seen, NULL }, &s->mem,
                         &err));
        assert_int_equal(out.right, strcmp(named, tb_drill_class_of(card.known)) == 0);
    }
}

static struct tb_drill_scores scores(struct scene *s, const char *only)
{
    struct tb_drill_scores d;

    OK(tb_drill_scores_read(&d, s->actor.book, only, &s->mem, &err));
    return d;
}

static size_t class_at(const struct tb_drill_scores *d, const char *key)
{
    for (size_t i = 0; i < d->classes; i++)
        if (strcmp(d->class_key[i], key) == 0)
            return i;
    fail_msg("no class %s", key);
    return 0;
}

static const struct tb_drill_cue *cue_of(const struct tb_drill_tester *t, const char *key)
{
    for (size_t i = 0; i < t->cues; i++)
        if (strcmp(t->cue[i].cue, key) == 0)
            return &t->cue[i];
    return NULL;
}

static void a_tester_who_is_always_right_has_a_kappa_of_one(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;

    (void)state;
    drill(s, "Wren", 6, answers_right);
    d = scores(s, "Wren");
    assert_int_equal(d.dealt, 6);
    assert_int_equal(d.answered, 6);
    assert_int_equal(d.testers, 1);
    assert_int_equal(d.tester[0].answered, 6);
    assert_int_equal(d.tester[0].right, 6);
    NEAR(d.tester[0].kappa.kappa, 1);
    assert_int_equal(d.tester[0].mistakes, 0);
    assert_int_equal(d.classes, 2);
    scene_free(s);
}

/* Six cards, three of each cloth: the wool of all three is named cellulose, which is no more than chance. */
static void mistakes_are_counted_where_they_belong(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;
    const struct tb_drill_tester *t;
    size_t cellulose, protein;

    (void)state;
    drill(s, "Wren", 6, answers_paper);
    d = scores(s, "Wren");
    t = &d.tester[0];
    cellulose = class_at(&d, "cellulose");
    protein = class_at(&d, "protein");
    assert_int_equal(t->answered, 6);
    assert_int_equal(t->right, 3);
    assert_true(t->confusion[protein * 2 + cellulose] == 3);
    assert_true(t->confusion[cellulose * 2 + cellulose] == 3);
    assert_true(t->confusion[cellulose * 2 + protein] == 0);
    NEAR(t->kappa.kappa, 0);
    NEAR(t->kappa.agreement, 0.5);
    assert_int_equal(t->mistakes, 1);
    assert_string_equal(t->mistake[0].was, "protein");
    assert_string_equal(t->mistake[0].named, "cellulose");
    assert_int_equal(t->mistake[0].times, 3);
    assert_int_equal(t->mistake[0].of, 3);
    scene_free(s);
}

/* Wool is named synthetic twice and mixed once: the more frequent mistake is told. */
static void answers_two_ways(const char *truth, size_t nth, const char **named, const char **saw)
{
    static int wool;

    if (nth == 0)
        wool = 0;
    *named = strcmp(truth, "protein") != 0 ? truth : wool++ == 1 ? "mixed" : "unknown";
    *saw = HAIR;
}

static void of_several_mistakes_the_most_frequent_is_told(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;

    (void)state;
    drill(s, "Wren", 6, answers_two_ways);
    d = scores(s, "Wren");
    assert_int_equal(d.tester[0].mistakes, 1);
    assert_string_equal(d.tester[0].mistake[0].named, "unknown");
    assert_int_equal(d.tester[0].mistake[0].times, 2);
    assert_int_equal(d.tester[0].mistake[0].of, 3);
    scene_free(s);
}

/*
 * Ada smells hair at each of the six wools among twelve cards, Wren never: none of eight looks comes by chance with
 * 1/256 were the rate one half, and none of four looks is too few to say.
 */
static void a_cue_that_others_report_and_one_does_not_is_missed(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;
    const struct tb_drill_cue *hair;

    (void)state;
    drill(s, "Ada", 12, answers_right);
    drill(s, "Wren", 4, answers_paper);
    d = scores(s, "Wren");
    hair = cue_of(&d.tester[0], HAIR);
    assert_non_null(hair);
    assert_int_equal(hair->looked, 4);
    assert_int_equal(hair->seen, 0);
    assert_int_equal(hair->others_looked, 12);
    assert_int_equal(hair->others_seen, 6);
    assert_false(hair->missed); /* four looks are too few */
    drill(s, "Wren", 4, answers_paper);
    d = scores(s, "Wren");
    hair = cue_of(&d.tester[0], HAIR);
    assert_int_equal(hair->looked, 8);
    assert_true(hair->missed);
    d = scores(s, "Ada");
    hair = cue_of(&d.tester[0], HAIR);
    assert_int_equal(hair->seen, 6);
    assert_int_equal(hair->others_seen, 0);
    assert_false(hair->missed);                       /* reported more often than by others */
    assert_null(cue_of(&d.tester[0], "smoke:black")); /* nobody reported it */
    scene_free(s);
}

/* Five looks on each side are enough, four are not: the wool alone is dealt, and Ada smells hair each time. */
static void five_looks_on_each_side_are_enough(void **state)
{
    static const struct {
        size_t ada, wren;
        bool missed;
    } cases[] = { { 5, 5, true }, { 4, 5, false }, { 5, 4, false } };
    static const char *const wool[] = { "100% wool" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(cases); i++) {
        struct scene *s = with_cloths(wool, 1);
        struct tb_drill_scores d;
        const struct tb_drill_cue *hair;

        drill(s, "Ada", cases[i].ada, answers_right);
        drill(s, "Wren", cases[i].wren, answers_paper);
        d = scores(s, "Wren");
        hair = cue_of(&d.tester[0], HAIR);
        assert_int_equal(hair->looked, cases[i].wren);
        assert_int_equal(hair->others_looked, cases[i].ada);
        assert_int_equal(hair->missed, cases[i].missed);
        scene_free(s);
    }
}

/* Of answers that all are of one class nothing can be said beyond chance. */
static void one_class_alone_has_no_kappa(void **state)
{
    static const char *const wool[] = { "100% wool" };
    struct scene *s = with_cloths(wool, 1);
    struct tb_drill_scores d;

    (void)state;
    drill(s, "Wren", 3, answers_right);
    d = scores(s, "Wren");
    assert_int_equal(d.classes, 1);
    assert_int_equal(d.tester[0].right, 3);
    assert_true(isnan(d.tester[0].kappa.kappa) && isnan(d.tester[0].kappa.agreement));
    scene_free(s);
}

/* A burn that did not look at a channel says nothing of its cues. */
static void answers_smoke_once(const char *truth, size_t nth, const char **named, const char **saw)
{
    answers_right(truth, nth, named, saw);
    if (nth == 0)
        *saw = "smoke:black";
}

static void only_burns_that_looked_at_a_channel_count_for_its_cues(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;
    const struct tb_drill_cue *smoke, *hair;

    (void)state;
    drill(s, "Ada", 6, answers_smoke_once);
    drill(s, "Wren", 2, answers_right);
    d = scores(s, "Ada");
    smoke = cue_of(&d.tester[0], "smoke:black");
    hair = cue_of(&d.tester[0], HAIR);
    assert_int_equal(smoke->looked, 1);
    assert_int_equal(smoke->seen, 1);
    assert_int_equal(smoke->others_looked, 0);
    assert_int_equal(hair->looked, 5);
    assert_int_equal(hair->others_looked, 2);
    scene_free(s);
}

/* Another tester's answers count only on swatches both had. */
static void answers_on_other_swatches_are_not_compared(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;
    size_t mine = 0;
    struct tb_card *card = NULL;
    size_t n = 0;

    (void)state;
    drill(s, "Ada", 4, answers_right);
    drill(s, "Wren", 1, answers_right);
    OK(tb_card_list(&card, &n, s->actor.book, &s->mem, &err));
    for (size_t i = 0; i < 4; i++)
        mine += strcmp(card[i].swatch, card[4].swatch) == 0;
    assert_int_equal(mine, 2);
    d = scores(s, "Wren");
    assert_int_equal(d.tester[0].cues, 1);
    assert_int_equal(d.tester[0].cue[0].others_looked, 2);
    scene_free(s);
    /* the same whoever answers first */
    s = with_cloths(two, 2);
    drill(s, "Wren", 1, answers_right);
    drill(s, "Ada", 4, answers_right);
    d = scores(s, "Wren");
    assert_int_equal(d.tester[0].cues, 1);
    assert_int_equal(d.tester[0].cue[0].others_looked, 2);
    scene_free(s);
}

/* Fleiss' kappa of two testers who agree on one of two swatches, by hand: agreement 1/2, chance 5/8, kappa -1/3. */
static void testers_are_compared_on_the_swatches_all_of_them_had(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;

    (void)state;
    drill(s, "Ada", 2, answers_right);
    d = scores(s, NULL);
    assert_int_equal(d.swatches, 0); /* one tester alone */
    drill(s, "Wren", 2, answers_paper);
    d = scores(s, NULL);
    assert_int_equal(d.testers, 2);
    assert_string_equal(d.tester[0].name, "Ada");
    assert_string_equal(d.tester[1].name, "Wren");
    assert_int_equal(d.tester[0].right, 2);
    assert_int_equal(d.tester[1].right, 1);
    assert_int_equal(d.swatches, 2);
    NEAR(d.together.agreement, 0.5);
    NEAR(d.together.kappa, (0.5 - 0.625) / (1 - 0.625));
    drill(s, "Ivo", 1, answers_right); /* had one of the swatches only */
    assert_int_equal(scores(s, NULL).swatches, 0);
    scene_free(s);
}

/* The latest answer on a swatch is the tester's word. */
static void an_answer_given_again_replaces_the_one_before_in_the_comparison(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;

    (void)state;
    drill(s, "Ada", 2, answers_right);
    drill(s, "Wren", 2, answers_paper);
    drill(s, "Wren", 2, answers_right);
    d = scores(s, NULL);
    assert_int_equal(d.swatches, 2);
    NEAR(d.together.kappa, 1);
    assert_int_equal(d.tester[1].answered, 4);
    assert_int_equal(d.tester[1].right, 3);
    scene_free(s);
}

static void burn_bolt(struct scene *s, const char *who, const char *bolt, const char *saw)
{
    struct tb_actor actor = { s->actor.book, who };
    struct tb_observation seen = { 0 };
    struct tb_cut_outcome cut;
    struct tb_burn_outcome out = { 0 };

    OK(tb_act_cut(&cut, &actor, &(struct tb_cut_request){ .bolt = bolt }, &s->mem, &err));
    OK(tb_observation_read(&seen, saw, NULL, NULL, &err));
    OK(tb_act_burn(
        &out, &actor,
        &(struct tb_burn_request){ .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
        &s->mem, &err));
    tb_rejudged_free(&out.judged);
}

/* Whoever answered no card is known by the bolts that somebody else burned too. */
static void burns_of_a_bolt_by_two_people_are_compared(void **state)
{
    struct scene *s = with_cloths(two, 2);
    struct tb_drill_scores d;
    const struct tb_drill_tester *t;

    (void)state;
    REFUSED(s, tb_drill_scores_read(&d, s->actor.book, "Ada", &s->mem, &err), TB_ENOTFOUND,
            "Ada: no card answered yet, and no bolt burned that another burned too");
    burn_bolt(s, "Ada", "B1", PAPER);
    REFUSED(s, tb_drill_scores_read(&d, s->actor.book, "Ada", &s->mem, &err), TB_ENOTFOUND, "Ada:");
    burn_bolt(s, "Wren", "B1", PAPER);
    d = scores(s, "Ada");
    t = &d.tester[0];
    assert_int_equal(t->answered, 0);
    assert_int_equal(t->pairs, 1);
    NEAR(t->doubled.agreement, 1);
    NEAR(t->doubled.kappa, 1);
    assert_true(isnan(t->kappa.kappa));
    burn_bolt(s, "Ada", "B2", PAPER);
    burn_bolt(s, "Wren", "B2", HAIR);
    d = scores(s, "Wren");
    assert_int_equal(d.tester[0].pairs, 2);
    assert_true(d.tester[0].doubled.agreement < 1 && d.tester[0].doubled.kappa < 1);
    assert_int_equal(scores(s, NULL).testers, 0); /* nobody answered a card */
    scene_free(s);
}

static void a_book_without_drills_has_no_testers(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_drill_scores d = scores(s, NULL);

    (void)state;
    assert_int_equal(d.dealt, 0);
    assert_int_equal(d.testers, 0);
    assert_int_equal(d.swatches, 0);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tester_who_is_always_right_has_a_kappa_of_one),
        cmocka_unit_test(mistakes_are_counted_where_they_belong),
        cmocka_unit_test(of_several_mistakes_the_most_frequent_is_told),
        cmocka_unit_test(a_cue_that_others_report_and_one_does_not_is_missed),
        cmocka_unit_test(five_looks_on_each_side_are_enough),
        cmocka_unit_test(one_class_alone_has_no_kappa),
        cmocka_unit_test(only_burns_that_looked_at_a_channel_count_for_its_cues),
        cmocka_unit_test(answers_on_other_swatches_are_not_compared),
        cmocka_unit_test(testers_are_compared_on_the_swatches_all_of_them_had),
        cmocka_unit_test(an_answer_given_again_replaces_the_one_before_in_the_comparison),
        cmocka_unit_test(burns_of_a_bolt_by_two_people_are_compared),
        cmocka_unit_test(a_book_without_drills_has_no_testers),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
