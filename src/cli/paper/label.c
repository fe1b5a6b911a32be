/* tenterbook label: what each market's law says of a label's words, and what a label may say. */
#include "cli/show.h"
#include "tenterbook/analysis.h"
#include "tenterbook/law.h"
#include "tenterbook/setting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FUNCTIONAL_MOST 32

struct asked {
    struct tb_law_question q;
    struct tb_declaration actual;
    int functional[FUNCTIONAL_MOST];
    struct tb_market_list markets;
    /* with a LOT */
    struct tb_lot lot;
    struct tb_arena mem;
    struct tb_text found;
};

static tb_rc read_actual(struct asked *a, const char *text, struct tb_err *err)
{
    tb_declaration_read(&a->actual, text, strlen(text));
    if (!tb_declaration_clear(&a->actual) || a->actual.comp.n == 0) {
        const struct tb_doubt *d = a->actual.n ? &a->actual.doubt[0] : NULL;

        for (size_t i = 0; i < a->actual.n; i++)
            if (tb_doubt_blocks(a->actual.doubt[i].kind)) {
                d = &a->actual.doubt[i];
                break;
            }
        return tb_fail(err, TB_EINVAL, "--actual '%.80s' gives no composition: %s", text,
                       d ? d->say : _("no fibre is named"));
    }
    a->q.found = &a->actual.comp;
    return TB_OK;
}

static tb_rc read_functional(struct asked *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *word;

    for (size_t i = 0; (word = tb_opt_nth(ctx, "functional", i)) != NULL; i++) {
        size_t n;
        const struct tb_name *name = tb_name_find(word, strlen(word), &n);
        int fibre = tb_fibre_by_key(word);

        for (size_t k = 0; name && fibre < 0 && k < n; k++)
            fibre = name[k].fibre;
        if (fibre < 0)
            return tb_fail(err, TB_EINVAL, "--functional '%.40s' is not the name of a fibre", word);
        if (i == FUNCTIONAL_MOST)
            return tb_fail(err, TB_EINVAL, "--functional is given more than %d times", FUNCTIONAL_MOST);
        a->functional[a->q.facts.functionals++] = fibre;
    }
    a->q.facts.functional = a->functional;
    return TB_OK;
}

/* "weft=45": % by mass of a part in the cloth. */
static tb_rc read_shares(struct asked *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *word;

    for (size_t i = 0; (word = tb_opt_nth(ctx, "share", i)) != NULL; i++) {
        char key[32] = "", *end = NULL;
        size_t n = strcspn(word, "=");
        double percent;
        int kind;

        if (n < sizeof key)
            memcpy(key, word, n);
        kind = tb_part_by_key(key);
        percent = word[n] == '=' ? strtod(word + n + 1, &end) : NAN;
        if (kind < 0 || !end || *end || end == word + n + 1 || !(percent >= 0 && percent <= 100))
            return tb_fail(err, TB_EINVAL, "--share is given as PART=PERCENT, such as weft=45, not '%.40s'",
                           word);
        a->q.facts.part_share[kind] = percent;
    }
    return TB_OK;
}

static tb_rc read_figures(struct asked *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_law_facts *f = &a->q.facts;
    const struct {
        const char *name;
        double *to, most;
    } figure[] = { { "micron", &f->micron, 1000 },
                   { "coarse", &f->coarse, 100 },
                   { "cv", &f->cv, 1000 },
                   { "area-share", &f->area_share, 100 },
                   { "left-out", &f->left_out, 100 } };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(figure) && rc == TB_OK; i++)
        rc = tb_opt_number(figure[i].to, ctx, figure[i].name, 0, figure[i].most, err);
    return rc;
}

