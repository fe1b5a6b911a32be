/* record: how a supplier's lots turned out, and what that asks for. */
#include "cli/sampling/record.h"
#include "cli/sampling/draw.h"
#include "cli/show.h"
#include "tenterbook/sheet.h"

#include <stdlib.h>
#include <string.h>

static tb_rc read_numbers(struct record *r, const struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    r->conf = 0.95;
    r->run = 200;
    if ((rc = tb_opt_number(&r->conf, ctx, "confidence", 0, 1, err)) != TB_OK)
        return rc;
    if (r->conf <= 0 || r->conf >= 1)
        return tb_fail(err, TB_EINVAL, "--confidence is %g; it lies above 0 and below 1", r->conf);
    if ((rc = tb_opt_number(&r->usual, ctx, "usual", 0.0001, 0.9, err)) != TB_OK)
        return rc;
    return tb_opt_number(&r->run, ctx, "run", 2, 1000000, err);
}

/* --- without a book: so many wrong of so many --- */

static tb_rc from_counts(struct tb_ctx *ctx, struct tb_err *err)
{
    struct record r = { 0 };
    tb_rc rc = read_numbers(&r, ctx, err);

    if (rc == TB_OK)
        rc = tb_opt_whole(&r.own.lots, ctx, "lots", 0, 100000000, err);
    if (rc == TB_OK)
        rc = tb_opt_whole(&r.own.wrong, ctx, "wrong", 0, r.own.lots, err);
    r.lots = r.own.lots;
    if (rc == TB_OK)
        rc = tb_record_published(&r.prior, err);
    if (rc == TB_OK)
        rc = record_work_out(&r, err);
    if (rc != TB_OK)
        return rc;
    return ctx->json ? record_json(ctx, &r, err) : record_say(ctx, &r, err);
}

/* --- without a book: a table of suppliers --- */

struct table {
    struct tb_tally *tally;
    char **name;
    size_t n, cap;
};

static void table_free(struct table *t)
{
    for (size_t i = 0; i < t->n; i++)
        free(t->name[i]);
    free(t->name);
    free(t->tally);
}

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct table *t = arg;
    struct tb_tally y;
    char *end[2];

    if (row->line == 1)
        return row->n >= 3 && strcmp(row->cell[0].text, "supplier") == 0
                   ? TB_OK
                   : tb_fail(err, TB_EINVAL, "line 1: the columns are supplier,lots,wrong");
    if (row->n < 3)
        return tb_fail(err, TB_EINVAL, "line %zu: supplier, lots and wrong are wanted", row->line);
    y.lots = strtol(row->cell[1].text, &end[0], 10);
    y.wrong = strtol(row->cell[2].text, &end[1], 10);
    if (!*row->cell[1].text || !*row->cell[2].text || *end[0] || *end[1] || y.lots < 0 || y.wrong < 0 ||
        y.wrong > y.lots || y.lots > 1000000)
        return tb_fail(err, TB_EINVAL, "line %zu: '%s' wrong of '%s' lots is no record", row->line,
                       row->cell[2].text, row->cell[1].text);
    if (t->n == t->cap) {
        t->cap = t->cap ? 2 * t->cap : 16;
        t->tally = tb_realloc(t->tally, t->cap, sizeof *t->tally);
        t->name = tb_realloc(t->name, t->cap, sizeof *t->name);
    }
    t->tally[t->n] = y;
    t->name[t->n++] = tb_strdup(row->cell[0].text);
    return TB_OK;
}

/* Every supplier of a table with the share that borrowed strength gives it. */
static tb_rc table_json(struct tb_ctx *ctx, const struct table *t, const struct tb_posterior *p,
                        const struct tb_beta *prior, bool own, struct tb_err *err)
{
    json_t *list = json_array();

    for (size_t i = 0; i < t->n; i++)
        (void)json_array_append_new(
            list, json_pack("{s:o, s:I, s:I, s:f, s:f, s:f}", "supplier", tb_json_text(t->name[i]), "judged",
                            (json_int_t)t->tally[i].lots, "wrong", (json_int_t)t->tally[i].wrong, "mean",
                            p[i].mean, "lo", p[i].lo, "hi", p[i].hi));
    return tb_print_json(ctx,
                         json_pack("{s:{s:f, s:f, s:s}, s:o}", "prior", "a", prior->a, "b", prior->b, "from",
                                   own ? "site" : "published", "suppliers", list),
                         err);
}

