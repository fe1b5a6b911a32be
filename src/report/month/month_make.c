/* month_make.c - the month's sheets from the book: its span, the markets the site sells to, the claims that are open. */
#include "tenterbook/lot_claim.h"
#include "tenterbook/money.h"
#include "tenterbook/month.h"
#include "tenterbook/names.h"
#include "tenterbook/outdated.h"
#include "tenterbook/setting.h"
#include "tenterbook/work.h"

#include <stdio.h>
#include <string.h>

void tb_month_span_name(char out[TB_SPAN_NAME_LEN + 1], const char *first, const char *last)
{
    (void)snprintf(out, TB_SPAN_NAME_LEN + 1, strcmp(first, last) ? "%.7s..%.7s" : "%.7s", first, last);
}

/* What the words of the verdict mean is said with the figures in force. */
static tb_rc limits(struct tb_month_plan *plan, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_setting_number(&plan->contradicts_below, b, "contradicts_below", TB_BOOK_NOW, err);

    if (rc == TB_OK)
        rc = tb_setting_number(&plan->speaks_below, b, "speaks_below", TB_BOOK_NOW, err);
    return rc == TB_OK ? tb_setting_number(&plan->fits_above, b, "fits_above", TB_BOOK_NOW, err) : rc;
}

/* The latest whose day of effect lies before the end of the span; one that is set to nothing ends those before it. */
static tb_rc target(struct tb_month_plan *plan, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_setting *set = NULL;
    struct tb_month_target *all;
    size_t n = 0;
    tb_rc rc = tb_setting_list(&set, &n, b, TB_TARGET_FAMILY, mem, err);

    if (rc != TB_OK)
        return rc;
    plan->aimed = all = tb_arena_alloc(mem, (n + 1) * sizeof *all);
    for (size_t i = 0; i < n; i++) {
        const char *day = set[i].name + strlen(TB_TARGET_FAMILY);

        if (strcmp(day, plan->until) >= 0)
            continue;
        plan->target_from = tb_setting_target(&plan->target, &plan->target_words, set[i].value) ? day : NULL;
        all[plan->aims++] = (struct tb_month_target){ day, plan->target_from ? plan->target : 0 };
    }
    return TB_OK;
}

/* Verdicts of the lots of the span that would be others by now: whoever counts conclusions has to know. */
static tb_rc outdated(struct tb_month_plan *plan, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_outdated *o = tb_arena_alloc(mem, sizeof *o);
    size_t n = 0;
    tb_rc rc = tb_outdated_read(o, b, NULL, mem, err);

    o->otherwise = 0;
    for (size_t i = 0; i < o->n && rc == TB_OK; i++)
        if (strcmp(o->lot[i].arrived, plan->from) >= 0 && strcmp(o->lot[i].arrived, plan->until) < 0) {
            o->lot[n++] = o->lot[i];
            o->otherwise += !o->lot[i].unseen;
        }
    o->n = n;
    plan->outdated = o;
    return rc;
}

/* Markets and open claims: what the sheets need besides the goods themselves. */
static tb_rc fill(struct tb_month_plan *plan, struct tb_market_list *markets,
                  const struct tb_month_request *request, const struct tb_law *law, struct tb_book *b,
                  struct tb_arena *mem, struct tb_err *err)
{
    struct tb_money_request span = { .from = request->first, .until = request->last };
    struct tb_money *money = tb_arena_alloc(mem, sizeof *money), *all = tb_arena_alloc(mem, sizeof *all);
    struct tb_claim_open *claim = NULL;
    char today[TB_DAY_LEN + 1], back[TB_DAY_LEN + 1];
    tb_rc rc = markets->n ? TB_OK : tb_setting_markets(markets, b, err);

