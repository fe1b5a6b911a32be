/* A file of burns: swatches registered, burns recorded, lots judged, all of it or nothing. */
#include "work/burn.h"

#include "base/say.h"
#include "tenterbook/circumstance.h"
#include "tenterbook/said.h"
#include "tenterbook/typed.h"
#include "work/act.h"
#include "work/concern.h"
#include "work/judge_all.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The rows of one lot, bolt and part burn one swatch: the first of them registers it. */
struct cloth {
    struct tb_swatch swatch;
    size_t lot; /* which of the lots touched */
};

/* A lot touched, and the burns of the file that are of it. */
struct touched {
    struct tb_lot lot;
    struct tb_burn *burn;
    size_t n, cap;
    struct tb_pending pending;
};

struct filing {
    struct tb_burn_file_outcome *out;
    struct tb_arena *mem;
    struct cloth *cloth;
    size_t cloths, cloths_cap;
    struct touched *lot;
    size_t lots, lots_cap;
    struct tb_burn *burn;       /* of each row */
    size_t *of;                 /* cloth of each row */
    struct tb_weighed *weighed; /* lots of them */
    struct tb_weighed *before;  /* of the plan before: what still holds of it is not weighed again */
    size_t befores;
    bool again; /* the file was recorded before, and whoever sends it knows that */
};

static void forget(struct filing *w)
{
    tb_weighed_free(w->weighed, w->lots);
    tb_weighed_free(w->before, w->befores);
    *w = (struct filing){ .out = w->out, .mem = w->mem, .again = w->again };
}

/* --- planning --------------------------------------------------------------------------------------------- */

static size_t touch(struct filing *w, const struct tb_lot *lot)
{
    for (size_t i = 0; i < w->lots; i++)
        if (strcmp(w->lot[i].lot.id, lot->id) == 0)
            return i;
    TB_ARENA_ROOM(w->mem, w->lot, w->lots, w->lots_cap);
    w->lot[w->lots] = (struct touched){ .lot = *lot };
    return w->lots++;
}

static tb_rc find_cloth(size_t *out, struct filing *w, struct tb_book *b, const struct tb_burn_row *row,
                        const char *cut_at, struct tb_err *err)
{
    int part = TB_PART_WHOLE;
    struct tb_lot lot;
    struct tb_bolt bolt;
    tb_rc rc;

    if (*row->part && (rc = tb_word_read(&part, &tb_part_words, row->part, err)) != TB_OK)
        return rc;
    if ((rc = tb_lot_find(&lot, b, *row->lot ? row->lot : row->bolt, w->mem, err)) != TB_OK ||
        (rc = tb_bolt_find(&bolt, b, lot.id, row->bolt, w->mem, err)) != TB_OK)
        return rc;
    for (*out = 0; *out < w->cloths; ++*out)
        if (strcmp(w->cloth[*out].swatch.bolt, bolt.id) == 0 && (int)w->cloth[*out].swatch.part == part)
            return TB_OK;
    TB_ARENA_ROOM(w->mem, w->cloth, w->cloths, w->cloths_cap);
    /* until it is registered under the lock a swatch goes by a name no tag has */
    w->cloth[w->cloths] = (struct cloth){ .swatch = { .tag = tb_arena_printf(w->mem, "new %zu", w->cloths),
                                                      .lot = lot.id,
                                                      .lot_ref = lot.ref,
                                                      .bolt = bolt.id,
                                                      .bolt_number = bolt.number,
                                                      .part = (enum tb_part_kind)part,
                                                      .known = "",
                                                      .cut_at = cut_at },
                                          .lot = touch(w, &lot) };
    w->cloths++;
    return TB_OK;
}

/* The same file again, or a row twice: a burn at the same moment would count as another one. Whoever says so means the former. */
static tb_rc check_new(const struct filing *w, size_t row, const struct cloth *c, struct tb_book *b,
                       struct tb_err *err)
{
    const char *at = w->burn[row].burned_at;
    int64_t n = 0;
    tb_rc rc = at && !w->again ? tb_burn_count_at(&n, b, c->swatch.bolt, c->swatch.part, at, err) : TB_OK;

    for (size_t i = 0; i < row && at; i++)
        n += w->burn[i].burned_at && &w->cloth[w->of[i]] == c && strcmp(w->burn[i].burned_at, at) == 0;
    return rc == TB_OK && n > 0
               ? tb_fail(err, TB_EEXISTS, "a burn of the %s of bolt %s at %s is in the book already",
                         tb_part_key(c->swatch.part), c->swatch.bolt_number, at)
               : rc;
}

