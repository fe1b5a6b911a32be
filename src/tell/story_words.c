/* Everything the book holds about one lot, in words. */
#include "base/say.h"
#include "tenterbook/figure.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <string.h>

const char *tb_declared_origin_words(enum tb_origin_kind origin)
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
    case TB_ORIGIN_SLIP:
        return _("put right here");
    default:
        return _("the new label");
    }
}

static const char *or_dash(const char *s)
{
    return *s ? s : "-";
}

/* The least and the most of a figure that the packing list may give of a bolt; false where it gives it of none. */
static bool span(double *least, double *most, const struct tb_lot_story *s, bool mass)
{
    bool any = false;

    for (size_t i = 0; i < s->bolts; i++) {
        double v = mass ? s->bolt[i].mass_gm2 : s->bolt[i].width_cm;

        if (isnan(v))
            continue;
        *least = any && *least < v ? *least : v;
        *most = any && *most > v ? *most : v;
        any = true;
    }
    return any;
}

static void cloth_words(struct tb_text *out, const struct tb_lot_story *s)
{
    double least = 0, most = 0;

    if (span(&least, &most, s, false))
        tb_text_say(out, least < most ? N_("  width %g to %g cm\n") : N_("  width %g cm\n"), least, most);
    if (span(&least, &most, s, true))
        tb_text_say(out, least < most ? N_("  mass %g to %g g/m2\n") : N_("  mass %g g/m2\n"), least, most);
}

/* What was seen at the door, damage above all. */
static void delivery_words(struct tb_text *out, const struct tb_delivery *d)
{
    if (*d->note || *d->order_no)
        tb_text_say(out, "  note %s, order %s\n", *d->note ? d->note : "-", *d->order_no ? d->order_no : "-");
    if (*d->remark)
        tb_text_say(out, "  remark at the door: %s\n", d->remark);
}

static void draw_words(struct tb_text *out, const struct tb_lot_draw *d)
{
    const size_t drawn = d->n + d->gones;

    tb_text_addf(out,
                 _n("Drawn %s by %s from %s (%s, seed %s): %zu bolt of this lot: %s%s%s\n",
                    "Drawn %s by %s from %s (%s, seed %s): %zu bolts of this lot: %s%s%s\n", drawn),
                 d->draw.drawn_at, d->draw.drawn_by, d->draw.about, d->draw.plan, d->draw.seed, drawn,
                 d->bolts, d->n && d->gones ? ", " : "", d->gone);
    if (d->gones)
        tb_text_addf(out, _n("  void since: bolt %s\n", "  void since: bolts %s\n", d->gones), d->gone);
}

int tb_price_places(double price)
{
    return fabs(price * 100 - round(price * 100)) < 1e-6 ? 2 : 4;
}

/* In the unit of the invoice; metres stand before it, and how they come out of it. */
static void invoiced_words(struct tb_text *out, const struct tb_invoiced *in)
{
    const int places = tb_price_places(in->price);

    if (strcmp(in->unit, "m") == 0 && isnan(in->value))
        tb_text_addf(out, _(", %.*f %s a metre"), places, in->price, in->currency);
    else if (strcmp(in->unit, "m") == 0)
        tb_text_addf(out, _(", %.*f %s a metre, %.2f %s in all"), places, in->price, in->currency,
                     tb_cents(in->value), in->currency);
    else if (isnan(in->value))
        tb_text_addf(out, _("; invoiced at %.*f %s a %s"), places, in->price, in->currency, in->unit);
    else
        tb_text_addf(out, _("; invoiced: %.2f %s at %.*f %s a %s, %.2f %s in all"), in->quantity, in->unit,
                     places, in->price, in->currency, in->unit, tb_cents(in->value), in->currency);
    if (!isnan(in->unit_metres) && strcmp(in->unit, "m") != 0)
        tb_text_addf(out, _(" (1 %s = %g m)"), in->unit, in->unit_metres);
}

