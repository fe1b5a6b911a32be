/* What was decided about a lot: its standings, of which the latest counts. */
#include "book/stmt.h"

static const char *const standings[] = { "", "waiting", "held", "released", "relabelled", "returned" };
const struct tb_words tb_standing_words = {
    standings, TB_COUNT(standings),
    "'%s' is not a standing; a lot is waiting, held, released, relabelled or returned"
};

_Static_assert(TB_COUNT(standings) == TB_RETURNED + 1, "a standing has no word");

const char *tb_standing_key(enum tb_standing_kind s)
{
    return tb_word(&tb_standing_words, (int)s);
}

tb_rc tb_standing_add(struct tb_standing *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    if (s->standing == TB_STANDING_NONE)
        return tb_fail(err, TB_EINVAL, tb_standing_words.wrong, "");
    s->id = tb_new_key(mem);
    s->settled_at = s->settled_at ? s->settled_at : tb_moment_now(b, mem);
    return tb_put_standing(s, b, err);
}
