/* test_evidence.c - cues, observations, the model and its verdicts. */
#include "evidence/space.h"
#include "evidence/sums.h"
#include "evidence_model.h"
#include "gen/ref_channel.h"
#include "gen/ref_cue.h"
#include "tenterbook/evidence.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
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

/* What the code looks up by word in these tables must be a word it knows: it does not ask again. */
static void the_words_of_the_tables_are_those_the_model_knows(void **state)
{
    static const char *const law[] = { "any", "all", "share", "partly" };

    (void)state;
    for (size_t c = 0; c < tb_ref_cue_n; c++) {
        bool known = false;

        for (size_t i = 0; i < TB_COUNT(law); i++)
            known |= strcmp(tb_ref_cue[c].law, law[i]) == 0;
        assert_true(known);
        assert_true(!*tb_ref_cue[c].kind_of || tb_cue_by_key(tb_ref_cue[c].kind_of) >= 0);
        assert_non_null(strchr(tb_ref_cue[c].key, ':'));
    }
    for (size_t c = 0; c < tb_ref_channel_n; c++)
        for (const char *word = tb_ref_channel[c].hazards; *word;) {
            size_t n = strcspn(word, ";");
            bool known = false;

            for (unsigned b = 1; b <= TB_HAZARD_ALL; b <<= 1)
                known |= strlen(tb_hazard_key((enum tb_hazard)b)) == n &&
                         strncmp(tb_hazard_key((enum tb_hazard)b), word, n) == 0;
            assert_true(known);
            word += n + (word[n] == ';');
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
    assert_int_equal(tb_cue_find(&cue, "hair", &err),
                     TB_EINVAL); /* by what it means, before how it is spelt */
    assert_non_null(strstr(err.msg, "odour:burning_hair"));
    assert_null(strstr(err.msg, "in_flame:chars"));
    assert_int_equal(tb_cue_find(&cue, "smoke:hair", &err), TB_EINVAL); /* none of that channel */
    assert_null(strstr(err.msg, "odour:"));
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

/* A fibre is in a cloth at least as likely as the sets that it is in are: `present` and `likeliest` are one order. */
static void no_cloth_is_likelier_than_a_fibre_in_it(void **state)
{
    static const char *const saw[] = { "approach:shrinks_away smoke:black odour:sweet residue_form:hard_bead",
                                       "odour:burning_hair smoke:black", "residue_form:hard_bead" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(saw); i++) {
        struct tb_verdict v = judged("100% acrylic", saw[i], NULL, NULL);

        for (size_t p = 0; p < v.n_present; p++) {
            double sum = 0;

            for (size_t k = 0; k < v.n_likely; k++)
                for (int r = 0; r < v.likely[k].n; r++)
                    sum += v.likely[k].fibre[r] == v.present[p].fibre ? v.likely[k].probability : 0;
            assert_true(v.present[p].probability >= sum - 1e-9 && v.present[p].probability <= 1);
        }
        assert_int_equal(v.likely[0].fibre[0], v.present[0].fibre);
        tb_verdict_free(&v);
    }
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
    assert_string_not_equal(taught->digest, model->digest);
    assert_int_equal(strncmp(model->digest, "sha256:", 7), 0);
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

static void acetone_that_dissolves_the_cloth_contradicts_polyester(void **state)
{
    (void)state;
    assert_true(log_ratio("100% polyester", "acetone:dissolves", NULL, NULL) < log(1.0 / 20));
    assert_true(log_ratio("100% acetate", "acetone:dissolves", NULL, NULL) > log(3));
}

/* Whoever made the cloth will say that it is finished: the tests that tell are named before they are asked for. */
static void what_speaks_against_names_the_finish_it_may_be(void **state)
{
    static const struct {
        const char *declared, *saw;
        enum tb_grade grade;
        bool blend, finish;
    } row[] = { { "100% cotton", "odour:burning_hair", TB_GRADE_SPEAKS_AGAINST, false, false },
                { "100% cotton", "odour:burning_hair residue_form:crushable_bead in_flame:sizzles",
                  TB_GRADE_CONTRADICTS, false, false },
                { "60% cotton 40% linen, flame retardant", "odour:burning_hair", TB_GRADE_SPEAKS_AGAINST,
                  true, true },
                { "100% wool", "odour:burning_hair residue_form:crushable_bead in_flame:sizzles",
                  TB_GRADE_FITS, false, false } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_verdict v = judged(row[i].declared, row[i].saw, NULL, NULL);
        bool told = false, low = row[i].grade != TB_GRADE_FITS;

        for (size_t k = 0; k < v.n_note; k++)
            told |= strstr(v.note[k],
                           "unless the cloth is finished, coated, printed or sewn with another yarn. "
                           "Wash and scour a piece, ravel it, and burn warp, weft and single yarns") != NULL;
        if (v.grade != row[i].grade)
            fail_msg("%s after %s: %s", row[i].declared, row[i].saw, tb_word(&tb_grade_words, (int)v.grade));
        assert_int_equal(told, low);
        assert_int_equal(v.untested_blend, row[i].blend);
        assert_int_equal(v.untested_finish, row[i].finish);
        tb_verdict_free(&v);
    }
}

/* A mistake in burning leaves the microscope right: each is an act of its own, only the swatch is shared. */
static void one_look_through_the_microscope_lifts_what_one_burn_said(void **state)
{
    static const char *const melt =
        "in_flame:melts in_flame:drips odour:sweet smoke:black residue_form:hard_bead";
    static const char *const cotton = "in_flame:melts in_flame:drips odour:sweet smoke:black "
                                      "residue_form:hard_bead microscope:twisted_ribbon";
    static const char *const rod = "in_flame:melts in_flame:drips odour:sweet smoke:black "
                                   "residue_form:hard_bead microscope:smooth_rod";

    (void)state;
    assert_true(log_ratio("100% cotton", melt, NULL, NULL) < log(1.0 / 20));
    assert_true(log_ratio("100% cotton", cotton, NULL, NULL) > log(1.0 / 8));
    assert_true(log_ratio("100% cotton", cotton, NULL, NULL) < log(3)); /* and it settles nothing by itself */
    assert_true(log_ratio("100% cotton", rod, NULL, NULL) < log_ratio("100% cotton", melt, NULL, NULL));
}

/* The weight of a bench test is what the ratio loses without it, mistakes and mix-ups in it. */
static void a_bench_test_weighs_what_the_ratio_loses_without_it(void **state)
{
    static const char *const burn = "in_flame:melts odour:sweet residue_form:hard_bead";
    static const char *const both = "in_flame:melts odour:sweet residue_form:hard_bead acetone:dissolves";
    double lost = log_ratio("100% cotton", both, NULL, NULL) - log_ratio("100% cotton", burn, NULL, NULL);
    struct tb_observation o = { 0 };
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };
    double db = NAN;

    (void)state;
    assert_int_equal(tb_observation_read(&o, both, NULL, NULL, &err), TB_OK);
    tb_declaration_read(&decl, "100% cotton", 11);
    assert_int_equal(tb_evidence_judge(&v, model, &decl, &o, 1, TB_WANT_CUES, &err), TB_OK);
    for (size_t i = 0; i < v.n_cue; i++)
        if (v.cue[i].cue == tb_cue_by_key("acetone:dissolves"))
            db = v.cue[i].weight_db;
    assert_true(lost < -0.3);                           /* acetone dissolves no cotton */
    assert_true(fabs(db / 10 * log(10) - lost) < 0.02); /* the list of compositions is not all of them */
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

static void a_channel_nobody_looked_at_changes_nothing(void **state)
{
    struct tb_observation o = { 0 };
    struct tb_declaration decl = { 0 };
    struct tb_verdict before = { 0 }, after = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_declaration_read(&decl, "100% wool", 9);
    tb_observation_see(&o, tb_cue_by_key("odour:burning_hair"));
    assert_int_equal(tb_evidence_judge(&before, model, &decl, &o, 1, 0, &err), TB_OK);
    o.sight[tb_cue_by_key("smoke:black")] = TB_SIGHT_SEEN; /* its channel is not marked as looked at */
    assert_int_equal(tb_evidence_judge(&after, model, &decl, &o, 1, 0, &err), TB_OK);
    assert_true(after.log_declared == before.log_declared && after.log_else == before.log_else);
    tb_verdict_free(&before);
    tb_verdict_free(&after);
    tb_declaration_free(&decl);
}

static void probabilities_sum_to_one(void **state)
{
    const struct tb_sums *s = &model->prior_sums;
    double sum = 0;

    (void)state;
    for (int i = 0; i < model->fibres; i++) {
        sum += s->one[i];
        for (int j = i + 1; j < model->fibres; j++) {
            sum += s->two[i][j];
            for (int k = j + 1; s->three && k < model->fibres; k++)
                sum += s->three[tb_triple(model->fibres, i, j, k)];
        }
    }
    assert_true(fabs(s->all * exp(s->log_scale) - 1) < 1e-12); /* nothing was seen: the prior */
    assert_true(fabs(sum - s->all) < 1e-12);
}

/* What a mistake at the bench explains as well says nothing more: below one in a hundred the ratio is only noise. */
static double down_to_a_mistake(const char *declared, const char *saw)
{
    return fmax(log_ratio(declared, saw, NULL, NULL), log(0.01));
}

/* More of what speaks against a declaration never speaks for it. */
static void more_contrary_cues_never_raise_the_ratio(void **state)
{
    static const char *const step[] = { "odour:burning_paper",
                                        "odour:burning_paper residue_form:light_fluffy_ash",
                                        "odour:burning_paper residue_form:light_fluffy_ash removed:afterglow",
                                        "odour:burning_paper residue_form:light_fluffy_ash removed:afterglow "
                                        "approach:ignites_easily" };
    static const char *const declared[] = { "100% wool", "100% silk", "100% polyester", "100% nylon" };

    (void)state;
    for (size_t d = 0; d < TB_COUNT(declared); d++)
        for (size_t i = 1; i < TB_COUNT(step); i++)
            assert_true(down_to_a_mistake(declared[d], step[i]) <=
                        down_to_a_mistake(declared[d], step[i - 1]) + 1e-12);
}

static void every_kernel_gives_the_same(void **state)
{
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, TB_COUNT(kernel));
    struct tb_observation o = { 0 };
    struct tb_terms terms;
    struct tb_factored *table;
    const struct tb_power_of once = { 0, 1 };
    double first = 0;

    (void)state;
    tb_observation_see(&o, tb_cue_by_key("odour:burning_paper"));
    tb_observation_see(&o, tb_cue_by_key("residue_form:hard_bead"));
    tb_observation_look(&o, tb_channel_by_key("in_flame"));
    tb_terms_of(&terms, model, &o);
    table = tb_factored_new(model, &terms);
    for (size_t k = 0; k < n; k++) {
        struct tb_sums s;

        tb_space_weigh(&(struct tb_pick){ .of = &once, .n = 1, .sums = &s }, 1, model, &table, 1, kernel[k]);
        if (k == 0)
            first = s.all;
        assert_true(s.all == first); /* to the last bit: a verdict made on one machine is made again on any */
        tb_sums_free(&s);
    }
    tb_factored_free(table);
}

/* How many notes of a verdict hold these words. */
static size_t notes_with(const struct tb_verdict *v, const char *words)
{
    size_t n = 0;

    for (size_t i = 0; i < v->n_note; i++)
        n += strstr(v->note[i], words) != NULL;
    return n;
}

/* Of the same two burns: what was seen is the same, who saw it on which swatch is not. */
static void what_one_person_burns_again_adds_nothing_and_what_a_second_burns_does(void **state)
{
    static const char *const swatch[] = { "A", "B", "A", "B" }, *const person[] = { "Ann", "Ann", "Ben",
                                                                                    "Ben" };
    struct tb_declaration decl = { 0 };
    double once, again[4];

    (void)state;
    tb_declaration_read(&decl, "100% wool", 9);
    for (size_t i = 0; i < 5; i++) {
        struct tb_observation o[2] = { { .swatch = "A", .person = "Ann" } };
        struct tb_verdict v = { 0 };
        struct tb_err err = { 0 };

        tb_observation_see(&o[0], tb_cue_by_key("odour:burning_paper"));
        o[1] = o[0];
        o[1].swatch = i < 4 ? swatch[i] : NULL;
        o[1].person = i < 4 ? person[i] : NULL;
        assert_int_equal(tb_evidence_judge(&v, model, &decl, o, i < 4 ? 2 : 1, 0, &err), TB_OK);
        assert_int_equal(notes_with(&v, "counts as one burn"), i < 4);
        *(i < 4 ? &again[i] : &once) = v.log_ratio;
        tb_verdict_free(&v);
    }
    assert_true(again[0] == once && again[1] == once);
    assert_true(again[2] < once - 0.5 && again[3] < again[2]); /* the same swatch twice tells less than two */
    tb_declaration_free(&decl);
}

/* One look may be one way in which the cloth burns, however many see it: only another look or a test makes two of it. */
static void one_cue_holds_nothing_however_often_it_is_seen(void **state)
{
    static const struct {
        const char *words, *saw;
    } one[] = { { "100% wool", "residue_form:hard_bead" }, { "100% cotton", "odour:burning_hair" } };
    enum { BURNS = 6 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(one); i++)
        for (size_t n = 1; n <= BURNS; n++)
            for (int persons = 1; persons <= (n > 1 ? 2 : 1); persons++) {
                static const char *const swatch[BURNS] = { "1", "2", "3", "4", "5", "6" };
                struct tb_observation o[BURNS] = { { 0 } };
                struct tb_declaration decl = { 0 };
                struct tb_verdict v = { 0 };
                struct tb_err err = { 0 };

                tb_declaration_read(&decl, one[i].words, strlen(one[i].words));
                for (size_t k = 0; k < n; k++) {
                    assert_int_equal(tb_observation_read(&o[k], one[i].saw, NULL, NULL, &err), TB_OK);
                    o[k].swatch = swatch[k];
                    o[k].person = persons == 2 && k + 1 == n ? "Ben" : "Ann";
                }
                assert_int_equal(tb_evidence_judge(&v, model, &decl, o, n, 0, &err), TB_OK);
                assert_int_equal(v.grade, TB_GRADE_SPEAKS_AGAINST);
                assert_int_equal(v.one_look, persons == 1);
                assert_int_equal(notes_with(&v, "None of the burns contradicts"), persons == 2);
                tb_verdict_free(&v);
                tb_declaration_free(&decl);
            }
}

/* The grade of one burn. */
static enum tb_grade graded(const char *words, const char *saw, bool *one_look, bool *imitated)
{
    struct tb_observation o = { 0 };
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };
    enum tb_grade grade;

    tb_declaration_read(&decl, words, strlen(words));
    assert_int_equal(tb_observation_read(&o, saw, NULL, NULL, &err), TB_OK);
    assert_int_equal(tb_evidence_judge(&v, model, &decl, &o, 1, 0, &err), TB_OK);
    grade = v.grade;
    *one_look = v.one_look;
    *imitated = v.imitated;
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    return grade;
}

static void what_rests_on_one_look_does_not_fit(void **state)
{
    static const struct {
        const char *words, *one, *two;
    } of[] = { { "100% cashmere", "odour:burning_hair", "odour:burning_hair residue_form:crushable_bead" },
               { "100% acetate", "odour:vinegar", "odour:vinegar in_flame:melts in_flame:sparks" },
               { "100% cotton", "odour:burning_paper",
                 "odour:burning_paper residue_form:light_fluffy_ash" } };
    bool one_look, imitated;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(of); i++) {
        assert_int_equal(graded(of[i].words, of[i].one, &one_look, &imitated), TB_GRADE_UNDECIDED);
        assert_true(one_look);
        assert_int_equal(graded(of[i].words, of[i].two, &one_look, &imitated), TB_GRADE_FITS);
        assert_false(one_look);
    }
}

