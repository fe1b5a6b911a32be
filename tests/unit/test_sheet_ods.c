/* test_sheet_ods.c - rows out of OpenDocument spreadsheets, hostile ones included. */
#include "tenterbook/sheet.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "taken_rows.h"
#include "xlsx_helper.h"

#define TYPE(what)                                                                                           \
    {                                                                                                        \
        "mimetype", "application/vnd.oasis.opendocument." what, 0                                            \
    }
#define CONTENT(styles, sheets)                                                                              \
    {                                                                                                        \
        "content.xml",                                                                                       \
            "<o:document-content xmlns:o=\"o\" xmlns:table=\"t\" xmlns:text=\"x\" xmlns:style=\"s\">"        \
            "<o:automatic-styles>" styles "</o:automatic-styles><o:body><o:spreadsheet>" sheets              \
            "</o:spreadsheet></o:body></o:document-content>",                                                \
            0                                                                                                \
    }
#define TABLE(inside) "<table:table table:name=\"List\">" inside "</table:table>"
#define ROW(inside) "<table:table-row>" inside "</table:table-row>"
#define TEXT(s) "<table:table-cell o:value-type=\"string\"><text:p>" s "</text:p></table:table-cell>"
#define NUMBER(value, shown)                                                                                 \
    "<table:table-cell o:value-type=\"float\" o:value=\"" value "\"><text:p>" shown                          \
    "</text:p></table:table-cell>"

#define EXPECT(rows, ...)                                                                                    \
    do {                                                                                                     \
        const struct part parts_[] = { __VA_ARGS__ };                                                        \
        make_book(path, parts_, TB_COUNT(parts_));                                                           \
        expect_file(rows);                                                                                   \
    } while (0)
#define REFUSED(sentence, ...)                                                                               \
    do {                                                                                                     \
        const struct part parts_[] = { __VA_ARGS__ };                                                        \
        make_book(path, parts_, TB_COUNT(parts_));                                                           \
        refuse_file(sentence);                                                                               \
    } while (0)

static void texts_numbers_and_days_are_read_as_they_are_shown(void **state)
{
    (void)state;
    EXPECT(
        "[List]\n1:Bolt|Length|Day\n2:#00123|#50.5|@2026-09-14\n3:#124|#0.12|TRUE\n", TYPE("spreadsheet"),
        CONTENT(
            "",
            TABLE(
                ROW(TEXT("Bolt") TEXT("Length") TEXT("Day")) ROW(NUMBER("123", "00123") NUMBER(
                    "50.5",
                    "50,50 m") "<table:table-cell o:value-type=\"date\" o:date-value=\"2026-09-14T08:00:00\">"
                               "<text:p>14/09/26</text:p></table:table-cell>")
                    ROW(NUMBER(
                        "124",
                        "124,00") "<table:table-cell o:value-type=\"percentage\" o:value=\"0.12\"/>"
                                  "<table:table-cell o:value-type=\"boolean\" o:boolean-value=\"true\"/>"))));
}

static void a_text_may_have_paragraphs_spaces_and_fonts_but_a_remark_is_not_of_it(void **state)
{
    (void)state;
    EXPECT(
        "[List]\n1:100%  wool\nor so|b\n", TYPE("spreadsheet"),
        CONTENT("", TABLE(ROW("<table:table-cell><o:annotation><text:p>ask the mill</text:p></o:annotation>"
                              "<text:p>100%<text:s text:c=\"2\"/><text:span>wo</text:span>ol</text:p>"
                              "<text:p>or <text:ruby><text:ruby-base>so</text:ruby-base><text:ruby-text>sou"
                              "</text:ruby-text></text:ruby></text:p></table:table-cell>" TEXT("b")))));
}

static void cells_and_rows_may_stand_once_with_their_number(void **state)
{
    (void)state;
    EXPECT(
        "[List]\n1:a|a|||b\n4:c\n5:c\n", TYPE("spreadsheet"),
        CONTENT(
            "",
            TABLE(ROW(
                "<table:table-cell table:number-columns-repeated=\"2\"><text:p>a</text:p>"
                "</table:table-cell><table:table-cell table:number-columns-repeated=\"2\"/>" TEXT(
                    "b") "<table:table-cell table:number-columns-repeated=\"16000\"/>") "<table:table-row "
                                                                                        "table:number-rows-"
                                                                                        "repeated=\"2\"><"
                                                                                        "table:table-cell/></"
                                                                                        "table:table-"
                                                                                        "row><table:table-"
                                                                                        "row "
                                                                                        "table:number-rows-"
                                                                                        "repeated="
                                                                                        "\"2\">" TEXT(
                                                                                            "c") "</"
                                                                                                 "table:"
                                                                                                 "table-row><"
                                                                                                 "table:"
                                                                                                 "table-row "
                                                                                                 "table:"
                                                                                                 "number-"
                                                                                                 "rows-"
                                                                                                 "repeated="
                                                                                                 "\"1048000\""
                                                                                                 "><table:"
                                                                                                 "table-cell/"
                                                                                                 ">"
                                                                                                 "</"
                                                                                                 "table:"
                                                                                                 "table-"
                                                                                                 "row>")));
}

static void hidden_sheets_are_told_and_what_is_no_sheet_of_it_is_not_read(void **state)
{
    (void)state;
    EXPECT("[Office, hidden]\n1:a\n[List]\n1:b||d\n", TYPE("spreadsheet"),
           CONTENT("<style:style style:name=\"g\" style:family=\"table\"><style:table-properties "
                   "table:display=\"false\"/></style:style>",
                   "<table:table table:name=\"Office\" table:style-name=\"g\">" ROW(
                       TEXT("a")) "</table:table>"
                                  "<table:table table:name=\"'file:///x.ods'#Rates\">" ROW(TEXT(
                                      "z")) "</table:table>" TABLE(ROW(TEXT("b") "<table:covered-table-cell><"
                                                                                 "text:p>under</text:p></"
                                                                                 "table:covered-table-"
                                                                                 "cell>" TEXT("d")))));
}

