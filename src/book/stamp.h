/*
 * stamp.h - time stamps of journal rows (RFC 3161): a request, and what replies show. Private to src/book.
 *
 * The imprint is the SHA-256 of the bytes that a signature of the row is over (key.h), so that a stamp fixes number and digest.
 * All is done on bytes in memory, by OpenSSL's TS interface; the program never talks to anybody. Replies, requests and
 * certificates are other people's bytes: they are taken to pieces in a process apart.
 */
#ifndef TENTERBOOK_BOOK_STAMP_H
#define TENTERBOOK_BOOK_STAMP_H

#include "book/private.h"

/* A request for the head of a row, with a nonce, that asks for the certificate: DER. Fails: TB_EIO. */
tb_rc tb_stamp_ask(struct tb_text *out, int64_t number, const char *digest, struct tb_err *err);
/* The imprint of the head of a row; false where the digest is not 64 digits. */
bool tb_stamp_imprint(unsigned char out[TB_HASH], int64_t number, const char *digest);

/* A file as bytes. */
struct tb_stamp_file {
    const char *path; /* borrowed */
    struct tb_text bytes;
};
#define TB_STAMP_REPLY_MOST (256u << 10)      /* bytes; real ones have some 6,000 */
#define TB_STAMP_REQUEST_MOST (16u << 10)     /* real ones have some 70 */
#define TB_STAMP_CERTIFICATES_MOST (8u << 20) /* PEM */
/* Fails: TB_ENOTFOUND, TB_EIO; TB_EINVAL larger than that many bytes. Free the text, whatever it answers. */
tb_rc tb_stamp_file_read(struct tb_stamp_file *out, const char *path, size_t most, struct tb_err *err);

/* Bytes of a reply; borrowed. */
struct tb_stamp_reply {
    const void *bytes;
    size_t size;
};
/* What one reply shows, and whether that is believed. Texts are printable. */
struct tb_stamp_seen {
    int32_t
        rc; /* TB_OK; TB_EFORMAT it is no reply, or the authority refused; TB_EREFUSED it is not accepted */
    char why[600];
    struct tb_stamped shown; /* of TB_EREFUSED too; the number is 0 */
    unsigned char imprint[TB_HASH];
};
/* How replies are looked at. */
struct tb_stamp_look {
    const struct tb_stamp_file *trust; /* certificates; NULL: none are named, and no signature is checked */
    const struct tb_stamp_file
        *request;   /* the one that was sent, which must be answered; NULL: it is not known */
    const char *of; /* where the replies come from, for sentences */
};
/*
 * tb_stamps_see - look at n replies, in a process apart.
 *   out    n of them. With a request certificates must be good now, and without at the moment that a reply shows, since they end
 *          long before a book does
 *   fails  TB_EFORMAT a file holds no certificate or no request, or reading broke off; TB_EIO. The sentence names the file
 */
tb_rc tb_stamps_see(struct tb_stamp_seen *out, const struct tb_stamp_reply *reply, size_t n,
                    const struct tb_stamp_look *how, struct tb_err *err);

/* All time stamps of a book, by row and then in the order they were taken in: as stored, and what each shows. In mem. */
struct tb_stamps {
    struct tb_time_stamp *stored;
    struct tb_stamp_seen *seen;
    size_t n;
};
/* trust NULL: as tb_stamp_look. Fails as tb_stamps_see. */
tb_rc tb_stamps_read(struct tb_stamps *out, struct tb_book *b, const struct tb_stamp_file *trust,
                     struct tb_arena *mem, struct tb_err *err);
/* Is it of the row that the fact says, and does it show that moment? */
bool tb_stamp_fits(const struct tb_time_stamp *s, const struct tb_stamp_seen *seen);

/* Check every time stamp of the book, and against held->authority where there is one; in a look. */
tb_rc tb_prove_stamps(struct tb_proof *p, struct tb_book *b, const struct tb_held *held, struct tb_err *err);

/* ---- in the process apart ------------------------------------------------------------------------------ */

/* What replies are held against, read. */
struct tb_stamp_reader {
    struct x509_store_st *store; /* NULL: no signature is checked */
    struct TS_req_st *request;   /* NULL: it is not known */
    const char *path;            /* of the certificates */
};
/* Fails: TB_EFORMAT it is none. NULL: nothing is read. */
tb_rc tb_stamp_read_certificates(struct tb_stamp_reader *r, const struct tb_stamp_file *pem,
                                 struct tb_err *err);
tb_rc tb_stamp_read_request(struct tb_stamp_reader *r, const struct tb_stamp_file *der, struct tb_err *err);
void tb_stamp_reader_see(struct tb_stamp_seen *out, const struct tb_stamp_reader *r,
                         const struct tb_stamp_reply *reply);
void tb_stamp_reader_free(struct tb_stamp_reader *r);

#endif
