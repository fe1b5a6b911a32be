/* month_impl.h - what the files of the month share. */
#ifndef TENTERBOOK_REPORT_MONTH_IMPL_H
#define TENTERBOOK_REPORT_MONTH_IMPL_H

#include "tenterbook/month.h"
#include "tenterbook/workbook.h"

#include <libintl.h>

#define _(s) dgettext("tenterbook", s)

struct month {
    const struct tb_month_plan *plan;
    const struct tb_month_source *source;
    struct tb_month_sums sums;
    struct tb_workbook *book;
    char proof[64]; /* of the lot whose bolts are being written */
    struct tb_tab *summary, *lots, *bolts, *suppliers, *open, *legend;
};

/* Lots, bolts, suppliers, open matters: begin the tab, fill it, add up. */
tb_rc tb_month_goods(struct month *m, struct tb_err *err);
tb_rc tb_month_suppliers(struct month *m, struct tb_err *err);
tb_rc tb_month_open(struct month *m, struct tb_err *err);
/* The first tab is begun before the lists and filled after them. */
tb_rc tb_month_summary_begin(struct month *m, struct tb_err *err);
tb_rc tb_month_summary_fill(struct month *m, struct tb_err *err);
tb_rc tb_month_legend(struct month *m, struct tb_err *err);

/* "2 of 7 bolts burnt": stands beside every verdict. */
void tb_month_proof(char out[64], const struct tb_month_lot *lot);

#endif
