/*
 * month.h - a span of trade on sheets: what came in, what was judged, what is open, which supplier, how sure.
 *
 * The sheets are filled from a source that hands over rows one by one, so a month of a million bolts takes the
 * memory of a few rows. The usual source is the book (tb_month_from_book).
 */
#ifndef TENTERBOOK_MONTH_H
#define TENTERBOOK_MONTH_H

#include "tenterbook/date.h"

#include <stdint.h>

/* A lot whose delivery arrived in the span, as it stands now. Text is never NULL unless said. */
struct tb_month_lot {
    const char *ref, *delivery_ref, *note, *arrived;
    const char *supplier; /* name */
    const char *article, *colour, *dye_lot, *origin;
    const char *declared; /* the supplier's words, before any relabelling here */
    bool clear;           /* the words can be read without a doubt that blocks a verdict */
    int64_t bolts, bolts_burnt, burns;
    double metres;
    double unit_price; /* per metre; NAN not given */
    const char *currency;
    const char *verdict; /* fits, contradicts, undecided; "" not judged */
    double log_ratio;    /* natural logarithm of the evidence ratio; NAN not judged */
    const char *standing;
    const char *since; /* moment of the standing; NULL: never settled */
    const char *why;
    const char *detail; /* of a verdict that contradicts: the stored verdict as JSON; NULL or "" none */
    const char *found;  /* what a laboratory found, in words that can be read; NULL or "" nothing */
    const char *words;  /* the words that count now: the new ones of a relabelled lot; NULL: as declared */
    const char *id;     /* of the lot in the book; NULL: from elsewhere */
    int64_t analyses;   /* how many a laboratory made of it */
};

struct tb_month_bolt {
    const char *number;
    double metres, width_cm, mass_gm2; /* NAN not given */
    int64_t burns;
    const char *id; /* in the book; NULL: from elsewhere */
};

/* A supplier's lots of the span, counted. */
struct tb_month_supplier {
    const char *name;
    int64_t deliveries, lots, bolts;
    double metres;
    int64_t fits, contradicts, undecided, held;
};

/* The lots that arrived in a month, as they stand now. */
struct tb_month_tally {
    const char *month; /* "2026-03" */
    int64_t lots, fits, contradicts, undecided;
    double metres, held_metres;
};

/* What was done within the span, on whatever lots. */
struct tb_month_work {
    int64_t deliveries; /* that arrived */
    int64_t swatches, burns, bench_tests, verdicts, settled;
};

typedef tb_rc tb_month_lot_fn(void *arg, const struct tb_month_lot *lot, struct tb_err *err);
typedef tb_rc tb_month_bolt_fn(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                               struct tb_err *err);
typedef tb_rc tb_month_supplier_fn(void *arg, const struct tb_month_supplier *s, struct tb_err *err);

typedef tb_rc tb_month_tally_fn(void *arg, const struct tb_month_tally *t, struct tb_err *err);

/* Where rows come from. Each function calls back row by row and ends with the first failure. */
struct tb_month_source {
    /* Lots that arrived in the span, by arrival; after each lot its bolts. bolt NULL: without them. */
    tb_rc (*goods)(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err);
    tb_rc (*suppliers)(void *from, tb_month_supplier_fn *fn, void *arg, struct tb_err *err);
    /* Lots that arrived before the span's end and are still waiting or held, oldest first. */
    tb_rc (*open)(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err);
    tb_rc (*work)(struct tb_month_work *out, void *from, struct tb_err *err);
    void *from;
    const char *site;  /* name of the place, for the title */
    const char *state; /* which state of the book this is: "journal row 812, 3f9a..."; "" none */
    /* Months with arrivals from the day `first` to the end of the span, oldest first. NULL: nobody knows. */
    tb_rc (*months)(void *from, const char *first, tb_month_tally_fn *fn, void *arg, struct tb_err *err);
};

#define TB_MONTH_MONEY 8 /* currencies told apart; the rest is left out of the sums, and said so */

/* What the summary says: for the command's own words. */
struct tb_month_sums {
    int64_t lots, bolts, bolts_burnt;
    double metres;
    int64_t fits, contradicts, undecided, unjudged;
    struct tb_month_standing {
        int64_t lots;
        double metres;
    } waiting, held, released, relabelled, returned;
    struct {
        char currency[12];
        double all, held;
    } money[TB_MONTH_MONEY];
    size_t monies;
    int64_t unpriced; /* lots without a price */
    struct tb_month_work work;
    int64_t markets, labels, label_faults; /* markets asked; lots times markets; those with a fault */
    int64_t claims, claims_overdue;        /* open ones */
    double low, high; /* exact 95 % interval of contradicts among judged; NAN when none was judged */
};

struct tb_claim_open;

struct tb_month_plan {
    const char *path;          /* ends in ".xlsx"; CSV twins beside it */
    const char *from, *until;  /* days of arrival in [from, until) */
    const char *name;          /* "2026-03" */
    const char *now;           /* moment the sheets speak of: days open are counted to it */
    const char *page;          /* ends in ".pdf": the same on one page; NULL: no page */
    const char *const *market; /* keys of law.h: the markets the cloth is sold to */
    size_t markets;
    const struct tb_claim_open *claim; /* open claims (dispute.h), what is due first first */
    size_t claims;
};

/*
 * tb_month_write - write the workbook and its twins, and the page.
 *
 *   out    filled on success
 *   fails  TB_EIO; TB_EINVAL (a day that is none); TB_ENOTFOUND (no such market); what the source answered. Nothing is left half-written
 */
tb_rc tb_month_write(struct tb_month_sums *out, const struct tb_month_plan *plan,
                     const struct tb_month_source *source, struct tb_err *err);

struct tb_book;
struct tb_month_book; /* the book as a source */
/* source is good until tb_month_book_close; from, until: days of arrival in [from, until). */
tb_rc tb_month_from_book(struct tb_month_book **out, struct tb_month_source *source, struct tb_book *b,
                         const char *from, const char *until, struct tb_err *err);
void tb_month_book_close(struct tb_month_book *m);

#endif
