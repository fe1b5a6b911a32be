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

/* The wording is put before the law again: what may be printed has nothing against it. */
static tb_rc wording_stands(enum tb_label_stand *out, struct tb_text *why, const struct tb_law *law,
                            const struct tb_law_answer *a, const struct tb_law_facts *facts,
                            struct tb_err *err)
{
    struct tb_law_question q = { .market = a->market.key, .facts = *facts };
    struct tb_law_answer again = { 0 };
    struct tb_text text = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < a->wordings; i++)
        tb_text_addf(&text, "%s%s", i ? "\n" : "", a->wording[i]);
    q.text = tb_text_str(&text);
    q.text_len = text.n;
    if ((rc = tb_law_check(&again, law, &q, err)) == TB_OK) {
        *out = !again.ok ? TB_LABEL_FAULT
               : again.origin_missing
                   ? TB_LABEL_NO_ORIGIN /* words may be asked about without it, a label ends here */
                   : TB_LABEL_STANDS;
        if (!again.ok && again.n)
            tb_text_addf(why, "%s: %s", again.finding[0].clause, again.finding[0].message);
    }
    tb_law_answer_free(&again);
    tb_text_free(&text);
    return rc;
}

tb_rc tb_label_stands(enum tb_label_stand *out, struct tb_text *why, const struct tb_law *law,
                      const struct tb_law_answer *a, const struct tb_law_facts *facts, struct tb_err *err)
{
    *out = !a->known ? TB_LABEL_NOT_KNOWN : TB_LABEL_NO_WORDING;
    if (!a->known)
        return TB_OK;
    if (!a->wordings) {
        tb_text_add(why, a->refusal ? a->refusal : "");
        return TB_OK;
    }
    return wording_stands(out, why, law, a, facts, err);
}

static tb_rc one(const struct tb_law *law, const struct tb_law_answer *a, const struct tb_law_facts *facts,
                 struct tb_err *err)
{
    enum tb_label_stand stand;
    struct tb_text why = { 0 };
    const char *market = a->market.name;
    tb_rc rc = tb_label_stands(&stand, &why, law, a, facts, err);

    if (rc == TB_OK && stand == TB_LABEL_NOT_KNOWN)
        rc = tb_fail(err, TB_EREFUSED,
                     "no label for %s: the rules known here do not say whether the words may stand", market);
    else if (rc == TB_OK && stand == TB_LABEL_NO_ORIGIN)
        rc = tb_about(err,
                      tb_fail(err, TB_EREFUSED,
                              "no label for %s: the country of origin has to stand on it: say which it is",
                              market),
                      "origin");
    else if (rc == TB_OK && stand != TB_LABEL_STANDS)
        rc = tb_fail(err, TB_EREFUSED, "no label for %s: %s", market, tb_text_str(&why));
    tb_text_free(&why);
    return rc;
}

tb_rc tb_label_finished(const struct tb_label_outcome *out, struct tb_book *b,
                        const struct tb_label_request *request, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_law_facts facts = request->facts;
    struct tb_law *law;
    tb_rc rc = out->lot.ref ? lot_may_be_sold(b, &out->lot, mem, err) : TB_OK;

    if (rc != TB_OK || (rc = tb_names_law(&law, b, err)) != TB_OK)
        return rc;
    if (!facts.origin && out->lot.ref && out->lot.origin[0])
        facts.origin = out->lot.origin;
    for (size_t i = 0; i < out->n && rc == TB_OK; i++)
        rc = one(law, &out->answer[i], &facts, err);
    tb_law_free(law);
    return rc;
}
