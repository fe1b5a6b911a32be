/*
 * odds.c - what was seen and does not go together: one act says what is declared, another one says something else.
 *
 * The ratio takes all of it together, so that a strong smell may outweigh a test that cannot be true of the same cloth, or two persons
 * outvote a third. One of them is a mistake or another cloth, and no sum says which.
 */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

#define AT_ODDS 3.0 /* to one: what an act says by itself, either way */
#define OUTVOTED 3  /* so many acts to one: the one is the mistake */

/* A bench test, or the burns of one person, and how far it says something by itself. */
struct act {
    double pro, con;             /* logarithms of the odds for the declaration, and against it */
    const struct tb_pattern *of; /* NULL: there is none */
    int channel;                 /* of the bench test; TB_SOME_BURNS */
};

/* What says most for the declaration, and most against it. */
struct sides {
    struct act *act; /* n */
    size_t n;
    struct act pro, con; /* of NULL: none says enough */
    size_t pros, cons;   /* how many acts are for it and against it, of all else that burns differently */
};

/* Burns of one person alone are not at odds with anything: they are weighed beside a bench test, or another person's. */
static bool by_several(const struct tb_question *q, const struct tb_group *g)
{
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

/*
 * Against: of all else that burns differently it is likelier. For: of the cloth that all of it together makes likeliest it is less
 * likely; a smooth rod is no reason for polyester where the burn is one of polyamide.
 */
static void take_acts(struct sides *s, const struct tb_question *q, const struct tb_group *g)
{
    struct tb_blend other = likeliest_composition(q, g);
    struct tb_some l = tb_some_open(g);

    for (size_t i = 0; i < g->n; i++)
        for (int c = TB_SOME_BURNS; c < q->ev->channels && tb_first_of_person(g, i) == i; c++) {
            struct act a = { .of = &g->pattern[i], .channel = c };

            if (c == TB_SOME_ALL || (c >= 0 && !q->ev->channel[c].bench))
                continue;
            tb_some_take(&l, q->ev, g, g->pattern[i].person, c, false);
            tb_some_as_one(&l);
            if (l.n == 0)
                continue;
            a.pro =
                tb_group_log_declared(q, g, l.pattern, l.n) - tb_patterns_log(q->ev, &other, l.pattern, l.n);
            a.con = -tb_some_log_ratio(q, g, &l);
            TB_PUSH(s->act, s->n, a);
        }
    tb_some_free(&l);
}

/* Free s->act. */
static void find_sides(struct sides *s, const struct tb_question *q, const struct tb_group *g)
{
    *s = (struct sides){ .n = 0 };
    take_acts(s, q, g);
    for (size_t i = 0; i < s->n; i++) {
        const struct act *a = &s->act[i];

        s->pros += a->con <= -log(AT_ODDS);
        s->cons += a->con >= log(AT_ODDS);
        if (is_pro(a) && (!s->pro.of || a->pro >= s->pro.pro))
            s->pro = *a;
        if (is_con(a) && (!s->con.of || a->con >= s->con.con))
            s->con = *a;
    }
}

/* "the microscope"; "what Ann Bell saw in the flame" */
static char *name_of(const struct tb_question *q, const struct act *s)
{
    struct tb_text t = { 0 };

    if (!s->of)
        tb_text_add(&t, TR_("all the rest"));
    else if (s->channel >= 0)
        tb_text_add(&t, q->ev->channel[s->channel].name);
    else if (s->of->by)
        tb_text_addf(&t, TR_("what %s saw in the flame"), s->of->by);
    else
        tb_text_add(&t, TR_("what was seen in the flame"));
    return tb_text_take(&t);
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

/* How many acts are on the side that is so much the weaker by number that they are mistakes; 0: neither is. */
static size_t outvoted(const struct sides *s)
{
    size_t few = s->pros < s->cons ? s->pros : s->cons;

    return s->pros + s->cons - few >= OUTVOTED * few ? few : 0;
}

/* Whoever reads the verdict is told of them all the same. */
static void note_outvoted(struct tb_verdict *v, const struct tb_question *q, const struct sides *s)
{
    const struct act *lone = s->pros < s->cons ? &s->pro : &s->con;
    char *name = name_of(q, lone);

    if (lone->of)
        tb_verdict_note(v,
                        "Of %zu burns and tests by different people %zu say the opposite of the others, the "
                        "most so %s: look whether a swatch or a record was mixed up there.",
                        s->pros + s->cons, outvoted(s), name);
    else
        tb_verdict_note(v,
                        "Of %zu burns and tests by different people %zu say the opposite of the others: look "
                        "whether a swatch or a record was mixed up.",
                        s->pros + s->cons, outvoted(s));
    free(name);
}

static bool apart(const struct sides *s, bool high, bool low)
{
    return !outvoted(s) && (s->pro.of || (high && s->con.of)) && (s->con.of || low);
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
                TB_PUSH(*out, n,
                        ((struct tb_odd_act){ g->part, a->of->person,
                                              a->channel >= 0 ? a->channel : TB_STEP_BURN }));
        }
        free(s.act);
    }
    return n;
}
