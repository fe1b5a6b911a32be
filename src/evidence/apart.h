/*
 * apart.h - inside the evidence module: what a burn makes of compositions, one by one, with its terms apart.
 *
 * What a cue weighs is asked by taking its term out of the likelihood of every composition. That rests on the burn and the
 * composition alone, so it can be kept for the next declaration that the same burn is held against.
 */
#ifndef TENTERBOOK_EVIDENCE_APART_H
#define TENTERBOOK_EVIDENCE_APART_H

#include "evidence/pattern.h"

/* How much of the likelihood of one composition comes from mistakes: the swatch, the burn, each bench test. */
struct tb_mistaken {
    double mixup, burn, test[TB_CHANNELS_MOST];
};

/*
 * Rows of compositions, relative to what was observed: `undo` is what the likelihood is multiplied by when a term is taken out of
 * its product, `rest` the product of the terms that are not firm, over that of an odd burn.
 */
struct tb_apart {
    double *undo; /* [row * terms + term]; borrowed */
    double *rest; /* [row] */
    struct tb_mistaken *mistaken;
    /* [term]: the same of an odd burn, of a mistake in the act the term belongs to, and of another cloth in all of them */
    double *odd_undo, *act_undo, *any_undo; /* with room for a chunk of terms more; NULL: not asked for */
};

/*
 * tb_apart_open - room for rows; nothing of any is known yet, nor what strange burns make of the pattern. Free with tb_apart_free.
 *
 *   chance  [row * terms + term] of `rows` rows; borrowed, and changed where rows are taken
 */
void tb_apart_open(struct tb_apart *out, double *chance, size_t rows);
/* tb_apart_strange - what strange burns make of the pattern. */
void tb_apart_strange(struct tb_apart *a, const struct tb_evidence *ev, const struct tb_pattern *p);
/* tb_apart_take - one row, of a composition of so many fibres, whose chances have these logs. Once for each row. */
void tb_apart_take(struct tb_apart *a, size_t row, const struct tb_evidence *ev, const struct tb_pattern *p,
                   const struct tb_logs *l, int fibres);
void tb_apart_free(struct tb_apart *a);

#endif
