/* What is left to do: what counts as done, in which order it is told, and what is refused. */
#include "unit/bench_helper.h"

#include "tenterbook/act_draw.h"
#include "tenterbook/act_void.h"
#include "tenterbook/todo.h"

static struct tb_todo todo;

#define TODO(...)                                                                                            \
    tb_todo_read(&todo, s->actor.book, &(struct tb_todo_request){ .today = "2026-11-26", __VA_ARGS__ },      \
                 &s->mem, &err)

static const struct tb_todo_item *only(enum tb_todo_kind kind)
{
    assert_int_equal(todo.of[kind], 1);
    for (size_t i = 0; i < todo.n; i++)
        if (todo.item[i].kind == kind)
            return &todo.item[i];
    fail_msg("there is no item of kind %d", (int)kind);
    return NULL;
}

static void burn(struct scene *s, const char *tag, const char *cues)
{
    struct tb_burn_outcome out = burn_one(s, tag, cues);

    tb_rejudged_free(&out.judged);
}

static void drawn_bolts_are_left_until_they_are_cut_and_swatches_until_they_are_burned(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *name[] = { s->lot.ref };
    struct tb_draw_outcome draw;
    const char *tag;

    (void)state;
    OK(TODO());
    assert_int_equal(todo.n, 1); /* nothing is drawn yet */
    assert_int_equal(only(TB_TODO_UNDRAWN)->among, 3);
    OK(tb_act_draw(&draw, &s->actor,
                   &(struct tb_draw_request){ .name = name, .names = 1, .want = { .kind = TB_PLAN_EVERY } },
                   &s->mem, &err));
    OK(TODO());
    assert_string_equal(only(TB_TODO_UNCUT)->what, "B1, B2, B3");
    tag = cut_one(s, "B2", TB_PART_WHOLE);
    OK(TODO());
    assert_string_equal(only(TB_TODO_UNCUT)->what, "B1, B3");
    assert_int_equal(only(TB_TODO_UNCUT)->pieces, 2);
    assert_int_equal(only(TB_TODO_UNCUT)->among, 3);
    assert_string_equal(only(TB_TODO_UNCUT)->who, "Ada Fell");
    assert_string_equal(only(TB_TODO_UNBURNT)->what, tag);
    assert_string_equal(only(TB_TODO_UNBURNT)->bolt, "B2");
    burn(s, tag, AS_COTTON);
    OK(TODO());
    assert_int_equal(todo.of[TB_TODO_UNBURNT], 0);
    scene_free(s);
}

/* It holds nothing and asks for a test, so it stands by itself, before what is merely undecided. */
static void a_lot_that_speaks_against_its_words_has_a_place_of_its_own(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);

    (void)state;
    burn(s, cut_one(s, "B1", TB_PART_WHOLE), "odour:burning_hair");
    assert_int_equal(scene_lot(s).verdict, TB_UNDECIDED);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    OK(TODO());
    assert_int_equal(todo.n, 1);
    assert_int_equal(todo.of[TB_TODO_UNDECIDED], 0);
    assert_true(strlen(only(TB_TODO_SPEAKS)->next) > 0);
    assert_int_equal(only(TB_TODO_SPEAKS)->pieces, 1);
    scene_free(s);
}

/* One cue decides nothing: the lot stays undecided, and its verdict names the next test. */
static void a_lot_that_is_undecided_names_its_next_test_and_a_held_one_what_confirms(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);

    (void)state;
    burn(s, cut_one(s, "B1", TB_PART_WHOLE), "in_flame:burns");
    assert_int_equal(scene_lot(s).verdict, TB_UNDECIDED);
    OK(TODO());
    assert_int_equal(todo.n, 1);
    assert_int_equal(todo.of[TB_TODO_SPEAKS], 0);
    assert_true(strlen(only(TB_TODO_UNDECIDED)->next) > 0);
    assert_string_equal(only(TB_TODO_UNDECIDED)->what, "");
    burn(s, cut_one(s, "B2", TB_PART_WHOLE), AS_POLYESTER);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    OK(TODO());
    assert_int_equal(todo.of[TB_TODO_UNDECIDED], 0);
    assert_true(strlen(only(TB_TODO_HELD)->next) > 0);
    assert_int_equal(only(TB_TODO_HELD)->pieces, 2);
    assert_string_equal(only(TB_TODO_CLAIM)->what,
                        "tell"); /* no term is set: it may be late, nobody can say */
    assert_string_equal(only(TB_TODO_CLAIM)->due, "");
    scene_free(s);
}

