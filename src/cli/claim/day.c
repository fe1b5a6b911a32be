/* day: which lots first, in the hours there are at the bench. */
#include "cli/show.h"
#include "tenterbook/draws.h"
#include "tenterbook/plan.h"
#include "tenterbook/sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

struct job {
    char *lot, *say; /* say: what it is, for the list; may be "" */
    long burns;      /* 0: not known */
};

struct jobs {
    struct tb_task *task;
    struct job *job;
    size_t n, cap;
    char currency[8];
};

static void jobs_free(struct jobs *j)
{
    for (size_t i = 0; i < j->n; i++) {
        free(j->job[i].lot);
        free(j->job[i].say);
    }
    free(j->job);
    free(j->task);
}

static void add(struct jobs *j, const char *lot, const char *say, long burns, const struct tb_task *task)
{
    if (j->n == j->cap) {
        j->cap = j->cap ? 2 * j->cap : 16;
        j->task = tb_realloc(j->task, j->cap, sizeof *j->task);
        j->job = tb_realloc(j->job, j->cap, sizeof *j->job);
    }
    j->task[j->n] = *task;
    j->job[j->n++] = (struct job){ tb_strdup(lot), tb_strdup(say), burns };
}

/* --- from a table --- */

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    static const char *const names[] = { "value", "chance", "catch", "minutes" };
    double v[4];

    if (row->line == 1)
        return row->n >= 5 && strcmp(row->cell[0].text, "lot") == 0
                   ? TB_OK
                   : tb_fail(err, TB_EINVAL, "line 1: the columns are lot,value,chance,catch,minutes");
    if (row->n < 5)
        return tb_fail(err, TB_EINVAL, "line %zu: lot, value, chance, catch and minutes are wanted",
                       row->line);
    for (size_t i = 0; i < 4; i++) {
        char *end;

        v[i] = strtod(row->cell[i + 1].text, &end);
        if (!*row->cell[i + 1].text || *end || !isfinite(v[i]) || v[i] < 0 || (i == 3 && v[i] == 0) ||
            ((i == 1 || i == 2) && v[i] > 1))
            return tb_fail(err, TB_EINVAL, "line %zu: '%s' is no %s", row->line, row->cell[i + 1].text,
                           names[i]);
    }
    add(arg, row->cell[0].text, "", 0, &(struct tb_task){ v[0], v[1], v[2], v[3] });
    return TB_OK;
}

/* --- from the book: lots that wait --- */

struct waiting {
    struct jobs *jobs;
    const struct tb_supplier_tally *tally;
    size_t tallies;
    struct tb_beta prior;
    double minutes; /* a burn */
    size_t unpriced;
    struct tb_plan_wish want;
    const struct tb_ctx *ctx;
};

static double chance_false(const struct waiting *w, const char *supplier)
{
    struct tb_err err = { 0 };

    for (size_t i = 0; i < w->tallies; i++) {
        const struct tb_supplier_tally *t = &w->tally[i];
        struct tb_tally own = { (long)(t->right_lots + t->wrong_lots), (long)t->wrong_lots };
        struct tb_posterior p;

        if (strcmp(t->supplier, supplier) == 0 &&
            tb_record_posterior(&p, &w->prior, &own, 0.95, &err) == TB_OK)
            return p.mean;
    }
    return w->prior.a / (w->prior.a + w->prior.b);
}

static long parts_of(const struct tb_lot *lot)
{
    struct tb_declaration d;
    long n;

    tb_declaration_read(&d, lot->declared, strlen(lot->declared));
    n = d.comp.n ? (long)d.comp.n : 1;
    tb_declaration_free(&d);
    return n;
}

static tb_rc one_lot(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct waiting *w = arg;
    struct tb_plan p = { .want = w->want, .bolts = (long)lot->bolts };
    struct tb_task t;
    long burns;
    tb_rc rc;

    if (lot->burns > 0 || lot->bolts < 1)
        return TB_OK;
    if (isnan(lot->unit_price)) {
        w->unpriced++;
        return TB_OK;
    }
    if (*w->jobs->currency && strcmp(w->jobs->currency, lot->currency) != 0)
        return tb_fail(
            err, TB_EINVAL,
            "lot %s is priced in %s and others in %s; values in different money cannot be compared, name "
            "one with --currency",
            lot->ref, lot->currency, w->jobs->currency);
    (void)snprintf(w->jobs->currency, sizeof w->jobs->currency, "%s", lot->currency);
    if ((rc = tb_plan_work_out(&p, err)) != TB_OK)
        return rc;
    burns = (p.cut < 0 ? p.bolts : p.cut) * parts_of(lot);
    t = (struct tb_task){ lot->unit_price * lot->metres, chance_false(w, lot->supplier), p.chance,
                          (double)burns * w->minutes };
    add(w->jobs, lot->ref, lot->supplier_name, burns, &t);
    return TB_OK;
}

