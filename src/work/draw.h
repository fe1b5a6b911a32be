/* draw.h - inside the module: lots that are drawn from together, and what is known of them before a draw. */
#ifndef TENTERBOOK_WORK_DRAW_H
#define TENTERBOOK_WORK_DRAW_H

#include "tenterbook/act_draw.h"
#include "tenterbook/evidence.h"

/* One lot with its bolts, in the order they are drawn by. */
struct tb_pile {
    struct tb_lot lot;
    struct tb_bolt *bolt;
    size_t n;
    enum tb_handling handling;
    size_t apart;           /* tb_piles_to_draw: bolts of it that are not there to be drawn */
    struct tb_catch caught; /* tb_catch_each: how well a burn shows a false bolt of it */
    long *place;            /* drawn ones, from 1, rising; as many as its stratum says are cut */
};
/* Lots that are drawn from together. Everything lies in the caller's arena. */
struct tb_piles {
    const char *about; /* references, separated by spaces */
    struct tb_pile *pile;
    struct tb_stratum *strata; /* one a pile */
    size_t n;
    long bolts;
    long apart;             /* of all lots named */
    size_t voids;           /* lots named that are void: they have no pile */
    struct tb_draw *before; /* earlier draws of these lots, each once; oldest first for each lot */
    size_t befores;
};
/* Find the lots a person named. Fails TB_ENOTFOUND; TB_EEXISTS a lot named twice; TB_EINVAL nothing to draw from. */
tb_rc tb_piles_gather(struct tb_piles *out, struct tb_book *b, const char *const *name, size_t names,
                      struct tb_arena *mem, struct tb_err *err);
/* tb_piles_drawn_from - the same for a draw that was made: lots that are void since are named in `about` and have no pile. */
tb_rc tb_piles_drawn_from(struct tb_piles *out, struct tb_book *b, const char *const *name, size_t names,
                          struct tb_arena *mem, struct tb_err *err);
/*
 * tb_bolts_to_draw - of these bolts of a lot those that still stand to be decided of, in their order: what was decided of by itself
 * (held, released, returned) and what went back with its lot is neither drawn nor planned.
 *   bolt, n  those of the lot; taken out in place
 *   draw     as they stood when this draw was made; NULL: as they stand now
 */
tb_rc tb_bolts_to_draw(struct tb_bolt *bolt, size_t *n, struct tb_book *b, const char *lot, const char *draw,
                       struct tb_arena *mem, struct tb_err *err);
/* Piles of the bolts there are to draw: those of tb_bolts_to_draw, without lots that have none. TB_EREFUSED: there is none at all. */
tb_rc tb_piles_to_draw(struct tb_piles *p, struct tb_book *b, const char *draw, struct tb_arena *mem,
                       struct tb_err *err);
/* The latest of the earlier draws; NULL when there is none. */
const struct tb_draw *tb_piles_last_draw(const struct tb_piles *p);
/* What their lots ask for: bits, 1u << enum tb_handling. */
unsigned tb_piles_handling(const struct tb_piles *p);
/* Draw places in every pile, as many as its stratum says. */
tb_rc tb_piles_pick(struct tb_piles *p, const char *seed, struct tb_arena *mem, struct tb_err *err);
/* The drawn bolts into an outcome: drawn, n and swatches. */
void tb_piles_drawn(struct tb_draw_outcome *out, const struct tb_piles *p, struct tb_arena *mem);

/* How well a burn shows a false bolt, by the evidence model, for each of the lots. */
tb_rc tb_catch_each(struct tb_piles *p, const char *against, struct tb_book *b, struct tb_arena *mem,
                    struct tb_err *err);
/* How well a burn shows a false bolt of one lot. `against` may be NULL. */
tb_rc tb_catch_lot(struct tb_catch *out, const struct tb_evidence *ev, const struct tb_lot *lot,
                   const char *against, struct tb_arena *mem, struct tb_err *err);
/* Of all the lots that one whose burns show least counts: the false bolts may all be there. */
const struct tb_catch *tb_catch_least(const struct tb_piles *p);
/*
 * The lots without those whose burns show least, to draw from the others; `out` has none left where all show as little.
 * Fails as tb_piles_gather.
 */
tb_rc tb_piles_without_least(struct tb_piles *out, struct tb_left_out *left, size_t *lefts,
                             const struct tb_piles *p, struct tb_book *b, struct tb_arena *mem,
                             struct tb_err *err);

#endif
