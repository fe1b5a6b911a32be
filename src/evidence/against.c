/*
 * against.c - does a burn that goes far enough against the declaration contradict it, or is there a reason why it holds nothing?
 *
 * A look is what one person saw in one channel. Whoever burns another swatch sees the same finish with the same eye, so of
 * all burns of one person the weightiest channels are one look together; a bench test is another. Without the weightiest look
 * the rest has to speak against the declaration by itself, in channels that are well described of the declared cloth. And where
 * a finish that nobody named explains it all as well as another fibre does, the cloth is asked, not held.
 */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

/*
 * The pure cloth that is likeliest to burn so, of those that are not as declared, and that are not `protective` either where that is
 * not asked for: natural logarithm; -INFINITY: there is none.
 */
static double likeliest_other(struct tb_blend *out, const struct tb_question *q, const struct tb_group *g,
                              const struct tb_pattern *pattern, size_t n, bool protective)
{
    double most = -INFINITY;

    for (int f = 0; f < q->ev->fibres; f++) {
        struct tb_blend pure;
        double like;

        if (!tb_pure_other(&pure, q, g, f) || (q->ev->protective[f] && !protective))
            continue;
        like = tb_patterns_log(q->ev, &pure, pattern, n);
        if (like <= most)
            continue;
        most = like;
        *out = pure;
    }
    return most;
}

/* Natural logarithm of how much likelier each channel of an observation is from `other` than from `declared`. */
static void weigh_looks(double against[TB_CHANNELS_MOST], const struct tb_evidence *ev,
                        const struct tb_blend *declared, const struct tb_blend *other,
                        const struct tb_terms *terms)
{
    double p[TB_CUES_MOST], q[TB_CUES_MOST];

    for (int c = 0; c < ev->channels; c++)
        against[c] = 0;
    tb_blend_chances(p, ev, declared, terms);
    tb_blend_chances(q, ev, other, terms);
    for (size_t t = 0; t < terms->n; t++) {
        int cue = terms->term[t].cue;

        against[ev->cue[cue].channel] += tb_weight_of(ev, cue) * log(q[t] / p[t]);
    }
}

/* Of each burn the channel that speaks loudest against the declaration; -1: none. The bench tests are asked apart. */
static void weightiest_of(int *out, const struct tb_question *q, const struct tb_group *g)
{
    for (size_t i = 0; i < g->n; i++) {
        struct tb_blend other = { .n = 0 };
        struct tb_pattern burn = g->pattern[i];
        double against[TB_CHANNELS_MOST], most = 0;

        out[i] = -1;
        burn.power = fabs(burn.power); /* taken off beside a bench test, it is the same burn */
        if (likeliest_other(&other, q, g, &burn, 1, true) <= -INFINITY)
            continue;
        weigh_looks(against, q->ev, &g->declared.blend, &other, g->pattern[i].terms);
        for (int c = 0; c < q->ev->channels; c++)
            if (!q->ev->channel[c].bench && against[c] > most) {
                most = against[c];
                out[i] = c;
            }
    }
}

/* Is it often told of the declared cloth? What nobody said of any of its fibres is not, however likely what is said of others makes it. */
static bool often_told(const struct tb_question *q, const struct tb_group *g, int cue)
{
    bool said = false;

    for (int i = 0; i < g->declared.blend.n; i++)
        said |= q->ev->published[g->declared.blend.fibre[i]][cue];
    return said && tb_cue_chance(q->ev, &g->declared.blend, cue) >= q->ev->fig.ordinary;
}

/* The channels (bits) of a burn in which nothing was seen but what is often told of the declared cloth. */
static unsigned ordinary(const struct tb_question *q, const struct tb_group *g, const struct tb_pattern *p)
{
    unsigned seen = 0, strange = 0;

    for (size_t t = 0; t < p->terms->n; t++) {
        const struct tb_term *term = &p->terms->term[t];
        unsigned bit = 1u << q->ev->cue[term->cue].channel;

        if (!term->seen)
            continue;
        seen |= bit;
        strange |= often_told(q, g, term->cue) ? 0 : bit;
    }
    return seen & ~strange;
}

