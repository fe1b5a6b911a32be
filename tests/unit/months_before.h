/* months_before.h - the lots of an earlier month, as a month's trend is told them in the tests of the sheets. */
#ifndef TENTERBOOK_TESTS_MONTHS_BEFORE_H
#define TENTERBOOK_TESTS_MONTHS_BEFORE_H

#include "tenterbook/base.h"
#include "tenterbook/month.h"

#include <math.h>

/* Nine lots that arrived that day: one contradicts, five fit, one is undecided, and nobody looked at two. */
static tb_rc nine_lots_before(tb_month_said_fn *fn, void *arg, const char *arrived, struct tb_err *err)
{
    static const enum tb_verdict_kind verdict[9] = { TB_CONTRADICTS, TB_FITS,     TB_FITS,
                                                     TB_FITS,        TB_FITS,     TB_FITS,
                                                     TB_UNDECIDED,   TB_UNJUDGED, TB_UNJUDGED };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(verdict) && rc == TB_OK; i++)
        rc = fn(arg,
                &(struct tb_lot_said){ .ref = "W26-000.01",
                                       .arrived = arrived,
                                       .supplier_name = "Weir Mill",
                                       .metres = 100,
                                       .said = "100% silk",
                                       .clear = true,
                                       .verdict = verdict[i],
                                       .log_ratio = NAN,
                                       .detail = "",
                                       .grade = "" },
                &(struct tb_month_weighed){ { 0 }, { 0 } }, NULL, 0, err);
    return rc;
}

#endif
