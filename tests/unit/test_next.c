/* What to do next: a test for every verdict that leaves something open, and what its results would do. */
#include "evidence_model.h"
#include "published_burn.h"
#include "unit/verdict_helper.h"

#include "gen/ref_channel.h"
#include "gen/ref_offer.h"

#include <stdlib.h>

/* Up to two fibres: what is tested here does not hang on mixtures of three, and every published burn is judged. */
static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

/* A burn as one published description has it. */
static struct tb_observation published(const struct tb_ref_burn_profile *r)
{
    struct tb_observation o = { 0 };

    take_profile(&o, r);
    return o;
}

/* At least one test of the model's own, one without a flame, and what can always be done; all with hazard and cost. */
static void has_what_to_do(const struct tb_verdict *v)
{
    size_t tests = 0, flameless = 0;

    for (size_t i = 0; i < v->n_next; i++) {
        const struct tb_next *n = &v->next[i];

        assert_true(n->effort[0] && n->name[0] && n->minutes >= 0 && n->cost >= 0);
        assert_true(n->caution[0] || n->hazards == 0);
        if (n->channel < 0)
            continue;
        tests++;
        flameless += !(n->hazards & TB_HAZARD_FLAME);
        assert_true(n->gain_bits > 0 && n->gain_bits <= 1 && n->settles > 0 && n->settles <= 1 + 1e-9);
    }
    if (v->handling == TB_HANDLING_LABORATORY) { /* it neither burned nor melted */
        assert_int_equal(tests, 0);
        assert_true(proposes(v, "licensed_laboratory"));
        return;
    }
    assert_true(tests > 0);
    assert_true(flameless > 0);
    assert_true(proposes(v, "control") && proposes(v, "laboratory"));
}

/* The confirming test could change it. */
static bool some_result_changes(const struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_outcome; i++)
        if (v->outcome[i].grade != v->grade)
            return true;
    return false;
}

static bool some_result_is(const struct tb_verdict *v, enum tb_grade grade)
{
    for (size_t i = 0; i < v->n_outcome; i++)
        if (v->outcome[i].grade == grade)
            return true;
    return false;
}

/* What is proposed by that name; "": nothing. */
static const char *offer_of(const struct tb_verdict *v, const char *test)
{
    for (size_t i = 0; i < v->n_next; i++)
        if (strcmp(v->next[i].test, test) == 0)
            return v->next[i].name;
    return "";
}

static void no_published_burn_is_left_without_a_next_test(void **state)
{
    static const char *const declared[] = {
        "100% cotton",
        "100% wool",
        "100% silk",
        "100% polyester",
        "100% nylon",
        "100% acrylic",
        "100% viscose",
        "100% acetate",
        "65% polyester 35% cotton",
        "80% wool 20% nylon",
        "55% linen 45% viscose",
        "95% cotton 5% elastane",
        "100% polypropylene",
    };
    size_t graded[TB_GRADES] = { 0 };

    (void)state;
    for (size_t i = 0; i < tb_ref_burn_profile_n; i++) {
        struct tb_observation o = published(&tb_ref_burn_profile[i]);

        for (size_t k = 0; k < 3 && !tb_observation_empty(&o); k++) {
            struct tb_verdict v = { 0 };

            judge(&v, model, declared[(i + 5 * k) % TB_COUNT(declared)], &o, TB_WANT_NEXT | TB_WANT_OUTCOMES);
            graded[v.grade]++;
            if (v.kind != TB_FITS) {
                has_what_to_do(&v);
                assert_true(some_result_changes(&v) || v.handling == TB_HANDLING_LABORATORY);
            }
            tb_verdict_free(&v);
        }
    }
    /* the tables hold hundreds of each */
    assert_true(graded[TB_GRADE_CONTRADICTS] > 200 && graded[TB_GRADE_UNDECIDED] > 50);
    assert_true(graded[TB_GRADE_SPEAKS_AGAINST] > 20);
}

