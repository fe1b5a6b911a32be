/* What was concluded about a lot: its verdicts, of which the latest counts. */
#include "book/stmt.h"

tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    v->id = tb_new_key(mem);
    v->judged_at = tb_moment_now(b, mem);
    return tb_put_verdict(v, b, err);
}
