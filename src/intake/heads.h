/* heads.h - inside the packing-list reader: labels with their values, above a table and between its blocks. */
#ifndef TENTERBOOK_INTAKE_HEADS_H
#define TENTERBOOK_INTAKE_HEADS_H

#include "intake/header.h"

/* What was said so far, field by field. */
struct tb_heads {
    const char *value[TB_FIELDS]; /* interned; NULL: not said */
    enum tb_field
        pending[TB_COLUMNS_MOST]; /* labels of the row above, by column, waiting for values below them */
    size_t pending_n;
};
/* Takes what a row says; how many values were found. */
size_t tb_heads_take(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_row *row);

#endif
