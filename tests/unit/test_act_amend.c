/* The acts that put right what was written down beside the cloth: what counts after, each refusal. */
#include "unit/act_helper.h"

#include "tenterbook/concluded.h"

#include "tenterbook/act_amend.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/act_claim.h"
#include "tenterbook/dispute.h"
#include "tenterbook/draws.h"
#include "tenterbook/intake.h"

#define AMEND(code, words, ...)                                                                              \
    REFUSED(s, tb_act_amend(&out, &s->actor, &(struct tb_amend_request){ __VA_ARGS__ }, &s->mem, &err),      \
            code, words)

static void what_is_amended_counts_and_what_stood_there_is_kept(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_amend_outcome out;
    struct tb_amendment *list;
    struct tb_lot other;
    size_t n;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% silk", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_act_amend(&out, &s->actor,
                    &(struct tb_amend_request){ .delivery = s->delivery.ref,
                                                .why = "typed the day of the note",
                                                .arrived = "2026-10-02",
                                                .note = "N-4",
                                                .order = "O-5",
                                                .note_day = "2026-10-01",
                                                .remark = "two seals broken",
                                                .supplier = "Moor Mill" },
                    &s->mem, &err));
    assert_int_equal(out.amendments, 6);
    assert_int_equal(out.lots, 2);
    assert_string_equal(out.delivery.arrived, "2026-10-02");
    assert_string_equal(out.delivery.note, "N-4");
    assert_string_equal(out.delivery.order_no, "O-5");
    assert_string_equal(out.delivery.note_day, "2026-10-01");
    assert_string_equal(out.delivery.remark, "two seals broken");
    assert_string_equal(out.delivery.supplier_name, "Moor Mill");
    assert_string_equal(out.delivery.ref, s->delivery.ref);
    assert_string_equal(scene_lot(s).arrived, "2026-10-02");
    assert_string_equal(scene_lot(s).supplier_name, "Moor Mill");
    OK(tb_amendment_list(&list, &n, s->actor.book, other.id, &s->mem, &err));
    assert_int_equal(n, 6);
    assert_string_equal(list[0].field, "arrived");
    assert_string_equal(list[0].old, "2026-10-05");
    assert_string_equal(list[0].amended_by, "Ada Fell");
    OK(tb_act_amend(
        &out, &s->actor,
        &(struct tb_amend_request){ .delivery = s->delivery.ref, .why = "none was given", .note_day = "" },
        &s->mem, &err));
    assert_null(out.delivery.note_day);
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    scene_free(s);
}

