/* case_data.c - the data of a case: what is attached to its pages, and what they are drawn from. */
#include "report/case/case_impl.h"

#include "report/draw/pen.h"
#include "tenterbook/address.h"
#include "tenterbook/date.h"
#include "tenterbook/extract.h"
#include "tenterbook/json.h"
#include "tenterbook/paper_verdict.h"

#include <string.h>

/* The share of false lots that a site found is about all its suppliers: a paper about one tells only what is published. */
static void keep_back_base(struct tb_verdict *v)
{
    if (v->base_from == TB_BASE_PUBLISHED)
        return;
    v->base_from = TB_BASE_UNSAID;
    v->base_rate = 0;
}

/* The verdict with all it rests on; null where there is none. */
static tb_rc judged_json(json_t **out, struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_paper_verdict p;
    tb_rc rc = tb_paper_verdict(&p, b, lot, TB_CASE_WANTS, mem, err);

    if (rc != TB_OK)
        return rc;
    keep_back_base(&p.v.verdict);
    *out = p.v.observations ? tb_lot_verdict_json(&p.v, &p.lot) : json_null();
    tb_lot_verdict_free(&p.v);
    return TB_OK;
}

/* The language of the pages: as planned, else that of the supplier. */
static tb_rc find_language(enum tb_tongue *out, struct tb_book *b, const struct tb_case_plan *plan,
                           const struct tb_lot *lot, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_address to;
    int tongue;
    tb_rc rc;

    if (plan->language) {
        rc = tb_word_read(&tongue, &tb_tongue_words, plan->language, err);
        *out = rc == TB_OK ? (enum tb_tongue)tongue : TB_ENGLISH;
        return rc == TB_OK ? rc : tb_about(err, rc, "language");
    }
    if ((rc = tb_address_of(&to, b, lot->supplier, mem, err)) == TB_OK)
        *out = tb_tongue_of(to.language);
    return rc;
}

/* English is said by saying nothing, and that nothing is kept back too, in the forms that older programs read. */
static void add_form(json_t *data, enum tb_tongue tongue, bool without_dispute)
{
    bool english = tongue == TB_ENGLISH, keeps = tb_extract_keeps_back(json_object_get(data, "extract"));
    int form = without_dispute ? english ? TB_EXTRACT_FORM_STAMPS : TB_CASE_FORM_LANGUAGE_WITHOUT
               : english       ? TB_CASE_FORM
                               : TB_CASE_FORM_LANGUAGE;

    tb_json_put(data, "tenterbook_case", json_integer(keeps ? form + TB_EXTRACT_KEEPS : form));
    if (!english)
        tb_json_put(data, "language", json_string(tb_word(&tb_tongue_words, (int)tongue)));
}

/* The packing gives nothing where a text is not UTF-8; of those that go in, only what is asked was not checked before. */
tb_rc tb_case_data(json_t **out, struct tb_book *b, const struct tb_case_plan *plan, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    json_t *extract = NULL, *verdict = NULL;
    struct tb_text maker = { 0 };
    enum tb_tongue tongue = TB_ENGLISH;
    tb_rc rc;

    if (plan->answer_by && !tb_day_valid(plan->answer_by))
        return tb_fail(err, TB_EINVAL, "'%s' is not a valid date; write it like 2026-03-31", plan->answer_by);
    if (plan->answer_by && strncmp(plan->answer_by, plan->made, TB_DAY_LEN) < 0)
        return tb_fail(err, TB_EINVAL, "the answer is asked by %s, which is before the case of %.*s",
                       plan->answer_by, TB_DAY_LEN, plan->made);
    if ((rc = tb_lot_find(&lot, b, plan->lot, &mem, err)) == TB_OK &&
        (rc = find_language(&tongue, b, plan, &lot, &mem, err)) == TB_OK &&
        (rc = tb_extract_lot(&extract, b, lot.ref, err)) == TB_OK &&
        (rc = judged_json(&verdict, b, &lot, &mem, err)) == TB_OK) {
        tb_pen_maker(&maker);
        if (plan->without_dispute)
            tb_extract_keep_back_disputes(extract);
        *out = json_pack("{s:s, s:s, s:s%, s:s, s:s%, s:s, s:s, s:O, s:O}", "program", TB_VERSION, "made",
                         plan->made, "by", plan->by, strlen(plan->by), "lot", lot.ref, "asked",
                         plan->asked ? plan->asked : "", plan->asked ? strlen(plan->asked) : (size_t)0,
                         "answer_by", plan->answer_by ? plan->answer_by : "", "drawn_with",
                         tb_text_str(&maker), "verdict", verdict, "extract", extract);
        if (!*out)
            rc = tb_fail(err, TB_EINVAL, "what is asked is not valid text");
        else
            add_form(*out, tongue, plan->without_dispute);
    }
    json_decref(verdict);
    json_decref(extract);
    tb_text_free(&maker);
    tb_arena_free(&mem);
    return rc;
}

/* Keys sorted and figures with all their digits: same data, same text, same digest. */
char *tb_case_text(const json_t *data)
{
    return json_dumps(data, JSON_SORT_KEYS | JSON_INDENT(1) | JSON_REAL_PRECISION(17));
}
