/* paper_lines.c - words of a paper to lines, and lines to phrases. */
#include "base/paper.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define OVERLAP 0.45F /* of the lower of two words, from which on they stand in one line */

#define WIDER 1.8F     /* times a space: the gap between two cells */
#define NARROWER 0.75F /* likewise: two cells touch */
#define HUGE_HEIGHT 4  /* usual heights: nothing that is set in lines is so high */
#define SPACES_LEAST 4 /* so many show how wide a space is */

static int by_height(const void *a, const void *b)
{
    const struct tb_paper_word *x = a, *y = b;
    float at = x->top + x->bottom, to = y->top + y->bottom;

    if (x->page != y->page)
        return x->page < y->page ? -1 : 1;
    if (x->huge != y->huge)
        return x->huge ? 1 : -1;
    return at != to ? (at < to ? -1 : 1) : x->left != y->left ? (x->left < y->left ? -1 : 1) : 0;
}

static int by_left(const void *a, const void *b)
{
    const struct tb_paper_word *x = a, *y = b;

    return x->left != y->left ? (x->left < y->left ? -1 : 1) : x->text < y->text ? -1 : 1;
}

static bool same_line(const struct tb_paper_line *l, const struct tb_paper_word *w)
{
    float top = l->top > w->top ? l->top : w->top, bottom = l->bottom < w->bottom ? l->bottom : w->bottom;
    float low = l->bottom - l->top < w->bottom - w->top ? l->bottom - l->top : w->bottom - w->top;

    return l->page == w->page && l->huge == w->huge && bottom - top >= OVERLAP * low;
}

/*
 * Between two words of a text there is a space, as wide as the font has it. A gap that is clearly wider divides cells, and so
 * does one that is clearly narrower: there two cells touch.
 */
static bool divides(const struct tb_paper_table *t, float gap, float height)
{
    float space = t->space * height;

    if (t->space <= 0)
        return gap > t->paper->space * height;
    return gap > WIDER * space || (gap < NARROWER * space && gap > 0);
}

/* The words of a line, from left to right, to phrases. */
static void add_phrases(struct tb_paper_table *t, struct tb_paper_line *l)
{
    const struct tb_paper_word *w = t->paper->word;

    l->phrase = (uint32_t)t->phrases;
    l->n = 0;
    for (size_t i = l->word; i < (size_t)l->word + l->words; i++) {
        struct tb_phrase *last = l->n ? &t->phrase[t->phrases - 1] : NULL;

        if (last && !divides(t, w[i].left - last->right, l->bottom - l->top)) {
            last->n++;
            last->right = w[i].right > last->right ? w[i].right : last->right;
            continue;
        }
        TB_PUSH_ROOM(t->phrase, t->phrases, t->phrase_cap);
        t->phrase[t->phrases++] = (struct tb_phrase){ w[i].left, w[i].right, (uint32_t)i, 1, 0 };
        l->n++;
    }
}

/* How many phrases the lines have, once these are made. */
static void count_phrases(struct tb_paper_table *t)
{
    t->most = 0;
    for (size_t i = 0; i < t->lines; i++)
        t->most = t->line[i].n > t->most ? t->line[i].n : t->most;
    t->dense = t->most > 3 ? 3 : t->most;
}

static void find_phrases(struct tb_paper_table *t)
{
    t->phrases = 0;
    for (size_t i = 0; i < t->lines; i++)
        add_phrases(t, &t->line[i]);
    count_phrases(t);
}

/* The lines are made anew, since a phrase that becomes two moves all that come after it. */
void tb_paper_cut(struct tb_paper_table *t, const bool *cut)
{
    struct tb_phrase *made = NULL;
    size_t n = 0, cap = 0;

    for (size_t i = 0; i < t->lines; i++) {
        struct tb_paper_line *l = &t->line[i];
        size_t first = n;

        for (size_t k = 0; k < l->n; k++) {
            const struct tb_phrase *f = &t->phrase[l->phrase + k];

            for (size_t j = f->first; j < (size_t)f->first + f->n; j++) {
                const struct tb_paper_word *w = &t->paper->word[j];

                if (j > f->first && !cut[j]) {
                    made[n - 1].n++;
                    made[n - 1].right = w->right > made[n - 1].right ? w->right : made[n - 1].right;
                    continue;
                }
                TB_PUSH_ROOM(made, n, cap);
                made[n++] = (struct tb_phrase){ w->left, w->right, (uint32_t)j, 1, 0 };
            }
        }
        l->phrase = (uint32_t)first;
        l->n = (uint32_t)(n - first);
    }
    free(t->phrase);
    t->phrase = made;
    t->phrases = n;
    t->phrase_cap = cap;
    count_phrases(t);
}

