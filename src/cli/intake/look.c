/* Everything the book holds about one lot. */
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

/* The channels that were looked at are told apart from what was seen: nothing seen there is a finding too. */
static void print_burn(FILE *out, const struct tb_burn *u)
{
    struct tb_text cues = { 0 };

    tb_say(out, "Burn %s: swatch %s, %s of bolt %s, by %s at %s%s\n", u->id, u->tag, tb_part_key(u->part),
           u->bolt_number, u->burned_by, u->burned_at, tb_burn_typed_later(u) ? _(" (typed up later)") : "");
    for (size_t k = 0; k < u->cues; k++)
        tb_part(&cues, u->cue[k].seen ? "%s" : N_("not %s"), u->cue[k].cue);
    tb_say(out, "  %s%slooked at: %s\n", tb_text_str(&cues), u->cues ? "; " : "", u->looked);
    if (*u->note)
        (void)fprintf(out, "  %s\n", u->note);
    tb_text_free(&cues);
}

static void print_bench(FILE *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->burns; i++)
        print_burn(out, &s->burn[i]);
    for (size_t i = 0; i < s->tests; i++)
        tb_say(out, "Test %s: swatch %s, %s: %s, by %s at %s\n", s->test[i].id, s->test[i].tag,
               s->test[i].test, s->test[i].result, s->test[i].tested_by, s->test[i].tested_at);
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

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_lot_story s;
    char today[TB_DAY_LEN + 1];
    tb_rc rc;

    tb_today(today);
    if ((rc = tb_lot_story_read(&s, ctx->book, ctx->argv[0], today, &ctx->mem, err)) != TB_OK)
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

const struct tb_cmd tb_cmd_look = {
    .name = "look",
    .args = "LOT",
    .brief = "show everything the book holds about a lot",
    .about = "Shows a lot, found by its reference or by the number of one of its bolts: what was declared "
             "and how it was read, every burn and bench test, the verdicts, the standings, joint samples and "
             "disputes, each with its moment and person, and by when the supplier must be told that the "
             "goods are not as declared.",
    .example = "tenterbook look W26-014.02\ntenterbook look 00412",
    .min = 1,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
