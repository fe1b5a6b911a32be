/*
 * xlsx_in.h - the insides of the XLSX reader: a package of XML parts, the workbook's list of sheets, styles,
 * strings.
 */
#ifndef TENTERBOOK_BASE_XLSX_IN_H
#define TENTERBOOK_BASE_XLSX_IN_H

#include "base/sheet_in.h"

#include "gen/late_archive.h"
#include <expat.h>
#include <stdint.h>

struct tb_xlsx_sheet {
    char *name, *rel, *part; /* part: "xl/worksheets/sheet1.xml"; NULL when it is no worksheet */
    bool hidden;
};

struct tb_xlsx {
    zip_t *zip;
    struct tb_err *err;
    uint64_t unpacked;
    bool epoch1904;
    char *book_part, *strings_part, *styles_part;
    struct tb_xlsx_sheet *sheet;
    size_t sheets, sheet_cap;
    unsigned char *style; /* per cell format: enum tb_xlsx_style, or TB_STYLE_PAD + digits */
    bool *struck;         /* per cell format: a line goes through the text */
    size_t styles, style_cap, struck_cap;
    char *text; /* shared strings, one after the other */
    size_t text_n, text_cap;
    size_t *at; /* where each begins */
    size_t strings, at_cap;
};

/* How a number is shown, of XLSX and of the old kind alike. */
enum tb_xlsx_style {
    TB_STYLE_NUMBER,
    TB_STYLE_DAY,
    TB_STYLE_PAD,      /* + number of digits, below 100: "00000" */
    TB_STYLE_YD = 200, /* shown with a unit behind it: 0.00" yds" */
    TB_STYLE_M,
    TB_STYLE_KG
};

/* One part being parsed. Handlers see names without their prefix; a handler sets rc to stop. */
struct tb_xml {
    struct tb_xlsx *x;
    const char *part;
    XML_Parser parser;
    void (*start)(struct tb_xml *m, const char *name, const char **attr);
    void (*end)(struct tb_xml *m, const char *name);
    void *arg;
    struct tb_text text; /* characters since the last clear, while keep is true */
    bool keep;
    unsigned depth;
    tb_rc rc;
};

/* A refusal that several kinds of workbook share: it is locked. */
tb_rc tb_xlsx_locked(struct tb_err *err);

/* TB_ENOTFOUND without a message when there is no such part. */
tb_rc tb_xml_part(struct tb_xlsx *x, struct tb_xml *m, const char *part);
/* The value of an attribute by its local name; NULL: it is not there. */
const char *tb_xml_attr(const char **attr, const char *name);
/* Undo "_x000D_" in place. */
void tb_xml_unescape(struct tb_text *t);

/* Which sheets there are, and where its other parts lie. */
tb_rc tb_xlsx_workbook(struct tb_xlsx *x);
/* How cells are shown. A workbook without styles shows no days. */
tb_rc tb_xlsx_styles(struct tb_xlsx *x);
/* The style of a format that every spreadsheet knows by number, and of one that is written out. */
unsigned char tb_style_builtin(unsigned id);
unsigned char tb_style_custom(const char *code);
/* A number as its style shows it: a day, a number with zeros before it, or as it is. */
void tb_style_put(struct tb_row_buf *row, size_t column, unsigned char style, bool epoch1904, double v);
/* The texts that cells share. */
tb_rc tb_xlsx_strings(struct tb_xlsx *x);
/* The rows of one sheet into the sink. */
tb_rc tb_xlsx_rows(struct tb_xlsx *x, const struct tb_xlsx_sheet *sheet, const struct tb_sheet_sink *sink);

#endif
