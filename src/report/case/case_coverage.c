/* case_coverage.c - how much of the delivery was looked at, and how many bolts that says something of. */
#include "report/case/case_page.h"
#include "tenterbook/sampling.h"

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

/* Its swatches, each once; answers how often it was burnt. */
static size_t swatches_of(struct tb_text *out, const struct story *s, const char *bolt)
{
    size_t burnt = 0;

    tb_text_clear(out);
    for (size_t k = 0; k < s->of.burns; k++)
        if (strcmp(s->of.burn[k].bolt_number, bolt) == 0) {
            if (!strstr(tb_text_str(out), s->of.burn[k].tag))
                tb_text_addf(out, "%s%s", out->n ? ", " : "", s->of.burn[k].tag);
            burnt++;
        }
    return burnt;
}

/* Only bolts that were burnt: each with its own verdict, since one false bolt says nothing of the next. */
static void bolt_row(struct case_page *c, const struct tb_bolt *bolt)
{
    const struct tb_stored_bolt *one = alone(&c->story->verdict, bolt->number);
    char metres[32], burns[32], odds[TB_STORY_ODDS] = "";
    size_t burnt = swatches_of(&c->text, c->story, bolt->number);
    const char *cell[] = { bolt->number,         metres, burns, one ? tb_verdict_key(one->kind) : "", odds,
                           tb_text_str(&c->text) };

    if (!burnt)
        return;
    (void)snprintf(metres, sizeof metres, "%.1f", bolt->metres);
    (void)snprintf(burns, sizeof burns, "%zu", burnt);
    if (one && !isnan(one->log_ratio))
        tb_story_odds(odds, one->log_ratio, 3);
    tb_page_row(&c->page, cell);
}

/* How many bolts can be false, from those that contradict alone: for all of them only if they were drawn at random. */
static void proof(struct case_page *c)
{
    const struct tb_stored_verdict *v = &c->story->verdict;
    long long bolts = c->story->of.lot.bolts;
    long judged = (long)v->n_bolt, bad = (long)tb_stored_verdict_against(v), most;
    struct tb_err err = { 0 };

    if (!judged ||
        tb_proof_most(&most, (long)bolts, judged, bad, TB_CATCH_DEFAULT, CONFIDENCE, &err) != TB_OK)
        return;
    tb_page_text(
        &c->page,
        tb_page_say(&c->text,
                    bolts == 1
                        ? _("%ld of the %ld burnt bolt contradicts when judged alone. If those %ld are "
                            "false, at most %ld of %lld bolt is false, with 95 %% confidence. (Taken "
                            "that a burn shows a false bolt with a chance of %.0f %%: assumed, no burn "
                            "test has a published rate.)")
                        : _("%ld of the %ld burnt bolts contradict when each is judged alone. If those %ld "
                            "are false and the bolts were drawn at random, at most %ld of %lld bolts are "
                            "false, with 95 %% confidence. (Taken that a burn shows a false bolt with a "
                            "chance of %.0f %%: assumed, no burn test has a published rate.)"),
                    bad, judged, bad, most, bolts, 100 * TB_CATCH_DEFAULT));
}

/* How little was looked at is said before anything is concluded from it. */
void tb_case_coverage(struct case_page *c)
{
    static const struct page_column column[] = {
        { N_("Bolt"), 0.18, false, true },  { N_("Length, m"), 0.12, true, false },
        { N_("Burns"), 0.09, true, false }, { N_("Judged alone"), 0.16, false, false },
        { N_("Ratio"), 0.12, true, false }, { N_("Swatches"), 0.33, false, true },
    };
    struct page *p = &c->page;
    const struct story *s = c->story;

    tb_page_heading(p, _("How much of the delivery was looked at"));
    tb_page_text(p, tb_page_say(&c->text,
                                s->of.lot.bolts == 1
                                    ? _("%lld of %lld bolt burnt, %.1f of %.1f metres. The list names "
                                        "every bolt that was burnt.")
                                    : _("%lld of %lld bolts burnt, %.1f of %.1f metres. What was seen was "
                                        "seen on these bolts; of the others it says something only as far as "
                                        "they are like these. The list names every bolt that was burnt."),
                                (long long)s->of.lot.bolts_burnt, (long long)s->of.lot.bolts,
                                tb_story_metres_burnt(s), s->of.lot.metres));
    proof(c);
    if (!s->of.burns)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < s->of.bolts; i++)
        bolt_row(c, &s->of.bolt[i]);
    tb_page_table_end(p);
}
