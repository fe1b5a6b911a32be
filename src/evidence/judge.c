#include "evidence/shortlist.h"
#include "evidence/sums.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *tb_verdict_key(enum tb_verdict_kind kind)
{
    return kind == TB_FITS ? "fits" : kind == TB_CONTRADICTS ? "contradicts" : "undecided";
}

void tb_verdict_note(struct tb_verdict *v, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    v->note = tb_realloc(v->note, v->n_note + 1, sizeof *v->note);
    v->note[v->n_note++] = tb_text_take(&t);
}

/* --- can it be judged at all ------------------------------------------------------------------------------- */

/* Fibres without figures can be burned all the same: a flame shows kinds, not percentages. */
static bool only_figures(enum tb_doubt_kind kind)
{
    return kind == TB_DOUBT_NO_PERCENT || kind == TB_DOUBT_SUM || kind == TB_DOUBT_RANGE;
}

static bool readable(struct tb_text *reason, const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->n; i++)
        if (tb_doubt_blocks(d->doubt[i].kind) && !only_figures(d->doubt[i].kind)) {
            tb_text_addf(reason, "the declaration cannot be read for certain: %s", d->doubt[i].say);
            return false;
        }
    for (size_t p = 0; p < d->comp.n; p++)
        if (d->comp.part[p].n == 0) {
            tb_text_addf(reason, "the declaration names no fibre for one of its parts");
            return false;
        }
    if (d->comp.n == 0)
        tb_text_addf(reason, "the declaration names no fibre");
    return d->comp.n > 0;
}

/* --- observations to groups ---------------------------------------------------------------------------------- */

static struct tb_group *group_of(struct tb_question *q, enum tb_part_kind part)
{
    for (size_t i = 0; i < q->n; i++)
        if (q->group[i].part == part)
            return &q->group[i];
    if (q->n == TB_GROUPS_MOST)
        return NULL;
    q->group[q->n].part = part;
    return &q->group[q->n++];
}

/* Those of one set only; of all where there are no sets. */
static tb_rc take_observations(struct tb_question *q, struct tb_verdict *v, const struct tb_readings *r,
                               const struct tb_observation *obs, size_t n, const size_t *set, size_t only,
                               struct tb_err *err)
{
    bool repeats = false;

    for (size_t i = 0; i < n; i++) {
        struct tb_group *g;

        if ((set && set[i] != only) || r->of[i] == TB_READ_NOTHING)
            continue;
        if (!(g = group_of(q, obs[i].part)))
            return tb_fail(err, TB_EINVAL, "burns of more than %d parts cannot be judged together",
                           TB_GROUPS_MOST);
        tb_pattern_add(&g->pattern, &g->n, r, i);
        repeats |= r->power[i] < 1;
        v->burns++;
    }
    if (repeats)
        tb_verdict_note(
            v,
            "Burns of one swatch repeat one another: each after the first adds %.0f %% of what a burn "
            "of another swatch would.",
            100 * q->ev->fig.repeat);
    return TB_OK;
}

/* --- which declared composition a group answers for ------------------------------------------------------------ */

static const struct tb_part *part_of_kind(const struct tb_composition *c, enum tb_part_kind kind)
{
    for (size_t i = 0; i < c->n; i++)
        if (c->part[i].kind == kind)
            return &c->part[i];
    return NULL;
}

/* All parts as one cloth, no shares known: what a burn of the whole answers for. */
static void all_parts(struct tb_part *out, const struct tb_composition *c)
{
    *out = (struct tb_part){ .kind = TB_PART_WHOLE };
    for (size_t p = 0; p < c->n; p++)
        for (size_t i = 0; i < c->part[p].n; i++)
            (void)tb_part_add_share(out, c->part[p].share[i].fibre, NAN);
}

static tb_rc match_part(struct tb_group *g, struct tb_question *q, const struct tb_composition *c,
                        struct tb_text *reason, struct tb_text *notes, bool *ok, struct tb_err *err)
{
    const struct tb_part *part = part_of_kind(c, g->part);
    struct tb_part joined = { 0 };

