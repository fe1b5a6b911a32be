/*
 * bench.h - what happens at the bench, as the book keeps it: swatches, burns, tests without a flame, photographs and papers,
 * verdicts, and what was decided. The rules for reading and writing are those of book.h.
 */
#ifndef TENTERBOOK_BENCH_H
#define TENTERBOOK_BENCH_H

#include "tenterbook/base.h"
#include "tenterbook/fibre.h"
#include "tenterbook/standing.h"
#include "tenterbook/verdict.h"

#include <stdint.h>

struct tb_book;
struct tb_lot;

/* ---- swatches ------------------------------------------------------------------------------------------- */

/* A piece cut from a bolt, or of cloth whose composition is known. */
struct tb_swatch {
    const char *id, *tag;   /* W26-014.02.03; W-K05 of known cloth */
    const char *lot, *bolt; /* ids; NULL: known cloth */
    enum tb_part_kind part;
    const char *known;       /* composition known beforehand; "" unknown */
    const char *kept;        /* where the unburnt half is kept; "" it is not */
    const char *cut_at;      /* moment */
    const char *cut_by;      /* read-only: name */
    const char *lot_ref;     /* "" when it is of no lot */
    const char *bolt_number; /* read-only; "" when it is of no bolt */
    int64_t serial;          /* which swatch of the lot, or which known cloth of the site */
};
/*
 * tb_swatch_add - record one: fills id, tag and serial; cut_at becomes now where it is NULL.
 *   lot_ref  reference of the lot: the tag begins with it
 *   fails    TB_EINVAL: cut_at is not a valid moment
 */
tb_rc tb_swatch_add(struct tb_swatch *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_swatch_waiting - the tags of the swatches of a part of a bolt that lie here and were neither burned nor tested; in mem. */
tb_rc tb_swatch_waiting(const char *const **tag, size_t *n, struct tb_book *b, const char *bolt_id,
                        enum tb_part_kind part, struct tb_arena *mem, struct tb_err *err);
/* tb_swatch_find - by its tag; TB_ENOTFOUND when there is none, TB_EREFUSED when it, its bolt or its lot is void. */
tb_rc tb_swatch_find(struct tb_swatch *out, struct tb_book *b, const char *tag, struct tb_arena *mem,
                     struct tb_err *err);
/* tb_swatch_ever - by its tag as the book writes it, void or not. TB_ENOTFOUND, without a sentence, when there is none. */
tb_rc tb_swatch_ever(struct tb_swatch *out, struct tb_book *b, const char *tag, struct tb_arena *mem,
                     struct tb_err *err);
/* tb_swatch_ever_list - the same with those that are void. */
tb_rc tb_swatch_ever_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                          struct tb_arena *mem, struct tb_err *err);
/* tb_swatch_list - the swatches of a lot, by tag. lot_id NULL: the known cloths. */
tb_rc tb_swatch_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err);
/* tb_retained_list - those of a lot of which an unburnt half is kept and that are in no joint sample, by tag. */
tb_rc tb_retained_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

/* ---- burns ---------------------------------------------------------------------------------------------- */

struct tb_cue_seen {
    const char *cue; /* key of evidence.h: "smoke:black" */
    bool seen;       /* false: expressly not there */
};
struct tb_burn {
    const char *id, *swatch;  /* id of the swatch */
    const char *looked;       /* channels looked at, separated by spaces */
    const char *could_not;    /* channels that could not be judged, likewise; NULL when it is added: none */
    const char *burned_at;    /* moment */
    const char *burned_by;    /* name, of somebody who wrote before; NULL when it is added: who writes */
    const char *recorded_at;  /* moment it was written down */
    const char *flame, *note; /* "" not said */
    const char *replaces;     /* id of the burn it corrects; NULL */
    const char *at_hand;      /* what stood ready to put it out; "" not said */
    const char *dead_at;      /* moment the residue was checked dead; NULL not said */
    double sample_mm;         /* longest side of what was burned; NAN not said */
    struct tb_cue_seen *cue;
    size_t cues;
    /* read-only, of the swatch */
    const char *tag, *bolt_number, *known, *lot /* id; NULL */;
    enum tb_part_kind part;
};
/*
 * tb_burn_add - record one with its cues: fills id and recorded_at; burned_at becomes now where it is NULL.
 *   fails  TB_EINVAL a moment that is not valid, a correction of another swatch's burn or of one that was corrected
 *          already; TB_ENOTFOUND what it corrects or who burned it is not there
 */