static void what_cannot_be_read_is_refused_with_the_way_out(void **state)
{
    (void)state;
    REFUSED("the workbook is locked with a password; save it without one, or as CSV, and give that",
            TYPE("spreadsheet"), { "content.xml", "\x01\x02\x03", 0 },
            { "META-INF/manifest.xml",
              "<m:manifest xmlns:m=\"m\"><m:file-entry><m:encryption-data/></m:file-entry></m:manifest>",
              0 });
    REFUSED("the workbook is locked with a password", TYPE("spreadsheet"),
            { "encrypted-package", "\x01\x02", 0 });
    REFUSED("this is an OpenDocument file, and not a spreadsheet; save its table as .ods, .xlsx or CSV and "
            "give that",
            TYPE("text"), CONTENT("", ""));
    REFUSED("the workbook has no sheet", TYPE("spreadsheet"), CONTENT("", ""));
    REFUSED("the workbook's part content.xml is damaged at its line 1", TYPE("spreadsheet"),
            { "content.xml", "<o:document-content xmlns:o=\"o\"><o:body>", 0 });
    REFUSED("the workbook's part content.xml declares a document type", TYPE("spreadsheet"),
            { "content.xml", "<!DOCTYPE a [<!ENTITY b \"c\">]><a>&b;</a>", 0 });
    REFUSED("cell B1 holds a number that cannot be read; the workbook is damaged", TYPE("spreadsheet"),
            CONTENT("", TABLE(ROW(TEXT("a") NUMBER("50,5", "50,5")))));
}

/* A few hundred bytes that come to seventeen thousand million cells. */
static void rows_that_are_repeated_without_measure_are_refused(void **state)
{
    (void)state;
    REFUSED("the sheet has more rows than the 1048576 a spreadsheet can hold", TYPE("spreadsheet"),
            CONTENT("", TABLE("<table:table-row table:number-rows-repeated=\"1048000\">" TEXT(
                            "a") "</table:table-row><table:table-row "
                                 "table:number-rows-repeated=\"1048000\">" TEXT("a") "</table:table-row>")));
    REFUSED(
        "the workbook repeats rows until they come to more than 4000000 cells; it is not read",
        TYPE("spreadsheet"),
        CONTENT("",
                TABLE("<table:table-row table:number-rows-repeated=\"1048576\"><table:table-cell "
                      "table:number-columns-repeated=\"16384\"><text:p>aaaaaaaa</text:p></table:table-cell>"
                      "</table:table-row>")));
}

/* Source: OpenDocument 1.3 part 3, 19.749 table:visibility and 20.374 style:text-line-through-style; memory. */
#define STRUCK                                                                                               \
    "<table:table-cell table:style-name=\"ce1\" "                                                            \
    "o:value-type=\"string\"><text:p>9</text:p></table:table-cell>"
static void a_row_that_is_not_shown_or_struck_through_is_told(void **state)
{
    (void)state;
    EXPECT("[List]\n1:a\n2 hidden:b\n3 hidden:c\n4 struck:9|9\n5:9|d\n6:e\n", TYPE("spreadsheet"),
           CONTENT("<style:style style:name=\"ce1\" style:family=\"table-cell\"><style:text-properties "
                   "style:text-line-through-style=\"solid\"/></style:style>"
                   "<style:style style:name=\"ce2\" style:family=\"table-cell\"><style:text-properties "
                   "style:text-line-through-style=\"none\"/></style:style>",
                   TABLE(ROW(TEXT("a")) "<table:table-row table:visibility=\"filter\">" TEXT(
                       "b") "</"
                            "table:table-row><"
                            "table:table-row "
                            "table:visibility="
                            "\"collapse\">" TEXT("c") "</table:table-row>" ROW(STRUCK STRUCK)
                                ROW(STRUCK TEXT("d")) "<tabl"
                                                      "e:"
                                                      "table"
                                                      "-row "
                                                      "table"
                                                      ":visi"
                                                      "bilit"
                                                      "y="
                                                      "\"vis"
                                                      "ible"
                                                      "\"><"
                                                      "table"
                                                      ":tabl"
                                                      "e-"
                                                      "cell "
                                                      "table"
                                                      ":styl"
                                                      "e-"
                                                      "name="
                                                      "\"ce2"
                                                      "\">"
                                                      "<text"
                                                      ":p>e<"
                                                      "/text"
                                                      ":p></"
                                                      "table"
                                                      ":tabl"
                                                      "e-"
                                                      "cell>"
                                                      "</"
                                                      "table"
                                                      ":tabl"
                                                      "e-"
                                                      "row"
                                                      ">")));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_numbers_and_days_are_read_as_they_are_shown),
        cmocka_unit_test(a_text_may_have_paragraphs_spaces_and_fonts_but_a_remark_is_not_of_it),
        cmocka_unit_test(cells_and_rows_may_stand_once_with_their_number),
        cmocka_unit_test(hidden_sheets_are_told_and_what_is_no_sheet_of_it_is_not_read),
        cmocka_unit_test(what_cannot_be_read_is_refused_with_the_way_out),
        cmocka_unit_test(rows_that_are_repeated_without_measure_are_refused),
        cmocka_unit_test(a_row_that_is_not_shown_or_struck_through_is_told),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
