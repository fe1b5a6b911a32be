/* money_rate.c - rates of money as the site set them, and which of them is in force on a day. */
#include "tenterbook/money_rate.h"

#include "tenterbook/date.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CODE_LEN = 3 };

static double rate_of(const char *value)
{
    double rate = strtod(value, NULL);

    return rate > 0 ? rate : (double)NAN;
}

/* Of one day a rate that names it comes after those that were set on it. */
static int by_day(const void *a, const void *b)
{
    const struct tb_rate *x = a, *y = b;

    return strcmp(x->from, y->from);
}

/* Each in its place; a handful at most, and those of one day keep their order. */
static void sort(struct tb_rates *r)
{
    for (size_t i = 1; i < r->n; i++)
        for (size_t k = i; k > 0 && by_day(&r->at[k - 1], &r->at[k]) > 0; k--) {
            struct tb_rate passing = r->at[k];

            r->at[k] = r->at[k - 1];
            r->at[k - 1] = passing;
        }
}

tb_rc tb_rates_read(struct tb_rates *out, struct tb_book *b, const char *currency, struct tb_arena *mem,
                    struct tb_err *err)
{
    const char *name = tb_arena_printf(mem, TB_RATE_FAMILY "%s", currency),
               *named = tb_arena_printf(mem, TB_RATE_FAMILY "%s:", currency);
    struct tb_setting_was *was = NULL;
    struct tb_setting *dated = NULL;
    size_t n = 0, more = 0;
    tb_rc rc;

    *out = (struct tb_rates){ 0 };
    if ((rc = tb_setting_history(&was, &n, b, name, mem, err)) != TB_OK ||
        (rc = tb_setting_list(&dated, &more, b, named, mem, err)) != TB_OK)
        return rc;
    out->at = tb_arena_alloc(mem, (n + more + 1) * sizeof *out->at);
    for (size_t i = 0; i < n; i++)
        out->at[out->n++] =
            (struct tb_rate){ tb_arena_strndup(mem, was[i].at, TB_DAY_LEN), rate_of(was[i].value) };
    for (size_t i = 0; i < more; i++)
        if (*dated[i].value)
            out->at[out->n++] = (struct tb_rate){ dated[i].name + strlen(named), rate_of(dated[i].value) };
    sort(out);
    return TB_OK;
}

const struct tb_rate *tb_rate_on(const struct tb_rates *r, const char *day)
{
    const struct tb_rate *found = NULL;

    for (size_t i = 0; i < r->n && strcmp(r->at[i].from, day) <= 0; i++)
        found = &r->at[i];
    for (size_t i = 0; i < r->n && !found; i++)
        if (!isnan(r->at[i].rate))
            found = &r->at[i];
    return found && !isnan(found->rate) ? found : NULL;
}

tb_rc tb_rate_name_check(const char *name, struct tb_err *err)
{
    size_t n = strspn(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");

    if (n != CODE_LEN || (name[n] && name[n] != ':'))
        return tb_fail(err, TB_EINVAL,
                       "'%s' is not a currency; a rate is set for its code of three letters: rate:USD", name);
    if (name[n] && !tb_day_valid(name + n + 1))
        return tb_fail(err, TB_EINVAL,
                       "'%s' is not a valid date; a rate is set from a day on: rate:USD:2026-10-01",
                       name + n + 1);
    return TB_OK;
}
