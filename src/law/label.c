/*
 * A label read: tokens into parts and shares. A label has a tighter grammar than a supplier's words, and the law asks
 * which word was used for what and what was said besides, so it is no declaration.
 */
#include "law/label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SUM_NEAR 0.01 /* shares as printed on labels add up to 100 this nearly */

const struct token *tb_label_at(const struct parser *p, size_t i)
{
    static const struct token none = { .kind = TOKEN_MARK, .mark = '\0' };

    return i < p->l->tokens ? &p->l->token[i] : &none;
}

struct tb_share *tb_label_last(const struct parser *p)
{
    return p->now->n ? &p->now->share[p->now->n - 1] : NULL;
}

void tb_label_name(const struct parser *p, const struct tb_share *s, size_t token)
{
    p->l->token[token].share = s->id;
}

bool tb_label_opens(const struct token *t)
{
    return t->kind == TOKEN_MARK && (t->mark == '(' || t->mark == '[');
}

struct tb_share *tb_label_add(struct parser *p, int fibre, size_t token)
{
    struct tb_share *s = tb_part_add_share(p->now, fibre, p->next.percent);

    s->marks = p->next.marks;
    s->id = ++p->l->ids;
    tb_label_name(p, s, token);
    p->next = (struct tb_share){ .percent = NAN };
    return s;
}

/* Signs that stand between two names of one thing: "Wool / Laine", "Tencel(R) lyocell", "rayon (viscose)", "(viscose) rayon". */
static bool joins(const struct token *t)
{
    return t->kind == TOKEN_MARK && t->mark && strchr("/-R([)]", t->mark);
}

/* The token at hand, or the first of the signs before it that join. */
static size_t behind_signs(const struct parser *p)
{
    size_t i = p->i;

    while (i && joins(tb_label_at(p, i - 1)))
        i--;
    return i;
}

/* "rayon 45 % (viscose)": where figures stand behind the names, a bracket behind the figure is still at the name. */
bool tb_label_touches(const struct parser *p, const struct tb_share *s)
{
    size_t before = behind_signs(p);

    if (before && p->after && tb_label_opens(tb_label_at(p, before)) &&
        tb_label_at(p, before - 1)->kind == TOKEN_PERCENT)
        before--;
    return before && tb_label_at(p, before - 1)->share == s->id;
}

bool tb_label_again(struct parser *p, int fibre)
{
    struct tb_share *s = tb_label_last(p);

    if (!s || !isnan(p->next.percent) || s->fibre != fibre)
        return false;
    if (!tb_label_touches(p, s) && !p->next.marks)
        return false;
    tb_label_name(p, s, p->i);
    s->marks |= p->next.marks; /* "all wool / toute laine" */
    p->next.marks = 0;
    return true;
}

void tb_label_add_stray(const struct parser *p)
{
    struct label *l = p->l;

    TB_PUSH_ROOM(l->stray, l->strays, l->stray_cap);
    l->stray[l->strays++] = p->i;
}

void tb_label_fibre(struct parser *p, int fibre, unsigned marks)
{
    const struct tb_share *s = tb_label_last(p);

    p->next.marks |= marks;
    if (s && s->marks & SAID_TOGETHER && isnan(p->next.percent))
        return; /* "man-made fibers: rayon, acetate": named, not counted */
    if (!tb_label_again(p, fibre))
        (void)tb_label_add(p, fibre, p->i);
}

/* A figure whose name never came: with a word like "recycled" it is of a part of a fibre, and the word goes with it. */
static void leave_figure(struct parser *p)
{
    if (p->next.marks & OF_A_PART)
        tb_label_add_aside(p, p->figure, p->i);
    else
        p->l->orphans++;
    p->next.marks &= ~(unsigned)OF_A_PART;
}

/*
 * A percentage whose name never came: the strange words since then stand in the fibre's place, so that "100 % zorblon" is
 * told that zorblon is no name, not that a figure is left over.
 */
