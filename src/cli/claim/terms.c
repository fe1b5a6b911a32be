/* terms: how long there is to tell a supplier, as the site set it, and what statutes and customs offer. */
#include "cli/show.h"
#include "tenterbook/act_claim.h"

#include <string.h>

/* --- printing --------------------------------------------------------------------------------------------------- */

/* Rows of other countries would only be in the way, unless all of them are asked for (NULL). */
static void offers(struct tb_text *out, const char *country, const char *site)
{
    for (size_t i = 0; i < tb_claim_law_count(); i++) {
        struct tb_claim_term t = tb_claim_law_at(i);

        if (!country || !*t.country || strcmp(t.country, country) == 0 || strcmp(t.country, site) == 0)
            tb_offer_words(out, &t);
    }
    tb_text_add(out, tb_no_advice_words());
}

static void say_set(struct tb_text *out, json_t *list, const struct tb_supplier_term *set, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        tb_json_push(list, tb_json_terms_set(&set[i]));
        tb_terms_set_words(out, &set[i]);
    }
    if (!n)
        tb_text_say(out, "No terms are set.\n");
}

static tb_rc print_offer(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_text t = { 0 };

    offers(&t, NULL, NULL);
    return tb_print(ctx, tb_json_terms_offer(), &t, err);
}

/* Nothing to change: what is in force for one supplier, and what its country and ours offer; NULL: what is set for all. */
static tb_rc print_set(struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    json_t *list = json_array();
    struct tb_supplier_term *set = NULL;
    struct tb_supplier s;
    struct tb_text t = { 0 };
    size_t n = 0;
    tb_rc rc = TB_OK;

    if (!name)
        rc = tb_supplier_term_list(&set, &n, ctx->book, &ctx->mem, err);
    else if ((rc = tb_supplier_find(&s, ctx->book, name, &ctx->mem, err)) == TB_OK)
        rc = tb_supplier_terms(&set, &n, ctx->book, s.id, &ctx->mem, err);
    if (rc != TB_OK)
        goto out;
    say_set(&t, list, set, n);
    if (name) {
        tb_text_say(&t, "\nOn offer for %s, chosen with --law KEY:\n", s.name);
        offers(&t, n && set[0].supplier ? set[0].country : "", tb_book_site(ctx->book)->country);
    }
    rc = tb_print(ctx, json_incref(list), &t, err);
out:
    json_decref(list);
    return rc;
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
    struct tb_text words = { 0 };
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
    tb_terms_set_words(&words, &t);
    tb_text_add(&words, tb_no_advice_words());
    return tb_print(ctx, tb_json_terms_set(&t), &words, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    bool all = tb_opt_on(ctx, "all"), country = tb_opt_on(ctx, "country");
    bool changes = tb_opt_among(ctx, "law open hidden working calendar before-cutting in none") != NULL;
    const char *supplier = ctx->argc ? ctx->argv[0] : NULL;

    if (tb_opt_on(ctx, "offer"))
        return print_offer(ctx, err);
    if (all && (supplier || country))
        return tb_misuse(err, "--all is for every supplier; name neither a supplier nor a country");
    if (supplier)
        return changes || country ? change(ctx, supplier, err) : print_set(ctx, supplier, err);
    if ((all || country) && changes)
        return change(ctx, NULL, err);
    if (changes || all || country)
        return tb_misuse(err, "name a supplier, --country XX or --all, and what to set for them");
    return print_set(ctx, NULL, err);
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
