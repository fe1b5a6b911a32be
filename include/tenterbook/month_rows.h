/*
 * month_rows.h - the rows a month's sheets are made of, and the book as their source.
 *
 * A source hands over rows one by one, so that a month of a million bolts takes the memory of a few rows. Text is
 * borrowed for the call.
 */
#ifndef TENTERBOOK_MONTH_ROWS_H
#define TENTERBOOK_MONTH_ROWS_H

#include "tenterbook/analysis.h"
#include "tenterbook/bench.h"
#include "tenterbook/date.h"
#include "tenterbook/standing.h"
#include "tenterbook/verdict.h"

#include <stdint.h>

/* Kilograms of a lot by how each of its bolts stands. */
struct tb_month_weighed {
    double kg[TB_RETURNED + 1];  /* of those whose length is not known, which are in no sum of metres */
    double all[TB_RETURNED + 1]; /* of all that were counted in kilograms or weighed besides */
};

/* A lot whose delivery arrived in the span, as it stands now. Text is never NULL unless said. */
struct tb_month_lot {
    const char *ref, *delivery_ref, *note, *arrived;
    const char *supplier; /* name */
    const char *article, *colour, *dye_lot, *origin;
    const char *declared; /* the supplier's words, before any relabelling here */
    bool clear;           /* the words can be read without a doubt that blocks a verdict */
    int64_t bolts, bolts_burnt, burns;
    double metres; /* of those whose length is known; NAN: none is */
    double price;  /* of one unit of the invoice, below; NAN not given */
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
    int64_t bolts_tested, tests;        /* bolts burnt or tested without a flame; tests without a flame */
    const struct tb_analysis *analysis; /* so many; NULL: none */
    double kg;                          /* of the bolts counted in kilograms; not above 0: none was */
    int64_t derived, unknown;           /* bolts whose length is computed from kilograms; is not known */
    int64_t released_single;            /* bolts that were released by themselves */
    const char *grade; /* of the verdict and what follows, as struct tb_kept_verdict has them */
    double lowest, highest;
    bool one_look;
    const char *judged, *judged_at;       /* id and moment of the verdict; NULL none */
    const char *bolts_against;            /* numbers, one a line; NULL or "" none */
    int64_t returned_single, held_single; /* bolts that were returned, are held, by themselves */
    double released_metres, returned_metres, held_metres; /* of those single bolts, where it is known */
    /* burn_n, where there are analyses and it does not fit: which of them came first matters */
    struct tb_burn *burn;
    size_t burn_n;
    const char *unit;   /* of the invoice: m, yd, kg ... */
    double unit_metres; /* metres in one; NAN: it is not a length */
    bool untested;      /* of the verdict, as struct tb_kept_verdict has it */
    struct tb_month_weighed weighed;
    const char *seen; /* as struct tb_known has it */
    bool at_odds;     /* as struct tb_verdict has it */
    double weight_kg; /* as struct tb_lot has them */
    int64_t bolts_weighed;
};

struct tb_month_bolt {
    const char *number;
    double metres, width_cm, mass_gm2; /* NAN not given */
    int64_t burns;
    const char *id;                 /* in the book; NULL: from elsewhere */
    int64_t tests;                  /* of this bolt, burns among them */
    bool derived;                   /* its metres are computed from kilograms */
    enum tb_standing_kind standing; /* decided of this bolt alone; TB_STANDING_NONE: it stands as its lot */
    double kg;                      /* where it was counted in kilograms; not above 0: it was measured */
    double weight_kg;               /* as struct tb_bolt has it */
};

/* What was done within the span, on whatever lots. */
struct tb_month_work {
    int64_t deliveries; /* that arrived */
    int64_t swatches, burns, bench_tests, verdicts;
    int64_t settled, holds,
        settled_bolts; /* lots, by people; held by a verdict or the opening of a dispute; single bolts */
    int64_t analyses;  /* by the day of the analysis */
    /* samples that laboratories answered in the span, and days until then, from the day a joint sample was dealt out, else the last swatch
     * was cut; joint samples not answered yet, and since when the oldest */
    int64_t answered, longest, unanswered;
    double median; /* days; of no answer it says nothing */
    char oldest[TB_DAY_LEN + 1];
};

/* Called with one row; a failure ends the reading and is what the source answers. arg: as given to the source. */
typedef tb_rc tb_month_lot_fn(void *arg, const struct tb_month_lot *lot, struct tb_err *err);
typedef tb_rc tb_month_bolt_fn(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                               struct tb_err *err);
/* A lot that arrived before the span, with what of it was only weighed and what laboratories found in it. */
typedef tb_rc tb_month_said_fn(void *arg, const struct tb_lot_said *said,
                               const struct tb_month_weighed *weighed, const struct tb_analysis *analysis,
                               size_t n, struct tb_err *err);

/* Where rows come from: each function is called with `from` first and hands over what its comment says. */
struct tb_month_source {
    /* Lots that arrived in the span, by arrival; after each lot its bolts. bolt NULL: without them. */
    tb_rc (*goods)(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err);
    /* Lots that arrived before the span's end and wait or are held, if only a bolt of them, or that a laboratory answered for
       after they were released; oldest first. */
    tb_rc (*open)(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err);
    tb_rc (*work)(struct tb_month_work *out, void *from, struct tb_err *err);
    void *from;
    const char *site;   /* name of the place, for the title */
    const char *state;  /* which state of the book this is: "journal row 812, 3f9a..."; "" not said */
    const char *anchor; /* of that state, as prove --since takes it (anchor.h); NULL, "": there is none */
    /* Lots that arrived from the day `first` until the span begins, oldest first. NULL: nobody knows. */
    tb_rc (*before)(void *from, const char *first, tb_month_said_fn *fn, void *arg, struct tb_err *err);
    const char *first; /* day the first delivery of all arrived; "" none did; NULL: nobody knows */
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
