/* conclude.c - what a verdict is, in sentences: its grade, its limit, and what it means for lots like this one. */
#include "evidence/conclude.h"

#include "base/say.h"
#include "tenterbook/tongue.h"

#include <math.h>
#include <stdio.h>

char *tb_verdict_rule(const struct tb_verdict *v)
{
    struct tb_text t = { 0 };

    tb_text_addf(
        &t,
        TR_("The evidence ratio says how much likelier these observations are if the declared fibres are "
            "there than if anything else is that burns differently. It is never taken to be below 1/%.0f or "
            "above %.0f: the tests of the model carry no more. A look is what one person saw in one channel. "
            "Below 1/%.3g the burn contradicts the declaration, where the rest speaks against it too without "
            "any one look, enough is published of how the declared cloth burns, no finish that nobody named "
            "explains it about as well, and of several burns one, or a bench test, says so by itself; else "
            "below 1/%.3g it speaks against it and asks for a test; above %.3g, where more than one look "
            "says so and no other cloth explains it clearly better, it fits; where burns or tests say "
            "opposite things, it does neither; otherwise it is undecided."),
        exp(-v->bounds.low), exp(v->bounds.high), 1 / v->contradicts_below,
        1 / fmax(v->speaks_below, v->contradicts_below), v->fits_above);
    if (!v->reason && v->looks < TB_FULL_LOOKS) {
        tb_text_addc(&t, ' ');
        tb_text_addf(&t,
                     TR_("The limits are those of burns with as few looks as this one; burns with more are "
                         "taken as far as "
                         "1/%.0f and %.0f."),
                     exp(-v->full_bounds.low), exp(v->full_bounds.high));
    }
    return tb_text_take(&t);
}

bool tb_verdict_at_limit(const struct tb_verdict *v)
{
    return tb_bounds_reached(&v->bounds, v->log_ratio) != 0;
}

const char *tb_times(char text[TB_TIMES], double ratio)
{
    double times = ratio < 1 ? 1 / ratio : ratio;

    (void)snprintf(text, TB_TIMES, times < 9.95 ? "%.1f" : "%.0f", times);
    return text;
}

/* Of a ratio that says hardly anything neither side is called likelier. */
static void say_too_little(struct tb_text *out, enum tb_tongue to, double ratio, const char *times)
{
    if (fmax(ratio, 1 / ratio) < TB_TIMES_EVEN)
        tb_text_add(out,
                    tb_tr(to, "Undecided: what was seen is about as likely from the declared fibres as from "
                              "anything else."));
    else if (ratio > 1)
        tb_text_addf(out,
                     tb_tr(to,
                           "Undecided: what was seen is %s times likelier from the declared fibres than from "
                           "anything that burns differently; that is too little."),
                     times);
    else
        tb_text_addf(out,
                     tb_tr(to, "Undecided: what was seen is %s times likelier from something else that burns "
                               "differently; that is too little."),
                     times);
}

/* Far enough to fit, and why it does not all the same. */
static void say_hitch(struct tb_text *out, enum tb_tongue to, const struct tb_conclusion *c,
                      const char *times)
{
    bool limit = c->limit;

    if (c->one_look)
        tb_text_addf(
            out,
            limit
                ? tb_tr(to, "Undecided: what was seen is at least %s times likelier from the declared fibres "
                            "than from anything that burns differently, the limit of what was tested, but "
                            "that rests on one look alone, what one person saw in one channel. Another "
                            "channel, another person or another test that says so too would make it fit.")
                : tb_tr(to, "Undecided: what was seen is %s times likelier from the declared fibres than "
                            "from anything that burns differently, but that rests on one look alone, what "
                            "one person saw in one channel. Another channel, another person or another test "
                            "that says so too would make it fit."),
            times);
    else if (c->outdone)
        tb_text_addf(
            out,
            limit
                ? tb_tr(to, "Undecided: what was seen is at least %s times likelier from the declared fibres "
                            "than from other "
                            "cloth on the whole, the limit of what was tested, but there is one from which "
                            "it is likelier "
                            "still.")
                : tb_tr(to, "Undecided: what was seen is %s times likelier from the declared fibres than "
                            "from other cloth on "
                            "the whole, but there is one from which it is likelier still."),
            times);
    else
        tb_text_addf(
            out,
            limit ? tb_tr(to, "Undecided: what was seen is at least %s times likelier from the declared "
                              "fibres than from other cloth as it mostly comes, the limit of what was "
                              "tested, but there is cheaper cloth that would burn like this too.")
                  : tb_tr(to, "Undecided: what was seen is %s times likelier from the declared fibres than "
                              "from other cloth as it mostly comes, but there is cheaper cloth that would "
                              "burn like this too."),
            times);
}

