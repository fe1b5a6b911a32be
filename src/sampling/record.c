/* record.c - a supplier's record: what to believe of its lots, with strength borrowed across suppliers. */
#include "sampling/inside.h"

#include "gen/ref_base_rate.h"
#include "tenterbook/interval.h"

#include <stdlib.h>

tb_rc tb_record_published(struct tb_beta *out, struct tb_err *err)
{
    struct tb_tally *t = tb_array(struct tb_tally, tb_ref_base_rate_n);
    tb_rc rc;

    for (size_t i = 0; i < tb_ref_base_rate_n; i++)
        t[i] = (struct tb_tally){ tb_ref_base_rate[i].tested, tb_ref_base_rate[i].wrong };
    rc = tb_record_fit(out, NULL, NULL, t, tb_ref_base_rate_n, err);
    free(t);
    return rc;
}

/* Until the house has seen enough, the published record stands in, and the caller is told which it is. */
tb_rc tb_record_prior(struct tb_beta *out, bool *own, const struct tb_tally *tally, size_t n,
                      struct tb_err *err)
{
    long lots, wrong;
    size_t suppliers = 0;
    tb_rc rc = tb_check_tally(&lots, &wrong, tally, n, err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        suppliers += tally[i].lots > 0;
    *own = suppliers >= TB_OWN_SUPPLIERS && lots >= TB_OWN_LOTS && wrong > 0 && wrong < lots;
    return *own ? tb_record_fit(out, NULL, NULL, tally, n, err) : tb_record_published(out, err);
}

/* Conjugate: the lots are added to the two counts. */
tb_rc tb_record_posterior(struct tb_posterior *out, const struct tb_beta *prior, const struct tb_tally *own,
                          double conf, struct tb_err *err)
{
    long lots, wrong;
    struct tb_posterior p = { 0 };
    tb_rc rc = tb_check_tally(&lots, &wrong, own, 1, err);

    if (rc != TB_OK)
        return rc;
    p.beta = (struct tb_beta){ prior->a + (double)wrong, prior->b + (double)(lots - wrong) };
    p.mean = p.next_wrong = p.beta.a / (p.beta.a + p.beta.b);
    rc = tb_interval_beta(&p.lo, &p.hi, p.beta.a, p.beta.b, conf, err);
    if (rc == TB_OK)
        *out = p;
    return rc;
}
