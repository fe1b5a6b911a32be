/*
 * paper_body.c - which lines of a paper are rows of its table, which are the header above them, and where cells touch.
 *
 * What no word of any row covers runs down between the rows like a valley. A valley divides cells where the rows show that it
 * is no space between words: it is wide in some of them, or of another width in each, or of one that no space has.
 */
#include "base/paper.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HEADER_LINES 4 /* at most */
#define LOOSE 1.7F     /* heights from line to line of one header, at most */
#define CLOSE 1.15F    /* heights: lines of one text */
#define CLEARLY 0.95F  /* of the distance of rows */
#define APART 3.5F     /* heights from the header to the first row, at most */
#define OFF 0.25F      /* of a space: a gap so much wider or narrower is none */
#define NEARLY 0.06F   /* likewise, where the header is divided there too */
#define SLIP 0.2F      /* of points or signs: places are rounded */
#define BUSY 5         /* of so many rows one may run on across a valley */

/* ---- rows and header --------------------------------------------------------------------------------------------- */

static bool is_digit(const struct tb_paper_table *t, const struct tb_paper_word *w)
{
    return isdigit((unsigned char)t->paper->text.s[w->text]);
}

static bool any_figure(const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    for (size_t i = l->word; i < (size_t)l->word + l->words; i++)
        if (is_digit(t, &t->paper->word[i]))
            return true;
    return false;
}

static bool any_label(const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    for (size_t k = 0; k < l->n; k++)
        if (tb_phrase_labels(t, &t->phrase[l->phrase + k]))
            return true;
    return false;
}

static float from_to(const struct tb_paper_line *upper, const struct tb_paper_line *lower)
{
    return lower->top - upper->top;
}

/* How far the first row of a page is from the one below it; a phrase alone that is as far above a header is a title. */
static float pitch(const struct tb_paper_table *t, size_t first)
{
    return first + 1 < t->lines && t->line[first + 1].row && t->line[first + 1].page == t->line[first].page
               ? from_to(&t->line[first], &t->line[first + 1])
               : 0;
}

/* Lines of words that stand close above the first row of a page, or above one another. */
static bool mark_header(struct tb_paper_table *t, size_t first)
{
    float most = APART, rows = pitch(t, first);

    for (size_t i = first; i > 0 && first - i < HEADER_LINES; i--) {
        struct tb_paper_line *l = &t->line[i - 1];
        float off = from_to(l, &t->line[i]);

        if (l->page != t->line[first].page || off > most * (l->bottom - l->top) || any_figure(t, l) ||
            any_label(t, l) ||
            (i < first && l->n == 1 && off > CLEARLY * rows && off > CLOSE * (l->bottom - l->top)))
            break;
        l->header = true;
        most = LOOSE;
    }
    return t->line[first - (first > 0)].header;
}

static bool may_be_row(const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    return !l->huge && l->n >= t->dense && l->n > 1 && any_figure(t, l) && !any_label(t, l);
}

/* The first line of words alone that has more than half of the phrases of the fullest one, and most rows below it. */
static size_t first_header(const struct tb_paper_table *t)
{
    size_t found = 0, above = 0, below = 0;
    bool none = true;

    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        if (none && !tb_paper_partial(t, l) && !any_figure(t, l) && !any_label(t, l)) {
            found = i;
            none = false;
        }
        above += none && may_be_row(t, l);
        below += !none && may_be_row(t, l);
    }
    return below > above ? found : 0;
}

/* Does a row of the same page stand above line i, and nothing but parts of rows between the two? Then no header does. */
static bool goes_on(const struct tb_paper_table *t, size_t i)
{
    size_t k = i;

    while (k > 0 && t->line[k - 1].page == t->line[i].page && !t->line[k - 1].row &&
           tb_paper_partial(t, &t->line[k - 1]))
        k--;
    return k > 0 && k < i && t->line[k - 1].page == t->line[i].page && t->line[k - 1].row;
}

/* A row has a figure in it, and no label as a title has; what stands above the first header is title. */
static void mark_lines(struct tb_paper_table *t)
{
    size_t from = first_header(t);

    t->rows = 0;
    for (size_t i = 0; i < t->lines; i++) {
        struct tb_paper_line *l = &t->line[i];

        l->header = false;
        l->row = i >= from && may_be_row(t, l);
        t->rows += l->row;
    }
    t->headers = 0;
    for (size_t i = 0; i < t->lines; i++)
        if (t->line[i].row && !goes_on(t, i) &&
            (i == 0 || !t->line[i - 1].row || t->line[i - 1].page != t->line[i].page))
            t->headers += mark_header(t, i);
}

