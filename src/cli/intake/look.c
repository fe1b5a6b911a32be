/* Everything the book holds about one lot, or one swatch. */
#include "cli/claim/claim_say.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/stored_verdict.h"

#include <math.h>
#include <string.h>

/* What the packing list left out is a dash: a missing origin is worth seeing. */
static void print_head(FILE *out, const struct tb_lot *l)
{
    tb_say(out, "Lot %s: delivery %s, arrived %s from %s\n", l->ref, l->delivery_ref, l->arrived,
           l->supplier_name);
    tb_say(out, "  article %s, colour %s, dye lot %s, origin %s\n", *l->article ? l->article : "-",
           *l->colour ? l->colour : "-", *l->dye_lot ? l->dye_lot : "-", *l->origin ? l->origin : "-");
    if (isnan(l->unit_price))
        (void)fprintf(out, _n("  %lld bolt, %.2f m\n", "  %lld bolts, %.2f m\n", l->bolts),
                      (long long)l->bolts, l->metres);
    else
        (void)fprintf(out,
                      _n("  %lld bolt, %.2f m, %.2f %s a metre, %.2f %s in all\n",
                         "  %lld bolts, %.2f m, %.2f %s a metre, %.2f %s in all\n", l->bolts),
                      (long long)l->bolts, l->metres, l->unit_price, l->currency, l->unit_price * l->metres,
                      l->currency);
    tb_say(out, "  standing: %s\n", tb_standing_key(l->standing));
}

/* Every declaration there was, the first one too: a dispute is about the words as they came. */
static void print_declared(FILE *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->declareds; i++) {
        const struct tb_declared *d = &s->declared[i];

        tb_say(out, "Declared (%s, %s, %s): \"%s\"\n  read as: %s\n", tb_declared_origin_words(d->origin),
               d->at, d->person, d->text, *d->reading ? d->reading : "-");
        if (*d->why)
            tb_say(out, "  why: %s\n", d->why);
        for (const char *p = d->doubts; *p; p += strcspn(p, "\n"), p += *p == '\n')
            tb_say(out, "  doubt: %.*s\n", (int)strcspn(p, "\n"), p);
    }
}

/* What was cut, burnt and tested, and what laboratories found. */
static void print_bench(FILE *out, const struct tb_lot_story *s)
{
    struct tb_bench_records now = { s->burn, s->test, s->burns, s->tests };
    struct tb_text t = { 0 };

    tb_swatches_waiting_words(&t, s);
    tb_bench_words(&t, &now, &s->before);
    tb_analyses_words(&t, s);
    (void)fputs(tb_text_str(&t), out);
    tb_text_free(&t);
}

/* How strongly, or why nothing could be weighed, and by how much of the lot. */
static void print_judged(FILE *out, const struct tb_judged *v, struct tb_arena *mem)
{
    struct tb_stored_verdict stored = { 0 };
    struct tb_text how = { 0 }, rests_on = { 0 };
    struct tb_err unread; /* what cannot be read any more has no reason, and a verdict all the same */

    if (isnan(v->log_ratio) && tb_stored_verdict_parse(&stored, v->detail, mem, &unread) == TB_OK)
        tb_text_add(&how, stored.reason);
    if (!how.n)
        tb_ratio_words(&how, v->log_ratio);
    tb_bench_coverage(&rests_on, v->bolts_burnt, v->bolts_tested, v->bolts);
    tb_say(out, "Verdict %s: %s, %s; %s (%s)\n", v->judged_at, tb_verdict_key(v->verdict), how.s, rests_on.s,
           v->judged_by);
    tb_text_free(&how);
    tb_text_free(&rests_on);
}

/* Verdicts and decisions stay apart: what was seen never changes by what somebody decided. */
static void print_conclusions(FILE *out, const struct tb_lot_story *s, struct tb_arena *mem)
{
    for (size_t i = 0; i < s->judgeds; i++)
        print_judged(out, &s->judged[i], mem);
    for (size_t i = 0; i < s->standings; i++) {
        const struct tb_standing *t = &s->standing[i];

        tb_say(out, "Standing %s: %s by %s: %s\n", t->settled_at, tb_standing_key(t->standing), t->settled_by,
               t->why);
        if (*t->new_words)
            tb_say(out, "  label was \"%s\", is \"%s\", goods of %s\n", t->old_words, t->new_words,
                   t->goods_of);
    }
}