/* Without what is the bench test of channel c, or (-1) the weightiest look at each burn, of the person of pattern i. */
static double without(const struct tb_question *q, const struct tb_group *g, size_t i, int c,
                      const int *weightiest, const unsigned *channels)
{
    unsigned *keep = tb_array(unsigned, g->n);
    double ratio;

    for (size_t k = 0; k < g->n; k++) {
        int gone = c < 0 ? weightiest[k] : c;

        keep[k] = channels[k];
        if (gone >= 0 && g->pattern[k].person == g->pattern[i].person)
            keep[k] &= ~(1u << gone);
    }
    ratio = tb_log_ratio_of_channels(q, g, keep);
    free(keep);
    return ratio;
}

/* The channels (bits) that anybody looked at. */
static unsigned looked_at(const struct tb_question *q, const struct tb_group *g)
{
    unsigned bits = 0;

    for (size_t i = 0; i < g->n; i++)
        for (size_t t = 0; t < g->pattern[i].terms->n; t++)
            bits |= 1u << q->ev->cue[g->pattern[i].terms->term[t].cue].channel;
    return bits;
}

/* The least that these channels say against the declaration where any one look is left out: natural logarithm of the ratio. */
static double least_against(const struct tb_question *q, const struct tb_group *g, const int *weightiest,
                            const unsigned *channels)
{
    unsigned tests = looked_at(q, g);
    double most = -INFINITY;

    for (size_t i = 0; i < g->n; i++)
        for (int c = -1; c < q->ev->channels && tb_first_of_person(g, i) == i; c++)
            if (c < 0 || (q->ev->channel[c].bench && tests & 1u << c))
                most = fmax(most, without(q, g, i, c, weightiest, channels));
    return most;
}

/* Without any one look, are these channels still a reason against the declaration, and not by what is ordinary alone? */
static bool rest_is_against(const struct tb_question *q, const struct tb_group *g, const int *weightiest,
                            unsigned channels)
{
    unsigned *keep = tb_array(unsigned, g->n);
    bool against = true;

    for (int part = 0; part < 2 && against; part++) {
        for (size_t i = 0; i < g->n; i++)
            keep[i] = channels & (part ? ~ordinary(q, g, &g->pattern[i]) : ~0u);
        against = least_against(q, g, weightiest, keep) <= -log(q->ev->fig.rest_against);
    }
    free(keep);
    return against;
}

/* --- described by few ---------------------------------------------------------------------------------------- */

/* Is one of these bench tests a reason against the declaration by itself? It asks the substance, not who tells of it. */
static bool test_is_against(const struct tb_question *q, const struct tb_group *g, unsigned tests)
{
    unsigned *keep = tb_array(unsigned, g->n);
    bool against = false;

    for (int c = 0; c < q->ev->channels && !against; c++) {
        for (size_t i = 0; i < g->n; i++)
            keep[i] = 1u << c;
        against = q->ev->channel[c].bench && tests & 1u << c &&
                  tb_log_ratio_of_channels(q, g, keep) <= -log(q->ev->fig.rest_against);
    }
    free(keep);
    return against;
}

/* The channels (bits) in which enough have described this fibre, or one that burns like it; of a bench test one is enough. */
static unsigned well_described(const struct tb_evidence *ev, int fibre)
{
    unsigned bits = 0;

    for (int c = 0; c < ev->channels; c++) {
        double n = ev->described[fibre][c];

        bits |= n > 0 && (ev->channel[c].bench || n >= ev->fig.described_by) ? 1u << c : 0;
    }
    return bits;
}

/*
 * The fibre that the declared cloth shows of which too few have described what speaks against it, by the channels that were
 * looked at; -1: none.
 */
