/*
 * stamp.h - time stamps of journal rows (RFC 3161): a request, and what a reply shows. Private to src/book.
 *
 * The imprint is the SHA-256 of the bytes that a signature of the row is over (key.h), so that a stamp fixes number and digest.
 * All is done on bytes in memory, by OpenSSL's TS interface; the program never talks to anybody.
 */
#ifndef TENTERBOOK_BOOK_STAMP_H
#define TENTERBOOK_BOOK_STAMP_H

#include "book/private.h"

/* Certificates that are trusted. NULL: none are named, and no signature is checked. */
struct tb_stamp_trust;
/* From a file of certificates in PEM. Fails: TB_ENOTFOUND, TB_EIO; TB_EFORMAT it holds none. Free it with tb_stamp_trust_free. */
tb_rc tb_stamp_trust_read(struct tb_stamp_trust **out, const char *path, struct tb_err *err);
void tb_stamp_trust_free(struct tb_stamp_trust *t);

struct tb_stamp_shown {
    char at[TB_MOMENT_LEN + 1]; /* the moment it shows, without parts of a second */
    char by[160];               /* name of the certificate that signed it; "" it brings none */
    unsigned char imprint[TB_HASH];
};

/* A request for the head of a row, with a nonce, that asks for the certificate: DER. Fails: TB_EIO. */
tb_rc tb_stamp_ask(struct tb_text *out, int64_t number, const char *digest, struct tb_err *err);
/* The imprint of the head of a row; false where the digest is not 64 digits. */
bool tb_stamp_imprint(unsigned char out[TB_HASH], int64_t number, const char *digest);
/* What a reply shows. Fails: TB_EFORMAT it is none, or the authority refused. Nothing is trusted yet. */
tb_rc tb_stamp_show(struct tb_stamp_shown *out, const void *reply, size_t size, struct tb_err *err);
/*
 * Does the reply have this imprint, and is it signed by somebody who is trusted? With `request`, bytes of the one that was sent, it
 * must answer that very request. Certificates must be good now with `request`, and at the moment it shows without.
 *   fails  TB_EREFUSED with the reason
 */
tb_rc tb_stamp_check(const void *reply, size_t size, const unsigned char imprint[TB_HASH],
                     const struct tb_text *request, const struct tb_stamp_trust *trust, struct tb_err *err);

/* Check every time stamp of the book, and against held->authority where there is one; in a look. */
tb_rc tb_prove_stamps(struct tb_proof *p, struct tb_book *b, const struct tb_held *held, struct tb_err *err);

#endif
