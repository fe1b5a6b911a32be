/* A packing list that comes again in other bytes, and a supplier's name that only looks the same. */
#include "unit/act_helper.h"

#include "tenterbook/act_intake.h"
#include "tenterbook/act_void.h"
#include "tenterbook/utf8.h"

#define HEAD "supplier,delivery note,date,article,bolt no,length m,composition\n"
#define FIRST                                                                                                \
    HEAD "Alder Mill,N-1,2026-03-14,Q10,A1,100,100% cotton\n"                                                \
         "Alder Mill,N-1,2026-03-14,Q10,A2,50.5,100% cotton\n"                                               \
         "Alder Mill,N-1,2026-03-14,Q11,A3,20,100% linen\n"

static struct scene *with_first(void)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .path = scene_file(s, "first.csv", FIRST) };
    struct tb_receive_outcome out;

    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    assert_null(out.twin.there.ref);
    tb_receive_outcome_free(&out);
    return s;
}

#define TAKE(...) tb_act_receive(&out, &s->actor, &(struct tb_receive_request){ __VA_ARGS__ }, &s->mem, &err)

static void the_same_note_in_other_bytes_is_shown_and_taken_only_with_a_reason(void **state)
{
    struct scene *s = with_first();
    const char *path = scene_file(s, "second.csv", HEAD "Alder Mill,N-1,2026-03-14,Q12,C1,30,100% cotton\n");
    struct tb_receive_outcome out;
    struct tb_delivery d;

    (void)state;
    REFUSED(s, TAKE(.path = path), TB_EEXISTS, "note N-1 of Alder Mill was taken in before, as ");
    assert_string_equal(out.twin.there.note, "N-1");
    assert_int_equal(out.twin.bolts, 3);
    assert_int_equal(out.twin.lots, 2);
    assert_true(out.twin.metres == 170.5);
    assert_int_equal(out.twin.here->bolts, 1);
    tb_receive_outcome_free(&out);
    REFUSED(s, TAKE(.path = path, .dry = true), TB_EEXISTS, "was taken in before");
    tb_receive_outcome_free(&out);
    REFUSED(s, TAKE(.path = path, .again = true), TB_EEXISTS, "say why");
    tb_receive_outcome_free(&out);
    REFUSED(s, TAKE(.path = path, .again = true, .why = " "), TB_EEXISTS, "say why");
    tb_receive_outcome_free(&out);
    OK(TAKE(.path = path, .again = true, .why = "the other half"));
    OK(tb_delivery_find(&d, s->actor.book, out.delivery[0], &s->mem, &err));
    assert_string_equal(d.remark, "received unexamined; taken in again: the other half");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void mostly_the_same_bolts_under_another_note_are_noticed(void **state)
{
    struct scene *s = with_first();
    const char *two = scene_file(s, "two.csv",
                                 HEAD "Alder Mill,N-2,2026-03-15,Q10,A1,100,100% cotton\n"
                                      "Alder Mill,N-2,2026-03-15,Q10,A2,50.5,100% cotton\n"
                                      "Alder Mill,N-2,2026-03-15,Q11,A9,21,100% linen\n");
    struct tb_receive_outcome out;

    (void)state;
    REFUSED(s, TAKE(.path = two), TB_EEXISTS,
            "2 of 3 bolts looked at have the numbers and lengths of those of ");
    assert_int_equal(out.twin.same, 2);
    assert_int_equal(out.twin.looked, 3);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

/* What a spreadsheet makes of the list, saved once more: the zeros before figures are gone. */
static void a_list_that_lost_its_zeros_is_noticed(void **state)
{
    struct scene *s = with_first();
    const char *one = scene_file(s, "zeros.csv",
                                 HEAD "Alder Mill,000881,2026-03-16,Q10,000101,100,100% cotton\n"
                                      "Alder Mill,000881,2026-03-16,Q10,000102,50.5,100% cotton\n");
    struct tb_receive_outcome out;

    (void)state;
    OK(TAKE(.path = one));
    tb_receive_outcome_free(&out);
    REFUSED(
        s,
        TAKE(.path = scene_file(s, "saved.csv", HEAD "Alder Mill,881,2026-03-16,Q10,101,100,100% cotton\n")),
        TB_EEXISTS, "note 881 of Alder Mill is written nearly like note 000881, which was taken in before");
    assert_string_equal(out.twin.there.note, "000881");
    assert_int_equal(out.twin.bolts, 2);
    tb_receive_outcome_free(&out);
    REFUSED(s,
            TAKE(.path = scene_file(s, "bolts.csv",
                                    HEAD "Alder Mill,990,2026-03-16,Q10,101,100,100% cotton\n"
                                         "Alder Mill,990,2026-03-16,Q10,102,50.5,100% cotton\n")),
            TB_EEXISTS, "2 of 2 bolts looked at have the numbers and lengths of those of ");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void nearly_the_same_lengths_are_noticed_where_numbers_name_a_bolt(void **state)
{
    struct scene *s = with_first();
    struct tb_receive_outcome out;

    (void)state;
    OK(TAKE(.path = scene_file(s, "gross.csv",
                               HEAD "Alder Mill,N-5,2026-03-15,Q10,K7101,60.3,100% cotton\n"
                                    "Alder Mill,N-5,2026-03-15,Q10,K7102,61.3,100% cotton\n")));
    tb_receive_outcome_free(&out);
    REFUSED(s,
            TAKE(.path = scene_file(s, "net.csv",
                                    HEAD "Alder Mill,N-6,2026-03-15,Q10,K7101,60,100% cotton\n"
                                         "Alder Mill,N-6,2026-03-15,Q10,K7102,61,100% cotton\n")),
            TB_EEXISTS, "2 of 2 bolts looked at have the numbers and nearly the lengths of those of ");
    tb_receive_outcome_free(&out);
    OK(TAKE(.path = scene_file(s, "anew.csv", /* A1 and A2 begin anew in each delivery */
                               HEAD "Alder Mill,N-7,2026-03-15,Q10,A1,100.4,100% cotton\n"
                                    "Alder Mill,N-7,2026-03-15,Q10,A2,50.2,100% cotton\n")));
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void the_same_bolts_under_nearly_the_name_of_a_supplier_are_noticed(void **state)
{
    struct scene *s = with_first();
    const char *path = scene_file(s, "near.csv",
                                  HEAD "Alder Mil,N-9,2026-03-15,Q10,A1,100,100% cotton\n"
                                       "Alder Mil,N-9,2026-03-15,Q10,A2,50.5,100% cotton\n");
    struct tb_receive_outcome out;

    (void)state;
    REFUSED(s, TAKE(.path = path), TB_EEXISTS,
            "2 of 2 bolts looked at have the numbers and lengths of those of ");
    assert_string_equal(out.seen.near, "Alder Mill");
    tb_receive_outcome_free(&out);
    REFUSED(s,
            TAKE(.path = scene_file(s, "note.csv", HEAD "Alder Mil,N-1,2026-03-15,Q10,B1,10,100% cotton\n")),
            TB_EEXISTS, "note N-1 of Alder Mill was taken in before");
    tb_receive_outcome_free(&out);
    OK(TAKE(.path = path, .another = true));
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void the_same_numbers_with_other_lengths_or_of_others_are_another_delivery(void **state)
{
    struct scene *s = with_first();
    struct tb_receive_outcome out;

    (void)state;
    OK(TAKE(.path = scene_file(s, "two.csv",
                               HEAD "Alder Mill,N-2,2026-03-15,Q10,A1,60,100% cotton\n"
                                    "Alder Mill,N-2,2026-03-15,Q10,A2,61,100% cotton\n")));
    tb_receive_outcome_free(&out);
    OK(TAKE(.path = scene_file(s, "three.csv",
                               HEAD "Moor Mill,N-1,2026-03-15,Q10,A1,100,100% cotton\n"
                                    "Moor Mill,N-1,2026-03-15,Q10,A2,50.5,100% cotton\n")));
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_void_delivery_is_no_twin_and_its_file_is_taken_in_anew(void **state)
{
    struct scene *s = with_first();
    struct tb_receive_outcome out;
    struct tb_void_outcome gone;

    (void)state;
    OK(tb_act_void(&gone, &s->actor,
                   &(struct tb_void_request){ .name = "W26-002", .why = "wrong list", .knowing = true },
                   &s->mem, &err)); /* W26-001 is that of the scene */
    OK(TAKE(.path = scene_file(s, "first.csv", FIRST)));
    assert_string_equal(out.delivery[0], "W26-003");
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_name_that_looks_the_same_is_noticed(void **state)
{
    static const char *const alike[] = {
        "Alder\xE2\x80\x8B Mill", /* a space of no width, U+200B */
        "\xD0\x90lder Mill",      /* Cyrillic capital A, U+0410 */
        "Alder Mi\xE2\x80\xAEll", /* reading from right to left, U+202E */
        "ALDER M\xD0\x86LL",      /* Ukrainian capital I, U+0406 */
        "Alder M\xC4\xB1ll",      /* Turkish dotless i, U+0131 */
    };
    struct scene *s = with_first();
    struct tb_receive_outcome out;
    struct tb_receive_request r = { .path =
                                        scene_file(s, "next.csv",
                                                   "delivery note,date,article,bolt no,length m,composition\n"
                                                   "N-8,2026-03-14,Q12,C1,30,100% cotton\n") };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(alike); i++) {
        r.list.supplier = alike[i];
        REFUSED(s, tb_act_receive(&out, &s->actor, &r, &s->mem, &err), TB_EEXISTS, "looks like 'Alder Mill'");
        tb_receive_outcome_free(&out);
    }
    r.list.supplier = "\xC3\x81LDER  mill"; /* accents, case and spaces never told suppliers apart */
    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    tb_receive_outcome_free(&out);
    r.list.supplier = alike[1];
    r.path = scene_file(
        s, "more.csv",
        "delivery note,date,article,bolt no,length m,composition\nN-9,2026-03-14,Q12,D1,31,100% cotton\n");
    r.another = true;
    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    tb_receive_outcome_free(&out);
    r.list.supplier = "Elder Mill"; /* a letter that is another one to anybody's eye */
    r.another = false;
    r.path = scene_file(
        s, "last.csv",
        "delivery note,date,article,bolt no,length m,composition\nN-9,2026-03-14,Q12,E1,32,100% cotton\n");
    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    tb_receive_outcome_free(&out);
    scene_free(s);
}

/* The book has Harrow Mill; each name is tried alone, and nothing is stored. */
static void a_name_that_is_nearly_one_of_the_book_is_said_and_not_taken_for_it(void **state)
{
    static const struct {
        const char *name;
        bool near;
    } row[] = {
        { "Harrow Mill Ltd", true },    { "HARROW MILL, S.p.A.", true },   { "Harow Mill", true },
        { "Harrow Mill 3", false },     { "Harrow Mills Weavers", false }, { "Furrow Mills", false },
        { "Harrow Mill (Ltd.)", true },
    };
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_receive_request r = { .dry = true };
    struct tb_receive_outcome out;

    (void)state;
    r.path = scene_file(
        s, "near.csv",
        "delivery note,date,article,bolt no,length m,composition\nN-9,2026-03-14,Q12,F1,32,100% cotton\n");
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        r.list.supplier = row[i].name;
        OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
        if (row[i].near != (out.seen.near != NULL))
            fail_msg("%s: %s", row[i].name, out.seen.near ? out.seen.near : "nobody");
        if (out.seen.near)
            assert_string_equal(out.seen.near, "Harrow Mill");
        tb_receive_outcome_free(&out);
    }
    r.list.supplier = "Harow Mill";
    r.another = true; /* somebody said so */
    OK(tb_act_receive(&out, &s->actor, &r, &s->mem, &err));
    assert_null(out.seen.near);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void what_a_name_looks_like_is_told_without_what_is_not_seen(void **state)
{
    char *a = tb_looks("Ohm \xE2\x80\x8BWeavers", false), *b = tb_looks("ohm weavers", false),
         *none = tb_looks("", true);

    (void)state;
    assert_string_equal(a, b);
    assert_string_equal(none, "");
    free(a);
    free(b);
    free(none);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_same_note_in_other_bytes_is_shown_and_taken_only_with_a_reason),
        cmocka_unit_test(mostly_the_same_bolts_under_another_note_are_noticed),
        cmocka_unit_test(a_list_that_lost_its_zeros_is_noticed),
        cmocka_unit_test(nearly_the_same_lengths_are_noticed_where_numbers_name_a_bolt),
        cmocka_unit_test(the_same_bolts_under_nearly_the_name_of_a_supplier_are_noticed),
        cmocka_unit_test(the_same_numbers_with_other_lengths_or_of_others_are_another_delivery),
        cmocka_unit_test(a_void_delivery_is_no_twin_and_its_file_is_taken_in_anew),
        cmocka_unit_test(a_name_that_looks_the_same_is_noticed),
        cmocka_unit_test(a_name_that_is_nearly_one_of_the_book_is_said_and_not_taken_for_it),
        cmocka_unit_test(what_a_name_looks_like_is_told_without_what_is_not_seen),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
