/* test_recall.c - burns that were weighed before: the same verdict to the last digit, and things that are alike together. */
#include "evidence_model.h"
#include "work/threads.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char *const saw[] = { "smoke:black", "odour:burning_hair", "residue_form:hard_bead",
                                   "smoke:black odour:acrid",
                                   "residue_form:light_fluffy_ash odour:burning_paper" };
static const char *const declared[] = { "100% wool", "65% polyester 35% cotton", "50% wool 50% acrylic" };

static int make_model(void **state)
{
    (void)state;
    return make_model_of(3);
}

/* Burns of one lot, each of a bolt of its own, judged together and bolt by bolt: their log ratios. */
static void judge(double *ratio, struct tb_recall *recall, const char *words, const struct tb_observation *o,
                  size_t n)
{
    static const size_t set[] = { 0, 1, 2, 3 };
    struct tb_verdict together = { 0 }, alone[4] = { { 0 } };
    struct tb_declaration decl = { 0 };
    struct tb_err err = { 0 };

    assert_true(n <= 4);
    tb_declaration_read(&decl, words, strlen(words));
    assert_int_equal(tb_evidence_judge_sets(&together, alone, model, recall, &decl, o, n, set, n, 0, &err),
                     TB_OK);
    ratio[0] = together.log_ratio;
    for (size_t i = 0; i < n; i++) {
        ratio[1 + i] = alone[i].log_ratio;
        tb_verdict_free(&alone[i]);
    }
    tb_verdict_free(&together);
    tb_declaration_free(&decl);
}

static void look(struct tb_observation *o, size_t i, const char *swatch, const char *person)
{
    struct tb_err err = { 0 };

    *o = (struct tb_observation){ .swatch = swatch, .person = person };
    assert_int_equal(tb_observation_read(o, saw[i % TB_COUNT(saw)], NULL, "smoke", &err), TB_OK);
}

static void what_was_weighed_before_comes_out_the_same_to_the_last_digit(void **state)
{
    struct tb_recall *recall = tb_recall_new(model);

    (void)state;
    for (size_t round = 0; round < 2; round++)
        for (size_t i = 0; i < TB_COUNT(saw); i++)
            for (size_t d = 0; d < TB_COUNT(declared); d++) {
                double fresh[5], recalled[5];
                struct tb_observation o[3];

                look(&o[0], i, "a", "Ann");
                look(&o[1], i + 1, "b", "Ann");
                look(&o[2], i + 1, "c", "Ben");
                for (size_t n = 1; n <= 3; n++) {
                    judge(fresh, NULL, declared[d], o, n);
                    judge(recalled, recall, declared[d], o, n);
                    assert_memory_equal(fresh, recalled, (1 + n) * sizeof *fresh);
                }
            }
    tb_recall_free(recall);
}

/* The whole verdict as JSON, cue weights and next tests with it: all that a table of burns is told. */
static char *told(struct tb_recall *recall, const char *words, const struct tb_observation *o, size_t n,
                  unsigned want)
{
    struct tb_verdict v = { 0 };
    struct tb_declaration decl = { 0 };
    struct tb_err err = { 0 };
    json_t *j;
    char *s;

    tb_declaration_read(&decl, words, strlen(words));
    assert_int_equal(tb_evidence_judge_sets(&v, NULL, model, recall, &decl, o, n, NULL, 0, want, &err),
                     TB_OK);
    j = tb_verdict_json(&v, NULL, &decl);
    s = json_dumps(j, JSON_COMPACT | JSON_REAL_PRECISION(17));
    json_decref(j);
    tb_verdict_free(&v);
    tb_declaration_free(&decl);
    return s;
}

/* From the third time on what the burn makes of all else is recalled (evidence/pool.h); a bench test and a finish are in it too. */
static void one_burn_held_against_many_declarations_is_told_as_if_each_came_alone(void **state)
{
    static const char *const words[] = { "100% wool",
                                         "65% polyester 35% cotton",
                                         "100% cotton, easy care",
                                         "40% wool 30% nylon 30% viscose",
                                         "97% cotton 3% elastane",
                                         "",
                                         "100% flame retardant polyester",
                                         "warp cotton weft linen" };
    struct tb_recall *recall = tb_recall_new(model);

    (void)state;
    for (size_t i = 0; i < 3; i++)
        for (size_t d = 0; d < TB_COUNT(words); d++)
            for (size_t n = 1; n <= (d % 3 == 2 ? 2 : 1);
                 n++) { /* now and then two burns, which have no pool */
                struct tb_observation o[2];
                char *fresh, *recalled;

                look(&o[0], i, "a", "Ann");
                look(&o[1], i + 1, "b", "Ann");
                if (i == 2)
                    tb_observation_see(&o[0], tb_cue_by_key("acetone:stays"));
                fresh = told(NULL, words[d], o, n, TB_WANT_CUES | TB_WANT_NEXT);
                recalled = told(recall, words[d], o, n, TB_WANT_CUES | TB_WANT_NEXT);
                assert_string_equal(fresh, recalled);
                free(fresh);
                free(recalled);
            }
    tb_recall_free(recall);
}

