/* beside.h - inside the packing-list reader: tables that stand side by side on a page. */
#ifndef TENTERBOOK_INTAKE_BESIDE_H
#define TENTERBOOK_INTAKE_BESIDE_H

#include "intake/reader.h"

/* What a header of such tables has, and what of them was read so far. */
struct tb_beside {
    size_t common, width, tables; /* columns before the tables, columns of each, how many */
    size_t cells;                 /* of the header */
    struct tb_arena mem;
    struct tb_row *row; /* held back: rows with lengths since the last that had none */
    size_t rows, cap;
    struct tb_row *head;            /* rows in which each table has a heading of its own */
    size_t heads, head_cap, headed; /* of these so many have rows below them */
    bool kept;                      /* what ran down and was headed above the tables */
    const char *carry[TB_FIELDS];
    bool from_heading[TB_FIELDS];
};

/* A row goes to the pass that is on; rows of tables side by side are held back until the last of them, and go table by table. */
tb_rc tb_beside_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);
/* The end of a sheet: what was held back is handed on. */
tb_rc tb_beside_end(struct tb_list_reader *r, struct tb_err *err);
/* Frees what was held back, where a pass ended early. */
void tb_beside_free(struct tb_list_reader *r);

/* A row in which each table has a heading of its own. */
void tb_beside_head(struct tb_beside *b, const struct tb_row *row);
/* beside_heads.c: does each table have a heading of its own in this row? */
bool tb_beside_heads_each(const struct tb_list_reader *r, const struct tb_row *row);
/* May it be such a row, where no header of such tables has come yet? `above`: those before it; NULL: there are none. */
bool tb_beside_may_head(const struct tb_beside *above, const struct tb_row *row);
/* The rows above a header that has come: headings of each table, rows that are handed on, and names that nobody understands. */
tb_rc tb_beside_sort(struct tb_list_reader *r, struct tb_beside *above,
                     tb_rc (*hand_on)(struct tb_list_reader *, const struct tb_row *, struct tb_err *),
                     struct tb_err *err);

/* What a row holds of table t, in `out`, whose cells are `cell`. False: nothing. */
bool tb_beside_part(struct tb_cell cell[TB_COLUMNS_MOST], struct tb_row *out, const struct tb_beside *b,
                    const struct tb_row *row, size_t t);
/*
 * beside_total.c, second pass: a total of all tables in a row under them ("Total: 7 pieces" may stand under the first, and the length
 * under the last), in `one`, whose cells are `cell`; the table with its length. SIZE_MAX: it is none.
 */
size_t tb_beside_total(struct tb_cell cell[TB_COLUMNS_MOST], struct tb_row *one,
                       const struct tb_list_reader *r, const struct tb_row *row);
/* "Total" under one table names the figures under the others too: the word stands in `one`, the part of table t, after this. */
void tb_beside_name_total(struct tb_cell cell[TB_COLUMNS_MOST], struct tb_row *one, struct tb_list_reader *r,
                          const struct tb_row *row, size_t t);

#endif