static void a_burn_that_fits_is_sent_nowhere(void **state)
{
    struct tb_observation o = seen_as(AS_COTTON);
    struct tb_verdict v = { 0 };

    (void)state;
    judge(&v, model, "100% cotton", &o, TB_WANT_NEXT | TB_WANT_OUTCOMES);
    assert_int_equal(v.kind, TB_FITS);
    assert_false(proposes(&v, "control") || proposes(&v, "laboratory"));
    assert_null(v.confirm.test);
    assert_int_equal(v.n_outcome, 0);
    tb_verdict_free(&v);
}

static void what_cannot_be_judged_can_still_go_to_a_laboratory(void **state)
{
    struct tb_observation nothing = { 0 };
    struct tb_verdict v = { 0 };

    (void)state;
    judge(&v, model, "100% silk", &nothing, TB_WANT_NEXT | TB_WANT_OUTCOMES);
    assert_non_null(v.reason);
    assert_true(proposes(&v, "laboratory"));
    tb_verdict_free(&v);
}

static void a_house_without_flame_is_offered_no_flame(void **state)
{
    struct tb_observation o = seen_as(AS_COTTON);
    struct tb_evidence_settings set;
    struct tb_evidence *ev = NULL;
    struct tb_verdict v = { 0 };

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    set.hazards_allowed = TB_HAZARD_ALL & ~(unsigned)TB_HAZARD_FLAME;
    OK(tb_evidence_new(&ev, &set, NULL, 0, &err));
    judge(&v, ev, "100% silk", &o, TB_WANT_NEXT | TB_WANT_OUTCOMES);
    assert_true(v.n_next > 1 && proposes(&v, "laboratory"));
    for (size_t i = 0; i < v.n_next; i++)
        assert_false(v.next[i].hazards & TB_HAZARD_FLAME);
    assert_non_null(v.confirm.test);
    assert_false(v.confirm.hazards & TB_HAZARD_FLAME);
    tb_verdict_free(&v);
    tb_evidence_free(ev);
}

/* Both a burn and a bench test may be named; each outcome is what judging with it gives. */
static void an_outcome_is_what_judging_again_would_say(void **state)
{
    static const struct {
        const char *declared, *saw;
    } row[] = { { "100% silk", "smoke:black" },       { "100% silk", AS_COTTON },
                { "100% acetate", "in_flame:melts" }, { "65% polyester 35% cotton", "odour:burning_hair" },
                { "100% polyester", AS_COTTON },      { "100% wool", AS_POLYESTER } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_observation o = seen_as(row[i].saw);
        struct tb_verdict v = { 0 };

        judge(&v, model, row[i].declared, &o, TB_WANT_NEXT | TB_WANT_OUTCOMES);
        assert_true(v.kind != TB_FITS && v.confirm.test && v.n_outcome >= 2);
        for (size_t k = 0; k < v.n_outcome; k++) {
            struct tb_observation with = o;
            struct tb_verdict then = { 0 };
            int cue = tb_cue_by_key(v.outcome[k].result);

            if (cue < 0) { /* another swatch burned, or several kinds of fibre in one mount */
                assert_true(v.confirm.hazards & TB_HAZARD_FLAME ||
                            strcmp(v.confirm.test, "bench:microscope") == 0);
                continue;
            }
            tb_observation_see(&with, cue);
            judge(&then, model, row[i].declared, &with, 0);
            assert_int_equal(then.grade, v.outcome[k].grade);
            assert_true(fabs(within(&then) - v.outcome[k].bounded) < 1e-9);
            tb_verdict_free(&then);
        }
        tb_verdict_free(&v);
    }
}

/* Results of a tenth and more, of a bench test; of a burn both. */
static size_t grades_of_likely_results(const struct tb_verdict *v)
{
    unsigned grades = 0;
    size_t n = 0;

    for (size_t i = 0; i < v->n_outcome; i++)
        if (!v->confirm.likely || v->confirm.likely >> i & 1)
            grades |= 1u << v->outcome[i].grade;
    for (; grades; grades &= grades - 1)
        n++;
    return n;
}

