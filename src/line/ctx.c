/* What a command was told: the options of this run. */
#include "line/cmd.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/date.h"
#include "tenterbook/limits.h"
#include "tenterbook/typed.h"
#include "tenterbook/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *tb_opt_nth(const struct tb_ctx *ctx, const char *name, size_t i)
{
    for (size_t k = 0; k < ctx->givens; k++)
        if (strcmp(ctx->given[k].opt->name, name) == 0 && i-- == 0)
            return ctx->given[k].value;
    return NULL;
}

size_t tb_opt_count(const struct tb_ctx *ctx, const char *name)
{
    size_t n = 0;

    while (tb_opt_nth(ctx, name, n))
        n++;
    return n;
}

const char *const *tb_opt_all(size_t *n, struct tb_ctx *ctx, const char *name)
{
    const char **all;

    *n = tb_opt_count(ctx, name);
    all = tb_arena_alloc(&ctx->mem, (*n + 1) * sizeof *all);
    for (size_t i = 0; i < *n; i++)
        all[i] = tb_opt_nth(ctx, name, i);
    return all;
}

const char *tb_opt_list(struct tb_ctx *ctx, const char *name)
{
    struct tb_text list = { 0 };

    if (!tb_opt_on(ctx, name))
        return NULL;
    for (size_t i = 0; tb_opt_nth(ctx, name, i); i++)
        tb_text_addf(&list, "%s%s", i ? ", " : "", tb_opt_nth(ctx, name, i));
    return tb_arena_take(&ctx->mem, &list);
}

const char *const *tb_opt_each(size_t *n, struct tb_ctx *ctx, const char *name)
{
    char *list = tb_arena_strdup(&ctx->mem, tb_opt_on(ctx, name) ? tb_opt_list(ctx, name) : ""), *at = NULL;
    const char **all = tb_arena_alloc(&ctx->mem, (strlen(list) / 2 + 1) * sizeof *all);

    *n = 0;
    for (char *one = strtok_r(list, ",", &at); one; one = strtok_r(NULL, ",", &at)) {
        one += strspn(one, " ");
        for (size_t end = strlen(one); end && one[end - 1] == ' '; end--)
            one[end - 1] = '\0';
        if (*one)
            all[(*n)++] = one;
    }
    return all;
}

const char *tb_opt(const struct tb_ctx *ctx, const char *name)
{
    return tb_opt_nth(ctx, name, 0);
}

void tb_opt_means(struct tb_ctx *ctx, const char *name, const char *value)
{
    for (size_t k = 0; k < ctx->givens; k++)
        if (strcmp(ctx->given[k].opt->name, name) == 0)
            ctx->given[k].value = value;
}

const char *tb_opt_among(const struct tb_ctx *ctx, const char *names)
{
    for (size_t k = 0; k < ctx->givens; k++)
        if (tb_word_listed(names, ctx->given[k].opt->name, strlen(ctx->given[k].opt->name), " "))
            return ctx->given[k].opt->name;
    return NULL;
}

bool tb_opt_on(const struct tb_ctx *ctx, const char *name)
{
    return tb_opt(ctx, name) != NULL;
}

/* Whether an option is still to be read: after a refusal what else is wrong is not looked at. */
static const char *open_option(const struct tb_ctx *ctx, const char *name)
{
    return ctx->rc == TB_OK ? tb_opt(ctx, name) : NULL;
}

/* Whether the option is named by the unit it takes, so that the sign of it may stand behind the figure. */
static bool takes_percent(const struct tb_ctx *ctx, const char *name)
{
    for (const struct tb_opt *o = ctx->cmd->opts; o && o->name; o++)
        if (strcmp(o->name, name) == 0)
            return o->arg && strcmp(o->arg, "PERCENT") == 0;
    return false;
}

double tb_opt_number(struct tb_ctx *ctx, const char *name, double unless, double least, double most)
{
    const char *text = open_option(ctx, name);
    struct tb_typed_number v;
    bool good;

    if (!text)
        return unless;
    good = tb_number_typed(&v, text) && !(v.percent && most > 1 && !takes_percent(ctx, name));
    if (good && v.percent && !takes_percent(ctx, name))
        v.value /= 100;
    if (good && !isnan(v.other))
        ctx->rc = tb_fail(ctx->err, TB_EINVAL,
                          "--%s is '%s'; that may be %.10g or %.10g: write the decimal sign as a point", name,
                          text, v.value, v.other);
    else if (!good || v.value < least || v.value > most)
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a number from %g to %g", name, text,
                          least, most);
    return v.value;
}

long tb_opt_whole(struct tb_ctx *ctx, const char *name, long unless, long least, long most)
{
    const char *text = open_option(ctx, name);
    char *end;
    long v;

    if (!text)
        return unless;
    v = strtol(text, &end, 10);
    if (!*text || *end || v < least || v > most)
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a whole number from %ld to %ld", name,
                          text, least, most);
    return v;
}

/* "0.95", "0,95", "95 %" and "95" say the same. Between 1 and 2 nobody can tell which of both is meant. */
static double chance_of(const struct tb_typed_number *v)
{
    return v->percent || v->value >= 2 ? v->value / 100 : v->value;
}

