/* Resuming: a supplier that the switching rules had stopped is let in again. */
#include "tenterbook/act_draw.h"

#include "base/say.h"
#include "work/act.h"
#include "work/standing.h"

#include <string.h>

/* Only a stop can be ended, and a resumption is known by its day: a second one on that day could not be told apart. */
static tb_rc may_resume(struct tb_job *j, const struct tb_supplier *s, const char *today)
{
    struct tb_switching state;
    const char *last = "";
    tb_rc rc;

    if ((rc = tb_supplier_standing(&state, j->b, s->id, j->mem, j->err)) != TB_OK ||
        (rc = tb_supplier_resumed(&last, j->b, s->id, j->mem, j->err)) != TB_OK)
        return rc;
    if (!state.stopped)
        return tb_fail(j->err, TB_EREFUSED, "%s is not stopped: there is nothing to resume", s->name);
    if (strcmp(last, today) == 0)
        return tb_fail(j->err, TB_EREFUSED,
                       "%s was let in again today and stopped once more; it can be let in again tomorrow",
                       s->name);
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_resume_request *r = j->request;
    struct tb_resume_outcome *out = j->out;
    char day[TB_DAY_LEN + 1];
    tb_rc rc;

    if (!r->why || !*r->why)
        return tb_fail(j->err, TB_EINVAL, "say what was put right before a supplier is let in again");
    tb_today(day);
    out->day = tb_arena_strdup(j->mem, day);
    if ((rc = tb_supplier_find(&out->supplier, j->b, r->supplier, j->mem, j->err)) != TB_OK)
        return rc;
    j->subject = out->supplier.name;
    return may_resume(j, &out->supplier, day);
}

/* Kept as a setting: the latest value counts, and the journal keeps the earlier ones with their reasons. */
static tb_rc write(struct tb_job *j)
{
    const struct tb_resume_request *r = j->request;
    const struct tb_resume_outcome *out = j->out;

    return tb_setting_set(j->b, tb_resumed_name(out->supplier.id, j->mem),
                          tb_arena_printf(j->mem, "%s %s", out->day, r->why), j->err);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_resume_request, supplier, N_("the supplier")),
    TB_SAYS_WHY(tb_resume_request),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_resume(struct tb_resume_outcome *out, const struct tb_actor *actor,
                    const struct tb_resume_request *request, struct tb_arena *mem, struct tb_err *err)
{
    /* Any row may have changed how a lot turned out, and with it the stop; asking again costs little. */
    static const struct tb_act act = { .verb = TB_VERB_RECORD,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_resume_request),
                                       .said = said };

    *out = (struct tb_resume_outcome){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
