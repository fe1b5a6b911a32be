#include "evidence/table.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- lanes ------------------------------------------------------------------------------------------------ */

static unsigned shows(const int *steps, int roles)
{
    unsigned bits = 0;

    for (int r = 0; r < roles; r++)
        bits |= steps[r] >= TB_SHOWN_STEPS ? 1u << r : 0;
    return bits;
}

/* All ways to share twenty steps whose shown roles are `bits`, from lane `at`. */
static size_t put_run(struct tb_layout *l, size_t at, unsigned bits)
{
    int s[3];

    l->run_from[l->runs] = (int)at;
    l->run_shows[l->runs] = bits;
    for (s[0] = 1; s[0] < TB_STEPS; s[0]++)
        for (s[1] = 1; s[0] + s[1] <= TB_STEPS; s[1]++) {
            s[2] = TB_STEPS - s[0] - s[1];
            if ((l->roles == 2) != (s[2] == 0) || shows(s, l->roles) != bits)
                continue;
            for (int r = 0; r < l->roles; r++)
                l->steps[r][at] = (unsigned char)s[r];
            at++;
        }
    l->run_to[l->runs++] = (int)at;
    return at;
}

void tb_layout_make(struct tb_layout *out, int roles)
{
    unsigned full = (1u << roles) - 1;
    size_t at = 0;

    memset(out, 0, sizeof *out);
    out->roles = roles;
    for (unsigned bits = full; bits > 0; bits--) {
        size_t end = put_run(out, at, bits);

        out->used += end - at;
        if (end > at)
            at = bits == full ? (end + 7) / 8 * 8 : end;
        else
            out->runs--;
    }
    out->lanes = (at + 7) / 8 * 8;
    assert(out->lanes <= TB_LANES);
}

/* --- an observation as factors ---------------------------------------------------------------------------- */

/* The compact form: what a fibre at a step brings to a row. */
struct compact {
    double u[TB_FIBRES_MOST][TB_STEPS + 1];
};

static double weight_of(const struct tb_evidence *ev, int cue)
{
    return (ev->cue[cue].group + 1) / (double)TB_GROUPS;
}

