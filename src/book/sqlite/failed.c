/* What SQLite answers, in words for the person at the bench. */
#include "book/sqlite/sqlite_impl.h"

tb_rc tb_sqlite_failed(struct tb_err *err, sqlite3 *db, int code)
{
    tb_rc rc;

    switch (code & 0xFF) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        rc = tb_fail(err, TB_EBUSY, "somebody else is still writing to this book after %d seconds; try again",
                     TB_WAIT_SECONDS);
        break;
    case SQLITE_FULL:
        rc = tb_fail(err, TB_EIO, "the disk is full; nothing was recorded");
        break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
        rc = tb_fail(
            err, TB_EIO,
            "the book cannot be opened for writing: look at the permissions of the file and its folder");
        break;
    case SQLITE_IOERR:
        /* reading needs a little room too: readers and writers meet in a small file beside the book */
        rc = tb_fail(err, TB_EIO,
                     "the disk is full or failed: the book could not be read or written, and nothing was "
                     "recorded");
        break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        rc = tb_fail(err, TB_EFORMAT, "the file is damaged or is not a book; restore the last copy");
        break;
    case SQLITE_CONSTRAINT:
        rc = tb_fail(err, TB_EINVAL,
                     "the book refuses this record: it is there already or names something that is not");
        break;
    default:
        rc = tb_fail(err, TB_EIO, "the book could not be read or written");
    }
    tb_detail(err, "%s (%d)", db ? sqlite3_errmsg(db) : sqlite3_errstr(code), code);
    return rc;
}

tb_rc tb_sqlite_exec(struct tb_db *s, const char *sql, struct tb_err *err)
{
    int code = sqlite3_exec(s->db, sql, NULL, NULL, NULL);

    return code == SQLITE_OK ? TB_OK : tb_sqlite_failed(err, s->db, code);
}
