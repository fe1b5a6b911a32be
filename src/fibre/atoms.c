/*
 * What each token of a declaration does to the statement it stands in: it becomes an atom (a figure or a fibre), a mark
 * on one, a separator, or a doubt. Which figure goes with which fibre is not decided here, see pair.c.
 */
#include "fibre/atoms.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define KIND_NEAR 1e-9 /* 6.6 as it was read and 6.6 as it is written here are one figure */

static struct tb_atom *add_atom(struct tb_part_text *p, const struct tb_token *t)
{
    struct tb_atom *a;

    TB_PUSH_ROOM(p->atom, p->n, p->cap);
    a = &p->atom[p->n++];
    *a = (struct tb_atom){ .t = t, .fibre = -1, .comma = p->comma, .slash = p->slash };
    p->comma = p->slash = false;
    return a;
}

/* "Wool / Laine", "COTTON COTON ALGODON": the same fibre said again in another language is said once. */
static bool said_again(struct tb_declaration *d, const struct tb_part_text *p, const struct tb_token *t)
{
    const struct tb_atom *last = p->n ? &p->atom[p->n - 1] : NULL;
    const struct tb_name *r = tb_row_of(t);
    unsigned marks = tb_name_more[t->row].marks | p->pending;
    int fibre = t->what == TB_WORD_OTHER ? TB_FIBRE_OTHER : r->fibre; /* "other fibres / autres fibres" */

    if (!last || last->figure || p->comma || (fibre < 0 && fibre != TB_FIBRE_OTHER) || last->fibre != fibre ||
        (marks & ~last->marks))
        return false;
    d->word[t->word].share = last->t->word; /* put right once the shares stand */
    return true;
}

/* One word may be several fibres: T/C is polyester and cotton, in the order in which its figures come. */
static void add_fibres(struct tb_declaration *d, struct tb_part_text *p, const struct tb_token *t)
{
    const struct tb_name *r = tb_row_of(t);
    unsigned marks = tb_name_more[t->row].marks | p->pending;

    if (said_again(d, p, t)) {
        p->pending = 0;
        p->slash = false;
        return;
    }
    p->pending = 0;
    if (r->fibre < 0 && strchr(r->means, '+') && !strchr(r->means, '|')) {
        char *copy = tb_strdup(r->means), *save = NULL;

        for (char *key = strtok_r(copy, "+", &save); key; key = strtok_r(NULL, "+", &save)) {
            struct tb_atom *a = add_atom(p, t);

            a->fibre = tb_fibre_by_key(key);
            a->marks = marks;
        }
        free(copy);
        return;
    }
    struct tb_atom *a = add_atom(p, t);

    a->fibre = t->what == TB_WORD_OTHER ? TB_FIBRE_OTHER : r->fibre >= 0 ? r->fibre : TB_FIBRE_UNKNOWN;
    a->marks = marks;
}

/* A mark belongs to the fibre that follows at once, else to the one before in the same statement. */
static void add_mark(struct tb_part_text *p, const struct tb_token *t, const struct tb_token *next)
{
    unsigned marks = tb_name_more[t->row].marks;
    bool after = p->n && !p->comma && !p->atom[p->n - 1].figure;

    if (after && !(next && tb_names_fibre(next)))
        p->atom[p->n - 1].marks |= marks;
    else
        p->pending |= marks;
    p->mark = t;
}

/* A comma separates a mark from what follows. */
static void let_go(struct tb_part_text *p)
{
    if (p->pending) {
        p->loose |= p->pending;
        p->loose_mark = p->mark;
        p->pending = 0;
    }
}

/* Marks beside no fibre belong to the only fibre there is; of several, it has to be asked. */
void tb_settle_marks(struct tb_declaration *d, struct tb_part_text *p)
{
    struct tb_atom *only = NULL;
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
                     "it is not clear which fibre '%.*s' belongs to", (int)p->loose_mark->len,
                     d->text + p->loose_mark->at);
}

static bool may_be_and(const struct tb_declaration *d, const struct tb_token *w)
{
    const struct tb_word *word = &d->word[w->word];

    for (size_t i = 0; i < word->names && w->what == TB_WORD_AMBIGUOUS; i++)
        if (word->name[i].kind == TB_WORD_AND)
            return true;
    return false;
}

/*
 * Italian in capitals, "60% COTONE E 40% POLIESTERE": E is the code of a fibre elsewhere, but here both sides are
 * complete without it, so it is an "and". The only place where the words around a code decide.
 */
