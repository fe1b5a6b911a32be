/* The act of drawing: what is drawn and recorded, by what inspection, each refusal, several people at once. */
#include "unit/at_once.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/act_draw.h"

/* One name, and a chance to catch that is given, so that no simulation is run. */
#define ONE(ref) .name = (const char *const[]){ ref }, .names = 1
#define SHARE(part)                                                                                          \
    {                                                                                                        \
        .kind = TB_PLAN_SHARE, .share = part, .catch_one = 1                                                 \
    }
#define TABLE                                                                                                \
    {                                                                                                        \
        .kind = TB_PLAN_ACCEPTANCE, .aql = 2.5, .level = TB_LEVEL_II, .catch_one = 1                         \
    }

static void settle(struct scene *s, const char *ref, enum tb_standing_kind as)
{
    struct tb_settle_outcome out = { 0 };

    OK(tb_act_settle(&out, &s->actor, &(struct tb_settle_request){ .lot = ref, .as = as, .why = "a test" },
                     &s->mem, &err));
    tb_rejudged_free(&out.judged);
}

/* So many more lots of one bolt each, all of which turned out so; the delivery's lots go on with `serial`. */
static void add_history(struct scene *s, int64_t serial, int lots, bool kept)
{
    for (int i = 0; i < lots; i++) {
        struct tb_lot lot;

        OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
        scene_add_lot(s, &lot, serial + i, "100% cotton", 1, "H");
        OK(tb_book_commit(s->actor.book, &err));
        scene_answer(s, lot.ref, kept);
    }
}

static void drawn_bolts_are_recorded_with_their_seed_and_plan(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = SHARE(0.3), .seed = "W26-x" };
    struct tb_draw_outcome out;
    struct tb_draw found;
    struct tb_bolt *bolt = NULL;
    long place[3];
    size_t n = 0;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(scene_head(s), head + 1);
    assert_true(out.recorded);
    assert_int_equal(out.n, 3);
    assert_int_equal(out.swatches, 3);
    assert_string_equal(out.about, s->lot.ref);
    OK(tb_draw_latest(&found, s->actor.book, s->lot.ref, &s->mem, &err));
    assert_string_equal(found.seed, "W26-x");
    assert_string_equal(found.plan, "share");
    assert_string_equal(found.drawn_by, "Ada Fell");
    assert_string_equal(found.catch_from, "as given");
    assert_int_equal(found.bolts, 10);
    assert_int_equal(found.cut, 3);
    assert_int_equal(found.bad, out.plan.want.bad);
    assert_true(found.chance == out.plan.chance && found.sure == 0.95 && found.catch_one == 1);
    assert_true(isnan(found.aql));
    /* the places are those anybody draws from the seed, in the order of the numbers: B1, B10, B2 ... */
    OK(tb_draw_bolts(&bolt, &n, s->actor.book, found.id, &s->mem, &err));
    OK(tb_pick(place, 10, 3, "W26-x", s->lot.ref, &err));
    assert_int_equal(n, 3);
    for (size_t i = 0; i < n; i++) {
        static const char *const order[] = { "B1", "B10", "B2", "B3", "B4", "B5", "B6", "B7", "B8", "B9" };

        assert_string_equal(bolt[i].number, order[place[i] - 1]);
        assert_string_equal(out.drawn[i].number, bolt[i].number);
        assert_string_equal(out.drawn[i].bolt, bolt[i].id);
        assert_string_equal(out.drawn[i].lot_ref, s->lot.ref);
        assert_string_equal(out.drawn[i].parts, "whole");
    }
    scene_free(s);
}