    if (!part && c->n == 1 && c->part[0].kind == TB_PART_WHOLE) {
        part = &c->part[0];
        g->spread = true;
    } else if (!part && g->part == TB_PART_WHOLE) {
        all_parts(&joined, c);
        part = &joined;
    } else if (!part) {
        return tb_fail(err, TB_EINVAL, "a %s was burned, but the declaration speaks of other parts only",
                       tb_part_key(g->part));
    }
    *ok = tb_declared_from(&g->declared, q->ev, part, reason, notes);
    free(joined.share);
    return TB_OK;
}

/* --- the sums ------------------------------------------------------------------------------------------------- */

/* A question while it is asked: all observations together, or those of one set. */
struct asked {
    struct tb_question q;
    struct tb_verdict v;
    struct tb_text reason, notes;
    bool ok; /* it can be judged */
};

/* --- the sums of one part, for all questions that have it ------------------------------------------------------- */

/* Questions that ask the same of a part, such as bolts whose burns are alike, share its sums. */
struct part_work {
    struct tb_table **table; /* one a reading that some burn of the part has */
    size_t tables;
    size_t *table_of; /* by reading */
    struct tb_pick *pick;
    size_t picks;
    struct tb_sums **sums; /* of every question; those that share a pick, in turn */
    size_t *pick_of;
    size_t questions;
};

static void take_tables(struct part_work *w, const struct tb_group *whole, const struct tb_readings *r,
                        const struct tb_evidence *ev)
{
    w->table = tb_array(struct tb_table *, whole->n);
    w->table_of = tb_array(size_t, r->n);
    for (size_t i = 0; i < r->n; i++)
        w->table_of[i] = whole->n;
    for (size_t i = 0; i < whole->n; i++) {
        size_t *at = &w->table_of[whole->pattern[i].reading];

        if (*at == whole->n) {
            *at = w->tables++;
            w->table[*at] = tb_table_new(ev, whole->pattern[i].terms);
        }
    }
}

static int by_table(const void *a, const void *b)
{
    const struct tb_power_of *x = a, *y = b;

    return x->table < y->table ? -1 : x->table > y->table;
}

/* The tables of a group, each with the power of all its burns, in order. */
static struct tb_power_of *powers_of(size_t *n, const struct part_work *w, const struct tb_group *g)
{
    struct tb_power_of *of = tb_array(struct tb_power_of, g->n);

    *n = 0;
    for (size_t i = 0; i < g->n; i++) {
        size_t table = w->table_of[g->pattern[i].reading], k = 0;

        while (k < *n && of[k].table != table)
            k++;
        if (k == *n)
            of[(*n)++].table = table;
        of[k].power += tb_pattern_power(&g->pattern[i]);
    }
    qsort(of, *n, sizeof *of, by_table);
    return of;
}

static bool same_powers(const struct tb_pick *p, const struct tb_power_of *of, size_t n)
{
    bool same = p->n == n;

    for (size_t i = 0; i < n && same; i++)
        same = p->of[i].table == of[i].table && p->of[i].power == of[i].power;
    return same;
}

static void take_group(struct part_work *w, struct tb_group *g)
{
    size_t n, at = 0;
    struct tb_power_of *of = powers_of(&n, w, g);

    while (at < w->picks && !same_powers(&w->pick[at], of, n))
        at++;
    if (at == w->picks)
        w->pick[w->picks++] = (struct tb_pick){ of, n, &g->sums };
    else
        free(of);
    w->pick_of[w->questions] = at;
    w->sums[w->questions++] = &g->sums;
}

