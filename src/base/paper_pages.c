/* paper_pages.c - what only repeats on the pages of a paper, and tables that were too wide for one. */
#include "base/paper.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

static void line_text(struct tb_text *out, const struct tb_paper_table *t, const struct tb_paper_line *l)
{
    tb_text_clear(out);
    for (size_t i = 0; i < l->n; i++) {
        tb_text_addc(out, '\t');
        tb_phrase_text(out, t, &t->phrase[l->phrase + i]);
    }
}

/*
 * Do two lines of the head of a page say the same but for the number of the page ("Page 1 of 3", "Page 2 of 3")? A word stands before
 * it, and no line of the table is one.
 */
static bool same_but_page(const struct tb_paper_line *a, const char *one, const struct tb_paper_line *b,
                          const char *other)
{
    const char *from = one;

    while (*one && *other) {
        char *end, *other_end;
        unsigned long v, w;

        if (!isdigit((unsigned char)*one) || !isdigit((unsigned char)*other)) {
            if (*one++ != *other++)
                return false;
            continue;
        }
        v = strtoul(one, &end, 10);
        w = strtoul(other, &other_end, 10);
        if (v != w &&
            (v != a->page + 1u || w != b->page + 1u || a->row || b->row || one < from + 2 || one[-1] != ' ' ||
             !(isalpha((unsigned char)one[-2]) || strchr(".:", one[-2]) || (one[-2] & 0x80))))
            return false;
        one = end;
        other = other_end;
    }
    return *one == *other;
}

/* How many lines of a later page stand as those of the first one, from its top down. */
static size_t same_head(const struct tb_paper_table *t, size_t from, size_t end)
{
    struct tb_text first = { 0 }, here = { 0 };
    size_t i = 0;

    for (; from + i < end && t->line[i].page == t->line[0].page; i++) {
        const struct tb_paper_line *a = &t->line[i], *b = &t->line[from + i];
        float off = b->top - a->top;

        line_text(&first, t, a);
        line_text(&here, t, b);
        if (off > t->paper->near || -off > t->paper->near ||
            !same_but_page(a, tb_text_str(&first), b, tb_text_str(&here)))
            break;
    }
    tb_text_free(&first);
    tb_text_free(&here);
    return i;
}

/* Of them the one with most cells is the header, if it is one of a table: that and what comes after it stays. */
static void drop_head(struct tb_paper_table *t, size_t from, size_t end)
{
    size_t same = same_head(t, from, end), most = 0;

    for (size_t i = 0; i < same; i++)
        if (t->line[from + i].n > t->line[from + most].n)
            most = i;
    if (same && t->line[from + most].n >= t->dense)
        same = most;
    for (size_t i = 0; i < same; i++)
        same = t->line[from + i].header ? i : same;
    for (size_t i = from; i < from + same; i++)
        t->line[i].dropped = t->line[i].owner == i;
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
        drop_head(t, begin[p], begin[p + 1]);
    drop_numbers(t, begin, pages, true);
    drop_numbers(t, begin, pages, false);
    free(begin);
}

/* ---- pages of another kind ------------------------------------------------------------------------------------- */

#define PLACES 8192   /* of the edges on a page */
#define LINES_LEAST 3 /* that make a page one of a kind of its own */

/* How many phrases of a page begin or end at each place. */
struct places {
    unsigned edge[PLACES];
    size_t lines;
};

static size_t place(const struct tb_paper_table *t, float at)
{
    float i = at / t->paper->near + 1;

    return i < 1 ? 1 : i > PLACES - 2 ? PLACES - 2 : (size_t)i;
}

static void look_at(struct places *p, const struct tb_paper_table *t, size_t from, size_t end)
{
    *p = (struct places){ .lines = 0 };
    for (size_t i = from; i < end; i++) {
        const struct tb_paper_line *l = &t->line[i];

        p->lines += l->n >= t->dense;
        for (size_t k = l->phrase; l->n >= t->dense && k < (size_t)l->phrase + l->n; k++) {
            p->edge[place(t, t->phrase[k].left)]++;
            p->edge[place(t, t->phrase[k].right)]++;
        }
    }
}

/* An edge at which several phrases stand below one another. */
static bool is_edge(const struct places *p, const struct tb_paper_table *t, float at)
{
    size_t i = place(t, at);
    unsigned n = p->edge[i - 1] + p->edge[i] + p->edge[i + 1];

    return n >= 2 && (size_t)n * 5 >= p->lines;
}

/* Do most phrases of the page begin or end where some of the other page do? */
static bool same_columns(const struct places *p, const struct tb_paper_table *t, size_t from, size_t end)
{
    size_t phrases = 0, same = 0;

    for (size_t i = from; i < end; i++) {
        const struct tb_paper_line *l = &t->line[i];

        phrases += l->n;
        for (size_t k = l->phrase; k < (size_t)l->phrase + l->n; k++)
            same += is_edge(p, t, t->phrase[k].left) || is_edge(p, t, t->phrase[k].right);
    }
    return p->lines < LINES_LEAST || same * 10 >= phrases * 7;
}

/* One phrase a line, as high as the lines of the pages before: a column that did not fit on them. */
static bool is_column_alone(const struct tb_paper_table *t, size_t before, size_t from, size_t end)
{
    for (size_t i = from; i < end; i++)
        if (t->line[i].n > 1)
            return false;
    return tb_paper_beside(t, before, from);
}

size_t tb_paper_group(const struct tb_paper_table *t, size_t from)
{
    struct places *p = tb_new(struct places);
    size_t at = from, end;
    bool same = true;

    while (at < t->lines && same) {
        for (end = at; end < t->lines && t->line[end].page == t->line[at].page; end++)
            ;
        same = at == from || end - at < LINES_LEAST ||
               (same_columns(p, t, at, end) && !is_column_alone(t, from, at, end));
        if (at == from)
            look_at(p, t, at, end);
        at = same ? end : at;
    }
    free(p);
    return at;
}

/* Its lines stand as high as those of the page before it, or of the first one of the sheet before. */
bool tb_paper_beside(const struct tb_paper_table *t, size_t before, size_t from)
{
    size_t lines = 0, same = 0;

    for (size_t i = from; i < t->lines && t->line[i].page == t->line[from].page; i++) {
        bool found = false;

        for (size_t k = before; k < from && !found; k++) {
            const struct tb_paper_line *l = &t->line[k];
            float off = l->top - t->line[i].top;

            found = (l->page == t->line[before].page || l->page == t->line[from - 1].page) &&
                    off <= t->paper->near && -off <= t->paper->near;
        }
        lines++;
        same += found;
    }
    return same >= LINES_LEAST && same * 4 >= lines * 3;
}
