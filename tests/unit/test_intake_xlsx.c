/* test_intake_xlsx.c - packing lists in workbooks. */
#include "intake_helper.h"

#include <xlsxwriter.h>

#include "xlsx_helper.h"

static char path[64];
static lxw_workbook *book;

static void new_book(void)
{
    (void)strcpy(path, "/tmp/tb-list-XXXXXX");
    (void)close(mkstemp(path));
    book = workbook_new(path);
}

/* Cells of a row separated by '|'; "#5" is a number, "@2026-03-14" a day, "" nothing. */
static void row(lxw_worksheet *s, lxw_row_t r, const char *cells)
{
    char text[400], *at = text;
    lxw_format *day = workbook_add_format(book);
    lxw_col_t c = 0;

    format_set_num_format(day, "dd/mm/yyyy");
    (void)snprintf(text, sizeof text, "%s", cells);
    for (char *bar; at; at = bar, c++) {
        if ((bar = strchr(at, '|')))
            *bar++ = '\0';
        if (*at == '#') {
            worksheet_write_number(s, r, c, strtod(at + 1, NULL), NULL);
        } else if (*at == '@') {
            lxw_datetime d = { atoi(at + 1), atoi(at + 6), atoi(at + 9), 0, 0, 0 };

            worksheet_write_datetime(s, r, c, &d, day);
        } else if (*at) {
            worksheet_write_string(s, r, c, at, NULL);
        }
    }
}

static struct seen read_book(const struct tb_intake_opts *opts)
{
    struct seen s;

    workbook_close(book);
    s = read_file(path, opts);
    (void)unlink(path);
    return s;
}

static void a_workbook_with_merged_titles_and_real_dates_is_taken(void **state)
{
    lxw_worksheet *w;
    struct seen s;

    (void)state;
    new_book();
    w = workbook_add_worksheet(book, "Packing list");
    worksheet_merge_range(w, 0, 0, 0, 7, "TESSITURA ROVO - LISTA COLLI", NULL);
    row(w, 1, "Fornitore|Tessitura Rovo||DDT n.|R/118");
    row(w, 2, "Data|@2026-03-04");
    row(w, 4, "Articolo|Colore|Bagno|Pezza|Metri|Altezza|Peso gr/mq|Composizione");
    row(w, 5, "Q7|12 blu|B1|0107|#50.5|#150|#180|%100 PAMUK");
    row(w, 6, "|||0108|#49.25");
    row(w, 7, "Totale|||#2|#99.75");
    s = read_book(NULL);
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.text.s, "D Tessitura Rovo|R/118||2026-03-04\n"
                                  "L Q7|12 blu|B1|%100 PAMUK|row|\n"
                                  "B 0:0107|50.50|150.0 cm|180.0 g/m2\n"
                                  "B 0:0108|49.25|150.0 cm|180.0 g/m2\n");
    assert_int_equal(s.list.totals, 1);
    assert_string_equal(s.list.sheet[0], "Packing list");
    seen_free(&s);
}

static void bolt_numbers_the_spreadsheet_made_numbers_or_dates_are_pointed_out(void **state)
{
    lxw_worksheet *w;
    struct seen s;

    (void)state;
    new_book();
    w = workbook_add_worksheet(book, NULL);
    row(w, 0, "article|roll|m|composition");
    row(w, 1, "Q|#123|#5|wool");
    row(w, 2, "Q|@2026-03-12|#5|wool");
    row(w, 3, "Q|00124|#5|wool");
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1" });
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(strstr(s.text.s, "B "), "B 0:123|5.00\nB 0:2026-03-12|5.00\nB 0:00124|5.00\n");
    assert_true(says(&s, "1 bolt number in the column 'roll' is kept by the spreadsheet as a date (on line"));
    assert_true(says(&s, "1 bolt number in the column 'roll' is kept by the spreadsheet as a number"));
    seen_free(&s);
}

