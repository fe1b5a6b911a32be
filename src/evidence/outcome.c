/*
 * outcome.c - what the confirming test would do: everything judged again with each of its results.
 *
 * Nothing is approximated: the result joins what was observed as the bench would record it, and the same judgement is made.
 */
#include "evidence/outcome.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

#define TRIED_MOST 8   /* tests, so that a verdict stays quick */
#define BURN_TRIED 2   /* the one of them that is a burn */
#define AHEAD_MOST 100 /* questions weighed at once: the recall keeps as many and more */

static bool burned(const struct tb_observation *o, const struct tb_evidence *ev)
{
    for (int c = 0; c < ev->channels; c++)
        if (o->looked[c] && !ev->channel[c].bench)
            return true;
    return false;
}

/* The last of the part, and of set `of` - 1 where that is not 0, that is free for the test, or was burned; n: none. */
static size_t last_of(const struct tb_trying *t, int channel, size_t of)
{
    const struct tb_subject *s = t->s;

    for (size_t i = s->n; i-- > 0;)
        if (s->obs[i].part == t->part && (!of || s->set[i] == of - 1) &&
            (s->ev->channel[channel].bench ? !s->obs[i].looked[channel] : burned(&s->obs[i], s->ev)))
            return i;
    return s->n;
}

/* What is tried of a lot, on cloth of one set or of any, or of each. */
struct lot {
    const struct tb_subject *s;
    size_t sets, tells; /* as tb_outcomes_take has them */
    bool coated;        /* a coating may be what burned: its ground is burned apart */
};

/* Whose swatches a test is of: the last that is free for it, of the bolt that tells or of any; or of each bolt. */
static void take_swatches(struct tb_trying *t, const struct lot *l, int channel, bool each)
{
    if (!each)
        t->at[t->n_at++] = last_of(t, channel, l->tells);
    for (size_t set = 1; each && set <= l->sets; set++)
        if ((t->at[t->n_at] = last_of(t, channel, set)) < l->s->n)
            t->n_at++;
}

/* Which swatch its outcomes are of, or beside which one another is burned; NULL: of no one swatch. */
static void name_swatch(struct tb_verdict *v, const struct tb_trying *t)
{
    const char *swatch = t->n_at == 1 && t->at[0] < t->s->n ? t->s->obs[t->at[0]].swatch : NULL;
    bool bench = t->s->ev->channel[v->confirm.channel].bench;

    tb_confirm_no_swatch(v);
    v->confirm_swatch = swatch && bench ? tb_strdup(swatch) : NULL;
    v->confirm_beside = swatch && !bench ? tb_strdup(swatch) : NULL;
    v->confirm.bolts = t->n_at > 1 ? t->n_at : 0;
}

/* --- one test -------------------------------------------------------------------------------------------------- */

/* A bench test by each of its results; a burn by the two that matter. */
struct attempt {
    struct tb_next next; /* as it is told, with the results that are likely */
    struct tb_trying t;
    struct tb_again *a; /* n, with what came of it: */
    struct tb_outcome *o;
    size_t n;
};

/* Of a burn both outcomes are likely: nothing is known of it before. */
static bool is_likely(const struct tb_next *n, size_t result)
{
    return !n->likely || n->likely >> result & 1u;
}

/* Nothing is judged yet; false where there is no cloth to make it of. */
static bool open_attempt(struct attempt *out, const struct tb_next *n, const struct tb_question *q,
                         const struct lot *l, bool each)
{
    const struct tb_channel *ch = &q->ev->channel[n->channel];
    bool kind[TB_CUES_MOST] = { false };
    size_t results;

    *out = (struct attempt){ .next = *n, .t = { .s = l->s, .part = n->part } };
    take_swatches(&out->t, l, n->channel, each);
    if (out->t.n_at < (each ? 2 : 1))
        return false;
    results = ch->bench ? (size_t)ch->n : out->t.at[0] < l->s->n ? 2 : 1;
    out->a = tb_array(struct tb_again, results + 1);
    out->o = tb_array(struct tb_outcome, results + 1);
    if (!ch->bench) /* one channel was named for what it is expected to tell; a burn shows all of them */
        out->next.name =
            l->coated ? TR_("scrape off what lies on the cloth, or pull yarns out of it, and let another "
                            "person burn them apart, as another swatch of the same bolt")
                      : TR_("let another person burn another swatch of the same bolt and look at everything");
    for (; out->n < results; out->n++) {
        out->a[out->n] = tb_again_of(l->s);
        if (ch->bench)
            tb_again_result(&out->a[out->n], &out->o[out->n], &out->t, ch->first + (int)out->n);
        else
            tb_again_burn(&out->a[out->n], &out->o[out->n], q, &out->t, out->n + 1 < results);
    }
    if (tb_kinds_declared(kind, q, &out->t, ch) > 1) {
        out->a[out->n] = tb_again_of(l->s);
        tb_again_kinds(&out->a[out->n], &out->o[out->n], &out->t, kind);
        out->next.likely |= n->likely ? 1u << out->n : 0;
        out->n++;
    }
    return true;
}