static void weigh_part(struct asked *a, size_t n, const struct tb_group *whole, const struct tb_readings *r)
{
    const struct tb_evidence *ev = a->q.ev;
    struct part_work w = { .pick = tb_array(struct tb_pick, n),
                           .sums = tb_array(struct tb_sums *, n),
                           .pick_of = tb_array(size_t, n) };

    take_tables(&w, whole, r, ev);
    for (size_t i = 0; i < n; i++)
        for (size_t g = 0; g < a[i].q.n && a[i].ok; g++)
            if (a[i].q.group[g].part == whole->part)
                take_group(&w, &a[i].q.group[g]);
    if (w.picks)
        tb_space_weigh(w.pick, w.picks, ev, w.table, w.tables, a->q.kernel);
    for (size_t i = 0; i < w.questions; i++)
        if (w.sums[i] != w.pick[w.pick_of[i]].sums)
            tb_sums_copy(w.sums[i], w.pick[w.pick_of[i]].sums, ev);
    for (size_t i = 0; i < w.tables; i++)
        tb_table_free(w.table[i]);
    for (size_t i = 0; i < w.picks; i++)
        free((void *)w.pick[i].of);
    free(w.table);
    free(w.table_of);
    free(w.pick);
    free(w.pick_of);
    free(w.sums);
}

static void take_reason(struct tb_verdict *v, struct tb_text *reason)
{
    v->kind = TB_UNDECIDED;
    v->reason = tb_text_take(reason);
    v->ratio = v->log_ratio = v->log_declared = v->log_else = NAN;
}

static void take_notes(struct tb_verdict *v, struct tb_text *notes)
{
    char *rest = NULL, *text = tb_text_take(notes);

    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        bool there = false;

        for (size_t i = 0; i < v->n_note; i++)
            there |= strcmp(v->note[i], line) == 0;
        if (!there)
            tb_verdict_note(v, "%s", line);
    }
    free(text);
}

/* Cue weights and next tests of one part. */
static void look_closer(struct tb_verdict *v, const struct tb_question *q, size_t g, unsigned want)
{
    struct tb_shortlist s;

    tb_shortlist_make(&s, q->ev, &q->group[g]);
    if (want & TB_WANT_CUES)
        tb_weigh_cues(v, &s);
    if (want & TB_WANT_NEXT)
        tb_next_tests(v, &s, q->n == 1);
    tb_shortlist_free(&s);
}

static void settle(struct tb_verdict *v, const struct tb_question *q, unsigned want)
{
    v->log_declared = q->log_declared;
    v->log_else = q->log_else;
    v->log_ratio = q->log_declared - q->log_else;
    v->ratio = exp(v->log_ratio);
    v->kind = v->ratio < v->contradicts_below ? TB_CONTRADICTS
              : v->ratio > v->fits_above      ? TB_FITS
                                              : TB_UNDECIDED;
    tb_take_posterior(v, q);
    for (size_t g = 0; g < q->n && want & (TB_WANT_CUES | TB_WANT_NEXT); g++)
        look_closer(v, q, g, want);
    if (want & TB_WANT_POWER)
        tb_power_table(v, q);
}

#define WAYS_MOST 5000 /* to spread declared fibres over parts: their number is a power of a power */

static bool too_many_ways(const struct tb_question *q)
{
    double ways = 1;

    for (size_t i = 0; i < q->n; i++)
        if (q->group[i].spread)
            ways *= (double)((1u << q->group[i].declared.n_shown) - 1);
    return ways > WAYS_MOST;
}

/* As far as it goes before anything is weighed: what was declared of each part, and why it cannot be judged. */
static tb_rc ask(struct asked *a, const struct tb_declaration *decl, struct tb_err *err)
{
    struct tb_question *q = &a->q;

    a->ok = readable(&a->reason, decl);
    for (size_t i = 0; a->ok && i < q->n; i++) {
        tb_rc rc = match_part(&q->group[i], q, &decl->comp, &a->reason, &a->notes, &a->ok, err);

        if (rc != TB_OK)
            return rc;
    }
    if (a->ok && q->n == 0) {
        tb_text_addf(&a->reason, "nothing was looked at: no cue and no channel is recorded");
        a->ok = false;
    }
    if (a->ok && too_many_ways(q)) {
        tb_text_addf(&a->reason,
                     "so many declared fibres can be spread over the parts burned apart in too many ways; "
                     "burn the cloth as a whole, or have the parts declared");
        a->ok = false;
    }
    take_notes(&a->v, &a->notes);
    if (!a->ok)
        take_reason(&a->v, &a->reason);
    return TB_OK;
}

