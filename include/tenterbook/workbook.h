/*
 * workbook.h - sheets for people who calculate: one description, an XLSX workbook and CSV twins from it.
 *
 * A sheet is described once (columns: key, heading, unit, type, width). Rows are streamed, cell by cell and
 * from left to right, and kept nowhere: a million rows take the memory of one. Every sheet is also written as
 * a CSV file beside the workbook. They belong to a set of the caller, whose files take their names together.
 */
#ifndef TENTERBOOK_WORKBOOK_H
#define TENTERBOOK_WORKBOOK_H

#include "tenterbook/outfile.h"
#include "tenterbook/words.h"

#include <stddef.h>
#include <stdint.h>

enum tb_column_type {
    TB_COL_TEXT,   /* words; never read as a formula, whatever they begin with */
    TB_COL_COUNT,  /* whole number */
    TB_COL_NUMBER, /* as many decimals as the column says */
    TB_COL_SHARE,  /* 0..1, shown in percent with as many decimals as the column says */
    TB_COL_DAY,    /* "YYYY-MM-DD", a date to the spreadsheet */
    TB_COL_MOMENT, /* "YYYY-MM-DDThh:mm:ssZ", a date with time (UTC) to the spreadsheet */
    TB_COL_ANY     /* whatever is put: forms only */
};

#define TB_DECIMALS_FREE                                                                                     \
    (-1) /* figures of any size: three decimals, very large and small ones as powers of ten */

/* What a spreadsheet calls 1970-01-01, in days: for conditions over columns of days. */
#define TB_SHEET_1970 25569

/*
 * Where a record has the cell of a column, for tb_tab_record. Made by the macros below, which tell the kind by the type of
 * the member: words, a whole number (int64_t) or a figure (double). A column of days or moments takes words.
 */
enum tb_from_kind {
    TB_FROM_NONE,   /* the cell is put by hand */
    TB_FROM_TEXT,   /* const char * */
    TB_FROM_CHARS,  /* char [] */
    TB_FROM_COUNT,  /* int64_t */
    TB_FROM_NUMBER, /* double */
    TB_FROM_WORD,   /* an enumerator, as the word of its set */
    TB_FROM_PUT     /* a function puts the cell */
};
struct tb_tab;
struct tb_from {
    enum tb_from_kind kind;
    size_t at;                    /* byte of the record */
    const struct tb_words *words; /* of TB_FROM_WORD */
    void (*put)(struct tb_tab *s, const void *record);
};
/* clang-format off */
#define TB_FROM_KIND(address) _Generic((address), const char **: TB_FROM_TEXT, char **: TB_FROM_TEXT, \
    int64_t *: TB_FROM_COUNT, double *: TB_FROM_NUMBER, default: TB_FROM_CHARS)
/* clang-format on */
#define TB_FROM(record, member)                                                                              \
    {                                                                                                        \
        TB_FROM_KIND(&((record *)0)->member), offsetof(record, member), NULL, NULL                           \
    }
#define TB_FROM_OF(record, member, words)                                                                    \
    {                                                                                                        \
        TB_FROM_WORD, offsetof(record, member), words, NULL                                                  \
    }
#define TB_FROM_BY(put)                                                                                      \
    {                                                                                                        \
        TB_FROM_PUT, 0, NULL, put                                                                            \
    }
#define TB_FROM_HAND                                                                                         \
    {                                                                                                        \
        TB_FROM_NONE, 0, NULL, NULL                                                                          \
    }

struct tb_column {
    const char *key;     /* heading in the CSV twin, not translated, unit included: "length_m" */
    const char *heading; /* heading for people; looked up in the message catalogue */
    const char *unit;    /* shown under the heading: "m"; NULL: it has no unit */
    enum tb_column_type type;
    int decimals; /* TB_COL_NUMBER, TB_COL_SHARE */
    double width; /* in characters of the sheet's type face */
    bool wrap;    /* long words go on in the next line of the cell */
    bool total;   /* summed under the list, over the rows the filter leaves */
    struct tb_from from;
};

/* How a cell speaks up. Each is told from the others without colour: print, copy and fax keep it. */
enum tb_tone {
    TB_TONE_PLAIN,
    TB_TONE_ALARM, /* light words on a dark ground, heavy */
    TB_TONE_DOUBT, /* slanted and framed on a pale ground */
    TB_TONE_QUIET, /* grey */
    TB_TONE_AGREE  /* heavy in a thin frame: what is as it should be among figures that are not */
};

/* In this column, cells with these very words take this tone (a conditional format: it follows an edit). */
struct tb_emphasis {
    const char *column; /* key */
    const char *words;
    enum tb_tone tone;
};

enum tb_layout {
    TB_LAYOUT_LIST, /* heading row, frozen and repeated in print; filter; one record a row */
    TB_LAYOUT_FORM  /* sections of items: summary, legend; the heading row only in the CSV twin */
};

