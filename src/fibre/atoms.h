/*
 * atoms.h - a part's statement as a row of atoms, figures and fibres, with the separators between them.
 */
#ifndef TENTERBOOK_FIBRE_ATOMS_H
#define TENTERBOOK_FIBRE_ATOMS_H

#include "fibre/reader.h"

/* A figure, or a fibre in it. */
struct tb_atom {
    const struct tb_token *t;
    bool figure;
    int fibre;    /* of a fibre atom; TB_FIBRE_UNKNOWN for a word that leaves it open */
    bool unknown; /* a word of no table: a fibre only if a figure speaks for it */
    unsigned marks;
    bool comma, slash;          /* stands between it and the atom before */
    const struct tb_token *pct; /* the figure it was given */
};

struct tb_part_text {
    struct tb_atom *atom;
    size_t n, cap;
    unsigned pending;                         /* marks that wait for the next fibre */
    unsigned loose;                           /* marks that stood between commas, beside no fibre */
    const struct tb_token *mark, *loose_mark; /* the last word for each */
    bool comma, slash;                        /* since the last atom */
};

/* Put token i into the statement: an atom, a mark on one, a separator, or a doubt. */
void tb_take_token(struct tb_declaration *d, struct tb_part_text *p, const struct tb_tokens *t, size_t i);
/* Put a word that names a fibre, or a part and its fibre in one, into the statement as a fibre. */
void tb_take_fibre(struct tb_declaration *d, struct tb_part_text *p, const struct tb_token *t);
/* Marks that stood beside no fibre: of the only fibre there is, else a doubt. */
void tb_settle_marks(struct tb_declaration *d, struct tb_part_text *p);

/* Give every figure its fibre where there is one way to do so; doubt the others. */
void tb_pair_part(struct tb_declaration *d, struct tb_part_text *p);

#endif
