/*
 * bench_day.h - which lots to burn first in the hours there are at the bench.
 *
 * Lots that wait are weighed by the money at stake, the chance that the lot is false (the supplier's record), and the
 * chance that the burns of a plan show it, by its own words unless one is given; the choosing is that of sampling.h (docs/sampling.md, "The day"). Only reads.
 */
#ifndef TENTERBOOK_BENCH_DAY_H
#define TENTERBOOK_BENCH_DAY_H

#include "tenterbook/book.h"
#include "tenterbook/plan.h"

#define TB_BURN_MINUTES 6 /* a burn, with the card written and the candle tended; docs/sampling.md */

struct tb_bench_day_request {
    double hours;             /* at the bench, above 0 */
    double burn_minutes;      /* a burn takes, above 0: TB_BURN_MINUTES as a rule */
    struct tb_plan_wish want; /* how many bolts of a lot are burned; 0 takes the defaults */
    const char *currency;     /* only lots priced in this money, whatever its case; NULL: all of them */
    bool metres;              /* weigh every lot by its metres, whatever it is priced in */
    const char *table; /* path of a table lot, value, chance, catch, minutes; NULL: the lots of the book that
                                 wait and were not burnt. What is said of burns and money has no meaning with it */
};
/* A lot that fits into the day, and why it is worth the time. */
struct tb_bench_pick {
    const char *lot, *supplier; /* supplier "" with a table */
    struct tb_task task;
    double gain; /* value times both chances: false cloth caught on average */
    const char
        *currency; /* of the value: money, or "m" where it is metres, "kg" kilograms; "" with a table */
    bool every;    /* all of its bolts: fewer do not show one false bolt as surely as was asked */
    bool derived;  /* the length behind it is computed from kilograms, of some bolts at least */
};
struct tb_bench_day {
    struct tb_bench_pick *pick; /* n of them, the most worth a minute first */
    size_t n, lots;             /* taken, of so many that could be burned */
    double minutes;             /* there are */
    double used, gain, most;    /* minutes used; gained; no choice of lots could gain more than this */
    const char
        *currency;     /* of value and gain: money, or "m", "kg"; "" with a table, or where there is no lot */
    size_t unmeasured; /* lots left out, since of some bolts neither length nor weight is known */
    size_t awaited;    /* lots left out, since a laboratory has a sample of them */
    size_t unpriced;   /* lots left out, since one money was asked for and they have no price */
    size_t spared;     /* lots left out: what they were declared to hold must not be burned */
    const char *rates; /* "1 USD = 0.92 EUR; ...": what amounts were converted by; "" none were */
    const char *
        without_rate; /* "GBP, SEK": money for which no rate into the site's own is set; "" none is missing */
    const char
        *money; /* the site's own, where several had to be compared; "" not set, or nothing to compare */
    struct tb_bench_day *other; /* what cannot be compared has a plan of its own, for all of the hours */
    size_t others;
};
/*
 * tb_bench_day_plan - choose the lots of a day.
 *
 *   out     lots in different money are converted where the site sets its money and a rate; each money that is left
 *           has a plan of its own, and so have the lots without a price, which are weighed by their metres, or
 *           by their kilograms where the length is not known
 *   b       may be NULL with a table
 *   fails   TB_EINVAL: hours or minutes that are not above 0, a row of the table that cannot
 *           be (file and line are named); else as tb_named_rows_read and tb_plan_work_out
 *   memory  all in mem
 */
tb_rc tb_bench_day_plan(struct tb_bench_day *out, struct tb_book *b,
                        const struct tb_bench_day_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
