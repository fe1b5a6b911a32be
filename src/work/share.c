/* Sharing: a joint sample dealt at random from the retained swatches of a lot. */
#include "tenterbook/act_draw.h"

#include "base/say.h"
#include "work/act.h"
#include "work/seed.h"

#include <string.h>

/* Who holds which swatch. Parts of the cloth are dealt apart: only those of one part are alike. */
static tb_rc deal(struct tb_joint_sample *j, const struct tb_swatch *s, size_t n, struct tb_arena *mem,
                  struct tb_err *err)
{
    const char **part = tb_arena_alloc(mem, (n + 1) * sizeof *part);
    enum tb_holder_kind *holder = tb_arena_alloc(mem, (n + 1) * sizeof *holder);
    long each;
    tb_rc rc;

    for (size_t i = 0; i < n; i++)
        part[i] = tb_part_key(s[i].part);
    if ((rc = tb_deal(holder, &each, part, n, j->seed, err)) != TB_OK)
        return rc;
    if (each == 0)
        return tb_fail(
            err, TB_EREFUSED,
            "there are %zu retained swatches to deal, and it takes three of one part of the cloth; cut more "
            "and say where they are kept (tenterbook cut)",
            n);
    j->each_one = each;
    j->swatches = (int64_t)n;
    j->pieces = n;
    j->piece = tb_arena_alloc(mem, n * sizeof *j->piece);
    for (size_t i = 0; i < n; i++)
        j->piece[i] = (struct tb_joint_piece){ .swatch = s[i].id, .holder = holder[i] };
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_share_request *r = j->request;
    struct tb_share_outcome *out = j->out;
    struct tb_swatch *s = NULL;
    size_t n = 0;
    tb_rc rc;

    *out = (struct tb_share_outcome){ 0 };
    if ((rc = tb_job_lot(&out->lot, j, r->lot)) != TB_OK ||
        (rc = tb_retained_list(&s, &n, j->b, out->lot.id, j->mem, j->err)) != TB_OK)
        return rc;
    out->sample = (struct tb_joint_sample){ .lot = out->lot.id,
                                            .seed = r->seed ? r->seed : tb_seed_make(j->mem),
                                            .laboratory = r->laboratory,
                                            .rule = r->rule,
                                            .present = r->present };
    rc = deal(&out->sample, s, n, j->mem, j->err);
    return rc == TB_OK ? rc : tb_within(j->err, rc, "lot %s", out->lot.ref);
}

static tb_rc write(struct tb_job *j)
{
    struct tb_share_outcome *out = j->out;
    struct tb_joint_sample *all = NULL;
    size_t n = 0;
    tb_rc rc;

    if ((rc = tb_joint_sample_add(&out->sample, j->b, j->mem, j->err)) == TB_OK &&
        (rc = tb_joint_sample_list(&all, &n, j->b, out->lot.id, j->mem, j->err)) == TB_OK)
        out->sample = all[n - 1]; /* as the book has it: the person by the name that is recorded */
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_share_request, lot, N_("the lot")),
    TB_SAYS(tb_share_request, seed, N_("the seed")),
    TB_SAYS(tb_share_request, laboratory, N_("the laboratory")),
    TB_SAYS(tb_share_request, rule, N_("the rule")),
    TB_SAYS(tb_share_request, present, N_("who was there")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_share(struct tb_share_outcome *out, const struct tb_actor *actor,
                   const struct tb_share_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_SHARE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_share_request),
                                       .said = said };

    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
