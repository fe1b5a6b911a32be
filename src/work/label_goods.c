/* label_goods.c - what a book has against handing out a label of a lot's goods: for label and for the sheets of the month. Pure. */
#include "tenterbook/label_lot.h"

#include <string.h>

TB_WORDS(tb_label_goods_words, TB_GOODS_UNTESTED + 1, "'%s' is not what stands in the way of a label", "",
         "returned", "does not conform", "held", "label refuted", "laboratory undecided", "contradicted",
         "speaks against", "undecided", "nothing looked at");

/* What a laboratory found weighs more than what a person decided; a person who released a lot knew what the bench said by then. */
static enum tb_label_goods by_conclusion(const struct tb_goods_stand *s, const struct tb_concluded *c)
{
    bool released = s->standing == TB_RELEASED;

    if (c->kind == TB_DOES_NOT)
        return released && c->by != TB_BY_LABORATORY ? TB_GOODS_CONTRADICTED : TB_GOODS_NOT_AS_SAID;
    if (s->standing == TB_HELD || s->held_in_part)
        return TB_GOODS_HELD;
    if (c->kind != TB_OPEN)
        return TB_GOODS_CLEAR;
    if (c->open == TB_OPEN_LABORATORY)
        return TB_GOODS_LABORATORY_OPEN;
    if (c->open == TB_OPEN_AGAINST)
        return TB_GOODS_AGAINST;
    if (released || s->released_in_part)
        return TB_GOODS_CLEAR;
    return c->by == TB_BY_NOTHING ? TB_GOODS_UNTESTED : TB_GOODS_UNDECIDED;
}

enum tb_label_goods tb_label_goods_of(const struct tb_goods_stand *s, const struct tb_concluded *c)
{
    if (s->standing == TB_RETURNED)
        return TB_GOODS_RETURNED;
    if (s->own_words)
        return s->standing == TB_HELD || s->held_in_part ? TB_GOODS_HELD
               : s->refuted                              ? TB_GOODS_REFUTED
                                                         : TB_GOODS_CLEAR;
    return by_conclusion(s, c);
}

/* --- for one market -------------------------------------------------------------------------------------------- */

tb_rc tb_conclude_in(struct tb_concluded *out, const struct tb_known *k, const char *market,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *own = tb_arena_alloc(mem, (k->n + 1) * sizeof *own);
    struct tb_known here = *k;
    bool asked = false;

    for (size_t i = 0; i < k->n; i++) {
        size_t n;
        const char *said = tb_analysis_in(&k->analysis[i], market, strlen(market), &n);

        own[i] = k->analysis[i];
        own[i].answers = said ? tb_arena_strndup(mem, said, n) : "";
        asked = asked || *own[i].answers;
    }
    if (asked)
        here.analysis = own;
    return tb_conclude(out, &here, mem, err);
}
