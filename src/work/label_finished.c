/* label_finished.c - whether a label may be handed over: of a lot that may be sold as it is, with words no clause speaks against. */
#include "tenterbook/label_page.h"

#include "base/say.h"
#include "tenterbook/names.h"

#include <string.h>

/* A new label of ours is judged by what was found: the supplier's words may be wrong, ours are not for that. */
static tb_rc goods_refuse(const char *ref, enum tb_label_goods goods, struct tb_err *err)
{
    if (goods == TB_GOODS_RETURNED)
        return tb_fail(err, TB_EREFUSED, "lot %s was returned: it gets no label here", ref);
    if (goods == TB_GOODS_NOT_AS_SAID)
        return tb_fail(
            err, TB_EREFUSED,
            "lot %s does not conform to its declaration: settle it first, relabelled with what it is", ref);
    return TB_OK;
}

/* What a person may set aside who says so. */
static tb_rc goods_ask(const char *ref, enum tb_label_goods goods, struct tb_err *err)
{
    static const char *const asked[] = {
        [TB_GOODS_HELD] = N_("lot %s is held, or a bolt of it: its label waits until that is settled"),
        [TB_GOODS_REFUTED] = N_(
            "what a laboratory found of lot %s is not as our label says: relabel it first, or say that this "
            "label shall be made all the same"),
        [TB_GOODS_LABORATORY_OPEN] =
            N_("a laboratory could not say whether lot %s conforms: its label waits until that is known"),
        [TB_GOODS_CONTRADICTED] = N_("lot %s is released although what was seen contradicts its declaration: "
                                     "say that its label shall have these words all the same"),
        [TB_GOODS_AGAINST] =
            N_("what was seen of lot %s speaks against its declaration: its label waits for a test"),
        [TB_GOODS_UNDECIDED] =
            N_("lot %s waits, and what was seen of it decides nothing: its label waits until it is released"),
        [TB_GOODS_UNTESTED] =
            N_("lot %s waits, and nothing of it was looked at: its label waits until it is released"),
    };

    if (goods == TB_GOODS_CLEAR)
        return TB_OK;
    return tb_about(err, tb_fail(err, TB_EREFUSED, asked[goods], ref), "anyway");
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
                        const struct tb_label_request *request, struct tb_err *err)
{
    struct tb_law_facts facts = request->facts;
    struct tb_law *law;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < out->n && rc == TB_OK; i++)
        rc = goods_refuse(out->lot.ref, out->goods[i], err);
    if (rc != TB_OK || (rc = tb_names_law(&law, b, err)) != TB_OK)
        return rc;
    if (!facts.origin && out->lot.ref && out->lot.origin[0])
        facts.origin = out->lot.origin;
    for (size_t i = 0; i < out->n && rc == TB_OK; i++)
        rc = one(law, &out->answer[i], &facts, err);
    tb_law_free(law);
    for (size_t i = 0; i < out->n && rc == TB_OK && !out->anyway; i++)
        rc = goods_ask(out->lot.ref, out->goods[i], err);
    return rc;
}
