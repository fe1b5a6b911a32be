/*
 * What is printed of a confirming test is what the book records: lots of one to three bolts, burned by one to three persons as
 * published descriptions say, with and without a test before. A few are recorded through the acts, result by result; many are
 * weighed as the acts weigh them, on mixtures of two fibres, which is quicker.
 */
#include "unit/verdict_helper.h"

#include "evidence/declared.h"
#include "evidence/likelihood.h"
#include "evidence_model.h"
#include "published_burn.h"
#include "work/observe.h"

#include "gen/ref_burn_fibre.h"

#define LOTS 300
#define BOOK_LOTS 40
#define BOLTS_MOST 3
#define SAME 1e-9 /* of the logarithm of a ratio: what sums in another order lose */

/* A linear congruential generator (Knuth, MMIX): the same lots on every machine. */
static uint64_t seed = 20261127;

static size_t drawn(size_t n)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(seed >> 33) % n;
}

static const char *const declared[] = { "100% cotton",    "100% wool",
                                        "100% polyester", "65% polyester 35% cotton",
                                        "100% aramid",    "100% silk",
                                        "100% acrylic",   "80% wool 20% polyamide",
                                        "100% viscose",   "100% polyamide" };

/* What one description says that can be seen in one burn. */
static void draw_burn(struct tb_observation *o)
{
    for (;;) {
        struct tb_observation all = { 0 };
        struct tb_text saw = { 0 };
        bool good;

        take_profile(&all, &tb_ref_burn_profile[drawn(tb_ref_burn_profile_n)]);
        for (int c = 0; c < (int)tb_cue_count(); c++) {
            struct tb_cue cue;

            tb_cue_at(&cue, c);
            if (all.sight[c] == TB_SIGHT_SEEN)
                tb_text_addf(&saw, "%s ", cue.key);
        }
        *o = (struct tb_observation){ 0 };
        good =
            tb_observation_read(o, tb_text_str(&saw), NULL, NULL, &err) == TB_OK && !tb_observation_empty(o);
        tb_text_free(&saw);
        if (good)
            return;
    }
}

static struct tb_rejudged burn(struct scene *s, const char *who, const char *tag,
                               const struct tb_observation *seen)
{
    struct tb_actor actor = { s->actor.book, who };
    struct tb_burn_outcome out;

    OK(tb_act_burn(&out, &actor,
                   &(struct tb_burn_request){ .swatch = tag, .seen = seen, .sample_mm = (double)NAN },
                   &s->mem, &err));
    return out.judged;
}

static const char *cut_of(struct scene *s, const char *lot, int bolt)
{
    struct tb_cut_outcome cut;
    char number[16];

    (void)snprintf(number, sizeof number, "B%d", bolt + 1);
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .lot = lot, .bolt = number }, &s->mem, &err));
    return cut.swatch.tag;
}

/* What is recorded for an outcome of a bench test; of a blend under the microscope both kinds at once. */
static const char *result_of(const struct tb_verdict *v, const struct tb_outcome *o, const char *words)
{
    if (strchr(o->result, ':'))
        return strchr(o->result, ':') + 1;
    assert_string_equal(v->confirm.test, "bench:microscope");
    return strstr(words, "cotton") ? "smooth_rod,twisted_ribbon" : "scales,smooth_rod";
}

/* The result of one confirming test after the other, each in the place of the one before. */
static size_t record_tests(struct scene *s, const struct tb_verdict *v, const char *words)
{
    const char *before = NULL;
    char test[64];
    size_t n = 0;

    (void)snprintf(test, sizeof test, "%.*s", (int)strcspn(v->outcome[0].result, ":"), v->outcome[0].result);
    for (; n < v->n_outcome; n++) {
        const struct tb_outcome *o = &v->outcome[n];
        struct tb_try_outcome out;

        OK(tb_act_try(&out, &s->actor,
                      &(struct tb_try_request){ .swatch = v->confirm_swatch,
                                                .test = test,
                                                .result = result_of(v, o, words),
                                                .corrects = before },
                      &s->mem, &err));
        if (out.judged.v.verdict.grade != o->grade ||
            !(fabs(within(&out.judged.v.verdict) - o->bounded) < SAME))
            fail_msg("%s of %s: printed grade %d, %.9g; recorded grade %d, %.9g", o->result,
                     v->confirm_swatch, (int)o->grade, o->bounded, (int)out.judged.v.verdict.grade,
                     within(&out.judged.v.verdict));
        before = out.test.id;
        tb_rejudged_free(&out.judged);
    }
    return n;
}

