/*
 * test_evidence_many.c - many burns of one lot: those that are alike are weighed once, and nothing comes out otherwise.
 *
 * The other side of every comparison weighs each burn by itself, by the same pieces: a table, a pattern and a power
 * a burn.
 */
#include "evidence/shortlist.h"
#include "evidence/space.h"
#include "evidence/sums.h"
#include "evidence_model.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { BURNS = 200, BOLTS = 40, QUESTIONS = 1 + BOLTS };

static int make_model(void **state)
{
    (void)state;
    return make_model_of(3);
}

/* 200 burns, five a bolt, and their verdicts: of all, and of each bolt by itself. */
struct lot {
    struct tb_declaration decl;
    struct tb_observation obs[BURNS];
    char swatch[BURNS][8];
    size_t set[BURNS];
    struct tb_verdict together, alone[BOLTS];
};

static const char words[] = "80% wool 20% nylon";

/* Burn i did what saw[i mod kinds] says; with `twice` every tenth burn is of the swatch before it. */
static void judge_lot(struct lot *l, const char *const *saw, size_t kinds, bool twice)
{
    struct tb_err err = { 0 };

    tb_declaration_read(&l->decl, words, sizeof words - 1);
    for (size_t i = 0; i < BURNS; i++) {
        (void)snprintf(l->swatch[i], sizeof l->swatch[i], "%zu", twice && i % 10 == 4 ? i - 1 : i);
        l->obs[i].swatch = l->swatch[i];
        l->set[i] = i / (BURNS / BOLTS);
        assert_int_equal(tb_observation_read(&l->obs[i], saw[i % kinds], NULL, "smoke", &err), TB_OK);
    }
    assert_int_equal(tb_evidence_judge_sets(&l->together, l->alone, model, NULL, &l->decl, l->obs, BURNS,
                                            l->set, BOLTS, TB_WANT_CUES, &err),
                     TB_OK);
}

static void free_lot(struct lot *l)
{
    tb_verdict_free(&l->together);
    for (size_t i = 0; i < BOLTS; i++)
        tb_verdict_free(&l->alone[i]);
    tb_declaration_free(&l->decl);
    free(l);
}

/* The same questions with every burn by itself: [0] of all burns, [1 + b] of bolt b. */
struct apart {
    struct tb_terms terms[BURNS];
    struct tb_strange strange;
    struct tb_pattern pattern[BURNS], own[QUESTIONS][BURNS];
    struct tb_factored *table[BURNS];
    struct tb_power_of power[QUESTIONS][BURNS];
    struct tb_pick pick[QUESTIONS];
    struct tb_question q[QUESTIONS];
};

static void take_burns(struct apart *a, const struct lot *l)
{
    for (size_t i = 0; i < BURNS; i++) {
        tb_terms_of(&a->terms[i], model, &l->obs[i]);
        tb_strange_logs(&a->strange, model, &a->terms[i]);
        a->pattern[i] =
            (struct tb_pattern){ .terms = &a->terms[i], .strange = a->strange, .times = 1, .reading = i };
        a->table[i] = tb_factored_new(model, &a->terms[i]);
    }
}

/* The patterns of one question: the burns of one person count as one, however many there are. */
static struct tb_pattern *own_patterns(struct apart *a, size_t question, size_t first, size_t n)
{
    struct tb_pattern *own = a->own[question];

    for (size_t i = 0; i < n; i++) {
        own[i] = a->pattern[first + i];
        own[i].power = a->power[question][i].power = 1 / (double)n;
        a->power[question][i].table = first + i;
    }
    return own;
}

static void weigh_apart(struct apart *a, const struct lot *l)
{
    struct tb_text reason = { 0 }, notes = { 0 };

    take_burns(a, l);
    for (size_t i = 0; i < QUESTIONS; i++) {
        size_t first = i == 0 ? 0 : (i - 1) * (BURNS / BOLTS), n = i == 0 ? BURNS : BURNS / BOLTS;
        struct tb_group *g = &a->q[i].group[0];

        a->q[i] = (struct tb_question){ .ev = model, .kernel = model->kernel, .n = 1 };
        g->part = TB_PART_WHOLE;
        g->pattern = own_patterns(a, i, first, n);
        g->n = n;
        assert_true(tb_declared_from(&g->declared, model, &l->decl.comp.part[0], &reason, &notes));
        a->pick[i] = (struct tb_pick){ .of = a->power[i], .n = n, .sums = &g->sums };
    }
    tb_space_weigh(a->pick, QUESTIONS, model, a->table, BURNS, model->kernel);
    for (size_t i = 0; i < QUESTIONS; i++)
        tb_question_answer(&a->q[i]);
    tb_text_free(&reason);
    tb_text_free(&notes);
}

