/* conclude.c - what a verdict is, in sentences: its grade, its limit, and what it means for lots like this one. */
#include "evidence/conclude.h"

#include "base/say.h"

#include <math.h>
#include <stdio.h>

char *tb_verdict_rule(const struct tb_verdict *v)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t,
                 "The evidence ratio says how much likelier these observations are if the declared fibres "
                 "are there than if anything "
                 "else is that burns differently. It is never taken to be below 1/%.0f or above %.0f: the "
                 "tests of the model carry no "
                 "more. A look is what one person saw in one channel. Below 1/%.3g, where more than one look "
                 "says so, the burn "
                 "contradicts the declaration; else below 1/%.3g it speaks against it and asks for a test; "
                 "above %.3g, where more "
                 "than one look says so, it fits; otherwise it is undecided.",
                 exp(-v->bounds.low), exp(v->bounds.high), 1 / v->contradicts_below,
                 1 / fmax(v->speaks_below, v->contradicts_below), v->fits_above);
    if (!v->reason && v->looks < TB_FULL_LOOKS)
        tb_text_addf(&t,
                     " The limits are those of burns with as few looks as this one; burns with more are "
                     "taken as far as "
                     "1/%.0f and %.0f.",
                     exp(-v->full_bounds.low), exp(v->full_bounds.high));
    return tb_text_take(&t);
}

bool tb_verdict_at_limit(const struct tb_verdict *v)
{
    return v->log_ratio <= v->bounds.low || v->log_ratio >= v->bounds.high;
}

/* A figure below ten has a digit behind the point: "7.1", "40". */
static const char *times(char text[40], double ratio)
{
    (void)snprintf(text, 40, ratio < 10 ? "%.1f" : "%.0f", ratio);
    return text;
}

/* The words say which way the ratio points, so that nobody has to read a fraction. */
static void say_grade(struct tb_text *out, const struct tb_verdict *v)
{
    bool limit = tb_verdict_at_limit(v);
    char text[TB_IN_HUNDRED];

    (void)times(text, v->ratio < 1 ? 1 / v->ratio : v->ratio);
    if (v->grade == TB_GRADE_CONTRADICTS)
        tb_text_say(out,
                    limit
                        ? "The burn contradicts the declaration: what was seen is at least %s times likelier "
                          "from something else that burns differently, the limit of what was tested.\n"
                        : "The burn contradicts the declaration: what was seen is %s times likelier from "
                          "something else that burns differently.\n",
                    text);
    else if (v->grade == TB_GRADE_SPEAKS_AGAINST)
        tb_text_say(
            out,
            limit ? "The burn speaks against the declaration: what was seen is at least %s times likelier "
                    "from something else that burns differently, the limit of what was tested.\n"
                  : "The burn speaks against the declaration: what was seen is %s times likelier from "
                    "something else that burns differently.\n",
            text);
    else if (v->grade == TB_GRADE_FITS)
        tb_text_say(
            out,
            limit ? "The burn fits the declaration: what was seen is at least %s times likelier from the "
                    "declared "
                    "fibres than from anything that burns differently, the limit of what was tested. That is "
                    "not a proof of it.\n"
                  : "The burn fits the declaration: what was seen is %s times likelier from the declared "
                    "fibres "
                    "than from anything that burns differently. That is not a proof of it.\n",
            text);
    else if (v->at_odds)
        tb_text_say(
            out, "Undecided: most of what was seen is likelier from the declared fibres, but a bench test, "
                 "or all that one of the persons saw, speaks against them by itself. Both cannot be right: "
                 "look for a swatch or a record that was mixed up, and let another person test once more.\n");
    else if (v->one_look)
        tb_text_say(
            out,
            limit
                ? "Undecided: what was seen is at least %s times likelier from the declared fibres than from "
                  "anything that burns differently, the limit of what was tested, but that rests on one look "
                  "alone, what one person saw in one channel. Another channel, another person or another "
                  "test "
                  "that says so too would make it fit.\n"
                : "Undecided: what was seen is %s times likelier from the declared fibres than from anything "
                  "that burns differently, but that rests on one look alone, what one person saw in one "
                  "channel. Another channel, another person or another test that says so too would make it "
                  "fit.\n",
            text);
    else if (v->outdone)
        tb_text_say(out,
                    limit ? "Undecided: what was seen is at least %s times likelier from the declared fibres "
                            "than from other "
                            "cloth on the whole, the limit of what was tested, but there is one from which "
                            "it is likelier "
                            "still.\n"
                          : "Undecided: what was seen is %s times likelier from the declared fibres than "
                            "from other cloth on "
                            "the whole, but there is one from which it is likelier still.\n",
                    text);
    else if (v->imitated)
        tb_text_say(
            out,
            limit
                ? "Undecided: what was seen is at least %s times likelier from the declared fibres than from "
                  "other cloth as it mostly comes, the limit of what was tested, but cheaper cloth with a "
                  "flame "
                  "retardant would burn like this too.\n"
                : "Undecided: what was seen is %s times likelier from the declared fibres than from other "
                  "cloth "
                  "as it mostly comes, but cheaper cloth with a flame retardant would burn like this too.\n",
            text);
    else
        tb_text_say(
            out,
            "Undecided: what was seen is %.3g times as likely from the declared fibres as from anything "
            "else; that is too little either way.\n",
            v->ratio);
}