static tb_rc open_asked(struct asked *a, const struct tb_evidence *ev, const struct tb_declaration *decl,
                        const struct tb_readings *r, const struct tb_observation *obs, size_t n,
                        const size_t *set, size_t only, struct tb_err *err)
{
    tb_rc rc;

    a->q.ev = ev;
    a->q.kernel = ev->kernel;
    a->v.contradicts_below = ev->set.contradicts_below;
    a->v.fits_above = ev->set.fits_above;
    (void)strcpy(a->v.digest, ev->digest);
    rc = take_observations(&a->q, &a->v, r, obs, n, set, only, err);
    return rc == TB_OK ? ask(a, decl, err) : rc;
}

static void free_asked(struct asked *a)
{
    for (size_t i = 0; i < a->q.n; i++) {
        free(a->q.group[i].pattern);
        tb_sums_free(&a->q.group[i].sums);
    }
    tb_verdict_free(&a->v);
    tb_text_free(&a->reason);
    tb_text_free(&a->notes);
}

/* a[0] asks of all observations, a[1 + s] of those of set s. */
static tb_rc answer(struct asked *a, const struct tb_evidence *ev, const struct tb_declaration *decl,
                    const struct tb_readings *r, const struct tb_observation *obs, size_t n,
                    const size_t *set, size_t sets, unsigned want, struct tb_err *err)
{
    tb_rc rc = open_asked(&a[0], ev, decl, r, obs, n, NULL, 0, err);

    for (size_t s = 0; s < sets && rc == TB_OK; s++)
        rc = open_asked(&a[1 + s], ev, decl, r, obs, n, set, s, err);
    if (rc != TB_OK)
        return rc;
    for (size_t g = 0; g < a->q.n; g++)
        weigh_part(a, 1 + sets, &a->q.group[g], r);
    for (size_t i = 0; i < 1 + sets; i++)
        if (a[i].ok) {
            tb_question_answer(&a[i].q);
            settle(&a[i].v, &a[i].q, i == 0 ? want : 0);
        }
    return TB_OK;
}

tb_rc tb_evidence_judge_sets(struct tb_verdict *together, struct tb_verdict *alone,
                             const struct tb_evidence *ev, const struct tb_declaration *decl,
                             const struct tb_observation *obs, size_t n, const size_t *set, size_t sets,
                             unsigned want, struct tb_err *err)
{
    struct asked *a = tb_array(struct asked, 1 + sets);
    struct tb_readings r;
    tb_rc rc;

    tb_readings_make(&r, ev, obs, n);
    rc = answer(a, ev, decl, &r, obs, n, set, sets, want, err);

    for (size_t i = 0; i < 1 + sets && rc == TB_OK; i++) {
        *(i == 0 ? together : &alone[i - 1]) = a[i].v;
        a[i].v = (struct tb_verdict){ 0 };
    }
    for (size_t i = 0; i < 1 + sets; i++)
        free_asked(&a[i]);
    free(a);
    tb_readings_free(&r);
    return rc;
}

tb_rc tb_evidence_judge(struct tb_verdict *out, const struct tb_evidence *ev,
                        const struct tb_declaration *decl, const struct tb_observation *obs, size_t n,
                        unsigned want, struct tb_err *err)
{
    return tb_evidence_judge_sets(out, NULL, ev, decl, obs, n, NULL, 0, want, err);
}

void tb_verdict_free(struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_twins; i++)
        free(v->twins[i].fibre);
    for (size_t i = 0; i < v->n_power; i++)
        free(v->power[i].instead);
    for (size_t i = 0; i < v->n_note; i++)
        free(v->note[i]);
    free(v->reason);
    free(v->likely);
    free(v->present);
    free(v->twins);
    free(v->cue);
    free(v->next);
    free(v->power);
    free(v->note);
    *v = (struct tb_verdict){ 0 };
}
