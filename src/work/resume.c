/* Resuming: a supplier that the switching rules had stopped is let in again. */
#include "tenterbook/act_draw.h"

#include "work/act.h"
#include "work/standing.h"

#include <string.h>

/* One resumption under way. */
struct resuming {
    const struct tb_resume_request *request;
    struct tb_resume_outcome *out;
    struct tb_arena *mem;
};

/* Only a stop can be ended, and a resumption is known by its day: a second one on that day could not be told apart. */
static tb_rc may_resume(const struct tb_supplier *s, const char *today, struct tb_book *b,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_switching state;
    const char *last = "";
    tb_rc rc = tb_supplier_standing(&state, b, s->id, mem, err);

    if (rc == TB_OK)
        rc = tb_supplier_resumed(&last, b, s->id, mem, err);
    if (rc == TB_OK && !state.stopped)
        return tb_fail(err, TB_EREFUSED, "%s is not stopped: there is nothing to resume", s->name);
    if (rc == TB_OK && strcmp(last, today) == 0)
        return tb_fail(err, TB_EREFUSED,
                       "%s was let in again today and stopped once more; it can be let in again tomorrow",
                       s->name);
    return rc;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct resuming *a = arg;
    char day[TB_DAY_LEN + 1];
    tb_rc rc;

    (void)write;
    if (!a->request->why || !*a->request->why)
        return tb_fail(err, TB_EINVAL, "say what was put right before a supplier is let in again");
    tb_today(day);
    a->out->day = tb_arena_strdup(a->mem, day);
    if ((rc = tb_supplier_find(&a->out->supplier, b, a->request->supplier, a->mem, err)) != TB_OK)
        return rc;
    return may_resume(&a->out->supplier, day, b, a->mem, err);
}

/* Kept as a setting: the latest value counts, and the journal keeps the earlier ones with their reasons. */
static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct resuming *a = arg;
    struct tb_text name = { 0 }, value = { 0 };
    tb_rc rc;

    tb_resumed_name(&name, a->out->supplier.id);
    tb_text_addf(&value, "%s %s", a->out->day, a->request->why);
    tb_book_subject(b, a->out->supplier.name);
    rc = tb_setting_set(b, name.s, value.s, err);
    tb_text_free(&name);
    tb_text_free(&value);
    return rc;
}

tb_rc tb_act_resume(struct tb_resume_outcome *out, const struct tb_actor *actor,
                    const struct tb_resume_request *request, struct tb_arena *mem, struct tb_err *err)
{
    /* Any row may have changed how a lot turned out, and with it the stop; asking again costs little. */
    static const struct tb_act act = { "record", plan, NULL, write };
    struct resuming a = { request, out, mem };

    *out = (struct tb_resume_outcome){ 0 };
    return tb_act_do(&act, &a, actor, err);
}
