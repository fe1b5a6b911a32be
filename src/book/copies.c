/* Copies of a book and the way back: each is proved before it is believed, and before anything older goes. */
#include "tenterbook/copies.h"

#include "base/folder.h"
#include "book/private.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
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
    struct tb_proof p;
    tb_rc rc = tb_book_keep(&p, b, path, err);

    if (rc == TB_OK) {
        *out = (struct tb_copy){ .path = tb_arena_strdup(a, path), .rows = p.rows };
        memcpy(out->digest, p.digest, sizeof out->digest);
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
 * The oldest that are more than `hold`. A file of that name that is not a book is somebody else's and stays; and the newest
 * stays even where a clock that was wrong makes it look old.
 */
static const char **spare(size_t *n, const struct tb_copy *newest, const struct series *s,
                          const struct tb_book *b, size_t hold)
{
    size_t most = s->n > hold ? s->n - hold : 0;
    const char **out = tb_arena_alloc(s->a, (most + 1) * sizeof *out);

    *n = 0;
    for (size_t i = 0; i < most; i++)
        if (strcmp(s->name[i], newest->path) != 0 && is_copy_of(s->name[i], b))
            out[(*n)++] = s->name[i];
    return out;
}

/* One that was made earlier proved then; what the disk did to it since is seen before another one goes. */
static tb_rc see_the_newest(const struct tb_copy *c, struct tb_err *err)
{
    struct tb_proof p;
    tb_rc rc = c->was_there ? tb_prove_file(&p, c->path, err) : TB_OK;

    if (rc == TB_OK && c->was_there && !p.fits)
        rc = tb_fail(err, TB_EFORMAT, "it does not prove: %s", p.why);
    return rc == TB_OK
               ? rc
               : tb_within(err, rc, "no older copy is taken away for %s; move it away, and a new one is made",
                           c->path);
}

static tb_rc thin(struct tb_copy *out, const struct series *s, const struct tb_book *b, size_t hold,
                  struct tb_err *err)
{
    size_t n;
    const char **old = spare(&n, out, s, b, hold);
    tb_rc rc = n ? see_the_newest(out, err) : TB_OK;

    out->gone = tb_arena_alloc(s->a, (n + 1) * sizeof *out->gone);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (unlink(old[i]) == 0)
            out->gone[out->gone_n++] = old[i];
    return rc;
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
        rc = thin(out, &s, b, hold, err);
    free(s.name);
    tb_text_free(&path);
    return rc;
}
