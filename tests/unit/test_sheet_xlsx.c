/* test_sheet_xlsx.c - rows out of workbooks, hostile ones included. */
#include "tenterbook/sheet.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <xlsxwriter.h>

#include "taken_rows.h"
#include "xlsx_helper.h"

static void expect(const struct part *part, size_t n, const char *rows)
{
    make_book(path, part, n);
    expect_file(rows);
}
#define EXPECT(rows, ...)                                                                                    \
    do {                                                                                                     \
        const struct part parts_[] = { __VA_ARGS__ };                                                        \
        expect(parts_, TB_COUNT(parts_), rows);                                                              \
    } while (0)

#define REFUSED(sentence, ...)                                                                               \
    do {                                                                                                     \
        const struct part parts_[] = { __VA_ARGS__ };                                                        \
        make_book(path, parts_, TB_COUNT(parts_));                                                           \
        refuse_file(sentence);                                                                               \
    } while (0)

/* --- what spreadsheet programs write ------------------------------------------------------------------------- */
static lxw_workbook *new_book(void)
{
    (void)strcpy(path, "/tmp/tb-xlsx-XXXXXX");
    (void)close(mkstemp(path));
    return workbook_new(path);
}

static lxw_format *format(lxw_workbook *w, const char *code)
{
    lxw_format *f = workbook_add_format(w);

    format_set_num_format(f, code);
    return f;
}

static void texts_numbers_and_days_keep_their_type_and_place(void **state)
{
    lxw_workbook *w = new_book();
    lxw_worksheet *s = workbook_add_worksheet(w, "Rolls");
    lxw_datetime day = { 2026, 3, 14, 0, 0, 0 };

    (void)state;
    worksheet_merge_range(s, 0, 0, 0, 5, "Alder Mill", NULL);
    worksheet_write_string(s, 2, 1, " Bolt  no ", NULL);
    worksheet_write_number(s, 4, 2, 50.25, NULL);
    worksheet_write_number(s, 4, 4, 0.1 + 0.2, NULL); /* 15 digits, as spreadsheets keep */
    worksheet_write_datetime(s, 5, 0, &day, format(w, "dd/mm/yyyy"));
    worksheet_write_datetime(s, 5, 1, &day, format(w, "[$-407]d. mmmm yyyy;@"));
    worksheet_write_number(s, 5, 2, 46095, format(w, "0.00 \"yards\"")); /* letters in quotes are no date */
    worksheet_write_number(s, 5, 3, 46095, format(w, "#,##0.00_);[Red](#,##0.00)"));
    worksheet_write_number(s, 5, 4, 123, format(w, "00000"));
    worksheet_write_boolean(s, 5, 5, 1, NULL);
    worksheet_write_formula_num(s, 6, 0, "=1+1", NULL, 2);
    worksheet_write_formula_str(s, 6, 1, "=\"a\"", NULL, "a");
    workbook_close(w);
    expect_file("[Rolls]\n1:Alder Mill\n3:|Bolt  no\n5:||#50.25||#0.3\n"
                "6:@2026-03-14|@2026-03-14|46095 yd|#46095|#00123|TRUE\n7:#2|a\n");
}

static void rich_text_is_one_text_and_inline_strings_are_read(void **state)
{
    lxw_workbook *w = new_book();
    lxw_worksheet *s = workbook_add_worksheet(w, NULL);
    lxw_format *bold = workbook_add_format(w);
    lxw_rich_string_tuple a = { bold, "100 % " }, b = { NULL, "wool" }, *rich[] = { &a, &b, NULL };
    lxw_workbook_options lean = { .constant_memory = LXW_TRUE };

    (void)state;
    format_set_bold(bold);
    worksheet_write_rich_string(s, 0, 0, rich, NULL);
    workbook_close(w);
    expect_file("[Sheet1]\n1:100 % wool\n");
    (void)strcpy(path, "/tmp/tb-xlsx-XXXXXX");
    (void)close(mkstemp(path));
    w = workbook_new_opt(path, &lean);
    s = workbook_add_worksheet(w, NULL);
    worksheet_write_string(s, 0, 0, "inline", NULL);
    worksheet_write_string(s, 1, 1, "two\nlines", NULL);
    workbook_close(w);
    expect_file("[Sheet1]\n1:inline\n2:|two\nlines\n");
}

