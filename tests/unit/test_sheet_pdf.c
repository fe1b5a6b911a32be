/* test_sheet_pdf.c - rows out of PDF, drawn here word by word; what is no text is refused. */
#include "tenterbook/sheet.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cairo-pdf.h>
#include <cmocka.h>

#include "taken_rows.h"

static cairo_surface_t *surface;
static cairo_t *cr;

static void begin(void)
{
    (void)strcpy(path, "/tmp/tb-pdf-XXXXXX");
    (void)close(mkstemp(path));
    surface = cairo_pdf_surface_create(path, 595, 842);
    cr = cairo_create(surface);
    cairo_select_font_face(cr, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, 10);
}

static void end(void)
{
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    assert_int_equal(cairo_surface_status(surface), CAIRO_STATUS_SUCCESS);
    cairo_surface_destroy(surface);
}

/* Its left end at x. */
static void say(double x, double y, const char *s)
{
    cairo_move_to(cr, x, y);
    cairo_show_text(cr, s);
}

/* Its right end at x, as figures stand. */
static void figure(double x, double y, const char *s)
{
    cairo_text_extents_t e;

    cairo_text_extents(cr, s, &e);
    say(x - e.x_advance, y, s);
}

static void head(double y)
{
    say(40, y, "Article");
    say(140, y, "Dye lot");
    say(200, y, "Roll No.");
    say(270, y, "Length (m)");
    say(340, y, "Composition");
}

/* The length ends two points before the words of the next cell begin, as a spreadsheet sets it. */
static void bolt(double y, const char *article, const char *lot, const char *number, const char *metres,
                 const char *words)
{
    say(40, y, article);
    say(140, y, lot);
    figure(255, y, number);
    figure(338, y, metres);
    say(340, y, words);
}

static void expect(const char *rows)
{
    end();
    expect_file(rows);
}

static void what_stands_below_one_another_is_a_column(void **state)
{
    (void)state;
    begin();
    say(40, 60, "Kirrane Weavers");
    say(40, 90, "Delivery note no.: KW 204");
    say(340, 90, "Date: 14.09.2026");
    head(120);
    bolt(135, "Serge 12", "L1", "101", "50.50", "100% wool");
    bolt(150, "Serge 12", "L1", "102", "1 049.00", "100% wool");
    bolt(165, "Tweed", "L2", "7", "48.25", "65% wool 35% polyester");
    say(40, 180, "Total");
    figure(338, 180, "1 147.75");
    expect("[]\n1:Kirrane Weavers\n2:Delivery note no.: KW 204||||Date: 14.09.2026\n"
           "3:Article|Dye lot|Roll No.|Length (m)|Composition\n"
           "4:Serge 12|L1|101|50.50|100% wool\n5:Serge 12|L1|102|1 049.00|100% wool\n"
           "6:Tweed|L2|7|48.25|65% wool 35% polyester\n7:Total|||1 147.75\n");
}

/* A page that was printed on its side, or upside down: its lines run that way, whatever the page says of itself. */
static void a_page_may_stand_on_any_of_its_sides(void **state)
{
    static const struct {
        double x, y, quarters;
    } side[] = { { 595, 0, 1 }, { 595, 842, 2 }, { 0, 842, 3 } };

    (void)state;
    for (size_t i = 0; i < sizeof side / sizeof side[0]; i++) {
        begin();
        cairo_translate(cr, side[i].x, side[i].y);
        cairo_rotate(cr, side[i].quarters * 1.5707963267948966);
        say(40, 60, "Kirrane Weavers");
        head(120);
        bolt(135, "Serge 12", "L1", "101", "50.50", "100% wool");
        bolt(150, "Tweed", "L2", "7", "48.25", "65% wool 35% polyester");
        expect("[]\n1:Kirrane Weavers\n2:Article|Dye lot|Roll No.|Length (m)|Composition\n"
               "3:Serge 12|L1|101|50.50|100% wool\n4:Tweed|L2|7|48.25|65% wool 35% polyester\n");
    }
}

/* U+FB00 to U+FB04 of the Unicode standard, and U+FB06. */
static void letters_that_a_font_joins_are_letters(void **state)
{
    (void)state;
    begin();
    head(120);
    bolt(135, "Chi\uFB00on Fi\uFB01", "L1", "101", "50.50", "100% \uFB02ax");
    bolt(150, "Gri\uFB03n", "Wa\uFB04e", "7", "48.25", "we\uFB06");
    expect("[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Chiffon Fifi|L1|101|50.50|100% flax\n"
           "3:Griffin|Waffle|7|48.25|west\n");
}

