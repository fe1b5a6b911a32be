/* Where one part of the cloth ends and the next begins: "warp cotton, weft linen" or "cotton warp, linen weft". */
#include "fibre/atoms.h"

#include <math.h>
#include <string.h>

static struct tb_part_text *open_part(struct tb_part_texts *ps)
{
    TB_PUSH_ROOM(ps->part, ps->n, ps->cap);
    ps->part[ps->n] = (struct tb_part_text){ .kind = TB_PART_WHOLE };
    return &ps->part[ps->n++];
}

/*
 * Words with a colon behind, an unknown one among them and none a fibre, name a part of their own: "upper collar
 * facing:". Answers where the colon is, or i when the words from here are no such name.
 */
static size_t other_label(const struct tb_tokens *t, size_t i)
{
    bool unknown = false;
    size_t k = i;

    for (; k < t->n && t->item[k].kind == TB_TOKEN_WORD && !tb_names_fibre(&t->item[k]); k++)
        unknown |= t->item[k].what == TB_WORD_UNKNOWN;
    return unknown && k < t->n && t->item[k].kind == TB_TOKEN_COLON ? k : i;
}

static bool is_part(const struct tb_tokens *t, size_t i)
{
    return t->item[i].kind == TB_TOKEN_WORD && (t->item[i].what == TB_WORD_PART || other_label(t, i) != i);
}

/* After "excluding", a part is named only to be left out. */
static bool left_out(const struct tb_tokens *t, size_t i)
{
    while (i-- > 0 && t->item[i].kind != TB_TOKEN_COMMA) {
        const struct tb_token *w = &t->item[i];

        if (w->kind == TB_TOKEN_WORD && w->what == TB_WORD_FILLER &&
            strcmp(tb_row_of(w)->means, "except") == 0)
            return true;
        if (tb_is_atom(w))
            return false;
    }
    return false;
}

/* "PU coating" names a part and what it is of in one word. */
static bool whole_in_itself(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_WORD && t->what == TB_WORD_PART && tb_row_of(t)->fibre >= 0;
}

/* "100% cotton with lining": the cotton is not the lining's. */
static bool only_added(const struct tb_tokens *t, size_t i)
{
    const struct tb_token *before = i ? &t->item[i - 1] : NULL;

    return before && before->kind == TB_TOKEN_WORD && before->what == TB_WORD_FILLER &&
           strcmp(tb_row_of(before)->means, "with") == 0;
}

/* Do the words for the parts stand before what they are made of ("warp cotton") or after ("cotton warp")? */
static bool parts_come_first(const struct tb_tokens *t)
{
    bool seen = false, last_is_part = false;

    for (size_t i = 0; i < t->n; i++) {
        if (whole_in_itself(&t->item[i]))
            continue;
        if (is_part(t, i) && !left_out(t, i)) {
            if (!seen || (i + 1 < t->n && t->item[i + 1].kind == TB_TOKEN_COLON) || other_label(t, i) != i)
                return true;
            last_is_part = true;
        } else if (tb_is_atom(&t->item[i])) {
            seen = true;
            last_is_part = false;
        }
    }
    return !last_is_part;
}

static void name_part(struct tb_part_text *p, const struct tb_token *t, const struct tb_token *end)
{
    p->kind =
        t->what == TB_WORD_PART && t == end ? (enum tb_part_kind)tb_name_more[t->row].part : TB_PART_OTHER;
    p->name = t;
    p->label_at = t->at;
    p->label_len = end->at + end->len - t->at;
}

static double figures_sum(const struct tb_part_text *p, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += p->atom[i].figure ? p->atom[i].t->value : 0;
    return sum;
}

/* "100% cotton, 100% polyester lining": what is complete before the named part is the cloth itself.
 * Answers the part that bears the name. */
static size_t split_complete(struct tb_part_texts *ps, size_t open)
{
    struct tb_part_text *p = &ps->part[open];

    for (size_t i = 1; i < p->n; i++) {
        struct tb_part_text rest;

        if (!p->atom[i].comma || fabs(figures_sum(p, i) - 100) > 0.5)
            continue;
        rest = *p;
        rest.atom = tb_array(struct tb_atom, p->n - i);
        rest.n = rest.cap = p->n - i;
        memcpy(rest.atom, p->atom + i, rest.n * sizeof *rest.atom);
        rest.atom[0].comma = false;
        p->n = i;
        p->kind = TB_PART_WHOLE;
        p->name = NULL;
        p->loose = p->pending = 0; /* they went with the rest */
        *open_part(ps) = rest;
        return ps->n - 1;
    }
    return open;
}

static bool says_something(const struct tb_token *t)
{
    return tb_is_atom(t) || (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_MARK);
}

static void add_whole(struct tb_declaration *d, struct tb_part_texts *ps, const struct tb_token *t)
{
    struct tb_part_text *p = open_part(ps);

    name_part(p, t, t);
    tb_take_fibre(d, p, t);
}

/* The words for a part behind what it is made of close it. Answers the part they closed. */
static size_t close_part(struct tb_part_texts *ps, size_t open, const struct tb_tokens *t, size_t i,
                         size_t end)
{
    if (only_added(t, i) || ps->part[open].name) {
        (void)open_part(ps);
        open = ps->n - 1;
    }
    name_part(&ps->part[open], &t->item[i], &t->item[end]);
    return split_complete(ps, open);
}

void tb_cut_parts(struct tb_declaration *d, const struct tb_tokens *t, struct tb_part_texts *ps)
{
    bool first = parts_come_first(t);
    bool closed = false; /* the open part has had its name behind it */
    size_t open = 0;

    (void)open_part(ps);
    for (size_t i = 0; i < t->n; i++) {
        size_t label = other_label(t, i), end = label == i ? i : label - 1;
        bool named = is_part(t, i) && !left_out(t, i);

        if (named && whole_in_itself(&t->item[i])) {
            add_whole(d, ps, &t->item[i]);
        } else if (!named) {
            if (closed && says_something(&t->item[i])) {
                (void)open_part(ps);
                open = ps->n - 1;
                closed = false;
            }
            tb_take_token(d, &ps->part[open], t, i);
        } else if (first) {
            if (ps->part[open].n || ps->part[open].name) {
                (void)open_part(ps);
                open = ps->n - 1;
            }
            name_part(&ps->part[open], &t->item[i], &t->item[end]);
            i = end;
        } else {
            open = close_part(ps, open, t, i, end);
            closed = true;
            i = end;
        }
    }
}
