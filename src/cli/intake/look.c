/* Everything the book holds about one lot. */
#include "cli/claim/claim_say.h"

#include <math.h>
#include <string.h>

struct story {
    struct tb_lot lot;
    struct tb_declared *declared;
    struct tb_bolt *bolt;
    struct tb_swatch *swatch;
    struct tb_burn *burn;
    struct tb_bench_test *test;
    struct tb_judged *judged;
    struct tb_standing *standing;
    struct tb_claim claim;
    struct tb_joint_sample *joint;
    size_t declareds, bolts, swatches, burns, tests, judgeds, standings, joints;
};

static tb_rc load(struct story *s, struct tb_book *b, const char *ref, struct tb_arena *mem,
                  struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];
    tb_rc rc = tb_lot_find(&s->lot, b, ref, mem, err);
    const char *id = s->lot.id;

    tb_today(today);
    if (rc != TB_OK || (rc = tb_declaration_list(&s->declared, &s->declareds, b, id, mem, err)) != TB_OK ||
        (rc = tb_bolt_list(&s->bolt, &s->bolts, b, id, mem, err)) != TB_OK ||
        (rc = tb_swatch_list(&s->swatch, &s->swatches, b, id, mem, err)) != TB_OK ||
        (rc = tb_burn_list(&s->burn, &s->burns, b, id, mem, err)) != TB_OK ||
        (rc = tb_bench_test_list(&s->test, &s->tests, b, id, mem, err)) != TB_OK ||
        (rc = tb_judged_list(&s->judged, &s->judgeds, b, id, mem, err)) != TB_OK ||
        (rc = tb_claim_of_lot(&s->claim, b, &s->lot, today, mem, err)) != TB_OK ||
        (rc = tb_joint_sample_list(&s->joint, &s->joints, b, id, mem, err)) != TB_OK)
        return rc;
    return tb_standing_list(&s->standing, &s->standings, b, id, mem, err);
}

static void print_head(FILE *out, const struct tb_lot *l)
{
    (void)fprintf(out, _("Lot %s: delivery %s, arrived %s from %s\n"), l->ref, l->delivery_ref, l->arrived,
                  l->supplier_name);
    (void)fprintf(out, _("  article %s, colour %s, dye lot %s, origin %s\n"), *l->article ? l->article : "-",
                  *l->colour ? l->colour : "-", *l->dye_lot ? l->dye_lot : "-", *l->origin ? l->origin : "-");
    (void)fprintf(out, _n("  %lld bolt, %.2f m", "  %lld bolts, %.2f m", l->bolts), (long long)l->bolts,
                  l->metres);
    if (!isnan(l->unit_price))
        (void)fprintf(out, _(", %.2f%s%s a metre, %.2f%s%s in all"), l->unit_price, *l->currency ? " " : "",
                      l->currency, l->unit_price * l->metres, *l->currency ? " " : "", l->currency);
    (void)fprintf(out, _("\n  standing: %s\n"), tb_standing_key(l->standing));
}

/* Where the words of a declaration come from. */
static const char *origin_words(const char *origin)
{
    return strcmp(origin, "row") == 0       ? _("in the packing list")
           : strcmp(origin, "title") == 0   ? _("above the table of the packing list")
           : strcmp(origin, "option") == 0  ? _("said at the door")
           : strcmp(origin, "answer") == 0  ? _("answered by the supplier")
           : strcmp(origin, "relabel") == 0 ? _("the new label")
                                            : origin;
}

static void print_declared(FILE *out, const struct story *s)
{
    for (size_t i = 0; i < s->declareds; i++) {
        const struct tb_declared *d = &s->declared[i];

        (void)fprintf(out, _("Declared (%s, %s, %s): \"%s\"\n  read as: %s\n"), origin_words(d->origin),
                      d->at, d->person, d->text, *d->reading ? d->reading : "-");
        for (const char *p = d->doubts; *p; p += strcspn(p, "\n"), p += *p == '\n')
            (void)fprintf(out, _("  doubt: %.*s\n"), (int)strcspn(p, "\n"), p);
    }
}

