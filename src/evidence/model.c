#include "evidence/space.h"

#include "gen/ref_bench_count.h"
#include "gen/ref_burn_count.h"
#include "gen/ref_burn_fibre.h"
#include "gen/ref_burn_figure.h"
#include "gen/ref_channel.h"
#include "gen/ref_cue.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <sodium.h>

static double figure(const char *key)
{
    for (size_t i = 0; i < tb_ref_burn_figure_n; i++)
        if (strcmp(tb_ref_burn_figure[i].key, key) == 0)
            return tb_ref_burn_figure[i].value;
    assert(0 && "a figure of the model is missing from sql/reference/burn_figure.csv");
    return NAN;
}

static void take_figures(struct tb_figures *f)
{
    *f = (struct tb_figures){
        .base_weight = figure("base_weight"),
        .base_rate = figure("base_rate"),
        .base_telling = figure("base_telling"),
        .class_weight = figure("class_weight"),
        .fibre_weight = figure("fibre_weight"),
        .q_most = figure("q_most"),
        .leak_pure = figure("leak_pure"),
        .leak_blend = figure("leak_blend"),
        .leak_floor = figure("leak_floor"),
        .leak_telling = figure("leak_telling"),
        .noise_pure = figure("noise_pure"),
        .noise_blend = figure("noise_blend"),
        .odd_pure = figure("odd_pure"),
        .odd_blend = figure("odd_blend"),
        .share_power = figure("share_power"),
        .odd_power = figure("odd_power"),
        .one_fibre = figure("one_fibre"),
        .two_fibres = figure("two_fibres"),
        .three_fibres = figure("three_fibres"),
        .memory_weight = figure("memory_weight"),
        .repeat = figure("repeat"),
        .bench_weight = figure("bench_weight"),
        .bench_slip = figure("bench_slip"),
    };
}

void tb_evidence_defaults(struct tb_evidence_settings *out)
{
    *out = (struct tb_evidence_settings){ .contradicts_below = 1.0 / 20,
                                          .fits_above = 3,
                                          .fibres_most = 3,
                                          .hazards_allowed = TB_HAZARD_ALL,
                                          .site_weight = 1 };
}

static int class_number(const struct tb_evidence *ev, int upto, const char *key)
{
    for (int i = 0; i < upto; i++)
        if (strcmp(ev->class_key[i], key) == 0)
            return ev->class_of[i];
    return upto;
}

/* World share of a fibre's class: shares are flattened between classes, which burning sees, not within them. */
static double class_share(const struct tb_evidence *ev, int fibre)
{
    double sum = 0;

    for (int i = 0; i < ev->fibres; i++)
        if (ev->class_of[i] == ev->class_of[fibre])
            sum += tb_ref_burn_fibre[i].share_percent;
    return sum;
}

static void take_fibres(struct tb_evidence *ev)
{
    double sum = 0, odd = 0, alone = 0;

    assert(tb_ref_burn_fibre_n <= TB_FIBRES_MOST);
    ev->fibres = (int)tb_ref_burn_fibre_n;
    for (int i = 0; i < ev->fibres; i++) {
        const struct tb_ref_burn_fibre *r = &tb_ref_burn_fibre[i];

        ev->fibre[i] = tb_fibre_by_key(r->fibre);
        ev->class_key[i] = r->burn_class;
        ev->class_of[i] = class_number(ev, i, r->burn_class);
    }
    for (int i = 0; i < ev->fibres; i++) {
        double all = class_share(ev, i), within = tb_ref_burn_fibre[i].share_percent / all;

        sum += ev->prior[i] = pow(all, ev->fig.share_power) * within;
        odd += ev->odd[i] = pow(all, ev->fig.odd_power) * within;
    }
    for (int i = 0; i < ev->fibres; i++) {
        ev->prior[i] /= sum;
        ev->odd[i] /= odd;
        alone += ev->alone[i] = ev->prior[i] * tb_ref_burn_fibre[i].alone;
    }
    for (int i = 0; i < ev->fibres; i++)
        ev->alone[i] /= alone;
    for (int i = 0; i < ev->fibres; i++)
        for (int j = i + 1; j < ev->fibres; j++) {
            ev->pairs_sum += ev->prior[i] * ev->prior[j];
            for (int k = j + 1; k < ev->fibres; k++)
                ev->triples_sum += ev->prior[i] * ev->prior[j] * ev->prior[k];
        }
}

