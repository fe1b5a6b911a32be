/*
 * From tokens to parts and shares. A part's statement is a row of atoms (figures and fibres) with separators
 * between; a figure goes to a fibre only when there is one way to pair them. What cannot be paired is doubted.
 */
#include "fibre/reader.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A figure, or a fibre in it. */
struct atom {
    const struct tb_token *t;
    bool figure;
    int fibre;    /* of a fibre atom; TB_FIBRE_UNKNOWN for a word that leaves it open */
    bool unknown; /* a word of no table: a fibre only if a figure speaks for it */
    unsigned marks;
    bool comma, slash;          /* stands between it and the atom before */
    const struct tb_token *pct; /* the figure it was given */
};

struct part_text {
    enum tb_part_kind kind;
    const struct tb_token *name; /* the word that names it; NULL: none */
    size_t label_at, label_len;  /* of a part named otherwise */
    struct atom *atom;
    size_t n, cap;
    unsigned pending;                         /* marks that wait for the next fibre */
    unsigned loose;                           /* marks that stood between commas, beside no fibre */
    const struct tb_token *mark, *loose_mark; /* the last word for each */
    bool comma, slash;                        /* since the last atom */
};

struct parts {
    struct part_text *part;
    size_t n, cap;
};

static struct part_text *open_part(struct parts *ps, enum tb_part_kind kind, const struct tb_token *name)
{
    TB_PUSH_ROOM(ps->part, ps->n, ps->cap);
    ps->part[ps->n] = (struct part_text){ .kind = kind, .name = name };
    if (name) {
        ps->part[ps->n].label_at = name->at;
        ps->part[ps->n].label_len = name->len;
    }
    return &ps->part[ps->n++];
}

static struct atom *add_atom(struct part_text *p, const struct tb_token *t)
{
    struct atom *a;

    TB_PUSH_ROOM(p->atom, p->n, p->cap);
    a = &p->atom[p->n++];
    *a = (struct atom){ .t = t, .fibre = -1, .comma = p->comma, .slash = p->slash };
    p->comma = p->slash = false;
    return a;
}

/* --- what a word does ---------------------------------------------------------------------------------- */

static const struct tb_name *row_of(const struct tb_token *t)
{
    return t->row < 0 ? NULL : &tb_name_table[t->row];
}

/* Words that stand for a fibre, known or open. */
static bool names_fibre(const struct tb_token *t)
{
    const struct tb_name *r = row_of(t);

    if (t->kind != TB_TOKEN_WORD)
        return false;
    switch (t->what) {
    case TB_WORD_MISNOMER:
        return strcmp(r->means, "not_fibre") != 0;
    case TB_WORD_VAGUE:
        return strcmp(r->means, "class") == 0;
    case TB_WORD_CONSTRUCTION:
    case TB_WORD_MARK:
    case TB_WORD_PART:
    case TB_WORD_HEADER:
    case TB_WORD_FILLER:
    case TB_WORD_AND:
    case TB_WORD_PERCENT:
    case TB_WORD_UNKNOWN:
        return false;
    default:
        return true;
    }
}

static bool is_atom(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_NUMBER || names_fibre(t) ||
           (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_UNKNOWN);
}

/* "Wool / Laine", "COTTON COTON ALGODON": the same fibre said again in another language is said once. */
static bool said_again(struct tb_declaration *d, const struct part_text *p, const struct tb_token *t)
{
    const struct atom *last = p->n ? &p->atom[p->n - 1] : NULL;
    const struct tb_name *r = row_of(t);
    unsigned marks = tb_name_more[t->row].marks | p->pending;

    if (!last || last->figure || p->comma || r->fibre < 0 || last->fibre != r->fibre ||
        (marks & ~last->marks))
        return false;
    d->word[t->word].share = last->t->word; /* put right once the shares stand */
    return true;
}

