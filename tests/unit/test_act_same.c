/* Two spellings of a supplier made one: whose terms and address are in force, what is told, and whose days are others then. */
#include "unit/act_helper.h"

#include "tenterbook/act_amend.h"
#include "tenterbook/act_claim.h"

#define LTD "Harrow Mill Ltd"

/* The lot of the scene is of Harrow Mill, arrived on 2026-10-05, 14 days for what an examination shows; Ltd has its own lot. */
static struct scene *with_two(struct tb_delivery *other)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_supplier ltd;
    struct tb_lot lot = { .unit_price = 4, .currency = "EUR", .bolts = 1, .metres = 50 };

    *other = (struct tb_delivery){ .arrived = "2026-10-05" };
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&ltd, s->actor.book, LTD, &s->mem, &err));
    other->supplier = ltd.id;
    OK(tb_delivery_add(other, s->actor.book, &s->mem, &err));
    OK(tb_lot_add(&lot, s->actor.book, other, 1, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    return s;
}

static void set_terms(struct scene *s, const char *name, int open_days)
{
    struct tb_supplier_term out;

    OK(tb_act_terms(&out, &s->actor, &(struct tb_terms_request){ .supplier = name, .open_days = &open_days },
                    &s->mem, &err));
}

static struct tb_same_outcome join(struct scene *s, const char *name, const char *as)
{
    struct tb_same_outcome out;

    OK(tb_act_same(&out, &s->actor,
                   &(struct tb_same_request){ .supplier = name, .same_as = as, .why = "letterhead" }, &s->mem,
                   &err));
    return out;
}

static void assert_due(struct scene *s, const char *lot, const char *day)
{
    struct tb_lot_claim c;

    OK(tb_lot_claim_read(&c, s->actor.book, lot, "2026-11-26", &s->mem, &err));
    assert_string_equal(c.claim.clock.arrival.day, day);
}

/* The days are counted by hand: 2026-10-05 and 14 days, and 5 days, and 60 days (docs/claims.md, "How days are counted"). */
static void terms_of_the_name_that_stays_are_in_force_whichever_were_set_last(void **state)
{
    const int ltd_days[] = { 5, 60 };
    const char *const ltd_due[] = { "2026-10-10", "2026-12-04" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(ltd_days); i++) {
        struct tb_delivery other;
        struct scene *s = with_two(&other);
        const char *ref = tb_arena_printf(&s->mem, "%s.01", other.ref);
        struct tb_same_outcome out;

        set_terms(s, "Harrow Mill", 14);
        set_terms(s, LTD, ltd_days[i]);
        assert_due(s, ref, ltd_due[i]);
        out = join(s, LTD, "Harrow Mill");
        assert_due(s, s->lot.ref, "2026-10-19");
        assert_due(s, ref, "2026-10-19");
        assert_int_equal(out.set.terms.open_days, 14);
        assert_int_equal(out.other_set.terms.open_days, ltd_days[i]);
        assert_int_equal(out.moveds, 1); /* the lot of the other name, and no other */
        assert_string_equal(out.moved[0].lot, ref);
        assert_string_equal(out.moved[0].arrival_was, ltd_due[i]);
        assert_string_equal(out.moved[0].arrival, "2026-10-19");
        out = join(s, LTD, NULL);
        assert_due(s, s->lot.ref, "2026-10-19");
        assert_due(s, ref, ltd_due[i]);
        assert_int_equal(out.moveds, 1);
        assert_null(out.other_set.terms.id);
        scene_free(s);
    }
}

static void terms_of_the_other_name_are_told_where_the_one_that_stays_has_none(void **state)
{
    struct tb_delivery other;
    struct scene *s = with_two(&other);
    struct tb_same_outcome out;
    struct tb_supplier_term *set;
    size_t n;

    (void)state;
    set_terms(s, LTD, 5);
    out = join(s, LTD, "Harrow Mill");
    assert_null(out.set.terms.id);
    assert_int_equal(out.other_set.terms.open_days, 5);
    assert_int_equal(out.moveds, 1);
    assert_string_equal(out.moved[0].arrival, "");
    OK(tb_supplier_term_list(&set, &n, s->actor.book, &s->mem, &err));
    assert_int_equal(n, 0); /* none is in force, and none is listed as if it were */
    set_terms(s, LTD, 7);   /* either name says the supplier */
    assert_due(s, s->lot.ref, "2026-10-12");
    scene_free(s);
}

static void no_lot_is_named_where_no_day_changes(void **state)
{
    struct tb_delivery other;
    struct scene *s = with_two(&other);
    struct tb_same_outcome out;

    (void)state;
    set_terms(s, "Harrow Mill", 5);
    set_terms(s, LTD, 5);
    out = join(s, LTD, "Harrow Mill");
    assert_int_equal(out.moveds, 0);
    scene_free(s);
}

static void the_address_of_the_name_that_stays_is_in_force(void **state)
{
    struct tb_delivery other;
    struct scene *s = with_two(&other);
    struct tb_address set, *all;
    struct tb_same_outcome out;
    size_t n;

    (void)state;
    OK(tb_act_address(
        &set, &s->actor,
        &(struct tb_address_request){ .supplier = "Harrow Mill", .place = "Prato", .language = "it" },
        &s->mem, &err));
    OK(tb_act_address(&set, &s->actor,
                      &(struct tb_address_request){ .supplier = LTD, .place = "Leeds", .language = "en" },
                      &s->mem, &err));
    out = join(s, LTD, "Harrow Mill");
    assert_string_equal(out.set.address.place, "Prato");
    assert_string_equal(out.other_set.address.place, "Leeds");
    OK(tb_address_of(&set, s->actor.book, s->supplier.id, &s->mem, &err));
    assert_string_equal(set.language, "it");
    OK(tb_address_list(&all, &n, s->actor.book, &s->mem, &err));
    assert_int_equal(n, 1);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terms_of_the_name_that_stays_are_in_force_whichever_were_set_last),
        cmocka_unit_test(terms_of_the_other_name_are_told_where_the_one_that_stays_has_none),
        cmocka_unit_test(no_lot_is_named_where_no_day_changes),
        cmocka_unit_test(the_address_of_the_name_that_stays_is_in_force),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
