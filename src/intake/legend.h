/* legend.h - inside the packing-list reader: a small table above or below the bolts that tells something of goods by their names. */
#ifndef TENTERBOOK_INTAKE_LEGEND_H
#define TENTERBOOK_INTAKE_LEGEND_H

#include "intake/reader.h"

/*
 * "Colour | Dye lot" over "Navy | L1" and "Stone | L2". The first pass keeps what may be such a table and reads the rows as any others.
 * Where the bolts have a column of those names and none of what is told, the pass begins anew: the rows of the legend go to nobody, and
 * what it tells of a bolt stands in a column of its own, behind those on the paper.
 */

#define TB_LEGEND_COLUMNS_MOST 12
#define TB_LEGEND_ROWS_MOST 400
#define TB_LEGENDS_MOST 16

struct tb_legend_column {
    enum tb_field field;
    enum tb_unit unit;
    const char *header; /* interned */
    size_t at;          /* in the row; in the file, where the table lies on its side: the row */
};
enum tb_legend_state {
    TB_LEGEND_SEEN,   /* nothing is made of it */
    TB_LEGEND_JOINED, /* it tells of bolts, by columns that they have */
    TB_LEGEND_LOOSE,  /* it tells what no column does, and by no name that a column has */
    TB_LEGEND_SAME    /* the bolts have columns of their own for all that it tells */
};
struct tb_legend {
    size_t sheet, line, last;
    const char *place; /* of its first line, as an option names it; interned */
    struct tb_legend_column column[TB_LEGEND_COLUMNS_MOST]; /* those that say something of goods */
    size_t columns;
    uint64_t filled;        /* bit per column of its header */
    bool measured, counted; /* a column of it may be a length or a weight, or a number of bolts */
    bool aside;             /* it lies on its side: "Colour | Navy | Stone" over "Dye lot | L1 | L2" */
    const char **text;      /* by rows, where it lies on its side by columns; interned; NULL: an empty cell */
    size_t texts, cap, rows;
    enum tb_legend_state state;
    bool left;        /* a person says that it is left out */
    bool used, asked; /* second pass: a bolt has something of it; a question is asked about it */
};
struct tb_legends {
    struct tb_legend legend[TB_LEGENDS_MOST];
    size_t n;
    bool open;                            /* the last of them may go on in the next row */
    const struct tb_table_layout *of;     /* the names that ran down so far are of the bolts of this table; */
    const char *key[TB_FIELDS];           /* interned; NULL: none */
    struct tb_cell cell[TB_COLUMNS_MOST]; /* of the row that is handed on */
};

/* What row i of a legend says in its column k; NULL: nothing. */
const char *tb_legend_text(const struct tb_legend *g, size_t i, size_t k);
/* Does the field name goods, so that others may be told by it? */
bool tb_legend_names(enum tb_field f);
/* Has the table a column of that field, or of what does as well? */
bool tb_legend_has(const struct tb_table_layout *l, enum tb_field f);
/*
 * The field of table l by whose column the names in column k of the legend are found: a shade band alone is the colour, a design alone the
 * article. TB_FIELD_NONE: there is no such column.
 */
enum tb_field tb_legend_key(const struct tb_legend *g, size_t k, const struct tb_table_layout *l);
/* First pass: one more row, as the file has it. */
void tb_legend_learn(struct tb_list_reader *r, const struct tb_row *row);
/* Its end: a table that is still open ends. */
void tb_legend_learn_end(struct tb_legends *all);
/* After a first pass. True: a table is a legend that was none before, and the pass begins anew. */
bool tb_legend_show(struct tb_list_reader *r);
/* Is the row of a legend? Then nothing else is made of it. */
bool tb_legend_takes(const struct tb_list_reader *r, const struct tb_row *row);
/*
 * The row below a header as it goes on: `row` itself, or `out` with what legends tell of its bolt, whose cells hold until the next row. A
 * bolt of which a legend should tell something and does not is asked about, once a legend, in the second pass.
 */
const struct tb_row *tb_legend_join(struct tb_list_reader *r, const struct tb_row *row, struct tb_row *out);
/* After the second pass: which legends were used, and which nobody could use. */
void tb_legend_say(struct tb_list_reader *r);
/* NULL is accepted. */
void tb_legends_free(struct tb_legends *all);

#endif
