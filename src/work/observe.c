/* From records of burns and bench tests to what the engine takes: observations. */
#include "work/observe.h"

#include <string.h>

tb_rc tb_burn_observed(struct tb_observation *o, const struct tb_burn *burn, struct tb_err *err)
{
    int cue;
    tb_rc rc;

    *o = (struct tb_observation){ .part = burn->part, .swatch = burn->tag, .person = burn->burned_by };
    if ((rc = tb_observation_read(o, NULL, NULL, burn->looked, err)) != TB_OK)
        return tb_within(err, rc, "burn of %s", burn->tag);
    for (size_t i = 0; i < burn->cues; i++) {
        cue = tb_cue_by_key(burn->cue[i].cue);
        if (cue < 0)
            return tb_fail(err, TB_EINVAL, "burn of %s: this program has no cue '%s'", burn->tag,
                           burn->cue[i].cue);
        if (burn->cue[i].seen)
            tb_observation_see(o, cue);
        else
            tb_observation_deny(o, cue);
    }
    return TB_OK;
}

/* A bench test joins the last burn of its swatch that did not look at that channel; else it stands alone. */
static tb_rc add_test(struct tb_observation *list, size_t *n, const struct tb_bench_test *t,
                      struct tb_err *err)
{
    struct tb_observation *at = NULL;
    int channel = tb_channel_by_key(t->test), number;
    size_t read = 0;

    while (tb_result_next(&number, t->test, t->result, &read))
        if (number < 0)
            channel = -1;
    if (channel < 0)
        return tb_fail(err, TB_EINVAL, "test of %s: this program has no result '%s' of '%s'", t->tag,
                       t->result, t->test);
    for (size_t i = *n; i-- > 0 && !at;)
        if (strcmp(list[i].swatch, t->tag) == 0 && !list[i].looked[channel])
            at = &list[i];
    if (!at) {
        at = &list[(*n)++];
        *at = (struct tb_observation){ .part = t->part, .swatch = t->tag, .person = t->tested_by };
    }
    for (read = 0; tb_result_next(&number, t->test, t->result, &read);)
        tb_observation_see(at, number);
    return TB_OK;
}

static bool left_out(const struct tb_pending *p, const char *id, const char *swatch)
{
    for (size_t i = 0; i < p->withouts; i++)
        if (strcmp(p->without[i], id) == 0 || strcmp(p->without[i], swatch) == 0)
            return true;
    return false;
}

static bool corrected(const struct tb_pending *p, const char *id)
{
    for (size_t k = 0; k < p->burns; k++)
        if (p->burn[k].replaces && strcmp(p->burn[k].replaces, id) == 0)
            return true;
    return false;
}

/* What comes back stands where it was recorded: ids rise with time, as the rows of the journal do. */
static void put_back(struct tb_burn *all, size_t *n, const struct tb_burn *one)
{
    size_t at = *n;

    for (; at > 0 && strcmp(all[at - 1].id, one->id) > 0; at--)
        all[at] = all[at - 1];
    all[at] = *one;
    ++*n;
}

static void put_test_back(struct tb_bench_test *all, size_t *n, const struct tb_bench_test *one)
{
    size_t at = *n;

    for (; at > 0 && strcmp(all[at - 1].id, one->id) > 0; at--)
        all[at] = all[at - 1];
    all[at] = *one;
    ++*n;
}

/* What counts: what the book holds, less what a pending record corrects or takes back, then what is pending. */
static struct tb_burn *burns_with(size_t *n, const struct tb_burn *list, size_t held,
                                  const struct tb_pending *p, struct tb_arena *mem)
{
    struct tb_burn *all = tb_arena_alloc(mem, (held + p->burns + p->backs + 1) * sizeof *all);

    *n = 0;
    for (size_t i = 0; i < held; i++)
        if (!corrected(p, list[i].id) && !left_out(p, list[i].id, list[i].swatch))
            all[(*n)++] = list[i];
    for (size_t i = 0; i < p->backs; i++)
        put_back(all, n, &p->back[i]);
    for (size_t k = 0; k < p->burns; k++) {
        all[*n] = p->burn[k];
        all[(*n)++].burned_by = p->who;
    }
    return all;
}

static struct tb_bench_test *tests_with(size_t *n, const struct tb_bench_test *list, size_t held,
                                        const struct tb_pending *p, struct tb_arena *mem)
{
    struct tb_bench_test *all = tb_arena_alloc(mem, (held + p->back_tests + 2) * sizeof *all);

    *n = 0;
    for (size_t i = 0; i < held; i++)
        if (!left_out(p, list[i].id, list[i].swatch) &&
            (!p->test || !p->test->replaces || strcmp(p->test->replaces, list[i].id) != 0))
            all[(*n)++] = list[i];
    for (size_t i = 0; i < p->back_tests; i++)
        put_test_back(all, n, &p->back_test[i]);
    if (p->test) {
        all[*n] = *p->test;
        all[(*n)++].tested_by = p->who;
    }
    return all;
}

tb_rc tb_lot_observations(struct tb_observation **out, size_t *n, struct tb_book *b, const char *lot_id,
                          const struct tb_pending *pending, int64_t upto, struct tb_arena *mem,
                          struct tb_err *err)
{
    static const struct tb_pending none = { 0 };
    struct tb_burn *burn = NULL;
    struct tb_bench_test *test = NULL;
    size_t burns = 0, tests = 0;
    tb_rc rc;

    *n = 0;
    if ((rc = tb_burn_list_upto(&burn, &burns, b, lot_id, upto, mem, err)) != TB_OK ||
        (rc = tb_bench_test_list_upto(&test, &tests, b, lot_id, upto, mem, err)) != TB_OK)
        return rc;
    burn = burns_with(&burns, burn, burns, pending ? pending : &none, mem);
    test = tests_with(&tests, test, tests, pending ? pending : &none, mem);
    *out = tb_arena_alloc(mem, (burns + tests + 1) * sizeof **out);
    for (size_t i = 0; i < burns && rc == TB_OK; i++)
        rc = tb_burn_observed(&(*out)[(*n)++], &burn[i], err);
    for (size_t i = 0; i < tests && rc == TB_OK; i++)
        rc = add_test(*out, n, &test[i], err);
    return rc;
}
