/* One database in the place of another, which keeps all it had under another name. */
#include "base/folder.h"
#include "book/sqlite/sqlite_impl.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The mark of a book lies at a fixed place of SQLite's header (sqlite.org/fileformat2.html, 1.3). */
#define MARK_AT 68

/* SQLite's own bytes for locks, which hold nothing and may lie beyond the end of the file. */
#define LOCK_BYTES 0x40000000
#define LOCK_BYTES_N 512

bool tb_db_is_book(const char *path)
{
    unsigned char head[TB_SQLITE_HEAD];

    return tb_head_read(head, path) && tb_head_is_sqlite(head) &&
           ((uint32_t)head[MARK_AT] << 24 | (uint32_t)head[MARK_AT + 1] << 16 |
            (uint32_t)head[MARK_AT + 2] << 8 | head[MARK_AT + 3]) == TB_APPLICATION_ID;
}

static tb_rc is_open_elsewhere(const char *path, struct tb_err *err)
{
    return tb_fail(err, TB_EBUSY, "somebody has the book at %s open; close it there first", path);
}

/*
 * SQLite gives up the log only when nobody else has the file open, and puts what it held into the file before. The log of a
 * damaged file goes along as it is.
 */
static tb_rc close_log(const char *path, struct tb_err *err)
{
    struct tb_place place;
    struct tb_db *s = NULL;
    int code;
    tb_rc rc = tb_place_look(&place, path, err);

    if (rc == TB_OK && place.only_read)
        rc = tb_place_refuses(&place, path, err);
    if (rc != TB_OK || (rc = tb_place_connect(&s, &place, path, err)) != TB_OK || !s)
        return rc;
    (void)sqlite3_busy_handler(s->db, NULL, NULL);
    code = sqlite3_exec(s->db, "PRAGMA journal_mode = DELETE", NULL, NULL, NULL);
    switch (code & 0xff) {
    case SQLITE_OK:
    case SQLITE_ERROR:
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        break;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        rc = is_open_elsewhere(path, err);
        break;
    default:
        rc = tb_sqlite_failed(err, s->db, code);
    }
    tb_db_close(s);
    return rc;
}

/*
 * Whatever its shape, and damaged too: whoever reads or writes a file with SQLite has locked some of the bytes that it keeps
 * for that (sqlite.org/fileformat2.html, 1.4: the lock-byte page). All of them are locked here.
 *   lock  keep it open while names change; closing it, or any other descriptor of the file, gives the lock up
 */
static tb_rc lock_out_others(int *lock, const char *path, struct tb_err *err)
{
    struct flock all = {
        .l_type = F_WRLCK, .l_whence = SEEK_SET, .l_start = LOCK_BYTES, .l_len = LOCK_BYTES_N
    };
    tb_rc rc;

    if ((*lock = open(path, O_RDWR | O_CLOEXEC)) < 0)
        return tb_out_trouble(err, "open", path);
    if (fcntl(*lock, F_SETLK, &all) == 0)
        return TB_OK;
    rc =
        errno == EACCES || errno == EAGAIN ? is_open_elsewhere(path, err) : tb_out_trouble(err, "lock", path);
    (void)close(*lock);
    return rc;
}

static tb_rc move_log(const char *from, const char *to, struct tb_err *err)
{
    struct tb_text old = { 0 }, new = { 0 };
    tb_rc rc = TB_OK;

    tb_text_addf(&old, "%s-wal", from);
    tb_text_addf(&new, "%s-wal", to);
    if (rename(old.s, new.s) != 0 && errno != ENOENT)
        rc = tb_out_trouble(err, "rename", to);
    tb_text_clear(&old);
    tb_text_addf(&old, "%s-shm", from);
    (void)unlink(old.s); /* it is made anew from the log */
    tb_text_free(&old);
    tb_text_free(&new);
    return rc;
}

/* A second name for the book, so that there is one at every moment; a memory stick that knows no second names moves it. */
static tb_rc set_aside(const char *path, const char *aside, bool *moved, struct tb_err *err)
{
    *moved = false;
    if (link(path, aside) == 0 || (errno == EEXIST && tb_out_is_same(path, aside)))
        return TB_OK; /* a program that was killed next gave it that name already */
    if (errno == EEXIST)
        return tb_fail(err, TB_EEXISTS, "%s is there already", aside);
    *moved = errno == EPERM || errno == ENOTSUP;
    return *moved && tb_out_name_new(path, aside) == 0 ? TB_OK : tb_out_trouble(err, "link", aside);
}

/* The log goes first: a log beside a book it does not belong to would be read into it. */
static tb_rc give_names(const char *half, const char *path, const char *aside, struct tb_err *err)
{
    struct tb_err ignored = { 0 };
    bool moved;
    tb_rc rc = move_log(path, aside, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = set_aside(path, aside, &moved, err)) != TB_OK) {
        (void)move_log(aside, path, &ignored);
    } else if (rename(half, path) != 0) {
        rc = tb_out_trouble(err, "rename", path);
        (void)(moved ? rename(aside, path) : unlink(aside));
        (void)move_log(aside, path, &ignored);
    }
    return rc;
}

static tb_rc replace(const char *half, const char *path, const char *aside, struct tb_err *err)
{
    int lock;
    tb_rc rc = close_log(path, err);

    if (rc != TB_OK || (rc = lock_out_others(&lock, path, err)) != TB_OK)
        return rc;
    rc = give_names(half, path, aside, err);
    (void)close(lock);
    return rc;
}

tb_rc tb_swap(const char *half, const char *path, const char *aside, struct tb_err *err)
{
    char *folder = tb_out_folder(path); /* asked for now: once the names are given nothing may fail */
    tb_rc rc = replace(half, path, aside, err);

    if (rc == TB_OK)
        rc = tb_out_sync(folder, path, O_RDONLY | O_DIRECTORY, err);
    free(folder);
    return rc;
}
