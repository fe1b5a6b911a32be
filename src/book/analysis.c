/* What laboratories found in a lot. */
#include "tenterbook/analysis.h"

#include "book/db.h"

#include <stdlib.h>
#include <string.h>

static const char *or_empty(const char *s)
{
    return s ? s : "";
}

/* A correction stays with its lot and is the only one of its record. */
static tb_rc check_replaced(const struct tb_analysis *a, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_stmt *q;
    const char *lot = NULL;
    int64_t corrections = 0;
    tb_rc rc;

    if (!a->replaces)
        return TB_OK;
    q = tb_query(b, TB_SQL_ANALYSIS_LOT_OF);
    tb_bind_text(q, 1, a->replaces);
    if ((rc = tb_row(q, err)) == TB_OK) {
        lot = tb_col_text(q, 0, mem);
        corrections = tb_col_whole(q, 1);
    }
    tb_done(q);
    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no analysis %s in this book", a->replaces);
    if (rc != TB_OK)
        return rc;
    if (strcmp(lot, a->lot) != 0)
        return tb_fail(err, TB_EINVAL, "analysis %s is of another lot; a correction stays with its lot",
                       a->replaces);
    if (corrections > 0)
        return tb_fail(err, TB_EINVAL, "analysis %s was corrected already; correct the later record",
                       a->replaces);
    return TB_OK;
}

static tb_rc insert(const struct tb_analysis *a, struct tb_book *b, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_ANALYSIS_ADD);

    tb_bind_text(q, 1, a->id);
    tb_bind_text(q, 2, a->lot);
    tb_bind_text(q, 3, a->declaration);
    tb_bind_text(q, 4, a->part);
    tb_bind_text(q, 5, or_empty(a->laboratory));
    tb_bind_text(q, 6, or_empty(a->report));
    tb_bind_text(q, 7, a->route);
    tb_bind_text(q, 8, a->methods);
    tb_bind_text(q, 9, a->found);
    tb_bind_number(q, 10, a->u);
    tb_bind_text(q, 11, a->answers);
    tb_bind_text(q, 12, a->detail);
    tb_bind_text(q, 13, a->analysed_on);
    tb_bind_text(q, 14, a->recorded_at);
    tb_bind_text(q, 15, tb_book_person(b));
    tb_bind_text(q, 16, a->replaces);
    tb_bind_whole(q, 17, tb_entry(b));
    return tb_run(q, err);
}

tb_rc tb_analysis_add(struct tb_analysis *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char id[TB_ID_LEN + 1];
    tb_rc rc = check_replaced(a, b, mem, err);

    if (rc != TB_OK)
        return rc;
    if (!a->analysed_on || !tb_day_valid(a->analysed_on))
        return tb_fail(err, TB_EINVAL, "the day of the analysis '%s' is none (YYYY-MM-DD)",
                       or_empty(a->analysed_on));
    tb_id_make(id);
    a->id = tb_arena_strdup(mem, id);
    a->recorded_at = tb_arena_strdup(mem, tb_book_now(b));
    return insert(a, b, err);
}

static void take_analysis(struct tb_analysis *a, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **before[] = { &a->id,     &a->lot,   &a->declaration, &a->part, &a->laboratory,
                              &a->report, &a->route, &a->methods,     &a->found };
    const char **after[] = { &a->answers,     &a->detail,   &a->analysed_on, &a->recorded_at,
                             &a->recorded_by, &a->replaces, &a->declared };
    int c = 0;

    for (size_t i = 0; i < TB_COUNT(before); i++)
        *before[i] = tb_col_text(q, c++, mem);
    a->u = tb_col_number(q, c++);
    for (size_t i = 0; i < TB_COUNT(after); i++)
        *after[i] = tb_col_text(q, c++, mem);
}

tb_rc tb_analysis_list(struct tb_analysis **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_ANALYSIS_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_analysis, take_analysis, mem, err);
    return rc;
}

void tb_analysis_words(struct tb_text *out, const struct tb_analysis *x, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        bool later = false;

        for (size_t k = i + 1; k < n; k++)
            later = later || strcmp(x[k].part, x[i].part) == 0;
        if (later)
            continue;
        if (out->n)
            tb_text_add(out, "; ");
        if (strcmp(x[i].part, "whole") != 0)
            tb_text_addf(out, "%s: ", x[i].part);
        tb_text_add(out, x[i].found);
    }
}
