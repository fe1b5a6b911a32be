/* A label asked for words and for a lot: what the lot says where the request says nothing, and each refusal. */
#include "unit/act_helper.h"

#include "tenterbook/label_lot.h"

static struct tb_label_request asking(const char *markets)
{
    struct tb_label_request r = { 0 };

    tb_law_facts_none(&r.facts);
    OK(tb_market_list_add(&r.markets, markets, &err));
    return r;
}

static void words_alone_need_no_book(void **state)
{
    struct tb_label_request r = asking("eu us");
    struct tb_label_outcome out;
    struct tb_arena mem = { 0 };

    (void)state;
    r.text = "65% polyester 35% cotton";
    r.facts.lang = "en";
    OK(tb_label_check(&out, NULL, &r, &mem, &err));
    assert_int_equal(out.n, 2);
    assert_true(out.answer[0].ok);
    assert_string_equal(out.answer[1].market.key, "us");
    assert_null(out.lot.ref);
    tb_label_outcome_free(&out);
    tb_arena_free(&mem);
}

static void a_lot_brings_its_words_and_the_markets_of_the_site(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_label_request r = asking("");
    struct tb_label_outcome out;

    (void)state;
    r.lot = "B1";
    REFUSED(s, tb_label_check(&out, s->actor.book, &r, &s->mem, &err), TB_EUSAGE, "or the setting market");
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "market", "ca, gb", &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_label_check(&out, s->actor.book, &r, &s->mem, &err));
    assert_string_equal(out.text, "100% cotton");
    assert_string_equal(out.lot.ref, s->lot.ref);
    assert_int_equal(out.n, 2);
    assert_string_equal(out.answer[0].market.key, "ca");
    assert_null(out.found);
    tb_label_outcome_free(&out);
    r.text = "100% silk"; /* words that are given count before those declared */
    OK(tb_label_check(&out, s->actor.book, &r, &s->mem, &err));
    assert_string_equal(out.text, "100% silk");
    tb_label_outcome_free(&out);
    scene_free(s);
}

static void what_cannot_be_asked_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_label_request r = asking("eu");
    struct tb_label_outcome out;

    (void)state;
    REFUSED(s, tb_label_check(&out, s->actor.book, &r, &s->mem, &err), TB_EINVAL, "needs its words");
    r.lot = "B9";
    REFUSED(s, tb_label_check(&out, s->actor.book, &r, &s->mem, &err), TB_ENOTFOUND, "B9");
    r.lot = s->lot.ref;
    r.actual = "something soft";
    REFUSED(s, tb_label_check(&out, s->actor.book, &r, &s->mem, &err), TB_EINVAL, "gives no composition");
    tb_label_outcome_free(&out);
    assert_int_equal(tb_market_list_add(&r.markets, "atlantis", &err), TB_ENOTFOUND);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_alone_need_no_book),
        cmocka_unit_test(a_lot_brings_its_words_and_the_markets_of_the_site),
        cmocka_unit_test(what_cannot_be_asked_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
