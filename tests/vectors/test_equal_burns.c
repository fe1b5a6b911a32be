/*
 * Whoever burns the same again adds nothing, and takes nothing away: burns of one person that say the same, and a bench test
 * of any of their swatches, are judged as one such burn with that test.
 *
 * Cues are drawn from what published descriptions say of some fibre, and held against a fibre drawn too.
 */
#include "evidence_model.h"
#include "gen/ref_burn_fibre.h"
#include "published_burn.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define LOTS 400
#define BURNS_MOST 4
#define SAME 1e-9 /* of the logarithm of a ratio: what sums in another order lose */

static const char *const swatch[BURNS_MOST] = { "1", "2", "3", "4" };

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

/* A linear congruential generator (Knuth, MMIX): the same lots on every machine. */
static size_t drawn(uint64_t *seed, size_t n)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(*seed >> 33) % n;
}

/* One to all of the cues that some published description says. */
static void draw_burn(struct tb_observation *o, uint64_t *seed)
{
    struct tb_observation all = { 0 };
    int seen[TB_CUES_MOST];
    size_t n = 0;

    *o = (struct tb_observation){ 0 };
    do
        take_profile(&all, &tb_ref_burn_profile[drawn(seed, tb_ref_burn_profile_n)]);
    while (tb_observation_empty(&all));
    for (int c = 0; c < (int)tb_cue_count(); c++)
        if (all.sight[c] == TB_SIGHT_SEEN)
            seen[n++] = c;
    for (size_t left = n ? 1 + drawn(seed, n) : 0; left > 0; left--) {
        size_t at = drawn(seed, n);

        tb_observation_see(o, seen[at]);
        seen[at] = seen[--n];
    }
}

static int drawn_result(uint64_t *seed)
{
    for (;;) {
        int cue = (int)drawn(seed, tb_cue_count());
        struct tb_channel channel;
        struct tb_cue c;

        tb_cue_at(&c, cue);
        tb_channel_at(&channel, c.channel);
        if (channel.bench)
            return cue;
    }
}

static void judge(struct tb_verdict *v, const struct tb_declaration *d, const struct tb_observation *o,
                  size_t n)
{
    struct tb_err err = { 0 };

    if (tb_evidence_judge(v, model, d, o, n, 0, &err) != TB_OK || v->reason)
        fail_msg("%s: %s", d->text, v->reason ? v->reason : err.msg);
}

/* `others`: burns of one person more, which say what they say beside either. */
static void compare(const struct tb_declaration *d, const struct tb_observation *burn, int result,
                    size_t burns, size_t at, const struct tb_observation *other)
{
    struct tb_observation o[BURNS_MOST + 1], one[2] = { *burn };
    struct tb_verdict many = { 0 }, single = { 0 };

    for (size_t i = 0; i < burns; i++) {
        o[i] = *burn;
        o[i].swatch = swatch[i];
    }
    tb_observation_see(&o[at], result);
    tb_observation_see(&one[0], result);
    if (other)
        o[burns] = one[1] = *other;
    judge(&many, d, o, burns + (other ? 1 : 0));
    judge(&single, d, one, other ? 2 : 1);
    if (!(fabs(many.log_ratio - single.log_ratio) < SAME) || many.grade != single.grade)
        fail_msg("%s, %zu burns, result %d: log ratio %.12g, of one burn %.12g; grades %d and %d", d->text,
                 burns, result, many.log_ratio, single.log_ratio, (int)many.grade, (int)single.grade);
    tb_verdict_free(&many);
    tb_verdict_free(&single);
}

static void compare_lots(bool by_two)
{
    uint64_t seed = 20261127;

    for (size_t k = 0; k < LOTS; k++) {
        const char *fibre = tb_ref_burn_fibre[drawn(&seed, tb_ref_burn_fibre_n)].fibre,
                   *name = tb_fibre_at(tb_fibre_by_key(fibre))->name;
        struct tb_declaration d = { 0 };
        struct tb_observation burn, other;
        size_t burns = 2 + drawn(&seed, BURNS_MOST - 1);

        tb_declaration_read(&d, name, strlen(name));
        draw_burn(&burn, &seed);
        draw_burn(&other, &seed);
        other.person = "another";
        other.swatch = "5";
        compare(&d, &burn, drawn_result(&seed), burns, drawn(&seed, burns), by_two ? &other : NULL);
        tb_declaration_free(&d);
    }
}

static void equal_burns_take_nothing_from_a_bench_test(void **state)
{
    (void)state;
    compare_lots(false);
}

static void nor_where_another_person_burned_too(void **state)
{
    (void)state;
    compare_lots(true);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(equal_burns_take_nothing_from_a_bench_test),
        cmocka_unit_test(nor_where_another_person_burned_too),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
