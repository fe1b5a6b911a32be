/*
 * What would settle a lot that no one test settles: bolts that each say the same, each tested, and what is at odds, one side
 * withdrawn. Each outcome that is printed is recorded through the acts, and the book says the same then.
 */
#include "unit/verdict_helper.h"

#include "tenterbook/act_void.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/todo.h"

#define PAPER "in_flame:burns_fast,odour:burning_paper,residue_form:light_fluffy_ash,residue_colour:grey"
#define HAIR "odour:burning_hair,residue_form:crushable_bead"
#define CHAR "in_flame:chars,removed:self_extinguishes,residue_form:crushable_char,odour:sweet"
#define MELT "approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet"
#define SOOT                                                                                                 \
    "approach:melts,in_flame:sputters,removed:continues_to_burn,smoke:sooty,odour:acrid,residue_form:hard_"  \
    "mass"
#define SILK                                                                                                 \
    "approach:shrinks_away,in_flame:burns_slow,removed:self_extinguishes,odour:burning_hair,residue_form:"   \
    "crushable_char"
#define VINEGAR "in_flame:melts,in_flame:drips,odour:vinegar,residue_form:hard_bead"
#define SAME 1e-9 /* of the logarithm of a ratio: what sums in another order lose */
#define ACTS_MOST 6
#define BOLTS_MOST 4

/* One thing done: a swatch of that bolt burned, or the last one of that bolt tested; on which side of the declaration it is. */
struct done {
    const char *who;
    int bolt;
    const char *saw, *test, *result;
    int side;
};

struct lot {
    const char *declared;
    struct done done[ACTS_MOST + 1];
    const char *settles; /* how the confirming test is called */
    size_t bolts;        /* on each of so many; 0: on one */
};

#define BURNED(who_, bolt_, saw_, side_)                                                                     \
    {                                                                                                        \
        .who = who_, .bolt = bolt_, .saw = saw_, .side = side_                                               \
    }
#define TESTED(who_, bolt_, test_, result_, side_)                                                           \
    {                                                                                                        \
        .who = who_, .bolt = bolt_, .test = test_, .result = result_, .side = side_                          \
    }

static const struct lot lots[] = {
    { "100% polyester",
      { BURNED("Ann", 1, PAPER, 0), BURNED("Ann", 2, PAPER, 0), BURNED("Ann", 3, PAPER, 0) },
      "bench:melting",
      3 },
    { "100% wool",
      { BURNED("Bob", 1, PAPER, 0), BURNED("Bob", 2, PAPER, 0), BURNED("Bob", 3, PAPER, 0) },
      "bench:microscope",
      3 },
    { "100% wool", { BURNED("Bob", 1, PAPER, 0), BURNED("Ann", 2, PAPER, 0) }, "bench:microscope", 2 },
    { "100% silk",
      { BURNED("Ann", 1, MELT, 0), BURNED("Ann", 2, MELT, 0), BURNED("Ann", 3, MELT, 0),
        BURNED("Ann", 4, MELT, 0) },
      "bench:microscope",
      4 },
    { "100% cotton", { BURNED("Ann", 1, HAIR, 0), BURNED("Ann", 2, HAIR, 0) }, "bench:microscope", 2 },
    /* what two persons saw is so far out that no test of one bolt brings it back */
    { "100% silk", { BURNED("Ann", 1, VINEGAR, 0), BURNED("Bob", 2, VINEGAR, 0) }, "bench:microscope", 2 },
    { "100% aramid",
      { BURNED("Ann", 1, CHAR, 1), TESTED("Ann", 1, "microscope", "twisted_ribbon", -1) },
      "withdraw",
      0 },
    { "100% aramid",
      { BURNED("Bob", 1, PAPER, -1), BURNED("Ann", 1, CHAR, 1), BURNED("Ann", 1, CHAR, 1) },
      "withdraw",
      0 },
    /* three bolts burn as they should; a test of the second is against all of them */
    { "100% wool",
      { BURNED("Ann", 1, HAIR, 1), BURNED("Ann", 2, HAIR, 1), BURNED("Ann", 3, HAIR, 1),
        TESTED("Ann", 2, "microscope", "smooth_rod", -1) },
      "withdraw",
      0 },
    /* one person alone, who cannot have burned the same cloth twice */
    { "100% silk", { BURNED("Ann", 1, MELT, -1), BURNED("Ann", 1, SILK, 1) }, "withdraw", 0 },
};

