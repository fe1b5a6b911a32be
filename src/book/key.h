/* key.h - the signing key of a book: its file, and what is signed with it (docs/proof.md). Private to src/book. */
#ifndef TENTERBOOK_BOOK_KEY_H
#define TENTERBOOK_BOOK_KEY_H

#include "book/private.h"

/* What a head is signed over: a word, the number of the journal row, its digest. Part of the file format. */
#define TB_HEAD_BYTES (17 + 8 + TB_HASH)
/* What a key is vouched for by the one before it: a word, the old key, the new one. */
#define TB_HANDOVER_BYTES (16 + 2 * crypto_sign_PUBLICKEYBYTES)
#define TB_SIGNATURE_HEX (2 * crypto_sign_BYTES + 1)

/* The file with the key of a book: the one TENTERBOOK_KEY names, else its setting key_file, else BOOK.key beside it. Yours to free. */
tb_rc tb_key_file(char **out, struct tb_book *b, struct tb_err *err);
/* A new key, from the system's random numbers. */
void tb_key_draw(struct tb_key *out);
/* What a pass phrase makes of the seed of a key: salt, nonce, box. */
#define TB_LOCKED_BYTES                                                                                      \
    (crypto_pwhash_SALTBYTES + crypto_secretbox_NONCEBYTES + crypto_secretbox_MACBYTES +                     \
     crypto_sign_SEEDBYTES)
#define TB_LOCKED_HEX (2 * TB_LOCKED_BYTES + 1)
tb_rc tb_key_lock(char out[TB_LOCKED_HEX], const unsigned char seed[crypto_sign_SEEDBYTES], const char *pass,
                  struct tb_err *err);
/* Back, with the pass phrase that is asked for. Fails: TB_EREFUSED another pass phrase; TB_EIO nobody gave one. */
tb_rc tb_key_unlock(unsigned char seed[crypto_sign_SEEDBYTES], const char *locked, const char *file,
                    struct tb_err *err);
/*
 * Write a key to a file that only its owner may read; it gets its name when it is whole. pass NULL: it is not locked.
 * Fails: TB_EEXISTS something is there; TB_EIO.
 */
tb_rc tb_key_write(const char *file, const struct tb_key *key, const char *pass, struct tb_err *err);
/* Read it. Fails: TB_ENOTFOUND no such file; TB_EIO not to be read; TB_EFORMAT it holds no key; as tb_key_unlock. */
tb_rc tb_key_read(struct tb_key *out, const char *file, struct tb_err *err);

/* A signature as hexadecimal digits. */
void tb_key_sign(char out[TB_SIGNATURE_HEX], const struct tb_key *key, const void *bytes, size_t n);
/* The bytes that are signed; false where a digest or a key is not 64 digits. */
bool tb_head_bytes(unsigned char out[TB_HEAD_BYTES], int64_t number, const char *digest);
bool tb_handover_bytes(unsigned char out[TB_HANDOVER_BYTES], const char *from, const char *to);
/* Is this the signature of the head by this key; and did the key `from` vouch for `to`? */
bool tb_head_signed(const char *signature, const char *public, int64_t number, const char *digest);
bool tb_key_vouched(const char *handover, const char *from, const char *to);

/* The keys of a book as it or a case of it tells them, in the order in which they were taken: entries rise. Borrowed. */
struct tb_keys {
    const struct tb_signing_key *key;
    size_t n;
};
/* The key that counted for a row: the latest that was taken by then. NULL: there was none yet. */
const struct tb_signing_key *tb_key_at(const struct tb_keys *k, int64_t number);
/* The first key with a handover that is not by the key before it, which would only seem to say something; NULL: there is none. */
const struct tb_signing_key *tb_keys_misfit(const struct tb_keys *k);
/*
 * From where a known key first counted it is trusted, and each key after it that the one before vouched for, up to the one
 * that counted for row `number`; later ones say nothing of that row.
 *   met     whether the known key is among them: where it is not, nothing is trusted
 *   result  the first of them behind the known key that is not trusted; NULL: there is none
 */
const struct tb_signing_key *tb_keys_untrusted(bool *met, const struct tb_keys *k, int64_t number,
                                               const char *known);

/* Called before a transaction begins, so that nobody waits for a person who types. Fails: TB_EREFUSED a wrong pass phrase. */
tb_rc tb_sign_prepare(struct tb_book *b, struct tb_err *err);
/* Called as a transaction begins: find the key, and make the book's first one where there is none. */
tb_rc tb_sign_begin(struct tb_book *b, struct tb_err *err);
/* Sign the journal row that is about to be committed, where the key is at hand. */
tb_rc tb_sign_head(struct tb_book *b, const char *digest, struct tb_err *err);
/* Check every signature of the book, and against held->key where there is one; in a look. */
tb_rc tb_prove_signatures(struct tb_proof *p, struct tb_book *b, const struct tb_held *held,
                          struct tb_err *err);
/* Check the last signature of the book alone, which covers every row before it; in a look. */
tb_rc tb_prove_last_signature(struct tb_proof *p, struct tb_book *b, struct tb_err *err);

#endif