/* By one person, by two, and by two of one swatch: the same was seen, and it counts differently. */
/* Results of tests and draws of burns are shared out to threads: power and outcomes are in the verdict. */
static void what_is_weighed_side_by_side_comes_out_the_same_to_the_last_digit(void **state)
{
    const unsigned want = TB_WANT_CUES | TB_WANT_NEXT | TB_WANT_POWER | TB_WANT_OUTCOMES;

    (void)state;
    for (size_t d = 0; d < TB_COUNT(declared); d++) {
        struct tb_recall *recall = tb_recall_new(model);
        struct tb_observation o[2];
        char *alone, *side;

        tb_recall_together(recall, tb_in_parallel);
        look(&o[0], d, "a", "Ann");
        look(&o[1], 3, "b", "Ben");
        alone = told(NULL, declared[d], o, 2, want);
        side = told(recall, declared[d], o, 2, want);
        assert_non_null(strstr(alone, "\"outcomes\""));
        assert_string_equal(alone, side);
        free(alone);
        free(side);
        tb_recall_free(recall);
    }
}

static void burns_that_count_otherwise_are_not_taken_for_each_other(void **state)
{
    static const char *const swatch[] = { "b", "b", "a" }, *const person[] = { "Ann", "Ben", "Ben" };
    struct tb_recall *recall = tb_recall_new(model);
    double all[3];

    (void)state;
    for (size_t i = 0; i < 3; i++) {
        double fresh[2], recalled[2];
        struct tb_observation o[2];
        struct tb_verdict v = { 0 };
        struct tb_declaration decl = { 0 };
        struct tb_err err = { 0 };

        look(&o[0], 2, "a", "Ann");
        look(&o[1], 2, swatch[i], person[i]);
        tb_declaration_read(&decl, "100% wool", 9);
        for (size_t k = 0; k < 2; k++) {
            assert_int_equal(
                tb_evidence_judge_sets(&v, NULL, model, k ? recall : NULL, &decl, o, 2, NULL, 0, 0, &err),
                TB_OK);
            *(k ? recalled : fresh) = v.log_ratio;
            tb_verdict_free(&v);
        }
        assert_true(*fresh == *recalled);
        all[i] = *recalled;
        tb_declaration_free(&decl);
    }
    assert_true(all[0] != all[1] && all[1] != all[2] && all[0] != all[2]);
    tb_recall_free(recall);
}

/* More than are kept: the first are forgotten, weighed again, and come out the same. */
static void what_was_forgotten_is_weighed_again(void **state)
{
    enum { MANY = 80 };
    struct tb_recall *recall = tb_recall_new(model);
    double first[MANY];

    (void)state;
    for (size_t round = 0; round < 2; round++)
        for (int i = 0; i < MANY; i++) {
            struct tb_observation o = { 0 };
            double ratio[2];

            for (int c = 0; c < 7; c++)
                if ((i + 1) >> c & 1)
                    tb_observation_see(&o, 3 * c + 5);
            judge(ratio, recall, declared[1], &o, 1);
            assert_true(round == 0 || first[i] == ratio[0]);
            first[i] = ratio[0];
        }
    tb_recall_free(recall);
}

/* --- things that are alike, side by side ---------------------------------------------------------------------- */

enum { THINGS = 300, KINDS = 7 };

struct shared {
    unsigned done[THINGS];
    size_t run_of[THINGS], kind_of[THINGS];
};

static void take(void *arg, const size_t *thing, size_t n)
{
    struct shared *s = arg;

    for (size_t i = 0; i < n; i++) {
        s->done[thing[i]]++;
        s->run_of[thing[i]] = thing[0];
        if (s->kind_of[thing[i]] != s->kind_of[thing[0]])
            s->done[thing[i]] += 100;
    }
}

static void things_that_are_alike_come_to_one_thread_in_their_order(void **state)
{
    struct shared *s = tb_new(struct shared);
    struct tb_likeness *mark = tb_array(struct tb_likeness, THINGS);
    size_t runs = 0;

    (void)state;
    for (size_t i = 0; i < THINGS; i++) {
        s->kind_of[i] = i * i % KINDS; /* 0, 1, 2 and 4 */
        mark[i].byte[31] = (unsigned char)s->kind_of[i];
    }
    tb_alike_in_parallel(take, s, mark, THINGS);
    for (size_t i = 0; i < THINGS; i++) {
        assert_int_equal(s->done[i], 1);
        assert_true(s->run_of[i] <= i);
        runs += s->run_of[i] == i;
    }
    assert_true(runs > 4 &&
                runs < THINGS / 8); /* more than kinds, since no run is long; many fewer than things */
    tb_alike_in_parallel(take, s, mark, 0);
    free(s);
    free(mark);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_weighed_before_comes_out_the_same_to_the_last_digit),
        cmocka_unit_test(one_burn_held_against_many_declarations_is_told_as_if_each_came_alone),
        cmocka_unit_test(what_is_weighed_side_by_side_comes_out_the_same_to_the_last_digit),
        cmocka_unit_test(burns_that_count_otherwise_are_not_taken_for_each_other),
        cmocka_unit_test(what_was_forgotten_is_weighed_again),
        cmocka_unit_test(things_that_are_alike_come_to_one_thread_in_their_order),
    };
    return cmocka_run_group_tests(tests, make_model, free_model);
}
