/* Drills: cards dealt blind, answered as burns, and how the answers score testers. */
#include "unit/at_once.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/act_drill.h"

/* Known cloths in the order they are cut, whose tags are in the same order. */
static void add_known(struct scene *s, const char *const *known, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct tb_cut_outcome cut;

        OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = known[i] }, &s->mem, &err));
    }
}

static const char *const cloths[] = { "100% cotton", "100% wool", "100% polyester", "100% silk" };

static struct scene *with_known_cloth(void)
{
    struct scene *s = scene_make("100% cotton", 1);

    add_known(s, cloths, TB_COUNT(cloths));
    return s;
}

static void deal(struct scene *s, const char *to, size_t count, const char *seed)
{
    struct tb_drill_outcome out;

    OK(tb_act_drill(&out, &s->actor, &(struct tb_drill_request){ to, count, seed }, &s->mem, &err));
}

/* A card answered by a person with one cue seen and another channel looked at. */
static tb_rc answer_as(struct tb_answer_outcome *out, struct scene *s, const char *who, const char *card,
                       const char *named, const char *saw)
{
    struct tb_actor actor = { s->actor.book, who };
    struct tb_observation seen = { 0 };

    OK(tb_observation_read(&seen, saw, NULL, "smoke", &err));
    return tb_act_answer(out, &actor, &(struct tb_answer_request){ card, named, &seen, "candle" }, &s->mem,
                         &err);
}

