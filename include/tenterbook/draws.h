/*
 * draws.h - draws, suppliers' records and drills as the book keeps them. The figures are those of sampling.h, the rules for
 * reading and writing those of book.h.
 */
#ifndef TENTERBOOK_DRAWS_H
#define TENTERBOOK_DRAWS_H

#include "tenterbook/book.h"
#include "tenterbook/words.h"

/* ---- draws --------------------------------------------------------------------------------------------- */

/* Bolts drawn at random to be cut, and the plan that said how many. */
struct tb_draw {
    const char *id, *about; /* lots or the delivery drawn from: references separated by spaces */
    const char *plan;       /* discovery, acceptance, share, every */
    int64_t bolts, cut;     /* drawn from so many, so many to cut */
    int64_t bad;            /* false bolts that must not slip through ... */
    double chance, sure;    /* ... the chance that the draw shows one, and the chance asked for, 0..1 */
    double catch_one;       /* chance that burning a false bolt shows it, 0..1 */
    const char *catch_from; /* where that chance comes from */
    double aql;             /* per cent; NAN: no acceptance plan */
    const char *level, *inspection; /* "S-1" .. "III"; normal, tightened, reduced; "": no acceptance plan */
    int64_t accept, refuse;         /* passes with no more false bolts than this, is refused with so many */
    const char *seed;               /* draws the same bolts again */
    const char *drawn_at, *drawn_by /* name */; /* read-only */
};
/*
 * tb_draw_add - record a draw with its bolts: fills id and drawn_at.
 *   bolt_id  n ids of bolts
 */
tb_rc tb_draw_add(struct tb_draw *d, struct tb_book *b, const char *const *bolt_id, size_t n,
                  struct tb_arena *mem, struct tb_err *err);
/* tb_draw_latest - about exactly these references; TB_ENOTFOUND when nothing was drawn from them. */
tb_rc tb_draw_latest(struct tb_draw *out, struct tb_book *b, const char *about, struct tb_arena *mem,
                     struct tb_err *err);
/* tb_draws_of_lot - every draw that took bolts of a lot. */
tb_rc tb_draws_of_lot(struct tb_draw **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err);
/* tb_draw_bolts - the bolts of a draw, by lot and number. */
tb_rc tb_draw_bolts(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *draw_id,
                    struct tb_arena *mem, struct tb_err *err);

/* A bolt that was drawn and is void since: it proves nothing, and whoever reads a proof has to know. */
struct tb_gone_bolt {
    const char *id, *lot; /* ids */
    const char *number;
    bool burned; /* before */
};
/* tb_bolts_void_since - bolts of a lot that were void only after a draw, by number. */
tb_rc tb_bolts_void_since(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *lot_id,
                          const char *draw_id, struct tb_arena *mem, struct tb_err *err);
/* tb_draw_bolts_gone - those of a draw, by number. */
tb_rc tb_draw_bolts_gone(struct tb_gone_bolt **out, size_t *n, struct tb_book *b, const char *draw_id,
                         struct tb_arena *mem, struct tb_err *err);

/* ---- suppliers' records -------------------------------------------------------------------------------- */

/* How the lots of a supplier turned out, counted. */
struct tb_supplier_tally {
    const char *supplier, *name;    /* id, name */
    int64_t right_lots, wrong_lots; /* the rest are open */
};
/* tb_suppliers_known - all suppliers of whom something came that counts, or nothing ever did, by name; no lot is counted yet. */
tb_rc tb_suppliers_known(struct tb_supplier_tally **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                         struct tb_err *err);

/* A known swatch that was burned blind. */
struct tb_drilled_burn {
    const char *known, *burn; /* composition; id of the burn that was answered */
};
/* tb_drill_burns - those answered by journal row `upto`, in that order. */
tb_rc tb_drill_burns(struct tb_drilled_burn **out, size_t *n, struct tb_book *b, int64_t upto,
                     struct tb_arena *mem, struct tb_err *err);

/* ---- drills -------------------------------------------------------------------------------------------- */

/* A known swatch dealt to a tester, who answers what it is. */
struct tb_card {
    const char *id;
    int64_t drill, serial;                     /* the card is called drill-serial: 3-07 */
    const char *tester;                        /* name */
    const char *swatch /* id */, *tag, *known; /* not to be told before the answer */
    enum tb_part_kind part;                    /* nor this */
    const char *answer;   /* class of fibres named; "": could not tell; NULL: not answered yet */
    const char *burn;     /* id of the burn; NULL */
    const char *dealt_at; /* moment */
};
/*
 * tb_drill_add - deal swatches to a tester.
 *   serial     becomes the number of the drill
 *   swatch_id  n ids, in the order in which they are to be burned
 */
tb_rc tb_drill_add(int64_t *serial, struct tb_book *b, const char *tester, const char *seed,
                   const char *const *swatch_id, size_t n, struct tb_err *err);
/* tb_card_find - by its two numbers; TB_ENOTFOUND when it was never dealt. */
tb_rc tb_card_find(struct tb_card *out, struct tb_book *b, int64_t drill, int64_t serial,
                   struct tb_arena *mem, struct tb_err *err);
/* tb_card_list - every card that was ever dealt, by drill and place. */
tb_rc tb_card_list(struct tb_card **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                   struct tb_err *err);
/*
 * tb_card_answer - record what the tester says.
 *   answer   class of fibres; "": could not tell
 *   burn_id  of the burn that was recorded for it
 *   fails    TB_EEXISTS: the card was answered
 */
tb_rc tb_card_answer(struct tb_book *b, const struct tb_card *card, const char *answer, const char *burn_id,
                     struct tb_err *err);

#endif
