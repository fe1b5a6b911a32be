/* What SQLite answers, in words for the person at the bench. */
#include "base/say.h"
#include "book/sqlite/sqlite_impl.h"

#define OCCUPIED N_("somebody else is still writing to this book after %d seconds; try again")
#define CLOSED N_("the book cannot be opened for writing: look at the permissions of the file and its folder")

/* The last one answers for every code that is not named before it. */
static const struct {
    int code;
    tb_rc rc;
    const char *say;
} said[] = {
    { SQLITE_BUSY, TB_EBUSY, OCCUPIED },
    { SQLITE_LOCKED, TB_EBUSY, OCCUPIED },
    { SQLITE_FULL, TB_EIO, N_("the disk is full; nothing was recorded") },
    { SQLITE_NOMEM, TB_EIO, N_("this machine has no memory left; nothing was recorded") },
    { SQLITE_READONLY, TB_EIO, CLOSED },
    { SQLITE_PERM, TB_EIO, CLOSED },
    { SQLITE_CANTOPEN, TB_EIO, CLOSED },
    { SQLITE_IOERR, TB_EIO,
      N_("the disk is full or failed: the book could not be read or written, and nothing was recorded") },
    { SQLITE_CORRUPT, TB_EFORMAT, N_("the file is damaged; restore the last copy that proves") },
    { SQLITE_NOTADB, TB_EFORMAT,
      N_("this is not a book; if it once was, its beginning is damaged: restore the last copy that proves") },
    { SQLITE_CONSTRAINT, TB_EINVAL,
      N_("the book refuses this record: it has one like it already, or the record names something that it "
         "does not have") },
    { SQLITE_OK, TB_EIO, N_("the book could not be read or written") },
};

tb_rc tb_sqlite_failed(struct tb_err *err, sqlite3 *db, int code)
{
    size_t i = 0;

    while (i + 1 < TB_COUNT(said) && said[i].code != (code & 0xFF))
        i++;
    (void)tb_fail(err, said[i].rc, said[i].say, TB_WAIT_SECONDS);
    tb_detail(err, "%s (%d)", db ? sqlite3_errmsg(db) : sqlite3_errstr(code), code);
    return said[i].rc;
}

tb_rc tb_sqlite_exec(struct tb_db *s, const char *sql, struct tb_err *err)
{
    int code = sqlite3_exec(s->db, sql, NULL, NULL, NULL);

    return code == SQLITE_OK ? TB_OK : tb_sqlite_failed(err, s->db, code);
}