tb_rc tb_burn_add(struct tb_burn *burn, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_burn_find - by its id, corrected or not; TB_ENOTFOUND when there is none. */
tb_rc tb_burn_find(struct tb_burn *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err);
/* tb_burn_latest - the one that this person recorded last, of those that count; TB_ENOTFOUND when there is none. */
tb_rc tb_burn_latest(struct tb_burn *out, struct tb_book *b, const char *who, struct tb_arena *mem,
                     struct tb_err *err);
/* tb_burn_of_swatch - the last one of a swatch (its id) that this person recorded, likewise; TB_ENOTFOUND, without a sentence. */
tb_rc tb_burn_of_swatch(struct tb_burn *out, struct tb_book *b, const char *swatch_id, const char *who,
                        struct tb_arena *mem, struct tb_err *err);
/* tb_burn_newest - whether a burn that counts is the last thing that this person recorded, whatever it was. */
tb_rc tb_burn_newest(bool *out, struct tb_book *b, const char *id, const char *who, struct tb_err *err);
/* tb_burn_list - the burns of a lot that count: corrected ones are left out. lot_id NULL: of known cloths. */
tb_rc tb_burn_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err);
/* tb_burn_list_upto - those that counted after journal row `upto`. */
tb_rc tb_burn_list_upto(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id, int64_t upto,
                        struct tb_arena *mem, struct tb_err *err);
/* tb_burn_voided_list - those that are void, by themselves or with their swatch, bolt or lot; in the order of recording. */
tb_rc tb_burn_voided_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                          struct tb_arena *mem, struct tb_err *err);
/* tb_burn_corrected_list - those that no longer count, because another record corrects them; in the order of recording. */
tb_rc tb_burn_corrected_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                             struct tb_arena *mem, struct tb_err *err);
/* tb_burn_count_at - how many burns of a part of a bolt at this moment count: a file that is read twice shows here. */
tb_rc tb_burn_count_at(int64_t *out, struct tb_book *b, const char *bolt_id, enum tb_part_kind part,
                       const char *burned_at, struct tb_err *err);
/* tb_bolts_burnt - the ids of the bolts of a lot of which a swatch was burned, rising. */
tb_rc tb_bolts_burnt(const char ***out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err);
/*
 * tb_bolts_apart - the ids of the bolts of a lot that are not there to be drawn, rising: decided of by themselves, or gone back.
 *   draw  NULL: now; else its id: when it was made
 */
tb_rc tb_bolts_apart(const char ***out, size_t *n, struct tb_book *b, const char *lot_id, const char *draw,
                     struct tb_arena *mem, struct tb_err *err);

/* Two burns of one bolt and part by different people. */
struct tb_doubled {
    const char *burn_a, *who_a, *burn_b, *who_b; /* ids and names */
    const char *bolt;                            /* id */
    enum tb_part_kind part;
};
/* tb_burns_doubled - all such pairs of burns that count, by their ids. */
tb_rc tb_burns_doubled(struct tb_doubled **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err);

/* ---- tests without a flame ------------------------------------------------------------------------------- */

