/* header.h - inside the packing-list reader: the header of a table and its columns. */
#ifndef TENTERBOOK_INTAKE_HEADER_H
#define TENTERBOOK_INTAKE_HEADER_H

#include "intake/store.h"
#include "intake/words.h"

#define TB_COLUMNS_MOST 64
struct tb_source_column {
    enum tb_field field;
    size_t index; /* in the row */
    const char *header;
    enum tb_unit unit;
    const char *currency; /* prices: the header says it; NULL */
    bool weight;          /* lengths: the header says that it is a weight */
    bool below;           /* it is not on the paper: what stands below the first bolt of each article */
    bool answered;        /* lengths: the unit is the one that an option chose of two that are stated */
    char decimal;         /* settled after the first pass */
    /* what the first pass saw */
    size_t only_point, only_comma, either;
    const char *either_text, *point_text, *comma_text;
    size_t either_line, point_line, comma_line;
    enum tb_unit seen;    /* lengths: a unit in one of its cells, or in the cell behind one */
    bool seen_two;        /* there are several */
    bool maybe_weight;    /* "Net": a length or a weight */
    unsigned unit_mask;   /* widths, masses without a unit: bit per enum tb_unit that fits all so far */
    const char *unitless; /* a figure without any unit; NULL: none */
    size_t typed_number, typed_day, typed_line; /* bolt numbers the spreadsheet keeps as something else */
    char last[24];                              /* figure looked at last: most repeat */
    size_t filled;                              /* empty cells that took the value above (second pass) */
    size_t titled;    /* empty cells that took what is said above the table (second pass) */
    size_t cells;     /* rows under the header that fill it (first pass) */
    size_t with_bolt; /* rows with a bolt number and a length that fill it (first pass) */
};
/* How a table numbers its bolts: seen in the first pass, so that the second can tell what is unlike them. */
#define TB_SHAPES_MOST 8
struct tb_bolt_habit {
    size_t rows, digits; /* rows with a bolt number and a length, and those whose number holds a digit */
    struct {
        char text[16]; /* how a number is built: "R-9" of "R-0815" */
        size_t n;
    } shape[TB_SHAPES_MOST];
    char first[16]; /* shape of the first: nothing stands above it that it could be the total of */
};
#define TB_MADE_OF_MOST 4
/* What a cell holds, told from outside. */
enum tb_cell_kind {
    TB_KIND_EMPTY,
    TB_KIND_FIGURE,  /* with its unit at most */
    TB_KIND_WHOLE,   /* a figure without a decimal sign */
    TB_KIND_SHARE,   /* "100% cotton" */
    TB_KIND_PERCENT, /* "100%" */
    TB_KIND_CODE,    /* letters or signs, and figures */
    TB_KIND_WORDS,
    TB_KINDS
};
/* What stands in a column of a table, whatever its header says: seen in the first pass, in the rows of bolts. */
struct tb_content {
    size_t lead;   /* rows from the first on that fill it */
    size_t shares; /* cells with letters and a percentage, whatever the words are */
    size_t filled, words, declares,
        whole,     /* cells; with letters; with a composition in them; with nothing else */
        grades,    /* cells that say how good a bolt is, and name nothing */
        fibres;    /* under "Material": cells that name a fibre */
    char last[48]; /* looked at last: most repeat */
    bool last_declares, last_whole;
    size_t digits, figures, counted,
        changes; /* cells with a digit; plain figures; those that count 1, 2, 3 ...; cells unlike the one above */
    size_t below, above,
        other_unit;  /* figures a little below the length of their row, above it; its yards or metres */
    double sum;      /* of the figures */
    char before[24]; /* the cell above */
    /* in rows that fill most of the columns: cells by kind, and those equal to the cell before them in the row */
    size_t kind[TB_KINDS], twins;
};
/* What the columns of a table that nobody understands show of shares of fibres (shares.c): bit per column. */
struct tb_share_look {
    uint64_t headed, behind; /* the header names a fibre; the cell before it does */
    size_t rows, whole;      /* with a share in them; where all of them come to 100% */
    bool looked;
};
struct tb_table_layout {
    size_t sheet; /* number in the workbook */
    const char *sheet_name;
    size_t line, last_line; /* of the header and its second row; without a header, of the first bolt */
    size_t cells;           /* of its header, empty ones too; 0: it has none */
    bool sides;             /* tables side by side are read as one */
    bool given;             /* it has no header: somebody said what its columns hold */
    struct tb_source_column column[TB_COLUMNS_MOST];
    size_t n;
    struct tb_source_column *of[TB_FIELDS]; /* first column of a field */
    struct tb_bolt_habit habit;
    struct tb_content content[TB_COLUMNS_MOST]; /* by the index of the column in the row */
    size_t kind_rows, short_rows;               /* rows that fill most of the columns, and others */
    unsigned char meant[TB_COLUMNS_MOST];       /* enum tb_field of each, also of those that are left out */
    uint64_t remarks, known,
        beyond; /* bit per column of the row: remarks; whatever is understood; what is not on the paper */
    size_t last_length; /* line of the last row with a length */
    struct {
        const char *name[3];     /* article, colour and dye lot of the bolt above, interned */
        bool open, open_article; /* the row above begins other goods; another article */
        size_t articles, /* that begin in the table, and those with a composition below their first bolt */
            articles_with, found, /* all compositions in the column of the article, ... */
            others;               /* ... and those that stand elsewhere in it */
    } below;                      /* first pass */
    struct tb_share_look shares;
    const char
        *head[2][TB_COLUMNS_MOST]; /* its one or two rows as they stand, interned; NULL: an empty cell */
    unsigned char made_of[TB_FIELDS][TB_MADE_OF_MOST],
        made_of_n[TB_FIELDS]; /* columns that join into a field */
};

