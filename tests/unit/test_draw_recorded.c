/* A recorded draw drawn again, and what its burns prove: counts, bounds, refusals. */
#include "unit/act_helper.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/act_void.h"

#define NAMES(...)                                                                                           \
    (const char *const[]){ __VA_ARGS__ }, sizeof((const char *const[]){ __VA_ARGS__ }) / sizeof(const char *)

static void draw(struct tb_draw_outcome *out, struct scene *s, const char *ref, double part, const char *seed)
{
    struct tb_draw_request r = { .name = (const char *const[]){ ref },
                                 .names = 1,
                                 .want = { .kind = TB_PLAN_SHARE, .share = part, .catch_one = 1 },
                                 .seed = seed };

    OK(tb_act_draw(out, &s->actor, &r, &s->mem, &err));
}

/* Cut a swatch of the bolt and burn it, so that it fits cotton or contradicts it. */
static void burn(struct scene *s, const char *bolt, bool like_paper)
{
    struct tb_cut_outcome cut;
    struct tb_burn_outcome out = { 0 };
    struct tb_observation seen = { 0 };

    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = bolt, .lot = s->lot.ref }, &s->mem,
                  &err));
    OK(tb_observation_read(&seen,
                           like_paper ? "odour:burning_paper,residue_form:ash"
                                      : "odour:burning_hair,residue_form:crushable_bead",
                           NULL, "smoke", &err));
    OK(tb_act_burn(
        &out, &s->actor,
        &(struct tb_burn_request){ .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
        &s->mem, &err));
    tb_rejudged_free(&out.judged);
}

static tb_rc prove(struct tb_draw_proof *out, struct scene *s, const char *ref, double catch_one)
{
    struct tb_draw_proof_request r = { NAMES(ref), .catch_one = catch_one };

    return tb_draw_prove(out, s->actor.book, &r, &s->mem, &err);
}

/* Whether the draw took the bolt of that number. */
static bool took(const struct tb_draw_outcome *d, const char *number)
{
    for (size_t i = 0; i < d->n; i++)
        if (strcmp(d->drawn[i].number, number) == 0)
            return true;
    return false;
}

static const char *not_drawn(const struct tb_draw_outcome *d)
{
    static const char *const all[] = { "B1", "B2", "B3", "B4", "B5", "B6" };

    for (size_t i = 0; i < TB_COUNT(all); i++)
        if (!took(d, all[i]))
            return all[i];
    fail_msg("every bolt was drawn");
    return "";
}

static void the_latest_draw_comes_out_the_same_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_outcome first, second, again;
    struct tb_draw r;
    int64_t head;

    (void)state;
    draw(&first, s, s->lot.ref, 0.5, "one");
    draw(&second, s, s->lot.ref, 0.3, "two");
    head = scene_head(s);
    OK(tb_draw_again(&again, &r, s->actor.book, NAMES("B1"), &s->mem, &err));
    scene_is_unchanged(s, head);
    assert_string_equal(r.seed, "two");
    assert_string_equal(again.seed, "two");
    assert_string_equal(again.about, s->lot.ref);
    assert_int_equal(again.befores, 2);
    assert_int_equal(again.n, second.n);
    assert_int_equal(again.swatches, 3);
    for (size_t i = 0; i < again.n; i++)
        assert_string_equal(again.drawn[i].bolt, second.drawn[i].bolt);
    scene_free(s);
}

