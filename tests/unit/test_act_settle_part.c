/* The acts of settling several lots at once, and single bolts of one: a lot that is released in part, held again, cut into. */
#include "unit/bench_helper.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/act_void.h"

#define LOTS(out, ...)                                                                                       \
    tb_act_settle_lots(out, &s->actor, &(struct tb_settle_lots_request){ __VA_ARGS__ }, &s->mem, &err)
#define BOLTS(out, ...)                                                                                      \
    tb_act_settle_bolts(out, &s->actor, &(struct tb_settle_bolts_request){ __VA_ARGS__ }, &s->mem, &err)

static const char *const first[] = { "B1", "B2" }, *const rest[] = { "B3" }, *const twice[] = { "B1", "B1" },
                         *const with_zero[] = { "B1", "0B1" }, *const nowhere[] = { "B1", "B9" };

/* A list counts in SQL what a lot alone is told by C: they say the same. */
static tb_rc is_listed_so(void *arg, const struct tb_lot *listed, struct tb_err *e)
{
    const struct tb_lot *found = arg;

    (void)e;
    if (strcmp(listed->id, found->id) != 0)
        return TB_OK;
    assert_int_equal(listed->standing, found->standing);
    assert_int_equal(listed->released_in_part, found->released_in_part);
    assert_int_equal(listed->returned_in_part, found->returned_in_part);
    assert_int_equal(listed->held_in_part, found->held_in_part);
    return TB_OK;
}

static struct tb_lot lot_now(struct scene *s)
{
    struct tb_lot lot = scene_lot(s);

    OK(tb_lot_each(s->actor.book, NULL, is_listed_so, &lot, &err));
    return lot;
}

static struct tb_lot another_lot(struct scene *s)
{
    struct tb_lot lot;

    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &lot, 2, "100% wool", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    return lot;
}

static void use(struct scene *s, const char *bolt, tb_rc code)
{
    struct tb_use_outcome out;
    struct tb_use_request r = { .bolt = &bolt, .bolts = 1, .metres = (double)NAN };

    if (code == TB_OK)
        OK(tb_act_use(&out, &s->actor, &r, &s->mem, &err));
    else
        REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), code, "it is held");
}

static void a_delivery_is_settled_in_one_row_of_the_journal(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *name[] = { s->delivery.ref };
    struct tb_settle_lots_outcome out;
    struct tb_lot other = another_lot(s), now;
    int64_t head = scene_head(s);

    (void)state;
    OK(LOTS(&out, .name = name, .names = 1, .as = TB_RELEASED, .why = "all fit"));
    assert_int_equal(scene_head(s), head + 1);
    assert_int_equal(out.n, 2);
    assert_int_equal(lot_now(s).standing, TB_RELEASED);
    OK(tb_lot_find(&now, s->actor.book, other.ref, &s->mem, &err));
    assert_int_equal(now.standing, TB_RELEASED);
    assert_int_equal(now.released_in_part, 0);
    scene_free(s);
}

static void several_lots_are_settled_together_or_not_at_all(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_lot other = another_lot(s);
    const char *both[] = { s->lot.ref, other.ref }, *again[] = { s->lot.ref, s->lot.ref },
               *bolt[] = { other.ref, "B1" }, *none[] = { s->lot.ref, "W99" };
    struct tb_settle_lots_outcome out;
    struct tb_settle_outcome one;

    (void)state;
    OK(tb_act_settle(&one, &s->actor,
                     &(struct tb_settle_request){ .lot = other.ref, .as = TB_RETURNED, .why = "false" },
                     &s->mem, &err));
    REFUSED(s, LOTS(&out, .name = both, .names = 2, .as = TB_RELEASED, .why = "slip"), TB_EREFUSED,
            other.ref);
    assert_int_equal(lot_now(s).standing, TB_WAITING);
    REFUSED(s, LOTS(&out, .name = again, .names = 2, .as = TB_HELD, .why = "slip"), TB_EEXISTS,
            "is named twice");
    REFUSED(s, LOTS(&out, .name = bolt, .names = 2, .as = TB_HELD, .why = "slip"), TB_EINVAL,
            "B1 is a bolt of lot");
    REFUSED(s, LOTS(&out, .name = none, .names = 2, .as = TB_HELD, .why = "slip"), TB_ENOTFOUND, "W99");
    REFUSED(s, LOTS(&out, .name = both, .names = 1, .as = TB_RELABELLED, .why = "slip"), TB_EINVAL,
            "one lot at a time");
    REFUSED(s, LOTS(&out, .name = both, .names = 1, .as = TB_HELD, .why = ""), TB_EINVAL, "needs its reason");
    REFUSED(s, LOTS(&out, .names = 0, .as = TB_HELD, .why = "slip"), TB_EINVAL, "name the lots");
    scene_free(s);
}

