/* test_tags.c - swatch tags, read back with a scanner program from a picture of the printed sheet. */
#include "tenterbook/tags.h"

#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#define MOMENT "2026-03-31T18:00:00Z"
#define TOP "-H 800" /* of the page at 300 dots an inch */

static char folder[] = "/tmp/test_tags_XXXXXX";

static const struct tb_tag tags[] = {
    { "W26-014.02.03", TB_PART_WARP, "60% Cotton / 40% Polyester", "B-117", "2026-03-04", "2026-03-05", NULL,
      NULL, false },
    { "W26-014.02.04", TB_PART_WEFT, "100% Seide", "B-117", "2026-03-04", NULL, NULL, NULL, false },
    { "W-K05", TB_PART_WHOLE,
      "a very long declaration that goes on and on, warp cotton 60 polyester 40, weft viscose 80 flax 20, "
      "and so on",
      "", "2026-03-06", NULL, NULL, NULL, false },
};

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

static void print(const char *name, const struct tb_tag *tag, size_t n, const struct tb_tag_sheet *sheet)
{
    char *path = path_of(name);
    struct tb_outset files = { .replace = true };
    struct tb_err err = { 0 };

    if (tb_outset_end(&files, tb_tags_write(&files, path, tag, n, sheet, NULL, MOMENT, &err), &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    free(path);
}

/* What the scanner reads on a page, sorted: "CODE-128:W26-014.02.03". */
static char *scan(const char *name, int page, const char *band)
{
    struct tb_text command = { 0 }, out = { 0 };
    char buffer[4096];
    size_t n;
    FILE *f;

    tb_text_addf(&command,
                 "cd %s && pdftoppm -r 300 -f %d -l %d %s -gray -png -singlefile %s page && "
                 "zbarimg -q --raw -Sdisable -Sqrcode.enable -Scode128.enable page.png 2>/dev/null | sort; "
                 "zbarimg -q -Sdisable -Scode128.enable page.png 2>/dev/null | sort",
                 folder, page, page, band, name);
    f = popen(tb_text_str(&command), "r");
    assert_non_null(f);
    while ((n = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(&out, buffer, n);
    (void)pclose(f);
    tb_text_free(&command);
    return tb_text_take(&out);
}

/* The first page as a printer sets it, each dot black or white: "CODE-128:W26-014.02 A117", "QR-Code:...". */
static char *scan_set(const char *name, int dots)
{
    struct tb_text command = { 0 }, out = { 0 };
    char buffer[1024];
    size_t n;
    FILE *f;

    tb_text_addf(&command,
                 "cd %s && pdftoppm -r %d -mono -f 1 -l 1 -singlefile %s set && "
                 "zbarimg -q -Sdisable -Sqrcode.enable -Scode128.enable set.pbm 2>/dev/null | sort",
                 folder, dots, name);
    f = popen(tb_text_str(&command), "r");
    assert_non_null(f);
    while ((n = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(&out, buffer, n);
    (void)pclose(f);
    tb_text_free(&command);
    return tb_text_take(&out);
}

static void a_scanner_reads_both_codes_of_every_tag(void **state)
{
    struct tb_tag_sheet sheet;
    char *read;

    (void)state;
    tb_tag_sheet_usual(&sheet);
    print("tags.pdf", tags, 3, &sheet);
    read = scan("tags.pdf", 1, TOP);
    assert_string_equal(read, "W-K05\nW-K05\nW26-014.02.03\nW26-014.02.03\nW26-014.02.04\nW26-014.02.04\n"
                              "CODE-128:W-K05\nCODE-128:W26-014.02.03\nCODE-128:W26-014.02.04\n");
    free(read);
}

static void every_printable_character_survives_the_bar_code(void **state)
{
    struct tb_tag_sheet sheet = { 210, 297, 190, 60, 5, 5, 0, 2, 0, 0 };
    static const char *const part[] = { " !\"#$%&'()*+,-./0123456789:;<=>?",
                                        "@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_",
                                        "`abcdefghijklmnopqrstuvwxyz{|}~" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(part); i++) {
        struct tb_tag t = { part[i], TB_PART_WHOLE, "x", "", "2026-03-04", NULL, NULL, NULL, false };
        struct tb_text want = { 0 };
        char *read;

        print("ascii.pdf", &t, 1, &sheet);
        read = scan("ascii.pdf", 1, TOP);
        tb_text_addf(&want, "CODE-128:%s\n", part[i]);
        if (!strstr(read, tb_text_str(&want)))
            fail_msg("read '%s', not '%s'", read, tb_text_str(&want));
        tb_text_free(&want);
        free(read);
    }
}

static void labels_that_are_gone_are_skipped_and_pages_turn(void **state)
{
    struct tb_tag_sheet sheet;
    char *read;

    (void)state;
    tb_tag_sheet_usual(&sheet);
    sheet.skip = 23;
    print("skip.pdf", tags, 2, &sheet);
    read = scan("skip.pdf", 1, "-y 3000 -H 508");
    assert_string_equal(read, "W26-014.02.03\nW26-014.02.03\nCODE-128:W26-014.02.03\n");
    free(read);
    read = scan("skip.pdf", 2, TOP);
    assert_string_equal(read, "W26-014.02.04\nW26-014.02.04\nCODE-128:W26-014.02.04\n");
    free(read);
}

static void a_small_label_keeps_the_code_that_can_be_read(void **state)
{
    struct tb_tag_sheet sheet = { 210, 297, 32, 21.2, 4.7, 10.7, 2.5, 0, 0, 0 };
    char *read;
    long n;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_tag_sheet_holds(&n, &sheet, &err), TB_OK);
    assert_int_equal(n, 78); /* 6 x 13, by hand */
    print("small.pdf", tags, 2, &sheet);
    read = scan("small.pdf", 1, TOP);
    assert_string_equal(read, "W26-014.02.03\nW26-014.02.04\n");
    free(read);
}

/* Where the number of a tag stands on the first page, millimetres from its upper left corner. */
static void place_of(double *x, double *y, const char *name, const char *number)
{
    struct tb_text command = { 0 };
    char line[256];
    FILE *f;
    int found = 0;

    tb_text_addf(&command, "cd %s && pdftotext -bbox %s - | grep '>%s<'", folder, name, number);
    f = popen(tb_text_str(&command), "r");
    assert_non_null(f);
    if (fgets(line, sizeof line, f))
        found = sscanf(line, " <word xMin=\"%lf\" yMin=\"%lf\"", x, y);
    assert_int_equal(pclose(f), 0);
    assert_int_equal(found, 2);
    *x *= 25.4 / 72;
    *y *= 25.4 / 72;
    tb_text_free(&command);
}

static void margins_and_gaps_move_a_label_by_what_they_say(void **state)
{
    const struct tb_tag_sheet close = { 210, 297, 60, 37, 0, 0, 0, 0, 0, 0 },
                              apart = { 210, 297, 60, 37, 7, 11, 5, 3, 0, 0 };
    static const struct tb_tag four[] = {
        { "A-1", TB_PART_WHOLE, "x", "", "2026-03-04", NULL, NULL, NULL, false },
        { "A-2", TB_PART_WHOLE, "x", "", "2026-03-04", NULL, NULL, NULL, false },
        { "A-3", TB_PART_WHOLE, "x", "", "2026-03-04", NULL, NULL, NULL, false },
        { "A-4", TB_PART_WHOLE, "x", "", "2026-03-04", NULL, NULL, NULL, false }
    };
    /* by hand: the fourth label begins the second row of three */
    static const double right[] = { 7, 7 + 5, 7 + 5 + 5, 7 }, down[] = { 11, 11, 11, 11 + 3 };

    (void)state;
    print("tags.pdf", four, 4, &close);
    print("skip.pdf", four, 4, &apart);
    for (size_t i = 0; i < 4; i++) {
        double x0, y0, x1, y1;

        place_of(&x0, &y0, "tags.pdf", four[i].number);
        place_of(&x1, &y1, "skip.pdf", four[i].number);
        assert_true(fabs(x1 - x0 - right[i]) < 0.01);
        assert_true(fabs(y1 - y0 - down[i]) < 0.01);
    }
}

/* 62 x 29 mm, as rolls for label printers have it: 176 x 82 points, and the scanner reads both codes of each label. */
static void on_a_roll_each_bolt_has_a_page_of_its_own_that_a_scanner_reads(void **state)
{
    static const struct tb_tag bolts[] = {
        { .number = "W26-014.02 A117",
          .declared = "60% Cotton / 40% Polyester",
          .bolt = "A117, 48.50 m",
          .stands = "HELD",
          .stood = "2026-11-26",
          .stop = true },
        { .number = "W26-014.02 A118",
          .declared = "60% Cotton / 40% Polyester",
          .bolt = "A118, 51.00 m",
          .stands = "RELEASED",
          .stood = "2026-11-26" },
    };
    struct tb_tag_sheet sheet;
    struct tb_text command = { 0 };
    char *read, words[512];
    FILE *f;

    (void)state;
    tb_tag_sheet_roll(&sheet, 62, 29);
    print("roll.pdf", bolts, 2, &sheet);
    read = scan("roll.pdf", 1, "");
    assert_string_equal(read, "W26-014.02 A117\nW26-014.02 A117\nCODE-128:W26-014.02 A117\n");
    free(read);
    read = scan("roll.pdf", 2, "");
    assert_string_equal(read, "W26-014.02 A118\nW26-014.02 A118\nCODE-128:W26-014.02 A118\n");
    free(read);
    tb_text_addf(&command,
                 "cd %s && pdfinfo roll.pdf | grep -E 'Pages|Page size' | tr -s ' ' && pdftotext roll.pdf - "
                 "| tr '\\f' '\\n' | grep -oE '^(HELD|RELEASED)'",
                 folder);
    f = popen(tb_text_str(&command), "r");
    words[fread(words, 1, sizeof words - 1, f)] = '\0';
    (void)pclose(f);
    assert_string_equal(words, "Pages: 2\nPage size: 175.748 x 82.2047 pts\nHELD\nRELEASED\n");
    tb_text_free(&command);
}

/* A page as a printer of so many dots sets it, black or white, row by row: '#' black. Free it. */
static char *set_in_dots(int *width, int *height, const char *name, int dots)
{
    struct tb_text command = { 0 };
    unsigned char *packed;
    char *out;
    FILE *f;
    int bytes;

    tb_text_addf(&command, "cd %s && pdftoppm -r %d -mono -f 1 -l 1 -singlefile %s set && cat set.pbm",
                 folder, dots, name);
    f = popen(tb_text_str(&command), "r");
    tb_text_free(&command);
    assert_non_null(f);
    assert_int_equal(fscanf(f, "P4 %d %d", width, height), 2);
    assert_int_equal(fgetc(f), '\n');
    bytes = (*width + 7) / 8;
    packed = malloc((size_t)bytes * (size_t)*height);
    out = malloc((size_t)*width * (size_t)*height);
    assert_non_null(packed);
    assert_non_null(out);
    assert_int_equal(fread(packed, (size_t)bytes, (size_t)*height, f), *height);
    (void)pclose(f);
    for (int y = 0; y < *height; y++)
        for (int x = 0; x < *width; x++)
            out[y * *width + x] = packed[y * bytes + x / 8] >> (7 - x % 8) & 1 ? '#' : ' ';
    free(packed);
    return out;
}

/* Whether the row across the middle of the bars has each edge on a whole module, of at least `least` dots; 0: there are no bars. */
static int dots_of_module(const char *name, int dots)
{
    int width, height, module = 0, at = 0, begin, edges = 0;
    char *page = set_in_dots(&width, &height, name, dots);
    const char *row;

    row = page + (size_t)width * (size_t)(height * 88 / 100); /* below the QR code and the words */
    while (at < width && row[at] == ' ')
        at++;
    for (begin = at; at < width && row[at] == '#';
         at++) /* the first bar of the start sign is of two modules */
        continue;
    module = (at - begin) / 2;
    assert_int_equal((at - begin) % 2, 0);
    for (int x = at; x < width && module; x++)
        if (row[x] != row[x - 1]) {
            edges++;
            if ((x - begin) % module)
                fail_msg("an edge at dot %d of bars that begin at %d, of %d dots a module", x, begin, module);
        }
    free(page);
    if (module)
        assert_in_range(edges, 50, 300);
    return module;
}

/*
 * Numbers of 8 and of 12 signs behind that of the lot, as mills give them. 11 modules a sign and 13 to end (ISO/IEC 15417), so 244 and
 * 288, and 20 of white: at two dots of 203 an inch 66.1 and 77.1 mm, by hand. Narrower, and the QR code stands alone.
 */
static void bars_are_whole_dots_of_the_printer_or_not_there(void **state)
{
    static const struct {
        const char *number;
        double width;
        int printer, module; /* dots an inch; of a module, 0: no bars */
    } row[] = {
        { "M26-005.01 B4471-01", 62, 203, 0 },     { "M26-005.01 B4471-01", 65, 203, 0 },
        { "M26-005.01 B4471-01", 66.2, 203, 2 },   { "M26-005.01 B4471-01", 102, 203, 3 },
        { "M26-005.01 B4471-01", 68, 300, 3 },     { "M26-005.01 B4471-01/002", 62, 203, 0 },
        { "M26-005.01 B4471-01/002", 76, 203, 0 }, { "M26-005.01 B4471-01/002", 77.2, 203, 2 },
        { "M26-005.01 B4471-01/002", 80, 300, 3 }, { "M26-005.01 A117", 62, 203, 2 },

    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_tag t = { .number = row[i].number, .declared = "100% Cotton", .bolt = "B4471-01, 50.20 m" };
        struct tb_tag_sheet sheet;
        struct tb_text want = { 0 };
        char *read;
        int printers[] = { row[i].printer, 300 }, module;

        tb_tag_sheet_roll(&sheet, row[i].width, 29);
        sheet.dots = row[i].printer;
        print("dots.pdf", &t, 1, &sheet);
        if (row[i].module && (module = dots_of_module("dots.pdf", row[i].printer)) != row[i].module)
            fail_msg("'%s' on %g mm: %d dots a module", row[i].number, row[i].width, module);
        for (size_t k = 0; k < TB_COUNT(printers); k++) { /* and it is read, as a finer printer sets it too */
            read = scan_set("dots.pdf", printers[k]);
            tb_text_clear(&want);
            if (row[i].module)
                tb_text_addf(&want, "CODE-128:%s\n", row[i].number);
            tb_text_addf(&want, "QR-Code:%s\n", row[i].number);
            if (strcmp(read, tb_text_str(&want)) != 0)
                fail_msg("'%s' on %g mm at %d dots is read as '%s'", row[i].number, row[i].width, printers[k],
                         read);
            free(read);
        }
        tb_text_free(&want);
    }
}

static void what_cannot_be_printed_is_refused_and_named(void **state)
{
    struct tb_tag_sheet sheet, bad;
    struct tb_tag wrong = tags[0];
    struct tb_outset files = { 0 };
    struct tb_err err = { 0 };
    char *path = path_of("no.pdf");

    (void)state;
    tb_tag_sheet_usual(&sheet);
    assert_int_equal(tb_tags_write(&files, path, tags, 0, &sheet, NULL, MOMENT, &err), TB_EINVAL);
    assert_string_equal(err.msg, "there is no swatch to print a tag for");
    wrong.number = "K\xC3\xBC";
    assert_int_equal(tb_tags_write(&files, path, &wrong, 1, &sheet, NULL, MOMENT, &err), TB_EINVAL);
    assert_string_equal(err.msg, "no code can carry the number 'K\xC3\xBC'");
    bad = sheet;
    bad.label_width = 300;
    assert_int_equal(tb_tags_write(&files, path, tags, 1, &bad, NULL, MOMENT, &err), TB_EINVAL);
    assert_string_equal(err.msg, "no label of 300 x 37 mm fits on a page of 210 x 297 mm");
    bad = sheet;
    bad.left = -1;
    assert_int_equal(tb_tags_write(&files, path, tags, 1, &bad, NULL, MOMENT, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a margin or a gap is not below 0");
    bad = sheet;
    bad.skip = 24;
    assert_int_equal(tb_tags_write(&files, path, tags, 1, &bad, NULL, MOMENT, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a page holds 24 labels: 24 cannot be gone already");
    assert_int_equal(tb_outset_end(&files, TB_EINVAL, &err), TB_EINVAL);
    assert_int_not_equal(access(path, F_OK), 0);
    free(path);
}

/* Each figure of a sheet just inside and just outside of what it may be. */
static void a_sheet_is_taken_up_to_its_limits_and_not_beyond(void **state)
{
    static const char *const page = "a page is 25 to 500 mm wide and 15 to 500 mm high, not %g x %g",
                             *const label = "a label is at least 25 x 15 mm, not %g x %g",
                             *const margin = "a margin or a gap is not below 0";
    const struct {
        struct tb_tag_sheet sheet;
        const char *why; /* NULL: taken */
        long holds;
    } row[] = {
        { { 50, 50, 25, 15, 0, 0, 0, 0, 0, 0 }, NULL, 6 }, /* 2 x 3 */
        { { 500, 500, 100, 100, 0, 0, 0, 0, 0, 0 }, NULL, 25 },
        { { 25, 15, 25, 15, 0, 0, 0, 0, 0, 0 }, NULL, 1 },
        { { 24.9, 50, 25, 15, 0, 0, 0, 0, 0, 0 }, page, 0 },
        { { 50, 14.9, 25, 15, 0, 0, 0, 0, 0, 0 }, page, 0 },
        { { 500.1, 500, 100, 100, 0, 0, 0, 0, 0, 0 }, page, 0 },
        { { 500, 500.1, 100, 100, 0, 0, 0, 0, 0, 0 }, page, 0 },
        { { 210, 297, 24.9, 15, 0, 0, 0, 0, 0, 0 }, label, 0 },
        { { 210, 297, 25, 14.9, 0, 0, 0, 0, 0, 0 }, label, 0 },
        { { 210, 297, 70, 37, -0.1, 0, 0, 0, 0, 0 }, margin, 0 },
        { { 210, 297, 70, 37, 0, -0.1, 0, 0, 0, 0 }, margin, 0 },
        { { 210, 297, 70, 37, 0, 0, -0.1, 0, 0, 0 }, margin, 0 },
        { { 210, 297, 70, 37, 0, 0, 0, -0.1, 0, 0 }, margin, 0 },
        { { 210, 297, 60, 40, 15, 17, 7.5, 10, 0, 0 },
          NULL,
          15 }, /* (210-15+7.5)/67.5 = 3, (297-17+10)/50 = 5.8 */
        { { 100, 297, 70, 37, 30.5, 0, 0, 0, 0, 0 }, "no label of %g x %g mm fits on a page of", 0 },
        { { 297, 100, 37, 70, 0, 30.5, 0, 0, 0, 0 }, "no label of %g x %g mm fits on a page of", 0 },
        { { 210, 297, 70, 37, 0, 0, 0, 0, 23, 0 }, NULL, 24 },
        { { 210, 297, 70, 37, 0, 0, 0, 0, -1, 0 }, "a page holds 24 labels: -1 cannot be gone already", 0 },
        { { 210, 297, 70, 37, 0, 0, 0, 0, 0, 100 }, NULL, 24 },
        { { 210, 297, 70, 37, 0, 0, 0, 0, 0, 99 }, "a printer has ", 0 },
        { { 210, 297, 70, 37, 0, 0, 0, 0, 0, 2400 }, NULL, 24 },
        { { 210, 297, 70, 37, 0, 0, 0, 0, 0, 2401 }, "a printer has ", 0 },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_err err = { 0 };
        long holds = -1;
        tb_rc rc = tb_tag_sheet_holds(&holds, &row[i].sheet, &err);
        size_t begins = row[i].why ? strcspn(row[i].why, "%") : 0;

        if (rc != (row[i].why ? TB_EINVAL : TB_OK) || (!row[i].why && holds != row[i].holds) ||
            (row[i].why && strncmp(err.msg, row[i].why, begins) != 0))
            fail_msg("row %zu: %d, %ld labels, '%s'", i, rc, holds, err.msg);
    }
}

static int make_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) ? 0 : -1;
}

static int remove_folder(void **state)
{
    static const char *const name[] = { "tags.pdf", "ascii.pdf", "skip.pdf", "small.pdf",
                                        "roll.pdf", "page.png",  "dots.pdf", "set.pbm" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(name); i++) {
        char *p = path_of(name[i]);

        (void)unlink(p);
        free(p);
    }
    return rmdir(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_scanner_reads_both_codes_of_every_tag),
        cmocka_unit_test(every_printable_character_survives_the_bar_code),
        cmocka_unit_test(labels_that_are_gone_are_skipped_and_pages_turn),
        cmocka_unit_test(a_small_label_keeps_the_code_that_can_be_read),
        cmocka_unit_test(on_a_roll_each_bolt_has_a_page_of_its_own_that_a_scanner_reads),
        cmocka_unit_test(margins_and_gaps_move_a_label_by_what_they_say),
        cmocka_unit_test(bars_are_whole_dots_of_the_printer_or_not_there),
        cmocka_unit_test(what_cannot_be_printed_is_refused_and_named),
        cmocka_unit_test(a_sheet_is_taken_up_to_its_limits_and_not_beyond),
    };

    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
