/*
 * odds.c - what was seen and does not go together: one act says what is declared, another one says something else.
 *
 * The ratio takes all of it together, so that a strong smell may outweigh a test that cannot be true of the same cloth, or two persons
 * outvote a third. One of them is a mistake or another cloth, and no sum says which.
 */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

#define AT_ODDS 3.0          /* to one: what an act says by itself, either way */
#define OUTVOTED 3           /* so many acts to one: the one is the mistake */
#define OUTVOTED_BY_OTHERS 2 /* so many of two persons or more to one that is a burn */

/*
 * A bench test, or a burn, and how far it says something by itself. Of one cloth each burn is an act; of a lot with several bolts all
 * burns of one person are, since each bolt is asked about by itself.
 */
struct act {
    double pro, con;             /* logarithms of the odds for the declaration, and against it */
    const struct tb_pattern *of; /* NULL: there is none */
    int channel;                 /* of the bench test; TB_SOME_BURNS */
};

/* What says most for the declaration, and most against it. */
struct sides {
    struct act *act; /* n */
    size_t n;
    struct act pro, con;   /* of NULL: none says enough */
    bool all_pro, all_con; /* all of it together may be a side */
    struct votes {
        size_t n, tests,
            sure; /* a person's burns have one vote, each kind of test another; sure: persons of this side alone */
    } pros, cons; /* for it and against it, of all else that burns differently */
};

/* One act is not at odds with anything; of one cloth two burns of one person that say the same are one. */
static bool by_several(const struct tb_question *q, const struct tb_group *g)
{
    if (q->one_cloth && g->n > 1)
        return true;
    for (size_t i = 0; i < g->n; i++) {
        const struct tb_terms *t = g->pattern[i].terms;

        if (g->pattern[i].person != g->pattern[0].person ||
            q->ev->channel[q->ev->cue[t->term[t->n - 1].cue].channel].bench)
            return true;
    }
    return false;
}

static bool is_declared(const struct tb_question *q, const struct tb_group *g, const struct tb_best *b)
{
    unsigned long long shown = 0;

    for (int r = 0; r < b->n; r++)
        shown |= b->steps[r] >= TB_SHOWN_STEPS ? 1ull << q->ev->class_of[b->fibre[r]] : 0;
    return tb_declared_shows(q->ev, &g->declared, g->spread, shown);
}

/* What all of it together is likeliest to be, if not as declared. */
static struct tb_blend likeliest_composition(const struct tb_question *q, const struct tb_group *g)
{
    const struct tb_evidence *ev = q->ev;
    struct tb_blend out = { .n = 1, .share = { 1 } };
    double most = -1;

    for (size_t i = 0; i < g->sums.n_best; i++) {
        const struct tb_best *b = &g->sums.best[i];
        struct tb_blend one = { .n = b->n };

        for (int r = 0; r < b->n; r++) {
            one.fibre[r] = b->fibre[r];
            one.share[r] = (double)b->steps[r] / TB_STEPS;
        }
        if (!is_declared(q, g, b))
            return one;
    }
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure;

        if (g->sums.one[f] > most && tb_pure_other(&pure, q, g, f)) {
            most = g->sums.one[f];
            out = pure;
        }
    }
    return out;
}

/* Where the likeliest that is not as declared has more than the strip with most of those left out, nothing of them is likelier. */
bool tb_odds_unsure(const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];
        bool found = false;

        for (size_t k = 0; k < g->sums.n_best && !found; k++)
            found = !is_declared(q, g, &g->sums.best[k]) && g->sums.best[k].weight > g->sums.left_out_of_one;
        if (by_several(q, g) && g->sums.left_out > 0 && !found)
            return true;
    }
    return false;
}

/* An act is on one side: what is for the declaration is not against it. */
static bool is_pro(const struct act *a)
{
    return a->pro >= log(AT_ODDS);
}

static bool is_con(const struct act *a)
{
    return a->con >= log(AT_ODDS) && !is_pro(a);
}

/* Is pattern k of the same act as pattern i: the same test, or the same burn, by the same person? */
static bool same_act(const struct tb_question *q, const struct tb_group *g, size_t i, size_t k, int channel)
{
    const struct tb_pattern *a = &g->pattern[i], *b = &g->pattern[k];

    return a->person == b->person &&
           (channel != TB_SOME_BURNS || !q->one_cloth || tb_terms_same_burn(a->terms, b->terms, q->ev));
}

