/* month_refuted.c - lots under a label of ours, and whether what a laboratory found breaks it. */
#include "report/month/month_impl.h"
#include "tenterbook/label_lot.h"
#include "tenterbook/law.h"

#include <string.h>

const struct tb_law *tb_month_law(struct month *m)
{
    if (!m->plan->law && !m->own_law)
        m->own_law = tb_law_new();
    return m->plan->law ? m->plan->law : m->own_law;
}

bool tb_month_relabelled(const struct tb_month_lot *lot)
{
    return lot->standing == TB_RELABELLED || (lot->words && strcmp(lot->words, lot->declared) != 0);
}

tb_rc tb_month_refuted(bool *out, struct month *m, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct tb_market_list sold = { 0 };
    struct tb_arena mem = { 0 };
    tb_rc rc = TB_OK;

    *out = false;
    if (!tb_month_relabelled(lot) || lot->standing == TB_RETURNED || !lot->analysis)
        return TB_OK;
    for (size_t i = 0; i < m->plan->markets && rc == TB_OK; i++)
        rc = tb_market_list_add(&sold, m->plan->market[i], err);
    if (rc == TB_OK)
        rc = tb_words_refuted(out, tb_month_law(m), lot->words ? lot->words : lot->declared, lot->analysis,
                              (size_t)lot->analyses, &sold, &mem, err);
    tb_arena_free(&mem);
    return rc;
}
