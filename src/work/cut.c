/* Cutting: a swatch of a bolt or of known cloth gets its tag. */
#include "tenterbook/act_bench.h"
#include "work/act.h"
#include "work/moment.h"

#include <string.h>

struct cutting {
    const struct tb_cut_request *request;
    struct tb_cut_outcome *out;
    struct tb_arena *mem;
};

/* The lot and bolt a person means: a bolt number, made plain by the lot where several lots have it. */
static tb_rc find_bolt(struct cutting *c, struct tb_book *b, struct tb_err *err)
{
    const struct tb_cut_request *r = c->request;
    struct tb_lot *lot = &c->out->lot;
    struct tb_bolt bolt;
    tb_rc rc = tb_lot_find(lot, b, r->lot ? r->lot : r->bolt, c->mem, err);

    if (rc == TB_OK && !r->lot && strcmp(lot->ref, r->bolt) == 0)
        return tb_fail(err, TB_EINVAL, "%s is a lot; name the bolt to cut, and --lot %s", lot->ref, lot->ref);
    if (rc == TB_OK)
        rc = tb_within(err, tb_bolt_find(&bolt, b, lot->id, r->bolt, c->mem, err), "lot %s", lot->ref);
    if (rc != TB_OK)
        return rc;
    c->out->swatch.lot = lot->id;
    c->out->swatch.lot_ref = lot->ref;
    c->out->swatch.bolt = bolt.id;
    c->out->swatch.bolt_number = bolt.number;
    return TB_OK;
}

/* Known cloth teaches the site's reference, so its composition has to be beyond doubt. */
static tb_rc check_known(const char *known, struct tb_err *err)
{
    struct tb_declaration d;
    tb_rc rc = TB_OK;

    tb_declaration_read(&d, known, strlen(known));
    if (!tb_declaration_clear(&d))
        rc = tb_fail(err, TB_EINVAL, "--known '%s' cannot be read for certain: %s", known,
                     d.n ? d.doubt[0].say : "no composition in it");
    tb_declaration_free(&d);
    return rc;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct cutting *c = arg;
    const struct tb_cut_request *r = c->request;
    struct tb_swatch *s = &c->out->swatch;
    tb_rc rc;

    (void)write;
    *c->out = (struct tb_cut_outcome){ 0 };
    *s = (struct tb_swatch){
        .part = r->part, .kept = r->kept, .known = r->known ? r->known : "", .cut_at = r->cut_at
    };
    if ((rc = tb_moment_check("the moment of the cut", r->cut_at, err)) != TB_OK)
        return rc;
    return r->known ? check_known(r->known, err) : find_bolt(c, b, err);
}

/* Lots and bolts never go away, and the tag is given under the lock: what others write does not matter. */
static bool concerns(void *arg, const struct tb_journal_row *row)
{
    (void)arg;
    (void)row;
    return false;
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct cutting *c = arg;
    tb_rc rc = tb_swatch_add(&c->out->swatch, b, c->mem, err);

    if (rc == TB_OK)
        tb_book_subject(b, c->out->swatch.tag);
    return rc;
}

tb_rc tb_act_cut(struct tb_cut_outcome *out, const struct tb_actor *actor,
                 const struct tb_cut_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "cut", plan, concerns, write };
    struct cutting c = { request, out, mem };

    return tb_act_do(&act, &c, actor, err);
}
