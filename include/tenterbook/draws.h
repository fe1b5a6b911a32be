/*
 * draws.h - draws, suppliers' records and drills as the book keeps them. The figures are those of sampling.h.
 *
 * As in book.h: reading functions copy text into the caller's arena; writing functions stand between
 * tb_book_begin and tb_book_commit.
 */
#ifndef TENTERBOOK_DRAWS_H
#define TENTERBOOK_DRAWS_H

#include "tenterbook/book.h"
#include "tenterbook/words.h"

/* ---- draws --------------------------------------------------------------------------------------------- */

struct tb_draw {
    const char *id, *about; /* lots or delivery drawn from, references parted by blanks */
    const char *plan;       /* discovery, acceptance, share, every */
    int64_t bolts, cut, bad;
    double chance, sure, catch_one;
    const char *catch_from;
    double aql;                     /* NAN: no acceptance plan */
    const char *level, *inspection; /* "" then */
    int64_t accept, refuse;
    const char *seed, *drawn_at, *drawn_by /* name */;
};
/* Record a draw and its n bolts: fills id, drawn_at. */
tb_rc tb_draw_add(struct tb_draw *d, struct tb_book *b, const char *const *bolt_id, size_t n,
                  struct tb_arena *mem, struct tb_err *err);
/* The latest draw about these references; TB_ENOTFOUND when there is none. */
tb_rc tb_draw_latest(struct tb_draw *out, struct tb_book *b, const char *about, struct tb_arena *mem,
                     struct tb_err *err);
/* Every draw that took bolts of a lot, oldest first; id, about, seed, drawn_at and drawn_by are filled. */
tb_rc tb_draws_of_lot(struct tb_draw **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err);
tb_rc tb_draw_bolts(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *draw_id,
                    struct tb_arena *mem, struct tb_err *err);
/* Ids of the bolts of a lot of which a swatch was burned, rising. */
tb_rc tb_bolts_burnt(const char ***out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err);

/* ---- suppliers' records -------------------------------------------------------------------------------- */

/* What became of a lot: not known yet, as declared, not as declared. */
enum tb_outcome_kind { TB_OUTCOME_OPEN, TB_OUTCOME_RIGHT, TB_OUTCOME_WRONG };
extern const struct tb_words tb_outcome_words;

struct tb_supplier_tally {
    const char *supplier, *name;
    int64_t lots, right_lots, wrong_lots; /* the rest are open */
};
/* All suppliers, by name. */
tb_rc tb_supplier_tallies(struct tb_supplier_tally **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err);
struct tb_lot_result {
    const char *ref, *arrived;
    enum tb_outcome_kind outcome;
    double metres, unit_price /* NAN */;
    const char *currency;
};
/* Lots of a supplier in the order they arrived. */
tb_rc tb_supplier_lots(struct tb_lot_result **out, size_t *n, struct tb_book *b, const char *supplier_id,
                       struct tb_arena *mem, struct tb_err *err);

/* ---- drills -------------------------------------------------------------------------------------------- */

struct tb_card {
    const char *id;
    int64_t drill, serial; /* the card is called drill-serial: 3-07 */
    const char *tester;
    const char *swatch, *tag, *known; /* not to be told before the answer */
    enum tb_part_kind part;           /* nor this */
    const char *answer;               /* NULL: not answered yet; "": could not tell */
    const char *burn;                 /* id of the burn; NULL */
    const char *dealt_at;
};
/* Deal n swatches (ids, in the order to be burned) to a tester; *serial is the number of the drill. */
tb_rc tb_drill_add(int64_t *serial, struct tb_book *b, const char *tester, const char *seed,
                   const char *const *swatch_id, size_t n, struct tb_err *err);
tb_rc tb_card_find(struct tb_card *out, struct tb_book *b, int64_t drill, int64_t serial,
                   struct tb_arena *mem, struct tb_err *err);
/* Every card ever dealt, by drill and place. */
tb_rc tb_card_list(struct tb_card **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                   struct tb_err *err);
/* TB_EEXISTS when the card was answered. burn_id: the burn recorded for it. */
tb_rc tb_card_answer(struct tb_book *b, const struct tb_card *card, const char *answer, const char *burn_id,
                     struct tb_err *err);

/* Two burns of one bolt and part by different people. */
struct tb_doubled {
    const char *burn_a, *who_a, *burn_b, *who_b, *bolt;
    enum tb_part_kind part;
};
tb_rc tb_burns_doubled(struct tb_doubled **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err);

#endif
