/*
 * intake.h - a supplier's packing list (CSV or a workbook), read into deliveries, lots and bolts.
 *
 * The reader finds the columns by their headers in any order and language of sql/reference/header_word.csv,
 * past title rows, subtotals, repeated headers and blocks. Where a file allows two readings it does not guess:
 * it fails with a sentence that names both and the option that decides. docs/intake.md is the full account.
 */
#ifndef TENTERBOOK_INTAKE_H
#define TENTERBOOK_INTAKE_H

#include "tenterbook/goods.h"
#include "tenterbook/limits.h"
#include "tenterbook/sheet.h"

#include <stdint.h>

/* What a column may hold. Up to TB_FIELD_PARTS they are kept; the rest are understood and left out. */
enum tb_field {
    TB_FIELD_NONE,
    TB_FIELD_SUPPLIER,
    TB_FIELD_NOTE, /* number of the delivery note or packing list */
    TB_FIELD_DAY,
    TB_FIELD_ORDER,
    TB_FIELD_ARTICLE,
    TB_FIELD_DESIGN,
    TB_FIELD_COLOUR,
    TB_FIELD_LOT,         /* dye lot */
    TB_FIELD_SHADE_GROUP, /* shade band within a dye lot */
    TB_FIELD_BOLT,
    TB_FIELD_LENGTH,
    TB_FIELD_UNIT, /* of the length */
    TB_FIELD_WIDTH,
    TB_FIELD_WIDTH_USABLE,
    TB_FIELD_MASS,        /* per area */
    TB_FIELD_MASS_LINEAR, /* per length */
    TB_FIELD_COMPOSITION,
    TB_FIELD_ORIGIN,
    TB_FIELD_PRICE,
    TB_FIELD_CURRENCY,
    TB_FIELD_PARTS, /* cut lengths on one bolt */
    TB_FIELD_COUNT, /* number of bolts */
    TB_FIELD_PACKAGE,
    TB_FIELD_LENGTH_GROSS,
    TB_FIELD_LENGTH_ORDERED, /* what was wanted: never what came */
    TB_FIELD_ALLOWANCE,
    TB_FIELD_WEIGHT_NET,
    TB_FIELD_WEIGHT_GROSS,
    TB_FIELD_YARN,
    TB_FIELD_CLASS,
    TB_FIELD_FAULTS,
    TB_FIELD_TARIFF,
    TB_FIELD_REMARK,
    TB_FIELD_TOTAL,  /* words of a total row; never a column */
    TB_FIELD_IGNORE, /* somebody said to leave the column out */
    TB_FIELDS
};
/* "bolt": what --map says; static, "" for TB_FIELD_NONE. */
const char *tb_field_key(enum tb_field field);
/* "bolt number": what a person reads, marked for the message catalogue; static, "" for TB_FIELD_NONE. */
const char *tb_field_name(enum tb_field field);
/* The field of a key; -1: there is no such field. */
int tb_field_by_key(const char *key);

/* Units as received. Lengths become metres, widths centimetres, masses g/m2. */
enum tb_unit {
    TB_UNIT_NONE,
    TB_UNIT_M,
    TB_UNIT_YD,
    TB_UNIT_FT,
    TB_UNIT_CM,
    TB_UNIT_MM,
    TB_UNIT_IN,
    TB_UNIT_GSM,       /* g/m2 */
    TB_UNIT_OZ_YD2,    /* oz/yd2 = 33.906 g/m2 */
    TB_UNIT_MOMME,     /* 4.340 g/m2 */
    TB_UNIT_G_PER_M,   /* per running metre: needs the width */
    TB_UNIT_OZ_PER_YD, /* per running yard: needs the width */
    TB_UNIT_OZ,        /* "oz" alone: per area or per running yard, so asked */
    TB_UNIT_KG,
    TB_UNITS
};
/* "yd", "g/m2": static, "" for TB_UNIT_NONE. */
const char *tb_unit_key(enum tb_unit unit);
/* Metres in one; 0 when it is not a length. */
double tb_unit_metres(enum tb_unit unit);
/* The unit that a length as the book keeps it (tb_bolt.said; "" plain metres) was written in; NONE: it does not tell. */
enum tb_unit tb_length_said_in(const char *said);
/* The unit of a key; -1: there is no such unit. */
int tb_unit_by_key(const char *key);

/* A header word besides those of the reference table: a site's own, or one given with --map. */
struct tb_header_word {
    const char *word;
    enum tb_field field;
};

/* How the lists of a supplier are laid out that have no header. */
struct tb_columns_of {
    const char *supplier, *columns; /* as opts.columns */
};

enum tb_line_kind {
    TB_LINE_BOLT,
    TB_LINE_TOTAL,
    TB_LINE_PART,   /* a further length of the bolt above */
    TB_LINE_HEADING /* of two labels of one thing the one that holds */
};
/* A row that a person has looked at: what is it? */
struct tb_line_is {
    const char *sheet; /* its name; "" for any */
    size_t line;
    enum tb_line_kind kind;
};