/* cells.c: the cell of a column; NULL: the row has none there. */
const struct tb_cell *tb_cell_at(const struct tb_row *row, const struct tb_source_column *c);
/* The figure in a cell, the smaller of two readings; false: it holds none, or more than one. */
bool tb_cell_figure(const struct tb_cell *cell, double *v);
/* Does it hold a figure, whatever stands around it? NULL does not. */
bool tb_cell_has_figure(const struct tb_cell *cell);
/* Does the row hold anything in that column, at that place? How many of its cells hold anything? */
bool tb_cell_filled(const struct tb_row *row, const struct tb_source_column *c);
bool tb_row_filled(const struct tb_row *row, size_t at);
size_t tb_row_cells(const struct tb_row *row);

/* A row kept: its texts by column, NULL where empty. */
struct tb_texts {
    char **text;
    size_t n, line, known;
    size_t sheet;
};
/* A copy of the texts of a row, in the place of what was there. */
void tb_texts_take(struct tb_texts *t, const struct tb_row *row);
/* Free it and make it reusable. */
void tb_texts_free(struct tb_texts *t);

/* A row looked at as a header. */
struct tb_header_look {
    size_t known, cells;               /* cells that are header words, cells that hold anything */
    bool bolt, length, figures, value; /* value: three figures and more in words that no header has */
};
/* Count what in a row looks like a header. */
void tb_header_look_at(struct tb_header_look *out, const struct tb_header_words *w, const struct tb_row *row);
/* Is that enough to be one? */
bool tb_header_is(const struct tb_header_look *k);
/* May it be the upper row of one, whose lower row names bolts and lengths? */
bool tb_header_may_be_upper(const struct tb_header_look *k, const struct tb_row *row);
/* Is this the second row of the header (units, or the lower halves)? */
bool tb_header_second(const struct tb_header_words *w, const struct tb_row *row);
/*
 * Do its words stand below a header cell that is merged over several ("Metres" over "Gross | Net"), whatever they are? `first` is the
 * row above it. No row of bolts does: it holds no figure.
 */