/* Letter heads and page numbers repeat and are no rows; the header repeats too, and is left to whoever knows headers. */
static void pages_go_on_with_the_columns_of_the_first(void **state)
{
    char number[16], text[32];

    (void)state;
    begin();
    for (int p = 0; p < 3; p++) {
        say(40, 40, "Kirrane Weavers");
        say(40, 55, "1 Loom Lane, Bradwell");
        head(90);
        for (int i = 0; i < 2; i++) {
            (void)snprintf(number, sizeof number, "%d", p * 2 + i + 1);
            bolt(105 + i * 15, "Serge 12", "L1", number, "50.00", i ? "" : "100% wool");
        }
        (void)snprintf(text, sizeof text, "Page %d of 3", p + 1);
        say(270, 800, text);
        cairo_show_page(cr);
    }
    expect(
        "[]\n1:Kirrane Weavers\n2:1 Loom Lane, Bradwell\n3:Article|Dye lot|Roll No.|Length (m)|Composition\n"
        "4:Serge 12|L1|1|50.00|100% wool\n5:Serge 12|L1|2|50.00\n"
        "9:Article|Dye lot|Roll No.|Length (m)|Composition\n"
        "10:Serge 12|L1|3|50.00|100% wool\n11:Serge 12|L1|4|50.00\n"
        "15:Article|Dye lot|Roll No.|Length (m)|Composition\n"
        "16:Serge 12|L1|5|50.00|100% wool\n17:Serge 12|L1|6|50.00\n");
}

/* The number of the page may stand anywhere in such a head, beside what it is printed with. */
static void a_head_that_repeats_holds_the_number_of_its_page(void **state)
{
    static const char *const number[] = { "Page 1 of 2", "Page 2 of 2" };
    static const char *const alone[] = { "Sheet 1", "Sheet 2" };
    static const char *const bolts[] = { "3", "4" };

    (void)state;
    begin();
    for (int p = 0; p < 2; p++) {
        say(40, 30, alone[p]);
        say(40, 45, "Note 4711");
        say(340, 45, number[p]);
        say(40, 60, "Your order: B-77");
        head(90);
        bolt(105, "Serge 12", "L1", bolts[p], "50.00", "100% wool");
        cairo_show_page(cr);
    }
    expect("[]\n2:Note 4711||||Page 1 of 2\n3:Your order: B-77\n"
           "4:Article|Dye lot|Roll No.|Length (m)|Composition\n5:Serge 12|L1|3|50.00|100% wool\n"
           "9:Article|Dye lot|Roll No.|Length (m)|Composition\n10:Serge 12|L1|4|50.00|100% wool\n");
    /* another number than that of the page is another head, and a row of the table is none */
    begin();
    for (int p = 0; p < 2; p++) {
        say(40, 30, p ? "Note 12" : "Note 11");
        bolt(45, "Serge 12", "L1", p ? "2" : "1", "50.00", "100% wool");
        bolt(60, "Serge 12", "L1", p ? "8" : "7", "50.00", "100% wool");
        cairo_show_page(cr);
    }
    expect("[]\n1:Note 11\n2:Serge 12|L1|1|50.00|100% wool\n3:Serge 12|L1|7|50.00|100% wool\n"
           "4:Note 12\n5:Serge 12|L1|2|50.00|100% wool\n6:Serge 12|L1|8|50.00|100% wool\n");
}

/* A count of bolts at the foot of one page is no page number: other pages have none there. */
static void what_is_not_on_every_page_is_no_page_number(void **state)
{
    (void)state;
    begin();
    head(90);
    bolt(105, "Serge 12", "L1", "1", "50.00", "100% wool");
    cairo_show_page(cr);
    head(90);
    bolt(105, "Serge 12", "L1", "2", "50.00", "100% wool");
    say(40, 130, "Rolls 2");
    expect("[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Serge 12|L1|1|50.00|100% wool\n"
           "3:Article|Dye lot|Roll No.|Length (m)|Composition\n4:Serge 12|L1|2|50.00|100% wool\n5:Rolls 2\n");
}

