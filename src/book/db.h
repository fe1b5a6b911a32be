/*
 * db.h - the database a book is kept in: a connection, its transactions, making and copying. Private to src/book.
 *
 * With the statements of stmt.h this is all that a database has to offer. src/book/sqlite keeps a book in one SQLite file;
 * nothing else in the program calls SQLite or knows what is in such a file, and another database would be another folder beside
 * it. src/base knows two things from outside (base/folder.h): how such a file begins, so that no paper is written over any of
 * them, and what may lie beside one, so that all of it is cleared away.
 */
#ifndef TENTERBOOK_BOOK_DB_H
#define TENTERBOOK_BOOK_DB_H

#include "tenterbook/base.h"

#include <stdint.h>

#define TB_WAIT_SECONDS 10 /* so long a writer waits for another one */

struct tb_book;
struct tb_db;

/* ---- connections --------------------------------------------------------------------------------------- */

/*
 * tb_db_open - connect with what is kept at a path, for reading and writing.
 *   out    close it with tb_db_close
 *   fails  TB_ENOTFOUND nothing is there; TB_EINVAL a folder; TB_EFORMAT no book, or damaged; TB_EREFUSED it is of
 *          a later shape than this program knows, or lies where not even reading is safe; TB_EBUSY, TB_EIO
 */
tb_rc tb_db_open(struct tb_db **out, const char *path, struct tb_err *err);
/* tb_db_in_memory - one that has all tables and nothing in them, and checks no references. */
tb_rc tb_db_in_memory(struct tb_db **out, struct tb_err *err);
/*
 * tb_db_new - one that has all tables and nothing in them, under a passing name beside `path`.
 *   fails  TB_EEXISTS something is at path; TB_EREFUSED what an earlier book left beside it would be mixed with this one
 */
tb_rc tb_db_new(struct tb_db **out, const char *path, struct tb_err *err);
/* tb_db_finish - give a new one its name, now that it is whole. It is closed, whatever comes of it; *s becomes NULL. */
tb_rc tb_db_finish(struct tb_db **s, struct tb_err *err);
/* Close it; one that is new and was not finished is gone without a trace. NULL is accepted. */
void tb_db_close(struct tb_db *s);
/* Whether nothing may be written where it lies; tb_db_refuses says why, as TB_EREFUSED. */
bool tb_db_only_read(const struct tb_db *s);
tb_rc tb_db_refuses(const struct tb_db *s, struct tb_err *err);
/* tb_db_still - TB_EBUSY when one that is only read was written by somebody since it was opened. */
tb_rc tb_db_still(const struct tb_db *s, struct tb_err *err);
/* Whether its shape is older than this program's. */
bool tb_db_is_old(const struct tb_db *s);
/*
 * tb_db_upgrade - bring an old one up to date, in one transaction.
 *   fails  as the database fails; then it stays as it was
 */
tb_rc tb_db_upgrade(struct tb_db *s, struct tb_err *err);
/* Looks at a copy under its passing name, and fails where it must not get the other. */
typedef tb_rc tb_see_fn(void *arg, const char *half, struct tb_err *err);
/*
 * tb_db_copy - a whole copy of one moment of it at `path`, whatever others write meanwhile, with its mode, owner and group.
 *   fails  TB_EEXISTS something is at path; as `see`; nothing is left behind on failure
 */
tb_rc tb_db_copy(struct tb_db *s, const char *path, tb_see_fn *see, void *arg, struct tb_err *err);
/*
 * tb_db_restore - the same in the place of a book. With `aside` what is at `path` gets that name (free, or its own already), with its log, and gives the
 * copy its mode, owner and group; NULL: nothing is there.
 *   fails  TB_EBUSY somebody has open what is there; TB_EREFUSED no book may lie there; TB_EEXISTS, TB_EIO; as `see`; then
 *          everything is as it was
 */
tb_rc tb_db_restore(struct tb_db *s, const char *path, const char *aside, tb_see_fn *see, void *arg,
                    struct tb_err *err);
/* tb_db_image - a copy for this program alone, brought up to date; nothing is written where the other lies. */
tb_rc tb_db_image(struct tb_db **out, struct tb_db *s, struct tb_err *err);
/*
 * tb_db_forget - take away what was written after a journal row: of an image, never of a book.
 *   table  n tables of facts, by name
 */
tb_rc tb_db_forget(struct tb_db *image, int64_t number, const char *const *table, size_t n,
                   struct tb_err *err);
/*
 * tb_db_shape - does it hold the tables, columns, views, indexes that the migrations make, and nothing else?
 *   wrong  one sentence is added, with the way out, where it does not
 */
tb_rc tb_db_shape(struct tb_text *wrong, struct tb_db *s, struct tb_err *err);
/*
 * tb_db_pages - is the file whole, every index complete and every reference to something that is there?
 *   wrong  one sentence is added where that is not so; in a large book this takes as long as reading all of it
 */
tb_rc tb_db_pages(struct tb_text *wrong, struct tb_db *s, struct tb_err *err);
/* Does the file begin like a book? It is not opened. */
bool tb_db_is_book(const char *path);
/* Called once when somebody else is writing and the wait begins; seconds is the most it will take. */
void tb_db_on_wait(struct tb_db *s, void (*say)(void *arg, int seconds), void *arg);

/* ---- transactions --------------------------------------------------------------------------------------- */

/* tb_db_write - begin to write; TB_EBUSY when another writer did not end within TB_WAIT_SECONDS. */
tb_rc tb_db_write(struct tb_db *s, struct tb_err *err);
/* tb_db_read - begin to read one state of it over many statements. */
tb_rc tb_db_read(struct tb_db *s, struct tb_err *err);
bool tb_db_is_busy(const struct tb_db *s); /* a transaction is open */
tb_rc tb_db_commit(struct tb_db *s, struct tb_err *err);
void tb_db_undo(struct tb_db *s); /* the transaction never was */

#endif
