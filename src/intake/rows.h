/* rows.h - inside the packing-list reader: the second pass, and the state that runs down the rows of a table. */
#ifndef TENTERBOOK_INTAKE_ROWS_H
#define TENTERBOOK_INTAKE_ROWS_H

#include "intake/reader.h"

/* A measured value with what was written, kept while the same text repeats. */
struct tb_measure {
    const char *text; /* interned; NULL: nothing read yet */
    double value;     /* in the unit of the book; NAN: not said */
    const char *said; /* a range as written; NULL */
    bool no_width;    /* a mass along the length, where no width is said: its mass per area is not known */
};

/* Metres and number of some bolts, and what those of them come to that were weighed besides. */
struct tb_list_sum {
    double metres;
    size_t bolts;
    double kg;
    size_t weighed;
};

/* What is asked about, and what a total below may show. */
struct tb_pending {
    struct tb_question *q; /* NULL: one that is no longer kept */
    size_t line;
    double metres;
    bool taken; /* bolts, in the sums, that may not have come; else a length, in no sum, that may be cloth */
    size_t bolts; /* those of one question are together */
};
#define TB_PENDING_MOST 8
#define TB_MARKS_MOST 64
#define TB_WORD_KEPT 40 /* bytes of a cell remembered with what its words are */

/* A cell, and whether it says that its bolt was not sent. */
struct tb_unsent {
    char text[TB_WORD_KEPT];
    bool is;
};

/* Words alone in a row, under a column of names; text is NULL: there are none. */
struct tb_alone {
    const struct tb_source_column *column;
    const char *text, *at; /* interned; the row as an option names it */
    size_t line;
};

/* What runs down the rows. */
struct tb_list_rows {
    const char
        *memo[TB_COLUMNS_MOST];   /* last text of each column, interned: repeats are recognised by pointer */
    const char *carry[TB_FIELDS]; /* values that run down until another stands; interned, NULL: none */
    const char *article;          /* of the last row that named one, with its design */
    bool from_heading[TB_FIELDS]; /* the carried value stood in a heading between blocks */
    bool fresh[TB_FIELDS];        /* a heading said it since the last bolt */
    struct tb_head_said head[TB_HEADS_SAID_MOST]; /* what headings said since the last bolt, by field */
    size_t heads;
    bool in_row[TB_FIELDS]; /* the row of a bolt above has said it */
    struct tb_alone alone;
    bool of_title; /* the last bolt has its article from above the table, or from an option */
    const char *in[TB_FIELDS][TB_MADE_OF_MOST]; /* texts a joined field was made of, and ... */
    const char *joined[TB_FIELDS];              /* ... what they made */
    struct {
        char text[TB_WORD_KEPT];
        enum tb_total_word is;
    } word[TB_COLUMNS_MOST];                  /* the cell above, and whether it holds a word for a total */
    struct tb_unsent unsent[TB_COLUMNS_MOST]; /* the cell above, outside the columns that are read */
    struct tb_measure width, mass;
    struct tb_measure title_width, title_mass;
    struct tb_list_sum block, sheet, file;  /* since the last total, in the sheet, in the file */
    struct tb_list_sum mark[TB_MARKS_MOST]; /* the file's sum where groups of bolts began, the latest last */
    size_t marks;
    struct tb_pending pending[TB_PENDING_MOST]; /* since the last total */
    size_t pendings;
    struct tb_not_come below_words; /* bolts below a heading that says that they did not come */
    size_t whole_total;             /* bolts that the last total counted which was that of the whole file */
    uint32_t last_lot;
    double longest; /* metres of the longest bolt so far */
    bool block_start;
    bool article_in_row; /* the last bolt named its article itself */
    uint32_t delivery;
    const char *last_supplier, *last_note;
    const char *day_text;     /* the note's date as last written, interned, and ... */
    char day[TB_DAY_LEN + 1]; /* ... as it was read */
    uint8_t sheet_index;
    const char
        *below; /* words that stood under the composition in a row without a bolt; interned, NULL: none */
    size_t below_line;
    const char *below_at; /* as an option names that row */
    size_t prices_differ;
    const char *split_said;           /* article cell with several headings that was told last */
    size_t declared_by_option;        /* bolts that declare nothing, and have what an option says */
    size_t no_width;                  /* bolts with a mass along their length and no width */
    size_t numbered;                  /* bolts that have a number of the program's own */
    size_t no_weight, no_weight_line; /* weights that cannot be read; of the first: its line, and ... */
    const char *no_weight_text, *no_weight_why;
    struct {
        const char *text, *currency; /* interned; what the price below was read from */
        struct tb_list_lot lot;
    } price;
};

