/* below.h - inside the packing-list reader: compositions that stand in the article's column, below the first bolt of each article. */
#ifndef TENTERBOOK_INTAKE_BELOW_H
#define TENTERBOOK_INTAKE_BELOW_H

#include "intake/reader.h"

/*
 * "Twill | 1 | 40.5", below it "100% cotton | 2 | 43.1" or "100% cotton" alone. The first pass looks whether each article of a table
 * has its composition there; where it has, the pass begins anew, and the composition stands in a column of its own behind the others,
 * in the row of the bolt above.
 */

/* First pass: one more row of the table that is read. */
void tb_below_learn(struct tb_list_reader *r, const struct tb_row *row);
/* Does each article of the table have its composition below its first bolt? */
bool tb_below_is(const struct tb_table_layout *l);
/* The rows of such a table, each held until the one after it is seen; other rows go on at once to `on`. */
tb_rc tb_below_row(struct tb_list_reader *r, const struct tb_row *row,
                   tb_rc (*on)(struct tb_list_reader *, const struct tb_row *, struct tb_err *),
                   struct tb_err *err);
/* The end of a sheet: the row that is held goes on. */
tb_rc tb_below_end(struct tb_list_reader *r,
                   tb_rc (*on)(struct tb_list_reader *, const struct tb_row *, struct tb_err *),
                   struct tb_err *err);
/* Frees a row that is held, where a pass ended early. */
void tb_below_free(struct tb_list_reader *r);

#endif
