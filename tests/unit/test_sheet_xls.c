/* test_sheet_xls.c - rows out of old workbooks (.xls), made record by record; hostile ones included. */
#include "tenterbook/sheet.h"

#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cmocka.h>

#include "taken_rows.h"
#include "xls_helper.h"

static struct tb_text book, file;
static size_t sheet_at; /* where the place of the sheet is written */

static void record(unsigned type, const struct tb_text *body)
{
    le(&book, type, 2);
    le(&book, (uint32_t)body->n, 2);
    tb_text_addn(&book, tb_text_str(body), body->n);
}

static void simple(unsigned type, unsigned value)
{
    struct tb_text b = { 0 };

    le(&b, value, 2);
    record(type, &b);
    tb_text_free(&b);
}

static void begin(unsigned version)
{
    struct tb_text b = { 0 };

    le(&b, version, 2);
    le(&b, 5, 2);
    record(0x0809, &b);
    tb_text_free(&b);
}

static void words(struct tb_text *b, const char *s, size_t length)
{
    le(b, (uint32_t)strlen(s), length);
    tb_text_addc(b, '\0');
    tb_text_add(b, s);
}

static void sheet(const char *name, unsigned hidden)
{
    struct tb_text b = { 0 };

    sheet_at = book.n + 4;
    le(&b, 0, 4);
    le(&b, hidden, 2);
    words(&b, name, 1);
    record(0x0085, &b);
    tb_text_free(&b);
}

static void format(unsigned id, const char *code)
{
    struct tb_text b = { 0 };

    le(&b, id, 2);
    words(&b, code, 2);
    record(0x041E, &b);
    tb_text_free(&b);
}

static void style(unsigned id)
{
    struct tb_text b = { 0 };

    le(&b, 0, 2);
    le(&b, id, 2);
    record(0x00E0, &b);
    tb_text_free(&b);
}

/* The usual beginning: one sheet; cell formats: 0 plain, 1 a day, 2 five digits, 3 a day as somebody wrote it. */
static void usual(void)
{
    tb_text_clear(&book);
    begin(0x0600);
    format(164, "00000");
    format(165, "dd\\.mm\\.yyyy");
    style(0);
    style(14);
    style(164);
    style(165);
    sheet("List", 0);
}

static void end_globals(void)
{
    struct tb_text none = { 0 };

    record(0x000A, &none);
    le_at(&book, sheet_at, (uint32_t)book.n);
    begin(0x0600);
}

static struct tb_text at(unsigned row, unsigned column, unsigned of_style)
{
    struct tb_text b = { 0 };

    le(&b, row, 2);
    le(&b, column, 2);
    le(&b, of_style, 2);
    return b;
}

static void number(unsigned row, unsigned column, unsigned of_style, double v)
{
    struct tb_text b = at(row, column, of_style);

    le_double(&b, v);
    record(0x0203, &b);
    tb_text_free(&b);
}

static void label(unsigned row, unsigned column, const char *s)
{
    struct tb_text b = at(row, column, 0);

    words(&b, s, 2);
    record(0x0204, &b);
    tb_text_free(&b);
}

static void save(const char *stream)
{
    int fd;
    struct tb_text none = { 0 };

    record(0x000A, &none);
    make_cfb(&file, stream, book.s, book.n);
    (void)strcpy(path, "/tmp/tb-xls-XXXXXX");
    fd = mkstemp(path);
    assert_true(fd >= 0 && write(fd, file.s, file.n) == (ssize_t)file.n);
    (void)close(fd);
}

static void expect(const char *rows)
{
    save("Workbook");
    expect_file(rows);
}

static void refused(const char *sentence)
{
    save("Workbook");
    refuse_file(sentence);
}

static void numbers_days_and_texts_are_read_as_they_are_shown(void **state)
{
    struct tb_text rk = { 0 }, many = { 0 };

    (void)state;
    usual();
    end_globals();
    label(0, 0, "Bolt");
    label(0, 1, "Length");
    number(1, 0, 2, 123);
    number(1, 1, 0, 50.25);
    number(1, 2, 1, 46279); /* 2026-09-14 */
    number(1, 3, 3, 46280);
    rk = at(2, 0, 0);
    le(&rk, (5025u << 2) | 3, 4); /* a whole number, of hundredths */
    record(0x027E, &rk);
    le(&many, 2, 2);
    le(&many, 1, 2);
    for (unsigned i = 0; i < 3; i++) {
        le(&many, 0, 2);
        le(&many, ((10 + i) << 2) | 2, 4);
    }
    le(&many, 3, 2);
    record(0x00BD, &many);
    expect("[List]\n1:Bolt|Length\n2:#00123|#50.25|@2026-09-14|@2026-09-15\n3:#50.25|#10|#11|#12\n");
    tb_text_free(&rk);
    tb_text_free(&many);
}