/* read.c: "Page 1", "Seite 2 von 3". */
bool tb_is_page_number(const char *text);
/* cells.c: is it a length as a column of lengths holds it, with its unit at most? NULL is none. */
bool tb_cell_is_length(const struct tb_cell *cell);
/* rows.c: how a row, or a line of the sheet that is read, is named in an option: "12", or "Sheet 1:12" in a workbook. */
const char *tb_row_place(struct tb_list_reader *r, const struct tb_row *row);
const char *tb_line_place(struct tb_list_reader *r, size_t line);

/* times.c: how many bolts "3 x 50.0" is, and where the length of each begins; 0: it is none of that kind. */
size_t tb_count_times(const char *text, size_t *at);
/* Such a row is asked about, and each of its bolts taken where somebody says so. False: it is none. */
bool tb_take_times(struct tb_list_reader *r, const struct tb_row *row, tb_rc *rc, struct tb_err *err);

/* cells.c: text of a field with ditto marks resolved and several columns joined, interned; NULL when empty. */
const char *tb_field_text(struct tb_list_reader *r, const struct tb_row *row, enum tb_field f);
/*
 * A value that cannot be taken, in column c (NULL: the row as a whole). The format is looked up in the
 * catalogue.
 */
void tb_row_bad(struct tb_list_reader *r, const struct tb_row *row, const struct tb_source_column *c,
                const char *fmt, ...) TB_PRINTF(4, 5);
/* The same where the sentence was looked up already. */
void tb_row_bad_why(struct tb_list_reader *r, const struct tb_row *row, const struct tb_source_column *c,
                    const char *why);

/*
 * carry.c: the text of a field for this row: the cell, else what runs down from above, else the title. NULL:
 * none.
 */
const char *tb_group_text(struct tb_list_reader *r, const struct tb_row *row, enum tb_field f);
/*
 * joint.c: what a heading says of the parts of names runs down; h loses the names that a part stands in for where the bolts below have one.
 */
void tb_carry_parts(struct tb_list_reader *r, struct tb_heads *h);
/* Both texts of a name as one, interned; either may be NULL. */
const char *tb_joint(struct tb_list_store *s, enum tb_field name, const char *text, const char *part);
/*
 * Another article: nothing that ran down from the one above holds for it, but what a heading said does. A heading
 * holds until another of its kind, or until a heading (not a cell of a row) names another article.
 */
