/* Files that take their name only when whole: new books and copies. */
#include "base/folder.h"
#include "book/sqlite/sqlite_impl.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define HALF ".new-" /* behind the name that is wanted; the number of the process follows */

/* --- a name only when whole ------------------------------------------------------------------------------------- */

/* A log whose book was taken away would be read into whatever book gets its name: pages of two books in one file. */
static tb_rc refuse_old_log(const char *path, struct tb_err *err)
{
    struct tb_text t = { 0 };
    struct stat st;
    tb_rc rc = TB_OK;

    tb_text_addf(&t, "%s-wal", path);
    if (stat(t.s, &st) == 0 && st.st_size > 0)
        rc = tb_fail(
            err, TB_EREFUSED,
            "%s is the log of a book that was there before; put that book back, or move its log away too",
            t.s);
    tb_text_free(&t);
    return rc;
}

/* Behind a word the digits that must follow it; 0: it is not there. */
static size_t word_and_digits(const char *s, const char *word)
{
    size_t n = strlen(word), digits = strncmp(s, word, n) == 0 ? strspn(s + n, "0123456789") : 0;

    return digits ? n + digits : 0;
}

/* What may stand behind a passing name: what SQLite keeps beside it, a passing copy of it, a copy before its upgrade. */
static bool is_tail(const char *s)
{
    static const char *const end[] = { "", "-wal", "-shm", "-journal" };
    size_t n;

    for (size_t i = 0; i < TB_COUNT(end); i++)
        if (strcmp(s, end[i]) == 0)
            return true;
    if ((n = word_and_digits(s, HALF)) == 0 && (n = word_and_digits(s, ".before-")) != 0)
        n += word_and_digits(s + n, "-");
    return n && is_tail(s + n);
}

/* NAME.new-NUMBER and what belongs to it, of a process that is no more, or was before this one and had its number. */
static bool is_left(const char *file, const char *name)
{
    size_t n = strlen(name), passing;
    long process;

    if (strncmp(file, name, n) != 0 || (passing = word_and_digits(file + n, HALF)) == 0 ||
        !is_tail(file + n + passing))
        return false;
    process = strtol(file + n + sizeof HALF - 1, NULL, 10);
    return process == getpid() || (process > 0 && kill((pid_t)process, 0) != 0 && errno == ESRCH);
}

/* A program that was killed while it made this book or copy left its half behind; nobody else would ever take it away. */
void tb_half_clear(const char *path)
{
    const char *slash = strrchr(path, '/');
    char *folder = tb_out_folder(path);
    DIR *d = opendir(folder);
    const struct dirent *e;

    /* cppcheck-suppress readdirCalled ; the stream is this function's own */
    while (d && (e = readdir(d))) /* NOLINT(concurrency-mt-unsafe): as above */
        if (is_left(e->d_name, slash ? slash + 1 : path))
            (void)unlinkat(dirfd(d), e->d_name, 0);
    if (d)
        (void)closedir(d);
    free(folder);
}

tb_rc tb_half_make(struct tb_text *half, const char *path, mode_t mode, struct tb_err *err)
{
    tb_rc rc = refuse_old_log(path, err);
    int fd;

    if (rc != TB_OK)
        return rc;
    tb_half_clear(path);
    tb_text_addf(half, "%s" HALF "%ld", path, (long)getpid());
    if ((fd = open(half->s, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, mode)) < 0)
        return tb_fail(err, TB_EIO, "%s cannot be made: %s", path, strerror(errno));
    (void)close(fd);
    return TB_OK;
}

/* A second name is given and the first taken away: unlike renaming, that never replaces a file. */
tb_rc tb_half_name(const char *half, const char *path, struct tb_err *err)
{
    int bad = link(half, path);
    char *folder;
    tb_rc rc;

    if (bad && (errno == EPERM || errno == ENOTSUP) && access(path, F_OK) != 0)
        bad = rename(half, path); /* a memory stick knows no second name for a file */
    if (bad)
        return tb_fail(err, errno == EEXIST ? TB_EEXISTS : TB_EIO, "%s cannot be made: %s", path,
                       strerror(errno));
    folder = tb_out_folder(path);
    rc = tb_out_sync(folder, path, O_RDONLY | O_DIRECTORY,
                     err); /* a name that is only in memory is not safe either */
    free(folder);
    return rc;
}

void tb_half_remove(const char *half)
{
    static const char *const tail[] = { "", "-wal", "-shm", "-journal" };

    for (size_t i = 0; i < TB_COUNT(tail); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "%s%s", half, tail[i]);
        (void)unlink(t.s);
        tb_text_free(&t);
    }
}

/* --- copies ----------------------------------------------------------------------------------------------------- */

/* VACUUM INTO accepts an empty file, checks every page it reads and writes a compact copy. */
static tb_rc copy_into(struct tb_db *s, const char *half, struct tb_err *err)
{
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(s->db, "VACUUM INTO ?", -1, &st, NULL);

    if (code == SQLITE_OK) {
        (void)sqlite3_bind_text(st, 1, half, -1, SQLITE_STATIC);
        code = sqlite3_step(st);
    }
    (void)sqlite3_finalize(st);
    return code == SQLITE_DONE ? TB_OK : tb_sqlite_failed(err, s->db, code);
}

/*
 * Whoever may read the book may read its copy, and nobody else: the same mode, owner and group. Who is not root cannot
 * give a file away; where not even the group can be the same, the copy is its maker's alone.
 */
static tb_rc own_alike(const char *half, const struct stat *book, const char *path, struct tb_err *err)
{
    mode_t mode = (book->st_mode & 0777) | S_IRUSR | S_IWUSR; /* the copy of a read-only book is a book */

    if (chown(half, book->st_uid, book->st_gid) != 0 && chown(half, (uid_t)-1, book->st_gid) != 0)
        mode &= S_IRWXU;
    return chmod(half, mode) == 0 ? TB_OK : tb_out_trouble(err, "chmod", path);
}

tb_rc tb_db_copy(struct tb_db *s, const char *path, tb_rc (*see)(const char *half, struct tb_err *err),
                 struct tb_err *err)
{
    struct tb_text half = { 0 };
    struct stat book;
    tb_rc rc;

    if (access(path, F_OK) == 0)
        return tb_fail(err, TB_EEXISTS, "%s: is there already; a copy never replaces a file", path);
    if (stat(s->path, &book) != 0)
        return tb_fail(err, TB_EIO, "%s cannot be looked at: %s", s->path, strerror(errno));
    if ((rc = tb_half_make(&half, path, S_IRUSR | S_IWUSR, err)) == TB_OK) {
        if ((rc = copy_into(s, half.s, err)) != TB_OK)
            rc = tb_within(err, rc, "%s", path);
        else if (see && (rc = see(half.s, err)) != TB_OK)
            rc = tb_within(err, rc, "no copy is made at %s", path);
        /* VACUUM INTO does not wait for the disk, and a copy that is still in memory is not safe */
        else if ((rc = own_alike(half.s, &book, path, err)) == TB_OK &&
                 (rc = tb_out_sync(half.s, path, O_RDONLY, err)) == TB_OK)
            rc = tb_half_name(half.s, path, err);
        tb_half_remove(half.s);
    }
    tb_text_free(&half);
    return rc;
}
