/*
 * test_apart.c - readers of foreign files that turn out badly: planted here as what a fault in a library could be made to do.
 *
 * The program has no way to run these: they go into the same function as its own readers do.
 */
#include "base/apart.h"
#include "base/sheet_in.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

static struct tb_err err;
static char heard[4096]; /* what the parent was told */
static size_t heard_n;

static tb_rc hear(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *e)
{
    (void)arg;
    (void)e;
    if (heard_n + n < sizeof heard) {
        memcpy(heard + heard_n, part, n);
        heard_n += n;
    }
    *yes = n == 3;
    return TB_OK;
}

static tb_rc run(tb_rc (*read)(struct tb_apart *, void *, struct tb_err *), void *arg)
{
    const struct tb_apart_job job = {
        .read = read, .take = hear, .arg = arg, .file = -1, .seconds = 1, .memory_mb = 64
    };

    memset(heard, 0, sizeof heard);
    heard_n = 0;
    err = (struct tb_err){ 0 };
    return tb_apart(&job, &err);
}

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Where faults of memory are looked for, calls and memory are not limited: nothing can be said of those limits there. */
static void only_where_guarded(void)
{
    if (!tb_apart_guarded()) {
        print_message("this build or this system does not limit the calls of a reader\n");
        skip();
    }
}

/* --- what works ------------------------------------------------------------------------------------------------- */

static tb_rc tells(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)e;
    tb_apart_send(to, arg, strlen(arg));
    tb_apart_send(to, tb_apart_ask(to, "abc", 3) ? "yes" : "no", 3);
    tb_apart_send(to, tb_apart_ask(to, "abcd", 4) ? "yes" : "no", 2);
    return TB_OK;
}

static void what_a_reader_says_comes_in_order_and_it_is_answered(void **state)
{
    (void)state;
    assert_int_equal(run(tells, "first,"), TB_OK);
    assert_string_equal(heard, "first,abcyesabcdno");
}

static tb_rc tells_much(struct tb_apart *to, void *arg, struct tb_err *e)
{
    static char block[1 << 20];

    (void)arg;
    (void)e;
    for (int i = 0; i < 40; i++)
        tb_apart_send(to, block, sizeof block - (size_t)i);
    return TB_OK;
}

static tb_rc count(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *e)
{
    (void)part;
    (void)yes;
    (void)e;
    *(size_t *)arg += n;
    return TB_OK;
}

static void more_than_a_pipe_holds_comes_through(void **state)
{
    size_t all = 0;
    const struct tb_apart_job job = { .read = tells_much, .take = count, .arg = &all, .file = -1 };

    (void)state;
    assert_int_equal(tb_apart(&job, &err), TB_OK);
    assert_int_equal(all, 40u * (1 << 20) - 780); /* by hand: 0 + 1 + ... + 39 */
}

static tb_rc refuses(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    (void)tb_fail(e, TB_EINVAL, "line 7 is wrong");
    tb_detail(e, "for the log");
    return tb_about(e, TB_EINVAL, "file");
}

static void the_sentence_of_a_reader_is_the_sentence_of_the_program(void **state)
{
    (void)state;
    assert_int_equal(run(refuses, NULL), TB_EINVAL);
    assert_string_equal(err.msg, "line 7 is wrong");
    assert_string_equal(err.detail, "for the log");
    assert_string_equal(err.about, "file");
}

static tb_rc take_none(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *e)
{
    (void)arg;
    (void)part;
    (void)n;
    (void)yes;
    return tb_fail(e, TB_EREFUSED, "enough");
}

static void who_takes_the_parts_may_end_the_reading(void **state)
{
    const struct tb_apart_job job = { .read = tells_much, .take = take_none, .file = -1 };

    (void)state;
    assert_int_equal(tb_apart(&job, &err), TB_EREFUSED);
    assert_string_equal(err.msg, "enough");
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1); /* no child is left */
    assert_int_equal(errno, ECHILD);
}

/* --- what does not ---------------------------------------------------------------------------------------------- */