/* A lot of the book, and what was recorded of it. */
struct held {
    struct tb_lot lot;
    const char *tag[BOLTS_MOST], *id[ACTS_MOST]; /* the last swatch of each bolt; each record */
    size_t n;
    struct tb_rejudged last;
};

static struct tb_rejudged burn(struct scene *s, struct held *h, const struct done *d)
{
    struct tb_observation seen = seen_as(d->saw);
    struct tb_actor actor = { s->actor.book, d->who };
    struct tb_cut_outcome cut;
    struct tb_burn_outcome out;
    char number[16];

    (void)snprintf(number, sizeof number, "B%d", d->bolt);
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .lot = h->lot.ref, .bolt = number }, &s->mem,
                  &err));
    OK(tb_act_burn(
        &out, &actor,
        &(struct tb_burn_request){ .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
        &s->mem, &err));
    h->tag[d->bolt - 1] = cut.swatch.tag;
    h->id[h->n++] = out.burn.id;
    return out.judged;
}

static struct tb_rejudged try_on(struct scene *s, const char *who, const char *tag, const char *test,
                                 const char *result, const char **id)
{
    struct tb_actor actor = { s->actor.book, who };
    struct tb_try_outcome out;

    OK(tb_act_try(&out, &actor,
                  &(struct tb_try_request){ .swatch = tag, .test = test, .result = result, .corrects = *id },
                  &s->mem, &err));
    *id = out.test.id;
    return out.judged;
}

static void record(struct scene *s, struct held *h, const struct lot *l, int64_t serial)
{
    *h = (struct held){ .n = 0 };
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &h->lot, serial, l->declared, BOLTS_MOST, "B");
    OK(tb_book_commit(s->actor.book, &err));
    for (const struct done *d = l->done; d->who; d++) {
        tb_rejudged_free(&h->last);
        if (d->saw) {
            h->last = burn(s, h, d);
        } else {
            h->last = try_on(s, d->who, h->tag[d->bolt - 1], d->test, d->result, &h->id[h->n]);
            h->n++;
        }
    }
}

static void is_as_printed(const struct lot *l, const struct tb_outcome *o, const struct tb_verdict *then)
{
    if (then->grade != o->grade || !(fabs(within(then) - o->bounded) < SAME))
        fail_msg("%s, %s: printed grade %d, %.9g; recorded grade %d, %.9g", l->declared, o->result,
                 (int)o->grade, o->bounded, (int)then->grade, within(then));
}

/* Each result of a test on every bolt, in the place of the one before. */
static void record_on_each(struct scene *s, struct held *h, const struct lot *l)
{
    const struct tb_verdict *v = &h->last.v.verdict;
    const char *before[BOLTS_MOST] = { NULL }, *test = strchr(v->confirm.test, ':') + 1;

    for (size_t i = 0; i < v->n_outcome; i++) {
        struct tb_rejudged then = { 0 };

        for (size_t b = 0; b < l->bolts; b++) {
            tb_rejudged_free(&then);
            then =
                try_on(s, l->done[b].who, h->tag[b], test, strchr(v->outcome[i].result, ':') + 1, &before[b]);
        }
        is_as_printed(l, &v->outcome[i], &then.v.verdict);
        tb_rejudged_free(&then);
    }
}

/* One side taken back, record by record. */
static void record_without(struct scene *s, struct held *h, const struct lot *l, int side)
{
    const struct tb_verdict *v = &h->last.v.verdict;
    struct tb_void_outcome out = { 0 };

    for (size_t i = 0; i < h->n; i++) {
        if (l->done[i].side != side)
            continue;
        tb_rejudged_free(&out.lot.judged);
        OK(tb_act_void(&out, &s->actor,
                       &(struct tb_void_request){ .name = h->id[i], .why = "another cloth", .knowing = true },
                       &s->mem, &err));
    }
    assert_string_equal(v->outcome[side > 0].result, side > 0 ? "without_for" : "without_against");
    is_as_printed(l, &v->outcome[side > 0], &out.lot.judged.v.verdict);
    tb_rejudged_free(&out.lot.judged);
}

