/* sheet - the month's workbook. */
#include "cli/cmd.h"
#include "tenterbook/book.h"
#include "tenterbook/month.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const twins[] = { "summary", "lots", "bolts", "suppliers", "open", "legend" };

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

    (void)fprintf(out, _("%s: %lld deliveries, %lld lots, %lld bolts, %.1f m came in.\n"), span->name,
                  (long long)s->work.deliveries, (long long)s->lots, (long long)s->bolts, s->metres);
    (void)fprintf(out,
                  _("%lld lots judged: %lld fit, %lld contradict, %lld undecided; %lld not judged yet. "
                    "%lld of %lld bolts burnt.\n"),
                  (long long)judged, (long long)s->fits, (long long)s->contradicts, (long long)s->undecided,
                  (long long)s->unjudged, (long long)s->bolts_burnt, (long long)s->bolts);
    if (judged)
        (void)fprintf(
            out,
            _("Share of judged lots that contradict: %.1f %% (95 %% interval %.1f to %.1f %%, if they were "
              "drawn at random).\n"),
            100 * (double)s->contradicts / (double)judged, 100 * s->low, 100 * s->high);
    if (s->held.lots)
        (void)fprintf(out, _("On hold: %lld lots, %.1f m.\n"), (long long)s->held.lots, s->held.metres);
}

static json_t *real_or_null(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static tb_rc say_json(FILE *out, const char *path, const struct span *span, const struct tb_month_sums *s,
                      struct tb_err *err)
{
    json_t *files = json_array(), *j;
    int bad;

    for (size_t i = 0; i < TB_COUNT(twins); i++)
        (void)json_array_append_new(files,
                                    json_sprintf("%.*s-%s.csv", (int)(strlen(path) - 5), path, twins[i]));
    j = json_pack("{s:s, s:s, s:o, s:I, s:I, s:I, s:I, s:f, s:I, s:I, s:I, s:I, s:o, s:o, s:I, s:f}", "span",
                  span->name, "workbook", path, "csv", files, "deliveries", (json_int_t)s->work.deliveries,
                  "lots", (json_int_t)s->lots, "bolts", (json_int_t)s->bolts, "bolts_burnt",
                  (json_int_t)s->bolts_burnt, "metres", s->metres, "fits", (json_int_t)s->fits, "contradicts",
                  (json_int_t)s->contradicts, "undecided", (json_int_t)s->undecided, "not_judged",
                  (json_int_t)s->unjudged, "share_low", real_or_null(s->low), "share_high",
                  real_or_null(s->high), "held_lots", (json_int_t)s->held.lots, "held_metres",
                  s->held.metres);
    if (!j)
        return tb_fail(err, TB_EIO, "a name is not valid text");
    bad = json_dumpf(j, out, JSON_REAL_PRECISION(15)) != 0 || fputc('\n', out) == EOF;
    json_decref(j);
    return bad ? tb_fail(err, TB_EIO, "the answer cannot be written") : TB_OK;
}

static tb_rc sheet(struct tb_ctx *ctx, struct tb_err *err)
{
    struct span span;
    struct tb_month_sums sums = { 0 };
    struct tb_month_source source;
    struct tb_month_book *from = NULL;
    struct tb_text path = { 0 };
    char now[TB_MOMENT_LEN + 1];
    tb_rc rc;

    if ((rc = read_span(&span, ctx, err)) != TB_OK)
        return rc;
    tb_now(now);
    if (tb_opt(ctx, "out"))
        tb_text_add(&path, tb_opt(ctx, "out"));
    else
        tb_text_addf(&path, "cloth-%s.xlsx", span.name);
    struct tb_month_plan plan = { tb_text_str(&path), span.from, span.until, span.name, now };
    if ((rc = tb_month_from_book(&from, &source, ctx->book, span.from, span.until, err)) == TB_OK)
        rc = tb_month_write(&sums, &plan, &source, err);
    tb_month_book_close(from);
    if (rc == TB_OK && ctx->json) {
        rc = say_json(ctx->out, plan.path, &span, &sums, err);
    } else if (rc == TB_OK) {
        say_counts(ctx->out, &span, &sums);
        (void)fprintf(ctx->out, _("Written: %s, and each of its sheets as CSV beside it.\n"), plan.path);
    }
    tb_text_free(&path);
    return rc;
}

static const struct tb_opt opts[] = {
    { "month", "YYYY-MM", "the month of arrival; without it, this month", false },
    { "from", "YYYY-MM", "first month of a longer span", false },
    { "to", "YYYY-MM", "last month of a longer span", false },
    { "out", "FILE.xlsx", "where to write; without it, cloth-YYYY-MM.xlsx here", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_sheet = {
    .name = "sheet",
    .args = "[--month YYYY-MM] [--out FILE.xlsx]",
    .brief = "write the month's conformity workbook",
    .about =
        "Writes what came in during a month, what was judged, what contradicts its declaration, which "
        "supplier, how sure, and what is still held or open: an XLSX workbook, and each of its sheets as a "
        "CSV file beside it.\n\n"
        "A month is that of arrival; lots are shown as they stand now. Beside every verdict stands how many "
        "bolts of the lot were burnt. The last sheet says what a burn test can and cannot show.",
    .example = "tenterbook sheet --month 2026-03\n"
               "tenterbook sheet --from 2026-01 --to 2026-12 --out year.xlsx",
    .opts = opts,
    .max = 0,
    .flags = TB_BOOK,
    .run = sheet,
};
