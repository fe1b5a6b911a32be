/*
 * test_tags_golden.c - where everything of a sheet of tags is printed: the ink of its pages, against files whose pages
 * were looked at.
 */
#include "golden_compare.h"
#include "ink.h"
#include "tenterbook/tags.h"

#include <setjmp.h>
#include <stdarg.h>
#include <unistd.h>

#include <cmocka.h>

#define MOMENT "2026-03-31T18:00:00Z"

static char folder[] = "/tmp/test_tags_golden_XXXXXX";

static const struct tb_tag tags[] = {
    { "W26-014.02.03", TB_PART_WARP, "60% Cotton / 40% Polyester", "B-117", "2026-03-04", "2026-03-05", NULL,
      NULL, false },
    { "W26-014.02.04", TB_PART_WEFT, "100% Seide", "B-117", "2026-03-04", NULL, NULL, NULL, false },
    { "W-K05", TB_PART_WHOLE, "warp cotton 60 polyester 40, weft viscose 80 flax 20, and so on", "",
      "2026-03-06", NULL, NULL, NULL, false },
};

static bool prints(const char *name, const struct tb_tag_sheet *sheet, int pages)
{
    struct tb_text path = { 0 }, t = { 0 };
    struct tb_outset files = { .replace = true };
    struct tb_err err = { 0 };
    bool same;

    tb_text_addf(&path, "%s/tags.pdf", folder);
    if (tb_outset_end(
            &files,
            tb_tags_write(&files, tb_text_str(&path), tags, TB_COUNT(tags), sheet, NULL, MOMENT, &err),
            &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    for (int page = 1; page <= pages; page++)
        ink_page(&t, tb_text_str(&path), page, 72);
    same = golden_near(name, tb_text_str(&t), 1.6);
    assert_int_equal(unlink(tb_text_str(&path)), 0);
    tb_text_free(&path);
    tb_text_free(&t);
    return same;
}

static void the_usual_sheet_has_three_labels_in_its_first_row(void **state)
{
    struct tb_tag_sheet sheet;

    (void)state;
    tb_tag_sheet_usual(&sheet);
    assert_true(prints("tags-usual.txt", &sheet, 1));
}

static void margins_and_gaps_move_the_labels_and_pages_turn(void **state)
{
    struct tb_tag_sheet sheet = { 150, 120, 60, 45, 12, 8, 6, 4, 2, 0 };

    (void)state;
    assert_true(prints("tags-moved.txt", &sheet, 2));
}

static int make_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) ? 0 : -1;
}

static int remove_folder(void **state)
{
    (void)state;
    return rmdir(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_usual_sheet_has_three_labels_in_its_first_row),
        cmocka_unit_test(margins_and_gaps_move_the_labels_and_pages_turn),
    };

    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