static void what_is_settled_or_void_is_not_left_to_do(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_settle_outcome settled;
    struct tb_void_outcome gone;
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *other = cut_one(s, "B2", TB_PART_WHOLE);

    (void)state;
    OK(tb_act_void(&gone, &s->actor, &(struct tb_void_request){ .name = tag, .why = "a slip" }, &s->mem,
                   &err));
    tb_rejudged_free(&gone.lot.judged);
    OK(TODO());
    assert_string_equal(only(TB_TODO_UNBURNT)->what, other);
    OK(tb_act_settle(&settled, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "enough" },
                     &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    OK(TODO());
    assert_int_equal(todo.n, 0);
    scene_free(s);
}

static void a_bolt_that_is_held_by_itself_is_told_until_it_is_settled(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *bolt[] = { "B2" };
    struct tb_settle_bolts_request r = {
        .lot = s->lot.ref, .bolt = bolt, .bolts = 1, .as = TB_HELD, .why = "a stain"
    };
    struct tb_settle_bolts_outcome out;

    (void)state;
    OK(tb_act_settle_bolts(&out, &s->actor, &r, &s->mem, &err));
    OK(TODO());
    assert_string_equal(only(TB_TODO_HELD_BOLT)->bolt, "B2");
    assert_string_equal(only(TB_TODO_HELD_BOLT)->what, "a stain");
    assert_string_equal(only(TB_TODO_HELD_BOLT)->lot, s->lot.ref);
    assert_int_equal(todo.of[TB_TODO_HELD], 0);
    r.as = TB_RELEASED;
    OK(tb_act_settle_bolts(&out, &s->actor, &r, &s->mem, &err));
    OK(TODO());
    assert_int_equal(todo.of[TB_TODO_HELD_BOLT], 0);
    scene_free(s);
}

static void a_swatch_cut_from_a_lot_that_is_settled_is_left_and_one_cut_before_is_not(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_settle_outcome settled;
    struct tb_actor wren = s->actor;
    const char *after;

    (void)state;
    wren.who = "Wren Dale";
    (void)cut_one(s, "B1", TB_PART_WHOLE);
    OK(tb_act_settle(&settled, &wren,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "needed" },
                     &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    OK(TODO());
    assert_int_equal(todo.n, 0);
    after = cut_one(s, "B2", TB_PART_WHOLE);
    OK(TODO());
    assert_string_equal(only(TB_TODO_UNBURNT)->what, after);
    assert_false(todo.part);
    OK(TODO(.person = "Wren Dale"));
    assert_int_equal(todo.n, 0);
    assert_true(todo.part);
    OK(TODO(.person = "wren dale"));
    assert_int_equal(TODO(.person = "wren dal"), TB_ENOTFOUND);
    assert_string_equal(err.msg, "nobody called wren dal wrote in this book; did you mean Wren Dale?");
    scene_free(s);
}

static void words_in_doubt_are_asked_before_anything_is_drawn(void **state)
{
    struct scene *s = scene_make("Bamboo", 3);

    (void)state;
    OK(TODO());
    assert_int_equal(todo.n, 1);
    assert_string_equal(only(TB_TODO_WORDS)->what, "Bamboo");
    assert_string_equal(only(TB_TODO_WORDS)->who, "Ada Fell");
    scene_free(s);
}

static void a_lot_that_fits_waits_for_a_decision(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_settle_outcome settled;

    (void)state;
    burn(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    OK(TODO());
    assert_int_equal(todo.n, 1);
    assert_string_equal(only(TB_TODO_UNSETTLED)->what, "fits");
    assert_int_equal(only(TB_TODO_UNSETTLED)->pieces, 1);
    OK(tb_act_settle(&settled, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "fits" },
                     &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    OK(TODO());
    assert_int_equal(todo.n, 0);
    scene_free(s);
}

static void a_person_and_a_day_narrow_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_actor wren = { s->actor.book, "Wren Dale" };
    struct tb_cut_outcome cut;

    (void)state;
    (void)cut_one(s, "B1", TB_PART_WHOLE);
    OK(tb_act_cut(&cut, &wren, &(struct tb_cut_request){ .bolt = "B2", .cut_at = "2026-11-20T08:00:00Z" },
                  &s->mem, &err));
    OK(TODO());
    assert_int_equal(todo.n, 2);
    assert_string_equal(todo.item[0].who, "Wren Dale"); /* it waits longest */
    OK(TODO(.person = "Ada Fell"));
    assert_string_equal(only(TB_TODO_UNBURNT)->bolt, "B1");
    OK(TODO(.day = "2026-11-20"));
    assert_string_equal(only(TB_TODO_UNBURNT)->bolt, "B2");
    OK(TODO(.person = "Ada Fell", .day = "2026-11-20"));
    assert_int_equal(todo.n, 0);
    scene_free(s);
}

static void a_day_that_is_not_valid_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);

    (void)state;
    REFUSED(
        s,
        tb_todo_read(&todo, s->actor.book, &(struct tb_todo_request){ .today = "2026-13-01" }, &s->mem, &err),
        TB_EINVAL, "'2026-13-01' is not a valid date");
    scene_free(s);
}

/* docs/mistakes.md: what a person decided stays, and has to be looked at again. */
static void a_decision_whose_ground_is_void_is_to_be_taken_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome burned =
        burn_one(s, tag, "approach:shrinks_away residue_form:hard_bead odour:sweet");
    struct tb_settle_outcome settled = { 0 };
    struct tb_void_outcome gone = { 0 };
    struct tb_todo_row ground;
    const struct tb_settle_request back = { .lot = s->lot.ref, .as = TB_RETURNED, .why = "it is not cotton" };

    (void)state;
    OK(tb_act_settle(&settled, &s->actor, &back, &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    OK(TODO());
    assert_int_equal(todo.of[TB_TODO_GROUND], 0);
    assert_int_equal(tb_ground_gone(&ground, s->actor.book, s->lot.ref, &s->mem, &err), TB_ENOTFOUND);
    OK(tb_act_void(&gone, &s->actor,
                   &(struct tb_void_request){ .name = burned.burn.id, .why = "another swatch" }, &s->mem,
                   &err));
    tb_rejudged_free(&gone.lot.judged);
    OK(TODO());
    assert_string_equal(only(TB_TODO_GROUND)->what, "returned");
    assert_string_equal(only(TB_TODO_GROUND)->who, "Ada Fell");
    OK(tb_ground_gone(&ground, s->actor.book, s->lot.ref, &s->mem, &err));
    assert_string_equal(ground.lot, s->lot.ref);
    /* decided again with that known, it stands */
    settled = (struct tb_settle_outcome){ 0 };
    OK(tb_act_settle(&settled, &s->actor, &back, &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    OK(TODO());
    assert_int_equal(todo.of[TB_TODO_GROUND], 0);
    tb_rejudged_free(&burned.judged);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decision_whose_ground_is_void_is_to_be_taken_again),
        cmocka_unit_test(drawn_bolts_are_left_until_they_are_cut_and_swatches_until_they_are_burned),
        cmocka_unit_test(a_lot_that_speaks_against_its_words_has_a_place_of_its_own),
        cmocka_unit_test(a_lot_that_is_undecided_names_its_next_test_and_a_held_one_what_confirms),
        cmocka_unit_test(what_is_settled_or_void_is_not_left_to_do),
        cmocka_unit_test(a_bolt_that_is_held_by_itself_is_told_until_it_is_settled),
        cmocka_unit_test(a_swatch_cut_from_a_lot_that_is_settled_is_left_and_one_cut_before_is_not),
        cmocka_unit_test(words_in_doubt_are_asked_before_anything_is_drawn),
        cmocka_unit_test(a_lot_that_fits_waits_for_a_decision),
        cmocka_unit_test(a_person_and_a_day_narrow_it),
        cmocka_unit_test(a_day_that_is_not_valid_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
