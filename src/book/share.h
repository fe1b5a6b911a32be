/*
 * share.h - what a journal row recorded of each lot: a digest over exactly its facts, so that a case can show that it holds
 * all of them (docs/book.md, "Digests"). Private to src/book.
 */
#ifndef TENTERBOOK_BOOK_SHARE_H
#define TENTERBOOK_BOOK_SHARE_H

#include "book/tree.h"
#include "tenterbook/date.h"

#include <sodium.h>

/* How the lot of a fact is found. */
struct tb_owner {
    const char *table, *column;
    bool direct; /* the column holds the key of the lot; else the key of a fact of the same lot */
    bool told;   /* its facts are in the share of the lot */
};
/* NULL: facts of this table are of no lot, or of several. */
const struct tb_owner *tb_owner_of(const char *table);

/* The facts of one lot in one table, as they come. */
struct tb_lot_share {
    char lot[TB_ID_LEN + 1];
    const char *table; /* borrowed; "": the row is about the lot, whatever it recorded of it */
    crypto_hash_sha256_state hash;
};
/* The shares of one journal row. Begin with { 0 }. */
struct tb_shares {
    struct tb_lot_share *share;
    size_t n, cap, last;
    size_t *slot, slots; /* by lot and table: place in the list, from 1; 0 free */
};

/* The row is about this lot; one more fact of it, by its leaf. What is no key of a lot is passed over. */
void tb_shares_lot(struct tb_shares *s, const char *lot);
void tb_shares_fact(struct tb_shares *s, const char *lot, const char *table,
                    const unsigned char leaf[TB_HASH]);
/* The column about of the row: "KEY:DIGEST KEY:DIGEST", by key. */
void tb_shares_about(struct tb_text *out, struct tb_shares *s);
/* The digest of the one lot that was added; of nothing where none was. */
void tb_shares_one(unsigned char out[TB_HASH], struct tb_shares *s);
void tb_shares_clear(struct tb_shares *s);
void tb_shares_free(struct tb_shares *s);

#endif
