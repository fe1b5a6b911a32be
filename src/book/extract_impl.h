/* extract_impl.h - what the files about extracts share: values as JSON, journal rows, the proof's sentences. */
#ifndef TENTERBOOK_BOOK_EXTRACT_IMPL_H
#define TENTERBOOK_BOOK_EXTRACT_IMPL_H

#include "book/private.h"
#include "tenterbook/extract.h"
#include "tenterbook/journal_words.h"

/* ---- values ---------------------------------------------------------------------------------------------- */

/* A value as JSON, bytes as {"base64": "..."}. A new reference; NULL when a text is not UTF-8. */
json_t *tb_value_json(const struct tb_value *v);
/*
 * tb_value_of_json - the value again.
 *   out     borrows from v and from room, which takes decoded bytes
 *   result  false, *out nothing: neither text, number, nothing nor bytes that can be decoded
 */
bool tb_value_of_json(struct tb_value *out, const json_t *v, struct tb_text *room);
/* Bytes that were left out, {"left_out": size}? They are read as no bytes. */
bool tb_left_out(const json_t *v);
/* Bytes as base64; a new reference. */
json_t *tb_base64_json(const void *p, size_t n);
/* And back; false, *out empty, where it is not such a text. */
bool tb_base64_of_json(struct tb_text *out, const json_t *v);

/*
 * Tables of disputes: older programs kept them back. A file tells both or neither, by its form; their facts are in trees, and not in
 * the shares of lots, which journal rows of before name too.
 */
bool tb_table_of_disputes(const char *table);
/* Whether these facts tell them, if only that there are none. */
bool tb_tells_disputes(const json_t *facts);

/* The statement facts_TABLE, whose columns are those of the table in order; NULL when there is no such table. */
const struct tb_sql_text *tb_facts_of(const char *table);
/* The canonical form of a row, by the columns of the contract: members that a file has besides count for nothing. */
void tb_row_canon(struct tb_text *out, const json_t *row, const struct tb_sql_text *facts, int64_t rule,
                  struct tb_text *room);

/* A text member of a row; "" when it has none. */
const char *tb_row_text(const json_t *row, const char *key);
int64_t tb_row_whole(const json_t *row, const char *key);
/* How many rows of a table, in the order of the journal, are of one journal row. */
int64_t tb_rows_of_entry(const json_t *rows, int64_t entry);

/* ---- taking out ------------------------------------------------------------------------------------------- */

/*
 * tb_extract_facts - the rows of every table about a lot, as they are stored: {"lot": [...], ...}. Nothing is proved here.
 *   upto   of people and suppliers those alone that a record up to this journal row relates to the lot; INT64_MAX: all
 */
tb_rc tb_extract_facts(json_t **out, struct tb_book *b, const char *lot_id, int64_t upto, struct tb_err *err);
/* The trees over these facts, for a book that proves; TB_EFORMAT where it does not. */
tb_rc tb_extract_trees(json_t **out, struct tb_book *b, const json_t *facts, struct tb_err *err);

/* ---- time stamps ------------------------------------------------------------------------------------------ */

/*
 * tb_extract_stamps - of the time stamps of the book those that show, of some row that recorded something of the lot, an earlier
 * moment than any other of the same authority: [{"number", "at", "by", "serial", "reply"}, ...].
 *   upto   stamps taken in by later rows are left alone
 *   fails  TB_EFORMAT one of them does not fit the book; as tb_stamps_read
 */
tb_rc tb_extract_stamps(json_t **out, struct tb_book *b, const json_t *facts, int64_t upto,
                        struct tb_err *err);
struct tb_told;
/* tb_extract_stamped - see what those of the extract show; fills p->stamp, adds to p->wrong. authority NULL: nobody is named. */
tb_rc tb_extract_stamped(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told,
                         const char *authority, struct tb_err *err);
/* tb_stamps_against - those of the extract beside those that the book gives for it; adds to p->wrong. */
void tb_stamps_against(struct tb_extract_proof *p, const json_t *extract, const json_t *ours);

/* ---- the journal of an extract ------------------------------------------------------------------------------ */

/* What a journal row says that it recorded in one table. */
struct tb_told_content {
    const char *table; /* as the statements name it */
    int64_t rows;
    char digest[TB_DIGEST_HEX]; /* by the rule of tables of all rows, else the root of their tree */
};
/* A journal row as an extract tells it. */
struct tb_told_row {
    int64_t number, rule;
    const json_t *full; /* what it says; NULL: only its digest is known */
    bool
        follows; /* its digest was computed from what it says, or from the digest of that, and from the row before */
    bool ours;             /* it says that it recorded something of the lot; rules of trees and shares only */
    uint64_t lots, lot_at; /* then: how many lots it is about, and which of them it is */
    unsigned char shares[TB_HASH];   /* root over what it recorded of each; rule of shares, told in full */
    unsigned char digest[TB_HASH];   /* computed where it can be, else as told */
    struct tb_told_content *content; /* from tb_told_contents; by table, as the row has it */
    size_t contents;
};
struct tb_told {
    struct tb_told_row *row; /* rising by number */
    size_t n;
};
/*
 * tb_told_read - the rows of an extract, and whether they are whole and follow each other.
 *   out   borrows from the extract; free it with tb_told_free
 *   p     sentences, counts and the last row are noted; NULL: nobody wants to know
 */
