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

bool tb_db_is_book(const char *path)
{
    unsigned char head[TB_SQLITE_HEAD];

    return tb_head_read(head, path) && tb_head_is_sqlite(head) &&
           ((uint32_t)head[MARK_AT] << 24 | (uint32_t)head[MARK_AT + 1] << 16 |
            (uint32_t)head[MARK_AT + 2] << 8 | head[MARK_AT + 3]) == TB_APPLICATION_ID;
}

/*
 * SQLite gives up the log only when nobody else has the file open, and puts what it held into the file before. A file that
 * it cannot open at all has nobody who writes it; its log goes along as it is.
 */
static tb_rc close_log(const char *path, struct tb_err *err)
{
    struct tb_err why = { 0 };
    struct tb_db *s = NULL;
    int code;
    tb_rc rc;

    if (tb_db_open(&s, path, &why) != TB_OK)
        return TB_OK;
    if (s->place.only_read) {
        rc = tb_place_refuses(&s->place, path, err);
        tb_db_close(s);
        return rc;
    }
    (void)sqlite3_busy_handler(s->db, NULL, NULL);
    code = sqlite3_exec(s->db, "PRAGMA journal_mode = DELETE", NULL, NULL, NULL);
    tb_db_close(s);
    return (code & 0xff) == SQLITE_BUSY || (code & 0xff) == SQLITE_LOCKED
               ? tb_fail(err, TB_EBUSY, "somebody has the book at %s open; close it there first", path)
               : TB_OK;
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
static bool set_aside(const char *path, const char *aside, bool *moved)
{
    *moved = false;
    if (link(path, aside) == 0 || errno == EEXIST) /* it is the book's second name already */
        return true;
    *moved = errno == EPERM || errno == ENOTSUP;
    return *moved && rename(path, aside) == 0;
}

/* The log goes first: a log beside a book it does not belong to would be read into it. */
static tb_rc replace(const char *half, const char *path, const char *aside, struct tb_err *err)
{
    struct tb_err ignored = { 0 };
    tb_rc rc = close_log(path, err);
    bool moved;

    if (rc != TB_OK || (rc = move_log(path, aside, err)) != TB_OK)
        return rc;
    if (!set_aside(path, aside, &moved)) {
        rc = tb_out_trouble(err, "link", aside);
        (void)move_log(aside, path, &ignored);
    } else if (rename(half, path) != 0) {
        rc = tb_out_trouble(err, "rename", path);
        (void)(moved ? rename(aside, path) : unlink(aside));
        (void)move_log(aside, path, &ignored);
    }
    return rc;
}

tb_rc tb_swap(const char *half, const char *path, const char *aside, struct tb_err *err)
{
    tb_rc rc = replace(half, path, aside, err);
    char *folder;

    if (rc != TB_OK)
        return rc;
    folder = tb_out_folder(path);
    rc = tb_out_sync(folder, path, O_RDONLY | O_DIRECTORY, err);
    free(folder);
    return rc;
}