static void a_seed_that_is_made_tells_where_it_comes_from(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = SHARE(0.3) };
    struct tb_draw_outcome first, out;

    (void)state;
    OK(tb_act_draw(&first, &s->actor, &r, &s->mem, &err));
    assert_int_equal(first.seed_from, TB_SEED_MADE);
    assert_false(tb_seed_by_hand(first.seed));
    assert_int_equal(first.befores, 0);
    assert_null(first.last);
    r.seed = first.seed; /* the same bolts again */
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.seed_from, TB_SEED_EARLIER);
    assert_int_equal(out.befores, 1);
    assert_string_equal(out.last->seed, first.seed);
    assert_string_equal(out.drawn[0].bolt, first.drawn[0].bolt);
    r.seed = "mine";
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.seed_from, TB_SEED_GIVEN);
    assert_true(tb_seed_by_hand(out.seed));
    assert_int_equal(out.befores, 2);
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.befores, 3);
    assert_string_equal(out.last->seed, "mine"); /* the latest of them, though all are of one second */
    assert_string_equal(out.before[0].seed, first.seed);
    scene_free(s);
}

static void a_draw_that_is_only_tried_leaves_nothing_and_can_be_told_for_ever(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = SHARE(0.3) };
    struct tb_draw_outcome out;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    scene_is_unchanged(s, head);
    assert_false(out.recorded);
    assert_int_equal(out.n, 3);
    assert_memory_equal(out.seed, "try-", 4);
    assert_true(tb_seed_by_hand(out.seed));
    REFUSED(s,
            tb_draw_try(&out, s->actor.book, &(struct tb_draw_request){ ONE("W99-001.01") }, &s->mem, &err),
            TB_ENOTFOUND, "W99-001.01");
    scene_free(s);
}

static void a_delivery_is_drawn_from_over_its_lots_and_parts(void **state)
{
    struct scene *s = scene_make("100% cotton", 4);
    struct tb_draw_request r = { ONE(s->delivery.ref), .want = SHARE(0.5) };
    struct tb_draw_outcome out;
    struct tb_lot other;
    size_t of_other = 0;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "warp 100% cotton, weft 100% linen", 8, "C");
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.about, s->delivery.ref);
    assert_int_equal(out.plan.bolts, 12);
    assert_int_equal(out.n, 6);
    for (size_t i = 0; i < out.n; i++)
        if (strcmp(out.drawn[i].lot_ref, other.ref) == 0) {
            assert_string_equal(out.drawn[i].parts, "warp, weft");
            of_other++;
        }
    assert_int_equal(of_other, 4);
    assert_int_equal(out.swatches, 2 + 4 * 2);
    /* a draw of both is told at each of them, and once at both */
    r = (struct tb_draw_request){ ONE(other.ref), .want = SHARE(0.5) };
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.befores, 1);
    assert_string_equal(out.last->about, s->delivery.ref);
    r = (struct tb_draw_request){ .name = (const char *const[]){ other.ref, s->lot.ref },
                                  .names = 2,
                                  .want = SHARE(0.5) };
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.befores, 2);
    scene_free(s);
}

static void a_lot_is_drawn_from_by_its_reference_however_it_was_called(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE("B7"), .want = SHARE(0.3) };
    struct tb_draw_outcome out;

    (void)state;
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.about, s->lot.ref);
    scene_free(s);
}

static void where_no_number_of_bolts_is_enough_nothing_is_recorded(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = { .bad = 1, .catch_one = 0.5 } };
    struct tb_draw_outcome out;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.plan.cut, -1);
    assert_int_equal(out.n, 0);
    assert_false(out.recorded);
    scene_is_unchanged(s, head);
    scene_free(s);
}

