/*
 * dispute.h - what the book keeps of claims: terms of suppliers, goods taken into use, joint samples, disputes. What they
 * come to for a lot on a day is in lot_claim.h. The rules for reading and writing are those of book.h.
 */
#ifndef TENTERBOOK_DISPUTE_H
#define TENTERBOOK_DISPUTE_H

#include "tenterbook/book.h"
#include "tenterbook/claim.h"
#include "tenterbook/holder.h"

/* ---- terms: the latest of a supplier, of a country, of everybody ------------------------------------------- */

/* By when a fault must be told to a supplier. */
struct tb_supplier_term {
    const char *id;
    const char *supplier;      /* id; NULL: every supplier of the country, or (country "") everybody */
    const char *supplier_name; /* read-only; NULL */
    const char *country;       /* of the supplier, ISO 3166-1 alpha-2; "" not said */
    const char *laws;          /* keys of rows of claim.h, separated by spaces; "" none */
    int open_days,
        hidden_days; /* own term for faults that an examination shows, and that it does not; TB_CLAIM_NO_TERM */
    bool working;    /* working days */
    bool before_cutting;                    /* and in any case before the first cut */
    const char *stands_in;                  /* contract, order ...; "" not said */
    const char *set_at, *set_by /* name */; /* read-only */
};
/*
 * tb_supplier_term_add - record one: fills id and set_at.
 *   fails  TB_EINVAL a country that is not a code, days out of range; TB_ENOTFOUND a law that is not in the table
 */
tb_rc tb_supplier_term_add(struct tb_supplier_term *t, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err);
/* tb_supplier_terms - those in force for a supplier, the nearest first: its own, its country's, everybody's. */
tb_rc tb_supplier_terms(struct tb_supplier_term **out, size_t *n, struct tb_book *b, const char *supplier_id,
                        struct tb_arena *mem, struct tb_err *err);
/* tb_supplier_term_list - all in force: suppliers by name, then countries, then everybody. */
tb_rc tb_supplier_term_list(struct tb_supplier_term **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err);

/* ---- goods taken into use ---------------------------------------------------------------------------------- */

/* A cut into a bolt, or a record that takes one back. */
struct tb_bolt_use {
    const char *id, *bolt;   /* id of the bolt */
    bool used;               /* false: takes back the one it replaces */
    double metres;           /* NAN: the whole bolt, or not said */
    const char *why;         /* "" not said */
    bool anyway;             /* although the lot was held or a dispute was open */
    const char *used_at;     /* moment */
    const char *used_by;     /* read-only: name */
    const char *replaces;    /* id of the use that is taken back; NULL */
    const char *bolt_number; /* read-only */
};
/*
 * tb_bolt_use_add - record one of a bolt: fills id and bolt; used_at becomes now where it is NULL.
 *   fails  TB_EINVAL: more metres than the bolt has, a moment that is not valid, nothing to take back
 */
tb_rc tb_bolt_use_add(struct tb_bolt_use *u, struct tb_book *b, const struct tb_bolt *bolt,
                      struct tb_arena *mem, struct tb_err *err);
