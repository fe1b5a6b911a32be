/* given.h - inside the packing-list reader: the columns of a list without header, as somebody gave them. */
#ifndef TENTERBOOK_INTAKE_GIVEN_H
#define TENTERBOOK_INTAKE_GIVEN_H

#include "intake/header.h"

/* Lengths side by side are one column of the table that is read: its rows are made one a length. */
struct tb_given {
    enum tb_field field[TB_COLUMNS_MOST]; /* TB_FIELD_NONE: left out */
    bool weight;                          /* the length is counted in kilograms */
    size_t n;                             /* 0: nothing was given */
    size_t grid,
        lengths; /* where lengths stand side by side, and how many; SIZE_MAX: to the end of the row; 0: they do not */
    size_t total; /* the column that holds what they add up to; 0: none does */
};
/* Reads "article,colour,lot,length*10". Fails with TB_EINVAL: a word that is no field, a figure twice, or no length. */
tb_rc tb_given_read(struct tb_given *out, const char *text, struct tb_err *err);
/* The table that they make; of[TB_FIELD_BOLT] may be NULL. */
void tb_given_layout(struct tb_table_layout *out, const struct tb_given *given, struct tb_packing_list *list);

#endif
