/*
 * db.h - the driver: named statements over one database. Private to src/book, the only folder that knows SQL.
 *
 * The statements live in sql/query/ and become enum tb_sql; text is never put together at run time. All that
 * is particular to SQLite is in db.c, lifecycle.c and prove.c; another store would replace those files.
 */
#ifndef TENTERBOOK_BOOK_DB_H
#define TENTERBOOK_BOOK_DB_H

#include "gen/sql.h"
#include "tenterbook/book.h"

#include <stdint.h>

struct tb_stmt;

/*
 * tb_query - a statement ready to be bound. Borrowed and cached: it belongs to the book and must be given back
 * (tb_run, tb_ask_whole or tb_done) before the same name is asked for again; nested use of one name is a
 * programmer's error and asserted. NULL when it cannot be prepared; the functions below then answer TB_EIO.
 */
struct tb_stmt *tb_query(struct tb_book *b, enum tb_sql name);

/* Bind $n, n from 1, in rising order. Text and bytes must stay until the statement was stepped; NULL text and
 * NAN numbers bind NULL. */
void tb_bind_text(struct tb_stmt *q, int n, const char *s);
void tb_bind_whole(struct tb_stmt *q, int n, int64_t v);
void tb_bind_number(struct tb_stmt *q, int n, double v);
void tb_bind_bytes(struct tb_stmt *q, int n, const void *p, size_t size);

/* Step to the next row: TB_OK a row, TB_ENOTFOUND no more (err is left alone), else a failure in err. */
tb_rc tb_row(struct tb_stmt *q, struct tb_err *err);
/* Columns of the row, n from 0. NULL text comes as NULL, NULL numbers as NAN, NULL whole numbers as 0. */
const char *tb_col_text(struct tb_stmt *q, int n, struct tb_arena *mem);
int64_t tb_col_whole(struct tb_stmt *q, int n);
double tb_col_number(struct tb_stmt *q, int n);
const void *tb_col_bytes(struct tb_stmt *q, int n, size_t *size); /* borrowed until the next step */
void tb_done(struct tb_stmt *q);                                  /* reset and give back; NULL is accepted */

/*
 * tb_run - carry out a statement that gives no rows, and give it back.
 * A statement marked `-- fact: TABLE` must be run between tb_book_begin() and tb_book_commit(); its parameters
 * are the columns of the table in order ($1 the id, the last the entry) and go into the journal's digest.
 */
tb_rc tb_run(struct tb_stmt *q, struct tb_err *err);
/* One whole number, and the statement given back. TB_ENOTFOUND, *out untouched, when there is no row or NULL. */
tb_rc tb_ask_whole(int64_t *out, struct tb_stmt *q, struct tb_err *err);

/* The number of the journal row that covers what is written now. */
int64_t tb_entry(const struct tb_book *b);

/*
 * TB_LIST - the rows of a query as an array in mem: reads each row with `take(&item, q, mem)`.
 * Statement q is given back. Evaluates to a tb_rc in `rc`.
 */
#define TB_LIST(rc, out, n, q, type, take, mem, err)                                                         \
    do {                                                                                                     \
        type *list_ = NULL;                                                                                  \
        size_t n_ = 0, cap_ = 0;                                                                             \
        while (((rc) = tb_row((q), (err))) == TB_OK) {                                                       \
            TB_PUSH_ROOM(list_, n_, cap_);                                                                   \
            memset(&list_[n_], 0, sizeof list_[n_]);                                                         \
            take(&list_[n_++], (q), (mem));                                                                  \
        }                                                                                                    \
        tb_done(q);                                                                                          \
        if ((rc) == TB_ENOTFOUND) {                                                                          \
            *(out) = tb_arena_alloc((mem), n_ * sizeof *list_ + 1);                                          \
            if (n_)                                                                                          \
                memcpy(*(out), list_, n_ * sizeof *list_);                                                   \
            *(n) = n_;                                                                                       \
            (rc) = TB_OK;                                                                                    \
        }                                                                                                    \
        free(list_);                                                                                         \
    } while (0)

/* A bolt from columns id, lot, number, metres, width_cm, mass_gm2, said, lot_ref: for every statement that gives them. */
void tb_take_bolt(struct tb_bolt *o, struct tb_stmt *q, struct tb_arena *mem);

#endif