static void sheets_come_in_order_with_the_hidden_marked(void **state)
{
    lxw_workbook *w = new_book();
    lxw_worksheet *a = workbook_add_worksheet(w, "Navy"), *b = workbook_add_worksheet(w, "Lists");
    lxw_worksheet *c = workbook_add_worksheet(w, "Ecru");

    (void)state;
    worksheet_write_string(a, 0, 0, "x", NULL);
    worksheet_write_string(b, 0, 0, "y", NULL);
    worksheet_hide(b);
    worksheet_write_string(c, 0, 0, "z", NULL);
    workbook_close(w);
    expect_file("[Navy]\n1:x\n[Lists, hidden]\n1:y\n[Ecru]\n1:z\n");
}

static void two_hundred_thousand_cells_stream_through(void **state)
{
    lxw_workbook *w = new_book();
    lxw_worksheet *s = workbook_add_worksheet(w, NULL);
    struct taken t = { 0 };
    struct tb_sheet_sink sink = { NULL, on_row, &t, NULL };
    struct tb_err err = { 0 };

    (void)state;
    for (lxw_row_t r = 0; r < 20000; r++)
        for (lxw_col_t c = 0; c < 10; c++)
            worksheet_write_number(s, r, c, r * 10.0 + c, NULL);
    workbook_close(w);
    assert_int_equal(tb_sheet_read(path, &sink, &err), TB_OK);
    (void)unlink(path);
    assert_int_equal(t.rows, 20000);
    assert_non_null(strstr(t.text.s, "\n20000:#199990|#199991|"));
    tb_text_free(&t.text);
}

/* --- workbooks by hand --------------------------------------------------------------------------------------- */
static void a_sheet_is_found_through_the_relations_wherever_it_lies(void **state)
{
    static const struct part parts[] = {
        { "_rels/.rels",
          RELS_OPEN "<Relationship Id=\"a\" Type=\"" REL_TYPE
                    "/officeDocument\" Target=\"/deep/book.xml\"/></Relationships>",
          0 },
        { "deep/book.xml",
          "<x:workbook xmlns:x=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" " NS_REL
          "><x:sheets><x:sheet name=\"B &amp; A\" sheetId=\"7\" r:id=\"two\"/></x:sheets></x:workbook>",
          0 },
        { "deep/_rels/book.xml.rels",
          RELS_OPEN REL("one", "worksheet", "wrong.xml") REL("two", "worksheet", "../else/where.xml")
              REL("three", "sharedStrings", "/deep/words.xml") "</Relationships>",
          0 },
        { "else/where.xml",
          "<x:worksheet xmlns:x=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><x:sheetData>"
          "<x:row><x:c t=\"s\"><x:v>1</x:v></x:c><x:c r=\"D1\" t=\"s\"><x:v>0</x:v></x:c></x:row>"
          "</x:sheetData></x:worksheet>",
          0 },
        { "deep/words.xml",
          "<sst " NS_MAIN "><si><t>first</t><rPh sb=\"0\" eb=\"1\"><t>spoken</t></rPh></si>"
          "<si><r><t xml:space=\"preserve\">se</t></r><r><t>cond_x000D_</t></r></si></sst>",
          0 },
    };

    (void)state;
    expect(parts, TB_COUNT(parts), "[B & A]\n1:second|||first\n");
}

