/* model.c - the fibres, cues and figures of the model, from the reference tables. */
#include "evidence/model.h"

#include "gen/ref_burn_fibre.h"
#include "gen/ref_burn_figure.h"
#include "gen/ref_channel.h"
#include "gen/ref_cue.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* By name and not by place: the table may be sorted, and a missing row stops the program at its start. */
double tb_model_figure(const char *key)
{
    for (size_t i = 0; i < tb_ref_burn_figure_n; i++)
        if (strcmp(tb_ref_burn_figure[i].key, key) == 0)
            return tb_ref_burn_figure[i].value;
    assert(0 && "a figure of the model is missing from sql/reference/burn_figure.csv");
    return NAN;
}

/* Whoever fits the figures tries others than those of the table. */
static double figure(const struct tb_other_figures *other, const char *key)
{
    for (size_t i = 0; other && i < other->n; i++)
        if (strcmp(other->key[i], key) == 0)
            return other->value[i];
    return tb_model_figure(key);
}

static void take_figures(struct tb_figures *f, const struct tb_other_figures *other)
{
    *f = (struct tb_figures){
        .base_weight = figure(other, "base_weight"),
        .base_rate = figure(other, "base_rate"),
        .base_telling = figure(other, "base_telling"),
        .class_weight = figure(other, "class_weight"),
        .fibre_weight = figure(other, "fibre_weight"),
        .thin = figure(other, "thin"),
        .q_most = figure(other, "q_most"),
        .leak_pure = figure(other, "leak_pure"),
        .leak_blend = figure(other, "leak_blend"),
        .leak_floor = figure(other, "leak_floor"),
        .leak_telling = figure(other, "leak_telling"),
        .noise_pure = figure(other, "noise_pure"),
        .noise_blend = figure(other, "noise_blend"),
        .odd_pure = figure(other, "odd_pure"),
        .odd_blend = figure(other, "odd_blend"),
        .share_power = figure(other, "share_power"),
        .odd_power = figure(other, "odd_power"),
        .one_fibre = figure(other, "one_fibre"),
        .two_fibres = figure(other, "two_fibres"),
        .three_fibres = figure(other, "three_fibres"),
        .memory_weight = figure(other, "memory_weight"),
        .icc_swatch = figure(other, "icc_swatch"),
        .icc_lot = figure(other, "icc_lot"),
        .second_look = figure(other, "second_look"),
        .rest_against = figure(other, "rest_against"),
        .ordinary = figure(other, "ordinary"),
        .excuse = figure(other, "excuse"),
        .described_by = figure(other, "described_by"),
        .mount = figure(other, "mount"),
        .finish_named = figure(other, "finish_named"),
        .bench_weight = figure(other, "bench_weight"),
        .bench_slip = figure(other, "bench_slip"),
        .mixup_part = figure(other, "mixup_part"),
        .test_error = figure(other, "test_error"),
    };
}

/* The number of the first fibre that has the class. */
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

