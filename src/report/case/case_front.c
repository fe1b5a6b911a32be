/*
 * case_front.c - page one: what was declared, what was found, how sure that is, and what is at stake. Whoever reads no further has
 * read what the rest is for.
 */
#include "report/case/case_page.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define AMOUNT 64 /* room for an amount with its money */

/* The words as received, and what was answered to them; a label of ours is not among them. */
static void declared(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_declared *came = s->of.declareds ? &s->of.declared[0] : NULL;

    if (came && s->said.said[0] && came->text[0] && !tb_story_slip(&s->of, 0) &&
        strcmp(came->text, s->said.said) != 0) {
        tb_page_pair(p, tb_tr(s->tongue, "Declared"),
                     tb_page_say(t, tb_tr(s->tongue, "\"%s\", by %s; answered later: \"%s\""), came->text,
                                 s->of.lot.supplier_name, s->said.said));
        return;
    }
    if (came && came->text[0] && s->delivery.file_name[0] && tb_story_slip(&s->of, 0) &&
        strcmp(came->text, s->said.said) != 0) { /* its file can be held beside it */
        tb_page_pair(p, tb_tr(s->tongue, "Declared"),
                     tb_page_say(t, tb_tr(s->tongue, "\"%s\", by %s; put right here from: \"%s\""),
                                 s->said.said, s->of.lot.supplier_name, came->text));
        return;
    }
    tb_page_pair(
        p, tb_tr(s->tongue, "Declared"),
        s->said.said[0]
            ? tb_page_say(t, tb_tr(s->tongue, "\"%s\", by %s"), s->said.said, s->of.lot.supplier_name)
            : tb_page_say(t, tb_tr(s->tongue, "nothing, by %s"), s->of.lot.supplier_name));
}

/* What all of it comes to, of the supplier's words. The figures of a laboratory stand in a row of their own below. */
static void concluded(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_concluded *c = &s->of.concluded;
    struct tb_text word = { 0 };
    char on[TB_PLAIN];

    tb_text_clear(t);
    if (c->by == TB_BY_LABORATORY) {
        tb_concluded_word_in(&word, s->tongue, c);
        if (c->open == TB_OPEN_DISAGREE)
            tb_text_addf(t, tb_tr(s->tongue, "Conclusion: %s"), word.s);
        else if (c->open == TB_OPEN_LABORATORY && *c->markets)
            tb_text_addf(t,
                         tb_tr(s->tongue, "Conclusion: %s, by the laboratory's result of %s; within its "
                                          "uncertainty it cannot be said"),
                         word.s, tb_tongue_date(on, s->tongue, c->on));
        else
            tb_text_addf(t, tb_tr(s->tongue, "Conclusion: %s, by the laboratory's result of %s"), word.s,
                         tb_tongue_date(on, s->tongue, c->on));
    } else {
        tb_concluded_words_add(t, s->tongue, c);
        t->s[--t->n] = '\0'; /* its line ends */
    }
    tb_page_text(p, tb_text_str(t));
    if (c->by == TB_BY_LABORATORY && c->apart)
        tb_page_text(p, tb_labs_apart_words(s->tongue));
    tb_text_free(&word);
}

/* The laboratory's figures, with their uncertainty; of each part. */
static void analyses(struct page *p, struct tb_text *t, const struct story *s)
{
    for (size_t i = 0; i < s->analyses; i++) {
        const struct tb_analysis *a = &s->analysis[i];
        char on[TB_PLAIN], u[TB_PLAIN];
        struct tb_text found = { 0 }, had = { 0 };
        const char *by = a->laboratory[0] ? a->laboratory : tb_tr(s->tongue, "a laboratory not named");

        (void)tb_tongue_date(on, s->tongue, a->analysed_on);
        (void)snprintf(u, sizeof u, "%.2g", a->u);
        tb_tongue_point(u, s->tongue);
        tb_composition_in(&found, s->tongue, a->found);
        tb_page_pair(
            p, i ? "" : tb_tr(s->tongue, "Found by a laboratory"),
            tb_page_say(
                t,
                a->report[0]
                    ? tb_tr(s->tongue, "%s (%s; standard uncertainty up to %s points; %s, %s, report %s)")
                    : tb_tr(s->tongue, "%s (%s; standard uncertainty up to %s points; %s, %s)"),
                tb_text_str(&found), tb_part_in(s->tongue, a->part), u, by, on, a->report));
        tb_case_had(&had, s, a);
        tb_page_pair(p, "", had.s);
        tb_text_free(&found);
        tb_text_free(&had);
    }
}

/* A burn measures no percentages, which is said with it. Of a cloth that fits, what burns like it is likeliest as often as not. */
static void likeliest(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_stored_verdict *v = &s->recorded;
    struct tb_text all = { 0 };

    if (s->of.concluded.by == TB_BY_LABORATORY || v->grade == TB_GRADE_FITS || v->at_odds)
        return; /* what a laboratory measured is not guessed at beside it, nor what contradicts itself */
    tb_likely_words(&all, s->tongue, v);
    if (all.n)
        tb_page_pair(
            p, tb_tr(s->tongue, "Likeliest by bench"),
            tb_page_say(t,
                        tb_tr(s->tongue, "%s; kinds of fibre: burns and bench tests measure no percentages"),
                        all.s));
    tb_text_free(&all);
}

