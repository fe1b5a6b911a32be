/*
 * changed.c - everything judged again with something observed otherwise, and whatever is as before left as it was answered.
 *
 * A test of one bolt changes what that bolt says, and what all say together; every other bolt says what it said.
 */
#include "evidence/outcome.h"

#include <stdlib.h>
#include <string.h>

/* What is judged again, each with what is observed then. */
struct changed {
    struct tb_subject *subject; /* n */
    bool *touched;              /* [subject * sets + set]: something of it is observed otherwise */
    size_t n, sets;
};

/* What was not changed is the same, names too: they are borrowed from one place. */
static bool is_same(const struct tb_observation *a, const struct tb_observation *b)
{
    return a->part == b->part && a->swatch == b->swatch && a->person == b->person &&
           memcmp(a->looked, b->looked, sizeof a->looked) == 0 &&
           memcmp(a->sight, b->sight, sizeof a->sight) == 0 &&
           memcmp(a->could_not, b->could_not, sizeof a->could_not) == 0;
}

/* Is anything of a set another than it was? */
static void take_touched(bool *touched, const struct tb_again *a, const struct tb_subject *s)
{
    for (size_t i = 0; i < a->n && s->set; i++)
        touched[a->set[i]] |= i >= s->n || !is_same(&a->obs[i], &s->obs[i]);
}

static void open_changed(struct changed *out, const struct tb_again *const *a, size_t n,
                         const struct tb_subject *s, size_t sets, double leave)
{
    *out = (struct changed){ tb_array(struct tb_subject, n), tb_array(bool, n *sets + 1), n, sets };
    for (size_t i = 0; i < n; i++) {
        struct tb_subject *with = &out->subject[i];

        *with = *s;
        with->obs = a[i]->obs;
        with->n = a[i]->n;
        with->set = s->set ? a[i]->set : NULL;
        with->leave = leave;
        with->touched = out->touched + i * sets;
        take_touched(out->touched + i * sets, a[i], s);
    }
}

static void free_changed(struct changed *c)
{
    free(c->subject);
    free(c->touched);
}

/* What is not known yet of a thing that may come, once it was judged without compositions that hardly count. */
struct open {
    bool grade, ratio;
    bool together; /* all observations together tell, and no bolt does */
    double leave;  /* that was left out */
};

static tb_rc judge_again(struct tb_outcome *out, struct open *open, const struct tb_subject *s, size_t sets,
                         struct tb_err *err)
{
    struct tb_verdict v = { 0 }, *alone = tb_array(struct tb_verdict, sets);
    struct tb_subject own = *s;
    tb_rc rc = tb_subject_judge(&v, alone, &own, sets, TB_WANT_GRADE, err);

    if (rc == TB_OK) {
        const struct tb_verdict *tells = v.by_set ? &alone[v.by_set - 1] : &v;

        out->kind = tells->kind;
        out->grade = tells->grade;
        out->bounded = tb_bounded(&tells->bounds, tells->log_ratio);
        *open = (struct open){ own.unsure, own.loose, !v.by_set, s->leave };
    }
    for (size_t i = 0; i < sets && rc == TB_OK; i++)
        tb_verdict_free(&alone[i]);
    tb_verdict_free(&v);
    free(alone);
    return rc;
}

/* So much may be left out of what there was before, first; of what is not known then, so much; and nothing. */
static const double leave[] = { 1e-3, 3e-5, 0 };

/* All are weighed at once, since the burns are the same; then each is judged by itself. */
static tb_rc judge_all(struct tb_outcome *const *out, struct open *const *open,
                       const struct tb_again *const *a, size_t n, const struct tb_subject *s, size_t sets,
                       double may, struct tb_err *err)
{
    struct changed c;
    tb_rc rc;

    open_changed(&c, a, n, s, sets, may);
    for (size_t i = 0; i < n; i++)
        if (may <= 0 && !open[i]->grade && open[i]->together) { /* of the bolts enough is known */
            c.subject[i].leave = open[i]->leave;
            c.subject[i].together = true;
        }
    rc = tb_subjects_recall(c.subject, n, sets, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = judge_again(out[i], open[i], &c.subject[i], sets, err);
    free_changed(&c);
    return rc;
}

/* A ratio that lies within its bounds is told to the last digit, so only all compositions settle it. */
static bool goes_on(const struct open *o, bool roughly, bool grade_alone)
{
    bool ratio = o->ratio && !grade_alone;

    return roughly ? o->grade && !ratio : o->grade || ratio;
}

/* What is known of a result by few compositions is weighed no further; of most a few are enough. `from`: the first step. */
static tb_rc judge_closer(struct tb_outcome *out, const struct tb_again *a, size_t n, size_t from,
                          const struct tb_subject *s, size_t sets, bool grade_alone, struct tb_err *err)
{
    const struct tb_again **each = tb_array(const struct tb_again *, n + 1);
    struct tb_outcome **of = tb_array(struct tb_outcome *, n + 1);
    struct open *open = tb_array(struct open, n + 1), **still = tb_array(struct open *, n + 1);
    tb_rc rc = TB_OK;

    for (size_t step = from; step < TB_COUNT(leave) && rc == TB_OK; step++) {
        size_t left = 0;

        for (size_t i = 0; i < n; i++)
            if (step == from || goes_on(&open[i], leave[step] > 0, grade_alone)) {
                each[left] = &a[i];
                of[left] = &out[i];
                still[left++] = &open[i];
            }
        if (left)
            rc = judge_all(of, still, each, left, s, sets, leave[step], err);
    }
    free(still);
    free(open);
    free(of);
    free(each);
    return rc;
}

/* A verdict within its bounds mostly stays so whatever comes out. */
tb_rc tb_outcomes_judge(struct tb_verdict *v, const struct tb_outcome *o, const struct tb_again *a, size_t n,
                        const struct tb_subject *s, size_t sets, struct tb_err *err)
{
    struct tb_outcome *out = tb_array(struct tb_outcome, n + 1);
    tb_rc rc;

    for (size_t i = 0; i < n; i++)
        out[i] = o[i];
    rc = judge_closer(out, a, n, tb_verdict_at_limit(v) ? 0 : TB_COUNT(leave) - 1, s, sets, false, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        TB_PUSH(v->outcome, v->n_outcome, out[i]);
    free(out);
    return rc;
}

tb_rc tb_outcomes_weigh(const struct tb_again *const *a, size_t n, const struct tb_subject *s, size_t sets,
                        struct tb_err *err)
{
    struct changed c;
    tb_rc rc;

    open_changed(&c, a, n, s, sets, leave[0]);
    rc = tb_subjects_recall(c.subject, n, sets, err);
    free_changed(&c);
    return rc;
}

tb_rc tb_outcome_grade(struct tb_verdict *v, const struct tb_outcome *o, const struct tb_again *a,
                       const struct tb_subject *s, size_t sets, struct tb_err *err)
{
    struct tb_outcome out = *o;
    tb_rc rc = judge_closer(&out, a, 1, 0, s, sets, true, err);

    if (rc == TB_OK)
        TB_PUSH(v->outcome, v->n_outcome, out);
    return rc;
}
