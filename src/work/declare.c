/* A declaration made plain: the words that count from now on, judged against what was seen. */
#include "base/say.h"
#include "work/act.h"
#include "work/verdict.h"

/* What a person asks for. */
struct declaring {
    const char *lot, *text;
};

static tb_rc plan(struct tb_job *j)
{
    const struct declaring *r = j->request;
    struct tb_lot *lot = &j->judged->lot;
    struct tb_pending pending = { .declared = r->text };
    tb_rc rc;

    tb_rejudged_free(j->judged);
    if (!r->text || !*r->text)
        return tb_fail(j->err, TB_EINVAL, "a declaration needs its words");
    if ((rc = tb_job_lot(lot, j, r->lot)) != TB_OK)
        return rc;
    return tb_rejudge_plan(j, lot->ref, &pending, TB_WANT_CUES);
}

static tb_rc write(struct tb_job *j)
{
    const struct declaring *r = j->request;
    const struct tb_lot *lot = &j->judged->lot;
    tb_rc rc = tb_declaration_add(j->b, lot->id, r->text, TB_ORIGIN_ANSWER, lot->declaration, j->err);

    return rc == TB_OK ? tb_rejudge_write(j) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(declaring, lot, N_("the lot")),
    TB_SAYS(declaring, text, N_("the declaration")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_declare(struct tb_rejudged *out, const struct tb_actor *actor, const char *lot, const char *text,
                     struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = {
        .verb = TB_VERB_DECLARE, .plan = plan, .write = write, .size = sizeof(struct declaring), .said = said
    };
    struct tb_job job = { .request = &(struct declaring){ lot, text }, .mem = mem, .judged = out };

    *out = (struct tb_rejudged){ 0 };
    return tb_act_do(&act, &job, actor, err);
}
