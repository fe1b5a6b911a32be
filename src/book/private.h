/* private.h - what the files of the driver share about an open book. Nothing else in src/book includes it. */
#ifndef TENTERBOOK_BOOK_PRIVATE_H
#define TENTERBOOK_BOOK_PRIVATE_H

#include "book/db.h"

#include <sodium.h>
#include <sqlite3.h>

#define TB_APPLICATION_ID 0x54654e42 /* "TeNB": marks the file as a book */
#define TB_WAIT_SECONDS 10
#define TB_DIGEST_HEX 65
#define TB_FACT_TABLES_MOST 64

struct tb_stmt {
    struct tb_book *book;
    sqlite3_stmt *st;
    const struct tb_sql_text *text;
    int params, bound;     /* how many parameters, the highest bound so far */
    int slot[40];          /* slot[n]: SQLite's index of $n */
    int table;             /* fact table it writes, -1 none */
    bool busy, not_utf8;   /* a text bound to a fact was none: it is not recorded */
    struct tb_text record; /* canonical form of the parameters of a fact */
};

/* One fact table: how it is read back for proof, and what was written to it in this transaction. */
struct tb_fact_table {
    const char *name;
    enum tb_sql read; /* statement facts_NAME */
    crypto_hash_sha256_state hash;
    int64_t rows;
    char last_id[TB_ID_LEN + 1];
};

struct tb_book {
    sqlite3 *db;
    char *path;
    struct tb_stmt stmt[TB_SQL_COUNT];
    struct tb_fact_table table[TB_FACT_TABLES_MOST];
    size_t tables;
    struct tb_arena mem; /* the site's text */
    struct tb_site site;
    void (*say_wait)(void *arg, int seconds);
    void *say_arg;
    int waited_ms;
    /* the transaction, when one is open */
    bool writing;
    bool index_dropped; /* bolts come in bulk: the index by number is built at the end */
    int64_t entry;
    char now[TB_MOMENT_LEN + 1];
    char person[TB_ID_LEN + 1];
    char *who, *verb, *subject;
    char before[TB_DIGEST_HEX];
};

/* A book in memory that has all tables and nothing in them; foreign keys are off. Then its site, once there is one. */
tb_rc tb_book_in_memory(struct tb_book **out, struct tb_err *err);
tb_rc tb_book_load_site(struct tb_book *b, struct tb_err *err);

/* A failure of the store as a sentence for the bench and a detail for the log. */
tb_rc tb_store_failed(struct tb_err *err, sqlite3 *db, int code);
tb_rc tb_exec(struct tb_book *b, const char *sql, struct tb_err *err);

/* Canonical form of values, for digests: a letter for the kind, then the value. docs/book.md states it. */
void tb_canon_text(struct tb_text *t, const char *s);
void tb_canon_whole(struct tb_text *t, int64_t v);
void tb_canon_number(struct tb_text *t, double v);
void tb_canon_bytes(struct tb_text *t, const void *p, size_t n);

/* Digest of a journal row from all its other columns. */
void tb_journal_digest(char out[TB_DIGEST_HEX], const struct tb_journal_row *row);
/* The content column: JSON of the tables written, by name. Yours to free. */
char *tb_journal_content(struct tb_book *b);

#endif