void tb_told_read(struct tb_told *out, struct tb_extract_proof *p, const json_t *extract);
void tb_told_free(struct tb_told *j);
/* Take what each row told in full says to pieces, once for all who ask. What cannot be read is told in p->wrong. */
void tb_told_contents(struct tb_told *j, struct tb_extract_proof *p);
/* What a row says of a table; NULL: nothing. */
const struct tb_told_content *tb_told_of(const struct tb_told_row *row, const char *table);
/* The row with this number; NULL when it is not there. */
const struct tb_told_row *tb_told_at(const struct tb_told *j, int64_t number);
/* The first row of those that lead to this one without a break, so that its digest covers what is told of them; the one behind it
 * where it is told by its digest alone; 0 where it is not there. */
int64_t tb_told_reach(const struct tb_told *j, int64_t number);
/* As the program made extracts before there were trees: rows with gaps before the lot came in, told one by one. */
void tb_told_read_old(struct tb_told *out, struct tb_extract_proof *p, const json_t *extract);
struct tb_told_row *tb_told_add(struct tb_told *j, size_t *cap, int64_t number, int64_t rule,
                                const json_t *full);

/* ---- all facts of the lot, and no other's ------------------------------------------------------------------- */

/* A fact of the extract that a tree covers. */
struct tb_owned {
    int64_t entry;
    const char *table;
    const json_t *row;
    size_t seq; /* in which order they were met */
    unsigned char leaf[TB_HASH];
};
struct tb_owneds {
    struct tb_owned *item;
    size_t n, cap;
};
/*
 * tb_extract_whole - does each journal row about the lot have all its facts here, and none of another lot?
 *   owned  all facts that trees cover; sorted by this
 * What rows of older rules cannot show is counted in p->shared. Fails: TB_EIO.
 */
tb_rc tb_extract_whole(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told,
                       struct tb_owneds *owned, const char *lot_ref, struct tb_err *err);

/* ---- what is kept back (extract_kept.c) ----------------------------------------------------------------------- */

/* Does the leaf of this row stand in its place, {"entry": 31, "kept_back": "64 digits"}? The leaf; and tables that may have such rows. */
bool tb_kept_back(const json_t *row);
bool tb_kept_leaf(unsigned char leaf[TB_HASH], const json_t *row);
bool tb_kept_table(const char *table);
/* Is a row among these facts, in full, one of a label of our own or of a verdict on it? Is it of a dispute, in a table that is not? */
typedef bool tb_is_kept_fn(const json_t *facts, const char *table, const json_t *row);
tb_is_kept_fn tb_is_ours, tb_is_of_disputes;
/* Keep one row back, in place `at` of its table: where no tree covers it, it stays. All of a label of our own. */
void tb_extract_keep_back(json_t *extract, const char *table, size_t at);
void tb_extract_keep_back_ours(json_t *extract);
/* A row that names no declaration and no supplier that is kept back; a new reference. */
json_t *tb_kept_unnamed(const json_t *facts, const char *table, const json_t *row);
/* The same of a supplier under whom the delivery was first booked by mistake (extract_misnamed.c). */
tb_is_kept_fn tb_is_misnamed;
void tb_extract_keep_back_misnamed(json_t *extract);
/* The supplier that a delivery stands under in the file: the one it names, or where that is kept back the one that is told. */
const char *tb_supplier_told(const json_t *facts, const char *supplier);
/* Is it one of the tables of which rows are kept back for that? */
bool tb_misnamed_table(const char *table);
/* May the file keep back a row of such a table, recorded by this journal row, for the sake of such a supplier? */
bool tb_may_be_misnamed(const json_t *facts, const struct tb_told_row *row, const char *table);
/* Do the rows that are told show that each row kept back is one of these? Counts in p->ours and p->kept_back. */
void tb_extract_kept(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told);

/* ---- people (extract_people.c) ---------------------------------------------------------------------------------- */

/* Tell rows that are there for a name alone as rows of others, where other rows show the name; forget people whom no fact names. */
void tb_extract_hide_people(json_t *extract);
/* The same of rows that are there for the name of a supplier that is kept back: facts and row are told no more. */
void tb_extract_hide_kept_names(json_t *extract);
/* Is each person whose first row is told as one of others shown by rows that are told? */
void tb_extract_people(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told);
/* Is the first row of a person of the book told as one of others in a file of which these are facts and journal, and do they name him
 * nowhere? */
bool tb_names_nobody(const json_t *facts, const struct tb_told *told, const json_t *person);

/* One more sentence about what does not fit; p NULL: nobody wants to know. */
void tb_extract_wrong(struct tb_extract_proof *p, const char *fmt, ...) TB_PRINTF(2, 3);
/* The members of a full row as a record; digest and salt are "" where it has none. */
struct tb_journal_row tb_told_record(const json_t *row);

#endif
