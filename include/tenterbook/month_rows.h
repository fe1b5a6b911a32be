/*
 * month_rows.h - the rows a month's sheets are made of, and the book as their source.
 *
 * A source hands over rows one by one, so that a month of a million bolts takes the memory of a few rows. Text is
 * borrowed for the call.
 */
#ifndef TENTERBOOK_MONTH_ROWS_H
#define TENTERBOOK_MONTH_ROWS_H

#include "tenterbook/date.h"
#include "tenterbook/standing.h"
#include "tenterbook/verdict.h"

#include <stdint.h>

/* A lot whose delivery arrived in the span, as it stands now. Text is never NULL unless said. */
struct tb_month_lot {
    const char *ref, *delivery_ref, *note, *arrived;
    const char *supplier; /* name */
    const char *article, *colour, *dye_lot, *origin;
    const char *declared; /* the supplier's words, before any relabelling here */
    bool clear;           /* the words can be read without a doubt that blocks a verdict */
    int64_t bolts, bolts_burnt, burns;
    double metres;     /* of those whose length is known; NAN: none is */
    double unit_price; /* per metre; NAN not given */
    const char *currency;
    enum tb_verdict_kind verdict;
    double log_ratio; /* natural logarithm of the evidence ratio; NAN not judged */
    enum tb_standing_kind standing;
    const char *since; /* moment of the standing; NULL: never settled */
    const char *why;
    const char *detail; /* the stored verdict as JSON; NULL or "" none */
    const char *found;  /* what a laboratory found, in words that can be read; NULL or "" nothing */
    const char *words;  /* the words that count now: the new ones of a relabelled lot; NULL: as declared */
    const char *id;     /* of the lot in the book; NULL: from elsewhere */
    int64_t analyses;   /* how many a laboratory made of it */
    int64_t bolts_tested, tests; /* bolts burnt or tested without a flame; tests without a flame */
    bool against;                /* `found` does not conform to what is declared, in at least one market */
    double kg;                   /* of the bolts counted in kilograms; not above 0: none was */
    int64_t derived, unknown;    /* bolts whose length is computed from kilograms; is not known */
    int64_t in_part;             /* bolts released where only part of the lot is; else 0 */
    const char *grade;           /* of the verdict and what follows, as struct tb_kept_verdict has them */
    double lowest, highest;
    bool one_look;
};

struct tb_month_bolt {
    const char *number;
    double metres, width_cm, mass_gm2; /* NAN not given */
    int64_t burns;
    const char *id;                 /* in the book; NULL: from elsewhere */
    int64_t tests;                  /* of this bolt, burns among them */
    bool derived;                   /* its metres are computed from kilograms */
    enum tb_standing_kind standing; /* decided of this bolt alone; TB_STANDING_NONE: it stands as its lot */
};

/* A supplier's lots of the span, counted. */
struct tb_month_supplier {
    const char *name;
    int64_t deliveries, lots, bolts;
    double metres;
    int64_t fits, contradicts, against, undecided, held; /* against: it speaks against the words */
};

/* The lots that arrived in a month, as they stand now. */
struct tb_month_tally {
    const char *month; /* "2026-03" */
    int64_t lots, fits, contradicts, against, undecided;
    double metres, held_metres;
};

/* What was done within the span, on whatever lots. */
struct tb_month_work {
    int64_t deliveries; /* that arrived */
    int64_t swatches, burns, bench_tests, verdicts, settled;
};

/* Called with one row; a failure ends the reading and is what the source answers. arg: as given to the source. */
typedef tb_rc tb_month_lot_fn(void *arg, const struct tb_month_lot *lot, struct tb_err *err);
typedef tb_rc tb_month_bolt_fn(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                               struct tb_err *err);
typedef tb_rc tb_month_supplier_fn(void *arg, const struct tb_month_supplier *s, struct tb_err *err);
typedef tb_rc tb_month_tally_fn(void *arg, const struct tb_month_tally *t, struct tb_err *err);

/* Where rows come from: each function is called with `from` first and hands over what its comment says. */
struct tb_month_source {
    /* Lots that arrived in the span, by arrival; after each lot its bolts. bolt NULL: without them. */
    tb_rc (*goods)(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err);
    /* Suppliers with a lot that arrived in the span. */
    tb_rc (*suppliers)(void *from, tb_month_supplier_fn *fn, void *arg, struct tb_err *err);
    /* Lots that arrived before the span's end and are still waiting or held, oldest first. */
    tb_rc (*open)(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err);
    tb_rc (*work)(struct tb_month_work *out, void *from, struct tb_err *err);
    void *from;
    const char *site;   /* name of the place, for the title */
    const char *state;  /* which state of the book this is: "journal row 812, 3f9a..."; "" not said */
    const char *anchor; /* of that state, as prove --since takes it (anchor.h); NULL, "": there is none */
    /* Months with arrivals from the day `first` to the end of the span, oldest first. NULL: nobody knows. */
    tb_rc (*months)(void *from, const char *first, tb_month_tally_fn *fn, void *arg, struct tb_err *err);
};

struct tb_book;
struct tb_month_book; /* the book as a source */
/*
 * tb_month_from_book - one state of the book as a source: it reads in one transaction until it is closed.
 *
 *   source       filled; good until tb_month_book_close
 *   from, until  days of arrival in [from, until)
 *   fails        what reading the book answers (TB_EIO, TB_EBUSY)
 *   memory       end it with tb_month_book_close, before the book
 */
tb_rc tb_month_from_book(struct tb_month_book **out, struct tb_month_source *source, struct tb_book *b,
                         const char *from, const char *until, struct tb_err *err);
/* End the transaction and free the source. NULL: nothing happens. */
void tb_month_book_close(struct tb_month_book *m);

#endif
