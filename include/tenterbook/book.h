/*
 * book.h - the book: every fact the warehouse recorded, covered by a chained journal (docs/book.md).
 *
 * A fact is never edited: a correction is a new fact that names the one it replaces. Goods are in goods.h, what happens at
 * the bench in bench.h; both come with this header. Analyses, draws and claims have headers of their own.
 *
 * Rules for all functions that take a book, said once:
 *   reading   copies text into `mem`, the caller's arena; lists are arrays in it, *n of them, oldest first unless said
 *             otherwise. May be called inside and outside of tb_book_begin .. tb_book_commit
 *   writing   stands between tb_book_begin and tb_book_commit. Text of a record must be UTF-8 (else TB_EINVAL) and is
 *             borrowed for the call. `id` and what the book gives besides are filled in, in mem; members that are said to
 *             be read-only are not looked at. Text that is not said may be NULL where "" is allowed
 *   fails     TB_EIO the disk or the database failed; TB_EFORMAT the book is damaged; when writing also TB_EINVAL the
 *             record names something that is not there. What a function adds to these is said with it
 *   days      "YYYY-MM-DD"; moments "YYYY-MM-DDThh:mm:ssZ", UTC
 *   numbers   that are not known are NAN
 *
 * A book belongs to one thread at a time. Reference numbers people use (delivery W26-014, lot W26-014.02, swatch
 * W26-014.02.03) are given by the book.
 */
#ifndef TENTERBOOK_BOOK_H
#define TENTERBOOK_BOOK_H

#include "tenterbook/base.h"
#include "tenterbook/bench.h"
#include "tenterbook/circumstance.h"
#include "tenterbook/date.h"
#include "tenterbook/goods.h"

#include <stdint.h>

struct tb_book;

/* ---- the file ------------------------------------------------------------------------------------------ */

/* The place a book is of. */
struct tb_site {
    const char *id;
    const char *code; /* begins every reference number: "W" */
    const char *name;
    const char *country; /* ISO 3166-1 alpha-2; "" not said */
};

/*
 * tb_book_make - make a new book; it takes its name when it is whole.
 *   code     1 to 4 capital letters or digits
 *   country  two capital letters (ISO 3166-1) or ""
 *   who      name of the person, recorded as such
 *   fails    TB_EEXISTS something is at path; TB_EINVAL code or country; TB_EREFUSED the log of an earlier book of that name
 *            lies there. Nothing is left behind on failure
 */
tb_rc tb_book_make(const char *path, const char *code, const char *name, const char *country, const char *who,
                   struct tb_err *err);
/*
 * tb_book_open - open a book for reading and writing. An older one is brought up to date after a copy of it was put beside
 * it (FILE.before-N).
 *   out            close it with tb_book_close
 *   upgraded_copy  may be NULL; becomes the name of that copy, yours to free, or NULL
 *   fails          TB_ENOTFOUND no such file; TB_EINVAL no file but a folder, a pipe or a name such as ":memory:";
 *                  TB_EFORMAT not a book, or of a newer program; TB_EREFUSED it lies where not even reading is safe
 *
 * A book that may not be written where it lies (write-protected, a network share) is opened for reading: what would
 * write is TB_EREFUSED, and whoever read it asks tb_book_still before believing what was read.
 */
tb_rc tb_book_open(struct tb_book **out, const char *path, char **upgraded_copy, struct tb_err *err);
/*
 * tb_book_as_of - the book as it was known at the end of a day (UTC), for reading: a copy of this program's own with the journal up to the
 * last row before the first that is dated later, and the facts of those rows. Corrections, voids, decisions and settings of later rows
 * are not in it.
 *   out    close it with tb_book_close; nothing of it stays
 *   day    a valid day, "2026-10-31"
 *   fails  TB_ENOTFOUND the journal has no row up to that day; TB_EIO
 */
tb_rc tb_book_as_of(struct tb_book **out, struct tb_book *b, const char *day, struct tb_err *err);
/* tb_book_still - TB_EBUSY when a book that is only read was written by somebody else since it was opened. */
tb_rc tb_book_still(const struct tb_book *b, struct tb_err *err);
/* tb_sqlite_version - of the library that is loaded, as "3.40.1"; never freed. */
const char *tb_sqlite_version(void);
/* tb_book_close - close it; what was begun and not committed never was. NULL: nothing happens. */
void tb_book_close(struct tb_book *b);
/* tb_book_site - the place it is of; borrowed from the book. */
const struct tb_site *tb_book_site(const struct tb_book *b);
/*
 * tb_book_on_wait - have `say` called once when somebody else is writing and a wait begins.
 *   seconds  the most it will take
 */