/* The sentence about advice stands only where there are terms, from which a reader might conclude something. */
static void print_claim(FILE *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->joints; i++)
        tb_print_joint(out, &s->joint[i]);
    tb_print_disputes(out, &s->claim);
    tb_print_claim(out, &s->claim, &s->lot);
    if (s->claim.terms)
        tb_print_no_advice(out);
}

/* The names above are those people gave; beside them, who was logged in. */
static void print_written(FILE *out, const struct tb_lot_story *s)
{
    struct tb_text t = { 0 };

    tb_circumstances_words(&t, &s->written);
    (void)fputs(tb_text_str(&t), out);
    tb_text_free(&t);
}

static tb_rc show_lot(struct tb_ctx *ctx, const char *ref, struct tb_err *err)
{
    struct tb_lot_story s;
    char today[TB_DAY_LEN + 1];
    tb_rc rc;

    tb_today(today);
    if ((rc = tb_lot_story_read(&s, ctx->book, ref, today, &ctx->mem, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_story(&s), err);
    print_head(ctx->out, &s.lot);
    print_declared(ctx->out, &s);
    print_bench(ctx->out, &s);
    print_conclusions(ctx->out, &s, &ctx->mem);
    print_claim(ctx->out, &s);
    print_written(ctx->out, &s);
    return TB_OK;
}

static tb_rc show_swatch(struct tb_ctx *ctx, const char *tag, struct tb_err *err)
{
    struct tb_swatch_story s;
    struct tb_text t = { 0 };
    tb_rc rc = tb_swatch_story_read(&s, ctx->book, tag, &ctx->mem, err);

    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no lot, no bolt and no swatch %s in this book", tag);
    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_swatch_story(&s), err);
    tb_swatch_story_words(&t, &s);
    (void)fputs(tb_text_str(&t), ctx->out);
    tb_text_free(&t);
    return TB_OK;
}

static tb_rc list_known(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *const head[] = { _("SWATCH"), _("KNOWN CLOTH"), _("CUT"), _("BY"), _("KEPT") };
    struct tb_swatch *s;
    struct tb_table t;
    size_t n;
    tb_rc rc = tb_swatch_list(&s, &n, ctx->book, NULL, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_swatches(s, n), err);
    if (!n) {
        tb_say(ctx->out, "There is no known cloth in this book.\n");
        return TB_OK;
    }
    tb_table_head(&t, head, TB_COUNT(head));
    for (size_t i = 0; i < n; i++) {
        tb_table_texts(&t, s[i].tag, s[i].known);
        tb_table_cell(&t, "%.*s", TB_DAY_LEN, s[i].cut_at);
        tb_table_texts(&t, s[i].cut_by, s[i].kept);
    }
    tb_table_print(&t, ctx->out, "lllll", 44);
    return TB_OK;
}

/* The number of a bolt may look like a tag: lots and bolts come first, as they always did. */
static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *what = ctx->argc ? ctx->argv[0] : NULL;
    bool known = tb_opt_on(ctx, "known");
    struct tb_lot lot;
    tb_rc rc;

    if (known == (what != NULL))
        return tb_misuse(err, "look takes a lot, a bolt or a swatch, or --known");
    if (known)
        return list_known(ctx, err);
    rc = tb_lot_find(&lot, ctx->book, what, &ctx->mem, err);
    if (rc == TB_ENOTFOUND)
        return show_swatch(ctx, what, err);
    return rc == TB_OK ? show_lot(ctx, what, err) : rc;
}

static const struct tb_opt opts[] = {
    { "known", NULL, "list the swatches of known cloth", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_look = {
    .name = "look",
    .args = "LOT | BOLT | SWATCH | --known",
    .brief = "show everything the book holds about a lot or a swatch",
    .about = "Shows a lot, found by its reference or by the number of one of its bolts: what was declared "
             "and how it was read, swatches that were cut and neither burnt nor tested, every burn and bench "
             "test, what laboratories found, the verdicts, the standings, joint samples and disputes, each "
             "with its moment and person, and by when the supplier must be told that the goods are not as "
             "declared. A record that was corrected follows the one that stands in its place.\n\n"
             "A swatch is found by the number on its tag: where it was cut, and what was done with it. "
             "--known lists the swatches of known cloth.",
    .example = "tenterbook look W26-014.02\ntenterbook look 00412\ntenterbook look W26-014.02.01\n"
               "tenterbook look --known",
    .opts = opts,
    .min = 0,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
