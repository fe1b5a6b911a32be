/*
 * workbook_piece.c - one worksheet: caption, headings, frozen rows, filter, totals, print set-up; and how a
 * list that is longer than a worksheet goes on on the next.
 */
#include "report/table/workbook_impl.h"

#include "tenterbook/figure.h"

#include "base/say.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CAPTION_ROWS 2 /* title, note */

static bool is_list(const struct tb_tab *s)
{
    return s->plan.layout == TB_LAYOUT_LIST;
}

size_t tb_piece_room(const struct tb_tab *s)
{
    /* caption, heading, totals, "goes on" */
    size_t most = LXW_ROW_MAX - (CAPTION_ROWS + 1) - 2;

    return s->plan.rows_most && s->plan.rows_most < most ? s->plan.rows_most : most;
}

/* In headers and footers of the page an ampersand begins a code; the library takes at most 255 characters. */
static void add_side(struct tb_text *t, const char *words, size_t most)
{
    for (size_t n = strlen(words), at = 0, used; at < n && t->n < most; at += used) {
        used = tb_utf8_next(words + at, n - at, NULL); /* never half a character */
        tb_text_addn(t, words[at] == '&' ? "&&" : words + at, words[at] == '&' ? 2 : used);
    }
}

/*
 * Title left, page number in the middle, name of the sheet right: a printed sheet says what it is and where it ends.
 */
static char *page_words(const char *left, const char *right)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, "&L&8");
    add_side(&t, left, 120);
    tb_text_add(&t, "&C&8&P / &N&R&8");
    add_side(&t, right, 200);
    return tb_text_take(&t);
}

static lxw_error set_foot(struct tb_tab *s, lxw_worksheet *ws, const char *right)
{
    char *foot = page_words(s->w->title, right);
    lxw_error e = worksheet_set_footer(ws, foot);

    free(foot);
    return e;
}

/* A4 on its side, one page wide: a list is read across, and no column stands alone on a second page. */
static lxw_error set_page(struct tb_tab *s, lxw_worksheet *ws, const char *tab)
{

    worksheet_set_landscape(ws);
    worksheet_set_paper(ws, 9); /* A4 */
    worksheet_fit_to_pages(ws, 1, 0);
    worksheet_set_margins(ws, 0.5, 0.5, 0.6, 0.7);
    worksheet_gridlines(ws, LXW_HIDE_ALL_GRIDLINES);
    return set_foot(s, ws, tab);
}

#define NOTE_POINTS 12.0 /* height of a line of the note */

static lxw_col_t printed_columns(const struct tb_tab *s)
{
    return (lxw_col_t)(s->plan.printed ? s->plan.printed : s->plan.columns);
}

/*
 * A note that is wider than what is printed goes on in the next line: a spreadsheet would make the whole sheet smaller for it,
 * or cut it off. Letters of the note are smaller than those the widths count in, and most are narrower than a figure.
 */
static lxw_error write_note(struct tb_tab *s, lxw_worksheet *ws, const char *words)
{
    struct look note = { .role = LOOK_NOTE };
    double room = 0, lines;
    lxw_error e;

    for (lxw_col_t i = 0; i < printed_columns(s); i++)
        room += s->col[i].plan.width;
    lines = ceil((double)strlen(words) / (room * 1.25));
    if (lines <= 1 || printed_columns(s) < 2)
        return worksheet_write_string(ws, 1, 0, words, tb_look(s->w, &note));
    note.wrap = true;
    e = worksheet_set_row(ws, 1, lines * NOTE_POINTS + 2, NULL);
    return e ? e
             : worksheet_merge_range(ws, 1, 0, 1, (lxw_col_t)(printed_columns(s) - 1), words,
                                     tb_look(s->w, &note));
}

/* Where a list goes on, its second line names the worksheet it comes from. */
static lxw_error caption(struct tb_tab *s, lxw_worksheet *ws)
{
    struct look title = { .role = LOOK_TITLE };
    char *words = tb_caption_words(s->plan.title, TB_TITLE_MOST);
    struct tb_text t = { 0 };
    lxw_error e = worksheet_set_row(ws, 0, 24, NULL);

    if (!e)
        e = worksheet_write_string(ws, 0, 0, words, tb_look(s->w, &title));
    free(words);
    tb_text_add(&t, s->plan.note ? s->plan.note : "");
    if (s->pieces > 1)
        tb_text_addf(&t, "%s\xE2\x86\x90 %s", t.n ? " \xC2\xB7 " : "", s->piece[s->pieces - 2].tab);
    if (!e)
        e = write_note(s, ws, tb_text_str(&t));
    tb_text_free(&t);
    return e;
}