void tb_book_on_wait(struct tb_book *b, void (*say)(void *arg, int seconds), void *arg);
/*
 * tb_book_keep - a copy of one moment of the whole book in another file, whatever others write meanwhile.
 *   out    its proof: how many rows it has, and the last digest
 *   fails  TB_EEXISTS something is at path; TB_EREFUSED as tb_book_make; TB_EFORMAT the copy does not prove. Nothing is
 *          left behind on failure
 */
struct tb_proof;
tb_rc tb_book_keep(struct tb_proof *out, struct tb_book *b, const char *path, struct tb_err *err);

/* ---- writing ------------------------------------------------------------------------------------------- */

/*
 * tb_book_begin - start to write: one journal row will cover all that follows.
 *   who    name of the person, not empty; recorded as a person when new
 *   verb   what is being done, one word: "receive"
 *   fails  TB_EBUSY another writer did not end in time; TB_EINVAL nobody is named
 */
tb_rc tb_book_begin(struct tb_book *b, const char *who, const char *verb, struct tb_err *err);
/* tb_book_subject - what it is about (a reference number), for the journal row; at any time before the commit. Copied. */
void tb_book_subject(struct tb_book *b, const char *subject);
/* tb_book_commit - record all of it; TB_OK means that it has reached the disk. After a failure none of it is recorded. */
tb_rc tb_book_commit(struct tb_book *b, struct tb_err *err);
/* What was recorded through this open book so far; text is borrowed until the next commit. */
struct tb_recorded {
    int64_t rows, number;       /* journal rows; the last of them */
    const char *verb, *subject; /* of the last; NULL: there is none */
    int64_t step;               /* of the clock before the last (tb_clock_step) */
    bool unsure;                /* a commit was begun and has not answered: that row may be recorded or not */
};
void tb_book_recorded(struct tb_recorded *out, const struct tb_book *b);
/* tb_book_rollback - record none of it. Does nothing when nothing was begun. */
void tb_book_rollback(struct tb_book *b);
/* tb_book_person - the id of the person writing now; borrowed until the next tb_book_begin. */
const char *tb_book_person(const struct tb_book *b);
/*
 * tb_book_aside - keep something beside the journal row that is being written, for the house alone: no case tells it.
 *   value   taken over; it takes the place of what has the same key
 */
void tb_book_aside(struct tb_book *b, const char *key, json_t *value);
/* tb_aside_of - what stands beside a journal row; NULL where there is nothing. A new reference. TB_EFORMAT where it is no JSON. */
tb_rc tb_aside_of(json_t **out, struct tb_book *b, int64_t row, struct tb_err *err);
/* tb_book_now - the moment tb_book_begin was called; borrowed until the next one. */
const char *tb_book_now(const struct tb_book *b);

/*
 * tb_book_look - from here to tb_book_look_away all reading is of one state of the book, whatever others write.
 * Inside a transaction, which is one state already, it does nothing. Short is better: a long look keeps the write-ahead
 * log from being emptied.
 */
tb_rc tb_book_look(struct tb_book *b, struct tb_err *err);
/* tb_book_look_away - end it. Does nothing inside a transaction, or where nobody looks. */
void tb_book_look_away(struct tb_book *b);

/* ---- journal ------------------------------------------------------------------------------------------- */

/* A journal row that a time-stamping authority saw. */
struct tb_stamped {
    int64_t number;
    char at[TB_MOMENT_LEN + 1]; /* the moment it shows */
    char by[160];               /* name of the certificate that signed it; "" it brings none */
    char serial[41];            /* by which the authority knows it, hexadecimal digits */
};
struct tb_proof {
    bool fits;    /* nothing was found */
    int64_t rows; /* journal rows walked */
    int64_t
        by_table; /* of these under the rule of older programs, one digest for each table; the rest by trees */
    int64_t facts; /* rows of fact tables checked */
    int64_t
        first_bad; /* number of the first journal row that does not fit; 0: all do, whatever else does not fit */
    char digest[65]; /* digest of the last row: kept elsewhere, it shows a shortened journal */
    bool elsewhere;  /* it agrees with itself, but not with what was noted elsewhere (anchor.h) */
    int64_t signed_rows, last_signed; /* journal rows that are signed; the last of them, 0: none */
    char key[65];                     /* the book's signing key now, 64 hex digits; "" it has none yet */
    int64_t stamps; /* time stamps checked, that of the lowest row and that of the highest */
    struct tb_stamped first_stamp, last_stamp;
    struct tb_stamped
        ahead; /* the lowest row that says it was written after its time stamp; number 0: none does */
    char ahead_said[TB_MOMENT_LEN + 1];    /* the moment it says */
    char why[400];                         /* what does not fit, in one sentence; empty when all fits */
    struct tb_circumstances circumstances; /* of the rows walked: who wrote, what the clock did */
};
/*
 * tb_book_prove - see that nothing was changed behind the program's back: the shape of the file against the migrations, every
 * journal row and every fact against its digests, the structure of the file and its references.
 *
 *   out    filled also when something does not fit: that is an answer (TB_OK)
 *   fails  TB_EFORMAT or TB_EIO: the file is so damaged that it cannot be read
 */