static void every_sheet_that_shows_a_table_is_read(void **state)
{
    lxw_worksheet *w;
    struct seen s;

    (void)state;
    new_book();
    w = workbook_add_worksheet(book, "Cover");
    row(w, 0, "Supplier|Alder Mill");
    row(w, 1, "Packing list no.|P-5");
    row(w, 2, "Composition|100% linen");
    w = workbook_add_worksheet(book, "Navy");
    row(w, 0, "Article|Q1||Colour|navy");
    row(w, 1, "Composition|100% cotton");
    row(w, 2, "roll|m");
    row(w, 3, "1|#10");
    (void)workbook_add_worksheet(book, "Sheet3");
    w = workbook_add_worksheet(book, "Ecru");
    row(w, 0, "Article|Q1||Colour|ecru");
    row(w, 1, "roll|m|TKG");
    row(w, 2, "2|#20|100 CO");
    s = read_book(NULL);
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.text.s, "D Alder Mill|P-5||\n"
                                  "L Q1|navy||100% cotton|title|\nL Q1|ecru||100 CO|row|\n"
                                  "B 0:1|10.00\nB 1:2|20.00\n");
    assert_true(says(&s, "the sheet 'Cover' holds no table of bolts"));
    assert_false(says(&s, "Sheet3"));
    seen_free(&s);
}

static void hidden_book(void)
{
    lxw_worksheet *w;

    new_book();
    w = workbook_add_worksheet(book, "Shown");
    row(w, 0, "article|roll|m|composition");
    row(w, 1, "Q|1|#5|wool");
    w = workbook_add_worksheet(book, "Old");
    row(w, 0, "article|roll|m|composition");
    row(w, 1, "Q|2|#5|wool");
    worksheet_hide(w);
}

static void a_hidden_table_is_asked_about(void **state)
{
    static const char *const shown[] = { "shown" }, *const both[] = { "Shown", "Old" },
                             *const none[] = { "Nope" };
    struct seen s;

    (void)state;
    hidden_book();
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1" });
    assert_int_equal(s.rc, TB_EINVAL);
    assert_non_null(
        strstr(s.err.msg, "the sheet 'Old' is hidden and holds a table of bolts; --sheet 'Old' takes it in"));
    seen_free(&s);
    hidden_book();
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1", .sheet = shown, .sheets = 1 });
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 1);
    seen_free(&s);
    hidden_book();
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1", .sheet = both, .sheets = 2 });
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 2);
    seen_free(&s);
    hidden_book();
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1", .sheet = none, .sheets = 1 });
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.err.msg, "the workbook has no sheet 'Nope'");
    seen_free(&s);
}

/* Five bolts, of which the last two are hidden, or the third is struck through; the total is of so many metres. */
static void filtered_book(bool hidden, const char *total)
{
    lxw_row_col_options hide = { .hidden = LXW_TRUE };
    lxw_format *struck;
    lxw_worksheet *w;

    new_book();
    struck = workbook_add_format(book);
    format_set_font_strikeout(struck);
    w = workbook_add_worksheet(book, "List");
    row(w, 0, "article|roll|colour|m|composition");
    row(w, 1, "Q|1|navy|#52.1|wool");
    row(w, 2, "Q|2|navy|#48.3|wool");
    if (hidden) {
        row(w, 3, "Q|3|navy|#50|wool");
    } else {
        worksheet_write_string(w, 3, 0, "Q", struck);
        worksheet_write_string(w, 3, 1, "3", struck);
        worksheet_write_string(w, 3, 2, "navy", struck);
        worksheet_write_number(w, 3, 3, 50, struck);
        worksheet_write_string(w, 3, 4, "wool", struck);
    }
    row(w, 4, "Q|4|stone|#47.7|wool");
    row(w, 5, "Q|5|stone|#51.2|wool");
    if (hidden) {
        worksheet_set_row_opt(w, 4, LXW_DEF_ROW_HEIGHT, NULL, &hide);
        worksheet_set_row_opt(w, 5, LXW_DEF_ROW_HEIGHT, NULL, &hide);
    }
    row(w, 6, total);
}

