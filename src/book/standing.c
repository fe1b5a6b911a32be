/* What was concluded and decided about a lot: its verdicts and its standings, of which the latest count. */
#include "book/stmt.h"

TB_WORDS(tb_standing_words, TB_RETURNED + 1,
         "'%s' is not a standing; a lot is waiting, held, released, relabelled or returned", "", "waiting",
         "held", "released", "relabelled", "returned");

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

tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    v->id = tb_new_key(mem);
    v->judged_at = tb_moment_now(b, mem);
    return tb_put_verdict(v, b, err);
}
