/* label_finished.c - whether a label may be handed over: of a lot that may be sold as it is, with words no clause speaks against. */
#include "tenterbook/label_page.h"

#include "tenterbook/concluded.h"
#include "tenterbook/names.h"

#include <string.h>

/* A new label of ours is judged by what was found: the supplier's words may be wrong, ours are not for that. */
static tb_rc lot_may_be_sold(struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                             struct tb_err *err)
{
    struct tb_concluded c = { 0 };
    tb_rc rc;

    if (lot->standing == TB_HELD || lot->held_in_part)
        return tb_fail(err, TB_EREFUSED,
                       "lot %s is held, or a bolt of it: its label waits until that is settled", lot->ref);
    if (lot->standing == TB_RETURNED)
        return tb_fail(err, TB_EREFUSED, "lot %s was returned: it gets no label here", lot->ref);
    if (lot->own_words || (rc = tb_lot_concluded(&c, b, lot, mem, err)) != TB_OK)
        return lot->own_words ? TB_OK : rc;
    if (c.kind == TB_DOES_NOT)
        return tb_fail(
            err, TB_EREFUSED,
            "lot %s does not conform to its declaration: settle it first, relabelled with what it is",
            lot->ref);
    return TB_OK;
}

static tb_rc wording_stands(const struct tb_law *law, const struct tb_law_answer *a,
                            const struct tb_law_facts *facts, struct tb_err *err)
{
    struct tb_law_question q = { .market = a->market.key, .facts = *facts };
    struct tb_law_answer again = { 0 };
    struct tb_text text = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < a->wordings; i++)
        tb_text_addf(&text, "%s%s", i ? "\n" : "", a->wording[i]);
    q.text = tb_text_str(&text);
    q.text_len = text.n;
    rc = tb_law_check(&again, law, &q, err);
    if (rc == TB_OK && !again.ok)
        rc = tb_fail(err, TB_EREFUSED, "no label for %s: %s: %s", a->market.name,
                     again.n ? again.finding[0].clause : a->market.key,
                     again.n ? again.finding[0].message : "");
    else if (rc == TB_OK && again.origin_missing) /* words may be asked about without it, a label ends here */
        rc = tb_about(err,
                      tb_fail(err, TB_EREFUSED,
                              "no label for %s: the country of origin has to stand on it: say which it is",
                              a->market.name),
                      "origin");
    tb_law_answer_free(&again);
    tb_text_free(&text);
    return rc;
}

static tb_rc one(const struct tb_law *law, const struct tb_law_answer *a, const struct tb_law_facts *facts,
                 struct tb_err *err)
{
    if (!a->known)
        return tb_fail(err, TB_EREFUSED,
                       "no label for %s: the rules known here do not say whether the words may stand",
                       a->market.name);
    if (!a->wordings)
        return tb_fail(err, TB_EREFUSED, "no label for %s: %s", a->market.name, a->refusal ? a->refusal : "");
    return wording_stands(law, a, facts, err);
}

tb_rc tb_label_finished(const struct tb_label_outcome *out, struct tb_book *b,
                        const struct tb_label_request *request, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_law_facts facts = request->facts;
    struct tb_law *law;
    tb_rc rc = out->lot.ref ? lot_may_be_sold(b, &out->lot, mem, err) : TB_OK;

    if (rc != TB_OK || (rc = tb_names_law(&law, b, err)) != TB_OK)
        return rc;
    if (!facts.origin && out->lot.ref)
        facts.origin = out->lot.origin;
    for (size_t i = 0; i < out->n && rc == TB_OK; i++)
        rc = one(law, &out->answer[i], &facts, err);
    tb_law_free(law);
    return rc;
}
