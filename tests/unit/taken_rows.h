/* taken_rows.h - what a reader of workbooks hands on, as text, for the tests of all kinds of them. */
#ifndef TAKEN_ROWS_H
#define TAKEN_ROWS_H

#include "tenterbook/sheet.h"

#include <string.h>
#include <unistd.h>

static char path[64];

struct taken {
    struct tb_text text;
    size_t rows;
};

static inline tb_rc on_sheet(void *arg, const struct tb_sheet *sheet, bool *skip, struct tb_err *err)
{
    (void)skip;
    (void)err;
    tb_text_addf(&((struct taken *)arg)->text, "[%s%s%s]\n", sheet->name, sheet->hidden ? ", hidden" : "",
                 sheet->beside ? ", beside" : "");
    return TB_OK;
}

/* "line:cell|cell"; a number is marked #, a day @; "line hidden:", "line struck:". */
static inline tb_rc on_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct taken *t = arg;

    (void)err;
    t->rows++;
    tb_text_addf(&t->text, "%zu%s:", row->line,
                 row->look == TB_ROW_HIDDEN   ? " hidden"
                 : row->look == TB_ROW_STRUCK ? " struck"
                                              : "");
    for (size_t i = 0; i < row->n; i++)
        tb_text_addf(&t->text, "%s%s%s", i ? "|" : "",
                     row->cell[i].type == TB_CELL_NUMBER ? "#"
                     : row->cell[i].type == TB_CELL_DAY  ? "@"
                                                         : "",
                     row->cell[i].text);
    tb_text_addc(&t->text, '\n');
    return TB_OK;
}

static inline void expect_file(const char *rows)
{
    struct taken t = { 0 };
    struct tb_sheet_sink sink = { on_sheet, on_row, &t, NULL };
    struct tb_err err = { 0 };
    tb_rc rc = tb_sheet_read(path, &sink, &err);

    (void)unlink(path);
    if (rc != TB_OK)
        print_error("%s\n", err.msg);
    assert_int_equal(rc, TB_OK);
    assert_string_equal(tb_text_str(&t.text), rows);
    tb_text_free(&t.text);
}

static inline void refuse_file(const char *sentence)
{
    struct taken t = { 0 };
    struct tb_sheet_sink sink = { on_sheet, on_row, &t, NULL };
    struct tb_err err = { 0 };

    assert_int_equal(tb_sheet_read(path, &sink, &err), TB_EFORMAT);
    (void)unlink(path);
    if (!strstr(err.msg, sentence))
        print_error("%s\n", err.msg);
    assert_non_null(strstr(err.msg, sentence));
    tb_text_free(&t.text);
}

/* Whatever comes of it: no more than that it ends, with rows or a sentence. */
static inline void read_any(void)
{
    struct taken t = { 0 };
    struct tb_sheet_sink sink = { on_sheet, on_row, &t, NULL };
    struct tb_err err = { 0 };

    assert_true(tb_sheet_read(path, &sink, &err) == TB_OK || err.msg[0]);
    (void)unlink(path);
    tb_text_free(&t.text);
}

#endif
