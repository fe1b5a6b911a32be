/*
 * A label read: tokens into parts and shares. A label has a tighter grammar than a supplier's words, and the law asks
 * which word was used for what and what was said besides, so it is no declaration.
 */
#include "law/label.h"

#include <math.h>
#include <string.h>

const struct token *tb_label_at(const struct parser *p, size_t i)
{
    static const struct token none = { .kind = TOKEN_MARK, .mark = '\0' };

    return i < p->l->words.n ? &p->l->words.token[i] : &none;
}

bool tb_label_is_mark(const struct token *t, char mark)
{
    return t->kind == TOKEN_MARK && t->mark == mark;
}

bool tb_label_introduces(const struct parser *p)
{
    const struct token *next = tb_label_at(p, p->i + 1);

    return tb_label_is_mark(next, ':') || tb_label_is_mark(next, '-');
}

static struct part *open_part(struct parser *p, enum tb_part_kind kind, bool opened)
{
    struct label *l = p->l;

    TB_PUSH_ROOM(l->part, l->n, l->cap);
    l->part[l->n] = (struct part){ .kind = kind, .opened = opened };
    p->styled = p->closed = false;
    p->since = 0;
    return &l->part[l->n++];
}

static struct part *open_now(const struct parser *p)
{
    return p->l->n && !p->closed ? &p->l->part[p->l->n - 1] : NULL;
}

struct part *tb_label_part(struct parser *p)
{
    struct part *now = open_now(p);

    return now ? now : open_part(p, TB_PART_WHOLE, false);
}

struct share *tb_label_last(const struct parser *p)
{
    const struct part *now = open_now(p);

    return now && now->n ? &now->share[now->n - 1] : NULL;
}

void tb_label_name(struct share *s, size_t token)
{
    if (s->words < SHARE_WORDS_MOST)
        s->word[s->words++] = token;
}

struct share *tb_label_add(struct parser *p, int fibre, size_t token)
{
    struct part *part = tb_label_part(p);
    struct share *s;

    TB_PUSH_ROOM(part->share, part->n, part->cap);
    s = &part->share[part->n++];
    *s = p->next;
    s->fibre = fibre;
    tb_label_name(s, token);
    p->next = (struct share){ .percent = NAN };
    return s;
}

bool tb_label_touches(const struct parser *p, const struct share *s)
{
    size_t before = p->i;

    while (before && tb_label_at(p, before - 1)->kind == TOKEN_MARK &&
           memchr("/-R", tb_label_at(p, before - 1)->mark, 3))
        before--;
    return before && s->words && s->word[s->words - 1] == before - 1;
}

bool tb_label_again(struct parser *p, int fibre)
{
    struct share *s = tb_label_last(p);

    if (!s || !isnan(p->next.percent) || s->fibre != fibre)
        return false;
    if (!tb_label_touches(p, s) && !p->next.marks)
        return false;
    tb_label_name(s, p->i);
    s->marks |= p->next.marks; /* "all wool / toute laine" */
    p->next.marks = 0;
    return true;
}

void tb_label_fibre(struct parser *p, int fibre, unsigned marks)
{
    const struct share *s = tb_label_last(p);

    p->next.marks |= marks;
    if (s && s->aggregate && isnan(p->next.percent))
        return; /* "man-made fibers: rayon, acetate": named, not counted */
    if (!tb_label_again(p, fibre))
        (void)tb_label_add(p, fibre, p->i);
}

/* A percentage whose name never came: the strange words since then stand in the fibre's place. */
void tb_label_settle(struct parser *p)
{
    struct label *l = p->l;

    if (isnan(p->next.percent))
        return;
    if (l->strays > p->stray_from) {
        l->strays = p->stray_from;
        (void)tb_label_add(p, SHARE_NO_FIBRE, l->stray[p->stray_from]);
    } else {
        l->orphans++;
        p->next.percent = NAN;
    }
}

/* "100 % nylon pile": the word closes what stands before it. "pile: 100 % nylon": it opens what follows. */
void tb_label_open(struct parser *p, enum tb_part_kind kind)
{
    const struct share *s;
    struct part *now;

    tb_label_settle(p);
    s = tb_label_last(p);
    now = open_now(p);
    if (now && now->kind == kind && now->n == 0)
        return; /* "shell / coquille:" */
    if (now && !now->opened && s && !isnan(s->percent) && !tb_label_introduces(p)) {
        now->kind = kind;
        p->closed = true;
        return;
    }
    if (now && s && isnan(s->percent) && now->n > p->since && !(s->marks & TB_MARK_PURE))
        now->n--; /* "cotton backing 100 % cotton": the first word says what kind of backing */
    if (!now || now->n || now->opened)
        now = open_part(p, kind, true);
    now->kind = kind;
    now->opened = true;
    p->styled = false;
}