double tb_opt_chance(struct tb_ctx *ctx, const char *name, double unless, bool certain_too)
{
    const char *text = open_option(ctx, name);
    struct tb_typed_number v = { 0 };
    bool good;
    double chance;

    if (!text)
        return unless;
    good = tb_number_typed(&v, text) && isnan(v.other);
    chance = chance_of(&v);
    if (!good || chance <= 0 || chance > 1 || (chance >= 1 && !certain_too))
        ctx->rc =
            tb_fail(ctx->err, TB_EINVAL,
                    certain_too ? N_("--%s is '%s'; it takes a chance like 0.95 or 95 %%, above 0 and at "
                                     "most 100 %%")
                                : N_("--%s is '%s'; it takes a chance like 0.95 or 95 %%, above 0 and "
                                     "below 100 %%"),
                    name, text);
    return chance;
}

int tb_opt_word(struct tb_ctx *ctx, const char *name, int unless, const struct tb_words *words)
{
    const char *text = open_option(ctx, name);

    if (text)
        ctx->rc = tb_word_read(&unless, words, text, ctx->err);
    return unless;
}

/* Whoever means the day can say so; nearly always a year was mistyped. */
static void check_near(struct tb_ctx *ctx, const char *name, const char *day)
{
    long years = ctx->far_off ? 0 : tb_years_off(day);

    if (years)
        ctx->rc = tb_fail(ctx->err, TB_EINVAL,
                          "--%s is %.10s, which is %ld years from today; if that is meant, add --far-off",
                          name, day, years);
}

static tb_rc two_days(const char *name, const char *text, const struct tb_typed_day *d, struct tb_err *err)
{
    return tb_fail(err, TB_EINVAL, "--%s is '%s'; that may be %s or %s: write it like one of them", name,
                   text, d->day, d->other);
}

/* NULL where it is no day, or can be two: then ctx->rc says so. */
static const char *read_day(struct tb_ctx *ctx, const char *name, const char *text, const char *day_words)
{
    struct tb_typed_day d;

    if (!tb_day_typed(&d, day_words))
        return NULL;
    if (*d.other)
        ctx->rc = two_days(name, text, &d, ctx->err);
    return tb_arena_strdup(&ctx->mem, d.day);
}

const char *tb_opt_moment(struct tb_ctx *ctx, const char *name)
{
    const char *moment = NULL, *words = NULL, *text = open_option(ctx, name);
    struct tb_typed_day day = { 0 };
    char option[32];

    (void)snprintf(option, sizeof option, "--%s", name);
    if (text)
        words = tb_moment_words(&day, text, &ctx->mem);
    if (text && *day.other)
        ctx->rc = two_days(name, text, &day, ctx->err);
    if (ctx->rc == TB_OK)
        ctx->rc = tb_past_moment(&moment, option, words, &ctx->mem, ctx->err);
    if (ctx->rc == TB_OK && moment)
        check_near(ctx, name, moment);
    return moment;
}

/* A day stays text: it is what the book keeps and compares. */
const char *tb_opt_any_day(struct tb_ctx *ctx, const char *name)
{
    const char *text = open_option(ctx, name), *day = text ? read_day(ctx, name, text, text) : NULL;

    if (text && !day)
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a day like 2026-10-05", name, text);
    else if (day && ctx->rc == TB_OK && !tb_day_recorded(day))
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a day from %s to %s", name, text,
                          TB_DAY_FIRST, TB_DAY_LAST);
    return day;
}

const char *tb_opt_day(struct tb_ctx *ctx, const char *name)
{
    const char *day = tb_opt_any_day(ctx, name);

    if (day && ctx->rc == TB_OK)
        check_near(ctx, name, day);
    return day;
}

/* "2026-3", "03/2026", "3.2026": the year is the part of four figures, so that no order has to be guessed. */
static bool month_words(char out[TB_DAY_LEN + 1], const char *text)
{
    size_t first = strspn(text, "0123456789"), second;
    const char *rest = text + first + 1, *year, *month;

    if (!text[first] || !strchr("-./ ", text[first]))
        return false;
    second = strspn(rest, "0123456789");
    if (rest[second] ||
        !((first == 4 && second >= 1 && second <= 2) || (second == 4 && first >= 1 && first <= 2)))
        return false;
    year = first == 4 ? text : rest;
    month = first == 4 ? rest : text;
    (void)snprintf(out, TB_DAY_LEN + 1, "%.4s-%02ld", year, strtol(month, NULL, 10));
    return tb_month_valid(out);
}

const char *tb_opt_month(struct tb_ctx *ctx, const char *name)
{
    const char *text = open_option(ctx, name);
    char month[TB_DAY_LEN + 1];

    if (!text)
        return NULL;
    if (!tb_month_valid(text) && !month_words(month, text)) {
        ctx->rc = tb_misuse(ctx->err, "--%s: '%s' is not a month; write it like 2026-03", name, text);
        return NULL;
    }
    text = tb_month_valid(text) ? text : tb_arena_strdup(&ctx->mem, month);
    check_near(ctx, name, tb_arena_printf(&ctx->mem, "%s-01", text));
    return text;
}

tb_rc tb_misuse(struct tb_err *err, const char *fmt, ...)
{
    char text[sizeof err->msg];
    va_list ap;

    va_start(ap, fmt);
    (void)vsnprintf(text, sizeof text, _(fmt), ap);
    va_end(ap);
    return tb_fail(err, TB_EUSAGE, "%s", text);
}
