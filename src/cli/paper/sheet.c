/* sheet - the month's workbook. */
#include "cli/cmd.h"
#include "tenterbook/book.h"
#include "tenterbook/law.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/month.h"
#include "tenterbook/setting.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const twins[] = { "summary", "lots",   "bolts",  "suppliers", "open",  "claims",
                                     "labels",  "months", "stakes", "found",     "legend" };

struct span {
    char from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1];
    char name[2 * TB_DAY_LEN + 8];
};

static tb_rc read_month(const char **month, const struct tb_ctx *ctx, const char *option, struct tb_err *err)
{
    *month = tb_opt(ctx, option);
    return !*month || tb_month_valid(*month)
               ? TB_OK
               : tb_misuse(err, "--%s: '%s' is not a month; write it like 2026-03", option, *month);
}

/* --month, or --from and --to (both included), or the month it is. */
static tb_rc read_span(struct span *s, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *month, *first, *last;
    char today[TB_DAY_LEN + 1], other[TB_DAY_LEN + 1];
    tb_rc rc;

    if ((rc = read_month(&month, ctx, "month", err)) != TB_OK ||
        (rc = read_month(&first, ctx, "from", err)) != TB_OK ||
        (rc = read_month(&last, ctx, "to", err)) != TB_OK)
        return rc;
    if (month && (first || last))
        return tb_misuse(err, "give either --month, or --from and --to");
    if (!first != !last)
        return tb_misuse(err, "--from and --to go together");
    if (first && strcmp(first, last) > 0)
        return tb_misuse(err, "--from %s is after --to %s", first, last);
    tb_today(today);
    today[7] = '\0';
    if (!first)
        first = last = month ? month : today;
    tb_month_span(s->from, other, first);
    tb_month_span(other, s->until, last);
    (void)snprintf(s->name, sizeof s->name, strcmp(first, last) ? "%.7s..%.7s" : "%.7s", first, last);
    return TB_OK;
}

static void say_counts(FILE *out, const struct span *span, const struct tb_month_sums *s)
{
    int64_t judged = s->fits + s->contradicts + s->undecided;

    (void)fprintf(out, _("Came in, %s: deliveries %lld, lots %lld, bolts %lld, metres %.1f.\n"), span->name,
                  (long long)s->work.deliveries, (long long)s->lots, (long long)s->bolts, s->metres);
    (void)fprintf(out,
                  _("Lots judged: %lld (fit %lld, contradict %lld, undecided %lld); not judged yet: %lld. "
                    "Bolts burnt: %lld of %lld.\n"),
                  (long long)judged, (long long)s->fits, (long long)s->contradicts, (long long)s->undecided,
                  (long long)s->unjudged, (long long)s->bolts_burnt, (long long)s->bolts);
    if (s->fits)
        (void)fputs(
            _("\"fit\" means that burning found nothing against the words; it never confirms them.\n"), out);
    if (judged)
        (void)fprintf(
            out,
            _("Share of judged lots that contradict: %.1f %% (95 %% interval %.1f to %.1f %%, if they were "
              "drawn at random).\n"),
            100 * (double)s->contradicts / (double)judged, 100 * s->low, 100 * s->high);
    if (s->held.lots)
        (void)fprintf(out, _("On hold: lots %lld, metres %.1f.\n"), (long long)s->held.lots, s->held.metres);
}

static json_t *real_or_null(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static tb_rc say_json(FILE *out, const struct tb_month_plan *plan, const struct span *span,
                      const struct tb_month_sums *s, struct tb_err *err)
{
    json_t *files = json_array(), *j;
    int bad;

    for (size_t i = 0; i < TB_COUNT(twins); i++)
        (void)json_array_append_new(
            files, json_sprintf("%.*s-%s.csv", (int)(strlen(plan->path) - 5), plan->path, twins[i]));
    j = json_pack("{s:s, s:s, s:s, s:o, s:I, s:I, s:I, s:I, s:f, s:I, s:I, s:I, s:I, s:o, s:o, s:I, s:f}",
                  "span", span->name, "workbook", plan->path, "page", plan->page, "csv", files, "deliveries",
                  (json_int_t)s->work.deliveries, "lots", (json_int_t)s->lots, "bolts", (json_int_t)s->bolts,
                  "bolts_burnt", (json_int_t)s->bolts_burnt, "metres", s->metres, "fits", (json_int_t)s->fits,
                  "contradicts", (json_int_t)s->contradicts, "undecided", (json_int_t)s->undecided,
                  "not_judged", (json_int_t)s->unjudged, "share_low", real_or_null(s->low), "share_high",
                  real_or_null(s->high), "held_lots", (json_int_t)s->held.lots, "held_metres",
                  s->held.metres);
    if (j) {
        (void)json_object_set_new(j, "markets", json_integer((json_int_t)s->markets));
        (void)json_object_set_new(j, "labels", json_integer((json_int_t)s->labels));
        (void)json_object_set_new(j, "label_faults", json_integer((json_int_t)s->label_faults));
    }
    if (!j)
        return tb_fail(err, TB_EIO, "a name is not valid text");
    bad = json_dumpf(j, out, JSON_REAL_PRECISION(15)) != 0 || fputc('\n', out) == EOF;
    json_decref(j);
    return bad ? tb_fail(err, TB_EIO, "the answer cannot be written") : TB_OK;
}

#define MARKETS_MOST 32

/* The markets of --market, or of the setting; words parted by blanks or commas. */
struct markets {
    const char *key[MARKETS_MOST];
    size_t n;
    struct tb_arena mem;
};

static tb_rc add_markets(struct markets *m, const char *words, struct tb_err *err)
{
    static const char between[] = " ,\t";
    tb_rc rc = TB_OK;

    for (words += strspn(words, between); *words && rc == TB_OK; words += strspn(words, between)) {
        size_t n = strcspn(words, between);
        const char *key = tb_arena_strndup(&m->mem, words, n);
        bool known = false;

        for (size_t i = 0; i < m->n; i++)
            known = known || strcmp(m->key[i], key) == 0;
        if (!known && m->n == MARKETS_MOST)
            return tb_fail(err, TB_EINVAL, "more than %d markets are named", MARKETS_MOST);
        if (!known && (rc = tb_market_check(key, err)) == TB_OK)
            m->key[m->n++] = key;
        words += n;
    }
    return rc;
}

static tb_rc read_markets(struct markets *m, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *words;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && (words = tb_opt_nth(ctx, "market", i)) != NULL; i++)
        rc = add_markets(m, words, err);
    if (rc != TB_OK || tb_opt(ctx, "market"))
        return rc;
    if ((rc = tb_setting_text(&words, ctx->book, "market", TB_BOOK_NOW, &m->mem, err)) == TB_OK &&
        (rc = add_markets(m, words, err)) != TB_OK)
        rc = tb_within(err, rc, _("setting market"));
    return rc;
}

