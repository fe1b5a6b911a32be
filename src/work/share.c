/* Sharing: a joint sample dealt at random from the retained swatches of a lot. */
#include "tenterbook/act_draw.h"

#include "work/act.h"
#include "work/seed.h"

#include <string.h>

/* One deal under way; the seed is made once, so that a plan made again deals by the same. */
struct sharing {
    const struct tb_share_request *request;
    struct tb_share_outcome *out;
    struct tb_arena *mem;
    char made[TB_SEED_LEN + 1];
};

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
            "and say where they are kept (tenterbook cut BOLT --kept WHERE)",
            n);
    j->each_one = each;
    j->swatches = (int64_t)n;
    j->pieces = n;
    j->piece = tb_arena_alloc(mem, n * sizeof *j->piece);
    for (size_t i = 0; i < n; i++)
        j->piece[i] = (struct tb_joint_piece){ .swatch = s[i].id, .holder = holder[i] };
    return TB_OK;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct sharing *a = arg;
    const struct tb_share_request *r = a->request;
    struct tb_lot *lot = &a->out->lot;
    struct tb_swatch *s = NULL;
    size_t n = 0;
    tb_rc rc;

    (void)write;
    *a->out = (struct tb_share_outcome){ 0 };
    if ((rc = tb_lot_find(lot, b, r->lot, a->mem, err)) != TB_OK)
        return rc;
    a->out->sample = (struct tb_joint_sample){ .lot = lot->id,
                                               .seed = tb_arena_strdup(a->mem, r->seed ? r->seed : a->made),
                                               .laboratory = r->laboratory,
                                               .rule = r->rule,
                                               .present = r->present };
    if ((rc = tb_retained_list(&s, &n, b, lot->id, a->mem, err)) != TB_OK)
        return rc;
    if ((rc = deal(&a->out->sample, s, n, a->mem, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    return TB_OK;
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct sharing *a = arg;
    struct tb_joint_sample *all = NULL;
    size_t n = 0;
    tb_rc rc;

    tb_book_subject(b, a->out->lot.ref);
    if ((rc = tb_joint_sample_add(&a->out->sample, b, a->mem, err)) == TB_OK &&
        (rc = tb_joint_sample_list(&all, &n, b, a->out->lot.id, a->mem, err)) == TB_OK)
        a->out->sample = all[n - 1]; /* as the book has it: the person by the name that is recorded */
    return rc;
}

tb_rc tb_act_share(struct tb_share_outcome *out, const struct tb_actor *actor,
                   const struct tb_share_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "share", plan, NULL, write };
    struct sharing a = { .request = request, .out = out, .mem = mem };

    tb_seed_make(a.made);
    return tb_act_do(&act, &a, actor, err);
}