/* 50 figures a bolt, 4 EUR a figure. Yards: 1 yd is 0.9144 m (international yard, 1959). */
static void yards_that_were_taken_for_metres_are_computed_anew(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *d = s->delivery.ref;
    struct tb_amend_outcome out;
    struct tb_bolt *bolt;
    size_t n;

    (void)state;
    AMEND(TB_EREFUSED, "come to 100.00 m so far; with its figures in yd they come to 91.44 m", .delivery = d,
          .why = "yards", .unit = "yd");
    AMEND(TB_EINVAL, "is so already", .delivery = d, .why = "metres", .unit = "m", .knowing = true);
    AMEND(TB_EINVAL, "is so already", .delivery = d, .why = "as read", .unit = "read");
    OK(tb_act_amend(
        &out, &s->actor,
        &(struct tb_amend_request){ .delivery = d, .why = "yards", .unit = "yd", .knowing = true }, &s->mem,
        &err));
    assert_true(out.unit && out.metres_was == 100 && fabs(out.metres - 91.44) < 1e-9);
    OK(tb_bolt_list(&bolt, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_true(fabs(bolt[0].metres - 45.72) < 1e-9);
    assert_true(fabs(scene_lot(s).metres - 91.44) < 1e-9);
    assert_true(fabs(scene_lot(s).unit_price * scene_lot(s).metres - 400) < 1e-9); /* 4 EUR a yard */
    AMEND(TB_EINVAL, "is so already", .delivery = d, .why = "again", .unit = "yd", .knowing = true);
    OK(tb_act_amend(&out, &s->actor,
                    &(struct tb_amend_request){ .delivery = d, .why = "they were not", .unit = "m" }, &s->mem,
                    &err));
    assert_true(scene_lot(s).metres == 100 && scene_lot(s).unit_price == 4);
    scene_free(s);
}

static void a_length_tells_the_unit_it_was_written_in(void **state)
{
    (void)state;
    assert_int_equal(tb_length_said_in(""), TB_UNIT_M);
    assert_int_equal(tb_length_said_in("50 yd"), TB_UNIT_YD);
    assert_int_equal(tb_length_said_in("1,050.5 Yards"), TB_UNIT_YD);
    assert_int_equal(tb_length_said_in("30+20 m"), TB_UNIT_M);
    assert_int_equal(tb_length_said_in("60 ft"), TB_UNIT_FT);
    assert_int_equal(tb_length_said_in("50"), TB_UNIT_NONE);
    assert_int_equal(tb_length_said_in("50 ells"), TB_UNIT_NONE);
    assert_int_equal(tb_length_said_in("yards"), TB_UNIT_NONE);
}

static void an_amendment_that_is_not_whole_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *d = s->delivery.ref;
    struct tb_amend_outcome out;

    (void)state;
    AMEND(TB_EINVAL, "say what is amended", .delivery = d, .why = "slip");
    AMEND(TB_EINVAL, "say why", .delivery = d, .note = "N-2");
    AMEND(TB_EINVAL, "say why", .delivery = d, .note = "N-2", .why = " ");
    AMEND(TB_ENOTFOUND, "there is no delivery", .delivery = "W99-001", .why = "slip", .note = "N-2");
    AMEND(TB_EINVAL, "is not a valid date", .delivery = d, .why = "slip", .arrived = "2026-02-30");
    AMEND(TB_EINVAL, "still to come", .delivery = d, .why = "slip", .arrived = "2099-01-01");
    AMEND(TB_EINVAL, "is not a valid date", .delivery = d, .why = "slip", .note_day = "soon");
    AMEND(TB_EINVAL, "is not a unit to amend", .delivery = d, .why = "slip", .unit = "ell");
    AMEND(TB_EINVAL, "has no name", .delivery = d, .why = "slip", .supplier = "");
    AMEND(TB_EINVAL, "is so already", .delivery = d, .why = "slip", .arrived = "2026-10-05");
    scene_free(s);
}

static void supplier(struct scene *s, const char *name)
{
    struct tb_supplier made;

    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&made, s->actor.book, name, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
}

static struct tb_same_outcome same(struct scene *s, const char *name, const char *as)
{
    struct tb_same_outcome out;

    OK(tb_act_same(&out, &s->actor,
                   &(struct tb_same_request){ .supplier = name, .same_as = as, .why = "letterhead" }, &s->mem,
                   &err));
    return out;
}

static void two_spellings_are_one_supplier_until_they_are_parted(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_supplier found;
    struct tb_supplier_tally *tally;
    struct tb_lot_result *lots = NULL;
    size_t n;

    (void)state;
    supplier(s, "Harrow Mill Ltd");
    supplier(s, "The Harrow Mill");
    (void)same(s, "Harrow Mill", "Harrow Mill Ltd");
    assert_int_equal(same(s, "Harrow Mill Ltd", "The Harrow Mill").names,
                     3); /* who was the same goes along */
    assert_string_equal(scene_lot(s).supplier_name, "The Harrow Mill");
    OK(tb_supplier_find(&found, s->actor.book, "HARROW MILL", &s->mem, &err));
    assert_string_equal(found.name, "The Harrow Mill");
    OK(tb_supplier_tallies(&tally, &n, s->actor.book, &s->mem, &err));
    assert_int_equal(n, 1);
    OK(tb_supplier_lots(&lots, &n, s->actor.book, tally[0].supplier, &s->mem, &err));
    assert_int_equal(n, 1);
    (void)same(s, "Harrow Mill", NULL);
    assert_string_equal(scene_lot(s).supplier_name, "Harrow Mill");
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    scene_free(s);
}

static void what_is_one_already_or_nobody_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_same_outcome out;

    (void)state;
    supplier(s, "Moor Mill");
#define SAME(code, words, ...)                                                                               \
    REFUSED(s, tb_act_same(&out, &s->actor, &(struct tb_same_request){ __VA_ARGS__ }, &s->mem, &err), code,  \
            words)
    SAME(TB_EINVAL, "say how it is known", .supplier = "Moor Mill", .same_as = "Harrow Mill");
    SAME(TB_ENOTFOUND, "no supplier is called 'Fen Mill'", .supplier = "Fen Mill", .same_as = "Moor Mill",
         .why = "slip");
    SAME(TB_ENOTFOUND, "no supplier is called 'Fen Mill'", .supplier = "Moor Mill", .same_as = "Fen Mill",
         .why = "slip");
    SAME(TB_EINVAL, "both are the same name", .supplier = "Moor Mill", .same_as = "moor mill", .why = "slip");
    SAME(TB_EREFUSED, "is on its own", .supplier = "Moor Mill", .why = "slip");
    (void)same(s, "Moor Mill", "Harrow Mill");
    SAME(TB_EREFUSED, "is the same as Harrow Mill already", .supplier = "Moor Mill", .same_as = "Harrow Mill",
         .why = "slip");
    SAME(TB_EINVAL, "both are the same name", .supplier = "Harrow Mill", .same_as = "Moor Mill",
         .why = "slip");
    SAME(TB_EREFUSED, "Harrow Mill is on its own, and the same as it are: Moor Mill; part one of those",
         .supplier = "Harrow Mill", .why = "the wrong way round");
    scene_free(s);
}