static void free_attempt(struct attempt *at)
{
    for (size_t i = 0; i < at->n; i++)
        tb_again_free(&at->a[i]);
    free(at->a);
    free(at->o);
}

/* Its results become those of the verdict. */
static tb_rc take_attempt(struct tb_verdict *v, const struct attempt *at, const struct lot *l,
                          struct tb_err *err)
{
    v->confirm = at->next;
    v->n_outcome = 0;
    name_swatch(v, &at->t);
    return tb_outcomes_judge(v, at->o, at->a, at->n, l->s, l->sets, err);
}

/*
 * Do any two of the likely results lead to two grades? Where all lead to the same, nobody need make the test. Of the first burn there is
 * one outcome only, to be held against what is known now.
 */
static bool tells(const struct tb_verdict *v)
{
    const struct tb_outcome *first = NULL;

    if (v->n_outcome == 1)
        return v->outcome[0].grade != v->grade;
    for (size_t i = 0; i < v->n_outcome; i++) {
        if (!is_likely(&v->confirm, i))
            continue;
        if (first && first->grade != v->outcome[i].grade)
            return true;
        first = first ? first : &v->outcome[i];
    }
    return false;
}

/* Does one of its likely results speak better of the declaration than is said now? */
static bool clears(const struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_outcome; i++)
        if (is_likely(&v->confirm, i) && v->outcome[i].grade < v->grade)
            return true;
    return false;
}

/* Whoever is told that a burn speaks against his cloth asks what would clear it; a test that can only make it worse is no answer. */
static bool is_enough(const struct tb_verdict *v)
{
    return tells(v) && (v->grade < TB_GRADE_SPEAKS_AGAINST || clears(v));
}

/* The same asked of the likely results alone: the others are judged where the test is named. */
static tb_rc would_tell(bool *out, const struct tb_verdict *v, const struct attempt *at, const struct lot *l,
                        struct tb_err *err)
{
    struct tb_verdict likely = { .grade = v->grade };
    bool second = tells(v); /* one is named already, and is given up for one that clears only */
    tb_rc rc = TB_OK;

    *out = false;
    for (size_t i = 0; i < at->n && rc == TB_OK && !*out; i++)
        if (is_likely(&at->next, i)) {
            rc = tb_outcome_grade(&likely, &at->o[i], &at->a[i], l->s, l->sets, err);
            *out = (at->n == 1 || likely.n_outcome > 1) && tells(&likely) && (!second || clears(&likely));
        }
    free(likely.outcome);
    return rc;
}

/* --- one test after the other ---------------------------------------------------------------------------------- */

/*
 * The two best bench tests of those that may turn the verdict come first: they see something else than a burn does, and a second burn
 * repeats the first one's mistake. Then the best burn, and the other such bench tests; where a coating may be what burned, the burn of the
 * ground before all of them. NULL: there is no such test.
 * Whether a test turns the verdict is estimated of one swatch, so on each bolt (`each`) the best are tried whatever one alone does.
 */
static const struct tb_next *candidate(const struct tb_verdict *v, const struct tb_evidence *ev, size_t nth,
                                       size_t burn, bool each)
{
    bool bench = nth != burn;

    nth -= nth > burn;
    for (size_t i = 0; i < v->n_next; i++)
        if (v->next[i].channel >= 0 && ev->channel[v->next[i].channel].bench == bench &&
            (!bench || ((each || v->next[i].turns) && nth-- == 0)))
            return &v->next[i];
    return NULL;
}

/* A laboratory answers for the cloth itself, and what was burned stays as it was graded. */
static void take_answers(struct tb_verdict *v)
{
    static const struct tb_outcome answer[] = {
        { .result = "laboratory:as_declared",
          .meaning =
              TR_("if it finds what is declared, within the tolerance of the market, the lot conforms, "
                  "and what was burned stands beside it"),
          .conclusion = "conforms" },
        { .result = "laboratory:otherwise",
          .meaning = TR_("if it finds something else, or other shares, the lot does not conform"),
          .conclusion = "does not conform" }
    };

    for (size_t i = 0; i < TB_COUNT(answer); i++) {
        struct tb_outcome o = answer[i];

        o.kind = v->kind;
        o.grade = v->grade;
        o.bounded = tb_bounded(&v->bounds, v->log_ratio);
        TB_PUSH(v->outcome, v->n_outcome, o);
    }
}

/* What no test at the bench can change somebody else may. Where nothing is declared there is nothing to conform to. */
static void leave_to_laboratory(struct tb_verdict *v)
{
    const struct tb_next *n = tb_next_laboratory(v);

    tb_confirm_no_swatch(v);
    v->n_outcome = 0;
    v->confirm = n ? *n : (struct tb_next){ 0 };
    if (n && !v->reason && v->handling == TB_HANDLING_ANY)
        take_answers(v);
}