struct tb_tab_plan {
    const char *key;   /* "lots": the CSV twin is STEM-lots.csv */
    const char *tab;   /* name of the sheet, at most 25 characters */
    const char *title; /* first line */
    const char *note;  /* second line, small; NULL: only the title */
    enum tb_layout layout;
    const struct tb_column *column; /* kept by the caller until the sheet has ended */
    size_t columns;
    const struct tb_emphasis *emphasis; /* likewise */
    size_t emphases;
    size_t printed;    /* so many columns are printed, the rest stands beside on the screen; 0: all */
    bool no_twin;      /* no CSV file: the sheet holds pictures of other sheets */
    size_t rows_most;  /* rows on one worksheet before it goes on on the next; 0: as many as there can be */
    size_t print_most; /* so many rows are printed, and the foot of the page says so; 0: all */
    bool folded;       /* the worksheet is there for formulas and can be shown; it is not printed */
    bool grouped; /* a list with headings and sums between its records (tb_tab_group): it has no filter */
};

struct tb_workbook_plan {
    struct tb_outset *files; /* the workbook and its twins become part of this set, which the caller ends */
    const char *path;        /* ends in ".xlsx" */
    const char *title;       /* file properties and page footer */
    const char *subject;     /* likewise: "2026-03" */
    const char *created;     /* moment; same moment, same rows: same bytes. NULL: tb_now() */
};

struct tb_workbook;

/*
 * tb_workbook_open - begin a workbook.
 *
 *   out    end it with tb_workbook_close or tb_workbook_drop
 *   plan   words are copied, `path` too
 *   fails  as tb_outset_add
 */
tb_rc tb_workbook_open(struct tb_workbook **out, const struct tb_workbook_plan *plan, struct tb_err *err);

/*
 * tb_tab_begin - add a sheet; the tabs stand in the order of these calls. Several may be open at once, so
 * that a summary can stand first and be filled last.
 *
 *   out    belongs to the workbook
 *   plan   the name of the tab has at most 25 characters, and there is at least one column (assert)
 *   fails  TB_EIO
 */
tb_rc tb_tab_begin(struct tb_tab **out, struct tb_workbook *w, const struct tb_tab_plan *plan,
                   struct tb_err *err);

/*
 * tb_put_* - put the next cell of the row. A cell of another type than its column, or one too many, is a fault of the
 * program (assert). What a file or the book can spoil is noted and answered by tb_tab_row: a day that is not valid.
 * NULL or "" and NAN leave the cell empty. Bytes that are not UTF-8 become U+FFFD; text that is too long for a cell
 * (32,767 characters) is cut there, with a mark, and whole in the twin. Text is copied.
 */
void tb_put_text(struct tb_tab *s, const char *text);
void tb_put_count(struct tb_tab *s, int64_t n);
void tb_put_number(struct tb_tab *s, double x);
/* tb_put_share - 0..1, shown in percent. */
void tb_put_share(struct tb_tab *s, double x);
/* tb_put_day, tb_put_moment - ISO 8601 (date.h); a date to the spreadsheet, the same text in the twin. */
void tb_put_day(struct tb_tab *s, const char *day);
void tb_put_moment(struct tb_tab *s, const char *moment);
/* tb_put_none - leave the cell empty. */
void tb_put_none(struct tb_tab *s);
/*
 * tb_put_formula - a formula of ours, never of a user: nothing in it is escaped.
 *   x      its value now, for programs that do not calculate, and for the twin; NAN: empty
 *   as     type it is shown as, in a form; in a list that of the column
 *   fmt    as printf has it
 */
void tb_put_formula(struct tb_tab *s, double x, enum tb_column_type as, const char *fmt, ...) TB_PRINTF(4, 5);
/* tb_put_tone - the next cell put takes this tone. */
void tb_put_tone(struct tb_tab *s, enum tb_tone tone);
/* tb_put_decimals - forms: the next figure is shown with this many decimals, or TB_DECIMALS_FREE. */
void tb_put_decimals(struct tb_tab *s, int decimals);

/*
 * tb_tab_row - end the row; cells not put stay empty.
 *   fails  TB_EINVAL: a cell could not be taken; TB_EIO. The sentence names sheet and row
 */
tb_rc tb_tab_row(struct tb_tab *s, struct tb_err *err);
/*
 * tb_tab_record - put a whole row: each cell as the field of its column says.
 *
 *   record  of the type the columns were made for; each of them has a field (assert)
 *   fails   as tb_tab_row
 */
tb_rc tb_tab_record(struct tb_tab *s, const void *record, struct tb_err *err);
/* tb_tab_break - what follows begins a new page when it is printed; no more than a worksheet can have (1,023) are kept. */
void tb_tab_break(struct tb_tab *s);
/*
 * Between the records of a list, on the worksheet alone and not in the twin: tb_tab_group - a heading over the records that follow, as wide as
 * what is printed; tb_tab_sum - the row that is put next is a sum of those above, and no record; tb_tab_remark - words below them;
 * tb_tab_space - so many empty rows. tb_tab_print_end - printed is what stands above here, and the foot of the pages says `words`.
 */
