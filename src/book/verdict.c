/* What was concluded about a lot: its verdicts, of which the latest counts. */
#include "book/stmt.h"

tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    v->id = tb_new_key(mem);
    v->judged_at = tb_moment_now(b, mem);
    return tb_put_verdict(v, b, err);
}

/* Latest by journal row, not by clock: clocks go wrong, the journal does not. */
tb_rc tb_judged_latest(struct tb_judged *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                       struct tb_err *err)
{
    return tb_one_judged(out, tb_sql_verdict_latest(b, lot_id), mem, err);
}

tb_rc tb_judged_list(struct tb_judged **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_judged(out, n, tb_sql_verdict_of_lot(b, lot_id), mem, err);
}