static void add_fibres(struct tb_declaration *d, struct part_text *p, const struct tb_token *t)
{
    const struct tb_name *r = row_of(t);
    unsigned marks = tb_name_more[t->row].marks | p->pending;

    if (said_again(d, p, t)) {
        p->pending = 0;
        p->slash = false;
        return;
    }
    p->pending = 0;
    if (r->fibre < 0 && strchr(r->means, '+') &&
        !strchr(r->means, '|')) { /* T/C: each of them, in this order */
        char *copy = tb_strdup(r->means), *save = NULL;

        for (char *key = strtok_r(copy, "+", &save); key; key = strtok_r(NULL, "+", &save)) {
            struct atom *a = add_atom(p, t);

            a->fibre = tb_fibre_by_key(key);
            a->marks = marks;
        }
        free(copy);
        return;
    }
    struct atom *a = add_atom(p, t);

    a->fibre = t->what == TB_WORD_OTHER ? TB_FIBRE_OTHER : r->fibre >= 0 ? r->fibre : TB_FIBRE_UNKNOWN;
    a->marks = marks;
}

/* A mark belongs to the fibre that follows at once, else to the one before in the same statement. */
static void add_mark(struct part_text *p, const struct tb_token *t, const struct tb_token *next)
{
    unsigned marks = tb_name_more[t->row].marks;
    bool after = p->n && !p->comma && !p->atom[p->n - 1].figure;

    if (after && !(next && names_fibre(next)))
        p->atom[p->n - 1].marks |= marks;
    else
        p->pending |= marks;
    p->mark = t;
}

/* A comma parts a mark from what follows. */
static void let_go(struct part_text *p)
{
    if (p->pending) {
        p->loose |= p->pending;
        p->loose_mark = p->mark;
        p->pending = 0;
    }
}

/* Marks beside no fibre: of the only fibre there is, else nobody can say of which. */
static void settle_marks(struct tb_declaration *d, struct part_text *p)
{
    struct atom *only = NULL;
    size_t fibres = 0;

    let_go(p);
    for (size_t i = 0; i < p->n; i++)
        if (!p->atom[i].figure) {
            only = &p->atom[i];
            fibres++;
        }
    if (p->loose && fibres == 1)
        only->marks |= p->loose;
    else if (p->loose)
        tb_doubt_add(d, TB_DOUBT_AMBIGUOUS, p->loose_mark->at, p->loose_mark->len, NULL,
                     "it is not clear which fibre '%.*s' is said of", (int)p->loose_mark->len,
                     d->text + p->loose_mark->at);
}

/* --- cutting the tokens into parts ----------------------------------------------------------------------- */

/*
 * Words with a colon behind, an unknown one among them and none a fibre, name a part of their own: "upper collar
 * facing:". Answers where the colon is, or i when the words from here are no such name.
 */
static size_t other_label(const struct tb_tokens *t, size_t i)
{
    bool unknown = false;
    size_t k = i;

    for (; k < t->n && t->item[k].kind == TB_TOKEN_WORD && !names_fibre(&t->item[k]); k++)
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

        if (w->kind == TB_TOKEN_WORD && w->what == TB_WORD_FILLER && strcmp(row_of(w)->means, "except") == 0)
            return true;
        if (is_atom(w))
            return false;
    }
    return false;
}

/* Do the words for the parts stand before what they are made of ("warp cotton") or after ("cotton warp")? */
static bool parts_come_first(const struct tb_tokens *t)
{
    bool seen = false, last_is_part = false;

    for (size_t i = 0; i < t->n; i++) {
        if (is_part(t, i) && !left_out(t, i)) {
            if (!seen || (i + 1 < t->n && t->item[i + 1].kind == TB_TOKEN_COLON) || other_label(t, i) != i)
                return true;
            last_is_part = true;
        } else if (is_atom(&t->item[i])) {
            seen = true;
            last_is_part = false;
        }
    }
    return !last_is_part;
}

static void name_part(struct part_text *p, const struct tb_token *t, const struct tb_token *end)
{
    p->kind =
        t->what == TB_WORD_PART && t == end ? (enum tb_part_kind)tb_name_more[t->row].part : TB_PART_OTHER;
    p->name = t;
    p->label_at = t->at;
    p->label_len = end->at + end->len - t->at;
}