/* What the packing list left out is a dash: a missing origin is worth seeing. */
static void head_words(struct tb_text *out, const struct tb_lot *l, const struct tb_invoiced *in)
{
    struct tb_lengths lengths = tb_lengths_of(l);
    struct tb_text length = { 0 };
    char standing[TB_COUNTED];

    tb_text_say(out, "Lot %s: delivery %s, arrived %s from %s\n", l->ref, l->delivery_ref, l->arrived,
                l->supplier_name);
    tb_text_say(out, "  article %s, colour %s, dye lot %s, origin %s\n", or_dash(l->article),
                or_dash(l->colour), or_dash(l->dye_lot), or_dash(l->origin));
    tb_length_words(&length, TB_READER, &lengths);
    tb_text_addf(out, _n("  %lld bolt, %s", "  %lld bolts, %s", l->bolts), (long long)l->bolts, length.s);
    if (!isnan(in->price))
        invoiced_words(out, in);
    tb_text_add(out, "\n");
    tb_text_free(&length);
    if (l->voided)
        tb_text_say(out, "  void: it was recorded by mistake and counts nowhere\n");
    else
        tb_text_say(out, "  standing: %s\n", tb_lot_standing_words(standing, TB_READER, l));
}

/* Beside the standing of the lot, which is not that of these bolts. */
static void held_bolts_words(struct tb_text *out, const struct tb_bolt_standing *s, size_t n)
{
    struct tb_text numbers = { 0 };
    size_t held = 0;

    for (size_t i = 0; i < n; i++)
        if (s[i].counts && s[i].standing == TB_HELD)
            tb_text_addf(&numbers, "%s%s", held++ ? ", " : "", s[i].number);
    if (held)
        tb_text_addf(out, _n("  held by itself: bolt %s\n", "  held by themselves: bolts %s\n", held),
                     numbers.s);
    tb_text_free(&numbers);
}

/* Every declaration there was, the first one too: a dispute is about the words as they came. `slip`: a later one says that this one was typed here by mistake. */
static void declared_words(struct tb_text *out, const struct tb_declared *d, bool slip)
{
    if (slip)
        tb_text_say(out, "Declared (typed here by mistake, %s, %s): \"%s\"\n  read as: %s\n", d->at,
                    d->person, d->text, or_dash(d->reading));
    else
        tb_text_say(out, "Declared (%s, %s, %s): \"%s\"\n  read as: %s\n",
                    tb_declared_origin_words(d->origin), d->at, d->person, d->text, or_dash(d->reading));
    if (*d->why)
        tb_text_say(out, "  why: %s\n", d->why);
    for (const char *p = d->doubts; *p; p += strcspn(p, "\n"), p += *p == '\n')
        tb_text_say(out, "  doubt: %.*s\n", (int)strcspn(p, "\n"), p);
}

void tb_story_handling(enum tb_handling *out, bool *unburnable, const struct tb_lot_story *s)
{
    const struct tb_cloth_known k = { .detail = s->judgeds ? s->judged[s->judgeds - 1].detail : NULL,
                                      .burn = s->burn,
                                      .burns = s->burns,
                                      .analysis = s->analysis,
                                      .analyses = s->analyses };
    struct tb_declaration all;
    struct tb_err unread;

    *unburnable = false;
    tb_declaration_read(&all, s->lot.declared, strlen(s->lot.declared));
    for (size_t i = 0; i < s->declareds; i++)
        tb_declaration_also(&all, s->declared[i].text, strlen(s->declared[i].text));
    (void)tb_known_handling(out, &all, &k, &unread);
    if (*out != TB_HANDLING_LABORATORY && tb_known_unburnable(unburnable, &k, &unread) != TB_OK)
        *unburnable = false;
    tb_declaration_free(&all);
}

/* A verdict that cannot be read any more says so further down. */
static void handling_words(struct tb_text *out, const struct tb_lot_story *s)
{
    enum tb_handling handling;
    bool unburnable;

    tb_story_handling(&handling, &unburnable, s);
    tb_care_words(out, TB_READER, handling, "  ");
    if (unburnable)
        tb_unburnable_words(out, "  ");
}

/* How strongly, or why nothing could be weighed, and by how much of the lot. `later` is what stands in its place; NULL: it stands. */
static void judged_words(struct tb_text *out, const struct tb_judged *v, const struct tb_judged *later,
                         struct tb_arena *mem)
{
    struct tb_stored_verdict stored = { 0 };
    struct tb_told_verdict told;
    struct tb_text how = { 0 }, rests_on = { 0 };
    struct tb_err unread; /* what cannot be read any more has no reason, and a verdict all the same */