/* With the laboratory in its place where the bench has no such test. */
static void check_named(size_t *named, size_t *sent, const struct tb_verdict *v)
{
    struct tb_text words = { 0 };

    if (v->n_outcome && v->supposed) { /* cloth without a label: nothing makes it fit */
        tb_verdict_confirm(&words, v);
        assert_non_null(strstr(words.s, "the lot stays undecided"));
        assert_null(strstr(words.s, "fits, if"));
        ++*named;
    } else if (v->n_outcome && strcmp(v->confirm.test, "laboratory") != 0) {
        assert_true(grades_of_likely_results(v) >= 2);
        ++*named;
    } else if (v->kind != TB_FITS && v->handling == TB_HANDLING_ANY) {
        assert_string_equal(v->confirm.test, "laboratory");
        tb_verdict_confirm(&words, v);
        assert_non_null(
            strstr(words.s, "No test that is allowed at this bench is likely to change this; what would: "));
        assert_int_equal(v->n_outcome, v->reason ? 0 : 2);
        if (v->n_outcome) { /* both leave the grade as it is: what tells them apart is what is concluded of the lot */
            assert_string_equal(v->outcome[0].conclusion, "conforms");
            assert_string_equal(v->outcome[1].conclusion, "does not conform");
        }
        assert_int_equal(v->n_outcome > 0, strstr(words.s, "the lot does not conform") != NULL);
        ++*sent;
    }
    tb_text_free(&words);
}

/* At a bench where everything is allowed, and at one with a microscope and a bowl of water; words that cannot be read, and none, too. */
static void a_test_is_named_only_where_two_of_its_likely_results_lead_to_two_grades(void **state)
{
    static const char *const declared[] = { "", "100% cotton", "100% polyester", "100% ptfe",
                                            "100% acrylic" };
    struct tb_evidence_settings harmless;
    struct tb_evidence *bowl = NULL;
    size_t named = 0, sent = 0;

    (void)state;
    tb_evidence_defaults(&harmless);
    harmless.hazards_allowed = 0;
    OK(tb_evidence_new(&bowl, &harmless, NULL, 0, &err));
    for (size_t i = 0; i < tb_ref_burn_profile_n; i += 3) {
        struct tb_observation o = published(&tb_ref_burn_profile[i]);
        struct tb_verdict v = { 0 };

        if (tb_observation_empty(&o))
            continue;
        judge(&v, i / 15 % 2 ? model : bowl, declared[i / 3 % TB_COUNT(declared)], &o,
              TB_WANT_NEXT | TB_WANT_OUTCOMES);
        check_named(&named, &sent, &v);
        tb_verdict_free(&v);
    }
    assert_true(named > 20 && sent > 5);
    tb_evidence_free(bowl);
}