/* The first row of a cloth registers its swatch, cut by then: a later row cannot have burned it before. */
static tb_rc check_order(const struct cloth *c, const char *burned_at, struct tb_err *err)
{
    if (!burned_at || !c->swatch.cut_at || strcmp(burned_at, c->swatch.cut_at) >= 0)
        return TB_OK;
    return tb_fail(err, TB_EINVAL,
                   "the %s of bolt %s was cut by %s, as a row above says, and cannot have been burned at %s; "
                   "put the burns of a bolt in the order of time",
                   tb_part_key(c->swatch.part), c->swatch.bolt_number, c->swatch.cut_at, burned_at);
}

static void note_early(struct filing *w, const char *burned_at, const struct tb_lot *lot)
{
    if (!tb_before_arrival(burned_at, lot) || w->out->early++ > 0)
        return;
    w->out->early_at = burned_at;
    w->out->early_lot = *lot;
}

/* A page may send rows that no sheet was read for. */
static tb_rc check_texts(const struct tb_burn_row *row, struct tb_err *err)
{
    const char *const text[] = { row->lot,      row->bolt,   row->part,  row->at,   row->saw,
                                 row->not_seen, row->looked, row->flame, row->note, row->could_not };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(text) && rc == TB_OK; i++)
        rc = tb_said_check(_("a cell"), text[i], err);
    return rc;
}

/* As days are typed, too: a file of burns is often kept by hand. */
static tb_rc read_moment(const char **out, const char *at, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_typed_day day = { 0 };
    const char *words = at ? tb_moment_words(&day, at, mem) : NULL;

    if (*day.other)
        return tb_fail(err, TB_EINVAL, "at is '%s'; that may be %s or %s: write it like one of them", at,
                       day.day, day.other);
    return tb_past_moment(out, "at", words, mem, err);
}

static tb_rc plan_row(struct filing *w, struct tb_book *b, const struct tb_burn_row *row, size_t i,
                      struct tb_err *err)
{
    struct tb_burn *burn = &w->burn[i];
    struct tb_observation seen = { 0 };
    struct cloth *c;
    tb_rc rc;

    *burn = (struct tb_burn){ .flame = row->flame, .note = row->note, .sample_mm = (double)NAN };
    w->of[i] = w->cloths; /* of none, until it is found */
    if ((rc = check_texts(row, err)) != TB_OK ||
        (rc = read_moment(&burn->burned_at, row->at, w->mem, err)) != TB_OK ||
        (rc = tb_observation_read(&seen, row->saw, row->not_seen, row->looked, err)) != TB_OK ||
        (rc = tb_observation_could_not(&seen, row->could_not, err)) != TB_OK ||
        (rc = tb_burn_observe(burn, &seen, w->mem, err)) != TB_OK ||
        (rc = find_cloth(&w->of[i], w, b, row, burn->burned_at, err)) != TB_OK)
        return rc;
    c = &w->cloth[w->of[i]];
    if ((rc = tb_bench_handling_check(b, NULL, c->swatch.lot_ref, TB_HANDLING_ANY, burn->burned_at, err)) !=
        TB_OK)
        return rc;
    if ((rc = check_new(w, i, c, b, err)) != TB_OK || (rc = check_order(c, burn->burned_at, err)) != TB_OK)
        return rc;
    note_early(w, burn->burned_at, &w->lot[c->lot].lot);
    return TB_OK;
}

static void tell_wrong(struct tb_burn_file_outcome *out, size_t line, const char *why)
{
    struct tb_wrong_row *told = &out->wrong[out->wrongs];

    if (out->wrongs++ >= TB_ROWS_TOLD_MOST)
        return;
    told->line = line;
    (void)snprintf(told->why, sizeof told->why, "%s", why);
}

/* Every row is tried, so that one look names all that is wrong. */
static tb_rc plan_rows(struct tb_job *j)
{
    const struct tb_burn_file_request *r = j->request;
    struct tb_burn_file_outcome *out = j->out;

    for (size_t i = 0; i < r->n; i++) {
        struct tb_err one = { 0 };
        tb_rc rc = plan_row(j->own, j->b, &r->row[i], i, &one);

        if (rc == TB_EIO || rc == TB_EBUSY) {
            *j->err = one;
            return rc;
        }
        if (rc != TB_OK)
            tell_wrong(out, r->row[i].line, one.msg);
    }
    if (out->wrongs == 0)
        return TB_OK;
    return tb_fail(j->err, TB_EINVAL,
                   r->n == 1 ? "%zu of %zu row cannot be recorded; nothing of the file was"
                             : "%zu of %zu rows cannot be recorded; nothing of the file was",
                   out->wrongs, r->n);
}

/* The burns of the file by lot, as they will count. */
static void gather(struct filing *w, size_t n, const char *who)
{
    for (size_t i = 0; i < n; i++) {
        const struct cloth *c = &w->cloth[w->of[i]];
        struct touched *t =
            &w->lot[c->lot]; /* NOLINT(clang-analyzer-core.NullDereference): each burn has its cloth */
        struct tb_burn *burn;

        TB_ARENA_ROOM(w->mem, t->burn, t->n, t->cap);
        burn = &t->burn[t->n++];
        *burn = w->burn[i];
        burn->burned_by = who;
        burn->tag = c->swatch.tag;
        burn->part = c->swatch.part;
        burn->bolt_number = c->swatch.bolt_number;
    }
}