static tb_rc read_question(struct asked *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_law_facts *f = &a->q.facts;
    const char *actual = tb_opt(ctx, "actual");
    tb_rc rc;

    tb_law_facts_none(f);
    f->lang = tb_opt(ctx, "lang");
    f->day = tb_opt(ctx, "on");
    f->origin = tb_opt(ctx, "origin");
    f->carded = tb_opt_on(ctx, "carded");
    f->virgin = tb_opt_on(ctx, "virgin");
    f->bast = tb_opt_on(ctx, "bast");
    f->one_language = tb_opt_on(ctx, "one-language");
    f->unchecked = tb_opt_on(ctx, "unchecked");
    if ((rc = read_figures(a, ctx, err)) != TB_OK || (rc = read_functional(a, ctx, err)) != TB_OK ||
        (rc = read_shares(a, ctx, err)) != TB_OK)
        return rc;
    return actual ? read_actual(a, actual, err) : TB_OK;
}

/* One object for one market, an array for several; with a LOT its number beside the answer. */
static tb_rc print_json(struct tb_ctx *ctx, const struct asked *a, const struct tb_law_answer *answer,
                        size_t n, struct tb_err *err)
{
    json_t *all = json_array();

    for (size_t i = 0; i < n; i++) {
        char *text = tb_law_json(&answer[i]);
        json_t *one = text ? json_loads(text, 0, NULL) : NULL;

        free(text);
        if (!one) {
            json_decref(all);
            return tb_fail(err, TB_EIO, "the answer could not be written as JSON");
        }
        if (a->lot.ref) {
            (void)json_object_set_new(one, "lot", json_string(a->lot.ref));
            (void)json_object_set_new(one, "text", tb_json_text(a->q.text));
            (void)json_object_set_new(one, "actual",
                                      tb_json_text(a->found.n ? tb_text_str(&a->found) : NULL));
        }
        (void)json_array_append_new(all, one);
    }
    if (n != 1)
        return tb_print_json(ctx, all, err);
    {
        json_t *one = json_incref(json_array_get(all, 0));

        json_decref(all);
        return tb_print_json(ctx, one, err);
    }
}

static void print_text(struct tb_ctx *ctx, const struct tb_law_answer *answer, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct tb_text t = { 0 };

        tb_law_print(&t, &answer[i]);
        (void)fprintf(ctx->out, "%s%s", i ? "\n" : "", tb_text_str(&t));
        tb_text_free(&t);
    }
}

static void print_lot(struct tb_ctx *ctx, const struct asked *a)
{
    if (ctx->json || !a->lot.ref)
        return;
    (void)fprintf(ctx->out, _("Lot %s: \"%s\"\n"), a->lot.ref, a->q.text);
    if (a->found.n)
        (void)fprintf(ctx->out, _("A laboratory found: %s\n"), tb_text_str(&a->found));
    (void)fputc('\n', ctx->out);
}

/* Those of --market; with a LOT and none named, those the site sells to. */
static tb_rc find_markets(struct asked *a, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *list;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && (list = tb_opt_nth(ctx, "market", i)) != NULL; i++)
        rc = tb_market_list_add(&a->markets, list, err);
    if (rc == TB_OK && !a->markets.n && a->lot.ref)
        rc = tb_setting_markets(&a->markets, ctx->book, err);
    if (rc == TB_OK && !a->markets.n)
        rc = tb_misuse(err, a->lot.ref ? "label needs --market (us, ca, eu, gb, ...), or the setting market"
                                       : "label needs --market (us, ca, eu, gb, ...)");
    return rc;
}

static tb_rc ask_markets(struct tb_ctx *ctx, struct asked *a, struct tb_err *err)
{
    struct tb_law_answer answer[TB_MARKETS_MOST] = { 0 };
    struct tb_law *law = tb_law_new();
    size_t n = 0;
    tb_rc rc = find_markets(a, ctx, err);

    while (rc == TB_OK && n < a->markets.n) {
        a->q.market = a->markets.key[n];
        rc = tb_law_check(&answer[n++], law, &a->q, err);
    }
    if (rc == TB_OK && ctx->json)
        rc = print_json(ctx, a, answer, n, err);
    else if (rc == TB_OK) {
        print_lot(ctx, a);
        print_text(ctx, answer, n);
    }
    for (size_t i = 0; i < n; i++)
        tb_law_answer_free(&answer[i]);
    tb_law_free(law);
    return rc;
}

/* --- on the book --------------------------------------------------------------------------------------------- */

