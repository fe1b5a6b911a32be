/* Making, opening, upgrading, copying and closing the file. */
#include "book/private.h"

#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

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
    struct tb_book *b = arg;
    int ms = patience_ms(b->waited_ms);
    const struct timespec step = { 0, ms * 1000L * 1000L };

    (void)times;
    if (b->waited_ms < SAY_WAIT_MS && b->waited_ms + ms >= SAY_WAIT_MS && b->say_wait)
        b->say_wait(b->say_arg, TB_WAIT_SECONDS);
    if (b->waited_ms >= TB_WAIT_SECONDS * 1000)
        return 0;
    b->waited_ms += ms;
    (void)nanosleep(&step, NULL);
    return 1;
}

void tb_book_on_wait(struct tb_book *b, void (*say)(void *arg, int seconds), void *arg)
{
    b->say_wait = say;
    b->say_arg = arg;
}

/* The fact tables are those that have a statement facts_NAME. */
static void list_tables(struct tb_book *b)
{
    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strncmp(tb_sql_table[i].name, "facts_", 6) == 0 && b->tables < TB_FACT_TABLES_MOST) {
            b->table[b->tables].name = tb_sql_table[i].name + 6;
            b->table[b->tables++].read = (enum tb_sql)i;
        }
}

static tb_rc connect_file(struct tb_book **out, const char *path, int flags, struct tb_err *err)
{
    struct tb_book *b = tb_new(struct tb_book);
    int code = sqlite3_open_v2(path, &b->db, flags, NULL);
    tb_rc rc = TB_OK;

    b->path = tb_strdup(path);
    list_tables(b);
    if (code != SQLITE_OK) {
        rc = tb_store_failed(err, b->db, code);
    } else {
        (void)sqlite3_extended_result_codes(b->db, 1);
        (void)sqlite3_db_config(b->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
        (void)sqlite3_db_config(b->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
        (void)sqlite3_db_config(b->db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
        (void)sqlite3_db_config(b->db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
        (void)sqlite3_busy_handler(b->db, wait_for_writer, b);
    }
    if (rc != TB_OK) {
        tb_book_close(b);
        return rc;
    }
    *out = b;
    return TB_OK;
}

void tb_book_close(struct tb_book *b)
{
    if (!b)
        return;
    tb_book_rollback(b);
    for (int i = 0; i < TB_SQL_COUNT; i++) {
        (void)sqlite3_finalize(b->stmt[i].st);
        tb_text_free(&b->stmt[i].record);
    }
    (void)sqlite3_close(b->db);
    tb_arena_free(&b->mem);
    free(b->path);
    free(b);
}

const char *tb_book_path(const struct tb_book *b)
{
    return b->path;
}

const struct tb_site *tb_book_site(const struct tb_book *b)
{
    return &b->site;
}

/* A whole number from a PRAGMA, which is the store's own and not a named statement. */
static tb_rc pragma_whole(int64_t *out, struct tb_book *b, const char *sql, struct tb_err *err)
{
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(b->db, sql, -1, &st, NULL);

    if (code == SQLITE_OK)
        code = sqlite3_step(st);
    if (code == SQLITE_ROW)
        *out = sqlite3_column_int64(st, 0);
    (void)sqlite3_finalize(st);
    return code == SQLITE_ROW ? TB_OK : tb_store_failed(err, b->db, code);
}

static tb_rc set_up(struct tb_book *b, struct tb_err *err)
{
    return tb_exec(b,
                   "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;"
                   "PRAGMA cell_size_check = ON; PRAGMA cache_size = -16384; PRAGMA temp_store = MEMORY;",
                   err);
}

/* Run the migrations after version `from`, in the transaction that is open. */
static tb_rc migrate(struct tb_book *b, int64_t from, struct tb_err *err)
{
    char pragma[64];
    tb_rc rc = TB_OK;

    for (size_t i = (size_t)from; i < tb_migration_n && rc == TB_OK; i++)
        if ((rc = tb_exec(b, tb_migration_table[i].text, err)) != TB_OK)
            rc = tb_within(err, rc, "%s", tb_migration_table[i].name);
    if (rc == TB_OK) {
        (void)snprintf(pragma, sizeof pragma, "PRAGMA user_version = %zu", tb_migration_n);
        rc = tb_exec(b, pragma, err);
    }
    return rc;
}

/* What SQLite may leave beside a file that was not closed: the log, and the memory its readers share. */
static void remove_beside(const char *path)
{
    static const char *const tail[] = { "-wal", "-shm" };

    for (size_t i = 0; i < TB_COUNT(tail); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "%s%s", path, tail[i]);
        (void)unlink(t.s);
        tb_text_free(&t);
    }
}

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

/* A book takes its name only when whole: a half-made one is never found, and none is ever replaced. */
static tb_rc make_half(struct tb_text *half, const char *path, struct tb_err *err)
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

static tb_rc name_half(const char *half, const char *path, struct tb_err *err)
{
    int bad = link(half, path);

    if (bad && (errno == EPERM || errno == ENOTSUP) && access(path, F_OK) != 0)
        bad = rename(half, path); /* a memory stick knows no second name for a file */
    return !bad ? TB_OK
                : tb_fail(err, errno == EEXIST ? TB_EEXISTS : TB_EIO, "%s cannot be made: %s", path,
                          strerror(errno));
}

static tb_rc sync_file(const char *name, const char *path, struct tb_err *err)
{
    int fd = open(name, O_RDONLY | O_CLOEXEC);
    bool good = fd >= 0 && fsync(fd) == 0;
    int why = errno;

    if (fd >= 0)
        (void)close(fd);
    return good ? TB_OK : tb_fail(err, TB_EIO, "%s cannot be made: %s", path, strerror(why));
}

/* VACUUM INTO accepts an empty file, checks every page it reads and writes a compact copy. */
static tb_rc copy_into(struct tb_book *b, const char *half, struct tb_err *err)
{
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(b->db, "VACUUM INTO ?", -1, &st, NULL);

    if (code == SQLITE_OK) {
        (void)sqlite3_bind_text(st, 1, half, -1, SQLITE_STATIC);
        code = sqlite3_step(st);
    }
    (void)sqlite3_finalize(st);
    return code == SQLITE_DONE ? TB_OK : tb_store_failed(err, b->db, code);
}

tb_rc tb_book_keep(struct tb_book *b, const char *path, struct tb_err *err)
{
    struct tb_text half = { 0 };
    tb_rc rc;

    if (access(path, F_OK) == 0)
        return tb_fail(err, TB_EEXISTS, "%s: is there already; a copy never replaces a file", path);
    if ((rc = make_half(&half, path, err)) == TB_OK) {
        if ((rc = copy_into(b, half.s, err)) != TB_OK)
            rc = tb_within(err, rc, "%s", path);
        else if ((rc = sync_file(half.s, path, err)) == TB_OK)
            rc = name_half(half.s, path, err);
        (void)unlink(half.s);
    }
    tb_text_free(&half);
    return rc;
}

/* Copy the book beside itself under a name that says its version. */
static tb_rc copy_before(char **name, struct tb_book *b, int64_t version, struct tb_err *err)
{
    struct tb_text t = { 0 };
    tb_rc rc = TB_EEXISTS;

    for (int i = 0; i < 100 && rc == TB_EEXISTS; i++) {
        tb_text_clear(&t);
        tb_text_addf(&t, i ? "%s.before-%zu-%d" : "%s.before-%zu", b->path, tb_migration_n, i);
        rc = tb_book_keep(b, tb_text_str(&t), err);
    }
    (void)version;
    *name = tb_text_take(&t);
    return rc;
}

static tb_rc upgrade(struct tb_book *b, int64_t version, char **copy, struct tb_err *err)
{
    char *name = NULL;
    tb_rc rc = copy_before(&name, b, version, err);

    if (rc == TB_OK && (rc = tb_exec(b, "BEGIN IMMEDIATE", err)) == TB_OK) {
        if ((rc = migrate(b, version, err)) == TB_OK)
            rc = tb_exec(b, "COMMIT", err);
        if (rc != TB_OK)
            (void)sqlite3_exec(b->db, "ROLLBACK", NULL, NULL, NULL);
    }
    if (rc == TB_OK && copy) {
        *copy = name;
        name = NULL;
    }
    free(name);
    return rc == TB_OK ? rc : tb_within(err, rc, "the book could not be upgraded and stays as it was");
}

static tb_rc check_kind(int64_t *version, struct tb_book *b, struct tb_err *err)
{
    int64_t kind = 0;
    tb_rc rc;

    if ((rc = pragma_whole(&kind, b, "PRAGMA application_id", err)) != TB_OK)
        return tb_within(err, rc, "%s", b->path);
    if (kind != TB_APPLICATION_ID)
        return tb_fail(err, TB_EFORMAT, "%s is not a book of Tenterbook", b->path);
    if ((rc = pragma_whole(version, b, "PRAGMA user_version", err)) != TB_OK)
        return rc;
    if (*version > (int64_t)tb_migration_n)
        return tb_fail(
            err, TB_EFORMAT,
            "%s was written by a newer Tenterbook (shape %lld, this program knows %zu); use that one",
            b->path, (long long)*version, tb_migration_n);
    return TB_OK;
}

tb_rc tb_book_load_site(struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_one_site(&b->site, tb_sql_site_first(b), &b->mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, TB_EFORMAT, "%s has no site: it was never finished", b->path)
                              : rc;
}

static bool is_folder(const char *path)
{
    struct stat st;

    return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

tb_rc tb_book_open(struct tb_book **out, const char *path, char **upgraded_copy, struct tb_err *err)
{
    struct tb_book *b = NULL;
    int64_t version = 0;
    tb_rc rc;

    if (upgraded_copy)
        *upgraded_copy = NULL;
    if (access(path, F_OK) != 0)
        return tb_fail(err, TB_ENOTFOUND, "there is no book at %s; make one with: tenterbook --book %s new",
                       path, path);
    if (is_folder(path))
        return tb_fail(err, TB_EINVAL, "%s is a folder; a book is one file in it", path);
    if ((rc = connect_file(&b, path, SQLITE_OPEN_READWRITE, err)) != TB_OK)
        return tb_within(err, rc, "%s", path);
    if ((rc = check_kind(&version, b, err)) == TB_OK && (rc = set_up(b, err)) == TB_OK &&
        version < (int64_t)tb_migration_n)
        rc = upgrade(b, version, upgraded_copy, err);
    if (rc == TB_OK)
        rc = tb_book_load_site(b, err);
    if (rc != TB_OK) {
        tb_book_close(b);
        return rc;
    }
    *out = b;
    return TB_OK;
}

tb_rc tb_book_in_memory(struct tb_book **out, struct tb_err *err)
{
    struct tb_book *b = NULL;
    tb_rc rc = connect_file(&b, ":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, err);

    if (rc == TB_OK)
        rc = migrate(b, 0, err);
    if (rc != TB_OK) {
        tb_book_close(b);
        return rc;
    }
    *out = b;
    return TB_OK;
}

static tb_rc check_code(const char *code, const char *country, struct tb_err *err)
{
    size_t n = strlen(code), c = strlen(country);
    bool good = n >= 1 && n <= 4;

    for (size_t i = 0; i < n; i++)
        good = good && (isupper((unsigned char)code[i]) || isdigit((unsigned char)code[i]));
    if (!good)
        return tb_fail(err, TB_EINVAL, "the site code is '%s'; it takes 1 to 4 capital letters or digits",
                       code);
    if (c != 0 && (c != 2 || !isupper((unsigned char)country[0]) || !isupper((unsigned char)country[1])))
        return tb_fail(err, TB_EINVAL, "the country is '%s'; it takes two capital letters (ISO 3166-1)",
                       country);
    return TB_OK;
}

static tb_rc add_site(struct tb_book *b, const char *code, const char *name, const char *country,
                      struct tb_err *err)
{
    struct tb_site site = { .code = code, .name = name, .country = country };
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    site.id = id;
    return tb_put_site(&site, b, err);
}

static tb_rc fill_new(struct tb_book *b, const char *code, const char *name, const char *country,
                      const char *who, struct tb_err *err)
{
    char pragma[64];
    tb_rc rc;

    (void)snprintf(pragma, sizeof pragma, "PRAGMA application_id = %d", TB_APPLICATION_ID);
    if ((rc = set_up(b, err)) != TB_OK || (rc = tb_exec(b, pragma, err)) != TB_OK ||
        (rc = tb_exec(b, "BEGIN IMMEDIATE", err)) != TB_OK || (rc = migrate(b, 0, err)) != TB_OK ||
        (rc = tb_exec(b, "COMMIT", err)) != TB_OK || (rc = tb_book_begin(b, who, "new", err)) != TB_OK)
        return rc;
    tb_book_subject(b, code);
    if ((rc = add_site(b, code, name, country, err)) == TB_OK)
        rc = tb_book_commit(b, err);
    return rc;
}

tb_rc tb_book_make(const char *path, const char *code, const char *name, const char *country, const char *who,
                   struct tb_err *err)
{
    struct tb_book *b = NULL;
    struct tb_text half = { 0 };
    tb_rc rc = check_code(code, country, err);

    if (rc != TB_OK)
        return rc;
    if (access(path, F_OK) == 0)
        return tb_fail(err, TB_EEXISTS, "%s is there already; a book is never overwritten", path);
    if ((rc = make_half(&half, path, err)) != TB_OK) {
        tb_text_free(&half);
        return rc;
    }
    if ((rc = connect_file(&b, half.s, SQLITE_OPEN_READWRITE, err)) == TB_OK) {
        rc = fill_new(b, code, name, country, who, err);
        if (rc == TB_OK) /* fold the log into the file before it moves */
            rc = tb_exec(b, "PRAGMA wal_checkpoint(TRUNCATE)", err);
        tb_book_close(b);
    }
    if (rc == TB_OK)
        rc = name_half(half.s, path, err);
    (void)unlink(half.s);
    remove_beside(half.s);
    tb_text_free(&half);
    return rc;
}
