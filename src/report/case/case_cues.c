/* case_cues.c - the cues for and against the declaration, by weight. */
#include "report/case/case_page.h"

#include <math.h>
#include <stdio.h>

#define WEIGHS_NOTHING 0.05 /* decibans: shown as 0.0 or 0.1, one way or the other by chance */
#define SAYS_LITTLE 1.0     /* decibans: a ratio of less than 1.26 */

/* "+3.1", or "-" where the case was made without it. */
static void decibans(char text[32], double db)
{
    (void)snprintf(text, 32, isnan(db) ? "-" : "%+.1f", db);
}

const char *tb_case_sight(const struct tb_stored_cue *cue)
{
    return cue->sight == TB_SIGHT_SEEN     ? _("seen")
           : cue->sight == TB_SIGHT_DENIED ? _("expressly not there")
                                           : _("looked for, not seen");
}

/* A cue whose weight is taken by the others still speaks for one side by itself. */
static const char *side(const struct tb_stored_cue *cue)
{
    double weight = isnan(cue->weight_db) ? 0 : cue->weight_db,
           alone = isnan(cue->alone_db) ? 0 : cue->alone_db;
    bool light = fabs(weight) < WEIGHS_NOTHING;

    if (light && fabs(alone) < SAYS_LITTLE)
        return _("for neither");
    return (light ? alone : weight) > 0 ? _("for it") : _("against it");
}

/* Each cue by its weight beside all others and by itself: one figure alone misleads where two cues say the same. */
void tb_case_cues(struct case_page *c)
{
    static const struct page_column column[] = {
        { N_("Cue"), 0.32, false, false },          { N_("Part"), 0.10, false, false },
        { N_("Observed"), 0.19, false, false },     { N_("Weight, dB"), 0.12, true, false },
        { N_("By itself, dB"), 0.13, true, false }, { N_("Speaks"), 0.14, false, false }
    };
    struct page *p = &c->page;
    const struct tb_stored_verdict *v = &c->story->verdict;

    if (!v->n_cue)
        return;
    tb_page_heading(p, _("Cues for and against, by weight"));
    tb_page_small(
        p,
        _("Decibans (ten times the decimal logarithm of a ratio): 10 dB is ten times likelier, 3 dB twice; "
          "above zero speaks for the declaration, below against it. Weight: what the cue adds to all the "
          "others; near zero where they say enough without it. By itself: how much likelier the cue is from "
          "the declared cloth than from what else it could be."));
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < v->n_cue; i++) {
        const struct tb_stored_cue *cue = &v->cue[i];
        char weight[32], alone[32];
        const char *cell[] = {
            cue->cue, tb_part_key(cue->part), tb_case_sight(cue), weight, alone, side(cue)
        };

        decibans(weight, cue->weight_db);
        decibans(alone, cue->alone_db);
        tb_page_row(p, cell);
    }
    tb_page_table_end(p);
}