    (void)snprintf(today, sizeof today, "%.*s", TB_DAY_LEN, plan->now);
    if (rc == TB_OK)
        rc = tb_base_rate_read(&plan->base_rate, &plan->base_from, b, mem, err);
    if (rc == TB_OK)
        rc = limits(plan, b, err);
    if (rc == TB_OK)
        rc = target(plan, b, mem, err);
    if (rc == TB_OK)
        rc = outdated(plan, b, mem, err);
    if (rc == TB_OK)
        rc = tb_claim_open_list(&claim, &plan->claims, b, today, mem, err);
    plan->claim = span.open = claim;
    span.opens = plan->claims;
    plan->law = law;
    if (rc == TB_OK)
        rc = tb_money_read(money, b, &span, mem, err);
    tb_month_back(back, plan->from, plan->until);
    back[strlen("2026-10")] = '\0';
    span.from = back;
    if (rc == TB_OK)
        rc = tb_money_read(all, b, &span, mem, err);
    plan->money = money;
    plan->trend_money = all;
    plan->market = markets->key;
    plan->markets = markets->n;
    return rc;
}

static tb_rc make(struct tb_month_sums *out, struct tb_book *b, const struct tb_month_request *request,
                  const char *now, struct tb_err *err)
{
    char from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1], other[TB_DAY_LEN + 1];
    char name[TB_SPAN_NAME_LEN + 1];
    struct tb_market_list markets = request->markets;
    struct tb_month_plan plan = { .files = request->files,
                                  .path = request->path,
                                  .page = request->page,
                                  .from = from,
                                  .until = until,
                                  .name = name,
                                  .now = now,
                                  .print_all = request->print_all,
                                  .earlier = request->as_of != NULL };
    struct tb_month_source source;
    struct tb_month_book *month = NULL;
    struct tb_law *law = NULL;
    struct tb_arena mem = { 0 };
    tb_rc rc;

    tb_month_span(from, other, request->first);
    tb_month_span(other, until, request->last);
    tb_month_span_name(name, request->first, request->last);
    /* within one transaction: claims and goods are those of the same moment */
    if ((rc = tb_month_from_book(&month, &source, b, from, until, err)) == TB_OK &&
        (rc = tb_names_law(&law, b, err)) == TB_OK &&
        (rc = fill(&plan, &markets, request, law, b, &mem, err)) == TB_OK)
        rc = tb_month_write(out, &plan, &source, err);
    tb_law_free(law);
    tb_month_book_close(month);
    tb_arena_free(&mem);
    return rc;
}

/* Its last moment is that of the sheets, so that they are the same whenever they are made. */
static tb_rc as_of(char now[TB_MOMENT_LEN + 1], const char *day, const char *first, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];

    (void)snprintf(today, sizeof today, "%.*s", TB_DAY_LEN, now);
    if (!tb_day_valid(day))
        return tb_fail(err, TB_EINVAL, "'%s' is not a valid date", day);
    if (strcmp(day, today) >= 0)
        return tb_fail(err, TB_EINVAL, "%s is not over yet: what the book is then cannot be told", day);
    if (strncmp(day, first, strlen(first)) < 0)
        return tb_fail(err, TB_EINVAL, "on %s nothing was known of a span that begins with %s", day, first);
    (void)snprintf(now, TB_MOMENT_LEN + 1, "%.*sT23:59:59Z", TB_DAY_LEN, day);
    return TB_OK;
}

/* The book is proved as it is: the rows up to a day prove with those after them. */
tb_rc tb_month_make(struct tb_month_sums *out, struct tb_book *b, const struct tb_month_request *request,
                    struct tb_err *err)
{
    char now[TB_MOMENT_LEN + 1];
    struct tb_book *then = NULL;
    tb_rc rc = TB_OK;

    tb_paper_now(now);
    if (request->as_of && (rc = as_of(now, request->as_of, request->first, err)) != TB_OK)
        return rc;
    if (!request->unproved && (rc = tb_book_vouch(b, err)) != TB_OK)
        return rc;
    if (request->as_of && (rc = tb_book_as_of(&then, b, request->as_of, err)) != TB_OK)
        return rc;
    rc = make(out, then ? then : b, request, now, err);
    tb_book_close(then);
    return rc;
}
