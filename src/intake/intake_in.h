/* The insides of the packing-list reader. One idea a file: words, units, figures, days, store, header, heads, rows. */
#ifndef TENTERBOOK_INTAKE_IN_H
#define TENTERBOOK_INTAKE_IN_H

#include "tenterbook/intake.h"

/* --- words.c: what a header word may mean ------------------------------------------------------------- */
struct word_hit {
    enum tb_field field;
    enum tb_unit unit; /* the word itself says it: "Yards" */
    bool weak;         /* gives way to a stronger word: "Qty" beside "Metres" */
    bool site;         /* from the site's own list or --map: wins outright */
};
#define HITS_MOST 6
struct words;
struct words *words_new(const struct tb_header_word *site, size_t n);
void words_free(struct words *w);
/* Readings of a header text; how many. Units in brackets or at the end are taken off and given in the hits. */
size_t words_find(const struct words *w, const char *text, struct word_hit hit[HITS_MOST]);
/* Only the exact word, without looking for units or halves. */
size_t words_exact(const struct words *w, const char *text, size_t n, struct word_hit hit[HITS_MOST]);
bool words_number(const char *text);                       /* "No.", "Nr", "#" */
bool words_total(const struct words *w, const char *text); /* "Grand total", "Summe Partie 4", "A100 Total" */

/* --- units.c ------------------------------------------------------------------------------------------ */
/* The unit a word means where `field` is measured ("mm" is momme for a mass, millimetre for a width). */
enum tb_unit unit_find(enum tb_field field, const char *text, size_t n);
double unit_metres(enum tb_unit unit); /* of one; 0 when it is no length */
bool unit_fits(enum tb_field field, enum tb_unit unit);
const char *currency_find(const char *text, size_t n); /* "EUR" for a sign or letters; NULL */
bool ditto(const char *text);

/* --- figure.c: numbers as people write them ------------------------------------------------------------ */
#define FIGURE_PARTS_MOST 64
struct figure {
    double point, comma; /* the value when '.' / ',' is the decimal sign; NAN: impossible that way */
    double point_high, comma_high; /* end of a range, NAN when it is one number */
    unsigned parts;                /* of a sum "50+30+20"; 1 for one number */
    bool range;
    const char *rest; /* what follows the number: a unit; borrowed from the text */
    size_t rest_n;
    const char *before; /* what stands before it: a currency */
    size_t before_n;
};
/* False: there is no number, or text stands between its digits. */
bool figure_scan(struct figure *out, const char *text);
double figure_value(const struct figure *f, char decimal);
double figure_high(const struct figure *f, char decimal);

/* --- day.c ---------------------------------------------------------------------------------------------- */
enum { DAY_DMY = 1, DAY_MDY = 2, DAY_YMD = 4, DAY_ALL = 7 };
struct day_reading {
    char dmy[TB_DAY_LEN + 1], mdy[TB_DAY_LEN + 1], ymd[TB_DAY_LEN + 1]; /* "" where impossible */
};
/* Which orders are possible, 0: not a day. A day that reads the same in every order answers DAY_ALL. */
unsigned day_scan(struct day_reading *out, const char *text);
const char *day_value(const struct day_reading *r, char order); /* 'd', 'm', 'y'; NULL where impossible */

/* --- store.c: texts kept once, rows that grow ------------------------------------------------------------ */
struct tb_list_store;
struct tb_list_store *store_new(void);
void store_free(struct tb_list_store *s);
const char *store_keep(struct tb_list_store *s, const char *text, size_t n); /* a copy */
const char *store_intern(struct tb_list_store *s, const char *text,
                         size_t n); /* the one copy: compare pointers */
/* At most 60 characters of a text, never half of one: for sentences. */
const char *store_brief(struct tb_list_store *s, const char *text);
void list_say(struct tb_packing_list *l, const char *fmt, ...) TB_PRINTF(2, 3);
void list_bad(struct tb_packing_list *l, const char *sheet, size_t line, size_t column, const char *header,
              const char *value, const char *fmt, ...) TB_PRINTF(7, 8);
uint32_t list_delivery(struct tb_packing_list *l, const char *supplier, const char *note); /* interned */
uint32_t list_lot(struct tb_packing_list *l, const struct tb_list_lot *key);               /* interned */
/* SIZE_MAX when the number is new in its delivery, else the bolt that has it. */
size_t list_bolt(struct tb_packing_list *l, uint32_t delivery, const struct tb_list_bolt *b);
uint8_t list_sheet(struct tb_packing_list *l, const char *name);
void list_column(struct tb_packing_list *l, const struct tb_list_column *c);

