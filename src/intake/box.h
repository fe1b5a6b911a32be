/* box.h - inside the packing-list reader: a summary that stands beside a list. */
#ifndef TENTERBOOK_INTAKE_BOX_H
#define TENTERBOOK_INTAKE_BOX_H

#include "intake/reader.h"

/* The columns of the summary, and what of it was seen below its header. */
struct tb_box {
    size_t line;               /* of the header; 0: there is no summary */
    size_t from, to;           /* its columns: from <= i < to, and all behind it where it ends the header */
    bool last;                 /* nothing stands behind it */
    size_t end;                /* where it is the last: columns of the list before the empty one */
    size_t length;             /* the column whose header is a length; SIZE_MAX: there is none */
    const char *first, *other; /* two of its headers, interned */
    double before;             /* second pass: what the bolts above its header come to */
    double sum[TB_COLUMNS_MOST];
    struct tb_cell cell[TB_COLUMNS_MOST]; /* of the row that is handed on */
};

/*
 * After a first pass, a table whose last columns name goods again and are filled in the first of its rows alone: a summary, also where
 * no empty column parts it from the list. True: the pass begins anew.
 */
bool tb_box_show(struct tb_list_reader *r, const struct tb_table_layout *l);
/*
 * box.c: the row without what stands in it of a summary beside the list; `row` itself where there is none, else `out`, whose cells
 * hold until the next row. A header with a summary beside it begins one, another header ends it.
 */
const struct tb_row *tb_box_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_row *out);
/* That row was read: compositions in the summary are nobody's yet (first pass), and figures of the summary in it are added up, but those beside a word for a total (second pass). */
void tb_box_learn(struct tb_list_reader *r, const struct tb_row *row);
/* The end of a sheet: what was seen of the summary is told, second pass. */
void tb_box_end(struct tb_list_reader *r);

#endif
