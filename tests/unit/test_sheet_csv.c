/* test_sheet_csv.c - rows out of CSV files, encodings and damage included. */
#include "tenterbook/sheet.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

/* Rows come out as "line:cell|cell" and one newline each, so that a whole file compares as one text. */
struct taken {
    struct tb_text text;
    struct tb_sheet sheet;
    size_t rows;
};

static tb_rc on_sheet(void *arg, const struct tb_sheet *sheet, bool *skip, struct tb_err *err)
{
    (void)skip;
    (void)err;
    ((struct taken *)arg)->sheet = *sheet;
    return TB_OK;
}

static tb_rc on_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct taken *t = arg;

    (void)err;
    tb_text_addf(&t->text, "%zu:", row->line);
    for (size_t i = 0; i < row->n; i++)
        tb_text_addf(&t->text, "%s%s", i ? "|" : "", row->cell[i].text);
    tb_text_addc(&t->text, '\n');
    t->rows++;
    return TB_OK;
}

static char path[64];

static tb_rc take_bytes(struct taken *t, const void *bytes, size_t n, struct tb_err *err)
{
    struct tb_sheet_sink sink = { on_sheet, on_row, t, NULL };
    int fd;
    tb_rc rc;

    (void)strcpy(path, "/tmp/tb-sheet-XXXXXX");
    fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, bytes, n), n);
    (void)close(fd);
    rc = tb_sheet_read(path, &sink, err);
    (void)unlink(path);
    return rc;
}

static void expect(const char *bytes, size_t n, char delimiter, const char *encoding, const char *rows)
{
    struct taken t = { 0 };
    struct tb_err err = { 0 };

    assert_int_equal(take_bytes(&t, bytes, n, &err), TB_OK);
    assert_string_equal(tb_text_str(&t.text), rows);
    assert_int_equal(t.sheet.delimiter, delimiter);
    assert_string_equal(t.sheet.encoding, encoding);
    tb_text_free(&t.text);
}
#define EXPECT(bytes, delimiter, encoding, rows) expect(bytes, sizeof(bytes) - 1, delimiter, encoding, rows)

static void refused(const char *bytes, size_t n, tb_rc rc, const char *sentence)
{
    struct taken t = { 0 };
    struct tb_err err = { 0 };

    assert_int_equal(take_bytes(&t, bytes, n, &err), rc);
    assert_non_null(strstr(err.msg, sentence));
    tb_text_free(&t.text);
}
#define REFUSED(bytes, rc, sentence) refused(bytes, sizeof(bytes) - 1, rc, sentence)

static void commas_semicolons_and_tabs_are_told_apart(void **state)
{
    (void)state;
    EXPECT("a,b,c\n1,2,3\n", ',', "UTF-8", "1:a|b|c\n2:1|2|3\n");
    EXPECT("a;b;c\n1,5;2,5;3,5\n4,5;5,5;6,5\n", ';', "UTF-8", "1:a|b|c\n2:1,5|2,5|3,5\n3:4,5|5,5|6,5\n");
    EXPECT("a\tb\n1,5\t2,5\n", '\t', "UTF-8", "1:a|b\n2:1,5|2,5\n");
    /* a title row without delimiters, and semicolons inside the cells of a comma file */
    EXPECT("Mill\nroll,declared\n1,cotton 60; polyester 40\n2,cotton 60; polyester 40\n", ',', "UTF-8",
           "1:Mill\n2:roll|declared\n3:1|cotton 60; polyester 40\n4:2|cotton 60; polyester 40\n");
}

static void a_table_pasted_with_tabs_is_divided_by_them_whatever_commas_stand_around_it(void **state)
{
    (void)state;
    EXPECT("Hello,\n\nr\ta\tm\n1\tb\t5,50\n2\tb\t6,50\n\t\t12,00\n\nYours,\nM\n", '\t', "UTF-8",
           "1:Hello,\n3:r|a|m\n4:1|b|5,50\n5:2|b|6,50\n6:||12,00\n8:Yours,\n9:M\n");
}

static void a_mark_alone_in_its_cell_begins_no_quotation(void **state)
{
    (void)state;
    EXPECT("a;b;c;d\n1;x;y;z\n2;\";\";9\n3;\";y;8\n4;\";y;\"\n", ';', "UTF-8",
           "1:a|b|c|d\n2:1|x|y|z\n3:2|\"|\"|9\n4:3|\"|y|8\n5:4|\"|y|\"\n");
    EXPECT("a;b;c\n1;\"x;\";y\n2;\"\";\"p \"\"q\"\"\"\n", ';', "UTF-8", "1:a|b|c\n2:1|x;|y\n3:2||p \"q\"\n");
}

