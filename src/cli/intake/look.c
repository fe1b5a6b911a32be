/* Everything the book holds about one lot. */
#include "cli/claim/claim_say.h"
#include "tenterbook/lot_story.h"

#include <math.h>
#include <string.h>

static void print_head(FILE *out, const struct tb_lot *l)
{
    tb_say(out, "Lot %s: delivery %s, arrived %s from %s\n", l->ref, l->delivery_ref, l->arrived,
           l->supplier_name);
    tb_say(out, "  article %s, colour %s, dye lot %s, origin %s\n", *l->article ? l->article : "-",
           *l->colour ? l->colour : "-", *l->dye_lot ? l->dye_lot : "-", *l->origin ? l->origin : "-");
    (void)fprintf(out, _n("  %lld bolt, %.2f m", "  %lld bolts, %.2f m", l->bolts), (long long)l->bolts,
                  l->metres);
    if (!isnan(l->unit_price))
        tb_say(out, ", %.2f%s%s a metre, %.2f%s%s in all", l->unit_price, *l->currency ? " " : "",
               l->currency, l->unit_price * l->metres, *l->currency ? " " : "", l->currency);
    tb_say(out, "\n  standing: %s\n", tb_standing_key(l->standing));
}

/* Where the words of a declaration come from. */
static const char *origin_words(enum tb_origin_kind origin)
{
    switch (origin) {
    case TB_ORIGIN_ROW:
        return _("in the packing list");
    case TB_ORIGIN_TITLE:
        return _("above the table of the packing list");
    case TB_ORIGIN_OPTION:
        return _("said at the door");
    case TB_ORIGIN_ANSWER:
        return _("answered by the supplier");
    default:
        return _("the new label");
    }
}

static void print_declared(FILE *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->declareds; i++) {
        const struct tb_declared *d = &s->declared[i];

        tb_say(out, "Declared (%s, %s, %s): \"%s\"\n  read as: %s\n", origin_words(d->origin), d->at,
               d->person, d->text, *d->reading ? d->reading : "-");
        for (const char *p = d->doubts; *p; p += strcspn(p, "\n"), p += *p == '\n')
            tb_say(out, "  doubt: %.*s\n", (int)strcspn(p, "\n"), p);
    }
}

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

static void print_conclusions(FILE *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->judgeds; i++) {
        const struct tb_judged *v = &s->judged[i];
        struct tb_text t = { 0 };

        tb_ratio_words(&t, v->log_ratio);
        tb_text_add(&t, "; ");
        tb_bench_coverage(&t, v->bolts_burnt, v->bolts);
        tb_say(out, "Verdict %s: %s, %s (%s)\n", v->judged_at, tb_verdict_key(v->verdict), t.s, v->judged_by);
        tb_text_free(&t);
    }
    for (size_t i = 0; i < s->standings; i++) {
        const struct tb_standing *t = &s->standing[i];

        tb_say(out, "Standing %s: %s by %s: %s\n", t->settled_at, tb_standing_key(t->standing), t->settled_by,
               t->why);
        if (*t->new_words)
            tb_say(out, "  label was \"%s\", is \"%s\", goods of %s\n", t->old_words, t->new_words,
                   t->goods_of);
    }
}

static void print_claim(FILE *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->joints; i++)
        tb_print_joint(out, &s->joint[i]);
    tb_print_disputes(out, &s->claim);
    tb_print_claim(out, &s->claim, &s->lot);
    if (s->claim.terms)
        tb_print_no_advice(out);
}

/* --- JSON ------------------------------------------------------------------------------------------------------- */

#define DECLARED(member, key) TB_JSON_AS(struct tb_declared, member, key)
TB_JSON_MEMBERS(declared_members, DECLARED(text, "text"), DECLARED(reading, "reading"),
                DECLARED(doubts, "doubts"),
                TB_JSON_WORD_AS(struct tb_declared, origin, "origin", &tb_origin_words), DECLARED(at, "at"),
                DECLARED(person, "person"));
