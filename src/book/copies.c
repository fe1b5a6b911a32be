/* Copies of a book and the way back: each is proved before it is believed, and before anything older goes. */
#include "tenterbook/copies.h"

#include "base/folder.h"
#include "book/private.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static const char *const periods[] = { "hour", "day", "week", "month" };
const struct tb_words tb_period_words = { periods, TB_COUNT(periods),
                                          "'%s' is not a period; it is hour, day, week or month" };

/* How the period is written behind the name: text order is the order of time. Weeks are those of ISO 8601. */
static const char *const stamp[] = { "%Y-%m-%dT%H", "%Y-%m-%d", "%G-W%V", "%Y-%m" };

/* --- one copy --------------------------------------------------------------------------------------------------- */

tb_rc tb_copy_make(struct tb_copy *out, struct tb_book *b, const char *path, struct tb_arena *a,
                   struct tb_err *err)
{
    struct tb_book *copy = NULL;
    tb_rc rc = tb_book_keep(b, path, err);

    if (rc == TB_OK && (rc = tb_book_open(&copy, path, NULL, err)) == TB_OK) {
        *out = (struct tb_copy){ .path = tb_arena_strdup(a, path) };
        rc = tb_book_head(&out->rows, out->digest, copy, err);
        tb_book_close(copy);
    }
    return rc;
}

/* --- a series --------------------------------------------------------------------------------------------------- */

/* The files of a series have one name but for the digits of the period. */
struct series {
    const char *folder, *stem;
    char now[24]; /* the period of this moment */
    struct tb_arena *a;
    char **name;
    size_t n, cap;
};

static void begin(struct series *s, const char *book, enum tb_period period)
{
    const char *slash = strrchr(book, '/');
    const char *file = slash ? slash + 1 : book, *dot = strrchr(file, '.');
    time_t t;
    struct tm day;
    char moment[TB_MOMENT_LEN + 1];

    s->stem = tb_arena_strndup(s->a, file, dot && dot > file ? (size_t)(dot - file) : strlen(file));
    tb_now(moment);
    t = (time_t)tb_day_number(moment) * 86400 + strtol(moment + 11, NULL, 10) * 3600;
    (void)strftime(s->now, sizeof s->now, stamp[period], gmtime_r(&t, &day));
}

