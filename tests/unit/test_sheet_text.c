/* test_sheet_text.c - rows out of text whose columns stand below one another; what is CSV stays CSV. */
#include "tenterbook/sheet.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cmocka.h>

#include "taken_rows.h"

static void save(const char *text)
{
    int fd;

    (void)strcpy(path, "/tmp/tb-text-XXXXXX");
    fd = mkstemp(path);
    assert_true(fd >= 0 && write(fd, text, strlen(text)) == (ssize_t)strlen(text));
    (void)close(fd);
}

static void expect(const char *text, const char *rows)
{
    save(text);
    expect_file(rows);
}

static void columns_that_stand_below_one_another_are_columns(void **state)
{
    (void)state;
    expect("Kirrane Weavers\n\n"
           "Article     Dye lot   Roll No.   Length (m)   Composition\n"
           "---------------------------------------------------------\n"
           "Serge 12    L1             101        50.50   100% wool\n"
           "Zeleň á     L1             102     1 049.00   100% wool\n"
           "Tweed       L2               7        48.25   65% wool, 35% polyester\n"
           "Total                              1 147.75\n",
           "[]\n1:Kirrane Weavers\n3:Article|Dye lot|Roll No.|Length (m)|Composition\n"
           "5:Serge 12|L1|101|50.50|100% wool\n"
           "6:Zeleň á|L1|102|1 049.00|100% wool\n7:Tweed|L2|7|48.25|65% wool, 35% polyester\n"
           "8:Total|||1 147.75\n");
}

static void a_mail_that_was_answered_has_marks_before_its_lines(void **state)
{
    (void)state;
    expect("> Dear Ann,\r\n>\r\n> Roll   Metres   Article\r\n> 101      50.5   Serge\r\n> 102        51   "
           "Serge\r\n",
           "[]\n1:Dear Ann,\n3:Roll|Metres|Article\n4:101|50.5|Serge\n5:102|51|Serge\n");
}

static void a_figure_below_a_row_is_no_part_of_its_words(void **state)
{
    (void)state;
    expect(
        "1205    nuss      W91    45,00 m\n1206    nuss      W91    43,40 m\n                    88,40 m\n",
        "[]\n1:1205|nuss|W91|45,00 m\n2:1206|nuss|W91|43,40 m\n3:||88,40 m\n");
}

static void spaces_that_do_not_break_and_drawn_lines_are_spaces(void **state)
{
    (void)state;
    expect(
        "Roll\u00a0\u00a0\u00a0Metres\u00a0\u00a0Article\n101\u00a0\u00a0\u00a0\u00a0  50.5\u00a0 Serge 12\n",
        "[]\n1:Roll|Metres|Article\n2:101|50.5|Serge 12\n");
    expect("| Roll | Metres | Article  |\n|------|-------:|----------|\n| 101  |   50.5 | Serge 12 |\n",
           "[]\n1:Roll|Metres|Article\n3:101|50.5|Serge 12\n");
}

static void a_cell_that_is_empty_stays_empty(void **state)
{
    (void)state;
    expect("Roll   Colour   Metres   Article\n101    red        50.5   Serge\n102               51   Serge\n"
           "103    blue         52\n",
           "[]\n1:Roll|Colour|Metres|Article\n2:101|red|50.5|Serge\n3:102||51|Serge\n4:103|blue|52\n");
}

static void csv_stays_csv_whatever_spaces_it_has(void **state)
{
    (void)state;
    expect("roll  ,  metres  ,  article\n101   ,  50.5    ,  Serge\n",
           "[]\n1:roll|metres|article\n2:101|50.5|Serge\n");
    expect("roll;metres;article\n101;50,5;Serge  12  red  b\n102;51,5;Serge  12  red  b\n",
           "[]\n1:roll|metres|article\n2:101|50,5|Serge  12  red  b\n3:102|51,5|Serge  12  red  b\n");
    expect("roll\tmetres\tarticle\n1 \t 50.5 \t Serge  12\n",
           "[]\n1:roll|metres|article\n2:1|50.5|Serge  12\n");
}

static void a_line_without_end_and_a_zero_byte_are_refused(void **state)
{
    static const char start[] = "Roll   Metres   Article\n101      50.5   Serge\n102      50.5   Serge\n";
    size_t n = sizeof start - 1, all = n + (2u << 20);
    char *text = tb_alloc(all + 1, 1);
    int fd;

    (void)state;
    memset(text, 'a', all);
    memcpy(text, start, n);
    save(text);
    refuse_file("line 4 has no end");
    (void)strcpy(path, "/tmp/tb-text-XXXXXX");
    fd = mkstemp(path);
    text[n + 10] = '\0';
    assert_true(write(fd, text, n + 20) == (ssize_t)n + 20);
    (void)close(fd);
    refuse_file("line 4 holds a zero byte; this is not a table in text form");
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(columns_that_stand_below_one_another_are_columns),
        cmocka_unit_test(a_mail_that_was_answered_has_marks_before_its_lines),
        cmocka_unit_test(a_figure_below_a_row_is_no_part_of_its_words),
        cmocka_unit_test(spaces_that_do_not_break_and_drawn_lines_are_spaces),
        cmocka_unit_test(a_cell_that_is_empty_stays_empty),
        cmocka_unit_test(csv_stays_csv_whatever_spaces_it_has),
        cmocka_unit_test(a_line_without_end_and_a_zero_byte_are_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