/* One look is one chance of a mistake, so it holds nothing. */
static void say_what_it_asks(struct tb_text *out, enum tb_tongue to, const struct tb_conclusion *c)
{
    if (c->spared)
        tb_text_add(out,
                    tb_tr(to, "That is a reason to ask, not to hold: this cloth must not be burned again."));
    else if (c->one_look)
        tb_text_add(out, tb_tr(to, "Without the look that weighs most, what one person saw in one channel, "
                                   "the rest would not be "
                                   "enough against it, so that one mistake could do this: test it otherwise, "
                                   "or, where one person alone saw it, let another one burn a piece. The lot "
                                   "is not held by this."));
    else if (c->few_tell)
        tb_text_add(
            out, tb_tr(to, "Too few have published how such cloth burns for a burn alone to contradict the "
                           "declaration: a bench test has to say it. The lot is not held by this."));
    else if (c->excused)
        tb_text_add(out,
                    tb_tr(to,
                          "With a finish that nobody named the declared cloth would burn about as much like "
                          "this: ask for it, wash and scour a piece, and let a bench test say which fibre it "
                          "is. The lot is not held by this."));
    else
        tb_text_add(
            out,
            tb_tr(to, "That is a reason to test, not to hold: let another person burn a piece, or test it "
                      "otherwise."));
}

/* The words say which way the ratio points, so that nobody has to read a fraction. */
void tb_conclusion_words(struct tb_text *out, enum tb_tongue to, const struct tb_conclusion *c)
{
    char text[TB_TIMES];
    struct tb_text asks = { 0 };
    const char *times = tb_times(text, c->ratio);

    tb_tongue_point(text, to);
    if (c->at_odds) { /* no ratio says which of the two is the mistake */
        tb_text_add(out, tb_tr(to, "What was seen contradicts itself, which leaves a doubt about the "
                                   "declaration."));
        return;
    }
    if (c->grade == TB_GRADE_CONTRADICTS)
        tb_text_addf(
            out,
            c->limit
                ? tb_tr(to, "What was seen contradicts the declaration: it is at least %s times likelier "
                            "from something else that burns differently, the limit of what was tested.")
                : tb_tr(to, "What was seen contradicts the declaration: it is %s times likelier from "
                            "something else that burns differently."),
            times);
    else if (c->grade == TB_GRADE_SPEAKS_AGAINST)
        tb_text_addf(
            out,
            c->limit
                ? tb_tr(to, "What was seen speaks against the declaration: it is at least %s times likelier "
                            "from something else that burns differently, the limit of what was tested.")
                : tb_tr(to, "What was seen speaks against the declaration: it is %s times likelier from "
                            "something else that burns differently."),
            times);
    else if (c->grade == TB_GRADE_FITS)
        tb_text_addf(
            out,
            c->limit
                ? tb_tr(to, "What was seen fits the declaration: it is at least %s times likelier from the "
                            "declared fibres than from anything that burns differently, the limit of what "
                            "was tested. Nothing was found against the declaration; that never confirms it.")
                : tb_tr(
                      to,
                      "What was seen fits the declaration: it is %s times likelier from the declared fibres "
                      "than from anything that burns differently. Nothing was found against the declaration; "
                      "that never confirms it."),
            times);
    else if (c->one_look || c->outdone || c->imitated)
        say_hitch(out, to, c, times);
    else
        say_too_little(out, to, c->ratio, times);
    if (c->grade == TB_GRADE_SPEAKS_AGAINST) {
        say_what_it_asks(&asks, to, c);
        tb_sentence_in(out, to, tb_text_str(&asks));
    }
    tb_text_free(&asks);
}

double tb_verdict_chance_false(const struct tb_verdict *v)
{
    double b = v->base_rate;

    return v->reason || v->at_odds || v->imitated || v->few_tell || v->excused || v->untested_finish ||
                   !(b > 0)
               ? (double)NAN
               : b / (b + (1 - b) * v->ratio);
}