static struct seen read_filtered(bool hidden, const char *total, char way)
{
    filtered_book(hidden, total);
    return read_book(&(struct tb_intake_opts){
        .supplier = "M", .note = "1", .hidden_rows = hidden ? way : 0, .struck_rows = hidden ? 0 : way });
}

/* What a filter hides is often not in the delivery; a total of what is shown proves it. */
static void rows_that_are_not_shown_are_asked_about_once(void **state)
{
    struct seen s = read_filtered(true, "Total|||#150.4", 0);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_non_null(strstr(
        s.list.question[0].ask,
        "2 bolts stand in rows that the workbook does not show (List:5, List:6): say --hidden-rows leave"));
    assert_string_equal(s.list.question[0].answer[0].value, "leave");
    assert_false(s.list.question[0].open);
    seen_free(&s);
    s = read_filtered(true, "Total|||#249.3", 0); /* it counts them */
    assert_true(s.list.question[0].open);
    seen_free(&s);
    s = read_filtered(true, "Total|||#150.4", 'l');
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 3);
    assert_int_equal(s.list.totals, 1);
    assert_true(
        says(&s, "2 bolts stand in rows that the workbook does not show (List:5, List:6), and are left out"));
    seen_free(&s);
    s = read_filtered(true, "Total|||#249.3", 't');
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 5);
    seen_free(&s);
}

static void rows_that_are_struck_through_are_asked_about_once(void **state)
{
    struct seen s = read_filtered(false, "Total|||#199.3", 0);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_non_null(
        strstr(s.list.question[0].ask,
               "1 bolt stands in a row that is struck through (List:4): say --struck-rows leave"));
    assert_string_equal(s.list.question[0].answer[0].value, "leave");
    assert_false(s.list.question[0].open);
    seen_free(&s);
    s = read_filtered(false, "", 0);
    assert_true(s.list.question[0].open);
    seen_free(&s);
    s = read_filtered(false, "Total|||#199.3", 'l');
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 4);
    seen_free(&s);
}

static void a_bolt_number_in_two_sheets_is_refused_with_the_sheet(void **state)
{
    lxw_worksheet *w;
    struct seen s;

    (void)state;
    new_book();
    for (int i = 0; i < 2; i++) {
        w = workbook_add_worksheet(book, i ? "B" : "A");
        row(w, 0, "article|roll|m|composition");
        row(w, 1, "Q|7|#5|wool");
    }
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1" });
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.list.bad[0].sheet, "B");
    assert_non_null(strstr(s.list.bad[0].why, "stands on line 2 of the sheet 'A' already"));
    seen_free(&s);
}

static void a_unit_in_the_number_format_is_the_unit(void **state)
{
    static const char *const code[] = { "0.00\" yds\"", "0.00\" m\"", "0.00" };
    static const char *const shown[] = { "B 0:1|55.32|60.5 yd\n", "B 0:1|60.50\n",
                                         "" }; /* 1 yd = 0.9144 m (1959) */

    (void)state;
    for (size_t i = 0; i < TB_COUNT(code); i++) {
        lxw_worksheet *w;
        lxw_format *f;
        struct seen s;

        new_book();
        f = workbook_add_format(book);
        format_set_num_format(f, code[i]);
        w = workbook_add_worksheet(book, "PL");
        row(w, 0, "Roll|Article|Length|Composition");
        row(w, 1, "1|Drill||100% cotton");
        worksheet_write_number(w, 1, 2, 60.5, f);
        s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1" });
        assert_int_equal(s.rc, *shown[i] ? TB_OK : TB_EINVAL);
        if (*shown[i])
            assert_string_equal(strstr(s.text.s, "B "), shown[i]);
        else
            assert_non_null(strstr(s.err.msg, "do not say whether they are metres or yards"));
        seen_free(&s);
    }
}