static bool may_be_and(const struct tb_declaration *d, const struct tb_token *w)
{
    return w->row >= 0 && w->what == TB_WORD_AMBIGUOUS && tb_word_is(&d->word[w->word], TB_WORD_AND, NULL);
}

/* Italian in capitals, "60% COTONE E 40% POLIESTERE": an "and", since both sides are complete without it. */
static bool and_in_capitals(const struct tb_declaration *d, const struct part_text *p,
                            const struct tb_tokens *t, size_t i)
{
    return may_be_and(d, &t->item[i]) && p->n >= 2 && !p->comma && !p->slash && !p->atom[p->n - 1].figure &&
           p->atom[p->n - 2].figure && i + 2 < t->n && t->item[i + 1].kind == TB_TOKEN_NUMBER &&
           t->item[i + 1].at > t->item[i].at + t->item[i].len && names_fibre(&t->item[i + 2]);
}

static void take_word(struct tb_declaration *d, struct part_text *p, const struct tb_tokens *t, size_t i)
{
    const struct tb_token *w = &t->item[i];

    if (and_in_capitals(d, p, t, i)) {
        d->word[w->word].kind = TB_WORD_AND;
        p->comma = true;
        return;
    }
    tb_doubt_word(d, w);
    if (names_fibre(w)) {
        add_fibres(d, p, w);
    } else if (w->what == TB_WORD_UNKNOWN) {
        struct atom *a;

        if (p->n && p->atom[p->n - 1].unknown && !p->comma && !p->slash)
            return; /* several unknown words in a row are one unknown thing */
        a = add_atom(p, w);
        a->fibre = TB_FIBRE_UNKNOWN;
        a->unknown = true;
    } else if (w->what == TB_WORD_MARK) {
        add_mark(p, w, i + 1 < t->n ? &t->item[i + 1] : NULL);
    } else if (w->what == TB_WORD_AND) {
        let_go(p);
        p->comma = true;
    }
}

/* "100% nylon 6.6", "PA6 40% CO 60%": the kind of a polyamide, not a percentage. */
static bool polyamide_kind(const struct part_text *p, const struct tb_tokens *t, size_t i)
{
    static const double kind[] = { 6, 6.6, 66, 11, 12 };
    const struct tb_token *x = &t->item[i];
    bool figure_before = p->n >= 2 && p->atom[p->n - 2].figure && !p->atom[p->n - 1].comma;
    bool figure_after = i + 1 < t->n && t->item[i + 1].kind == TB_TOKEN_NUMBER;

    if (x->percent || p->comma || p->slash || p->n == 0 || p->atom[p->n - 1].figure ||
        p->atom[p->n - 1].fibre != tb_fibre_by_key("nylon") || (i + 1 < t->n && names_fibre(&t->item[i + 1])))
        return false;
    for (size_t k = 0; k < TB_COUNT(kind); k++)
        if (fabs(x->value - kind[k]) < 1e-9)
            return figure_before || figure_after;
    return false;
}

static void take_token(struct tb_declaration *d, struct part_text *p, const struct tb_tokens *t, size_t i)
{
    const struct tb_token *x = &t->item[i];

    switch (x->kind) {
    case TB_TOKEN_NUMBER:
        if (polyamide_kind(p, t, i))
            break;
        if (!(x->value > 0 && x->value <= 100)) {
            tb_doubt_add(d, TB_DOUBT_NUMBER, x->at, x->len, NULL, "'%.*s' cannot be a percentage",
                         (int)x->len, d->text + x->at);
            break;
        }
        add_atom(p, x)->figure = true;
        break;
    case TB_TOKEN_WORD:
        take_word(d, p, t, i);
        break;
    case TB_TOKEN_COMMA:
        let_go(p);
        p->comma = true;
        break;
    case TB_TOKEN_SLASH:
        p->slash = true;
        break;
    case TB_TOKEN_JUNK:
        tb_doubt_add(d, TB_DOUBT_UNKNOWN_WORD, x->at, x->len, NULL, "a sign that says nothing we know");
        break;
    default:
        break;
    }
}

