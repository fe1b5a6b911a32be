/* reader.h - inside the packing-list reader: a file while it is read, and its two passes. */
#ifndef TENTERBOOK_INTAKE_READER_H
#define TENTERBOOK_INTAKE_READER_H

#include "intake/given.h"
#include "intake/header.h"
#include "intake/written.h"

#include <stdint.h>

#define TB_PROFILED_MOST 32
/* What stands in the columns below a header that is not understood. */
struct tb_profile {
    size_t rows;
    size_t sums, sum_from, sum_to,
        sum_at; /* rows that end in what the figures before it add up to, and where these stand */
    struct {
        size_t filled, figures, decimals, digits, changes, percents, ones;
        size_t counted; /* cells that count 1, 2, 3 ... down the rows */
        double sum;
        char last[24];
        char first[24];     /* what stands in it first */
        enum tb_field word; /* what a header word above the rows means; TB_FIELD_NONE: there is none */
    } column[TB_PROFILED_MOST];
};

/* A composition that stands in no column and under no label. */
struct tb_loose {
    const char *said; /* interned */
    size_t line;
    bool below;                          /* it stands below the header of a table */
    const struct tb_table_layout *table; /* that one */
    const char *name;   /* what stands before it in its cell: "Poplin 118, 100% cotton"; NULL */
    bool labelled;      /* "Composition: ...": a heading, where bolts stand below it */
    const char *before; /* all that stands before it in its row; NULL: not kept */
    const char *behind; /* its cell, where words stand behind it; NULL: none do */
};
#define TB_LOOSE_MOST 8

/* What tells goods apart in the rows of bolts: an article, a colour, a dye lot. */
struct tb_goods_name {
    enum tb_field field;
    const char *text; /* interned */
};
#define TB_GOODS_NAMES_MOST 64

/* How near a day stands to what it may be the date of. */
enum tb_day_near {
    TB_DAY_OF_MAIL, /* in its head: "Sent: 1 October 2026 16:12" */
    TB_DAY_ALONE,
    TB_DAY_OF_NOTE /* behind its number: "our delivery note 51107 dated 1 October 2026" */
};
struct tb_loose_day {
    const char *said; /* interned */
    size_t line;
    enum tb_day_near near;
};

/* What stands beside one bolt or several, and is not read. */
struct tb_row_remark {
    const char *text, *bolt; /* interned; the number of the first */
    size_t line, bolts;
};
#define TB_ROW_REMARKS_MOST 24

/* Cells of bolts in a column that has no field: the first, and how many. */
struct tb_unplaced {
    const char *text; /* interned */
    size_t line, cells;
};

/* A unit of length that a title, a heading or a total names (other_unit.c). */
struct tb_unit_said {
    size_t line, sheet;
    const char *said; /* interned */
    enum tb_unit unit;
    const struct tb_table_layout
        *proved; /* its figures are the sum of this table's, in another unit; NULL: words alone */
};
/* Lengths of the first pass that name no unit of their own. */
struct tb_plain_sums {
    const struct tb_table_layout *of;
    size_t figures, fullest;   /* how many; cells of the fullest row with a bolt */
    double block, table, file; /* since the last total, of the table, of the file */
};

/* A summary beside a list that its columns have shown: its header, and where it begins. */
struct tb_box_seen {
    size_t sheet, line, from;
};

/* A composition over several columns of one table (shares.c). */
#define TB_SHARES_MOST 12
#define TB_SHARE_TABLES_MOST 16
struct tb_share_column {
    size_t share, name; /* columns of the share and of the fibre; SIZE_MAX: the header names that */
    const char *header; /* of the share, interned */
};
struct tb_share_table {
    size_t sheet, line, first; /* the column that takes the whole */
    bool header;               /* the line is that of a header */
    struct tb_share_column column[TB_SHARES_MOST];
    size_t n;
    const char *said; /* their headers, interned */
};
struct tb_share_tables {
    struct tb_share_table at[TB_SHARE_TABLES_MOST];
    size_t n, now;                        /* now - 1: the one that is read; 0: none is */
    struct tb_cell cell[TB_COLUMNS_MOST]; /* of the row that is handed on */
};

