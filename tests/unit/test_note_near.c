/* Numbers of notes that are one, and numbers that only look so. The pairs are those of lists that came twice, and of our own making. */
#include "work/note_near.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Whichever stands first. */
static void both(const char *a, const char *b, enum tb_note_like like)
{
    assert_int_equal(tb_note_like(a, b), like);
    assert_int_equal(tb_note_like(b, a), like);
}

static void zeros_case_and_signs_make_no_other_note(void **state)
{
    (void)state;
    both("000881", "881", TB_NOTE_SAME);
    both("LS-0042/26", "ls 42-26", TB_NOTE_SAME);
    both("4711", "4711", TB_NOTE_SAME);
    both("0", "000", TB_NOTE_SAME);
}

static void a_word_before_and_a_number_behind_are_near(void **state)
{
    (void)state;
    both("No. 4711", "4711", TB_NOTE_NEAR);
    both("4711/26", "4711", TB_NOTE_NEAR);
    both("LS 4711/26", "4711", TB_NOTE_NEAR);
}

static void other_figures_and_other_words_are_other_notes(void **state)
{
    (void)state;
    both("4711", "47110", TB_NOTE_OTHER);
    both("4711/1", "4711/2", TB_NOTE_OTHER);
    both("1-11", "11-1", TB_NOTE_OTHER);
    both("1-11", "111", TB_NOTE_OTHER);
    both("N-1", "M-1", TB_NOTE_OTHER);
    both("26/4711", "4711", TB_NOTE_OTHER); /* what stands first is the number */
    both("spring", "summer", TB_NOTE_OTHER);
    both("", "4711", TB_NOTE_OTHER);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zeros_case_and_signs_make_no_other_note),
        cmocka_unit_test(a_word_before_and_a_number_behind_are_near),
        cmocka_unit_test(other_figures_and_other_words_are_other_notes),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