static void on_percent(struct parser *p, const struct token *t)
{
    struct share *s = tb_label_last(p);
    bool unnamed = !isnan(p->next.percent);

    if (!p->styled)
        p->after = s && isnan(s->percent) && !unnamed && tb_label_at(p, p->i - 1)->kind == TOKEN_WORD;
    p->styled = true;
    if (p->after && s && isnan(s->percent)) {
        s->percent = t->value;
        s->more |= p->next.more;
        s->less |= p->next.less;
        p->next.more = p->next.less = false;
    } else {
        p->l->orphans += unnamed ? 1 : 0;
        p->next.percent = t->value;
    }
    p->l->orphans += isnan(t->value) ? 1 : 0;
    p->stray_from = p->l->strays;
}

/* Words of the tables that name no fibre: in a fibre's place they take it, elsewhere they are remembered. */
static void on_class(struct parser *p, const struct lex *l)
{
    const struct token *next = tb_label_at(p, p->i + 1 + tb_label_is_mark(tb_label_at(p, p->i + 1), 'R'));
    struct share *last = tb_label_last(p);
    bool waits = !isnan(p->next.percent);
    bool hangs = waits && !token_entry(next, LEX_NAME) && !token_is(next, "virgin_wool");
    bool number_follows = !waits && next->kind == TOKEN_PERCENT && (!p->styled || p->after);

    if (tb_law_list_has("descriptor|property", l->what))
        return;
    if (!hangs && !number_follows) {
        if (last && l->fibre >= 0 && last->fibre == l->fibre && !waits && tb_label_touches(p, last))
            tb_label_name(last, p->i); /* "lyocell Tencel / lyocell Tencel" is one share */
    } else if (tb_law_list_has("abbreviation|variety|trade_mark|animal", l->what) && l->fibre >= 0) {
        tb_label_fibre(p, l->fibre, 0);
    } else if (next->kind != TOKEN_WORD || !token_entry(next, LEX_CLASS)) {
        (void)tb_label_add(p, SHARE_NO_FIBRE, p->i);
    }
}

static void on_word(struct parser *p, const struct token *t)
{
    const struct lex *name = token_entry(t, LEX_NAME);
    struct label *l = p->l;

    if (tb_label_says(p, t))
        return;
    if (tb_label_leaves_out(t, "what:") && tb_label_introduces(p)) { /* "elastic: 80 % nylon" */
        tb_label_open(p, TB_PART_OTHER);
        tb_label_part(p)->elastic = token_is(t, "what:elastic");
    } else if (tb_label_part_named(t) != TB_PART_KINDS)
        tb_label_open(p, tb_label_part_named(t));
    else if (name)
        tb_label_fibre(p, name->fibre, 0);
    else if (token_entry(t, LEX_PHRASE))
        return; /* filler */
    else if (token_entry(t, LEX_CLASS))
        on_class(p, token_entry(t, LEX_CLASS));
    else if (tb_label_is_mark(tb_label_at(p, p->i + 1), ':') && tb_label_last(p) && isnan(p->next.percent))
        tb_label_open(p,
                      TB_PART_OTHER); /* "ribbing: 95 % cotton": whatever it is, it has shares of its own */
    else {
        TB_PUSH_ROOM(l->stray, l->strays, l->stray_cap);
        l->stray[l->strays++] = p->i;
    }
}

static void on_mark(struct parser *p, char mark)
{
    const struct share *s = tb_label_last(p);
    struct label *l = p->l;

    if (mark == '(') {
        tb_label_group(p);
    } else if (mark == ',' || mark == ';' || mark == '\n') {
        tb_label_settle(p);
        if (mark == ';')
            p->since = l->n ? l->part[l->n - 1].n : 0;
    } else if (mark == '%' && !tb_label_is_mark(tb_label_at(p, p->i - 1), '_')) {
        l->orphans++; /* a sign without a figure: "NaN %", and no blank to fill in */
    } else if (mark == '_') {
        l->blanks = true;
        if (s && isnan(s->percent))
            l->part[l->n - 1].n--; /* a line of the printed list left blank */
    }
}

void tb_law_label_read(struct label *out, const struct tb_law *law, const char *langs, const char *text,
                       size_t n)
{
    struct parser p = { .l = out, .next.percent = NAN };

    *out = (struct label){ .except = NAN };
    for (size_t i = 0; i < TB_PART_KINDS; i++)
        out->ratio[i] = NAN;
    tb_law_words(&out->words, law, langs, text, n);
    for (; p.i < out->words.n; p.i++) {
        const struct token *t = tb_label_at(&p, p.i);

        if (t->kind == TOKEN_PERCENT)
            on_percent(&p, t);
        else if (t->kind == TOKEN_WORD)
            on_word(&p, t);
        else if (t->kind == TOKEN_MARK)
            on_mark(&p, t->mark);
    }
    tb_label_settle(&p);
    tb_label_finish(out);
}