/* Lots of the least power count: a blend's burns show less than plain cotton's. */
static void the_chance_to_catch_is_the_models_and_of_several_lots_the_least(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = { .kind = TB_PLAN_EVERY } };
    struct tb_draw_outcome cotton, blend, both, odd;
    struct tb_lot other, unread;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "80% wool 20% polyamide", 4, "C");
    scene_add_lot(s, &unread, 3, "something soft", 4, "D");
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_draw_try(&cotton, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(cotton.caught.from, TB_CATCH_MODEL);
    assert_non_null(cotton.caught.swap);
    assert_non_null(strstr(cotton.caught.words, "by the evidence model"));
    /* viscose burns like cotton, polyester does not: only the first is named as what no burn shows */
    assert_non_null(strstr(cotton.caught.swap, "polyester"));
    assert_string_equal(cotton.caught.blind, "100 % viscose");
    assert_non_null(strstr(cotton.caught.words, "no burn shows 100 % viscose"));
    assert_true(cotton.caught.one > 0 && cotton.caught.one < 1);
    assert_true(cotton.plan.want.catch_one == cotton.caught.one);
    r = (struct tb_draw_request){ ONE(other.ref), .want = { .kind = TB_PLAN_EVERY } };
    OK(tb_draw_try(&blend, s->actor.book, &r, &s->mem, &err));
    assert_true(blend.caught.one < cotton.caught.one);
    for (int turned = 0; turned < 2; turned++) {
        r.name = turned ? (const char *const[]){ other.ref, s->lot.ref }
                        : (const char *const[]){ s->lot.ref, other.ref };
        r.names = 2;
        OK(tb_draw_try(&both, s->actor.book, &r, &s->mem, &err));
        assert_true(both.caught.one == blend.caught.one);
    }
    /* words that cannot be read say nothing of a swap */
    r = (struct tb_draw_request){ ONE(unread.ref), .want = { .kind = TB_PLAN_EVERY } };
    OK(tb_draw_try(&odd, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(odd.caught.from, TB_CATCH_ASSUMED);
    assert_true(odd.caught.one == TB_CATCH_DEFAULT);
    scene_free(s);
}

static void the_swap_at_issue_can_be_named(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = { .kind = TB_PLAN_EVERY }, .against = "polyester" };
    struct tb_draw_outcome out;

    (void)state;
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_non_null(strstr(out.caught.swap, "polyester"));
    r.against = "viscose";
    REFUSED(s, tb_act_draw(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, "burns like what is declared");
    r.against = "unobtainium";
    REFUSED(s, tb_act_draw(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL,
            "for this cloth: 100 % polyester, 100 % viscose");
    r.want.catch_one = 0.5;
    REFUSED(s, tb_act_draw(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "give one");
    scene_free(s);
}

/* docs/sampling.md, "Switching": two of five refused tighten; fifteen accepted reach the score of thirty */
static void the_suppliers_history_decides_about_the_inspection(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = TABLE };
    struct tb_draw_outcome out;
    struct tb_draw found;

    (void)state;
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(out.suppliers, 1);
    assert_int_equal(out.inspected[0].now, TB_NORMAL);
    assert_null(out.inspected[0].why);
    add_history(s, 2, 2, false);
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.plan.want.inspection, TB_TIGHTENED);
    assert_string_equal(out.inspected[0].supplier, "Harrow Mill");
    assert_int_equal(out.inspected[0].now, TB_TIGHTENED);
    assert_string_equal(out.inspected[0].why, "two of five or fewer lots in a row were refused");
    OK(tb_draw_latest(&found, s->actor.book, s->lot.ref, &s->mem, &err));
    assert_string_equal(found.inspection, "tightened");
    assert_string_equal(found.level, "II");
    assert_true(found.aql == 2.5);
    assert_int_equal(found.refuse, out.plan.acceptance.refuse);
    r.inspection_chosen = true; /* a person's word stands above the history */
    r.want.inspection = TB_REDUCED;
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(out.plan.want.inspection, TB_REDUCED);
    assert_int_equal(out.suppliers, 0);
    r = (struct tb_draw_request){ ONE(s->lot.ref), .want = SHARE(0.3) };
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(out.suppliers, 0); /* other plans do not ask it */
    scene_free(s);
}

static void reduced_inspection_is_allowed_and_not_taken(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = TABLE };
    struct tb_draw_outcome out;

    (void)state;
    r.want.inspection = TB_TIGHTENED; /* not chosen by a person: the history has the word */
    add_history(s, 2, 15, true);
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(out.inspected[0].now, TB_REDUCED);
    assert_int_equal(out.plan.want.inspection, TB_NORMAL);
    scene_free(s);
}

/* Whoever releases without looking has not learnt anything of the supplier. */
static void lots_released_unburnt_do_not_lead_to_reduced_inspection(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_request r = { ONE(s->lot.ref), .want = TABLE };
    struct tb_draw_outcome out;

    (void)state;
    for (int i = 0; i < 15; i++) {
        struct tb_lot lot;

        OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
        scene_add_lot(s, &lot, 2 + i, "100% cotton", 1, "H");
        OK(tb_book_commit(s->actor.book, &err));
        settle(s, lot.ref, TB_RELEASED);
    }
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(out.inspected[0].now, TB_NORMAL);
    scene_free(s);
}

static void of_several_suppliers_the_strictest_inspection_counts_and_each_is_told_once(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_delivery bad = { .arrived = "2026-10-06" };
    struct tb_draw_outcome out;
    struct tb_supplier other;
    struct tb_lot lot[3];
    struct tb_draw_request r = { .names = 3, .want = TABLE };

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&other, s->actor.book, "Tarn Weavers", &s->mem, &err));
    bad.supplier = other.id;
    OK(tb_delivery_add(&bad, s->actor.book, &s->mem, &err));
    s->delivery = bad;
    for (int i = 0; i < 3; i++)
        scene_add_lot(s, &lot[i], i + 1, "100% cotton", 2, (const char *[]){ "X", "Y", "Z" }[i]);
    OK(tb_book_commit(s->actor.book, &err));
    scene_answer(s, lot[0].ref, false);
    scene_answer(s, lot[1].ref, false);
    r.name = (const char *const[]){ s->lot.ref, lot[1].ref, lot[2].ref };
    OK(tb_draw_try(&out, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(out.plan.want.inspection, TB_TIGHTENED);
    assert_int_equal(out.suppliers, 2);
    assert_int_equal(out.inspected[0].now, TB_NORMAL);
    assert_int_equal(out.inspected[1].now, TB_TIGHTENED);
    scene_free(s);
}

static void what_cannot_be_drawn_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_delivery empty = { .arrived = "2026-10-06", .supplier = s->supplier.id };
    struct tb_draw_outcome out;
    struct tb_lot other;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_delivery_add(&empty, s->actor.book, &s->mem, &err));
    scene_add_lot(s, &other, 2, "100% cotton", 3, "C");
    OK(tb_book_commit(s->actor.book, &err));
