/*
 * stmt.h - named statements over the database of a book. Private to src/book, the only folder that knows SQL.
 *
 * The statements live in sql/query/ and become enum tb_sql and the functions of gen/sql.h; text is never put together at
 * run time. src/book/sqlite carries them out; rows.c is the same for every database.
 */
#ifndef TENTERBOOK_BOOK_STMT_H
#define TENTERBOOK_BOOK_STMT_H

#include "gen/sql.h"
#include "tenterbook/book.h"
#include "tenterbook/words.h"

#include <stdint.h>

struct tb_stmt;

/*
 * tb_query - a statement ready to be bound. Borrowed and cached: it belongs to the book and must be given back
 * (tb_run, tb_ask_whole or tb_done) before the same name is asked for again; nested use of one name is a
 * programmer's error and asserted. NULL when it cannot be prepared; the functions below then answer TB_EIO.
 */
struct tb_stmt *tb_query(struct tb_book *b, enum tb_sql name);

/*
 * Bind $n, n from 1, in rising order. Text and bytes must stay until the statement was stepped; NULL text and NAN numbers
 * bind NULL, and so does the count -1. Only the functions that are made from sql/ call these, and what takes values out of
 * an extract.
 */
void tb_bind_text(struct tb_stmt *q, int n, const char *s);
void tb_bind_whole(struct tb_stmt *q, int n, int64_t v);
void tb_bind_count(struct tb_stmt *q, int n, int64_t v);
void tb_bind_number(struct tb_stmt *q, int n, double v);
void tb_bind_bytes(struct tb_stmt *q, int n, const void *p, size_t size);

/* A value as it is stored, whatever its column is for: for digests and extracts, which take a row as it comes. */
struct tb_value {
    enum tb_value_kind {
        TB_VALUE_NOTHING,
        TB_VALUE_TEXT,
        TB_VALUE_WHOLE,
        TB_VALUE_NUMBER,
        TB_VALUE_BYTES
    } kind;
    const char *text; /* ends with a NUL */
    const void *bytes;
    size_t size; /* of text and of bytes */
    int64_t whole;
    double number;
};
void tb_bind_value(struct tb_stmt *q, int n, const struct tb_value *v);

/* Step to the next row: TB_OK a row, TB_ENOTFOUND no more (err is left alone), else a failure in err. */
tb_rc tb_row(struct tb_stmt *q, struct tb_err *err);
/* Columns of the row, n from 0; text and bytes are copied into mem. NULL text comes as NULL, NULL numbers as NAN, NULL
 * whole numbers as 0, NULL counts as -1. Called as tb_bind_ is. */
bool tb_col_null(struct tb_stmt *q, int n);
const char *tb_col_text(struct tb_stmt *q, int n, struct tb_arena *mem);
int64_t tb_col_whole(struct tb_stmt *q, int n);
int64_t tb_col_count(struct tb_stmt *q, int n);
double tb_col_number(struct tb_stmt *q, int n);
const void *tb_col_bytes(struct tb_stmt *q, int n, size_t *size, struct tb_arena *mem);
/* The enumerator of a word. TB_EFORMAT when the book holds one that is not in the set: it is damaged, or not ours. */
tb_rc tb_col_word(int *out, struct tb_stmt *q, int n, const struct tb_words *words, struct tb_err *err);
/* The value as it is stored; text and bytes are borrowed until the next step. */
void tb_col_value(struct tb_value *out, struct tb_stmt *q, int n);
void tb_done(struct tb_stmt *q); /* reset and give back; NULL is accepted */

/*
 * Rows of a statement, read by a function made from sql/ (tb_next_swatch, tb_one_swatch, tb_all_swatch).
 *   tb_next   the next row, TB_ENOTFOUND when there are no more; the statement stays yours: give it back with tb_done
 *   tb_one    the first row, TB_ENOTFOUND when there is none; the statement is given back
 *   tb_all    all rows as an array in mem; the statement is given back. *rows, *n untouched on failure
 * A row is cleared before it is filled; TB_ENOTFOUND leaves it and err alone.
 */

/*
 * tb_run - carry out a statement that gives no rows, and give it back.
 * A statement marked `-- fact: TABLE` must be run between tb_book_begin() and tb_book_commit(); its parameters
 * are the columns of the table in order ($1 the id, the last the entry) and go into the journal's digest.
 */
tb_rc tb_run(struct tb_stmt *q, struct tb_err *err);
/* The one column of the first row, and the statement given back. TB_ENOTFOUND, *out untouched, when there is no row or
 * NULL. */
tb_rc tb_ask_whole(int64_t *out, struct tb_stmt *q, struct tb_err *err);
tb_rc tb_ask_number(double *out, struct tb_stmt *q, struct tb_err *err);
tb_rc tb_ask_text(const char **out, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err);
tb_rc tb_ask_bytes(const void **out, size_t *size, struct tb_stmt *q, struct tb_arena *mem,
                   struct tb_err *err);
/* The one column of all rows. */
tb_rc tb_all_text(const char ***out, size_t *n, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err);

/* The number of the journal row that covers what is written now. */
int64_t tb_entry(const struct tb_book *b);
/* A new key; it stays until the next one is asked for. */
const char *tb_next_key(struct tb_book *b);
/* A new key, in mem. */
const char *tb_new_key(struct tb_arena *mem);
/* The moment tb_book_begin was called, in mem. */
const char *tb_moment_now(const struct tb_book *b, struct tb_arena *mem);

#endif