static void free_apart(struct apart *a)
{
    for (size_t i = 0; i < BURNS; i++)
        tb_factored_free(a->table[i]);
    for (size_t i = 0; i < QUESTIONS; i++)
        tb_sums_free(&a->q[i].group[0].sums);
    free(a);
}

static void assert_near(double a, double b)
{
    if (!(fabs(a - b) <= 1e-9 * fmax(1, fabs(b))))
        fail_msg("%.17g is not %.17g", a, b);
}

static void compare(const struct tb_verdict *v, const struct tb_question *q)
{
    struct tb_verdict w = { 0 };

    tb_take_likely(&w, model, &q->group[0]);
    assert_null(v->reason);
    assert_near(v->log_declared, q->log_declared);
    assert_near(v->log_else, q->log_else);
    assert_true(v->n_likely > 0 && v->n_present > 0);
    assert_int_equal(v->n_likely, w.n_likely);
    for (size_t i = 0; i < v->n_likely; i++) {
        assert_int_equal(v->likely[i].fibre[0], w.likely[i].fibre[0]);
        assert_near(v->likely[i].probability, w.likely[i].probability);
    }
    tb_verdict_free(&w);
}

static void compare_cues(const struct tb_verdict *v, const struct tb_question *q)
{
    struct tb_verdict w = { 0 };
    struct tb_shortlist s;

    tb_shortlist_make(&s, model, &q->group[0], NULL);
    tb_weigh_cues(&w, &s);
    assert_true(v->n_cue > 0);
    assert_int_equal(v->n_cue, w.n_cue);
    for (size_t i = 0; i < v->n_cue; i++) {
        assert_int_equal(v->cue[i].cue, w.cue[i].cue);
        assert_int_equal(v->cue[i].sight, w.cue[i].sight);
        assert_near(v->cue[i].weight_db, w.cue[i].weight_db);
        assert_near(v->cue[i].alone_db, w.cue[i].alone_db);
    }
    tb_shortlist_free(&s);
    tb_verdict_free(&w);
}

static void lot_comes_out_as_burn_by_burn(const char *const *saw, size_t kinds, bool twice)
{
    struct lot *l = tb_new(struct lot);
    struct apart *a = tb_new(struct apart);
    size_t tells;

    judge_lot(l, saw, kinds, twice);
    weigh_apart(a, l);
    assert_int_equal(l->together.burns, BURNS);
    compare(&l->together, &a->q[0]);
    tells = l->together.by_set;
    compare_cues(tells ? &l->alone[tells - 1] : &l->together, &a->q[tells]);
    for (size_t i = 0; i < BOLTS; i++) {
        assert_int_equal(l->alone[i].burns, BURNS / BOLTS);
        compare(&l->alone[i], &a->q[1 + i]);
    }
    free_apart(a);
    free_lot(l);
}

static void two_hundred_equal_burns_in_forty_bolts_come_out_as_burn_by_burn(void **state)
{
    static const char *const saw[] = { "odour:burning_hair residue_form:crushable_bead" };

    (void)state;
    lot_comes_out_as_burn_by_burn(saw, 1, false);
}

/* Seven kinds over bolts of five burns: no two neighbouring bolts are alike, and some burns speak against the rest. */
static void burns_of_seven_kinds_some_of_one_swatch_come_out_as_burn_by_burn(void **state)
{
    static const char *const saw[] = { "odour:burning_hair residue_form:crushable_bead",
                                       "odour:burning_hair",
                                       "!odour:burning_hair residue_form:crushable_bead",
                                       "odour:burning_hair smoke:black",
                                       "odour:burning_paper residue_form:light_fluffy_ash",
                                       "odour:burning_hair residue_form:hard_bead",
                                       "residue_form:crushable_bead" };

    (void)state;
    lot_comes_out_as_burn_by_burn(saw, TB_COUNT(saw), true);
}

/* A denied cue weighs as one not seen, but is shown apart. */
static void burns_alike_but_for_a_denial_keep_their_cues_apart(void **state)
{
    static const char *const saw[] = { "odour:burning_hair !smoke:black", "odour:burning_hair" };
    struct lot *l = tb_new(struct lot);
    int black = tb_cue_by_key("smoke:black");
    bool denied = false, unseen = false;

    (void)state;
    judge_lot(l, saw, TB_COUNT(saw), false);
    for (size_t i = 0; i < l->together.n_cue; i++) {
        denied |= l->together.cue[i].cue == black && l->together.cue[i].sight == TB_SIGHT_DENIED;
        unseen |= l->together.cue[i].cue == black && l->together.cue[i].sight == TB_SIGHT_NONE;
    }
    assert_true(denied && unseen);
    free_lot(l);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_hundred_equal_burns_in_forty_bolts_come_out_as_burn_by_burn),
        cmocka_unit_test(burns_of_seven_kinds_some_of_one_swatch_come_out_as_burn_by_burn),
        cmocka_unit_test(burns_alike_but_for_a_denial_keep_their_cues_apart),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
