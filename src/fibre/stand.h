/*
 * stand.h - what a token stands for, to whoever makes parts and shares of tokens.
 */
#ifndef TENTERBOOK_FIBRE_STAND_H
#define TENTERBOOK_FIBRE_STAND_H

#include "tenterbook/token.h"

/* The row of the table that decides what a word is; NULL for a word that is in no row. */
const struct tb_name *tb_row_of(const struct tb_token *t);
/* Does the word stand for a fibre, known or open? */
bool tb_names_fibre(const struct tb_token *t);
/* Is it a figure, a fibre, or a word nobody knows, which may be one? */
bool tb_is_atom(const struct tb_token *t);

#endif
