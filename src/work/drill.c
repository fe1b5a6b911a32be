/* Dealing a drill: cards of known swatches for a tester, in an order nobody chose. */
#include "tenterbook/act_drill.h"

#include "work/act.h"
#include "work/seed.h"

#include <stdio.h>

/* The swatches stand beside the outcome: whoever deals learns the tags only, and cuts the pieces. */
struct dealing {
    const struct tb_drill_request *request;
    struct tb_drill_outcome *out;
    struct tb_arena *mem;
    const char **swatch; /* ids, in the order of the cards */
    char made[TB_SEED_LEN + 1];
};

static tb_rc check(const struct tb_drill_request *r, struct tb_err *err)
{
    if (!r->to || !*r->to)
        return tb_fail(err, TB_EINVAL, "say whom the swatches are for");
    if (r->count > TB_CARDS_MOST)
        return tb_fail(err, TB_EINVAL, "%zu cards are more than one drill takes, which is %d", r->count,
                       TB_CARDS_MOST);
    return TB_OK;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct dealing *d = arg;
    const struct tb_drill_request *r = d->request;
    struct tb_drill_outcome *out = d->out;
    struct tb_swatch *known = NULL;
    size_t n = 0, *order;
    tb_rc rc;

    (void)write;
    if ((rc = check(r, err)) != TB_OK || (rc = tb_swatch_list(&known, &n, b, NULL, d->mem, err)) != TB_OK)
        return rc;
    if (n == 0)
        return tb_fail(
            err, TB_EINVAL,
            "there are no known cloths to deal from; register some with tenterbook cut --known COMPOSITION");
    *out = (struct tb_drill_outcome){ .to = r->to,
                                      .seed = tb_arena_strdup(d->mem, r->seed ? r->seed : d->made),
                                      .n = r->count ? r->count : TB_CARDS_DEFAULT };
    order = tb_arena_alloc(d->mem, out->n * sizeof *order);
    if ((rc = tb_shuffle(order, out->n, n, out->seed, err)) != TB_OK)
        return rc;
    out->tag = tb_arena_alloc(d->mem, out->n * sizeof *out->tag);
    d->swatch = tb_arena_alloc(d->mem, out->n * sizeof *d->swatch);
    for (size_t i = 0; i < out->n; i++) {
        out->tag[i] = known[order[i]].tag;
        d->swatch[i] = known[order[i]].id;
    }
    return TB_OK;
}

/* Known cloth never goes away, and the number of the drill is given under the lock. */
static bool concerns(void *arg, const struct tb_journal_row *row)
{
    (void)arg;
    (void)row;
    return false;
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct dealing *d = arg;
    struct tb_drill_outcome *out = d->out;
    char subject[32];
    tb_rc rc = tb_drill_add(&out->drill, b, out->to, out->seed, d->swatch, out->n, err);

    (void)snprintf(subject, sizeof subject, "drill %lld", (long long)out->drill);
    tb_book_subject(b, subject);
    return rc;
}

tb_rc tb_act_drill(struct tb_drill_outcome *out, const struct tb_actor *actor,
                   const struct tb_drill_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "drill", plan, concerns, write };
    struct dealing d = { .request = request, .out = out, .mem = mem };

    tb_seed_make(d.made);
    *out = (struct tb_drill_outcome){ 0 };
    return tb_act_do(&act, &d, actor, err);
}