#define DRAW(code, words, ...)                                                                               \
    REFUSED(s, tb_act_draw(&out, &s->actor, &(struct tb_draw_request){ __VA_ARGS__ }, &s->mem, &err), code,  \
            words)
    DRAW(TB_ENOTFOUND, "W99-001.01", ONE("W99-001.01"), .want = SHARE(0.3));
    DRAW(TB_EEXISTS, "is named twice", .name = (const char *const[]){ s->lot.ref, s->lot.ref }, .names = 2,
         .want = SHARE(0.3));
    DRAW(TB_EEXISTS, "is named twice", .name = (const char *const[]){ s->delivery.ref, "B3" }, .names = 2,
         .want = SHARE(0.3));
    DRAW(TB_EEXISTS, "is named twice", .name = (const char *const[]){ s->lot.ref, other.ref, "C2" },
         .names = 3, .want = SHARE(0.3));
    DRAW(TB_EINVAL, "has no lots to draw from", ONE(empty.ref), .want = SHARE(0.3));
    DRAW(TB_EINVAL, "has no lots to draw from", .want = SHARE(0.3));
    DRAW(TB_EINVAL, "11 false bolts of 10 is not possible", ONE(s->lot.ref),
         .want = { .bad = 11, .catch_one = 1 });
    DRAW(TB_EINVAL, "a share of nothing", ONE(s->lot.ref), .want = { .kind = TB_PLAN_SHARE, .catch_one = 1 });
    DRAW(TB_EINVAL, "an AQL of 3 %", ONE(s->lot.ref),
         .want = { .kind = TB_PLAN_ACCEPTANCE, .aql = 3, .catch_one = 1 });
    DRAW(TB_EINVAL, "letters, digits and signs", ONE(s->lot.ref), .want = SHARE(0.3), .seed = "a b");
    DRAW(TB_EREFUSED, "looks like one that was made for a draw", ONE(s->lot.ref), .want = SHARE(0.3),
         .seed = "0123456789abcdef");
    REFUSED(s,
            tb_act_draw(&out, &nobody, &(struct tb_draw_request){ ONE(s->lot.ref), .want = SHARE(0.3) },
                        &s->mem, &err),
            TB_EINVAL, "say who is writing");
    scene_free(s);
}

