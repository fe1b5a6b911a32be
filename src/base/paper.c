/* paper.c - a table that is only drawn, handed on row by row. */
#include "base/paper.h"
#include "base/say.h"

#include "tenterbook/utf8.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TIGHT 1.3F    /* heights from line to line, at most, within one cell */
#define CLEARLY 0.95F /* of the distance on the other side */

/* Letters that a font joins: U+FB02 is a sign of its own, and no word that is known holds it. */
static void add_plain(struct tb_text *out, const char *text, size_t n)
{
    static const char *const joined[] = { "ff", "fi", "fl", "ffi", "ffl", "st", "st" }; /* U+FB00 to FB06 */

    for (size_t at = 0, used; at < n; at += used) {
        uint32_t c;

        used = tb_utf8_next(text + at, n - at, &c);
        if (c >= 0xFB00 && c < 0xFB00 + TB_COUNT(joined))
            tb_text_add(out, joined[c - 0xFB00]);
        else
            tb_text_addn(out, text + at, used);
    }
}

void tb_paper_add(struct tb_paper *p, struct tb_paper_word place, const char *text, size_t n)
{
    place.text = p->text.n;
    add_plain(&p->text, text, n);
    place.n = (uint32_t)(p->text.n - place.text);
    TB_PUSH_ROOM(p->word, p->words, p->cap);
    p->word[p->words++] = place;
}

void tb_paper_free(struct tb_paper *p)
{
    free(p->word);
    tb_text_free(&p->text);
    *p = (struct tb_paper){ 0 };
}

/* ---- lines that go on ------------------------------------------------------------------------------------------ */

static bool has_letter(const struct tb_paper_table *t, const struct tb_phrase *f)
{
    for (size_t i = 0; i < f->n; i++) {
        const struct tb_paper_word *w = &t->paper->word[f->first + i];

        for (size_t k = 0; k < w->n; k++)
            if (isalpha((unsigned char)t->paper->text.s[w->text + k]) ||
                (unsigned char)t->paper->text.s[w->text + k] >= 0x80)
                return true;
    }
    return false;
}

/* "-0991" below "L2-2026": the rest of a number that was too long for its cell. */
static bool is_rest(const struct tb_paper_table *t, const struct tb_phrase *f)
{
    return strchr("-/", t->paper->text.s[t->paper->word[f->first].text]) != NULL;
}

/* "221,55 m": a figure begins no line that goes on with a text. */
static bool is_measured(const struct tb_paper_table *t, const struct tb_phrase *f)
{
    const struct tb_paper_word *w = &t->paper->word[f->first];
    bool digit = false, point = false;

    for (size_t k = 0; k < w->n; k++) {
        char c = t->paper->text.s[w->text + k];

        if (!isdigit((unsigned char)c) && c != '.' && c != ',')
            return false;
        digit = digit || isdigit((unsigned char)c);
        point = point || c == '.' || c == ',';
    }
    return digit && point;
}

/* A code of figures with a sign between them: "19-4020". */
static bool is_code(const struct tb_paper_table *t, const struct tb_phrase *f)
{
    const struct tb_paper_word *w = &t->paper->word[f->first];

    return w->n > 1 && (memchr(t->paper->text.s + w->text + 1, '-', w->n - 1) ||
                        memchr(t->paper->text.s + w->text + 1, '/', w->n - 1));
}

/* Words, or a code, in that column of a line of the table? */
static bool words_in(const struct tb_paper_table *t, const struct tb_paper_line *l, uint32_t column)
{
    for (size_t k = 0; k < l->n; k++) {
        const struct tb_phrase *f = &t->phrase[l->phrase + k];

        if (f->column == column && (has_letter(t, f) || is_code(t, f)))
            return true;
    }
    return false;
}

