/* case_coverage.c - how much of the delivery was looked at, and how many bolts that says something of. */
#include "report/case/case_page.h"
#include "tenterbook/sampling.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define CONFIDENCE 0.95

/* What the burns of one bolt say when it is judged alone; NULL: not said. */
static const struct tb_stored_bolt *alone(const struct tb_stored_verdict *v, const char *bolt)
{
    for (size_t i = 0; i < v->n_bolt; i++)
        if (strcmp(v->bolt[i].number, bolt) == 0)
            return &v->bolt[i];
    return NULL;
}

static void add_tag(struct tb_text *out, const char *tag)
{
    if (!strstr(tb_text_str(out), tag))
        tb_text_addf(out, "%s%s", out->n ? ", " : "", tag);
}

/* Its swatches, each once, and how often it was burnt, and tested without a flame. */
static void swatches_of(struct tb_text *out, size_t *burnt, size_t *tested, const struct story *s,
                        const char *bolt)
{
    *burnt = *tested = 0;
    tb_text_clear(out);
    for (size_t k = 0; k < s->of.burns; k++)
        if (strcmp(s->of.burn[k].bolt_number, bolt) == 0) {
            add_tag(out, s->of.burn[k].tag);
            ++*burnt;
        }
    for (size_t k = 0; k < s->of.tests; k++)
        if (strcmp(s->of.test[k].bolt_number, bolt) == 0) {
            add_tag(out, s->of.test[k].tag);
            ++*tested;
        }
}

/* Only bolts that were looked at: each with its own verdict, since one false bolt says nothing of the next. */
static void bolt_row(struct case_page *c, const struct tb_bolt *bolt)
{
    const struct tb_stored_bolt *one = alone(&c->story->recorded, bolt->number);
    enum tb_tongue to = c->page.tongue;
    char figure[TB_PLAIN], metres[TB_PLAIN + 8], burns[32], tests[32], odds[TB_STORY_ODDS] = "";
    const char *verdict = !one ? ""
                          : one->grade
                              ? tb_tr(to, tb_word(&tb_grade_words, (int)one->grade))
                              : tb_tr(to, tb_verdict_key(one->kind)); /* stored before there were grades */
    size_t burnt, tested;

    swatches_of(&c->text, &burnt, &tested, c->story, bolt->number);
    if (burnt + tested == 0)
        return;
    if (isnan(bolt->metres))
        (void)snprintf(metres, sizeof metres, "%s kg", tb_tongue_plain(figure, to, bolt->kg, 2));
    else
        (void)snprintf(metres, sizeof metres, bolt->derived ? "(%s)" : "%s",
                       tb_tongue_plain(figure, to, bolt->metres, 1));
    (void)snprintf(burns, sizeof burns, "%zu", burnt);
    (void)snprintf(tests, sizeof tests, "%zu", tested);
    if (one && !isnan(one->log_ratio) &&
        !(c->story->recorded.at_odds && one->grade == TB_GRADE_UNDECIDED)) /* it may be the bolt that is */
        tb_story_odds(odds, to, &c->story->recorded.bounds, one->log_ratio, 3);
    {
        const char *all[] = { bolt->number, metres, burns, tests, verdict, odds, tb_text_str(&c->text) };
        const char *burnt_only[] = { bolt->number, metres, burns, verdict, odds, tb_text_str(&c->text) };

        tb_page_row(&c->page, c->story->of.tests ? all : burnt_only);
    }
}

/* The chance that a draw counts on, and where it comes from. */
static void caught_words(struct tb_text *out, enum tb_tongue to, const struct tb_catch *c)
{
    struct tb_text words = { 0 };
    char chance[TB_PLAIN];

    (void)snprintf(chance, sizeof chance, "%.2g", 100 * c->one);
    tb_tongue_point(chance, to);
    (void)tb_tr_told(&words, to, c->words);
    tb_text_addf(
        out,
        tb_tr(
            to,
            "The most is counted as if a look at a false bolt showed it with a chance of %s %%: %s. The "
            "least needs no such chance: bolts that a look missed could only add to those that were found."),
        chance, tb_text_str(&words));
    tb_text_free(&words);
}

/* As a draw counts them: only burnt bolts, and of these only the ones whose own burns decide. */
static void count_alone(long *burnt, long *fit, long *bad, const struct tb_stored_verdict *v)
{
    *burnt = *fit = *bad = 0;
    for (size_t i = 0; i < v->n_bolt; i++) {
        if (v->bolt[i].burns < 1)
            continue;
        ++*burnt;
        *fit += v->bolt[i].kind == TB_FITS;
        *bad += v->bolt[i].kind == TB_CONTRADICTS;
    }
}

/*
 * The counts and both bounds in a sentence, exact, of a finite lot. The most counts with the chance that a look shows a false bolt; the
 * least needs none (tb_proof_least).
 */
static bool bounds_words(struct tb_text *out, const struct story *s, long fit, long bad, long neither)
{
    long long bolts = s->of.lot.bolts;
    struct tb_err err = { 0 };
    long least, most;

    if (tb_proof_most(&most, (long)bolts, fit + bad, bad, s->caught.one, CONFIDENCE, &err) != TB_OK ||
        tb_proof_least(&least, (long)bolts, fit + bad, bad, CONFIDENCE, &err) != TB_OK)
        return false;
    if (neither)
        tb_text_addf(
            out,
            tb_tr(s->tongue,
                  "Judged alone, %ld of the burnt bolts contradict, %ld fit, and %ld do neither and count "
                  "as not burnt. If those that contradict are false and the bolts were drawn at random, "
                  "at least %ld and at most %ld of %lld bolts are false, each with 95 %% confidence."),
            bad, fit, neither, least, most, bolts);
    else
        tb_text_addf(
            out,
            tb_tr(s->tongue,
                  "Judged alone, %ld of the burnt bolts contradict and %ld fit. If those that contradict "
                  "are false and the bolts were drawn at random, at least %ld and at most %ld of %lld "
                  "bolts are false, each with 95 %% confidence."),
            bad, fit, least, most, bolts);
    return true;
}