static int told_by_few(const struct tb_question *q, const struct tb_group *g, const int *weightiest)
{
    unsigned looked = looked_at(q, g), well = looked;
    int fibre = -1;

    for (int i = 0; i < g->declared.n_shown; i++) {
        unsigned of = well_described(q->ev, g->declared.shown[i]);

        fibre = looked & ~of ? q->ev->fibre[g->declared.shown[i]] : fibre;
        well &= of;
    }
    return fibre < 0 || test_is_against(q, g, well) || rest_is_against(q, g, weightiest, well) ? -1 : fibre;
}

/*
 * Did cloth that would be all of fibres bought for their safety in a flame burn on? That they go out is a property of the substance, as a
 * bench test asks it, and no matter of how many tell of it.
 */
static bool belies_safety(const struct tb_question *q, const struct tb_group *g)
{
    bool all = g->declared.n_shown > 0;

    for (int i = 0; i < g->declared.n_shown; i++)
        all = all && q->ev->protective[g->declared.shown[i]];
    return all && tb_burns_on(g);
}

/* --- finishes that nobody named ------------------------------------------------------------------------------- */

/*
 * The finish that nobody named, and that cloth may have, with which the declared cloth would burn about as much like this as any
 * other does; -1: none. Fibres that are bought for their safety in a flame are dear: nobody sells them as something cheaper.
 */
static int excuse_of(const struct tb_question *q, const struct tb_group *g)
{
    struct tb_blend other;
    double least = likeliest_other(&other, q, g, g->pattern, g->n, false) + log(q->ev->fig.excuse);
    int by = -1;

    for (int z = 0; z < (int)tb_finish_count(); z++) {
        struct tb_blend b = g->declared.blend;
        double like;

        if (g->declared.finish & 1u << z || !(q->ev->finish[z].unnamed > 0) ||
            !tb_finish_on(q->ev, z, false, &b))
            continue;
        b.finish = z + 1;
        like = tb_patterns_log(q->ev, &b, g->pattern, g->n);
        if (like < least)
            continue;
        least = like;
        by = z;
    }
    return by;
}

/* How likely what was seen is of cloth that is not as declared, and not of the stuff of the coating either, which burns on any ground. */
static double likeliest_ground(const struct tb_question *q, const struct tb_group *g, const char *stuff)
{
    int of = *stuff ? tb_model_fibre(q->ev, tb_fibre_by_key(stuff)) : -1;
    double most = -INFINITY;

    for (int f = 0; f < q->ev->fibres; f++) {
        struct tb_blend pure;

        if (tb_pure_other(&pure, q, g, f) && !q->ev->protective[f] &&
            (of < 0 || q->ev->class_of[f] != q->ev->class_of[of]))
            most = fmax(most, tb_patterns_log(q->ev, &pure, g->pattern, g->n));
    }
    return most;
}

/* With what may lie on a cloth, be it only remembered how that burns, does the declared one burn about as much like this as any other? */
static bool may_be_coated(const struct tb_question *q, const struct tb_group *g)
{
    static const struct {
        const char *finish, *stuff;
    } on[] = { { "coating", "" },
               { "coating_pu", "" }, /* burns of polyurethane cloth are not published */
               { "coating_pvc", "chlorofibre" },
               { "coating_acrylic", "acrylic" },
               { "laminated", "" } };
    struct tb_blend b = g->declared.blend;
    bool may = false;

    b.named = true;
    for (size_t i = 0; i < TB_COUNT(on); i++) {
        int z = tb_finish_by_key(on[i].finish);

        b.finish = z + 1;
        may |= !(g->declared.finish & 1u << z) && tb_finish_on(q->ev, z, true, &b) &&
               tb_patterns_log(q->ev, &b, g->pattern, g->n) >=
                   likeliest_ground(q, g, on[i].stuff) + log(q->ev->fig.excuse);
    }
    return may;
}

