/* sheet_xls.c - workbooks of the old binary kind (.xls, of 1997 to 2003). */
#include "base/xls_in.h"
#include "base/xlsx_in.h"

#include <stdlib.h>

const struct tb_foreign tb_foreign_xls = { .read = tb_xls_read };

/* What else comes in such a file: people give the wrong kind more often than a broken one. */
static tb_rc no_workbook(const struct tb_cfb *c, struct tb_err *err)
{
    if (tb_cfb_has(c, "EncryptedPackage"))
        return tb_xlsx_locked(err);
    if (tb_cfb_has(c, "WordDocument"))
        return tb_fail(err, TB_EFORMAT,
                       "this is a text document; save its table as .xlsx or CSV and give that");
    if (tb_cfb_has(c, "Book"))
        return tb_fail(err, TB_EFORMAT,
                       "the .xls workbook is of a kind older than 1997; open it in a spreadsheet, save it as "
                       ".xlsx or CSV and give that");
    return tb_fail(
        err, TB_EFORMAT,
        "there is no whole workbook in the file; it is damaged or of another kind: open it in the program it "
        "was made with, save it as .xlsx or CSV and give that");
}

static tb_rc read_sheets(const struct tb_xls *x, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < x->sheets; i++) {
        const struct tb_xls_sheet *s = &x->sheet[i];
        const struct tb_sheet sheet = {
            .kind = TB_SHEET_XLSX, .name = s->name, .number = i + 1, .hidden = s->hidden, .encoding = "UTF-8"
        };
        bool skip = false;

        if (!s->cells)
            continue;
        if (sink->sheet)
            rc = sink->sheet(sink->arg, &sheet, &skip, err);
        if (rc == TB_OK && !skip)
            rc = tb_xls_rows(x, s, sink, err);
    }
    return rc;
}

static void clear(struct tb_xls *x)
{
    for (size_t i = 0; i < x->sheets; i++)
        free(x->sheet[i].name);
    free(x->sheet);
    free(x->style);
    free(x->struck);
    free(x->font);
    free(x->format);
    free(x->string);
    tb_text_free(&x->text);
    tb_text_free(&x->stream);
}

tb_rc tb_xls_read(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_cfb c = { 0 };
    struct tb_xls x = { 0 };
    tb_rc rc = tb_cfb_open(&c, f, err);

    if (rc == TB_OK && !tb_cfb_stream(&x.stream, &c, "Workbook"))
        rc = no_workbook(&c, err);
    tb_cfb_close(&c);
    if (rc == TB_OK)
        rc = tb_xls_globals(&x, err);
    if (rc == TB_OK)
        rc = read_sheets(&x, sink, err);
    clear(&x);
    return rc;
}
