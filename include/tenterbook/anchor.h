/*
 * anchor.h - what somebody holds outside of a book, and the proof of the book against it (docs/proof.md).
 *
 * A book that agrees with itself may still have been shortened, or written anew by whoever can write the file. Number and
 * digest of one journal row, noted where that person cannot change them, show it: they fix that row and every row before.
 */
#ifndef TENTERBOOK_ANCHOR_H
#define TENTERBOOK_ANCHOR_H

#include "tenterbook/book.h"

/* One journal row as it was noted elsewhere. Members that were not noted are "". */
struct tb_anchor {
    char site[5];        /* code of the site the book is of */
    int64_t number;      /* of the row, from 1 */
    char digest[65];     /* 64 hexadecimal digits, small letters */
    char key[65];        /* the public key that signed it */
    char signature[129]; /* 128 hexadecimal digits */
};

/* tb_anchor_now - the last row of the book, with its signature where it is signed. */
tb_rc tb_anchor_now(struct tb_anchor *out, struct tb_book *b, struct tb_err *err);
/* tb_anchor_of_look - the same for a caller that looks at one state of the book already: the row its papers speak of. */
tb_rc tb_anchor_of_look(struct tb_anchor *out, struct tb_book *b, struct tb_err *err);
/* tb_anchor_line - all of it: "SITE:NUMBER:DIGEST:KEY:SIGNATURE", without the last two where it is not signed. */
void tb_anchor_line(struct tb_text *out, const struct tb_anchor *a);
/* tb_anchor_spell - "NUMBER: DIGEST", the digest in groups of four, to be read out or written down. */
void tb_anchor_spell(struct tb_text *out, const struct tb_anchor *a);
/*
 * tb_anchor_read - what those two write, or "NUMBER:DIGEST"; blanks are passed over, a comma may stand for a colon and capitals
 * for small letters, since it may have been typed from paper.
 *   fails  TB_EINVAL anything else, or a signature that is not of this row by this key
 */
tb_rc tb_anchor_read(struct tb_anchor *out, const char *text, struct tb_err *err);

/* What a book is held against. */
struct tb_held {
    const struct tb_anchor *anchor; /* rows that were noted; borrowed */
    size_t anchors;
    const char *key; /* the public key that must have signed it, 64 hexadecimal digits; NULL: none is known */
    const char *
        authority; /* a file of certificates (PEM): each time stamp must be signed under one of them; NULL: none is named */
};

/*
 * tb_book_prove_held - tb_book_prove, and see that every noted row is there with the digest that was noted, and that the last
 * row is signed by the known key or by one that it vouched for, over however many others.
 *   out  `elsewhere` is set where that is what does not fit
 */
tb_rc tb_book_prove_held(struct tb_proof *out, struct tb_book *b, const struct tb_held *held,
                         struct tb_err *err);

/* ---- time stamps --------------------------------------------------------------------------------------- */

/*
 * tb_anchor_request - a request to a time-stamping authority (RFC 3161, DER) for the last row, with a nonce.
 *   a  that row
 */
tb_rc tb_anchor_request(struct tb_text *out, struct tb_anchor *a, struct tb_book *b, struct tb_err *err);

struct tb_stamp_files {
    const char *reply, *request; /* what the authority answered, to what */
    const char *authority;       /* certificates that are trusted, PEM */
};
/*
 * tb_anchor_stamp - check a reply, and take it into the journal as a fact.
 *   out    the row it is of, and what it shows
 *   fails  TB_ENOTFOUND, TB_EIO a file; TB_EFORMAT it is no reply, no request, no certificate; TB_EREFUSED it answers another
 *          request, is of another book, is not signed under one of the certificates now, or was taken in before; the rest as
 *          tb_book_begin
 */
tb_rc tb_anchor_stamp(struct tb_stamped *out, struct tb_book *b, const char *who,
                      const struct tb_stamp_files *files, struct tb_err *err);

/* ---- signing keys -------------------------------------------------------------------------------------- */

/* A key the book was signed with, as it holds it. */
struct tb_signing_key {
    const char *public;   /* Ed25519, 64 hexadecimal digits */
    const char *handover; /* the signature of the key before it, "" where that one was not at hand */
    int64_t entry;        /* journal row from which on it counts */
};
/* tb_signing_key_list - all of them, in the order in which they counted. */
tb_rc tb_signing_key_list(struct tb_signing_key **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err);

/* The key that counts now, and the file with its secret half: TENTERBOOK_KEY, else the setting key_file, else BOOK.key
 * beside the book. */
struct tb_key_state {
    const char *public; /* "" the book has none yet: the next record makes it */
    const char *file;
    const char *held; /* public half of the key in the file; "" there is none */
    const char *why;  /* why the file gives none, a sentence; "" it gives one */
    bool at_hand;     /* the file holds the book's key: what is recorded is signed */
};
/* tb_key_state_of - look for it, without telling anybody what is secret. */
tb_rc tb_key_state_of(struct tb_key_state *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_key_public - the public key that a text is, or that the key file of that name holds.
 *   out    64 hexadecimal digits
 *   fails  TB_ENOTFOUND, TB_EIO, TB_EFORMAT: neither
 */
tb_rc tb_key_public(char out[65], const char *text_or_file, struct tb_err *err);
/*
 * tb_key_make - a new key in a file of mode 0600.
 *   out    its public half, 64 hexadecimal digits
 *   pass   the pass phrase that locks it; NULL: none does
 *   fails  TB_EEXISTS something is there; TB_EIO
 */
tb_rc tb_key_make(char out[65], const char *file, const char *pass, struct tb_err *err);
#define TB_PASS_MOST 1000 /* bytes of a pass phrase */
/* Puts the pass phrase of a locked key file, size bytes with its NUL; false: nobody gives one, and nothing is signed. */
typedef bool tb_pass_fn(void *arg, char *out, size_t size, const char *file);
/* tb_key_on_pass - who is asked for pass phrases in this program; before anything is written. No lock is held meanwhile. */
void tb_key_on_pass(tb_pass_fn *ask, void *arg);
/*
 * tb_key_take - record that the key in the file `from` counts from here on; it signs that row itself.
 *   vouched  becomes true where the key before it was at hand and signed the new one
 *   fails    TB_EREFUSED it counts already; the file as tb_key_public; the rest as tb_book_begin
 */
tb_rc tb_key_take(bool *vouched, struct tb_book *b, const char *who, const char *from, struct tb_err *err);

#endif
