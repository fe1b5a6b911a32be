/* paper_columns.c - which phrases of a paper stand below one another. */
#include "base/paper.h"

#include <stdlib.h>
#include <string.h>

#define COLUMNS_MOST 256

struct columns {
    struct tb_paper_table *t;
    struct tb_paper_column column[COLUMNS_MOST];
    size_t n;
};

float tb_paper_overlap(const struct tb_paper_column *c, float left, float right)
{
    return (c->right < right ? c->right : right) - (c->left > left ? c->left : left);
}

/* The column of a phrase, where it touches only one; SIZE_MAX: it touches none; otherwise *many is true. */
static size_t touched(const struct columns *all, float left, float right, bool *many)
{
    size_t found = SIZE_MAX;

    *many = false;
    for (size_t i = 0; i < all->n; i++)
        if (tb_paper_overlap(&all->column[i], left, right) > 0) {
            *many = *many || found != SIZE_MAX;
            found = found == SIZE_MAX ? i : found;
        }
    return found;
}

/* Room for it where it stands from left to right. */
static void insert(struct columns *all, float left, float right)
{
    size_t i = all->n;

    if (all->n == COLUMNS_MOST)
        return;
    for (; i && all->column[i - 1].left > left; i--)
        all->column[i] = all->column[i - 1];
    all->column[i] = (struct tb_paper_column){ .left = left, .right = right };
    all->n++;
}

/* A phrase that fits one column makes it as wide as itself, unless it would touch the next one then. */
static void widen(struct columns *all, size_t i, float left, float right)
{
    struct tb_paper_column *c = &all->column[i];

    if (left < c->left && (i == 0 || all->column[i - 1].right < left))
        c->left = left;
    if (right > c->right && (i + 1 == all->n || all->column[i + 1].left > right))
        c->right = right;
}

static int by_phrases(const void *a, const void *b)
{
    const struct tb_paper_line *x = *(struct tb_paper_line *const *)a, *y = *(struct tb_paper_line *const *)b;

    return x->n != y->n ? (x->n > y->n ? -1 : 1) : x->number < y->number ? -1 : 1;
}

/* Where no line is known to be a row, each with as many phrases as one has makes columns. */
static bool makes_columns(const struct tb_paper_table *t, const struct tb_paper_line *l, bool header)
{
    return l->n >= t->dense && (!t->rows || l->row || (header && l->header));
}

/* Lines with most phrases divide the columns most clearly, so they come first. */
static void find_columns(struct columns *all, bool header)
{
    struct tb_paper_table *t = all->t;
    struct tb_paper_line **line = tb_array(struct tb_paper_line *, t->lines + 1);
    bool many;

    all->n = 0;
    for (size_t i = 0; i < t->lines; i++)
        line[i] = &t->line[i];
    qsort(line, t->lines, sizeof *line, by_phrases);
    for (size_t i = 0; i < t->lines; i++)
        for (size_t k = 0; k < line[i]->n && makes_columns(t, line[i], header); k++) {
            const struct tb_phrase *f = &t->phrase[line[i]->phrase + k];
            size_t c = touched(all, f->left, f->right, &many);

            if (c == SIZE_MAX)
                insert(all, f->left, f->right);
            else if (!many)
                widen(all, c, f->left, f->right);
        }
    free(line);
}

/* The column most of it stands in, otherwise the nearest. */
static size_t best(const struct columns *all, float left, float right)
{
    size_t found = 0;

    for (size_t i = 1; i < all->n; i++)
        if (tb_paper_overlap(&all->column[i], left, right) >
            tb_paper_overlap(&all->column[found], left, right))
            found = i;
    return found;
}

/* ---- phrases of two cells ------------------------------------------------------------------------------------ */

/* Do most of those whose place is sure begin (or end) where this one does? Of ends one alone says too little. */
static bool aligned(const struct columns *all, size_t column, float edge, bool left)
{
    const struct tb_paper_table *t = all->t;
    size_t same = 0, sure = 0;

    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        for (size_t k = 0; k < l->n && l->n >= t->dense; k++) {
            const struct tb_phrase *f = &t->phrase[l->phrase + k];
            float off = (left ? f->left : f->right) - edge;
            bool many;

            if (touched(all, f->left, f->right, &many) != column || many)
                continue;
            sure++;
            same += off <= t->paper->near && -off <= t->paper->near;
        }
    }
    return same * 3 >= sure * 2 && same >= (left ? 1 : 2);
}