static tb_rc one_currency(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct waiting *w = arg;
    const char *only = tb_opt(w->ctx, "currency");

    /* a lot without a price has no money either: it is told as left out */
    return only && !isnan(lot->unit_price) && strcasecmp(only, lot->currency) != 0 ? TB_OK
                                                                                   : one_lot(arg, lot, err);
}

static tb_rc from_book(struct jobs *j, struct tb_ctx *ctx, double minutes, struct tb_err *err)
{
    const struct tb_lot_filter f = { .standing = TB_WAITING };
    struct waiting w = { .jobs = j, .minutes = minutes, .ctx = ctx };
    struct tb_supplier_tally *tally = NULL;
    struct tb_tally *own;
    struct tb_arena mem = { 0 };
    bool site;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK)
        rc = tb_opt_chance(&w.want.sure, ctx, "sure", false, err);
    if (rc == TB_OK)
        rc = tb_opt_chance(&w.want.catch_one, ctx, "catch", true, err);
    if (rc == TB_OK)
        rc = tb_supplier_tallies(&tally, &w.tallies, ctx->book, &mem, err);
    w.tally = tally;
    own = tb_array(struct tb_tally, w.tallies + 1);
    for (size_t i = 0; i < w.tallies && rc == TB_OK; i++)
        own[i] =
            (struct tb_tally){ (long)(tally[i].right_lots + tally[i].wrong_lots), (long)tally[i].wrong_lots };
    if (rc == TB_OK)
        rc = tb_record_prior(&w.prior, &site, own, w.tallies, err);
    if (rc == TB_OK)
        rc = tb_lot_each(ctx->book, &f, one_currency, &w, err);
    if (rc == TB_OK && w.unpriced && !ctx->json)
        (void)fprintf(ctx->out,
                      _n("%zu lot without a price is left out: its value at stake is not known.\n",
                         "%zu lots without a price are left out: their value at stake is not known.\n",
                         w.unpriced),
                      w.unpriced);
    free(own);
    tb_arena_free(&mem);
    return rc;
}

/* --- what to do --- */

static tb_rc print_json(struct tb_ctx *ctx, const struct jobs *j, const struct tb_day *d, double minutes,
                        struct tb_err *err)
{
    json_t *list = json_array();

    for (size_t i = 0; i < d->n; i++) {
        const struct tb_task *t = &j->task[d->order[i]];

        (void)json_array_append_new(list, json_pack("{s:o, s:f, s:f, s:f, s:f, s:f}", "lot",
                                                    tb_json_text(j->job[d->order[i]].lot), "value", t->value,
                                                    "chance", t->chance, "catch", t->catch_, "minutes",
                                                    t->minutes, "gain", t->value * t->chance * t->catch_));
    }
    return tb_print_json(ctx,
                         json_pack("{s:f, s:f, s:f, s:f, s:s, s:o}", "minutes", minutes, "used", d->minutes,
                                   "gain", d->gain, "most", d->most, "currency", j->currency, "lots", list),
                         err);
}

