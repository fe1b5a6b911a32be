/* sheet_xlsx.c - XLSX and ODS workbooks: an archive of XML parts, opened once and read sheet by sheet. */
#include "base/ods_in.h"

#include <stdlib.h>
#include <unistd.h>

#define PARTS_MOST 20000

/* Everything may be half made when a workbook is refused; free() accepts what is not there. */
static void clear(struct tb_xlsx *x)
{
    for (size_t i = 0; i < x->sheets; i++) {
        free(x->sheet[i].name);
        free(x->sheet[i].rel);
        free(x->sheet[i].part);
    }
    free(x->sheet);
    free(x->book_part);
    free(x->strings_part);
    free(x->styles_part);
    free(x->style);
    free(x->struck);
    free(x->text);
    free(x->at);
    if (x->zip)
        zip_discard(x->zip);
}

/* The library takes over a number of its own for the file. The number of parts is bounded before any is read. */
static tb_rc open_archive(struct tb_xlsx *x, FILE *f)
{
    int code = ZIP_ER_READ, fd = dup(fileno(f));

    x->zip = fd < 0 ? NULL : zip_fdopen(fd, 0, &code);
    if (!x->zip) {
        zip_error_t e;

        if (fd >= 0)
            (void)close(fd);
        zip_error_init_with_code(&e, code);
        (void)tb_fail(x->err, TB_EFORMAT, "the workbook cannot be unpacked (%s); was it cut short?",
                      zip_error_strerror(&e));
        zip_error_fini(&e);
        return TB_EFORMAT;
    }
    if (zip_get_num_entries(x->zip, 0) > PARTS_MOST)
        return tb_fail(x->err, TB_EFORMAT, "the workbook has more than %d parts; it is not read", PARTS_MOST);
    return TB_OK;
}

/* Styles and texts are read when the first sheet is wanted: where none is wanted, neither is needed. */
static tb_rc read_sheets(struct tb_xlsx *x, const struct tb_sheet_sink *sink)
{
    bool loaded = false;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < x->sheets; i++) {
        const struct tb_xlsx_sheet *s = &x->sheet[i];
        struct tb_sheet sheet = {
            .kind = TB_SHEET_XLSX, .name = s->name, .number = i + 1, .hidden = s->hidden, .encoding = "UTF-8"
        };
        bool skip = false;

        if (!s->part) /* a sheet that is only a chart */
            continue;
        if (sink->sheet)
            rc = sink->sheet(sink->arg, &sheet, &skip, x->err);
        if (rc == TB_OK && !skip && !loaded) {
            loaded = true;
            if ((rc = tb_xlsx_styles(x)) == TB_OK)
                rc = tb_xlsx_strings(x);
        }
        if (rc == TB_OK && !skip)
            rc = tb_xlsx_rows(x, s, sink);
    }
    return rc;
}

const struct tb_foreign tb_foreign_zip = { .read = tb_xlsx_read, .before = tb_late_archive_before };

/* The archive stays open from sheet to sheet, since its directory is read once. */
tb_rc tb_xlsx_read(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_err spare = { 0 };
    struct tb_xlsx x = { .err = err ? err : &spare };
    tb_rc rc = open_archive(&x, f);

    if (rc == TB_OK && tb_ods_is(&x))
        rc = tb_ods_read(&x, sink);
    else if (rc == TB_OK && (rc = tb_xlsx_workbook(&x)) == TB_OK)
        rc = read_sheets(&x, sink);
    clear(&x);
    return rc;
}