tb_rc tb_book_prove(struct tb_proof *out, struct tb_book *b, struct tb_err *err);
/*
 * tb_book_vouch - for a paper that leaves the house: see that the book proves before it is made. As tb_book_prove, but of the
 * signatures the last one alone, which covers every row before it.
 *   fails  TB_EFORMAT with what does not fit; TB_EIO
 */
tb_rc tb_book_vouch(struct tb_book *b, struct tb_err *err);
/* tb_book_head - number and digest of the last journal row; 0 and 64 zeros where there is none. */
tb_rc tb_book_head(int64_t *number, char digest[65], struct tb_book *b, struct tb_err *err);

/* One row of the journal. docs/book.md says what its digests are over. */
struct tb_journal_row {
    int64_t number;                 /* 1, 2, 3 ... without gaps */
    const char *at, *person, *verb; /* moment, name, word: who did what when */
    const char *subject;            /* to what: a reference number */
    const char *content;            /* JSON: for each table the rows written and their digest or root */
    const char *before, *digest;    /* of the row before; of this one */
    int64_t rule;                   /* of its digests: 1 one for each table, 2 a tree for each table */
    const char *salt; /* 64 hex digits from which the nonces of its facts follow; "" under rule 1 */
    const char
        *about; /* keys of the lots it recorded something of, rising, a space between; "" under rule 1 */
    const char *aside; /* JSON, for the house alone: content has its digest; "" where there is nothing */
};
/* tb_journal_list - the rows whose subject begins with this text, "" all of them, in order. */
tb_rc tb_journal_list(struct tb_journal_row **out, size_t *n, struct tb_book *b, const char *subject,
                      struct tb_arena *mem, struct tb_err *err);
/* tb_journal_moves - the rows that moved burns or tests to a lot (its id) or away from it, in order. */
tb_rc tb_journal_moves(struct tb_journal_row **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);
/* A burn or a test that was recorded of another swatch first: the tag of the one it is of, and when it was moved, by whom. */
struct tb_move_here {
    const char *tag, *at, *person;
};
/* tb_moves_here - those of a lot that count, by the moment of the move. */
tb_rc tb_moves_here(struct tb_move_here **out, size_t *n, struct tb_book *b, const char *lot_id,
                    struct tb_arena *mem, struct tb_err *err);
/* tb_journal_since - the rows after number `since`, in order; that of a transaction that is open is not among them. */
tb_rc tb_journal_since(struct tb_journal_row **out, size_t *n, struct tb_book *b, int64_t since,
                       struct tb_arena *mem, struct tb_err *err);

/* ---- settings: the latest value of a name counts ------------------------------------------------------- */

#define TB_SETTING_KEY_FILE                                                                                  \
    "key_file" /* where the signing key of the book is kept, where that is not beside it */

struct tb_setting {
    const char *name, *value;
};
/* tb_setting_get - the value that counted after journal row `upto` (TB_BOOK_NOW: now); "" when it was never set. */
tb_rc tb_setting_get(const char **out, struct tb_book *b, const char *name, int64_t upto,
                     struct tb_arena *mem, struct tb_err *err);
/* tb_setting_set - record another value. Its range is not checked here (setting.h). */
tb_rc tb_setting_set(struct tb_book *b, const char *name, const char *value, struct tb_err *err);
/* A value a setting got, and the moment it did. */
struct tb_setting_was {
    const char *value, *at;
};
/* tb_setting_history - all values a setting ever got, the first one first. */
tb_rc tb_setting_history(struct tb_setting_was **out, size_t *n, struct tb_book *b, const char *name,
                         struct tb_arena *mem, struct tb_err *err);
/* tb_setting_list - the latest values of all settings whose name begins with the prefix, by name. */
tb_rc tb_setting_list(struct tb_setting **out, size_t *n, struct tb_book *b, const char *prefix,
                      struct tb_arena *mem, struct tb_err *err);

#endif