static void cards_are_dealt_in_the_order_of_the_seed(void **state)
{
    struct scene *s = with_known_cloth();
    struct tb_drill_request r = { "Wren Dale", 6, "abc" };
    struct tb_drill_outcome out;
    struct tb_swatch *known = NULL;
    struct tb_card *card = NULL;
    size_t n = 0, order[6];
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_drill(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(scene_head(s), head + 1);
    assert_int_equal(out.drill, 1);
    assert_int_equal(out.n, 6);
    assert_string_equal(out.seed, "abc");
    OK(tb_swatch_list(&known, &n, s->actor.book, NULL, &s->mem, &err));
    OK(tb_shuffle(order, 6, 4, "abc", &err));
    OK(tb_card_list(&card, &n, s->actor.book, &s->mem, &err));
    assert_int_equal(n, 6);
    for (size_t i = 0; i < 6; i++) {
        assert_string_equal(out.tag[i], known[order[i]].tag);
        assert_string_equal(card[i].tag, out.tag[i]);
        assert_string_equal(card[i].tester, "Wren Dale");
        assert_int_equal(card[i].serial, i + 1);
        assert_null(card[i].answer);
    }
    r = (struct tb_drill_request){ .to = "Wren Dale" };
    OK(tb_act_drill(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.drill, 2);
    assert_int_equal(out.n, 10);
    assert_int_equal(strlen(out.seed), 16);
    scene_free(s);
}

static void what_cannot_be_dealt_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_drill_outcome out;

    (void)state;
#define DEAL(actor, words, ...)                                                                              \
    REFUSED(s, tb_act_drill(&out, actor, &(struct tb_drill_request){ __VA_ARGS__ }, &s->mem, &err),          \
            TB_EINVAL, words)
    DEAL(&s->actor, "there are no known cloths to deal from", .to = "Wren");
    add_known(s, cloths, 2);
    DEAL(&s->actor, "say whom the swatches are for", .to = "");
    DEAL(&s->actor, "say whom the swatches are for", .to = NULL);
    DEAL(&s->actor, "201 cards are more than one drill takes", .to = "Wren", .count = 201);
    DEAL(&s->actor, "letters, digits and signs", .to = "Wren", .seed = "a b");
    DEAL(&nobody, "say who is writing", .to = "Wren");
    scene_free(s);
}

static tb_rc deal_one(struct at_once *out, const struct tb_actor *actor, int i, struct tb_arena *mem,
                      struct tb_err *error)
{
    struct tb_drill_outcome o;
    tb_rc rc = tb_act_drill(&o, actor, &(struct tb_drill_request){ .to = "Wren", .count = 2 }, mem, error);

    (void)i;
    out->number = o.drill;
    return rc;
}

static void no_number_of_a_drill_is_given_twice(void **state)
{
    enum { N = 8 };
    struct scene *s = with_known_cloth();
    struct at_once got[N];
    bool given[N + 1] = { false };

    (void)state;
    at_once(got, s, N, "Ada Fell", deal_one);
    for (int i = 0; i < N; i++) {
        if (got[i].rc != TB_OK)
            fail_msg("%s", got[i].why);
        assert_in_range(got[i].number, 1, N);
        assert_false(given[got[i].number]);
        given[got[i].number] = true;
    }
    scene_free(s);
}

static void an_answer_is_a_burn_and_tells_the_truth(void **state)
{
    struct scene *s = with_known_cloth();
    struct tb_answer_outcome out;
    struct tb_card card;
    struct tb_burn burn;
    int64_t head;

    (void)state;
    deal(s, "Wren Dale", 4, "abc"); /* 0, ... by the seed; which cloth a card is stands in the book */
    head = scene_head(s);
    OK(answer_as(&out, s, "Wren Dale", "1-03", "wool", "odour:burning_hair"));
    assert_int_equal(scene_head(s), head + 1);
    assert_string_equal(out.answer, "protein"); /* a fibre stands for its class */
    assert_string_equal(out.truth, tb_drill_class_of(out.card.known));
    assert_int_equal(out.right, strcmp(out.truth, "protein") == 0);
    OK(tb_card_find(&card, s->actor.book, 1, 3, &s->mem, &err));
    assert_string_equal(card.answer, "protein");
    OK(tb_burn_find(&burn, s->actor.book, card.burn, &s->mem, &err));
    assert_string_equal(burn.id, out.burn.id);
    assert_string_equal(burn.burned_by, "Wren Dale");
    assert_string_equal(burn.tag, card.tag);
    assert_string_equal(burn.flame, "candle");
    assert_int_equal(burn.cues, 1);
    assert_string_equal(burn.cue[0].cue, "odour:burning_hair");
    scene_free(s);
}

static void what_is_no_answer_is_refused_and_leaves_nothing(void **state)
{
    static const char *const names[] = { "",     "1",    "1x",   "1-",    "-1",    "1- 1",
                                         "1--1", "+1-1", "1-1 ", "1-0x1", "1-1-1", "1-99999999999" };
    struct scene *s = with_known_cloth();
    struct tb_answer_outcome out;
    struct tb_observation nothing = { 0 }, solvent = { 0 };
    struct tb_actor wren = { s->actor.book, "Wren" };

    (void)state;
    deal(s, "Wren", 3, "abc");
    for (size_t i = 0; i < TB_COUNT(names); i++)
        REFUSED(s, answer_as(&out, s, "Wren", names[i], "protein", "odour:burning_hair"), TB_EINVAL,
                "cards are called like 3-07");
    REFUSED(s, answer_as(&out, s, "Wren", "999999999-1", "protein", "odour:burning_hair"), TB_ENOTFOUND,
            "no card 999999999-01 was ever dealt");
    REFUSED(s, answer_as(&out, s, "Wren", "1-04", "protein", "odour:burning_hair"), TB_ENOTFOUND,
            "no card 1-04 was ever dealt");
    REFUSED(s, answer_as(&out, s, "Ada Fell", "1-01", "protein", "odour:burning_hair"), TB_EREFUSED,
            "card 1-01 was dealt to Wren");
    REFUSED(s, answer_as(&out, s, "Wren", "1-01", "felt", "odour:burning_hair"), TB_EINVAL,
            "'felt' is not a class of fibres");
    REFUSED(s, answer_as(&out, s, "", "1-01", "protein", "odour:burning_hair"), TB_EINVAL,
            "say who is writing");
    REFUSED(s,
            tb_act_answer(&out, &wren, &(struct tb_answer_request){ "1-01", "protein", &nothing, NULL },
                          &s->mem, &err),
            TB_EINVAL, "at least one thing seen or looked at");
    OK(tb_observation_read(&solvent, NULL, NULL, "acetone", &err));
    REFUSED(s,
            tb_act_answer(&out, &wren, &(struct tb_answer_request){ "1-01", "protein", &solvent, NULL },
                          &s->mem, &err),
            TB_EINVAL, "is a bench test");
    OK(answer_as(&out, s, "Wren", "1-01", "unknown", "odour:burning_hair"));
    REFUSED(s, answer_as(&out, s, "Wren", "1-01", "protein", "odour:burning_hair"), TB_EEXISTS,
            "card 1-01 was answered already");
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "flame", "no", &err));
    OK(tb_book_commit(s->actor.book, &err));
    REFUSED(s, answer_as(&out, s, "Wren", "1-02", "protein", "odour:burning_hair"), TB_EREFUSED,
            "flame work is not permitted");
    scene_free(s);
}