bool tb_header_below_merged(const struct tb_texts *first, const struct tb_row *row);
/* Keeps the two rows of a header (second: NULL, there is one) in the layout, to know them again; `s` holds the texts. */
void tb_header_keep(struct tb_table_layout *l, struct tb_list_store *s, const struct tb_texts *first,
                    const struct tb_row *second);
/*
 * Is it a row of the header that stands, with the same words in the same places? Case and accents do not count, nor do cells that
 * are no header words in columns that are not read ("Page 2").
 */
bool tb_header_same(const struct tb_table_layout *l, const struct tb_header_words *w,
                    const struct tb_row *row);
/* The first colon of a text, plain or full-width (U+FF1A), and the bytes of it; NULL: it has none. `n` may be NULL. */
const char *tb_colon_in(const char *text, size_t *n);
/* Does a cell of the row begin with a figure? */
bool tb_row_has_figures(const struct tb_row *row);
/* Is there a single cell in the row? */
bool tb_row_alone(const struct tb_row *row);
/* Is it a unit or a currency alone: "m", "(cm)", "EUR"? */
bool tb_header_is_unit(const char *text);
/* Bytes of a text before the unit at its end: "gross m" is "gross" and a unit. */
size_t tb_header_core(const char *text);
/* A column whose field its content shows, in the table with its header on that line. */
struct tb_shown {
    size_t sheet, line, index;
    enum tb_field field;
    bool joins; /* it makes one name with the column that the header calls so */
    bool
        below; /* a column that is not on the paper, for what stands in column `name` below the first bolt of each article ... */
    size_t name, end; /* ... on the lines before that one */
    bool rest;        /* it has no header, and goes on with column `name` */
    size_t legend,    /* it is not on the paper: this legend tells it, the first is 1; 0: none does ... */
        told;         /* ... in this column of its own */
    enum tb_unit unit;
    const char *header; /* of that column, interned */
};
#define TB_SHOWN_MOST 64
/* Those of a file. */
struct tb_shown_all {
    struct tb_shown at[TB_SHOWN_MOST];
    size_t n;
};

/*
 * tb_header_map - map the columns of a header over one row or two.
 *   second  may be NULL
 *   shown   columns that are known by what stands in them; their headers do not count
 *   fails   TB_EINVAL: two columns of one name for one figure; two of different names are asked about in `list`
 */
tb_rc tb_header_map(struct tb_table_layout *out, const struct tb_header_words *w,
                    const struct tb_shown_all *shown, struct tb_packing_list *list,
                    const struct tb_row *second, const struct tb_texts *first, struct tb_err *err);

/* ---- compositions, wherever they stand (declares.c) -------------------------------------------------------- */

/* Bytes of a text. */
struct tb_stretch {
    size_t at, n;
};
/* declares.c: do n bytes hold a letter, of whatever script? */
bool tb_has_letter(const char *s, size_t n);
/* Does it hold a percentage with a fibre that is known? *out: from the first share to the last. */
bool tb_declares(struct tb_stretch *out, const char *text);
/* Does it name a fibre, with a share or without? */
bool tb_holds_fibre(const char *text);
/* label.c: "Material" and its like, which name the goods as often as what they are made of. */
bool tb_label_is_material(const char *label);
/* Does it name a fibre as the only one, without a percentage: "all pure new wool"? */
bool tb_names_pure(const char *text);
/* Is there nothing else in the text? */
bool tb_declares_wholly(const struct tb_stretch *s, const char *text);

/* Which columns make a field. */
void tb_header_join(struct tb_table_layout *out);

/* ---- what a column may be, before the columns are compared (guess.c) ---------------------------------------- */

