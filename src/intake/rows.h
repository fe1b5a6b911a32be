/* The second pass: the state that runs down the rows of a table. */
#ifndef TENTERBOOK_INTAKE_ROWS_H
#define TENTERBOOK_INTAKE_ROWS_H

#include "intake_in.h"

/* A measured value with what was written, kept while the same text repeats. */
struct measure {
    const char *text; /* interned; NULL: nothing read yet */
    double value;     /* in the unit of the book; NAN: not said */
    const char *said; /* a range as written; NULL */
};

struct sum {
    double metres;
    size_t bolts;
};

struct rows {
    const char
        *memo[COLUMNS_MOST];      /* last text of each column, interned: repeats are recognised by pointer */
    const char *carry[TB_FIELDS]; /* values that run down until another stands; interned, NULL: none */
    bool from_heading[TB_FIELDS]; /* the carried value stood in a heading between blocks */
    bool fresh[TB_FIELDS];        /* a heading said it since the last bolt */
    const char *in[TB_FIELDS][MADE_OF_MOST]; /* texts a joined field was made of, and ... */
    const char *joined[TB_FIELDS];           /* ... what they made */
    const char *first_cell;                  /* first text of the row above: a total row shows a new one */
    bool first_cell_total;
    struct measure width, mass;
    struct measure title_width, title_mass;
    struct sum block, sheet, file; /* since the last total, in the sheet, in the file */
    bool block_start;
    bool article_in_row; /* the last bolt named its article itself */
    uint32_t delivery;
    const char *last_supplier, *last_note;
    const char *day_text;     /* the note's date as last written, interned, and ... */
    char day[TB_DAY_LEN + 1]; /* ... as it was read */
    uint8_t sheet_index;
    size_t prices_differ;
    struct {
        const char *text, *currency; /* interned; what the price below was read from */
        struct tb_list_lot lot;
    } price;
};

/* Cells of the row being taken. */
const struct tb_cell *cell_at(const struct tb_row *row, const struct column *c);
bool cell_filled(const struct tb_row *row, const struct column *c);
/* Text of a field with ditto marks resolved and several columns joined; NULL when empty. */
const char *field_text(struct reader *r, const struct tb_row *row, enum tb_field f);
void row_bad(struct reader *r, const struct tb_row *row, const struct column *c, const char *fmt, ...)
    TB_PRINTF(4, 5);

/* totals.c: true when the row is a total and was dealt with. */
bool take_total(struct reader *r, const struct tb_row *row);
/* values.c: lengths, widths, masses, prices. False: the row is bad and was listed. */
bool take_length(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* A length cell in metres, for sums; NAN when it is none. */
double length_metres(const struct reader *r, const struct tb_row *row, const struct tb_cell *cell);
bool take_width_mass(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* A width or mass said above the table; *to is left alone when it says none that can be taken. */
void title_measure(struct reader *r, enum tb_field field, struct measure *to, enum tb_unit unit);
bool take_price(struct reader *r, const struct tb_row *row, struct tb_list_lot *lot);

#endif