struct tb_bench_test {
    const char *id, *swatch;   /* id of the swatch */
    const char *test, *result; /* "acetone", "dissolves" */
    const char *tested_at;     /* moment */
    const char *tested_by;     /* name; NULL before it is recorded: who writes */
    const char *note;          /* "" nothing */
    const char *replaces;      /* id of the test it corrects; NULL */
    const char *tag;           /* read-only, of the swatch, as are the next two */
    const char *bolt_number;   /* "" of no bolt */
    enum tb_part_kind part;
};
/* tb_bench_test_add - record one: fills id; tested_at becomes now where it is NULL. Fails as tb_burn_add. */
tb_rc tb_bench_test_add(struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_bench_test_find - by its id, whatever became of it. TB_ENOTFOUND when there is none. */
tb_rc tb_bench_test_find(struct tb_bench_test *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                         struct tb_err *err);
/* tb_bench_test_list - the tests of a lot that count. lot_id NULL: of known cloths. */
tb_rc tb_bench_test_list(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                         struct tb_arena *mem, struct tb_err *err);
/* tb_bench_test_list_upto - those that counted after journal row `upto`. */
tb_rc tb_bench_test_list_upto(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                              int64_t upto, struct tb_arena *mem, struct tb_err *err);
/* tb_bench_test_voided_list - those that are void, by themselves or with their swatch, bolt or lot. */
tb_rc tb_bench_test_voided_list(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                                struct tb_arena *mem, struct tb_err *err);
/* tb_bench_test_corrected_list - those that no longer count, because another record corrects them. */
tb_rc tb_bench_test_corrected_list(struct tb_bench_test **out, size_t *n, struct tb_book *b,
                                   const char *lot_id, struct tb_arena *mem, struct tb_err *err);

/* ---- photographs and papers ------------------------------------------------------------------------------ */

struct tb_attachment {
    const char *id;
    const char *about;   /* the table of its subject: delivery, lot, swatch, burn, bench_test, standing */
    const char *subject; /* id of a row of it */
    const char *name;    /* file name as given, never used as a path */
    const char *media;   /* "image/jpeg" */
    const char *sha256;  /* of the bytes, 64 hexadecimal digits */
    const void *bytes;   /* NULL in lists */
    size_t size;         /* of the bytes */
    const char *kept_at,
        *kept_by; /* read-only: moment and name of its record, which may be later than that of its subject */
};
/* tb_attachment_add - keep one: fills id and sha256. TB_EINVAL when it is empty. */
tb_rc tb_attachment_add(struct tb_attachment *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_photograph_list - those of the swatches of a lot (its id; NULL: known cloth) and of their burns, without their bytes. */
tb_rc tb_photograph_list(struct tb_attachment **out, size_t *n, struct tb_book *b, const char *lot_id,
                         struct tb_arena *mem, struct tb_err *err);
/* tb_attachment_list - those of one subject, without their bytes. */
tb_rc tb_attachment_list(struct tb_attachment **out, size_t *n, struct tb_book *b, const char *subject,
                         struct tb_arena *mem, struct tb_err *err);
/* tb_attachment_load - one by its id, with its bytes; TB_ENOTFOUND when there is none. */
tb_rc tb_attachment_load(struct tb_attachment *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                         struct tb_err *err);

/* ---- verdicts and standings ------------------------------------------------------------------------------ */

/* A verdict on a lot, as it was recorded. The latest counts. */
struct tb_judged {
    const char *id, *lot; /* id of the lot */
    enum tb_verdict_kind verdict;
    const char *reference;      /* digest of the reference tables it was computed with */
    const char *detail;         /* the whole verdict as JSON (stored_verdict.h) */
    const char *judged_at;      /* moment */
    const char *judged_by;      /* read-only: name */
    double log_ratio;           /* natural logarithm of the evidence ratio; NAN: nothing could be weighed */
    int64_t bolts_burnt, bolts; /* "N of M bolts burnt" */
    int64_t bolts_tested;       /* read-only: burnt or tested without a flame by then */
    int64_t entry;              /* read-only: its journal row */
    int64_t gone; /* read-only: the journal row since which something it rests on is void; 0: it counts */
    /* what its details say and lists want; grade NULL or "": they are in the details alone */
    const char *grade;      /* word of tb_grade_words */
    double lowest, highest; /* natural logarithms of the limits the ratio is told within */
    bool one_look;          /* one look alone says so */
    bool untested;          /* read-only: no burns of such cloth stand behind its limits */
    const char *against;    /* numbers of the bolts that contradict judged alone, one a line; "" none */
};
/* tb_judged_add - record one, and its grade where it is given: fills id and judged_at. */
tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_judged_latest - of a lot; TB_ENOTFOUND, without a sentence, when there is none. */
tb_rc tb_judged_latest(struct tb_judged *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                       struct tb_err *err);
/* tb_judged_list - all verdicts on a lot, those too that rest on something void. */
tb_rc tb_judged_list(struct tb_judged **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err);

/*
 * What the supplier said of a lot, whatever a label said later, and the verdict on those words that counts now. Members of a
 * verdict are as struct tb_judged has them.
 */
struct tb_lot_said {
    const char *lot, *ref;                /* id, reference */
    const char *supplier, *supplier_name; /* id, name */
    const char *arrived;                  /* day */
    double metres, unit_price;            /* NAN not known, not given */
    const char *currency;
    double held_metres;             /* of the lot or of those of its bolts that are held */
    const char *said;               /* "" nothing is declared */
    bool clear;                     /* nothing in it blocks a verdict */
    const char *judged, *judged_at; /* id of the verdict, its moment; NULL none */
    enum tb_verdict_kind verdict;
    double log_ratio;
    const char *detail; /* of a verdict whose grade does not stand beside it; "" else */
    const char *grade;
    double lowest, highest;
    bool one_look, untested;
    const char *seen; /* as struct tb_known has it */
    bool at_odds;     /* as struct tb_verdict has it */
    const char *against;
    int64_t analyses, tests; /* of laboratories; without a flame */
};
/* tb_said_of_lot - of one lot by its id, void or not. TB_ENOTFOUND, without a sentence, when there is none. */
tb_rc tb_said_of_lot(struct tb_lot_said *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                     struct tb_err *err);
typedef tb_rc tb_lot_said_fn(void *arg, const struct tb_lot_said *said, struct tb_err *err);
/*
 * tb_lot_said_each - call for each lot that counts, by arrival and reference; what it is given is borrowed for the call.
 *   from, until  days of arrival in [from, until)
 */
tb_rc tb_lot_said_each(struct tb_book *b, const char *from, const char *until, tb_lot_said_fn *fn, void *arg,
                       struct tb_err *err);

/* Of that as little as tells how a lot turned out where no laboratory analysed it. */
struct tb_lot_word {
    const char *lot, *ref; /* id, reference */
    const char *supplier;  /* id */
    const char *arrived;   /* day */
    const char *said;      /* "" nothing is declared */
    bool clear;            /* nothing in it blocks a verdict */
    enum tb_verdict_kind verdict;
    int64_t analyses;
    int64_t lots; /* that are alike, of which this is one */
};
typedef tb_rc tb_lot_word_fn(void *arg, const struct tb_lot_word *word, struct tb_err *err);
/*
 * tb_lot_word_each - as tb_lot_said_each, whenever they arrived.
 *   supplier  id; NULL: any
 */
tb_rc tb_lot_word_each(struct tb_book *b, const char *supplier, tb_lot_word_fn *fn, void *arg,
                       struct tb_err *err);
/*
 * tb_lot_word_alike - the same of lots that were judged or analysed, in no order: those of a supplier that turn out alike, and that no
 * laboratory analysed, are told of once.
 */
tb_rc tb_lot_word_alike(struct tb_book *b, tb_lot_word_fn *fn, void *arg, struct tb_err *err);

/* What was decided about a lot. The latest counts. */
struct tb_standing {
    const char *id, *lot; /* id of the lot */
    enum tb_standing_kind standing;
    const char *why;
    const char *old_words, *new_words, *goods_of; /* of TB_RELABELLED: the labels, whose goods; "" else */
    const char *settled_at;                       /* moment */
    const char *settled_by;                       /* read-only: name */
    bool gone; /* read-only: a hold that a verdict made which does not count any more */
};
/* tb_standing_add - record one: fills id; settled_at becomes now where it is NULL. TB_EINVAL: TB_STANDING_NONE. */
tb_rc tb_standing_add(struct tb_standing *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* What was decided of one bolt of a lot. The latest counts, until something is decided of the whole lot. */
struct tb_bolt_standing {
    const char *id, *lot, *bolt;    /* ids */
    enum tb_standing_kind standing; /* held, released or returned */
    const char *why, *settled_at;
    const char *settled_by, *number; /* read-only: names */
    bool counts;                     /* read-only: it is in force */
};
/* tb_bolt_standing_add - record one: fills id; settled_at becomes now where it is NULL. TB_EINVAL: another standing. */
tb_rc tb_bolt_standing_add(struct tb_bolt_standing *s, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err);
/* tb_bolt_standing_list - all of a lot, those too that are not in force any more. */
tb_rc tb_bolt_standing_list(struct tb_bolt_standing **out, size_t *n, struct tb_book *b, const char *lot_id,
                            struct tb_arena *mem, struct tb_err *err);
/* tb_bolt_standing_now - how a bolt of a lot stands: by what was decided of it, else as its lot. */
tb_rc tb_bolt_standing_now(enum tb_standing_kind *out, struct tb_book *b, const struct tb_lot *lot,
                           const char *bolt_id, struct tb_arena *mem, struct tb_err *err);
/* What was decided of a lot last. */
struct tb_settled {
    enum tb_standing_kind standing;
    const char *settled_at; /* moment */
    const char *settled_by; /* name */
    bool fresh;             /* a burn, a test or other words of the lot were recorded after it */
};
/* tb_bolts_released_last - of single bolts of a lot that are released; TB_ENOTFOUND, without a sentence, where none are. */
tb_rc tb_bolts_released_last(struct tb_settled *out, struct tb_book *b, const char *lot_id,
                             struct tb_arena *mem, struct tb_err *err);
/* tb_settled_latest - of a lot; TB_ENOTFOUND, without a sentence, when nothing was decided yet. */
tb_rc tb_settled_latest(struct tb_settled *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                        struct tb_err *err);
/* tb_standing_list - the whole history of a lot. */
tb_rc tb_standing_list(struct tb_standing **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

#endif