/* ---- valleys ------------------------------------------------------------------------------------------------------- */

struct edge {
    float at;
    int step; /* so many more words from here on */
};
struct valley {
    float left, right;
    size_t together, apart, off,
        odd; /* rows with words close beside it on both sides: as one phrase, as two, ... */
    bool header_apart, header_odd;
    bool headed;        /* it lies between two headers, ... */
    float over, begins; /* ... which begin here and here */
    size_t under;       /* of the rows that are together: a figure under the one, words under the other */
    size_t left_lines, right_lines; /* of the header, with words close beside it */
    float least, most;              /* heights of a line: the gaps of rows that have one phrase there */
};
struct valleys {
    struct valley *at;
    size_t n;
};

static int by_place(const void *a, const void *b)
{
    const struct edge *x = a, *y = b;

    return x->at != y->at ? (x->at < y->at ? -1 : 1) : y->step - x->step;
}

static bool counts(const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    return l->header || (l->row && !tb_paper_partial(t, l));
}

/* A word of a header weighs more than all rows that may run on. */
static size_t take_edges(const struct tb_paper_table *t, struct edge *e, int header)
{
    size_t n = 0;

    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        for (size_t k = l->word; counts(t, l) && k < (size_t)l->word + l->words; k++) {
            const struct tb_paper_word *w = &t->paper->word[k];
            int weight = l->header ? header : 1;

            e[n++] = (struct edge){ w->left, weight };
            e[n++] = (struct edge){ w->right > w->left ? w->right : w->left, -weight };
        }
    }
    qsort(e, n, sizeof *e, by_place);
    return n;
}

/* Stretches that at most `few` words cover, each of them narrowed to where the fewest do. */
static void find_valleys(const struct tb_paper_table *t, struct valleys *v)
{
    struct edge *e = tb_array(struct edge, 2 * t->paper->words + 1);
    size_t few = 0, n, cap = 0;
    int cover = 0, least = 0;
    bool open = false;

    for (size_t i = 0; i < t->lines; i++)
        few += t->line[i].row && counts(t, &t->line[i]);
    few /= BUSY;
    n = take_edges(t, e, (int)few + 1);
    for (size_t i = 0; i + 1 < n; i++) {
        cover += e[i].step;
        if ((size_t)cover > few) {
            open = false;
            continue;
        }
        if (e[i + 1].at <= e[i].at)
            continue;
        if (!open || cover < least) {
            if (!open) {
                TB_PUSH_ROOM(v->at, v->n, cap);
                v->n++;
            }
            v->at[v->n - 1] = (struct valley){ .left = e[i].at, .right = e[i + 1].at };
            least = cover;
        } else if (cover == least && v->at[v->n - 1].right >= e[i].at) {
            v->at[v->n - 1].right = e[i + 1].at;
        }
        open = true;
    }
    free(e);
}

/* The words k - 1 and k of a line stand close on both sides of valley i. */
static bool is_beside(const struct valleys *v, size_t i, const struct tb_paper_word *left,
                      const struct tb_paper_word *right)
{
    const struct valley *at = &v->at[i];

    return left->right <= at->left + SLIP && right->left >= at->right - SLIP &&
           (i == 0 || left->right > v->at[i - 1].right) && (i + 1 == v->n || right->left < v->at[i + 1].left);
}

/* Between two words, in heights of the first. */
static float gap_between(const struct tb_paper_word *left, const struct tb_paper_word *right)
{
    return (right->left - left->right) / (left->bottom - left->top);
}

static bool is_figure(const struct tb_paper_table *t, const struct tb_paper_word *w)
{
    for (size_t i = 0; i < w->n; i++)
        if (!strchr("0123456789.,", t->paper->text.s[w->text + i]))
            return false;
    return true;
}

/* "1" right-aligned below "Roll No." or behind it, and "Black" where "Colour" begins: a figure in the column on the left, words in the other. */
static bool is_under(const struct tb_paper_table *t, const struct valley *v, const struct tb_paper_word *left,
                     const struct tb_paper_word *right)
{
    float off = right->left - v->begins, near = t->paper->near;

    return v->headed && off <= near && -off <= near && left->left >= v->over - near && is_figure(t, left) &&
           !is_digit(t, right);
}

static void look_at_gap(const struct tb_paper_table *t, struct valley *v, const struct tb_paper_line *l,
                        const struct tb_paper_word *left, const struct tb_paper_word *right, bool one)
{
    float gap = gap_between(left, right), off = tb_paper_off_space(t, gap);

    if (l->header) {
        v->header_apart = v->header_apart || !one;
        v->header_odd = v->header_odd || off > NEARLY;
    } else if (!one) {
        v->apart++;
    } else {
        v->least = v->together == 0 || gap < v->least ? gap : v->least;
        v->most = v->together == 0 || gap > v->most ? gap : v->most;
        v->together++;
        v->under += is_under(t, v, left, right);
        v->off += off > OFF;
        v->odd += off > NEARLY;
    }
}