void tb_label_end_share(struct parser *p)
{
    struct label *l = p->l;

    if (isnan(p->next.percent))
        return;
    if (l->strays > p->stray_from) {
        l->strays = p->stray_from;
        (void)tb_label_add(p, SHARE_NO_FIBRE, l->stray[p->stray_from]);
    } else {
        leave_figure(p);
        p->next.percent = NAN;
    }
}

/* A word is the last before the token at hand, a bracket with another word aside: "rayon (viscose) 45 %". */
static bool named_just_now(const struct parser *p)
{
    const struct token *before = tb_label_at(p, p->i - 1);

    if (before->kind == TOKEN_MARK && (before->mark == ')' || before->mark == ']'))
        before = tb_label_at(p, behind_signs(p) - 1);
    return before->kind == TOKEN_WORD;
}

/*
 * Whether figures stand before or after the names is settled by the first figure of a part, and holds for all of it:
 * in "wool 85 % nylon 15 %" the 85 must not be given to nylon.
 */
static void on_percent(struct parser *p, const struct token *t)
{
    struct tb_share *s = tb_label_last(p);
    bool unnamed = !isnan(p->next.percent);

    tb_label_marks_wait(p);
    if (!p->styled)
        p->after = s && isnan(s->percent) && !unnamed && named_just_now(p);
    p->styled = true;
    if (p->after && s && isnan(s->percent)) {
        s->percent = t->value;
        s->marks |= p->next.marks & (SAID_MORE | SAID_LESS);
        p->next.marks &= ~(unsigned)(SAID_MORE | SAID_LESS);
    } else {
        if (unnamed)
            leave_figure(p);
        p->next.percent = t->value;
        p->figure = p->i;
    }
    p->l->orphans += isnan(t->value) ? 1 : 0;
    p->stray_from = p->l->strays;
}

/* Words of the tables that name no fibre: in a fibre's place they take it, elsewhere they are remembered. */
static void on_class(struct parser *p, const struct lex *l)
{
    const struct token *next = tb_label_at(p, p->i + 1 + (tb_label_at(p, p->i + 1)->mark == 'R'));
    struct tb_share *last = tb_label_last(p);
    bool waits = !isnan(p->next.percent);
    bool hangs = waits && !tb_label_entry(next, LEX_NAME) && !tb_label_is(next, "virgin_wool");
    bool number_follows = !waits && next->kind == TOKEN_PERCENT && (!p->styled || p->after);

    if (tb_law_list_has("descriptor|property", l->what))
        return;
    if (!hangs && !number_follows) {
        if (last && l->fibre >= 0 && last->fibre == l->fibre && !waits && tb_label_touches(p, last))
            tb_label_name(p, last, p->i); /* "lyocell Tencel / lyocell Tencel" is one share */
    } else if (tb_law_list_has("abbreviation|variety|trade_mark|animal", l->what) && l->fibre >= 0) {
        tb_label_fibre(p, l->fibre, 0);
    } else if (next->kind != TOKEN_WORD || !tb_label_entry(next, LEX_CLASS)) {
        (void)tb_label_add(p, SHARE_NO_FIBRE, p->i);
    }
}

/* What a word says goes before what it names: "other fibres" is a phrase before "fibres" is a filler. */
static void on_word(struct parser *p, const struct token *t)
{
    const struct lex *name = tb_label_entry(t, LEX_NAME), *both = tb_label_entry(t, LEX_PHRASE);

    if (tb_label_says(p, t))
        return;
    if (name)
        tb_label_fibre(p, name->fibre, 0);
    else if (both && both->fibre >= 0 && t->part >= 0)
        tb_label_fibre(p, both->fibre, 0); /* "PU coating" is the name of a part and its fibre in one */
    else if (both)
        return; /* filler */
    else if (tb_label_entry(t, LEX_CLASS))
        on_class(p, tb_label_entry(t, LEX_CLASS));
    else
        tb_label_add_stray(p);
}