static void a_held_lot_names_its_confirming_test_and_what_it_would_do(void **state)
{
    struct scene *s = scene_make("100% silk", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome burnt = burn_one(s, tag, AS_COTTON);
    const struct tb_verdict *v = &burnt.judged.v.verdict;
    struct tb_text words = { 0 };
    size_t compared = 0;

    (void)state;
    assert_int_equal(v->kind, TB_CONTRADICTS);
    assert_true(burnt.judged.held);
    assert_non_null(v->confirm.test);
    tb_verdict_confirm(&words, v);
    assert_non_null(strstr(words.s, "The confirming test: "));
    assert_non_null(strstr(words.s, v->confirm.effort));
    assert_non_null(strstr(words.s, "  - contradicts, if: "));
    for (size_t i = 0; i < v->n_outcome && !compared; i++) {
        const char *colon = strchr(v->outcome[i].result, ':');
        struct tb_try_outcome tried;
        char test[40];

        if (!colon)
            continue;
        (void)snprintf(test, sizeof test, "%.*s", (int)(colon - v->outcome[i].result), v->outcome[i].result);
        OK(tb_act_try(&tried, &s->actor,
                      &(struct tb_try_request){ .swatch = tag, .test = test, .result = colon + 1 }, &s->mem,
                      &err));
        assert_int_equal(tried.judged.v.verdict.grade, v->outcome[i].grade);
        assert_true(fabs(within(&tried.judged.v.verdict) - v->outcome[i].bounded) < 1e-9);
        compared++;
        tb_rejudged_free(&tried.judged);
    }
    tb_text_free(&words);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

/* Known silk, burned beside the unknown, that does what the unknown did: this silk may be weighted, or the nose is wrong. */
static void a_control_burn_of_known_cloth_counts(void **state)
{
    struct tb_observation o = seen_as("odour:burning_paper residue_form:crushable_bead");
    struct tb_known_burn known = { .fibre = tb_fibre_by_key("silk"), .seen = o, .weight = 1 };
    struct tb_evidence_settings set;
    struct tb_evidence *taught = NULL;
    struct tb_verdict before = { 0 }, after = { 0 };

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    OK(tb_evidence_new(&taught, &set, &known, 1, &err));
    judge(&before, model, "100% silk", &o, TB_WANT_NEXT);
    judge(&after, taught, "100% silk", &o, 0);
    assert_true(before.kind != TB_FITS && proposes(&before, "control"));
    assert_true(after.log_ratio > before.log_ratio);
    tb_verdict_free(&before);
    tb_verdict_free(&after);
    tb_evidence_free(taught);
}

/* The same at the bench: cut, burned, and the lot judged anew. */
static void a_lot_is_judged_by_the_known_cloth_burned_beside_it(void **state)
{
    static const char *const saw = "odour:burning_paper residue_form:crushable_bead";
    struct scene *s = scene_make("100% silk", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome unknown = burn_one(s, tag, saw), control;
    struct tb_cut_outcome known;
    struct tb_rejudged now;

    (void)state;
    OK(tb_act_cut(&known, &s->actor, &(struct tb_cut_request){ .known = "100% silk" }, &s->mem, &err));
    control = burn_one(s, known.swatch.tag, saw);
    OK(tb_act_judge(&now, &s->actor, s->lot.ref, TB_WANT_NEXT, &s->mem, &err));
    assert_true(now.v.verdict.log_ratio > unknown.judged.v.verdict.log_ratio);
    assert_true(proposes(&now.v.verdict, "control"));
    tb_rejudged_free(&now);
    tb_rejudged_free(&control.judged);
    tb_rejudged_free(&unknown.judged);
    scene_free(s);
}

static double ratio_of(const struct tb_evidence *ev, const char *words, const struct tb_observation *o)
{
    struct tb_verdict v = { 0 };
    double ratio;

    judge(&v, ev, words, o, 0);
    ratio = v.log_ratio;
    tb_verdict_free(&v);
    return ratio;
}

/* Known blend that does what the unknown did speaks for that blend; a fibre too scarce to show learns nothing from it. */
static void a_control_burn_of_a_known_blend_counts(void **state)
{
    struct tb_observation o = seen_as("smoke:black residue_form:crushable_char odour:celery");
    struct tb_declaration d = { 0 };
    struct tb_known_burn known = { .fibre = -1, .seen = o, .weight = 1 };
    struct tb_evidence_settings set;
    struct tb_evidence *taught = NULL;
    static const char words[] = "65% polyester 35% cotton", scarce[] = "97% cotton 3% polyester";

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    tb_declaration_read(&d, words, strlen(words));
    known.blend = &d.comp.part[0];
    OK(tb_evidence_new(&taught, &set, &known, 1, &err));
    assert_true(ratio_of(taught, words, &o) > ratio_of(model, words, &o) + 0.1);
    tb_evidence_free(taught);
    tb_declaration_free(&d);
    tb_declaration_read(&d, scarce, strlen(scarce));
    known.blend = &d.comp.part[0];
    OK(tb_evidence_new(&taught, &set, &known, 1, &err));
    assert_true(ratio_of(taught, "100% polyester", &o) < ratio_of(model, "100% polyester", &o) + 0.3);
    tb_evidence_free(taught);
    tb_declaration_free(&d);
}

/* The words are not there, or nobody can read them: the burn still says what the cloth is likeliest to be, and what tells. */
static void cloth_without_a_label_is_said_to_be_its_likeliest(void **state)
{
    static const char *const words[] = { "", "xyzzy", "100% ptfe" };
    struct tb_observation o = seen_as(AS_POLYESTER);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(words); i++) {
        struct tb_verdict v = { 0 };

        judge(&v, model, words[i], &o, TB_WANT_ALL);
        assert_int_equal(v.kind, TB_UNDECIDED);
        assert_non_null(v.reason);
        assert_true(isnan(v.log_ratio));
        assert_true(v.n_likely > 1 && v.likely[0].n == 1);
        assert_int_equal(v.likely[0].fibre[0], tb_fibre_by_key("polyester"));
        assert_true(v.likely[0].probability > 0.5 && v.n_twins > 0);
        assert_true(v.n_next > 0 && v.next[0].channel >= 0 && v.next[0].gain_bits > 0);
        assert_true(proposes(&v, "laboratory"));
        assert_int_equal(v.n_cue + v.n_power, 0); /* nothing to weigh them against */
        /* the test named is one of what it is likeliest to be, and could show that it is not */
        assert_string_equal(v.supposed, "100 % polyester");
        assert_non_null(v.confirm.test);
        assert_true(some_result_is(&v, TB_GRADE_FITS));
        assert_true(some_result_changes(&v)); /* it fits as it stands */
        assert_string_equal(offer_of(&v, "control"),
                            i == 2 ? ""
                                   : "burn known cloth of what it is likeliest to be beside it, the same way "
                                     "(tenterbook cut --known): it counts in the next verdict");
        tb_verdict_free(&v);
    }
}

/* The commonest swap must stand where people still read: commonness.csv has viscose and flax behind cotton, cupro far down. */
static void twins_are_named_by_how_common_they_are(void **state)
{
    struct tb_observation o = seen_as(AS_COTTON);
    struct tb_verdict v = { 0 };

    (void)state;
    judge(&v, model, "100% cotton", &o, 0);
    assert_true(v.n_twins > 0 && v.twins[0].n > 5);
    assert_int_equal(v.twins[0].fibre[0], tb_fibre_by_key("cotton"));
    assert_int_equal(v.twins[0].fibre[1], tb_fibre_by_key("viscose"));
    assert_int_equal(v.twins[0].fibre[2], tb_fibre_by_key("flax"));
    tb_verdict_free(&v);
}

/* Poison is not offered before a test that harms nobody and tells half as much. */
static void where_gains_are_near_the_less_harmful_test_comes_first(void **state)
{
    static const char *const declared[] = { "100% cotton", "100% polyester", "100% wool", "100% silk",
                                            "100% acrylic" };
    size_t turned = 0;

    (void)state;
    for (size_t i = 0; i < tb_ref_burn_profile_n; i++) {
        struct tb_observation o = published(&tb_ref_burn_profile[i]);
        struct tb_verdict v = { 0 };

        if (tb_observation_empty(&o))
            continue;
        judge(&v, model, declared[i % TB_COUNT(declared)], &o, TB_WANT_NEXT);
        for (size_t a = 0; a < v.n_next && v.next[a].channel >= 0; a++)
            for (size_t b = a + 1; b < v.n_next && v.next[b].channel >= 0; b++) {
                bool poison = v.next[a].hazards & TB_HAZARD_TOXIC, harmless = v.next[b].hazards == 0;

                assert_false(poison && harmless && v.next[b].gain_bits >= 0.5 * v.next[a].gain_bits);
                turned += v.next[a].gain_bits < v.next[b].gain_bits;
            }
        tb_verdict_free(&v);
    }
    assert_true(turned > 10);
}

/* Whoever has the laboratory's answer is not sent there again, and asks no share of lots about this one. */
static void a_cloth_that_a_laboratory_answered_for_is_not_sent_there_again(void **state)
{
    struct tb_observation o = seen_as(AS_POLYESTER);
    struct tb_verdict v = { 0 };
    size_t n;

    (void)state;
    judge(&v, model, "100% cotton", &o, TB_WANT_NEXT);
    v.base_rate = 0.27;
    n = v.n_next;
    assert_true(proposes(&v, "laboratory") && !isnan(tb_verdict_chance_false(&v)));
    tb_verdict_answered(&v);
    assert_int_equal(v.n_next, n - 1);
    assert_false(proposes(&v, "laboratory"));
    assert_true(isnan(tb_verdict_chance_false(&v)));
    assert_int_equal(v.kind, TB_CONTRADICTS);
    tb_verdict_free(&v);
}

/* Who could not smell cannot smell it another time either, and who smelled it alone smells the same again. */
static void what_somebody_could_not_judge_is_for_another_person(void **state)
{
    struct tb_observation o = seen_as("smoke:black residue_form:hard_bead");
    struct tb_verdict v = { 0 };

    (void)state;
    judge(&v, model, "100% cotton", &o, TB_WANT_NEXT);
    assert_string_equal(offer_of(&v, "burn:odour"), "burn another swatch and smell it once the flame is out");
    tb_verdict_free(&v);
    OK(tb_observation_could_not(&o, "odour", &err));
    judge(&v, model, "100% cotton", &o, TB_WANT_NEXT);
    assert_non_null(strstr(offer_of(&v, "burn:odour"), "another person"));
    assert_null(strstr(offer_of(&v, "burn:in_flame"), "another person"));
    tb_verdict_free(&v);
    tb_observation_see(&o, tb_cue_by_key("odour:chemical_plastic"));
    o.could_not[tb_channel_by_key("odour")] = 0;
    judge(&v, model, "100% acetate", &o, TB_WANT_NEXT);
    assert_true(!proposes(&v, "burn:odour") || strstr(offer_of(&v, "burn:odour"), "another person"));
    tb_verdict_free(&v);
}

static void a_control_burn_is_of_what_was_declared(void **state)
{
    static const char *const words[] = { "100% cotton", "65% cotton 35% polyester",
                                         "60% cotton 5% wool 35% viscose" };
    static const char *const of[] = { "of the declared fibre", "of the declared blend",
                                      "of the declared blend" };
    struct tb_observation o = seen_as(AS_POLYESTER);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(words); i++) {
        struct tb_verdict v = { 0 };

        judge(&v, model, words[i], &o, TB_WANT_NEXT);
        assert_int_not_equal(v.kind, TB_FITS);
        assert_non_null(strstr(offer_of(&v, "control"), of[i]));
        tb_verdict_free(&v);
    }
}

/* What else it could be is never hidden behind what burns like the declared fibre. */
static void beside_a_verdict_only_what_else_it_could_be_is_listed(void **state)
{
    struct tb_observation o = seen_as(AS_COTTON);
    struct tb_declaration d = { 0 };
    struct tb_text said = { 0 };
    struct tb_verdict v = { 0 };
    size_t other = 0;

    (void)state;
    tb_declaration_read(&d, "100% cotton", 11);
    judge(&v, model, "100% cotton", &o, 0);
    assert_true(v.likely[0].as_declared);
    for (size_t i = 0; i < v.n_likely; i++)
        other += !v.likely[i].as_declared;
    assert_true(other >= 4);
    tb_verdict_likeliest(&said, &v);
    assert_non_null(strstr(said.s, "If it is not as declared, it is likeliest, in this order: "));
    assert_null(strstr(said.s, "in 100"));
    assert_null(strstr(said.s, "100 % cotton"));
    assert_null(strstr(said.s, "viscose;"));
    tb_text_free(&said);
    tb_verdict_free(&v);
    tb_declaration_free(&d);
}

static void nothing_declared_and_nothing_seen_says_nothing(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };

    (void)state;
    judge(&v, model, "", &o, TB_WANT_ALL);
    assert_non_null(v.reason);
    assert_int_equal(v.n_likely + v.n_note, 0);
    tb_verdict_free(&v);
}

