/*
 * money_rate.h - what one unit of a currency is worth in the money of the site, day by day.
 *
 * A site sets a rate as rate:USD, which counts from the day it was set, or as rate:USD:2026-10-01, which counts from the day named. The
 * latest of them up to a day is the one in force on it. Text and arrays are in the caller's arena.
 */
#ifndef TENTERBOOK_MONEY_RATE_H
#define TENTERBOOK_MONEY_RATE_H

#include "tenterbook/book.h"

#define TB_RATE_FAMILY "rate:"

struct tb_rate {
    const char *from; /* day it counts from */
    double rate;      /* NAN: taken back on that day */
};
struct tb_rates {
    struct tb_rate *at; /* by day; of one day the last counts */
    size_t n;
};
/* tb_rates_read - all that a book holds of a currency. */
tb_rc tb_rates_read(struct tb_rates *out, struct tb_book *b, const char *currency, struct tb_arena *mem,
                    struct tb_err *err);
/*
 * tb_rate_on - the rate in force on a day; where none was yet, the first that was set after it. Pure.
 *   result  NULL: there is none, or it was taken back
 */
const struct tb_rate *tb_rate_on(const struct tb_rates *r, const char *day);
/* tb_rate_name_check - is "USD" or "USD:2026-10-01" behind rate: ? TB_EINVAL: a sentence says what it is not. */
tb_rc tb_rate_name_check(const char *name, struct tb_err *err);

#endif
