/* Connections to a file, and their transactions. */
#include "base/folder.h"
#include "book/sqlite/sqlite_impl.h"

#include <stdlib.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

const char *tb_sqlite_version(void)
{
    return sqlite3_libversion();
}

/* --- waiting for another writer --------------------------------------------------------------------------------- */

#define SAY_WAIT_MS 400 /* a shorter wait is not worth a word */

/*
 * How long to sleep before asking for the lock again. Nobody queues at the file, whoever asks first after it is free has
 * it: those who have waited longest ask most often, so that nobody is passed over until the time is up.
 */
static int patience_ms(int waited_ms)
{
    return waited_ms < 500 ? 25 : waited_ms < 1500 ? 12 : waited_ms < 3000 ? 5 : 1;
}

/* Somebody else writes: wait in small steps up to the bound, and say so once. */
static int wait_for_writer(void *arg, int times)
{
    struct tb_db *s = arg;
    int ms = patience_ms(s->waited_ms);
    const struct timespec step = { 0, ms * 1000L * 1000L };

    (void)times;
    if (s->waited_ms < SAY_WAIT_MS && s->waited_ms + ms >= SAY_WAIT_MS && s->say_wait)
        s->say_wait(s->say_arg, TB_WAIT_SECONDS);
    if (s->waited_ms >= TB_WAIT_SECONDS * 1000)
        return 0;
    s->waited_ms += ms;
    (void)nanosleep(&step, NULL);
    return 1;
}

void tb_db_on_wait(struct tb_db *s, void (*say)(void *arg, int seconds), void *arg)
{
    s->say_wait = say;
    s->say_arg = arg;
}

/* --- connections ------------------------------------------------------------------------------------------------ */

