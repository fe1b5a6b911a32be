/* Two spellings of one supplier are made one, or parted again. */
#include "tenterbook/act_amend.h"

#include "base/say.h"
#include "work/act.h"
#include "work/same.h"

#include <string.h>

struct joining {
    const char **name; /* ids of the names that go over to the other one */
    size_t n;
    struct tb_clocks clocks; /* of the lots that may go by other terms then */
};

/* Whoever joined two names the wrong way round parts the one that is not to stay. */
static tb_rc refuse_apart(struct tb_job *j, const struct tb_supplier *alone)
{
    struct tb_text others = { 0 };
    const char **name;
    size_t n;
    tb_rc rc = tb_supplier_joined(&name, &n, j->b, alone->id, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        tb_text_addf(&others, "%s%s", i ? ", " : "", name[i]);
    if (rc == TB_OK && n)
        rc = tb_fail(j->err, TB_EREFUSED,
                     "%s is on its own, and the same as it are: %s; part one of those by its own name",
                     alone->name, others.s);
    else if (rc == TB_OK)
        rc = tb_fail(j->err, TB_EREFUSED, "%s is on its own: nothing is parted", alone->name);
    tb_text_free(&others);
    return rc;
}

static tb_rc check(struct tb_job *j, const struct tb_supplier *now)
{
    const struct tb_same_request *r = j->request;
    struct tb_same_outcome *out = j->out;
    bool joined = strcmp(now->id, out->supplier.id) != 0;

    out->fresh = !r->same_as && !tb_supplier_spelled(out->supplier.name, r->supplier);
    out->was = *now;
    if (out->fresh)
        return TB_OK;
    if (!r->same_as && !joined)
        return refuse_apart(j, &out->supplier);
    if (r->same_as && joined)
        return tb_fail(j->err, TB_EREFUSED, "%s is the same as %s already; part the two first",
                       out->supplier.name, now->name);
    if (r->same_as && strcmp(out->same_as.id, out->supplier.id) == 0)
        return tb_fail(j->err, TB_EINVAL, "both are the same name, %s", now->name);
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_same_request *r = j->request;
    struct tb_same_outcome *out = j->out;
    struct joining *w = j->own;
    struct tb_supplier now;
    tb_rc rc;

    *out = (struct tb_same_outcome){ 0 };
    if (!r->why || !*r->why)
        return tb_about(
            j->err, tb_fail(j->err, TB_EINVAL, "say how it is known: both names stay in the book"), "why");
    if ((rc = tb_supplier_as_written(&out->supplier, j->b, r->supplier, j->mem, j->err)) != TB_OK ||
        (rc = tb_supplier_find(&now, j->b, r->supplier, j->mem, j->err)) != TB_OK ||
        (r->same_as && (rc = tb_supplier_find(&out->same_as, j->b, r->same_as, j->mem, j->err)) != TB_OK) ||
        (rc = check(j, &now)) != TB_OK)
        return rc;
    j->subject = out->supplier.name;
    w->clocks = (struct tb_clocks){ 0 };
    if (!out->fresh && (rc = tb_clocks_before(&w->clocks, j, now.id)) != TB_OK)
        return rc;
    if (r->same_as)
        return tb_supplier_names(&w->name, &w->n, j->b, out->supplier.id, j->mem, j->err);
    out->same_as = out->supplier;
    w->name = &out->supplier.id;
    w->n = 1;
    return TB_OK;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_same_request *r = j->request;
    struct tb_same_outcome *out = j->out;
    struct joining *w = j->own;
    const char **names;
    tb_rc rc = TB_OK;

    if (out->fresh) {
        if ((rc = tb_supplier_apart(&out->supplier, j->b, r->supplier, j->mem, j->err)) != TB_OK)
            return rc;
        out->same_as = out->supplier; /* the name pointed at is the new one by now */
    }
    for (size_t i = 0; i < w->n && rc == TB_OK; i++)
        /* cppcheck-suppress objectIndex ; n is 1 where one name is pointed at */
        rc = tb_supplier_same(j->b, w->name[i], out->same_as.id, r->why, j->err);
    if (rc != TB_OK ||
        (rc = tb_supplier_names(&names, &out->names, j->b, out->same_as.id, j->mem, j->err)) != TB_OK ||
        (rc = tb_set_for(&out->set, j, out->same_as.id)) != TB_OK ||
        (r->same_as && (rc = tb_set_for(&out->other_set, j, out->supplier.id)) != TB_OK))
        return rc;
    return tb_clocks_moved(out, &w->clocks, j);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_same_request, supplier, N_("the supplier")),
    TB_SAYS(tb_same_request, same_as, N_("the supplier that it is")),
    TB_SAYS_WHY(tb_same_request),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_same(struct tb_same_outcome *out, const struct tb_actor *actor,
                  const struct tb_same_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_AMEND,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_same_request),
                                       .said = said };
    struct joining own = { 0 };

    *out = (struct tb_same_outcome){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem, .own = &own }, actor,
                     err);
}