static void a_formula_is_what_it_came_to(void **state)
{
    struct tb_text f = at(0, 0, 0), t = { 0 };

    (void)state;
    usual();
    end_globals();
    le_double(&f, 99.5);
    le(&f, 0, 4);
    record(0x0006, &f);
    f.n = 2;
    le(&f, 1, 2);
    le(&f, 0, 2);
    le(&f, 0, 4);
    le(&f, 0xFFFF0000, 4); /* a text, which follows */
    le(&f, 0, 4);
    record(0x0006, &f);
    words(&t, "100% wool", 2);
    record(0x0207, &t);
    f.n = 2;
    le(&f, 2, 2);
    le(&f, 0, 2);
    le(&f, 2 | 0x2Au << 16, 4); /* an error: nothing was found */
    le(&f, 0xFFFF0000, 4);
    record(0x0006, &f);
    expect("[List]\n1:#99.5|100% wool|#N/A\n");
    tb_text_free(&f);
    tb_text_free(&t);
}

/* The second text goes on in a record of its own, and there in characters of two bytes. */
static void texts_that_cells_share_go_on_from_record_to_record(void **state)
{
    struct tb_text s = { 0 }, more = { 0 }, cell;

    (void)state;
    usual();
    le(&s, 2, 4);
    le(&s, 2, 4);
    words(&s, "serge", 2);
    le(&s, 6, 2);
    tb_text_addc(&s, '\0');
    tb_text_add(&s, "zel");
    record(0x00FC, &s);
    tb_text_addc(&more, 1);
    le(&more, 'e', 2);
    le(&more, 0x0148, 2);
    le(&more, '!', 2);
    record(0x003C, &more);
    end_globals();
    for (unsigned i = 0; i < 2; i++) {
        cell = at(0, i, 0);
        le(&cell, i, 4);
        record(0x00FD, &cell);
        tb_text_free(&cell);
    }
    expect("[List]\n1:serge|zeleň!\n");
    usual();
    end_globals();
    cell = at(0, 0, 0);
    le(&cell, 7, 4);
    record(0x00FD, &cell);
    refused("the sheet 'List' of the workbook cannot be read; it is damaged");
    tb_text_free(&cell);
    tb_text_free(&s);
    tb_text_free(&more);
}

static void cells_may_come_in_any_order_and_a_sheet_may_be_hidden(void **state)
{
    (void)state;
    tb_text_clear(&book);
    begin(0x0600);
    sheet("Office", 1);
    end_globals();
    label(1, 1, "d");
    label(0, 1, "b");
    label(1, 0, "c");
    label(0, 0, "a");
    expect("[Office, hidden]\n1:a|b\n2:c|d\n");
}

static void a_sheet_may_have_thousands_of_cells(void **state)
{
    struct tb_text want = { 0 };

    (void)state;
    usual();
    end_globals();
    tb_text_add(&want, "[List]\n");
    for (unsigned r = 0; r < 800; r++) {
        number(r, 0, 0, r + 1);
        number(r, 1, 0, 50.5);
        tb_text_addf(&want, "%u:#%u|#50.5\n", r + 1, r + 1);
    }
    expect(tb_text_str(&want));
    tb_text_free(&want);
}

static void days_may_count_from_1904(void **state)
{
    (void)state;
    usual();
    simple(0x0022, 1);
    end_globals();
    number(0, 0, 1, 44817); /* 46279 less 1462 */
    expect("[List]\n1:@2026-09-14\n");
}

static void font(unsigned flags)
{
    struct tb_text b = { 0 };

    le(&b, 200, 2);
    le(&b, flags, 2);
    record(0x0031, &b);
    tb_text_free(&b);
}

static void style_of_font(unsigned of)
{
    struct tb_text b = { 0 };

    le(&b, of, 2);
    le(&b, 0, 2);
    record(0x00E0, &b);
    tb_text_free(&b);
}

static void row_of(unsigned number_of, unsigned flags)
{
    struct tb_text b = { 0 };

    le(&b, number_of, 2);
    le(&b, 0, 4);
    le(&b, 255, 2);
    le(&b, 0, 4);
    le(&b, flags, 4);
    record(0x0208, &b);
    tb_text_free(&b);
}