    tb_judged_told(&told, v);
    if (tb_stored_verdict_parse(&stored, v->detail, mem, &unread) == TB_OK)
        tb_text_add(&how, stored.reason);
    if (!how.n)
        tb_strength_words(&how, TB_READER, v->log_ratio, &told.bounds, stored.at_odds);
    tb_bench_coverage(&rests_on, TB_READER, v->bolts_burnt, v->bolts_tested, v->bolts);
    if (later)
        tb_text_say(out, "Verdict %s, replaced by that of %s: %s, %s; %s (%s)\n", v->judged_at,
                    later->judged_at, tb_grade_key(told.grade), how.s, rests_on.s, v->judged_by);
    else
        tb_text_say(out, "Verdict %s: %s, %s; %s (%s)\n", v->judged_at, tb_grade_key(told.grade), how.s,
                    rests_on.s, v->judged_by);
    if (!later)
        tb_bolts_words(out, &stored, "  ");
    tb_text_free(&how);
    tb_text_free(&rests_on);
}

static void standing_words(struct tb_text *out, const struct tb_standing *t)
{
    tb_text_say(out, "Standing %s: %s by %s: %s\n", t->settled_at, tb_standing_key(t->standing),
                t->settled_by, t->why);
    if (*t->new_words)
        tb_text_say(out, "  label was \"%s\", is \"%s\", goods of %s\n", t->old_words, t->new_words,
                    t->goods_of);
}

/*
 * Verdicts and decisions stay apart: what was seen never changes by what somebody decided. The sentence about advice
 * stands only where there are terms, from which a reader might conclude something. The names are those people gave;
 * who was logged in comes last.
 */
void tb_story_words(struct tb_text *out, const struct tb_lot_story *s, struct tb_arena *mem)
{
    struct tb_bench_records now = { s->burn,  s->test,  s->burns,  s->tests,
                                    s->photo, s->moved, s->photos, s->moveds };

    head_words(out, &s->lot, &s->invoiced);
    held_bolts_words(out, s->single, s->singles);
    if (!s->lot.voided) {
        tb_text_add(out, "  ");
        tb_concluded_words_add(out, TB_READER, &s->concluded);
    }
    cloth_words(out, s);
    delivery_words(out, &s->delivery);
    for (size_t i = 0; i < s->declareds; i++)
        declared_words(out, &s->declared[i], tb_story_slip(s, i) != NULL);
    handling_words(out, s);
    for (size_t i = 0; i < s->draws; i++)
        draw_words(out, &s->draw[i]);
    tb_swatches_waiting_words(out, s);
    tb_bench_words(out, &now, &s->before);
    tb_sendings_words(out, s->sending, s->sendings);
    tb_analyses_words(out, s);
    for (size_t i = 0; i < s->judgeds; i++)
        judged_words(out, &s->judged[i], i + 1 < s->judgeds ? &s->judged[i + 1] : NULL, mem);
    for (size_t i = 0; i < s->standings; i++)
        standing_words(out, &s->standing[i]);
    if (s->ground.lot && s->ground.done)
        tb_text_addf(out,
                     _n("  what a decision of %lld bolt by itself rested on is void in part since %s "
                        "(%s): see whether that "
                        "still holds, and settle that bolt again\n",
                        "  what decisions of %lld bolts by themselves rested on is void in part "
                        "since %s (%s): see whether "
                        "that still holds, and settle those bolts again\n",
                        s->ground.done),
                     (long long)s->ground.done, s->ground.since, s->ground.who);
    else if (s->ground.lot)
        tb_text_say(out,
                    "  what that rested on is void in part since %s (%s): see whether the decision still "
                    "holds, and settle the lot again\n",
                    s->ground.since, s->ground.who);
    tb_single_bolts_words(out, s->single, s->singles);
    for (size_t i = 0; i < s->joints; i++)
        tb_joint_words(out, &s->joint[i]);
    tb_amendments_words(out, TB_READER, s->amendment, s->amendments);
    tb_voidings_words(out, TB_READER, &s->gone);
    tb_disputes_words(out, &s->claim);
    tb_claim_words(out, &s->claim, &s->lot);
    if (s->claim.terms)
        tb_text_add(out, tb_no_advice_words());
    tb_circumstances_words(out, &s->written);
}
