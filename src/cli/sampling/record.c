/* record: how a supplier's lots turned out, and what that asks for. */
#include "cli/show.h"

#include <stdlib.h>

static tb_rc read_numbers(struct tb_supplier_record_request *r, struct tb_ctx *ctx)
{
    r->conf = tb_opt_chance(ctx, "confidence", 0, false);
    r->usual = tb_opt_number(ctx, "usual", 0, 0.0001, 0.9);
    r->run = tb_opt_number(ctx, "run", 0, 2, 1000000);
    return ctx->rc;
}

/* Too few lots in a month can never be an alarm, and the row says so. */
static void month_row(struct tb_table *t, const struct tb_record_month *m)
{
    tb_table_texts(t, m->month);
    tb_table_cell(t, "%ld", m->lots);
    tb_table_cell(t, "%ld", m->wrong);
    if (m->high <= m->lots)
        tb_table_cell(t, "%ld", m->high);
    else
        tb_table_texts(t, _("too few lots"));
    tb_table_texts(t, m->wrong >= m->high  ? _("more than chance explains")
                      : m->wrong <= m->low ? _("fewer than chance explains")
                                           : "");
}

static tb_rc say_months(FILE *out, const struct tb_record *r, struct tb_err *err)
{
    const char *const head[] = { _("MONTH"), _("JUDGED"), _("NOT AS DECLARED"), _("ALARM AT"), "" };
    struct tb_record_month *m = tb_array(struct tb_record_month, r->n + 1);
    struct tb_table t;
    size_t n = 0;
    tb_rc rc = tb_record_months(m, &n, r, err);

    if (rc == TB_OK && n > 0) {
        tb_table_head(&t, head, TB_COUNT(head));
        for (size_t i = 0; i < n; i++)
            month_row(&t, &m[i]);
        (void)fputc('\n', out);
        tb_table_print(&t, out, "lrrrl", 40);
    }
    free(m);
    return rc;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_supplier_record *s, struct tb_err *err)
{
    struct tb_text t = { 0 };
    json_t *j;
    tb_rc rc = TB_OK;

    if (ctx->json)
        return (rc = tb_json_supplier_record(&j, s, err)) == TB_OK ? tb_print_json(ctx, j, err) : rc;
    tb_supplier_record_words(&t, s);
    tb_print_words(ctx, &t);
    return s->supplier.name ? say_months(ctx->out, &s->record, err) : TB_OK;
}

/* Without a book: so many wrong of so many. */
static tb_rc from_counts(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_supplier_record_request r = { 0 };
    struct tb_supplier_record s = { 0 };
    struct tb_tally *own = &s.record.own;
    tb_rc rc;

    own->lots = tb_opt_whole(ctx, "lots", 0, 0, 100000000);
    own->wrong = tb_opt_whole(ctx, "wrong", 0, 0, own->lots);
    if ((rc = read_numbers(&r, ctx)) != TB_OK)
        return rc;
    s.record.prior = tb_record_published();
    s.lots = own->lots;
    s.record.conf = r.conf;
    s.record.usual = r.usual;
    s.record.run = r.run;
    rc = tb_record_work_out(&s.record, err);
    return rc == TB_OK ? print(ctx, &s, err) : rc;
}

static void say_all(FILE *out, const struct tb_tallies *t, const struct tb_posterior *p,
                    const struct tb_belief *belief)
{
    const char *const head[] = { _("SUPPLIER"), _("JUDGED"), _("WRONG"), _("SHARE"), _("BETWEEN") };
    struct tb_table table;

    if (belief->own)
        tb_say(
            out,
            "Strength is borrowed across these suppliers. How alike they are is known only so far that what "
            "is usual among them counts like %.0f to %.0f lots of each (95 %%); the intervals allow for "
            "that.\n",
            belief->lightest, belief->heaviest);
    else
        tb_say(out, "Too few suppliers and judged lots for a record of their own: published rates of "
                    "market samples take its place, an upper guide.\n");
    tb_table_head(&table, head, TB_COUNT(head));
    for (size_t i = 0; i < t->n; i++) {
        char mean[TB_PERCENT], lo[TB_PERCENT], hi[TB_PERCENT];

        tb_table_texts(&table, t->name[i]);
        tb_table_cell(&table, "%ld", t->tally[i].lots);
        tb_table_cell(&table, "%ld", t->tally[i].wrong);
        tb_table_texts(&table, tb_percent(mean, p[i].mean));
        tb_table_cell(&table, _("%s and %s"), tb_percent(lo, p[i].lo), tb_percent(hi, p[i].hi));
    }
    tb_table_print(&table, out, "lrrrl", 40);
}

