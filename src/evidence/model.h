/*
 * model.h - inside the evidence module: the model.
 *
 * The words and letters are those of docs/method.md: q, d(w), leak, base rate, share of odd burns.
 */
#ifndef TENTERBOOK_EVIDENCE_MODEL_H
#define TENTERBOOK_EVIDENCE_MODEL_H

#include "evidence/kernel.h"
#include "evidence/sent.h"
#include "tenterbook/evidence.h"

#define TB_STEPS 20 /* the grid of fractions: one twentieth by mass */
#define TB_BRICKS                                                                                            \
    (TB_FIBRES_MOST * (TB_STEPS + 1) + 1) /* every fibre at every share, and one that changes nothing */
#define TB_GROUPS 4                       /* channel weights are quarters: 1/4, 2/4, 3/4, 1 */
#define TB_PRODUCTS_OF_BURN (2 * TB_GROUPS)
#define TB_SHOWN_STEPS 2 /* from 10 % on a fibre counts as part of what the cloth shows */

/* The fitted figures, one row of sql/reference/burn_figure.csv each. */
struct tb_figures {
    double base_weight, base_rate, base_telling; /* base rate of a cue over all fibres */
    double class_weight, fibre_weight; /* how much a class borrows from all, a fibre from its class */
    double thin;                       /* families whose silence counts by half */
    double q_most;
    double leak_pure, leak_blend, leak_floor, leak_telling;
    double noise_pure, noise_blend;             /* laws all and share: pull towards the base rate */
    double odd_pure, odd_blend;                 /* chance that a burn behaves like some other fibre's */
    double share_power, odd_power;              /* flattening of the world shares */
    double one_fibre, two_fibres, three_fibres; /* sparsity prior */
    double bench_weight, bench_slip;            /* bench tests borrow less, and slip rarely */
    double memory_weight; /* a bench figure from memory counts this much of one that was seen */
    /* intraclass correlations of what two persons see, 0..1: of one swatch, and of two swatches of one lot */
    double icc_swatch, icc_lot;
    double
        bench_error; /* chance that what is recorded of a burn is of another cloth, or ticked by mistake, 0..1 */
    double
        mixup_part; /* of this, what is a swatch mixed up, and so shared by all that is done with it, 0..1 */
    double test_error; /* chance of a mistake in a bench test, mix-ups apart, 0..1 */
    double mixup,
        burn_error;     /* the two halves of bench_error: the swatch, and the act of burning by itself */
    double second_look; /* how far each of two looks at least must speak for what fits, a ratio above 1 */
    double
        rest_against; /* what must be left against the declaration without the weightiest look, a ratio above 1 */
    double ordinary; /* chance from which what was seen is ordinary for the declared cloth, 0..1 */
    double
        excuse; /* a finish that nobody named, to the best other cloth: from this ratio on it explains a burn about as well, 0..1 */
    double
        described_by; /* families that have to describe a channel of a fibre before a burn alone refutes it there */
    double
        mount; /* how far a mount shows a fibre that is hardly there, of what it shows of a pure cloth, 0..1 */
    double finish_named; /* chance that a finish which the declaration names shows in the burn, 0..1 */
};

struct tb_cue_model {
    enum tb_cue_law law;
    int channel, group; /* group g: weight (g + 1)/4 */
    bool telling;
    int ramp; /* which of the model's ramps */
    int product; /* of a likelihood that it belongs to: a group of the rest, then of the telling, then a bench test */
    bool firm;     /* telling, or a bench test: an odd burn does not change it */
    int general;   /* the more general cue this one is a kind of ("hard_bead": "bead"); -1 */
    bool kinds;    /* other cues are kinds of this one */
    int counts_as; /* the general cue this finer word counts as, since nobody published it apart; -1: itself */
    bool implied;  /* another cue that was seen may settle it */
    double base;
};

/* What cue `by`, where it was seen, says of another one: that it was there too, or that it cannot have been. */
struct tb_implied {
    int by, cue;
    bool there;
};
#define TB_IMPLIED_MOST 128

/* d(w) of some cues: a fibre of share `from` and less shows nothing, from `to` on it shows as far as the least does, and a pure cloth fully. */
struct tb_ramp {
    double from, to, least;
};
#define TB_RAMPS_MOST 9 /* eight pairs of the table, and that of a mount */

/* What a finish does to the burn of a fibre: channels that tell no fibre any more, cues that it makes itself. */
struct tb_effects {
    double make[TB_CUES_MOST];             /* chance, 0..1 */
    bool silent[TB_CHANNELS_MOST], memory; /* memory: some of it is no published text */
};
#define TB_EFFECTS_MOST 48

struct tb_finish_model {
    double unnamed;            /* share of cloths that have it and are not said to */
    int of[2][TB_FIBRES_MOST]; /* effects on each fibre, [1] with what is from memory; -1: none */
};

struct tb_best {
    double weight; /* prior times likelihood, on the scale of the sums */
    int n, fibre[3], steps[3];
};
#define TB_BEST_MOST 12