/* Recorded on another day than it was burned: the reader should know. */
static bool typed_later(const struct tb_burn *u)
{
    return strncmp(u->recorded_at, u->burned_at, TB_DAY_LEN) != 0;
}

static void print_burns(FILE *out, const struct story *s)
{
    for (size_t i = 0; i < s->burns; i++) {
        const struct tb_burn *u = &s->burn[i];

        (void)fprintf(out, _("Burn %s: swatch %s, %s of bolt %s, by %s at %s%s\n"), u->id, u->tag, u->part,
                      u->bolt_number, u->burned_by, u->burned_at,
                      typed_later(u) ? _(" (typed up later)") : "");
        (void)fputs("  ", out);
        for (size_t k = 0; k < u->cues; k++)
            (void)fprintf(out, "%s%s%s", k ? ", " : "", u->cue[k].seen ? "" : _("not "), u->cue[k].cue);
        (void)fprintf(out, _("%slooked at: %s\n"), u->cues ? "; " : "", u->looked);
        if (*u->note)
            (void)fprintf(out, "  %s\n", u->note);
    }
    for (size_t i = 0; i < s->tests; i++)
        (void)fprintf(out, _("Test %s: swatch %s, %s: %s, by %s at %s\n"), s->test[i].id, s->test[i].tag,
                      s->test[i].test, s->test[i].result, s->test[i].tested_by, s->test[i].tested_at);
}

static void print_conclusions(FILE *out, const struct story *s)
{
    for (size_t i = 0; i < s->judgeds; i++) {
        const struct tb_judged *v = &s->judged[i];
        struct tb_text t = { 0 };

        tb_ratio_words(&t, v->log_ratio);
        tb_text_add(&t, "; ");
        tb_bench_coverage(&t, v->bolts_burnt, v->bolts);
        (void)fprintf(out, _("Verdict %s: %s, %s (%s)\n"), v->judged_at, tb_verdict_key(v->verdict), t.s,
                      v->judged_by);
        tb_text_free(&t);
    }
    for (size_t i = 0; i < s->standings; i++) {
        const struct tb_standing *t = &s->standing[i];

        (void)fprintf(out, _("Standing %s: %s by %s: %s\n"), t->settled_at, tb_standing_key(t->standing),
                      t->settled_by, t->why);
        if (*t->new_words)
            (void)fprintf(out, _("  label was \"%s\", is \"%s\", goods of %s\n"), t->old_words, t->new_words,
                          t->goods_of);
    }
}

static void print_claim(FILE *out, const struct story *s)
{
    for (size_t i = 0; i < s->joints; i++)
        tb_print_joint(out, &s->joint[i]);
    tb_print_disputes(out, &s->claim);
    tb_print_claim(out, &s->claim, &s->lot);
    if (s->claim.terms)
        tb_print_no_advice(out);
}

static json_t *burn_json(const struct tb_burn *u)
{
    json_t *cues = json_array(), *j;

    for (size_t k = 0; k < u->cues; k++)
        (void)json_array_append_new(cues,
                                    json_pack("{s:s, s:b}", "cue", u->cue[k].cue, "seen", u->cue[k].seen));
    j = json_pack("{s:s, s:s, s:s, s:s, s:s, s:s, s:s, s:o, s:b}", "burn", u->id, "swatch", u->tag, "part",
                  u->part, "looked", u->looked, "burned_at", u->burned_at, "recorded_at", u->recorded_at,
                  "burned_by", u->burned_by, "cues", cues, "typed_later", typed_later(u));
    (void)json_object_set_new(j, "bolt", tb_json_text(u->bolt_number));
    (void)json_object_set_new(j, "note", tb_json_text(u->note));
    (void)json_object_set_new(j, "corrects", tb_json_text(u->replaces));
    return j;
}