/* "(65 % nylon, 35 % polyester)": the constituents of a composite fibre. */
static void read_constituents(struct parser *p)
{
    struct tb_part *in = &p->l->inner;
    double percent = NAN;

    for (; p->i + 1 < p->l->tokens && tb_label_at(p, p->i)->mark != ')'; p->i++) {
        const struct token *t = tb_label_at(p, p->i);
        const struct lex *name = tb_label_entry(t, LEX_NAME);

        if (t->kind == TOKEN_PERCENT)
            percent = t->value;
        if (!name)
            continue;
        (void)tb_part_add_share(in, name->fibre, percent);
        percent = NAN;
    }
}

static void on_mark(struct parser *p, char mark)
{
    struct tb_share *s = tb_label_last(p);

    if (mark == '(' && s && s->fibre == SHARE_COMPOSITE) {
        read_constituents(p);
    } else if (mark == '(' || mark == '[') {
        tb_label_bracket(p);
    } else if (mark == ')' || mark == ']') {
        tb_label_bracket_ends(p);
    } else if (mark == ',' || mark == ';' || mark == '\n') {
        tb_label_end_share(p);
        tb_label_clause_ends(p);
    } else if (mark == '%' && tb_label_at(p, p->i - 1)->mark != '_') {
        p->l->orphans++; /* a sign without a figure: "NaN %", and no blank to fill in */
    } else if (mark == '_') {
        p->l->blanks = true;
        if (s && isnan(s->percent))
            p->now->n--; /* a line of the printed list left blank */
    }
}

/* "(face 60 %, back 40 %)": what each part takes of the cloth. */
static void on_ratio(struct parser *p, const struct token *t)
{
    if (t->part >= 0)
        p->ratio = (enum tb_part_kind)t->part;
    if (t->kind == TOKEN_PERCENT && p->ratio != TB_PART_KINDS)
        p->l->ratio[p->ratio] = t->value;
}

/* "100 % cotton, recycled; lining: 100 % silk": marks between commas belong to the only share of their part, or to none. */
static void end_part(struct parser *p)
{
    tb_label_end_share(p);
    if (p->now->n)
        tb_label_clause_ends(p);
    tb_label_settle_loose(p);
    p->next.marks = 0;
    p->styled = false;
}

/* The same share among the first n of the part; NULL: there is none. */
static struct tb_share *same_share(struct tb_part *part, size_t n, const struct tb_share *as)
{
    for (size_t i = 0; i < n; i++)
        if (part->share[i].fibre == as->fibre && fabs(part->share[i].percent - as->percent) < PERCENT_NEAR)
            return &part->share[i];
    return NULL;
}

/*
 * "60 % cotton 40 % polyester / 60 % coton 40 % polyester": where the first shares make 100 and every later one is one
 * of them, the second list only names the first again, in the other language a market asks for.
 */
static void join_second_list(struct label *l, struct tb_part *part)
{
    size_t first = 0;
    double sum = 0;

    for (; first < part->n && fabs(sum - 100) > SUM_NEAR; first++)
        sum += isnan(part->share[first].percent) ? 0 : part->share[first].percent;
    for (size_t i = first; i < part->n; i++)
        if (!same_share(part, first, &part->share[i]))
            return;
    for (size_t i = first; i < part->n; i++) {
        struct tb_share *s = same_share(part, first, &part->share[i]);

        EACH_WORD(l, &part->share[i], t)
        t->share = s->id;
        s->marks |= part->share[i].marks;
    }
    part->n = first;
}

/* "All wool", "pure cotton": the one fibre of the part makes up the whole of it. */
static void complete(struct tb_part *part)
{
    /* "pure" beside another fibre is a finding, and completes nothing */
    if (part->n == 1 && isnan(part->share->percent) && part->share->marks & TB_MARK_PURE)
        part->share->percent = 100;
}