/* Repeated on every printed page and kept in sight on the screen. */
static lxw_error headings(struct tb_tab *s, lxw_worksheet *ws)
{
    lxw_error e = worksheet_set_row(ws, CAPTION_ROWS, 30, NULL);

    for (size_t i = 0; i < s->plan.columns && !e; i++) {
        const struct tb_column *c = &s->col[i].plan;
        struct look l = { .role = LOOK_HEADING, .type = c->type, .indent = i > 0 };
        struct tb_text t = { 0 };

        tb_text_addf(&t, c->unit ? "%s\n%s" : "%s", _(c->heading), c->unit);
        e = worksheet_write_string(ws, CAPTION_ROWS, (lxw_col_t)i, tb_text_str(&t), tb_look(s->w, &l));
        tb_text_free(&t);
    }
    if (!e)
        e = worksheet_repeat_rows(ws, CAPTION_ROWS, CAPTION_ROWS);
    worksheet_freeze_panes(ws, CAPTION_ROWS + 1, 1);
    return e;
}

static char *next_tab(const struct tb_tab *s, size_t number)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, number > 1 ? "%s %zu" : "%s", s->plan.tab, number);
    return tb_text_take(&t);
}

/* Sums are those of one worksheet: each has its own totals, over the rows the reader sees there. */
tb_rc tb_piece_begin(struct tb_tab *s, struct tb_err *err)
{
    char *tab = next_tab(s, s->pieces + 1);
    lxw_worksheet *ws = workbook_add_worksheet(s->w->lxw, tab);
    lxw_row_t first = CAPTION_ROWS + (is_list(s) ? 1 : 0);
    lxw_error e = LXW_NO_ERROR;

    if (!ws) {
        tb_rc rc = tb_fail(err, TB_EIO, "sheet %s cannot be begun in %s", tab, s->w->file->path);

        free(tab);
        return rc;
    }
    TB_PUSH_ROOM(s->piece, s->pieces, s->piece_cap);
    s->piece[s->pieces++] = (struct piece){ .ws = ws, .tab = tab, .first = first, .last = first - 1 };
    for (size_t i = 0; i < s->plan.columns && !e; i++) {
        e = worksheet_set_column(ws, (lxw_col_t)i, (lxw_col_t)i, s->col[i].plan.width, NULL);
        s->col[i].sum = 0;
    }
    if (!e)
        e = set_page(s, ws, tab);
    if (!e)
        e = caption(s, ws);
    if (!e && is_list(s))
        e = headings(s, ws);
    if (s->plan.folded)
        worksheet_hide(ws);
    s->row = first;
    return tb_lxw(err, e, s->w->file->path);
}

/* SUBTOTAL 109 adds the rows a filter leaves: the totals follow what is looked at. */
static lxw_error totals(struct tb_tab *s, struct piece *p)
{
    struct tb_text t = { 0 };
    lxw_error e = LXW_NO_ERROR;
    bool any = false;

    for (size_t i = 0; i < s->plan.columns && !e && p->last >= p->first; i++) {
        struct look l = { .role = LOOK_TOTAL,
                          .type = s->col[i].plan.type,
                          .decimals = s->col[i].plan.decimals };
        char from[LXW_MAX_CELL_NAME_LENGTH], to[LXW_MAX_CELL_NAME_LENGTH];

        if (!s->col[i].plan.total)
            continue;
        any = true;
        lxw_rowcol_to_cell(from, p->first, (lxw_col_t)i);
        lxw_rowcol_to_cell(to, p->last, (lxw_col_t)i);
        tb_text_clear(&t);
        tb_text_addf(&t, "=SUBTOTAL(109,%s:%s)", from, to);
        e = worksheet_write_formula_num(p->ws, s->row, (lxw_col_t)i, tb_text_str(&t), tb_look(s->w, &l),
                                        tb_figure(s->col[i].sum));
    }
    tb_text_free(&t);
    s->row += any;
    return e;
}