static tb_rc draw_of_lot(struct at_once *out, const struct tb_actor *actor, int i, struct tb_arena *mem,
                         struct tb_err *error)
{
    /* by reference or by a bolt: it is the same lot */
    struct tb_draw_request r = { ONE(i % 2 ? "B1" : "B2"), .want = SHARE(0.3) };
    struct tb_draw_outcome o;
    tb_rc rc = tb_act_draw(&o, actor, &r, mem, error);

    if (rc == TB_OK) {
        out->number = (int64_t)o.befores;
        (void)snprintf(out->text, sizeof out->text, "%s", o.seed);
    }
    return rc;
}

/* Nobody draws unseen: of eight draws at one time each tells of all that came before it. */
static void draws_at_the_same_time_tell_of_one_another(void **state)
{
    enum { N = 8 };
    struct scene *s = scene_make("100% cotton", 10);
    struct at_once got[N];
    struct tb_proof proof;
    bool told[N] = { false };

    (void)state;
    at_once(got, s, N, "Ada Fell", draw_of_lot);
    for (int i = 0; i < N; i++) {
        if (got[i].rc != TB_OK)
            fail_msg("draw %d: %s", i, got[i].why);
        assert_in_range(got[i].number, 0, N - 1);
        assert_false(told[got[i].number]);
        told[got[i].number] = true;
        for (int k = 0; k < i; k++)
            assert_string_not_equal(got[i].text, got[k].text);
    }
    OK(tb_book_prove(&proof, s->actor.book, &err));
    assert_int_equal(proof.first_bad, 0);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawn_bolts_are_recorded_with_their_seed_and_plan),
        cmocka_unit_test(a_seed_that_is_made_tells_where_it_comes_from),
        cmocka_unit_test(a_draw_that_is_only_tried_leaves_nothing_and_can_be_told_for_ever),
        cmocka_unit_test(a_delivery_is_drawn_from_over_its_lots_and_parts),
        cmocka_unit_test(a_lot_is_drawn_from_by_its_reference_however_it_was_called),
        cmocka_unit_test(where_no_number_of_bolts_is_enough_nothing_is_recorded),
        cmocka_unit_test(the_chance_to_catch_is_the_models_and_of_several_lots_the_least),
        cmocka_unit_test(the_swap_at_issue_can_be_named),
        cmocka_unit_test(the_suppliers_history_decides_about_the_inspection),
        cmocka_unit_test(reduced_inspection_is_allowed_and_not_taken),
        cmocka_unit_test(lots_released_unburnt_do_not_lead_to_reduced_inspection),
        cmocka_unit_test(of_several_suppliers_the_strictest_inspection_counts_and_each_is_told_once),
        cmocka_unit_test(what_cannot_be_drawn_is_refused_and_leaves_nothing),
        cmocka_unit_test(draws_at_the_same_time_tell_of_one_another),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
