/* test_half.c - a file under a passing name: locked while somebody works on it, and never named over another. */
#include "base/folder.h"
#include "tenterbook/anchor.h"

#include <errno.h>
#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cmocka.h>

static char folder[64], passing[64];
static struct tb_err err;
static int asked, held; /* pushes to the disk while the file had its passing name; it was locked then */
static bool
    stick_without; /* a memory stick on which no file has two names, and no name can be kept from being replaced */

static int make_folder(void **state)
{
    (void)state;
    strcpy(folder, "/tmp/test_half_XXXXXX");
    (void)snprintf(passing, sizeof passing, "a.key" TB_HALF "%ld", (long)getpid());
    asked = held = 0;
    stick_without = false;
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static int remove_folder(void **state)
{
    char command[128];

    (void)state;
    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    return chdir("/") != 0 || system(command);
}

/* --- calls of the system, in place of the C library's --------------------------------------------------------------- */

int fsync(int fd)
{
    int other = open(passing, O_RDONLY | O_CLOEXEC);

    if (other >= 0) {
        asked++;
        held += flock(other, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
        (void)close(other);
    }
    return (int)syscall(SYS_fsync, fd);
}

int renameat2(int at, const char *from, int there, const char *to, unsigned flags)
{
    errno = EINVAL;
    return stick_without ? -1 : (int)syscall(SYS_renameat2, at, from, there, to, flags);
}

int link(const char *from, const char *to)
{
    errno = EPERM;
    return stick_without ? -1 : (int)syscall(SYS_linkat, AT_FDCWD, from, AT_FDCWD, to, 0);
}

/* -------------------------------------------------------------------------------------------------------------------- */

static void assert_holds(const char *name, const char *text)
{
    char have[64] = "";
    int fd = open(name, O_RDONLY | O_CLOEXEC);

    assert_true(fd >= 0);
    assert_true(read(fd, have, sizeof have - 1) >= 0);
    (void)close(fd);
    assert_string_equal(have, text);
}

static void make(struct tb_half *half, const char *text)
{
    *half = (struct tb_half){ 0 };
    assert_int_equal(tb_half_make(half, "a.key", 0600, &err), TB_OK);
    assert_int_equal(tb_half_put(half, "a.key", text, strlen(text), &err), TB_OK);
}

static void a_key_is_locked_for_as_long_as_it_has_its_passing_name(void **state)
{
    char public[65] = "", held_by_file[65] = "";
    struct stat st;

    (void)state;
    assert_int_equal(tb_key_make(public, "a.key", NULL, &err), TB_OK);
    assert_int_equal(tb_key_public(held_by_file, "a.key", &err), TB_OK);
    assert_string_equal(public, held_by_file);
    assert_true(asked > 0);
    assert_int_equal(held, asked);
    assert_int_equal(stat("a.key", &st), 0);
    assert_int_equal(st.st_mode & 0777, 0600);
    assert_int_equal(access(passing, F_OK), -1);
}

static void whoever_looks_for_leftovers_leaves_it_alone(void **state)
{
    struct tb_half half;

    (void)state;
    make(&half, "half");
    tb_left_clear("a.key");
    assert_int_equal(access(passing, F_OK), 0);
    tb_half_remove(&half);
    assert_int_equal(access(passing, F_OK), -1);
}

static void it_gets_its_name_whole(void **state)
{
    struct tb_half half;

    for (int stick = 0; stick < 2; stick++) {
        (void)state;
        stick_without = stick;
        make(&half, "whole");
        assert_int_equal(access("a.key", F_OK), -1);
        assert_int_equal(tb_half_name(&half, "a.key", &err), TB_OK);
        tb_half_remove(&half);
        assert_holds("a.key", "whole");
        assert_int_equal(unlink("a.key"), 0);
    }
}

static void a_name_that_something_has_is_refused(void **state)
{
    struct tb_half half;
    char to[16] = "";

    (void)state;
    for (int stick = 0; stick < 2; stick++) {
        stick_without = stick;
        make(&half, "late");
        assert_int_equal(symlink("nowhere", "a.key"),
                         0); /* a link that leads nowhere has the name all the same */
        assert_int_equal(tb_half_name(&half, "a.key", &err), TB_EEXISTS);
        assert_string_equal(err.msg, "a.key cannot be made: File exists");
        tb_half_remove(&half);
        assert_int_equal(access(passing, F_OK), -1);
        assert_int_equal(readlink("a.key", to, sizeof to - 1), 7);
        assert_string_equal(to, "nowhere");
        assert_int_equal(unlink("a.key"), 0);
    }
}

static void two_names_are_the_same_where_they_are_of_one_file(void **state)
{
    struct tb_half half;

    (void)state;
    make(&half, "one");
    assert_int_equal(tb_half_name(&half, "a.key", &err), TB_OK);
    tb_half_remove(&half);
    assert_int_equal(link("a.key", "second"), 0);
    assert_int_equal(symlink("a.key", "points"), 0);
    assert_true(tb_out_is_same("a.key", "second"));
    assert_false(tb_out_is_same("a.key", "points"));
    assert_false(tb_out_is_same("a.key", "gone"));
}

int main(void)
{
#define IN_A_FOLDER(name) cmocka_unit_test_setup_teardown(name, make_folder, remove_folder)
    const struct CMUnitTest tests[] = {
        IN_A_FOLDER(a_key_is_locked_for_as_long_as_it_has_its_passing_name),
        IN_A_FOLDER(whoever_looks_for_leftovers_leaves_it_alone),
        IN_A_FOLDER(it_gets_its_name_whole),
        IN_A_FOLDER(a_name_that_something_has_is_refused),
        IN_A_FOLDER(two_names_are_the_same_where_they_are_of_one_file),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
