/* Cutting: a swatch of a bolt or of known cloth gets its tag. */
#include "base/say.h"
#include "tenterbook/act_bench.h"
#include "work/act.h"
#include "work/burn.h"
#include "work/moment.h"

#include <string.h>

static tb_rc find_bolt(struct tb_job *j)
{
    const struct tb_cut_request *r = j->request;
    struct tb_cut_outcome *out = j->out;
    struct tb_declaration d;
    struct tb_bolt bolt;
    tb_rc rc;

    if ((rc = tb_job_lot_of(&out->lot, j, r->lot, r->bolt)) != TB_OK ||
        (rc = tb_job_bolt(&bolt, j, &out->lot, r->bolt)) != TB_OK)
        return rc;
    if ((rc = tb_bolt_standing_now(&out->standing, j->b, &out->lot, bolt.id, j->mem, j->err)) != TB_OK)
        return rc;
    rc = tb_lot_words(&d, j->b, &out->lot, j->err);
    out->also = d.also; /* whoever cuts is told of it */
    tb_declaration_free(&d);
    if (rc != TB_OK || (rc = tb_lot_unburnable(&out->unburnable, j->b, &out->lot, j->err)) != TB_OK)
        return rc;
    out->swatch.lot = out->lot.id;
    out->swatch.lot_ref = out->lot.ref;
    out->swatch.bolt = bolt.id;
    out->swatch.bolt_number = bolt.number;
    return tb_swatch_waiting(&out->waiting, &out->n_waiting, j->b, bolt.id, r->part, j->mem, j->err);
}

/* Known cloth teaches the site's reference, so its composition has to be beyond doubt. */
static tb_rc check_known(const char *known, struct tb_err *err)
{
    struct tb_declaration d;
    tb_rc rc = TB_OK;

    tb_declaration_read(&d, known, strlen(known));
    if (!tb_declaration_clear(&d))
        rc = tb_about(err,
                      tb_fail(err, TB_EINVAL, "'%s' cannot be read for certain: %s", known,
                              d.n ? d.doubt[0].say : "no composition in it"),
                      "known");
    tb_declaration_free(&d);
    return rc;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_cut_request *r = j->request;
    struct tb_cut_outcome *out = j->out;
    tb_rc rc = tb_moment_check("the moment of the cut", r->cut_at, j->err);

    *out = (struct tb_cut_outcome){ .swatch = { .part = r->part,
                                                .kept = r->kept,
                                                .known = r->known ? r->known : "",
                                                .cut_at = r->cut_at },
                                    .also = -1 };
    if (rc != TB_OK)
        return rc;
    if ((r->bolt != NULL) == (r->known != NULL))
        return tb_fail(j->err, TB_EINVAL, "a swatch is of a bolt or of known cloth: name one of the two");
    if ((rc = tb_photos_check(&(struct tb_photos){ "swatch", r->photo, r->photos }, j, NULL)) != TB_OK)
        return rc;
    rc = r->known ? check_known(r->known, j->err) : find_bolt(j);
    return rc == TB_OK ? tb_bench_handling_check(j->b, r->known, out->lot.ref, TB_HANDLING_FLAMELESS,
                                                 r->cut_at, j->err)
                       : rc;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_cut_request *r = j->request;
    struct tb_cut_outcome *out = j->out;
    tb_rc rc = tb_swatch_add(&out->swatch, j->b, j->mem, j->err);

    j->subject = out->swatch.tag;
    return rc == TB_OK
               ? tb_photos_add(&(struct tb_photos){ "swatch", r->photo, r->photos }, j, out->swatch.id)
               : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_cut_request, bolt, N_("the number of the bolt")),
    TB_SAYS(tb_cut_request, lot, N_("the lot")),
    TB_SAYS(tb_cut_request, known, N_("the known cloth")),
    TB_SAYS(tb_cut_request, kept, N_("where the unburnt half lies")),
    TB_SAYS(tb_cut_request, cut_at, N_("the moment")),
    TB_SAYS_NO_MORE,
};

static const struct tb_act act = {
    .verb = TB_VERB_CUT, .plan = plan, .write = write, .size = sizeof(struct tb_cut_request), .said = said
};

tb_rc tb_cut_look(struct tb_cut_outcome *out, struct tb_book *b, const struct tb_cut_request *request,
                  struct tb_arena *mem, struct tb_err *err)
{
    return tb_act_try_out(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, b, err);
}

tb_rc tb_act_cut(struct tb_cut_outcome *out, const struct tb_actor *actor,
                 const struct tb_cut_request *request, struct tb_arena *mem, struct tb_err *err)
{
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
