/*
 * switching.c - normal, tightened, reduced: the switching rules as a state machine
 * (sql/reference/switching_rule.csv).
 */
#include "base/say.h"
#include "tenterbook/sampling.h"

void tb_switching_start(struct tb_switching *s, enum tb_rules rules)
{
    *s = (struct tb_switching){ .rules = rules, .now = TB_NORMAL };
}

void tb_switching_resume(struct tb_switching *s)
{
    if (!s->stopped)
        return;
    *s = (struct tb_switching){ .rules = s->rules,
                                .now = TB_TIGHTENED,
                                .why =
                                    N_("what went wrong was put right: tightened inspection begins again") };
}

/* Every change starts the counts afresh, as the standard has it. */
static bool turn(struct tb_switching *s, enum tb_inspection to, const char *why)
{
    *s = (struct tb_switching){ .rules = s->rules, .now = to, .why = why };
    return true;
}

/* ISO 2859-1 9.3.3.2 */
static void score(struct tb_switching *s, const struct tb_lot_outcome *lot)
{
    bool good = lot->accept_number_small ? !lot->refused : !lot->refused && lot->would_pass_tighter;

    if (!good)
        s->score = 0;
    else
        s->score += lot->accept_number_small ? 2 : 3;
}

/* Steadiness is for the house to say; the rules only allow. */
static bool may_reduce(const struct tb_switching *s, const struct tb_lot_outcome *lot)
{
    if (!lot->steady)
        return false;
    if (s->rules == TB_RULES_2859)
        return s->score >= 30;
    return s->accepted_run >= 10 && lot->below_limit;
}

/* A refusal is remembered for four lots: the fifth one is out of the rule's sight. */
static bool step_normal(struct tb_switching *s, const struct tb_lot_outcome *lot)
{
    score(s, lot);
    if (lot->refused && s->since_refused > 0)
        return turn(s, TB_TIGHTENED, N_("two of five or fewer lots in a row were refused"));
    if (lot->refused) {
        s->since_refused = 1;
        s->accepted_run = 0;
        return false;
    }
    s->accepted_run++;
    if (s->since_refused > 0)
        s->since_refused = s->since_refused < 4 ? s->since_refused + 1 : 0;
    if (may_reduce(s, lot))
        return turn(s, TB_REDUCED,
                    s->rules == TB_RULES_2859
                        ? N_("the switching score has reached 30 and deliveries are steady")
                        : N_("ten lots in a row were accepted with few false bolts"));
    return false;
}

/* Accepted lots must come in a row, refused ones only add up. */
static bool step_tightened(struct tb_switching *s, const struct tb_lot_outcome *lot)
{
    if (!lot->refused) {
        if (++s->accepted_run >= 5)
            return turn(s, TB_NORMAL, N_("five lots in a row were accepted under tightened inspection"));
        return false;
    }
    s->accepted_run = 0;
    if (++s->refused_tightened >= 5) {
        s->stopped = true;
        s->why = N_("five lots were refused under tightened inspection: stop until the cause is put right");
        return true;
    }
    return false;
}

/* Reduced inspection ends at the first doubt. */
static bool step_reduced(struct tb_switching *s, const struct tb_lot_outcome *lot)
{
    if (lot->refused)
        return turn(s, TB_NORMAL, N_("a lot was refused under reduced inspection"));
    if (lot->between)
        return turn(s, TB_NORMAL, N_("a lot fell between acceptance and refusal under reduced inspection"));
    if (!lot->steady)
        return turn(s, TB_NORMAL, N_("deliveries are no longer steady"));
    s->accepted_run++;
    return false;
}

/* A lot offered again has been counted once already. */
bool tb_switching_step(struct tb_switching *s, const struct tb_lot_outcome *lot)
{
    if (s->stopped || lot->resubmitted)
        return false;
    switch (s->now) {
    case TB_NORMAL:
        return step_normal(s, lot);
    case TB_TIGHTENED:
        return step_tightened(s, lot);
    default:
        return step_reduced(s, lot);
    }
}
