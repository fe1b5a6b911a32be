/*
 * copies.h - copies of a book, each one proved, and the way back from one.
 *
 * A copy is a book itself. It is made beside its name, pushed to the disk, proved there, and only then believed; the oldest
 * copies of a series go only after that. docs/backup.md has the practice.
 */
#ifndef TENTERBOOK_COPIES_H
#define TENTERBOOK_COPIES_H

#include "tenterbook/book.h"
#include "tenterbook/words.h"

/* How often a series of copies gets a new one. */
enum tb_period { TB_EVERY_HOUR, TB_EVERY_DAY, TB_EVERY_WEEK, TB_EVERY_MONTH };
extern const struct tb_words tb_period_words;

#define TB_HOLD_MOST 10000 /* copies of one series */

/* A copy, and where the book stood when it was made. Text lies in the caller's arena. */
struct tb_copy {
    const char *path;
    bool was_there;    /* the series had a copy for this hour, day, week or month: nothing was done */
    int64_t rows;      /* journal rows; 0 when it was there */
    char digest[65];   /* of the last one; "" when it was there */
    const char **gone; /* older copies that were taken away, oldest first */
    size_t gone_n;
};

/*
 * tb_copy_make - a copy of one moment of the book at `path`, proved. It has the book's mode, owner and group as far as the
 * person may give them.
 *   fails  TB_EEXISTS something is at path; TB_EFORMAT the copy does not prove, and was taken away; TB_EIO
 */
tb_rc tb_copy_make(struct tb_copy *out, struct tb_book *b, const char *path, struct tb_arena *a,
                   struct tb_err *err);

/*
 * tb_copy_every - the copy of this hour, day, week (ISO 8601) or month in a folder, in UTC, where it is not there yet: what a
 * timer calls as often as it likes. Named NAME-2026-10-31.db after the book.
 *   hold   so many copies of this series stay, 1 to TB_HOLD_MOST; only files that are books are taken away
 *   fails  as tb_copy_make; TB_EEXISTS the copy's name is taken by something else; TB_EFORMAT the copy that is there
 *          does not prove any more, and an older one would have gone for it: all stay; TB_ENOTFOUND there is no such folder;
 *          TB_EINVAL hold is out of range
 */
tb_rc tb_copy_every(struct tb_copy *out, struct tb_book *b, const char *folder, enum tb_period period,
                    size_t hold, struct tb_arena *a, struct tb_err *err);

/* What came back. Text lies in the caller's arena. */
struct tb_restored {
    int64_t rows;       /* journal rows of the book as it is now */
    char digest[65];    /* of the last one */
    const char *aside;  /* the new name of the book that was there; NULL: there was none */
    int64_t rows_aside; /* its journal rows; -1: it is damaged */
    int64_t lacks;      /* how many of these the copy does not have */
};

/*
 * tb_copy_restore - put a copy in the book's place, once it proves. The copy stays as it is.
 *   aside  move what is at `path` out of the way first, with its log, to PATH.aside or PATH.aside-2, ...; the copy gets its
 *          mode, owner and group
 *   lacks  exactly so many journal rows of the book that is there may be missing in the copy
 *   fails  TB_EEXISTS something is at path and `aside` is false; TB_EFORMAT the copy does not prove; TB_EREFUSED it is of
 *          another book, or lacks another number of rows than was said, or the book that is there is of a newer program;
 *          TB_EBUSY somebody has that one open; TB_EIO it cannot be read now, though it may be whole; then everything is
 *          as it was
 */
tb_rc tb_copy_restore(struct tb_restored *out, const char *copy, const char *path, bool aside, int64_t lacks,
                      struct tb_arena *a, struct tb_err *err);

#endif
