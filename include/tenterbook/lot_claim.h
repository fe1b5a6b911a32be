/*
 * lot_claim.h - the claim on a lot as of a day: the terms in force, when the fault was found, what was said to the
 * supplier, and what is due next. The records are those of dispute.h, the counting that of claim.h.
 *
 * The functions only read; text and arrays are in the caller's arena.
 */
#ifndef TENTERBOOK_LOT_CLAIM_H
#define TENTERBOOK_LOT_CLAIM_H

#include "tenterbook/concluded.h"
#include "tenterbook/dispute.h"

/* Everything about the claim on a lot. Arrays and text are in the caller's arena. */
struct tb_claim {
    struct tb_supplier_term *set; /* terms in force; none: nobody set any */
    size_t sets;
    struct tb_claim_term *term; /* what they come to, the site's own included */
    size_t terms;
    const char *country;     /* of the supplier; "" not said */
    const char *found_on;    /* NULL: nothing found yet */
    const char *found_by;    /* "dispute", "verdict", "analysis"; "" */
    const char *found_typed; /* day it was typed up, where that was later; NULL */
    struct tb_claim_clock clock;
    struct tb_dispute *dispute; /* all of the lot, oldest first */
    size_t disputes;
    const struct tb_dispute *open; /* NULL: none is */
    const char *notified;          /* day the supplier was told; NULL */
    struct tb_bolt_use *use;
    size_t uses;
};
/*
 * tb_claim_of_lot - everything about the claim on a lot. A void lot is under no term.
 *
 *   today   day it is asked of (YYYY-MM-DD)
 *   fails   TB_EINVAL: a setting or a day that cannot be counted from; what reading the book answers
 *   memory  arrays and text are in mem
 */
tb_rc tb_claim_of_lot(struct tb_claim *out, struct tb_book *b, const struct tb_lot *lot, const char *today,
                      struct tb_arena *mem, struct tb_err *err);

enum tb_claim_state {
    TB_CLAIM_NOTHING, /* nothing to claim: the lot is neither held, returned nor in dispute */
    TB_CLAIM_TELL,    /* the supplier is not told yet */
    TB_CLAIM_ANSWER,  /* told, the answer is awaited */
    TB_CLAIM_AGREE,   /* answered, nothing agreed yet */
    TB_CLAIM_DO,      /* agreed, not done yet */
    TB_CLAIM_CLOSE,   /* all of the amount agreed came in */
    TB_CLAIM_CREDIT,  /* goods went back, as agreed or with nothing agreed, and their credit is awaited */
    TB_CLAIM_STATES
};
/* tb_claim_state_key - the word of a state: "", "tell", "answer", "agree", "do", "close", "credit". Static text. */
const char *tb_claim_state_key(enum tb_claim_state s);

/* Why no day is known on which the next step is due. */
enum tb_undated {
    TB_DATED,
    TB_NO_TERMS,   /* no terms are set for the supplier: nobody can say whether telling him is overdue */
    TB_NO_DAYS,    /* the terms name no days: nobody can say either */
    TB_NO_DAY_SAID /* nobody named one, or there is nothing to wait for */
};
/* "", "no terms set", "no days in the terms", "no day named". */
extern const struct tb_words tb_undated_words;

/* An amount with its money. */
struct tb_claim_sum {
    double amount;        /* NAN: none was named */
    const char *currency; /* "" none was named */
};

/* An open claim: a lot in dispute, held and its supplier not told yet, or returned and nothing credited. */
struct tb_claim_open {
    const char *lot, *supplier, *declared, *arrived; /* reference, name, words ... */
    struct tb_concluded concluded;                   /* of the lot; read by tb_lot_claim_read */
    enum tb_standing_kind standing;
    int64_t released_in_part, returned_in_part, held_in_part; /* bolts, as those of struct tb_lot */
    int64_t bolts, bolts_burnt, bolts_used;
    struct tb_claimed_part claimed; /* what of it is held or went back; all of it where nothing is */
    int64_t derived, unknown;       /* bolts whose length is computed from kilograms; is not known */
    enum tb_claim_state state;
    const char *opened_on; /* NULL: no dispute */
    const char *due;       /* day the next step is due; "" no day is known */
    const char *due_by;    /* who says so: name of a term, "answer", "agreement" */
    long left;             /* days to it; below 0: overdue. 0 where due is "" */
    bool overdue;
    bool
        unsaid; /* TB_NO_TERMS or TB_NO_DAYS: whether it is overdue cannot be said, and it never counts as in time */
    enum tb_undated undated;
    double
        amount; /* of the dispute, the latest that was claimed, offered or agreed; of goods that went back, what they
                      were invoiced at; NAN */
    const char *amount_currency;
    struct tb_claim_sum asked, offered,
        agreed; /* of the dispute, the latest of each: claimed, offered by the supplier, agreed */
    struct tb_claim_sum invoiced; /* of goods that went back, where no amount is agreed for them */
    struct tb_claim_sum credit;   /* what is open of that: less what came in of it in the same currency */
    const char *returned_on;      /* day they went back; NULL: invoiced has no amount */
    const char
        *agreed_before; /* id of the dispute whose earlier amounts that takes the place of; NULL: of none */
    double cut_off;     /* metres of these goods that were cut off here, and are not in it */
    bool
        reckoned; /* what is left of them was weighed with that: its kilograms are reckoned from the metres */
    double recovered; /* came in so far, in that money; 0 nothing did, NAN no amount */
    double awaited;   /* agreed, or invoiced of what went back, and not come in; NAN not known */
};
/*
 * tb_claim_open_of - the open claim of one lot; state is TB_CLAIM_NOTHING where nothing is open.
 *   memory  text is borrowed from c and lot
 */
void tb_claim_open_of(struct tb_claim_open *out, const struct tb_claim *c, const struct tb_lot *lot,
                      const char *today);

/* tb_return_done - whether a return was agreed, and the lot is back. */
bool tb_return_done(const struct tb_dispute_step *agreed, const struct tb_lot *lot);
/* tb_credit_is_all - whether the credit of goods that went back is all that was agreed: a credit, or a return that is done. */
bool tb_credit_is_all(const struct tb_dispute_step *agreed, const struct tb_lot *lot);
/*
 * tb_nothing_credited - whether goods of a lot went back for which no amount is agreed. That they come back, get new labels or are
 * credited names no amount; other goods in their place are their worth.
 *   open  the dispute that is open; NULL none is
 */
bool tb_nothing_credited(const struct tb_dispute *open, const struct tb_lot *lot);

/* A lot, its claim, and what of it is open. Not to be copied: `open` points into `claim`. */
struct tb_lot_claim {
    struct tb_lot lot;
    struct tb_claim claim;
    struct tb_claim_open open;
};
/*
 * tb_lot_claim_read - all three for a lot, found by its reference or by the number of one of its bolts.
 *
 *   fails   as tb_lot_find and tb_claim_of_lot
 *   memory  arrays and text are in mem
 */
tb_rc tb_lot_claim_read(struct tb_lot_claim *out, struct tb_book *b, const char *ref_or_bolt,
                        const char *today, struct tb_arena *mem, struct tb_err *err);

/*
 * tb_claim_open_list - every open claim as of a day: what is overdue, what nobody can say of whether it is, what is
 * due later, each by its day, and what has none.
 *
 *   out     n claims in mem; those overdue have .overdue set
 *   fails   as tb_claim_of_lot
 */
tb_rc tb_claim_open_list(struct tb_claim_open **out, size_t *n, struct tb_book *b, const char *today,
                         struct tb_arena *mem, struct tb_err *err);

#endif