#define BOLT(member, key) TB_JSON_AS(struct tb_bolt, member, key)
TB_JSON_MEMBERS(bolt_members, BOLT(number, "number"), BOLT(metres, "metres"));
#define CUE(member, key) TB_JSON_AS(struct tb_cue_seen, member, key)
TB_JSON_MEMBERS(cue_members, CUE(cue, "cue"), CUE(seen, "seen"));
#define BURN(member, key) TB_JSON_AS(struct tb_burn, member, key)
TB_JSON_MEMBERS(burn_members, BURN(id, "burn"), BURN(tag, "swatch"),
                TB_JSON_WORD_AS(struct tb_burn, part, "part", &tb_part_words), BURN(looked, "looked"),
                BURN(burned_at, "burned_at"), BURN(recorded_at, "recorded_at"), BURN(burned_by, "burned_by"));
TB_JSON_MEMBERS(more_of_burn, BURN(bolt_number, "bolt"), BURN(note, "note"), BURN(replaces, "corrects"));
#define TEST(member, key) TB_JSON_AS(struct tb_bench_test, member, key)
TB_JSON_MEMBERS(test_members, TEST(id, "id"), TEST(tag, "swatch"), TEST(test, "test"), TEST(result, "result"),
                TEST(tested_at, "tested_at"));
#define JUDGED(member, key) TB_JSON_AS(struct tb_judged, member, key)
TB_JSON_MEMBERS(judged_members, TB_JSON_WORD_AS(struct tb_judged, verdict, "verdict", &tb_verdict_words),
                JUDGED(log_ratio, "log_ratio"), JUDGED(bolts_burnt, "bolts_burnt"), JUDGED(bolts, "bolts"),
                JUDGED(reference, "reference"), JUDGED(judged_at, "judged_at"), JUDGED(entry, "journal_row"));
#define STANDING(member, key) TB_JSON_AS(struct tb_standing, member, key)
TB_JSON_MEMBERS(standing_members,
                TB_JSON_WORD_AS(struct tb_standing, standing, "standing", &tb_standing_words),
                STANDING(why, "why"), STANDING(settled_at, "at"), STANDING(settled_by, "by"),
                STANDING(old_words, "old_words"), STANDING(new_words, "new_words"),
                STANDING(goods_of, "goods_of"));

static json_t *burn_json(const struct tb_burn *u)
{
    json_t *j = tb_json_of(burn_members, u);

    tb_json_put(j, "cues", tb_json_all(cue_members, u->cue, u->cues));
    tb_json_put(j, "typed_later", json_boolean(tb_burn_typed_later(u)));
    tb_json_add(j, more_of_burn, TB_COUNT(more_of_burn), u);
    return j;
}

static json_t *as_json(const struct tb_lot_story *s)
{
    json_t *j = tb_json_lot(&s->lot), *burns = json_array(), *joints = json_array();

    for (size_t i = 0; i < s->burns; i++)
        tb_json_push(burns, burn_json(&s->burn[i]));
    for (size_t i = 0; i < s->joints; i++)
        tb_json_push(joints, tb_json_joint(&s->joint[i]));
    tb_json_put(j, "declarations", tb_json_all(declared_members, s->declared, s->declareds));
    tb_json_put(j, "bolt_list", tb_json_all(bolt_members, s->bolt, s->bolts));
    tb_json_put(j, "burn_list", burns);
    tb_json_put(j, "test_list", tb_json_all(test_members, s->test, s->tests));
    tb_json_put(j, "verdicts", tb_json_all(judged_members, s->judged, s->judgeds));
    tb_json_put(j, "standings", tb_json_all(standing_members, s->standing, s->standings));
    tb_json_put(j, "joint_samples", joints);
    tb_json_put(j, "claim", tb_json_claim(&s->claim));
    return j;
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
        return tb_print_json(ctx, as_json(&s), err);
    print_head(ctx->out, &s.lot);
    print_declared(ctx->out, &s);
    print_bench(ctx->out, &s);
    print_conclusions(ctx->out, &s);
    print_claim(ctx->out, &s);
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