/* Judge n burns, each by another person. */
static void judge_persons(struct tb_verdict *v, const char *words, const char *const *saw, size_t n)
{
    static const char *const who[] = { "Ann", "Ben" }, *const swatch[] = { "1", "2" };
    struct tb_observation o[2] = { { 0 } };
    struct tb_declaration decl = { 0 };
    struct tb_err err = { 0 };

    tb_declaration_read(&decl, words, strlen(words));
    for (size_t i = 0; i < n; i++) {
        assert_int_equal(tb_observation_read(&o[i], saw[i], NULL, NULL, &err), TB_OK);
        o[i].person = who[i];
        o[i].swatch = swatch[i];
    }
    assert_int_equal(tb_evidence_judge(v, model, &decl, o, n, 0, &err), TB_OK);
    tb_declaration_free(&decl);
}

/* Scales are what wool has, and hypochlorite dissolves it; nylon melts (docs/method.md, bench tests): a smell cannot outweigh that. */
static void what_a_bench_test_speaks_against_by_itself_does_not_fit(void **state)
{
    static const struct {
        const char *words, *burn, *true_test, *false_test;
    } of[] = { { "100% wool", "odour:burning_hair residue_form:crushable_bead ", "microscope:scales",
                 "microscope:twisted_ribbon" },
               { "100% wool", "odour:burning_hair residue_form:crushable_bead ", "bleach:dissolves",
                 "bleach:stays" },
               { "100% nylon", "odour:celery residue_form:hard_bead ", "melting:200_to_240",
                 "melting:chars" } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(of); i++)
        for (int right = 0; right < 2; right++) {
            struct tb_verdict v = { 0 };
            char saw[200];
            const char *one = saw;

            (void)snprintf(saw, sizeof saw, "%s%s", of[i].burn, right ? of[i].true_test : of[i].false_test);
            judge_persons(&v, of[i].words, &one, 1);
            assert_int_equal(v.grade, right ? TB_GRADE_FITS : TB_GRADE_UNDECIDED);
            assert_int_equal(v.at_odds, !right);
            v.base_rate = 0.27;
            assert_int_equal(isnan(tb_verdict_chance_false(&v)), !right);
            tb_verdict_free(&v);
        }
}