/* The likely results of some tests are weighed at once: the burns are the same in all of them. */
static tb_rc weigh_ahead(const struct attempt *at, size_t n, const struct lot *l, struct tb_err *err)
{
    const struct tb_again **a = NULL;
    size_t results = 0;
    tb_rc rc;

    for (size_t i = 0; i < n; i++)
        for (size_t r = 0; r < at[i].n; r++)
            if (is_likely(&at[i].next, r))
                TB_PUSH(a, results, &at[i].a[r]);
    rc = results ? tb_outcomes_weigh(a, results, l->s, l->sets, err) : TB_OK;
    free(a);
    return rc;
}

/* As many as the recall has room for: of each result the lot, and the bolts that are tested. */
static size_t together(const struct attempt *at, size_t n)
{
    size_t many = 0, room = AHEAD_MOST;

    while (many < n && (many == 0 || at[many].n * (1 + at[many].t.n_at) <= room)) {
        room -= at[many].n * (1 + at[many].t.n_at) < room ? at[many].n * (1 + at[many].t.n_at) : room;
        many++;
    }
    return many;
}

/*
 * The first that tells is taken, or what speaks against the declaration the first that may clear it; where nothing is at odds it is mostly
 * the first of all, so that is judged at once.
 */
static tb_rc try_in_turn(struct tb_verdict *v, const struct attempt *at, size_t n, const struct lot *l,
                         struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0, ahead = 0; i < n && rc == TB_OK && !is_enough(v); i++) {
        bool at_once = i == 0 && !v->at_odds && !tells(v), would = at_once;

        if (!at_once && i >= ahead) {
            ahead = i + together(at + i, n - i);
            rc = weigh_ahead(at + i, ahead - i, l, err);
        }
        if (rc == TB_OK && !at_once)
            rc = would_tell(&would, v, &at[i], l, err);
        if (rc == TB_OK && would)
            rc = take_attempt(v, &at[i], l, err);
    }
    return rc;
}

/* `each`: on a swatch of every bolt; bolts that each say the same are not outweighed by a test of one of them. */
static tb_rc try_all(struct tb_verdict *v, const struct tb_question *q, const struct lot *l, bool each,
                     struct tb_err *err)
{
    struct attempt at[TRIED_MOST];
    bool no_burn = each || (v->grade >= TB_GRADE_SPEAKS_AGAINST && !l->coated && tb_two_agree_against(q));
    size_t burn = l->coated ? 0 : BURN_TRIED;
    size_t n = 0;
    tb_rc rc;

    for (size_t i = 0; i < TRIED_MOST; i++) {
        const struct tb_next *next = no_burn && i == burn ? NULL : candidate(v, l->s->ev, i, burn, each);

        n += next && open_attempt(&at[n], next, q, l, each);
    }
    rc = try_in_turn(v, at, n, l, err);
    for (size_t i = 0; i < n; i++)
        free_attempt(&at[i]);
    return rc;
}

/* The list begins with the test that is named, in the same words. */
static void put_first(struct tb_verdict *v)
{
    size_t at = 0;
    struct tb_next first;

    while (at < v->n_next &&
           (v->next[at].channel != v->confirm.channel || v->next[at].part != v->confirm.part))
        at++;
    if (v->confirm.channel < 0 || at == v->n_next)
        return;
    first = v->next[at];
    first.name = v->confirm.name;
    first.bolts = v->confirm.bolts;
    memmove(v->next + 1, v->next, at * sizeof *v->next);
    v->next[0] = first;
}

/* What would help a lot that is as declared, where none of the results named does. */
static void note_no_way(struct tb_verdict *v, const struct tb_question *q)
{
    if (tb_lone_channel(q) >= 0)
        tb_verdict_note(
            v, "No result of this test by itself would clear the declaration. Two kinds of bench test that "
               "agree with it, each on two swatches or more, and none against it, would leave it undecided; "
               "that it is as declared, only a laboratory can say.");
    else
        tb_verdict_note(v, "No result of one test at the bench would clear the declaration: if the lot is as "
                           "declared, only a laboratory can say so.");
}

tb_rc tb_outcomes_take(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                       size_t sets, size_t told_by, struct tb_err *err)
{
    const struct lot l = { .s = s, .sets = sets, .tells = told_by, .coated = v->coated };
    tb_rc rc = TB_OK;

    if (v->kind == TB_FITS)
        return TB_OK;
    if (!is_enough(v))
        rc = try_all(v, q, &l, false, err);
    if (rc == TB_OK && !is_enough(v) && sets > 1 && sets <= TB_BOLTS_MOST)
        rc = try_all(v, q, &l, true, err);
    if (rc == TB_OK && !tells(v) && v->at_odds && v->handling == TB_HANDLING_ANY)
        rc = tb_withdraw_take(v, q, s, sets, told_by, err);
    if (rc == TB_OK && !tells(v))
        leave_to_laboratory(v);
    if (rc == TB_OK && tells(v) && !is_enough(v))
        note_no_way(v, q);
    if (rc == TB_OK)
        put_first(v);
    return rc;
}