tb_rc tb_sqlite_connect(struct tb_db **out, const char *path, int flags, struct tb_err *err)
{
    struct tb_db *s = tb_new(struct tb_db);
    tb_rc rc;
    int code;

    tb_sqlite_memory();
    code = sqlite3_open_v2(path, &s->db, flags, NULL);
    s->path = tb_strdup(path);
    if (code != SQLITE_OK) {
        rc = tb_sqlite_failed(err, s->db, code);
        tb_db_close(s);
        return rc;
    }
    (void)sqlite3_extended_result_codes(s->db, 1);
    /* a file from elsewhere must not be able to make this program do more than read it */
    (void)sqlite3_db_config(s->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    (void)sqlite3_db_config(s->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    (void)sqlite3_db_config(s->db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
    (void)sqlite3_db_config(s->db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
    (void)sqlite3_busy_handler(s->db, wait_for_writer, s);
    *out = s;
    return TB_OK;
}

/*
 * FULL: what was committed has reached the disk. The log goes into the file at 4,000 pages (16 MB) and not at SQLite's 1,000:
 * a record changes twenty pages, mostly those the record before it changed, and each is copied once.
 */
static tb_rc set_up(struct tb_db *s, struct tb_err *err)
{
    tb_rc rc = tb_sqlite_exec(s,
                              "PRAGMA foreign_keys = ON; PRAGMA cell_size_check = ON; PRAGMA cache_size = "
                              "-16384; PRAGMA temp_store = MEMORY;",
                              err);

    return rc != TB_OK || s->place.only_read
               ? rc
               : tb_sqlite_exec(s,
                                "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; "
                                "PRAGMA wal_autocheckpoint = 4000;",
                                err);
}

static tb_rc begin(struct tb_db **s, const struct tb_place *place, const char *path, const char *first,
                   struct tb_err *err)
{
    tb_rc rc = tb_place_connect(s, place, path, err);

    if (rc != TB_OK)
        return tb_within(err, rc, "%s", path);
    free((*s)->path);
    (*s)->path = tb_strdup(path);
    (*s)->place = *place;
    if ((rc = tb_sqlite_exec(*s, first, err)) == TB_OK && (rc = tb_sqlite_check(*s, err)) == TB_OK)
        rc = set_up(*s, err);
    return rc;
}

/*
 * On a full disk there is no room for the small file beside the book by which readers and writers find each other. Whoever is
 * alone needs none: SQLite then keeps it in memory, and anybody else waits.
 */
tb_rc tb_db_open(struct tb_db **out, const char *path, struct tb_err *err)
{
    struct tb_place place;
    struct tb_db *s = NULL;
    tb_rc rc = tb_place_look(&place, path, err);

    if (rc != TB_OK)
        return rc;
    if (!place.only_read)
        tb_left_clear(path); /* of a copy that was to take its place, and of whoever made it */
    rc = begin(&s, &place, path, "", err);
    if (s && rc == TB_EIO && !place.only_read) {
        tb_db_close(s);
        s = NULL;
        rc = begin(&s, &place, path, "PRAGMA locking_mode = EXCLUSIVE", err);
    }
    if (rc == TB_OK)
        *out = s;
    else
        tb_db_close(s);
    return rc;
}

bool tb_db_only_read(const struct tb_db *s)
{
    return s->place.only_read;
}

tb_rc tb_db_refuses(const struct tb_db *s, struct tb_err *err)
{
    return tb_place_refuses(&s->place, s->path, err);
}

tb_rc tb_db_still(const struct tb_db *s, struct tb_err *err)
{
    return s->place.only_read && !s->place.log ? tb_place_still(&s->place, s->path, err) : TB_OK;
}

tb_rc tb_sqlite_made(struct tb_db **out, int64_t version, struct tb_err *err)
{
    struct tb_db *s = NULL;
    tb_rc rc = tb_sqlite_connect(&s, ":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, err);

    if (rc != TB_OK || !s)
        return rc;
    if ((rc = tb_sqlite_migrate(s, version, err)) != TB_OK) {
        tb_db_close(s);
        return rc;
    }
    s->version = version;
    *out = s;
    return TB_OK;
}

/* References are not checked: what is put in is a part of a book, and names things that stayed behind. */
tb_rc tb_db_in_memory(struct tb_db **out, struct tb_err *err)
{
    return tb_sqlite_made(out, (int64_t)tb_migration_n, err);
}

static tb_rc fill(struct tb_db *s, struct tb_err *err)
{
    char pragma[64];
    tb_rc rc;

    (void)snprintf(pragma, sizeof pragma, "PRAGMA application_id = %d", TB_APPLICATION_ID);
    if ((rc = set_up(s, err)) != TB_OK || (rc = tb_sqlite_exec(s, pragma, err)) != TB_OK ||
        (rc = tb_db_write(s, err)) != TB_OK ||
        (rc = tb_sqlite_migrate(s, (int64_t)tb_migration_n, err)) != TB_OK)
        return rc;
    s->version = (int64_t)tb_migration_n;
    return tb_db_commit(s, err);
}

tb_rc tb_db_new(struct tb_db **out, const char *path, struct tb_err *err)
{
    struct tb_half half = { 0 };
    struct tb_db *s = NULL;
    tb_rc rc;

    if (!tb_is_file_name(path))
        return tb_fail(err, TB_EINVAL, "'%s' is not the name of a file; a book is kept in one", path);
    if (access(path, F_OK) == 0)
        return tb_fail(err, TB_EEXISTS, "%s is there already; a book is never overwritten", path);
    if ((rc = tb_place_takes(path, err)) != TB_OK || (rc = tb_refuse_old_log(path, err)) != TB_OK ||
        (rc = tb_half_make(&half, path, 0666, err)) != TB_OK)
        return rc;
    rc = tb_sqlite_connect(&s, half.name.s, SQLITE_OPEN_READWRITE, err);
    if (!s) {
        tb_half_remove(&half);
        return rc;
    }
    s->half = half; /* from here on closing it removes the file */
    s->to = tb_strdup(path);
    if ((rc = fill(s, err)) == TB_OK)
        *out = s;
    else
        tb_db_close(s);
    return rc;
}

/* The name is given after the file is closed: two names of an open file would have two logs. */
tb_rc tb_db_finish(struct tb_db **s, struct tb_err *err)
{
    struct tb_half half = (*s)->half;
    char *path = (*s)->to;
    tb_rc rc = tb_sqlite_exec(*s, "PRAGMA wal_checkpoint(TRUNCATE)", err); /* the log goes into the file */

    (*s)->half = (struct tb_half){ 0 };
    (*s)->to = NULL;
    tb_db_close(*s);
    *s = NULL;
    if (rc == TB_OK)
        rc = tb_half_name(&half, path, err);
    tb_half_remove(&half);
    free(path);
    return rc;
}

void tb_db_close(struct tb_db *s)
{
    if (!s)
        return;
    for (int i = 0; i < TB_SQL_COUNT; i++) {
        (void)sqlite3_finalize(s->stmt[i].st);
        tb_text_free(&s->stmt[i].record);
    }
    (void)sqlite3_close(s->db);
    tb_half_remove(&s->half);
    tb_text_free(&s->shape);
    free(s->path);
    free(s->to);
    free(s);
}

/* --- transactions ----------------------------------------------------------------------------------------------- */

tb_rc tb_db_write(struct tb_db *s, struct tb_err *err)
{
    if (s->place.only_read)
        return tb_place_refuses(&s->place, s->path, err);
    s->waited_ms = 0;
    return tb_sqlite_exec(s, "BEGIN IMMEDIATE", err);
}

tb_rc tb_db_read(struct tb_db *s, struct tb_err *err)
{
    return tb_sqlite_exec(s, "BEGIN", err);
}

bool tb_db_is_busy(const struct tb_db *s)
{
    return !sqlite3_get_autocommit(s->db);
}

tb_rc tb_db_commit(struct tb_db *s, struct tb_err *err)
{
    return tb_sqlite_exec(s, "COMMIT", err);
}

/* What a failure of ROLLBACK would be about was undone by SQLite already. */
void tb_db_undo(struct tb_db *s)
{
    (void)sqlite3_exec(s->db, "ROLLBACK", NULL, NULL, NULL);
}