/* Metres that were cut off a bolt, of n uses that count; those of which the metres were not said are none. */
double tb_bolt_cut_off(const struct tb_bolt_use *use, size_t n, const char *bolt_id);
/* Was a bolt used without its metres, which is the whole of it? */
bool tb_bolt_used_whole(const struct tb_bolt_use *use, size_t n, const char *bolt_id);
#define TB_METRES_SLACK 0.005 /* what rounding to centimetres may leave */
/* tb_bolt_use_list - cuts into bolts of a lot that count: what was taken back is left out. */
tb_rc tb_bolt_use_list(struct tb_bolt_use **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

/* ---- joint samples ----------------------------------------------------------------------------------------- */

struct tb_joint_piece {
    const char *swatch; /* id */
    enum tb_holder_kind holder;
    const char *tag, *bolt_number, *kept; /* read-only */
    enum tb_part_kind part;               /* read-only */
};
/* Retained swatches of a lot, dealt at random to the supplier, a laboratory and the own shelf. */
struct tb_joint_sample {
    const char *id, *lot;       /* id of the lot */
    int64_t serial;             /* 1, 2 ... within the lot */
    int64_t swatches, each_one; /* dealt from so many; so many to the supplier, and to the laboratory */
    const char *seed;           /* deals the same again */
    const char *laboratory, *rule, *present;    /* agreed on; who was there; "" not said */
    const char *dealt_at, *dealt_by /* name */; /* read-only */
    struct tb_joint_piece *piece;               /* by tag */
    size_t pieces;
};
/* tb_joint_sample_add - record one with its pieces: fills id, serial and dealt_at. TB_EINVAL: a swatch was dealt before. */
tb_rc tb_joint_sample_add(struct tb_joint_sample *j, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err);
/* tb_joint_sample_list - those of a lot, with their pieces. */
tb_rc tb_joint_sample_list(struct tb_joint_sample **out, size_t *n, struct tb_book *b, const char *lot_id,
                           struct tb_arena *mem, struct tb_err *err);

/* ---- disputes ---------------------------------------------------------------------------------------------- */

/* What happened in a dispute: opened, the supplier was told, answered, a remedy was agreed, some of it came in, it is over. */
enum tb_step_kind { TB_STEP_NONE, TB_OPENED, TB_NOTIFIED, TB_ANSWERED, TB_AGREED, TB_RECOVERED, TB_CLOSED };
/* "", "opened", "notified", "answered", "agreed", "recovered", "closed": what the book and JSON say. */
extern const struct tb_words tb_step_words;
/* tb_step_key - the word of one of them; static text. */
const char *tb_step_key(enum tb_step_kind s);

/* What is agreed in the end. */
enum tb_remedy_kind { TB_REMEDY_NONE, TB_CREDIT, TB_RETURN, TB_RELABEL, TB_REPLACEMENT };
/* "", "credit", "return", "relabel", "replacement" */
extern const struct tb_words tb_remedy_words;
/* tb_remedy_key - the word of one of them; static text. */
const char *tb_remedy_key(enum tb_remedy_kind r);

struct tb_dispute_step {
    const char *id, *day; /* day on which it happened */
    enum tb_step_kind step;
    enum tb_remedy_kind remedy;  /* of TB_AGREED, and of no other */
    const char *words;           /* what is claimed, was answered, how it ended */
    const char *due;             /* TB_NOTIFIED: answer by; TB_AGREED: done by; NULL not said */
    const char *channel, *proof; /* TB_NOTIFIED: how it was sent, and the proof of it; "" */
    double amount;               /* claimed, offered, agreed; of TB_RECOVERED and TB_CLOSED what came in with
                                    this step; NAN not said */
    const char *currency;        /* ISO 4217; "" no amount */
    const char *document;        /* id of the attachment that was sent or received; NULL */
    const char *keep_until;      /* TB_CLOSED: the file is kept at least so long; NULL */
    const char *recorded_at, *recorded_by /* name */; /* read-only */
    const char *document_name, *document_sha256;      /* read-only; "" none */
    const char *dispute;                              /* read-only: its id */
};
struct tb_dispute {
    const char *id, *lot;         /* id of the lot */
    int64_t serial;               /* 1, 2 ... within the lot */
    const char *found_on;         /* day the fault was found; NULL: not said */
    struct tb_dispute_step *step; /* as they were recorded; the first is TB_OPENED */
    size_t steps;
};
/*
 * tb_dispute_open - open a dispute about d->lot: fills id and serial; `opened` becomes its first step, by reference.
 *   fails  TB_EEXISTS one is open; TB_EINVAL fields that do not fit the step, a day of discovery after it
 */
tb_rc tb_dispute_open(struct tb_dispute *d, struct tb_book *b, struct tb_dispute_step *opened,
                      struct tb_arena *mem, struct tb_err *err);
/*
 * tb_dispute_step_add - the next step of a dispute that is open: fills id and recorded_at.
 *   fails  TB_EREFUSED out of turn; TB_EINVAL fields that do not fit the step
 */
tb_rc tb_dispute_step_add(struct tb_dispute_step *s, struct tb_book *b, const struct tb_dispute *d,
                          struct tb_arena *mem, struct tb_err *err);
/* tb_dispute_list - the disputes about a lot, with their steps. */
tb_rc tb_dispute_list(struct tb_dispute **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err);
/* tb_dispute_step_voided_list - steps of disputes about a lot that are void, of all its disputes. */
tb_rc tb_dispute_step_voided_list(struct tb_dispute_step **out, size_t *n, struct tb_book *b,
                                  const char *lot_id, struct tb_arena *mem, struct tb_err *err);
/* Bolts of a lot, and their length; NAN where that of one is not known. */
struct tb_claimed_part {
    int64_t bolts;
    double metres; /* of those whose length is known; NAN: none is */
    double kg;     /* of those whose length is not known */
};
/* tb_claimed_part_of - what of a lot is held or went back, each bolt as it stands. */
tb_rc tb_claimed_part_of(struct tb_claimed_part *out, struct tb_book *b, const struct tb_lot *lot,
                         struct tb_err *err);
/* tb_dispute_now - the one that is open; TB_ENOTFOUND, without a sentence, when none is. */
tb_rc tb_dispute_now(struct tb_dispute *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                     struct tb_err *err);
/* tb_dispute_last - the last step of this kind, borrowed from d; NULL when there is none. */
const struct tb_dispute_step *tb_dispute_last(const struct tb_dispute *d, enum tb_step_kind step);

/* Amounts that differ by less than half of this are the same. */
#define TB_CENT 0.01
/* tb_dispute_recovered - what came in so far in this money; 0 nothing did. */
double tb_dispute_recovered(const struct tb_dispute *d, const char *currency);
/* tb_dispute_awaited - what of the amount of a step did not come in yet in its money; 0 all of it has, NAN no amount was said. */
double tb_dispute_awaited(const struct tb_dispute *d, const struct tb_dispute_step *of);

/* A verdict against the words of a lot: the day it was given, its journal row with its verb, and the bolts that contradict alone. */
struct tb_verdict_against {
    const char *day;
    int64_t entry;
    const char *verb, *against; /* numbers of bolts, one a line */
};
/* A burn or a test: the day it was made, the day it was written down, its journal row, the number of its bolt ("" none). */
struct tb_looked_at {
    const char *day, *typed;
    int64_t entry;
    const char *number;
    bool corrects, counts;
};
tb_rc tb_verdict_against_list(struct tb_verdict_against **out, size_t *n, struct tb_book *b,
                              const char *lot_id, struct tb_arena *mem, struct tb_err *err);
tb_rc tb_looked_at_list(struct tb_looked_at **out, size_t *n, struct tb_book *b, const char *lot_id,
                        struct tb_arena *mem, struct tb_err *err);
/* When a fault was found. */
struct tb_discovery {
    const char *day;   /* NULL: nothing was found */
    const char *typed; /* day it was written down, where that is a later one; NULL */
    const char *by;    /* "verdict", "analysis", ""; static text */
};
/*
 * tb_discovery_of - the day a fault was seen, by the verdicts against it and what they rest on, both in the order of the journal.
 *
 * A fault is found when it is seen, not when that is typed up. The first verdict against the words counts, with the burns and tests that
 * its journal row brought: the earliest day of those whose bolt contradicts by itself, else of all of them. Where the row corrected,
 * moved or took back something, what was left shows the fault: the latest day of what counts by then. Where it brought nothing of the
 * kind (other words, other reference tables), the fault was found on the day of the verdict. What was typed later and was seen earlier
 * counts where its bolt contradicts by itself.
 *   out    text borrowed from the rows
 */
void tb_discovery_of(struct tb_discovery *out, const struct tb_verdict_against *f, size_t n,
                     const struct tb_looked_at *seen, size_t seens);
/* tb_lot_discovered - the same of a lot, or the day of its first analysis that does not conform, whichever is earlier. Text in mem. */
tb_rc tb_lot_discovered(struct tb_discovery *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                        struct tb_err *err);
/* tb_claim_lots - references of the lots that are held, in dispute, waiting although a fault was found, or returned without a
 * dispute, by day of arrival. */
tb_rc tb_claim_lots(const char ***ref, size_t *n, struct tb_book *b, struct tb_arena *mem,
                    struct tb_err *err);

#endif