/*
 * What the published descriptions of the declared cloth mostly say, each with one chance in two at least, of all that a flame shows.
 * docs/method.md, section 6.
 */
static void see_published(struct tb_observation *o, const char *words)
{
    struct tb_declared_blend blend;
    struct tb_declaration d = { 0 };
    struct tb_text reason = { 0 }, notes = { 0 };

    tb_declaration_read(&d, words, strlen(words));
    assert_true(tb_declared_from(&blend, model, &d.comp.part[0], &reason, &notes));
    for (int c = 0; c < (int)tb_cue_count(); c++) {
        struct tb_channel channel;
        struct tb_cue one;

        tb_cue_at(&one, c);
        tb_channel_at(&channel, one.channel);
        if (!channel.bench)
            tb_observation_look(o, one.channel);
        if (!channel.bench && tb_cue_chance(model, &blend.blend, c) >= 0.5)
            tb_observation_see(o, c);
    }
    tb_text_free(&reason);
    tb_text_free(&notes);
    tb_declaration_free(&d);
}

/* What can come of it: the swatches burn as before, or as the declared cloth does. Each result is named once. */
static void are_outcomes_of_a_burn(const struct tb_verdict *v)
{
    assert_true(v->n_outcome == 1 || v->n_outcome == 2);
    assert_null(v->confirm_swatch); /* what was burned is used up */
    if (v->n_outcome == 2)
        assert_string_equal(v->outcome[0].result, "again");
    assert_string_equal(v->outcome[v->n_outcome - 1].result, "as_declared");
    assert_string_equal(v->outcome[v->n_outcome - 1].meaning,
                        "for another person it burns as is published of what is declared");
}

static void no_result_is_named_twice(const struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_outcome; i++)
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(v->outcome[i].result, v->outcome[k].result);
}

/* Another swatch of the same bolt, burned by somebody who has not seen the cloth yet. */
static void record_burn(struct scene *s, const struct tb_outcome *o, const char *tag,
                        const struct tb_observation *seen, const char **before)
{
    struct tb_actor actor = { s->actor.book, "Dee Lund" };
    struct tb_burn_outcome out;

    OK(tb_act_burn(&out, &actor,
                   &(struct tb_burn_request){
                       .swatch = tag, .seen = seen, .sample_mm = (double)NAN, .corrects = *before },
                   &s->mem, &err));
    if (out.judged.v.verdict.grade != o->grade || !(fabs(within(&out.judged.v.verdict) - o->bounded) < SAME))
        fail_msg("%s beside %s: printed grade %d, %.9g; recorded grade %d, %.9g", o->result, tag,
                 (int)o->grade, o->bounded, (int)out.judged.v.verdict.grade, within(&out.judged.v.verdict));
    *before = out.burn.id;
    tb_rejudged_free(&out.judged);
}

/* What is drawn of one lot. */
struct drawn_lot {
    const char *ref, *tag[BOLTS_MOST];
    struct tb_observation seen[BOLTS_MOST];
    int bolts;
    struct tb_rejudged last;
};

/* Beside the swatch of bolt i: a new one, its burns each in the place of the one before. */
static void record_burns(struct scene *s, const struct drawn_lot *l, const struct tb_verdict *v, int i)
{
    const char *before = NULL, *tag = cut_of(s, l->ref, i);
    char bolt[16];

    (void)snprintf(bolt, sizeof bolt, "B%d", i + 1);
    assert_string_equal(v->confirm_bolt, bolt);
    for (size_t k = 0; k < v->n_outcome; k++) {
        struct tb_observation seen = l->seen[i];

        if (strcmp(v->outcome[k].result, "again") != 0) {
            seen = (struct tb_observation){ 0 };
            see_published(&seen, l->last.v.declaration.text);
        }
        record_burn(s, &v->outcome[k], tag, &seen, &before);
    }
}

static size_t record(struct scene *s, struct drawn_lot *l)
{
    const struct tb_verdict *v = &l->last.v.verdict;

    if (!v->confirm.test || !v->n_outcome)
        return 0;
    no_result_is_named_twice(v);
    if (strncmp(v->confirm.test, "burn:", 5) != 0)
        return v->confirm_swatch /* of several: tests/unit/test_act_settling.c */
                   ? record_tests(s, v, l->last.v.declaration.text)
                   : 0;
    are_outcomes_of_a_burn(v);
    for (int i = 0; i < l->bolts; i++)
        if (strcmp(l->tag[i], v->confirm_beside) == 0) {
            record_burns(s, l, v, i);
            return v->n_outcome;
        }
    fail_msg("no swatch of %s is called %s", l->ref, v->confirm_beside);
    return 0;
}

