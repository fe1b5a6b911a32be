/*
 * "45 % rayon (modal)", "45 % (rayon) lyocell": a kind of fibre in brackets beside the name that takes it in, or the other
 * way round. The two are one share, of the fibre outside the brackets; which name takes in which is the market's to say.
 */
#include "law/label.h"

#include <math.h>
#include <string.h>

/* The first token that names the share, or the last; TB_NOWHERE: none does. */
static size_t word_of(const struct label *l, const struct tb_share *s, bool last)
{
    size_t at = TB_NOWHERE;

    for (size_t i = 0; i < l->tokens; i++)
        if (l->token[i].share == s->id && (last || at == TB_NOWHERE))
            at = i;
    return at;
}

static bool is_bracket(const struct token *t, const char *which)
{
    return t->kind == TOKEN_MARK && t->mark && strchr(which, t->mark);
}

/* Is the later share, or the earlier one, in brackets at the other? */
static bool in_brackets(const struct label *l, const struct tb_share *a, const struct tb_share *b, bool later)
{
    size_t end = word_of(l, a, true), begin = word_of(l, b, false);

    if (end == TB_NOWHERE || begin == TB_NOWHERE || begin != end + 2)
        return false;
    return later ? is_bracket(&l->token[begin - 1], "([")
                 : is_bracket(&l->token[begin - 1], ")]") && end && is_bracket(&l->token[end - 1], "([");
}

/* Finer hairs are named with a figure of their own (us: 16 CFR 300.19): what is said in brackets of wool stays apart. */
static bool may_join(const struct tb_ref_market *m, int out, int in)
{
    return out >= 0 && in >= 0 && out != in && !tb_law_group_has(m, "wool", in) &&
           (tb_law_name_covers(m, out, in) || tb_law_name_covers(m, in, out));
}

static void join(struct label *l, struct tb_part *p, size_t k, bool later)
{
    struct tb_share *a = &p->share[k], *b = a + 1;

    EACH_WORD(l, b, t)
    t->share = a->id;
    a->marks |= b->marks;
    a->fibre = later ? a->fibre : b->fibre;
    a->percent = isnan(a->percent) ? b->percent : a->percent;
    memmove(b, b + 1, (p->n - k - 2) * sizeof *b);
    p->n--;
}

void tb_label_join_kinds(struct label *l, const struct tb_ref_market *m)
{
    for (size_t i = 0; i < l->comp.n; i++) {
        struct tb_part *p = &l->comp.part[i];

        for (size_t k = 0; k + 1 < p->n; k++) {
            struct tb_share *a = &p->share[k], *b = a + 1;
            bool later = in_brackets(l, a, b, true);

            if (isnan(a->percent) == isnan(b->percent) || (!later && !in_brackets(l, a, b, false)))
                continue;
            if (later ? may_join(m, a->fibre, b->fibre) : may_join(m, b->fibre, a->fibre))
                join(l, p, k, later);
        }
    }
}