static tb_rc weigh(struct filing *w, struct tb_job *j)
{
    struct tb_evidence *ev = NULL;
    tb_rc rc = tb_bench_model(&ev, j->b, j->err);

    w->weighed = tb_array(struct tb_weighed, w->lots + 1);
    for (size_t i = 0; i < w->lots; i++) {
        w->lot[i].pending =
            (struct tb_pending){ .burn = w->lot[i].burn, .burns = w->lot[i].n, .who = j->who };
        w->weighed[i] = (struct tb_weighed){ .ref = w->lot[i].lot.ref, .pending = &w->lot[i].pending };
    }
    tb_weighed_carry(w->weighed, w->lots, w->before, w->befores);
    if (rc == TB_OK)
        rc = tb_weigh_lots(w->weighed, w->lots, j->b, ev, j->mem, j->err);
    tb_evidence_free(ev);
    return rc;
}

/* A file may be called like a lot, or a supplier: what it is called stands beside its row, which may be of several suppliers. */
static tb_rc plan(struct tb_job *j)
{
    const struct tb_burn_file_request *r = j->request;
    struct filing *w = j->own;
    struct tb_weighed *before = w->weighed;
    size_t befores = w->lots;
    tb_rc rc;

    w->weighed = NULL;
    forget(w);
    w->before = before;
    w->befores = befores;
    w->out->early = w->out->wrongs = 0;
    w->burn = tb_arena_alloc(w->mem, r->n * sizeof *w->burn);
    w->of = tb_arena_alloc(w->mem, r->n * sizeof *w->of);
    j->subject = "a file";
    if ((rc = tb_flame_check(j->b, j->err)) != TB_OK || (rc = tb_burn_file_check_new(j)) != TB_OK ||
        (rc = plan_rows(j)) != TB_OK)
        return rc;
    gather(w, r->n, j->who);
    return weigh(w, j);
}

static bool concerns(struct tb_job *j, const struct tb_journal_row *row)
{
    const struct filing *w = j->own;

    for (size_t i = 0; i < w->lots; i++)
        if (tb_row_concerns_judging(row, w->lot[i].lot.ref))
            return true;
    return false;
}

/* --- writing ---------------------------------------------------------------------------------------------- */

static tb_rc write_burns(struct filing *w, size_t n, struct tb_job *j)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < w->cloths && rc == TB_OK; i++)
        rc = tb_swatch_add(&w->cloth[i].swatch, j->b, j->mem, j->err);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        w->burn[i].swatch = w->cloth[w->of[i]].swatch.id;
        rc = tb_burn_add(&w->burn[i], j->b, j->mem, j->err);
    }
    return rc;
}

static tb_rc write_verdicts(struct filing *w, struct tb_job *j)
{
    tb_rc rc = TB_OK;

    w->out->held_lot = tb_arena_alloc(j->mem, (w->lots + 1) * sizeof *w->out->held_lot);
    for (size_t i = 0; i < w->lots && rc == TB_OK; i++) {
        struct tb_weighed *o = &w->weighed[i];
        struct tb_due due = { 0 };

        if ((rc = tb_lot_find(&o->lot, j->b, o->ref, j->mem, j->err)) == TB_OK)
            rc = tb_verdict_record(&due, j->b, &o->lot, &o->v, j->mem, j->err);
        w->out->kind[o->v.verdict.kind]++;
        if (due.hold)
            w->out->held_lot[w->out->held++] = (struct tb_held_lot){ o->ref, tb_confirming(&o->v, j->mem) };
    }
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_burn_file_request *r = j->request;
    struct filing *w = j->own;
    tb_rc rc;

    if ((rc = write_burns(w, r->n, j)) != TB_OK || (rc = write_verdicts(w, j)) != TB_OK ||
        (rc = tb_burn_file_note(j)) != TB_OK)
        return rc;
    tb_book_aside(j->b, TB_ASIDE_FILE, json_string(r->name));
    w->out->burns = r->n;
    w->out->swatches = w->cloths;
    w->out->lots = w->lots;
    return TB_OK;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_burn_file_request, name, N_("the name of the file")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_burn_file(struct tb_burn_file_outcome *out, const struct tb_actor *actor,
                       const struct tb_burn_file_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_BURN,
                                       .plan = plan,
                                       .write = write,
                                       .concerns = concerns,
                                       .again = 2,
                                       .size = sizeof(struct tb_burn_file_request),
                                       .said = said };
    struct filing own = { .out = out, .mem = mem, .again = request->again };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .own = &own };
    tb_rc rc;

    *out = (struct tb_burn_file_outcome){ 0 };
    rc = tb_act_do(&act, &job, actor, err);
    forget(&own);
    return rc;
}