static int ramp_of(struct tb_evidence *ev, double from, double to)
{
    for (int i = 0; i < ev->ramps; i++)
        if (ev->ramp[i].from >= from && ev->ramp[i].from <= from && ev->ramp[i].to >= to &&
            ev->ramp[i].to <= to)
            return i;
    assert(ev->ramps < TB_RAMPS_MOST && 0 <= from && from < to);
    ev->ramp[ev->ramps] = (struct tb_ramp){ from, to };
    return ev->ramps++;
}

static void take_cues(struct tb_evidence *ev)
{
    ev->channels = (int)tb_channel_count();
    ev->cues = (int)tb_cue_count();
    assert(ev->channels <= TB_CHANNELS_MOST && ev->cues <= TB_CUES_MOST);
    for (int i = 0; i < ev->channels; i++)
        tb_channel_at(&ev->channel[i], i);
    for (int c = 0; c < ev->cues; c++) {
        struct tb_cue cue;

        tb_cue_at(&cue, c);
        ev->cue[c] =
            (struct tb_cue_model){ .law = cue.law,
                                   .channel = cue.channel,
                                   .group = tb_ref_channel[cue.channel].quarters - 1,
                                   .telling = tb_ref_cue[c].telling == 1,
                                   .firm = tb_ref_cue[c].telling == 1 || ev->channel[cue.channel].bench,
                                   .ramp = ramp_of(ev, tb_ref_cue[c].shows_from, tb_ref_cue[c].shows_to),
                                   .general =
                                       *tb_ref_cue[c].kind_of ? tb_cue_by_key(tb_ref_cue[c].kind_of) : -1 };
    }
}

static void take_space(struct tb_evidence *ev)
{
    double all = 0, each[4] = { 0, ev->fig.one_fibre, ev->fig.two_fibres, ev->fig.three_fibres };

    assert(ev->set.fibres_most <= 3);
    for (int n = 1; n <= ev->set.fibres_most; n++)
        all += each[n];
    for (int n = 1; n <= ev->set.fibres_most; n++)
        ev->sparse[n] = each[n] / all;
    for (int r = 0; r < ev->ramps; r++)
        for (int k = 0; k <= TB_STEPS; k++)
            ev->d[r][k] = tb_model_visible(&ev->ramp[r], (double)k / TB_STEPS);
}

double tb_quarters(double x, int n)
{
    return n == 4 ? x : n == 3 ? sqrt(x) * sqrt(sqrt(x)) : n == 2 ? sqrt(x) : sqrt(sqrt(x));
}

/* --- counts to chances: each level borrows from the one above ------------------------------------------- */

struct counts {
    double said[TB_FIBRES_MOST][TB_CUES_MOST], unsaid[TB_FIBRES_MOST][TB_CUES_MOST];
};

static int model_fibre_by_key(const struct tb_evidence *ev, const char *key)
{
    for (int i = 0; i < ev->fibres; i++)
        if (strcmp(tb_ref_burn_fibre[i].fibre, key) == 0)
            return i;
    return -1;
}

static void count_reference(struct counts *n, const struct tb_evidence *ev)
{
    for (size_t i = 0; i < tb_ref_burn_count_n; i++) {
        int f = model_fibre_by_key(ev, tb_ref_burn_count[i].fibre),
            c = tb_cue_by_key(tb_ref_burn_count[i].cue);

        assert(f >= 0 && c >= 0);
        n->said[f][c] += tb_ref_burn_count[i].said;
        n->unsaid[f][c] += tb_ref_burn_count[i].unsaid;
    }
    for (size_t i = 0; i < tb_ref_bench_count_n; i++) {
        const struct tb_ref_bench_count *r = &tb_ref_bench_count[i];
        int f = model_fibre_by_key(ev, r->fibre), c = tb_cue_by_key(r->cue);

        assert(f >= 0 && c >= 0);
        n->said[f][c] += r->said_seen + ev->fig.memory_weight * r->said_memory;
        n->unsaid[f][c] += r->unsaid_seen + ev->fig.memory_weight * r->unsaid_memory;
    }
}

/* As the reference was counted: a cue is said when it or a kind of it was seen; a kind stays open where only the
 * general cue was said; all else of a channel that was looked at is unsaid. */