/* Could the line be the rest of cells of the other? Never alone in the first column, where headings stand. */
static bool may_go_on(const struct tb_paper_table *t, const struct tb_paper_line *l,
                      const struct tb_paper_line *of)
{
    bool good = of->page == l->page && (of->row || !t->rows) && !l->header && !tb_paper_partial(t, of) &&
                tb_paper_partial(t, l) && !of->dropped;

    for (size_t k = 0; k < l->n && good; k++) {
        const struct tb_phrase *f = &t->phrase[l->phrase + k];

        good = (f->column > 0 || l->n > 1) && (has_letter(t, f) || is_rest(t, f)) && !is_measured(t, f) &&
               !tb_phrase_labels(t, f) && words_in(t, of, f->column);
    }
    return good;
}

/* From line to line, by their middles. */
static float distance(const struct tb_paper_table *t, size_t upper)
{
    const struct tb_paper_line *a, *b;

    if (upper + 1 >= t->lines)
        return INFINITY;
    a = &t->line[upper];
    b = a + 1;
    return a->page == b->page && !b->huge ? (b->top + b->bottom - a->top - a->bottom) / 2 : INFINITY;
}

/* From the line before i to line i. */
static float gap(const struct tb_paper_table *t, size_t i)
{
    return i ? distance(t, i - 1) : INFINITY;
}

/* Lines from i on, one after the other (step 1 or -1), as far as they go on with `of` and stand close. */
static void own(struct tb_paper_table *t, size_t i, size_t n, int step, size_t of)
{
    for (; n > 0; n--, i = step > 0 ? i + 1 : i - 1) {
        struct tb_paper_line *l = &t->line[i];

        if (distance(t, step > 0 ? i - 1 : i) > TIGHT * (l->bottom - l->top) ||
            !may_go_on(t, l, &t->line[of]))
            return;
        l->owner = (uint32_t)of;
    }
}

/*
 * A text that is too long for its cell goes on below, or, where cells stand on one line at their feet, begins above. Of the
 * lines between two rows of the table those above the widest gap belong to the upper, the others to the lower row. Where no gap
 * is clearly the widest each line stays one of its own, and whoever reads the list sees it.
 */
static void share(struct tb_paper_table *t, size_t from, size_t end)
{
    size_t widest = from;
    bool clear = true;

    for (size_t i = from; i <= end; i++)
        if (gap(t, i) > gap(t, widest))
            widest = i;
    for (size_t i = from; i <= end; i++)
        clear = clear && (i == widest || gap(t, i) <= CLEARLY * gap(t, widest));
    if (!clear)
        return;
    if (from > 0)
        own(t, from, widest - from, 1, from - 1);
    if (end < t->lines)
        own(t, end - 1, end - widest, -1, end);
}

static void find_owners(struct tb_paper_table *t)
{
    for (size_t i = 0; i < t->lines; i++)
        t->line[i].owner = i && t->line[i].joins ? t->line[i - 1].owner : (uint32_t)i;
    for (size_t i = 0, end; i < t->lines; i = end) {
        for (end = i;
             end < t->lines && tb_paper_partial(t, &t->line[end]) && t->line[end].page == t->line[i].page;
             end++)
            ;
        if (end > i)
            share(t, i, end);
        else
            end++;
    }
}

/* ---- rows --------------------------------------------------------------------------------------------------------- */

struct out {
    const struct tb_paper_table *t;
    struct tb_text *cell; /* one for each column and for each phrase beyond */
    size_t cells;
};

static void add(struct out *o, size_t at, const struct tb_phrase *f, char between, bool goes_on)
{
    if (o->cell[at].n && !(between == ' ' && goes_on && is_rest(o->t, f)))
        tb_text_addc(&o->cell[at], between);
    tb_phrase_text(&o->cell[at], o->t, f);
    o->cells = at + 1 > o->cells ? at + 1 : o->cells;
}