static void table_words(struct tb_ctx *ctx, const struct table *t, const struct tb_posterior *p, bool own)
{
    const char *const head[] = { _("SUPPLIER"), _("JUDGED"), _("WRONG"), _("SHARE"), _("BETWEEN") };
    struct tb_table out;

    (void)fputs(
        own ? _("Strength is borrowed across these suppliers.\n")
            : _("Too few suppliers and judged lots for a record of their own: published rates of market "
                "samples stand in, an upper guide.\n"),
        ctx->out);
    tb_table_begin(&out, TB_COUNT(head));
    for (size_t i = 0; i < TB_COUNT(head); i++)
        tb_table_cell(&out, "%s", head[i]);
    for (size_t i = 0; i < t->n; i++) {
        char mean[32], lo[32], hi[32];

        tb_table_cell(&out, "%s", t->name[i]);
        tb_table_cell(&out, "%ld", t->tally[i].lots);
        tb_table_cell(&out, "%ld", t->tally[i].wrong);
        tb_table_cell(&out, "%s", draw_percent(mean, p[i].mean));
        tb_table_cell(&out, _("%s and %s"), draw_percent(lo, p[i].lo), draw_percent(hi, p[i].hi));
    }
    tb_table_print(&out, ctx->out, "lrrrl", 40);
}

static tb_rc say_table(struct tb_ctx *ctx, const struct table *t, const struct tb_beta *prior, bool own,
                       double conf, struct tb_err *err)
{
    struct tb_posterior *p = tb_array(struct tb_posterior, t->n + 1);
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < t->n && rc == TB_OK; i++)
        rc = tb_record_posterior(&p[i], prior, &t->tally[i], conf, err);
    if (rc == TB_OK && ctx->json)
        rc = table_json(ctx, t, p, prior, own, err);
    else if (rc == TB_OK)
        table_words(ctx, t, p, own);
    free(p);
    return rc;
}

static tb_rc say_all(struct tb_ctx *ctx, const struct table *t, struct tb_err *err)
{
    struct record r = { 0 };
    struct tb_beta prior;
    bool own = false;
    tb_rc rc = read_numbers(&r, ctx, err);

    if (rc == TB_OK)
        rc = tb_record_prior(&prior, &own, t->tally, t->n, err);
    return rc == TB_OK ? say_table(ctx, t, &prior, own, r.conf, err) : rc;
}

static tb_rc from_file(struct tb_ctx *ctx, struct tb_err *err)
{
    struct table t = { 0 };
    const struct tb_sheet_sink sink = { .row = take_row, .arg = &t };
    const char *path = tb_opt(ctx, "from");
    tb_rc rc = tb_sheet_read(path, &sink, err);

    if (rc != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    else
        rc = say_all(ctx, &t, err);
    table_free(&t);
    return rc;
}

/* --- on the book --- */

static tb_rc all_suppliers(struct table *t, struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier_tally *s = NULL;
    size_t n = 0;
    tb_rc rc = tb_supplier_tallies(&s, &n, ctx->book, mem, err);

    t->tally = tb_array(struct tb_tally, n + 1);
    t->name = (char **)tb_alloc(n + 1, sizeof *t->name);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        t->tally[i] = (struct tb_tally){ (long)(s[i].right_lots + s[i].wrong_lots), (long)s[i].wrong_lots };
        t->name[i] = tb_strdup(s[i].name);
        t->n++;
    }
    return rc;
}

static tb_rc one_supplier(struct tb_ctx *ctx, const struct table *t, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier s;
    struct tb_lot_result *lot = NULL;
    struct record r = { 0 };
    size_t n = 0;
    tb_rc rc = tb_supplier_find(&s, ctx->book, ctx->argv[0], mem, err);

    if (rc == TB_OK)
        rc = read_numbers(&r, ctx, err);
    if (rc == TB_OK)
        rc = tb_supplier_lots(&lot, &n, ctx->book, s.id, mem, err);
    if (rc == TB_OK)
        rc = record_resumed(&r.resumed, ctx->book, s.id, mem, err);
    if (rc == TB_OK)
        rc = tb_record_prior(&r.prior, &r.prior_own, t->tally, t->n, err);
    if (rc != TB_OK)
        return rc;
    r.supplier = s.name;
    r.lots = (long)n;
    r.judged = tb_arena_alloc(mem, (n + 1) * sizeof(const struct tb_lot_result *));
    for (size_t i = 0; i < n; i++)
        if (lot[i].outcome != TB_OUTCOME_OPEN) {
            r.judged[r.n++] = &lot[i];
            r.own.lots++;
            r.own.wrong += lot[i].outcome == TB_OUTCOME_WRONG;
        }
    if ((rc = record_work_out(&r, err)) != TB_OK)
        return rc;
    return ctx->json ? record_json(ctx, &r, err) : record_say(ctx, &r, err);
}