static void a_text_too_long_for_its_cell_goes_on_below_or_begins_above(void **state)
{
    (void)state;
    begin();
    head(90);
    bolt(110, "Serge 12", "L1", "1", "50.00", "65% wool");
    say(340, 122, "30% polyester");
    say(340, 134, "5% elastane");
    bolt(154, "Serge 12", "L1", "2", "51.00", "100% wool");
    say(340, 174, "60% linen");
    bolt(186, "Serge 12", "L1", "3", "52.00", "40% cotton");
    say(340, 206, "52.00 m in all");
    expect("[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n"
           "2:Serge 12|L1|1|50.00|65% wool 30% polyester 5% elastane\n5:Serge 12|L1|2|51.00|100% wool\n"
           "7:Serge 12|L1|3|52.00|60% linen 40% cotton\n8:||||52.00 m in all\n");
}

/* No figure stands under its header: the header is at the left end of the column, the figures at its right. */
/* Rows far from one another, and the rest of a cell near the row that it is of: below it, above it, in several columns. */
static void the_rest_of_a_cell_stands_nearer_to_its_row(void **state)
{
    (void)state;
    begin();
    head(90);
    bolt(114, "Stretch", "L2-2026", "1", "50.00", "100% wool");
    say(40, 124, "Twill");
    say(140, 124, "-0991");
    bolt(138, "Stretch", "19-4020", "2", "51.00", "100% wool");
    say(40, 148, "Twill");
    say(140, 148, "Navy");
    bolt(162, "Stretch", "L3", "3", "52.00", "100% wool");
    say(40, 172, "Brushed"); /* alone in the first column it may be a heading */
    say(200, 186, "Total");
    figure(338, 186, "153.00");
    expect("[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Stretch Twill|L2-2026-0991|1|50.00|100% "
           "wool\n"
           "4:Stretch Twill|19-4020 Navy|2|51.00|100% wool\n6:Stretch|L3|3|52.00|100% wool\n"
           "7:Brushed\n8:|Total||153.00\n");
}

static void a_header_may_stand_beside_its_figures(void **state)
{
    char number[16];

    (void)state;
    begin();
    say(40, 60, "Roll");
    say(160, 60, "Metres");
    say(300, 60, "Article");
    for (int i = 0; i < 12; i++) {
        (void)snprintf(number, sizeof number, "%d", i + 1);
        figure(120, 75 + i * 15, number);
        figure(260, 75 + i * 15, "50.5");
        say(300, 75 + i * 15, "Serge");
    }
    expect(
        "[]\n1:Roll|Metres|Article\n2:1|50.5|Serge\n3:2|50.5|Serge\n4:3|50.5|Serge\n5:4|50.5|Serge\n"
        "6:5|50.5|Serge\n7:6|50.5|Serge\n8:7|50.5|Serge\n9:8|50.5|Serge\n10:9|50.5|Serge\n11:10|50.5|Serge\n"
        "12:11|50.5|Serge\n13:12|50.5|Serge\n");
}

/* Words that run on over the empty cell beside them are one text. */
static void a_long_text_may_run_on_over_an_empty_cell(void **state)
{
    (void)state;
    begin();
    head(90);
    say(450, 90, "Remark");
    bolt(105, "Serge 12", "L1", "1", "50.00", "100% wool");
    say(450, 105, "soft");
    bolt(120, "Serge 12", "L1", "2", "50.00", "65% wool 30% polyester 5% elastane");
    expect(
        "[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition|Remark\n2:Serge 12|L1|1|50.00|100% wool|soft\n"
        "3:Serge 12|L1|2|50.00|65% wool 30% polyester 5% elastane\n");
}

/* A space is four points wide in these lines, and a gap of two divides two cells all the same. */
static void cells_that_touch_are_told_by_a_gap_that_is_no_space(void **state)
{
    (void)state;
    begin();
    say(40, 60, "Kirrane Weavers of Bradwell");
    say(40, 75, "one of the old mills");
    say(40, 100, "Roll");
    say(90, 100, "Metres");
    say(140, 100, "Width");
    say(200, 100, "Composition");
    for (int i = 0; i < 4; i++) {
        say(40, 115 + i * 15, i % 2 ? "R11" : "R12");
        figure(138, 115 + i * 15, i % 2 ? "50.5" : "108");
        say(140, 115 + i * 15, "150 cm");
        say(200, 115 + i * 15, "old white wool");
    }
    expect("[]\n1:Kirrane Weavers of Bradwell\n2:one of the old mills\n3:Roll|Metres|Width|Composition\n"
           "4:R12|108|150 cm|old white wool\n5:R11|50.5|150 cm|old white wool\n"
           "6:R12|108|150 cm|old white wool\n7:R11|50.5|150 cm|old white wool\n");
}

