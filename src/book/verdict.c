/* What was concluded about a lot, and what was decided. */
#include "book/db.h"

#include <string.h>

tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    v->id = tb_new_key(mem);
    v->judged_at = tb_moment_now(b, mem);
    return tb_put_verdict(v, b, err);
}

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

bool tb_standing_valid(const char *standing)
{
    static const char *const known[] = { "waiting", "held", "released", "relabelled", "returned" };

    for (size_t i = 0; i < TB_COUNT(known); i++)
        if (strcmp(known[i], standing) == 0)
            return true;
    return false;
}

tb_rc tb_standing_add(struct tb_standing *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    if (!tb_standing_valid(s->standing))
        return tb_fail(err, TB_EINVAL,
                       "'%s' is no standing; a lot is waiting, held, released, relabelled or returned",
                       s->standing);
    s->id = tb_new_key(mem);
    s->settled_at = s->settled_at ? s->settled_at : tb_moment_now(b, mem);
    return tb_put_standing(s, b, err);
}

tb_rc tb_standing_list(struct tb_standing **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_standing(out, n, tb_sql_standing_of_lot(b, lot_id), mem, err);
}