static void where_one_person_saw_other_cloth_a_burn_does_not_fit(void **state)
{
    static const char *const apart[] = { "odour:burning_hair residue_form:crushable_bead "
                                         "removed:self_extinguishes",
                                         "in_flame:burns_fast odour:burning_paper "
                                         "residue_form:light_fluffy_ash" };
    static const char *const alike[] = { "odour:burning_hair residue_form:crushable_bead "
                                         "removed:self_extinguishes",
                                         "odour:burning_hair residue_form:crushable_bead" };
    struct tb_verdict v = { 0 };

    (void)state;
    judge_persons(&v, "100% wool", apart, 2);
    assert_int_equal(v.grade, TB_GRADE_UNDECIDED);
    assert_true(v.at_odds);
    tb_verdict_free(&v);
    judge_persons(&v, "100% wool", alike, 2);
    assert_int_equal(v.grade, TB_GRADE_FITS);
    assert_false(v.at_odds);
    tb_verdict_free(&v);
}

/* Whatever channel it is, and whatever is seen there. */
static void no_burn_of_one_channel_fits_or_contradicts(void **state)
{
    static const char *const words[] = { "100% cotton",  "100% wool",   "100% polyester", "100% nylon",
                                         "100% acetate", "100% aramid", "100% glass" };
    size_t burns = 0;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(words); i++)
        for (size_t c = 0; c < tb_cue_count(); c++) {
            struct tb_cue cue;
            struct tb_channel ch;
            bool one_look, imitated;
            enum tb_grade grade;

            tb_cue_at(&cue, (int)c);
            tb_channel_at(&ch, cue.channel);
            if (ch.bench)
                continue;
            grade = graded(words[i], cue.key, &one_look, &imitated);
            assert_int_not_equal(grade, TB_GRADE_FITS);
            assert_int_not_equal(grade, TB_GRADE_CONTRADICTS);
            burns++;
        }
    assert_true(burns > 500);
}

