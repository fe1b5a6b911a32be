/* paper_lines.c - words of a paper to lines, and lines to phrases; what only repeats on each page. */
#include "base/paper.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define OVERLAP 0.45F /* of the lower of two words, from which on they stand in one line */

static int by_height(const void *a, const void *b)
{
    const struct tb_paper_word *x = a, *y = b;
    float at = x->top + x->bottom, to = y->top + y->bottom;

    if (x->page != y->page)
        return x->page < y->page ? -1 : 1;
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

    return l->page == w->page && bottom - top >= OVERLAP * low;
}

/* The words of a line, from left to right, to phrases. */
static void add_phrases(struct tb_paper_table *t, struct tb_paper_line *l, size_t first, size_t n)
{
    const struct tb_paper_word *w = t->paper->word;
    float space = t->paper->space * (l->bottom - l->top);

    l->phrase = (uint32_t)t->phrases;
    for (size_t i = first; i < first + n; i++) {
        struct tb_phrase *last = l->n ? &t->phrase[t->phrases - 1] : NULL;

        if (last && w[i].left - last->right <= space) {
            last->n++;
            last->right = w[i].right > last->right ? w[i].right : last->right;
            continue;
        }
        TB_PUSH_ROOM(t->phrase, t->phrases, t->phrase_cap);
        t->phrase[t->phrases++] = (struct tb_phrase){ w[i].left, w[i].right, (uint32_t)i, 1, 0 };
        l->n++;
    }
}

/* Each line is as high as the word it began with: a chain of words, each a little lower, does not run down the page. */
void tb_paper_lines(struct tb_paper_table *t)
{
    struct tb_paper_word *w = t->paper->word;
    size_t n = t->paper->words;

    if (n)
        qsort(w, n, sizeof *w, by_height);
    for (size_t i = 0, k; i < n; i = k) {
        struct tb_paper_line *l;

        TB_PUSH_ROOM(t->line, t->lines, t->line_cap);
        l = &t->line[t->lines++];
        *l = (struct tb_paper_line){ .top = w[i].top,
                                     .bottom = w[i].bottom,
                                     .page = w[i].page,
                                     .number = t->paper->numbered ? (uint32_t)w[i].top : (uint32_t)t->lines };
        for (k = i + 1; k < n && same_line(l, &w[k]); k++)
            ;
        qsort(w + i, k - i, sizeof *w, by_left);
        add_phrases(t, l, i, k - i);
        t->dense = l->n > t->dense ? l->n : t->dense;
    }
    t->dense = t->dense > 3 ? 3 : t->dense;
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

static void line_text(struct tb_text *out, const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    tb_text_clear(out);
    for (size_t i = 0; i < l->n; i++) {
        tb_text_addc(out, '\t');
        tb_phrase_text(out, t, &t->phrase[l->phrase + i]);
    }
}

/* Lines of a later page that stand as on the first one, from its top down to the first line of the table. */
static void drop_heads(struct tb_paper_table *t, size_t from, size_t end)
{
    struct tb_text first = { 0 }, here = { 0 };

    for (size_t i = 0; from + i < end && t->line[i].page == t->line[0].page; i++) {
        struct tb_paper_line *l = &t->line[from + i];
        float off = l->top - t->line[i].top;

        line_text(&first, t, &t->line[i]);
        line_text(&here, t, l);
        if (l->n >= t->dense || off > t->paper->near || -off > t->paper->near ||
            strcmp(tb_text_str(&first), tb_text_str(&here)) != 0)
            break;
        l->dropped = true;
    }
    tb_text_free(&first);
    tb_text_free(&here);
}

/* "Page 2 of 3", "- 2 -": one phrase, in which every number is that of the page or of the last. */
static bool is_page_number(const struct tb_paper_table *t, const struct tb_paper_line *l, size_t pages)
{
    struct tb_text s = { 0 };
    size_t numbers = 0, letters = 0;
    bool good = l->n == 1;

    line_text(&s, t, l);
    for (const char *c = tb_text_str(&s); *c && good;) {
        if (isdigit((unsigned char)*c)) {
            char *end;
            unsigned long v = strtoul(c, &end, 10);

            numbers += v == l->page + 1u;
            good = v == l->page + 1u || v == pages;
            c = end;
        } else {
            letters += isalpha((unsigned char)*c) || (unsigned char)*c >= 0x80;
            good = letters <= 16 && !strchr(".,:%", *c);
            c++;
        }
    }
    tb_text_free(&s);
    return good && numbers > 0;
}

/* A page has its number at its foot or at its head; where not all pages have one there, it may be something else. */
static void drop_numbers(struct tb_paper_table *t, const size_t *begin, size_t pages, bool foot)
{
    size_t with = 0;

    for (size_t p = 0; p < pages; p++)
        with +=
            is_page_number(t, &t->line[foot ? begin[p + 1] - 1 : begin[p]], t->line[t->lines - 1].page + 1);
    for (size_t p = 0; with == pages && p < pages; p++)
        t->line[foot ? begin[p + 1] - 1 : begin[p]].dropped = true;
}

void tb_paper_repeats(struct tb_paper_table *t)
{
    size_t *begin, pages = 0;

    if (!t->lines || t->line[0].page == t->line[t->lines - 1].page)
        return;
    begin = tb_array(size_t, t->lines + 1);
    for (size_t i = 0; i < t->lines; i++)
        if (i == 0 || t->line[i].page != t->line[i - 1].page)
            begin[pages++] = i;
    begin[pages] = t->lines;
    for (size_t p = 1; p < pages; p++)
        drop_heads(t, begin[p], begin[p + 1]);
    drop_numbers(t, begin, pages, true);
    drop_numbers(t, begin, pages, false);
    free(begin);
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
