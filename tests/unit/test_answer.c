/* What an answer of a supplier is to doubtful words: a reading of them, more than they say, or something else. */
#include "tenterbook/fibre.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

struct answered {
    const char *said, *answer;
    enum tb_answer_kind is;
};

/* What words may mean is of sql/reference/fibre_name.csv. */
static void check(const struct answered *a, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct tb_declaration said, answer;
        enum tb_answer_kind is;

        tb_declaration_read(&said, a[i].said, strlen(a[i].said));
        tb_declaration_read(&answer, a[i].answer, strlen(a[i].answer));
        if ((is = tb_declaration_answered(&said, &answer)) != a[i].is)
            fail_msg("\"%s\" to \"%s\" is %d, not %d", a[i].answer, a[i].said, (int)is, (int)a[i].is);
        tb_declaration_free(&said);
        tb_declaration_free(&answer);
    }
}

static void a_reading_names_what_a_doubtful_word_may_mean_and_nothing_else(void **state)
{
    static const struct answered a[] = {
        { "PE 100%", "100% polyester", TB_ANSWER_READS },
        { "PE 100%", "Polyethylen 100 %", TB_ANSWER_READS },
        { "PE 100%", "100% cotton", TB_ANSWER_OTHER },
        { "PE 100%", "65% polyester 35% cotton", TB_ANSWER_OTHER },
        { "PE 100%", "rubbish", TB_ANSWER_OTHER },
        { "PE 100%", "", TB_ANSWER_OTHER },
        { "PE 100% satin", "100% cotton", TB_ANSWER_OTHER },
        { "PE 100% blabla", "100% cotton", TB_ANSWER_OTHER },
        { "bamboo", "100% viscose", TB_ANSWER_READS },
        { "bamboo", "100% cotton", TB_ANSWER_OTHER },
        { "art silk", "100% silk", TB_ANSWER_OTHER },
        { "PC 65/35", "65% polyester 35% cotton", TB_ANSWER_READS },
        { "PC 65/35", "100% acrylic", TB_ANSWER_READS },
        { "PC 65/35", "100% polyester", TB_ANSWER_OTHER },
    };

    (void)state;
    check(a, TB_COUNT(a));
}

static void it_keeps_the_fibres_and_the_figures_that_could_be_read(void **state)
{
    static const struct answered a[] = {
        { "PE 60% cotton 40%", "60% polyester 40% cotton", TB_ANSWER_READS },
        { "PE 60% cotton 40%", "40% cotton, 60% polyethylene", TB_ANSWER_READS },
        { "PE 60% cotton 40%", "65% polyester 35% cotton", TB_ANSWER_OTHER },
        { "PE 60% cotton 40%", "100% polyester", TB_ANSWER_OTHER },
        { "warp cotton weft PE", "warp cotton weft polyester", TB_ANSWER_READS },
        { "warp cotton weft PE", "warp polyester weft cotton", TB_ANSWER_OTHER },
        { "T/C", "65% polyester 35% cotton", TB_ANSWER_READS },
        { "T/C", "100% cotton", TB_ANSWER_OTHER },
        { "60% cotton 40% wonderfibre", "60% cotton 40% polyester", TB_ANSWER_OPEN },
        { "60% cotton 40% wonderfibre", "100% polyester", TB_ANSWER_OTHER },
        /* words that contradict themselves: what of them holds is what is asked */
        { "100% cotton (60% cotton 40% polyester)", "100% cotton", TB_ANSWER_READS },
        { "100% cotton (60% cotton 40% polyester)", "60% cotton 40% polyester", TB_ANSWER_READS },
        { "100% cotton (60% cotton 40% polyester)", "60% cotton 40% nylon", TB_ANSWER_OTHER },
    };

    (void)state;
    check(a, TB_COUNT(a));
}

static void words_that_name_no_fibre_leave_it_open(void **state)
{
    static const struct answered a[] = {
        { "", "100% silk", TB_ANSWER_OPEN },
        { "soft cloth", "100% silk", TB_ANSWER_OPEN },
        { "100% felt", "100% wool", TB_ANSWER_OPEN },
        { "microfibre", "100% polyester", TB_ANSWER_OPEN },
        { "unknown fibres", "70% cotton 30% wool", TB_ANSWER_OPEN },
        { "cotton blend", "60% cotton 40% polyester", TB_ANSWER_OPEN },
        { "cotton blend", "60% wool 40% polyester", TB_ANSWER_OTHER },
        { "100% polyestr", "100% polyester", TB_ANSWER_READS },
        { "100% polyestr", "100% cotton", TB_ANSWER_OPEN },
    };

    (void)state;
    check(a, TB_COUNT(a));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_reading_names_what_a_doubtful_word_may_mean_and_nothing_else),
        cmocka_unit_test(it_keeps_the_fibres_and_the_figures_that_could_be_read),
        cmocka_unit_test(words_that_name_no_fibre_leave_it_open),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
