/*
 * book.h - the book: every fact the warehouse recorded, in one SQLite file, covered by a chained journal.
 *
 * A fact is never edited: a correction is a new fact that names the one it replaces. Reading functions copy
 * text into the caller's arena. Writing functions must stand between tb_book_begin and tb_book_commit; what
 * commit said yes to has reached the disk. Reference numbers people use (delivery W26-014, lot W26-014.02,
 * swatch W26-014.02.03) are given by the book.
 */
#ifndef TENTERBOOK_BOOK_H
#define TENTERBOOK_BOOK_H

#include "tenterbook/base.h"
#include "tenterbook/date.h"
#include "tenterbook/fibre.h"
#include "tenterbook/standing.h"
#include "tenterbook/verdict.h"

#include <stdint.h>

struct tb_book;

/* ---- the file ------------------------------------------------------------------------------------------ */

struct tb_site {
    const char *id, *code, *name, *country;
};

/*
 * tb_book_make - make a new book. The file must not exist (TB_EEXISTS). Nothing is left behind on failure.
 *   code   1 to 4 letters or digits, begins every reference number; country ISO 3166-1 alpha-2 or ""
 */
tb_rc tb_book_make(const char *path, const char *code, const char *name, const char *country, const char *who,
                   struct tb_err *err);
/*
 * tb_book_open - open a book for reading and writing.
 *   fails   TB_ENOTFOUND no such file; TB_EFORMAT not a book, or made by a newer program
 *   An older book is upgraded after a copy of it was put beside it (FILE.before-N); *upgraded_copy, where the
 *   caller passes a pointer, becomes its name (yours to free) or NULL.
 */
tb_rc tb_book_open(struct tb_book **out, const char *path, char **upgraded_copy, struct tb_err *err);
void tb_book_close(struct tb_book *b);
const char *tb_book_path(const struct tb_book *b);
const struct tb_site *tb_book_site(const struct tb_book *b); /* borrowed from the book */
/* Called once when somebody else is writing and the wait begins; seconds is the most it will take. */
void tb_book_on_wait(struct tb_book *b, void (*say)(void *arg, int seconds), void *arg);
/* A safe copy of the whole book in another file, which must not exist. */
tb_rc tb_book_keep(struct tb_book *b, const char *path, struct tb_err *err);

/* ---- writing ------------------------------------------------------------------------------------------- */

/*
 * tb_book_begin - start to write: one journal row will cover all that follows.
 *   who    name of the person; recorded as a person when new
 *   verb   what is being done, one word: "receive"
 *   fails  TB_EBUSY when another writer did not finish in time
 */
tb_rc tb_book_begin(struct tb_book *b, const char *who, const char *verb, struct tb_err *err);
/* What it is about (a reference number), for the journal row; may be called at any time before commit. */
void tb_book_subject(struct tb_book *b, const char *subject);
tb_rc tb_book_commit(struct tb_book *b, struct tb_err *err);
void tb_book_rollback(struct tb_book *b);            /* does nothing when nothing was begun */
const char *tb_book_person(const struct tb_book *b); /* id of the person writing now */
const char *tb_book_now(const struct tb_book *b);    /* moment tb_book_begin was called */

/* From here to tb_book_look_away all statements read one state of the book, whatever others write. Does nothing
 * inside a transaction. Short is better: a long look keeps the write-ahead log from being emptied. */
tb_rc tb_book_look(struct tb_book *b, struct tb_err *err);
void tb_book_look_away(struct tb_book *b);

/* ---- journal ------------------------------------------------------------------------------------------- */

struct tb_proof {
    int64_t rows;      /* journal rows walked */
    int64_t facts;     /* rows of fact tables checked */
    int64_t first_bad; /* number of the first journal row that does not fit; 0: all fit */
    char digest[65];   /* digest of the last row: write it down elsewhere and a shortened journal shows */
    char why[400];     /* what does not fit, in one sentence; empty when all fits */
};
/* Walk the journal, compute every digest again from the facts. TB_OK also when something does not fit. */
tb_rc tb_book_prove(struct tb_proof *out, struct tb_book *b, struct tb_err *err);
/* Number and digest of the last journal row; 0 and zeros in an empty one. */
tb_rc tb_book_head(int64_t *number, char digest[65], struct tb_book *b, struct tb_err *err);

