/* names: names of fibres and words of a label, taken over from a saved copy of the law in a language. */
#include "tenterbook/names.h"
#include "cli/show.h"
#include "terminal/typed.h"

#include <stdlib.h>
#include <string.h>

/* How a word of the copy stands to what was held until now. */
static const char *beside(const struct tb_law_word *w)
{
    if (!*w->held)
        return N_("new");
    return strcmp(w->held, w->text) == 0 ? N_("the same") : N_("another word");
}

static const char *fibre_name(const char *key)
{
    return tb_fibre_at(tb_fibre_by_key(key))->name;
}

static const char *means(const struct tb_law_word *w)
{
    return w->phrase ? w->key : fibre_name(w->key);
}

static bool has_articles(const struct tb_names *n)
{
    size_t i = 0;

    while (i < n->words && !n->word[i].phrase)
        i++;
    return i < n->words;
}

/* What is not there is not taken over, and stays from memory: whoever says yes knows it. */
static void show_missing(struct tb_ctx *ctx, const struct tb_names *n)
{
    int row[TB_LAW_ROWS_MOST];
    size_t rows = tb_law_copy_missing(row, n->word, n->words, n->market);

    if (rows)
        tb_say(ctx->out, "No name was found in the copy for these rows of the annex:");
    for (size_t i = 0; i < rows; i++)
        fprintf(ctx->out, "%s %d", i ? "," : "", row[i]);
    if (rows)
        fprintf(ctx->out, "\n");
    if (!has_articles(n))
        tb_say(ctx->out, "No words of Articles 7 to 12 were found between quotation marks in the copy: "
                         "\"other fibres\" and the like "
                         "stay as they are held.\n");
}

static void show(struct tb_ctx *ctx, const struct tb_names *n)
{
    static const char *const head[] = { "where", "means", "in the copy", "held until now", "", "" };
    struct tb_table t;

    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < n->words; i++) {
        const struct tb_law_word *w = &n->word[i];

        tb_table_cell(&t, w->phrase ? "Art. %d" : "no. %d", w->number);
        tb_table_texts(&t, means(w), w->text, w->held, w->status,
                       w->other ? tb_arena_printf(&ctx->mem, _("the word for %s"), fibre_name(w->other))
                                : _(beside(w)));
    }
    tb_table_print(&t, ctx->out, "llllll", 60);
    show_missing(ctx, n);
}

static json_t *json_of(const struct tb_names *n, size_t kept)
{
    json_t *words = json_array(), *missing = json_array();
    int row[TB_LAW_ROWS_MOST];
    size_t rows = tb_law_copy_missing(row, n->word, n->words, n->market);

    for (size_t i = 0; i < rows; i++)
        tb_json_push(missing, json_integer(row[i]));
    for (size_t i = 0; i < n->words; i++) {
        const struct tb_law_word *w = &n->word[i];

        tb_json_push(words, json_pack("{s:s, s:s, s:i, s:o, s:o, s:s, s:s?}", "key", w->key, "in",
                                      w->phrase ? "article" : "annex", "number", w->number, "text",
                                      tb_json_text(w->text), "held", tb_json_text(w->held), "status",
                                      w->status, "word_of", w->other));
    }
    return json_pack("{s:s, s:s, s:s, s:o, s:o, s:b, s:I}", "market", n->market, "language", n->lang,
                     "digest", n->digest, "words", words, "rows_without_name", missing, "articles",
                     has_articles(n), "kept", (json_int_t)kept);
}

static tb_rc read_without(struct tb_names_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *word;
    int *number;
    size_t n = 0;

    while (tb_opt_nth(ctx, "without", n))
        n++;
    number = tb_arena_alloc(&ctx->mem, (n + 1) * sizeof *number);
    r->without = number;
    for (r->withouts = 0; (word = tb_opt_nth(ctx, "without", r->withouts)) != NULL; r->withouts++) {
        char *end;
        long v = strtol(word, &end, 10);

        if (*end || !*word || v < 1 || v > 99)
            return tb_fail(err, TB_EINVAL, "--without is '%.20s'; it takes the number of a row", word);
        number[r->withouts] = (int)v;
    }
    return TB_OK;
}

/* A person looks at the words first: at a terminal it is asked, elsewhere --yes says that somebody did. */
static bool agreed(struct tb_ctx *ctx)
{
    char *line;
    bool yes;

    if (tb_opt_on(ctx, "yes"))
        return true;
    if (ctx->json || !tb_at_terminal()) {
        tb_say(stderr,
               "Nothing was kept. Read the words beside those held until now; --yes then keeps them.\n");
        return false;
    }
    tb_say(ctx->out, "Keep the words of the copy and print them from now on? y does, Enter leaves it.\n> ");
    line = tb_typed(ctx->out);
    yes = line && (*line == 'y' || *line == 'Y');
    free(line);
    return yes;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_names names;
    struct tb_names_request r = { .names = &names };
    struct tb_names_outcome done = { 0 };
    const char *market = tb_opt(ctx, "market"), *lang = tb_opt(ctx, "language");
    tb_rc rc;

    if (!market || !lang)
        return tb_misuse(err, "names needs --market and --language");
    if ((rc = read_without(&r, ctx, err)) != TB_OK)
        return rc;
    if ((rc = tb_names_read(&names, market, lang, ctx->argv[0], &ctx->mem, err)) != TB_OK)
        return tb_within(err, rc, "%s", ctx->argv[0]);
    if (!ctx->json)
        show(ctx, &names);
    if (agreed(ctx)) {
        if ((rc = tb_act_names(&done, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
            return rc;
        if (!ctx->json)
            tb_say(ctx->out, "Kept: %zu words, from the copy with SHA-256 %s.\n", done.kept, names.digest);
    }
    return ctx->json ? tb_print_json(ctx, json_of(&names, done.kept), err) : TB_OK;
}

static const struct tb_opt opts[] = {
    { "market", "M", "key of the market whose law it is: eu", false },
    { "language", "L", "language of the copy: pl, de, ...", false },
    { "without", "N", "the word of this row of the annex is not taken over", true },
    { "yes", NULL, "somebody has read the words: keep them", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_names = {
    .name = "names",
    .args = "FILE --market M --language L [--without N] [--yes]",
    .brief = "take names for labels from a saved copy of the law",
    .about = "Reads a saved copy (HTML or text, UTF-8) of the consolidated Regulation (EU) 1007/2011 in one "
             "language, "
             "finds the rows of Annex I by number and the words between quotation marks in Articles 7 to 12, "
             "and shows "
             "them beside those that were held until now, with how far these were to be trusted. After a "
             "person's yes "
             "the words of the copy are printed on labels in that language, without --unchecked; the journal "
             "has the "
             "digest of the copy. A word that the copy has otherwise than it should be is left out "
             "(--without), or "
             "forgotten later: tenterbook set name:eu:pl:cotton \"\".",
    .example = "tenterbook names --market eu --language pl regulation-pl.html\n"
               "tenterbook names --market eu --language pl regulation-pl.html --without 23 --yes",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