/* Cotton with a flame retardant, as published (composed_burns.csv), sold as what protects without one. */
static void what_cheaper_cloth_with_a_flame_retardant_would_do_does_not_fit_protective_cloth(void **state)
{
    static const char
        chars[] = "in_flame:burns_slow in_flame:chars removed:self_extinguishes "
                  "residue_form:crushable_char residue_colour:black",
        paper[] = "in_flame:chars removed:self_extinguishes odour:burning_paper residue_form:keeps_shape "
                  "residue_colour:black";
    bool one_look, imitated;

    (void)state;
    assert_int_equal(graded("100% aramid", paper, &one_look, &imitated), TB_GRADE_UNDECIDED);
    assert_true(imitated && !one_look);
    assert_int_equal(graded("100% modacrylic", chars, &one_look, &imitated), TB_GRADE_UNDECIDED);
    assert_true(imitated);
    /* acid that leaves it whole: no cotton does that */
    assert_int_equal(graded("100% aramid",
                            "in_flame:chars removed:self_extinguishes residue_form:crushable_char "
                            "residue_colour:black sulfuric_acid_70:stays",
                            &one_look, &imitated),
                     TB_GRADE_FITS);
    assert_false(imitated);
}

static void declared_fibres_may_be_spread_over_warp_and_weft(void **state)
{
    struct tb_observation o[2] = { { .part = TB_PART_WARP }, { .part = TB_PART_WEFT } };
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_observation_see(&o[0], tb_cue_by_key("odour:burning_paper"));
    tb_observation_see(&o[0], tb_cue_by_key("residue_form:light_fluffy_ash"));
    tb_observation_see(&o[1], tb_cue_by_key("odour:burning_hair"));
    tb_observation_see(&o[1], tb_cue_by_key("residue_form:crushable_bead"));
    tb_declaration_read(&decl, "50% cotton 50% wool", 19);
    assert_int_equal(tb_evidence_judge(&v, model, &decl, o, 2, TB_WANT_CUES, &err), TB_OK);
    assert_int_equal(v.kind, TB_FITS);
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    tb_declaration_read(&decl, "100% cotton", 11);
    assert_int_equal(tb_evidence_judge(&v, model, &decl, o, 2, 0, &err), TB_OK);
    assert_int_equal(v.kind, TB_CONTRADICTS);
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

/* Three burns of two bolts, one swatch burned twice: sets judged in one pass come out as each judged by itself. */
static void sets_come_out_as_judged_by_themselves(void **state)
{
    static const char *const saw[] = { "odour:burning_hair, residue_form:crushable_bead",
                                       "odour:burning_hair",
                                       "odour:burning_paper, residue_form:light_fluffy_ash" };
    const size_t set[] = { 0, 0, 1 };
    struct tb_observation o[3] = { { .swatch = "a" }, { .swatch = "a" }, { .swatch = "b" } };
    struct tb_declaration decl = { 0 };
    struct tb_verdict together = { 0 }, alone[2] = { { 0 } }, one = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_declaration_read(&decl, "80% wool 20% nylon", 18);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(tb_observation_read(&o[i], saw[i], NULL, NULL, &err), TB_OK);
    assert_int_equal(tb_evidence_judge_sets(&together, alone, model, NULL, &decl, o, 3, set, 2, 0, &err),
                     TB_OK);
    for (int i = 0; i < 3; i++) { /* all three; the two of bolt 0; the one of bolt 1 */
        const struct tb_verdict *v = i == 0 ? &together : &alone[i - 1];

        assert_int_equal(tb_evidence_judge(&one, model, &decl, i == 2 ? o + 2 : o,
                                           i == 0   ? 3
                                           : i == 1 ? 2
                                                    : 1,
                                           0, &err),
                         TB_OK);
        assert_true(fabs(v->log_ratio - one.log_ratio) < 1e-12);
        assert_true(fabs(v->likely[0].probability - one.likely[0].probability) < 1e-12);
        assert_int_equal(v->burns, one.burns);
        assert_true(i == 0 ||
                    v->n_note == one.n_note); /* of one bolt the three would contradict themselves */
        tb_verdict_free(&one);
    }
    assert_int_equal(alone[1].kind, TB_CONTRADICTS);
    tb_verdict_free(&together);
    tb_verdict_free(&alone[0]);
    tb_verdict_free(&alone[1]);
    o[2].part = TB_PART_WARP; /* the declaration has parts of its own, and no warp: nothing is judged */
    tb_declaration_free(&decl);
    tb_declaration_read(&decl, "pile: 100% wool; ground: 100% cotton", 36);
    assert_int_equal(tb_evidence_judge_sets(&together, alone, model, NULL, &decl, o, 3, set, 2, 0, &err),
                     TB_EINVAL);
    assert_null(together.likely);
    tb_declaration_free(&decl);
}

/* Pile and ground, each with a declaration of its own: the ground is polyester where cotton was declared. */
static void velvet(struct tb_verdict *v, struct tb_declaration *decl)
{
    static const char words[] = "pile: 100% polyester; ground: 100% cotton";
    struct tb_observation o[2] = { { .part = TB_PART_PILE }, { .part = TB_PART_GROUND } };
    struct tb_err err = { 0 };

    tb_declaration_read(decl, words, sizeof words - 1);
    assert_int_equal(tb_observation_read(&o[0],
                                         "in_flame:melts smoke:black smoke:sooty residue_form:hard_bead",
                                         NULL, NULL, &err),
                     TB_OK);
    assert_int_equal(
        tb_observation_read(&o[1], "smoke:black residue_form:bead odour:sweet", NULL, NULL, &err), TB_OK);
    assert_int_equal(tb_evidence_judge(v, model, decl, o, 2, TB_WANT_ALL, &err), TB_OK);
}

/*
 * Falling gain; only a test of another danger may go before one that tells hardly more, or before a poison that tells less than twice as
 * much. The first of all is the test that is named.
 */
static bool in_order(const struct tb_next *before, const struct tb_next *after)
{
    double enough = after->hazards & TB_HAZARD_TOXIC ? 0.5 : 0.9;

    return after->gain_bits <= before->gain_bits ||
           (before->hazards != after->hazards && before->gain_bits >= enough * after->gain_bits);
}

static void every_part_has_its_next_tests_and_its_power(void **state)
{
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    size_t next[2] = { 0 }, power[2] = { 0 };

    (void)state;
    velvet(&v, &decl);
    for (size_t i = 0; i < v.n_next && v.next[i].channel >= 0; i++) {
        assert_true(v.next[i].part == TB_PART_PILE || v.next[i].part == TB_PART_GROUND);
        next[v.next[i].part == TB_PART_GROUND]++;
        assert_true(i < 2 || in_order(&v.next[i - 1], &v.next[i]));
    }
    for (size_t i = 0; i < v.n_power; i++) {
        power[v.power[i].part == TB_PART_GROUND]++;
        if (v.power[i].part == TB_PART_GROUND && strcmp(v.power[i].instead, "100 % viscose") == 0)
            assert_true(v.power[i].blind);
    }
    assert_true(next[0] > 0 && power[0] > 0 && power[1] > 0);
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

/* Black smoke, a bead and a sweet smell: any two of them settle it, so none alone adds anything to the others. */
static void where_no_cue_adds_to_the_others_each_is_weighed_by_itself(void **state)
{
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_text t = { 0 };

    (void)state;
    velvet(&v, &decl);
    assert_int_equal(v.kind, TB_CONTRADICTS);
    for (size_t i = 0; i < v.n_cue; i++)
        assert_true(v.cue[i].weight_db > -0.5);
    tb_verdict_reasons(&t, &v, -1, 3);
    assert_non_null(t.s);
    assert_true(strncmp(t.s, "no single cue decides; each by itself: ground: ", 47) == 0);
    assert_non_null(strstr(t.s, "(odour:sweet), "));
    tb_text_free(&t);
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

/* The log of many like burns is that of one, many times; doubles alone would have lost it after some fifty. */
static void four_hundred_burns_of_a_lot_by_one_person_weigh_as_one(void **state)
{
    enum { MANY = 400 };
    struct tb_observation *o = tb_array(struct tb_observation, MANY);
    struct tb_declaration decl = { 0 };
    struct tb_verdict one = { 0 }, many = { 0 };
    struct tb_err err = { 0 };
    static const char saw[] = "approach:ignites_easily odour:burning_paper removed:afterglow smoke:grey "
                              "residue_form:light_fluffy_ash flame_colour:yellow in_flame:burns";

    (void)state;
    tb_declaration_read(&decl, "50% silk 50% cotton", 19);
    for (size_t i = 0; i < MANY; i++)
        assert_int_equal(tb_observation_read(&o[i], saw, NULL, NULL, &err), TB_OK);
    assert_int_equal(tb_evidence_judge(&one, model, &decl, o, 1, 0, &err), TB_OK);
    assert_int_equal(tb_evidence_judge(&many, model, &decl, o, MANY, TB_WANT_CUES | TB_WANT_NEXT, &err),
                     TB_OK);
    assert_true(fabs(many.log_ratio - one.log_ratio) < 1e-9);
    for (size_t i = 0; i < many.n_likely; i++)
        assert_true(many.likely[i].probability >= 0 && many.likely[i].probability <= 1);
    assert_true(many.n_likely > 0 && many.likely[0].probability > 0.1);
    tb_verdict_free(&one);
    tb_verdict_free(&many);
    tb_declaration_free(&decl);
    free(o);
}

/* One person's burns say hair, the other's say paper: each composition is bad for some, and one is the best all the same. */
static void burns_that_disagree_are_weighed_however_many_there_are(void **state)
{
    enum { MANY = 300 };
    struct tb_observation *o = tb_array(struct tb_observation, MANY);
    struct tb_declaration decl = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_declaration_read(&decl, "100% polyester", 14);
    for (size_t i = 0; i < MANY; i++) {
        assert_int_equal(tb_observation_read(&o[i],
                                             i % 2 ? "odour:burning_hair residue_form:crushable_bead"
                                                   : "odour:burning_paper residue_form:light_fluffy_ash",
                                             NULL, NULL, &err),
                         TB_OK);
        o[i].person = i % 2 ? "Ann" : "Ben";
    }
    assert_int_equal(tb_evidence_judge(&v, model, &decl, o, MANY, 0, &err), TB_OK);
    assert_int_equal(v.kind, TB_CONTRADICTS);
    assert_true(isfinite(v.log_ratio));
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    free(o);
}

static void a_stated_three_percent_is_not_demanded_where_another_share_is_unsaid(void **state)
{
    (void)state;
    assert_true(log_ratio("cotton, 3% elastane", "odour:burning_paper residue_form:light_fluffy_ash", NULL,
                          NULL) > log(3));
}

/* The verdict on one burn of one part. */
static tb_rc judge_part(struct tb_verdict *v, const char *words, enum tb_part_kind part, const char *saw,
                        struct tb_err *err)
{
    struct tb_observation o = { .part = part };
    struct tb_declaration decl = { 0 };
    tb_rc rc;

    tb_declaration_read(&decl, words, strlen(words));
    assert_int_equal(tb_observation_read(&o, saw, NULL, NULL, err), TB_OK);
    rc = tb_evidence_judge(v, model, &decl, &o, 1, 0, err);
    tb_declaration_free(&decl);
    return rc;
}

static void a_weft_is_not_judged_on_what_was_declared_of_the_warp(void **state)
{
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(judge_part(&v, "warp: 100% cotton", TB_PART_WEFT, "odour:burning_hair", &err),
                     TB_EINVAL);
    assert_string_equal(err.msg, "a weft was burned, but the declaration speaks of other parts only");
}

/* A warp of cotton alone is no fault of "50 % silk, 50 % cotton": the silk may be in the weft. */
static void one_part_burned_need_not_hold_every_declared_fibre(void **state)
{
    static const char words[] = "50% silk 50% cotton";
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(judge_part(&v, words, TB_PART_WARP,
                                "odour:burning_paper removed:afterglow residue_form:light_fluffy_ash", &err),
                     TB_OK);
    assert_int_equal(v.kind, TB_FITS);
    tb_verdict_free(&v);
    assert_int_equal(
        judge_part(&v, words, TB_PART_WARP, "in_flame:melts smoke:black residue_form:hard_bead", &err),
        TB_OK);
    assert_int_equal(v.kind, TB_CONTRADICTS);
    tb_verdict_free(&v);
}

static void a_test_whose_hazard_the_site_does_not_allow_is_not_proposed(void **state)
{
    struct tb_evidence_settings set;
    struct tb_evidence *ev = NULL;
    struct tb_declaration decl = { 0 };
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    set.hazards_allowed = TB_HAZARD_FLAME;
    assert_int_equal(tb_evidence_new(&ev, &set, NULL, 0, &err), TB_OK);
    tb_observation_see(&o, tb_cue_by_key("smoke:black"));
    tb_declaration_read(&decl, "100% polyester", 14);
    assert_int_equal(tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_NEXT, &err), TB_OK);
    assert_true(v.n_next > 0);
    for (size_t i = 0; i < v.n_next && v.next[i].channel >= 0; i++) {
        assert_int_equal(v.next[i].hazards & ~(unsigned)TB_HAZARD_FLAME, 0);
        assert_true(v.next[i].gain_bits >= 0 && v.next[i].gain_bits <= 1);
        assert_true(i < 2 || in_order(&v.next[i - 1], &v.next[i]));
    }
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    tb_evidence_free(ev);
}

static void a_swap_that_burns_alike_is_called_blind(void **state)
{
    struct tb_declaration decl = { 0 };
    struct tb_observation o = { 0 };
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    tb_observation_see(&o, tb_cue_by_key("odour:burning_hair"));
    tb_declaration_read(&decl, "100% cashmere", 13);
    assert_int_equal(tb_evidence_judge(&v, model, &decl, &o, 1, TB_WANT_POWER, &err), TB_OK);
    assert_true(v.n_power >= 2);
    for (size_t i = 0; i < v.n_power; i++) {
        if (strstr(v.power[i].instead, "wool"))
            assert_true(v.power[i].blind && v.power[i].one < 0.05);
        if (strstr(v.power[i].instead, "acrylic"))
            assert_true(!v.power[i].blind && v.power[i].one > 0.8 && v.power[i].two >= v.power[i].one - 0.05);
    }
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_of_cues_is_whole),
        cmocka_unit_test(the_words_of_the_tables_are_those_the_model_knows),
        cmocka_unit_test(an_unknown_cue_offers_the_nearest),
        cmocka_unit_test(a_cue_without_its_channel_is_taken_where_only_one_has_it),
        cmocka_unit_test(a_cue_both_seen_and_denied_is_refused),
        cmocka_unit_test(no_cloth_is_likelier_than_a_fibre_in_it),
        cmocka_unit_test(a_burn_of_paper_smell_and_ash_contradicts_silk),
        cmocka_unit_test(nothing_looked_at_is_undecided_with_a_reason),
        cmocka_unit_test(a_fibre_nobody_published_the_burning_of_is_undecided_with_a_reason),
        cmocka_unit_test(a_fibre_without_a_profile_of_its_own_is_judged_as_its_twin),
        cmocka_unit_test(the_order_of_cues_does_not_matter),
        cmocka_unit_test(three_percent_elastane_never_makes_a_verdict),
        cmocka_unit_test(the_digest_changes_with_what_the_site_learned),
        cmocka_unit_test(thresholds_out_of_order_are_refused),
        cmocka_unit_test(acetone_that_dissolves_the_cloth_contradicts_polyester),
        cmocka_unit_test(what_speaks_against_names_the_finish_it_may_be),
        cmocka_unit_test(one_look_through_the_microscope_lifts_what_one_burn_said),
        cmocka_unit_test(a_bench_test_weighs_what_the_ratio_loses_without_it),
        cmocka_unit_test(a_channel_nobody_looked_at_changes_nothing),
        cmocka_unit_test(probabilities_sum_to_one),
        cmocka_unit_test(more_contrary_cues_never_raise_the_ratio),
        cmocka_unit_test(every_kernel_gives_the_same),
        cmocka_unit_test(what_one_person_burns_again_adds_nothing_and_what_a_second_burns_does),
        cmocka_unit_test(one_cue_holds_nothing_however_often_it_is_seen),
        cmocka_unit_test(what_rests_on_one_look_does_not_fit),
        cmocka_unit_test(what_a_bench_test_speaks_against_by_itself_does_not_fit),
        cmocka_unit_test(where_one_person_saw_other_cloth_a_burn_does_not_fit),
        cmocka_unit_test(no_burn_of_one_channel_fits_or_contradicts),
        cmocka_unit_test(what_cheaper_cloth_with_a_flame_retardant_would_do_does_not_fit_protective_cloth),
        cmocka_unit_test(declared_fibres_may_be_spread_over_warp_and_weft),
        cmocka_unit_test(sets_come_out_as_judged_by_themselves),
        cmocka_unit_test(every_part_has_its_next_tests_and_its_power),
        cmocka_unit_test(where_no_cue_adds_to_the_others_each_is_weighed_by_itself),
        cmocka_unit_test(four_hundred_burns_of_a_lot_by_one_person_weigh_as_one),
        cmocka_unit_test(burns_that_disagree_are_weighed_however_many_there_are),
        cmocka_unit_test(a_stated_three_percent_is_not_demanded_where_another_share_is_unsaid),
        cmocka_unit_test(a_weft_is_not_judged_on_what_was_declared_of_the_warp),
        cmocka_unit_test(one_part_burned_need_not_hold_every_declared_fibre),
        cmocka_unit_test(a_test_whose_hazard_the_site_does_not_allow_is_not_proposed),
        cmocka_unit_test(a_swap_that_burns_alike_is_called_blind),
    };
    return cmocka_run_group_tests(tests, make_model, free_model);
}
