/* Terms agreed with suppliers: by when a fault must be told; and since when it is known. */
#include "book/stmt.h"
#include "tenterbook/dispute.h"

#include <stdlib.h>
#include <string.h>

static tb_rc check_laws(const char *laws, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (const char *p = laws + strspn(laws, " "); *p && rc == TB_OK; p += strspn(p, " ")) {
        size_t n = strcspn(p, " ");
        char *key = tb_strndup(p, n);
        struct tb_claim_term t;

        rc = tb_claim_law_find(&t, key, err);
        free(key);
        p += n;
    }
    return rc;
}

static bool days_possible(int days)
{
    return days == TB_CLAIM_NO_TERM || (days >= 0 && days <= TB_CLAIM_DAYS_MOST);
}

static tb_rc check_term(const struct tb_supplier_term *t, struct tb_err *err)
{
    if (t->country && *t->country && !tb_country_valid(t->country))
        return tb_fail(err, TB_EINVAL, "'%s' is not a country code; it takes two letters like IT",
                       t->country);
    if (!days_possible(t->open_days))
        return tb_fail(err, TB_EINVAL, "the term for visible faults is %d days; a term is 0 to %d",
                       t->open_days, TB_CLAIM_DAYS_MOST);
    if (!days_possible(t->hidden_days))
        return tb_fail(err, TB_EINVAL, "the term for hidden faults is %d days; a term is 0 to %d",
                       t->hidden_days, TB_CLAIM_DAYS_MOST);
    return check_laws(t->laws ? t->laws : "", err);
}

tb_rc tb_supplier_term_add(struct tb_supplier_term *t, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err)
{
    tb_rc rc = check_term(t, err);

    if (rc != TB_OK)
        return rc;
    t->id = tb_new_key(mem);
    t->set_at = tb_moment_now(b, mem);
    return tb_put_supplier_term(t, b, err);
}

/* One more of the terms in force, when there is one. */
static tb_rc one_more(struct tb_supplier_term *out, size_t *n, struct tb_stmt *q, struct tb_arena *mem,
                      struct tb_err *err)
{
    tb_rc rc = tb_one_supplier_term(&out[*n], q, mem, err);

    *n += rc == TB_OK;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_supplier_terms(struct tb_supplier_term **out, size_t *n, struct tb_book *b, const char *supplier_id,
                        struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    /* three at most: of the supplier, of its country, of everybody */
    *out = tb_arena_alloc(mem, 3 * sizeof **out);
    *n = 0;
    rc = one_more(*out, n, tb_sql_supplier_term_of_supplier(b, supplier_id), mem, err);
    if (rc == TB_OK && *n && *(*out)[0].country)
        rc = one_more(*out, n, tb_sql_supplier_term_of_country(b, (*out)[0].country), mem, err);
    if (rc == TB_OK)
        rc = one_more(*out, n, tb_sql_supplier_term_of_country(b, ""), mem, err);
    return rc;
}