/* --- header.c: the columns of a table --------------------------------------------------------------------- */
#define COLUMNS_MOST 64
struct column {
    enum tb_field field;
    size_t index; /* in the row */
    const char *header;
    enum tb_unit unit;
    const char *currency; /* prices: the header says it; NULL */
    char decimal;         /* settled after the first pass */
    /* what the first pass saw */
    size_t only_point, only_comma, either;
    const char *either_text, *point_text, *comma_text;
    size_t either_line, point_line, comma_line;
    unsigned unit_mask;   /* widths, masses without a unit: bit per enum tb_unit that fits all so far */
    const char *unitless; /* a figure without any unit; NULL: none */
    size_t typed_number, typed_day, typed_line; /* bolt numbers the spreadsheet keeps as something else */
    char last[24];                              /* figure looked at last: most repeat */
    size_t filled;                              /* empty cells that took the value above (second pass) */
};
#define MADE_OF_MOST 4
struct layout {
    size_t sheet; /* number in the workbook */
    const char *sheet_name;
    size_t line, last_line; /* of the header and its second row */
    struct column column[COLUMNS_MOST];
    size_t n;
    struct column *of[TB_FIELDS];                                         /* first column of a field */
    unsigned char made_of[TB_FIELDS][MADE_OF_MOST], made_of_n[TB_FIELDS]; /* columns that join into a field */
};

/* A row kept: its texts by column, NULL where empty. */
struct texts {
    char **text;
    size_t n, line, known;
    size_t sheet;
};
void texts_take(struct texts *t, const struct tb_row *row);
void texts_free(struct texts *t);

/* A row looked at as a header. */
struct header_look {
    size_t known, cells; /* cells that are header words, cells that hold anything */
    bool bolt, length, figures;
};
void header_look(struct header_look *out, const struct words *w, const struct tb_row *row);
/* Is there a single cell in the row? */
bool row_alone(const struct tb_row *row);
bool header_is(const struct header_look *k);
/* Is this the second row of the header (units, or the lower halves)? */
bool header_second(const struct words *w, const struct tb_row *row);
/* Map the columns. `second` may be NULL. Fails on two columns for one figure. */
tb_rc header_map(struct layout *out, const struct words *w, struct tb_packing_list *list,
                 const struct tb_row *second, const struct texts *first, struct tb_err *err);

/* --- heads.c: label and value pairs above a table and between its blocks ------------------------------------ */
struct heads {
    const char *value[TB_FIELDS]; /* interned; NULL: not said */
    enum tb_field
        pending[COLUMNS_MOST]; /* labels of the row above, by column, waiting for values below them */
    size_t pending_n;
};
/* Takes what a row says; how many values were found. */
size_t heads_take(struct heads *h, const struct words *w, struct tb_list_store *s, const struct tb_row *row);

/* --- reader ---------------------------------------------------------------------------------------------------- */
struct reader {
    struct tb_packing_list *list;
    const struct tb_intake_opts *opts;
    struct words *words;
    bool second_pass;
    struct tb_sheet sheet;
    const char *sheet_name;
    bool sheet_taken;
    size_t sheet_rows, sheets_wanted;
    struct layout **layout;
    size_t layouts, layout_cap;
    struct layout *now;
    struct heads title;                /* of the file and the sheet, above the table */
    bool any_article, any_composition; /* first pass: somewhere outside a column */
    /* first pass, header search */
    struct texts best;      /* the row that looked most like a header */
    struct layout *partial; /* a header without bolts or lengths */
    struct texts held;      /* the header row, while its second row is awaited */
    unsigned days;          /* orders possible for all days so far */
    const char *day_text;
    size_t day_line;
    bool day_open;        /* day_text has more than one reading */
    const char *last_day; /* looked at last */
    char day_order;
    size_t point, comma; /* evidence of the whole file */
    /* second pass, rows */
    struct rows *rows;
};

tb_rc learn_row(struct reader *r, const struct tb_row *row, struct tb_err *err);
tb_rc learn_sheet_end(struct reader *r, struct tb_err *err);
tb_rc settle(struct reader *r, struct tb_err *err); /* after the first pass: decide, or ask */
tb_rc take_row(struct reader *r, const struct tb_row *row, struct tb_err *err);
struct rows *rows_new(void);
void rows_free(struct rows *rows);
void rows_new_sheet(struct rows *rows);

#endif