/* A gap of 2 points in every row, where a space is 3.2: no row is wider there, and the header is as close. */
static void cells_that_touch_in_every_row_are_two(void **state)
{
    char number[16];

    (void)state;
    begin();
    say(40, 60, "Roll");
    figure(138, 60, "Metres");
    say(140, 60, "Composition");
    say(300, 60, "Colour");
    for (int i = 0; i < 5; i++) {
        (void)snprintf(number, sizeof number, "%d", 11 + i);
        say(40, 75 + i * 15, number);
        figure(138, 75 + i * 15, "50.50");
        say(140, 75 + i * 15, "98% cotton 2% elastane");
        say(300, 75 + i * 15, "off white");
    }
    expect("[]\n1:Roll|Metres|Composition|Colour\n2:11|50.50|98% cotton 2% elastane|off white\n"
           "3:12|50.50|98% cotton 2% elastane|off white\n4:13|50.50|98% cotton 2% elastane|off white\n"
           "5:14|50.50|98% cotton 2% elastane|off white\n6:15|50.50|98% cotton 2% elastane|off white\n");
}

/* The number ends two points before the colour begins, far behind its own header; a total stands under the header. */
static void a_figure_behind_its_header_is_no_part_of_the_words_beside_it(void **state)
{
    (void)state;
    begin();
    say(40, 60, "Roll No.");
    say(140, 60, "Colour");
    figure(260, 60, "Metres");
    say(290, 60, "Lot");
    for (int i = 0; i < 3; i++) {
        figure(137, 75 + i * 15, i == 0 ? "1" : i == 1 ? "2" : "3");
        say(140, 75 + i * 15, "Black #1");
        figure(260, 75 + i * 15, "200.0");
        say(290, 75 + i * 15, "A");
    }
    say(40, 120, "Sub total");
    say(140, 120, "3 rolls");
    figure(260, 120, "600.0");
    expect("[]\n1:Roll No.|Colour|Metres|Lot\n2:1|Black #1|200.0|A\n3:2|Black #1|200.0|A\n"
           "4:3|Black #1|200.0|A\n5:Sub total|3 rolls|600.0\n");
}

/* Each column has its words, on whichever of the three lines they stand. */
static void the_lines_of_a_header_are_one_cell_in_each_column(void **state)
{
    (void)state;
    begin();
    say(100, 60, "Dye");
    say(150, 60, "Roll");
    say(40, 72, "Article");
    say(100, 72, "lot");
    say(150, 72, "number");
    say(210, 72, "Net");
    say(100, 84, "No.");
    say(210, 84, "metres");
    for (int i = 0; i < 4; i++) {
        say(40, 100 + i * 15, "Serge 12");
        say(100, 100 + i * 15, "L1");
        say(150, 100 + i * 15, i % 2 ? "R11" : "R12");
        say(210, 100 + i * 15, "50.5");
    }
    expect("[]\n1:Article|Dye\nlot\nNo.|Roll\nnumber|Net\nmetres\n4:Serge 12|L1|R12|50.5\n5:Serge "
           "12|L1|R11|50.5\n"
           "6:Serge 12|L1|R12|50.5\n7:Serge 12|L1|R11|50.5\n");
}

/* Five headers, five columns: the header of each stands at the other end of it than its figures or beside them. */
static void as_many_headers_as_columns_go_in_their_order(void **state)
{
    (void)state;
    begin();
    say(40, 60, "Roll");
    figure(200, 60, "Metres");
    say(220, 60, "Width");
    figure(360, 60, "Lot");
    say(400, 60, "Article");
    for (int i = 0; i < 4; i++) {
        figure(90, 75 + i * 15, i % 2 ? "11" : "12");
        say(110, 75 + i * 15, "50.5");
        figure(280, 75 + i * 15, "150");
        say(290, 75 + i * 15, "L1");
        say(400, 75 + i * 15, "Serge");
    }
    expect("[]\n1:Roll|Metres|Width|Lot|Article\n2:12|50.5|150|L1|Serge\n3:11|50.5|150|L1|Serge\n"
           "4:12|50.5|150|L1|Serge\n5:11|50.5|150|L1|Serge\n");
}

