/* Files that take their name only when whole: new books and copies. */
#include "book/sqlite/sqlite_impl.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

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

tb_rc tb_half_make(struct tb_text *half, const char *path, struct tb_err *err)
{
    tb_rc rc = refuse_old_log(path, err);
    int fd;

    if (rc != TB_OK)
        return rc;
    tb_text_addf(half, "%s.new-%ld", path, (long)getpid());
    if ((fd = open(half->s, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666)) < 0)
        return tb_fail(err, TB_EIO, "%s cannot be made: %s", path, strerror(errno));
    (void)close(fd);
    return TB_OK;
}

/* A second name is given and the first taken away: unlike renaming, that never replaces a file. */
tb_rc tb_half_name(const char *half, const char *path, struct tb_err *err)
{
    int bad = link(half, path);

    if (bad && (errno == EPERM || errno == ENOTSUP) && access(path, F_OK) != 0)
        bad = rename(half, path); /* a memory stick knows no second name for a file */
    return !bad ? TB_OK
                : tb_fail(err, errno == EEXIST ? TB_EEXISTS : TB_EIO, "%s cannot be made: %s", path,
                          strerror(errno));
}

void tb_half_remove(const char *half)
{
    static const char *const tail[] = { "", "-wal", "-shm" };

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

/* VACUUM INTO does not wait for the disk, and a copy that is still in memory is not safe. */
static tb_rc sync_file(const char *name, const char *path, struct tb_err *err)
{
    int fd = open(name, O_RDONLY | O_CLOEXEC);
    bool good = fd >= 0 && fsync(fd) == 0;
    int why = errno;

    if (fd >= 0)
        (void)close(fd);
    return good ? TB_OK : tb_fail(err, TB_EIO, "%s cannot be made: %s", path, strerror(why));
}

tb_rc tb_db_copy(struct tb_db *s, const char *path, tb_rc (*see)(const char *half, struct tb_err *err),
                 struct tb_err *err)
{
    struct tb_text half = { 0 };
    tb_rc rc;

    if (access(path, F_OK) == 0)
        return tb_fail(err, TB_EEXISTS, "%s: is there already; a copy never replaces a file", path);
    if ((rc = tb_half_make(&half, path, err)) == TB_OK) {
        if ((rc = copy_into(s, half.s, err)) != TB_OK)
            rc = tb_within(err, rc, "%s", path);
        else if (see && (rc = see(half.s, err)) != TB_OK)
            rc = tb_within(err, rc, "no copy is made at %s", path);
        else if ((rc = sync_file(half.s, path, err)) == TB_OK)
            rc = tb_half_name(half.s, path, err);
        tb_half_remove(half.s);
    }
    tb_text_free(&half);
    return rc;
}