bool tb_case_bounds(struct tb_text *out, const struct story *s)
{
    long burnt, fit, bad;

    count_alone(&burnt, &fit, &bad, &s->recorded);
    if (!burnt || s->of.lot.bolts == 1 ||
        (s->of.concluded.by == TB_BY_LABORATORY && s->of.concluded.kind == TB_CONFORMS))
        return false;
    if (s->of.concluded.by == TB_BY_LABORATORY && s->of.concluded.kind == TB_DOES_NOT) {
        tb_text_add(
            out,
            tb_tr(
                s->tongue,
                "A laboratory found that the cloth is not as declared: what the burns show bounds in no way "
                "how many bolts are false."));
        return false;
    }
    if (fit + bad == 0) {
        tb_text_add(
            out, tb_tr(s->tongue,
                       "Judged alone, none of the burnt bolts fits or contradicts: that bounds in no way how "
                       "many bolts are false."));
        return false;
    }
    return bounds_words(out, s, fit, bad, burnt - fit - bad);
}

/* How many bolts can be false, from those that contradict alone: for all of them only if they were drawn at random. */
static void proof(struct case_page *c)
{
    tb_text_clear(&c->text);
    if (tb_case_bounds(&c->text, c->story)) {
        struct tb_text caught = { 0 };

        caught_words(&caught, c->page.tongue, &c->story->caught);
        tb_sentence_in(&c->text, c->page.tongue, tb_text_str(&caught));
        tb_text_free(&caught);
    }
    if (c->text.n)
        tb_page_text(&c->page, c->text.s);
}

/* How little was looked at is said before anything is concluded from it. */
void tb_case_coverage(struct case_page *c)
{
    static const struct page_column burnt[] = {
        { TR_("Bolt"), 0.18, false, true },  { TR_("Length, m"), 0.12, true, false },
        { TR_("Burns"), 0.09, true, false }, { TR_("Judged alone"), 0.16, false, false },
        { TR_("Ratio"), 0.12, true, false }, { TR_("Swatches"), 0.33, false, true },
    };
    static const struct page_column tested[] = {
        { TR_("Bolt"), 0.18, false, true },          { TR_("Length, m"), 0.12, true, false },
        { TR_("Burns"), 0.09, true, false },         { TR_("Tests"), 0.08, true, false },
        { TR_("Judged alone"), 0.16, false, false }, { TR_("Ratio"), 0.12, true, false },
        { TR_("Swatches"), 0.25, false, true },
    };
    struct page *p = &c->page;
    const struct story *s = c->story;
    struct tb_text bolts = { 0 };
    char seen[TB_PLAIN], all[TB_PLAIN];
    bool more = s->of.lot.bolts_tested > s->of.lot.bolts_burnt;

    tb_bench_coverage(&bolts, s->tongue, s->of.lot.bolts_burnt, s->of.lot.bolts_tested, s->of.lot.bolts);
    tb_page_heading(p, tb_tr(s->tongue, "How much of the delivery was looked at"));
    tb_page_text(
        p,
        tb_page_say(
            &c->text,
            s->of.burns + s->of.tests == 0 ? tb_tr(s->tongue, "%s, %s of %s metres: nothing was looked at.")
            : s->of.lot.bolts == 1
                ? more
                      ? tb_tr(s->tongue, "%s, %s of %s metres. The list names every bolt that was looked at.")
                      : tb_tr(s->tongue, "%s, %s of %s metres. The list names every bolt that was burnt.")
            : more
                ? tb_tr(s->tongue,
                        "%s, %s of %s metres. What was seen was seen on these bolts; of the others it "
                        "says something "
                        "only as far as they are like these. The list names every bolt that was looked at.")
                : tb_tr(s->tongue,
                        "%s, %s of %s metres. What was seen was seen on these bolts; of the others it "
                        "says something "
                        "only as far as they are like these. The list names every bolt that was burnt."),
            bolts.s, tb_tongue_plain(seen, s->tongue, tb_story_metres_looked_at(s), 1),
            tb_tongue_plain(all, s->tongue, isnan(s->of.lot.metres) ? 0 : s->of.lot.metres, 1)));
    tb_text_free(&bolts);
    if (s->of.lot.derived + s->of.lot.unknown > 0)
        tb_page_text(
            p,
            tb_page_say(
                &c->text,
                tb_tr(s->tongue,
                      "Counted in kilograms: bolts whose length is computed from width and mass per area, in "
                      "brackets: %lld; bolts whose length is not known, and in no figure of metres: %lld."),
                (long long)s->of.lot.derived, (long long)s->of.lot.unknown));
    proof(c);
    if (s->of.burns + s->of.tests == 0)
        return;
    tb_page_table_begin(p, s->of.tests ? tested : burnt, s->of.tests ? TB_COUNT(tested) : TB_COUNT(burnt));
    for (size_t i = 0; i < s->of.bolts; i++)
        bolt_row(c, &s->of.bolt[i]);
    tb_page_table_end(p);
}