static void how_sure(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_judged *v = tb_story_judged(s);
    const struct conformity *a = s->analyses ? &s->conform[s->analyses - 1] : NULL;
    char odds[TB_STORY_ODDS];

    if (a && a->n)
        tb_page_pair(
            p, tb_tr(s->tongue, "How sure"),
            tb_page_say(
                t,
                tb_tr(s->tongue,
                      "each answer of the laboratory's figures is given only where its probability is "
                      "at least %.0f %%"),
                100 * a->market[0].sure));
    if (v && s->recorded.at_odds && s->of.concluded.by != TB_BY_LABORATORY) {
        struct tb_conclusion odds_are;

        tb_stored_conclusion(&odds_are, &s->recorded, false);
        tb_text_clear(t);
        tb_conclusion_words(t, s->tongue, &odds_are);
        tb_page_pair(p, a && a->n ? "" : tb_tr(s->tongue, "How sure"), tb_text_str(t));
    } else if (v && !isnan(v->log_ratio) && s->of.concluded.by != TB_BY_LABORATORY) {
        tb_story_odds(odds, s->tongue, &s->recorded.bounds, v->log_ratio, 3);
        tb_page_pair(p, a && a->n ? "" : tb_tr(s->tongue, "How sure"),
                     tb_page_say(t, tb_tr(s->tongue, "verdict of the bench: %s, evidence ratio %s"),
                                 tb_tr(s->tongue, tb_grade_key(s->recorded.grade)), odds));
    }
    tb_text_clear(t);
    tb_bench_coverage(t, s->tongue, s->of.lot.bolts_burnt, s->of.lot.bolts_tested, s->of.lot.bolts);
    tb_page_pair(p, tb_tr(s->tongue, "Looked at"), tb_text_str(t));
    tb_text_clear(t);
    (void)tb_case_bounds(t, s);
    tb_page_pair(p, tb_tr(s->tongue, "What that bounds"), tb_text_str(t));
}

/* An amount with its money, where that was said. */
static const char *amount(char out[AMOUNT], enum tb_tongue to, double n, int places, const char *money)
{
    char figure[TB_PLAIN];

    (void)snprintf(out, AMOUNT, "%s%s%s", tb_tongue_plain(figure, to, n, places), *money ? " " : "", money);
    return out;
}

/* Price times quantity in the unit of the invoice, so that the figures multiply; how long that unit is stands behind them. */
static const char *value(struct tb_text *t, enum tb_tongue to, const struct tb_invoiced *in)
{
    const char *unit = in->unit;
    char price[AMOUNT], all[AMOUNT], quantity[TB_PLAIN], metres[TB_PLAIN];

    if (isnan(in->price))
        return tb_tr(to, "no price is recorded");
    (void)amount(price, to, in->price, tb_price_places(in->price), in->currency);
    if (isnan(in->value))
        return tb_page_say(t, tb_tr(to, "%s a %s; how many %s all of it is, is not known"), price, unit,
                           unit);
    (void)amount(all, to, in->value, 2, in->currency);
    (void)tb_tongue_plain(quantity, to, in->quantity, 2);
    if (isnan(in->unit_metres) || strcmp(unit, "m") == 0)
        return tb_page_say(t, tb_tr(to, "%s = %s %s at %s a %s"), all, quantity, unit, price, unit);
    (void)snprintf(metres, sizeof metres, "%g", in->unit_metres);
    tb_tongue_point(metres, to);
    return tb_page_say(t, tb_tr(to, "%s = %s %s at %s a %s (1 %s = %s m)"), all, quantity, unit, price, unit,
                       unit, metres);
}

/* As declared, since nobody measured it here; a value only where a price is recorded. */
static void stake(struct page *p, struct tb_text *t, const struct story *s)
{
    const struct tb_lot *lot = &s->of.lot;
    struct tb_lengths lengths = tb_lengths_of(lot);
    struct tb_text length = { 0 };
    char standing[TB_COUNTED];

    lengths.tenths = true;
    tb_length_words(&length, s->tongue, &lengths);
    tb_page_pair(
        p, tb_tr(s->tongue, "At stake"),
        lot->released_in_part || lot->returned_in_part || lot->held_in_part
            ? tb_page_say(t,
                          tb_tr(s->tongue,
                                "%lld bolts, %s as declared, came in; length and value are of all of them"),
                          (long long)lot->bolts, length.s)
            : tb_page_say(t,
                          tb_trn(s->tongue, "%lld bolt, %s as declared", "%lld bolts, %s as declared",
                                 (unsigned long)lot->bolts),
                          (long long)lot->bolts, length.s));
    tb_page_pair(p, tb_tr(s->tongue, "Value"), value(t, s->tongue, &s->of.invoiced));
    tb_page_pair(p, tb_tr(s->tongue, "Standing of the lot"), tb_lot_standing_words(standing, s->tongue, lot));
    tb_text_clear(t);
    tb_went_back_words(t, s->tongue, &s->of, false);
    tb_went_back_value_words(t, s->tongue, &s->of, false);
    tb_page_pair(p, "", tb_text_str(t));
    tb_text_free(&length);
}

void tb_case_front(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *s = c->story;

    tb_page_heading(p, tb_tr(s->tongue, "What was declared, and what was found"));
    concluded(p, t, s);
    declared(p, t, s);
    analyses(p, t, s);
    likeliest(p, t, s);
    how_sure(p, t, s);
    stake(p, t, s);
}
