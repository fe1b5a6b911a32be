/*
 * paper_header.c - the words above the columns of a paper: which of them are of one column.
 *
 * Words of two headers may stand as close as two words of one. They are two where the columns below them are two and no space is
 * as wide as their gap. The lines of one header are one cell in each column.
 */
#include "base/paper.h"

#include <stdlib.h>

#define OFF 0.15F /* of a space: a gap so much wider or narrower is none; letters may be bold */

/* The column that most of the word stands over; SIZE_MAX: none. */
static size_t column_of(const struct tb_paper_column *c, size_t n, const struct tb_paper_word *w)
{
    size_t found = SIZE_MAX;
    float most = 0;

    for (size_t i = 0; i < n; i++) {
        float over = tb_paper_overlap(&c[i], w->left, w->right);

        if (over > most) {
            most = over;
            found = i;
        }
    }
    return found;
}

/* Does a word of another line of the header stand in the gap? */
static bool covered(const struct tb_paper_table *t, const struct tb_paper_line *of, float at)
{
    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        for (size_t k = l->word; l->header && l->page == of->page && k < (size_t)l->word + l->words; k++)
            if (t->paper->word[k].left < at && t->paper->word[k].right > at)
                return true;
    }
    return false;
}

/* Of the gaps between two words over two columns the one that is least like a space, if it is none. */
static size_t cut_between(const struct tb_paper_table *t, const struct tb_paper_line *l, size_t after,
                          size_t to)
{
    size_t found = SIZE_MAX;
    float most = OFF;

    for (size_t i = after + 1; i <= to; i++) {
        const struct tb_paper_word *w = &t->paper->word[i];
        float off = tb_paper_off_space(t, (w->left - w[-1].right) / (w->bottom - w->top));

        if (covered(t, l, (w[-1].right + w->left) / 2) || off <= most)
            continue;
        most = off;
        found = i;
    }
    return found;
}

static void mark_cuts(const struct tb_paper_table *t, const struct tb_paper_line *l,
                      const struct tb_phrase *f, const struct tb_paper_column *c, size_t n, bool *cut)
{
    size_t last = SIZE_MAX, over = SIZE_MAX;

    for (size_t i = f->first; i < (size_t)f->first + f->n; i++) {
        size_t here = column_of(c, n, &t->paper->word[i]), at;

        if (here == SIZE_MAX)
            continue;
        if (over != SIZE_MAX && here > over && (at = cut_between(t, l, last, i)) != SIZE_MAX)
            cut[at] = true;
        over = here;
        last = i;
    }
}

void tb_paper_split_header(struct tb_paper_table *t, const struct tb_paper_column *c, size_t n)
{
    bool *cut = tb_array(bool, t->paper->words + 1);

    for (size_t i = 0; i < t->lines && t->row_space > 0; i++)
        for (size_t k = 0; t->line[i].header && k < t->line[i].n; k++)
            mark_cuts(t, &t->line[i], &t->phrase[t->line[i].phrase + k], c, n, cut);
    tb_paper_cut(t, cut);
    free(cut);
}

/* "Length" over two columns: what is below it are headers of their own. */
static bool spans(const struct tb_paper_table *t, const struct tb_paper_line *l,
                  const struct tb_paper_column *c, size_t n)
{
    for (size_t k = 0; k < l->n; k++) {
        size_t over = 0;

        for (size_t i = 0; i < n; i++)
            over +=
                tb_paper_overlap(&c[i], t->phrase[l->phrase + k].left, t->phrase[l->phrase + k].right) > 0;
        if (over > 1)
            return true;
    }
    return false;
}

/* Behind the lines of the header that begins at this line; the line itself where none does. */
static size_t end_of_header(const struct tb_paper_table *t, size_t from)
{
    size_t end = from;

    while (end < t->lines && t->line[end].header && t->line[end].page == t->line[from].page)
        end++;
    return end;
}

void tb_paper_join_header(struct tb_paper_table *t, const struct tb_paper_column *c, size_t n)
{
    for (size_t i = 0, end; i < t->lines; i = end) {
        bool good = true;

        end = end_of_header(t, i);
        for (size_t k = i; good && k < end; k++)
            good = !spans(t, &t->line[k], c, n);
        for (size_t k = i + 1; good && k < end; k++)
            t->line[k].joins = true;
        end += end == i;
    }
}

/* ---- as many headers as columns -------------------------------------------------------------------------------- */

/* Words above one another are one stack. */
static size_t find_stacks(const struct tb_paper_table *t, size_t from, size_t end,
                          struct tb_paper_column *stack, size_t most)
{
    size_t n = 0;

    for (size_t i = from; i < end; i++)
        for (size_t k = 0; k < t->line[i].n; k++) {
            const struct tb_phrase *f = &t->phrase[t->line[i].phrase + k];
            struct tb_paper_column made = { f->left, f->right };
            size_t kept = 0, at;

            for (size_t s = 0; s < n; s++)
                if (tb_paper_overlap(&stack[s], made.left, made.right) > 0) {
                    made.left = stack[s].left < made.left ? stack[s].left : made.left;
                    made.right = stack[s].right > made.right ? stack[s].right : made.right;
                } else {
                    stack[kept++] = stack[s];
                }
            if (kept == most)
                return 0;
            for (at = kept; at && stack[at - 1].left > made.left; at--)
                stack[at] = stack[at - 1];
            stack[at] = made;
            n = kept + 1;
        }
    return n;
}

/* Each stands over its own column at least as much as over any other, where it stands over one. */
static bool stand_over(const struct tb_paper_column *stack, const struct tb_paper_column *c, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++) {
            float over = tb_paper_overlap(&c[k], stack[i].left, stack[i].right);

            if (k != i && over > 0 && over > tb_paper_overlap(&c[i], stack[i].left, stack[i].right))
                return false;
        }
    return true;
}

static void take_stack(struct tb_paper_table *t, size_t from, size_t end, const struct tb_paper_column *stack,
                       size_t n)
{
    for (size_t i = from; i < end; i++)
        for (size_t k = 0; k < t->line[i].n; k++) {
            struct tb_phrase *f = &t->phrase[t->line[i].phrase + k];

            for (size_t s = 0; s < n; s++)
                if (tb_paper_overlap(&stack[s], f->left, f->right) > 0)
                    f->column = (uint32_t)s;
        }
}

bool tb_paper_match_header(struct tb_paper_table *t, const struct tb_paper_column *c, size_t n, bool take)
{
    struct tb_paper_column *stack = tb_array(struct tb_paper_column, n + 2);
    size_t headers = 0, end;
    bool good = true;

    for (size_t i = 0; good && i < t->lines; i = end) {
        end = end_of_header(t, i);
        if (end > i) {
            headers++;
            good = find_stacks(t, i, end, stack, n + 1) == n && stand_over(stack, c, n);
            if (good && take)
                take_stack(t, i, end, stack, n);
        }
        end += end == i;
    }
    free(stack);
    return good && headers > 0;
}