/* An invoice or points of an inspection behind a packing list; without any header it is its next page. */
static void a_sheet_with_another_header_is_not_read_by_the_columns_before_it(void **state)
{
    static const struct {
        const char *header, *bolt;
        bool goes_on;
    } second[] = { { "Sr|Description|Qty|Rate|Amount|Text", "1|Drill|#210|#2.5|#525|100% cotton", false },
                   { "Roll|Points|Grade|Faults|m2", "103|#12|A|#3|#76.5", false },
                   { "Page 2", "103|Drill|Navy|L1|#50|100% cotton", true } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(second); i++) {
        lxw_worksheet *w;
        struct seen s;

        new_book();
        w = workbook_add_worksheet(book, "PL");
        row(w, 0, "Roll|Article|Colour|Lot|Metres|Composition");
        row(w, 1, "101|Drill|Navy|L1|#51|100% cotton");
        row(w, 2, "102|Drill|Navy|L1|#52|100% cotton");
        w = workbook_add_worksheet(book, "Second");
        row(w, 0, second[i].header);
        row(w, 1, second[i].bolt);
        s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1" });
        assert_int_equal(s.rc, TB_OK);
        assert_int_equal(s.list.bolts, second[i].goes_on ? 3 : 2);
        assert_int_equal(says(&s, "the sheet 'Second' has no header"), second[i].goes_on);
        assert_int_equal(says(&s, "the sheet 'Second' holds no table of bolts and is left out"),
                         !second[i].goes_on);
        seen_free(&s);
    }
}

static void numbers_in_cells_need_no_decimal_sign_and_text_beside_them_does(void **state)
{
    lxw_worksheet *w;
    struct seen s;

    (void)state;
    new_book();
    w = workbook_add_worksheet(book, NULL);
    row(w, 0, "article|roll|m|composition");
    row(w, 1, "Q|1|#1.234|wool");
    row(w, 2, "Q|2|50,5|wool");
    row(w, 3, "Q|3|1.250|wool");
    s = read_book(&(struct tb_intake_opts){ .supplier = "M", .note = "1" });
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(strstr(s.text.s, "B "), "B 0:1|1.23\nB 0:2|50.50\nB 0:3|1250.00\n");
    seen_free(&s);
}

static void sheets_do_not_choose_in_a_csv(void **state)
{
    static const char *const any[] = { "A" };
    struct seen s = read_text("roll,m\n1,5\n", &(struct tb_intake_opts){ .sheet = any, .sheets = 1 });

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_non_null(strstr(s.err.msg, "no sheets to choose from"));
    seen_free(&s);
}

static void a_broken_workbook_is_refused_by_the_list_too(void **state)
{
    static const struct part parts[] = {
        ROOT_RELS, BOOK(ONE_SHEET), PLAIN_RELS, { "xl/worksheets/sheet1.xml", "<!DOCTYPE a><a/>", 0 }
    };
    struct seen s;

    (void)state;
    make_book(path, parts, TB_COUNT(parts));
    s = read_file(path, NULL);
    (void)unlink(path);
    assert_int_equal(s.rc, TB_EFORMAT);
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_workbook_with_merged_titles_and_real_dates_is_taken),
        cmocka_unit_test(bolt_numbers_the_spreadsheet_made_numbers_or_dates_are_pointed_out),
        cmocka_unit_test(every_sheet_that_shows_a_table_is_read),
        cmocka_unit_test(a_hidden_table_is_asked_about),
        cmocka_unit_test(rows_that_are_not_shown_are_asked_about_once),
        cmocka_unit_test(rows_that_are_struck_through_are_asked_about_once),
        cmocka_unit_test(a_bolt_number_in_two_sheets_is_refused_with_the_sheet),
        cmocka_unit_test(a_unit_in_the_number_format_is_the_unit),
        cmocka_unit_test(a_sheet_with_another_header_is_not_read_by_the_columns_before_it),
        cmocka_unit_test(numbers_in_cells_need_no_decimal_sign_and_text_beside_them_does),
        cmocka_unit_test(sheets_do_not_choose_in_a_csv),
        cmocka_unit_test(a_broken_workbook_is_refused_by_the_list_too),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
