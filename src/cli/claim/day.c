/* day: which lots first, in the hours there are at the bench. */
#include "cli/show.h"

static void print_table(FILE *out, const struct tb_bench_day *d)
{
    const char *const head[] = { _("LOT"),    _("SUPPLIER"), _("VALUE"), _("FALSE"),
                                 _("CAUGHT"), _("MINUTES"),  _("WORTH") };
    struct tb_table t;

    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < d->n; i++) {
        const struct tb_bench_pick *k = &d->pick[i];
        char p[TB_PERCENT], q[TB_PERCENT];

        tb_table_texts(&t, k->lot, k->supplier);
        tb_table_cell(&t, k->derived ? "(%.2f)" : "%.2f", k->task.value);
        tb_table_texts(&t, tb_percent(p, k->task.chance), tb_percent(q, k->task.catch_));
        tb_table_cell(&t, "%.0f", k->task.minutes);
        tb_table_cell(&t, "%.2f", k->gain);
    }
    tb_table_print(&t, out, "llrrrrr", 30);
    for (size_t i = 0; i < d->n; i++)
        if (d->pick[i].derived) {
            tb_say(out,
                   "Values in brackets rest on lengths computed from kilograms, width and mass per area.\n");
            break;
        }
}

/* What a draw refuses to promise is not to be looked for in vain. */
static void say_every(struct tb_text *t, const struct tb_bench_day *d)
{
    struct tb_text lots = { 0 };

    for (size_t i = 0; i < d->n; i++)
        if (d->pick[i].every)
            tb_part(&lots, "%s", d->pick[i].lot);
    if (lots.n)
        tb_text_say(t,
                    "Every bolt is planned of %s: even all of them do not show one false bolt as surely as "
                    "was asked. tenterbook draw LOT --every draws them; a bench test or a laboratory may "
                    "show more.\n",
                    tb_text_str(&lots));
    tb_text_free(&lots);
}

static void print_plan(struct tb_ctx *ctx, const struct tb_bench_day *d)
{
    struct tb_text t = { 0 };

    tb_bench_day_words(&t, d, tb_opt_on(ctx, "currency"));
    tb_print_words(ctx, &t);
    if (d->n)
        print_table(ctx->out, d);
    say_every(&t, d);
    tb_print_words(ctx, &t);
}

/* The table says these itself, lot by lot. */
static tb_rc no_book_options(const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *name = tb_opt_among(ctx, "minutes sure catch currency by-metres");

    return name ? tb_misuse(err, "--%s is for the lots of a book; a table says it lot by lot", name) : TB_OK;
}

static tb_rc read_request(struct tb_bench_day_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    r->table = tb_opt(ctx, "from");
    r->currency = tb_opt(ctx, "currency");
    r->metres = tb_opt_on(ctx, "by-metres");
    if (r->currency && r->metres)
        return tb_misuse(err, "--by-metres weighs lots of every money; it does not go with --currency");
    if (!tb_opt_on(ctx, "hours"))
        return tb_misuse(err, "say how many hours there are at the bench with --hours");
    r->hours = tb_opt_number(ctx, "hours", 0, 0, 24);
    r->burn_minutes = tb_opt_number(ctx, "minutes", r->burn_minutes, 0, 1440);
    if (ctx->rc == TB_OK && r->table)
        return no_book_options(ctx, err);
    r->want.sure = tb_opt_chance(ctx, "sure", r->want.sure, false);
    r->want.catch_one = tb_opt_chance(ctx, "catch", r->want.catch_one, true);
    return ctx->rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_bench_day_request request = { .burn_minutes = TB_BURN_MINUTES };
    struct tb_bench_day day;
    struct tb_outdated outdated = { .n = 0 };
    struct tb_text how = { 0 };
    tb_rc rc = read_request(&request, ctx, err);

    if (rc == TB_OK && !request.table)
        rc = tb_ctx_book(ctx, err);
    if (rc != TB_OK || (rc = tb_bench_day_plan(&day, ctx->book, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    if (!request.table && (rc = tb_outdated_read(&outdated, ctx->book, NULL, &ctx->mem, err)) != TB_OK)
        return rc;
    if (ctx->json) {
        json_t *j = tb_json_day(&day);

        tb_json_put(j, "judge_again", tb_json_outdated(&outdated));
        return tb_print_json(ctx, j, err);
    }
    if (!request.metres || day.others)
        tb_bench_day_how_words(&how, &day);
    tb_print_words(ctx, &how);
    print_plan(ctx, &day);
    for (size_t i = 0; i < day.others; i++)
        print_plan(ctx, &day.other[i]);
    tb_outdated_words(&how, &outdated);
    tb_print_words(ctx, &how);
    return TB_OK;
}

static const struct tb_opt opts[] = {
    { "hours", "H", "hours at the bench", false },
    { "minutes", "M", "minutes a burn takes, writing it down included (default 6)", false },
    { "sure", "P", "chance to see one false bolt of a lot (default 0.95)", false },
    { "catch", "P", "chance that burning a false bolt shows it (default: by what was declared of each lot)",
      false },
    { "currency", "CODE", "only lots priced in this money", false },
    { "by-metres", NULL, "weigh every lot by its metres, whatever it is priced in", false },
    { "from", "FILE", "without a book: a table lot,value,chance,catch,minutes (CSV or XLSX)", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_day = {
    .name = "day",
    .args = "--hours H",
    .brief = "which lots to burn first in the hours there are",
    .about =
        "Lists the waiting lots that are worth most a minute: the value at stake, times the chance that "
        "the lot is false (the supplier's record), times the chance that the burns show it, as a draw from "
        "the bolts that are there to be "
        "drawn has it. What fits "
        "into the time is taken in that order; it is never worth less than half of what the best choice "
        "would be, and the list says how near it is.\n\n"
        "Lots in several moneys are compared by the rates that are set (money, rate:USD ...). Without rates "
        "each money has a plan of its own, and so have lots without a price, by their metres, or by their "
        "kilograms where only those are known. A "
        "lot of which a laboratory has a sample waits for its report and is left out.",
    .example = "tenterbook day --hours 3 --minutes 5\ntenterbook day --hours 3 --from lots.csv",
    .opts = opts,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
