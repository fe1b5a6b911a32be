/*
 * extract.h - all the book holds about one lot, taken out so that a stranger can check it without the book.
 *
 * An extract is JSON: "facts", for each table the rows as they were written; "trees", what is needed beside them to compute
 * the digests of the journal rows that recorded them; "journal", from the first row to the last, in full where it recorded
 * one of the facts; "head", where it ended, with signature and time stamps (docs/reports.md, "The attached data"). It holds nothing of other lots. From it the
 * part of the book can be built again in memory, its digests computed, its verdict judged.
 */
#ifndef TENTERBOOK_EXTRACT_H
#define TENTERBOOK_EXTRACT_H

#include "tenterbook/anchor.h"

#include <jansson.h>

/* So many bytes of photographs and papers go into an extract; the rest of them are told by size and digest. */
#define TB_EXTRACT_BYTES_MOST (48u << 20)

/*
 * tb_extract_lot - take out what the book holds of a lot, in one state of the book. Of a label of our own and of the verdicts on it
 * only the leaves are there, but of what programs up to shape 4 recorded.
 *
 *   out     a new reference, yours to json_decref
 *   fails   TB_ENOTFOUND: no such lot; TB_EFORMAT: the book does not prove, of which nothing is taken out; what reading the
 *           book answers
 */
tb_rc tb_extract_lot(json_t **out, struct tb_book *b, const char *lot_ref, struct tb_err *err);

/*
 * tb_extract_keep_back_disputes - take the disputes out of an extract again: then it has the form before they were told. Journal
 * rows go on to say that something was recorded of them, and what is missing is counted by tb_extract_prove (kept_back). Of the
 * papers of a dispute, and of what is void of it, the leaves stay.
 */
void tb_extract_keep_back_disputes(json_t *extract);

/* Does it tell a row by its leaf alone? Do the words of a label of our own count, told or kept back? */
bool tb_extract_keeps_back(const json_t *extract);
bool tb_extract_own_words(const json_t *extract);

/* Forms of an extract, by what came with them; those before keep their own rules. The first had one digest for each table. */
#define TB_EXTRACT_FORM_TREES 2
#define TB_EXTRACT_FORM_SHARES 3
#define TB_EXTRACT_FORM_STAMPS 4
#define TB_EXTRACT_FORM_DISPUTES 5
/* Added to a form that tells time stamps: some rows are told by their leaves alone. */
#define TB_EXTRACT_KEEPS 16

/*
 * tb_extract_shape - has it exactly the members that an extract of this form has, each of its kind? What is anybody's goes through
 * this before anything else here reads it.
 *   fails   TB_EFORMAT
 */
tb_rc tb_extract_shape(const json_t *extract, int form, struct tb_err *err);

/*
 * tb_extract_book - build the part of the book again, in memory.
 *
 *   out     only for reading; close it with tb_book_close
 *   fails   TB_EFORMAT: not an extract, a value of the wrong kind, a table this program does not know
 */
tb_rc tb_extract_book(struct tb_book **out, const json_t *extract, struct tb_err *err);

/* A time stamp that an extract brings. */
struct tb_extract_stamp {
    struct tb_stamped shown;
    int64_t facts; /* of those covered by digests computed again, so many are of its row or one before */
    bool trusted;  /* signed under a certificate that is trusted; false: none was named */
    int64_t
        ahead; /* the first row up to its own that says it was written later than the stamp shows; 0: none does */
    char ahead_said[TB_MOMENT_LEN + 1]; /* the moment it says */
};
struct tb_extract_covered {
    int64_t entry, facts;
};
struct tb_extract_proof {
    int64_t journal; /* journal rows whose digest was computed again */
    int64_t named;   /* given by their digest only: older programs leave no more to check */
    int64_t facts;   /* rows of facts covered by a digest computed again */
    int64_t
        partly; /* rows of facts that an older program recorded together with those of other lots: not covered */
    int64_t
        shared; /* journal rows of several lots, by older programs: they do not show that all facts of this one are here */
    int64_t absent; /* photographs and papers left out: their records are proved, their bytes are not here */
    int64_t
        kept_back; /* rows about disputes that journal rows name, or of which the leaves are here, in a file that tells of no disputes */
    int64_t ours;  /* of the facts: rows of a label of our own and of verdicts on it, told by their leaves */
    int64_t
        misnamed; /* of the facts: rows of another supplier, under whom the delivery was booked by mistake, told by their leaves */
    int64_t compared;   /* rows of facts compared with those of a book */
    int64_t beyond;     /* noted rows that the extract does not tell: it cannot be held against them */
    bool beside_book;   /* it was compared with a book, which answers for what no digest here leads to */
    int64_t last;       /* number of the last journal row */
    char digest[65];    /* and its digest */
    int64_t newer_rows; /* from tb_extract_against: rows of the book about the lot after the extract's last */
    struct tb_text newer;               /* they, one a line */
    struct tb_text wrong;               /* what does not fit, one sentence a line; empty when all fits */
    struct tb_extract_covered *covered; /* journal rows, and facts of theirs that are counted in `facts` */
    size_t coverings, room;
    struct tb_extract_stamp *stamp; /* from tb_extract_held; by row */
    size_t stamps;
};
/*
 * tb_extract_prove - compute the digests again.
 *
 *   out     filled also when something does not fit: that is an answer (TB_OK). Free it with tb_extract_proof_free
 *   fails   TB_EFORMAT: a table this program does not know
 */
tb_rc tb_extract_prove(struct tb_extract_proof *out, const json_t *extract, const char *lot_ref,
                       struct tb_err *err);
/* tb_extract_proof_free - free text and lists; does nothing to a zeroed struct. */
void tb_extract_proof_free(struct tb_extract_proof *p);

/*
 * tb_extract_held - hold it against what was noted of the book elsewhere; adds to p->wrong and p->beyond. The signature that the
 * extract brings of its last row, and the rows and moments of its time stamps, are checked in any case.
 *
 *   p      of the same extract, from tb_extract_prove
 *   held   anchors: the row with that number must have that digest; one that the extract does not reach counts in p->beyond.
 *          key: the last row must be signed by it or by one it vouched for. authority: each time stamp must be signed under one
 *          of these certificates. What a note or signature covers is what leads to its row without a break: where rows before are told
 *          in full, and an older program told of one between by its digest alone, that does not fit unless tb_extract_against went
 *          before, whose book is proved by whoever opened it
 *   fails  TB_ENOTFOUND, TB_EIO, TB_EFORMAT the file of certificates; TB_EFORMAT reading the time stamps broke off
 */
tb_rc tb_extract_held(struct tb_extract_proof *p, const json_t *extract, const struct tb_held *held,
                      struct tb_err *err);

/*
 * tb_extract_against - compare every journal row and every fact with a book; adds to p->wrong. What the book holds of the lot
 * up to the extract's last row must be in the extract.
 *
 *   p       of the same extract, from tb_extract_prove
 *   later   rows the book has after the extract's last, whatever they are about; those about the lot are told in p->newer
 *   made    moment the extract was taken: rows of the book about the lot from before it must be there. A case from
 *           which the last burns were left out is sound in itself; this is how it shows
 *   fails   what reading the book answers
 */
tb_rc tb_extract_against(struct tb_extract_proof *p, int64_t *later, const json_t *extract,
                         const char *lot_ref, const char *made, struct tb_book *b, struct tb_err *err);

#endif