/* One column: its readings, and which of them was taken. */
struct tb_guess {
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t n;
    const char *header;
    const char *currency;
    enum tb_field field; /* what it became */
    enum tb_unit unit;
    bool weight; /* a net weight that stands for the length */
    bool kept;   /* a net weight that is kept beside the length */
    bool shown;  /* by what stands in it */
    bool below;  /* it is not on the paper: what stands below the first bolt of each article */
};

/* Column i of a header whose first row is `first`, and whose second is `second` (NULL: none). `g` is zeroed. */
void tb_guess_column(struct tb_guess *g, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_texts *first, const struct tb_row *second, size_t i);

/* ---- labels with their values, above a table and between its blocks (heads.c) ------------------------------ */

/*
 * label.c: the field of n bytes that stand as a label, in one language or in two, an order with the words for whose it is; a colon
 * behind it does not count. TB_FIELD_NONE: it is not a label of a delivery or of goods.
 */
enum tb_field tb_label_field(const struct tb_header_words *w, const char *s, size_t n);
/* Is it made of labels, each with its value in the cell behind it: "Colour | Navy | Lot | 771"? No header is, and no row of bolts. */
bool tb_row_pairs(const struct tb_header_words *w, const struct tb_row *row);
/* Does it begin with the supplier's own word: "Our order"? */
bool tb_label_is_ours(const char *s, size_t n);
/* Does it name the contract of a sale? An order that stands beside it says more of the delivery. */
bool tb_label_is_contract(const char *s, size_t n);

/* What one label says of the goods. */
struct tb_head_said {
    enum tb_field field;
    const char *value, *label; /* interned; label is NULL where it is not known as it stands */
    size_t line;
};
#define TB_HEADS_SAID_MOST 24

/* What was said so far, field by field. */
struct tb_heads {
    const char *value[TB_FIELDS];    /* interned; NULL: not said */
    const char *standing[TB_FIELDS]; /* of a name: the part that was put in its place; NULL: none */
    struct tb_head_said
        said[TB_HEADS_SAID_MOST]; /* every value of the goods, also one that another took the place of */
    size_t saids;
    size_t line;       /* of the row that is taken */
    const char *label; /* of the value that is taken */
    enum tb_field
        pending[TB_COLUMNS_MOST]; /* labels of the row above, by column, waiting for values below them */
    size_t pending_n;
    enum tb_field
        guessed;  /* whose value is a name that stood without a label beside labels; TB_FIELD_NONE: none */
    bool unclear; /* several headings stood in one cell, and cannot be told apart */
};
enum tb_parts {
    TB_PARTS_NOT,     /* not several headings */
    TB_PARTS_TAKEN,   /* they are in h */
    TB_PARTS_UNCLEAR, /* two names without a label, or a field twice */
};
/* A value counts, and one of the goods is kept in `said`; `text` is interned. */
void tb_heads_keep(struct tb_heads *h, enum tb_field f, const char *text);
/* joint.c: the field that joins into this one, the design of an article or the shade band of a colour; TB_FIELD_NONE: none does. */
enum tb_field tb_joint_part(enum tb_field f);
/* A shade band alone is the colour, a design alone the article. */
void tb_heads_stand_in(struct tb_heads *h);
/* Is the value of this name such a part? */
bool tb_heads_stands_in(const struct tb_heads *h, enum tb_field name);
/* Does the field say what the goods are, so that two values of it are two kinds of goods? */
bool tb_field_of_goods(enum tb_field f);
/* parts.c: several headings in one text, without colons. h is changed only where they are taken. */
enum tb_parts tb_heads_parts(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                             const char *text);
/* Is it a verb between a label and what is told of it ("Quality is Satin 44")? Then they are a sentence. */
bool tb_word_tells(const char *word, size_t n);
/* "Lot 771" as "Lot: 771", interned; NULL: it does not begin with such a label. */
const char *tb_heads_labelled(const struct tb_header_words *w, struct tb_list_store *s, const char *text);
/* Takes what a row says; how many values were found. */
size_t tb_heads_take(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                     const struct tb_row *row);

#endif
