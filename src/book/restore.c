/*
 * The way back: a copy becomes the book again. It is proved, and its journal is held against that of the book whose place it
 * takes: two journals are the same up to a row where the digests of that row are.
 */
#include "tenterbook/copies.h"

#include "base/folder.h"
#include "book/private.h"

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* --- two journals ----------------------------------------------------------------------------------------------- */

/* A book as it lies there, of whatever shape. */
static tb_rc open_as_it_is(struct tb_book **out, const char *path, struct tb_err *err)
{
    struct tb_db *db = NULL;
    tb_rc rc = tb_db_open(&db, path, err);

    if (rc != TB_OK)
        return rc;
    *out = tb_book_of(db, path);
    return tb_book_load_site(*out, err);
}

static tb_rc same_at(bool *same, struct tb_book *a, struct tb_book *b, int64_t row, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *x = "", *y = "";
    tb_rc rc = tb_ask_text(&x, tb_sql_journal_digest_of(a, row), &mem, err);

    if (rc == TB_OK)
        rc = tb_ask_text(&y, tb_sql_journal_digest_of(b, row), &mem, err);
    *same = rc == TB_OK && strcmp(x, y) == 0;
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc; /* a row that is gone is not the same */
}

/* The last row that both have. What follows a row that differs differs too: the row is found by halves. */
static tb_rc last_common(int64_t *out, struct tb_book *a, struct tb_book *b, int64_t most, struct tb_err *err)
{
    int64_t low = 0, high = most; /* same at low; nothing is known above high */
    tb_rc rc = TB_OK;

    while (rc == TB_OK && low < high) {
        int64_t middle = high - (high - low) / 2;
        bool same = false;

        rc = same_at(&same, a, b, middle, err);
        if (same)
            low = middle;
        else
            high = middle - 1;
    }
    *out = low;
    return rc;
}

/* --- one book in the place of another --------------------------------------------------------------------------- */

struct bringing {
    struct tb_restored *out;
    const char *path; /* of the book that is there; NULL: none is */
    int64_t lacks;    /* so many rows may be missing */
};

static tb_rc refuse_loss(const struct bringing *w, int64_t common, int64_t own, struct tb_err *err)
{
    const struct tb_restored *r = w->out;

    if (own)
        return tb_fail(
            err, TB_EREFUSED,
            "the copy and the book at %s went apart after journal row %lld: the copy has %lld of its own "
            "and lacks %lld of the book; to go back to it all the same: --lacks %lld",
            w->path, (long long)common, (long long)own, (long long)r->lacks, (long long)r->lacks);
    return tb_fail(
        err, TB_EREFUSED,
        "the copy ends with journal row %lld, and the book at %s has %lld more; to go back to it all the "
        "same: --lacks %lld",
        (long long)common, w->path, (long long)r->lacks, (long long)r->lacks);
}

static tb_rc hold_against(struct bringing *w, struct tb_book *copy, struct tb_book *book, struct tb_err *err)
{
    struct tb_restored *r = w->out;
    char digest[TB_DIGEST_HEX];
    int64_t common = 0;
    tb_rc rc;

    if (strcmp(copy->site.id, book->site.id) != 0)
        return tb_fail(
            err, TB_EREFUSED,
            "this is a copy of another book, of the site %s %s, and not of the one at %s; move that one "
            "away first",
            copy->site.code, copy->site.name, w->path);
    rc = tb_book_head(&r->rows_aside, digest, book, err);
    if (rc == TB_OK)
        rc = last_common(&common, copy, book, r->rows < r->rows_aside ? r->rows : r->rows_aside, err);
    if (rc != TB_OK)
        return rc == TB_ENOTFOUND ? TB_EFORMAT : rc; /* a book without a journal is damaged */
    r->lacks = r->rows_aside - common;
    return r->lacks == 0 || r->lacks == w->lacks ? TB_OK : refuse_loss(w, common, r->rows - common, err);
}

static tb_rc hold_against_the_one_there(struct bringing *w, struct tb_book *copy, struct tb_err *err)
{
    struct tb_book *book = NULL;
    tb_rc rc = open_as_it_is(&book, w->path, err);

    if (rc == TB_OK)
        rc = hold_against(w, copy, book, err);
    tb_book_close(book);
    return rc;
}

/*
 * A damaged book is what copies are for: nothing can be held against it. One that is whole and could not be read now, because
 * the disk failed once or somebody has it, may hold what the copy lacks.
 */
static tb_rc compare(struct bringing *w, const char *half, struct tb_err *err)
{
    struct tb_err why = { 0 };
    struct tb_book *copy = NULL;
    tb_rc rc = open_as_it_is(&copy, half, err), held = TB_OK;

    if (rc == TB_OK)
        held = hold_against_the_one_there(w, copy, &why);
    if (held == TB_EFORMAT) {
        w->out->rows_aside = -1;
        w->out->lacks = 0;
    } else if (held != TB_OK) {
        *err = why;
        rc = held == TB_EREFUSED ? held
                                 : tb_within(err, held,
                                             "the copy cannot be compared with the book at %s (try again, or "
                                             "move that one away first)",
                                             w->path);
    }
    tb_book_close(copy);
    return rc;
}

static tb_rc see(void *arg, const char *half, struct tb_err *err)
{
    struct bringing *w = arg;
    struct tb_proof p;
    tb_rc rc = tb_prove_file(&p, half, err);

    if (rc == TB_OK && !p.fits)
        rc = tb_fail(err, TB_EFORMAT, "the copy does not prove: %s", p.why);
    if (rc == TB_OK) {
        w->out->rows = p.rows;
        memcpy(w->out->digest, p.digest, sizeof w->out->digest);
        rc = w->path ? compare(w, half, err) : TB_OK;
    }
    return rc == TB_OK ? rc : tb_within(err, rc, "nothing was put back");
}

static bool is_same_file(const char *a, const char *b)
{
    struct stat x, y;

    return stat(a, &x) == 0 && stat(b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

/*
 * One that the book itself has already was given to it by a program that was killed next. A link that leads nowhere has its
 * name all the same.
 */
static const char *free_name(const char *path, struct tb_arena *a)
{
    const char *name = tb_arena_printf(a, "%s.aside", path);
    struct stat st;

    for (int i = 2; lstat(name, &st) == 0 && !tb_out_is_same(name, path); i++)
        name = tb_arena_printf(a, "%s.aside-%d", path, i);
    return name;
}

tb_rc tb_copy_restore(struct tb_restored *out, const char *copy, const char *path, bool aside, int64_t lacks,
                      struct tb_arena *a, struct tb_err *err)
{
    bool there = access(path, F_OK) == 0;
    struct bringing w = { out, there ? path : NULL, lacks };
    struct tb_db *db = NULL;
    tb_rc rc;

    *out = (struct tb_restored){ .rows_aside = -1 };
    if (there && !aside)
        return tb_fail(err, TB_EEXISTS, "there is a book at %s; --aside moves it out of the way and keeps it",
                       path);
    if (there && is_same_file(copy, path))
        return tb_fail(err, TB_EINVAL, "%s is the book itself and no copy of it", copy);
    if ((rc = tb_db_open(&db, copy, err)) != TB_OK)
        return tb_within(err, rc, "nothing was put back");
    if (there)
        out->aside = free_name(path, a);
    rc = tb_db_restore(db, path, out->aside, see, &w, err);
    tb_db_close(db);
    return rc;
}