/* "elastic: 80 % nylon": the rules spare a part that stretches. */
static bool is_elastic(const struct label *l, const struct tb_cut_part *named)
{
    for (size_t i = 0; i < l->tokens && named->named; i++)
        if (l->token[i].in == TB_CUT_NAME && named->at <= l->token[i].at &&
            l->token[i].at < named->at + named->len && tb_label_is(&l->token[i], "what:elastic"))
            return true;
    return false;
}

/* "(back constitutes 40 % of fabric)": what is left is the other's, where there are two that make up the cloth. */
static void complete_ratio(struct label *l)
{
    double *a, *b;

    if (l->comp.n != 2 || l->comp.part[0].kind == l->comp.part[1].kind)
        return;
    a = &l->ratio[l->comp.part[0].kind];
    b = &l->ratio[l->comp.part[1].kind];
    if (isnan(*a) && *b > 0 && *b < 100)
        *a = 100 - *b;
    else if (isnan(*b) && *a > 0 && *a < 100)
        *b = 100 - *a;
}

/* A part may be empty: a word for a lining that is only announced, or a heading nobody knows. */
static void finish(struct label *l)
{
    size_t kept = 0;

    for (size_t i = 0; i < l->comp.n; i++) {
        join_second_list(l, &l->comp.part[i]);
        complete(&l->comp.part[i]);
        for (size_t k = 0; k < l->comp.part[i].n && is_elastic(l, &l->cut.part[i]); k++)
            l->comp.part[i].share[k].marks |= SAID_ELASTIC;
        if (l->comp.part[i].n)
            l->comp.part[kept++] = l->comp.part[i];
        else
            free(l->comp.part[i].share);
    }
    l->comp.n = kept;
    complete_ratio(l);
}

/* With a new part begins a new statement. A sign or a word set aside belongs to no part and changes nothing. */
static void on_token(struct parser *p, const struct token *t)
{
    if (t->in < p->l->comp.n && &p->l->comp.part[t->in] != p->now) {
        end_part(p);
        p->now = &p->l->comp.part[t->in];
    }
    if (t->kind == TOKEN_MARK)
        on_mark(p, t->mark);
    else if (t->in == TB_CUT_ASIDE)
        on_ratio(p, t);
    else if (t->kind == TOKEN_PERCENT)
        on_percent(p, t);
    else if (t->kind == TOKEN_WORD && t->in != TB_CUT_NAME)
        on_word(p, t);
}

static void read_in(struct label *out, const struct tb_law *law, const char *langs, const char *text,
                    size_t n)
{
    struct parser p = { .l = out, .next.percent = NAN, .ratio = TB_PART_KINDS };

    *out = (struct label){ .left_out = NAN, .except = NAN };
    for (size_t i = 0; i < TB_PART_KINDS; i++)
        out->ratio[i] = NAN;
    tb_label_cut(out, law, langs, text, n);
    for (size_t i = 0; i < out->cut.n; i++)
        (void)tb_composition_add_part(&out->comp, out->cut.part[i].kind);
    p.now = out->comp.part;
    for (; p.i < out->tokens; p.i++)
        on_token(&p, &out->token[p.i]);
    end_part(&p);
    finish(out);
}

/* Percentages without the name of a fibre. */
static size_t nameless(const struct label *l)
{
    size_t n = l->orphans;

    for (size_t i = 0; i < l->comp.n; i++)
        for (size_t k = 0; k < l->comp.part[i].n; k++)
            n += l->comp.part[i].share[k].fibre == SHARE_NO_FIBRE;
    return n;
}

/*
 * A short word of a foreign language is passed over, for it may be any word ("la", "in"). Where a percentage is left
 * without a fibre ("100 % ull"), the text is read again with the short words of all languages.
 */
void tb_law_label_read(struct label *out, const struct tb_law *law, const char *langs, const char *text,
                       size_t n)
{
    struct label again;

    read_in(out, law, langs, text, n);
    if (!nameless(out))
        return;
    read_in(&again, law, ANY_LANGUAGE, text, n);
    if (nameless(&again) >= nameless(out)) {
        tb_law_label_free(&again);
        return;
    }
    tb_law_label_free(out);
    *out = again;
}