static void both_epochs_give_the_same_days(void **state)
{
    static const struct part styles = {
        "xl/styles.xml",
        "<styleSheet " NS_MAIN "><cellStyleXfs><xf numFmtId=\"14\"/></cellStyleXfs>"
        "<cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/></cellXfs></styleSheet>",
        0
    };

    (void)state;
    /* ECMA-376 part 1, 18.17.4.1: 1 January 1904 is 1462 in the one system and 0 in the other; day 60 of the 1900
     * system is the 29 February that never was, 61 the 1 March 1900 */
    EXPECT("[List]\n1:@1904-01-01|@1900-03-01|@1900-02-28|@1900-01-01|#0|@2026-03-14\n", ROOT_RELS,
           BOOK(ONE_SHEET),
           BOOK_RELS(REL("s1", "worksheet", "worksheets/sheet1.xml") REL("st", "styles", "styles.xml")),
           styles,
           SHEET("<row r=\"1\"><c r=\"A1\" s=\"1\"><v>1462</v></c><c r=\"B1\" s=\"1\"><v>61</v></c>"
                 "<c r=\"C1\" s=\"1\"><v>59.75</v></c><c r=\"D1\" s=\"1\"><v>1</v></c><c r=\"E1\" "
                 "s=\"1\"><v>0</v></c>"
                 "<c r=\"F1\" s=\"1\"><v>46095</v></c></row>"));
    EXPECT("[List]\n1:@1904-01-01|@2026-03-14\n", ROOT_RELS, BOOK("<workbookPr date1904=\"1\"/>" ONE_SHEET),
           BOOK_RELS(REL("s1", "worksheet", "worksheets/sheet1.xml") REL("st", "styles", "styles.xml")),
           styles,
           SHEET("<row r=\"1\"><c r=\"A1\" s=\"1\"><v>0</v></c><c r=\"B1\" s=\"1\"><v>44633</v></c></row>"));
}

/* 46300 in cells of one format after the other: which show a day, which a number, which pad with zeros. */
static void expect_styles(const char *formats, const unsigned *id, size_t n, const char *const *shown)
{
    struct tb_text styles = { 0 }, sheet = { 0 }, rows = { 0 };

    tb_text_addf(&styles, "<styleSheet " NS_MAIN "><numFmts>%s</numFmts><cellXfs>", formats);
    tb_text_add(&sheet, "<worksheet " NS_MAIN "><sheetData>");
    tb_text_add(&rows, "[List]\n");
    for (size_t i = 0; i < n; i++) {
        tb_text_addf(&styles, "<xf numFmtId=\"%u\"/>", id[i]);
        tb_text_addf(&sheet, "<row r=\"%zu\"><c r=\"A%zu\" s=\"%zu\"><v>46300</v></c></row>", i + 1, i + 1,
                     i);
        tb_text_addf(&rows, "%zu:%s\n", i + 1, shown[i]);
    }
    tb_text_add(&styles, "</cellXfs></styleSheet>");
    tb_text_add(&sheet, "</sheetData></worksheet>");
    EXPECT(rows.s, ROOT_RELS, BOOK(ONE_SHEET),
           BOOK_RELS(REL("s1", "worksheet", "worksheets/sheet1.xml") REL("st", "styles", "styles.xml")),
           { "xl/styles.xml", styles.s, styles.n }, { "xl/worksheets/sheet1.xml", sheet.s, sheet.n });
    tb_text_free(&styles);
    tb_text_free(&sheet);
    tb_text_free(&rows);
}

/* ECMA-376 part 1, 18.8.30: 14 to 17 and 22 are days, 18 to 21 and 45 to 47 times; 27 to 31, 36, 50 to 54, 57 and 58 are
 * days of East Asian spreadsheets. */
static void built_in_formats_show_the_days_that_the_standard_lists(void **state)
{
    unsigned id[64];
    const char *shown[64];

    (void)state;
    for (unsigned i = 0; i < 64; i++) {
        bool day = (i >= 14 && i <= 17) || i == 22 || (i >= 27 && i <= 31) || i == 36 ||
                   (i >= 50 && i <= 54) || i == 57 || i == 58;

        id[i] = i;
        shown[i] = day ? "@2026-10-05" : "#46300";
    }
    expect_styles("", id, 64, shown);
}