/* Bolts that the list holds and that may not have come: what says so, and the one question about them (not_come.c). */
struct tb_not_come {
    const char *said,
        *at; /* interned; the words of a heading and its line as an option names it, or the lines of the rows */
    size_t line, first, last;
    size_t bolts, left_out; /* asked about, and left out as somebody said */
    bool labelled;          /* the heading is a label of the goods with its value */
    bool counted_above;     /* a total above the heading is that of all bolts before it */
    struct tb_question *q;  /* NULL: none, or one that is no longer kept */
};

/* "Cust PO", "ML-3400": interned. */
struct tb_unread_label {
    const char *label, *value;
};

/* A file while it is read: what the first pass learns, and where the second stands. */
struct tb_list_reader {
    struct tb_packing_list *list;
    const struct tb_intake_opts *opts;
    struct tb_header_words *words;
    const char *name;      /* of the file, for proposals */
    struct tb_given given; /* columns of a list without header; n is 0: the header says them */
    const char *encoding;  /* of a text file that is not UTF-8; NULL: not looked for yet */
    bool encoding_open;    /* the first pass met such a file, and was ended to look for it */
    bool second_pass;
    struct tb_sheet sheet;
    const char *sheet_name;
    bool sheet_taken;
    size_t sheet_rows, sheets_wanted;
    struct tb_table_layout **layout;
    size_t layouts, layout_cap;
    struct tb_table_layout *now;
    size_t other_table;    /* number of a sheet with another header: the table before does not go on */
    struct tb_heads title; /* of the file and the sheet, above the table */
    bool any_article, any_composition; /* first pass: somewhere outside a column */
    struct tb_loose
        headed; /* the article that a heading between or below bolts names first; said is NULL: none does */
    uint64_t said;                    /* bit per field: first pass, said in a title or a heading */
    const char *name_like;            /* the first words alone in a row of the title; NULL */
    const char *article_like;         /* what stands behind a label of the article without a colon; NULL */
    struct tb_unread_label unread[8]; /* labels above the tables that nobody understands, with their values */
    size_t unreads;
    struct tb_head_said held_said[64]; /* second pass: what headings say of goods */
    size_t helds;
    const char *not_read[48]; /* second pass: words outside the bolts that nothing was made of */
    size_t not_reads;
    struct tb_profile profile, whole; /* below the likeliest header; of all rows that hold a figure */
    struct tb_share_tables shares;    /* compositions over several columns */
    struct tb_shown_all shown;        /* columns whose content says what they are */
    struct tb_loose loose[TB_LOOSE_MOST];
    size_t looses;
    struct tb_goods_name goods[TB_GOODS_NAMES_MOST];
    size_t goods_names;
    struct tb_loose pure; /* what names a fibre without a percentage; said is NULL: nothing does */
    size_t percent_line;  /* where "100%" stands with words that are no known fibre; 0: nowhere */
    struct tb_loose_day
        loose_day[4]; /* days in a title that nothing calls the date of the note, the likelier first */
    size_t loose_days;
    bool mail_day; /* the date of the title stands in the head of a mail */
    /* first pass, header search */
    struct tb_texts best;            /* the row that looked most like a header */
    struct tb_table_layout *partial; /* a header without bolts or lengths */
    struct tb_texts held;            /* the header row, while its second row is awaited */
    bool held_upper;                 /* it is one only if the row below completes it */
    unsigned days;                   /* orders possible for all days so far */
    unsigned days_written;           /* the same, whatever the day of arrival is */
    const char
        *late_day; /* the first that would be later than the arrival in one of its orders; NULL: none */
    size_t late_line;
    const char *day_text;
    size_t day_line;
    bool day_open;        /* day_text has more than one reading */
    const char *last_day; /* looked at last */
    char day_order;
    unsigned named; /* first pass: bit per enum tb_unit that stands in a title, a heading or a total */
    struct tb_plain_sums plain;
    struct tb_unit_said unit_said[8];
    size_t unit_saids;
    size_t point, comma; /* evidence of the whole file */
    struct tb_box_seen box_seen[16];
    size_t boxes;
    struct tb_legends
        *legends; /* small tables that tell something of goods by their names; NULL: none was seen */
    struct tb_below *below;   /* a row that is held for what stands below it; NULL: none was yet */
    struct tb_box *box;       /* a summary beside the list; NULL: there is none */
    struct tb_beside *beside; /* tables side by side; NULL: there is one alone */
    struct tb_beside
        *above; /* rows that may head such tables, until their header comes; NULL: there are none */
    size_t beside_from,
        beside_shift;       /* where the columns of the one that is handed on begin, and stand in the file */
    const char *in_rows[2]; /* supplier and note that a row named first, where an option says them */
    /* second pass, rows */
    struct tb_list_rows *rows;
    struct tb_not_come unseen[2]; /* second pass: rows that a workbook hides, and those it strikes through */
    struct tb_row_remark remark[TB_ROW_REMARKS_MOST];
    size_t remarks, remarks_more; /* kept, and bolts with others */
    struct tb_unplaced unplaced[TB_COLUMNS_MOST];
};

