/* test_memory.c - a machine without memory: who is told, what is said, and that there is one place for both. */
#include "tenterbook/base.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

#define LARGE ((size_t)1 << 28)
#define USUAL "tenterbook: this machine has no memory left; nothing was half-written\n"

/* Builds that watch memory keep their own malloc, and end a program in their own way. */
#if defined(__SANITIZE_ADDRESS__)
#define WATCHED 1
#else
#define WATCHED 0
#endif

static void *volatile taken; /* what is asked for is used, else a compiler may leave the asking out */

/* Does it in a child that gets no more memory from the system; answers the exit code, and what was said. */
static int without_memory(void (*does)(void), char *said, size_t room)
{
    const struct rlimit none = { 0, 0 };
    int way[2], status;
    size_t n = 0;
    ssize_t got;
    pid_t child;

    assert_int_equal(pipe(way), 0);
    child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        (void)dup2(way[1], STDERR_FILENO);
        if (setrlimit(RLIMIT_AS, &none) != 0)
            _exit(7);
        does();
        _exit(0);
    }
    (void)close(way[1]);
    while (n + 1 < room && (got = read(way[0], said + n, room - n - 1)) > 0)
        n += (size_t)got;
    said[n] = '\0';
    (void)close(way[0]);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

static void asks(void)
{
    taken = tb_alloc(LARGE, 1);
}

static void asks_as_a_library(void)
{
    taken = malloc(LARGE);
}

static void asks_as_a_library_for_zeros(void)
{
    taken = calloc(LARGE / 8, 8);
}

static void asks_as_a_library_for_more(void)
{
    taken = realloc(malloc(10), LARGE);
}

static void asks_as_a_library_for_whole_pages(void)
{
    void *p = NULL;

    taken = posix_memalign(&p, 4096, LARGE) == 0 ? p : NULL;
}

static void whoever_finds_none_ends_the_program_with_a_sentence(void **state)
{
    void (*const way[])(void) = { asks, asks_as_a_library, asks_as_a_library_for_zeros,
                                  asks_as_a_library_for_more, asks_as_a_library_for_whole_pages };
    char said[200];

    (void)state;
    if (WATCHED)
        skip();
    for (size_t i = 0; i < TB_COUNT(way); i++) {
        assert_int_equal(without_memory(way[i], said, sizeof said), 1);
        assert_string_equal(said, USUAL);
    }
}

static void last_words(void)
{
    (void)!write(STDERR_FILENO, "it is recorded\n", 15);
    taken = malloc(LARGE); /* who says them may ask, and gets nothing */
    _exit(taken ? 8 : 3);
}

static void asks_with_last_words(void)
{
    (void)tb_on_no_memory(last_words);
    asks_as_a_library();
}

static void words_of_its_own_are_said_in_place_of_the_usual_ones(void **state)
{
    char said[200];

    (void)state;
    if (WATCHED)
        skip();
    assert_int_equal(without_memory(asks_with_last_words, said, sizeof said), 3);
    assert_string_equal(said, "it is recorded\n");
}

static void words_that_need_memory(void)
{
    asks();
}

static void asks_with_words_that_need_memory(void)
{
    (void)tb_on_no_memory(words_that_need_memory);
    asks();
}

static void words_that_find_no_memory_are_the_usual_ones(void **state)
{
    char said[200];

    (void)state;
    if (WATCHED)
        skip();
    assert_int_equal(without_memory(asks_with_words_that_need_memory, said, sizeof said), 1);
    assert_string_equal(said, USUAL);
}

static void says_nothing(void)
{
}

static void who_says_the_last_words_is_given_back(void **state)
{
    (void)state;
    assert_null(tb_on_no_memory(says_nothing));
    assert_ptr_equal(tb_on_no_memory(NULL), says_nothing);
    assert_null(tb_on_no_memory(NULL));
}

static void tries(void)
{
    taken = tb_try_realloc(NULL, LARGE);
    _exit(taken ? 8 : 5);
}

static void who_undoes_what_it_began_is_told(void **state)
{
    char said[200];

    (void)state;
    if (WATCHED)
        skip();
    assert_int_equal(without_memory(tries, said, sizeof said), 5);
    assert_string_equal(said, "");
}

/* A product that wraps, a size beyond what a pointer can span: the slip of a library, which looks at the answer. */
static void a_size_that_no_machine_has_is_refused(void **state)
{
    volatile size_t most = SIZE_MAX;

    (void)state;
    if (WATCHED)
        skip();
    assert_null(malloc(most));
    assert_null(calloc(most / 2, 3));
    assert_null(realloc(NULL, most));
    taken = NULL;
    assert_int_not_equal(posix_memalign((void **)&taken, 3, 10), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whoever_finds_none_ends_the_program_with_a_sentence),
        cmocka_unit_test(words_of_its_own_are_said_in_place_of_the_usual_ones),
        cmocka_unit_test(words_that_find_no_memory_are_the_usual_ones),
        cmocka_unit_test(who_says_the_last_words_is_given_back),
        cmocka_unit_test(who_undoes_what_it_began_is_told),
        cmocka_unit_test(a_size_that_no_machine_has_is_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
