/* terms: how long there is to tell a supplier, as the site set it, and what statutes and customs offer. */
#include "cli/claim/claim_say.h"
#include "tenterbook/act_claim.h"

#include <stdlib.h>
#include <string.h>

/* --- printing --------------------------------------------------------------------------------------------------- */

/* Terms without a supplier are for a country, without a country for everybody. */
static void whose(struct tb_text *out, const struct tb_supplier_term *t)
{
    if (t->supplier)
        tb_text_addf(out, *t->country ? "%s (%s)" : "%s", t->supplier_name, t->country);
    else
        tb_text_addf(out, *t->country ? _("all suppliers in %s") : _("all suppliers"), t->country);
}

static void print_set(FILE *out, const struct tb_supplier_term *t)
{
    const struct tb_claim_term own = { .open_days = t->open_days,
                                       .hidden_days = t->hidden_days,
                                       .working = t->working,
                                       .before_cutting = t->before_cutting,
                                       .last_months = TB_CLAIM_NO_TERM };
    struct tb_text who = { 0 }, term = { 0 };
    const char *laws = *t->laws ? t->laws : "-";

    whose(&who, t);
    if (t->open_days >= 0 || t->hidden_days >= 0 || t->before_cutting)
        tb_term_words(&term, &own);
    if (!term.n)
        tb_say(out, "%s: laws and customs: %s\n", who.s, laws);
    else if (*t->stands_in)
        tb_say(out, "%s: own term %s (%s); laws and customs: %s\n", who.s, term.s, t->stands_in, laws);
    else
        tb_say(out, "%s: own term %s; laws and customs: %s\n", who.s, term.s, laws);
    tb_text_free(&who);
    tb_text_free(&term);
}

/* Rows of other countries would only be in the way, unless all of them are asked for. */
static void print_rows(FILE *out, const char *country, const char *site, bool all)
{
    for (size_t i = 0; i < tb_claim_law_count(); i++) {
        struct tb_claim_term t = tb_claim_law_at(i);
        struct tb_text term = { 0 };

        if (!all && *t.country && strcmp(t.country, country) != 0 && strcmp(t.country, site) != 0)
            continue;
        tb_term_words(&term, &t);
        (void)fprintf(out, "%-16s %s: %s\n%17s%s\n%17s[%s; %s]\n", t.key, t.name, term.s, "", t.says, "",
                      t.status, t.source);
        tb_text_free(&term);
    }
}

static tb_rc print_list(struct tb_ctx *ctx, const struct tb_supplier_term *set, size_t n, struct tb_err *err)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        tb_json_push(list, tb_json_terms_set(&set[i]));
    if (ctx->json)
        return tb_print_json(ctx, list, err);
    json_decref(list);
    for (size_t i = 0; i < n; i++)
        print_set(ctx->out, &set[i]);
    if (!n)
        tb_say(ctx->out, "No terms are set.\n");
    return TB_OK;
}

static tb_rc print_offer(struct tb_ctx *ctx, struct tb_err *err)
{
    json_t *list;

    if (!ctx->json) {
        print_rows(ctx->out, "", "", true);
        tb_print_no_advice(ctx->out);
        return TB_OK;
    }
    list = json_array();
    for (size_t i = 0; i < tb_claim_law_count(); i++) {
        struct tb_claim_term t = tb_claim_law_at(i);

        tb_json_push(list, tb_json_term(&t));
    }
    return tb_print_json(ctx, list, err);
}

/* Nothing to change: what is in force for one supplier, and what its country and ours offer. */
static tb_rc print_supplier(struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    const char *site = tb_book_site(ctx->book)->country;
    struct tb_supplier_term *set;
    struct tb_supplier s;
    size_t n;
    tb_rc rc;

    if ((rc = tb_supplier_find(&s, ctx->book, name, &ctx->mem, err)) != TB_OK ||
        (rc = tb_supplier_terms(&set, &n, ctx->book, s.id, &ctx->mem, err)) != TB_OK ||
        (rc = print_list(ctx, set, n, err)) != TB_OK || ctx->json)
        return rc;
    tb_say(ctx->out, "\nOn offer for %s, chosen with --law KEY:\n", s.name);
    print_rows(ctx->out, n && set[0].supplier ? set[0].country : "", site, false);
    tb_print_no_advice(ctx->out);
    return TB_OK;
}