/* What act pattern i begins; nothing where an earlier one began it. */
static void take_act(struct tb_some *out, const struct tb_question *q, const struct tb_group *g, size_t i,
                     int channel)
{
    unsigned *keep = tb_array(unsigned, g->n), looked = tb_channels_of(q->ev, channel);
    bool first = true;

    for (size_t k = 0; k < g->n; k++)
        if (same_act(q, g, i, k, channel)) {
            keep[k] = looked;
            first &= k >= i;
        }
    out->n = 0;
    if (first)
        tb_some_keep(out, q->ev, g, keep);
    tb_some_as_one(out);
    free(keep);
}

/*
 * Against: of all else that burns differently it is likelier. For: of the cloth that all of it together makes likeliest it is less
 * likely; a smooth rod is no reason for polyester where the burn is one of polyamide.
 */
static void take_acts(struct sides *s, const struct tb_question *q, const struct tb_group *g)
{
    struct tb_blend other = likeliest_composition(q, g);
    struct tb_some l = tb_some_open(g);

    for (size_t i = 0; i < g->n; i++)
        for (int c = TB_SOME_BURNS; c < q->ev->channels; c++) {
            struct act a = { .of = &g->pattern[i], .channel = c };

            if (c == TB_SOME_ALL || (c >= 0 && !q->ev->channel[c].bench))
                continue;
            take_act(&l, q, g, i, c);
            if (l.n == 0)
                continue;
            a.pro =
                tb_group_log_declared(q, g, l.pattern, l.n) - tb_patterns_log(q->ev, &other, l.pattern, l.n);
            a.con = -tb_some_log_ratio(q, g, &l);
            TB_PUSH(s->act, s->n, a);
        }
    tb_some_free(&l);
}

static bool is_of_side(const struct act *a, bool pro)
{
    return pro ? a->con <= -log(AT_ODDS) : a->con >= log(AT_ODDS);
}

static bool person_is_of(const struct sides *s, size_t person, bool pro)
{
    for (size_t i = 0; i < s->n; i++)
        if (s->act[i].of->person == person && is_of_side(&s->act[i], pro))
            return true;
    return false;
}

/* Whoever burned it both ways has a vote on either side, and is sure of neither. */
static struct votes votes_of(const struct sides *s, bool pro)
{
    struct votes v = { 0 };

    for (size_t i = 0; i < s->n; i++) {
        size_t person = s->act[i].of->person;
        bool voted = !is_of_side(&s->act[i], pro), known = voted;

        for (size_t k = 0; k < i; k++)
            if (is_of_side(&s->act[k], pro) && s->act[k].of->person == person) {
                known = true;
                voted |= s->act[k].channel == s->act[i].channel;
            }
        v.n += !voted;
        v.tests += !voted && s->act[i].channel >= 0;
        v.sure += !known && !person_is_of(s, person, !pro);
    }
    return v;
}

/* Of one of several parts only where this part is on that side: a false weft is no reason against the warp. */
static void take_all(struct sides *s, const struct tb_question *q, const struct tb_group *g)
{
    double ratio = 0;

    if (q->n > 1) {
        unsigned *keep = tb_array(unsigned, g->n);

        for (size_t i = 0; i < g->n; i++)
            keep[i] = tb_channels_of(q->ev, TB_SOME_ALL);
        ratio = tb_log_ratio_of_channels(q, g, keep);
        free(keep);
    }
    s->all_pro = q->n == 1 || ratio >= log(AT_ODDS);
    s->all_con = q->n == 1 || ratio <= -log(AT_ODDS);
}

/* Free s->act. */
static void find_sides(struct sides *s, const struct tb_question *q, const struct tb_group *g)
{
    *s = (struct sides){ .n = 0 };
    take_acts(s, q, g);
    for (size_t i = 0; i < s->n; i++) {
        const struct act *a = &s->act[i];

        if (is_pro(a) && (!s->pro.of || a->pro >= s->pro.pro))
            s->pro = *a;
        if (is_con(a) && (!s->con.of || a->con >= s->con.con))
            s->con = *a;
    }
    take_all(s, q, g);
    s->pros = votes_of(s, true);
    s->cons = votes_of(s, false);
}

/* "the microscope"; "what Ann Bell saw in the flame"; "what Ann Bell saw in the flame (swatch M26-001.03.02)" */
static char *name_of(const struct tb_question *q, const struct act *s)
{
    const char *swatch = s->of && q->one_cloth ? s->of->swatch : NULL;
    struct tb_text t = { 0 };

    if (!s->of)
        tb_text_add(&t, TR_("all the rest"));
    else if (s->channel >= 0)
        tb_text_add(&t, q->ev->channel[s->channel].name);
    else if (s->of->by && swatch)
        tb_text_addf(&t, TR_("what %s saw in the flame (swatch %s)"), s->of->by, swatch);
    else if (s->of->by)
        tb_text_addf(&t, TR_("what %s saw in the flame"), s->of->by);
    else if (swatch)
        tb_text_addf(&t, TR_("what was seen in the flame (swatch %s)"), swatch);
    else
        tb_text_add(&t, TR_("what was seen in the flame"));
    return tb_text_take(&t);
}

