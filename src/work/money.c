/* money.c - what claims come to, added up by supplier, month and currency, and in the money of the site. */
#include "tenterbook/money.h"

#include "tenterbook/date.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/money_rate.h"
#include "tenterbook/setting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MONTH_LEN = 7 };

/* --- adding up, without a book ------------------------------------------------------------------------------------ */

struct adding {
    struct tb_money *out;
    const char *from, *until;
    struct tb_arena *mem;
    size_t cap, total_cap;
};

/* The place of these three, made where it is new: there are few, and they come almost in order. */
static struct tb_money_sum *sum_of(struct tb_money_sum **all, size_t *n, size_t *cap, struct tb_arena *mem,
                                   const struct tb_money_sum *key)
{
    for (size_t i = *n; i > 0; i--) {
        struct tb_money_sum *s = &(*all)[i - 1];

        if (strcmp(s->currency, key->currency) == 0 && strcmp(s->month, key->month) == 0 &&
            strcmp(s->supplier, key->supplier) == 0)
            return s;
    }
    TB_ARENA_ROOM(mem, *all, *n, *cap);
    (*all)[*n] = *key;
    return &(*all)[(*n)++];
}

void tb_money_sum_add(struct tb_money_sum *to, const struct tb_money_sum *s)
{
    to->claimed += s->claimed;
    to->agreed += s->agreed;
    to->recovered += s->recovered;
    to->awaited += s->awaited;
    to->disputes += s->disputes;
}

/* Months compare as text. One that is not asked for is left out; its dispute may have others that are. */
static struct tb_money_sum *row_of(struct adding *a, const struct tb_money_step *s)
{
    const char *month = tb_arena_strndup(a->mem, s->day, MONTH_LEN);
    struct tb_money_sum key = { .supplier = s->name, .month = month, .currency = s->currency };

    if ((a->from && strcmp(month, a->from) < 0) || (a->until && strcmp(month, a->until) > 0))
        return NULL;
    return sum_of(&a->out->row, &a->out->rows, &a->cap, a->mem, &key);
}

static bool came_in(const struct tb_money_step *s)
{
    return s->step == TB_RECOVERED || s->step == TB_CLOSED;
}

/* Whether a later step of the dispute says the same thing again: a claim that was put higher is one claim. */
static bool said_again(const struct tb_money_step *step, size_t i, size_t n)
{
    bool claim = step[i].step == TB_OPENED || step[i].step == TB_NOTIFIED;

    for (size_t k = i + 1; k < n; k++)
        if (step[k].step == step[i].step || (claim && step[k].step == TB_NOTIFIED))
            return true;
    return false;
}

/* An offer is no claim and no agreement. */
static bool counts(const struct tb_money_step *step, size_t i, size_t n)
{
    return came_in(&step[i]) || (step[i].step != TB_ANSWERED && !said_again(step, i, n));
}

static double recovered_of(const struct tb_money_step *step, size_t n, const char *currency)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        if (came_in(&step[i]) && strcmp(step[i].currency, currency) == 0)
            sum += step[i].amount;
    return sum;
}

/* Whether an earlier amount of the dispute stands in the same row: disputes are counted, not steps. */
static bool counted(struct adding *a, const struct tb_money_step *step, size_t i, size_t n,
                    const struct tb_money_sum *row)
{
    for (size_t k = 0; k < i; k++)
        if (counts(step, k, n) && row_of(a, &step[k]) == row)
            return true;
    return false;
}

/* The n amounts of one dispute. */
static void add_dispute(struct adding *a, const struct tb_money_step *step, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const struct tb_money_step *s = &step[i];
        struct tb_money_sum *row;

        if (!counts(step, i, n) || !(row = row_of(a, s)))
            continue;
        if (s->step == TB_STEP_NONE) {
            row->awaited += s->amount;
            continue;
        }
        row->disputes += !counted(a, step, i, n, row);
        if (came_in(s)) {
            row->recovered += s->amount;
        } else if (s->step == TB_AGREED) {
            row->agreed += s->amount;
            if (s->open)
                row->awaited += fmax(0, s->amount - recovered_of(step, n, s->currency));
        } else {
            row->claimed += s->amount;
        }
    }
}

