/* money: what claims come to, by supplier, month and currency. */
#include "tenterbook/money.h"
#include "cli/show.h"
#include "tenterbook/figure.h"

static void figures(struct tb_table *t, const struct tb_money_sum *s)
{
    const double figure[] = { s->claimed, s->agreed, s->recovered, s->awaited };

    for (size_t i = 0; i < TB_COUNT(figure); i++)
        tb_table_cell(t, "%.2f", tb_cents(figure[i]));
}

static void print_table(struct tb_ctx *ctx, const struct tb_money *m)
{
    const char *const head[] = { _("SUPPLIER"), _("MONTH"),     _("MONEY"),  _("CLAIMED"),
                                 _("AGREED"),   _("RECOVERED"), _("AWAITED") };
    struct tb_table t;

    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < m->rows; i++) {
        tb_table_texts(&t, m->row[i].supplier, m->row[i].month, m->row[i].currency);
        figures(&t, &m->row[i]);
    }
    for (size_t i = 0; i < m->totals; i++) {
        tb_table_texts(&t, _("all"), "", m->total[i].currency);
        figures(&t, &m->total[i]);
    }
    tb_table_print(&t, ctx->out, "lllrrrr", 40);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_money_request request = { .supplier = ctx->argc ? ctx->argv[0] : NULL,
                                              .from = tb_opt(ctx, "from"),
                                              .until = tb_opt(ctx, "until") };
    struct tb_money m;
    struct tb_text t = { 0 };
    tb_rc rc = tb_money_read(&m, ctx->book, &request, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_money(&m), err);
    if (m.rows)
        print_table(ctx, &m);
    else
        tb_text_say(&t, "No amounts are recorded with disputes.\n");
    tb_money_words(&t, &m);
    tb_print_words(ctx, &t);
    return TB_OK;
}

static const struct tb_opt opts[] = {
    { "from", "YYYY-MM", "from this month on", false },
    { "until", "YYYY-MM", "until this month, which is in it", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_money = {
    .name = "money",
    .args = "[SUPPLIER] [--from YYYY-MM] [--until YYYY-MM]",
    .brief = "what was claimed, agreed and recovered",
    .about = "Adds up the amounts of disputes by supplier, month and currency. Claimed is what was claimed "
             "last, agreed what was agreed last, each in the month it was said; recovered is what came in, "
             "in the month it did; awaited is what was agreed and has not come in while the dispute is "
             "open. An offer is not added up.\n\n"
             "Sums in several currencies are converted only by rates the site set (set money EUR, set "
             "rate:USD 0.92); each is told with the day it was set, and what has none is left out of the sum "
             "and named.",
    .example = "tenterbook money\ntenterbook money \"Harrow Mill\" --from 2026-01 --until 2026-12 --json",
    .opts = opts,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
