/*
 * reader.h - how a declaration is read, inside the module: text -> tokens -> parts -> shares.
 */
#ifndef TENTERBOOK_FIBRE_READER_H
#define TENTERBOOK_FIBRE_READER_H

#include "fibre/index.h"
#include "tenterbook/token.h"

/* Words beside the fibres: coatings of a material become one token, and words that may be a fibre or a finish what they are here. */
void tb_take_beside(struct tb_tokens *t, const char *text);
/* Words for core and sheath of a yarn: passed over where both stand, else unknown. */
void tb_take_yarn(struct tb_tokens *t);
/* Parts, shares and doubts out of the tokens that count. */
void tb_arrange(struct tb_declaration *d, const struct tb_tokens *t, const struct tb_cut *cut);

/* Say what is wrong at a place of the text; choices may be NULL. */
void tb_doubt_add(struct tb_declaration *d, enum tb_doubt_kind kind, size_t at, size_t len,
                  const char *choices, const char *fmt, ...) TB_PRINTF(6, 7);
/* What the table itself says against a word: code, trade word, misnomer, ambiguous, unknown. */
void tb_doubt_word(struct tb_declaration *d, const struct tb_token *t);

/* The row of the table that decides what a word is; NULL for a word that is in no row. */
const struct tb_name *tb_row_of(const struct tb_token *t);
/* Does the word stand for a fibre, known or open? */
bool tb_names_fibre(const struct tb_token *t);
/* Is it a figure, a fibre, or a word nobody knows, which may be one? */
bool tb_is_atom(const struct tb_token *t);
/* Is it a short form beside fibres that counts in capitals only, FR or AOP? As a country or a language it says nothing. */
bool tb_is_short(const struct tb_token *t);

#endif
