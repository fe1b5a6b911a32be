/*
 * xls_in.h - the insides of the reader of old workbooks (.xls): a compound file, and in it the records of the workbook.
 *
 * Source: Microsoft's [MS-CFB] and [MS-XLS], and OpenOffice's documentation of the Excel file format; memory.
 */
#ifndef TENTERBOOK_BASE_XLS_IN_H
#define TENTERBOOK_BASE_XLS_IN_H

#include "base/sheet_in.h"

#include <stdint.h>

/* A compound file: all of it in memory, and the chains by which its sectors follow one another. */
struct tb_cfb {
    unsigned char *s;
    size_t n;
    size_t sector; /* bytes of one */
    uint32_t *next;
    size_t sectors;
};
#define TB_XLS_FILE_MOST (512u << 20) /* ten times what a sheet of 65,536 rows comes to */

/* Whole little-endian numbers. */
static inline uint16_t tb_u16(const unsigned char *p)
{
    return (uint16_t)(p[0] | p[1] << 8);
}
static inline uint32_t tb_u32(const unsigned char *p)
{
    return (uint32_t)p[0] | (uint32_t)p[1] << 8 | (uint32_t)p[2] << 16 | (uint32_t)p[3] << 24;
}

/* tb_cfb_open - take a file in. Fails TB_EFORMAT: no compound file, or a damaged one. Close it after a failure too. */
tb_rc tb_cfb_open(struct tb_cfb *c, FILE *f, struct tb_err *err);
/* The bytes of the stream of that name. False: there is none, or not as many bytes as it should have (out is empty then). */
bool tb_cfb_stream(struct tb_text *out, const struct tb_cfb *c, const char *name);
/* Is there an entry of that name? */
bool tb_cfb_has(const struct tb_cfb *c, const char *name);
void tb_cfb_close(struct tb_cfb *c);

/* One record of the workbook's stream. */
struct tb_biff {
    unsigned type;
    const unsigned char *p;
    size_t n;
};
enum {
    TB_BIFF_FORMULA = 0x0006,
    TB_BIFF_EOF = 0x000A,
    TB_BIFF_1904 = 0x0022,
    TB_BIFF_LOCKED = 0x002F,
    TB_BIFF_FONT = 0x0031,
    TB_BIFF_CONTINUE = 0x003C,
    TB_BIFF_SHEET = 0x0085,
    TB_BIFF_MULRK = 0x00BD,
    TB_BIFF_RSTRING = 0x00D6,
    TB_BIFF_XF = 0x00E0,
    TB_BIFF_SST = 0x00FC,
    TB_BIFF_LABELSST = 0x00FD,
    TB_BIFF_NUMBER = 0x0203,
    TB_BIFF_LABEL = 0x0204,
    TB_BIFF_BOOLERR = 0x0205,
    TB_BIFF_STRING = 0x0207,
    TB_BIFF_ROW = 0x0208,
    TB_BIFF_RK = 0x027E,
    TB_BIFF_FORMAT = 0x041E,
    TB_BIFF_BOF = 0x0809
};

struct tb_xls_sheet {
    char *name;
    size_t at; /* where its records begin */
    bool hidden;
    bool cells; /* false: a chart, or code */
};

/* What the first part of the stream says of all sheets. */
struct tb_xls {
    struct tb_text stream;
    bool epoch1904;
    struct tb_xls_sheet *sheet;
    size_t sheets, sheet_cap;
    unsigned char *style; /* per cell format, as of XLSX */
    bool *struck;         /* per cell format: a line goes through the text */
    size_t styles, style_cap, struck_cap;
    bool *font; /* per font, likewise */
    size_t fonts, font_cap;
    struct tb_xls_format {
        unsigned id;
        unsigned char style;
    } * format;
    size_t formats, format_cap;
    struct tb_text text; /* the texts that cells share, one after the other, each with its NUL */
    size_t *string;      /* where each begins */
    size_t strings, string_cap;
};

/* The record at *at, which moves behind it. False: the stream ends there, or in the middle of one. */
bool tb_biff_next(struct tb_biff *r, const struct tb_xls *x, size_t *at);
/* The records up to the end of the workbook's own part. */
tb_rc tb_xls_globals(struct tb_xls *x, struct tb_err *err);

/* Characters that go on in the records that follow. */
struct tb_biff_text {
    const struct tb_xls *x;
    struct tb_biff now; /* p and n: what is left of it */
    size_t at;          /* of the record behind it */
};
/*
 * tb_biff_text - a text of the workbook's own kind: flags, then characters of one or two bytes, then what is not text.
 *   out      the text is added, as UTF-8
 *   length   bytes of the number of characters before it: 1 or 2
 *   returns  false: it ends too early
 */
bool tb_biff_text(struct tb_text *out, struct tb_biff_text *in, size_t length);

/* The rows of one sheet into the sink. */
tb_rc tb_xls_rows(const struct tb_xls *x, const struct tb_xls_sheet *sheet, const struct tb_sheet_sink *sink,
                  struct tb_err *err);

#endif