static bool and_in_capitals(const struct tb_declaration *d, const struct tb_part_text *p,
                            const struct tb_tokens *t, size_t i)
{
    return may_be_and(d, &t->item[i]) && p->n >= 2 && !p->comma && !p->slash && !p->atom[p->n - 1].figure &&
           p->atom[p->n - 2].figure && i + 2 < t->n && t->item[i + 1].kind == TB_TOKEN_NUMBER &&
           t->item[i + 1].at > t->item[i].at + t->item[i].len && tb_names_fibre(&t->item[i + 2]);
}

static bool is_with(const struct tb_token *w)
{
    return w->what == TB_WORD_FILLER && strcmp(tb_row_of(w)->means, "with") == 0;
}

#define FINISH "finish:" /* before its key, in the words that name one */

/*
 * Finishes are kept beside the composition: they are no share of it and change no name. A fibre's name may say one too:
 * Trevira CS is a polyester that is flame retardant.
 */
static void take_finish(struct tb_declaration *d, const struct tb_token *w)
{
    const struct tb_name *row = tb_row_of(w);

    if (row && strncmp(row->means, FINISH, sizeof FINISH - 1) == 0)
        d->finish |= 1u << tb_finish_by_key(row->means + sizeof FINISH - 1);
}

void tb_take_fibre(struct tb_declaration *d, struct tb_part_text *p, const struct tb_token *t)
{
    tb_doubt_word(d, t);
    add_fibres(d, p, t);
}

/* "made in Italy": the words for a country are no fibre, and its code no finish: "made in FR". */
static bool is_origin(const struct tb_tokens *t, size_t i)
{
    size_t most = t->item[i].what == TB_WORD_UNKNOWN ? 2 : tb_is_short(&t->item[i]) ? 1 : 0;

    for (size_t back = 1; back <= most && back <= i; back++) {
        const struct tb_token *w = &t->item[i - back];

        if (w->kind != TB_TOKEN_WORD)
            return false;
        if (w->what == TB_WORD_FILLER && strcmp(tb_row_of(w)->means, "origin") == 0)
            return true;
    }
    return false;
}

/* The order matters: what the grammar or the words before settle must not be doubted as a word. */
static void take_word(struct tb_declaration *d, struct tb_part_text *p, const struct tb_tokens *t, size_t i)
{
    const struct tb_token *w = &t->item[i];

    if (and_in_capitals(d, p, t, i)) {
        d->word[w->word].kind = TB_WORD_AND;
        p->comma = true;
        return;
    }
    if (is_origin(t, i))
        return;
    tb_doubt_word(d, w);
    take_finish(d, w);
    if (tb_names_fibre(w)) {
        add_fibres(d, p, w);
    } else if (w->what == TB_WORD_UNKNOWN) {
        struct tb_atom *a;

        if (p->n && p->atom[p->n - 1].unknown && !p->comma && !p->slash)
            return; /* several unknown words in a row are one unknown thing */
        a = add_atom(p, w);
        a->fibre = TB_FIBRE_UNKNOWN;
        a->unknown = true;
    } else if (w->what == TB_WORD_MARK) {
        add_mark(p, w, i + 1 < t->n ? &t->item[i + 1] : NULL);
    } else if (w->what == TB_WORD_AND || is_with(w)) {
        let_go(p);
        p->comma = true;
    }
}

/*
 * "100% nylon 6.6", "PA6 40% CO 60%": the kind of a polyamide, not a percentage. Only where a figure before or behind
 * is there to be the percentage: "nylon 6" alone is asked about.
 */
static bool polyamide_kind(const struct tb_part_text *p, const struct tb_tokens *t, size_t i)
{
    static const double kind[] = { 6, 6.6, 66, 11, 12 };
    const struct tb_token *x = &t->item[i];
    bool figure_before = p->n >= 2 && p->atom[p->n - 2].figure && !p->atom[p->n - 1].comma;
    bool figure_after = i + 1 < t->n && t->item[i + 1].kind == TB_TOKEN_NUMBER;

    if (x->percent || p->comma || p->slash || p->n == 0 || p->atom[p->n - 1].figure ||
        p->atom[p->n - 1].fibre != tb_fibre_by_key("nylon") ||
        (i + 1 < t->n && tb_names_fibre(&t->item[i + 1])))
        return false;
    for (size_t k = 0; k < TB_COUNT(kind); k++)
        if (fabs(x->value - kind[k]) < KIND_NEAR)
            return figure_before || figure_after;
    return false;
}

void tb_take_token(struct tb_declaration *d, struct tb_part_text *p, const struct tb_tokens *t, size_t i)
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
        tb_doubt_add(d, TB_DOUBT_UNKNOWN_WORD, x->at, x->len, NULL, "this sign has no meaning here");
        break;
    default:
        break;
    }
}