bool tb_may_be_coated(const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++)
        if (tb_part_is_coated(q->group[i].part) && may_be_coated(q, &q->group[i]))
            return true;
    return false;
}

/* --- altogether ------------------------------------------------------------------------------------------------ */

/* Parts that share one declaration contradict it together or not at all, and then by a burn each. */
static bool rests_on_more(const struct tb_question *q, const struct tb_group *g, const int *weightiest)
{
    return (g->spread && q->n > 1) || rest_is_against(q, g, weightiest, ~0u);
}

/* What hinders a contradiction by these observations, taken together. */
static struct tb_hindrance hindered_together(const struct tb_question *q, const struct tb_group *g,
                                             const int *weightiest)
{
    struct tb_hindrance out = { TB_HINDERED_BY_ONE_LOOK, -1 };

    if (!rests_on_more(q, g, weightiest))
        return out;
    if (!belies_safety(q, g) && (out.which = told_by_few(q, g, weightiest)) >= 0)
        out.by = TB_HINDERED_BY_FEW;
    else if ((out.which = excuse_of(q, g)) >= 0)
        out.by = TB_HINDERED_BY_FINISH;
    else
        out.by = TB_NOT_HINDERED;
    return out;
}

/* What hinders a contradiction by burn i alone, as if it had been made once; by each: it does not go far enough. */
static struct tb_hindrance hindered_alone(const struct tb_question *q, const struct tb_group *g, size_t i,
                                          int weightiest, double below)
{
    struct tb_some one = tb_some_open(g);
    struct tb_group alone = *g;
    unsigned *keep = tb_array(unsigned, g->n);
    struct tb_hindrance out = { TB_HINDERED_BY_EACH, -1 };

    keep[i] = ~0u;
    tb_some_keep(&one, q->ev, g, keep);
    tb_some_as_one(&one);
    alone.pattern = one.pattern;
    alone.n = one.n;
    if (one.n && tb_some_log_ratio(q, &alone, &one) < log(below))
        out = hindered_together(q, &alone, &weightiest);
    free(keep);
    tb_some_free(&one);
    return out;
}

/*
 * Of several burns, does one contradict by itself, or a bench test speak against the declaration? Else each may be one of the ways
 * in which the declared cloth burns, however many saw it: what they say together rests on how seldom these come side by side.
 * Why it is not any one of them is said where it is a finish or too few descriptions.
 */
static struct tb_hindrance hindered_each(const struct tb_question *q, const struct tb_group *g,
                                         const int *weightiest, double below)
{
    struct tb_hindrance out = { TB_HINDERED_BY_EACH, -1 };

    if (g->n < 2 || (g->spread && q->n > 1) || test_is_against(q, g, looked_at(q, g)))
        out.by = TB_NOT_HINDERED;
    for (size_t i = 0; i < g->n && out.by != TB_NOT_HINDERED; i++) {
        struct tb_hindrance one = hindered_alone(q, g, i, weightiest[i], below);

        if (one.by != TB_HINDERED_BY_ONE_LOOK && one.by != TB_HINDERED_BY_EACH)
            out = one;
    }
    return out;
}

static struct tb_hindrance hindrance_of(const struct tb_question *q, const struct tb_group *g, double below)
{
    int *weightiest = tb_array(int, g->n);
    struct tb_hindrance out;

    weightiest_of(weightiest, q, g);
    out = hindered_together(q, g, weightiest);
    if (out.by == TB_NOT_HINDERED)
        out = hindered_each(q, g, weightiest, below);
    free(weightiest);
    return out;
}

struct tb_hindrance tb_hindrance_of(const struct tb_question *q, double below)
{
    struct tb_hindrance least = { TB_HINDERED_BY_ONE_LOOK, -1 };

    for (size_t i = 0; i < q->n && least.by != TB_NOT_HINDERED; i++) {
        struct tb_hindrance one = hindrance_of(q, &q->group[i], below);

        least = one.by < least.by ? one : least;
    }
    return least;
}