/* What stands above the header is no table: two lines of an address are not one cell, and a figure makes no column. */
static void a_title_makes_no_columns_and_its_lines_are_their_own(void **state)
{
    (void)state;
    begin();
    say(40, 60, "To");
    say(120, 60, "Northgate");
    say(380, 60, "Order");
    say(480, 60, "PO-7781");
    say(120, 72, "Dock Street");
    say(380, 72, "Sent by");
    say(480, 72, "Road");
    head(110);
    bolt(125, "Serge 12", "L1", "1", "50.00", "100% wool");
    bolt(140, "Serge 12", "L1", "2", "51.00", "100% wool");
    bolt(155, "Serge 12", "L1", "3", "52.00", "100% wool");
    expect("[]\n1:To|Northgate|||Order|PO-7781\n2:|Dock Street|||Sent by|Road\n"
           "3:Article|Dye lot|Roll No.|Length (m)|Composition\n4:Serge 12|L1|1|50.00|100% wool\n"
           "5:Serge 12|L1|2|51.00|100% wool\n6:Serge 12|L1|3|52.00|100% wool\n");
}

/* "COPY" in letters ten times as high, aslant over the rows: they are said behind the rows, and are in no cell. */
static void what_is_printed_across_a_page_is_in_no_cell(void **state)
{
    (void)state;
    begin();
    cairo_save(cr);
    cairo_translate(cr, 60, 300);
    cairo_rotate(cr, -0.8);
    cairo_set_font_size(cr, 100);
    say(0, 0, "CO");
    cairo_restore(cr);
    cairo_set_font_size(cr, 10);
    head(120);
    for (int i = 0; i < 8; i++)
        bolt(140 + i * 20, "Serge 12", "L1", i % 2 ? "101" : "102", "50.50", "100% wool");
    expect("[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Serge 12|L1|102|50.50|100% wool\n"
           "3:Serge 12|L1|101|50.50|100% wool\n4:Serge 12|L1|102|50.50|100% wool\n"
           "5:Serge 12|L1|101|50.50|100% wool\n6:Serge 12|L1|102|50.50|100% wool\n"
           "7:Serge 12|L1|101|50.50|100% wool\n8:Serge 12|L1|102|50.50|100% wool\n"
           "9:Serge 12|L1|101|50.50|100% wool\n10:CO\n");
}

/* Not guessed together: whoever reads the list is told that it may be the right part of the table before. */
static void a_page_with_other_columns_is_a_sheet_of_its_own(void **state)
{
    (void)state;
    begin();
    head(90);
    for (int i = 0; i < 4; i++)
        bolt(105 + i * 15, "Serge 12", "L1", i % 2 ? "101" : "102", "50.00", "wool");
    cairo_show_page(cr);
    for (int i = 0; i < 5; i++) {
        say(70, 90 + i * 15, i ? "150" : "Width");
        say(170, 90 + i * 15, i ? "soft" : "Remark");
        say(420, 90 + i * 15, i ? "EUR" : "Price");
    }
    expect("[page 1]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Serge 12|L1|102|50.00|wool\n"
           "3:Serge 12|L1|101|50.00|wool\n4:Serge 12|L1|102|50.00|wool\n5:Serge 12|L1|101|50.00|wool\n"
           "[page 2, beside]\n6:Width|Remark|Price\n7:150|soft|EUR\n8:150|soft|EUR\n9:150|soft|EUR\n"
           "10:150|soft|EUR\n");
}

/* Also where its edge is that of a column of the page before: one phrase a line makes no rows of a table. */
static void a_column_alone_as_high_as_the_rows_before_is_no_rows_of_them(void **state)
{
    (void)state;
    begin();
    head(90);
    for (int i = 0; i < 4; i++)
        bolt(105 + i * 15, "Serge 12", "L1", i % 2 ? "101" : "102", "50.00", "");
    cairo_show_page(cr);
    for (int i = 0; i < 5; i++)
        say(40, 90 + i * 15, i ? "100% wool" : "Quality");
    expect("[page 1]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Serge 12|L1|102|50.00\n"
           "3:Serge 12|L1|101|50.00\n4:Serge 12|L1|102|50.00\n5:Serge 12|L1|101|50.00\n"
           "[page 2, beside]\n6:Quality\n7:100% wool\n8:100% wool\n9:100% wool\n10:100% wool\n");
}

