/*
 * dispute.h - what the book keeps of claims: terms of suppliers, goods taken into use, joint samples, disputes. What they
 * come to for a lot on a day is in lot_claim.h.
 *
 * As in book.h: reading functions copy text into the caller's arena; writing functions stand between tb_book_begin and
 * tb_book_commit.
 */
#ifndef TENTERBOOK_DISPUTE_H
#define TENTERBOOK_DISPUTE_H

#include "tenterbook/book.h"
#include "tenterbook/claim.h"
#include "tenterbook/holder.h"

/* ---- terms: the latest of a supplier, of a country, of everybody ------------------------------------------- */

struct tb_supplier_term {
    const char *id;
    const char *supplier;       /* id; NULL: every supplier of the country, or (country "") everybody */
    const char *supplier_name;  /* read-only; NULL */
    const char *country;        /* of the supplier; "" not said */
    const char *laws;           /* keys of rows of claim.h, parted by blanks; "" none */
    int open_days, hidden_days; /* own term; TB_CLAIM_NO_TERM none */
    bool working, before_cutting;
    const char *stands_in; /* contract, order ...; "" */
    const char *set_at, *set_by /* name */;
};
/* Fills id, set_at. TB_EINVAL: a country that is no code, days out of range; TB_ENOTFOUND: a law there is not. */
tb_rc tb_supplier_term_add(struct tb_supplier_term *t, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err);
/* Those in force for a supplier, the nearest first: its own, its country's, everybody's. */
tb_rc tb_supplier_terms(struct tb_supplier_term **out, size_t *n, struct tb_book *b, const char *supplier_id,
                        struct tb_arena *mem, struct tb_err *err);
/* All in force: suppliers by name, then countries, then everybody. */
tb_rc tb_supplier_term_list(struct tb_supplier_term **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err);

/* ---- goods taken into use ---------------------------------------------------------------------------------- */

struct tb_bolt_use {
    const char *id, *bolt;
    bool used;     /* false: corrects the one it replaces */
    double metres; /* NAN: the whole bolt or not said */
    const char *why;
    bool anyway; /* although the lot was held or a dispute was open */
    const char *used_at, *used_by /* name */, *replaces /* NULL */;
    const char *bolt_number; /* read-only */
};
/* Fills id; reads the rest (used_at NULL: now). TB_EINVAL: more metres than the bolt has. */
tb_rc tb_bolt_use_add(struct tb_bolt_use *u, struct tb_book *b, const struct tb_bolt *bolt,
                      struct tb_arena *mem, struct tb_err *err);
/* Cuts into bolts of a lot that count, oldest first. */
tb_rc tb_bolt_use_list(struct tb_bolt_use **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

/* ---- joint samples ----------------------------------------------------------------------------------------- */

struct tb_joint_piece {
    const char *swatch; /* id */
    enum tb_holder_kind holder;
    const char *tag, *bolt_number, *kept; /* read-only */
    enum tb_part_kind part;               /* read-only */
};
struct tb_joint_sample {
    const char *id, *lot;
    int64_t serial, swatches, each_one; /* dealt from so many; so many to supplier and laboratory */
    const char *seed, *laboratory, *rule, *present, *dealt_at, *dealt_by /* name */;
    struct tb_joint_piece *piece; /* by tag */
    size_t pieces;
};
/* Record one with its pieces: fills id, serial, dealt_at. */
tb_rc tb_joint_sample_add(struct tb_joint_sample *j, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err);
/* Joint samples of a lot with their pieces, oldest first. */
tb_rc tb_joint_sample_list(struct tb_joint_sample **out, size_t *n, struct tb_book *b, const char *lot_id,
                           struct tb_arena *mem, struct tb_err *err);
/* Swatches of a lot of which an unburnt half is kept and that were not dealt yet, by tag. */
tb_rc tb_retained_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

/* ---- disputes ---------------------------------------------------------------------------------------------- */

enum tb_step_kind { TB_STEP_NONE, TB_OPENED, TB_NOTIFIED, TB_ANSWERED, TB_AGREED, TB_CLOSED };
/* "", "opened", "notified", "answered", "agreed", "closed" */
extern const struct tb_words tb_step_words;
const char *tb_step_key(enum tb_step_kind s); /* static text */

/* What is agreed in the end. */
enum tb_remedy_kind { TB_REMEDY_NONE, TB_CREDIT, TB_RETURN, TB_RELABEL, TB_REPLACEMENT };
/* "", "credit", "return", "relabel", "replacement" */
extern const struct tb_words tb_remedy_words;
const char *tb_remedy_key(enum tb_remedy_kind r); /* static text */

struct tb_dispute_step {
    const char *id, *day;
    enum tb_step_kind step;
    enum tb_remedy_kind remedy; /* of TB_AGREED, and of no other */
    const char *words, *due /* NULL */, *currency, *channel, *proof;
    double amount;          /* NAN */
    const char *document;   /* id of an attachment; NULL */
    const char *keep_until; /* NULL */
    const char *recorded_at, *recorded_by /* name */;
    const char *document_name, *document_sha256; /* read-only; "" none */
    const char *dispute;                         /* read-only: its id */
};
struct tb_dispute {
    const char *id, *lot;
    int64_t serial;
    const char *found_on;         /* NULL: not said */
    struct tb_dispute_step *step; /* in the order they were recorded; the first is TB_OPENED */
    size_t steps;
};
/* Open a dispute about a lot: fills id, serial; `opened` becomes its first step. TB_EEXISTS while one is open. */
tb_rc tb_dispute_open(struct tb_dispute *d, struct tb_book *b, struct tb_dispute_step *opened,
                      struct tb_arena *mem, struct tb_err *err);
/* The next step of an open dispute: fills id. TB_EREFUSED: out of turn; TB_EINVAL: its fields do not fit the step. */
tb_rc tb_dispute_step_add(struct tb_dispute_step *s, struct tb_book *b, const struct tb_dispute *d,
                          struct tb_arena *mem, struct tb_err *err);
/* Disputes of a lot with their steps, oldest first. */
tb_rc tb_dispute_list(struct tb_dispute **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err);
/* The one that is open; TB_ENOTFOUND (and no message) when none is. */
tb_rc tb_dispute_now(struct tb_dispute *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                     struct tb_err *err);
/* The last step of this kind; NULL when there is none. */
const struct tb_dispute_step *tb_dispute_last(const struct tb_dispute *d, enum tb_step_kind step);

/* Day of the first verdict that contradicts, or of the first analysis that does not conform, whichever is earlier. NULL:
 * neither. by: "verdict", "analysis", "". */
tb_rc tb_lot_discovered(const char **day, const char **by, struct tb_book *b, const char *lot_id,
                        struct tb_arena *mem, struct tb_err *err);
/* References of the lots that are held or in dispute, by day of arrival. */
tb_rc tb_claim_lots(const char ***ref, size_t *n, struct tb_book *b, struct tb_arena *mem,
                    struct tb_err *err);

#endif