/* Only a stop can be ended, and a resumption is known by its day: a second one on that day could not be told apart. */
static tb_rc may_resume(struct tb_ctx *ctx, const struct tb_supplier *s, const char *today,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_switching state;
    const char *last = "";
    tb_rc rc = record_standing(&state, ctx->book, s->id, mem, err);

    if (rc == TB_OK)
        rc = record_resumed(&last, ctx->book, s->id, mem, err);
    if (rc == TB_OK && !state.stopped)
        return tb_fail(err, TB_EREFUSED, "%s is not stopped: there is nothing to resume", s->name);
    if (rc == TB_OK && strcmp(last, today) == 0)
        return tb_fail(err, TB_EREFUSED,
                       "%s was let in again today and stopped once more; it can be let in again tomorrow",
                       s->name);
    return rc;
}

/* The cause was put right: the supplier's next lots come under tightened inspection. */
static tb_rc resume(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *why = tb_opt(ctx, "why");
    char day[TB_DAY_LEN + 1];
    struct tb_arena mem = { 0 };
    struct tb_text name = { 0 }, value = { 0 };
    struct tb_supplier s;
    tb_rc rc = tb_ctx_book(ctx, err);

    tb_today(day);
    if (ctx->argc == 0 || !why || !*why)
        return tb_misuse(err, "--resume needs a supplier and --why with what was put right");
    if (rc == TB_OK && (rc = tb_supplier_find(&s, ctx->book, ctx->argv[0], &mem, err)) == TB_OK &&
        (rc = may_resume(ctx, &s, day, &mem, err)) == TB_OK &&
        (rc = tb_ctx_begin(ctx, "record", err)) == TB_OK) {
        tb_text_addf(&name, "resumed:%s", s.id);
        tb_text_addf(&value, "%s %s", day, why);
        tb_book_subject(ctx->book, s.name);
        if ((rc = tb_setting_set(ctx->book, name.s, value.s, err)) == TB_OK)
            rc = tb_book_commit(ctx->book, err);
        else
            tb_book_rollback(ctx->book);
    }
    if (rc == TB_OK)
        (void)fprintf(ctx->out, _("%s: lots from %s on come under tightened inspection again.\n"), s.name,
                      day);
    tb_text_free(&name);
    tb_text_free(&value);
    tb_arena_free(&mem);
    return rc;
}

static tb_rc on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct table t = { 0 };
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK)
        rc = all_suppliers(&t, ctx, &mem, err);
    if (rc == TB_OK)
        rc = ctx->argc > 0 ? one_supplier(ctx, &t, &mem, err) : say_all(ctx, &t, err);
    table_free(&t);
    tb_arena_free(&mem);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    bool counts = tb_opt_on(ctx, "lots") || tb_opt_on(ctx, "wrong"), file = tb_opt_on(ctx, "from");

    if (tb_opt_on(ctx, "resume"))
        return resume(ctx, err);
    if ((ctx->argc > 0) + counts + file > 1)
        return tb_misuse(err, "give a supplier, or --lots and --wrong, or --from");
    if (counts && !(tb_opt_on(ctx, "lots") && tb_opt_on(ctx, "wrong")))
        return tb_misuse(err, "--lots and --wrong go together");
    return counts ? from_counts(ctx, err) : file ? from_file(ctx, err) : on_book(ctx, err);
}

static const struct tb_opt opts[] = {
    { "lots", "N", "without a book: N lots were judged", false },
    { "wrong", "K", "without a book: K of them were not as declared", false },
    { "from", "FILE", "without a book: a table supplier,lots,wrong (CSV or XLSX)", false },
    { "confidence", "P", "of the intervals (default 0.95)", false },
    { "usual", "P", "share of wrong lots to call usual (default: what is usual across suppliers)", false },
    { "resume", NULL, "the cause of a stop was put right: tightened inspection from today", false },
    { "why", "TEXT", "with --resume: what was put right", false },
    { "run", "LOTS", "one false alarm of a change in this many lots or more (default 200)", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_record = {
    .name = "record",
    .args = "[SUPPLIER]",
    .brief = "how a supplier's lots turned out, and what that asks for",
    .about =
        "A lot counts as wrong when it was returned or relabelled, or when the burns contradict its words "
        "and "
        "nobody released it; as right when it was released, or when burning found nothing against it.\n\n"
        "Suppliers with few lots borrow strength from the others. Changes are flagged with their date; the "
        "next "
        "delivery is advised on by the switching rules of ISO 2859-1.\n\n"
        "The record stands beside the evidence of a burn and is never mixed into it.",
    .example = "tenterbook record\ntenterbook record \"Harrow Mill\"\ntenterbook record --lots 20 --wrong 3",
    .opts = opts,
    .max = 1,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