/* Every supplier with the share that borrowed strength gives it. */
static tb_rc print_all(struct tb_ctx *ctx, const struct tb_tallies *t, double conf, struct tb_err *err)
{
    struct tb_posterior *p = tb_array(struct tb_posterior, t->n + 1);
    struct tb_belief belief;
    tb_rc rc = tb_record_all(p, &belief, t->tally, t->n, conf, &ctx->mem, err);

    if (rc == TB_OK && ctx->json)
        rc = tb_print_json(ctx, tb_json_suppliers(t, p, &belief), err);
    else if (rc == TB_OK)
        say_all(ctx->out, t, p, &belief);
    free(p);
    return rc;
}

/* A table of suppliers, or all those of the book. */
static tb_rc all(struct tb_ctx *ctx, const char *path, struct tb_err *err)
{
    struct tb_supplier_record_request r = { 0 };
    struct tb_tallies t;
    tb_rc rc =
        path ? tb_tallies_from(&t, path, &ctx->mem, err) : tb_tallies_read(&t, ctx->book, &ctx->mem, err);

    if (rc == TB_OK)
        rc = read_numbers(&r, ctx);
    return rc == TB_OK ? print_all(ctx, &t, r.conf, err) : rc;
}

static tb_rc one(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_supplier_record_request r = { .supplier = ctx->argv[0] };
    struct tb_supplier_record s;
    tb_rc rc = read_numbers(&r, ctx);

    if (rc == TB_OK)
        rc = tb_supplier_record_read(&s, ctx->book, &r, &ctx->mem, err);
    return rc == TB_OK ? print(ctx, &s, err) : rc;
}

/* The cause was put right: the supplier's next lots come under tightened inspection. */
static tb_rc resume(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_resume_request r = { ctx->argc ? ctx->argv[0] : NULL, tb_opt(ctx, "why") };
    struct tb_resume_outcome out;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (!r.supplier || !r.why || !*r.why)
        return tb_misuse(err, "--resume needs a supplier and --why with what was put right");
    if (rc != TB_OK || (rc = tb_act_resume(&out, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_say(ctx->out, "%s: lots from %s on come under tightened inspection again.\n", out.supplier.name,
           out.day);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *path = tb_opt(ctx, "from");
    bool counts = tb_opt_on(ctx, "lots") || tb_opt_on(ctx, "wrong");
    tb_rc rc = TB_OK;

    if (tb_opt_on(ctx, "resume"))
        return resume(ctx, err);
    if ((ctx->argc > 0) + counts + (path != NULL) > 1)
        return tb_misuse(err, "give a supplier, or --lots and --wrong, or --from");
    if (counts && !(tb_opt_on(ctx, "lots") && tb_opt_on(ctx, "wrong")))
        return tb_misuse(err, "--lots and --wrong go together");
    if (counts)
        return from_counts(ctx, err);
    if (!path)
        rc = tb_ctx_book(ctx, err);
    if (rc != TB_OK)
        return rc;
    return ctx->argc > 0 ? one(ctx, err) : all(ctx, path, err);
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
        "A lot counts as wrong when a laboratory found its words broken in a market, or, where none has "
        "answered, when what was "
        "burnt and tested contradicts them; as right when a laboratory found them kept, or nothing was found "
        "against them. The "
        "others are open. What was decided of a lot does not count: goods go back for being late, too.\n\n"
        "Suppliers with few lots borrow strength from the others. Changes are flagged with their date; the "
        "next delivery is advised on by the switching rules of ISO 2859-1.\n\n"
        "The record stands beside the evidence of a burn and is never mixed into it.",
    .example = "tenterbook record\ntenterbook record \"Harrow Mill\"\ntenterbook record --lots 20 --wrong 3",
    .opts = opts,
    .max = 1,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
