/*
 * clock_terms.c - the tables behind the claim clock: statutes and customary terms, and how long a file is kept.
 */
#include "tenterbook/claim.h"

#include "gen/ref_claim_term.h"
#include "gen/ref_retention.h"

#include <string.h>

static int or_none(int v)
{
    return v == TB_REF_NONE ? TB_CLAIM_NO_TERM : v;
}

size_t tb_claim_law_count(void)
{
    return tb_ref_claim_term_n;
}

struct tb_claim_term tb_claim_law_at(size_t i)
{
    const struct tb_ref_claim_term *r = &tb_ref_claim_term[i];

    return (struct tb_claim_term){ .key = r->key,
                                   .country = r->country,
                                   .name = r->name,
                                   .open_days = or_none(r->open_days),
                                   .hidden_days = or_none(r->hidden_days),
                                   .hidden_from_arrival = strcmp(r->hidden_from, "arrival") == 0,
                                   .working = r->working == 1,
                                   .before_cutting = r->before_cutting == 1,
                                   .last_months = or_none(r->last_months),
                                   .last_of = r->last_of,
                                   .last_status = r->last_status,
                                   .says = r->says,
                                   .source = r->source,
                                   .status = r->status };
}

tb_rc tb_claim_law_find(struct tb_claim_term *out, const char *key, struct tb_err *err)
{
    struct tb_text all = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < tb_ref_claim_term_n; i++) {
        if (strcmp(tb_ref_claim_term[i].key, key) == 0) {
            tb_text_free(&all);
            *out = tb_claim_law_at(i);
            return TB_OK;
        }
        tb_text_addf(&all, "%s%s", i ? ", " : "", tb_ref_claim_term[i].key);
    }
    rc = tb_fail(err, TB_ENOTFOUND, "there is no term '%s'; the terms are %s", key, tb_text_str(&all));
    tb_text_free(&all);
    return rc;
}

static bool applies(const struct tb_ref_retention *r, const char *const *country, size_t n)
{
    if (!*r->country)
        return true;
    for (size_t i = 0; i < n; i++)
        if (strcmp(country[i], r->country) == 0)
            return true;
    return false;
}

/* The longest rule that applies: nobody is blamed for keeping a file too long. */
void tb_claim_keep_until(char out[TB_DAY_LEN + 1], struct tb_keep_rule *by, const char *closed,
                         const char *const *country, size_t n)
{
    const struct tb_ref_retention *longest = NULL;

    for (size_t i = 0; i < tb_ref_retention_n; i++) {
        const struct tb_ref_retention *r = &tb_ref_retention[i];

        if (applies(r, country, n) && (!longest || r->months > longest->months))
            longest = r;
    }
    tb_day_months_after(out, closed, longest ? longest->months : 0);
    if (by && longest)
        *by = (struct tb_keep_rule){ longest->key,    longest->country, longest->name,  longest->says,
                                     longest->source, longest->status,  longest->months };
}
