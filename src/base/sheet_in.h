/* sheet_in.h - what the two readers behind sheet.h share: the row being built, and their entries. */
#ifndef TENTERBOOK_BASE_SHEET_IN_H
#define TENTERBOOK_BASE_SHEET_IN_H

#include "tenterbook/sheet.h"

/* One row while its cells come in; texts lie in one growing buffer, cells keep offsets until it is emitted. */
struct tb_row_buf {
    char *text;
    size_t n, cap;
    struct tb_cell *cell;
    size_t *at;
    size_t cells, cell_cap;
    enum tb_row_look look; /* shown, where nobody says otherwise */
    size_t filled, struck; /* cells that the reader counted, and those of them that a line goes through */
};

/* An empty row. */
void tb_row_begin(struct tb_row_buf *b);
/* Columns may come in any order; the text is trimmed and copied. False: beyond TB_SHEET_COLUMNS_MOST. */
bool tb_row_put(struct tb_row_buf *b, size_t column, enum tb_cell_type type, const char *text, size_t n,
                double number);
/* A filled cell, which a line goes through or not: a row is struck through where all of them are. */
void tb_row_count(struct tb_row_buf *b, bool struck);
/* Hand the row to the sink as line `line`; answers what the sink answers. */
tb_rc tb_row_emit(struct tb_row_buf *b, size_t line, const struct tb_sheet_sink *sink, struct tb_err *err);
/* Free it and make it reusable. */
void tb_row_free(struct tb_row_buf *b);

#define TB_WHOLE_MOST 1e15 /* whole numbers below it are written without a point and without loss */
#define TB_NUMBER_TEXT 128
/* A number of a spreadsheet as a person would have typed it: at most 15 digits, whole numbers without a point. */
void tb_number_text(char out[TB_NUMBER_TEXT], double v);

/* A reader behind tb_sheet_read: the rows of an open file, from its beginning, into the sink. Does not close it. */
typedef tb_rc tb_sheet_reader(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *err);
tb_sheet_reader tb_csv_read;
tb_sheet_reader tb_xlsx_read; /* and ODS, packed alike */
tb_sheet_reader tb_xls_read;

/* A kind of file that is taken to pieces in a process of its own, and what its library needs there. */
struct tb_foreign {
    tb_sheet_reader *read;
    void (*before)(void); /* as tb_apart_job has it; NULL: nothing */
};
extern const struct tb_foreign tb_foreign_zip, tb_foreign_xls, tb_foreign_pdf;
/*
 * tb_sheet_apart - the reader of such a file, run in a process of its own (base/apart.h). What comes back
 * is checked, cell by cell, before the sink has it.
 *   fails  as the reader and the sink; TB_EFORMAT where the process was stopped or broke off
 */
tb_rc tb_sheet_apart(FILE *f, const struct tb_foreign *kind, const struct tb_sheet_sink *sink,
                     struct tb_err *err);

/* Bytes of a text file, decoded to UTF-8 chunk by chunk. */
struct tb_decoder;
/*
 * tb_decoder_new - take a file, which stays the caller's, in this encoding (NULL: as it looks). Free with tb_decoder_close, also
 * after a failure. Fails with TB_EINVAL where the file is marked as another one, or nobody knows that name.
 */
tb_rc tb_decoder_new(struct tb_decoder **out, FILE *f, const char *encoding, struct tb_err *err);
/* The next chunk, n = 0 at the end; borrowed until the next call. */
tb_rc tb_decoder_next(struct tb_decoder *d, const char **text, size_t *n, struct tb_err *err);
/* "UTF-8", "UTF-16LE", "Windows-1250" ...: static. */
const char *tb_decoder_encoding(const struct tb_decoder *d);
/* NULL is accepted. */
void tb_decoder_close(struct tb_decoder *d);

#endif
