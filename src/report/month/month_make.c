/* month_make.c - the month's sheets from the book: its span, the markets the site sells to, the claims that are open. */
#include "tenterbook/lot_claim.h"
#include "tenterbook/month.h"
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

/* Markets and open claims: what the sheets need besides the goods themselves. */
static tb_rc fill(struct tb_month_plan *plan, struct tb_market_list *markets, struct tb_book *b,
                  struct tb_arena *mem, struct tb_err *err)
{
    struct tb_claim_open *claim = NULL;
    char today[TB_DAY_LEN + 1];
    tb_rc rc = markets->n ? TB_OK : tb_setting_markets(markets, b, err);

    (void)snprintf(today, sizeof today, "%.*s", TB_DAY_LEN, plan->now);
    if (rc == TB_OK)
        rc = tb_base_rate_read(&plan->base_rate, &plan->base_from, b, mem, err);
    if (rc == TB_OK)
        rc = limits(plan, b, err);
    if (rc == TB_OK)
        rc = tb_claim_open_list(&claim, &plan->claims, b, today, mem, err);
    plan->claim = claim;
    plan->market = markets->key;
    plan->markets = markets->n;
    return rc;
}

tb_rc tb_month_make(struct tb_month_sums *out, struct tb_book *b, const struct tb_month_request *request,
                    struct tb_err *err)
{
    char from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1], other[TB_DAY_LEN + 1];
    char name[TB_SPAN_NAME_LEN + 1], now[TB_MOMENT_LEN + 1];
    struct tb_market_list markets = request->markets;
    struct tb_month_plan plan = { .files = request->files,
                                  .path = request->path,
                                  .page = request->page,
                                  .from = from,
                                  .until = until,
                                  .name = name,
                                  .now = now };
    struct tb_month_source source;
    struct tb_month_book *month = NULL;
    struct tb_arena mem = { 0 };
    tb_rc rc = request->unproved ? TB_OK : tb_book_vouch(b, err);

    if (rc != TB_OK)
        return rc;
    tb_month_span(from, other, request->first);
    tb_month_span(other, until, request->last);
    tb_month_span_name(name, request->first, request->last);
    tb_paper_now(now);
    /* within one transaction: claims and goods are those of the same moment */
    if ((rc = tb_month_from_book(&month, &source, b, from, until, err)) == TB_OK &&
        (rc = fill(&plan, &markets, b, &mem, err)) == TB_OK)
        rc = tb_month_write(out, &plan, &source, err);
    tb_month_book_close(month);
    tb_arena_free(&mem);
    return rc;
}