/* Shares are flattened, because a warehouse does not receive the world's harvest in proportion. */
static void take_fibres(struct tb_evidence *ev)
{
    double sum = 0, odd = 0, alone = 0, common = 0;

    assert(tb_ref_burn_fibre_n <= TB_FIBRES_MOST);
    ev->fibres = (int)tb_ref_burn_fibre_n;
    for (int i = 0; i < ev->fibres; i++) {
        const struct tb_ref_burn_fibre *r = &tb_ref_burn_fibre[i];

        ev->fibre[i] = tb_fibre_by_key(r->fibre);
        ev->class_key[i] = r->burn_class;
        ev->protective[i] = r->protective == 1;
        ev->class_of[i] = class_number(ev, i, r->burn_class);
    }
    for (int i = 0; i < ev->fibres; i++) {
        double all = class_share(ev, i), within = tb_ref_burn_fibre[i].share_percent / all;

        sum += ev->prior[i] = pow(all, ev->fig.share_power) * within;
        odd += ev->odd[i] = pow(all, ev->fig.odd_power) * within;
        common += ev->common[i] = tb_ref_burn_fibre[i].common;
    }
    for (int i = 0; i < ev->fibres; i++) {
        ev->prior[i] /= sum;
        ev->odd[i] /= odd;
        ev->common[i] /= common;
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

/* Cues share few ramps; equal figures come from equal text in the table, so they are equal exactly. */
static int ramp_of(struct tb_evidence *ev, struct tb_ramp of)
{
    for (int i = 0; i < ev->ramps; i++) {
        const struct tb_ramp *r = &ev->ramp[i];

        if (r->from >= of.from && r->from <= of.from && r->to >= of.to && r->to <= of.to &&
            r->least >= of.least && r->least <= of.least)
            return i;
    }
    assert(ev->ramps < TB_RAMPS_MOST && 0 <= of.from && of.from < of.to);
    ev->ramp[ev->ramps] = of;
    return ev->ramps++;
}

/* A drop tells of all that it wets; a mount shows some of the fibres, one by one. */
static double least_of(const struct tb_evidence *ev, const struct tb_channel *ch)
{
    return ch->bench && !ch->exclusive ? ev->fig.mount : 1;
}

/* The weight of a channel, in quarters. */
static int quarters(const struct tb_other_figures *other, int channel)
{
    for (size_t i = 0; other && i < other->n; i++)
        if (strcmp(other->key[i], tb_ref_channel[channel].key) == 0)
            return (int)other->value[i];
    return tb_ref_channel[channel].quarters;
}

/* The words of column `implies`: cues, with ! those that cannot have been. */
static void take_implied(struct tb_evidence *ev, int by)
{
    char *list = tb_strdup(tb_ref_cue[by].implies), *rest = list;

    for (char *word; (word = strsep(&rest, " "));) {
        bool there = *word != '!';

        if (!*word)
            continue;
        assert(ev->n_implied < TB_IMPLIED_MOST);
        ev->implied[ev->n_implied] = (struct tb_implied){ by, tb_cue_by_key(word + !there), there };
        ev->cue[ev->implied[ev->n_implied++].cue].implied = true;
    }
    free(list);
}

static void take_cues(struct tb_evidence *ev, const struct tb_other_figures *other)
{
    ev->channels = (int)tb_channel_count();
    ev->cues = (int)tb_cue_count();
    assert(ev->channels <= TB_CHANNELS_MOST && ev->cues <= TB_CUES_MOST);
    for (int i = 0; i < ev->channels; i++)
        tb_channel_at(&ev->channel[i], i);
    for (int c = 0; c < ev->cues; c++) {
        int kind_of = *tb_ref_cue[c].kind_of ? tb_cue_by_key(tb_ref_cue[c].kind_of) : -1;
        bool as_general = tb_ref_cue[c].as_general == 1;
        struct tb_cue cue;

        tb_cue_at(&cue, c);
        ev->cue[c] = (struct tb_cue_model){
            .law = cue.law,
            .channel = cue.channel,
            .group = quarters(other, cue.channel) - 1,
            .telling = tb_ref_cue[c].telling == 1,
            .firm = tb_ref_cue[c].telling == 1 || ev->channel[cue.channel].bench,
            .ramp = ramp_of(ev, (struct tb_ramp){ tb_ref_cue[c].shows_from, tb_ref_cue[c].shows_to,
                                                  least_of(ev, &ev->channel[cue.channel]) }),
            .general = as_general ? -1 : kind_of,
            .counts_as = as_general ? kind_of : -1
        };
    }
    for (int c = 0; c < ev->cues; c++) {
        struct tb_cue_model *m = &ev->cue[c];

        m->product = ev->channel[m->channel].bench ? TB_PRODUCTS_OF_BURN + m->channel
                                                   : m->telling * TB_GROUPS + m->group;
    }
    for (int c = 0; c < ev->cues; c++) {
        if (ev->cue[c].general >= 0)
            ev->cue[ev->cue[c].general].kinds = true;
        take_implied(ev, c);
    }
}

/* Renormalised where fewer fibres are allowed, so that the prior still sums to 1. */
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

/* In this order: the fibres need the figures, the space needs the ramps of the cues. */
void tb_model_take(struct tb_evidence *ev, const struct tb_other_figures *other)
{
    take_figures(&ev->fig, other);
    ev->fig.bench_error = ev->set.bench_error;
    ev->fig.mixup = ev->fig.bench_error * ev->fig.mixup_part;
    ev->fig.burn_error = (ev->fig.bench_error - ev->fig.mixup) / (1 - ev->fig.mixup);
    take_fibres(ev);
    take_cues(ev, other);
    take_space(ev);
    tb_finish_take(ev);
}

/* Channel weights are quarters, so that two square roots do for a power. */
double tb_quarters(double x, int n)
{
    return n == 4 ? x : n == 3 ? sqrt(x) * sqrt(sqrt(x)) : n == 2 ? sqrt(x) : sqrt(sqrt(x));
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
