/*
 * Where one part of the cloth ends and the next begins: "warp cotton, weft linen", "cotton warp, linen weft", "100%
 * cotton, lining 100% polyester". What separates nothing (brackets, points) is passed over.
 */
#include "fibre/atoms.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HUNDRED_NEAR 0.5 /* figures that add up to 100 this nearly are a complete statement */

struct cutter {
    const struct tb_tokens *t;
    struct tb_cut *c;
    size_t *loud; /* the tokens that count, by number */
    size_t n;
    size_t open; /* the part that takes what comes */
    bool closed; /* it has had its name behind it */
    bool first;  /* words for parts stand before what they are made of, as far as is known */
};

/* Token i of those that count; beyond the ends a separator. */
static const struct tb_token *at(const struct cutter *k, size_t i)
{
    static const struct tb_token beyond = { .kind = TB_TOKEN_COMMA };

    return i < k->n ? &k->t->item[k->loud[i]] : &beyond;
}

/* A filler that the table marks: "with", "except". */
static bool is_filler(const struct tb_token *t, const char *means)
{
    const struct tb_name *row = tb_row_of(t);

    return t->kind == TB_TOKEN_WORD && row && row->kind == TB_WORD_FILLER && strcmp(row->means, means) == 0;
}

/*
 * Words with a colon behind, an unknown one among them and none a fibre, name a part of their own: "upper collar
 * facing:". Answers where the colon is, or i when the words from here are no such name.
 */
static size_t other_label(const struct cutter *k, size_t i)
{
    bool unknown = false;
    size_t end = i;

    for (; at(k, end)->kind == TB_TOKEN_WORD && !tb_names_fibre(at(k, end)); end++)
        unknown |= at(k, end)->what == TB_WORD_UNKNOWN;
    return unknown && at(k, end)->kind == TB_TOKEN_COLON ? end : i;
}

static bool is_part_word(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_WORD && t->what == TB_WORD_PART;
}

/* "PU coating" names a part and what it is of in one word. */
static bool is_whole_in_itself(const struct tb_token *t)
{
    return is_part_word(t) && tb_row_of(t) && tb_row_of(t)->fibre >= 0;
}

/* After "excluding", a part is named only to be left out. */
static bool is_left_out(const struct cutter *k, size_t i)
{
    while (i-- > 0 && at(k, i)->kind != TB_TOKEN_COMMA) {
        if (is_filler(at(k, i), "except"))
            return true;
        if (tb_is_atom(at(k, i)))
            return false;
    }
    return false;
}

static bool names_part(const struct cutter *k, size_t i)
{
    return (is_part_word(at(k, i)) || other_label(k, i) != i) && !is_left_out(k, i);
}

static bool has_colon(const struct cutter *k, size_t i)
{
    return at(k, i + 1)->kind == TB_TOKEN_COLON || other_label(k, i) != i;
}

/* Do the words for parts stand before what they are made of? So they do when a text begins with one, or one has a
 * colon, or fibres follow the last one. */
static bool parts_come_first(const struct cutter *k)
{
    bool seen = false, last_is_part = false;

    for (size_t i = 0; i < k->n; i++) {
        if (is_whole_in_itself(at(k, i)))
            continue;
        if (names_part(k, i)) {
            if (!seen || has_colon(k, i))
                return true;
            last_is_part = true;
        } else if (tb_is_atom(at(k, i))) {
            seen = true;
            last_is_part = false;
        }
    }
    return !last_is_part;
}

static bool is_same_fibre(const struct tb_token *a, const struct tb_token *b)
{
    return tb_names_fibre(a) && tb_names_fibre(b) && tb_row_of(a) && tb_row_of(b) &&
           tb_row_of(a)->fibre == tb_row_of(b)->fibre;
}

/* "cotton backing 100% cotton": the first word only says what kind of backing it is. */
static bool has_its_kind_before(const struct cutter *k, size_t i)
{
    return i && !tb_is_atom(at(k, i - 2)) && at(k, i + 1)->kind == TB_TOKEN_NUMBER &&
           is_same_fibre(at(k, i - 1), at(k, i + 2));
}

/*
 * Does the word for a part at i .. end open what follows, or close what stands before it? Where something is on both
 * sides of it, or on neither, as the one before it did.
 */
static bool opens(struct cutter *k, size_t i, size_t end)
{
    bool before = false, after = false;

    for (size_t j = i; j-- > 0 && !before && at(k, j)->kind != TB_TOKEN_COMMA && !is_part_word(at(k, j));)
        before = tb_is_atom(at(k, j));
    for (size_t j = end + 1; !after && at(k, j)->kind != TB_TOKEN_COMMA && !is_part_word(at(k, j)); j++) {
        if (j == end + 1 && at(k, j)->kind == TB_TOKEN_SLASH)
            break;
        after = tb_is_atom(at(k, j));
    }
    if (before != after)
        k->first = after;
    return k->first || has_colon(k, i) || has_its_kind_before(k, i);
}

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
    const struct tb_token *t = at(k, i), *last = at(k, end);

    p->kind = is_part_word(t) && i == end ? (enum tb_part_kind)t->part : TB_PART_OTHER;
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
    k->c->part[part].filled |= tb_is_atom(at(k, i));
}

