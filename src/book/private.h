/* private.h - what the files of src/book share about an open book. */
#ifndef TENTERBOOK_BOOK_PRIVATE_H
#define TENTERBOOK_BOOK_PRIVATE_H

#include "book/db.h"
#include "book/share.h"
#include "book/stmt.h"
#include "book/tree.h"
#include "tenterbook/anchor.h"

#include <sodium.h>

#define TB_DIGEST_HEX 65
/* How a journal row covers its facts (docs/book.md, "Digests"): by one digest for each table; by a tree for each table; by that
 * and the share of each lot. */
#define TB_RULE_TABLES 1
#define TB_RULE_TREES 2
#define TB_RULE_SHARES 3
#define TB_FACT_TABLES_MOST 64

/* A signing key: its public half as 64 hexadecimal digits, "" where there is none; both halves as libsodium keeps them. */
struct tb_key {
    char public[TB_DIGEST_HEX];
    unsigned char secret[crypto_sign_SECRETKEYBYTES];
};

/* One fact table: how it is read back for proof, and what was written to it in this transaction. */
struct tb_fact_table {
    const char *name;
    enum tb_sql read; /* statement facts_NAME */
    struct tb_tree tree;
    char last_id[TB_ID_LEN + 1];
};

struct tb_book {
    struct tb_db *db;
    char *path;
    struct tb_fact_table table[TB_FACT_TABLES_MOST];
    size_t tables;
    struct tb_arena mem; /* the site's text */
    struct tb_site site;
    /* the transaction, when one is open */
    bool writing, committing;
    int offered;        /* how often names were looked for that are nearly the one that was typed */
    bool index_dropped; /* bolts come in bulk: the index by number is built at the end */
    int64_t entry;
    char now[TB_MOMENT_LEN + 1];
    char person[TB_ID_LEN + 1], key[TB_ID_LEN + 1];
    char *who, *verb, *subject;
    /* what was committed since the book was opened: how many rows, and the last of them */
    int64_t done;
    int64_t done_entry, done_step;
    char *done_verb, *done_subject;
    char before[TB_DIGEST_HEX], before_at[TB_MOMENT_LEN + 1]; /* digest and moment of the row before */
    unsigned char salt[TB_HASH]; /* of the journal row: every nonce under it follows from it */
    json_t *aside;               /* what the row keeps for the house alone; NULL: nothing yet */
    struct tb_shares shares;     /* of which lots something is written, and what */
    char owned[TB_ID_LEN + 1], owner[TB_ID_LEN + 1]; /* the fact whose lot was asked for last, and its lot */
    struct tb_key signer;                            /* what the key file holds, from the first record on */
    char key_now[TB_DIGEST_HEX];                     /* the public key that counts; "" there is none yet */
    char *key_made;                                  /* its file, where this program made it */
};

/* A book over a database, which it owns from here on. `path` is what people call it by. */
struct tb_book *tb_book_of(struct tb_db *db, const char *path);
/* A book in memory that has all tables and nothing in them; references are not checked. Close it with tb_book_close. */
tb_rc tb_book_in_memory(struct tb_book **out, struct tb_err *err);
/* As tb_book_prove, of a file as it lies there; one of an older shape is brought up to date in an image of it, not there. */
tb_rc tb_prove_file(struct tb_proof *out, const char *path, struct tb_err *err);
/* Read the book's site, once there is one; TB_EFORMAT when there is none. */
tb_rc tb_book_load_site(struct tb_book *b, struct tb_err *err);
/* The fact table of this name; NULL when there is none. */
struct tb_fact_table *tb_fact_table(struct tb_book *b, const char *name);
/*
 * tb_fact_written - one more fact was written to a table, in canonical form: it goes into the table's tree and the share of its lot.
 *   owner  what the column that says whose it is holds (tb_owner_of); NULL: nothing
 */
tb_rc tb_fact_written(struct tb_book *b, struct tb_fact_table *t, const struct tb_text *record,
                      const char *owner, struct tb_err *err);
/* tb_shares_subject - the row is about the lot that its subject names, if it names one. */
tb_rc tb_shares_subject(struct tb_shares *s, struct tb_book *b, const char *subject, struct tb_err *err);
/* tb_lot_of_owner - the key of the lot that an owner column names; "" it names none. It stays until the next is asked for. */
tb_rc tb_lot_of_owner(const char **lot, struct tb_book *b, const struct tb_owner *o, const char *owner,
                      struct tb_err *err);

