/* workbook_impl.h - what the files of the workbook share. Not for anyone else. */
#ifndef TENTERBOOK_REPORT_WORKBOOK_IMPL_H
#define TENTERBOOK_REPORT_WORKBOOK_IMPL_H

#include "tenterbook/outfile.h"
#include "tenterbook/workbook.h"

#include "gen/late_workbook.h"

#define DECIMALS_OF_COLUMN (-2)

/* The colours of the papers (pen.h); the face is one every spreadsheet has. */
#define FACE "Arial"
#define INK 0x1F2933
#define FADED 0x6B7280
#define THREAD 0xC9C2B4
#define CLOTH 0xF4F0E6
#define MADDER 0x7A1F2B
#define PAPER 0xFFFFFF

/* What a cell is for; with its type, decimals and tone it decides how it looks. */
enum look_role { LOOK_BODY, LOOK_HEADING, LOOK_TOTAL, LOOK_TITLE, LOOK_NOTE, LOOK_SECTION, LOOK_ITEM };

struct look {
    enum look_role role;
    enum tb_column_type type;
    int decimals;
    enum tb_tone tone;
    bool wrap;
    bool indent; /* words: keep off the column before */
};

/* One worksheet a list stands on; a long list has several. */
struct piece {
    lxw_worksheet *ws;
    char *tab;
    lxw_row_t first, last; /* of the records; empty while last < first */
};

struct column {
    struct tb_column plan;
    lxw_format *body[TB_TONE_AGREE + 1]; /* by tone, made when first needed */
    double sum;                          /* on this worksheet */
};

struct tb_tab {
    struct tb_workbook *w;
    struct tb_tab_plan plan;
    struct column *col;
    struct piece *piece;
    size_t pieces, piece_cap;
    lxw_row_t row;   /* next row to write */
    lxw_row_t *page; /* rows of this worksheet before which a page ends, and 0 behind them */
    size_t pages;
    size_t at;               /* next cell of it */
    size_t rows;             /* ended so far, on all worksheets */
    enum tb_tone tone;       /* of the next cell */
    int decimals;            /* likewise, or DECIMALS_OF_COLUMN */
    size_t lines;            /* the row needs as many */
    bool summing;            /* the row is a sum of those above, and no record */
    lxw_row_t print_end;     /* the row before which printing ends; 0: it does not */
    char *section;           /* forms: heading over the items */
    FILE *csv;               /* the twin, NULL: it has none */
    struct tb_outfile *twin; /* belongs to the set of the workbook */
    struct tb_text scratch;
    struct tb_err fault; /* the first trouble of this row */
    tb_rc rc;
    bool ended;
};

/* Bytes that the rows of a worksheet take. */
struct expected {
    long worksheet; /* 1: xl/worksheets/sheet1.xml */
    off_t bytes;
};

struct tb_workbook {
    lxw_workbook *lxw; /* NULL once closed */
    struct tb_workbook_plan plan;
    char *title, *subject, *folder, *stem;
    struct tb_outfile *file; /* likewise */
    struct tb_tab **sheet;
    size_t sheets, sheet_cap;
    struct {
        struct look look;
        lxw_format *format;
    } * format;
    size_t formats, format_cap;
    struct expected *expect; /* of each worksheet: the finished file must hold as much */
    size_t expects, expect_cap;
};

/* The place of a column by its key; the key must be one of the sheet's. */
lxw_col_t tb_tab_column(const struct tb_tab *s, const char *key);

/* The format of a look, made once and kept: a spreadsheet holds only so many. */
lxw_format *tb_look(struct tb_workbook *w, const struct look *look);
lxw_format *tb_look_tone(struct tb_workbook *w, enum tb_tone tone); /* for a conditional format */

/* The library's answer as one of ours; TB_OK for LXW_NO_ERROR. */
tb_rc tb_lxw(struct tb_err *err, lxw_error e, const char *path);

/*
 * Words for the file's properties, a caption or a footer. The library escapes control characters in cells but not
 * there, where one makes the file unreadable: they become spaces. Cut to `most` characters. Yours to free.
 */
char *tb_caption_words(const char *words, size_t most);
#define TB_TITLE_MOST 200

/* The first trouble of a row is kept, and answered when the row ends. */
void tb_tab_note(struct tb_tab *s, tb_rc rc);
void tb_tab_take(struct tb_tab *s, lxw_error e);
struct piece *tb_tab_here(struct tb_tab *s); /* the worksheet rows go to now */
void tb_tab_row_begin(struct tb_tab *s);     /* on the next worksheet, when this one is full */

/* The next cell: its column (a row begins with the first), its look, whether it is the first of a CSV line; then on. */
struct column *tb_cell_next(struct tb_tab *s, enum tb_column_type type);
lxw_format *tb_cell_look(struct tb_tab *s, struct column *c, enum tb_column_type type);
bool tb_cell_first(const struct tb_tab *s);
void tb_cell_done(struct tb_tab *s);

/* Words whose bytes are UTF-8; borrowed from text, or from the sheet until the next call. */
const char *tb_tab_clean(struct tb_tab *s, const char *text);

/* Seconds of a valid moment since midnight. */
long tb_moment_seconds(const char *moment);

/* Begin, end a worksheet of the list; the caption stands above its rows. */
tb_rc tb_piece_begin(struct tb_tab *s, struct tb_err *err);
tb_rc tb_piece_end(struct tb_tab *s, bool goes_on, struct tb_err *err);
/* Records one worksheet takes: a longer list goes on on the next. */
size_t tb_piece_room(const struct tb_tab *s);

/* CSV (RFC 4180): the heading line; one field, quoted where it must be, after a comma unless it is the first. */
void tb_csv_heading(struct tb_tab *s);
void tb_csv_text(FILE *f, bool first, const char *text);
void tb_csv_plain(FILE *f, bool first, const char *figures);
void tb_csv_line(FILE *f);

/*
 * How many bytes the rows of each worksheet take, before the library puts them together: it does not tell whether the disk
 * took them. Fails with TB_EIO.
 */
tb_rc tb_workbook_account(struct tb_workbook *w, struct tb_err *err);
/* The finished archive is opened again: nothing of it may be missing. Fails with TB_EIO. */
tb_rc tb_workbook_inspect(struct tb_workbook *w, struct tb_err *err);

/* Free a sheet; its twin stays with the set. */
void tb_tab_free(struct tb_tab *s);

#endif
