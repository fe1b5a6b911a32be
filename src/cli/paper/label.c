/* label: what each market's law says of a label's words, and what a label may say. */
#include "cli/show.h"
#include "tenterbook/label_page.h"
#include "tenterbook/typed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static tb_rc read_functional(struct tb_law_facts *f, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *const *word = tb_opt_all(&f->functionals, ctx, "functional");
    int *fibre = tb_arena_alloc(&ctx->mem, (f->functionals + 1) * sizeof *fibre);

    f->functional = fibre;
    for (size_t i = 0; i < f->functionals; i++)
        if ((fibre[i] = tb_fibre_by_word(word[i])) < 0)
            return tb_fail(err, TB_EINVAL, "--functional '%.40s' is not the name of a fibre", word[i]);
    return TB_OK;
}

/* "weft=45": % by mass of a part in the cloth. */
static tb_rc read_shares(struct tb_law_facts *f, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *word;

    for (size_t i = 0; (word = tb_opt_nth(ctx, "share", i)) != NULL; i++) {
        struct tb_typed_number percent = { 0 };
        size_t n = strcspn(word, "=");
        char key[32] = "";
        bool good;
        int kind;

        if (n < sizeof key)
            memcpy(key, word, n);
        kind = tb_part_by_key(key);
        good = kind >= 0 && word[n] && tb_number_typed(&percent, word + n + 1) && isnan(percent.other);
        if (!good || !(percent.value >= 0 && percent.value <= 100))
            return tb_fail(err, TB_EINVAL, "--share is given as PART=PERCENT, such as weft=45, not '%.40s'",
                           word);
        f->part_share[kind] = percent.value;
    }
    return TB_OK;
}

static tb_rc read_request(struct tb_label_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_law_facts *f = &r->facts;
    const char *list;
    tb_rc rc = TB_OK;

    tb_law_facts_none(f);
    f->lang = tb_opt(ctx, "lang");
    f->day = tb_opt_any_day(ctx, "on");
    f->origin = tb_opt(ctx, "origin");
    f->carded = tb_opt_on(ctx, "carded");
    f->virgin = tb_opt_on(ctx, "virgin");
    f->bast = tb_opt_on(ctx, "bast");
    f->one_language = tb_opt_on(ctx, "one-language");
    f->unchecked = tb_opt_on(ctx, "unchecked");
    r->anyway = tb_opt_on(ctx, "anyway");
    r->lot = ctx->argc ? ctx->argv[0] : NULL;
    r->text = tb_opt(ctx, "text");
    r->actual = tb_opt(ctx, "actual");
    f->micron = tb_opt_number(ctx, "micron", f->micron, 0, 1000);
    f->coarse = tb_opt_number(ctx, "coarse", f->coarse, 0, 100);
    f->cv = tb_opt_number(ctx, "cv", f->cv, 0, 1000);
    f->area_share = tb_opt_number(ctx, "area-share", f->area_share, 0, 100);
    f->left_out = tb_opt_number(ctx, "left-out", f->left_out, 0, 100);
    if ((rc = ctx->rc) != TB_OK || (rc = read_functional(f, ctx, err)) != TB_OK)
        return rc;
    for (size_t i = 0; rc == TB_OK && (list = tb_opt_nth(ctx, "market", i)) != NULL; i++)
        rc = tb_market_list_add(&r->markets, list, err);
    return rc == TB_OK ? read_shares(f, ctx, err) : rc;
}

/* Whoever asks in a script learns it without reading: what is not known is no leave. */
static tb_rc all_known(const struct tb_label_outcome *out, struct tb_err *err)
{
    struct tb_text markets = { 0 };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < out->n; i++)
        if (!out->answer[i].known)
            tb_text_addf(&markets, "%s%s", markets.n ? ", " : "", out->answer[i].market.name);
    if (markets.n)
        rc = tb_fail(err, TB_EREFUSED, "the rules known here do not say whether the words may stand: %s",
                     tb_text_str(&markets));
    tb_text_free(&markets);
    return rc;
}

/* "W26-001.01 (eu, gb)": whoever has several of these files open tells them apart. */
static const char *subject(struct tb_arena *mem, const struct tb_label_outcome *out)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < out->n; i++)
        tb_text_addf(&t, "%s%s", i ? ", " : "(", out->answer[i].market.key);
    return tb_arena_printf(mem, "%s%s%s)", out->lot.ref ? out->lot.ref : "", out->lot.ref ? " " : "",
                           tb_arena_take(mem, &t));
}