struct tb_journal_row {
    int64_t number;
    const char *at, *person, *verb, *subject, *content, *before, *digest;
};
/* All rows of the journal whose subject begins with the text ("" all), in order. */
tb_rc tb_journal_list(struct tb_journal_row **out, size_t *n, struct tb_book *b, const char *subject,
                      struct tb_arena *mem, struct tb_err *err);

/* All rows of the journal after row number `since`, in order; a row not yet committed is none of them. */
tb_rc tb_journal_since(struct tb_journal_row **out, size_t *n, struct tb_book *b, int64_t since,
                       struct tb_arena *mem, struct tb_err *err);

/* Reading functions that end in `upto` see the book as it was after that journal row. */
#define TB_BOOK_NOW INT64_MAX

/* ---- settings: the latest value of a name counts ------------------------------------------------------- */

/* "" when it was never set. */
tb_rc tb_setting_get(const char **out, struct tb_book *b, const char *name, int64_t upto,
                     struct tb_arena *mem, struct tb_err *err);
tb_rc tb_setting_set(struct tb_book *b, const char *name, const char *value, struct tb_err *err);
struct tb_setting {
    const char *name, *value;
};
/* Latest values of all settings whose name begins with the prefix, by name. */
tb_rc tb_setting_list(struct tb_setting **out, size_t *n, struct tb_book *b, const char *prefix,
                      struct tb_arena *mem, struct tb_err *err);

/* ---- deliveries, lots, bolts --------------------------------------------------------------------------- */

struct tb_supplier {
    const char *id, *name;
};
struct tb_delivery {
    const char *id, *ref, *supplier, *supplier_name;
    int64_t year, serial; /* of arrival; which delivery of the site in that year: both are in ref */
    const char *note, *order_no, *note_day /* NULL */, *arrived, *received_at, *received_by /* name */;
    const char *file_name, *file_digest, *remark;
};
struct tb_lot {
    const char *id, *ref, *delivery, *article, *colour, *dye_lot, *origin;
    double unit_price; /* per metre; NAN not given */
    const char *currency;
    int64_t bolts;
    double metres;
    /* read-only, filled by the reading functions */
    const char *delivery_ref, *arrived, *supplier, *supplier_name;
    const char *declared;    /* words of the declaration that counts now; "" none */
    const char *reading;     /* composition read from them, as printed; "" none */
    bool clear;              /* nothing blocks a verdict */
    const char *doubts;      /* sentences, one a line */
    const char *declaration; /* its id; NULL none */
    enum tb_standing_kind standing;
    enum tb_verdict_kind verdict;
    double log_ratio;    /* of that verdict; NAN not judged */
    int64_t bolts_burnt; /* N of "N of M bolts burnt", now */
    int64_t burns;       /* burns that count now */
    int64_t serial;      /* which lot of the delivery */
};
struct tb_bolt {
    const char *id, *lot, *number;
    double metres, width_cm /* NAN */, mass_gm2 /* NAN */;
    const char *said;
    const char *lot_ref; /* read-only */
};

/* Find a supplier by name (case, accents and spaces do not matter) or record it. */
tb_rc tb_supplier_ensure(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                         struct tb_err *err);
tb_rc tb_supplier_find(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                       struct tb_err *err);
tb_rc tb_supplier_list(struct tb_supplier **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err);

/* The delivery a file with this digest was received as: TB_ENOTFOUND when it never was. */
tb_rc tb_delivery_by_file(struct tb_delivery *out, struct tb_book *b, const char *digest,
                          struct tb_arena *mem, struct tb_err *err);