/*
 * A long text may run on over the next column where that is empty; but two cells may also stand as close as two words. They
 * are two where the right one begins where its column begins, or the left one ends where its column ends.
 */
static bool split_at(const struct columns *all, const struct tb_phrase *f, size_t *words)
{
    const struct tb_paper_word *w = all->t->paper->word + f->first;

    for (size_t i = 1; i < f->n; i++) {
        size_t left = best(all, f->left, w[i - 1].right), right = best(all, w[i].left, w[f->n - 1].right);

        if (left >= right)
            continue;
        right = best(all, w[i].left, w[i].right);
        if (right > left &&
            (aligned(all, right, w[i].left, true) || aligned(all, left, w[i - 1].right, false))) {
            *words = i;
            return true;
        }
    }
    return false;
}

static bool spans(const struct columns *all, const struct tb_phrase *f)
{
    bool many = false;

    if (f->n > 1 && !tb_phrase_labels(all->t, f))
        (void)touched(all, f->left, f->right, &many);
    return many;
}

/* All are looked at as they stand before any of them becomes two. */
static void split_phrases(struct columns *all)
{
    struct tb_paper_table *t = all->t;
    bool *cut = tb_array(bool, t->paper->words + 1);
    size_t words;

    for (size_t i = 0; i < t->lines; i++)
        for (size_t k = 0; t->line[i].n + 1u >= t->dense && k < t->line[i].n; k++) {
            struct tb_phrase f = t->phrase[t->line[i].phrase + k];

            while (spans(all, &f) && split_at(all, &f, &words)) {
                f.first += (uint32_t)words;
                f.n -= (uint32_t)words;
                f.left = t->paper->word[f.first].left;
                cut[f.first] = true;
            }
        }
    tb_paper_cut(t, cut);
    free(cut);
}

/* ---- headers beside their columns ----------------------------------------------------------------------------- */

/* Which neighbours stand in one line, by the left of the two. */
static void find_pairs(const struct tb_paper_table *t, bool *pair)
{
    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_phrase *f = &t->phrase[t->line[i].phrase];

        for (size_t k = 1; k < t->line[i].n && t->line[i].n >= t->dense; k++)
            if (f[k - 1].column + 1 == f[k].column)
                pair[f[k - 1].column] = true;
    }
}

/*
 * Two neighbours of which no line has both are one column: a header over its left end, figures at its right. Of such
 * columns in a row the first and second are one, the third and fourth, and so on; of an odd number it is not certain
 * which, so none is joined, and the columns without a header are asked about.
 */
static void join_columns(struct columns *all)
{
    struct tb_paper_table *t = all->t;
    bool pair[COLUMNS_MOST] = { false };
    size_t to[COLUMNS_MOST] = { 0 }, n = 0, end;

    find_pairs(t, pair);
    for (size_t i = 0; i < all->n; i = end) {
        for (end = i + 1; end < all->n && !pair[end - 1]; end++)
            ;
        for (size_t k = i; k < end; k++) {
            to[k] = n;
            n += (end - i) % 2 || (k - i) % 2;
        }
    }
    for (size_t i = 0; i < t->phrases; i++)
        t->phrase[i].column = (uint32_t)to[t->phrase[i].column];
    t->columns = n;
}

/* What runs on over several columns stands in the one where it begins. */
static void place(struct columns *all)
{
    struct tb_paper_table *t = all->t;
    bool many;

    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        for (size_t k = 0; k < l->n; k++) {
            struct tb_phrase *f = &t->phrase[l->phrase + k];

            size_t first = touched(all, f->left, f->right, &many);

            f->column = (uint32_t)(many ? first : best(all, f->left, f->right));
        }
    }
}

void tb_paper_columns(struct tb_paper_table *t)
{
    struct columns *all = tb_new(struct columns);
    bool matched;

    all->t = t;
    find_columns(all, false);
    tb_paper_split_header(t, all->column, all->n);
    tb_paper_join_header(t, all->column, all->n);
    matched = tb_paper_match_header(t, all->column, all->n, false);
    if (!matched)
        find_columns(all, true);
    if (all->n) {
        split_phrases(all);
        place(all);
        if (matched)
            t->columns = all->n;
        else
            join_columns(all);
        (void)(matched && tb_paper_match_header(t, all->column, all->n, true));
    }
    free(all);
}
