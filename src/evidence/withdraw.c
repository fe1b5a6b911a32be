/*
 * withdraw.c - what is at odds: what the verdict would be once one of the two is known to be the mistake and is withdrawn.
 *
 * No further test decides it, since the two contradict each other whatever a third one says; a second look at those swatches and
 * records does.
 */
#include "evidence/outcome.h"

#include "base/say.h"

#include <math.h>
#include <stdlib.h>

/* Of a burn that is named, only observations that burned like it. */
static bool is_burn_of(const struct tb_subject *s, size_t i, const struct tb_odd_act *act)
{
    size_t reading = s->readings.of[i];

    return !act->burn ||
           (reading != TB_READ_NOTHING && tb_terms_same_burn(&s->readings.terms[reading], act->burn, s->ev));
}

/* What a person did to a part, of one set where `told_by` names one, is as if nobody had done it. */
static void leave_out(struct tb_again *a, const struct tb_subject *s, size_t told_by,
                      const struct tb_odd_act *act)
{
    const struct tb_evidence *ev = s->ev;

    for (size_t i = 0; i < s->n; i++) {
        struct tb_observation *o = &a->obs[i];

        if (o->part != act->part || s->readings.person[i] != act->person ||
            (told_by && s->set[i] != told_by - 1) || !is_burn_of(s, i, act))
            continue;
        for (int c = 0; c < ev->channels; c++)
            if (ev->channel[c].bench ? c == act->channel : act->channel == TB_STEP_BURN)
                o->looked[c] = false;
        for (int c = 0; c < ev->cues; c++)
            if (!o->looked[ev->cue[c].channel])
                o->sight[c] = TB_SIGHT_NONE;
    }
}

/* One side taken back. */
static struct tb_again without(const struct tb_verdict *v, const struct tb_question *q,
                               const struct tb_subject *s, size_t told_by, bool pro)
{
    struct tb_again a = tb_again_of(s);
    struct tb_odd_act *act;
    size_t n = tb_odd_acts(&act, q, pro, v->ratio > v->fits_above, v->ratio < v->contradicts_below);

    for (size_t i = 0; i < n; i++)
        leave_out(&a, s, told_by, &act[i]);
    free(act);
    return a;
}

tb_rc tb_withdraw_take(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                       size_t sets, size_t told_by, struct tb_err *err)
{
    static const struct tb_outcome outcome[2] = {
        { .result = "without_against",
          .meaning = TR_("what speaks against it was the mistake and is withdrawn") },
        { .result = "without_for", .meaning = TR_("what speaks for it was the mistake and is withdrawn") }
    };
    struct tb_again a[2] = { without(v, q, s, told_by, false), without(v, q, s, told_by, true) };
    tb_rc rc;

    tb_confirm_no_swatch(v);
    v->n_outcome = 0;
    v->confirm = (struct tb_next){
        .part = TB_PART_WHOLE,
        .test = "withdraw",
        .name = TR_("find out which of the two is the mistake: let another person look at those swatches and "
                    "records again, and withdraw it (tenterbook void)"),
        .channel = -1,
        .gain_bits = NAN,
        .settles = NAN,
        .effort = N_("minutes at the bench"),
        .caution = "",
    };
    rc = tb_outcomes_judge(v, outcome, a, 2, s, sets, err);
    tb_again_free(&a[0]);
    tb_again_free(&a[1]);
    return rc;
}
