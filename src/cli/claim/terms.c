/* terms: how long there is to tell a supplier, as the site set it, and what statutes and customs offer. */
#include "cli/claim/claim_say.h"

#include <stdlib.h>
#include <string.h>

/* --- printing --------------------------------------------------------------------------------------------------- */

static json_t *term_json(const struct tb_claim_term *t)
{
    json_t *j = json_object();

    (void)json_object_set_new(j, "key", tb_json_text(t->key));
    (void)json_object_set_new(j, "country", tb_json_text(t->country));
    (void)json_object_set_new(j, "name", tb_json_text(t->name));
    (void)json_object_set_new(j, "open_days", t->open_days < 0 ? json_null() : json_integer(t->open_days));
    (void)json_object_set_new(j, "hidden_days",
                              t->hidden_days < 0 ? json_null() : json_integer(t->hidden_days));
    (void)json_object_set_new(j, "hidden_from",
                              json_string(t->hidden_from_arrival ? "arrival" : "discovery"));
    (void)json_object_set_new(j, "working", json_boolean(t->working));
    (void)json_object_set_new(j, "before_cutting", json_boolean(t->before_cutting));
    (void)json_object_set_new(j, "last_months",
                              t->last_months < 0 ? json_null() : json_integer(t->last_months));
    (void)json_object_set_new(j, "last_of", tb_json_text(t->last_of));
    (void)json_object_set_new(j, "last_status", tb_json_text(t->last_status));
    (void)json_object_set_new(j, "says", tb_json_text(t->says));
    (void)json_object_set_new(j, "source", tb_json_text(t->source));
    (void)json_object_set_new(j, "status", tb_json_text(t->status));
    return j;
}

static json_t *set_json(const struct tb_supplier_term *t)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:b, s:b, s:o, s:s, s:o}", "supplier",
                     tb_json_text(t->supplier_name), "country", tb_json_text(t->country), "laws",
                     tb_json_text(t->laws), "open_days",
                     t->open_days < 0 ? json_null() : json_integer(t->open_days), "hidden_days",
                     t->hidden_days < 0 ? json_null() : json_integer(t->hidden_days), "working", t->working,
                     "before_cutting", t->before_cutting, "stands_in", tb_json_text(t->stands_in), "set_at",
                     t->set_at, "set_by", tb_json_text(t->set_by));
}

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
    struct tb_text who = { 0 }, days = { 0 };

    whose(&who, t);
    (void)fprintf(out, "%s:", who.s);
    if (t->open_days >= 0 || t->hidden_days >= 0 || t->before_cutting) {
        tb_term_words(&days, &own);
        (void)fprintf(out, _(" own term %s%s%s%s;"), days.s, *t->stands_in ? " (" : "", t->stands_in,
                      *t->stands_in ? ")" : "");
    }
    (void)fprintf(out, _(" laws and customs: %s\n"), *t->laws ? t->laws : "-");
    tb_text_free(&who);
    tb_text_free(&days);
}

static void print_rows(FILE *out, const char *country, const char *site, bool all)
{
    for (size_t i = 0; i < tb_claim_law_count(); i++) {
        struct tb_claim_term t = tb_claim_law_at(i);
        struct tb_text days = { 0 };

        if (!all && *t.country && strcmp(t.country, country) != 0 && strcmp(t.country, site) != 0)
            continue;
        tb_term_words(&days, &t);
        (void)fprintf(out, "%-16s %s: %s\n%17s%s\n%17s[%s; %s]\n", t.key, t.name, days.s, "", t.says, "",
                      t.status, t.source);
        tb_text_free(&days);
    }
}

static tb_rc print_list(struct tb_ctx *ctx, const struct tb_supplier_term *set, size_t n, struct tb_err *err)
{
    json_t *list;

    if (ctx->json) {
        list = json_array();
        for (size_t i = 0; i < n; i++)
            (void)json_array_append_new(list, set_json(&set[i]));
        return tb_print_json(ctx, list, err);
    }
    for (size_t i = 0; i < n; i++)
        print_set(ctx->out, &set[i]);
    if (!n)
        (void)fputs(_("No terms are set.\n"), ctx->out);
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

        (void)json_array_append_new(list, term_json(&t));
    }
    return tb_print_json(ctx, list, err);
}

/* Nothing to change: what is in force for one supplier, and what its country and ours offer. */
static tb_rc print_supplier(struct tb_ctx *ctx, const struct tb_supplier *s, struct tb_arena *mem,
                            struct tb_err *err)
{
    const char *site = tb_book_site(ctx->book)->country;
    struct tb_supplier_term *set;
    size_t n;
    tb_rc rc = tb_supplier_terms(&set, &n, ctx->book, s->id, mem, err);

    if (rc != TB_OK || (rc = print_list(ctx, set, n, err)) != TB_OK || ctx->json)
        return rc;
    (void)fprintf(ctx->out, _("\nOn offer for %s, chosen with --law KEY:\n"), s->name);
    print_rows(ctx->out, n && set[0].supplier ? set[0].country : "", site, false);
    tb_print_no_advice(ctx->out);
    return TB_OK;
}

/* --- setting ---------------------------------------------------------------------------------------------------- */

static const char *const changing[] = { "law",      "open",           "hidden", "working",
                                        "calendar", "before-cutting", "in",     "none" };