static double figures_sum(const struct part_text *p, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += p->atom[i].figure ? p->atom[i].t->value : 0;
    return sum;
}

/* "100% cotton, 100% polyester lining": what is complete before the named part is the cloth itself. */
static void split_complete(struct parts *ps)
{
    struct part_text *p = &ps->part[ps->n - 1];

    for (size_t i = 1; i < p->n; i++) {
        struct part_text rest, *whole;

        if (!p->atom[i].comma || fabs(figures_sum(p, i) - 100) > 0.5)
            continue;
        rest = *p;
        rest.atom = tb_array(struct atom, p->n - i);
        rest.n = rest.cap = p->n - i;
        memcpy(rest.atom, p->atom + i, rest.n * sizeof *rest.atom);
        rest.atom[0].comma = false;
        p->n = i;
        p->kind = TB_PART_WHOLE;
        p->name = NULL;
        TB_PUSH_ROOM(ps->part, ps->n, ps->cap);
        whole = &ps->part[ps->n++];
        *whole = rest;
        return;
    }
}

static bool says_something(const struct tb_token *t)
{
    return is_atom(t) || (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_MARK);
}

static void cut_parts(struct tb_declaration *d, const struct tb_tokens *t, struct parts *ps)
{
    bool first = parts_come_first(t);
    bool closed = false; /* the open part has had its name behind it */
    struct part_text *p = open_part(ps, TB_PART_WHOLE, NULL);

    for (size_t i = 0; i < t->n; i++) {
        size_t end = i;

        if (!is_part(t, i) || left_out(t, i)) {
            if (closed && says_something(&t->item[i])) {
                p = open_part(ps, TB_PART_WHOLE, NULL);
                closed = false;
            }
            take_token(d, p, t, i);
            continue;
        }
        if (other_label(t, i) != i)
            end = other_label(t, i) - 1;
        if (closed || (first && (p->n || p->name)))
            p = open_part(ps, TB_PART_WHOLE, NULL);
        name_part(p, &t->item[i], &t->item[end]);
        if (!first) {
            split_complete(ps);
            p = &ps->part[ps->n - 1];
            closed = true;
        }
        i = end;
    }
}

/* --- pairing figures with fibres ------------------------------------------------------------------------- */

static size_t run_length(const struct atom *a, size_t n)
{
    size_t k = 1;

    while (k < n && a[k].figure == a[0].figure)
        k++;
    return k;
}

static void give(struct atom *fibre, const struct atom *figure)
{
    fibre->pct = figure->t;
}

/* k figures and k fibres in a row, whichever come first: by order. */
static bool pair_runs(struct atom *a, size_t n)
{
    size_t k = run_length(a, n);

    if (2 * k != n || run_length(a + k, n - k) != k)
        return false;
    for (size_t i = 0; i < k; i++)
        if (a[0].figure)
            give(&a[k + i], &a[i]);
        else
            give(&a[i], &a[k + i]);
    return true;
}

/* Figure, fibre, figure, fibre ... : pair after pair, each of equal runs. */
static bool pair_all(struct atom *a, size_t n)
{
    size_t at = 0;

    while (at < n) {
        size_t k = run_length(a + at, n - at);

        if (at + 2 * k > n || run_length(a + at + k, n - at - k) < k)
            return false;
        if (run_length(a + at + k, n - at - k) != k)
            return false;
        at += 2 * k;
    }
    for (at = 0; at < n;) {
        size_t k = run_length(a + at, n - at);

        (void)pair_runs(a + at, 2 * k);
        at += 2 * k;
    }
    return n > 0;
}