tb_rc tb_tab_group(struct tb_tab *s, const char *heading, struct tb_err *err);
void tb_tab_sum(struct tb_tab *s);
tb_rc tb_tab_remark(struct tb_tab *s, const char *words, struct tb_err *err);
void tb_tab_space(struct tb_tab *s, size_t rows);
void tb_tab_print_end(struct tb_tab *s, const char *words);
/* tb_tab_next - the place of the next row among those of its worksheet, for a chart: headings and sums count. */
size_t tb_tab_next(const struct tb_tab *s);
/* tb_tab_records - the same with n records of `size` bytes each. */
tb_rc tb_tab_records(struct tb_tab *s, const void *array, size_t n, size_t size, struct tb_err *err);
/* tb_tab_section - forms: a heading over the items that follow; in the twin it is the first column, `section`. TB_EIO */
tb_rc tb_tab_section(struct tb_tab *s, const char *heading, struct tb_err *err);
/*
 * tb_tab_end - totals, filter, print set-up; no rows after it. tb_workbook_close calls it where it was not called.
 *   fails  TB_EIO
 */
tb_rc tb_tab_end(struct tb_tab *s, struct tb_err *err);

/* tb_tab_rows - rows ended so far, on all worksheets of the list. */
size_t tb_tab_rows(const struct tb_tab *s);
/*
 * tb_tab_formula - "=COUNTIF(Lots!$F$3:$F$90,"fits")": the function over a column of a list, over all the
 * worksheets the list goes on on, added up. test NULL: no second argument. "=0" when the list has no rows.
 */
void tb_tab_formula(struct tb_text *out, const struct tb_tab *s, const char *function, const char *column,
                    const char *test);

/* One condition of a formula: the rows where a column answers a test. */
struct tb_where {
    const char *column; /* key; it must be there (assert) */
    /* a constant of ours ("fits", ">0") or, beginning with =, a cell of the sheet the formula is put on ("=$A4") */
    const char *test;
};
/*
 * tb_tab_formula_where - the same over the rows that answer all of up to four conditions.
 *
 *   out     the formula is appended; "=0" when the list has no rows
 *   column  key of the column that is added up (SUMIFS); NULL: the rows are counted (COUNTIFS)
 *   where   n conditions, 1..4 (assert); borrowed for the call
 */
void tb_tab_formula_where(struct tb_text *out, const struct tb_tab *s, const char *column,
                          const struct tb_where *where, size_t n);
/* tb_tab_cell - "$F4": a cell of the row being written, for a formula within a row. The column must be there (assert). */
void tb_tab_cell(char out[24], const struct tb_tab *s, const char *column);

/* A chart of the spreadsheet's own over rows of a list. Told apart by hatching, never by colour alone. */
enum tb_sheet_chart_kind {
    TB_SHEET_POINTS, /* points with the ends of an interval; series: low end, value, high end, and a level that is aimed at */
    TB_SHEET_SPANS,       /* upright; series: foot (not drawn), up to the value, up to the far end */
    TB_SHEET_SPANS_LYING, /* the same, lying, first row on top */
    TB_SHEET_PARTS,       /* lying, the series stacked */
    TB_SHEET_BARS         /* lying, one series, its figures beside the bars */
};
struct tb_sheet_chart {
    enum tb_sheet_chart_kind kind;
    const char *title, *note;   /* note: name of the axis of values */
    const char *label;          /* key of the column with the words */
    const char *const *series;  /* keys of the columns drawn */
    const char *const *name;    /* what the key calls them; NULL: their headings */
    size_t n;                   /* at most four are told apart by hatching (assert) */
    size_t from;                /* the first row, as tb_tab_next has it; 0: the first of the list */
    size_t rows;                /* so many rows from there on */
    bool share;                 /* the values are shares, 0 .. 1 */
    double y_most;              /* end of the axis; 0: as the values need */
    double x, y, width, height; /* place on the sheet, pixels of 1/96 inch */
};
/*
 * tb_tab_chart - put a chart of the rows of `data` on a sheet. `data` may go on on later worksheets: only its first is
 * drawn from.
 *   fails  TB_EIO
 */
tb_rc tb_tab_chart(struct tb_tab *on, const struct tb_tab *data, const struct tb_sheet_chart *chart,
                   struct tb_err *err);

/*
 * tb_workbook_close - end all sheets; each file is flushed, synced and read again. The set gives them their names.
 *
 *   w      is gone whatever the answer
 *   fails  TB_EIO
 */
tb_rc tb_workbook_close(struct tb_workbook *w, struct tb_err *err);
/* tb_workbook_drop - end it unfinished; the set has to be thrown away. NULL: nothing happens. */
void tb_workbook_drop(struct tb_workbook *w);

#endif
