/* Answering a drill: what a tester saw of a card and took it for, recorded as a burn of the known swatch. */
#include "tenterbook/act_bench.h"
#include "tenterbook/act_drill.h"

#include "base/say.h"
#include "work/act.h"
#include "work/burn.h"

#include <math.h>
#include <string.h>

#define DIGITS_MOST 9 /* of each number of a card: more than were ever dealt */

/* Plain digits up to one of `until`. A sign or a space would let one card go by several names. */
static const char *digits(int64_t *out, const char *s, char until)
{
    size_t n = strspn(s, "0123456789");

    if (n < 1 || n > DIGITS_MOST || s[n] != until)
        return NULL;
    *out = 0;
    for (size_t i = 0; i < n; i++)
        *out = 10 * *out + (s[i] - '0');
    return s + n + (until != '\0');
}

/* Only the tester answers: the answers of somebody else would count as theirs for ever. */
static tb_rc find_card(struct tb_card *card, struct tb_job *j, const char *name)
{
    const char *rest;
    int64_t drill, serial;
    tb_rc rc;

    if (!(rest = digits(&drill, name, '-')) || !digits(&serial, rest, '\0'))
        return tb_fail(j->err, TB_EINVAL, "'%s' is not a card; cards are called like 3-07", name);
    if ((rc = tb_card_find(card, j->b, drill, serial, j->mem, j->err)) != TB_OK)
        return rc;
    if (strcmp(card->tester, j->who) != 0)
        return tb_about(
            j->err,
            tb_fail(j->err, TB_EREFUSED, "card %s was dealt to %s; only they answer it", name, card->tester),
            "as-person");
    return TB_OK;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_answer_request *r = j->request;
    struct tb_answer_outcome *out = j->out;
    tb_rc rc;

    j->subject = r->card;
    *out = (struct tb_answer_outcome){ .answer = tb_drill_class_named(r->named) };
    if (!out->answer)
        return tb_fail(
            j->err, TB_EINVAL,
            "'%s' is not a class of fibres; say cellulose, protein, ... or a fibre, mixed, or unknown",
            r->named);
    out->burn = (struct tb_burn){ .flame = r->flame, .note = "", .sample_mm = (double)NAN };
    /* what can be wrong with the answer is told before the card is looked up, and so before its truth is read */
    if ((rc = tb_burn_observe(&out->burn, r->seen, j->mem, j->err)) != TB_OK ||
        (rc = find_card(&out->card, j, r->card)) != TB_OK || (rc = tb_flame_check(j->b, j->err)) != TB_OK)
        return rc;
    out->burn.swatch = out->card.swatch;
    out->truth = tb_drill_class_of(out->card.known);
    out->right = strcmp(out->answer, out->truth) == 0;
    return TB_OK;
}

/* The burn first: an answer names it, so that each can be found from the other. */
static tb_rc write(struct tb_job *j)
{
    struct tb_answer_outcome *out = j->out;
    tb_rc rc = tb_burn_add(&out->burn, j->b, j->mem, j->err);

    return rc == TB_OK ? tb_card_answer(j->b, &out->card, out->answer, out->burn.id, j->err) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_answer_request, card, N_("the card")),
    TB_SAYS(tb_answer_request, named, N_("the answer")),
    TB_SAYS(tb_answer_request, flame, N_("the flame")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_answer(struct tb_answer_outcome *out, const struct tb_actor *actor,
                    const struct tb_answer_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_DRILL,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_answer_request),
                                       .said = said };

    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