static void a_line_that_names_the_delimiter_is_obeyed_and_dropped(void **state)
{
    (void)state;
    EXPECT("sep=;\r\na;b\r\n1,5;2\r\n", ';', "UTF-8", "2:a|b\n3:1,5|2\n");
}

static void a_byte_order_mark_before_a_quoted_cell_is_stripped(void **state)
{
    (void)state;
    EXPECT("\xEF\xBB\xBF\"a\",b\n1,2\n", ',', "UTF-8", "1:a|b\n2:1|2\n");
}

static void utf16_is_read_both_ways_with_and_without_a_mark(void **state)
{
    (void)state;
    EXPECT("\xFF\xFE"
           "a\0\t\0L\0\xE4\0\n\0",
           '\t', "UTF-16LE", "1:a|L\xC3\xA4\n");
    EXPECT("\xFE\xFF\0a\0\t\0L\0\xE4\0\n", '\t', "UTF-16BE", "1:a|L\xC3\xA4\n");
    EXPECT("a\0,\0b\0\n\0", ',', "UTF-16LE", "1:a|b\n");
    EXPECT("\0a\0,\0b\0\n", ',', "UTF-16BE", "1:a|b\n");
    /* U+1F9F5 as a surrogate pair */
    EXPECT("\xFF\xFE\x3E\xD8\xF5\xDD,\0b\0", ',', "UTF-16LE", "1:\xF0\x9F\xA7\xB5|b\n");
    REFUSED("\xFF\xFE\x3E\xD8"
            "a\0",
            TB_EFORMAT, "damaged");
}

static void bytes_that_are_no_utf8_are_windows_1252(void **state)
{
    (void)state;
    EXPECT("L\xE4nge,\x80\n", ',', "Windows-1252", "1:L\xC3\xA4nge|\xE2\x82\xAC\n");
}

static void lines_are_counted_through_quoted_newlines_and_blank_lines(void **state)
{
    (void)state;
    EXPECT("a,b\n\n\"x\ny\n\nz\",1\r\n  \n\"p\",2\nq,3", ',', "UTF-8",
           "1:a|b\n3:x\ny\n\nz|1\n8:p|2\n9:q|3\n");
    EXPECT("a,b\r\"x\ry\",1\rq,3\r", ',', "UTF-8", "1:a|b\n2:x\ry|1\n4:q|3\n");
}

static void cells_longer_than_a_chunk_and_lines_across_chunks_are_whole(void **state)
{
    struct tb_text bytes = { 0 };
    struct taken t = { 0 };
    struct tb_err err = { 0 };
    char *last;

    (void)state;
    tb_text_add(&bytes, "\xEF\xBB\xBFn,\xC3\xA4\n");
    for (int i = 0; i < 30000; i++)
        tb_text_addf(&bytes, "%d,\"\xC3\xA4\xC3\xB6\xC3\xBC %d\"\n", i, i);
    tb_text_add(&bytes, "z,\"");
    for (int i = 0; i < 40000; i++)
        tb_text_add(&bytes, "\xC3\xA4");
    tb_text_add(&bytes, "\"\n");
    assert_int_equal(take_bytes(&t, bytes.s, bytes.n, &err), TB_OK);
    assert_int_equal(t.rows, 30002);
    assert_non_null(strstr(t.text.s, "\n29999:29997|\xC3\xA4\xC3\xB6\xC3\xBC 29997\n"));
    last = strstr(t.text.s, "30002:z|");
    assert_non_null(last);
    assert_int_equal(strlen(last), strlen("30002:z|") + 80000 + 1);
    tb_text_free(&bytes);
    tb_text_free(&t.text);
}

/* ESC begins the codes a terminal obeys, U+009B is the same in one character; DEL and vertical tab are no text either. */
static void control_characters_are_spaces(void **state)
{
    (void)state;
    EXPECT("a,b\nEv\033[31mil,x\vy\n\033z,\x7F\nc\xC2\x9B"
           "1m,d\xC3\x89\n",
           ',', "UTF-8", "1:a|b\n2:Ev [31mil|x y\n3:z|\n4:c  1m|d\xC3\x89\n");
    EXPECT("a,b\n\"tab\tand\nline\",stay\n", ',', "UTF-8", "1:a|b\n2:tab\tand\nline|stay\n");
}

static void white_space_of_every_kind_goes_from_both_ends_of_a_cell(void **state)
{
    (void)state;
    EXPECT("a,b\n\"  x \xC2\xA0 \t\",\xE3\x80\x80\xC2\xA0y z\xE3\x80\x80 \xE3\x80\x80\n\" \xC2\xA0\t\",q\n",
           ',', "UTF-8", "1:a|b\n2:x|y z\n3:|q\n");
}

