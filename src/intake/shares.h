/* shares.h - inside the packing-list reader: a composition over several columns, one for each fibre ("CO % | PES %"). */
#ifndef TENTERBOOK_INTAKE_SHARES_H
#define TENTERBOOK_INTAKE_SHARES_H

#include "intake/reader.h"

/* First pass: a row of a bolt, under the header of its table. */
void tb_shares_learn(struct tb_table_layout *l, const struct tb_row *row);
/*
 * After it: columns whose shares come to a whole in most rows that have any become one composition, and the pass begins anew. True:
 * there are some.
 */
bool tb_shares_show(struct tb_list_reader *r, const struct tb_table_layout *l);
/*
 * The row with its composition as one text in the first of these columns, and the others empty; `row` itself where its table has no
 * such columns. The cells of *out hold until the next row.
 */
const struct tb_row *tb_shares_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_row *out);
/* Tells of what columns a composition is made. */
void tb_shares_say(struct tb_list_reader *r);
/* Headers of columns that may be shares of fibres, and were made nothing of; how many, at most `most`. */
size_t tb_shares_doubtful(const struct tb_list_reader *r, const char **header, size_t most);

#endif
