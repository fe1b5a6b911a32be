/*
 * Where one part of the cloth ends and the next begins: "warp cotton, weft linen", "cotton warp, linen weft", "100%
 * cotton, lining 100% polyester". It is found before figures are paired with fibres, since a figure never belongs to
 * a fibre of another part.
 */
#include "fibre/cut.h"

#include "fibre/reader.h"

#include <math.h>
#include <stdlib.h>

#define HUNDRED_NEAR 0.5 /* figures that add up to 100 this nearly are a complete statement */

static size_t open_part(struct cutter *k)
{
    struct tb_cut *c = k->c;

    TB_PUSH_ROOM(c->part, c->n, c->cap);
    c->part[c->n] = (struct tb_cut_part){ .kind = TB_PART_WHOLE, .word = TB_NOWHERE };
    return c->n++;
}

static void name_part(struct cutter *k, size_t part, size_t i, size_t end)
{
    struct tb_cut_part *p = &k->c->part[part];
    const struct tb_token *t = tb_cut_at(k, i), *last = tb_cut_at(k, end);

    p->kind = tb_cut_is_part(t) && i == end ? (enum tb_part_kind)t->part : TB_PART_OTHER;
    p->named = true;
    p->word = t->word;
    p->at = t->at;
    p->len = last->at + last->len - t->at;
    for (; i <= end; i++)
        k->c->of[k->loud[i]] = TB_CUT_NAME;
}

static void put(struct cutter *k, size_t i, size_t part)
{
    k->c->of[k->loud[i]] = part;
    k->c->part[part].filled |= tb_is_atom(tb_cut_at(k, i));
}

/* Take token i out of the open part again. */
static void set_aside(struct cutter *k, size_t i)
{
    struct tb_cut_part *p = &k->c->part[k->open];

    k->c->of[k->loud[i]] = TB_CUT_ASIDE;
    p->filled = false;
    for (size_t j = 0; j < i; j++)
        p->filled |= k->c->of[k->loud[j]] == k->open && tb_is_atom(tb_cut_at(k, j));
}

/* "," and "and" and "with" separate one statement from the next. */
static bool separates(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_COMMA || tb_cut_is_filler(t, "with") ||
           (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_AND);
}

/*
 * "100% cotton, 100% polyester lining": what is complete before the named part is the cloth itself. What is behind it
 * goes into a part of its own, which is answered.
 */
static size_t split_complete(struct cutter *k, size_t part, size_t end)
{
    double sum = 0;
    size_t i = 0, rest;

    for (; i < end && (!separates(tb_cut_at(k, i)) || fabs(sum - 100) > HUNDRED_NEAR); i++)
        if (k->c->of[k->loud[i]] == part && tb_cut_at(k, i)->kind == TB_TOKEN_NUMBER)
            sum += tb_cut_at(k, i)->value;
    if (i >= end)
        return part;
    rest = open_part(k);
    for (; i < end; i++)
        if (k->c->of[k->loud[i]] == part)
            put(k, i, rest);
    return k->c->part[rest].filled ? rest : part;
}

static void open_named(struct cutter *k, size_t i, size_t end)
{
    struct tb_cut_part *p = &k->c->part[k->open];
    const struct tb_token *t = tb_cut_at(k, i);

    if (tb_cut_has_kind(k, i))
        set_aside(k, i - 1);
    if (p->named && !p->filled && tb_cut_is_part(t) && (int)p->kind == t->part) {
        k->c->of[k->loud[i]] = TB_CUT_NAME; /* "lining/doublure:" is one part in two languages */
        return;
    }
    if (p->filled || p->named)
        k->open = open_part(k);
    name_part(k, k->open, i, end);
    k->closed = false;
}

static void close_named(struct cutter *k, size_t i, size_t end)
{
    /* "100% cotton with lining": the cotton is not the lining's */
    if (tb_cut_is_filler(tb_cut_at(k, i - 1), "with") || k->c->part[k->open].named)
        k->open = open_part(k);
    k->open = split_complete(k, k->open, i);
    name_part(k, k->open, i, end);
    k->closed = true;
}

/* "PU coating" stands beside the part that is open and does not end it: "100% nylon, PU coating, quilted". */
static void add_both(struct cutter *k, size_t i)
{
    size_t part = open_part(k);

    name_part(k, part, i, i);
    k->c->of[k->loud[i]] = part;
    k->c->part[part].filled = true;
}

static void take(struct cutter *k, size_t i)
{
    const struct tb_token *t = tb_cut_at(k, i);

    if (k->closed && (tb_is_atom(t) || (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_MARK))) {
        k->open = open_part(k);
        k->closed = false;
    }
    put(k, i, k->open);
}

/* Answers the last token of what begins with token i. */
static size_t cut_here(struct cutter *k, size_t i)
{
    size_t end;

    if (!tb_cut_names(k, i, &end)) {
        take(k, i);
        return i;
    }
    if (tb_cut_is_both(tb_cut_at(k, i)))
        add_both(k, i);
    else if (tb_cut_opens(k, i, end))
        open_named(k, i, end);
    else
        close_named(k, i, end);
    return end;
}

/*
 * "(face constitutes 60 % of fabric and back 40 %)", "(back constitutes 40 % of fabric)": figures of parts and no fibre in brackets. They would
 * be read as shares of fibres. One figure is one only among words that are no part: "(lining 100 %)" may be a statement. Answers where it ends,
 * or i when it is no such group.
 */
static size_t ratio_end(const struct tb_tokens *t, size_t i)
{
    size_t end = i + 1, figures = 0, words = 0;
    bool part = false;

    if (t->item[i].sign != '(')
        return i;
    for (; end < t->n && t->item[end].sign != ')'; end++) {
        part |= tb_cut_is_part(&t->item[end]);
        figures += part && t->item[end].kind == TB_TOKEN_NUMBER;
        words += part && !tb_cut_is_part(&t->item[end]) && t->item[end].kind == TB_TOKEN_WORD;
        if (tb_names_fibre(&t->item[end]))
            return i;
    }
    return (figures >= 2 || (figures == 1 && words >= 2)) && end < t->n ? end : i;
}

void tb_tokens_cut(struct tb_cut *out, const struct tb_tokens *t)
{
    struct cutter k = { .t = t, .c = out, .loud = tb_array(size_t, t->n + 1) };

    *out = (struct tb_cut){ .of = tb_array(size_t, t->n + 1) };
    for (size_t i = 0, end; i < t->n; i = end + 1) {
        end = ratio_end(t, i);
        if (end == i && t->item[i].kind != TB_TOKEN_QUIET)
            k.loud[k.n++] = i;
        else
            for (size_t j = i; j <= end; j++)
                out->of[j] = TB_CUT_ASIDE;
    }
    k.first = tb_cut_parts_first(&k);
    k.open = open_part(&k);
    for (size_t i = 0; i < k.n; i++)
        i = cut_here(&k, i);
    free(k.loud);
}

bool tb_cut_names_both(const struct tb_cut *c, const struct tb_tokens *t, size_t i)
{
    return c->of[i] < c->n && tb_cut_is_both(&t->item[i]) && c->part[c->of[i]].named &&
           c->part[c->of[i]].at == t->item[i].at;
}

void tb_cut_free(struct tb_cut *c)
{
    free(c->part);
    free(c->of);
    *c = (struct tb_cut){ 0 };
}