void tb_in_hundred(char text[TB_IN_HUNDRED], double share)
{
    (void)snprintf(text, TB_IN_HUNDRED, 100 * share < 9.95 ? "%.2g" : "%.0f", 100 * share);
}

/* The share of wrong lots is said with its source, since the sentence after it is no better than that. */
static void say_base(struct tb_text *out, enum tb_tongue to, const struct tb_meaning *m)
{
    char text[TB_IN_HUNDRED];

    tb_in_hundred(text, m->base_rate);
    tb_tongue_point(text, to);
    if (m->base_from == TB_BASE_SITE)
        tb_text_addf(out,
                     tb_tr(to, "What that means here: of the lots judged at this site about %s in 100 are "
                               "not as declared. "),
                     text);
    else if (m->base_from == TB_BASE_SETTING)
        tb_text_addf(
            out,
            tb_tr(to, "What that means: this site says of its own (base_rate) that %s in 100 lots are not as "
                      "declared. "),
            text);
    else
        tb_text_addf(
            out,
            tb_tr(
                to,
                "What that means: until enough lots of a site are judged, the share of labels that published "
                "inspections found wrong is taken, %s in 100. "),
            text);
}

void tb_meaning_of(struct tb_meaning *out, const struct tb_verdict *v)
{
    *out = (struct tb_meaning){ .base_rate = v->base_rate,
                                .base_from = v->base_from,
                                .not_as_declared = tb_verdict_chance_false(v),
                                .limit = tb_bounds_reached(&v->bounds, v->log_ratio) };
}

void tb_meaning_words(struct tb_text *out, enum tb_tongue to, const struct tb_meaning *m)
{
    char text[TB_IN_HUNDRED];

    if (isnan(m->not_as_declared))
        return;
    say_base(out, to, m);
    tb_in_hundred(text, m->not_as_declared);
    tb_tongue_point(text, to);
    if (m->limit > 0)
        tb_text_addf(out,
                     tb_tr(to, "Of such lots with burns like these at most %s in 100 are not as declared."),
                     text);
    else if (m->limit < 0)
        tb_text_addf(out,
                     tb_tr(to, "Of such lots with burns like these at least %s in 100 are not as declared."),
                     text);
    else
        tb_text_addf(
            out, tb_tr(to, "Of such lots with burns like these about %s in 100 are not as declared."), text);
}

static void say_meaning(struct tb_text *out, const struct tb_verdict *v)
{
    struct tb_meaning m;
    size_t before = out->n;

    tb_meaning_of(&m, v);
    tb_meaning_words(out, TB_READER, &m);
    if (out->n == before)
        return;
    if (m.base_from == TB_BASE_PUBLISHED)
        tb_text_say(out, " That is much for a warehouse: the setting base_rate sets another share.");
    tb_text_addc(out, '\n');
}

/* Said to whoever can do it; no paper that is handed on has it. */
static void say_way_out(struct tb_text *out, const struct tb_verdict *v)
{
    tb_text_say(out,
                "Both cannot be true of one cloth, and this by itself neither holds the lot nor releases "
                "it. If one was a slip, or a swatch was mixed up, withdraw that one");
    if (v->odd_swatch[0] && v->odd_swatch[1])
        tb_text_say(out, ": tenterbook void %s --why TEXT, or tenterbook void %s --why TEXT",
                    v->odd_swatch[0], v->odd_swatch[1]);
    else
        tb_text_say(out, " (tenterbook void)");
    if (v->handling == TB_HANDLING_ANY)
        tb_text_say(out, ". Else let other persons test it too, or ask a laboratory.\n");
    else
        tb_text_say(out, ". Else ask a laboratory.\n");
}

void tb_verdict_conclude(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->reason) {
        tb_text_say(out, "Undecided: %s.\n", v->reason);
        return;
    }
    tb_conclusion_words(out, TB_READER,
                        &(struct tb_conclusion){ .grade = v->grade,
                                                 .ratio = v->ratio,
                                                 .limit = tb_verdict_at_limit(v),
                                                 .one_look = v->one_look,
                                                 .few_tell = v->few_tell,
                                                 .excused = v->excused != NULL,
                                                 .at_odds = v->at_odds,
                                                 .outdone = v->outdone,
                                                 .imitated = v->imitated,
                                                 .spared = v->handling != TB_HANDLING_ANY });
    tb_text_addc(out, '\n');
    if (v->at_odds)
        say_way_out(out, v);
    say_meaning(out, v);
}