static tb_rc looks_around(struct tb_apart *to, void *arg, struct tb_err *e)
{
    char word[64];
    int fd = open("/etc/passwd", O_RDONLY | O_CLOEXEC), why = errno;

    (void)arg;
    (void)e;
    (void)snprintf(word, sizeof word, "%d %d %d", fd, why == EACCES, access("/etc", F_OK));
    tb_apart_send(to, word, strlen(word));
    return TB_OK;
}

static void a_reader_opens_no_file(void **state)
{
    (void)state;
    only_where_guarded();
    assert_int_equal(run(looks_around, NULL), TB_OK);
    assert_string_equal(heard, "-1 1 -1");
}

static tb_rc uses_what_is_open(struct tb_apart *to, void *arg, struct tb_err *e)
{
    char word[64];

    (void)e;
    (void)snprintf(word, sizeof word, "%zd %zd", read(*(int *)arg, word, 1), write(*(int *)arg, "x", 1));
    tb_apart_send(to, word, strlen(word));
    return TB_OK;
}

static void a_reader_has_no_file_that_the_program_has_open(void **state)
{
    int book = open("/tmp", O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);

    (void)state;
    assert_true(book >= 0 && write(book, "book", 4) == 4 && lseek(book, 0, SEEK_SET) == 0);
    assert_int_equal(run(uses_what_is_open, &book), TB_OK);
    assert_string_equal(heard, "-1 -1");
    assert_int_equal(lseek(book, 0, SEEK_CUR), 0);
    (void)close(book);
}

static tb_rc forks(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    (void)e;
    if (fork() == 0)
        for (;;)
            (void)pause();
    return TB_OK;
}

static tb_rc calls_home(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    (void)e;
    (void)socket(AF_INET, SOCK_STREAM, 0);
    return TB_OK;
}

static tb_rc runs_a_program(struct tb_apart *to, void *arg, struct tb_err *e)
{
    char *const argv[] = { "true", NULL };

    (void)to;
    (void)arg;
    (void)e;
    (void)execv("/bin/true", argv);
    return TB_OK;
}

static tb_rc makes_code(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    (void)e;
    (void)mmap(NULL, 4096, PROT_READ | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    return TB_OK;
}

static tb_rc kills_its_parent(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    (void)e;
    (void)kill(getppid(), SIGKILL);
    return TB_OK;
}

static void a_reader_that_asks_for_more_than_reading_is_stopped(void **state)
{
    tb_rc (*const bad[])(struct tb_apart *, void *, struct tb_err *) = { forks, calls_home, runs_a_program,
                                                                         makes_code, kills_its_parent };

    (void)state;
    only_where_guarded();
    for (size_t i = 0; i < TB_COUNT(bad); i++) {
        assert_int_equal(run(bad[i], NULL), TB_EFORMAT);
        assert_string_equal(err.msg,
                            "reading the file asked the system for what no reading needs; it is damaged "
                            "or hostile and is not read");
    }
}

static tb_rc eats_memory(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)arg;
    (void)e;
    while (to)
        memset(tb_alloc(1 << 20, 1), 1, 1 << 20);
    return TB_OK;
}

static void a_reader_that_eats_memory_is_stopped(void **state)
{
    (void)state;
    only_where_guarded();
    assert_int_equal(run(eats_memory, NULL), TB_EFORMAT);
    assert_string_equal(
        err.msg,
        "the file is not read: that takes more than 64 MB of memory, as damaged and hostile files do, or "
        "this machine has no memory left");
}

static tb_rc loops(struct tb_apart *to, void *arg, struct tb_err *e)
{
    volatile unsigned n = 0;

    (void)arg;
    (void)e;
    while (to)
        n++;
    return TB_OK;
}

/* Computing is counted however busy the machine is; so the silence of a loop is what ends it here. */
static void a_reader_that_never_ends_is_stopped(void **state)
{
    double from = now();

    (void)state;
    assert_int_equal(run(loops, NULL), TB_EFORMAT);
    assert_string_equal(err.msg,
                        "the file cannot be read within 1 seconds; it is damaged or hostile and is not read");
    assert_true(now() - from < 30); /* a busy machine takes its time */
}