/* What settles doubts. All zero: nothing is settled. Everything is borrowed for the call. */
struct tb_intake_opts {
    const char *supplier; /* replaces what the file says; NULL: the file says it */
    const char *note;     /* likewise */
    const char *order;    /* likewise */
    const char *article;  /* for rows that name none */
    const char *declared; /* for rows that declare nothing; "" accepts that nothing is declared */
    enum tb_origin_kind declared_from; /* TB_ORIGIN_ROW, TB_ORIGIN_TITLE or TB_ORIGIN_OPTION */
    const char *currency;              /* for prices without one */
    const char *digest;  /* of the file, where the caller has it already; NULL: it is computed */
    const char *day;     /* of the note, YYYY-MM-DD; replaces what the file says */
    const char *arrived; /* YYYY-MM-DD: no day of the file is later; NULL: not known */
    const char *name;    /* what the file is called, for proposals; NULL: its path */
    uint64_t without;    /* bit per enum tb_field: what the file says of it is left out */
    const char
        *columns; /* of a list without header: keys of fields in the order of its columns, "-" for one that is
                            left out, "length*" or "length*10" for lengths side by side; NULL: the header says it */
    const struct tb_columns_of *kept; /* for lists without header of these suppliers, n of them */
    size_t kepts;
    const char *encoding; /* of a text file, a name of code_page.h; NULL: as its words show */
    char dates;           /* 'd' day first, 'm' month first, 'y' year first; 0: as the file shows */
    char decimal;         /* ',' or '.'; 0: as the file shows */
    enum tb_unit length_unit, width_unit, mass_unit; /* TB_UNIT_NONE: as the file says */
    enum tb_unit
        price_unit; /* what prices are for that do not say it; TB_UNIT_NONE: asked where not plain metres */
    bool number_by_lot; /* bolt numbers start again in every dye lot: kept as "LOT/NUMBER" */
    char hidden_rows,
        struck_rows; /* rows that a workbook hides or strikes through: 't' taken, 'l' left out; 0: asked where bolts are in them */
    bool whole_rows;          /* an empty cell says nothing: no value runs down from the row above */
    const char *const *sheet; /* only these sheets, n of them; 0: every sheet that is shown */
    size_t sheets;
    const struct tb_header_word *word; /* stronger than the reference table */
    size_t words;
    const struct tb_line_is *line; /* rows that could be two things, n of them */
    size_t lines;
    void (*progress)(void *arg, size_t rows, bool second_pass); /* every few thousand rows; may be NULL */
    void *progress_arg;
};

struct tb_list_bolt {
    const char *number; /* text, as received */
    double metres;      /* > 0; NAN: counted in kilograms, and its length is not known */
    double kg;          /* where it was counted in kilograms; 0 else */
    bool derived;       /* its metres are computed from kilograms, width and mass per area */
    double weight_kg;   /* net, where it was weighed besides; 0: not said */
    const char *said;   /* what was written where it was not plain metres ("120 yd", "50+30"); "" else */
    float width_cm;     /* the smaller of a range; NAN: not said */
    float mass_gsm;     /* g/m2; NAN: not said */
    uint32_t lot;       /* index into tb_packing_list.lot */
    uint32_t line;      /* of the file or sheet */
    uint16_t parts;     /* cut lengths on the bolt, 1 when not said */
    uint8_t unit;       /* enum tb_unit of the length as received */
    uint8_t sheet;      /* index into tb_packing_list.sheet, capped at 255 */
};

/* One article, shade and dye lot of one delivery under one declaration. Texts are "" when not said. */
struct tb_list_lot {
    uint32_t delivery;   /* index into tb_packing_list.delivery */
    const char *article; /* article and design joined by " / " */
    const char *shade;   /* colour number and name, shade band */
    const char *dye_lot;
    const char *declared;              /* the supplier's words as received */
    enum tb_origin_kind declared_from; /* TB_ORIGIN_ROW, TB_ORIGIN_TITLE or TB_ORIGIN_OPTION */
    const char *origin;                /* country, as received */
    const char *currency;              /* ISO 4217 letters, or as received */
    double price;                      /* per price_unit, TB_UNIT_KG among them; NAN: not said */
    enum tb_unit price_unit;
    uint32_t bolts;
    double metres;             /* of the bolts whose length is known */
    double kg;                 /* of those that were counted in kilograms */
    uint32_t derived, unknown; /* bolts whose length is computed from kilograms; is not known */
    double weight_kg;          /* of those that were measured and weighed besides */
    uint32_t weighed;          /* so many */
};

struct tb_list_delivery {
    const char *supplier, *note, *order; /* order is "" when not said */
    char day[TB_DAY_LEN + 1];            /* of the note; "" when not said */
    uint32_t bolts;
    double metres, kg; /* likewise */
    uint32_t derived, unknown;
    double weight_kg; /* likewise */
    uint32_t weighed;
};