static void a_lot_is_released_in_part_until_the_last_of_its_bolts_is(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_settle_bolts_outcome out;
    struct tb_bolt_standing *single;
    struct tb_proof proof;
    size_t n = 0;

    (void)state;
    OK(BOLTS(&out, .lot = s->lot.ref, .bolt = first, .bolts = 2, .as = TB_RELEASED, .why = "both tested"));
    assert_false(out.whole);
    assert_int_equal(out.lot.released_in_part, 2);
    assert_int_equal(lot_now(s).released_in_part, 2);
    assert_int_equal(out.lot.standing, TB_WAITING);
    OK(tb_bolt_standing_list(&single, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_string_equal(single[0].number, "B1");
    assert_string_equal(single[0].settled_by, "Ada Fell");
    assert_true(single[0].counts);
    OK(BOLTS(&out, .bolt = rest, .bolts = 1, .as = TB_RELEASED, .why = "tested too"));
    assert_true(out.whole);
    assert_int_equal(out.lot.standing, TB_RELEASED);
    assert_int_equal(out.lot.released_in_part, 0);
    OK(tb_bolt_standing_list(&single, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_false(single[0].counts); /* the decision about the whole lot came later */
    OK(tb_book_prove(&proof, s->actor.book, &err));
    assert_int_equal(proof.first_bad, 0);
    assert_string_equal(proof.why, "");
    scene_free(s);
}

static void a_bolt_that_is_held_is_not_cut_and_one_that_is_released_is(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_settle_outcome whole;
    struct tb_settle_bolts_outcome out;

    (void)state;
    OK(tb_act_settle(&whole, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_HELD, .why = "doubt" }, &s->mem,
                     &err));
    use(s, "B1", TB_EREFUSED);
    OK(BOLTS(&out, .bolt = first, .bolts = 2, .as = TB_RELEASED, .why = "both tested"));
    use(s, "B1", TB_OK);
    use(s, "B3", TB_EREFUSED);
    OK(tb_act_settle(&whole, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "fits" },
                     &s->mem, &err));
    OK(BOLTS(&out, .bolt = rest, .bolts = 1, .as = TB_HELD, .why = "a stain"));
    assert_int_equal(out.lot.released_in_part, 2);
    assert_int_equal(lot_now(s).released_in_part, 2);
    use(s, "B3", TB_EREFUSED);
    use(s, "B2", TB_OK);
    scene_free(s);
}

/* The bolts were released by what was known then: a later burn against the words holds them too, and the same verdict again does not. */
static void new_evidence_against_the_words_holds_the_bolts_that_were_released(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_settle_bolts_outcome out;
    struct tb_burn_outcome burn = burn_one(s, cut_one(s, "B3", TB_PART_WHOLE), AS_POLYESTER);

    (void)state;
    tb_rejudged_free(&burn.judged);
    assert_int_equal(lot_now(s).standing, TB_HELD);
    OK(BOLTS(&out, .bolt = first, .bolts = 2, .as = TB_RELEASED, .why = "by hand"));
    assert_int_equal(lot_now(s).released_in_part, 2);
    burn = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER);
    assert_true(burn.judged.held);
    assert_int_equal(burn.judged.before.standing, TB_RELEASED);
    tb_rejudged_free(&burn.judged);
    assert_int_equal(lot_now(s).released_in_part, 0);
    assert_int_equal(lot_now(s).standing, TB_HELD);
    scene_free(s);
}

/* Whoever holds a bolt of a lot that is held already does not hold the lot: its own hold may go. */
static void a_bolt_of_a_held_lot_is_held_by_itself(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_burn_outcome burn = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER);
    struct tb_settle_bolts_outcome out;
    struct tb_void_outcome gone;

    (void)state;
    tb_rejudged_free(&burn.judged);
    OK(BOLTS(&out, .bolt = rest, .bolts = 1, .as = TB_HELD, .why = "a stain"));
    assert_false(out.whole);
    assert_int_equal(lot_now(s).standing, TB_HELD);
    assert_int_equal(lot_now(s).held_in_part, 0);
    OK(tb_act_void(&gone, &s->actor,
                   &(struct tb_void_request){ .name = burn.burn.id, .why = "another cloth", .knowing = true },
                   &s->mem, &err));
    assert_true(gone.lot.judged.lifted);
    assert_int_equal(lot_now(s).standing, TB_WAITING);
    assert_int_equal(lot_now(s).held_in_part, 1);
    scene_free(s);
}

static void bolts_that_cannot_be_settled_are_named(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_settle_bolts_outcome out;

    (void)state;
    REFUSED(s, BOLTS(&out, .bolt = first, .bolts = 0, .as = TB_HELD, .why = "slip"), TB_EINVAL,
            "name the bolts");
    REFUSED(s, BOLTS(&out, .bolt = twice, .bolts = 2, .as = TB_HELD, .why = "slip"), TB_EINVAL,
            "bolt B1 is named twice");
    REFUSED(s, BOLTS(&out, .bolt = with_zero, .bolts = 2, .as = TB_HELD, .why = "slip"), TB_EINVAL,
            "bolt 0B1 is named twice");
    REFUSED(s, BOLTS(&out, .bolt = nowhere, .bolts = 2, .as = TB_HELD, .why = "slip"), TB_ENOTFOUND, "B9");
    REFUSED(s, BOLTS(&out, .bolt = first, .bolts = 2, .as = TB_WAITING, .why = "slip"), TB_EINVAL,
            "waiting as a whole");
    REFUSED(s, BOLTS(&out, .bolt = first, .bolts = 2, .as = TB_HELD), TB_EINVAL, "needs its reason");
    OK(BOLTS(&out, .bolt = first, .bolts = 2, .as = TB_RETURNED, .why = "wrong shade"));
    assert_int_equal(out.lot.returned_in_part, 2);
    assert_int_equal(lot_now(s).returned_in_part, 2);
    REFUSED(s, BOLTS(&out, .bolt = first, .bolts = 1, .as = TB_RELEASED, .why = "slip"), TB_EREFUSED,
            "bolt B1 of lot");
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bolt_of_a_held_lot_is_held_by_itself),
        cmocka_unit_test(a_delivery_is_settled_in_one_row_of_the_journal),
        cmocka_unit_test(several_lots_are_settled_together_or_not_at_all),
        cmocka_unit_test(a_lot_is_released_in_part_until_the_last_of_its_bolts_is),
        cmocka_unit_test(a_bolt_that_is_held_is_not_cut_and_one_that_is_released_is),
        cmocka_unit_test(new_evidence_against_the_words_holds_the_bolts_that_were_released),
        cmocka_unit_test(bolts_that_cannot_be_settled_are_named),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
