/*
 * sheet.h - rows of a table, streamed out of a CSV file or a workbook in bounded memory.
 *
 * CSV: comma, semicolon or tab; UTF-8 with or without byte-order mark, UTF-16 with or without one, else
 * Windows-1252 (which holds Latin-1), or the code page that the sink names; LF, CRLF or CR; newlines inside quotes; strict about quotes (RFC 4180).
 * Text: columns that stand below one another, as it is pasted from a mail.
 * XLSX: ECMA-376 spreadsheets by libzip and expat; shared, inline and rich text, dates in both epochs.
 * ODS: OpenDocument spreadsheets, packed alike. XLS: workbooks of 1997 to 2003.
 * PDF: the words of its pages by libpoppler-glib, put together to rows and columns.
 * All give the same rows. Nothing here knows about cloth.
 */
#ifndef TENTERBOOK_SHEET_H
#define TENTERBOOK_SHEET_H

#include "tenterbook/date.h"

#include <stdio.h>

enum tb_cell_type {
    TB_CELL_EMPTY,
    TB_CELL_TEXT,   /* every cell of a CSV file that is not empty */
    TB_CELL_NUMBER, /* a number of a spreadsheet; text holds at most 15 digits, as the spreadsheet keeps them */
    TB_CELL_DAY /* a number a spreadsheet shows as a date; text is "YYYY-MM-DD", the time of day dropped */
};

struct tb_cell {
    enum tb_cell_type type;
    /*
     * UTF-8; control characters are spaces, no spaces at the ends, "" when empty; borrowed until the callback
     * ends
     */
    const char *text;
    double number; /* of TB_CELL_NUMBER; NAN else */
};

/* How a workbook shows a row. */
enum tb_row_look {
    TB_ROW_SHOWN,
    TB_ROW_HIDDEN, /* it is not on the screen: a filter, or somebody, hides it */
    TB_ROW_STRUCK  /* a line goes through each of its cells */
};

struct tb_row {
    size_t line; /* 1-based: the line of the file on which the row begins, or the row number of the sheet */
    const struct tb_cell *cell; /* n cells, column 0 first, empty ones included */
    size_t n;
    enum tb_row_look look;
};

enum tb_sheet_kind {
    TB_SHEET_CSV,
    TB_SHEET_XLSX, /* a sheet of a workbook, of whatever kind */
    TB_SHEET_PAPER /* a PDF, or text whose columns stand below one another: one sheet, whose lines count from its top */
};

struct tb_sheet {
    enum tb_sheet_kind kind;
    const char *name; /* of the sheet; "" for CSV. Borrowed until the reader returns */
    size_t number;    /* 1-based place in the workbook */
    bool hidden;      /* the spreadsheet does not show it */
    bool
        beside; /* PDF: its lines stand as high as those of the sheet before; it may be the right part of that table */
    char delimiter; /* CSV: ',' ';' or '\t'; ' ': columns stand below one another */
    const char *
        encoding; /* CSV: "UTF-8", "UTF-16LE", "UTF-16BE", TB_SHEET_WESTERN, or what the sink named; static */
};

/* What text that is not UTF-8 is read as where nobody says otherwise. */
#define TB_SHEET_WESTERN "Windows-1252"

/* Who takes the rows. A callback that answers other than TB_OK ends the reading with that answer. */
struct tb_sheet_sink {
    /* Each sheet before its rows; *skip (false at the call) leaves its rows out. May be NULL. */
    tb_rc (*sheet)(void *arg, const struct tb_sheet *sheet, bool *skip, struct tb_err *err);
    tb_rc (*row)(void *arg, const struct tb_row *row, struct tb_err *err);
    void *arg;
    const char *encoding; /* of a text file, as tb_code_page_find knows it; NULL: as it looks */
};

/*
 * tb_sheet_read - stream every row of a file through the sink.
 *
 *   path    a regular file; its beginning, not its name, says of what kind it is
 *   fails   TB_EFORMAT damaged, hostile or over a limit below; TB_ENOTFOUND nothing is there; TB_EINVAL not an ordinary file,
 *           or too large a one, or marked as text of another encoding than the sink's; TB_EIO unreadable; what the sink answered. The sentence names the line or the part, not the
 *           file
 *   memory  one row; for XLSX also the table of shared strings, for XLS the whole file, for CSV one field
 */
tb_rc tb_sheet_read(const char *path, const struct tb_sheet_sink *sink, struct tb_err *err);

/* A column that is wanted. */
struct tb_named_column {
    const char *name;
    bool must; /* the table is refused without it */
};
/* A row of a table whose columns have names. */
struct tb_named_row {
    size_t line;
    const char **field; /* one for each wanted column */
};
/*
 * tb_named_rows_read - a table whose first row names its columns, read whole, whatever their order.
 *
 *   out      n rows; each has one field for each of the wanted columns, "" where it is empty or not there. In mem
 *   path     as above; "-" is standard input
 *   columns  the names, compared without regard to case; the table may have others only where `others` says so
 *   fails    as above; TB_EINVAL: an unknown column, a column that must be there and is not, nothing at all in the file
 */
tb_rc tb_named_rows_read(struct tb_named_row **out, size_t *n, const char *path,
                         const struct tb_named_column *column, size_t columns, bool others,
                         struct tb_arena *mem, struct tb_err *err);

/* A file that came as bytes, not from a disk of this machine. */
struct tb_sent {
    const char *name; /* what it is called; never used as a path */
    const void *bytes;
    size_t size;
};
/* tb_named_rows_sent - such a table. Fails TB_EIO where it cannot be kept for reading. */
tb_rc tb_named_rows_sent(struct tb_named_row **out, size_t *n, const struct tb_sent *sent,
                         const struct tb_named_column *column, size_t columns, bool others,
                         struct tb_arena *mem, struct tb_err *err);

/*
 * What was sent as a file, for those who read files: it lies in the system's folder for such, without a name there.
 * Begin with all zero.
 */
struct tb_sent_file {
    FILE *file;
    char path[32]; /* where it can be read until tb_sent_file_close */
};
/* tb_sent_file_open - keep bytes as such a file. Fails TB_EIO; close it after a failure too. */
tb_rc tb_sent_file_open(struct tb_sent_file *f, const struct tb_sent *sent, struct tb_err *err);
void tb_sent_file_close(struct tb_sent_file *f);

/* Limits: beyond them a file is refused with a sentence, not read in part. */
#define TB_SHEET_FILE_MOST (1ull << 30)     /* bytes of the file: ten million bolts as CSV */
#define TB_SHEET_COLUMNS_MOST 16384         /* what a spreadsheet can hold */
#define TB_SHEET_ROWS_MOST 1048576          /* workbooks: what a spreadsheet can hold */
#define TB_SHEET_FIELD_MOST (1u << 20)      /* bytes of one cell */
#define TB_SHEET_STRINGS_MOST (512u << 20)  /* bytes of shared strings of a workbook */
#define TB_SHEET_UNPACKED_MOST (4ull << 30) /* bytes of all parts of a workbook, unpacked */
#define TB_SHEET_RATIO_MOST 400             /* unpacked / packed bytes of a part over 16 MiB */

/* "A" for column 0, "AB" for 27. */
void tb_column_letters(char out[8], size_t column);

#define TB_DIGEST_LEN 64
/*
 * SHA-256 of a file's bytes as 64 hexadecimal digits. Fails as tb_sheet_read where it cannot be opened, and with TB_EIO.
 */
tb_rc tb_file_digest(char out[TB_DIGEST_LEN + 1], const char *path, struct tb_err *err);

#endif
