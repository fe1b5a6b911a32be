/*
 * draw_before.h - what was drawn from the same lots before, and where a seed comes from.
 *
 * A draw proves something only where nobody could choose among several: so a draw says which ones stand beside it, and
 * whether its seed was made by the program.
 */
#ifndef TENTERBOOK_CLI_DRAW_BEFORE_H
#define TENTERBOOK_CLI_DRAW_BEFORE_H

#include "cli/cmd.h"
#include "tenterbook/draws.h"

struct draw_before {
    struct tb_draw *draw; /* each once, in the order of the lots, oldest first for each */
    size_t n, cap;
};
tb_rc draw_before_add(struct draw_before *d, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                      struct tb_err *err);
/* The latest of them; NULL when there is none. */
const struct tb_draw *draw_before_last(const struct draw_before *d);
void draw_before_free(struct draw_before *d);

enum draw_seed {
    DRAW_SEED_MADE,    /* by the program, for this draw */
    DRAW_SEED_EARLIER, /* that of an earlier draw of these lots */
    DRAW_SEED_GIVEN    /* by whoever drew */
};
/* A seed that is shown without a draw being recorded; it can be told for ever from one that was made for a draw. */
void draw_seed_try(char out[17]);
/*
 * draw_seed_kind - where a seed comes from; given is NULL when the program makes it.
 *
 *   fails  TB_EREFUSED for a seed that looks like a made one and belongs to no draw of these lots
 */
tb_rc draw_seed_kind(enum draw_seed *kind, const char *given, const struct draw_before *d,
                     struct tb_err *err);
/* Whether a recorded seed was given by whoever drew. */
bool draw_seed_by_hand(const char *seed);
/* In words, beside a new draw. */
void draw_before_say(FILE *out, const struct draw_before *d, enum draw_seed kind);

#endif
