/* record.c - a supplier's record: what to believe of its lots, with strength borrowed across suppliers. */
#include "sampling/inside.h"

#include "tenterbook/interval.h"

/* What tb_record_fit() makes of base_rate.csv. It takes longer than a verdict, so it is made once, here; a test makes it again. */
static const struct tb_beta published = { 0.86892419290430645, 2.3974888140266568 };

struct tb_beta tb_record_published(void)
{
    return published;
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
    *out = published;
    return *own ? tb_record_fit(out, NULL, NULL, tally, n, err) : TB_OK;
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