/* 18.8.31: d, y and e stand for parts of a day where they are not quoted, escaped, spaced or in brackets. */
static void formats_of_a_workbook_show_days_by_their_letters(void **state)
{
    static const struct {
        const char *code, *shown;
    } format[] = {
        { "yyyy-mm-dd", "@2026-10-05" },
        { "dd.mm.yy;@", "@2026-10-05" },
        { "[$-409]d-mmm", "@2026-10-05" },
        { "[RED]D", "@2026-10-05" },
        { "ee", "@2026-10-05" },
        { "\\d\\.d", "@2026-10-05" },
        { "General", "#46300" },
        { "0.00E+00", "#46300" },
        { "0.0e-0", "#46300" },
        { "[Red]0", "#46300" },
        { "&quot;day&quot; 0", "#46300" },
        { "\\d0", "#46300" },
        { "0_d", "#46300" },
        { "*d0", "#46300" },
        { "0;d", "#46300" },
        { "0 &quot;never closed d", "#46300" },
        { "0 [never closed d", "#46300" },
        { "0", "#46300" },
        { "0000000", "#0046300" },
        { "0000000 d", "@2026-10-05" },
    };
    struct tb_text formats = { 0 };
    unsigned id[TB_COUNT(format)];
    const char *shown[TB_COUNT(format)];

    (void)state;
    for (unsigned i = 0; i < TB_COUNT(format); i++) {
        id[i] = 164 + i;
        shown[i] = format[i].shown;
        tb_text_addf(&formats, "<numFmt numFmtId=\"%u\" formatCode=\"%s\"/>", 164 + i, format[i].code);
    }
    expect_styles(formats.s, id, TB_COUNT(format), shown);
    tb_text_free(&formats);
}

static void rows_and_cells_without_addresses_follow_each_other(void **state)
{
    (void)state;
    EXPECT("[List]\n1:#1|a\n5:||#2|#3\n6:b\n7:@2026-03-14\n", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
           SHEET("<row><c><v>1</v></c><c t=\"inlineStr\"><is><r><t>a</t></r></is></c></row>"
                 "<row r=\"5\"><c r=\"C5\"><v>2</v></c><c><v>3</v></c></row>"
                 "<row><c t=\"str\"><f>x</f><v>b</v></c><c t=\"n\"/></row>"
                 "<row><c t=\"d\"><v>2026-03-14T00:00:00</v></c></row><row r=\"9\"/>"));
}

/* --- hostile and broken ---------------------------------------------------------------------------------------- */
static void a_document_type_is_refused(void **state)
{
    (void)state;
    REFUSED("declares a document type", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            { "xl/worksheets/sheet1.xml",
              "<!DOCTYPE worksheet [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;\">]>"
              "<worksheet " NS_MAIN
              "><sheetData><row><c t=\"str\"><v>&b;</v></c></row></sheetData></worksheet>",
              0 });
    REFUSED("declares a document type", ROOT_RELS,
            { "xl/workbook.xml", "<!DOCTYPE workbook SYSTEM \"file:///etc/passwd\"><workbook/>", 0 },
            PLAIN_RELS);
}

static void a_part_that_swells_is_refused_before_it_is_unpacked(void **state)
{
    size_t n = 40u << 20;
    char *blank = malloc(n + 1);
    struct part parts[] = { ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS, { "xl/worksheets/sheet1.xml", NULL, n } };

    (void)state;
    assert_non_null(blank);
    memset(blank, ' ', n);
    blank[n] = '\0';
    parts[3].text = blank;
    make_book(path, parts, TB_COUNT(parts));
    free(blank);
    refuse_file("more than 400 times its size");
}

static void missing_parts_are_named(void **state)
{
    (void)state;
    REFUSED("an archive without a workbook", { "word/document.xml", "<w/>", 0 });
    REFUSED("an archive without a workbook", ROOT_RELS);
    REFUSED("does not say where its sheets are", ROOT_RELS, BOOK(ONE_SHEET));
    REFUSED("the sheet 'List' is missing", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS);
    REFUSED("has no sheet", ROOT_RELS, BOOK(""), PLAIN_RELS);
    REFUSED("binary workbook (.xlsb)", { "xl/workbook.bin", "x", 0 });
    REFUSED("has no sheet", { "content.xml", "<x/>", 0 });
}

