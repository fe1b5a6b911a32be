/* sheet - the month's workbook. */
#include "cli/show.h"
#include "tenterbook/month.h"

#include <string.h>

/* --month, or --from and --to, or the month it is. */
static tb_rc read_span(struct tb_month_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *month = tb_opt_month(ctx, "month");
    char today[TB_DAY_LEN + 1];

    r->first = tb_opt_month(ctx, "from");
    r->last = tb_opt_month(ctx, "to");
    if (ctx->rc != TB_OK)
        return ctx->rc;
    if (month && (r->first || r->last))
        return tb_misuse(err, "give either --month, or --from and --to");
    if (!r->first != !r->last)
        return tb_misuse(err, "--from and --to go together");
    if (r->first && strcmp(r->first, r->last) > 0)
        return tb_misuse(err, "--from %s is after --to %s", r->first, r->last);
    tb_today(today);
    if (!r->first)
        r->first = r->last = month ? month : tb_arena_strndup(&ctx->mem, today, strlen("2026-03"));
    return TB_OK;
}

/* The share comes with its interval: a month of three lots proves next to nothing. */
static void say_counts(FILE *out, const char *span, const struct tb_month_sums *s)
{
    int64_t judged = s->conforms + s->nothing_against + s->does_not + s->open;

    if (*s->nothing) {
        tb_say(out, "Came in, %s: nothing; %s.\n", span, s->nothing);
        return;
    }
    tb_say(out, "Came in, %s: deliveries %lld, lots %lld, bolts %lld, metres %.1f.\n", span,
           (long long)s->work.deliveries, (long long)s->lots, (long long)s->bolts, s->metres);
    if (s->derived)
        tb_say(out, "Bolts whose length is computed from kilograms: %lld.\n", (long long)s->derived);
    if (s->unknown)
        tb_say(
            out,
            "Bolts counted in kilograms whose length is not known, and in no sum of metres: %lld, %.2f kg.\n",
            (long long)s->unknown, s->kg);
    tb_say(out,
           "Lots looked at: %lld (conform %lld, no finding against %lld, do not conform %lld, open %lld), of "
           "them by a "
           "laboratory: %lld.\n",
           (long long)judged, (long long)s->conforms, (long long)s->nothing_against, (long long)s->does_not,
           (long long)s->open, (long long)s->laboratory);
    tb_say(
        out,
        "By burns and tests alone: fit %lld, contradict %lld, speak against %lld, undecided %lld; not judged "
        "yet: %lld. Bolts tested: %lld of %lld.\n",
        (long long)s->fits, (long long)s->contradicts, (long long)s->against, (long long)s->undecided,
        (long long)s->unjudged, (long long)s->bolts_tested, (long long)s->bolts);
    if (s->nothing_against)
        tb_say(out, "\"no finding against\" never confirms the words.\n");
    if (judged)
        tb_say(out,
               "Share of lots looked at that do not conform: %.1f %% (95 %% interval %.1f to %.1f %%, if "
               "they were "
               "drawn at random).\n",
               100 * (double)s->does_not / (double)judged, 100 * s->low, 100 * s->high);
    if (s->otherwise)
        tb_say(out, "Judge again: verdicts that would be others by what is known now: %lld (%s).\n",
               (long long)s->otherwise, s->otherwise_lots);
    if (s->held.lots && s->held.kg > 0)
        tb_say(out, "On hold: lots %lld, metres %.1f, and %.2f kg whose length is not known.\n",
               (long long)s->held.lots, s->held.metres, s->held.kg);
    else if (s->held.lots)
        tb_say(out, "On hold: lots %lld, metres %.1f.\n", (long long)s->held.lots, s->held.metres);
}

#define SUM(member, key) TB_JSON_AS(struct tb_month_sums, member, key)
TB_JSON_MEMBERS(sum_members, SUM(work.deliveries, "deliveries"), SUM(lots, "lots"), SUM(bolts, "bolts"),
                SUM(bolts_burnt, "bolts_burnt"), SUM(bolts_tested, "bolts_tested"), SUM(metres, "metres"),
                SUM(derived, "bolts_with_derived_length"), SUM(unknown, "bolts_without_length"),
                SUM(fits, "fits"), SUM(contradicts, "contradicts"), SUM(against, "speak_against"),
                SUM(unjudged, "not_judged"), SUM(conforms, "conform"),
                SUM(nothing_against, "no_finding_against"), SUM(does_not, "do_not_conform"),
                SUM(open, "open"), SUM(laboratory, "by_laboratory"),
                SUM(does_not_laboratory, "do_not_conform_by_laboratory"), SUM(in_part, "in_part"),
                SUM(low, "share_low"), SUM(high, "share_high"), SUM(held.lots, "held_lots"),
                SUM(held.metres, "held_metres"), SUM(kg, "kg_without_length"),
                SUM(held.kg, "held_kg_without_length"), SUM(markets, "markets"), SUM(labels, "labels"),
                SUM(label_faults, "label_faults"), SUM(otherwise, "verdicts_otherwise_now"),
                SUM(other_figures, "verdicts_of_other_figures"));