/* common practice, no source: nobody takes a paper smell with a plastic one for polylactide, aramid or glass. */
static void common_cloth_leads_what_it_could_be_and_changes_no_ratio(void **state)
{
    static const char *const saw[] = { AS_COTTON, AS_POLYESTER, "odour:burning_paper odour:chemical_plastic",
                                       "in_flame:flameless removed:self_extinguishes", "smoke:black" };
    static const char *const rare[] = {
        "polylactide", "aramid", "glass", "vinylal", "chlorofibre", "protein"
    };
    struct tb_evidence_settings set;
    struct tb_evidence *even = NULL;

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    set.commonness = 0;
    OK(tb_evidence_new(&even, &set, NULL, 0, &err));
    for (size_t i = 0; i < TB_COUNT(saw); i++) {
        struct tb_observation o = seen_as(saw[i]);
        struct tb_verdict v = { 0 }, w = { 0 };

        judge(&v, model, "100% wool", &o, 0);
        judge(&w, even, "100% wool", &o, 0);
        for (size_t l = 0; l < 3 && l < v.n_likely; l++)
            for (int f = 0; f < v.likely[l].n; f++)
                for (size_t r = 0; r < TB_COUNT(rare); r++)
                    assert_int_not_equal(v.likely[l].fibre[f], tb_fibre_by_key(rare[r]));
        assert_true(v.log_ratio == w.log_ratio);
        assert_string_equal(v.digest, w.digest);
        assert_true(v.likely[0].probability != w.likely[0].probability);
        tb_verdict_free(&v);
        tb_verdict_free(&w);
    }
    tb_evidence_free(even);
    set.commonness = 1.5;
    assert_int_equal(tb_evidence_new(&even, &set, NULL, 0, &err), TB_EINVAL);
}

