/*
 * outcome.c - what the confirming test would do: everything judged again with each of its results.
 *
 * Nothing is approximated: the result joins what was observed as the bench would record it, and the same judgement is made.
 */
#include "evidence/judge.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

#define TRIED_MOST 8       /* tests, so that a verdict stays quick */
#define BURN_TRIED 2       /* the one of them that is a burn */
#define SOMEBODY_ELSE "\t" /* no tester is called so */
#define SHOWN_LEAST 0.5 /* chance from which a published cue is taken to be what the declared cloth shows */

/* What is judged again: all that was observed, with room for one more. */
struct again {
    struct tb_observation *obs; /* n, and room for one */
    size_t *set;
    size_t n;
};

static struct again again_of(const struct tb_subject *s)
{
    struct again a = { .obs = tb_array(struct tb_observation, s->n + 1),
                       .set = tb_array(size_t, s->n + 1),
                       .n = s->n };

    if (s->n)
        memcpy(a.obs, s->obs, s->n * sizeof *a.obs);
    if (s->n && s->set)
        memcpy(a.set, s->set, s->n * sizeof *a.set);
    return a;
}

static void free_again(struct again *a)
{
    free(a->obs);
    free(a->set);
}

/* What is tried: a test of one part, on cloth of one set (`only`) or of any. */
struct trying {
    const struct tb_subject *s;
    size_t sets, tells; /* as tb_outcomes_take has them */
    enum tb_part_kind part;
    size_t at; /* the observation whose swatch is tested, or beside which one more is burned; s->n: none */
};

static const struct tb_group *group_of(const struct tb_question *q, const struct trying *t)
{
    size_t g = 0;

    while (g + 1 < q->n && q->group[g].part != t->part)
        g++;
    return &q->group[g];
}

static bool burned(const struct tb_observation *o, const struct tb_evidence *ev)
{
    for (int c = 0; c < ev->channels; c++)
        if (o->looked[c] && !ev->channel[c].bench)
            return true;
    return false;
}

/* Whose swatch the test is of, or whose bolt: the last of the part and set that is free for it, or was burned; n: none. */
static size_t made_of(const struct trying *t, int channel)
{
    const struct tb_subject *s = t->s;

    for (size_t i = s->n; i-- > 0;)
        if (s->obs[i].part == t->part && (!t->tells || s->set[i] == t->tells - 1) &&
            (s->ev->channel[channel].bench ? !s->obs[i].looked[channel] : burned(&s->obs[i], s->ev)))
            return i;
    return s->n;
}

/* Of another swatch of the same bolt, by somebody who has not seen the cloth yet: whoever has would add nothing. */
static struct tb_observation *one_more(struct again *a, const struct trying *t)
{
    struct tb_observation *o = &a->obs[a->n];

    *o = (struct tb_observation){ .part = t->part, .person = SOMEBODY_ELSE };
    a->set[a->n] = t->at < t->s->n ? a->set[t->at] : 0;
    a->n++;
    return o;
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

/* A bench test is of a swatch that was burned, if there is one: src/work/observe.c joins them the same way. */
static void add_result(struct again *a, struct tb_outcome *o, const struct trying *t, int cue)
{
    struct tb_cue c;

    tb_cue_at(&c, cue);
    tb_observation_see(t->at < t->s->n ? &a->obs[t->at] : one_more(a, t), cue);
    *o = (struct tb_outcome){ .result = c.key, .meaning = c.meaning };
}

/* What a mount of each declared fibre by itself mostly shows, of a test that may show several kinds; how many that are. */
static size_t kinds_declared(bool kind[TB_CUES_MOST], const struct tb_question *q, const struct trying *t,
                             const struct tb_channel *ch)
{
    const struct tb_blend *b = &group_of(q, t)->declared.blend;
    size_t n = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        kind[c] = false;
        for (int i = 0; i < b->n && !ch->exclusive; i++)
            kind[c] |=
                tb_cue_chance(q->ev, &(struct tb_blend){ .n = 1, .fibre = { b->fibre[i] }, .share = { 1 } },
                              c) >= SHOWN_LEAST;
        n += kind[c];
    }
    return n;
}

/* All kinds of fibre that are declared, seen in one mount: of a blend no single kind says much. */
static void add_kinds(struct again *a, struct tb_outcome *o, const struct trying *t,
                      const bool kind[TB_CUES_MOST])
{
    struct tb_observation *to = t->at < t->s->n ? &a->obs[t->at] : one_more(a, t);

    for (int c = 0; c < t->s->ev->cues; c++)
        if (kind[c])
            tb_observation_see(to, c);
    *o = (struct tb_outcome){ .result = "as_declared",
                              .meaning = N_("each kind of fibre that is declared, and no other") };
}

