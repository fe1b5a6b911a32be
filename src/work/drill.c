/* Dealing a drill: cards of known swatches for a tester, in an order nobody chose. */
#include "tenterbook/act_drill.h"

#include "base/say.h"
#include "work/act.h"
#include "work/seed.h"

#include <string.h>

static tb_rc check(const struct tb_drill_request *r, struct tb_err *err)
{
    if (!r->to || !*r->to)
        return tb_fail(err, TB_EINVAL, "say whom the swatches are for");
    if (r->count > TB_CARDS_MOST)
        return tb_fail(err, TB_EINVAL, "%zu cards are more than one drill takes, which is %d", r->count,
                       TB_CARDS_MOST);
    return TB_OK;
}

/* A card is burned by its tester: cloth that must not be burned is not dealt. */
static size_t keep_burnable(struct tb_swatch *known, size_t n)
{
    size_t kept = 0;

    for (size_t i = 0; i < n; i++) {
        struct tb_declaration d;

        tb_declaration_read(&d, known[i].known, strlen(known[i].known));
        if (tb_declaration_handling(&d, NULL) == TB_HANDLING_ANY)
            known[kept++] = known[i];
        tb_declaration_free(&d);
    }
    return kept;
}

/* The ids of the swatches stand beside the outcome: whoever deals learns the tags only, and cuts the pieces. */
static tb_rc plan(struct tb_job *j)
{
    const struct tb_drill_request *r = j->request;
    struct tb_drill_outcome *out = j->out;
    struct tb_swatch *known = NULL;
    const char **swatch;
    size_t n = 0, *order;
    tb_rc rc;

    if ((rc = check(r, j->err)) != TB_OK ||
        (rc = tb_swatch_list(&known, &n, j->b, NULL, j->mem, j->err)) != TB_OK)
        return rc;
    n = keep_burnable(known, n);
    if (n == 0)
        return tb_fail(j->err, TB_EINVAL,
                       "there are no known cloths to deal from; register swatches of known composition first "
                       "(tenterbook cut)");
    *out =
        (struct tb_drill_outcome){ .to = r->to,
                                   .seed = r->seed ? tb_arena_strdup(j->mem, r->seed) : tb_seed_make(j->mem),
                                   .n = r->count ? r->count : TB_CARDS_DEFAULT };
    order = tb_arena_alloc(j->mem, out->n * sizeof *order);
    if ((rc = tb_shuffle(order, out->n, n, out->seed, j->err)) != TB_OK)
        return rc;
    out->tag = tb_arena_alloc(j->mem, out->n * sizeof *out->tag);
    j->own = swatch = tb_arena_alloc(j->mem, out->n * sizeof *swatch);
    for (size_t i = 0; i < out->n; i++) {
        out->tag[i] = known[order[i]].tag;
        swatch[i] = known[order[i]].id;
    }
    return TB_OK;
}

static tb_rc write(struct tb_job *j)
{
    struct tb_drill_outcome *out = j->out;
    tb_rc rc = tb_drill_add(&out->drill, j->b, out->to, out->seed, j->own, out->n, j->err);

    j->subject = tb_arena_printf(j->mem, "drill %lld", (long long)out->drill);
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_drill_request, to, N_("the name of the tester")),
    TB_SAYS(tb_drill_request, seed, N_("the seed")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_drill(struct tb_drill_outcome *out, const struct tb_actor *actor,
                   const struct tb_drill_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_DRILL,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_drill_request),
                                       .said = said };

    *out = (struct tb_drill_outcome){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