/* --- setting ---------------------------------------------------------------------------------------------------- */

/* What no option mentions is not said, and stays. */
static tb_rc change(struct tb_ctx *ctx, const char *supplier, struct tb_err *err)
{
    bool working = tb_opt_on(ctx, "working");
    struct tb_terms_request r = { .supplier = supplier,
                                  .country = tb_opt(ctx, "country"),
                                  .afresh = tb_opt_on(ctx, "none"),
                                  .working = working || tb_opt_on(ctx, "calendar") ? &working : NULL,
                                  .before_cutting = tb_opt_on(ctx, "before-cutting"),
                                  .stands_in = tb_opt(ctx, "in") };
    struct tb_supplier_term t;
    int open = (int)tb_opt_whole(ctx, "open", 0, 0, TB_CLAIM_DAYS_MOST);
    int hidden = (int)tb_opt_whole(ctx, "hidden", 0, 0, TB_CLAIM_DAYS_MOST);
    tb_rc rc;

    if (working && tb_opt_on(ctx, "calendar"))
        return tb_misuse(err, "days are --working or --calendar days, not both");
    r.law = tb_opt_all(&r.laws, ctx, "law");
    r.open_days = tb_opt(ctx, "open") ? &open : NULL;
    r.hidden_days = tb_opt(ctx, "hidden") ? &hidden : NULL;
    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_terms(&t, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_terms_set(&t), err);
    print_set(ctx->out, &t);
    tb_print_no_advice(ctx->out);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    bool all = tb_opt_on(ctx, "all"), country = tb_opt_on(ctx, "country");
    bool changes = tb_opt_among(ctx, "law open hidden working calendar before-cutting in none") != NULL;
    const char *supplier = ctx->argc ? ctx->argv[0] : NULL;
    struct tb_supplier_term *set;
    size_t n;
    tb_rc rc;

    if (tb_opt_on(ctx, "offer"))
        return print_offer(ctx, err);
    if (all && (supplier || country))
        return tb_misuse(err, "--all is for every supplier; name neither a supplier nor a country");
    if (supplier)
        return changes || country ? change(ctx, supplier, err) : print_supplier(ctx, supplier, err);
    if ((all || country) && changes)
        return change(ctx, NULL, err);
    if (changes || all || country)
        return tb_misuse(err, "name a supplier, --country XX or --all, and what to set for them");
    rc = tb_supplier_term_list(&set, &n, ctx->book, &ctx->mem, err);
    return rc == TB_OK ? print_list(ctx, set, n, err) : rc;
}

static const struct tb_opt opts[] = {
    { "country", "XX", "the supplier's country; without a supplier: all suppliers there", false },
    { "all", NULL, "every supplier", false },
    { "law", "KEY", "a statute or custom that shall count; may be given again", true },
    { "open", "DAYS", "own term for what an examination shows, from arrival", false },
    { "hidden", "DAYS", "own term for hidden faults, from discovery", false },
    { "working", NULL, "own terms count working days (setting weekend)", false },
    { "calendar", NULL, "own terms count calendar days; so without either", false },
    { "before-cutting", NULL, "own term: and in any case before the first cut", false },
    { "in", "TEXT", "where the own term stands: contract, order, confirmation", false },
    { "none", NULL, "begin again: nothing of what was set before stays", false },
    { "offer", NULL, "show every statute and custom there is here, with its source", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_terms = {
    .name = "terms",
    .args = "[SUPPLIER] [--country XX] [--law KEY] [--open DAYS] [--hidden DAYS]",
    .brief = "how long there is to tell a supplier that goods are not as declared",
    .about = "Shows and sets the terms by which notice is due: own terms with a supplier, and statutes and "
             "customs chosen from a table. Terms of a supplier, of its country and of all suppliers count "
             "together, and the earliest day wins.\n\n"
             "Information, not legal advice: which law and term apply is for the contract, the official text "
             "and local counsel to say. Rows marked memory were not looked up by anybody.",
    .example =
        "tenterbook terms --offer\n"
        "tenterbook terms \"Harrow Mill\" --country IT --law it_1495 --open 5 --working --in \"order 4471\"\n"
        "tenterbook terms --country TR --law tr_23\n"
        "tenterbook terms --all --open 3 --before-cutting --in \"house rule\"",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
