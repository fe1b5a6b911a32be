/* The act of setting terms: whom they are for, what stays, each refusal, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/act_claim.h"

#define TERMS(...) tb_act_terms(&out, &s->actor, &(struct tb_terms_request){ __VA_ARGS__ }, &s->mem, &err)

static void terms_of_a_supplier_are_set_and_what_nothing_is_said_of_stays(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *law[] = { "it_1495", "cisg" };
    struct tb_supplier_term out, *set;
    size_t n;
    int64_t head = scene_head(s);
    bool calendar = false;

    (void)state;
    OK(TERMS(.supplier = "harrow mill", .country = "IT", .law = law, .laws = 2, .open_days = &(int){ 5 },
             .working = &(bool){ true }, .stands_in = "order 4471"));
    assert_int_equal(scene_head(s), head + 1);
    assert_string_equal(out.supplier_name, "Harrow Mill");
    assert_string_equal(out.laws, "it_1495 cisg");
    OK(TERMS(.supplier = "Harrow Mill", .hidden_days = &(int){ 0 }, .working = &calendar,
             .before_cutting = true));
    assert_int_equal(out.open_days, 5);
    assert_int_equal(out.hidden_days, 0);
    assert_false(out.working);
    OK(tb_supplier_terms(&set, &n, s->actor.book, s->supplier.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(set[0].country, "IT");
    assert_string_equal(set[0].laws, "it_1495 cisg");
    assert_string_equal(set[0].stands_in, "order 4471");
    assert_true(set[0].before_cutting);
    assert_int_equal(set[0].hidden_days, 0);
    assert_string_equal(set[0].set_by, "Ada Fell");
    scene_free(s);
}

static void beginning_afresh_leaves_nothing_but_whom_they_are_for(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_supplier_term out;

    (void)state;
    OK(TERMS(.supplier = "Harrow Mill", .country = "IT", .open_days = &(int){ 5 }, .working = &(bool){ true },
             .before_cutting = true));
    assert_true(out.working);
    OK(TERMS(.supplier = "Harrow Mill", .afresh = true));
    assert_false(out.working);
    assert_string_equal(out.country, "IT");
    assert_string_equal(out.laws, "");
    assert_int_equal(out.open_days, TB_CLAIM_NO_TERM);
    assert_false(out.before_cutting);
    scene_free(s);
}

static void terms_of_a_country_and_of_everybody_stand_apart(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *law[] = { "tr_23" };
    struct tb_supplier_term out, *set;
    size_t n;

    (void)state;
    OK(TERMS(.country = "TR", .law = law, .laws = 1));
    assert_null(out.supplier);
    OK(TERMS(.open_days = &(int){ 20 }));
    assert_string_equal(out.country, "");
    assert_string_equal(out.laws, "");
    OK(TERMS(.country = "TR", .open_days = &(int){ 3 }));
    assert_string_equal(out.laws, "tr_23");
    OK(tb_supplier_term_list(&set, &n, s->actor.book, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_int_equal(set[0].open_days, 3);
    assert_int_equal(set[1].open_days, 20);
    scene_free(s);
}

static void terms_that_cannot_be_set_are_refused_and_leave_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *unknown[] = { "no_law" };
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_terms_request all = { .open_days = &(int){ 3 } };
    struct tb_supplier_term out;

    (void)state;
    REFUSED(s, TERMS(.supplier = "Nobody", .open_days = &(int){ 3 }), TB_ENOTFOUND,
            "no supplier is called 'Nobody'");
    REFUSED(s, TERMS(.country = "TR", .law = unknown, .laws = 1), TB_ENOTFOUND, "no_law");
    REFUSED(s, TERMS(.country = "Italy"), TB_EINVAL, "'Italy' is not a country code");
    REFUSED(s, TERMS(.open_days = &(int){ -3 }), TB_EINVAL, "is -3 days");
    REFUSED(s, TERMS(.hidden_days = &(int){ TB_CLAIM_DAYS_MOST + 1 }), TB_EINVAL, "a term is 0 to 3650");
    REFUSED(s, tb_act_terms(&out, &nobody, &all, &s->mem, &err), TB_EINVAL, "say who is writing");
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terms_of_a_supplier_are_set_and_what_nothing_is_said_of_stays),
        cmocka_unit_test(beginning_afresh_leaves_nothing_but_whom_they_are_for),
        cmocka_unit_test(terms_of_a_country_and_of_everybody_stand_apart),
        cmocka_unit_test(terms_that_cannot_be_set_are_refused_and_leave_nothing),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
