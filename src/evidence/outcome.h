/* outcome.h - inside the evidence module: everything judged again with something more, or something less, that was observed. */
#ifndef TENTERBOOK_EVIDENCE_OUTCOME_H
#define TENTERBOOK_EVIDENCE_OUTCOME_H

#include "evidence/judge.h"

#define TB_BOLTS_MOST                                                                                        \
    12 /* of which all may be tested: of more, nobody does it before a laboratory is asked */

/* What is judged again: all that was observed, with room for one more. */
struct tb_again {
    struct tb_observation *obs; /* n, and room for one */
    size_t *set;
    size_t n;
};
/* A copy of what was observed; its texts stay those of s. Free with tb_again_free. */
struct tb_again tb_again_of(const struct tb_subject *s);
void tb_again_free(struct tb_again *a);

/* What is tried: a test of one part, on a swatch or several, which are observations of the subject; s->n: on cloth that was not burned. */
struct tb_trying {
    const struct tb_subject *s;
    enum tb_part_kind part;
    size_t at
        [TB_BOLTS_MOST]; /* whose swatches are tested, or (the first) beside which one more is burned; n_at, one or more */
    size_t n_at;
};
/* The result of a bench test, as the bench would record it. */
void tb_again_result(struct tb_again *a, struct tb_outcome *o, const struct tb_trying *t, int cue);
/* What a mount of each declared fibre by itself mostly shows, of a bench test that may show several kinds; how many that are. */
size_t tb_kinds_declared(bool kind[TB_CUES_MOST], const struct tb_question *q, const struct tb_trying *t,
                         const struct tb_channel *ch);
/* All kinds of fibre that are declared, seen in one mount: of a blend no single kind says much. */
void tb_again_kinds(struct tb_again *a, struct tb_outcome *o, const struct tb_trying *t,
                    const bool kind[TB_CUES_MOST]);
/* Another swatch burned by another person, with the same to be seen, or with what is published of the declared cloth. */
void tb_again_burn(struct tb_again *a, struct tb_outcome *o, const struct tb_question *q,
                   const struct tb_trying *t, bool same);

/*
 * tb_outcomes_judge - the grade of each of n things that may come, o with what is observed then, added to v->outcome.
 *   sets   how many the subject has
 *   fails  as tb_evidence_judge_sets
 */
tb_rc tb_outcomes_judge(struct tb_verdict *v, const struct tb_outcome *o, const struct tb_again *a, size_t n,
                        const struct tb_subject *s, size_t sets, struct tb_err *err);

/*
 * tb_outcome_grade - the same of one of them, of which the kind and the grade alone are right: they are known before compositions that
 * hardly count are weighed, or else it is judged in full.
 */
tb_rc tb_outcome_grade(struct tb_verdict *v, const struct tb_outcome *o, const struct tb_again *a,
                       const struct tb_subject *s, size_t sets, struct tb_err *err);

/* tb_outcomes_weigh - weigh n things that may come at once, so that s->recall has them when they are graded; fails as that does. */
tb_rc tb_outcomes_weigh(const struct tb_again *const *a, size_t n, const struct tb_subject *s, size_t sets,
                        struct tb_err *err);

/*
 * tb_withdraw_take - of a verdict at odds, what each side withdrawn would leave, into v->confirm and v->outcome.
 *   told_by  as tb_outcomes_take: of a set only what was done to it is withdrawn
 *   fails    as tb_outcomes_judge
 */
tb_rc tb_withdraw_take(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                       size_t sets, size_t told_by, struct tb_err *err);

#endif
