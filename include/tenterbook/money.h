/*
 * money.h - what claims come to: claimed, agreed and recovered, by supplier, month and currency, and in the money of the site.
 *
 * The records are the steps of disputes (dispute.h). Claimed is the latest amount of the opening and the notices, in the month
 * it was said; agreed the latest that was agreed, in the month of the agreement; recovered is every amount that came in, in its
 * own month. An offer is none of them. Amounts are converted only by rates that the site set, by the one in force on the last day of
 * their month (money_rate.h), and nothing is converted in silence. The functions only read; text and arrays are in the caller's arena.
 */
#ifndef TENTERBOOK_MONEY_H
#define TENTERBOOK_MONEY_H

#include "tenterbook/book.h"
#include "tenterbook/dispute.h"

/* Sums in one currency. */
struct tb_money_sum {
    const char *supplier; /* name; "" all */
    const char *month;    /* "2026-11"; "" all */
    const char *currency; /* ISO 4217 */
    double claimed, agreed, recovered;
    double
        awaited; /* of what was agreed in this month, what did not come in, of disputes that are open; and what goods came to that
                         went back in this month, where nothing is recorded of their credit */
    int64_t disputes; /* of which one of these amounts was said in this month */
};

/* What one unit of a currency is worth in the money of the site, and the months whose amounts were converted by it. */
struct tb_money_rate {
    const char *currency;
    double rate;              /* NAN: none is set */
    const char *day;          /* it counts from; "" none is set */
    const char *first, *last; /* months, "2026-11" */
};

struct tb_money {
    struct tb_money_sum *row; /* by supplier, month, currency */
    size_t rows;
    struct tb_money_sum *total; /* one of each currency, by its name */
    size_t totals;
    const char *money;         /* the setting money; "" not set: nothing is converted */
    struct tb_money_sum whole; /* rows with a rate, in that money; those without are not in it */
    struct tb_money_rate
        *rate; /* each that was used, by currency and month; those of months without a rate too */
    size_t rates, unrated;
};

struct tb_money_request {
    const char *supplier;     /* name; NULL: all */
    const char *from, *until; /* months "2026-01", both included; NULL: no end */
    const struct tb_claim_open
        *open; /* opens claims that are open, of whoever has read them; NULL: they are read */
    size_t opens;
};
/*
 * tb_money_read - the sums.
 *   fails   TB_EINVAL a month that is not one; TB_ENOTFOUND no such supplier
 */
tb_rc tb_money_read(struct tb_money *out, struct tb_book *b, const struct tb_money_request *request,
                    struct tb_arena *mem, struct tb_err *err);

/* A step of a dispute with an amount, as it is read for the sums. */
struct tb_money_step {
    const char *dispute, *supplier /* id */, *name /* of it */, *day, *currency;
    enum tb_step_kind
        step; /* TB_STEP_NONE: goods that went back without a dispute, with what they were invoiced at */
    double amount;
    bool open; /* the dispute is */
};
/* tb_money_step_list - of all lots that count, by supplier, dispute and the order they were recorded in. */
tb_rc tb_money_step_list(struct tb_money_step **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                         struct tb_err *err);

/* tb_money_sum_add - amounts and disputes of one sum to another; they are of one currency. */
void tb_money_sum_add(struct tb_money_sum *to, const struct tb_money_sum *s);

/* tb_money_sums - the same without a book: rows and totals of n steps. Pure. */
void tb_money_sums(struct tb_money *out, const struct tb_money_step *step, size_t n, const char *from,
                   const char *until, struct tb_arena *mem);

#endif
