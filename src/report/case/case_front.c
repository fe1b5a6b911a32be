/*
 * case_front.c - page one: what was declared, what was found, how sure that is, and what is at stake. Whoever reads no further has
 * read what the rest is for.
 */
#include "report/case/case_page.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define AMOUNT 64 /* room for an amount with its money */

/* The words that count, as received; a label of ours is not among them. */
static void declared(struct page *p, struct tb_text *t, const struct story *s)
{
    tb_page_pair(p, _("Declared"),
                 s->said.said[0] ? tb_page_say(t, _("\"%s\", by %s"), s->said.said, s->of.lot.supplier_name)
                                 : tb_page_say(t, _("nothing, by %s"), s->of.lot.supplier_name));
}

/* What all of it comes to, of the supplier's words. The figures of a laboratory stand in a row of their own below. */
static void concluded(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_concluded *c = &s->of.concluded;
    struct tb_text markets = { 0 };

    tb_text_clear(t);
    if (c->by == TB_BY_LABORATORY) {
        tb_markets_words(&markets, c->markets);
        tb_text_addf(t, _("Conclusion: %s%s, by the laboratory's result of %s"),
                     tb_word(&tb_concluded_words, (int)c->kind), tb_text_str(&markets), c->on);
    } else {
        tb_concluded_words_add(t, c);
        t->s[--t->n] = '\0'; /* its line ends */
    }
    tb_page_text(p, tb_text_str(t));
    tb_text_free(&markets);
}

/* The laboratory's figures, with their uncertainty; of each part. */
static void analyses(struct page *p, struct tb_text *t, const struct story *s)
{
    for (size_t i = 0; i < s->analyses; i++) {
        const struct tb_analysis *a = &s->analysis[i];
        const char *by = a->laboratory[0] ? a->laboratory : _("a laboratory not named");

        tb_page_pair(p, i ? "" : _("Found by a laboratory"),
                     tb_page_say(t,
                                 a->report[0]
                                     ? _("%s (%s; standard uncertainty up to %.2g points; %s, %s, report %s)")
                                     : _("%s (%s; standard uncertainty up to %.2g points; %s, %s)"),
                                 a->found, tb_part_key(a->part), a->u, by, a->analysed_on, a->report));
    }
}

/* "cotton 60 %, polyester 40 %" */
static void shares(struct tb_text *t, const struct tb_stored_likely *l)
{
    for (size_t i = 0; i < l->n; i++) {
        int fibre = tb_fibre_by_key(l->fibre[i].fibre);

        tb_text_addf(t, "%s%s %.0f %%", i ? ", " : "",
                     fibre >= 0 ? tb_fibre_at(fibre)->name : l->fibre[i].fibre, l->fibre[i].percent);
    }
}

/* The likeliest of each part, with its chance; a burn measures no percentages, which is said with it. */
static void likeliest(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_stored_verdict *v = &s->recorded;

    tb_text_clear(t);
    for (size_t i = 0; i < v->n_likely; i++) {
        if (i && v->likely[i].part == v->likely[i - 1].part)
            continue;
        tb_text_add(t, t->n ? "; " : "");
        if (v->likely[i].part != TB_PART_WHOLE)
            tb_text_addf(t, "%s: ", tb_part_key(v->likely[i].part));
        shares(t, &v->likely[i]);
        tb_text_addf(t, _(" (%.0f in 100)"), 100 * v->likely[i].probability);
    }
    if (!t->n)
        return;
    tb_text_add(t, _("; kinds of fibre: burns and bench tests measure no percentages"));
    tb_page_pair(p, _("Likeliest by bench"), t->s);
}

static void how_sure(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_judged *v = tb_story_judged(s);
    const struct conformity *a = s->analyses ? &s->conform[s->analyses - 1] : NULL;
    char odds[TB_STORY_ODDS];

    if (a && a->n)
        tb_page_pair(
            p, _("How sure"),
            tb_page_say(t,
                        _("each answer of the laboratory's figures is given only where its probability is "
                          "at least %.0f %%"),
                        100 * a->market[0].sure));
    if (v && !isnan(v->log_ratio)) {
        tb_story_odds(odds, &s->recorded.bounds, v->log_ratio, 3);
        tb_page_pair(p, a && a->n ? "" : _("How sure"),
                     tb_page_say(t, _("verdict of the bench: %s, evidence ratio %s"),
                                 tb_grade_key(s->recorded.grade), odds));
    }
    tb_text_clear(t);
    tb_bench_coverage(t, s->of.lot.bolts_burnt, s->of.lot.bolts_tested, s->of.lot.bolts);
    tb_page_pair(p, _("Looked at"), tb_text_str(t));
    tb_text_clear(t);
    (void)tb_case_bounds(t, s);
    tb_page_pair(p, _("What that bounds"), tb_text_str(t));
}

/* An amount with its money, where that was said. */
static const char *amount(char out[AMOUNT], double n, int places, const char *money)
{
    (void)snprintf(out, AMOUNT, "%.*f%s%s", places, n, *money ? " " : "", money);
    return out;
}

/* Price times quantity in the unit of the invoice, so that the figures multiply; how long that unit is stands behind them. */
static const char *value(struct tb_text *t, const struct tb_invoiced *in)
{
    const char *unit = in->unit;
    char price[AMOUNT], all[AMOUNT];

    if (isnan(in->price))
        return _("no price is recorded");
    (void)amount(price, in->price, tb_price_places(in->price), in->currency);
    if (isnan(in->value))
        return tb_page_say(t, _("%s a %s; how many %s all of it is, is not known"), price, unit, unit);
    (void)amount(all, in->value, 2, in->currency);
    if (isnan(in->unit_metres) || strcmp(unit, "m") == 0)
        return tb_page_say(t, _("%s = %.2f %s at %s a %s"), all, in->quantity, unit, price, unit);
    return tb_page_say(t, _("%s = %.2f %s at %s a %s (1 %s = %g m)"), all, in->quantity, unit, price, unit,
                       unit, in->unit_metres);
}

/* As declared, since nobody measured it here; a value only where a price is recorded. */
static void stake(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_lot *lot = &s->of.lot;
    struct tb_lengths lengths = tb_lengths_of(lot);
    struct tb_text length = { 0 };
    char standing[TB_COUNTED];

    lengths.tenths = true;
    tb_length_words(&length, &lengths);
    tb_page_pair(
        p, _("At stake"),
        lot->released_in_part || lot->returned_in_part || lot->held_in_part
            ? tb_page_say(t, _("%lld bolts, %s as declared, came in; length and value are of all of them"),
                          (long long)lot->bolts, length.s)
            : tb_page_say(t, _n("%lld bolt, %s as declared", "%lld bolts, %s as declared", lot->bolts),
                          (long long)lot->bolts, length.s));
    tb_page_pair(p, _("Value"), value(t, &s->of.invoiced));
    tb_page_pair(p, _("Standing of the lot"), tb_lot_standing_words(standing, lot));
    tb_text_free(&length);
}

void tb_case_front(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *s = c->story;

    tb_page_heading(p, _("What was declared, and what was found"));
    concluded(p, t, s);
    declared(p, t, s);
    analyses(p, t, s);
    likeliest(p, t, s);
    how_sure(p, t, s);
    stake(p, t, s);
}
