#include "evidence/table.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- the ways to share twenty steps ---------------------------------------------------------------------- */

static unsigned shows(const int *steps, int roles)
{
    unsigned bits = 0;

    assert(roles <= 3);
    for (int r = 0; r < roles; r++)
        bits |= steps[r] >= TB_SHOWN_STEPS ? 1u << r : 0;
    return bits;
}

/* One way, at the end; a run goes on as long as the chunk and what is shown stay the same. */
static void put_way(struct tb_layout *l, int *at, const int *steps)
{
    struct tb_chunk *c = &l->chunk[*at / TB_CHUNK];
    int lane = *at % TB_CHUNK;
    unsigned bits = shows(steps, l->roles);

    assert(*at < TB_CHUNKS_MOST * TB_CHUNK);
    for (int r = 0; r < l->roles; r++)
        c->steps[r][lane] = (unsigned char)steps[r];
    if (c->runs == 0 || c->run[c->runs - 1].shows != bits)
        c->run[c->runs++] = (struct tb_run){ lane, lane, bits };
    c->run[c->runs - 1].to = lane + 1;
    ++*at;
}

/* All ways whose shown roles are `bits`. */
static void put_ways(struct tb_layout *l, int *at, unsigned bits)
{
    int s[3];

    for (s[0] = 1; s[0] < TB_STEPS; s[0]++)
        for (s[1] = 1; s[0] + s[1] <= TB_STEPS; s[1]++) {
            s[2] = TB_STEPS - s[0] - s[1];
            if ((l->roles == 2) == (s[2] == 0) && shows(s, l->roles) == bits)
                put_way(l, at, s);
        }
}

void tb_layout_make(struct tb_layout *out, int roles)
{
    int at = 0;

    memset(out, 0, sizeof *out);
    out->roles = roles;
    for (unsigned bits = (1u << roles) - 1; bits > 0; bits--)
        put_ways(out, &at, bits);
    out->chunks = (at + TB_CHUNK - 1) / TB_CHUNK;
}

/* --- strips ------------------------------------------------------------------------------------------------ */

/* What is left for the last fibre; false when nothing is. */
static bool strip_here(struct tb_strip *s, int fibres)
{
    s->first = (s->layout->roles == 2 ? s->i : s->j) + 1;
    s->n = fibres - s->first;
    return s->n > 0;
}

bool tb_strip_first(struct tb_strip *out, const struct tb_layout *layout, int fibres)
{
    *out = (struct tb_strip){ .layout = layout, .j = layout->roles == 2 ? -1 : 1 };
    return strip_here(out, fibres);
}

bool tb_strip_next(struct tb_strip *s, int fibres)
{
    if (s->layout->roles == 3) {
        s->j++;
        if (strip_here(s, fibres))
            return true;
        s->j = s->i + 2;
    }
    s->i++;
    if (strip_here(s, fibres))
        return true;
    s->i = 0;
    s->j = s->layout->roles == 2 ? -1 : 1;
    s->chunk++;
    return s->chunk < s->layout->chunks && strip_here(s, fibres);
}

/* --- an observation as factors ---------------------------------------------------------------------------- */

static void bring(struct tb_brings *row, const struct tb_evidence *ev, int cue, enum tb_cue_law law)
{
    const double *d = ev->d[ev->cue[cue].ramp];

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++) {
            double q = ev->q[f][cue];

            row->u[f][k] = law == TB_LAW_ANY     ? 1 - q * d[k]
                           : law == TB_LAW_SHARE ? q * k / TB_STEPS
                                                 : 1 - (1 - q) * d[k];
        }
}

static double leak_of(const struct tb_evidence *ev, int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];

    return m->telling ? ev->fig.leak_telling : ev->fig.leak_blend * m->base + ev->fig.leak_floor;
}

static bool additive(const struct tb_evidence *ev, const struct tb_term *t)
{
    return ev->cue[t->cue].law == TB_LAW_ANY && !t->seen;
}