static void a_draw_that_does_not_come_out_the_same_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 10);
    struct tb_draw_outcome again;
    struct tb_draw r, odd = { .about = s->lot.ref,
                              .plan = "share",
                              .bolts = 10,
                              .cut = 1,
                              .bad = 1,
                              .chance = 0.1,
                              .sure = 0.95,
                              .catch_one = 1,
                              .catch_from = "as given",
                              .aql = (double)NAN,
                              .level = "",
                              .inspection = "",
                              .refuse = 1,
                              .seed = "one" };
    struct tb_bolt *bolt = NULL;
    size_t n = 0;
    long place;

    (void)state;
    REFUSED(s, tb_draw_again(&again, &r, s->actor.book, NAMES(s->lot.ref), &s->mem, &err), TB_ENOTFOUND,
            "no bolts were drawn from");
    REFUSED(s, tb_draw_again(&again, &r, s->actor.book, NAMES("W99-001.01"), &s->mem, &err), TB_ENOTFOUND,
            "W99-001.01");
    /* a draw of a bolt that its seed does not draw */
    OK(tb_bolt_list(&bolt, &n, s->actor.book, s->lot.id, &s->mem, &err));
    OK(tb_pick(&place, 10, 1, "one", s->lot.ref, &err));
    OK(tb_book_begin(s->actor.book, "Ada Fell", "draw", &err));
    OK(tb_draw_add(&odd, s->actor.book, (const char *const[]){ bolt[place == 1 ? 5 : 0].id }, 1, &s->mem,
                   &err));
    OK(tb_book_commit(s->actor.book, &err));
    REFUSED(s, tb_draw_again(&again, &r, s->actor.book, NAMES(s->lot.ref), &s->mem, &err), TB_EREFUSED,
            "seed one does not draw the 1 bolt recorded for");
    /* a draw from more bolts than there are */
    odd.bolts = 11;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "draw", &err));
    OK(tb_draw_add(&odd, s->actor.book, (const char *const[]){ bolt[0].id }, 1, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    REFUSED(s, tb_draw_again(&again, &r, s->actor.book, NAMES(s->lot.ref), &s->mem, &err), TB_EREFUSED,
            "had 11 bolts when it was drawn from and has 10 now");
    scene_free(s);
}

/* Three of six drawn, two of them burned and true: C(6-D,2)/C(6,2) is 1/15 for D = 4, 0 for D = 5, so 95 % leaves 4. */
static void only_bolts_drawn_and_burned_speak_for_the_others(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d;
    struct tb_draw_proof p;

    (void)state;
    draw(&d, s, s->lot.ref, 0.5, "one");
    OK(prove(&p, s, s->lot.ref, 0));
    assert_int_equal(p.drawn, 3);
    assert_int_equal(p.burned, 0);
    assert_int_equal(p.most_false, 6);
    burn(s, d.drawn[0].number, true);
    burn(s, d.drawn[1].number, true);
    burn(s, not_drawn(&d), true); /* chosen by hand */
    OK(prove(&p, s, s->lot.ref, 0));
    assert_int_equal(p.burned, 2);
    assert_int_equal(p.found, 0);
    assert_int_equal(p.besides, 0);
    assert_int_equal(p.most_false, 4);
    assert_true(p.metres == 300);
    assert_true(p.most_metres == 150); /* 50 m each, and the three burned ones are true for certain */
    assert_int_equal(p.caught.from, TB_CATCH_EARLIER);
    assert_string_equal(p.caught.words, "as given");
    assert_true(p.sure == 0.95);
    assert_string_equal(p.draw.seed, "one");
    assert_int_equal(p.befores, 1);
    scene_free(s);
}

/* A burned bolt that showed nothing may be false all the same where burns miss some. */
static void burns_that_miss_some_leave_the_burned_bolts_in_doubt(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d;
    struct tb_draw_proof p;
    long most = 0;

    (void)state;
    draw(&d, s, s->lot.ref, 0.5, "one");
    for (size_t i = 0; i < 3; i++)
        burn(s, d.drawn[i].number, true);
    OK(prove(&p, s, s->lot.ref, 0.5));
    OK(tb_proof_most(&most, 6, 3, 0, 0.5, 0.95, &err));
    assert_int_equal(p.most_false, most);
    assert_true(p.most_metres == 50.0 * (double)most);
    assert_int_equal(p.caught.from, TB_CATCH_GIVEN);
    scene_free(s);
}

static void bolts_shown_false_are_known_whoever_chose_them(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d;
    struct tb_draw_proof p;
    static const char *const all[] = { "B1", "B2", "B3", "B4", "B5", "B6" };

    (void)state;
    draw(&d, s, s->lot.ref, 0.5, "one");
    for (size_t i = 0; i < 6; i++)
        burn(s, all[i], took(&d, all[i]));
    OK(prove(&p, s, s->lot.ref, 0));
    /* C(6-D,3)/C(6,3) is 0.05 for D = 3: the draw alone would say two, and three are known */
    assert_int_equal(p.burned, 3);
    assert_int_equal(p.found, 0);
    assert_int_equal(p.besides, 3);
    assert_int_equal(p.most_false, 3);
    assert_true(p.most_metres == 150);
    scene_free(s);
}

static void a_drawn_bolt_that_contradicts_is_found(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d;
    struct tb_draw_proof p;
    long most = 0;

    (void)state;
    draw(&d, s, s->lot.ref, 0.5, "one");
    burn(s, d.drawn[0].number, true);
    burn(s, d.drawn[1].number, false);
    burn(s, d.drawn[2].number, true);
    OK(prove(&p, s, s->lot.ref, 0));
    OK(tb_proof_most(&most, 6, 3, 1, 1, 0.95, &err));
    assert_int_equal(p.found, 1);
    assert_int_equal(p.besides, 0);
    assert_in_range(p.most_false, most, 6); /* drawn within strata: on the safe side */
    assert_true(p.most_metres == 50.0 * (double)(p.most_false < 4 ? p.most_false : 4)); /* two are true */
    scene_free(s);
}

static void where_every_bolt_is_false_all_of_them_are_found(void **state)
{
    static const char *const all[] = { "B1", "B2", "B3", "B4", "B5", "B6" };
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d;
    struct tb_draw_proof p;

    (void)state;
    draw(&d, s, s->lot.ref, 1, "one");
    for (size_t i = 0; i < 6; i++)
        burn(s, all[i], false);
    OK(prove(&p, s, s->lot.ref, 0));
    assert_int_equal(p.found, 6);
    assert_int_equal(p.most_false, 6);
    assert_true(p.most_metres == 300);
    scene_free(s);
}

/* Whoever takes a false bolt out after it was burned takes its burn out of the count: the proof names it. */
static void a_drawn_bolt_that_is_void_since_is_named_with_the_proof(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d, again;
    struct tb_void_outcome gone;
    struct tb_draw_proof p;
    struct tb_draw r;

    (void)state;
    draw(&d, s, s->lot.ref, 0.5, "one");
    OK(prove(&p, s, s->lot.ref, 0));
    assert_int_equal(p.gones, 0);
    burn(s, d.drawn[0].number, false);
    OK(tb_act_void(&gone, &s->actor,
                   &(struct tb_void_request){
                       .name = d.drawn[0].number, .lot = s->lot.ref, .why = "a slip", .knowing = true },
                   &s->mem, &err));
    tb_rejudged_free(&gone.lot.judged);
    OK(prove(&p, s, s->lot.ref, 0));
    assert_int_equal(p.found, 0);
    assert_int_equal(p.gones, 1);
    assert_string_equal(p.gone[0].number, d.drawn[0].number);
    assert_true(p.gone[0].burned);
    OK(tb_draw_again(&again, &r, s->actor.book, NAMES(s->lot.ref), &s->mem, &err));
    assert_true(again.drawn[0].gone);
    scene_free(s);
}

static void without_a_draw_about_these_names_nothing_is_proved(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_outcome d;
    struct tb_draw_proof p;

    (void)state;
    REFUSED(s, prove(&p, s, "W99-001.01", 0), TB_ENOTFOUND, "W99-001.01");
    REFUSED(s, prove(&p, s, s->lot.ref, 0), TB_EREFUSED, "bolts chosen by hand prove nothing of the others");
    draw(&d, s, s->delivery.ref, 0.5, "one");
    REFUSED(s, prove(&p, s, s->lot.ref, 0), TB_EREFUSED, "were drawn together with others");
    REFUSED(s, prove(&p, s, s->delivery.ref, 1.5), TB_EINVAL, "a chance of 1.5 to catch");
    OK(prove(&p, s, s->delivery.ref, 0));
    assert_string_equal(p.about, s->delivery.ref);
    scene_free(s);
}

static const struct tb_drawn *drawn_as(const struct tb_draw_outcome *d, const char *number)
{
    for (size_t i = 0; i < d->n; i++)
        if (strcmp(d->drawn[i].number, number) == 0)
            return &d->drawn[i];
    fail_msg("%s was not drawn", number);
    return NULL;
}

static void gone(struct scene *s, const char *number)
{
    struct tb_void_outcome out;

    OK(tb_act_void(&out, &s->actor,
                   &(struct tb_void_request){ .name = number, .why = "a total", .knowing = true }, &s->mem,
                   &err));
    tb_rejudged_free(&out.lot.judged);
}

static void a_bolt_that_is_void_since_has_another_drawn_in_its_place(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    const char *ref = s->lot.ref, *left[2], *first;
    struct tb_draw_outcome o, again;
    struct tb_draw record;

    (void)state;
    draw(&o, s, ref, 0.5, "2026-a");
    left[0] = o.drawn[0].number;
    gone(s, left[0]);
    OK(tb_draw_again(&again, &record, s->actor.book, NAMES(ref), &s->mem, &err));
    assert_int_equal(again.n, 3);
    assert_true(drawn_as(&again, left[0])->gone);
    first = drawn_as(&again, left[0])->instead;
    assert_true(*first && !took(&o, first)); /* one of those that were left */
    assert_false(again.drawn[1].gone || again.drawn[2].gone);
    OK(tb_draw_again(&again, &record, s->actor.book, NAMES(ref), &s->mem, &err));
    assert_string_equal(drawn_as(&again, left[0])->instead, first); /* nobody chooses: the seed does */
    gone(s,
         not_drawn(&o)); /* also among more bolts that are void, drawn or not, the seed means those of then */
    OK(tb_draw_again(&again, &record, s->actor.book, NAMES(ref), &s->mem, &err));
    assert_true(drawn_as(&again, left[0])->gone && *drawn_as(&again, left[0])->instead);
    scene_free(s);
}

static void where_no_bolt_is_left_none_takes_the_place(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *ref = s->lot.ref;
    struct tb_draw_outcome o, again;
    struct tb_draw record;

    (void)state;
    draw(&o, s, ref, 1, "2026-a");
    gone(s, "B2");
    OK(tb_draw_again(&again, &record, s->actor.book, NAMES(ref), &s->mem, &err));
    assert_true(drawn_as(&again, "B2")->gone);
    assert_string_equal(drawn_as(&again, "B2")->instead, "");
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_latest_draw_comes_out_the_same_again),
        cmocka_unit_test(a_draw_that_does_not_come_out_the_same_is_refused),
        cmocka_unit_test(only_bolts_drawn_and_burned_speak_for_the_others),
        cmocka_unit_test(burns_that_miss_some_leave_the_burned_bolts_in_doubt),
        cmocka_unit_test(bolts_shown_false_are_known_whoever_chose_them),
        cmocka_unit_test(a_drawn_bolt_that_contradicts_is_found),
        cmocka_unit_test(where_every_bolt_is_false_all_of_them_are_found),
        cmocka_unit_test(a_drawn_bolt_that_is_void_since_is_named_with_the_proof),
        cmocka_unit_test(without_a_draw_about_these_names_nothing_is_proved),
        cmocka_unit_test(a_bolt_that_is_void_since_has_another_drawn_in_its_place),
        cmocka_unit_test(where_no_bolt_is_left_none_takes_the_place),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