/* "," and "and" and "with" separate one statement from the next. */
static bool separates(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_COMMA || is_filler(t, "with") ||
           (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_AND);
}

/* "100% cotton, 100% polyester lining": what is complete before the named part is the cloth itself. The rest goes
 * into a part of its own, which is answered. */
static size_t split_complete(struct cutter *k, size_t part, size_t end)
{
    double sum = 0;
    size_t i = 0, rest;

    for (; i < end && (!separates(at(k, i)) || fabs(sum - 100) > HUNDRED_NEAR); i++)
        if (k->c->of[k->loud[i]] == part && at(k, i)->kind == TB_TOKEN_NUMBER)
            sum += at(k, i)->value;
    if (i >= end)
        return part;
    rest = open_part(k);
    for (; i < end; i++)
        if (k->c->of[k->loud[i]] == part)
            put(k, i, rest);
    return k->c->part[rest].filled ? rest : part;
}

static void set_aside(struct cutter *k, size_t i)
{
    struct tb_cut_part *p = &k->c->part[k->open];

    k->c->of[k->loud[i]] = TB_CUT_ASIDE;
    p->filled = false;
    for (size_t j = 0; j < i; j++)
        p->filled |= k->c->of[k->loud[j]] == k->open && tb_is_atom(at(k, j));
}

static void open_named(struct cutter *k, size_t i, size_t end)
{
    struct tb_cut_part *p = &k->c->part[k->open];

    if (has_its_kind_before(k, i))
        set_aside(k, i - 1);
    if (p->named && !p->filled && is_part_word(at(k, i)) && (int)p->kind == at(k, i)->part) {
        k->c->of[k->loud[i]] = TB_CUT_NAME; /* "lining/doublure:" */
        return;
    }
    if (p->filled || p->named)
        k->open = open_part(k);
    name_part(k, k->open, i, end);
    k->closed = false;
}

/* Words for a part behind what it is made of. "100% cotton with lining": the cotton is not the lining's. */
static void close_named(struct cutter *k, size_t i, size_t end)
{
    if (is_filler(at(k, i - 1), "with") || k->c->part[k->open].named)
        k->open = open_part(k);
    k->open = split_complete(k, k->open, i);
    name_part(k, k->open, i, end);
    k->closed = true;
}

static void take(struct cutter *k, size_t i)
{
    const struct tb_token *t = at(k, i);

    if (k->closed && (tb_is_atom(t) || (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_MARK))) {
        k->open = open_part(k);
        k->closed = false;
    }
    put(k, i, k->open);
}

/* Answers the last token that belongs to what begins with token i. */
static size_t cut_at(struct cutter *k, size_t i)
{
    size_t label = other_label(k, i), end = label == i ? i : label - 1;

    if (!names_part(k, i)) {
        take(k, i);
        return i;
    }
    if (is_whole_in_itself(at(k, i))) {
        size_t part = open_part(k);

        name_part(k, part, i, i);
        k->c->of[k->loud[i]] = part;
        k->c->part[part].filled = true;
    } else if (opens(k, i, end)) {
        open_named(k, i, end);
    } else {
        close_named(k, i, end);
    }
    return end;
}

/* "(face constitutes 60 % of fabric and back 40 %)": figures of parts and no fibre. Answers where it ends, or i. */
static size_t ratio_end(const struct tb_tokens *t, size_t i)
{
    size_t end = i + 1, figures = 0;
    bool part = false;

    if (t->item[i].sign != '(')
        return i;
    for (; end < t->n && t->item[end].sign != ')'; end++) {
        part |= is_part_word(&t->item[end]);
        figures += part && t->item[end].kind == TB_TOKEN_NUMBER;
        if (tb_names_fibre(&t->item[end]))
            return i;
    }
    return figures >= 2 && end < t->n ? end : i;
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
    k.first = parts_come_first(&k);
    k.open = open_part(&k);
    for (size_t i = 0; i < k.n; i++)
        i = cut_at(&k, i);
    free(k.loud);
}

bool tb_cut_names_both(const struct tb_cut *c, const struct tb_tokens *t, size_t i)
{
    return c->of[i] < c->n && is_whole_in_itself(&t->item[i]) && c->part[c->of[i]].named &&
           c->part[c->of[i]].at == t->item[i].at;
}

void tb_cut_free(struct tb_cut *c)
{
    free(c->part);
    free(c->of);
    *c = (struct tb_cut){ 0 };
}