tb_rc tb_delivery_find(struct tb_delivery *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                       struct tb_err *err);
/* Deliveries that arrived in [from, until), by day of arrival. */
tb_rc tb_delivery_list(struct tb_delivery **out, size_t *n, struct tb_book *b, const char *from,
                       const char *until, struct tb_arena *mem, struct tb_err *err);
/* Record a delivery: fills id and ref (in mem); the other fields of *d are read (note_day may be NULL). */
tb_rc tb_delivery_add(struct tb_delivery *d, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* Record a lot of d: fills id, ref and delivery. bolts and metres must be those of the bolts added after. */
tb_rc tb_lot_add(struct tb_lot *lot, struct tb_book *b, const struct tb_delivery *d, int64_t serial,
                 struct tb_arena *mem, struct tb_err *err);
/* Record a bolt of lot->id; gives it a key. Fast: a million of them in one transaction is the plan. */
tb_rc tb_bolt_add(const struct tb_bolt *bolt, struct tb_book *b, struct tb_err *err);
/* Before and after very many bolts in one transaction: the index by bolt number is built at the end. */
tb_rc tb_bolts_begin(struct tb_book *b, int64_t how_many, struct tb_err *err);
tb_rc tb_bolts_end(struct tb_book *b, struct tb_err *err);

/* One declaration of a lot, in the order they came: the supplier's words, an answer, a relabelling. */
struct tb_declared {
    const char *id, *text, *reading, *doubts, *origin, *replaces /* NULL */;
    bool clear;
    const char *at, *person;
};
tb_rc tb_declaration_list(struct tb_declared **out, size_t *n, struct tb_book *b, const char *lot_id,
                          struct tb_arena *mem, struct tb_err *err);
/* The words that counted after that journal row; "" when there were none. */
tb_rc tb_declaration_upto(const char **text, struct tb_book *b, const char *lot_id, int64_t upto,
                          struct tb_arena *mem, struct tb_err *err);
/*
 * tb_declaration_add - record a supplier's words for a lot, read by the fibre module inside.
 *   origin    row, title, option, answer, relabel;   replaces  id of the declaration it corrects, or NULL
 */
tb_rc tb_declaration_add(struct tb_book *b, const char *lot_id, const char *text, const char *origin,
                         const char *replaces, struct tb_err *err);

/* A lot by its reference, or by a bolt number when only one lot has it. TB_ENOTFOUND with a sentence;
 * TB_EINVAL names the lots when a bolt number is in several. */
tb_rc tb_lot_find(struct tb_lot *out, struct tb_book *b, const char *ref_or_bolt, struct tb_arena *mem,
                  struct tb_err *err);
struct tb_lot_filter {
    const char *from, *until;       /* day of arrival in [from, until); NULL: no bound */
    const char *supplier;           /* id; NULL: any */
    enum tb_standing_kind standing; /* TB_STANDING_NONE: any */
    const char *delivery;           /* id; NULL: any */
};
/* Called for each lot, by reference number; a result other than TB_OK ends the walk and is answered. */
typedef tb_rc tb_lot_fn(void *arg, const struct tb_lot *lot, struct tb_err *err);
tb_rc tb_lot_each(struct tb_book *b, const struct tb_lot_filter *filter, tb_lot_fn *fn, void *arg,
                  struct tb_err *err);
tb_rc tb_bolt_list(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err);
/* The bolt with this number in the lot. */
tb_rc tb_bolt_find(struct tb_bolt *out, struct tb_book *b, const char *lot_id, const char *number,
                   struct tb_arena *mem, struct tb_err *err);

/* ---- the bench ----------------------------------------------------------------------------------------- */

struct tb_swatch {
    const char *id, *tag;
    const char *lot /* NULL: known cloth */, *bolt /* NULL */;
    enum tb_part_kind part;
    const char *known, *kept, *cut_at, *cut_by /* name */;
    const char *lot_ref, *bolt_number; /* read-only; "" when there is none */
    int64_t serial;                    /* which swatch of the lot, or which known cloth of the site */
};
/* Record a swatch: fills id and tag; reads lot, bolt, part, known, kept, cut_at (NULL: now). */
tb_rc tb_swatch_add(struct tb_swatch *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
tb_rc tb_swatch_find(struct tb_swatch *out, struct tb_book *b, const char *tag, struct tb_arena *mem,
                     struct tb_err *err);
/* lot_id NULL: the known cloths. */
tb_rc tb_swatch_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err);

struct tb_cue_seen {
    const char *cue; /* "smoke:black" */
    bool seen;       /* false: expressly not there */
};
struct tb_burn {
    const char *id, *swatch, *looked, *burned_at, *burned_by /* name */, *recorded_at, *flame, *note;
    const char *replaces; /* NULL */
    const char *at_hand;  /* what stood ready to put it out */
    const char *dead_at;  /* moment the residue was checked dead; NULL not said */
    double sample_mm;     /* longest side burned; NAN not said */
    struct tb_cue_seen *cue;
    size_t cues;
    const char *tag, *bolt_number, *known, *lot; /* read-only: of the swatch */
    enum tb_part_kind part;                      /* read-only: of the swatch */
};
/* Record a burn: fills id; reads swatch, looked, burned_at (NULL: now), flame, note, replaces, cue, cues. */
tb_rc tb_burn_add(struct tb_burn *burn, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* Burns of a lot that count (corrected ones left out), oldest first. lot_id NULL: of known cloths. */
tb_rc tb_burn_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err);
tb_rc tb_burn_list_upto(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id, int64_t upto,
                        struct tb_arena *mem, struct tb_err *err);
/* How many burns of a part of a bolt, burned at this moment, count: a file read twice shows here. */
tb_rc tb_burn_count_at(int64_t *out, struct tb_book *b, const char *bolt_id, enum tb_part_kind part,
                       const char *burned_at, struct tb_err *err);
/* The burn with this id, corrected or not. */
tb_rc tb_burn_find(struct tb_burn *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err);

struct tb_bench_test {
    const char *id, *swatch, *test, *result, *tested_at, *tested_by /* name */, *note, *replaces /* NULL */;
    const char *tag;        /* read-only */
    enum tb_part_kind part; /* read-only */
};
tb_rc tb_bench_test_add(struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
tb_rc tb_bench_test_list(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                         struct tb_arena *mem, struct tb_err *err);

tb_rc tb_bench_test_list_upto(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                              int64_t upto, struct tb_arena *mem, struct tb_err *err);

struct tb_attachment {
    const char *id, *about, *subject, *name, *media, *sha256;
    const void *bytes; /* NULL in lists */
    size_t size;
};
tb_rc tb_attachment_add(struct tb_attachment *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* Attachments of one subject without their bytes, oldest first. */
tb_rc tb_attachment_list(struct tb_attachment **out, size_t *n, struct tb_book *b, const char *subject,
                         struct tb_arena *mem, struct tb_err *err);
tb_rc tb_attachment_load(struct tb_attachment *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                         struct tb_err *err);

/* ---- verdicts and standings ---------------------------------------------------------------------------- */

struct tb_judged {
    const char *id, *lot;
    enum tb_verdict_kind verdict;
    const char *reference, *detail /* JSON */, *judged_at, *judged_by /* name */;
    double log_ratio;
    int64_t bolts_burnt, bolts;
    int64_t entry; /* read-only: its journal row */
};
tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* The latest verdict of a lot; TB_ENOTFOUND when there is none. */
tb_rc tb_judged_latest(struct tb_judged *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                       struct tb_err *err);
tb_rc tb_judged_list(struct tb_judged **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err);

struct tb_standing {
    const char *id, *lot;
    enum tb_standing_kind standing;
    const char *why, *old_words, *new_words, *goods_of, *settled_at, *settled_by /* name */;
};
/* Record one: fills id, and settled_at where it is NULL. TB_EINVAL: no standing is said. */
tb_rc tb_standing_add(struct tb_standing *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* The whole history of a lot, oldest first. */
tb_rc tb_standing_list(struct tb_standing **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

#endif