/* Only what may be handed over is drawn; what the law says of it is told besides, as without --out. */
static tb_rc write_label(struct tb_ctx *ctx, const struct tb_label_outcome *out,
                         const struct tb_label_request *r, struct tb_err *err)
{
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    struct tb_label_lines *label = tb_arena_alloc(&ctx->mem, (out->n + 1) * sizeof *label);
    struct tb_label_plan plan = { .files = &files,
                                  .path = tb_opt(ctx, "out"),
                                  .label = label,
                                  .n = out->n,
                                  .width = TB_LABEL_WIDTH,
                                  .height = TB_LABEL_HEIGHT,
                                  .language = r->facts.lang,
                                  .subject = subject(&ctx->mem, out) };
    tb_rc rc = tb_opt_pair(&plan.width, &plan.height, ctx, "size", err);

    if (rc != TB_OK || (rc = tb_label_finished(out, ctx->book, r, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < out->n; i++)
        label[i] = (struct tb_label_lines){ out->answer[i].wording, out->answer[i].wordings };
    rc = tb_outset_end(&files, tb_label_write(&plan, err), err);
    ctx->done = rc == TB_OK;
    return rc;
}

static tb_rc answer(struct tb_ctx *ctx, const struct tb_label_outcome *out, struct tb_err *err)
{
    const char *path = tb_opt(ctx, "out");
    struct tb_text t = { 0 };

    tb_label_words(&t, out);
    if (path)
        tb_text_addf(
            &t,
            _n("Written: %s with %zu label. Print it at 100 %%, not fitted to the page.\n",
               "Written: %s with %zu labels, one a page. Print it at 100 %%, not fitted to the page.\n",
               out->n),
            path, out->n);
    return tb_print(ctx, tb_json_label(out), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_label_request r = { 0 };
    struct tb_label_outcome out = { 0 };
    tb_rc rc;

    if (!tb_opt(ctx, "out") && (tb_opt(ctx, "size") || tb_opt_on(ctx, "replace") || tb_opt_on(ctx, "anyway")))
        return tb_misuse(err, "--size, --replace and --anyway go with --out");
    if (ctx->argc == 0 && !tb_opt(ctx, "text"))
        return tb_misuse(err, "label needs a LOT or --text TEXT");
    /* words alone need no book; where there is one, the names it keeps are printed */
    if ((rc = read_request(&r, ctx, err)) == TB_OK && (ctx->argc || access(ctx->book_path, F_OK) == 0))
        rc = tb_ctx_book(ctx, err);
    if (rc == TB_OK && (rc = tb_label_check(&out, ctx->book, &r, &ctx->mem, err)) == TB_OK &&
        (!tb_opt(ctx, "out") || (rc = write_label(ctx, &out, &r, err)) == TB_OK) &&
        (rc = answer(ctx, &out, err)) == TB_OK)
        rc = all_known(&out, err);
    tb_label_outcome_free(&out);
    return rc;
}

static const struct tb_opt opts[] = {
    { "market", "M,..",
      "keys of markets, as they are listed above; with a LOT unless said: the setting market", true },
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
    { "out", "FILE", "the finished label: FILE.pdf, a page a market, or FILE.png, a picture of one", false },
    { "size", "WxH", "of that label or placard in mm; 60x40", false },
    { "replace", NULL, "write over a paper that is there already", false },
    { "anyway", NULL,
      "make it although the lot waits untested or undecided, is held, is spoken against, has a label of ours "
      "that "
      "is refuted, or a laboratory cannot say",
      false },
    { NULL, NULL, NULL, false },
};

static void name_markets(struct tb_text *out)
{
    tb_text_add(out, _("Markets: "));
    for (size_t i = 0; i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);

        tb_text_addf(out, "%s%s (%s)", i ? ", " : "", m.key, m.name);
    }
    tb_text_addc(out, '.');
}

const struct tb_cmd tb_cmd_label = {
    .name = "label",
    .args = "[LOT] --market M [--text TEXT]",
    .brief = "what a label may say in each market",
    .about =
        "Reads the words of a label or an invoice and says, for each market, which clause speaks and "
        "how: a fault spoils the label, advice and notes do not. With --actual the words are held "
        "against what the cloth was found to be, under the tolerance of the market. Then the lines a "
        "label may carry, or why there are none. With a LOT the words are its declaration (or --text), "
        "the origin is the lot's, and what a laboratory found is the latest analysis on record.\n\n"
        "With --out FILE.pdf or FILE.png those lines are drawn as the label itself, as large as --size lets "
        "them: to be sewn on, stuck on a roll, or hung up as a placard. None is made of a lot that was "
        "returned or does not conform, nor for a market that is not known well enough; of one that is held, "
        "that waits and was not looked at, that is spoken against, whose label of ours a laboratory refutes, "
        "or that "
        "a laboratory could not decide only with --anyway.\n\n"
        "What a text cannot tell comes by option. Information, not legal advice: the official text and "
        "local counsel decide.",
    .also = name_markets,
    .example = "tenterbook label --market us --market eu --text \"60% cotton 40% polyester\"\n"
               "tenterbook label --market us --text \"100% cotton\" --actual \"cotton 97; rayon 3\"\n"
               "tenterbook label W26-014.02 --market gb\n"
               "tenterbook label W26-014.02 --market eu --lang de --out label.pdf --size 62x29",
    .opts = opts,
    .min = 0,
    .max = 1,
    .flags = TB_BOOK_MAYBE,
    .run = run,
};