/* Where no likely result at the bench would change the verdict a laboratory is named, whose answers leave the grade. */
static bool no_test_tells(const struct tb_verdict *v)
{
    return v->confirm.test && strcmp(v->confirm.test, "laboratory") == 0 && v->n_outcome == 2 &&
           v->outcome[0].grade == v->grade && v->outcome[1].grade == v->grade;
}

static void make_lot(struct scene *s, struct drawn_lot *l, int64_t serial)
{
    static const char *const who[] = { "Ada Fell", "Bob Hay", "Cid Roe" };
    bool alike = drawn(2);
    int persons = 1 + (int)drawn(TB_COUNT(who));
    struct tb_lot lot;

    l->bolts = 1 + (int)drawn(BOLTS_MOST);
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &lot, serial, declared[drawn(TB_COUNT(declared))], l->bolts, "B");
    OK(tb_book_commit(s->actor.book, &err));
    l->ref = lot.ref;
    for (int i = 0; i < l->bolts; i++) {
        l->tag[i] = cut_of(s, l->ref, i);
        if (i == 0 || !alike)
            draw_burn(&l->seen[i]);
        else
            l->seen[i] = l->seen[0];
        tb_rejudged_free(&l->last);
        l->last = burn(s, who[i % persons], l->tag[i], &l->seen[i]);
    }
}

static void a_printed_outcome_is_what_the_book_records(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    size_t told = 0, lots = 0;

    (void)state;
    for (int64_t k = 0; k < BOOK_LOTS; k++) {
        struct drawn_lot l = { 0 };
        size_t n;

        make_lot(s, &l, k + 2);
        if (drawn(3) == 0) { /* a test before */
            struct tb_try_outcome out;

            OK(tb_act_try(&out, &s->actor,
                          &(struct tb_try_request){ .swatch = l.tag[drawn((size_t)l.bolts)],
                                                    .test = "microscope",
                                                    .result = drawn(2) ? "smooth_rod" : "scales" },
                          &s->mem, &err));
            tb_rejudged_free(&l.last);
            l.last = out.judged;
        }
        n = record(s, &l);
        told += n;
        lots += n > 0 || no_test_tells(&l.last.v.verdict);
        tb_rejudged_free(&l.last);
    }
    (void)printf("# %zu results of %zu lots\n", told, lots);
    assert_true(lots > BOOK_LOTS / 2);
    scene_free(s);
}

/* --- many, without a book ------------------------------------------------------------------------------------ */

/* Room for one more. */
struct bare_lot {
    struct tb_observation obs[BOLTS_MOST + 1];
    const char *bolt[BOLTS_MOST + 1];
    struct tb_lot_burns burns;
};

static void draw_lot(struct bare_lot *l)
{
    static const char *const tag[] = { "1", "2", "3" }, *const who[] = { "Ada Fell", "Bob Hay", "Cid Roe" };
    bool alike = drawn(2);
    size_t persons = 1 + drawn(TB_COUNT(who));
    int bench = -1;

    *l = (struct bare_lot){ .burns = { .ref = "W26-001.01",
                                       .delivery = "",
                                       .declared = declared[drawn(TB_COUNT(declared))],
                                       .n = 1 + drawn(BOLTS_MOST) } };
    for (size_t i = 0; i < l->burns.n; i++) {
        if (i == 0 || !alike)
            draw_burn(&l->obs[i]);
        else
            l->obs[i] = l->obs[0];
        l->obs[i].swatch = tag[i];
        l->obs[i].person = who[i % persons];
        l->bolt[i] = tag[drawn(i + 1)]; /* some bolts are burned twice */
    }
    while (drawn(2) && bench < 0) {
        int cue = (int)drawn(tb_cue_count());
        struct tb_channel channel;
        struct tb_cue c;

        tb_cue_at(&c, cue);
        tb_channel_at(&channel, c.channel);
        bench = channel.bench ? cue : -1;
    }
    if (bench >= 0)
        tb_observation_see(&l->obs[drawn(l->burns.n)], bench);
    l->burns.obs = l->obs;
    l->burns.bolt = l->bolt;
}

