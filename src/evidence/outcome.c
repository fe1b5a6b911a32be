/*
 * outcome.c - what the confirming test would do: everything judged again with each of its results.
 *
 * Nothing is approximated: the result joins what was observed as the bench would record it, and the same judgement is made.
 */
#include "evidence/outcome.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

#define TRIED_MOST 8 /* tests, so that a verdict stays quick */
#define BURN_TRIED 2 /* the one of them that is a burn */

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

static tb_rc judge_again(struct tb_outcome *out, const struct tb_subject *s, size_t sets, struct tb_err *err)
{
    struct tb_verdict v = { 0 }, *alone = tb_array(struct tb_verdict, sets);
    tb_rc rc = tb_evidence_judge_sets(&v, alone, s->ev, s->recall, s->decl, s->obs, s->n, s->set, sets,
                                      TB_WANT_GRADE, err);

    if (rc == TB_OK) {
        const struct tb_verdict *tells = v.by_set ? &alone[v.by_set - 1] : &v;

        out->kind = tells->kind;
        out->grade = tells->grade;
        out->log_ratio = tells->log_ratio;
    }
    for (size_t i = 0; i < sets && rc == TB_OK; i++)
        tb_verdict_free(&alone[i]);
    tb_verdict_free(&v);
    free(alone);
    return rc;
}

/* All are weighed at once, since the burns are the same; then each is judged by itself. */
tb_rc tb_outcomes_judge(struct tb_verdict *v, const struct tb_outcome *o, const struct tb_again *a, size_t n,
                        const struct tb_subject *s, size_t sets, struct tb_err *err)
{
    struct tb_subject *with = tb_array(struct tb_subject, n);
    tb_rc rc;

    for (size_t i = 0; i < n; i++) {
        with[i] = *s;
        with[i].obs = a[i].obs;
        with[i].n = a[i].n;
        with[i].set = s->set ? a[i].set : NULL;
    }
    rc = tb_subjects_recall(with, n, sets, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct tb_outcome one = o[i];

        if ((rc = judge_again(&one, &with[i], sets, err)) == TB_OK)
            TB_PUSH(v->outcome, v->n_outcome, one);
    }
    free(with);
    return rc;
}

/* What is tried of a lot, on cloth of one set or of any, or of each. */
struct lot {
    const struct tb_subject *s;
    size_t sets, tells; /* as tb_outcomes_take has them */
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

/* Which swatch its outcomes are of; NULL: of no one swatch. */
static void name_swatch(struct tb_verdict *v, const struct tb_trying *t)
{
    bool one = t->n_at == 1 && t->at[0] < t->s->n && t->s->obs[t->at[0]].swatch;

    free(v->confirm_swatch);
    v->confirm_swatch = one ? tb_strdup(t->s->obs[t->at[0]].swatch) : NULL;
    v->confirm.bolts = t->n_at > 1 ? t->n_at : 0;
}

/* A bench test by each of its results; a burn by the two that matter. */
static tb_rc try_test(struct tb_verdict *v, const struct tb_next *n, const struct tb_question *q,
                      const struct lot *l, bool each, struct tb_err *err)
{
    const struct tb_channel *ch = &q->ev->channel[n->channel];
    struct tb_trying t = { .s = l->s, .part = n->part };
    bool kind[TB_CUES_MOST] = { false };
    struct tb_again *a;
    struct tb_outcome *o;
    size_t results;
    tb_rc rc;

    take_swatches(&t, l, n->channel, each);
    if (t.n_at < (each ? 2 : 1))
        return TB_OK;
    results = ch->bench ? (size_t)ch->n : t.at[0] < t.s->n ? 2 : 1;
    a = tb_array(struct tb_again, results + 1);
    o = tb_array(struct tb_outcome, results + 1);
    v->confirm = *n;
    v->n_outcome = 0;
    name_swatch(v, &t);
    if (!ch->bench) /* one channel was named for what it is expected to tell; a burn shows all of them */
        v->confirm.name =
            N_("let another person burn another swatch of the same bolt and look at everything");
    for (size_t i = 0; i < results; i++) {
        a[i] = tb_again_of(t.s);
        if (ch->bench)
            tb_again_result(&a[i], &o[i], &t, ch->first + (int)i);
        else
            tb_again_burn(&a[i], &o[i], q, &t, i + 1 < results);
    }
    if (tb_kinds_declared(kind, q, &t, ch) > 1) {
        a[results] = tb_again_of(t.s);
        tb_again_kinds(&a[results], &o[results], &t, kind);
        v->confirm.likely |= n->likely ? 1u << results : 0;
        results++;
    }
    rc = tb_outcomes_judge(v, o, a, results, t.s, l->sets, err);
    for (size_t i = 0; i < results; i++)
        tb_again_free(&a[i]);
    free(a);
    free(o);
    return rc;
}

/* Of a burn both outcomes are likely: nothing is known of it before. */
static bool is_likely(const struct tb_verdict *v, size_t outcome)
{
    return !v->confirm.likely || v->confirm.likely >> outcome & 1u;
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
        if (!is_likely(v, i))
            continue;
        if (first && first->grade != v->outcome[i].grade)
            return true;
        first = first ? first : &v->outcome[i];
    }
    return false;
}