/* Widths in inches and names between quotation marks, as lists by hand have them. */
static void marks_inside_a_cell_are_text(void **state)
{
    (void)state;
    EXPECT("a,b\n1,58\"\n\"x, y\",2\n", ',', "UTF-8", "1:a|b\n2:1|58\"\n3:x, y|2\n");
    EXPECT("a;b\nWeavers \"Lena\";58\" / 60\"\n", ';', "UTF-8", "1:a|b\n2:Weavers \"Lena\"|58\" / 60\"\n");
    EXPECT("a,b\n44\"/45\",1\n58\",2\n58\",3\n", ',', "UTF-8", "1:a|b\n2:44\"/45\"|1\n3:58\"|2\n4:58\"|3\n");
}

static void broken_quotes_are_refused_with_their_line(void **state)
{
    (void)state;
    REFUSED("a,b\n1,wide\"\n", TB_EFORMAT, "line 2 has a quotation mark");
    REFUSED("a,b\n\"x\",58\"\n", TB_EFORMAT, "line 2 has a quotation mark");
    REFUSED("a,b\n1,\"x\"y\n", TB_EFORMAT, "line 2 has a quotation mark");
    REFUSED("a,b\n1,2\n\"x,\n\n", TB_EFORMAT, "row of line 3 is never closed");
}

static void what_is_no_table_is_refused_by_name(void **state)
{
    (void)state;
    REFUSED("", TB_EFORMAT, "empty");
    REFUSED("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", TB_EFORMAT, "the .xls workbook is damaged");
    REFUSED("%PDF-1.7\n", TB_EFORMAT, "PDF");
    REFUSED("abcdefgh,\0\n", TB_EFORMAT, "line 1 holds a zero byte");
}

static void a_folder_is_refused(void **state)
{
    struct taken t = { 0 };
    struct tb_sheet_sink sink = { on_sheet, on_row, &t, NULL };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_sheet_read("/tmp", &sink, &err), TB_EINVAL);
    assert_int_equal(tb_sheet_read("/tmp/no such file", &sink, &err), TB_ENOTFOUND);
}

static void columns_are_lettered_as_spreadsheets_do(void **state)
{
    char s[8];

    (void)state;
    tb_column_letters(s, 0);
    assert_string_equal(s, "A");
    tb_column_letters(s, 25);
    assert_string_equal(s, "Z");
    tb_column_letters(s, 26);
    assert_string_equal(s, "AA");
    tb_column_letters(s, 16383);
    assert_string_equal(s, "XFD"); /* the last column a spreadsheet has */
}

static void a_digest_is_that_of_the_bytes(void **state)
{
    char hex[TB_DIGEST_LEN + 1];
    struct tb_err err = { 0 };
    FILE *f;

    (void)state;
    (void)strcpy(path, "/tmp/tb-digest-XXXXXX");
    f = fdopen(mkstemp(path), "wb");
    assert_non_null(f);
    (void)fputs("abc", f);
    (void)fclose(f);
    assert_int_equal(tb_file_digest(hex, path, &err), TB_OK);
    (void)unlink(path);
    /* FIPS 180-4 example: SHA-256 of "abc" */
    assert_string_equal(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(commas_semicolons_and_tabs_are_told_apart),
        cmocka_unit_test(a_table_pasted_with_tabs_is_divided_by_them_whatever_commas_stand_around_it),
        cmocka_unit_test(a_mark_alone_in_its_cell_begins_no_quotation),
        cmocka_unit_test(a_line_that_names_the_delimiter_is_obeyed_and_dropped),
        cmocka_unit_test(a_byte_order_mark_before_a_quoted_cell_is_stripped),
        cmocka_unit_test(utf16_is_read_both_ways_with_and_without_a_mark),
        cmocka_unit_test(bytes_that_are_no_utf8_are_windows_1252),
        cmocka_unit_test(lines_are_counted_through_quoted_newlines_and_blank_lines),
        cmocka_unit_test(cells_longer_than_a_chunk_and_lines_across_chunks_are_whole),
        cmocka_unit_test(control_characters_are_spaces),
        cmocka_unit_test(white_space_of_every_kind_goes_from_both_ends_of_a_cell),
        cmocka_unit_test(marks_inside_a_cell_are_text),
        cmocka_unit_test(broken_quotes_are_refused_with_their_line),
        cmocka_unit_test(what_is_no_table_is_refused_by_name),
        cmocka_unit_test(a_folder_is_refused),
        cmocka_unit_test(columns_are_lettered_as_spreadsheets_do),
        cmocka_unit_test(a_digest_is_that_of_the_bytes),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
