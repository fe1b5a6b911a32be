/* How suppliers' lots turned out. */
#include "book/db.h"
#include "tenterbook/draws.h"

#include <stdlib.h>
#include <string.h>

static void take_tally(struct tb_supplier_tally *t, struct tb_stmt *q, struct tb_arena *mem)
{
    t->supplier = tb_col_text(q, 0, mem);
    t->name = tb_col_text(q, 1, mem);
    t->lots = tb_col_whole(q, 2);
    t->right_lots = tb_col_whole(q, 3);
    t->wrong_lots = tb_col_whole(q, 4);
}

tb_rc tb_supplier_tallies(struct tb_supplier_tally **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_RECORD_TALLY);
    tb_rc rc;

    TB_LIST(rc, out, n, q, struct tb_supplier_tally, take_tally, mem, err);
    return rc;
}

static void take_result(struct tb_lot_result *r, struct tb_stmt *q, struct tb_arena *mem)
{
    const char *outcome;

    r->ref = tb_col_text(q, 0, mem);
    r->arrived = tb_col_text(q, 1, mem);
    outcome = tb_col_text(q, 2, mem);
    r->outcome = strcmp(outcome, "right") == 0   ? TB_OUTCOME_RIGHT
                 : strcmp(outcome, "wrong") == 0 ? TB_OUTCOME_WRONG
                                                 : TB_OUTCOME_OPEN;
    r->metres = tb_col_number(q, 3);
    r->unit_price = tb_col_number(q, 4);
    r->currency = tb_col_text(q, 5, mem);
}

tb_rc tb_supplier_lots(struct tb_lot_result **out, size_t *n, struct tb_book *b, const char *supplier_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_RECORD_LOTS);
    tb_rc rc;

    tb_bind_text(q, 1, supplier_id);
    TB_LIST(rc, out, n, q, struct tb_lot_result, take_result, mem, err);
    return rc;
}