static void what_would_settle_a_lot_is_named_and_is_what_the_book_records(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(lots); i++)
        for (int side = -1; side <= (lots[i].bolts ? -1 : 1); side += 2) {
            const struct tb_verdict *v;
            struct held h;

            record(s, &h, &lots[i], 2 + 2 * (int64_t)i + (side > 0));
            v = &h.last.v.verdict;
            if (strcmp(v->confirm.test, lots[i].settles) != 0)
                fail_msg("lot %zu of %s: '%s' is named", i, lots[i].declared, v->confirm.test);
            assert_int_equal(v->confirm.bolts, lots[i].bolts);
            assert_null(v->confirm_swatch);
            if (lots[i].bolts)
                record_on_each(s, &h, &lots[i]);
            else
                record_without(s, &h, &lots[i], side);
            tb_rejudged_free(&h.last);
        }
    scene_free(s);
}

/* The pages that name it without its outcomes. */
static void every_page_names_it_in_the_same_words(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_todo todo;

    (void)state;
    for (size_t i = 0; i < 2; i++) {
        const struct lot *l = &lots[i ? TB_COUNT(lots) - 1 : 0];
        const char *kept;
        struct tb_text now = { 0 };
        struct held h;

        record(s, &h, l, 2 + (int64_t)i);
        tb_verdict_confirm_clause(&now, &h.last.v.verdict);
        OK(tb_lot_confirming(&kept, s->actor.book, h.lot.id, &s->mem, &err));
        assert_string_equal(kept, now.s);
        OK(tb_todo_read(&todo, s->actor.book, &(struct tb_todo_request){ .today = "2026-11-26" }, &s->mem,
                        &err));
        for (size_t k = 0; k <= todo.n; k++) {
            assert_true(k < todo.n);
            if (strcmp(todo.item[k].lot, h.lot.ref) == 0 && *todo.item[k].next) {
                assert_string_equal(todo.item[k].next, now.s);
                break;
            }
        }
        assert_non_null(strstr(now.s, i ? "withdraw it (tenterbook void)" : ", on each of the 3 bolts"));
        tb_text_free(&now);
        tb_rejudged_free(&h.last);
    }
    scene_free(s);
}

/* Nothing that is found at the bench can make it fit: that it stays undecided is printed, and so it is. */
static void cloth_without_a_label_becomes_what_was_printed(void **state)
{
    static const struct lot unlabelled[] = {
        { "", { BURNED("Ann", 1, MELT, 0) }, NULL, 0 },
        { "100% wool and stuff xyz", { BURNED("Ann", 1, MELT, 0), BURNED("Bob", 2, MELT, 0) }, NULL, 0 }
    };
    struct scene *s = scene_make("100% cotton", 1);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(unlabelled); i++) {
        const char *before = NULL, *test;
        const struct tb_verdict *v;
        json_t *told, *outcomes;
        struct held h;

        record(s, &h, &unlabelled[i], 2 + (int64_t)i);
        v = &h.last.v.verdict;
        assert_non_null(v->supposed);
        assert_string_equal(v->confirm.test, "bench:melting");
        assert_true(v->n_outcome > 1);
        test = strchr(v->confirm.test, ':') + 1;
        told = tb_verdict_json(v, NULL, &h.last.v.declaration);
        outcomes = json_object_get(json_object_get(told, "confirm"), "outcomes");
        assert_int_equal(json_array_size(outcomes), v->n_outcome);
        for (size_t k = 0; k < v->n_outcome; k++) {
            struct tb_rejudged then =
                try_on(s, "Ann", v->confirm_swatch, test, strchr(v->outcome[k].result, ':') + 1, &before);

            assert_string_equal(json_string_value(json_object_get(json_array_get(outcomes, k), "grade")),
                                tb_grade_key(then.v.verdict.grade));
            tb_rejudged_free(&then);
        }
        json_decref(told);
        tb_rejudged_free(&h.last);
    }
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_would_settle_a_lot_is_named_and_is_what_the_book_records),
        cmocka_unit_test(every_page_names_it_in_the_same_words),
        cmocka_unit_test(cloth_without_a_label_becomes_what_was_printed),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
