/* likelihood.h - inside the evidence module: from an observation to the likelihood of a composition. */
#ifndef TENTERBOOK_EVIDENCE_LIKELIHOOD_H
#define TENTERBOOK_EVIDENCE_LIKELIHOOD_H

#include "evidence/model.h"

/*
 * What an observation says, cue by cue. `seen` 1 or 0; cues that say nothing are not in the list: those of a
 * channel nobody looked at, kinds of a general cue that was all that was said, a general cue beside its kind.
 */
struct tb_term {
    int cue;
    bool seen, denied; /* denied: said to be absent, and so unseen */
};
struct tb_terms {
    struct tb_term term[TB_CUES_MOST];
    size_t n;
};
/* The pull of laws all, share and partly towards the base rate, for a blend of n fibres. */
double tb_noise_of(const struct tb_evidence *ev, int cue, int n);
/* The leak of law any, for a blend of n fibres. */
double tb_leak_of(const struct tb_evidence *ev, int cue, int n);
/* True when other cues are kinds of this one. */
static inline bool tb_cue_general(const struct tb_evidence *ev, int cue)
{
    return ev->cue[cue].kinds;
}
/* True when some kind of this general cue was seen. */
bool tb_kind_seen(const struct tb_evidence *ev, const struct tb_observation *o, int cue);
/* Of what was seen: 1, that this cue was there too; -1, that it cannot have been; 0, neither, or it was expressly denied. */
int tb_cue_implied(const struct tb_evidence *ev, const struct tb_observation *o, int cue);
/* The observation in the words that descriptions are counted in: each finer word as the general cue it counts as. */
void tb_observation_known(struct tb_observation *out, const struct tb_evidence *ev,
                          const struct tb_observation *o);
/* What this observation says under the model. */
void tb_terms_of(struct tb_terms *out, const struct tb_evidence *ev, const struct tb_observation *o);

/* Do two observations say the same, denials kept apart from what was only not seen? */
bool tb_terms_same(const struct tb_terms *a, const struct tb_terms *b);
/* The same of what they say of the burn, bench tests left out; denials make no difference. */
bool tb_terms_same_burn(const struct tb_terms *a, const struct tb_terms *b, const struct tb_evidence *ev);

/* A composition of model fibres; shares of mass sum to 1. */
#define TB_BLEND_MOST 12
struct tb_blend {
    int n;
    int fibre[TB_BLEND_MOST];
    double share[TB_BLEND_MOST];
    int finish; /* 1 + the finish the cloth burns with; 0: none */
    bool named; /* the declaration names it, so what is known from memory counts too */
};
/* Does this finish change the burn of a fibre that the blend shows? */
bool tb_finish_on(const struct tb_evidence *ev, int finish, bool named, const struct tb_blend *b);
/* The chance of a cue of a finished blend, from its chance p unfinished. */
double tb_finish_chance(const struct tb_evidence *ev, const struct tb_blend *b, int cue, double p);
/* The chances of the pure fibres, into the model, once its q are settled: they are asked for more than all others. */
void tb_chances_of_pure(struct tb_evidence *ev);
/* P(the cue is said | a burn of this blend that behaves as its fibres do). */
double tb_cue_chance(const struct tb_evidence *ev, const struct tb_blend *b, int cue);
/* The chance of what was observed, term by term: p of a cue that was seen, 1 - p of one that was not. */
void tb_blend_chances(double *out, const struct tb_evidence *ev, const struct tb_blend *b,
                      const struct tb_terms *terms);
/* The products of a likelihood, as logarithms: those of the burn, and one of each bench test, which is another act. */
struct tb_logs {
    double telling, rest;          /* of the burn: the telling cues, and the others */
    double test[TB_CHANNELS_MOST]; /* by channel; set where `tests` says so */
    unsigned tests;                /* bits: channels of the bench tests that say something */
};
/* From the chances of the terms. */
void tb_chance_logs(struct tb_logs *out, const struct tb_evidence *ev, const double *chances,
                    const struct tb_terms *terms);
/* The same from a blend. */
void tb_blend_logs(struct tb_logs *out, const struct tb_evidence *ev, const struct tb_blend *b,
                   const struct tb_terms *terms);
/* What an observation would be if it were not of the blend at hand, and of each pure cloth, as logarithms. */
struct tb_strange {
    double odd;                    /* of the rest: an odd burn */
    double burn;                   /* of the burn: not of this cloth, by a mistake in burning */
    double test[TB_CHANNELS_MOST]; /* of each bench test: any result alike, by a mistake in it */
    double any;                    /* of all together: a swatch of another cloth altogether */
    double pure[TB_FIBRES_MOST];   /* P(seen | the bare cloth of a fibre), as tb_join_logs has it */
};
/* Chance of a cue in a bench test in which a mistake was made: any result alike. */
double tb_mistaken_chance(const struct tb_evidence *ev, int cue);
/* log of the chance of what the bench test of that channel gave, if a mistake was made in it. */
double tb_mistaken_test(const struct tb_evidence *ev, const struct tb_terms *terms, int channel);
/* Odd burns and other cloth from the mixture over all pure fibres. */
void tb_strange_logs(struct tb_strange *out, const struct tb_evidence *ev, const struct tb_terms *terms);
/* log P(burn | blend): of the burn alone, with a mistake of its own. */
double tb_burn_log(const struct tb_evidence *ev, int fibres, const struct tb_logs *l,
                   const struct tb_strange *strange);
/* log P(result | blend) of the bench test of that channel, with a mistake of its own. */
double tb_test_log(const struct tb_evidence *ev, int channel, const struct tb_logs *l,
                   const struct tb_strange *strange);
/* log P(seen | blend) of all of it: the swatch was mixed up, or each act is as it says. */
double tb_join_logs(const struct tb_evidence *ev, int fibres, const struct tb_logs *l,
                    const struct tb_strange *strange);

#endif