/*
 * page.c: r->encoding of a text that is not UTF-8. Fails with TB_EINVAL where it is text in no code page that is known; asks where two
 * read differently and nothing tells which is meant.
 */
tb_rc tb_page_choose(struct tb_list_reader *r, const char *path, struct tb_err *err);

/* profile.c: what the rows below the likeliest header show of its columns. */
void tb_profile_learn(struct tb_profile *p, const struct tb_row *row);
/* "HEADER=bolt" for the columns that look like one and are not understood, at most `most`; how many. */
size_t tb_profile_map(const struct tb_list_reader *r, enum tb_field field, const char **map, size_t most);
/* How much a column looks like lengths (TB_FIELD_LENGTH), or like numbers of bolts; 0: not at all. */
double tb_profile_likeness(const struct tb_profile *p, size_t i, enum tb_field field);
/* A word above the rows, where it is a header word. */
void tb_profile_word(struct tb_profile *p, const struct tb_header_words *w, const struct tb_row *row);
/* propose.c: what --columns may say of a list without header; NULL: no column looks like lengths. */
const char *tb_proposed_columns(const struct tb_list_reader *r);
/* profile.c: words of the file that likely name the article, where no label does; NULL: there are none. */
const char *tb_article_said(const struct tb_list_reader *r);
/* A proposal for a supplier, a note or an article that the file does not name: words of its title or of its name. NULL: of a note or an article, there is none. */
const char *tb_proposed(const struct tb_list_reader *r, enum tb_field field);

/* unroll.c, where columns were given: a row, or one for each of its lengths, goes to the pass that is on. */
tb_rc tb_given_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);
/* Does a cell of the row hold a word for a total? */
bool tb_row_says_total(const struct tb_list_reader *r, const struct tb_row *row);
/* A table, where the row is its first bolt; NULL: it is not. */
struct tb_table_layout *tb_given_begin(struct tb_list_reader *r, const struct tb_row *row);
/*
 * After a first pass without a table: where the columns of this supplier are kept, r->given has them, and it is said. Fails with
 * TB_EINVAL where what is kept is no list of columns.
 */
tb_rc tb_given_kept(struct tb_list_reader *r, struct tb_err *err);

/* carry.c: the headings that an article cell holds, where the table has no columns for lot and composition. */
enum tb_parts tb_article_parts(struct tb_heads *h, const struct tb_list_reader *r, const char *article);

