/*
 * paper.h - a table that is only drawn: words with their places, put together to rows and columns.
 *
 * A page of a PDF, and text that somebody pasted, have no cells. What stands at one height is a row; words with no more than a
 * space between them are one phrase; and phrases that stand below one another are a column, through all pages. A wrong guess
 * must show: nothing that stands on the page is left out but what repeats at the head of each page, and page numbers.
 */
#ifndef TENTERBOOK_BASE_PAPER_H
#define TENTERBOOK_BASE_PAPER_H

#include "base/sheet_in.h"

#include <stdint.h>

struct tb_paper_word {
    float left, right, top, bottom; /* in any unit, downwards */
    uint32_t page;                  /* from 0 */
    uint32_t n;                     /* bytes of it */
    size_t text;                    /* where it begins */
    bool huge;                      /* many times as high as the others */
};

struct tb_paper {
    struct tb_paper_word *word;
    size_t words, cap;
    struct tb_text text; /* all words, one after the other */
    float space;         /* of this many heights, or less, is a space between words; more divides cells */
    bool numbered;       /* tops are numbers of lines */
    float near;          /* edges that are no further apart stand below one another */
};
#define TB_PAPER_WORDS_MOST 5000000 /* and fewer than 2^24 lines */

/* A word of n bytes of UTF-8, at least one. Its top and bottom are those of its line. */
void tb_paper_add(struct tb_paper *p, struct tb_paper_word place, const char *text, size_t n);
/*
 * All rows into the sink, in the order of the pages; the line of a row is its number among all lines of the paper. Pages whose
 * columns are others than those of the page before are a sheet of their own, called by the first of them ("page 3").
 *   told  the sink has the sheet already, and all pages are of it
 */
tb_rc tb_paper_rows(struct tb_paper *p, bool told, const struct tb_sheet_sink *sink, struct tb_err *err);
void tb_paper_free(struct tb_paper *p);

/* ---- inside ----------------------------------------------------------------------------------------------- */

/* Words with no more than a space between them. */
struct tb_phrase {
    float left, right;
    uint32_t first, n; /* words, in the order of the paper */
    uint32_t column;
};
struct tb_paper_line {
    float top, bottom;
    uint32_t page;
    uint32_t phrase, n;   /* the first, and how many */
    uint32_t word, words; /* likewise its words */
    uint32_t number;      /* among all lines, from 1 */
    bool dropped;         /* it repeats the head of a page, or is its number */
    bool huge;            /* of words that are many times as high as the others */
    bool row, header;     /* a row of the table; of the words above its columns */
    bool joins;           /* a line of a header: its words go on with those above them */
    uint32_t owner;       /* the line whose cells it goes on with; mostly itself */
};
struct tb_paper_table {
    struct tb_paper *paper;
    struct tb_phrase *phrase;
    size_t phrases, phrase_cap;
    struct tb_paper_line *line;
    size_t lines, line_cap;
    float space;     /* how wide one is, in heights of a line; 0: it does not show */
    float row_space; /* likewise, in the rows of the table */
    size_t most;     /* phrases of a line */
    size_t dense;    /* phrases that make a line one of a table */
    size_t columns;
    size_t rows, headers; /* lines that are rows, and headers above some of them */
    size_t lines_before;  /* of the paper, before those of the table */
};

/* paper_lines.c: words to phrases and lines. */
void tb_paper_lines(struct tb_paper_table *t);
/* Has a line few of the cells that others have? A title, a sum, or more of the cells beside it. */
bool tb_paper_partial(const struct tb_paper_table *t, const struct tb_paper_line *l);
/*
 * How wide a space is, in heights of a line: half of those between letters are wider. Cells that touch have a figure at one side
 * at least, since a word does not end where its cell does. 0: there are too few.
 *   rows  only those of rows of the table
 */
float tb_paper_space(const struct tb_paper_table *t, bool rows);
/* How much a gap, in heights of a line, differs from a space of the rows, in such spaces; 0: how wide one is does not show. */
float tb_paper_off_space(const struct tb_paper_table *t, float gap);
/* paper_body.c: rows and headers are marked, and phrases of rows in which cells touch become two. */
void tb_paper_body(struct tb_paper_table *t);
/* Phrases are cut before the words that are marked. */
void tb_paper_cut(struct tb_paper_table *t, const bool *cut);

struct tb_paper_column {
    float left, right; /* of all that stands in it */
};
/* How much of a stretch stands in the column; below 0: how far it is from it. */
float tb_paper_overlap(const struct tb_paper_column *c, float left, float right);
/* paper_header.c: phrases of the header that stand over two of n columns of the rows become two. */
void tb_paper_split_header(struct tb_paper_table *t, const struct tb_paper_column *c, size_t n);
/* The lines of each header are marked that go on with the line above. */
void tb_paper_join_header(struct tb_paper_table *t, const struct tb_paper_column *c, size_t n);
/*
 * Are there as many headers as columns? Then the first is that of the first, and so on, wherever in its column each stands.
 *   take  their phrases get their columns
 */
bool tb_paper_match_header(struct tb_paper_table *t, const struct tb_paper_column *c, size_t n, bool take);

/* paper_columns.c: each phrase gets its column; a phrase of two cells becomes two. */
void tb_paper_columns(struct tb_paper_table *t);
/* Has it a colon in it, as "Note: 4711" of a title? */
bool tb_phrase_labels(const struct tb_paper_table *t, const struct tb_phrase *f);
/* The text of a phrase, added. */
void tb_phrase_text(struct tb_text *out, const struct tb_paper_table *t, const struct tb_phrase *f);

/* paper_pages.c: what repeats on each page is marked. The owners of lines are known. */
void tb_paper_repeats(struct tb_paper_table *t);
/*
 * The lines from `from` on up to the first of a page whose columns are others: another table, or the right part of one that was
 * too wide for its page.
 */
size_t tb_paper_group(const struct tb_paper_table *t, size_t from);
/* May the page of line `from` be such a right part? The sheet before it begins with line `before`. */
bool tb_paper_beside(const struct tb_paper_table *t, size_t before, size_t from);

#endif