/* Canonical form of values, for digests: a letter for the kind, then the value. docs/book.md states it. */
void tb_canon_text(struct tb_text *t, const char *s); /* up to its NUL; NULL: nothing */
void tb_canon_whole(struct tb_text *t, int64_t v);
void tb_canon_number(struct tb_text *t, double v); /* NAN: nothing */
/* Bytes: themselves under the rule of tables, their SHA-256 under that of trees. */
void tb_canon_bytes(struct tb_text *t, const void *p, size_t n, int64_t rule);
void tb_canon_digest(struct tb_text *t, size_t n,
                     const char *hex); /* n bytes under the rule of trees, by their digest */
void tb_canon_value(struct tb_text *t, const struct tb_value *v, int64_t rule);

/* The nonce of fact number `at` (from 0) that a journal row with this salt recorded in a table. */
void tb_fact_nonce(unsigned char out[TB_HASH], const unsigned char salt[TB_HASH], const char *table,
                   uint64_t at);
/* The nonce of the journal row itself. */
void tb_journal_nonce(unsigned char out[TB_HASH], const unsigned char salt[TB_HASH]);
/* SHA-256 of what a journal row says under the rules of trees and shares, and from it and the row before, the digest of the row. */
void tb_journal_header(unsigned char out[TB_HASH], const struct tb_journal_row *row,
                       const unsigned char nonce[TB_HASH]);
/* shares: the root over the shares of its lots; NULL under the rule of trees, which has none. */
void tb_journal_link(unsigned char out[TB_HASH], const unsigned char before[TB_HASH],
                     const unsigned char about[TB_HASH], const unsigned char *shares,
                     const unsigned char header[TB_HASH]);
/*
 * Which lots a row is about, for somebody who may ask that of one lot and must not learn the others: a nonce, and of each lot
 * the tag SHA-256(nonce | key). The digest is over the tags alone.
 */
void tb_about_nonce(unsigned char out[TB_HASH], const unsigned char salt[TB_HASH]);
void tb_about_tag(unsigned char out[TB_HASH], const unsigned char nonce[TB_HASH], const char *lot_id);
/*
 * The tags of the keys in a journal row are added, and the share that stands behind each key; shares NULL: the rule has none.
 * False where the text is not keys with a space between.
 */
bool tb_about_tags(struct tb_text *tags, struct tb_text *shares, const unsigned char nonce[TB_HASH],
                   const char *about);
/* The root over shares, `size` bytes of them in the order of the tags. */
void tb_shares_root(unsigned char out[TB_HASH], const void *shares, size_t size);
void tb_about_hash(unsigned char out[TB_HASH], const void *tags, size_t size);
/* The last journal row, in mem; as it stands before the first: number 0, 64 zeros, no moment. */
tb_rc tb_book_end(struct tb_journal_head *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* Digest of a journal row from all its other columns, by its rule; "" where salt or the digest before are no 64 digits. */
void tb_journal_digest(char out[TB_DIGEST_HEX], const struct tb_journal_row *row);

/* A hash as 64 hexadecimal digits, and back: false where the text is anything else. */
void tb_hash_hex(char out[TB_DIGEST_HEX], const unsigned char hash[TB_HASH]);
bool tb_hash_of_hex(unsigned char out[TB_HASH], const char *hex);

/* What the row that is open keeps beside it, as text, yours to free; its digest; and whether that of a row is the one its content names. */
char *tb_aside_text(const struct tb_book *b);
void tb_aside_digest(char out[TB_DIGEST_HEX], const unsigned char salt[TB_HASH], const char *text);
bool tb_aside_fits(const struct tb_journal_row *j, const json_t *content);

/* A SHA-256 being taken of facts, and its end as hexadecimal digits. */
void tb_digest_end(char out[TB_DIGEST_HEX], crypto_hash_sha256_state *hash);
/* The SHA-256 of bytes that are there already, likewise. */
void tb_digest_of(char out[TB_DIGEST_HEX], const void *bytes, size_t n);

#endif
