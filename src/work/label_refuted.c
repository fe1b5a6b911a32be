/* label_refuted.c - whether what a laboratory found breaks the words of a label of ours, under the rules of the markets it was asked for. */
#include "tenterbook/label_lot.h"

#include "tenterbook/names.h"
#include "tenterbook/setting.h"

#include <string.h>

static size_t faults(const struct tb_law_answer *a)
{
    size_t n = 0;

    for (size_t i = 0; i < a->n; i++)
        n += a->finding[i].severity == TB_SEVERITY_FAULT;
    return n;
}

/* Faults of the words alone, of their language for one, are nobody's finding about the cloth. */
static tb_rc refuted_in(bool *out, const struct tb_law *law, struct tb_law_question q,
                        const struct tb_composition *found, struct tb_err *err)
{
    struct tb_law_answer alone = { 0 }, beside = { 0 };
    tb_rc rc = tb_law_check(&alone, law, &q, err);

    q.found = found;
    if (rc == TB_OK && (rc = tb_law_check(&beside, law, &q, err)) == TB_OK)
        *out = *out || faults(&beside) > faults(&alone);
    tb_law_answer_free(&alone);
    tb_law_answer_free(&beside);
    return rc;
}

/* The markets of the last analysis, "us:conforms eu:cannot_be_said"; where it was held against nothing, those it is sold in. */
static tb_rc find_markets(struct tb_market_list *out, const char *answers, const struct tb_market_list *sold,
                          struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (!*answers)
        *out = *sold;
    for (const char *p = answers; *p && rc == TB_OK; p += *p == ' ') {
        size_t n = strcspn(p, " ");

        rc = tb_market_list_add(out, tb_arena_strndup(mem, p, strcspn(p, ": ")), err);
        p += n;
    }
    return rc;
}

tb_rc tb_words_refuted(bool *out, const struct tb_law *law, const char *words, const struct tb_analysis *a,
                       size_t n, const struct tb_market_list *sold, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_law_question q = { .text = words, .text_len = strlen(words) };
    struct tb_market_list markets = { 0 };
    struct tb_declaration found = { 0 };
    struct tb_text said = { 0 };
    tb_rc rc = n ? find_markets(&markets, a[n - 1].answers, sold, mem, err) : TB_OK;

    *out = false;
    tb_law_facts_none(&q.facts);
    tb_analysis_words(&said, a, n);
    tb_declaration_read(&found, tb_text_str(&said), said.n);
    for (size_t i = 0; i < markets.n && rc == TB_OK && tb_declaration_clear(&found) && found.comp.n; i++) {
        q.market = markets.key[i];
        rc = refuted_in(out, law, q, &found.comp, err);
    }
    tb_declaration_free(&found);
    tb_text_free(&said);
    return rc;
}

tb_rc tb_label_refuted(bool *out, struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_market_list sold = { 0 };
    struct tb_analysis *a = NULL;
    struct tb_law *law = NULL;
    size_t n = 0;
    tb_rc rc = TB_OK;

    *out = false;
    if (!lot->own_words || lot->standing == TB_RETURNED ||
        (rc = tb_analysis_list(&a, &n, b, lot->id, mem, err)) != TB_OK || n == 0)
        return rc;
    if (!*a[n - 1].answers)
        rc = tb_setting_markets(&sold, b, err);
    if (rc == TB_OK && (rc = tb_names_law(&law, b, err)) == TB_OK)
        rc = tb_words_refuted(out, law, lot->declared, a, n, &sold, mem, err);
    tb_law_free(law);
    return rc;
}
