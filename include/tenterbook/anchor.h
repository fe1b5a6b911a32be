/*
 * anchor.h - what somebody holds outside of a book, and the proof of the book against it (docs/proof.md).
 *
 * A book that agrees with itself may still have been shortened, or written anew by whoever can write the file. Number and
 * digest of one journal row, noted where that person cannot change them, show it: they fix that row and every row before.
 */
#ifndef TENTERBOOK_ANCHOR_H
#define TENTERBOOK_ANCHOR_H

#include "tenterbook/book.h"

/* One journal row as it was noted elsewhere. */
struct tb_anchor {
    int64_t number;  /* of the row, from 1 */
    char digest[65]; /* 64 hexadecimal digits, small letters */
};

/*
 * tb_anchor_read - "NUMBER:DIGEST"; blanks or a comma may stand for the colon, and capitals for small letters, since it may have
 * been typed from paper.
 *   fails  TB_EINVAL anything else
 */
tb_rc tb_anchor_read(struct tb_anchor *out, const char *text, struct tb_err *err);

/* What a book is held against. */
struct tb_held {
    const struct tb_anchor *anchor; /* rows that were noted; borrowed */
    size_t anchors;
};

/*
 * tb_book_prove_held - tb_book_prove, and see that every noted row is there with the digest that was noted.
 *   out  `elsewhere` is set where that is what does not fit
 */
tb_rc tb_book_prove_held(struct tb_proof *out, struct tb_book *b, const struct tb_held *held,
                         struct tb_err *err);

#endif