/* An absent `any` cue is a product over the fibres (and a leak, kept apart): it needs no factor of its own. */
static void add_absent(struct tb_brings *row, const struct tb_evidence *ev, int cue)
{
    const double *d = ev->d[ev->cue[cue].ramp];

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            row->u[f][k] *= 1 - ev->q[f][cue] * d[k];
}

/* What the absent cues of one group bring, to the power of its weight, into the row of all of them. */
static void take_absent(struct tb_brings *lead, const struct tb_brings *group, int fibres, int weight)
{
    for (int f = 0; f < fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            lead->u[f][k] *= tb_quarters(group->u[f][k], weight);
}

static void all_one(struct tb_brings *row, int fibres)
{
    for (int f = 0; f < fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            row->u[f][k] = 1;
}

static double most_pure(const struct tb_evidence *ev, const struct tb_term *t)
{
    double most = 0;

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double p = tb_cue_chance(ev, &pure, t->cue);

        p = t->seen ? p : 1 - p;
        most = p > most ? p : most;
    }
    return most;
}

/* The next row, with what it is multiplied by; a sum row takes the constant of its factor along. */
static struct tb_brings *next_row(struct tb_table *t, double mul, double add, bool sum)
{
    t->row[t->rows] = (struct tb_row){ mul, sum ? add : 0, sum };
    return &t->brings[t->rows++];
}

/* p or 1 - p = a + b S, S a product over the fibres, or a sum for TB_LAW_SHARE. */
static void coefficients(double *a, double *b, const struct tb_evidence *ev, const struct tb_term *term)
{
    const struct tb_cue_model *m = &ev->cue[term->cue];
    double noise = tb_noise_of(ev, term->cue, 2);

    if (m->law == TB_LAW_ANY) {
        *a = 1;
        *b = -(1 - leak_of(ev, term->cue));
    } else {
        *a = noise * m->base + (m->law == TB_LAW_PARTLY ? 1 - noise : 0);
        *b = m->law == TB_LAW_PARTLY ? -(1 - noise) : 1 - noise;
    }
    if (!term->seen) {
        *a = 1 - *a;
        *b = -*b;
    }
}

/* Rows and coefficients of one factor that is not additive. */
static void add_factor(struct tb_factor *f, struct tb_table *t, const struct tb_evidence *ev,
                       const struct tb_term *term)
{
    const struct tb_cue_model *m = &ev->cue[term->cue];
    const struct tb_channel *ch = &ev->channel[m->channel];
    double most = most_pure(ev, term), a, b;

    coefficients(&a, &b, ev, term);
    *f = (struct tb_factor){ a / most, b / most, t->rows, 1, m->law == TB_LAW_SHARE };
    if (m->law != TB_LAW_PARTLY)
        bring(next_row(t, f->b, f->a, f->sum), ev, term->cue, m->law);
    else
        for (int c = ch->first; c < ch->first + ch->n; c++)
            if (ev->cue[c].law == TB_LAW_ALL)
                bring(next_row(t, f->b, 0, false), ev, c, TB_LAW_ALL);
    f->rows = t->rows - f->first;
    t->log_scale += tb_weight_of(ev, term->cue) * log(most);
}

/* Factors of one kind (telling or rest), by group, after the n that are there. Returns how many there are then. */
static int add_factors(struct tb_factors *out, struct tb_table *t, int n, const struct tb_evidence *ev,
                       const struct tb_terms *terms, bool telling)
{
    struct tb_brings *absent = tb_new(struct tb_brings), *lead = next_row(t, 1, 0, false);
    double leaks = 0;
    int before = n;

    out->lead = t->rows - 1;
    out->factor = t->factor + n;
    all_one(lead, ev->fibres);
    for (int g = 0; g < TB_GROUPS; g++) {
        all_one(absent, ev->fibres);
        for (size_t i = 0; i < terms->n; i++) {
            const struct tb_term *term = &terms->term[i];

            if (ev->cue[term->cue].group != g || ev->cue[term->cue].firm != telling)
                continue;
            if (additive(ev, term)) {
                add_absent(absent, ev, term->cue);
                leaks += tb_weight_of(ev, term->cue) * log1p(-leak_of(ev, term->cue));
            } else {
                add_factor(&t->factor[n++], t, ev, term);
            }
        }
        take_absent(lead, absent, ev->fibres, g + 1);
        out->from[g + 1] = n - before;
    }
    t->row[out->lead].mul = exp(leaks);
    free(absent);
    return n;
}

static void take_pure(struct tb_table *t, const struct tb_evidence *ev, const struct tb_terms *terms,
                      double rest_scale, double telling_scale)
{
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double telling, rest;

        tb_blend_logs(&telling, &rest, ev, &pure, terms);
        t->pure_telling[f] = exp(telling - telling_scale);
        t->pure_rest[f] = exp(rest - rest_scale);
        t->odd += ev->odd[f] * t->pure_rest[f];
    }
}