static tb_rc answer_one(struct at_once *out, const struct tb_actor *actor, int i, struct tb_arena *mem,
                        struct tb_err *error)
{
    struct tb_observation seen = { 0 };
    struct tb_answer_outcome o;
    tb_rc rc = tb_observation_read(&seen, "odour:burning_hair", NULL, NULL, error);

    (void)out;
    if (rc != TB_OK)
        return rc;
    return tb_act_answer(&o, actor,
                         &(struct tb_answer_request){ "1-01", i % 2 ? "protein" : "unknown", &seen, NULL },
                         mem, error);
}

static void a_card_is_answered_once(void **state)
{
    enum { N = 4 };
    struct scene *s = with_known_cloth();
    struct at_once got[N];
    struct tb_burn *burn = NULL;
    size_t n = 0;
    int answered = 0;

    (void)state;
    deal(s, "Wren", 1, "abc");
    at_once(got, s, N, "Wren", answer_one);
    for (int i = 0; i < N; i++) {
        answered += got[i].rc == TB_OK;
        assert_true(got[i].rc == TB_OK || got[i].rc == TB_EEXISTS);
    }
    assert_int_equal(answered, 1);
    OK(tb_burn_list(&burn, &n, s->actor.book, NULL, &s->mem, &err));
    assert_int_equal(n, 1);
    scene_free(s);
}

static void a_cloth_is_of_the_class_of_all_its_fibres(void **state)
{
    (void)state;
    assert_string_equal(tb_drill_class_of("100% cotton"), "cellulose");
    assert_string_equal(tb_drill_class_of("60% wool 40% silk"), "protein");
    assert_string_equal(tb_drill_class_of("60% wool 40% cotton"), "mixed");
    assert_string_equal(tb_drill_class_of("warp cotton, weft linen"), "cellulose");
    assert_string_equal(tb_drill_class_of("warp cotton, weft wool"), "mixed");
    assert_string_equal(tb_drill_class_of("something soft"), "mixed");
    assert_string_equal(tb_drill_class_named("cellulose"), "cellulose");
    assert_string_equal(tb_drill_class_named("cotton"), "cellulose");
    assert_string_equal(tb_drill_class_named("mixed"), "mixed");
    assert_string_equal(tb_drill_class_named("unknown"), "unknown");
    assert_null(tb_drill_class_named("felt"));
    assert_null(tb_drill_class_named(""));
}

static void cloth_that_must_not_be_burned_is_not_dealt(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_cut_outcome ptfe, wool;
    struct tb_drill_outcome out;

    (void)state;
    OK(tb_act_cut(&ptfe, &s->actor, &(struct tb_cut_request){ .known = "100% PTFE" }, &s->mem, &err));
    REFUSED(s, tb_act_drill(&out, &s->actor, &(struct tb_drill_request){ .to = "Bo Lund" }, &s->mem, &err),
            TB_EINVAL, "no known cloths to deal from");
    OK(tb_act_cut(&wool, &s->actor, &(struct tb_cut_request){ .known = "100% wool" }, &s->mem, &err));
    OK(tb_act_drill(&out, &s->actor, &(struct tb_drill_request){ .to = "Bo Lund" }, &s->mem, &err));
    assert_true(out.n > 0);
    for (size_t i = 0; i < out.n; i++)
        assert_string_equal(out.tag[i], wool.swatch.tag);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cloth_that_must_not_be_burned_is_not_dealt),
        cmocka_unit_test(cards_are_dealt_in_the_order_of_the_seed),
        cmocka_unit_test(what_cannot_be_dealt_is_refused_and_leaves_nothing),
        cmocka_unit_test(no_number_of_a_drill_is_given_twice),
        cmocka_unit_test(an_answer_is_a_burn_and_tells_the_truth),
        cmocka_unit_test(what_is_no_answer_is_refused_and_leaves_nothing),
        cmocka_unit_test(a_card_is_answered_once),
        cmocka_unit_test(a_cloth_is_of_the_class_of_all_its_fibres),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