void tb_carry_article(struct tb_list_rows *s, const char *article, bool in_heading);
/* not_read.c: remember cells of a row outside the bolts that nothing was made of (h: what was; NULL: nothing), and tell them. */
void tb_not_read(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h);
void tb_say_not_read(struct tb_list_reader *r);
/* held.c: remember what a heading says, and tell at the end what no bolt has got of it. */
void tb_held_keep(struct tb_list_reader *r, const struct tb_head_said *said);
/* Does the delivery or one of its lots hold that text, whatever its case and accents? */
bool tb_in_book(const struct tb_packing_list *l, const char *text);
void tb_held_tell(struct tb_list_reader *r);
/* block.c: what a heading says holds for the rows below it. */
void tb_carry_from(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h);
/* Of two values that labels above a table give to one field, and of two in headings above a bolt: one holds, or it is asked which. */
void tb_settle_title(struct tb_list_reader *r);
void tb_settle_heads(struct tb_list_reader *r);
/* rows.c: widths and masses that stand above a table. */
void tb_title_measures(struct tb_list_reader *r);
/* Does the row begin with a label of the goods and its value, where bolts have numbers and lengths: "Colour | Navy | Lot | 771"? */
bool tb_row_heads(const struct tb_list_reader *r, const struct tb_row *row);
/* A row with neither bolt nor length: the heading of a block, or words that belong to nobody. */
void tb_take_heading(struct tb_list_reader *r, const struct tb_row *row);
/* What is doubtful in a heading, or in a title. */
void tb_heads_say(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h);
/* Another supplier: what the rows above said of their delivery and goods is not theirs. */
void tb_carry_new_supplier(struct tb_list_rows *s);

/*
 * delivery.c, lot.c, bolt.c: a row that is a bolt, and what it belongs to. False: the row is bad and was
 * listed.
 */