/* Whoever looks for the mistake has to know where; the one against it first. */
static void take_swatches(struct tb_verdict *v, const struct tb_question *q, const struct sides *s)
{
    const struct act *of[] = { &s->con, &s->pro };

    for (size_t i = 0; i < TB_COUNT(of); i++)
        if (!of[i]->of || of[i]->channel >= 0 || !of[i]->of->swatch || !q->one_cloth || v->odd_swatch[0])
            return;
    for (size_t i = 0; i < TB_COUNT(of); i++)
        v->odd_swatch[i] = tb_strdup(of[i]->of->swatch);
}

static void note(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g,
                 const struct sides *s)
{
    char *pro = name_of(q, &s->pro), *con = name_of(q, &s->con);

    if (g->part == TB_PART_WHOLE)
        tb_verdict_note(
            v,
            "For the declaration speaks %s, against it %s: both cannot be true of one cloth, and no "
            "ratio says which of them is a mistake.",
            pro, con);
    else
        tb_verdict_note(
            v,
            "%s: for the declaration speaks %s, against it %s: both cannot be true of one cloth, and "
            "no ratio says which of them is a mistake.",
            tb_part_key(g->part), pro, con);
    free(pro);
    free(con);
}

/*
 * Votes of the side that is so much the weaker by number that they are mistakes; 0: neither is. Nobody outvotes himself, and a test is not
 * outvoted by two.
 */
static size_t outvoted(const struct sides *s)
{
    const struct votes *few = s->pros.n < s->cons.n ? &s->pros : &s->cons;
    const struct votes *many = few == &s->pros ? &s->cons : &s->pros;
    bool by_number = many->sure > 0 && many->n >= OUTVOTED * few->n;
    bool by_others = many->sure > 1 && !few->tests && many->n >= OUTVOTED_BY_OTHERS * few->n;

    return by_number || by_others ? few->n : 0;
}

/* Whoever reads the verdict is told of them all the same. */
static void note_outvoted(struct tb_verdict *v, const struct tb_question *q, const struct sides *s)
{
    const struct act *lone = s->pros.n < s->cons.n ? &s->pro : &s->con;
    char *name = name_of(q, lone);

    if (lone->of)
        tb_verdict_note(v,
                        "Of the burns and tests %zu of %zu say the opposite of the others, the most so %s; "
                        "that is taken for a mistake.",
                        outvoted(s), s->pros.n + s->cons.n, name);
    else
        tb_verdict_note(v,
                        "Of the burns and tests %zu of %zu say the opposite of the others; that is taken for "
                        "a mistake.",
                        outvoted(s), s->pros.n + s->cons.n);
    free(name);
}

/* All of it together is a side too. */
static bool apart(const struct sides *s, bool high, bool low)
{
    return !outvoted(s) && (s->pro.of || (high && s->all_pro && s->con.of)) &&
           (s->con.of || (low && s->all_con));
}

bool tb_at_odds(struct tb_verdict *v, const struct tb_question *q, bool high, bool low)
{
    bool odds = false;

    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];
        struct sides s;

        if (!by_several(q, g))
            continue;
        find_sides(&s, q, g);
        if (outvoted(&s))
            note_outvoted(v, q, &s);
        if (apart(&s, high, low)) {
            note(v, q, g, &s);
            take_swatches(v, q, &s);
            odds = true;
        }
        free(s.act);
    }
    return odds;
}

/* Where no act by itself says enough for one side, all that is not on the other side is that side. */
size_t tb_odd_acts(struct tb_odd_act **out, const struct tb_question *q, bool pro, bool high, bool low)
{
    size_t n = 0;

    *out = NULL;
    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];
        struct sides s;

        if (!by_several(q, g))
            continue;
        find_sides(&s, q, g);
        for (size_t k = 0; k < s.n && apart(&s, high, low); k++) {
            const struct act *a = &s.act[k];
            bool one = pro ? (s.pro.of ? is_pro(a) : !is_con(a)) : (s.con.of ? is_con(a) : !is_pro(a));

            if (one)
                TB_PUSH(
                    *out, n,
                    ((struct tb_odd_act){ g->part, a->of->person, a->channel >= 0 ? a->channel : TB_STEP_BURN,
                                          q->one_cloth && a->channel < 0 ? a->of->terms : NULL }));
        }
        free(s.act);
    }
    return n;
}