static tb_rc take_lot(struct asked *a, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_analysis *x = NULL;
    size_t n = 0;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK)
        rc = tb_lot_find(&a->lot, ctx->book, ctx->argv[0], &a->mem, err);
    if (rc == TB_OK)
        rc = tb_analysis_list(&x, &n, ctx->book, a->lot.id, &a->mem, err);
    if (rc != TB_OK)
        return rc;
    if (!a->q.text)
        a->q.text = a->lot.declared;
    if (!a->q.text[0])
        return tb_fail(err, TB_EINVAL, "lot %s has no declaration; give the words with --text", a->lot.ref);
    if (!a->q.facts.origin && a->lot.origin[0])
        a->q.facts.origin = a->lot.origin;
    if (!a->q.found && n) {
        tb_analysis_words(&a->found, x, n);
        rc = read_actual(a, tb_text_str(&a->found), err);
    }
    return rc;
}

static tb_rc label(struct tb_ctx *ctx, struct tb_err *err)
{
    struct asked a = { 0 };
    tb_rc rc;

    a.q.text = tb_opt(ctx, "text");
    if (!a.q.text && ctx->argc == 0)
        return tb_misuse(err, "label needs a LOT or --text TEXT");
    rc = read_question(&a, ctx, err);
    if (rc == TB_OK && ctx->argc)
        rc = take_lot(&a, ctx, err);
    if (rc == TB_OK) {
        a.q.text_len = strlen(a.q.text);
        rc = ask_markets(ctx, &a, err);
    }
    tb_declaration_free(&a.actual);
    tb_text_free(&a.found);
    tb_arena_free(&a.mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "market", "M,..",
      "keys of markets (us, eu, ...; one that is not known lists them all); with a LOT unless said: the "
      "setting "
      "market",
      true },
    { "lang", "L", "language of the label: en, fr, de, ...", false },
    { "text", "TEXT", "the words of the label or invoice", false },
    { "actual", "TEXT", "what the cloth was found to be: \"cotton 97; rayon 3\"", false },
    { "on", "YYYY-MM-DD", "rules in force on this day", false },
    { "functional", "FIBRE", "a fibre that serves a purpose, below the share from which fibres are named",
      true },
    { "carded", NULL, "the cloth went through carding", false },
    { "virgin", NULL, "there is proof that the wool is virgin", false },
    { "bast", NULL, "there is proof that the bamboo is bast fibre", false },
    { "one-language", NULL, "sold only where one of the market's languages is in use", false },
    { "micron", "UM", "mean fibre diameter, micrometres", false },
    { "coarse", "PERCENT", "share by mass of fibres over 30 micrometres", false },
    { "cv", "PERCENT", "coefficient of variation of the diameter", false },
    { "area-share", "PERCENT", "share of the surface that decoration, elastic or trimming takes", false },
    { "left-out", "PERCENT", "share by mass of what \"exclusive of\" leaves out", false },
    { "share", "PART=PERCENT", "share by mass of a part in the cloth: weft=45", true },
    { "origin", "COUNTRY", "country of origin", false },
    { "unchecked", NULL, "names from memory may be printed", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_label = {
    .name = "label",
    .args = "[LOT] --market M [--text TEXT]",
    .brief = "what a label may say in each market",
    .about =
        "Reads the words of a label or an invoice and says, for each market, which clause speaks and how: "
        "a fault spoils the label, advice and notes do not. With --actual the words are held against "
        "what the cloth was found to be, under the tolerance of the market. Then the lines a label may "
        "carry, or why there are none. With a LOT the words are its declaration (or --text), the origin is "
        "the lot's, and what a laboratory found is the latest analysis on record.\n\n"
        "What a text cannot tell comes by option. Information, not legal advice: the official text and "
        "local counsel decide.",
    .example = "tenterbook label --market us --market eu --text \"60% cotton 40% polyester\"\n"
               "tenterbook label --market us --text \"100% cotton\" --actual \"cotton 97; rayon 3\"\n"
               "tenterbook label W26-014.02 --market gb",
    .opts = opts,
    .min = 0,
    .max = 1,
    .flags = TB_BOOK_MAYBE,
    .run = label,
};