/* Every channel of a burn looked at, and what the published descriptions of the declared cloth mostly say. */
static void as_published(struct tb_observation *o, const struct tb_evidence *ev,
                         const struct tb_blend *declared)
{
    for (int c = 0; c < ev->channels; c++)
        if (!ev->channel[c].bench)
            tb_observation_look(o, c);
    for (int c = 0; c < ev->cues; c++)
        if (!ev->channel[ev->cue[c].channel].bench && tb_cue_chance(ev, declared, c) >= SHOWN_LEAST)
            tb_observation_see(o, c);
}

/* What the swatch did in the flame; its bench tests are not made again. */
static void as_before(struct tb_observation *o, const struct tb_evidence *ev,
                      const struct tb_observation *burn)
{
    for (int c = 0; c < ev->channels; c++)
        if (!ev->channel[c].bench)
            o->looked[c] = burn->looked[c];
    for (int c = 0; c < ev->cues; c++)
        if (!ev->channel[ev->cue[c].channel].bench)
            o->sight[c] = burn->sight[c];
}

static void add_burn(struct again *a, struct tb_outcome *o, const struct tb_question *q,
                     const struct trying *t, bool same)
{
    struct tb_observation *more = one_more(a, t);

    *o = same
             ? (struct tb_outcome){ .result = "again", .meaning = N_("it burns the same for another person") }
             : (struct tb_outcome){ .result = "as_declared",
                                    .meaning = N_(
                                        "for another person it burns as is published of what is declared") };
    if (same)
        as_before(more, q->ev, &a->obs[t->at]);
    else
        as_published(more, q->ev, &group_of(q, t)->declared.blend);
}

/* All results are weighed at once, since the burns are the same; then each is judged by itself. */
static tb_rc judge_results(struct tb_verdict *v, const struct tb_outcome *o, const struct again *a, size_t n,
                           const struct trying *t, struct tb_err *err)
{
    struct tb_subject *with = tb_array(struct tb_subject, n);
    const struct tb_subject *s = t->s;
    tb_rc rc;

    for (size_t i = 0; i < n; i++) {
        with[i] = *s;
        with[i].obs = a[i].obs;
        with[i].n = a[i].n;
        with[i].set = s->set ? a[i].set : NULL;
    }
    rc = tb_subjects_recall(with, n, t->sets, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct tb_outcome one = o[i];

        if ((rc = judge_again(&one, &with[i], t->sets, err)) == TB_OK)
            TB_PUSH(v->outcome, v->n_outcome, one);
    }
    free(with);
    return rc;
}

/* A bench test by each of its results; a burn by the two that matter. */
static tb_rc try_test(struct tb_verdict *v, const struct tb_next *n, const struct tb_question *q,
                      const struct trying *any, struct tb_err *err)
{
    const struct tb_channel *ch = &q->ev->channel[n->channel];
    struct trying t = { any->s, any->sets, any->tells, n->part, 0 };
    size_t at = made_of(&t, n->channel), results = ch->bench ? (size_t)ch->n : at < t.s->n ? 2 : 1;
    struct again *a = tb_array(struct again, results + 1);
    struct tb_outcome *o = tb_array(struct tb_outcome, results + 1);
    bool kind[TB_CUES_MOST] = { false };
    tb_rc rc;

    t.at = at;
    v->confirm = *n;
    v->n_outcome = 0;
    free(v->confirm_swatch);
    v->confirm_swatch = at < t.s->n && t.s->obs[at].swatch ? tb_strdup(t.s->obs[at].swatch) : NULL;
    if (!ch->bench) /* one channel was named for what it is expected to tell; a burn shows all of them */
        v->confirm.name =
            N_("let another person burn another swatch of the same bolt and look at everything");
    for (size_t i = 0; i < results; i++) {
        a[i] = again_of(t.s);
        if (ch->bench)
            add_result(&a[i], &o[i], &t, ch->first + (int)i);
        else
            add_burn(&a[i], &o[i], q, &t, i + 1 < results);
    }
    if (kinds_declared(kind, q, &t, ch) > 1) {
        a[results] = again_of(t.s);
        add_kinds(&a[results], &o[results], &t, kind);
        v->confirm.likely |= n->likely ? 1u << results : 0;
        results++;
    }
    rc = judge_results(v, o, a, results, &t, err);
    for (size_t i = 0; i < results; i++)
        free_again(&a[i]);
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

tb_rc tb_outcomes_take(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                       size_t sets, size_t told_by, struct tb_err *err)
{
    const struct trying any = { .s = s, .sets = sets, .tells = told_by };
    tb_rc rc = TB_OK;

    if (v->kind == TB_FITS)
        return TB_OK;
    for (size_t i = 0; i < TRIED_MOST && rc == TB_OK && !tells(v); i++) {
        const struct tb_next *n = candidate(v, s->ev, i);

        if (n)
            rc = try_test(v, n, q, &any, err);
    }
    if (rc == TB_OK && !tells(v))
        leave_to_laboratory(v);
    return rc;
}