/* What a burn of a blend shows of both fibres speaks for the blend, and never much more for one of them alone. */
static void a_true_blend_is_never_far_below_one_of_its_fibres(void **state)
{
    static const struct {
        const char *declared, *alone[2], *saw;
    } row[] = {
        { "65% polyester 35% cotton",
          { "100% polyester", "100% cotton" },
          "odour:burning_paper odour:chemical_plastic" },
        { "80% cotton 20% polyester",
          { "100% cotton", "100% polyester" },
          "odour:burning_paper odour:chemical_plastic residue_form:crushable_char" },
        { "50% cotton 50% polyester",
          { "100% cotton", "100% polyester" },
          "odour:burning_paper residue_form:hard_bead" },
        { "95% cotton 5% elastane", { "100% cotton", "100% elastane" }, AS_COTTON },
        { "80% wool 20% polyamide",
          { "100% wool", "100% polyamide" },
          "odour:burning_hair in_flame:melts residue_form:hard_bead" },
        { "55% linen 45% viscose", { "100% linen", "100% viscose" }, AS_COTTON },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_observation o = seen_as(row[i].saw);
        struct tb_verdict blend = { 0 };

        judge(&blend, model, row[i].declared, &o, 0);
        assert_true(blend.log_ratio > log(3));
        for (size_t k = 0; k < 2; k++) {
            struct tb_verdict alone = { 0 };

            judge(&alone, model, row[i].alone[k], &o, 0);
            assert_true(blend.log_ratio > alone.log_ratio - log(3));
            tb_verdict_free(&alone);
        }
        tb_verdict_free(&blend);
    }
}