static int by_place(const void *x, const void *y)
{
    const struct tb_money_sum *a = x, *b = y;
    int c = strcmp(a->supplier, b->supplier);

    if (c == 0)
        c = strcmp(a->month, b->month);
    return c ? c : strcmp(a->currency, b->currency);
}

void tb_money_sums(struct tb_money *out, const struct tb_money_step *step, size_t n, const char *from,
                   const char *until, struct tb_arena *mem)
{
    struct adding a = { .out = out, .from = from, .until = until, .mem = mem };

    *out = (struct tb_money){ .money = "" };
    for (size_t i = 0, next; i < n; i = next) {
        for (next = i + 1; next < n && strcmp(step[next].dispute, step[i].dispute) == 0;)
            next++;
        add_dispute(&a, &step[i], next - i);
    }
    for (size_t i = 0; i < out->rows; i++) {
        struct tb_money_sum key = { .supplier = "", .month = "", .currency = out->row[i].currency };

        tb_money_sum_add(sum_of(&out->total, &out->totals, &a.total_cap, mem, &key), &out->row[i]);
    }
    if (out->rows)
        qsort(out->row, out->rows, sizeof *out->row, by_place);
    if (out->totals)
        qsort(out->total, out->totals, sizeof *out->total, by_place);
}

/* --- out of the book ---------------------------------------------------------------------------------------------- */

static tb_rc check_month(const char *month, struct tb_err *err)
{
    char day[TB_DAY_LEN + 1] = "";

    if (!month)
        return TB_OK;
    if (strlen(month) == MONTH_LEN) {
        memcpy(day, month, MONTH_LEN);
        memcpy(day + MONTH_LEN, "-01", 4);
    }
    return tb_day_valid(day) ? TB_OK
                             : tb_fail(err, TB_EINVAL, "'%s' is not a month; it is written 2026-10", month);
}

/* Those of one supplier stay, in their order. */
static tb_rc keep_supplier(struct tb_money_step *step, size_t *n, struct tb_book *b, const char *name,
                           struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier s;
    size_t kept = 0;
    tb_rc rc = tb_supplier_find(&s, b, name, mem, err);

    for (size_t i = 0; i < *n && rc == TB_OK; i++)
        if (strcmp(step[i].name, s.name) == 0)
            step[kept++] = step[i];
    *n = kept;
    return rc;
}

/* What is awaited for goods that went back is the same here as in the list of open claims. */
static void add_returned(struct tb_money_step **step, size_t *n, const struct tb_claim_open *open,
                         size_t opens, struct tb_arena *mem)
{
    struct tb_money_step *all = tb_arena_alloc(mem, (*n + opens + 1) * sizeof *all);

    if (*n)
        memcpy(all, *step, *n * sizeof *all);
    for (size_t i = 0; i < opens; i++)
        for (size_t k = 0; open[i].agreed_before && k < *n; k++)
            if (all[k].step == TB_AGREED && strcmp(all[k].dispute, open[i].agreed_before) == 0)
                all[k].open = false; /* a later agreement named no amount for what went back */
    for (size_t i = 0; i < opens; i++)
        if (open[i].returned_on && open[i].credit.amount > 0)
            all[(*n)++] = (struct tb_money_step){ .dispute = open[i].lot,
                                                  .supplier = "",
                                                  .name = open[i].supplier,
                                                  .day = open[i].returned_on,
                                                  .currency = open[i].credit.currency,
                                                  .step = TB_STEP_NONE,
                                                  .amount = open[i].credit.amount,
                                                  .open = true };
    *step = all;
}

/* Steps of disputes, and goods that went back. */
static tb_rc read_steps(struct tb_money_step **step, size_t *n, struct tb_book *b,
                        const struct tb_money_request *r, struct tb_arena *mem, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];
    struct tb_claim_open *read = NULL;
    size_t reads = 0;
    tb_rc rc = tb_money_step_list(step, n, b, mem, err);

    tb_today(today);
    if (rc == TB_OK && !r->open)
        rc = tb_claim_open_list(&read, &reads, b, today, mem, err);
    if (rc == TB_OK)
        add_returned(step, n, r->open ? r->open : read, r->open ? r->opens : reads, mem);
    return rc;
}