static bool changes(const struct tb_ctx *ctx)
{
    for (size_t i = 0; i < TB_COUNT(changing); i++)
        if (tb_opt_on(ctx, changing[i]))
            return true;
    return false;
}

static tb_rc read_days(int *out, struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    long days = *out;
    tb_rc rc = tb_opt_whole(&days, ctx, name, 0, TB_CLAIM_DAYS_MOST, err);

    *out = (int)days;
    return rc;
}

static tb_rc read_options(struct tb_supplier_term *t, struct tb_ctx *ctx, struct tb_arena *mem,
                          struct tb_err *err)
{
    struct tb_text laws = { 0 };
    tb_rc rc;

    if (tb_opt_on(ctx, "none")) {
        t->laws = t->stands_in = "";
        t->open_days = t->hidden_days = TB_CLAIM_NO_TERM;
        t->working = t->before_cutting = false;
    }
    if (tb_opt_on(ctx, "working") && tb_opt_on(ctx, "calendar"))
        return tb_misuse(err, "days are --working or --calendar days, not both");
    t->working = tb_opt_on(ctx, "working") || (t->working && !tb_opt_on(ctx, "calendar"));
    t->before_cutting = t->before_cutting || tb_opt_on(ctx, "before-cutting");
    if (tb_opt(ctx, "in"))
        t->stands_in = tb_opt(ctx, "in");
    for (size_t i = 0; tb_opt_nth(ctx, "law", i); i++)
        tb_text_addf(&laws, "%s%s", i ? " " : "", tb_opt_nth(ctx, "law", i));
    if (laws.n)
        t->laws = tb_arena_strdup(mem, laws.s);
    tb_text_free(&laws);
    rc = read_days(&t->open_days, ctx, "open", err);
    return rc == TB_OK ? read_days(&t->hidden_days, ctx, "hidden", err) : rc;
}

/* What was set before stays where nothing new is said of it. */
static tb_rc before(struct tb_supplier_term *t, struct tb_ctx *ctx, const struct tb_supplier *s,
                    const char *country, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier_term *set;
    size_t n;
    tb_rc rc = tb_supplier_term_list(&set, &n, ctx->book, mem, err);

    *t = (struct tb_supplier_term){ .country = "",
                                    .laws = "",
                                    .stands_in = "",
                                    .open_days = TB_CLAIM_NO_TERM,
                                    .hidden_days = TB_CLAIM_NO_TERM };
    for (size_t i = 0; rc == TB_OK && i < n; i++)
        if (s ? set[i].supplier && strcmp(set[i].supplier, s->id) == 0
              : !set[i].supplier && strcmp(set[i].country, country ? country : "") == 0)
            *t = set[i];
    t->supplier = s ? s->id : NULL;
    t->supplier_name = s ? s->name : NULL;
    if (country)
        t->country = country;
    return rc;
}

static tb_rc change(struct tb_ctx *ctx, const struct tb_supplier *s, struct tb_arena *mem, struct tb_err *err)
{
    const char *country = tb_opt(ctx, "country");
    struct tb_supplier_term t;
    tb_rc rc = before(&t, ctx, s, country, mem, err);

    if (rc != TB_OK || (rc = read_options(&t, ctx, mem, err)) != TB_OK ||
        (rc = tb_ctx_begin(ctx, "terms", err)) != TB_OK)
        return rc;
    tb_book_subject(ctx->book, s ? s->name : *t.country ? t.country : "*");
    if ((rc = tb_supplier_term_add(&t, ctx->book, mem, err)) != TB_OK) {
        tb_book_rollback(ctx->book);
        return rc;
    }
    if ((rc = tb_book_commit(ctx->book, err)) != TB_OK)
        return rc;
    t.set_by = ctx->who;
    if (ctx->json)
        return tb_print_json(ctx, set_json(&t), err);
    print_set(ctx->out, &t);
    tb_print_no_advice(ctx->out);
    return TB_OK;
}

static tb_rc terms(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    bool all = tb_opt_on(ctx, "all"), country = tb_opt_on(ctx, "country");
    struct tb_supplier_term *set;
    struct tb_supplier s;
    size_t n;
    tb_rc rc;

    if (tb_opt_on(ctx, "offer"))
        return print_offer(ctx, err);
    if (all && (ctx->argc || country))
        return tb_misuse(err, "--all is for every supplier; name neither a supplier nor a country");
    if (ctx->argc) {
        if ((rc = tb_supplier_find(&s, ctx->book, ctx->argv[0], mem, err)) != TB_OK)
            return rc;
        return changes(ctx) || country ? change(ctx, &s, mem, err) : print_supplier(ctx, &s, mem, err);
    }
    if ((all || country) && changes(ctx))
        return change(ctx, NULL, mem, err);
    if (changes(ctx) || all || country)
        return tb_misuse(err, "name a supplier, --country XX or --all, and what to set for them");
    rc = tb_supplier_term_list(&set, &n, ctx->book, mem, err);
    return rc == TB_OK ? print_list(ctx, set, n, err) : rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = terms(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
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
             "customs "
             "chosen from a table. Terms of a supplier, of its country and of all suppliers count together, "
             "and the "
             "earliest day wins.\n\n"
             "Information, not legal advice: which law and term apply is for the contract, the official text "
             "and local "
             "counsel to say. Rows marked memory were not looked up by anybody.",
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
