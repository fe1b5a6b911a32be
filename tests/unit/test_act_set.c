/* The act of setting: what a setting takes, what it refuses, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/act_site.h"
#include "tenterbook/evidence.h"

static tb_rc set(struct scene *s, const char *name, const char *value)
{
    return tb_act_set(&s->actor, &(struct tb_set_request){ name, value }, &err);
}

static const char *value_of(struct scene *s, const char *name)
{
    const char *value;

    OK(tb_setting_get(&value, s->actor.book, name, TB_BOOK_NOW, &s->mem, &err));
    return value;
}

static void a_setting_is_recorded_with_who_set_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_journal_row *row;
    size_t n;
    int64_t head = scene_head(s);

    (void)state;
    OK(set(s, "answer_days", "21"));
    assert_string_equal(value_of(s, "answer_days"), "21");
    OK(tb_journal_since(&row, &n, s->actor.book, head, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(row[0].verb, "set");
    assert_string_equal(row[0].subject, "answer_days");
    OK(set(s, "market", "eu, us"));
    OK(set(s, "market", ""));
    assert_string_equal(value_of(s, "market"), "");
    OK(set(s, "header:wibble", "article"));
    OK(set(s, "header:wibble", "")); /* forgotten again */
    scene_free(s);
}

static void markets_are_named_once_each_in_the_order_they_were_named(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_market_list list = { .n = 0 };

    (void)state;
    OK(set(s, "market", "eu, us eu"));
    OK(tb_market_list_add(&list, "gb", &err));
    OK(tb_setting_markets(&list, s->actor.book, &err));
    assert_int_equal(list.n, 3);
    assert_string_equal(list.key[0], "gb");
    assert_string_equal(list.key[1], "eu");
    assert_string_equal(list.key[2], "us");
    assert_int_equal(tb_market_list_add(&list, "us zz", &err), TB_ENOTFOUND);
    list.n = TB_MARKETS_MOST; /* as if so many others had been named */
    for (size_t i = 0; i < list.n; i++)
        list.key[i] = "xx";
    assert_int_equal(tb_market_list_add(&list, "eu", &err), TB_EINVAL);
    scene_free(s);
}

static void what_a_setting_does_not_take_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_set_request good = { "flame", "no" };

    (void)state;
    REFUSED(s, set(s, "flam", "yes"), TB_ENOTFOUND, "did you mean 'flame'?");
    REFUSED(s, set(s, "header:", "article"), TB_EINVAL, "needs the word of your packing lists");
    REFUSED(s, set(s, "flame", "maybe"), TB_EINVAL, "it takes one of yes|no");
    REFUSED(s, set(s, "answer_days", "1.5"), TB_EINVAL, "it takes a whole number from 1 to 365");
    REFUSED(s, set(s, "fits_above", "1"), TB_EINVAL, "it takes a number from 1.01");
    REFUSED(s, set(s, "hazards", "flame lava"), TB_EINVAL, "it takes any of");
    REFUSED(s, set(s, "market", "eu zz"), TB_ENOTFOUND, "there is no market 'zz'");
    REFUSED(s, set(s, "header:wibble", "furlong"), TB_EINVAL, "'furlong' is not a field of a packing list");
    REFUSED(s, set(s, "header:wibble", "a\033b"), TB_EINVAL, "control character");
    REFUSED(s, tb_act_set(&nobody, &good, &err), TB_EINVAL, "say who is writing");
    assert_string_equal(value_of(s, "flame"), "yes"); /* as the scene set it */
    scene_free(s);
}

/* The thresholds are fitted to the reference tables: a site that sets none gets those. */
static void a_site_that_sets_nothing_judges_by_the_figures_of_the_model(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_evidence_settings model;

    (void)state;
    tb_evidence_defaults(&model);
    {
        const struct {
            const char *name;
            double figure;
        } pair[] = { { "contradicts_below", model.contradicts_below },
                     { "speaks_below", model.speaks_below },
                     { "fits_above", model.fits_above },
                     { "site_weight", model.site_weight },
                     { "commonness", model.commonness } };

        for (size_t i = 0; i < TB_COUNT(pair); i++) {
            double in_force = 0;

            OK(tb_setting_number(&in_force, s->actor.book, pair[i].name, TB_BOOK_NOW, &err));
            assert_true(in_force == pair[i].figure);
        }
    }
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_setting_is_recorded_with_who_set_it),
        cmocka_unit_test(markets_are_named_once_each_in_the_order_they_were_named),
        cmocka_unit_test(what_a_setting_does_not_take_is_refused_and_leaves_nothing),
        cmocka_unit_test(a_site_that_sets_nothing_judges_by_the_figures_of_the_model),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
