/* outdated.c - recorded verdicts beside the model in force: which of them would be reached otherwise. */
#include "tenterbook/outdated.h"

#include "tenterbook/concluded.h"
#include "tenterbook/follows.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/work.h"

#include <math.h>
#include <string.h>

struct comparing {
    struct tb_outdated *out;
    struct tb_book *book;
    const struct tb_evidence *ev;
    struct tb_evidence *apart; /* of the delivery asked for last; NULL: the model itself serves */
    const char *delivery;      /* its id; NULL none was asked for */
    const char
        *unseen; /* the reference of a verdict that was weighed with other figures; NULL: none was met */
    struct tb_arena *mem;
    size_t cap;
};

/* Lots of a delivery stand together in the list, and few deliveries have a model of their own. */
static const struct tb_evidence *model_of(struct comparing *c, const char *delivery)
{
    if (!c->delivery || strcmp(c->delivery, delivery) != 0) {
        tb_evidence_free(c->apart);
        c->apart = tb_evidence_apart(c->ev, delivery);
        c->delivery = delivery;
    }
    return c->apart ? c->apart : c->ev;
}

/* What is kept beside the details. */
static tb_rc read_once(struct tb_once *out, const struct tb_standing_verdict *v, struct tb_err *err)
{
    const struct tb_kept_verdict kept = { v->verdict,  v->log_ratio, v->grade,  v->lowest, v->highest,
                                          v->one_look, false,        v->detail, false };
    struct tb_told_verdict told;
    tb_rc rc = tb_told_verdict_read(&told, &kept, err);

    *out = (struct tb_once){ .reference = v->reference, .log_ratio = v->log_ratio };
    if (rc == TB_OK) {
        out->grade = told.grade;
        out->full_bounds = told.bounds;
    }
    return rc;
}

/* Without its details a verdict was made with the model in force, and has a grade that nothing hinders. */
static tb_rc read_details(struct tb_once *out, const struct tb_standing_verdict *v, struct tb_arena *passing,
                          struct tb_err *err)
{
    struct tb_stored_verdict stored;
    tb_rc rc = tb_stored_verdict_parse(&stored, v->detail, passing, err);

    if (rc == TB_OK) {
        out->full_bounds = stored.full_bounds;
        out->looks = stored.looks > 0 ? (size_t)stored.looks : 0;
        out->at_odds = stored.at_odds;
        out->hindered = stored.one_look || stored.none_alone || stored.few_tell || stored.outdone ||
                        stored.imitated || *stored.excused;
        out->log_ratio = *stored.reason ? (double)NAN : out->log_ratio;
    } else if (rc == TB_ENOTFOUND) {
        out->hindered = true;
        rc = TB_OK;
    }
    return rc;
}

/* Where a laboratory decides, the verdict does not. */
static tb_rc decides(bool *out, const struct comparing *c, const struct tb_standing_verdict *v,
                     struct tb_arena *passing, struct tb_err *err)
{
    struct tb_concluded concluded;
    struct tb_lot lot;
    tb_rc rc = TB_OK;

    *out = true;
    if (v->analyses && (rc = tb_lot_find(&lot, c->book, v->ref, passing, err)) == TB_OK &&
        (rc = tb_lot_concluded(&concluded, c->book, &lot, passing, err)) == TB_OK)
        *out = concluded.by != TB_BY_LABORATORY;
    return rc;
}

static void add(struct comparing *c, const struct tb_standing_verdict *v, enum tb_grade grade, bool unseen)
{
    struct tb_outdated *out = c->out;

    TB_ARENA_ROOM(c->mem, out->lot, out->n, c->cap);
    out->lot[out->n++] = (struct tb_outdated_lot){ .ref = v->ref,
                                                   .supplier = v->supplier,
                                                   .judged_at = v->judged_at,
                                                   .judged_by = v->judged_by,
                                                   .arrived = v->arrived,
                                                   .grade = grade,
                                                   .unseen = unseen };
    out->otherwise += !unseen;
}

/* All verdicts of one reference were weighed with the same figures: details are read of the first. Of none that was not weighed (0) that is said. */
static tb_rc follow(enum tb_follows *out, struct comparing *c, struct tb_once *once,
                    const struct tb_standing_verdict *v, struct tb_arena *passing, struct tb_err *err)
{
    tb_rc rc;

    *out = TB_FOLLOWS_UNSEEN;
    if (c->unseen && strcmp(c->unseen, v->reference) == 0 && fabs(v->log_ratio) > 0)
        return TB_OK;
    if ((rc = read_details(once, v, passing, err)) != TB_OK)
        return rc;
    *out = tb_evidence_follows(model_of(c, v->delivery), once);
    if (*out == TB_FOLLOWS_UNSEEN)
        c->unseen = v->reference;
    return TB_OK;
}

static tb_rc compare(struct comparing *c, const struct tb_standing_verdict *v, struct tb_err *err)
{
    struct tb_arena passing = { 0 };
    struct tb_once once;
    enum tb_follows follows = TB_FOLLOWS;
    bool counts = false;
    tb_rc rc = read_once(&once, v, err);

    if (rc == TB_OK)
        rc = follow(&follows, c, &once, v, &passing, err);
    if (rc == TB_OK && follows != TB_FOLLOWS)
        rc = decides(&counts, c, v, &passing, err);
    if (rc == TB_OK && counts)
        add(c, v, once.grade, follows == TB_FOLLOWS_UNSEEN);
    tb_arena_free(&passing);
    return rc == TB_OK ? rc : tb_within(err, rc, "lot %s", v->ref);
}

tb_rc tb_outdated_read(struct tb_outdated *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_standing_verdict *v = NULL;
    struct comparing c = { .out = out, .book = b, .mem = mem };
    size_t n = 0;
    tb_rc rc = tb_bench_model(&ev, b, err);

    *out = (struct tb_outdated){ .lot = NULL };
    c.ev = ev;
    if (rc == TB_OK)
        rc = tb_standing_verdict_list(&v, &n, b, tb_evidence_reference(ev), ref, mem, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = compare(&c, &v[i], err);
    tb_evidence_free(c.apart);
    tb_evidence_free(ev);
    return rc;
}

const struct tb_outdated_lot *tb_outdated_find(const struct tb_outdated *o, const char *ref)
{
    for (size_t i = 0; i < o->n; i++)
        if (strcmp(o->lot[i].ref, ref) == 0)
            return &o->lot[i];
    return NULL;
}