/* Fonts 0 to 3 and 5, since none is 4; the last is struck through. Source: [MS-XLS] 2.4.221 Row, 2.4.122 Font, 2.5.129 FontIndex; memory. */
static void a_row_that_is_not_shown_or_struck_through_is_told(void **state)
{
    (void)state;
    tb_text_clear(&book);
    begin(0x0600);
    for (int i = 0; i < 4; i++)
        font(0);
    font(0x0008);
    style_of_font(0);
    style_of_font(5);
    sheet("List", 0);
    end_globals();
    row_of(0, 0x100);
    row_of(1, 0x120);
    label(0, 0, "a");
    label(1, 0, "b");
    number(2, 0, 1, 7);
    number(2, 1, 1, 8);
    number(3, 0, 1, 7);
    number(3, 1, 0, 8);
    expect("[List]\n1:a\n2 hidden:b\n3 struck:#7|#8\n4:#7|#8\n");
}

static void what_cannot_be_read_is_refused_with_the_way_out(void **state)
{
    struct tb_text b = { 0 };

    (void)state;
    usual();
    simple(0x002F, 1);
    end_globals();
    refused("the workbook is locked with a password; save it without one, or as CSV, and give that");
    tb_text_clear(&book);
    begin(0x0500);
    refused("the .xls workbook is of a kind older than 1997; open it in a spreadsheet, save it as .xlsx or "
            "CSV and "
            "give that");
    save("EncryptedPackage");
    refuse_file("the workbook is locked with a password; save it without one, or as CSV, and give that");
    save("WordDocument");
    refuse_file("this is a text document; save its table as .xlsx or CSV and give that");
    save("Pictures");
    refuse_file(
        "there is no whole workbook in the file; it is damaged or of another kind: open it in the program it "
        "was made with, save it as .xlsx or CSV and give that");
    usual();
    sheet_at = book.n; /* the place of the sheet stays 0, which is the beginning of the book */
    record(0x0085, &b);
    refused("the records of the workbook do not hang together; it is damaged");
    tb_text_free(&b);
}

static void a_file_that_was_cut_short_is_refused(void **state)
{
    (void)state;
    usual();
    end_globals();
    label(0, 0, "a");
    save("Workbook");
    assert_int_equal(truncate(path, 300), 0);
    refuse_file("the .xls workbook is damaged; was it cut short? Open it in a spreadsheet, save it as .xlsx "
                "or CSV and "
                "give that");
    save("Workbook");
    assert_int_equal(truncate(path, 2048), 0);
    refuse_file(
        "there is no whole workbook in the file; it is damaged or of another kind: open it in the program it "
        "was made with, save it as .xlsx or CSV and give that");
}

/* Chains that lead back to where they began, and numbers beyond the file. */
static void chains_that_run_in_a_ring_come_to_an_end(void **state)
{
    (void)state;
    for (size_t i = 0; i < 126; i++) {
        int fd;

        usual();
        end_globals();
        label(0, 0, "a");
        save("Workbook");
        le_at(&file, 512 + 4 * (i % 12), i < 63 ? (uint32_t)(i % 12) : (uint32_t)(i * 977));
        fd = open(path, O_WRONLY | O_TRUNC);
        assert_true(fd >= 0 && write(fd, file.s, file.n) == (ssize_t)file.n);
        (void)close(fd);
        read_any();
    }
}

static int done(void **state)
{
    (void)state;
    tb_text_free(&book);
    tb_text_free(&file);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_days_and_texts_are_read_as_they_are_shown),
        cmocka_unit_test(a_formula_is_what_it_came_to),
        cmocka_unit_test(texts_that_cells_share_go_on_from_record_to_record),
        cmocka_unit_test(cells_may_come_in_any_order_and_a_sheet_may_be_hidden),
        cmocka_unit_test(a_sheet_may_have_thousands_of_cells),
        cmocka_unit_test(days_may_count_from_1904),
        cmocka_unit_test(a_row_that_is_not_shown_or_struck_through_is_told),
        cmocka_unit_test(what_cannot_be_read_is_refused_with_the_way_out),
        cmocka_unit_test(a_file_that_was_cut_short_is_refused),
        cmocka_unit_test(chains_that_run_in_a_ring_come_to_an_end),
    };

    return cmocka_run_group_tests(tests, NULL, done);
}