static void print_words(struct tb_ctx *ctx, const struct jobs *j, const struct tb_day *d, double minutes)
{
    struct tb_table t;

    if (d->n == 0) {
        (void)fputs(j->n                         ? _("No lot fits into the time.\n")
                    : tb_opt_on(ctx, "currency") ? _("No lot priced in that money is waiting for a burn.\n")
                                                 : _("No lot is waiting for a burn.\n"),
                    ctx->out);
        return;
    }
    (void)fprintf(
        ctx->out,
        _n("In %.0f minutes: %zu of %zu lot, %.0f minutes, worth %.2f%s%s of false cloth caught on "
           "average (no choice of lots could be worth more than %.2f).\n",
           "In %.0f minutes: %zu of %zu lots, %.0f minutes, worth %.2f%s%s of false cloth caught on "
           "average (no choice of lots could be worth more than %.2f).\n",
           j->n),
        minutes, d->n, j->n, d->minutes, d->gain, *j->currency ? " " : "", j->currency, d->most);
    tb_table_begin(&t, 7);
    for (size_t i = 0; i < 7; i++) {
        const char *const head[] = { _("LOT"),    _("SUPPLIER"), _("VALUE"), _("FALSE"),
                                     _("CAUGHT"), _("MINUTES"),  _("WORTH") };

        tb_table_cell(&t, "%s", head[i]);
    }
    for (size_t i = 0; i < d->n; i++) {
        const struct tb_task *k = &j->task[d->order[i]];
        char p[32], q[32];

        tb_table_cell(&t, "%s", j->job[d->order[i]].lot);
        tb_table_cell(&t, "%s", j->job[d->order[i]].say);
        tb_table_cell(&t, "%.2f", k->value);
        tb_table_cell(&t, "%s", tb_percent(p, k->chance));
        tb_table_cell(&t, "%s", tb_percent(q, k->catch_));
        tb_table_cell(&t, "%.0f", k->minutes);
        tb_table_cell(&t, "%.2f", k->value * k->chance * k->catch_);
    }
    tb_table_print(&t, ctx->out, "llrrrrr", 30);
}

static tb_rc read_time(double *minutes, double *each, struct tb_ctx *ctx, struct tb_err *err)
{
    double hours = 0;
    tb_rc rc;

    *each = 6; /* with the card written and the candle tended; stated in docs/sampling.md */
    if (!tb_opt_on(ctx, "hours"))
        return tb_misuse(err, "say how many hours there are at the bench with --hours");
    if ((rc = tb_opt_number(&hours, ctx, "hours", 0, 24, err)) != TB_OK ||
        (rc = tb_opt_number(each, ctx, "minutes", 0, 1440, err)) != TB_OK)
        return rc;
    *minutes = 60 * hours;
    if (*each <= 0)
        return tb_fail(err, TB_EINVAL, "a burn of %g minutes is not possible", *each);
    return *minutes > 0 ? TB_OK : tb_fail(err, TB_EINVAL, "no hours at the bench leave nothing to plan");
}

/* The table says these itself, lot by lot. */
static tb_rc no_book_options(const struct tb_ctx *ctx, struct tb_err *err)
{
    static const char *const names[] = { "minutes", "sure", "catch", "currency" };

    for (size_t i = 0; i < TB_COUNT(names); i++)
        if (tb_opt_on(ctx, names[i]))
            return tb_misuse(err, "--%s is for the lots of a book; a table says it lot by lot", names[i]);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *path = tb_opt(ctx, "from");
    struct jobs j = { 0 };
    const struct tb_sheet_sink sink = { .row = take_row, .arg = &j };
    struct tb_day d = { 0 };
    double minutes = 0, each = 0;
    tb_rc rc = read_time(&minutes, &each, ctx, err);

    if (rc == TB_OK && path)
        rc = no_book_options(ctx, err);
    if (rc == TB_OK && path && (rc = tb_sheet_read(path, &sink, err)) != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    else if (rc == TB_OK && !path)
        rc = from_book(&j, ctx, each, err);
    if (rc == TB_OK)
        rc = tb_day_plan(&d, j.task, j.n, minutes, err);
    if (rc == TB_OK && ctx->json)
        rc = print_json(ctx, &j, &d, minutes, err);
    else if (rc == TB_OK)
        print_words(ctx, &j, &d, minutes);
    tb_day_free(&d);
    jobs_free(&j);
    return rc;
}

static const struct tb_opt opts[] = {
    { "hours", "H", "hours at the bench", false },
    { "minutes", "M", "minutes a burn takes, writing it down included (default 6)", false },
    { "sure", "P", "chance to see one false bolt of a lot (default 0.95)", false },
    { "catch", "P", "chance that burning a false bolt shows it (default 0.8)", false },
    { "currency", "CODE", "only lots priced in this money", false },
    { "from", "FILE", "without a book: a table lot,value,chance,catch,minutes (CSV or XLSX)", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_day = {
    .name = "day",
    .args = "--hours H",
    .brief = "which lots to burn first in the hours there are",
    .about = "Lists the waiting lots that are worth most a minute: the value at stake, times the chance that "
             "the lot "
             "is false (the supplier's record), times the chance that the burns show it. What fits into the "
             "time is "
             "taken in that order; it is never worth less than half of what the best choice would be, and "
             "the list "
             "says how near it is.",
    .example = "tenterbook day --hours 3 --minutes 5\ntenterbook day --hours 3 --from lots.csv",
    .opts = opts,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
