/* month.c - the month's workbook: which tabs, in which order. */
#include "report/month_impl.h"

#include "tenterbook/interval.h"

#include <math.h>
#include <stdio.h>

void tb_month_proof(char out[64], const struct tb_month_lot *lot)
{
    (void)snprintf(out, 64, _("%lld of %lld bolts burnt"), (long long)lot->bolts_burnt,
                   (long long)lot->bolts);
}

/* How sure the count of contradicted lots lets us be, had the judged lots been drawn at random. */
static tb_rc interval(struct tb_month_sums *s, struct tb_err *err)
{
    int64_t judged = s->fits + s->contradicts + s->undecided;

    s->low = s->high = NAN;
    return judged ? tb_interval_exact(&s->low, &s->high, (long)s->contradicts, (long)judged, 0.95, err)
                  : TB_OK;
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_month_summary_begin(m, err)) != TB_OK || (rc = tb_month_goods(m, err)) != TB_OK ||
        (rc = tb_month_suppliers(m, err)) != TB_OK || (rc = tb_month_open(m, err)) != TB_OK ||
        (rc = tb_month_legend(m, err)) != TB_OK)
        return rc;
    if ((rc = m->source->work(&m->sums.work, m->source->from, err)) != TB_OK ||
        (rc = interval(&m->sums, err)) != TB_OK)
        return rc;
    return tb_month_summary_fill(m, err);
}

tb_rc tb_month_write(struct tb_month_sums *out, const struct tb_month_plan *plan,
                     const struct tb_month_source *source, struct tb_err *err)
{
    struct month m = { .plan = plan, .source = source };
    struct tb_text title = { 0 };
    struct tb_workbook_plan w = { .path = plan->path, .subject = plan->name, .created = plan->now };
    tb_rc rc;

    tb_text_addf(&title, _("Cloth received, %s"), plan->name);
    if (source->site[0])
        tb_text_addf(&title, " \xC2\xB7 %s", source->site);
    w.title = tb_text_str(&title);
    rc = tb_workbook_open(&m.book, &w, err);
    tb_text_free(&title);
    if (rc != TB_OK)
        return rc;
    if ((rc = fill(&m, err)) != TB_OK) {
        tb_workbook_drop(m.book);
        return rc;
    }
    if ((rc = tb_workbook_close(m.book, err)) == TB_OK)
        *out = m.sums;
    return rc;
}
