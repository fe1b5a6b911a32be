/* chance.c - the chance that a cue is seen in a burn of a blend, by the combining laws of docs/method.md. */
#include "evidence/likelihood.h"

/* How far each fibre of a blend shows, ramp by ramp. */
struct sight {
    double d[TB_RAMPS_MOST][TB_BLEND_MOST];
};

/* Worked out once a blend: the cues of one ramp share it, and there are a hundred cues and few ramps. */
static void sight_of(struct sight *out, const struct tb_evidence *ev, const struct tb_blend *b)
{
    for (int r = 0; r < ev->ramps; r++)
        for (int i = 0; i < b->n; i++)
            out->d[r][i] = tb_model_visible(&ev->ramp[r], b->share[i]);
}

/* What makes the cue without any fibre of a cloth of n: law any has it in place of the pull towards the base rate. */
double tb_leak_of(const struct tb_evidence *ev, int cue, int n)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    const struct tb_figures *g = &ev->fig;

    return m->telling ? g->leak_telling : (n > 1 ? g->leak_blend : g->leak_pure) * m->base + g->leak_floor;
}

/* Product over the fibres of the blend, each as far as its share lets it show. */
static double chance_any(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                         int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    double none = 1 - tb_leak_of(ev, cue, b->n);

    for (int i = 0; i < b->n; i++)
        none *= 1 - ev->q[b->fibre[i]][cue] * s->d[m->ramp][i];
    return 1 - none;
}

/* A fibre too scarce to show cannot prevent the cue, so its share lifts its chance towards 1. */
static double chance_all(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                         int cue)
{
    double p = 1;

    for (int i = 0; i < b->n; i++)
        p *= 1 - (1 - ev->q[b->fibre[i]][cue]) * s->d[ev->cue[cue].ramp][i];
    return p;
}

/* By mass: half of a cloth that burns slowly makes it burn half as slowly. */
static double chance_share(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    double p = 0;

    for (int i = 0; i < b->n; i++)
        p += b->share[i] * ev->q[b->fibre[i]][cue];
    return p;
}

/* What is left over when the other results of the test do not happen. */
static double chance_partly(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                            int cue)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];
    double p = 1;

    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (ev->cue[c].law == TB_LAW_ALL)
            p -= chance_all(ev, b, s, c);
    return p > 0 ? p : 0;
}

/* A bench test is read off one swatch with one result; a flame is watched by a person, who slips more often. */
double tb_noise_of(const struct tb_evidence *ev, int cue, int n)
{
    if (ev->channel[ev->cue[cue].channel].exclusive)
        return ev->fig.bench_slip;
    return n > 1 ? ev->fig.noise_blend : ev->fig.noise_pure;
}

/* Law any has a leak instead of the pull towards the base rate: something else may always add a smell. */
static double unfinished(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                         int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    double noise = tb_noise_of(ev, cue, b->n), p;

    if (m->law == TB_LAW_ANY)
        return chance_any(ev, b, s, cue);
    if (m->law == TB_LAW_SHARE)
        p = chance_share(ev, b, cue);
    else
        p = m->law == TB_LAW_ALL ? chance_all(ev, b, s, cue) : chance_partly(ev, b, s, cue);
    return (1 - noise) * p + noise * m->base;
}

/* Its chances stand in the model. */
static bool is_pure(const struct tb_evidence *ev, const struct tb_blend *b)
{
    return ev->pure_made && b->n == 1 && b->share[0] == 1;
}

/* `s` is not asked of a pure cloth. */
static double chance(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s, int cue)
{
    double p = is_pure(ev, b) ? ev->pure[b->fibre[0]][cue] : unfinished(ev, b, s, cue);

    return b->finish ? tb_finish_chance(ev, b, cue, p) : p;
}

/* For a single cue; where there are many, tb_blend_chances looks at the blend once. */
double tb_cue_chance(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    struct sight s;

    if (!is_pure(ev, b))
        sight_of(&s, ev, b);
    return chance(ev, b, &s, cue);
}

void tb_chances_of_pure(struct tb_evidence *ev)
{
    ev->pure_made = false;
    for (int f = 0; f < ev->fibres; f++)
        for (int c = 0; c < ev->cues; c++)
            ev->pure[f][c] =
                tb_cue_chance(ev, &(struct tb_blend){ .n = 1, .fibre = { f }, .share = { 1 } }, c);
    ev->pure_made = true;
}

/* An absent cue counts with the chance of its absence: not seeing says something too. */
void tb_blend_chances(double *out, const struct tb_evidence *ev, const struct tb_blend *b,
                      const struct tb_terms *terms)
{
    struct sight s;

    if (!is_pure(ev, b))
        sight_of(&s, ev, b);
    for (size_t i = 0; i < terms->n; i++) {
        double p = chance(ev, b, &s, terms->term[i].cue);

        out[i] = terms->term[i].seen ? p : 1 - p;
    }
}
