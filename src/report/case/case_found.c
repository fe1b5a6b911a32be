/* case_found.c - what was found: the verdict, the rule it was made by, and the cues for and against. */
#include "report/case/case_page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* First and last day on which a swatch was burnt. */
static void days_burnt(const char **first, const char **last, const struct story *s)
{
    *first = *last = s->of.burns ? s->of.burn[0].burned_at : "";
    for (size_t i = 1; i < s->of.burns; i++) {
        *first = strcmp(s->of.burn[i].burned_at, *first) < 0 ? s->of.burn[i].burned_at : *first;
        *last = strcmp(s->of.burn[i].burned_at, *last) > 0 ? s->of.burn[i].burned_at : *last;
    }
}

/* What was done and what came of it, each in a sentence of its own. */
static void say_found(struct tb_text *t, const struct story *s, const struct tb_judged *v)
{
    const char *first, *last;

    days_burnt(&first, &last, s);
    tb_text_clear(t);
    if (!s->of.burns)
        tb_text_addf(t,
                     _n("Nothing was burnt; %zu test without a flame was recorded.",
                        "Nothing was burnt; %zu tests without a flame were recorded.", s->of.tests),
                     s->of.tests);
    else if (strncmp(first, last, TB_DAY_LEN) == 0)
        tb_text_addf(t, _n("%zu burn was recorded on %.*s.", "%zu burns were recorded on %.*s.", s->of.burns),
                     s->of.burns, DAY(first));
    else
        tb_text_addf(t, _("%zu burns were recorded from %.*s to %.*s."), s->of.burns, DAY(first), DAY(last));
    tb_text_addc(t, ' ');
    tb_text_addf(t,
                 _n("Swatches of %lld of %lld bolt were burnt.", "Swatches of %lld of %lld bolts were burnt.",
                    v->bolts),
                 (long long)v->bolts_burnt, (long long)v->bolts);
    tb_text_addc(t, ' ');
    tb_text_add(t, v->verdict == TB_CONTRADICTS ? _("What was seen contradicts the declaration.")
                   : v->verdict == TB_FITS
                       ? _("What was seen fits the declaration: burning found nothing against it, and never "
                           "confirms it.")
                       : _("What was seen decides neither for nor against the declaration."));
    tb_text_addc(t, ' ');
    tb_story_ratio(t, v->log_ratio);
}

/* ISO/IEC 17025, 7.8.6 asks that the rule is said by which a statement of conformity was made. */
static void rule(struct page *p, const struct tb_stored_verdict *v)
{
    tb_page_heading(p, _("The rule by which this was decided"));
    if (v->rule[0])
        tb_page_text(p, v->rule);
    if (v->reason[0])
        tb_page_text(p, v->reason);
    for (size_t i = 0; i < v->n_note; i++)
        tb_page_text(p, v->note[i]);
}

/*
 * The verdict is the last one recorded: it has a moment and a person. The rule and the notes are of the same verdict as it
 * is computed from the data now.
 */
void tb_case_found(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *s = c->story;
    const struct tb_judged *v = s->of.judgeds ? &s->of.judged[s->of.judgeds - 1] : NULL;
    char odds[TB_STORY_ODDS];

    tb_page_heading(p, _("What was found"));
    if (v) {
        say_found(t, s, v);
        tb_page_text(p, tb_text_str(t));
        tb_story_odds(odds, v->log_ratio, 4);
        tb_page_pair(p, _("Verdict"), tb_verdict_key(v->verdict));
        tb_page_pair(p, _("Evidence ratio"), odds);
        tb_page_pair(p, _("Rests on"),
                     tb_page_say(t, _n("%lld of %lld bolt burnt", "%lld of %lld bolts burnt", v->bolts),
                                 (long long)v->bolts_burnt, (long long)v->bolts));
        tb_page_pair(p, _("Judged"), tb_page_say(t, _("%s by %s"), v->judged_at, v->judged_by));
        tb_page_pair(p, _("Standing of the lot"), tb_standing_key(s->of.lot.standing));
    } else {
        tb_page_text(
            p, tb_page_say(t,
                           _n("No verdict is recorded. %lld of %lld bolt was burnt.",
                              "No verdict is recorded. %lld of %lld bolts were burnt.", s->of.lot.bolts),
                           (long long)s->of.lot.bolts_burnt, (long long)s->of.lot.bolts));
    }
    if (s->judged_now)
        rule(p, &s->verdict);
}