/* Without the unknown words: they may be a colour or a name, not a fibre. */
static bool pair_without_unknown(struct atom *a, size_t n)
{
    struct atom *known = tb_array(struct atom, n);
    size_t *from = tb_array(size_t, n), m = 0;
    bool any = false, ok;

    for (size_t i = 0; i < n; i++) {
        if (a[i].unknown) {
            any = true;
            continue;
        }
        from[m] = i;
        known[m++] = a[i];
    }
    ok = any && m && pair_all(known, m);
    for (size_t i = 0; ok && i < m; i++)
        a[from[i]] = known[i];
    free(known);
    free(from);
    return ok;
}

static bool only_fibres(const struct atom *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (a[i].figure)
            return false;
    return true;
}

static void pair_statement(struct tb_declaration *d, struct atom *a, size_t n);

/* "97% CO/3% EL", "wool/20% nylon": each side of a slash for itself, when each is complete or has no figure. */
static bool pair_by_slash(struct tb_declaration *d, struct atom *a, size_t n)
{
    bool any = false;

    for (size_t i = 0, k; i < n; i = k) {
        for (k = i + 1; k < n && !a[k].slash; k++)
            ;
        any |= k < n;
        if (!only_fibres(a + i, k - i) && !(k - i == 2 && a[i].figure != a[i + 1].figure))
            return false;
    }
    for (size_t i = 0, k; any && i < n; i = k) {
        for (k = i + 1; k < n && !a[k].slash; k++)
            ;
        pair_statement(d, a + i, k - i);
    }
    return any;
}

static void pair_statement(struct tb_declaration *d, struct atom *a, size_t n)
{
    if (n == 0 || only_fibres(a, n) || pair_all(a, n) || pair_without_unknown(a, n))
        return;
    if (pair_by_slash(d, a, n))
        return;
    for (size_t i = 0; i < n; i++)
        if (a[i].figure)
            tb_doubt_add(d, TB_DOUBT_NUMBER, a[i].t->at, a[i].t->len, NULL,
                         "it is not clear which fibre '%.*s' belongs to", (int)a[i].t->len,
                         d->text + a[i].t->at);
}

static void pair_part(struct tb_declaration *d, struct part_text *p)
{
    if (pair_runs(p->atom, p->n)) /* "cotton, polyester 65/35": by order, whatever stands between */
        return;
    for (size_t i = 0, k; i < p->n; i = k) {
        for (k = i + 1; k < p->n && !p->atom[k].comma; k++)
            ;
        pair_statement(d, p->atom + i, k - i);
    }
}

/* --- shares, sums ---------------------------------------------------------------------------------------- */

static void doubt_range(struct tb_declaration *d, const struct tb_token *t)
{
    tb_doubt_add(d, TB_DOUBT_RANGE, t->at, t->len, NULL, "'%.*s' is a range, not one figure", (int)t->len,
                 d->text + t->at);
}

static void add_share(struct tb_declaration *d, struct tb_part *part, const struct atom *a)
{
    struct tb_word *w = &d->word[a->t->word];
    struct tb_share *s = tb_part_add_share(part, a->fibre, a->pct ? a->pct->value : NAN);

    s->marks = a->marks;
    if (a->pct) {
        s->tolerance = a->pct->tolerance;
        if (!isnan(a->pct->to)) {
            s->percent = NAN;
            doubt_range(d, a->pct);
        }
    }
    if (w->part == TB_NOWHERE) {
        w->part = d->comp.n - 1;
        w->share = part->n - 1;
    }
    for (size_t k = 0; k + 1 < part->n; k++)
        if (a->fibre >= 0 && part->share[k].fibre == a->fibre && part->share[k].marks == a->marks)
            tb_doubt_add(d, TB_DOUBT_REPEATED, a->t->at, a->t->len, NULL, "%s is named twice in one part",
                         tb_fibre_at(a->fibre)->name);
}

static bool has_doubt(const struct tb_declaration *d, enum tb_doubt_kind kind, size_t from)
{
    for (size_t i = from; i < d->n; i++)
        if (d->doubt[i].kind == kind)
            return true;
    return false;
}

/* 100 within half a step of the coarsest figure for each share, and never more than half a point off. */
static bool sums_up(double sum, double unit, size_t n)
{
    double gap = fabs(sum - 100);

    return gap <= 0.5 + 1e-9 && gap <= 0.5 * unit * (double)n + 1e-6;
}