static tb_rc loops_and_talks(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)arg;
    (void)e;
    while (to)
        tb_apart_send(to, "still here", 10);
    return TB_OK;
}

static void a_reader_that_talks_for_ever_is_stopped_by_what_it_computes(void **state)
{
    (void)state;
    assert_int_equal(run(loops_and_talks, NULL), TB_EFORMAT);
    assert_string_equal(err.msg,
                        "the file cannot be read within 1 seconds; it is damaged or hostile and is not read");
}

static tb_rc waits(struct tb_apart *to, void *arg, struct tb_err *e)
{
    char c;

    (void)arg;
    (void)e;
    /* the way back is the only thing it could wait for */
    for (int fd = 0; fd < 64; fd++)
        (void)!read(fd, &c, 1);
    tb_apart_send(to, "?", 1);
    return TB_OK;
}

static void a_reader_that_waits_for_ever_is_stopped(void **state)
{
    (void)state;
    assert_int_equal(run(waits, NULL), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "within 1 seconds"));
}

static tb_rc dies(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)e;
    (void)raise(*(int *)arg);
    return TB_OK;
}

static void a_reader_that_dies_is_told_as_broken_off(void **state)
{
    int by = SIGSEGV;

    (void)state;
    only_where_guarded();
    assert_int_equal(run(dies, &by), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "it is damaged or hostile and is not read"));
    by = SIGABRT; /* a broken heap or an assertion ends so: that is no want of memory */
    assert_int_equal(run(dies, &by), TB_EFORMAT);
    assert_string_equal(err.msg, "reading the file broke off; it is damaged or hostile and is not read");
}

static tb_rc leaves(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)arg;
    (void)e;
    tb_apart_send(to, "half", 4);
    _exit(0);
}

static void a_reader_that_leaves_without_an_end_has_not_read_the_file(void **state)
{
    (void)state;
    assert_int_equal(run(leaves, NULL), TB_EFORMAT);
    assert_string_equal(err.msg, "reading the file broke off; it is damaged or hostile and is not read");
}

/* --- what comes back is not believed ---------------------------------------------------------------------------- */

static tb_rc lies(struct tb_apart *to, void *arg, struct tb_err *e)
{
    struct tb_text raw = { 0 };
    const uint32_t kind_and_size[] = { 9, 0 };

    (void)to;
    (void)e;
    tb_piece_add(&raw, arg ? arg : (const void *)kind_and_size, 8);
    for (int fd = 0; fd < 64; fd++) /* past the functions for it, on the way back itself */
        (void)!write(fd, raw.s, raw.n);
    _exit(0);
}

static void an_answer_that_is_none_is_refused(void **state)
{
    const uint32_t too_long[] = { 1, TB_APART_PART_MOST + 1 }, no_failure[] = { 3, 0 };

    (void)state;
    assert_int_equal(run(lies, NULL), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "makes no sense"));
    assert_int_equal(run(lies, (void *)(uintptr_t)too_long), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "makes no sense"));
    assert_int_equal(run(lies, (void *)(uintptr_t)no_failure), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "makes no sense"));
}

static tb_rc swears(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    strcpy(e->msg, "\xff\xfe");
    return TB_EFORMAT;
}

static tb_rc fails_as_nothing(struct tb_apart *to, void *arg, struct tb_err *e)
{
    (void)to;
    (void)arg;
    strcpy(e->msg, "well");
    return (tb_rc)4711;
}

static void a_failure_in_words_that_are_no_text_is_refused(void **state)
{
    (void)state;
    assert_int_equal(run(swears, NULL), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "makes no sense"));
    assert_int_equal(run(fails_as_nothing, NULL), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "makes no sense"));
}

/* --- rows ------------------------------------------------------------------------------------------------------- */

