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
                         const struct tb_subject *s, size_t sets, bool roughly)
{
    *out = (struct changed){ tb_array(struct tb_subject, n), tb_array(bool, n *sets + 1), n, sets };
    for (size_t i = 0; i < n; i++) {
        struct tb_subject *with = &out->subject[i];

        *with = *s;
        with->obs = a[i]->obs;
        with->n = a[i]->n;
        with->set = s->set ? a[i]->set : NULL;
        with->roughly = roughly;
        with->touched = out->touched + i * sets;
        take_touched(out->touched + i * sets, a[i], s);
    }
}

static void free_changed(struct changed *c)
{
    free(c->subject);
    free(c->touched);
}

static tb_rc judge_again(struct tb_outcome *out, bool *unsure, const struct tb_subject *s, size_t sets,
                         struct tb_err *err)
{
    struct tb_verdict v = { 0 }, *alone = tb_array(struct tb_verdict, sets);
    struct tb_subject own = *s;
    tb_rc rc = tb_subject_judge(&v, alone, &own, sets, TB_WANT_GRADE, err);

    if (rc == TB_OK) {
        const struct tb_verdict *tells = v.by_set ? &alone[v.by_set - 1] : &v;

        out->kind = tells->kind;
        out->grade = tells->grade;
        out->log_ratio = tells->log_ratio;
        out->bounded = tb_bounded(&tells->bounds, tells->log_ratio);
        *unsure = own.unsure;
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
    const struct tb_again **each = tb_array(const struct tb_again *, n + 1);
    struct changed c;
    bool unsure;
    tb_rc rc;

    for (size_t i = 0; i < n; i++)
        each[i] = &a[i];
    open_changed(&c, each, n, s, sets, false);
    rc = tb_subjects_recall(c.subject, n, sets, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct tb_outcome one = o[i];

        if ((rc = judge_again(&one, &unsure, &c.subject[i], sets, err)) == TB_OK)
            TB_PUSH(v->outcome, v->n_outcome, one);
    }
    free_changed(&c);
    free(each);
    return rc;
}

tb_rc tb_outcomes_weigh(const struct tb_again *const *a, size_t n, const struct tb_subject *s, size_t sets,
                        struct tb_err *err)
{
    struct changed c;
    tb_rc rc;

    open_changed(&c, a, n, s, sets, true);
    rc = tb_subjects_recall(c.subject, n, sets, err);
    free_changed(&c);
    return rc;
}

tb_rc tb_outcome_grade(struct tb_verdict *v, const struct tb_outcome *o, const struct tb_again *a,
                       const struct tb_subject *s, size_t sets, struct tb_err *err)
{
    struct tb_outcome one = *o;
    struct changed c;
    bool unsure = true;
    tb_rc rc;

    open_changed(&c, &a, 1, s, sets, true);
    rc = judge_again(&one, &unsure, c.subject, sets, err);
    free_changed(&c);
    if (rc == TB_OK && unsure)
        return tb_outcomes_judge(v, o, a, 1, s, sets, err);
    if (rc == TB_OK)
        TB_PUSH(v->outcome, v->n_outcome, one);
    return rc;
}