static void add_converted(struct tb_money *out, const struct tb_money_sum *s, double rate)
{
    struct tb_money_sum c = { .claimed = s->claimed * rate,
                              .agreed = s->agreed * rate,
                              .recovered = s->recovered * rate,
                              .awaited = s->awaited * rate,
                              .disputes = s->disputes };

    tb_money_sum_add(&out->whole, &c);
}

/* Amounts are worth what they were worth when their month ended, whatever is set later; rows come by supplier, then by month. */
struct converting {
    struct tb_money *out;
    struct tb_rates *rates; /* of each currency of the totals */
    size_t cap;
    struct tb_arena *mem;
};

/* Where a rate is noted that was used: once for its currency and day. */
static void note_rate(struct converting *c, const struct tb_money_sum *row, const struct tb_rate *r)
{
    const struct tb_money_rate used = { .currency = row->currency,
                                        .rate = r ? r->rate : (double)NAN,
                                        .day = r ? r->from : "",
                                        .first = row->month,
                                        .last = row->month };
    struct tb_money *out = c->out;

    for (size_t i = 0; i < out->rates; i++) {
        struct tb_money_rate *one = &out->rate[i];

        if (strcmp(one->currency, used.currency) != 0 || strcmp(one->day, used.day) != 0)
            continue;
        if (strcmp(used.first, one->first) < 0)
            one->first = used.first;
        if (strcmp(used.last, one->last) > 0)
            one->last = used.last;
        return;
    }
    TB_ARENA_ROOM(c->mem, out->rate, out->rates, c->cap);
    out->rate[out->rates++] = used;
    out->unrated += !r;
}

static void convert_row(struct converting *c, const struct tb_money_sum *row)
{
    struct tb_money *out = c->out;
    const struct tb_rate *r = NULL;

    if (strcmp(row->currency, out->money) == 0) {
        add_converted(out, row, 1);
        return;
    }
    for (size_t i = 0; i < out->totals; i++)
        if (strcmp(out->total[i].currency, row->currency) == 0)
            r = tb_rate_on(&c->rates[i], tb_arena_printf(c->mem, "%s-31", row->month));
    note_rate(c, row, r);
    if (r)
        add_converted(out, row, r->rate);
}

static int by_currency(const void *x, const void *y)
{
    const struct tb_money_rate *a = x, *b = y;
    int c = strcmp(a->currency, b->currency);

    return c ? c : strcmp(a->first, b->first);
}

static tb_rc convert(struct tb_money *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct converting c = { .out = out, .mem = mem };
    tb_rc rc = tb_setting_text(&out->money, b, "money", TB_BOOK_NOW, mem, err);

    out->whole = (struct tb_money_sum){ .supplier = "", .month = "", .currency = out->money };
    if (rc != TB_OK || !*out->money)
        return rc;
    c.rates = tb_arena_alloc(mem, (out->totals + 1) * sizeof *c.rates);
    for (size_t i = 0; i < out->totals && rc == TB_OK; i++)
        rc = tb_rates_read(&c.rates[i], b, out->total[i].currency, mem, err);
    for (size_t i = 0; i < out->rows && rc == TB_OK; i++)
        convert_row(&c, &out->row[i]);
    if (out->rates)
        qsort(out->rate, out->rates, sizeof *out->rate, by_currency);
    return rc;
}

tb_rc tb_money_read(struct tb_money *out, struct tb_book *b, const struct tb_money_request *r,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct tb_money_step *step = NULL;
    size_t n = 0;
    tb_rc rc;

    *out = (struct tb_money){ .money = "" };
    if ((rc = check_month(r->from, err)) != TB_OK || (rc = check_month(r->until, err)) != TB_OK ||
        (rc = read_steps(&step, &n, b, r, mem, err)) != TB_OK)
        return rc;
    if (r->supplier && (rc = keep_supplier(step, &n, b, r->supplier, mem, err)) != TB_OK)
        return rc;
    tb_money_sums(out, step, n, r->from, r->until, mem);
    return convert(out, b, mem, err);
}