static void cells_that_point_nowhere_are_named(void **state)
{
    (void)state;
    REFUSED("cell C5 points to a text that is not there", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            SHEET("<row r=\"5\"><c r=\"C5\" t=\"s\"><v>0</v></c></row>"));
    REFUSED("cell A1 points to a text", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            SHEET("<row><c t=\"s\"><v>-1</v></c></row>"));
    REFUSED("cell A1 holds a number that cannot be read", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            SHEET("<row><c><v>12,5</v></c></row>"));
    REFUSED("cell A1 holds a number that cannot be read", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            SHEET("<row><c><v>1e999</v></c></row>"));
    REFUSED("has an address that cannot be read", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            SHEET("<row><c r=\"XFE1\"><v>1</v></c></row>"));
    REFUSED("more rows than", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            SHEET("<row r=\"1048577\"><c><v>1</v></c></row>"));
}

static void broken_xml_and_deep_nesting_are_refused(void **state)
{
    struct tb_text deep = { 0 };
    struct part parts[] = { ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS, { "xl/worksheets/sheet1.xml", NULL, 0 } };

    (void)state;
    REFUSED("sheet1.xml is damaged at its line 2", ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
            { "xl/worksheets/sheet1.xml", "<worksheet>\n<row></c></worksheet>", 0 });
    for (int i = 0; i < 1000; i++)
        tb_text_add(&deep, "<row>");
    parts[3].text = deep.s;
    make_book(path, parts, TB_COUNT(parts));
    refuse_file("nested too deeply");
    tb_text_free(&deep);
}

static void a_workbook_cut_short_is_refused(void **state)
{
    static const struct part parts[] = { ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
                                         SHEET("<row><c><v>1</v></c></row>") };

    (void)state;
    make_book(path, parts, TB_COUNT(parts));
    assert_int_equal(truncate(path, 400), 0);
    refuse_file("cannot be unpacked");
}

static void a_flipped_byte_in_a_part_is_noticed(void **state)
{
    static const struct part parts[] = { ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS,
                                         SHEET("<row><c><v>1234567</v></c></row>") };
    struct taken t = { 0 };
    struct tb_sheet_sink sink = { NULL, on_row, &t, NULL };
    struct tb_err err = { 0 };
    FILE *f;
    int c;

    (void)state;
    make_book(path, parts, TB_COUNT(parts));
    f = fopen(path, "r+b");
    assert_non_null(f);
    (void)fseek(f, 60, SEEK_SET); /* inside the packed bytes of the first part */
    c = fgetc(f);
    (void)fseek(f, 60, SEEK_SET);
    (void)fputc(c ^ 0x55, f);
    (void)fclose(f);
    assert_int_equal(tb_sheet_read(path, &sink, &err), TB_EFORMAT);
    (void)unlink(path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_numbers_and_days_keep_their_type_and_place),
        cmocka_unit_test(rich_text_is_one_text_and_inline_strings_are_read),
        cmocka_unit_test(sheets_come_in_order_with_the_hidden_marked),
        cmocka_unit_test(two_hundred_thousand_cells_stream_through),
        cmocka_unit_test(a_sheet_is_found_through_the_relations_wherever_it_lies),
        cmocka_unit_test(both_epochs_give_the_same_days),
        cmocka_unit_test(built_in_formats_show_the_days_that_the_standard_lists),
        cmocka_unit_test(formats_of_a_workbook_show_days_by_their_letters),
        cmocka_unit_test(rows_and_cells_without_addresses_follow_each_other),
        cmocka_unit_test(a_document_type_is_refused),
        cmocka_unit_test(a_part_that_swells_is_refused_before_it_is_unpacked),
        cmocka_unit_test(missing_parts_are_named),
        cmocka_unit_test(cells_that_point_nowhere_are_named),
        cmocka_unit_test(broken_xml_and_deep_nesting_are_refused),
        cmocka_unit_test(a_workbook_cut_short_is_refused),
        cmocka_unit_test(a_flipped_byte_in_a_part_is_noticed),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