/* content.c: one more row of bolts. */
void tb_content_learn(struct tb_table_layout *l, const struct tb_row *row);
/* Columns that show what they are become r->shown. True: there are some, and the first pass begins anew. */
bool tb_content_show(struct tb_list_reader *r);
enum tb_unread {
    TB_UNREAD_ANY,   /* anything in most of their cells */
    TB_UNREAD_NAMES, /* words; where there are none, those of yarns and constructions, then of classes */
    TB_UNREAD_SHARES /* percentages with words in most of their cells, in whatever language */
};
/* content.c: does that column hold names, rather than codes of letters and figures? */
bool tb_unread_is_name(const struct tb_list_reader *r, const char *header);
/* Headers of columns that nobody understands, at most `most`; how many. */
size_t tb_unread_columns(const struct tb_list_reader *r, const char **header, size_t most,
                         enum tb_unread which);
/* A composition in a row that is no bolt, and that no label names. */
void tb_learn_loose(struct tb_list_reader *r, const struct tb_row *row);
/* One under a label. False: there are too many to keep. */
bool tb_learn_labelled(struct tb_list_reader *r, const struct tb_row *row, const char *said);
/* After the first pass: what is a heading of bolts is none that is nobody's. */
void tb_settle_labelled(struct tb_list_reader *r);
/* loose.c: the names in a row of a bolt, first pass. */
void tb_learn_goods(struct tb_list_reader *r, const struct tb_row *row);
/* Is such a composition said of one of several articles, colours or lots: "Twill = 100% cotton"? */
bool tb_loose_of_some(const struct tb_list_reader *r, const struct tb_loose *loose);
/* Tells the compositions below a table that are not what any of its bolts declares, second pass. */
void tb_say_loose(struct tb_list_reader *r);
/* loose_day.c: the date in a title, after its labels were taken; then any other day in it. */
void tb_learn_title_day(struct tb_list_reader *r, const struct tb_row *row);
/* "Art. RC-45" in a row above the table: what is proposed where nothing names the article. */
void tb_learn_loose_article(struct tb_list_reader *r, const struct tb_row *row);

/* alike.c: is it a bolt as those of that table are: number, length, and half of what they fill? */
bool tb_row_continues(const struct tb_table_layout *l, const struct tb_row *row);

/* First pass. */
tb_rc tb_learn_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);
/* Which fields a title or a heading names. */
void tb_learn_said(struct tb_list_reader *r, const struct tb_heads *h);
/* Units of lengths among the words of a row that is no bolt: "TOTAL YDS", "all lengths in metres". */
void tb_learn_named(struct tb_list_reader *r, const struct tb_row *row);
/* unread.c: labels of a row above the table that nobody understands. */
void tb_learn_unread(struct tb_list_reader *r, const struct tb_row *row);
/* What they say is not kept, and not lost without a word. */
void tb_say_unread_labels(struct tb_list_reader *r);
/* Does what every letter head holds stand in n bytes of a label: "Tel", "IBAN"? */
bool tb_of_a_letter(const char *label, size_t n);
/* other_unit.c: a row above the table or in it that may name another unit than the header of the lengths. */
void tb_learn_other_unit(struct tb_list_reader *r, const struct tb_row *row);
/* Who names another unit for a table whose header says `own`; NULL: nobody, or no unit can be in doubt. */
const struct tb_unit_said *tb_other_unit(const struct tb_list_reader *r, const struct tb_table_layout *l,
                                         enum tb_unit own);
/* Which of the two is true is asked about, and neither is likely. */
void tb_ask_other_unit(struct tb_list_reader *r, const struct tb_source_column *c,
                       const struct tb_unit_said *s);
/* The end of a sheet: a header still held becomes a table. */
tb_rc tb_learn_sheet_end(struct tb_list_reader *r, struct tb_err *err);
/* A row under a header. */
void tb_learn_body(struct tb_list_reader *r, const struct tb_row *row);
/* Of the orders in which a day can be read, those that do not make it later than the arrival; all, where each does. */
unsigned tb_day_possible(const struct tb_list_reader *r, const struct tb_day_reading *day, unsigned orders);
/* A day somewhere in the file: which orders it leaves possible. */
void tb_learn_day(struct tb_list_reader *r, const char *text, size_t line);

