/* Published standards beyond the Regulation: what they cover, and how far that was looked up. */
#include "tenterbook/lab.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static int fibre(const char *key)
{
    int f = tb_fibre_by_key(key);

    assert_true(f >= 0);
    return f;
}

/* Ways by standards for fibres separated by spaces. */
static tb_rc paths(struct tb_lab_path *path, size_t *n, const char *keys, struct tb_err *err)
{
    struct tb_share share[5] = { 0 };
    struct tb_part part = { .share = share };
    char copy[200], *save = NULL;

    (void)snprintf(copy, sizeof copy, "%s", keys);
    for (char *k = strtok_r(copy, " ", &save); k && part.n < 5; k = strtok_r(NULL, " ", &save), part.n++)
        share[part.n] = (struct tb_share){ fibre(k), NAN, NAN, 0, 0 };
    return tb_lab_paths(path, n, &part, err);
}

static const char *number_of(const struct tb_lab_path *p, size_t step)
{
    return tb_lab_standard_at(p->step[step].standard).number;
}

/* Scopes as read in catalogues: see the column `source` of lab_standard.csv. */
static void mixtures_beyond_the_annex_are_sent_to_their_standard(void **state)
{
    static const struct {
        const char *keys, *first, *second; /* numbers of the mildest way; second "" where one step serves */
    } row[] = {
        { "flax viscose", "ISO 1833-22", "" },
        { "lyocell flax", "ISO 1833-22", "" },
        { "cotton lyocell", "EN ISO 1833-6", "" },
        { "lyocell polyester", "ISO 1833-11", "" },
        { "elastane polyester", "ISO 1833-20", "" },
        { "cotton elastane", "ISO 1833-20", "" },
        { "polyester cotton elastane", "ISO 1833-20", "ISO 1833-11" },
        { "nylon viscose elastane", "ISO 1833-20", "ISO 1833-7" },
        { "wool cashmere", "ISO 17751-1", "" },
        { "mohair wool", "ISO 17751-1", "" },
        { "cashmere wool yak", "ISO 17751-1", "" },
        { "flax hemp", "ISO 20706-1", "" },
        { "cotton flax", "ISO 20705", "" },
        { "cupro lyocell", "ISO 21915-2", "" },
        { "viscose modal", "ISO 20705", "" },
        { "wool cashmere polyester", "ISO 1833-4", "ISO 17751-1" },
        { "cotton flax polyester", "ISO 1833-11", "ISO 20705" },
        { "carbon sulfar", "ISO/TR 11827", "" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_path path[TB_LAB_PATHS_MOST];
        size_t n = 0;
        struct tb_err err = { 0 };

        assert_int_equal(paths(path, &n, row[i].keys, &err), TB_OK);
        assert_true(n > 0);
        assert_string_equal(number_of(&path[0], 0), row[i].first);
        assert_int_equal(path[0].steps, row[i].second[0] ? 2 : 1);
        if (row[i].second[0])
            assert_string_equal(number_of(&path[0], 1), row[i].second);
    }
}

static void what_a_standard_excludes_is_not_sent_to_it(void **state)
{
    static const struct {
        const char *keys, *not_by;
    } row[] = {
        { "elastane acrylic", "ISO 1833-20" },         { "elastane cotton acrylic", "ISO 1833-20" },
        { "acetate cotton modacrylic", "ISO 1833-3" }, { "polyester nylon cotton", "ISO 1833-25" },
        { "cashmere mohair", "ISO 20418-1" }, /* one species */
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_path path[TB_LAB_PATHS_MOST];
        size_t n = 0;
        struct tb_err err = { 0 };

        assert_int_equal(paths(path, &n, row[i].keys, &err), TB_OK);
        for (size_t p = 0; p < n; p++)
            for (size_t k = 0; k < path[p].steps; k++)
                assert_string_not_equal(number_of(&path[p], k), row[i].not_by);
    }
}

static bool same_as_a_method(const struct tb_lab_step *step, int stays)
{
    for (int m = 1; m <= (int)tb_lab_method_count(); m++) {
        struct tb_lab_method method;

        assert_true(tb_lab_method_get(&method, m));
        if (strcmp(method.standard.number, tb_lab_standard_at(step->standard).number) == 0 &&
            tb_lab_method_role(m, step->fibre[0]) == TB_LAB_ROLE_DISSOLVED &&
            tb_lab_method_role(m, stays) == TB_LAB_ROLE_RESIDUE)
            return true;
    }
    return false;
}

static void a_method_of_the_regulation_is_not_shown_again_as_its_standard(void **state)
{
    static const char *const pair[][2] = { { "cotton", "polyester" },
                                           { "acetate", "wool" },
                                           { "cotton", "viscose" },
                                           { "wool", "polyester" },
                                           { "silk", "wool" } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(pair); i++) {
        struct tb_lab_path path[TB_LAB_PATHS_MOST];
        char keys[40];
        size_t n = 0;
        struct tb_err err = { 0 };

        (void)snprintf(keys, sizeof keys, "%s %s", pair[i][0], pair[i][1]);
        assert_int_equal(paths(path, &n, keys, &err), TB_OK);
        for (size_t p = 0; p < n; p++) {
            bool first = path[p].step[0].fibre[0] == fibre(pair[i][0]);

            assert_false(same_as_a_method(&path[p].step[0], fibre(pair[i][first ? 1 : 0])));
        }
    }
}

static void mixtures_no_plan_takes_are_refused(void **state)
{
    static const struct {
        const char *keys, *says;
    } row[] = {
        { "cotton", "one fibre needs no separating: a laboratory says which it is (ISO/TR 11827); name the "
                    "two or three that may be mixed" },
        { "wool wool", "wool is named twice" },
        { "cotton flax wool silk", "4 fibres are too many: the methods separate two or three" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_path path[TB_LAB_PATHS_MOST];
        size_t n = 7;
        struct tb_err err = { 0 };

        assert_int_equal(paths(path, &n, row[i].keys, &err), TB_EINVAL);
        assert_non_null(strstr(err.msg, row[i].says));
        assert_int_equal(n, 7);
    }
}

static void polyester_and_triexta_have_no_way(void **state)
{
    struct tb_lab_path path[TB_LAB_PATHS_MOST];
    size_t n = 7;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(paths(path, &n, "polyester triexta", &err), TB_OK);
    assert_int_equal(n, 0);
}

static void no_number_from_memory_is_shown_as_a_fact(void **state)
{
    char words[TB_STANDARD];
    size_t remembered = 0;

    (void)state;
    for (size_t i = 0; i < tb_lab_standard_count(); i++) {
        struct tb_lab_standard s = tb_lab_standard_at(i);
        json_t *j = tb_json_standard(&s);

        (void)tb_standard_words(words, &s);
        assert_true(s.covers[0] && s.hazard[0] && s.effort[0] && s.tells[0] && s.source[0]);
        assert_true(s.means != TB_LAB_MEANS_CHEMISTRY || s.reagent[0]);
        assert_string_equal(json_string_value(json_object_get(j, "status")), s.status);
        assert_string_equal(json_string_value(json_object_get(j, "source")), s.source);
        if (tb_status_memory(s.status)) {
            remembered++;
            assert_null(strstr(words, s.number));
            assert_non_null(strstr(words, "its number is not verified"));
            assert_int_equal(s.year, 0);
            assert_true(json_is_null(json_object_get(j, "number")));
            assert_string_equal(json_string_value(json_object_get(j, "number_from_memory")), s.number);
        } else {
            assert_non_null(strstr(words, s.number));
            assert_null(strstr(words, "not verified"));
            assert_true(tb_status_seen(s.status) == (strstr(words, "second-hand") == NULL));
            assert_string_equal(json_string_value(json_object_get(j, "number")), s.number);
        }
        json_decref(j);
    }
    assert_int_equal(remembered, 2); /* cyclohexanone and chitosan: docs/laboratory.md, Standards */
}

/* A number that is only remembered must not come in by a side door, in the words of another row. */
static void no_row_speaks_of_a_number_that_is_only_remembered(void **state)
{
    (void)state;
    for (size_t i = 0; i < tb_lab_standard_count(); i++) {
        struct tb_lab_standard m = tb_lab_standard_at(i);

        for (size_t k = 0; tb_status_memory(m.status) && k < tb_lab_standard_count(); k++) {
            struct tb_lab_standard s = tb_lab_standard_at(k);
            const char *const text[] = { s.covers, s.reagent, s.hazard, s.effort, s.tells, s.note };

            for (size_t t = 0; t < TB_COUNT(text); t++)
                assert_null(strstr(text[t], m.number));
        }
        for (int n = 1; tb_status_memory(m.status) && n <= (int)tb_lab_method_count(); n++) {
            struct tb_lab_method method;

            assert_true(tb_lab_method_get(&method, n));
            assert_null(strstr(method.note, m.number));
            assert_null(strstr(method.source, m.number));
        }
    }
}

static void check_step(const struct tb_lab_step *s)
{
    struct tb_lab_standard std = tb_lab_standard_at(s->standard);

    assert_true(s->fibres >= 1 && s->fibres <= 3);
    assert_true(s->dissolves == (std.means == TB_LAB_MEANS_CHEMISTRY));
    assert_true(s->dissolves || s->fibres >= 2);
    assert_true(s->dissolves || !s->some);
}

static void every_pair_and_triple_has_sane_ways_or_none(void **state)
{
    int all = (int)tb_fibre_count();

    (void)state;
    for (int a = 0; a < all; a++)
        for (int b = a + 1; b < all; b++)
            for (int c = b; c < all; c++) { /* c == b stands for a pair */
                struct tb_share share[3] = { { a, NAN, NAN, 0, 0 },
                                             { b, NAN, NAN, 0, 0 },
                                             { c, NAN, NAN, 0, 0 } };
                struct tb_part part = { .share = share, .n = c == b ? 2 : 3 };
                struct tb_lab_path path[TB_LAB_PATHS_MOST];
                size_t n = 0;
                struct tb_err err = { 0 };

                assert_int_equal(tb_lab_paths(path, &n, &part, &err), TB_OK);
                assert_true(n < TB_LAB_PATHS_MOST); /* none was cut off */
                for (size_t p = 0; p < n; p++) {
                    assert_true(path[p].steps == 1 || path[p].steps == 2);
                    for (size_t k = 0; k < path[p].steps; k++)
                        check_step(&path[p].step[k]);
                }
            }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mixtures_beyond_the_annex_are_sent_to_their_standard),
        cmocka_unit_test(what_a_standard_excludes_is_not_sent_to_it),
        cmocka_unit_test(a_method_of_the_regulation_is_not_shown_again_as_its_standard),
        cmocka_unit_test(mixtures_no_plan_takes_are_refused),
        cmocka_unit_test(polyester_and_triexta_have_no_way),
        cmocka_unit_test(no_number_from_memory_is_shown_as_a_fact),
        cmocka_unit_test(no_row_speaks_of_a_number_that_is_only_remembered),
        cmocka_unit_test(every_pair_and_triple_has_sane_ways_or_none),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
