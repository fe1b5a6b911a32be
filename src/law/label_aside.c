/*
 * What a label says of a part of one fibre: "60 % polyester (50 % recycled)", ", of which 50 % recycled". Its figure is of
 * that fibre and not of the cloth, and its words are of no other fibre.
 */
#include "law/label.h"

#include <math.h>
#include <string.h>

/* What was read of such words. */
struct said {
    bool figure; /* a percentage */
    bool kind;   /* which part: recycled, organic, or the fibre once more */
};

/* The share at hand: the one that waits for its name, else the last one. */
static size_t share_at_hand(const struct parser *p)
{
    const struct tb_share *s = tb_label_last(p);

    if (!isnan(p->next.percent) && !(p->next.marks & OF_A_PART))
        return p->l->ids + 1;
    return s ? s->id : 0;
}

static unsigned mark_of(const struct token *t)
{
    return tb_label_is(t, "recycled") || tb_label_is(t, "recycled_old") ? TB_MARK_RECYCLED
           : tb_label_is(t, "virgin")                                   ? TB_MARK_VIRGIN
                                                                        : 0;
}

void tb_label_add_aside(const struct parser *p, size_t from, size_t to)
{
    struct label *l = p->l;
    struct aside a = { .words = *tb_label_at(p, from), .share = share_at_hand(p) };

    for (size_t i = from; i < to && i < l->tokens; i++) {
        a.marks |= mark_of(&l->token[i]);
        a.figure = a.figure || l->token[i].kind == TOKEN_PERCENT;
        a.words.len = l->token[i].at + l->token[i].len - a.words.at;
    }
    TB_PUSH_ROOM(l->aside, l->asides, l->aside_cap);
    l->aside[l->asides++] = a;
}

/* The past of a fibre, or how it was made: "recycled", "combed". */
static bool is_past(const struct token *t)
{
    const struct lex *class = tb_label_entry(t, LEX_CLASS);

    return mark_of(t) || (class && tb_law_list_has("descriptor|property", class->what));
}

/* A word that fits into such words, of the fibre (-1: it has no name yet) or of none. */
static bool fits(const struct token *t, int fibre, struct said *said)
{
    const struct lex *name = tb_label_entry(t, LEX_NAME), *class = tb_label_entry(t, LEX_CLASS);

    if (is_past(t))
        said->kind = true;
    else if (name && name->fibre == fibre)
        said->kind = true;
    else if (name || class)
        return false;
    return true;
}

/* The first token since the last sign between clauses or name of a fibre. */
static size_t clause_from(const struct parser *p)
{
    size_t i = p->i;

    while (i && !tb_label_at(p, i - 1)->share &&
           !(tb_label_at(p, i - 1)->kind == TOKEN_MARK && strchr(",;.\n", tb_label_at(p, i - 1)->mark)))
        i--;
    return i;
}

/* Nothing but the past of a fibre and how it was made: "recycled", "all recycled, combed". */
static bool only_marks(const struct parser *p, size_t from)
{
    for (size_t i = from; i < p->i; i++) {
        const struct token *t = tb_label_at(p, i);

        if (t->kind == TOKEN_WORD && !is_past(t) && !tb_label_is(t, "pure") && !tb_label_is(t, "hair"))
            return false;
    }
    return true;
}

/* Words of which nobody can say how much of which fibre they are of. */
static void set_apart(struct parser *p, size_t from)
{
    tb_label_add_aside(p, from, p->i);
    p->l->aside[p->l->asides - 1].share = 0;
    p->next.marks &= ~(unsigned)OF_A_PART;
}

static bool waits(const struct parser *p)
{
    return isnan(p->next.percent) && p->next.marks & OF_A_PART && tb_label_last(p);
}

void tb_label_marks_wait(struct parser *p)
{
    if (waits(p) && !only_marks(p, clause_from(p)))
        set_apart(p, clause_from(p));
}

void tb_label_clause_ends(struct parser *p)
{
    size_t from = clause_from(p);

    if (!waits(p))
        return;
    set_apart(p, from);
    p->l->aside[p->l->asides - 1].loose = only_marks(p, from);
}

void tb_label_settle_loose(struct parser *p)
{
    struct label *l = p->l;
    size_t kept = 0;

    for (size_t i = 0; i < l->asides; i++) {
        if (l->aside[i].loose && p->now->n == 1) {
            p->now->share->marks |= l->aside[i].marks;
            continue;
        }
        l->aside[kept] = l->aside[i];
        l->aside[kept++].loose = false;
    }
    l->asides = kept;
}

static bool ends(const struct token *t)
{
    return t->kind == TOKEN_MARK && memchr(",;.\n)]", t->mark, 7); /* the end of the text is a zero */
}

/* The end of the words from token i on that have one figure at most; i: a word of them does not fit. */
static size_t run_end(const struct parser *p, size_t i, int fibre, struct said *said)
{
    size_t from = i;
    bool figure = false;

    for (; !ends(tb_label_at(p, i)); i++) {
        const struct token *t = tb_label_at(p, i);

        if (t->kind == TOKEN_PERCENT && figure)
            break;
        figure = figure || t->kind == TOKEN_PERCENT;
        said->figure = said->figure || figure;
        if (t->kind == TOKEN_WORD && !fits(t, fibre, said))
            return figure && said->kind && p->after ? i : from; /* "recycled 50 % cotton 40 %" */
    }
    return i;
}

static int fibre_at_hand(const struct parser *p)
{
    const struct tb_share *s = tb_label_last(p);

    return isnan(p->next.percent) && s && s->fibre >= 0 ? s->fibre : -1;
}

/* The end of the text closes a bracket as well. */
static bool closes(const struct token *t)
{
    return t->kind == TOKEN_MARK && memchr(")]", t->mark, 3);
}

void tb_label_bracket(struct parser *p)
{
    struct said said = { 0 };
    size_t i = p->i + 1, next;
    int fibre = fibre_at_hand(p);

    for (; !closes(tb_label_at(p, i)); i = next) {
        next = tb_label_at(p, i)->mark == ',' || tb_label_at(p, i)->mark == ';' ? i + 1 : i;
        next = run_end(p, next, fibre, &said);
        if (next == i)
            return;
    }
    if (!said.figure || !said.kind)
        return;
    tb_label_add_aside(p, p->i + 1, i);
    p->i = i;
}

void tb_label_bracket_ends(struct parser *p)
{
    size_t from = p->i;

    if (!isnan(p->next.percent) || !(p->next.marks & OF_A_PART) || !tb_label_last(p))
        return;
    while (from && !tb_label_opens(tb_label_at(p, from - 1)))
        from--;
    p->next.marks &= ~(unsigned)OF_A_PART;
    tb_label_add_aside(p, from, p->i);
}

void tb_label_of_which(struct parser *p)
{
    struct said said = { 0 };
    size_t from = p->i, i = from + 1, next;
    int fibre;

    tb_label_end_share(p);
    fibre = fibre_at_hand(p);
    while ((next = run_end(p, i, fibre, &said)) > i && said.figure && said.kind) {
        p->i = next - 1;
        i = next + (tb_label_at(p, next)->mark == ',');
        said = (struct said){ 0 };
    }
    if (p->i > from)
        tb_label_add_aside(p, from, p->i + 1);
    else
        tb_label_add_stray(p);
}