/* In a title each phrase is a cell of its own; in a table what stands in one column is one cell. */
static void add_line(struct out *o, const struct tb_paper_line *l, bool goes_on)
{
    size_t next = 0;

    for (size_t k = 0; k < l->n; k++) {
        const struct tb_phrase *f = &o->t->phrase[l->phrase + k];
        bool own = l->n < o->t->dense || (o->t->rows && !l->row && !l->header) || tb_phrase_labels(o->t, f);
        size_t at = own && f->column < next && !goes_on ? next : f->column;

        add(o, at, f, l->joins ? '\n' : ' ', goes_on);
        next = at + 1 > next ? at + 1 : next;
    }
}

static tb_rc emit(struct out *o, struct tb_row_buf *row, size_t line, const struct tb_sheet_sink *sink,
                  struct tb_err *err)
{
    tb_row_begin(row);
    for (size_t i = 0; i < o->cells; i++) {
        (void)tb_row_put(row, i, TB_CELL_TEXT, tb_text_str(&o->cell[i]), o->cell[i].n, NAN);
        tb_text_clear(&o->cell[i]);
    }
    o->cells = 0;
    return tb_row_emit(row, line, sink, err);
}

static tb_rc put_rows(struct tb_paper_table *t, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct out o = { .t = t };
    struct tb_row_buf row = { 0 };
    size_t most = 1;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < t->lines; i++)
        most = t->line[i].n > most ? t->line[i].n : most;
    most += t->columns;
    o.cell = tb_array(struct tb_text, most);
    find_owners(t);
    tb_paper_repeats(t);
    for (size_t i = 0; rc == TB_OK && i < t->lines; i++) {
        if (t->line[i].dropped)
            continue;
        add_line(&o, &t->line[i], t->line[i].owner != i);
        if (i + 1 == t->lines || t->line[i + 1].owner != t->line[i].owner)
            rc = emit(&o, &row, t->line[t->line[i].owner].number, sink, err);
    }
    for (size_t i = 0; i < most; i++)
        tb_text_free(&o.cell[i]);
    free(o.cell);
    tb_row_free(&row);
    return rc;
}

/* The words of some pages, as if there were no others. */
static tb_rc group_rows(const struct tb_paper_table *all, size_t from, size_t end,
                        const struct tb_sheet_sink *sink, struct tb_err *err)
{
    const struct tb_paper_line *last = &all->line[end - 1];
    struct tb_paper p = *all->paper;
    struct tb_paper_table t = { .paper = &p, .space = all->space, .lines_before = from };
    tb_rc rc;

    p.word += all->line[from].word;
    p.words = last->word + last->words - all->line[from].word;
    tb_paper_lines(&t);
    tb_paper_body(&t);
    tb_paper_columns(&t);
    rc = put_rows(&t, sink, err);
    free(t.phrase);
    free(t.line);
    return rc;
}

static tb_rc tell(const struct tb_paper_table *all, size_t before, size_t from, size_t end, size_t number,
                  bool *skip, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_text name = { 0 };
    struct tb_sheet sheet = { .kind = TB_SHEET_PAPER, .number = number, .encoding = "UTF-8" };
    tb_rc rc;

    if (from > 0 || end < all->lines)
        tb_text_say(&name, "page %u", all->line[from].page + 1);
    sheet.name = tb_text_str(&name);
    sheet.beside = from > 0 && tb_paper_beside(all, before, from);
    rc = sink->sheet ? sink->sheet(sink->arg, &sheet, skip, err) : TB_OK;
    tb_text_free(&name);
    return rc;
}

tb_rc tb_paper_rows(struct tb_paper *p, bool told, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_paper_table all = { .paper = p };
    size_t number = 0, before = 0;
    tb_rc rc = TB_OK;

    tb_paper_lines(&all);
    for (size_t from = 0, end; rc == TB_OK && from < all.lines; before = from, from = end) {
        bool skip = false;

        end = told ? all.lines : tb_paper_group(&all, from);
        if (!told)
            rc = tell(&all, before, from, end, ++number, &skip, sink, err);
        if (rc == TB_OK && !skip)
            rc = group_rows(&all, from, end, sink, err);
    }
    free(all.phrase);
    free(all.line);
    return rc;
}
