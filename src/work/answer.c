/* Answering a drill: what a tester saw of a card and took it for, recorded as a burn of the known swatch. */
#include "tenterbook/act_bench.h"
#include "tenterbook/act_drill.h"

#include "work/act.h"
#include "work/burn.h"

#include <math.h>
#include <string.h>

#define DIGITS_MOST 9 /* of each number of a card: more than were ever dealt */

struct answering {
    const struct tb_answer_request *request;
    struct tb_answer_outcome *out;
    const char *who;
    struct tb_arena *mem;
};

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
static tb_rc find_card(struct answering *a, struct tb_book *b, struct tb_err *err)
{
    const char *name = a->request->card, *rest;
    struct tb_card *card = &a->out->card;
    int64_t drill, serial;
    tb_rc rc;

    if (!(rest = digits(&drill, name, '-')) || !digits(&serial, rest, '\0'))
        return tb_fail(err, TB_EINVAL, "'%s' is not a card; cards are called like 3-07", name);
    if ((rc = tb_card_find(card, b, drill, serial, a->mem, err)) != TB_OK)
        return rc;
    if (strcmp(card->tester, a->who) != 0)
        return tb_fail(err, TB_EREFUSED, "card %s was dealt to %s; only they answer it (--as-person NAME)",
                       name, card->tester);
    return TB_OK;
}

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct answering *a = arg;
    const struct tb_answer_request *r = a->request;
    struct tb_answer_outcome *out = a->out;
    tb_rc rc;

    (void)write;
    *out = (struct tb_answer_outcome){ .answer = tb_drill_class_named(r->named) };
    if (!out->answer)
        return tb_fail(
            err, TB_EINVAL,
            "'%s' is not a class of fibres; say cellulose, protein, ... or a fibre, mixed, or unknown",
            r->named);
    out->burn = (struct tb_burn){ .flame = r->flame, .note = "", .sample_mm = (double)NAN };
    /* what can be wrong with the answer is told before the card is looked up, and so before its truth is read */
    if ((rc = tb_burn_observe(&out->burn, r->seen, a->mem, err)) != TB_OK ||
        (rc = find_card(a, b, err)) != TB_OK || (rc = tb_flame_check(b, err)) != TB_OK)
        return rc;
    out->burn.swatch = out->card.swatch;
    out->truth = tb_drill_class_of(out->card.known);
    out->right = strcmp(out->answer, out->truth) == 0;
    return TB_OK;
}

/* Another answer may be of this card, and the permission for flame work may have gone. */
static bool concerns(void *arg, const struct tb_journal_row *row)
{
    (void)arg;
    return strcmp(row->verb, "drill") == 0 || strcmp(row->verb, "set") == 0;
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct answering *a = arg;
    struct tb_answer_outcome *out = a->out;
    tb_rc rc;

    tb_book_subject(b, a->request->card);
    /* the burn first: an answer names it, so that each can be found from the other */
    if ((rc = tb_burn_add(&out->burn, b, a->mem, err)) != TB_OK)
        return rc;
    return tb_card_answer(b, &out->card, out->answer, out->burn.id, err);
}

tb_rc tb_act_answer(struct tb_answer_outcome *out, const struct tb_actor *actor,
                    const struct tb_answer_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "drill", plan, concerns, write };
    struct answering a = { request, out, actor->who, mem };

    return tb_act_do(&act, &a, actor, err);
}