/* One look is one chance of a mistake, so it holds nothing. */
static void say_what_it_asks(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->grade != TB_GRADE_SPEAKS_AGAINST)
        return;
    if (v->handling != TB_HANDLING_ANY)
        tb_text_say(out, "That is a reason to ask, not to hold: this cloth must not be burned again.\n");
    else if (v->one_look)
        tb_text_say(
            out,
            "That rests on one look alone, what one person saw in one channel, where one mistake would be "
            "enough: let another person burn a piece, or test it otherwise. The lot is not held by this.\n");
    else
        tb_text_say(out, "That is a reason to test, not to hold: let another person burn a piece, or test it "
                         "otherwise.\n");
}

double tb_verdict_chance_false(const struct tb_verdict *v)
{
    double b = v->base_rate;

    return v->reason || v->at_odds || v->imitated || !(b > 0) ? (double)NAN : b / (b + (1 - b) * v->ratio);
}

void tb_in_hundred(char text[TB_IN_HUNDRED], double share)
{
    (void)snprintf(text, TB_IN_HUNDRED, 100 * share < 9.95 ? "%.2g" : "%.0f", 100 * share);
}

/* The share of wrong lots is said with its source, since the sentence after it is no better than that. */
static void say_base(struct tb_text *out, const struct tb_meaning *m)
{
    char text[TB_IN_HUNDRED];

    tb_in_hundred(text, m->base_rate);
    if (m->base_from == TB_BASE_SITE)
        tb_text_say(
            out,
            "What that means here: of the lots judged at this site about %s in 100 are not as declared. ",
            text);
    else if (m->base_from == TB_BASE_SETTING)
        tb_text_say(out,
                    "What that means: this site says of its own (base_rate) that %s in 100 lots are not as "
                    "declared. ",
                    text);
    else
        tb_text_say(
            out,
            "What that means: until enough lots of a site are judged, the share of labels that published "
            "inspections found wrong is taken, %s in 100, which is much for a warehouse. ",
            text);
}

void tb_meaning_of(struct tb_meaning *out, const struct tb_verdict *v)
{
    *out = (struct tb_meaning){ .base_rate = v->base_rate,
                                .base_from = v->base_from,
                                .not_as_declared = tb_verdict_chance_false(v),
                                .limit = !tb_verdict_at_limit(v) ? 0
                                         : v->ratio > 1          ? 1
                                                                 : -1 };
}

void tb_meaning_words(struct tb_text *out, const struct tb_meaning *m)
{
    char text[TB_IN_HUNDRED];

    if (isnan(m->not_as_declared))
        return;
    say_base(out, m);
    tb_in_hundred(text, m->not_as_declared);
    if (m->limit > 0)
        tb_text_say(out, "Of such lots with burns like these at most %s in 100 are not as declared.", text);
    else if (m->limit < 0)
        tb_text_say(out, "Of such lots with burns like these at least %s in 100 are not as declared.", text);
    else
        tb_text_say(out, "Of such lots with burns like these about %s in 100 are not as declared.", text);
}

static void say_meaning(struct tb_text *out, const struct tb_verdict *v)
{
    struct tb_meaning m;
    size_t before = out->n;

    tb_meaning_of(&m, v);
    tb_meaning_words(out, &m);
    if (out->n == before)
        return;
    if (m.base_from == TB_BASE_PUBLISHED)
        tb_text_say(out, " The setting base_rate sets another share.");
    tb_text_addc(out, '\n');
}

void tb_verdict_conclude(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->reason) {
        tb_text_say(out, "Undecided: %s.\n", v->reason);
        return;
    }
    say_grade(out, v);
    say_what_it_asks(out, v);
    say_meaning(out, v);
}
