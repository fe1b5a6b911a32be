/* Whole copies of a book: beside it, in its place, and for this program alone. */
#include "base/folder.h"
#include "book/sqlite/sqlite_impl.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* A log whose book was taken away would be read into whatever book gets its name: pages of two books in one file. */
tb_rc tb_refuse_old_log(const char *path, struct tb_err *err)
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

/*
 * The copy takes its name where nothing has it, or the place of the book there, which is called `aside` from then on. VACUUM
 * INTO does not wait for the disk, and a copy that is still in memory is not safe.
 */
static tb_rc copy_as(struct tb_db *s, const char *path, const char *aside, tb_see_fn *see, void *arg,
                     struct tb_err *err)
{
    const char *like = aside ? path : s->path;
    struct tb_half half = { 0 };
    struct stat book;
    tb_rc rc;

    if (stat(like, &book) != 0)
        return tb_fail(err, TB_EIO, "%s cannot be looked at: %s", like, strerror(errno));
    if ((rc = tb_half_make(&half, path, S_IRUSR | S_IWUSR, err)) != TB_OK)
        return rc;
    if ((rc = copy_into(s, half.name.s, err)) != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    else if ((rc = see(arg, half.name.s, err)) == TB_OK &&
             (rc = own_alike(half.name.s, &book, path, err)) == TB_OK &&
             (rc = tb_out_sync(half.name.s, path, O_RDONLY, err)) == TB_OK)
        rc = aside ? tb_swap(half.name.s, path, aside, err) : tb_half_name(&half, path, err);
    tb_half_remove(&half);
    return rc;
}

tb_rc tb_db_copy(struct tb_db *s, const char *path, tb_see_fn *see, void *arg, struct tb_err *err)
{
    tb_rc rc;

    if (access(path, F_OK) == 0)
        return tb_fail(err, TB_EEXISTS, "%s: is there already; a copy never replaces a file", path);
    rc = tb_refuse_old_log(path, err);
    return rc == TB_OK ? copy_as(s, path, NULL, see, arg, err) : rc;
}

tb_rc tb_db_restore(struct tb_db *s, const char *path, const char *aside, tb_see_fn *see, void *arg,
                    struct tb_err *err)
{
    tb_rc rc = tb_place_takes(path, err);

    if (rc == TB_OK && !aside)
        rc = tb_refuse_old_log(path, err);
    return rc == TB_OK ? copy_as(s, path, aside, see, arg, err) : rc;
}

/* A database of no name, which SQLite removes when it is closed. */
tb_rc tb_db_image(struct tb_db **out, struct tb_db *s, struct tb_err *err)
{
    struct tb_db *image = NULL;
    sqlite3_backup *b;
    int code;
    tb_rc rc = tb_sqlite_connect(&image, "", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, err);

    if (rc != TB_OK || !image)
        return rc;
    b = sqlite3_backup_init(image->db, "main", s->db, "main");
    code = b ? sqlite3_backup_step(b, -1) : SQLITE_ERROR;
    if (b && code == SQLITE_DONE)
        code = sqlite3_backup_finish(b);
    else
        (void)sqlite3_backup_finish(b);
    free(image->path);
    image->path = tb_strdup(s->path); /* sentences name the file it is of */
    rc = code == SQLITE_OK ? tb_sqlite_check(image, err) : tb_sqlite_failed(err, image->db, code);
    if (rc == TB_OK && tb_db_is_old(image))
        rc = tb_db_upgrade(image, err);
    if (rc != TB_OK) {
        tb_db_close(image);
        return rc;
    }
    *out = image;
    return TB_OK;
}

/* Every fact has the number of its row: without the later ones, what counts is what counted then. */
tb_rc tb_db_forget(struct tb_db *image, int64_t number, const char *const *table, size_t n,
                   struct tb_err *err)
{
    struct tb_text sql = { 0 };
    tb_rc rc;

    tb_text_add(&sql, "BEGIN;");
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&sql, "DELETE FROM \"%s\" WHERE entry > %lld;", table[i], (long long)number);
    tb_text_addf(
        &sql, "DELETE FROM signature WHERE number > %lld; DELETE FROM journal WHERE number > %lld; COMMIT;",
        (long long)number, (long long)number);
    rc = tb_sqlite_exec(image, tb_text_str(&sql), err);
    tb_text_free(&sql);
    return rc;
}