/* The words are those that receive writes by itself. */
static void that_goods_came_unexamined_stays_whatever_else_is_remarked(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_amend_request r = { .delivery = s->delivery.ref,
                                  .why = "seen later",
                                  .remark = "received unexamined" };
    struct tb_amend_outcome out;

    (void)state;
    OK(tb_act_amend(&out, &s->actor, &r, &s->mem, &err));
    r.remark = "one bolt wet";
    OK(tb_act_amend(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.delivery.remark, "received unexamined; one bolt wet");
    assert_string_equal(out.amendment[0].old, "received unexamined");
    r.remark = "two bolts wet";
    OK(tb_act_amend(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.delivery.remark, "received unexamined; two bolts wet");
    r.remark = "examined on arrival";
    OK(tb_act_amend(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.delivery.remark, "examined on arrival");
    scene_free(s);
}

/* 2 bolts of 50 figures: in yards 45.72 m each (1 yd is 0.9144 m). */
static void a_unit_by_which_more_was_cut_off_than_there_is_is_asked_about(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_amend_outcome out;
    struct tb_use_outcome used;

    (void)state;
    OK(tb_act_use(&used, &s->actor,
                  &(struct tb_use_request){ .bolt = (const char *const[]){ "B2" },
                                            .bolts = 1,
                                            .metres = 46,
                                            .why = "sample",
                                            .anyway = true },
                  &s->mem, &err));
    AMEND(TB_EREFUSED, "bolt B2 of lot W26-001.01 has 45.72 m then, and 46.00 m were cut off it",
          .delivery = s->delivery.ref, .why = "yards", .unit = "yd");
    OK(tb_act_amend(&out, &s->actor,
                    &(struct tb_amend_request){
                        .delivery = s->delivery.ref, .why = "yards", .unit = "yd", .knowing = true },
                    &s->mem, &err));
    assert_non_null(strstr(out.odds, "46.00 m were cut off it"));
    OK(tb_act_amend(
        &out, &s->actor,
        &(struct tb_amend_request){ .delivery = s->delivery.ref, .why = "no yards", .unit = "read" }, &s->mem,
        &err));
    assert_null(out.odds);
    scene_free(s);
}

static void a_day_of_arrival_after_a_cut_is_asked_about(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_amend_request r = { .delivery = s->delivery.ref,
                                  .why = "typed wrong",
                                  .arrived = "2026-10-08" };
    struct tb_amend_outcome out;
    struct tb_cut_outcome cut;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .cut_at = "2026-10-07T08:00:00Z" },
                  &s->mem, &err));
    AMEND(TB_EREFUSED,
          "was cut at 2026-10-07T08:00:00Z, and delivery W26-001 would have arrived only on 2026-10-08",
          .delivery = s->delivery.ref, .why = "typed wrong", .arrived = "2026-10-08");
    r.arrived = "2026-10-07"; /* that day is no contradiction */
    OK(tb_act_amend(&out, &s->actor, &r, &s->mem, &err));
    assert_null(out.odds);
    r.arrived = "2026-10-08";
    r.knowing = true;
    OK(tb_act_amend(&out, &s->actor, &r, &s->mem, &err));
    assert_non_null(strstr(out.odds, "before the goods came"));
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_unit_by_which_more_was_cut_off_than_there_is_is_asked_about),
        cmocka_unit_test(a_day_of_arrival_after_a_cut_is_asked_about),
        cmocka_unit_test(that_goods_came_unexamined_stays_whatever_else_is_remarked),
        cmocka_unit_test(what_is_amended_counts_and_what_stood_there_is_kept),
        cmocka_unit_test(yards_that_were_taken_for_metres_are_computed_anew),
        cmocka_unit_test(a_length_tells_the_unit_it_was_written_in),
        cmocka_unit_test(an_amendment_that_is_not_whole_is_refused),
        cmocka_unit_test(two_spellings_are_one_supplier_until_they_are_parted),
        cmocka_unit_test(what_is_one_already_or_nobody_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