/* As conditional formats, so that a cell that is edited takes the tone of its new words. */
static lxw_error emphases(struct tb_tab *s, struct piece *p)
{
    lxw_error e = LXW_NO_ERROR;

    for (size_t i = 0; i < s->plan.emphases && !e && p->last >= p->first; i++) {
        const struct tb_emphasis *m = &s->plan.emphasis[i];
        lxw_conditional_format f = { .type = LXW_CONDITIONAL_TYPE_CELL,
                                     .criteria = LXW_CONDITIONAL_CRITERIA_EQUAL_TO };
        struct tb_text words = { 0 };

        tb_text_addf(&words, "\"%s\"", m->words);
        f.value_string = words.s;
        f.format = tb_look_tone(s->w, m->tone);
        for (size_t c = 0; c < s->plan.columns && !e; c++)
            if (strcmp(s->col[c].plan.key, m->column) == 0)
                e = worksheet_conditional_format_range(p->ws, p->first, (lxw_col_t)c, p->last, (lxw_col_t)c,
                                                       &f);
        tb_text_free(&words);
    }
    return e;
}

void tb_tab_print_end(struct tb_tab *s, const char *words)
{
    if (s->pieces > 1)
        return;
    s->print_end = s->row;
    tb_tab_take(s, set_foot(s, tb_tab_here(s)->ws, words));
}

/* A long list on paper is read by nobody: the foot says how much of it is there. */
static lxw_error print_rows(lxw_row_t *last, struct tb_tab *s, struct piece *p)
{
    size_t rows = (size_t)(p->last + 1 - p->first);
    struct tb_text more = { 0 };
    lxw_error e;

    if (!is_list(s) || !s->plan.print_most || rows <= s->plan.print_most)
        return LXW_NO_ERROR;
    *last = p->first + (lxw_row_t)s->plan.print_most - 1;
    tb_text_addf(&more, _("%s: printed are the first %zu of %zu rows"), p->tab, s->plan.print_most, rows);
    e = set_foot(s, p->ws, tb_text_str(&more));
    tb_text_free(&more);
    return e;
}

/* Columns that stand beside are not printed, so that the others print large enough to read. */
static lxw_error print_area(struct tb_tab *s, struct piece *p)
{
    lxw_row_t last = s->row;
    lxw_error e;

    if (s->plan.folded) /* a spreadsheet may print what has an area, although it is folded away */
        return LXW_NO_ERROR;
    e = print_rows(&last, s, p);
    if (s->print_end)
        last = s->print_end - 1;
    if (e || (!s->plan.printed && last == s->row))
        return e;
    return worksheet_print_area(p->ws, 0, 0, last, (lxw_col_t)(printed_columns(s) - 1));
}

tb_rc tb_piece_end(struct tb_tab *s, bool goes_on, struct tb_err *err)
{
    struct piece *p = &s->piece[s->pieces - 1];
    struct look note = { .role = LOOK_NOTE };
    lxw_error e = LXW_NO_ERROR;

    if (is_list(s)) {
        /* before the totals: a row once left behind can no longer be named to the library */
        if (!s->plan.grouped)
            e = worksheet_autofilter(p->ws, CAPTION_ROWS, 0, p->last >= p->first ? p->last : CAPTION_ROWS,
                                     (lxw_col_t)(s->plan.columns - 1));
        if (!e)
            e = emphases(s, p);
        if (!e)
            e = totals(s, p);
        if (!e && !s->rows) /* below the cells that formulas over this list count */
            e = worksheet_write_string(p->ws, ++s->row, 0, _("None."), tb_look(s->w, &note));
    }
    if (!e && goes_on) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "\xE2\x86\x92 %s %zu", s->plan.tab, s->pieces + 1);
        e = worksheet_write_string(p->ws, s->row, 0, tb_text_str(&t), tb_look(s->w, &note));
        tb_text_free(&t);
    }
    if (!e)
        e = print_area(s, p);
    if (!e && s->pages) {
        s->page[s->pages] = 0;
        e = worksheet_set_h_pagebreaks(p->ws, s->page);
        s->pages = 0; /* the next worksheet has rows of its own */
    }
    return tb_lxw(err, e, s->w->file->path);
}