/*
 * The two best bench tests of those that may turn the verdict come first: they see something else than a burn does, and a second burn
 * repeats the first one's mistake. Then the best burn, and the other such bench tests. NULL: there is no such test.
 */
static const struct tb_next *candidate(const struct tb_verdict *v, const struct tb_evidence *ev, size_t nth)
{
    bool bench = nth != BURN_TRIED;

    nth -= nth > BURN_TRIED;
    for (size_t i = 0; i < v->n_next; i++)
        if (v->next[i].channel >= 0 && ev->channel[v->next[i].channel].bench == bench &&
            (!bench || (v->next[i].turns && nth-- == 0)))
            return &v->next[i];
    return NULL;
}

/* What no test at the bench can change somebody else may. */
static void leave_to_laboratory(struct tb_verdict *v)
{
    const struct tb_next *n = tb_next_laboratory(v);

    free(v->confirm_swatch);
    v->confirm_swatch = NULL;
    v->n_outcome = 0;
    v->confirm = n ? *n : (struct tb_next){ 0 };
}

/* Bolts that each say the same are not outweighed by a test of one of them. */
static tb_rc try_on_each(struct tb_verdict *v, const struct tb_question *q, const struct lot *l,
                         struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TRIED_MOST && rc == TB_OK && !tells(v); i++) {
        const struct tb_next *n = i == BURN_TRIED ? NULL : candidate(v, l->s->ev, i);

        if (n)
            rc = try_test(v, n, q, l, true, err);
    }
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

tb_rc tb_outcomes_take(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                       size_t sets, size_t told_by, struct tb_err *err)
{
    const struct lot l = { .s = s, .sets = sets, .tells = told_by };
    tb_rc rc = TB_OK;

    if (v->kind == TB_FITS)
        return TB_OK;
    for (size_t i = 0; i < TRIED_MOST && rc == TB_OK && !tells(v); i++) {
        const struct tb_next *n = candidate(v, s->ev, i);

        if (n)
            rc = try_test(v, n, q, &l, false, err);
    }
    if (rc == TB_OK && !tells(v) && sets > 1 && sets <= TB_BOLTS_MOST)
        rc = try_on_each(v, q, &l, err);
    if (rc == TB_OK && !tells(v) && v->at_odds && v->handling == TB_HANDLING_ANY)
        rc = tb_withdraw_take(v, q, s, sets, err);
    if (rc == TB_OK && !tells(v))
        leave_to_laboratory(v);
    if (rc == TB_OK)
        put_first(v);
    return rc;
}