static const struct tb_row *planted; /* the reader's row; it is there in the child as well */

static tb_rc reads_planted(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *e)
{
    (void)f;
    return sink->row(sink->arg, planted, e);
}

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *e)
{
    (void)e;
    for (size_t i = 0; i < row->n; i++)
        tb_text_addf(arg, "%d:%s|", (int)row->cell[i].type, row->cell[i].text);
    return TB_OK;
}

static tb_rc read_row(struct tb_text *out, const struct tb_cell *cell, size_t n, size_t line)
{
    const struct tb_sheet_sink sink = { NULL, take_row, out, NULL };
    const struct tb_row row = { .line = line, .cell = cell, .n = n };
    FILE *f = tmpfile();
    tb_rc rc;

    assert_non_null(f);
    planted = &row;
    tb_text_clear(out);
    rc = tb_sheet_apart(f, &(const struct tb_foreign){ .read = reads_planted }, &sink, &err);
    (void)fclose(f);
    return rc;
}

static void rows_come_out_as_the_reader_gave_them(void **state)
{
    const struct tb_cell cell[] = { { TB_CELL_TEXT, "Ecr\xc3\xbc", NAN },
                                    { TB_CELL_EMPTY, "", NAN },
                                    { TB_CELL_NUMBER, "48.5", 48.5 },
                                    { TB_CELL_DAY, "2026-10-05", 46300 },
                                    { TB_CELL_EMPTY, "", NAN } };
    struct tb_text out = { 0 };

    (void)state;
    assert_int_equal(read_row(&out, cell, TB_COUNT(cell), 3), TB_OK);
    assert_string_equal(tb_text_str(&out), "1:Ecr\xc3\xbc|0:|2:48.5|3:2026-10-05|0:|");
    tb_text_free(&out);
}

static void a_row_that_is_none_is_refused(void **state)
{
    const struct tb_cell bad[] = { { TB_CELL_TEXT, "\xff", NAN },
                                   { (enum tb_cell_type)9, "x", NAN },
                                   { TB_CELL_EMPTY, "x", NAN },
                                   { TB_CELL_TEXT, "x", 1 },
                                   { TB_CELL_NUMBER, "1", (double)INFINITY } };
    struct tb_text out = { 0 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(bad); i++) {
        assert_int_equal(read_row(&out, &bad[i], 1, 3), TB_EFORMAT);
        assert_non_null(strstr(err.msg, "is not a table"));
        assert_string_equal(tb_text_str(&out), "");
    }
    assert_int_equal(read_row(&out, bad, 0, 0), TB_EFORMAT); /* rows are counted from one */
    tb_text_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_reader_says_comes_in_order_and_it_is_answered),
        cmocka_unit_test(more_than_a_pipe_holds_comes_through),
        cmocka_unit_test(the_sentence_of_a_reader_is_the_sentence_of_the_program),
        cmocka_unit_test(who_takes_the_parts_may_end_the_reading),
        cmocka_unit_test(a_reader_opens_no_file),
        cmocka_unit_test(a_reader_has_no_file_that_the_program_has_open),
        cmocka_unit_test(a_reader_that_asks_for_more_than_reading_is_stopped),
        cmocka_unit_test(a_reader_that_eats_memory_is_stopped),
        cmocka_unit_test(a_reader_that_never_ends_is_stopped),
        cmocka_unit_test(a_reader_that_talks_for_ever_is_stopped_by_what_it_computes),
        cmocka_unit_test(a_reader_that_waits_for_ever_is_stopped),
        cmocka_unit_test(a_reader_that_dies_is_told_as_broken_off),
        cmocka_unit_test(a_reader_that_leaves_without_an_end_has_not_read_the_file),
        cmocka_unit_test(an_answer_that_is_none_is_refused),
        cmocka_unit_test(a_failure_in_words_that_are_no_text_is_refused),
        cmocka_unit_test(rows_come_out_as_the_reader_gave_them),
        cmocka_unit_test(a_row_that_is_none_is_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