/* One column as it was understood: for --dry-run. */
struct tb_list_column {
    const char *sheet;
    size_t column;      /* 0-based */
    const char *header; /* as in the file */
    enum tb_field field;
    enum tb_unit unit; /* of its figures when the header or an option says it */
    bool kept;         /* a net weight beside the length */
};

/* One value that cannot be taken. */
struct tb_bad {
    const char *sheet; /* "" for CSV */
    size_t line;
    size_t column;      /* 0-based; SIZE_MAX: the row as a whole */
    const char *header; /* of the column; "": it has no header */
    const char *value;  /* as received, cut at 60 characters */
    const char *why;
};

/* ---- what a file leaves open ------------------------------------------------------------------------------ */

/* One way to settle a question: an option of `receive`, as tb_intake_answer takes it. All borrowed from the list. */
struct tb_answer {
    const char *option; /* without the dashes: "dates" */
    const char *value;  /* "dmy"; "" where it is the empty text */
};
#define TB_ANSWERS_MOST 4
struct tb_question {
    size_t line;                              /* where it arises; 0: the file as a whole */
    const char *ask;                          /* a whole sentence, options included */
    struct tb_answer answer[TB_ANSWERS_MOST]; /* the likely one first */
    size_t answers;                           /* 1 or more */
    bool open;                                /* none of them is likely: a person says which */
    bool proposed;                            /* the first is only a proposal: any other text does as well */
};
#define TB_ASK_MOST 100 /* kept; the rest are only counted */

#define TB_SAY_MOST 100
#define TB_INTAKE_TEXT_MOST                                                                                  \
    TB_LISTED_MOST      /* bytes of a name, or of declared words: longer ones are no packing list */
#define TB_BAD_MOST 100 /* kept; the rest are only counted */

struct tb_packing_list {
    char digest[TB_DIGEST_LEN + 1]; /* SHA-256 of the file */
    struct tb_list_delivery *delivery;
    struct tb_list_lot *lot;
    struct tb_list_bolt *bolt; /* in the order of the file */
    size_t deliveries, lots, bolts;
    const char **sheet; /* names of the sheets read; "" for CSV */
    size_t sheets;
    struct tb_list_column *column;
    size_t columns;
    const char **say;           /* what a person should know: sums that differ, numbers typed as dates, ... */
    size_t says, says_left_out; /* kept, and beyond TB_SAY_MOST */
    struct tb_bad *bad;
    struct tb_question *question; /* everything that is left open, in the order of the file */
    bool tried;                   /* with the likely answers of all of them the list is taken */
    size_t questions;             /* kept */
    size_t question_count;        /* all */
    size_t bads;                  /* kept */
    size_t bad_count;             /* all */
    size_t rows;                  /* rows of the file, of any kind */
    size_t totals;                /* total rows that agreed with the bolts above them */
    size_t totals_off;            /* those that did not: each is said */
    struct tb_list_store *store;  /* memory behind all of it */
};

/*
 * tb_intake_answer - what a person says of a list, as the options of `receive` say it: the answer to a question, say.
 *
 *   option  without the dashes: supplier, note, order, article, declared, currency, note-date, dates, decimal, encoding, columns, unit,
 *           width-unit, mass-unit, price-unit, map, total-line, bolt-line, part-line, heading-line, hidden-rows,
 *           struck-rows, sheet, numbers-by-lot, without
 *   value   its value; "" for those that take none
 *   fails   TB_EINVAL: no such option, or not a value of it; the sentence says what it takes
 *   memory  copies live in mem; arrays of opts are copied before they grow, so they may be borrowed
 */
tb_rc tb_intake_answer(struct tb_intake_opts *opts, const char *option, const char *value,
                       struct tb_arena *mem, struct tb_err *err);

/*
 * tb_packing_list_read - read a whole packing list.
 *
 *   list    all zero before; whatever the answer, free it with tb_packing_list_free. After a failure
 *           bad[], column[] and say[] tell what was found, and no bolt may be used
 *   path    a regular file, read twice: once to learn how its figures are written, once to take them
 *   fails   TB_EINVAL rows that cannot be taken (see bad[]), a missing column, or something left open. Then
 *           question[] holds all of it, also what the likely answers would leave open in their turn, and the rest of
 *           the list is as those answers make it. Else as tb_sheet_read
 *   memory  about 80 bytes a bolt besides its texts; texts that repeat are kept once
 */
tb_rc tb_packing_list_read(struct tb_packing_list *list, const char *path, const struct tb_intake_opts *opts,
                           struct tb_err *err);
/* Free all of it and make it reusable; NULL is accepted. */
void tb_packing_list_free(struct tb_packing_list *list);

/* A price per metre, as the book keeps it; NAN where the list gives none, or one by weight. */
double tb_price_per_metre(const struct tb_list_lot *lot);

#endif
