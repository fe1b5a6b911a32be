/* Parts of a label: what names one, groups in brackets that are read as a whole, and lists that are said twice. */
#include "law/label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SUM_NEAR 0.01 /* shares as printed on labels add up to 100 this nearly */

enum tb_part_kind tb_label_part_named(const struct token *t)
{
    for (size_t i = 0; i < t->lexes; i++) {
        const struct lex *l = &t->lex[i];
        bool own = strncmp(l->what, "part:", 5) == 0;
        int kind = own ? tb_part_by_key(l->what + 5) : -1;

        if (strcmp(l->what, "part") == 0 && l->name)
            kind = tb_part_by_key(l->name->means);
        if (kind >= 0)
            return (enum tb_part_kind)kind;
    }
    return token_is(t, "section") ? TB_PART_OTHER : TB_PART_KINDS;
}

/* "(face constitutes 60 % of fabric and back 40 %)": figures of parts, no fibre. False: it is no such group. */
static bool read_ratio(struct parser *p, size_t end)
{
    enum tb_part_kind kind = TB_PART_KINDS;
    double seen[TB_PART_KINDS];
    size_t figures = 0;

    for (size_t i = 0; i < TB_PART_KINDS; i++)
        seen[i] = NAN;
    for (size_t i = p->i + 1; i < end; i++) {
        const struct token *t = tb_label_at(p, i);

        if (token_entry(t, LEX_NAME))
            return false;
        if (tb_label_part_named(t) != TB_PART_KINDS)
            kind = tb_label_part_named(t);
        if (t->kind == TOKEN_PERCENT && kind != TB_PART_KINDS) {
            seen[kind] = t->value;
            figures++;
        }
    }
    if (figures >= 2)
        memcpy(p->l->ratio, seen, sizeof seen);
    return figures >= 2;
}

/* "(65 % nylon, 35 % polyester)": the constituents of a composite fibre. */
static void read_constituents(struct parser *p, size_t end)
{
    struct part *in = &p->l->inner;
    double percent = NAN;

    for (size_t i = p->i + 1; i < end; i++) {
        const struct lex *name = token_entry(tb_label_at(p, i), LEX_NAME);

        if (tb_label_at(p, i)->kind == TOKEN_PERCENT)
            percent = tb_label_at(p, i)->value;
        if (!name)
            continue;
        TB_PUSH_ROOM(in->share, in->n, in->cap);
        in->share[in->n] = (struct share){ .fibre = name->fibre, .percent = percent };
        tb_label_name(&in->share[in->n++], i);
        percent = NAN;
    }
}

void tb_label_group(struct parser *p)
{
    const struct share *s = tb_label_last(p);
    size_t end = p->i + 1;
    bool whole;

    while (end < p->l->words.n && !tb_label_is_mark(tb_label_at(p, end), ')'))
        end++;
    whole = read_ratio(p, end);
    if (!whole && s && s->fibre == SHARE_COMPOSITE) {
        read_constituents(p, end);
        whole = true;
    }
    if (whole)
        p->i = end;
}

/* The same share among the first n of the part; NULL: there is none. */
static struct share *same_share(struct part *part, size_t n, const struct share *as)
{
    for (size_t i = 0; i < n; i++)
        if (part->share[i].fibre == as->fibre && fabs(part->share[i].percent - as->percent) < PERCENT_NEAR)
            return &part->share[i];
    return NULL;
}

/* "60 % cotton 40 % polyester / 60 % coton 40 % polyester": the second list names the first again. */
static void join_second_list(struct part *part)
{
    size_t first = 0;
    double sum = 0;

    for (; first < part->n && fabs(sum - 100) > SUM_NEAR; first++)
        sum += isnan(part->share[first].percent) ? 0 : part->share[first].percent;
    for (size_t i = first; i < part->n; i++)
        if (!same_share(part, first, &part->share[i]))
            return;
    for (size_t i = first; i < part->n; i++) {
        struct share *s = same_share(part, first, &part->share[i]);

        for (size_t k = 0; k < part->share[i].words; k++)
            tb_label_name(s, part->share[i].word[k]);
        s->marks |= part->share[i].marks;
    }
    part->n = first;
}

/* "All wool", "pure cotton": the one fibre of the part makes up the whole of it. */
static void complete(struct part *part)
{
    for (size_t i = 0; i < part->n; i++)
        part->share[i].pure = part->share[i].marks & TB_MARK_PURE;
    if (part->n != 1)
        return;
    if (isnan(part->share->percent) && part->share->pure)
        part->share->percent = 100;
    part->share->pure |= part->share->percent >= 100;
}

void tb_label_finish(struct label *l)
{
    size_t kept = 0;

    for (size_t i = 0; i < l->n; i++) {
        join_second_list(&l->part[i]);
        complete(&l->part[i]);
        if (l->part[i].n)
            l->part[kept++] = l->part[i];
        else
            free(l->part[i].share);
    }
    l->n = kept;
}