/* Digits stand for digits, anything else for itself. */
static bool is_of(const struct series *s, const char *file)
{
    size_t n = strlen(s->stem);
    const char *p = s->now;

    if (strncmp(file, s->stem, n) != 0 || file[n] != '-')
        return false;
    for (file += n + 1; *p; p++, file++)
        if (*p >= '0' && *p <= '9' ? !(*file >= '0' && *file <= '9') : *file != *p)
            return false;
    return strcmp(file, ".db") == 0;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static tb_rc list(struct series *s, struct tb_err *err)
{
    DIR *d = opendir(s->folder);
    const struct dirent *e;

    if (!d)
        return tb_fail(err, errno == ENOENT ? TB_ENOTFOUND : TB_EIO, "%s cannot be looked into: %s",
                       s->folder, strerror(errno));
    /* cppcheck-suppress readdirCalled ; the stream is this function's own */
    while ((e = readdir(d))) /* NOLINT(concurrency-mt-unsafe): as above */
        if (is_of(s, e->d_name)) {
            TB_PUSH_ROOM(s->name, s->n, s->cap);
            s->name[s->n++] = tb_arena_printf(s->a, "%s/%s", s->folder, e->d_name);
        }
    (void)closedir(d);
    if (s->n)
        qsort(s->name, s->n, sizeof *s->name, by_name);
    return TB_OK;
}

/* Is the file a copy of this book, of whatever shape? Two books of one name may be copied into one folder. */
static bool is_copy_of(const char *path, const struct tb_book *b)
{
    struct tb_err ignored = { 0 };
    struct tb_db *db = NULL;
    struct tb_book *copy;
    bool is;

    if (!tb_db_is_book(path) || tb_db_open(&db, path, &ignored) != TB_OK)
        return false;
    copy = tb_book_of(db, path);
    is = tb_book_load_site(copy, &ignored) == TB_OK && strcmp(copy->site.id, b->site.id) == 0;
    tb_book_close(copy);
    return is;
}

/*
 * Take the oldest away until `hold` are left. A file of that name that is not a book is somebody else's and stays; and the
 * newest stays even where a clock that was wrong makes it look old.
 */
static void thin(struct tb_copy *out, const struct series *s, const struct tb_book *b, size_t hold)
{
    size_t spare = s->n > hold ? s->n - hold : 0;

    out->gone = tb_arena_alloc(s->a, (spare + 1) * sizeof *out->gone);
    for (size_t i = 0; i < spare; i++)
        if (strcmp(s->name[i], out->path) != 0 && is_copy_of(s->name[i], b) && unlink(s->name[i]) == 0)
            out->gone[out->gone_n++] = s->name[i];
}

tb_rc tb_copy_every(struct tb_copy *out, struct tb_book *b, const char *folder, enum tb_period period,
                    size_t hold, struct tb_arena *a, struct tb_err *err)
{
    struct series s = { .folder = folder, .a = a };
    struct tb_text path = { 0 };
    tb_rc rc;

    if (hold < 1 || hold > TB_HOLD_MOST)
        return tb_fail(err, TB_EINVAL, "a series holds 1 to %d copies, not %zu", TB_HOLD_MOST, hold);
    begin(&s, b->path, period);
    tb_text_addf(&path, "%s/%s-%s.db", folder, s.stem, s.now);
    *out = (struct tb_copy){ .path = tb_arena_strdup(a, path.s), .was_there = access(path.s, F_OK) == 0 };
    if (!out->was_there)
        rc = tb_copy_make(out, b, path.s, a, err);
    else
        rc = is_copy_of(path.s, b)
                 ? TB_OK
                 : tb_fail(err, TB_EEXISTS,
                           "%s is there and is not a copy of this book; nothing was copied: give "
                           "each book a folder of its own",
                           path.s);
    if (rc == TB_OK && (rc = list(&s, err)) == TB_OK)
        thin(out, &s, b, hold);
    free(s.name);
    tb_text_free(&path);
    return rc;
}

/* --- the way back ----------------------------------------------------------------------------------------------- */

/* The journal rows of a book as it lies there, of whatever shape; -1 when it cannot be read. */
static int64_t rows_of(const char *path)
{
    struct tb_err ignored = { 0 };
    struct tb_journal_head head = { 0 };
    struct tb_arena a = { 0 };
    struct tb_db *db = NULL;
    struct tb_book *b;
    tb_rc rc;

    if (tb_db_open(&db, path, &ignored) != TB_OK)
        return -1;
    b = tb_book_of(db, path);
    rc = tb_one_journal_head(&head, tb_sql_journal_head(b), &a, &ignored);
    tb_book_close(b);
    tb_arena_free(&a);
    return rc == TB_OK ? head.number : -1;
}

static const char *free_name(const char *path, struct tb_arena *a)
{
    const char *name = tb_arena_printf(a, "%s.aside", path);

    for (int i = 2; access(name, F_OK) == 0; i++)
        name = tb_arena_printf(a, "%s.aside-%d", path, i);
    return name;
}

static tb_rc prove_file(struct tb_proof *p, const char *path, struct tb_err *err)
{
    struct tb_book *b = NULL;
    char *upgraded = NULL;
    tb_rc rc = tb_book_open(&b, path, &upgraded, err);

    if (rc == TB_OK)
        rc = tb_book_prove(p, b, err);
    if (rc == TB_OK && !p->fits)
        rc = tb_fail(err, TB_EFORMAT, "%s does not prove: %s", path, p->why);
    tb_book_close(b);
    if (upgraded)
        (void)unlink(upgraded); /* the copy that is being made is not what anyone goes back to */
    free(upgraded);
    return rc;
}

/* A copy of the copy, whole and proved under a name beside the book's. */
static tb_rc bring(struct tb_proof *p, const char *copy, const char *half, struct tb_err *err)
{
    struct tb_db *db = NULL;
    tb_rc rc = tb_db_open(&db, copy, err);

    if (rc == TB_OK)
        rc = tb_db_copy(db, half, NULL, err);
    tb_db_close(db);
    if (rc == TB_OK && (rc = prove_file(p, half, err)) != TB_OK)
        (void)unlink(half);
    return rc == TB_OK ? rc : tb_within(err, rc, "nothing was put back");
}

static bool is_same_file(const char *a, const char *b)
{
    struct stat x, y;

    return stat(a, &x) == 0 && stat(b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

tb_rc tb_copy_restore(struct tb_restored *out, const char *copy, const char *path, bool aside,
                      struct tb_arena *a, struct tb_err *err)
{
    const char *half = tb_arena_printf(a, "%s.new-%ld", path, (long)getpid());
    bool there = access(path, F_OK) == 0;
    struct tb_proof p = { 0 };
    tb_rc rc;

    *out = (struct tb_restored){ .rows_aside = -1 };
    if (there && !aside)
        return tb_fail(err, TB_EEXISTS, "there is a book at %s; --aside moves it out of the way and keeps it",
                       path);
    if (there && is_same_file(copy, path))
        return tb_fail(err, TB_EINVAL, "%s is the book itself and no copy of it", copy);
    tb_half_clear(path);
    if ((rc = bring(&p, copy, half, err)) != TB_OK)
        return rc;
    if (there) {
        out->rows_aside = rows_of(path);
        out->aside = free_name(path, a);
    }
    if ((rc = tb_db_swap(half, path, out->aside, err)) != TB_OK) {
        (void)unlink(half);
        return rc;
    }
    out->rows = p.rows;
    memcpy(out->digest, p.digest, sizeof out->digest);
    return TB_OK;
}