/* The names of the CSV files follow that of the workbook, one for each of its sheets. */
static json_t *as_json(const struct tb_month_request *r, const char *span, const struct tb_month_sums *s)
{
    json_t *files = json_array(), *j;
    const char *key;

    for (size_t i = 0; (key = tb_month_twin(i)) != NULL; i++)
        tb_json_push(files,
                     json_sprintf("%.*s-%s.csv", (int)(strlen(r->path) - strlen(".xlsx")), r->path, key));
    j = json_pack("{s:s, s:o, s:o, s:o, s:b}", "span", span, "workbook", tb_json_text(r->path), "page",
                  tb_json_text(r->page), "csv", files, "proved", !r->unproved);
    if (r->as_of)
        tb_json_put(j, "as_of", tb_json_text(r->as_of));
    tb_json_add(j, sum_members, TB_COUNT(sum_members), s);
    tb_json_put(j, "otherwise_lots", tb_json_text(s->otherwise_lots));
    tb_json_put(j, "undecided",
                json_integer(s->against + s->undecided)); /* of three words, as verdicts have */
    return j;
}

static tb_rc make(struct tb_ctx *ctx, struct tb_month_request *r, const char *span, struct tb_err *err)
{
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    struct tb_month_sums sums = { 0 };
    const char *words;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && (words = tb_opt_nth(ctx, "market", i)) != NULL; i++)
        rc = tb_market_list_add(&r->markets, words, err);
    r->files = &files;
    if (rc == TB_OK)
        rc = tb_outset_end(&files, tb_month_make(&sums, ctx->book, r, err), err);
    r->files = NULL;
    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return tb_print_json(ctx, as_json(r, span, &sums), err);
    say_counts(ctx->out, span, &sums);
    if (r->as_of)
        tb_say(ctx->out,
               "As it was known at the end of %s (UTC): nothing that was recorded later is in it.\n",
               r->as_of);
    if (r->unproved)
        tb_say(ctx->out, "The book was not proved: what these sheets show may not be what was recorded.\n");
    tb_say(ctx->out, "Written: %s, each of its sheets as CSV beside it, and the page %s.\n",
           tb_shown(ctx, r->path), r->page);
    return TB_OK;
}

static tb_rc sheet(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_month_request request = { .path = tb_opt(ctx, "out"),
                                        .unproved = tb_opt_on(ctx, "unproved"),
                                        .print_all = tb_opt_on(ctx, "print-all"),
                                        .as_of = tb_opt_any_day(ctx, "as-of") };
    char span[TB_SPAN_NAME_LEN + 1];
    tb_rc rc = read_span(&request, ctx, err);

    if (rc != TB_OK)
        return rc;
    tb_month_span_name(span, request.first, request.last);
    if (!request.path)
        request.path = request.as_of
                           ? tb_arena_printf(&ctx->mem, "cloth-%s-as-of-%s.xlsx", span, request.as_of)
                           : tb_arena_printf(&ctx->mem, "cloth-%s.xlsx", span);
    request.page = tb_file_twin(ctx, request.path, ".pdf");
    return make(ctx, &request, span, err);
}

static const struct tb_opt opts[] = {
    { "month", "YYYY-MM", "the month of arrival; without it, this month", false },
    { "from", "YYYY-MM", "first month of a longer span", false },
    { "to", "YYYY-MM", "last month of a longer span", false },
    { "market", "M", "a market the cloth is sold to (us, eu, gb, ...); without it, the setting market",
      true },
    { "as-of", "DAY",
      "as it was known at the end of this day (UTC): nothing that was recorded later is in it", false },
    { "print-all", NULL, "long lists are printed whole, and the sheet of bolts too", false },
    { "out", "FILE.xlsx", "where to write; without it, cloth-YYYY-MM.xlsx here", false },
    { "replace", NULL, "write over papers that are there already", false },
    { "unproved", NULL, "do not prove the book first, or write them although it does not prove", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_sheet = {
    .name = "sheet",
    .args = "[--month YYYY-MM] [--market M] [--out FILE.xlsx]",
    .brief = "write the month's conformity workbook",
    .about =
        "Writes what came in during a month, what was judged, what contradicts its declaration, which "
        "supplier, how sure, what a label may say in each market, and what is still held or open: an "
        "XLSX workbook with charts, each of its sheets as a CSV file beside it, and a page of the same "
        "to print (PDF).\n\n"
        "A month is that of arrival; lots are shown as they stand now, or with --as-of as they were known on "
        "a day. Beside every verdict stands how many bolts of the lot were tested. The last sheet says what "
        "a burn test can and cannot show.\n\n"
        "Printed are at most 200 rows of a list, and no bolts: --print-all prints them. All files are "
        "written, or none. Where one is there already, nothing is: --replace writes over it. "
        "A book that does not prove gives no sheets; --unproved writes them all the same, and says so.",
    .example = "tenterbook sheet --month 2026-03\n"
               "tenterbook sheet --from 2026-01 --to 2026-12 --out year.xlsx\n"
               "tenterbook sheet --month 2026-03 --as-of 2026-04-02",
    .opts = opts,
    .max = 0,
    .flags = TB_BOOK,
    .run = sheet,
};
