/* How suppliers' lots turned out. */
#include "book/stmt.h"
#include "tenterbook/draws.h"

/* The words of view lot_outcome. */
static const char *const outcomes[] = { "open", "right", "wrong" };
const struct tb_words tb_outcome_words = { outcomes, TB_COUNT(outcomes), "'%s' is not an outcome of a lot" };

tb_rc tb_supplier_tallies(struct tb_supplier_tally **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    return tb_all_supplier_tally(out, n, tb_sql_record_tally(b), mem, err);
}

tb_rc tb_supplier_lots(struct tb_lot_result **out, size_t *n, struct tb_book *b, const char *supplier_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_lot_result(out, n, tb_sql_record_lots(b, supplier_id), mem, err);
}
