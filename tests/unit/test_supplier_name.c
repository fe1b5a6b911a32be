/* The name of a supplier wherever it is said, the same goods under two names, and notes that two deliveries would share. */
#include "unit/act_helper.h"

#include "tenterbook/act_amend.h"
#include "tenterbook/act_intake.h"
#include "tenterbook/said.h"
#include "tenterbook/utf8.h"

#define HEAD "supplier,delivery note,date,article,bolt no,length m,composition\n"
#define MULLER_UMLAUT "M\xC3\xBCller"
#define TAKE(...) tb_act_receive(&out, &s->actor, &(struct tb_receive_request){ __VA_ARGS__ }, &s->mem, &err)
#define AMEND(...)                                                                                           \
    tb_act_amend(&amended, &s->actor,                                                                        \
                 &(struct tb_amend_request){ .delivery = s->delivery.ref, .why = "a test", __VA_ARGS__ },    \
                 &s->mem, &err)

/* A book with a delivery of Mueller, written with its accent. */
static struct scene *with_muller(void)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_outcome out;

    OK(TAKE(.path =
                scene_file(s, "first.csv", HEAD MULLER_UMLAUT ",N-1,2026-03-14,Q10,A1,100,100% cotton\n")));
    tb_receive_outcome_free(&out);
    return s;
}

static void assert_called(struct scene *s, const char *typed, const char *name)
{
    struct tb_supplier found;

    OK(tb_supplier_find(&found, s->actor.book, typed, &s->mem, &err));
    assert_string_equal(found.name, name);
}