/* day_language.c: are the words of the headers of languages that write the day first, and none of English? */
bool tb_header_day_first(const struct tb_list_reader *r);

/* Between the passes: decide, or ask by the option that decides. Fails with TB_EINVAL. */
tb_rc tb_intake_settle(struct tb_list_reader *r, struct tb_err *err);
/* weight.c: the column with net weights in kilograms beside lengths that count; NULL: there is none. */
const struct tb_source_column *tb_weight_column(const struct tb_table_layout *l);
/* Does its header, or an option, say that prices are by the kilogram? */
bool tb_priced_by_kg(const struct tb_list_reader *r, const struct tb_table_layout *l);
/* The unit of such a column, taken or asked for. True: its decimal sign is settled too, or does not matter. */
bool tb_settle_weight(struct tb_list_reader *r, const struct tb_table_layout *l, struct tb_source_column *c);
/* Goods priced by the kilogram whose list gives gross weights alone: asked about. */
void tb_ask_gross(struct tb_list_reader *r, const struct tb_table_layout *l);
/* settle_missing.c: bolts or lengths have no column; `missing` names all that has none. Fails with TB_EINVAL where nothing can be asked. */
tb_rc tb_ask_columns(struct tb_list_reader *r, struct tb_text *missing, struct tb_err *err);
/* settle_ask.c: is there a column of that field in any table? A file may name the article in one and the composition in another. */
bool tb_somewhere(const struct tb_list_reader *r, enum tb_field f);
/* Is the only heading that names an article one below all bolts? It heads none of them, and is likely said of all. */
bool tb_headed_below(const struct tb_list_reader *r);
/* Asks for a text that holds for the whole file; `value` is proposed. */
void tb_intake_ask_text(struct tb_list_reader *r, const char *option, const char *value, const char *ask);
/* Asks for the article, for the composition, for the date of the note: what stands in the file is the likely answer. */
void tb_ask_article(struct tb_list_reader *r);
void tb_ask_declared(struct tb_list_reader *r);
void tb_ask_loose_day(struct tb_list_reader *r);
/* After the second pass: bolts that declare nothing are asked about where a composition stands that is nobody's. */
void tb_ask_undeclared(struct tb_list_reader *r);
/* doubts.c: columns that nobody understands, and that may change what is read: another length, or what tells lots apart. */
void tb_ask_unread(struct tb_list_reader *r);
/* On paper: a column of names that no row fills, whose words may stand in the column before it. */
void tb_ask_empty(struct tb_list_reader *r);
/* touching.c: on paper, a header that names two columns, and a column under no header; none of the answers is likely. */
void tb_ask_touching(struct tb_list_reader *r);
/* The unit and the decimal sign of one column of a table. */
tb_rc tb_settle_column(struct tb_list_reader *r, const struct tb_table_layout *l, struct tb_source_column *c,
                       struct tb_err *err);

/* remarks.c: what was filled in, computed, or is missing, after the second pass. */
void tb_list_remarks(struct tb_list_reader *r);

/* read.c: one reading of the file, as `opts` say; the list must be freed whatever the answer. */
tb_rc tb_read_once(struct tb_packing_list *list, const char *path, const struct tb_intake_opts *opts,
                   struct tb_err *err);
/* read_again.c: TB_EINVAL where questions are open; the sentence is that of the only one, or their number. */
tb_rc tb_check_questions(const struct tb_packing_list *l, struct tb_err *err);

/* Second pass. */
tb_rc tb_take_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);
/* The state of the second pass; free with tb_rows_free, which accepts NULL. */
struct tb_list_rows *tb_rows_new(void);
/* NULL is accepted. */
void tb_rows_free(struct tb_list_rows *rows);
/* Between sheets everything that runs down a column ends; the sums of the file stay. */
void tb_rows_new_sheet(struct tb_list_rows *rows);

#endif
