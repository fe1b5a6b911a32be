/*
 * A label read: parts, shares, and what is said besides. A label has a tighter grammar than a supplier's words, and
 * the law asks which word was used for what, so it is read here and not from a composition.
 */
#include "law/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct parser {
    struct label *l;
    const struct tb_law *law;
    size_t i;          /* token at hand */
    double pending;    /* percentage that waits for its name; NAN: none */
    bool after;        /* in this part the percentage stands after the name */
    bool styled;       /* before or after is settled */
    bool closed;       /* the next share begins a new part */
    bool more, less;   /* said of the pending percentage */
    unsigned marks;    /* marks that wait for their name */
    bool pure;         /* "all", "pure" waits for its name */
    size_t since;      /* first share since the last strong separator */
    size_t stray_from; /* first stray word since the pending percentage */
};

static const struct token *at(const struct parser *p, size_t i)
{
    static const struct token none = { .kind = TOKEN_MARK, .mark = '\0' };

    return i < p->l->words.n ? &p->l->words.token[i] : &none;
}

static bool is_mark(const struct token *t, char mark)
{
    return t->kind == TOKEN_MARK && t->mark == mark;
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

static struct part *part_now(struct parser *p)
{
    if (p->l->n == 0 || p->closed)
        return open_part(p, TB_PART_WHOLE, false);
    return &p->l->part[p->l->n - 1];
}

static struct share *last_share(const struct parser *p)
{
    const struct part *part = p->l->n ? &p->l->part[p->l->n - 1] : NULL;

    return part && part->n && !p->closed ? &part->share[part->n - 1] : NULL;
}

static void name_with(struct share *s, size_t token)
{
    if (s->words < SHARE_WORDS_MOST)
        s->word[s->words++] = token;
}

static struct share *add_share(struct parser *p, int fibre, size_t token)
{
    struct part *part = part_now(p);
    struct share *s;

    TB_PUSH_ROOM(part->share, part->n, part->cap);
    s = &part->share[part->n++];
    *s = (struct share){ .fibre = fibre,
                         .percent = p->pending,
                         .marks = p->marks,
                         .more = p->more,
                         .less = p->less,
                         .pure = p->pure };
    if (p->pure)
        s->marks |= TB_MARK_PURE;
    name_with(s, token);
    p->pending = NAN;
    p->marks = 0;
    p->pure = p->more = p->less = false;
    return s;
}

/* Was the token before this one (a stroke, hyphen or registered sign aside) a word of the share? */
static bool touches(const struct parser *p, const struct share *s, bool *stroke)
{
    size_t before = p->i;

    *stroke = false;
    for (; before && at(p, before - 1)->kind == TOKEN_MARK; before--) {
        char mark = at(p, before - 1)->mark;

        if (mark != '/' && mark != '-' && mark != 'R')
            break;
        *stroke |= mark != 'R';
    }
    return before && s->words && s->word[s->words - 1] == before - 1;
}

/* "Wool / Laine", "Coton Cotton": one share under two names. */
static bool other_name_of_last(struct parser *p, int fibre)
{
    struct share *s = last_share(p);
    bool stroke;

    if (!s || !isnan(p->pending) || s->fibre != fibre)
        return false;
    if (!touches(p, s, &stroke) && !p->marks && !p->pure)
        return false;
    name_with(s, p->i);
    s->marks |= p->marks;
    s->pure |= p->pure; /* "all wool / toute laine" */
    p->marks = 0;
    p->pure = false;
    return true;
}

static void on_fibre(struct parser *p, int fibre, unsigned marks)
{
    struct share *s = last_share(p);

    p->marks |= marks;
    if (s && s->aggregate && isnan(p->pending))
        return; /* "man-made fibers: rayon, acetate": named, not counted */
    if (other_name_of_last(p, fibre))
        return;
    (void)add_share(p, fibre, p->i);
}

static void on_percent(struct parser *p, const struct token *t)
{
    struct share *s = last_share(p);

    if (!p->styled) {
        const struct token *before = at(p, p->i ? p->i - 1 : 0);

        p->after = s && isnan(s->percent) && isnan(p->pending) && p->i && before->kind == TOKEN_WORD;
        p->styled = true;
    }
    if (p->after && s && isnan(s->percent)) {
        s->percent = t->value;
        s->more |= p->more;
        s->less |= p->less;
        p->more = p->less = false;
    } else if (!isnan(p->pending)) {
        p->l->orphans++;
        p->pending = t->value;
    } else {
        p->pending = t->value;
    }
    if (isnan(t->value))
        p->l->orphans++;
    p->stray_from = p->l->strays;
}

/* A percentage whose name never came: the strange words since then stand in the fibre's place. */
static void settle(struct parser *p)
{
    struct label *l = p->l;

    if (isnan(p->pending))
        return;
    if (l->strays > p->stray_from) {
        size_t first = l->stray[p->stray_from];

        l->strays = p->stray_from;
        (void)add_share(p, SHARE_NO_FIBRE, first);
    } else {
        l->orphans++;
        p->pending = NAN;
    }
    p->stray_from = l->strays;
}

static void stray(struct parser *p)
{
    struct label *l = p->l;

    TB_PUSH_ROOM(l->stray, l->strays, l->stray_cap);
    l->stray[l->strays++] = p->i;
}

/* --- parts ------------------------------------------------------------------------------------------------ */

static enum tb_part_kind part_of(const struct token *t)
{
    for (size_t i = 0; i < t->lexes; i++) {
        int kind = -1;

        if (t->lex[i].kind == LEX_PHRASE && strncmp(t->lex[i].what, "part:", 5) == 0)
            kind = tb_part_by_key(t->lex[i].what + 5);
        else if (t->lex[i].kind == LEX_PHRASE && strcmp(t->lex[i].what, "part") == 0 && t->lex[i].name)
            kind = tb_part_by_key(t->lex[i].name->means);
        if (kind >= 0)
            return (enum tb_part_kind)kind;
    }
    return TB_PART_KINDS;
}

static bool introduces(const struct parser *p)
{
    const struct token *next = at(p, p->i + 1);

    return is_mark(next, ':') || is_mark(next, '-');
}

/* "100 % nylon pile": the word closes what stands before it. "pile: 100 % nylon": it opens what follows. */
static void on_part(struct parser *p, enum tb_part_kind kind)
{
    struct part *now = p->l->n && !p->closed ? &p->l->part[p->l->n - 1] : NULL;
    struct share *s = last_share(p);

    settle(p);
    if (now && now->kind == kind && now->n == 0)
        return; /* "shell / coquille:" */
    if (now && !now->opened && s && !isnan(s->percent) && !introduces(p)) {
        now->kind = kind;
        p->closed = true;
        return;
    }
    if (now && s && isnan(s->percent) && now->n > p->since && !s->pure)
        now->n--; /* "cotton backing 100 % cotton": the first word says what kind of backing */
    if (now && now->n == 0 && !now->opened) {
        now->kind = kind;
        now->opened = true;
        p->styled = p->closed = false;
        return;
    }
    (void)open_part(p, kind, true);
}

/* "(face constitutes 60 % of fabric and back 40 %)": figures of parts, no fibre. Where it ends; 0: it is none. */
static size_t ratio_group(struct parser *p)
{
    enum tb_part_kind kind = TB_PART_KINDS;
    double seen[TB_PART_KINDS];
    size_t figures = 0, i;

    for (i = 0; i < TB_PART_KINDS; i++)
        seen[i] = NAN;
    for (i = p->i + 1; i < p->l->words.n && !is_mark(at(p, i), ')'); i++) {
        const struct token *t = at(p, i);

        if (token_entry(t, LEX_NAME))
            return 0;
        if (part_of(t) != TB_PART_KINDS)
            kind = part_of(t);
        if (t->kind == TOKEN_PERCENT && kind != TB_PART_KINDS) {
            seen[kind] = t->value;
            figures++;
        }
    }
    if (figures < 2)
        return 0;
    memcpy(p->l->ratio, seen, sizeof seen);
    return i;
}

/* --- phrases ---------------------------------------------------------------------------------------------- */

static unsigned excluded_kind(const struct token *t)
{
    static const struct {
        const char *key;
        unsigned bit;
    } kind[] = { { "what:ornamentation", EXCLUDES_ORNAMENT },
                 { "what:decoration", EXCLUDES_DECORATION },
                 { "what:elastic", EXCLUDES_ELASTIC },
                 { "what:trimming", EXCLUDES_TRIMMING },
                 { "what:reinforcement", EXCLUDES_REINFORCEMENT } };

    for (size_t i = 0; i < TB_COUNT(kind); i++)
        if (token_is(t, kind[i].key))
            return kind[i].bit;
    return 0;
}

/* The phrase in one piece: "exclusive of elastic". */
static unsigned without_kind(const struct token *t)
{
    static const struct {
        const char *key;
        unsigned bit;
    } kind[] = { { "without:ornamentation", EXCLUDES_ORNAMENT },
                 { "without:decoration", EXCLUDES_DECORATION },
                 { "without:elastic", EXCLUDES_ELASTIC },
                 { "without:trimming", EXCLUDES_TRIMMING },
                 { "without:reinforcement", EXCLUDES_REINFORCEMENT } };

    for (size_t i = 0; i < TB_COUNT(kind); i++)
        if (token_is(t, kind[i].key))
            return kind[i].bit;
    return 0;
}

/* "exclusive of [4 % metallic] ornamentation": up to the word that says what, or the end of the sentence. */
static void on_exclusive(struct parser *p)
{
    size_t i = p->i + 1;

    settle(p);
    while (i < p->l->words.n && !excluded_kind(at(p, i)) && !is_mark(at(p, i), ';') &&
           !is_mark(at(p, i), '.') && !is_mark(at(p, i), '\n') && i < p->i + 6)
        i++;
    if (excluded_kind(at(p, i))) {
        p->l->excludes |= excluded_kind(at(p, i));
        p->i = i;
    } else {
        p->l->excludes |= EXCLUDES_UNSAID;
    }
}

static bool ends_a_clause(const struct token *t)
{
    return is_mark(t, ';') || is_mark(t, '.') || is_mark(t, '\n') || is_mark(t, '\0') || is_mark(t, ')');
}

/* "except 5 % nylon added to toe and heel" */
static void on_except(struct parser *p)
{
    settle(p);
    while (!ends_a_clause(at(p, p->i + 1))) {
        p->i++;
        if (at(p, p->i)->kind == TOKEN_PERCENT)
            p->l->except = at(p, p->i)->value;
    }
}

static void on_origin(struct parser *p)
{
    struct tb_text t = { 0 };

    while (p->i + 1 < p->l->words.n && at(p, p->i + 1)->kind == TOKEN_WORD && t.n < 60) {
        char *word = token_text(&p->l->words, at(p, ++p->i));

        tb_text_addf(&t, "%s%s", t.n ? " " : "", word);
        free(word);
    }
    free(p->l->origin);
    p->l->origin = t.n ? tb_text_take(&t) : NULL;
    tb_text_free(&t);
}

/* "viscose (made) from bamboo": the source after the name. */
static void on_from(struct parser *p)
{
    struct share *s = last_share(p);
    const struct token *next = at(p, p->i + 1);

    if (!s || next->kind != TOKEN_WORD || (token_entry(next, LEX_NAME) && !token_class(next, "bamboo")))
        return;
    if (token_class(next, "bamboo") || token_class(next, "misnomer")) {
        s->from_bamboo = true;
        name_with(s, ++p->i); /* "rayon from bamboo / rayonne de bambou": the second name touches the first */
    }
}

/* Constituents in brackets after "biconstituent fiber", or "polyester/nylon composite fiber" before it. */
static void on_composite(struct parser *p)
{
    struct part *now = part_now(p);
    struct share *s;

    if (!isnan(p->pending)) {
        (void)add_share(p, SHARE_COMPOSITE, p->i);
        return;
    }
    if (now->n < 2 || !isnan(now->share[now->n - 1].percent) || isnan(now->share[now->n - 2].percent))
        return;
    now->n--;
    s = &now->share[now->n - 1];
    s->fibre = SHARE_COMPOSITE;
    s->word[0] = p->i;
    s->words = 1;
}

/* "(65 % nylon, 35 % polyester)" after a composite: into label.inner. Where it ends. */
static size_t inner_group(struct parser *p)
{
    struct part *in = &p->l->inner;
    double pending = NAN;
    size_t i = p->i + 1;

    for (; i < p->l->words.n && !is_mark(at(p, i), ')'); i++) {
        const struct lex *name = token_entry(at(p, i), LEX_NAME);

        if (at(p, i)->kind == TOKEN_PERCENT)
            pending = at(p, i)->value;
        if (!name)
            continue;
        TB_PUSH_ROOM(in->share, in->n, in->cap);
        in->share[in->n] = (struct share){ .fibre = name->fibre, .percent = pending };
        name_with(&in->share[in->n++], i);
        pending = NAN;
    }
    return i;
}

/* Marks before the name, or (French, and "100 % wool, recycled") after it. */
static void on_state(struct parser *p, unsigned mark)
{
    struct share *s = last_share(p);
    const struct token *next = at(p, p->i + 1);
    bool stroke;

    if (s && s->fibre >= 0 && isnan(p->pending) && touches(p, s, &stroke) && !token_entry(next, LEX_NAME)) {
        s->marks |= mark;
        name_with(s, p->i);
        return;
    }
    p->marks |= mark;
}

static void on_unknown(struct parser *p, bool mixed)
{
    struct share *s = last_share(p);

    p->l->mixed |= mixed;
    if (s && s->fibre == TB_FIBRE_UNKNOWN && isnan(p->pending))
        return; /* "secondhand materials - fiber content unknown" */
    (void)add_share(p, TB_FIBRE_UNKNOWN, p->i);
}

static void on_other(struct parser *p, bool plural)
{
    if (other_name_of_last(p, TB_FIBRE_OTHER)) {
        last_share(p)->plural |= plural;
        return;
    }
    add_share(p, TB_FIBRE_OTHER, p->i)->plural = plural;
}

static void on_amount(struct parser *p, bool more)
{
    struct share *s = last_share(p);
    bool after_percent = p->i && at(p, p->i - 1)->kind == TOKEN_PERCENT;

    if (more && after_percent && s && p->after && isnan(p->pending))
        s->more = true;
    else if (more)
        p->more = true;
    else
        p->less = true;
}

static void on_number(struct parser *p)
{
    const struct token *t = at(p, p->i), *next = at(p, p->i + 1);

    if (p->i && token_is(at(p, p->i - 1), "super"))
        p->l->super = t->value > 0 && t->value < 1000 ? (int)t->value : 0;
    else if (p->i && token_is(at(p, p->i - 1), "registered"))
        p->l->registered = true;
    if (is_mark(next, '\'') && at(p, p->i + 2)->kind == TOKEN_WORD && at(p, p->i + 2)->len == 1)
        p->i += 2; /* 120's */
}

/* --- one token -------------------------------------------------------------------------------------------- */

/* Phrases that say something of the whole label. */
static bool on_saying(struct parser *p, const struct token *t)
{
    if (without_kind(t)) {
        settle(p);
        p->l->excludes |= without_kind(t);
    } else if (token_is(t, "exclusive"))
        on_exclusive(p);
    else if (token_is(t, "except"))
        on_except(p);
    else if (token_is(t, "origin"))
        on_origin(p);
    else if (token_is(t, "imported"))
        p->l->imported = true;
    else if (token_is(t, "animal_parts"))
        p->l->animal_parts = true;
    else if (token_is(t, "union_parts"))
        p->l->united_parts = true;
    else if (token_is(t, "union"))
        p->l->united = true;
    else if (token_is(t, "chiefly"))
        p->l->chiefly = true;
    else if (token_is(t, "registered") || token_is(t, "super"))
        return at(p, p->i + 1)->kind == TOKEN_NUMBER;
    else
        return false;
    return true;
}

/* Phrases that stand for a share or change the next one. */
static bool on_phrase(struct parser *p, const struct token *t)
{
    if (token_is(t, "virgin_wool"))
        on_fibre(p, tb_fibre_by_key("wool"), TB_MARK_VIRGIN);
    else if (token_is(t, "other_fibres") || token_is(t, "other_fibre"))
        on_other(p, !token_is(t, "other_fibre"));
    else if (token_is(t, "mixed") || token_is(t, "unknown") || token_is(t, "category"))
        on_unknown(p, token_is(t, "mixed"));
    else if (token_is(t, "manmade"))
        add_share(p, TB_FIBRE_OTHER, p->i)->aggregate = true;
    else if (token_is(t, "composite"))
        on_composite(p);
    else if (token_is(t, "pure"))
        p->pure = true;
    else if (token_is(t, "virgin"))
        on_state(p, TB_MARK_VIRGIN);
    else if (token_is(t, "recycled") || token_is(t, "recycled_old"))
        on_state(p, TB_MARK_RECYCLED);
    else if (token_is(t, "more") || token_is(t, "less"))
        on_amount(p, token_is(t, "more"));
    else if (token_is(t, "from"))
        on_from(p);
    else if (excluded_kind(t) && introduces(p)) {
        on_part(p, TB_PART_OTHER);
        part_now(p)->elastic = token_is(t, "what:elastic");
    } else
        return false;
    return true;
}

/* Words of the tables that name no fibre: in a fibre's place they take it, elsewhere they are remembered. */
static void on_class(struct parser *p, const struct token *t)
{
    const struct lex *l = token_entry(t, LEX_CLASS);
    const struct token *next = at(p, p->i + 1 + is_mark(at(p, p->i + 1), 'R'));
    struct share *last = last_share(p);
    bool hangs = !isnan(p->pending) && !token_entry(next, LEX_NAME) && !token_is(next, "virgin_wool");
    bool number_follows = isnan(p->pending) && next->kind == TOKEN_PERCENT && (!p->styled || p->after);

    if (strcmp(l->what, "descriptor") == 0 || strcmp(l->what, "property") == 0)
        return;
    if (!hangs && !number_follows) {
        bool stroke;

        if (last && l->fibre >= 0 && last->fibre == l->fibre && isnan(p->pending) &&
            touches(p, last, &stroke))
            name_with(last, p->i); /* "lyocell Tencel / lyocell Tencel" is one share */
        return;
    }
    if ((strcmp(l->what, "abbreviation") == 0 || strcmp(l->what, "variety") == 0 ||
         strcmp(l->what, "trade_mark") == 0 || strcmp(l->what, "animal") == 0) &&
        l->fibre >= 0)
        on_fibre(p, l->fibre, 0);
    else if (next->kind != TOKEN_WORD || !token_entry(next, LEX_CLASS))
        (void)add_share(p, SHARE_NO_FIBRE, p->i);
}

static void on_word(struct parser *p, const struct token *t)
{
    const struct lex *name = token_entry(t, LEX_NAME);

    if (on_saying(p, t) || on_phrase(p, t))
        return;
    if (part_of(t) != TB_PART_KINDS)
        on_part(p, part_of(t));
    else if (token_is(t, "section"))
        on_part(p, TB_PART_OTHER);
    else if (name)
        on_fibre(p, name->fibre, 0);
    else if (token_entry(t, LEX_PHRASE))
        return; /* filler */
    else if (token_entry(t, LEX_CLASS))
        on_class(p, t);
    else if (is_mark(at(p, p->i + 1), ':') && last_share(p) && isnan(p->pending))
        on_part(p, TB_PART_OTHER); /* "ribbing: 95 % cotton": whatever it is, it has shares of its own */
    else
        stray(p);
}

static void on_mark(struct parser *p, const struct token *t)
{
    const struct share *s = last_share(p);

    if (t->mark == '(') {
        size_t end = ratio_group(p);

        if (!end && s && s->fibre == SHARE_COMPOSITE)
            end = inner_group(p);
        if (end)
            p->i = end;
    } else if (t->mark == ',' || t->mark == ';' || t->mark == '\n') {
        settle(p);
        if (t->mark == ';')
            p->since = p->l->n ? p->l->part[p->l->n - 1].n : 0;
    } else if (t->mark == '%' && !(p->i && is_mark(at(p, p->i - 1), '_'))) {
        p->l->orphans++; /* a sign without a figure: "NaN %", and no blank to fill in */
    } else if (t->mark == '_') {
        p->l->blanks = true;
        if (s && isnan(s->percent))
            p->l->part[p->l->n - 1].n--; /* a line of the printed list left blank */
    }
}

/* --- after the words are through --------------------------------------------------------------------------- */

static double sum_until(const struct part *part, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += isnan(part->share[i].percent) ? 0 : part->share[i].percent;
    return sum;
}

/* "60 % cotton 40 % polyester / 60 % coton 40 % polyester": the second list names the first again. */
static void join_second_list(struct part *part)
{
    size_t first = 0, kept;

    while (first < part->n && fabs(sum_until(part, first) - 100) > 0.01)
        first++;
    for (kept = first; kept < part->n; kept++) {
        struct share *again = &part->share[kept], *s = NULL;

        for (size_t k = 0; k < first; k++)
            if (part->share[k].fibre == again->fibre && fabs(part->share[k].percent - again->percent) < 1e-9)
                s = &part->share[k];
        if (!s)
            return;
    }
    for (size_t i = first; i < part->n; i++)
        for (size_t k = 0; k < first; k++)
            if (part->share[k].fibre == part->share[i].fibre &&
                fabs(part->share[k].percent - part->share[i].percent) < 1e-9) {
                for (size_t n = 0; n < part->share[i].words; n++)
                    name_with(&part->share[k], part->share[i].word[n]);
                part->share[k].marks |= part->share[i].marks;
                break;
            }
    if (first < part->n && first > 0)
        part->n = first;
}

/* "All wool", "pure cotton": the one fibre of the part makes up the whole of it. */
static void complete(struct part *part)
{
    struct share *s = part->n == 1 ? &part->share[0] : NULL;

    if (s && isnan(s->percent) && s->pure)
        s->percent = 100;
    if (s && s->percent == 100)
        s->pure = true;
}

static void finish(struct label *l)
{
    size_t kept = 0;

    for (size_t i = 0; i < l->n; i++) {
        join_second_list(&l->part[i]);
        complete(&l->part[i]);
        if (l->part[i].n == 0) {
            free(l->part[i].share);
            continue;
        }
        l->part[kept++] = l->part[i];
    }
    l->n = kept;
}

void tb_law_label_read(struct label *out, const struct tb_law *law, const char *langs, const char *text,
                       size_t n)
{
    struct parser p = { .l = out, .law = law, .pending = NAN };

    *out = (struct label){ .except = NAN };
    for (size_t i = 0; i < TB_PART_KINDS; i++)
        out->ratio[i] = NAN;
    tb_law_words(&out->words, law, langs, text, n);
    for (; p.i < out->words.n; p.i++) {
        const struct token *t = at(&p, p.i);

        if (t->kind == TOKEN_PERCENT)
            on_percent(&p, t);
        else if (t->kind == TOKEN_NUMBER)
            on_number(&p);
        else if (t->kind == TOKEN_WORD)
            on_word(&p, t);
        else
            on_mark(&p, t);
    }
    settle(&p);
    finish(out);
}

void tb_law_label_free(struct label *l)
{
    for (size_t i = 0; i < l->n; i++)
        free(l->part[i].share);
    free(l->part);
    free(l->inner.share);
    free(l->stray);
    free(l->origin);
    tb_law_words_free(&l->words);
    *l = (struct label){ 0 };
}

size_t label_shares(const struct label *l)
{
    size_t n = 0;

    for (size_t i = 0; i < l->n; i++)
        n += l->part[i].n;
    return n;
}

size_t part_named(const struct part *p)
{
    size_t n = 0;

    for (size_t i = 0; i < p->n; i++)
        n += p->share[i].fibre >= 0 || p->share[i].fibre == SHARE_COMPOSITE;
    return n;
}

bool label_composition(struct tb_composition *out, const struct label *l)
{
    *out = (struct tb_composition){ 0 };
    for (size_t i = 0; i < l->n; i++) {
        struct tb_part *part = tb_composition_add_part(out, l->part[i].kind);

        for (size_t k = 0; k < l->part[i].n; k++) {
            const struct share *s = &l->part[i].share[k];

            double percent =
                isnan(s->percent) && l->part[i].n == 1 ? 100 : s->percent; /* "wool": all of it */

            if (s->fibre < TB_FIBRE_UNKNOWN || !(percent > 0 && percent <= 100)) {
                tb_composition_free(out);
                *out = (struct tb_composition){ 0 };
                return false;
            }
            tb_part_add_share(part, s->fibre, percent)->marks = s->marks;
        }
    }
    return out->n > 0;
}

/* --- words a label does not use, which the reader of declarations understands: "CO 60 PES 40", "65/35 poly/cotton" */

static bool has_figures(const struct label *l)
{
    for (size_t i = 0; i < l->n; i++)
        for (size_t k = 0; k < l->part[i].n; k++)
            if (!isnan(l->part[i].share[k].percent))
                return true;
    return l->united || l->inner.n || l->orphans;
}

/* The token that holds the byte; the first one when none does. */
static size_t token_over(const struct label *l, size_t byte)
{
    for (size_t i = 0; i < l->words.n; i++)
        if (l->words.token[i].at <= byte && byte < l->words.token[i].at + l->words.token[i].len)
            return i;
    return 0;
}

static void take_share(struct part *p, const struct label *l, const struct tb_declaration *d, size_t part,
                       size_t share)
{
    const struct tb_share *from = &d->comp.part[part].share[share];
    struct share *s;

    TB_PUSH_ROOM(p->share, p->n, p->cap);
    s = &p->share[p->n++];
    *s = (struct share){
        .fibre = from->fibre, .percent = from->percent, .marks = from->marks, .plural = true
    };
    for (size_t i = 0; i < d->words && l->words.n; i++)
        if (d->word[i].part == part && d->word[i].share == share)
            name_with(s, token_over(l, d->word[i].at));
}

void tb_law_label_read_freely(struct label *l, const char *text, size_t n)
{
    struct tb_declaration d = { 0 };

    if (has_figures(l))
        return;
    tb_declaration_read(&d, text, n);
    if (tb_declaration_clear(&d) && d.comp.n) {
        for (size_t i = 0; i < l->n; i++)
            free(l->part[i].share);
        free(l->part);
        l->part = NULL;
        l->n = l->cap = l->strays = 0;
        for (size_t i = 0; i < d.comp.n; i++) {
            TB_PUSH_ROOM(l->part, l->n, l->cap);
            l->part[l->n] = (struct part){ .kind = d.comp.part[i].kind };
            for (size_t k = 0; k < d.comp.part[i].n; k++)
                take_share(&l->part[l->n], l, &d, i, k);
            l->n++;
        }
        l->freely = has_figures(l);
    }
    tb_declaration_free(&d);
}
