/* guess.h - inside the packing-list reader: what a column may be, before the columns are compared. */
#ifndef TENTERBOOK_INTAKE_GUESS_H
#define TENTERBOOK_INTAKE_GUESS_H

#include "intake/header.h"

/* One column: its readings, and which of them was taken. */
struct tb_guess {
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t n;
    const char *header;
    const char *currency;
    enum tb_field field; /* what it became */
    enum tb_unit unit;
};

/* Column i of a header whose first row is `first`, and whose second is `second` (NULL: none). `g` is zeroed. */
void tb_guess_column(struct tb_guess *g, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_texts *first, const struct tb_row *second, size_t i);

#endif
