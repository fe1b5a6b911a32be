/* base_rate.c - how many lots are not as declared: as the site says, as its own lots have it, or as others published. */
#include "work/model.h"

#include "tenterbook/concluded.h"
#include "tenterbook/draws.h"
#include "tenterbook/sampling.h"
#include "tenterbook/setting.h"

static double mean(const struct tb_beta *b)
{
    return b->a / (b->a + b->b);
}

double tb_base_rate_published(void)
{
    struct tb_beta b = tb_record_published();

    return mean(&b);
}

tb_rc tb_base_rate_read(double *rate, enum tb_base_from *from, struct tb_book *b, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_supplier_tally *s = NULL;
    struct tb_tally *tally;
    struct tb_beta prior;
    size_t n = 0;
    bool own = false;
    tb_rc rc = tb_setting_number(rate, b, "base_rate", TB_BOOK_NOW, err);

    *from = TB_BASE_SETTING;
    if (rc != TB_OK || *rate > 0 || (rc = tb_supplier_tallies(&s, &n, b, mem, err)) != TB_OK)
        return rc;
    tally = tb_arena_alloc(mem, (n + 1) * sizeof *tally);
    for (size_t i = 0; i < n; i++)
        tally[i] = (struct tb_tally){ (long)(s[i].right_lots + s[i].wrong_lots), (long)s[i].wrong_lots };
    if ((rc = tb_record_prior(&prior, &own, tally, n, err)) != TB_OK)
        return rc;
    *rate = mean(&prior);
    *from = own ? TB_BASE_SITE : TB_BASE_PUBLISHED;
    return TB_OK;
}