static json_t *as_json(const struct story *s)
{
    json_t *j = tb_json_lot(&s->lot), *list;

    (void)json_object_set_new(j, "declarations", list = json_array());
    for (size_t i = 0; i < s->declareds; i++)
        (void)json_array_append_new(
            list, json_pack("{s:o, s:o, s:o, s:s, s:s, s:o}", "text", tb_json_text(s->declared[i].text),
                            "reading", tb_json_text(s->declared[i].reading), "doubts",
                            tb_json_text(s->declared[i].doubts), "origin", s->declared[i].origin, "at",
                            s->declared[i].at, "person", tb_json_text(s->declared[i].person)));
    (void)json_object_set_new(j, "bolt_list", list = json_array());
    for (size_t i = 0; i < s->bolts; i++)
        (void)json_array_append_new(list, json_pack("{s:o, s:f}", "number", tb_json_text(s->bolt[i].number),
                                                    "metres", s->bolt[i].metres));
    (void)json_object_set_new(j, "burn_list", list = json_array());
    for (size_t i = 0; i < s->burns; i++)
        (void)json_array_append_new(list, burn_json(&s->burn[i]));
    (void)json_object_set_new(j, "test_list", list = json_array());
    for (size_t i = 0; i < s->tests; i++)
        (void)json_array_append_new(list,
                                    json_pack("{s:s, s:s, s:s, s:s, s:s}", "id", s->test[i].id, "swatch",
                                              s->test[i].tag, "test", s->test[i].test, "result",
                                              s->test[i].result, "tested_at", s->test[i].tested_at));
    (void)json_object_set_new(j, "verdicts", list = json_array());
    for (size_t i = 0; i < s->judgeds; i++)
        (void)json_array_append_new(
            list, json_pack("{s:s, s:f, s:I, s:I, s:s, s:s, s:I}", "verdict",
                            tb_verdict_key(s->judged[i].verdict), "log_ratio", s->judged[i].log_ratio,
                            "bolts_burnt", (json_int_t)s->judged[i].bolts_burnt, "bolts",
                            (json_int_t)s->judged[i].bolts, "reference", s->judged[i].reference, "judged_at",
                            s->judged[i].judged_at, "journal_row", (json_int_t)s->judged[i].entry));
    (void)json_object_set_new(j, "standings", list = json_array());
    for (size_t i = 0; i < s->standings; i++)
        (void)json_array_append_new(
            list, json_pack("{s:s, s:o, s:s, s:o, s:o, s:o, s:o}", "standing",
                            tb_standing_key(s->standing[i].standing), "why", tb_json_text(s->standing[i].why),
                            "at", s->standing[i].settled_at, "by", tb_json_text(s->standing[i].settled_by),
                            "old_words", tb_json_text(s->standing[i].old_words), "new_words",
                            tb_json_text(s->standing[i].new_words), "goods_of",
                            tb_json_text(s->standing[i].goods_of)));
    (void)json_object_set_new(j, "joint_samples", list = json_array());
    for (size_t i = 0; i < s->joints; i++)
        (void)json_array_append_new(list, tb_json_joint(&s->joint[i]));
    (void)json_object_set_new(j, "claim", tb_json_claim(&s->claim));
    return j;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct story s = { 0 };
    struct tb_arena mem = { 0 };
    tb_rc rc = load(&s, ctx->book, ctx->argv[0], &mem, err);

    if (rc == TB_OK && ctx->json) {
        rc = tb_print_json(ctx, as_json(&s), err);
    } else if (rc == TB_OK) {
        print_head(ctx->out, &s.lot);
        print_declared(ctx->out, &s);
        print_burns(ctx->out, &s);
        print_conclusions(ctx->out, &s);
        print_claim(ctx->out, &s);
    }
    tb_arena_free(&mem);
    return rc;
}

const struct tb_cmd tb_cmd_look = {
    .name = "look",
    .args = "LOT",
    .brief = "show everything the book holds about a lot",
    .about =
        "Shows a lot, found by its reference or by the number of one of its bolts: what was declared and how "
        "it was "
        "read, every burn and bench test, the verdicts, the standings, joint samples and disputes, each with "
        "its moment and "
        "person, and by when the supplier must be told that the goods are not as declared.",
    .example = "tenterbook look W26-014.02\ntenterbook look 00412",
    .min = 1,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