static void picture(double width, double height)
{
    cairo_surface_t *scan = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 50, 70);
    cairo_t *on = cairo_create(scan);

    cairo_set_source_rgb(on, 0.9, 0.9, 0.8);
    cairo_paint(on);
    cairo_destroy(on);
    cairo_save(cr);
    cairo_scale(cr, width / 50, height / 70);
    cairo_set_source_surface(cr, scan, 0, 0);
    cairo_paint(cr);
    cairo_restore(cr);
    cairo_surface_destroy(scan);
}

static void pictures_of_pages_are_refused_with_the_way_out(void **state)
{
    (void)state;
    begin();
    head(90);
    cairo_show_page(cr);
    picture(595, 842);
    say(40, 200, "50.00"); /* what a machine guessed, behind the picture or over it */
    end();
    refuse_file("page 2 of the PDF is a picture, as a scanner makes it, and what stands on it cannot be read "
                "for certain; "
                "ask for the list as XLSX, ODS or CSV, or as a PDF with text");
    begin();
    picture(300, 300);
    end();
    refuse_file("page 1 of the PDF holds pictures and no text; ask for the list as XLSX, ODS or CSV, or as a "
                "PDF with "
                "text");
    begin();
    cairo_rectangle(cr, 10, 10, 50, 50);
    cairo_fill(cr);
    end();
    refuse_file("the PDF holds no text: what stands in it is drawn; ask for the list as XLSX, ODS or CSV, or "
                "as a PDF "
                "with text");
}

static void a_small_picture_is_a_letter_head(void **state)
{
    (void)state;
    begin();
    picture(100, 40);
    head(90);
    bolt(105, "Serge 12", "L1", "1", "50.00", "100% wool");
    expect("[]\n1:Article|Dye lot|Roll No.|Length (m)|Composition\n2:Serge 12|L1|1|50.00|100% wool\n");
}

static void a_damaged_one_is_refused_with_the_way_out(void **state)
{
    FILE *f;

    (void)state;
    begin();
    head(90);
    end();
    f = fopen(path, "r+b");
    assert_non_null(f);
    for (int i = 0; i < 2000; i++)
        assert_true(fputs(i ? "xx" : "%PDF-1.7\n", f) >= 0);
    (void)fclose(f);
    refuse_file("page 1 of the PDF is damaged; ask for it once more, or for the list as XLSX, ODS or CSV");
    begin();
    head(90);
    end();
    assert_int_equal(truncate(path, 300), 0);
    refuse_file("the PDF is damaged and cannot be read; was it cut short? Ask for it once more, or for the "
                "list as XLSX, "
                "ODS or CSV");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_stands_below_one_another_is_a_column),
        cmocka_unit_test(a_page_may_stand_on_any_of_its_sides),
        cmocka_unit_test(letters_that_a_font_joins_are_letters),
        cmocka_unit_test(pages_go_on_with_the_columns_of_the_first),
        cmocka_unit_test(a_head_that_repeats_holds_the_number_of_its_page),
        cmocka_unit_test(what_is_not_on_every_page_is_no_page_number),
        cmocka_unit_test(a_text_too_long_for_its_cell_goes_on_below_or_begins_above),
        cmocka_unit_test(the_rest_of_a_cell_stands_nearer_to_its_row),
        cmocka_unit_test(a_header_may_stand_beside_its_figures),
        cmocka_unit_test(a_long_text_may_run_on_over_an_empty_cell),
        cmocka_unit_test(cells_that_touch_are_told_by_a_gap_that_is_no_space),
        cmocka_unit_test(cells_that_touch_in_every_row_are_two),
        cmocka_unit_test(a_figure_behind_its_header_is_no_part_of_the_words_beside_it),
        cmocka_unit_test(the_lines_of_a_header_are_one_cell_in_each_column),
        cmocka_unit_test(as_many_headers_as_columns_go_in_their_order),
        cmocka_unit_test(a_title_makes_no_columns_and_its_lines_are_their_own),
        cmocka_unit_test(what_is_printed_across_a_page_is_in_no_cell),
        cmocka_unit_test(a_page_with_other_columns_is_a_sheet_of_its_own),
        cmocka_unit_test(a_column_alone_as_high_as_the_rows_before_is_no_rows_of_them),
        cmocka_unit_test(pictures_of_pages_are_refused_with_the_way_out),
        cmocka_unit_test(a_small_picture_is_a_letter_head),
        cmocka_unit_test(a_damaged_one_is_refused_with_the_way_out),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
