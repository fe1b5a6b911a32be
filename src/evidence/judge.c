#include "evidence/shortlist.h"

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

static bool same_swatch(const struct tb_observation *a, const struct tb_observation *b)
{
    return a->swatch && b->swatch && a->part == b->part && strcmp(a->swatch, b->swatch) == 0;
}

/* n burns of one swatch count as 1 + (n - 1) r of one, shared evenly. */
static double power_of(const struct tb_evidence *ev, const struct tb_observation *obs, size_t n, size_t at)
{
    double times = 0;

    for (size_t i = 0; i < n; i++)
        times += i == at || (same_swatch(&obs[i], &obs[at]) && !tb_observation_empty(&obs[i]));
    return (1 + (times - 1) * ev->fig.repeat) / times;
}

static tb_rc take_observations(struct tb_question *q, struct tb_verdict *v, const struct tb_observation *obs,
                               size_t n, struct tb_err *err)
{
    bool repeats = false;

    for (size_t i = 0; i < n; i++) {
        struct tb_group *g;

        if (tb_observation_empty(&obs[i]))
            continue;
        if (!(g = group_of(q, obs[i].part)))
            return tb_fail(err, TB_EINVAL, "burns of more than %d parts cannot be judged together",
                           TB_GROUPS_MOST);
        g->terms = tb_realloc(g->terms, g->n + 1, sizeof *g->terms);
        g->power = tb_realloc(g->power, g->n + 1, sizeof *g->power);
        g->odd = tb_realloc(g->odd, g->n + 1, sizeof *g->odd);
        g->obs = tb_realloc(g->obs, g->n + 1, sizeof *g->obs);
        tb_terms_of(&g->terms[g->n], q->ev, &obs[i]);
        g->odd[g->n] = tb_odd_log(q->ev, &g->terms[g->n]);
        g->power[g->n] = power_of(q->ev, obs, n, i);
        repeats |= g->power[g->n] < 1;
        g->obs[g->n++] = i;
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

    if (!part && c->n == 1) {
        part = &c->part[0];
        g->spread = g->part != TB_PART_WHOLE && q->n > 1;
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

static void weigh_group(struct tb_question *q, struct tb_group *g)
{
    struct tb_table **table = tb_array(struct tb_table *, g->n);

    for (size_t o = 0; o < g->n; o++)
        table[o] = tb_table_new(q->ev, &g->terms[o]);
    tb_space_weigh(&g->sums, q->ev, table, g->power, g->n, q->kernel);
    for (size_t o = 0; o < g->n; o++)
        tb_table_free(table[o]);
    free(table);
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

/* Cue weights of every part; the next test of the first part, since the bench makes one at a time. */
static void look_closer(struct tb_verdict *v, const struct tb_question *q, size_t g, unsigned want)
{
    struct tb_shortlist s;

    tb_shortlist_make(&s, q->ev, &q->group[g]);
    if (want & TB_WANT_CUES)
        tb_weigh_cues(v, &s);
    if (want & TB_WANT_NEXT && g == 0)
        tb_next_tests(v, &s);
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

static tb_rc judge(struct tb_verdict *v, struct tb_question *q, const struct tb_declaration *decl,
                   struct tb_text *reason, struct tb_text *notes, unsigned want, struct tb_err *err)
{
    bool ok = readable(reason, decl);

    for (size_t i = 0; ok && i < q->n; i++) {
        tb_rc rc = match_part(&q->group[i], q, &decl->comp, reason, notes, &ok, err);

        if (rc != TB_OK)
            return rc;
    }
    if (ok && q->n == 0) {
        tb_text_addf(reason, "nothing was looked at: no cue and no channel is recorded");
        ok = false;
    }
    take_notes(v, notes);
    if (!ok) {
        take_reason(v, reason);
        return TB_OK;
    }
    for (size_t i = 0; i < q->n; i++)
        weigh_group(q, &q->group[i]);
    tb_question_answer(q);
    settle(v, q, want);
    return TB_OK;
}

static void free_question(struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++) {
        free(q->group[i].terms);
        free(q->group[i].power);
        free(q->group[i].odd);
        free(q->group[i].obs);
        tb_sums_free(&q->group[i].sums);
    }
}

tb_rc tb_evidence_judge(struct tb_verdict *out, const struct tb_evidence *ev,
                        const struct tb_declaration *decl, const struct tb_observation *obs, size_t n,
                        unsigned want, struct tb_err *err)
{
    struct tb_question *q = tb_new(struct tb_question);
    struct tb_verdict v = { .contradicts_below = ev->set.contradicts_below,
                            .fits_above = ev->set.fits_above };
    struct tb_text reason = { 0 }, notes = { 0 };
    tb_rc rc;

    q->ev = ev;
    q->kernel = ev->kernel;
    (void)strcpy(v.digest, ev->digest);
    if ((rc = take_observations(q, &v, obs, n, err)) == TB_OK)
        rc = judge(&v, q, decl, &reason, &notes, want, err);
    free_question(q);
    free(q);
    tb_text_free(&reason);
    tb_text_free(&notes);
    if (rc == TB_OK)
        *out = v;
    else
        tb_verdict_free(&v);
    return rc;
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
