/* All suppliers of the book, or of a table, with the share that borrowed strength gives each. */
#include "cli/sampling/record.h"

#include <stdlib.h>

static json_t *as_json(const struct tb_tallies *t, const struct tb_posterior *p, const struct tb_beta *prior,
                       bool own)
{
    json_t *list = json_array();

    for (size_t i = 0; i < t->n; i++)
        tb_json_push(list,
                     json_pack("{s:o, s:I, s:I, s:f, s:f, s:f}", "supplier", tb_json_text(t->name[i]),
                               "judged", (json_int_t)t->tally[i].lots, "wrong", (json_int_t)t->tally[i].wrong,
                               "mean", p[i].mean, "lo", p[i].lo, "hi", p[i].hi));
    return json_pack("{s:{s:f, s:f, s:s}, s:o}", "prior", "a", prior->a, "b", prior->b, "from",
                     own ? "site" : "published", "suppliers", list);
}

static void say(FILE *out, const struct tb_tallies *t, const struct tb_posterior *p, bool own)
{
    const char *const head[] = { _("SUPPLIER"), _("JUDGED"), _("WRONG"), _("SHARE"), _("BETWEEN") };
    struct tb_table table;

    tb_say(out, own ? N_("Strength is borrowed across these suppliers.\n")
                    : N_("Too few suppliers and judged lots for a record of their own: published rates of "
                         "market samples take its place, an upper guide.\n"));
    tb_table_head(&table, head, TB_COUNT(head));
    for (size_t i = 0; i < t->n; i++) {
        char mean[TB_PERCENT], lo[TB_PERCENT], hi[TB_PERCENT];

        tb_table_cell(&table, "%s", t->name[i]);
        tb_table_cell(&table, "%ld", t->tally[i].lots);
        tb_table_cell(&table, "%ld", t->tally[i].wrong);
        tb_table_cell(&table, "%s", tb_percent(mean, p[i].mean));
        tb_table_cell(&table, _("%s and %s"), tb_percent(lo, p[i].lo), tb_percent(hi, p[i].hi));
    }
    tb_table_print(&table, out, "lrrrl", 40);
}

tb_rc record_print_all(struct tb_ctx *ctx, const struct tb_tallies *t, double conf, struct tb_err *err)
{
    struct tb_posterior *p = tb_array(struct tb_posterior, t->n + 1);
    struct tb_beta prior;
    bool own = false;
    tb_rc rc = tb_record_all(p, &prior, &own, t->tally, t->n, conf, err);

    if (rc == TB_OK && ctx->json)
        rc = tb_print_json(ctx, as_json(t, p, &prior, own), err);
    else if (rc == TB_OK)
        say(ctx->out, t, p, own);
    free(p);
    return rc;
}