static void check_sum(struct tb_declaration *d, const struct part_text *p, const struct tb_part *part,
                      size_t from)
{
    double sum = 0, unit = 0;
    size_t without = 0, at = p->n ? p->atom[0].t->at : 0, end = at;

    for (size_t i = 0; i < p->n; i++) {
        const struct tb_token *pct = p->atom[i].pct;

        end = p->atom[i].t->at + p->atom[i].t->len > end ? p->atom[i].t->at + p->atom[i].t->len : end;
        if (pct && pct->unit > unit)
            unit = pct->unit;
    }
    for (size_t k = 0; k < part->n; k++) {
        without += isnan(part->share[k].percent) ? 1 : 0;
        sum += isnan(part->share[k].percent) ? 0 : part->share[k].percent;
    }
    if (without && part->n > 1 && !has_doubt(d, TB_DOUBT_RANGE, from))
        tb_doubt_add(d, TB_DOUBT_NO_PERCENT, at, end - at, NULL,
                     without == part->n ? "%zu fibres and no percentages"
                                        : "%zu of the fibres without a percentage",
                     without);
    else if (!without && !sums_up(sum, unit, part->n))
        tb_doubt_add(d, TB_DOUBT_SUM, at, end - at, NULL, "the percentages add up to %.10g, not to 100", sum);
}

/* A word of no table counts as a share only when a figure speaks for it. */
static bool is_share(const struct atom *a)
{
    return !a->figure && (!a->unknown || a->pct);
}

static void make_part(struct tb_declaration *d, struct part_text *p)
{
    struct tb_part *part;
    size_t from = d->n, fibres = 0;

    pair_part(d, p);
    settle_marks(d, p);
    for (size_t i = 0; i < p->n; i++)
        fibres += is_share(&p->atom[i]);
    if (!p->name && fibres == 0)
        return; /* figures without a fibre, already doubted */
    part = tb_composition_add_part(&d->comp, p->kind);
    if (p->kind == TB_PART_OTHER && p->name)
        part->label = tb_strndup(d->text + p->label_at, p->label_len);
    if (p->name)
        d->word[p->name->word].part = d->comp.n - 1;
    for (size_t i = 0; i < p->n; i++)
        if (is_share(&p->atom[i]))
            add_share(d, part, &p->atom[i]);
    if (part->n == 0)
        tb_doubt_add(d, TB_DOUBT_EMPTY, p->label_at, p->label_len, NULL, "no fibre is named for '%s'",
                     part->label ? part->label : tb_part_key(p->kind));
    else
        check_sum(d, p, part, from);
}

/* --- all together ------------------------------------------------------------------------------------------ */

static int by_place(const void *a, const void *b)
{
    const struct tb_doubt *x = a, *y = b;

    if (x->at != y->at)
        return x->at < y->at ? -1 : 1;
    return (x->kind > y->kind) - (x->kind < y->kind);
}

/* A word that said a fibre again goes where the first one went. */
static void follow_first(struct tb_declaration *d)
{
    for (size_t i = 0; i < d->words; i++) {
        struct tb_word *w = &d->word[i];

        if (w->part == TB_NOWHERE && w->share != TB_NOWHERE) {
            const struct tb_word *first = &d->word[w->share];

            w->part = first->part;
            w->share = first->part == TB_NOWHERE ? TB_NOWHERE : first->share;
        }
    }
}

void tb_arrange(struct tb_declaration *d, const struct tb_tokens *t)
{
    struct parts ps = { 0 };

    cut_parts(d, t, &ps);
    for (size_t i = 0; i < ps.n; i++) {
        if (ps.part[i].n || ps.part[i].name) /* an unnamed part without a word is no part */
            make_part(d, &ps.part[i]);
        free(ps.part[i].atom);
    }
    free(ps.part);
    follow_first(d);
    if (d->n > 1)
        qsort(d->doubt, d->n, sizeof *d->doubt, by_place);
}