/* The words of a header that stand between the valleys before and after this one, and on which side. */
static void look_at_header(const struct tb_paper_table *t, struct valleys *v, const struct tb_paper_line *l)
{
    for (size_t i = 0; i < v->n; i++) {
        float from = i ? v->at[i - 1].right : -INFINITY, to = i + 1 < v->n ? v->at[i + 1].left : INFINITY;
        bool left = false, right = false;

        for (size_t k = l->word; k < (size_t)l->word + l->words; k++) {
            const struct tb_paper_word *w = &t->paper->word[k];

            left = left || (w->right <= v->at[i].left + SLIP && w->right > from);
            right = right || (w->left >= v->at[i].right - SLIP && w->left < to);
        }
        v->at[i].left_lines += left;
        v->at[i].right_lines += right;
    }
}

/* The valleys between two headers of a line. */
static void look_between_headers(const struct tb_paper_table *t, struct valleys *v,
                                 const struct tb_paper_line *l)
{
    for (size_t k = 1; k < l->n; k++) {
        const struct tb_phrase *left = &t->phrase[l->phrase + k - 1], *right = left + 1;

        for (size_t i = 0; i < v->n; i++)
            if (left->right <= v->at[i].left + SLIP && right->left >= v->at[i].right - SLIP) {
                v->at[i].headed = true;
                v->at[i].over = left->left;
                v->at[i].begins = right->left;
            }
    }
}

static void look_at(const struct tb_paper_table *t, struct valleys *v)
{
    for (size_t i = 0; i < t->lines; i++)
        if (t->line[i].header) {
            look_at_header(t, v, &t->line[i]);
            look_between_headers(t, v, &t->line[i]);
        }
    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        for (size_t k = 0; counts(t, l) && k < l->n; k++) {
            const struct tb_phrase *f = &t->phrase[l->phrase + k];

            for (size_t j = f->first + (k == 0); j < (size_t)f->first + f->n; j++) {
                const struct tb_paper_word *w = &t->paper->word[j];

                for (size_t a = 0; a < v->n; a++)
                    if (is_beside(v, a, w - 1, w))
                        look_at_gap(t, &v->at[a], l, w - 1, w, j > f->first);
            }
        }
    }
}

/* A figure under one header, and words where the next begins, are two cells. Two lines of a header on both sides are two headers. In a text pasted every space is one sign wide, so only the rows that have more there tell. */
static bool divides(const struct tb_paper_table *t, const struct valley *v)
{
    if (v->together && v->under == v->together)
        return true;
    if (!v->together || t->row_space <= 0)
        return false;
    return v->most - v->least > OFF * t->row_space || v->off * 2 > v->together ||
           (v->odd * 2 > v->together && (v->header_apart || v->header_odd)) ||
           (t->headers && v->left_lines >= 2 * t->headers && v->right_lines >= 2 * t->headers);
}

/* Does the gap between two words hold a valley that divides? Where it is wide in other rows, it must be no space in this one. */
static bool divided(const struct tb_paper_table *t, const struct valleys *v, const struct tb_paper_word *left,
                    const struct tb_paper_word *right)
{
    for (size_t i = 0; i < v->n; i++)
        if (left->right <= v->at[i].left + SLIP && right->left >= v->at[i].right - SLIP &&
            (divides(t, &v->at[i]) ||
             (v->at[i].apart && tb_paper_off_space(t, gap_between(left, right)) > NEARLY)))
            return true;
    return false;
}

static void split_phrases(struct tb_paper_table *t, const struct valleys *v)
{
    bool *cut = tb_array(bool, t->paper->words + 1);

    for (size_t i = 0; i < t->lines; i++)
        for (size_t k = t->line[i].word + 1u;
             counts(t, &t->line[i]) && k < (size_t)t->line[i].word + t->line[i].words; k++)
            cut[k] = divided(t, v, &t->paper->word[k - 1], &t->paper->word[k]);
    tb_paper_cut(t, cut);
    free(cut);
}

void tb_paper_body(struct tb_paper_table *t)
{
    struct valleys v = { 0 };

    mark_lines(t);
    t->row_space = t->paper->numbered ? 0 : tb_paper_space(t, true);
    find_valleys(t, &v);
    look_at(t, &v);
    split_phrases(t, &v);
    free(v.at);
    mark_lines(t);
}