/* Rows an observation may need at most: a lead of each kind, one a term, and the parts of bench tests. */
static size_t rows_most(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    size_t n = 2 + terms->n;

    for (size_t i = 0; i < terms->n; i++)
        if (ev->cue[terms->term[i].cue].law == TB_LAW_PARTLY)
            n += (size_t)ev->channel[ev->cue[terms->term[i].cue].channel].n;
    return n;
}

struct tb_table *tb_table_new(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    struct tb_table *t = tb_new(struct tb_table);
    size_t rows = rows_most(ev, terms);
    double rest_scale;
    int n;

    t->fibres = ev->fibres;
    t->brings = tb_realloc(NULL, rows, sizeof *t->brings);
    t->row = tb_realloc(NULL, rows, sizeof *t->row);
    n = add_factors(&t->rest, t, 0, ev, terms, false);
    rest_scale = t->log_scale;
    (void)add_factors(&t->telling, t, n, ev, terms, true);
    take_pure(t, ev, terms, rest_scale, t->log_scale - rest_scale);
    return t;
}

void tb_table_free(struct tb_table *t)
{
    if (!t)
        return;
    free(t->brings);
    free(t->row);
    free(t);
}

/* --- one table at one chunk ----------------------------------------------------------------------------------- */

void tb_room_open(struct tb_room *r, const struct tb_table *t)
{
    size_t rows = (size_t)t->rows * TB_CHUNK;

    *r = (struct tb_room){ .table = t };
    for (int k = 0; k < 3; k++)
        r->role[k] = tb_realloc(NULL, (size_t)t->fibres * rows, sizeof(double));
    r->x = tb_realloc(NULL, rows, sizeof(double));
}

void tb_room_free(struct tb_room *r)
{
    for (int k = 0; k < 3; k++)
        free(r->role[k]);
    free(r->x);
    *r = (struct tb_room){ 0 };
}

/* What every fibre brings in one role, spread over the lanes of the chunk. */
static void spread(double *to, const struct tb_table *t, const unsigned char *steps)
{
    for (int f = 0; f < t->fibres; f++)
        for (int r = 0; r < t->rows; r++, to += TB_CHUNK)
            for (int l = 0; l < TB_CHUNK; l++)
                to[l] = t->brings[r].u[f][steps[l]];
}

static const double *brought(const struct tb_room *r, int role, int fibre)
{
    return r->role[role] + (size_t)fibre * (size_t)r->table->rows * TB_CHUNK;
}

void tb_strip_fill(double *telling, double *rest, struct tb_room *r, const struct tb_strip *s,
                   const struct tb_kernel *kernel)
{
    const struct tb_table *t = r->table;
    size_t stride = (size_t)t->rows * TB_CHUNK, n = (size_t)s->n;
    int last = s->layout->roles - 1;
    const double *w;

    if (r->roles != s->layout->roles || r->chunk != s->chunk)
        for (int k = 0; k <= last; k++)
            spread(r->role[k], t, s->layout->chunk[s->chunk].steps[k]);
    r->roles = s->layout->roles;
    r->chunk = s->chunk;
    w = brought(r, last, s->first);
    kernel->meet(r->x, brought(r, 0, s->i), last == 2 ? brought(r, 1, s->j) : NULL, t->row, t->rows);
    kernel->fill(rest, &t->rest, r->x, w, stride, n);
    kernel->fill(telling, &t->telling, r->x, w, stride, n);
}