static void a_name_that_differs_by_accents_is_taken_for_the_one_in_the_book_and_that_is_said(void **state)
{
    struct scene *s = with_muller();
    struct tb_receive_outcome out;

    (void)state;
    OK(TAKE(.path = scene_file(s, "next.csv", HEAD "Muller,N-2,2026-03-14,Q10,B1,90,100% cotton\n")));
    assert_string_equal(out.seen.taken, "Muller");
    assert_string_equal(out.seen.taken_as, MULLER_UMLAUT);
    tb_receive_outcome_free(&out);
    assert_called(s, "MULLER", MULLER_UMLAUT);
    OK(TAKE(.path = scene_file(s, "same.csv", HEAD MULLER_UMLAUT ",N-3,2026-03-14,Q10,C1,80,100% cotton\n")));
    assert_null(out.seen.taken);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void who_is_said_to_be_another_one_is_told_by_its_accents_from_then_on(void **state)
{
    struct scene *s = with_muller();
    struct tb_receive_outcome out;
    struct tb_delivery d;

    (void)state;
    OK(TAKE(.path = scene_file(s, "next.csv", HEAD "Muller,N-1,2026-03-14,Q10,A1,100,100% cotton\n"),
            .another = true));
    OK(tb_delivery_find(&d, s->actor.book, out.delivery[0], &s->mem, &err));
    assert_string_equal(d.supplier_name, "Muller");
    tb_receive_outcome_free(&out);
    assert_called(s, "muller", "Muller");
    assert_called(s, "M\xC3\x9CLLER", MULLER_UMLAUT);
    assert_called(s, "M\xC3\xBAller", MULLER_UMLAUT); /* written as neither: as before */
    REFUSED(s,
            TAKE(.path = scene_file(s, "more.csv", HEAD "MULLER,N-5,2026-03-14,Q10,A7,10,100% cotton\n"),
                 .another = true),
            TB_EREFUSED, "is in the book by this very name");
    tb_receive_outcome_free(&out);
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    scene_free(s);
}

static void several_notes_of_one_new_supplier_come_in_together(void **state)
{
    struct scene *s = with_muller();
    struct tb_receive_outcome out;
    struct tb_delivery one, two;

    (void)state;
    OK(TAKE(.path = scene_file(s, "two.csv",
                               HEAD "Muller,N-7,2026-03-14,Q10,A1,100,100% cotton\n"
                                    "Muller,N-8,2026-03-14,Q10,B1,70,100% cotton\n"),
            .another = true));
    OK(tb_delivery_find(&one, s->actor.book, out.delivery[0], &s->mem, &err));
    OK(tb_delivery_find(&two, s->actor.book, out.delivery[1], &s->mem, &err));
    assert_string_equal(one.supplier, two.supplier);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_name_is_amended_by_the_rules_of_receiving(void **state)
{
    static const char *const alike[] = { "H\xD0\xB0rrow Mill", "Harrow\xE2\x80\x8B Mill",
                                         "\xE2\x80\xAEHarrow Mill" };
    struct scene *s = with_muller();
    struct tb_amend_outcome amended;

    (void)state;
    OK(AMEND(.supplier = "Nobody Ltd"));
    assert_true(amended.fresh);
    assert_null(amended.seen.near);
    for (size_t i = 0; i < TB_COUNT(alike); i++)
        REFUSED(s, AMEND(.supplier = alike[i]), TB_EEXISTS, "looks like 'Harrow Mill'");
    OK(AMEND(.supplier = "Harow Mill"));
    assert_string_equal(amended.seen.near, "Harrow Mill");
    OK(AMEND(.supplier = "muller"));
    assert_false(amended.fresh);
    assert_string_equal(amended.seen.taken_as, MULLER_UMLAUT);
    assert_string_equal(amended.delivery.supplier_name, MULLER_UMLAUT);
    REFUSED(s, AMEND(.supplier = "muller"), TB_EINVAL, "is so already");
    OK(AMEND(.supplier = "muller", .another = true));
    assert_true(amended.fresh);
    assert_string_equal(amended.delivery.supplier_name, "muller");
    REFUSED(s, AMEND(.supplier = "muller", .another = true), TB_EREFUSED, "is in the book by this very name");
    scene_free(s);
}

static void an_amendment_makes_no_two_deliveries_of_one_note_unasked(void **state)
{
    struct scene *s = with_muller();
    struct tb_amend_outcome amended;

    (void)state;
    REFUSED(s, AMEND(.supplier = MULLER_UMLAUT, .note = "N-1"), TB_EEXISTS, "was taken in before, as ");
    OK(AMEND(.note = "N-1")); /* of another supplier */
    REFUSED(s, AMEND(.supplier = MULLER_UMLAUT), TB_EEXISTS, "note N-1 of " MULLER_UMLAUT);
    OK(AMEND(.supplier = MULLER_UMLAUT, .again = true));
    OK(AMEND(.order = "O-1")); /* what is so already is not asked about */
    scene_free(s);
}

static void a_name_taken_for_another_by_its_accents_can_be_parted(void **state)
{
    struct scene *s = with_muller();
    struct tb_same_outcome out;
    struct tb_amend_outcome amended;

    (void)state;
    OK(tb_act_same(&out, &s->actor, &(struct tb_same_request){ .supplier = "Muller", .why = "two firms" },
                   &s->mem, &err));
    assert_true(out.fresh);
    assert_string_equal(out.supplier.name, "Muller");
    assert_string_equal(out.was.name, MULLER_UMLAUT);
    assert_called(s, "Muller", "Muller");
    assert_called(s, MULLER_UMLAUT, MULLER_UMLAUT);
    OK(AMEND(.supplier = "Muller"));
    assert_string_equal(amended.delivery.supplier_name, "Muller");
    REFUSED(s,
            tb_act_same(&out, &s->actor,
                        &(struct tb_same_request){ .supplier = "Muller", .why = "two firms" }, &s->mem, &err),
            TB_EREFUSED, "is on its own");
    /* and made one again */
    OK(tb_act_same(&out, &s->actor,
                   &(struct tb_same_request){
                       .supplier = "Muller", .same_as = MULLER_UMLAUT, .why = "one firm after all" },
                   &s->mem, &err));
    assert_called(s, "Muller", MULLER_UMLAUT);
    scene_free(s);
}

#define FIVE(who, note)                                                                                      \
    HEAD who "," note ",2026-03-14,Q10,K1,41.5,100% cotton\n" who "," note                                   \
             ",2026-03-14,Q10,K2,52,100% cotton\n" who "," note ",2026-03-14,Q10,K3,63,100% cotton\n" who    \
             "," note ",2026-03-14,Q10,K4,74,100% cotton\n" who "," note                                     \
             ",2026-03-14,Q10,K5,85,100% cotton\n"

static void the_same_bolts_under_the_name_of_anybody_else_are_noticed_for_a_year(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *agent = scene_file(s, "agent.csv", FIVE("Trader Aurelia", "26-0900"));
    struct tb_receive_outcome out;

    (void)state;
    OK(TAKE(.path = scene_file(s, "mill.csv", FIVE("Weaver Brandt", "N-1")), .arrived = "2025-03-20"));
    tb_receive_outcome_free(&out);
    REFUSED(s, TAKE(.path = agent, .arrived = "2026-03-20"), TB_EEXISTS,
            "5 of 5 bolts looked at have the numbers and lengths of those of W25-001, from Weaver Brandt");
    assert_int_equal(out.twin.bolts, 5);
    tb_receive_outcome_free(&out);
    REFUSED(s, TAKE(.path = agent, .arrived = "2026-03-20", .another = true), TB_EEXISTS, "Weaver Brandt");
    tb_receive_outcome_free(&out);
    OK(TAKE(.path = agent, .arrived = "2026-03-21", .dry = true)); /* a year and a day later */
    tb_receive_outcome_free(&out);
    OK(TAKE(.path = agent, .arrived = "2026-03-20", .again = true, .why = "numbers of the loom"));
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void one_letter_is_no_reason_why_goods_come_again(void **state)
{
    struct scene *s = with_muller();
    struct tb_receive_request r = {
        .path = scene_file(s, "x.csv", HEAD MULLER_UMLAUT ",N-1,2026-03-14,Q10,Z1,9,100% cotton\n"),
        .again = true
    };
    static const char *const none[] = { "n",    "",    " ",    "no",    " n ", "\xC3\xB6", "n/a",
                                        "N/A.", "---", "None", "none.", "xxx", "nil" };
    struct tb_receive_outcome out;

    (void)state;
    assert_false(tb_reason_told(NULL));
    for (size_t i = 0; i < TB_COUNT(none); i++) {
        r.why = none[i];
        assert_false(tb_reason_told(r.why));
        REFUSED(s, tb_act_receive(&out, &s->actor, &r, &s->mem, &err),
                tb_said_blank(r.why) ? TB_EEXISTS : TB_EINVAL,
                tb_said_blank(r.why) ? "was taken in before" : "is no reason");
        tb_receive_outcome_free(&out);
    }
    assert_true(tb_reason_told("2nd half"));
    assert_true(tb_reason_told("none of it was burned"));
    assert_true(tb_reason_told("\xE9\x94\x99\xE5\xAD\x97")); /* "wrong character": two signs, two words */
    r.why = "the other half";
    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_name_is_folded_with_its_accents_or_without(void **state)
{
    char *with = tb_fold_accented("  M\xC3\x9C  LLER ", 11), *without = tb_fold("M\xC3\x9C LLER", 8),
         *taken_apart = tb_fold_accented("Mu\xCC\x88 ller", 9); /* u and a combining diaeresis */

    (void)state;
    assert_string_equal(with, "m\xC3\xBC ller");
    assert_string_equal(without, "mu ller");
    assert_string_equal(taken_apart, with);
    free(with);
    free(without);
    free(taken_apart);
    assert_true(tb_supplier_spelled(" Alder  MILL", "alder mill"));
    assert_false(tb_supplier_spelled("Muller", MULLER_UMLAUT));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_name_that_differs_by_accents_is_taken_for_the_one_in_the_book_and_that_is_said),
        cmocka_unit_test(who_is_said_to_be_another_one_is_told_by_its_accents_from_then_on),
        cmocka_unit_test(several_notes_of_one_new_supplier_come_in_together),
        cmocka_unit_test(a_name_is_amended_by_the_rules_of_receiving),
        cmocka_unit_test(an_amendment_makes_no_two_deliveries_of_one_note_unasked),
        cmocka_unit_test(a_name_taken_for_another_by_its_accents_can_be_parted),
        cmocka_unit_test(the_same_bolts_under_the_name_of_anybody_else_are_noticed_for_a_year),
        cmocka_unit_test(one_letter_is_no_reason_why_goods_come_again),
        cmocka_unit_test(a_name_is_folded_with_its_accents_or_without),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