static void count_known(struct counts *n, const struct tb_evidence *ev, const struct tb_known_burn *known)
{
    const struct tb_observation *o = &known->seen;
    int f = tb_model_fibre(ev, known->fibre);
    double w = known->weight * ev->set.site_weight;

    if (f < 0)
        return;
    for (int c = 0; c < ev->cues; c++) {
        int general = ev->cue[c].general;
        bool seen = o->sight[c] == TB_SIGHT_SEEN || tb_kind_seen(ev, o, c);

        if (!o->looked[ev->cue[c].channel])
            continue;
        if (!seen && general >= 0 && o->sight[general] == TB_SIGHT_SEEN && !tb_kind_seen(ev, o, general) &&
            o->sight[c] != TB_SIGHT_DENIED)
            continue;
        (seen ? n->said : n->unsaid)[f][c] += w;
    }
}

/* Base rate over all fibres, the class's rate drawn to it, the fibre's drawn to its class's. */
static void chances_of_cue(struct tb_evidence *ev, const struct counts *n, int c)
{
    const struct tb_figures *g = &ev->fig;
    struct tb_cue_model *m = &ev->cue[c];
    const struct tb_channel *ch = &ev->channel[m->channel];
    double said = 0, unsaid = 0, of_class = ch->bench ? g->bench_weight : g->class_weight;
    double of_fibre = ch->bench ? g->bench_weight : g->fibre_weight;

    for (int f = 0; f < ev->fibres; f++) {
        said += n->said[f][c];
        unsaid += n->unsaid[f][c];
    }
    if (ch->exclusive)
        m->base = 1.0 / ch->n;
    else if (m->telling || ch->bench)
        m->base = g->base_telling;
    else
        m->base = (said + g->base_weight * g->base_rate) / (said + unsaid + g->base_weight);
    for (int f = 0; f < ev->fibres; f++) {
        double s = 0, u = 0, mean, q;

        for (int k = 0; k < ev->fibres; k++)
            if (ev->class_of[k] == ev->class_of[f]) {
                s += n->said[k][c];
                u += n->unsaid[k][c];
            }
        mean = (s + of_class * m->base) / (s + u + of_class);
        q = (n->said[f][c] + of_fibre * mean) / (n->said[f][c] + n->unsaid[f][c] + of_fibre);
        ev->q[f][c] = q > g->q_most ? g->q_most : q;
    }
}

/* Results of one exclusive test add up to 1. The mixed result has no chance of its own in a pure fibre's blend. */
static void settle_exclusive(struct tb_evidence *ev, const struct tb_channel *ch)
{
    for (int f = 0; f < ev->fibres; f++) {
        double sum = 0;

        for (int c = ch->first; c < ch->first + ch->n; c++)
            sum += ev->q[f][c];
        for (int c = ch->first; c < ch->first + ch->n; c++)
            ev->q[f][c] /= sum;
    }
}

/* --- the digest: every figure in force, in the order of the tables -------------------------------------- */

static void digest_number(crypto_hash_sha256_state *h, double v)
{
    unsigned char b[8];
    unsigned long long u;

    memcpy(&u, &v, sizeof u);
    for (int i = 0; i < 8; i++)
        b[i] = (unsigned char)(u >> (8 * i));
    (void)crypto_hash_sha256_update(h, b, sizeof b);
}

static void digest_text(crypto_hash_sha256_state *h, const char *s)
{
    (void)crypto_hash_sha256_update(h, (const unsigned char *)s, strlen(s) + 1);
}

static void take_digest(struct tb_evidence *ev, const struct counts *n)
{
    crypto_hash_sha256_state h;
    unsigned char sum[crypto_hash_sha256_BYTES];
    char hex[2 * sizeof sum + 1];

    (void)crypto_hash_sha256_init(&h);
    digest_text(&h, "tenterbook evidence 2");
    for (size_t i = 0; i < tb_ref_burn_figure_n; i++) {
        digest_text(&h, tb_ref_burn_figure[i].key);
        digest_number(&h, tb_ref_burn_figure[i].value);
    }
    digest_number(&h, ev->set.fibres_most);
    for (int c = 0; c < ev->cues; c++) {
        digest_text(&h, tb_ref_cue[c].key);
        digest_number(&h, (int)ev->cue[c].law * 64 + ev->cue[c].group * 8 + (ev->cue[c].telling ? 1 : 0));
        digest_number(&h, ev->cue[c].general);
        digest_number(&h, ev->ramp[ev->cue[c].ramp].from);
        digest_number(&h, ev->ramp[ev->cue[c].ramp].to);
    }
    for (int f = 0; f < ev->fibres; f++) {
        digest_text(&h, tb_ref_burn_fibre[f].fibre);
        digest_text(&h, ev->class_key[f]);
        digest_number(&h, tb_ref_burn_fibre[f].share_percent);
        digest_number(&h, tb_ref_burn_fibre[f].alone);
        for (int c = 0; c < ev->cues; c++) {
            digest_number(&h, n->said[f][c]);
            digest_number(&h, n->unsaid[f][c]);
        }
    }
    (void)crypto_hash_sha256_final(&h, sum);
    (void)sodium_bin2hex(hex, sizeof hex, sum, sizeof sum);
    (void)strcpy(ev->digest, "sha256:");
    (void)strcat(ev->digest, hex);
}