static void bring(struct compact *row, const struct tb_evidence *ev, int cue, enum tb_cue_law law)
{
    bool bench = ev->channel[ev->cue[cue].channel].bench;

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++) {
            double q = ev->q[f][cue], d = ev->d[bench][k];

            row->u[f][k] = law == TB_LAW_ANY     ? 1 - q * d
                           : law == TB_LAW_SHARE ? q * k / TB_STEPS
                                                 : 1 - (1 - q) * d;
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

/* An absent `any` cue is a product over the fibres (and a leak, kept apart): its weight goes into the table. */
static void add_absent(struct compact *row, const struct tb_evidence *ev, int cue)
{
    double w = weight_of(ev, cue);
    bool bench = ev->channel[ev->cue[cue].channel].bench;

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            row->u[f][k] *= pow(1 - ev->q[f][cue] * ev->d[bench][k], w);
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

struct build {
    const struct tb_evidence *ev;
    struct compact *row;
    int rows;
};

/* Rows and coefficients of one factor that is not additive. */
static struct tb_factor make_factor(struct build *b, struct tb_table *t, const struct tb_term *term)
{
    const struct tb_evidence *ev = b->ev;
    const struct tb_cue_model *m = &ev->cue[term->cue];
    const struct tb_channel *ch = &ev->channel[m->channel];
    double noise = tb_noise_of(ev, term->cue, 2), most = most_pure(ev, term);
    struct tb_factor f = { .first = b->rows, .rows = 1, .sum = m->law == TB_LAW_SHARE };

    t->row_sums[b->rows] = (unsigned char)f.sum;
    if (m->law == TB_LAW_PARTLY) {
        f.rows = 0;
        for (int c = ch->first; c < ch->first + ch->n; c++)
            if (ev->cue[c].law == TB_LAW_ALL) {
                bring(&b->row[b->rows++], ev, c, TB_LAW_ALL);
                f.rows++;
            }
        f.a = (1 - noise) + noise * m->base;
        f.b = -(1 - noise);
    } else {
        bring(&b->row[b->rows++], ev, term->cue, m->law);
        f.a = m->law == TB_LAW_ANY ? 1 : noise * m->base;
        f.b = m->law == TB_LAW_ANY ? -(1 - leak_of(ev, term->cue)) : 1 - noise;
    }
    if (!term->seen) {
        f.a = 1 - f.a;
        f.b = -f.b;
    }
    f.a /= most;
    f.b /= most;
    t->log_scale += weight_of(ev, term->cue) * log(most);
    return f;
}

/* Factors of one kind (telling or rest), by group; returns log of what the leaks of absent cues leave. */
static double make_factors(struct build *b, struct tb_table *t, struct tb_factors *out, int *n_factor,
                           const struct tb_terms *terms, bool telling)
{
    const struct tb_evidence *ev = b->ev;
    struct compact *sum = &b->row[b->rows++];
    double leaks = 0;

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            sum->u[f][k] = 1;
    out->factor = t->factor + *n_factor;
    for (int g = 0, n = 0; g < TB_GROUPS; g++) {
        out->from[g] = n;
        for (size_t i = 0; i < terms->n; i++) {
            const struct tb_term *term = &terms->term[i];
            const struct tb_cue_model *m = &ev->cue[term->cue];

            if (m->group != g || m->firm != telling)
                continue;
            *(telling ? &t->has_telling : &t->has_rest) = true;
            if (additive(ev, term)) {
                add_absent(sum, ev, term->cue);
                leaks += weight_of(ev, term->cue) * log1p(-leak_of(ev, term->cue));
            } else {
                t->factor[(*n_factor)++] = make_factor(b, t, term);
                n++;
            }
        }
        out->from[g + 1] = n;
    }
    return leaks;
}

/* --- role tables: the compact rows spread over the lanes --------------------------------------------------- */

static double *spread(const struct tb_table *t, const struct compact *row, int fibres,
                      const unsigned char *steps, size_t lanes)
{
    double *out = tb_realloc(NULL, (size_t)fibres * (size_t)t->rows * TB_LANES, sizeof *out);

    for (int f = 0; f < fibres; f++)
        for (int r = 0; r < t->rows; r++) {
            double *to = out + ((size_t)f * (size_t)t->rows + (size_t)r) * TB_LANES;

            for (size_t l = 0; l < lanes; l++)
                to[l] = row[r].u[f][steps[l]];
        }
    return out;
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
    }
    t->odd = exp(tb_odd_log(ev, terms) - rest_scale);
}

struct tb_table *tb_table_new(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    struct tb_table *t = tb_new(struct tb_table);
    struct build b = { ev, tb_realloc(NULL, 2 * TB_CUES_MOST, sizeof *b.row), 0 };
    double rest_scale;
    int n = 0;

    t->rest_leaks = exp(make_factors(&b, t, &t->rest, &n, terms, false));
    rest_scale = t->log_scale;
    t->telling_row = b.rows;
    t->telling_leaks = exp(make_factors(&b, t, &t->telling, &n, terms, true));
    t->rows = b.rows;
    take_pure(t, ev, terms, rest_scale, t->log_scale - rest_scale);
    for (int k = 0; k < 2 && k + 2 <= ev->set.fibres_most; k++) {
        tb_layout_make(&t->layout[k], k + 2);
        for (int r = 0; r < k + 2; r++)
            t->role[k][r] = spread(t, b.row, ev->fibres, t->layout[k].steps[r], t->layout[k].lanes);
    }
    free(b.row);
    return t;
}

void tb_table_free(struct tb_table *t)
{
    if (!t)
        return;
    for (int k = 0; k < 2; k++)
        for (int r = 0; r < 3; r++)
            free(t->role[k][r]);
    free(t);
}

const double *tb_table_rows(const struct tb_table *t, int layout, int role, int fibre)
{
    return t->role[layout][role] + (size_t)fibre * (size_t)t->rows * TB_LANES;
}

/* Rows of the first two roles of a block of three, met: products, sums for rows of a sum factor. */
void tb_table_pair(double *uv, const struct tb_table *t, int layout, int i, int j)
{
    const double *u = tb_table_rows(t, layout, 0, i), *v = tb_table_rows(t, layout, 1, j);
    size_t lanes = t->layout[layout].lanes;

    for (int r = 0; r < t->rows; r++) {
        size_t at = (size_t)r * TB_LANES;

        tb_rows_meet(uv + at, u + at, v + at, lanes, t->row_sums[r]);
    }
}
