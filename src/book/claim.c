/* What is to be claimed: which lots, and since when the fault is known. */
#include "book/stmt.h"
#include "tenterbook/dispute.h"

#include <string.h>

tb_rc tb_lot_discovered(const char **day, const char **by, struct tb_book *b, const char *lot_id,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lot_discovery d = { 0 };
    tb_rc rc = tb_one_lot_discovery(&d, tb_sql_lot_discovery(b, lot_id), mem, err);

    *day = d.verdict_day;
    *by = d.verdict_day ? "verdict" : "";
    if (d.analysis_day && (!d.verdict_day || strcmp(d.analysis_day, d.verdict_day) < 0)) {
        *day = d.analysis_day;
        *by = "analysis";
    }
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}