/* Sums of prior times likelihood, all on the scale exp(log_scale). */
struct tb_sums {
    double log_scale;
    double all;
    double one[TB_FIBRES_MOST];                 /* by fibres shown */
    double two[TB_FIBRES_MOST][TB_FIBRES_MOST]; /* [i][j], i < j */
    double *three;                              /* by tb_triple(i, j, k); NULL below three fibres */
    struct tb_best best[TB_BEST_MOST];
    size_t n_best;
    float *strip;  /* of every strip, in their order, no less than it is; NULL below two fibres */
    size_t strips; /* so many of them are known yet */
    /* at most so much was left out of all of these, and of one strip: no composition that was left out has more; 0: nothing was */
    double left_out, left_out_of_one;
};
struct tb_evidence {
    struct tb_evidence_settings set;
    struct tb_figures fig;
    struct tb_bounds bounds;
    struct tb_site_lots site; /* lots and texts in mem */
    size_t settled_lots;      /* behind the bounds, also where they were told */
    double settled_cases;     /* and how many cases they are; NAN: not told */
    struct tb_arena mem;
    bool apart;                      /* made of another model, whose prior sums it uses */
    unsigned char figures[TB_STAMP]; /* digest of all but the bounds */
    int fibres, cues, channels;
    int fibre[TB_FIBRES_MOST];    /* number in the fibre table */
    int class_of[TB_FIBRES_MOST]; /* burning class; equal numbers burn alike */
    const char *class_key[TB_FIBRES_MOST];
    double prior[TB_FIBRES_MOST];    /* flattened share, sums to 1 */
    double alone[TB_FIBRES_MOST];    /* the same among cloths of one fibre; sums to 1 */
    bool protective[TB_FIBRES_MOST]; /* bought for what a flame does not do to it */
    double common
        [TB_FIBRES_MOST]; /* how common each is in trade, sums to 1: for the order of what it could be */
    double odd[TB_FIBRES_MOST];    /* the mixture an odd burn is drawn from, sums to 1 */
    double pairs_sum, triples_sum; /* sums of products of priors over all pairs, triples */
    double q[TB_FIBRES_MOST][TB_CUES_MOST];
    bool pure_made;                            /* pure[] is that of q */
    double pure[TB_FIBRES_MOST][TB_CUES_MOST]; /* chance of a cue in a burn of the fibre alone, bare */
    double (
        *brick)[TB_BRICKS]; /* by cue: what a bare fibre brings to it at a share of the grid (chances.c) */
    /* descriptions of each channel, of the fibre or the best described one that burns like it; >= 0 */
    double described[TB_FIBRES_MOST][TB_CHANNELS_MOST];
    bool published[TB_FIBRES_MOST]
                  [TB_CUES_MOST]; /* somebody said the cue of the fibre, or of one that burns like it */
    struct tb_ramp ramp[TB_RAMPS_MOST];
    int ramps;
    double d[TB_RAMPS_MOST][TB_STEPS + 1]; /* how far a fibre shows at each step of the grid */
    double sparse[4];                      /* prior of one, two, three fibres, [1]..[3] */
    struct tb_cue_model cue[TB_CUES_MOST];
    struct tb_implied implied[TB_IMPLIED_MOST];
    int n_implied;
    struct tb_channel channel[TB_CHANNELS_MOST];
    struct tb_effects effects[TB_EFFECTS_MOST];
    int n_effects;
    struct tb_finish_model finish[TB_FINISHES_MOST];
    double unnamed[TB_FIBRES_MOST]; /* of all finishes that a pure cloth may have unnamed, 0..1 */
    char digest[TB_REFERENCE];
    struct tb_sums prior_sums;      /* the prior itself, by fibres shown */
    const struct tb_kernel *kernel; /* the best one this processor runs */
};

/* Index in the model of the fibre that stands for one of the fibre table; -1 when there is none. */
int tb_model_fibre(const struct tb_evidence *ev, int fibre);
/* d(w): how far a fibre of this share shows. Asked a hundred thousand times a verdict. */
static inline double tb_model_visible(const struct tb_ramp *ramp, double share)
{
    double d = (share - ramp->from) / (ramp->to - ramp->from);

    return d <= 0 ? 0 : (d > 1 ? 1 : d) * (ramp->least + (1 - ramp->least) * share);
}
/* The weight of a cue's channel: quarters of 1. */
static inline double tb_weight_of(const struct tb_evidence *ev, int cue)
{
    return (ev->cue[cue].group + 1) / (double)TB_GROUPS;
}
/* x to the power n/4, n 1..4: what a chance counts under a channel weight. */
double tb_quarters(double x, int n);

/* What finishes do, from their tables; after the fibres and cues. */
void tb_finish_take(struct tb_evidence *ev);
/* A figure by its key in burn_figure.csv. */
double tb_model_figure(const char *key);
/* Figures to be tried in place of those of burn_figure.csv, by their keys, and of the quarters of channel.csv, by that of the channel. */
struct tb_other_figures {
    const char *const *key; /* n */
    const double *value;
    size_t n;
};
/* Everything the reference tables say: figures, fibres, cues, the priors of the grid. `ev` has its settings; `other` may be NULL. */
void tb_model_take(struct tb_evidence *ev, const struct tb_other_figures *other);
/* tb_evidence_new with other figures, for fitting them (tests/fit); the digest does not know them. */
tb_rc tb_evidence_of(struct tb_evidence **out, const struct tb_evidence_settings *settings,
                     const struct tb_other_figures *other, const struct tb_known_burn *known, size_t n_known,
                     struct tb_err *err);

#endif