static bool notes(const struct tb_verdict *v, const char *words)
{
    for (size_t i = 0; i < v->n_note; i++)
        if (strstr(v->note[i], words))
            return true;
    return false;
}

static void what_a_burn_cannot_tell_of_a_blend_stands_beside_its_verdict(void **state)
{
    struct tb_observation o = seen_as("odour:burning_paper odour:chemical_plastic");
    struct tb_verdict blend = { 0 }, even = { 0 }, pure = { 0 };

    (void)state;
    judge(&blend, model, "65% polyester 35% cotton", &o, TB_WANT_POWER);
    judge(&even, model, "50% polyester 50% cotton", &o, TB_WANT_POWER);
    judge(&pure, model, "100% cotton", &o, TB_WANT_POWER);
    assert_true(notes(&blend, "cannot tell this blend from 50 % polyester, 50 % cotton"));
    assert_true(notes(&blend, "100 % polyester")); /* one burn never shows that the cotton is missing */
    assert_true(notes(&even, "cannot tell this blend from 70 % polyester, 30 % cotton"));
    assert_false(notes(&pure, "shares"));
    tb_verdict_free(&blend);
    tb_verdict_free(&even);
    tb_verdict_free(&pure);
}

static void every_test_of_the_tables_has_its_effort_and_its_caution(void **state)
{
    (void)state;
    for (size_t i = 0; i < tb_ref_channel_n; i++)
        assert_true(tb_ref_channel[i].effort[0] && tb_ref_channel[i].caution[0]);
    for (size_t i = 0; i < tb_ref_offer_n; i++) {
        assert_true(tb_ref_offer[i].effort[0]);
        assert_true(tb_ref_offer[i].caution[0] || !tb_ref_offer[i].hazards[0]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_published_burn_is_left_without_a_next_test),
        cmocka_unit_test(a_burn_that_fits_is_sent_nowhere),
        cmocka_unit_test(what_cannot_be_judged_can_still_go_to_a_laboratory),
        cmocka_unit_test(a_house_without_flame_is_offered_no_flame),
        cmocka_unit_test(an_outcome_is_what_judging_again_would_say),
        cmocka_unit_test(a_test_is_named_only_where_two_of_its_likely_results_lead_to_two_grades),
        cmocka_unit_test(a_held_lot_names_its_confirming_test_and_what_it_would_do),
        cmocka_unit_test(a_control_burn_of_known_cloth_counts),
        cmocka_unit_test(a_control_burn_of_a_known_blend_counts),
        cmocka_unit_test(a_lot_is_judged_by_the_known_cloth_burned_beside_it),
        cmocka_unit_test(cloth_without_a_label_is_said_to_be_its_likeliest),
        cmocka_unit_test(twins_are_named_by_how_common_they_are),
        cmocka_unit_test(where_gains_are_near_the_less_harmful_test_comes_first),
        cmocka_unit_test(a_cloth_that_a_laboratory_answered_for_is_not_sent_there_again),
        cmocka_unit_test(what_somebody_could_not_judge_is_for_another_person),
        cmocka_unit_test(a_control_burn_is_of_what_was_declared),
        cmocka_unit_test(beside_a_verdict_only_what_else_it_could_be_is_listed),
        cmocka_unit_test(nothing_declared_and_nothing_seen_says_nothing),
        cmocka_unit_test(common_cloth_leads_what_it_could_be_and_changes_no_ratio),
        cmocka_unit_test(a_true_blend_is_never_far_below_one_of_its_fibres),
        cmocka_unit_test(what_a_burn_cannot_tell_of_a_blend_stands_beside_its_verdict),
        cmocka_unit_test(every_test_of_the_tables_has_its_effort_and_its_caution),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