/* --- making and asking ----------------------------------------------------------------------------------- */

static tb_rc check_settings(const struct tb_evidence_settings *s, struct tb_err *err)
{
    if (!(s->contradicts_below > 0 && s->contradicts_below < 1 && s->fits_above > 1 &&
          isfinite(s->fits_above)))
        return tb_fail(
            err, TB_EINVAL,
            "the evidence thresholds are %g and %g; the first lies between 0 and 1, the second above 1",
            s->contradicts_below, s->fits_above);
    if (s->fibres_most < 1 || s->fibres_most > 3)
        return tb_fail(err, TB_EINVAL,
                       "compositions of up to %d fibres were asked for; 1, 2 or 3 can be weighed",
                       s->fibres_most);
    if (!(s->site_weight >= 0 && s->site_weight <= 100))
        return tb_fail(err, TB_EINVAL, "the weight of the site's own burns is %g; it lies between 0 and 100",
                       s->site_weight);
    return TB_OK;
}

tb_rc tb_evidence_new(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                      const struct tb_known_burn *known, size_t n_known, struct tb_err *err)
{
    struct tb_evidence_settings set;
    struct tb_evidence *ev;
    struct counts *n;
    tb_rc rc;

    tb_evidence_defaults(&set);
    if (settings)
        set = *settings;
    if ((rc = check_settings(&set, err)) != TB_OK)
        return rc;
    ev = tb_new(struct tb_evidence);
    n = tb_new(struct counts);
    ev->set = set;
    take_figures(&ev->fig);
    take_fibres(ev);
    take_cues(ev);
    take_space(ev);
    count_reference(n, ev);
    for (size_t i = 0; i < n_known; i++)
        count_known(n, ev, &known[i]);
    for (int c = 0; c < ev->cues; c++)
        chances_of_cue(ev, n, c);
    for (int i = 0; i < ev->channels; i++)
        if (ev->channel[i].exclusive)
            settle_exclusive(ev, &ev->channel[i]);
    take_digest(ev, n);
    free(n);
    (void)tb_kernels(&ev->kernel, 1);
    tb_space_weigh(&(struct tb_pick){ NULL, 0, &ev->prior_sums }, 1, ev, NULL, 0, ev->kernel);
    *out = ev;
    return TB_OK;
}

void tb_evidence_free(struct tb_evidence *ev)
{
    if (ev)
        tb_sums_free(&ev->prior_sums);
    free(ev);
}

const char *tb_evidence_digest(const struct tb_evidence *ev)
{
    return ev->digest;
}

size_t tb_evidence_compositions(const struct tb_evidence *ev)
{
    size_t f = (size_t)ev->fibres, n = f;

    if (ev->set.fibres_most >= 2)
        n += f * (f - 1) / 2 * (TB_STEPS - 1);
    if (ev->set.fibres_most >= 3)
        n += f * (f - 1) * (f - 2) / 6 * ((TB_STEPS - 1) * (TB_STEPS - 2) / 2);
    return n;
}

/* The fibre itself, the one its published profile belongs to, or the commonest twin that has one. */
int tb_model_fibre(const struct tb_evidence *ev, int fibre)
{
    const struct tb_fibre *f;
    int best = -1;

    if (fibre < 0)
        return -1;
    f = tb_fibre_at(fibre);
    for (int i = 0; i < ev->fibres; i++)
        if (ev->fibre[i] == fibre)
            return i;
    for (int i = 0; i < ev->fibres; i++)
        if (*f->burn_key && strcmp(tb_ref_burn_fibre[i].burn_key, f->burn_key) == 0)
            return i;
    for (int i = 0; i < ev->fibres; i++)
        if (tb_fibre_twins(fibre, ev->fibre[i]) && (best < 0 || ev->prior[i] > ev->prior[best]))
            best = i;
    return best;
}

int tb_evidence_judged_as(const struct tb_evidence *ev, int fibre)
{
    int m = tb_model_fibre(ev, fibre);

    return m < 0 ? -1 : ev->fibre[m];
}