/* cloth-2026-10.xlsx has its page in cloth-2026-10.pdf. */
static void page_path(struct tb_text *out, const char *workbook)
{
    size_t n = strlen(workbook);

    tb_text_addn(out, workbook, n > 5 && strcmp(workbook + n - 5, ".xlsx") == 0 ? n - 5 : n);
    tb_text_add(out, ".pdf");
}

static tb_rc sheet(struct tb_ctx *ctx, struct tb_err *err)
{
    struct span span;
    struct tb_month_sums sums = { 0 };
    struct tb_month_source source;
    struct tb_month_book *from = NULL;
    struct markets markets = { .n = 0 };
    struct tb_claim_open *claim = NULL;
    char today[TB_DAY_LEN + 1];
    struct tb_text path = { 0 }, page = { 0 };
    char now[TB_MOMENT_LEN + 1];
    tb_rc rc;

    if ((rc = read_span(&span, ctx, err)) != TB_OK)
        return rc;
    tb_now(now);
    (void)snprintf(today, sizeof today, "%.*s", TB_DAY_LEN, now);
    if (tb_opt(ctx, "out"))
        tb_text_add(&path, tb_opt(ctx, "out"));
    else
        tb_text_addf(&path, "cloth-%s.xlsx", span.name);
    page_path(&page, tb_text_str(&path));
    struct tb_month_plan plan = { tb_text_str(&path), span.from,   span.until, span.name, now,
                                  tb_text_str(&page), markets.key, 0,          NULL,      0 };
    rc = read_markets(&markets, ctx, err);
    plan.markets = markets.n;
    if (rc == TB_OK &&
        (rc = tb_month_from_book(&from, &source, ctx->book, span.from, span.until, err)) == TB_OK &&
        (rc = tb_claim_open_list(&claim, &plan.claims, ctx->book, today, &markets.mem, err)) == TB_OK) {
        plan.claim = claim;
        rc = tb_month_write(&sums, &plan, &source, err);
    }
    tb_month_book_close(from);
    if (rc == TB_OK && ctx->json) {
        rc = say_json(ctx->out, &plan, &span, &sums, err);
    } else if (rc == TB_OK) {
        say_counts(ctx->out, &span, &sums);
        (void)fprintf(ctx->out, _("Written: %s, each of its sheets as CSV beside it, and the page %s.\n"),
                      plan.path, plan.page);
    }
    tb_text_free(&path);
    tb_text_free(&page);
    tb_arena_free(&markets.mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "month", "YYYY-MM", "the month of arrival; without it, this month", false },
    { "from", "YYYY-MM", "first month of a longer span", false },
    { "to", "YYYY-MM", "last month of a longer span", false },
    { "market", "M", "a market the cloth is sold to (us, eu, gb, ...); without it, the setting market",
      true },
    { "out", "FILE.xlsx", "where to write; without it, cloth-YYYY-MM.xlsx here", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_sheet = {
    .name = "sheet",
    .args = "[--month YYYY-MM] [--market M] [--out FILE.xlsx]",
    .brief = "write the month's conformity workbook",
    .about =
        "Writes what came in during a month, what was judged, what contradicts its declaration, which "
        "supplier, how sure, what a label may say in each market, and what is still held or open: an XLSX "
        "workbook "
        "with charts, each of its sheets as a CSV file beside it, and a page of the same to print (PDF).\n\n"
        "A month is that of arrival; lots are shown as they stand now. Beside every verdict stands how many "
        "bolts of the lot were burnt. The last sheet says what a burn test can and cannot show.",
    .example = "tenterbook sheet --month 2026-03\n"
               "tenterbook sheet --from 2026-01 --to 2026-12 --out year.xlsx",
    .opts = opts,
    .max = 0,
    .flags = TB_BOOK,
    .run = sheet,
};