tb_rc tb_take_delivery(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);
/* The orders of the delivery, as many as fit a line. */
void tb_take_order(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_delivery *d);
/* The date of the note. False: the row is bad and was listed. */
bool tb_take_day(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_delivery *d);
/* Article, shade, dye lot, declared words and price. False: the row is bad and was listed. */
bool tb_take_lot(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* ragged.c: lists a row of a CSV file whose cells are not those of its header as bad. False: they are. */
bool tb_refuse_ragged(struct tb_list_reader *r, const struct tb_row *row);
/* placed.c: cells of a bolt that no column takes and nothing else names; then they are told. */
void tb_keep_unplaced(struct tb_list_reader *r, const struct tb_row *row);
void tb_say_unplaced(struct tb_list_reader *r);
/*
 * A row that is no bolt and has no length in its column: a figure in it is held to the bolts above, and asked about where it may be a
 * total that does not agree. True: that was done.
 */
bool tb_hold_figures(struct tb_list_reader *r, const struct tb_row *row);
/* moved.c, first pass: what the cells of a row look like. */
void tb_kinds_learn(struct tb_list_reader *r, const struct tb_row *row);
/* Asks about a bolt whose cells are not like those of its columns: some of them may have moved. */
void tb_ask_moved(struct tb_list_reader *r, const struct tb_row *row);
/* A row with a bolt number and a length. Fails where the file as a whole cannot be taken. */
tb_rc tb_take_bolt(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);

/* sums.c: the bolts so far, and the groups they form. */
void tb_sum_add(struct tb_list_rows *s, uint32_t lot, double metres);
/* A bolt of them is so much longer than it was. */
void tb_sum_more(struct tb_list_rows *s, double metres);
/* The last of them was weighed besides; it is so much heavier than it was. */
void tb_sum_weigh(struct tb_list_rows *s, double kg);
void tb_sum_weigh_more(struct tb_list_rows *s, double kg);
/* A group that adds up to `metres` with all that may be cloth, or without all that may not have come. None: 0 bolts. */
struct tb_list_sum tb_sum_pending(const struct tb_list_rows *s, double metres, size_t count);
/* A group of bolts begins here. */
void tb_sum_mark(struct tb_list_rows *s);
/* A total was stated: the block ends. */
void tb_sum_close(struct tb_list_rows *s);
/*
 * The nearest group that adds up to `metres`; one of `count` bolts first, where count is not 0. None: 0 bolts.
 */
struct tb_list_sum tb_sum_of(const struct tb_list_rows *s, double metres, size_t count);
/* Is there a group of so many bolts? */
bool tb_sum_counts(const struct tb_list_rows *s, size_t count);
/* Does an article, a colour or a dye lot that the row names add up to this? A summary at the foot of a list. */
struct tb_list_sum tb_sum_named(const struct tb_list_reader *r, const struct tb_row *row, double metres);
/* Or any lot? */
struct tb_list_sum tb_sum_recap(const struct tb_list_reader *r, const struct tb_row *row, double metres);

/* alike.c: how the number in a row compares with the numbers of the other bolts. */
enum tb_number_like {
    TB_NUMBER_NONE,    /* there is none */
    TB_NUMBER_STRANGE, /* words where the others have figures: never a number of this list */
    TB_NUMBER_ODD,     /* built otherwise than the others: "12A" */
    TB_NUMBER_PLAIN    /* like the others */
};
enum tb_number_like tb_number_like(const struct tb_bolt_habit *h, const char *number);
/* Are two texts built alike: "L01" and "L12"? */
bool tb_number_same_shape(const char *a, const char *b);
/* First pass: one more bolt. */
void tb_habit_learn(struct tb_table_layout *l, const struct tb_row *row);
/*
 * Does the row fill at least half of what the bolts of its table mostly fill, besides number and length? *steady: how many
 * columns that are, *missing: how many of them are empty.
 */
bool tb_row_like_bolts(size_t *missing, size_t *steady, const struct tb_table_layout *l,
                       const struct tb_row *row);

/*
 * not_come.c: a heading that says that the bolts below it did not come ("To follow:", "Cancelled") begins here. True: it is nothing
 * else.
 */
bool tb_not_come_heading(struct tb_list_reader *r, const struct tb_row *row);
/* A row of a bolt that may not have come: it is asked about, once for all of its kind. True: somebody said that it is left out. */
bool tb_not_come(struct tb_list_reader *r, const struct tb_row *row);
/* What was asked is put into words, or what was left out is told: below the last of such a heading, and at the end of the file. */
void tb_not_come_end(struct tb_list_reader *r);
void tb_unseen_end(struct tb_list_reader *r);
/* A total adds up these bolts of the file. */
void tb_not_come_total(struct tb_list_reader *r, struct tb_list_sum sum);
/* part.c: the answer that they did not come is the first of the question (gone), or that they came. */
void tb_answer_first(struct tb_question *q, bool gone);

/* block.c: did somebody say that what this line says holds? */
bool tb_said_heading(const struct tb_list_reader *r, size_t line);
/* name_alone.c: words alone where the number of a bolt would stand, without a length, that may be the colour of the bolts below: asked about. */
bool tb_take_name_alone(struct tb_list_reader *r, const struct tb_row *row);
/* Are cells told by their places alone: a paper, or pasted text? */
bool tb_is_drawn(const struct tb_list_reader *r);
/* remark_alone.c: words alone under the article, the colour or the dye lot, which may be a remark, are kept, and not taken. */
bool tb_keep_alone(struct tb_list_reader *r, const struct tb_row *row);
/* Asks about a label between bolts whose value no goods are called by; the bolts below do not have it then. */
bool tb_ask_told(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h);
/* Asks about them where the next bolt has no name of its own there. */
void tb_settle_alone(struct tb_list_reader *r, const struct tb_row *row);
/* Did somebody say that this row is a bolt? */
bool tb_said_bolt(const struct tb_list_reader *r, const struct tb_row *row);
/* Or that it is a further length of the bolt above? */
bool tb_said_part(const struct tb_list_reader *r, const struct tb_row *row);
/* Or that it is a total? */
bool tb_said_total(const struct tb_list_reader *r, const struct tb_row *row);
/* part.c: a row that is a further length of the bolt above. */
void tb_take_part(struct tb_list_reader *r, const struct tb_row *row);
/* Asks about a row of so many metres that has the number of the bolt above; the reading goes on without it. False: it has not. */
bool tb_ask_again(struct tb_list_reader *r, const struct tb_row *row, double metres);
/* Something is asked about (q, where it is kept) that a total may show to be cloth, or not to have come (taken). */
void tb_pend(struct tb_list_rows *s, struct tb_question *q, size_t line, double metres, bool taken);
/* A total on that line, which states so many bolts, agrees with `sum` and what is pending: its questions have likely answers now. */
void tb_pending_settle(struct tb_list_reader *r, size_t line, size_t stated, struct tb_list_sum sum);
/* A total agrees with all bolts, also those that may not have come: it stays open, and is read on as if they had. */
void tb_pending_counted(struct tb_list_rows *s);
/* left_out.c: a total of so many metres and `count` bolts (0: it names none) that lacks one bolt since the last total asks about it. */
void tb_ask_left_out(struct tb_list_reader *r, const struct tb_row *row, double metres, size_t count);
/* totals.c: "m", or "kg" where the goods of the table are counted in kilograms. */
const char *tb_length_unit_key(const struct tb_list_reader *r);
/* True when the row is a total, or may be one and is asked about. */
bool tb_take_total(struct tb_list_reader *r, const struct tb_row *row);

/*
 * weight.c: what bolts weigh whose lengths count. A weight that cannot be taken is a bad row (false) only where the price is by the
 * kilogram.
 */
bool tb_take_weight(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* A row is a further length of that bolt. */
void tb_part_weight(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* A total row, held to the weight of the bolts it is the total of. */
void tb_check_weight(struct tb_list_reader *r, const struct tb_row *row, const struct tb_list_sum *group);
void tb_say_weights(struct tb_list_reader *r);

/* length.c, measure.c, price.c. False: the row is bad and was listed. */
bool tb_take_length(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* After width and mass: the length of what is counted in kilograms, where both are known. */
bool tb_derive_length(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* A length cell in metres (or kilograms, where goods are counted in them), for sums; NAN when it is not a length. */
double tb_length_metres(const struct tb_list_reader *r, const struct tb_row *row, const struct tb_cell *cell);
/* Width in centimetres and mass in g/m2; NAN where they are not said. */
bool tb_take_width_mass(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt);
/* A width or mass said above the table; *to is left alone when it says none that can be taken. */
void tb_title_measure(struct tb_list_reader *r, enum tb_field field, struct tb_measure *to,
                      enum tb_unit unit);
/* The unit in which a row counts its goods: its cell says it, or the column of units, or the header; NONE: nothing does. */
enum tb_unit tb_length_unit(const struct tb_list_reader *r, const struct tb_row *row);
/* Price, currency and unit of the lot. */
bool tb_take_price(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_lot *lot);
/* Why a number with the other decimal sign than its column's cannot be taken. */
const char *tb_decimal_fault(char decimal);

/* at_odds.c: asks about a bolt whose row says that it was not sent. */
void tb_ask_not_sent(struct tb_list_reader *r, const struct tb_row *row);
/* row_remarks.c: keeps what a row says of its bolt in a column of remarks, or in one that is filled in few rows. */
void tb_keep_remarks(struct tb_list_reader *r, const struct tb_row *row, const char *bolt);
/* Tells them, each text once. */
void tb_say_row_remarks(struct tb_list_reader *r);
/* Such a row that somebody said is no bolt: it is left out, and that is said. */
bool tb_left_unsent(struct tb_list_reader *r, const struct tb_row *row);
/* A row without bolt and length: words under the composition are kept until a bolt below shows whether they were a heading. */
void tb_note_below(struct tb_list_reader *r, const struct tb_row *row);
/* Asks about them where the next bolt declares something else: they were the end of the composition above. */
void tb_ask_below(struct tb_list_reader *r, const struct tb_row *row);
/* The end of a sheet: a share that stands below the last bolt, under the composition. */
void tb_ask_below_end(struct tb_list_reader *r);
/* Asks where --supplier or --note covers several that the rows name. */
void tb_ask_named_twice(struct tb_list_reader *r, const struct tb_row *row);

#endif
