/* page.h - words, tables and pictures flowing over the A4 pages of a tagged PDF. Internal. */
#ifndef TENTERBOOK_REPORT_PAGE_H
#define TENTERBOOK_REPORT_PAGE_H

#include "report/draw/pen.h"
#include "tenterbook/tongue.h"

#define PAGE_WIDTH 595.28
#define PAGE_HEIGHT 841.89
#define PAGE_LEFT 54.0
#define PAGE_RIGHT 54.0
#define PAGE_TOP 48.0
#define PAGE_BOTTOM 60.0
#define PAGE_ROOM (PAGE_WIDTH - PAGE_LEFT - PAGE_RIGHT)

/* A column of a table: widths in parts of the room. */
struct page_column {
    const char *heading; /* looked up in the language of the page when it is drawn */
    double share;        /* of PAGE_ROOM; together 1 */
    bool right;          /* figures */
    bool mono;
};

/* Rows of a table that wait until the rows after them are known: where they stand is decided together. */
#define PAGE_ROWS_AHEAD 3

struct page {
    cairo_t *c;
    double y;
    int number, total; /* total 0: not known yet */
    const char *foot;
    enum tb_tongue tongue; /* of what the pages say by themselves */
    bool tagged, uncoded;  /* uncoded: a code could not be drawn */
    bool
        close; /* words a little smaller and blocks nearer to each other, where a page would hardly be begun else */
    const char *heading;              /* waits for what stands below it; NULL none does */
    const struct page_column *column; /* of the table being drawn */
    size_t columns;
    char **ahead[PAGE_ROWS_AHEAD]; /* its rows that wait, so many cells each */
    size_t aheads;
    bool begun; /* its heading stands on this page */
};

/* One sentence at a time: the text is emptied and filled; what is returned is good until the next one. */
const char *tb_page_say(struct tb_text *t, const char *fmt, ...) TB_PRINTF(2, 3);

/* tb_page_begin, tb_page_end - one page: where it begins, its foot with the number. Between them p->y grows. */
void tb_page_begin(struct page *p);
void tb_page_end(struct page *p);
/* tb_page_need - room for h points on this page, or a new one. */
void tb_page_need(struct page *p, double h);
/* tb_page_beside - two blocks of lines side by side, the right one smaller: for a recipient and what stands beside it in a letter. */
void tb_page_beside(struct page *p, const char *left, const char *right);
/*
 * tb_page_subject, _lead - a title and a heading of a letter, which has less room than a report. tb_page_sign - what closes a letter, room to
 * sign, a line and whose signature it is, with the anchor as a QR code beside them, as tb_page_anchor has it; not torn.
 */
void tb_page_subject(struct page *p, const char *text);
void tb_page_lead(struct page *p, const char *text);
void tb_page_sign(struct page *p, const char *closing, const char *whose, const char *anchor);
/* tb_page_gap - leave h points free. */
void tb_page_gap(struct page *p, double h);
/*
 * tb_page_title, _heading, _text, _small, _quote - a block of words over the width of the page, tagged for those who
 * listen. A block is not torn: it moves to the next page where it does not fit, and a heading with the first block below it, for which
 * its text has to stay; with small words right below it, some room for what they are about.
 */
void tb_page_title(struct page *p, const char *text);
void tb_page_heading(struct page *p, const char *text);
void tb_page_text(struct page *p, const char *text);
void tb_page_quote(struct page *p, const char *text); /* somebody's own words, with a bar beside them */
void tb_page_small(struct page *p, const char *text);
/* tb_page_pair - a label and its value beside it; without a value (NULL, "") neither is drawn. */
void tb_page_pair(struct page *p, const char *label, const char *value);

/* tb_page_label - small words at a place of their own, tagged; the flow is left as it is. */
void tb_page_label(struct page *p, double x, double y, const struct pen_words *how, const char *text);

/*
 * tb_page_anchor - the anchor of the book as a QR code, and beside it what it is for; nothing where it is "". Where the code cannot
 * be made p->uncoded is set: tb_page_coded fails with TB_EIO then, once the drawing is done.
 */
void tb_page_anchor(struct page *p, const char *anchor);
tb_rc tb_page_coded(const struct page *p, struct tb_err *err);

/*
 * tb_page_table_begin, _row, _end - a table, filled row by row with as many cells as columns. A row is not torn; on a
 * new page the heading is drawn again. Two rows at least stand together with the heading above them: neither the last row of a table
 * stands alone on a page, nor the first. A row is drawn once those after it are known, the last with the end.
 */
void tb_page_table_begin(struct page *p, const struct page_column *column, size_t n);
void tb_page_row(struct page *p, const char *const *cell);
void tb_page_table_end(struct page *p);

#endif
