/* test_outfile.c - papers: where they may go, all of a set or none, and what killed programs leave behind. */
#include "tenterbook/outfile.h"

#include <dirent.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>
#include <sqlite3.h>

static char folder[64];
static struct tb_err err;

static int make_folder(void **state)
{
    (void)state;
    strcpy(folder, "/tmp/test_outfile_XXXXXX");
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static int remove_folder(void **state)
{
    char command[128];

    (void)state;
    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    return chdir("/") != 0 || system(command);
}

static void spit(const char *name, const char *text)
{
    FILE *f = fopen(name, "wb");

    assert_non_null(f);
    assert_true(fputs(text, f) >= 0);
    assert_int_equal(fclose(f), 0);
}

static void assert_holds(const char *name, const char *text)
{
    char have[256] = "";
    FILE *f = fopen(name, "rb");

    assert_non_null(f);
    have[fread(have, 1, sizeof have - 1, f)] = '\0';
    assert_int_equal(fclose(f), 0);
    assert_string_equal(have, text);
}

/* How many names the folder has, the hidden ones too. */
static int names(void)
{
    DIR *d = opendir(".");
    int n = -2;

    assert_non_null(d);
    while (readdir(d))
        n++;
    (void)closedir(d);
    return n;
}

static tb_rc put(struct tb_outset *set, const char *path, const char *suffix, const char *text)
{
    struct tb_outfile *f;
    tb_rc rc = tb_outset_add(&f, set, path, suffix, &err);

    if (rc == TB_OK)
        assert_true(fputs(text, f->f) >= 0);
    return rc;
}

static void refuse(const char *path, bool replace, tb_rc want, const char *words)
{
    struct tb_outset set = { .replace = replace };
    int before = names();

    assert_int_equal(tb_outset_end(&set, put(&set, path, ".pdf", "new"), &err), want);
    assert_string_equal(err.msg, words);
    assert_int_equal(names(), before);
}

static void a_set_takes_its_names_together(void **state)
{
    struct tb_outset set = { 0 };

    (void)state;
    assert_int_equal(put(&set, "a.pdf", ".pdf", "page"), TB_OK);
    assert_int_equal(put(&set, "a.txt", ".txt", "words"), TB_OK);
    assert_int_not_equal(access("a.pdf", F_OK), 0);
    assert_int_equal(tb_outset_end(&set, TB_OK, &err), TB_OK);
    assert_holds("a.pdf", "page");
    assert_holds("a.txt", "words");
    assert_int_equal(names(), 2);
}

static void a_set_that_failed_leaves_everything_as_it_was(void **state)
{
    struct tb_outset set = { .replace = true };

    (void)state;
    spit("a.pdf", "old");
    assert_int_equal(put(&set, "a.pdf", ".pdf", "new"), TB_OK);
    assert_int_equal(put(&set, "b.pdf", ".pdf", "new"), TB_OK);
    assert_int_equal(tb_outset_end(&set, TB_EFORMAT, &err), TB_EFORMAT);
    assert_holds("a.pdf", "old");
    assert_int_equal(names(), 1);
}

static void an_earlier_paper_is_replaced_only_where_that_was_asked_for(void **state)
{
    struct tb_outset set = { .replace = true };

    (void)state;
    spit("a.pdf", "old");
    refuse("a.pdf", false, TB_EEXISTS, "a.pdf is there already; --replace writes over it");
    assert_holds("a.pdf", "old");
    assert_int_equal(tb_outset_end(&set, put(&set, "a.pdf", ".pdf", "new"), &err), TB_OK);
    assert_holds("a.pdf", "new");
    assert_int_equal(names(), 1);
}

static void a_book_is_never_written_over(void **state)
{
    char spelled[200], words[300];
    sqlite3 *db;

    (void)state;
    assert_int_equal(sqlite3_open("book.pdf", &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, "PRAGMA journal_mode = WAL; CREATE TABLE t (x)", NULL, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(link("book.pdf", "other.pdf"), 0);
    assert_int_equal(symlink("book.pdf", "way.pdf"), 0);
    refuse("book.pdf", true, TB_EREFUSED,
           "book.pdf is a book or another database; nothing is written over it");
    (void)snprintf(spelled, sizeof spelled, "%s/./../%s/book.pdf", folder, strrchr(folder, '/') + 1);
    (void)snprintf(words, sizeof words, "%s is a book or another database; nothing is written over it",
                   spelled);
    refuse(spelled, true, TB_EREFUSED, words);
    refuse("other.pdf", true, TB_EREFUSED,
           "other.pdf is a book or another database; nothing is written over it");
    refuse("way.pdf", true, TB_EREFUSED, "way.pdf is a link; give the name of the file itself");
    refuse("book.pdf-wal", true, TB_EINVAL, "book.pdf-wal: the name of what is written there ends in .pdf");
    refuse("book.pdf-shm", true, TB_EINVAL, "book.pdf-shm: the name of what is written there ends in .pdf");
    assert_int_equal(sqlite3_exec(db, "INSERT INTO t VALUES (1)", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

static void what_is_no_file_is_refused(void **state)
{
    (void)state;
    assert_int_equal(mkdir("folder.pdf", 0777), 0);
    assert_int_equal(mkfifo("pipe.pdf", 0666), 0);
    assert_int_equal(symlink("/dev/null", "null.pdf"), 0);
    assert_int_equal(symlink("nowhere", "nowhere.pdf"), 0);
    refuse("folder.pdf", true, TB_EREFUSED,
           "folder.pdf is a folder or a device; a paper is written to a file");
    refuse("pipe.pdf", true, TB_EREFUSED, "pipe.pdf is a folder or a device; a paper is written to a file");
    refuse("null.pdf", true, TB_EREFUSED, "null.pdf is a link; give the name of the file itself");
    refuse("nowhere.pdf", false, TB_EREFUSED, "nowhere.pdf is a link; give the name of the file itself");
    refuse("no/such.pdf", false, TB_EIO, "no/such.pdf cannot be written: No such file or directory");
}

static void a_name_that_does_not_fit_is_refused(void **state)
{
    (void)state;
    refuse("a.txt", true, TB_EINVAL, "a.txt: the name of what is written there ends in .pdf");
    refuse(".pdf", true, TB_EINVAL, ".pdf: the name of what is written there ends in .pdf");
    refuse("./.pdf", true, TB_EINVAL, "./.pdf: the name of what is written there ends in .pdf");
    refuse("a\n\033[31m.pdf", true, TB_EINVAL, "the name of a file holds a control character");
}

static void files_of_a_set_lie_in_one_folder(void **state)
{
    struct tb_outset set = { 0 };

    (void)state;
    assert_int_equal(mkdir("b", 0777), 0);
    assert_int_equal(put(&set, "a.pdf", ".pdf", "new"), TB_OK);
    assert_int_equal(put(&set, "b/b.pdf", ".pdf", "new"), TB_EINVAL);
    assert_string_equal(err.msg, "b/b.pdf: files that are written together lie in one folder");
    assert_int_equal(tb_outset_end(&set, TB_EINVAL, &err), TB_EINVAL);
    assert_int_equal(names(), 1);
}

static void a_file_that_came_meanwhile_is_not_replaced(void **state)
{
    struct tb_outset set = { 0 };

    (void)state;
    assert_int_equal(put(&set, "a.pdf", ".pdf", "new"), TB_OK);
    assert_int_equal(put(&set, "b.pdf", ".pdf", "new"), TB_OK);
    spit("b.pdf", "somebody else's");
    assert_int_equal(tb_outset_end(&set, TB_OK, &err), TB_EEXISTS);
    assert_holds("b.pdf", "somebody else's");
    assert_int_equal(names(), 1);
}

/* --- killed programs -------------------------------------------------------------------------------------------- */

/* A set that was begun by a program that is gone: its parts are written, its names not given. Answers its stem. */
static char *abandon(const char *const *path, const char *const *text, size_t n, char *list)
{
    static char stem[128];
    int pipe_of[2], status;
    pid_t child;
    ssize_t got;

    assert_int_equal(pipe(pipe_of), 0);
    child = fork();
    if (child == 0) {
        struct tb_outset set = { .replace = true };
        struct tb_text lines = { 0 };

        for (size_t i = 0; i < n; i++) {
            struct tb_outfile *f;

            if (tb_outset_add(&f, &set, path[i], "", &err) != TB_OK || fputs(text[i], f->f) < 0 ||
                tb_outfile_settle(f, &err) != TB_OK)
                _exit(1);
            tb_text_addf(&lines, "%s %llu %s\n", f->over ? "over" : "new", (unsigned long long)f->inode,
                         path[i]);
        }
        tb_text_addf(&lines, "%s|", set.stem);
        _exit(write(pipe_of[1], lines.s, lines.n) != (ssize_t)lines.n);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    got = read(pipe_of[0], list, 1000);
    assert_true(got > 0);
    list[got] = '\0';
    (void)close(pipe_of[0]);
    (void)close(pipe_of[1]);
    *strrchr(list, '|') = '\0';
    (void)snprintf(stem, sizeof stem, "%s", strrchr(list, '\n') + 1);
    strrchr(list, '\n')[1] = '\0';
    return stem;
}

static void named(const char *stem, const char *tail, char out[200])
{
    (void)snprintf(out, 200, "%s%s", stem, tail);
}

static void write_next(void)
{
    struct tb_outset set = { 0 };

    if (tb_outset_end(&set, put(&set, "next.pdf", ".pdf", "next"), &err) != TB_OK)
        fail_msg("%s", err.msg);
}

static const char *const paths[] = { "a.pdf", "b.pdf", "c.pdf" }, *const texts[] = { "new a", "new b",
                                                                                     "new c" };

static void what_a_killed_program_left_is_cleared_by_the_next(void **state)
{
    char list[1001];

    (void)state;
    spit("a.pdf", "old a");
    (void)abandon(paths, texts, 3, list);
    assert_int_equal(names(), 5); /* the old paper, the list, three parts */
    write_next();
    assert_int_equal(names(), 2);
    assert_holds("a.pdf", "old a");
}

/* A library that is killed between making a passing file and taking its name away leaves it in the folder it was given. */
static void leave_work(const char *stem)
{
    char work[200], name[200];

    named(stem, ".work", work);
    assert_int_equal(mkdir(work, 0700), 0);
    (void)snprintf(name, sizeof name, "%.180s/tmp.aaaa", work);
    spit(name, "half a worksheet");
}

static void a_library_s_passing_files_go_with_what_a_killed_program_left(void **state)
{
    char list[1001], name[200];
    const char *stem;

    (void)state;
    stem = abandon(paths, texts, 1, list);
    leave_work(stem);
    write_next();
    assert_int_equal(names(), 1);
    stem = abandon(paths, texts, 1, list);
    leave_work(stem);
    named(stem, ".set", name);
    assert_int_equal(unlink(name), 0); /* lost when the machine stopped */
    assert_int_equal(unlink("next.pdf"), 0);
    write_next();
    assert_int_equal(names(), 1);
}

static void a_folder_for_passing_files_goes_with_its_set(void **state)
{
    struct tb_outset set = { 0 };
    char *work;
    struct stat st;

    (void)state;
    assert_int_equal(put(&set, "work.pdf", ".pdf", "text"), TB_OK);
    assert_int_equal(tb_outset_work(&work, &set, &err), TB_OK);
    assert_int_equal(stat(work, &st), 0);
    assert_true(S_ISDIR(st.st_mode));
    assert_int_equal(st.st_mode & 077, 0);
    assert_int_equal(tb_outset_end(&set, TB_OK, &err), TB_OK);
    assert_int_equal(stat(work, &st), -1);
    free(work);
    assert_int_equal(names(), 1);
}

static void a_list_that_is_not_whole_names_nothing(void **state)
{
    char list[1001], name[200];
    const char *stem;

    (void)state;
    stem = abandon(paths, texts, 3, list);
    named(stem, ".set", name);
    spit(name, list); /* without its last line */
    write_next();
    assert_int_equal(names(), 1);
}

/* What a program leaves that was killed once the list was whole and the first of three papers had its name, over an old a.pdf. */
static void leave_half_named(void)
{
    char list[1001], name[200];
    const char *stem;

    spit("a.pdf", "old a");
    stem = abandon(paths, texts, 3, list);
    strcat(list, "end\n");
    named(stem, ".set", name);
    spit(name, list);
    named(stem, "-0.old", name);
    assert_int_equal(link("a.pdf", name), 0);
    named(stem, "-0.part", name);
    assert_int_equal(rename(name, "a.pdf"), 0);
}

static void a_half_named_set_is_brought_to_its_end_by_the_next(void **state)
{
    (void)state;
    spit("c.pdf", "old c");
    leave_half_named();
    write_next();
    for (size_t i = 0; i < 3; i++)
        assert_holds(paths[i], texts[i]);
    assert_int_equal(names(), 4);
}

/* Whoever gives the same command once more finds all that the killed one had to write, and is told that it is there. */
static void a_half_named_set_in_the_way_is_brought_to_its_end_first(void **state)
{
    struct tb_outset set = { 0 };

    (void)state;
    leave_half_named();
    assert_int_equal(tb_outset_end(&set, put(&set, "a.pdf", ".pdf", "newer"), &err), TB_EEXISTS);
    for (size_t i = 0; i < 3; i++)
        assert_holds(paths[i], texts[i]);
    assert_int_equal(names(), 3);
}

static void a_half_named_set_whose_place_was_taken_is_undone_by_the_next(void **state)
{
    (void)state;
    leave_half_named();
    spit("c.pdf", "somebody else's");
    write_next();
    assert_holds("a.pdf", "old a");
    assert_holds("c.pdf", "somebody else's");
    assert_int_equal(names(), 3); /* and next.pdf; no b.pdf */
}

static void a_paper_changed_after_a_kill_stays(void **state)
{
    char list[1001], name[200];
    const char *stem;

    (void)state;
    stem = abandon(paths, texts, 2, list);
    strcat(list, "end\n");
    named(stem, ".set", name);
    spit(name, list);
    named(stem, "-0.part", name);
    assert_int_equal(remove(name),
                     0); /* it had its name, and somebody has written another file there since */
    spit("a.pdf", "edited");
    write_next();
    assert_holds("a.pdf", "edited");
    assert_holds("b.pdf", "new b");
    assert_int_equal(names(), 3);
}

static void what_others_are_writing_stays(void **state)
{
    static const char *const strange[] = { ".tenterbook-1-x.set",
                                           ".tenterbook-999999999-0000000000000000000000000x.set",
                                           ".tenterbook-notes",
                                           ".tenterbook-999999999-00000000000000000000000000-0.old" };
    struct tb_outset mine = { 0 };
    int before;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(strange); i++)
        spit(strange[i], "keep");
    assert_int_equal(put(&mine, "mine.pdf", ".pdf", "mine"), TB_OK);
    before = names();
    write_next(); /* another set of a program that lives: this one */
    assert_int_equal(names(), before + 1);
    assert_int_equal(tb_outset_end(&mine, TB_OK, &err), TB_OK);
    assert_holds("mine.pdf", "mine");
    for (size_t i = 0; i < TB_COUNT(strange); i++)
        assert_holds(strange[i], "keep");
}

int main(void)
{
#define TEST(f) cmocka_unit_test_setup_teardown(f, make_folder, remove_folder)
    const struct CMUnitTest tests[] = {
        TEST(a_set_takes_its_names_together),
        TEST(a_set_that_failed_leaves_everything_as_it_was),
        TEST(an_earlier_paper_is_replaced_only_where_that_was_asked_for),
        TEST(a_book_is_never_written_over),
        TEST(what_is_no_file_is_refused),
        TEST(a_name_that_does_not_fit_is_refused),
        TEST(files_of_a_set_lie_in_one_folder),
        TEST(a_file_that_came_meanwhile_is_not_replaced),
        TEST(what_a_killed_program_left_is_cleared_by_the_next),
        TEST(a_library_s_passing_files_go_with_what_a_killed_program_left),
        TEST(a_folder_for_passing_files_goes_with_its_set),
        TEST(a_list_that_is_not_whole_names_nothing),
        TEST(a_half_named_set_is_brought_to_its_end_by_the_next),
        TEST(a_half_named_set_in_the_way_is_brought_to_its_end_first),
        TEST(a_half_named_set_whose_place_was_taken_is_undone_by_the_next),
        TEST(a_paper_changed_after_a_kill_stays),
        TEST(what_others_are_writing_stays),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