static int by_size(const void *a, const void *b)
{
    float x = *(const float *)a, y = *(const float *)b;

    return x < y ? -1 : x > y;
}

bool tb_paper_partial(const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    return l->n < t->dense || (size_t)l->n * 2 <= t->most;
}

static bool letter(const struct tb_paper_table *t, size_t at)
{
    unsigned char c = (unsigned char)t->paper->text.s[at];

    return isalpha(c) || c >= 0x80;
}

/* Or in "%", as of a share before its fibre. */
static bool ends_in_letter(const struct tb_paper_table *t, const struct tb_paper_word *w)
{
    return letter(t, w->text + w->n - 1) || t->paper->text.s[w->text + w->n - 1] == '%';
}

float tb_paper_space(const struct tb_paper_table *t, bool rows)
{
    const struct tb_paper_word *w = t->paper->word;
    float *gap = tb_array(float, t->paper->words + 1), space;
    size_t n = 0;

    for (size_t i = 0; i < t->lines; i++) {
        const struct tb_paper_line *l = &t->line[i];

        for (size_t k = l->phrase; (!rows || l->row) && k < (size_t)l->phrase + l->n; k++)
            for (size_t j = t->phrase[k].first + 1; j < (size_t)t->phrase[k].first + t->phrase[k].n; j++)
                if (letter(t, w[j].text) && ends_in_letter(t, &w[j - 1]))
                    gap[n++] = (w[j].left - w[j - 1].right) / (l->bottom - l->top);
    }
    qsort(gap, n, sizeof *gap, by_size);
    space = n >= SPACES_LEAST ? gap[n / 2] : 0;
    free(gap);
    return space;
}

float tb_paper_off_space(const struct tb_paper_table *t, float gap)
{
    return t->row_space > 0 ? (gap > t->row_space ? gap - t->row_space : t->row_space - gap) / t->row_space
                            : 0;
}

/* What is printed across the page, as "COPY", is of no line of it: it comes behind the others of its page. */
static void mark_huge(struct tb_paper *p)
{
    float *height = tb_array(float, p->words + 1), usual;

    for (size_t i = 0; i < p->words; i++)
        height[i] = p->word[i].bottom - p->word[i].top;
    qsort(height, p->words, sizeof *height, by_size);
    usual = height[p->words / 2];
    for (size_t i = 0; i < p->words; i++)
        p->word[i].huge = p->word[i].bottom - p->word[i].top > HUGE_HEIGHT * usual;
    free(height);
}

/* Each line is as high as the word it began with: a chain of words, each a little lower, does not run down the page. */
void tb_paper_lines(struct tb_paper_table *t)
{
    struct tb_paper_word *w = t->paper->word;
    size_t n = t->paper->words;

    if (n) {
        mark_huge(t->paper);
        qsort(w, n, sizeof *w, by_height);
    }
    for (size_t i = 0, k; i < n; i = k) {
        struct tb_paper_line *l;

        TB_PUSH_ROOM(t->line, t->lines, t->line_cap);
        l = &t->line[t->lines++];
        *l = (struct tb_paper_line){ .top = w[i].top,
                                     .bottom = w[i].bottom,
                                     .page = w[i].page,
                                     .huge = w[i].huge,
                                     .number = t->paper->numbered ? (uint32_t)w[i].top
                                                                  : (uint32_t)(t->lines_before + t->lines) };
        for (k = i + 1; k < n && same_line(l, &w[k]); k++)
            ;
        qsort(w + i, k - i, sizeof *w, by_left);
        l->word = (uint32_t)i;
        l->words = (uint32_t)(k - i);
    }
    find_phrases(t);
    if (!t->paper->numbered && t->space <= 0 && (t->space = tb_paper_space(t, false)) > 0)
        find_phrases(t);
}

void tb_phrase_text(struct tb_text *out, const struct tb_paper_table *t, const struct tb_phrase *f)
{
    for (size_t i = 0; i < f->n; i++) {
        const struct tb_paper_word *w = &t->paper->word[f->first + i];

        if (i)
            tb_text_addc(out, ' ');
        tb_text_addn(out, t->paper->text.s + w->text, w->n);
    }
}

bool tb_phrase_labels(const struct tb_paper_table *t, const struct tb_phrase *f)
{
    for (size_t i = 0; i < f->n; i++) {
        const struct tb_paper_word *w = &t->paper->word[f->first + i];

        if (memchr(t->paper->text.s + w->text, ':', w->n))
            return true;
    }
    return false;
}
