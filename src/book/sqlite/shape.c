/* Which shape a file has: whether it is a book, how old it is, and bringing it up to date. */
#include "book/sqlite/sqlite_impl.h"

/* A whole number from a PRAGMA, which is SQLite's own and not a named statement. */
static tb_rc pragma_whole(int64_t *out, struct tb_db *s, const char *sql, struct tb_err *err)
{
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(s->db, sql, -1, &st, NULL);

    if (code == SQLITE_OK)
        code = sqlite3_step(st);
    if (code == SQLITE_ROW)
        *out = sqlite3_column_int64(st, 0);
    (void)sqlite3_finalize(st);
    return code == SQLITE_ROW ? TB_OK : tb_sqlite_failed(err, s->db, code);
}

/* A view or a trigger that somebody added could make every list say something else: such a file is not read at all. */
static tb_rc refuse_other_shape(struct tb_db *s, struct tb_err *err)
{
    struct tb_text wrong = { 0 };
    tb_rc rc = tb_db_shape(&wrong, s, err);

    if (rc != TB_OK)
        rc = tb_within(err, rc, "%s", s->path);
    else if (wrong.n)
        rc = tb_fail(err, TB_EFORMAT, "%s", wrong.s);
    tb_text_free(&wrong);
    return rc;
}

static tb_rc check_one_state(struct tb_db *s, struct tb_err *err)
{
    int64_t kind = 0, before = s->version;
    tb_rc rc;

    if ((rc = pragma_whole(&kind, s, "PRAGMA application_id", err)) != TB_OK)
        return tb_within(err, rc, "%s", s->path);
    if (kind != TB_APPLICATION_ID)
        return tb_fail(err, TB_EFORMAT, "%s is not a book of Tenterbook", s->path);
    if ((rc = pragma_whole(&s->version, s, "PRAGMA user_version", err)) != TB_OK)
        return rc;
    if (s->version != before)
        tb_text_clear(&s->shape); /* somebody brought the file up to date: another one is wanted */
    if (s->version > (int64_t)tb_migration_n)
        return tb_fail(err, TB_EREFUSED,
                       "%s was written by a newer Tenterbook: its tables have shape %lld, and this program "
                       "knows shapes up to "
                       "%zu; use that one",
                       s->path, (long long)s->version, tb_migration_n);
    return refuse_other_shape(s, err);
}

/* Version and tables are read of one state: another program may be bringing the file up to date. */
tb_rc tb_sqlite_check(struct tb_db *s, struct tb_err *err)
{
    bool alone = !tb_db_is_busy(s);
    tb_rc rc = alone ? tb_db_read(s, err) : TB_OK;

    if (rc == TB_OK)
        rc = check_one_state(s, err);
    if (alone)
        tb_db_undo(s); /* nothing was written */
    return rc;
}

/* The version is written in the same transaction as the tables: a shape is never half reached. */
tb_rc tb_sqlite_migrate(struct tb_db *s, int64_t version, struct tb_err *err)
{
    char pragma[64];
    tb_rc rc = TB_OK;

    /* a table that others refer to is made anew by dropping it: what refers to it is checked at the end */
    if ((rc = tb_sqlite_exec(s, "PRAGMA defer_foreign_keys = ON", err)) != TB_OK)
        return rc;
    for (int64_t i = s->version; i < version && rc == TB_OK; i++)
        if ((rc = tb_sqlite_exec(s, tb_migration_table[i].text, err)) != TB_OK)
            rc = tb_within(err, rc, "%s", tb_migration_table[i].name);
    if (rc == TB_OK) {
        (void)snprintf(pragma, sizeof pragma, "PRAGMA user_version = %lld", (long long)version);
        rc = tb_sqlite_exec(s, pragma, err);
    }
    return rc;
}

bool tb_db_is_old(const struct tb_db *s)
{
    return s->version < (int64_t)tb_migration_n;
}

/* Under the lock the shape is asked again: another program may have brought the file up to date meanwhile. */
tb_rc tb_db_upgrade(struct tb_db *s, struct tb_err *err)
{
    tb_rc rc = tb_db_write(s, err);

    if (rc == TB_OK) {
        if ((rc = tb_sqlite_check(s, err)) == TB_OK &&
            (rc = tb_sqlite_migrate(s, (int64_t)tb_migration_n, err)) == TB_OK)
            rc = tb_db_commit(s, err);
        tb_text_clear(&s->shape); /* it was that of the older one */
        if (rc == TB_OK)
            s->version = (int64_t)tb_migration_n;
        else
            tb_db_undo(s);
    }
    return rc == TB_OK ? rc : tb_within(err, rc, "the book could not be upgraded and stays as it was");
}