/* The outcome joins what was seen as the book would have it (src/work/observe.c); false where it cannot be made up here. */
static bool add_outcome(struct bare_lot *l, const struct tb_verdict *v, const struct tb_outcome *o)
{
    const char *named = v->confirm_swatch ? v->confirm_swatch : v->confirm_beside;
    size_t at = 0;
    int cue;

    if (!named) /* of several: tests/unit/test_act_settling.c */
        return false;
    while (strcmp(l->obs[at].swatch, named) != 0)
        at++;
    if (strchr(o->result, ':')) {
        assert_int_equal(tb_cue_find(&cue, o->result, &err), TB_OK);
        tb_observation_see(&l->obs[at], cue);
        return true;
    }
    if (strncmp(v->confirm.test, "burn:", 5) != 0) {
        const char *words = result_of(v, o, l->burns.declared);
        size_t read = 0;

        while (tb_result_next(&cue, "microscope", words, &read))
            tb_observation_see(&l->obs[at], cue);
        return true;
    }
    are_outcomes_of_a_burn(v);
    assert_string_equal(v->confirm_bolt, l->bolt[at]);
    if (strcmp(o->result, "again") != 0)
        see_published(&l->obs[l->burns.n], l->burns.declared);
    for (int c = 0; strcmp(o->result, "again") == 0 && c < (int)tb_cue_count(); c++) {
        struct tb_channel channel;
        struct tb_cue one;

        tb_cue_at(&one, c);
        tb_channel_at(&channel, one.channel);
        if (l->obs[at].sight[c] == TB_SIGHT_SEEN && !channel.bench)
            tb_observation_see(&l->obs[l->burns.n], c);
    }
    l->obs[l->burns.n].swatch = "4";
    l->obs[l->burns.n].person = "Dee Lund";
    l->bolt[l->burns.n++] = l->bolt[at];
    return true;
}

/* Whoever makes a test wants to know something: what it says is never the same whatever comes out; a laboratory answers for the cloth. */
static void some_outcomes_differ(const struct bare_lot *l, const struct tb_verdict *v)
{
    bool differ =
        v->n_outcome == 0 || no_test_tells(v) || (v->n_outcome == 1 && v->outcome[0].grade != v->grade);

    for (size_t i = 1; i < v->n_outcome; i++)
        differ |= v->outcome[i].grade != v->outcome[0].grade;
    if (!differ)
        fail_msg("%s: whatever '%s' says, it is grade %d", l->burns.declared, v->confirm.name,
                 (int)v->outcome[0].grade);
    assert_true(v->kind == TB_FITS || v->reason || v->n_outcome ||
                strcmp(v->confirm.test, "laboratory") == 0 ||
                strcmp(v->confirm.test, "licensed_laboratory") == 0);
}

static size_t check_outcomes(const struct bare_lot *l, struct tb_recall *recall)
{
    struct tb_lot_verdict v, then;
    size_t n = 0;

    OK(tb_bench_weigh(&v, &l->burns, model, recall, TB_WANT_NEXT | TB_WANT_OUTCOMES, &err));
    some_outcomes_differ(l, &v.verdict);
    no_result_is_named_twice(&v.verdict);
    for (size_t i = 0; i < v.verdict.n_outcome; i++) {
        const struct tb_outcome *o = &v.verdict.outcome[i];
        struct bare_lot with = *l;

        with.burns.obs = with.obs;
        with.burns.bolt = with.bolt;
        if (!add_outcome(&with, &v.verdict, o))
            continue;
        OK(tb_bench_weigh(&then, &with.burns, model, recall, 0, &err));
        if (then.verdict.grade != o->grade || !(fabs(within(&then.verdict) - o->bounded) < SAME))
            fail_msg("%s, %s of %s: printed grade %d, %.9g; recorded grade %d, %.9g", l->burns.declared,
                     o->result, v.verdict.confirm_swatch, (int)o->grade, o->bounded, (int)then.verdict.grade,
                     within(&then.verdict));
        tb_lot_verdict_free(&then);
        n++;
    }
    tb_lot_verdict_free(&v);
    return n;
}

static void outcomes_of_many_lots_are_what_they_are_judged_to_be_then(void **state)
{
    struct tb_recall *recall = tb_recall_new(model);
    size_t told = 0, lots = 0;

    (void)state;
    for (size_t tried = 0; lots < LOTS; tried++) {
        struct bare_lot l;
        size_t n;

        assert_true(tried < 2 * LOTS);
        draw_lot(&l);
        n = check_outcomes(&l, recall);
        told += n;
        lots += n > 0;
    }
    (void)printf("# %zu results of %zu lots\n", told, lots);
    tb_recall_free(recall);
}

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_printed_outcome_is_what_the_book_records),
        cmocka_unit_test(outcomes_of_many_lots_are_what_they_are_judged_to_be_then),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
