/* What laboratories found in a lot. */
#include "tenterbook/analysis.h"
#include "book/stmt.h"

#include <string.h>

/* A correction stays with its lot and is the only one of its record. */
static tb_rc check_replaced(const struct tb_analysis *a, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_analysis_corrected old;
    tb_rc rc;

    if (!a->replaces)
        return TB_OK;
    rc = tb_one_analysis_corrected(&old, tb_sql_analysis_lot_of(b, a->replaces), mem, err);
    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no analysis %s in this book", a->replaces);
    if (rc == TB_OK && strcmp(old.lot, a->lot) != 0)
        return tb_fail(err, TB_EINVAL, "analysis %s is of another lot; a correction stays with its lot",
                       a->replaces);
    if (rc == TB_OK && old.voided)
        return tb_fail(err, TB_EINVAL, "analysis %s is void; record the right one by itself", a->replaces);
    if (rc == TB_OK && old.corrections > 0)
        return tb_fail(err, TB_EINVAL, "analysis %s was corrected already; correct the later record",
                       a->replaces);
    return rc;
}

tb_rc tb_analysis_add(struct tb_analysis *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check_replaced(a, b, mem, err);

    if (rc != TB_OK)
        return rc;
    if (!a->analysed_on || !tb_day_valid(a->analysed_on))
        return tb_fail(err, TB_EINVAL, "the day of the analysis '%s' is not a valid date (YYYY-MM-DD)",
                       a->analysed_on ? a->analysed_on : "");
    a->id = tb_new_key(mem);
    a->recorded_at = tb_moment_now(b, mem);
    return tb_put_analysis(a, b, err);
}

tb_rc tb_analysis_is_void(bool *out, struct tb_book *b, const char *id, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_analysis_corrected a = { 0 };
    tb_rc rc = tb_one_analysis_corrected(&a, tb_sql_analysis_lot_of(b, id), &mem, err);

    *out = rc == TB_OK && a.voided;
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

bool tb_analysis_against(const struct tb_analysis *a)
{
    return strstr(a->answers, ":does_not_conform") != NULL;
}

bool tb_analysis_for(const struct tb_analysis *a)
{
    return strstr(a->answers, ":conforms") && !strstr(a->answers, ":does_not_conform") &&
           !strstr(a->answers, ":cannot_be_said");
}

const char *tb_analysis_in(const struct tb_analysis *a, const char *market, size_t market_n, size_t *n)
{
    for (const char *p = a->answers; *p; p += *n, p += *p == ' ') {
        *n = strcspn(p, " ");
        if (*n > market_n && p[market_n] == ':' && strncmp(p, market, market_n) == 0)
            return p;
    }
    return NULL;
}

bool tb_analysis_answer(enum tb_lab_answer *out, const struct tb_analysis *a, const char *market, size_t n)
{
    size_t token;
    const char *said = tb_analysis_in(a, market, n, &token);

    if (!said)
        return false;
    *out = TB_LAB_UNSAID;
    for (enum tb_lab_answer one = TB_LAB_UNSAID; one <= TB_LAB_FAILS; one++)
        if (strlen(tb_lab_answer_key(one)) == token - n - 1 &&
            strncmp(said + n + 1, tb_lab_answer_key(one), token - n - 1) == 0)
            *out = one;
    return true;
}

void tb_analysis_words(struct tb_text *out, const struct tb_analysis *x, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (!tb_analysis_stands(x, n, i))
            continue;
        if (out->n)
            tb_text_add(out, "; ");
        if (x[i].part != TB_PART_WHOLE)
            tb_text_addf(out, "%s: ", tb_part_key(x[i].part));
        tb_text_add(out, x[i].found);
    }
}
