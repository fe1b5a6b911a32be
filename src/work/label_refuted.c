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

/* The markets of the last analysis, "us:conforms eu:cannot_be_said"; where it was held against nothing, those of the site. */
static tb_rc find_markets(struct tb_market_list *out, struct tb_book *b, const char *answers,
                          struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (!*answers)
        return tb_setting_markets(out, b, err);
    for (const char *p = answers; *p && rc == TB_OK; p += *p == ' ') {
        size_t n = strcspn(p, " ");

        rc = tb_market_list_add(out, tb_arena_strndup(mem, p, strcspn(p, ": ")), err);
        p += n;
    }
    return rc;
}

static tb_rc check(bool *out, struct tb_book *b, const struct tb_lot *lot, const struct tb_analysis *a,
                   size_t n, const struct tb_composition *found, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_law_question q = { .text = lot->declared, .text_len = strlen(lot->declared) };
    struct tb_market_list markets = { 0 };
    struct tb_law *law = NULL;
    tb_rc rc = find_markets(&markets, b, a[n - 1].answers, mem, err);

    tb_law_facts_none(&q.facts);
    if (rc != TB_OK || (rc = tb_names_law(&law, b, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < markets.n && rc == TB_OK; i++) {
        q.market = markets.key[i];
        rc = refuted_in(out, law, q, found, err);
    }
    tb_law_free(law);
    return rc;
}

tb_rc tb_label_refuted(bool *out, struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_declaration found = { 0 };
    struct tb_text words = { 0 };
    struct tb_analysis *a = NULL;
    size_t n = 0;
    tb_rc rc = TB_OK;

    *out = false;
    if (!lot->own_words || (rc = tb_analysis_list(&a, &n, b, lot->id, mem, err)) != TB_OK || n == 0)
        return rc;
    tb_analysis_words(&words, a, n);
    tb_declaration_read(&found, tb_text_str(&words), words.n);
    if (tb_declaration_clear(&found) && found.comp.n)
        rc = check(out, b, lot, a, n, &found.comp, mem, err);
    tb_declaration_free(&found);
    tb_text_free(&words);
    return rc;
}
