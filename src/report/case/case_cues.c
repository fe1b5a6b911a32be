/* case_cues.c - the cues for and against the declaration, by weight. */
#include "report/case/case_page.h"

#include <math.h>
#include <stdio.h>

#define SAYS_NOTHING 0.55    /* decibans: up to what is shown as 0.5, a ratio of 1.13 */
#define HEADING_AND_ROWS 115 /* points: what must not be torn from the first rows */

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

/* 1 for the declaration, -1 against it, 0 for neither. */
static int sign(double db)
{
    return isnan(db) || fabs(db) < SAYS_NOTHING ? 0 : db > 0 ? 1 : -1;
}

/* What both figures of the row say, so that none of them has another sign than the word beside it. */
static const char *side(const struct tb_stored_cue *cue)
{
    int weight = sign(cue->weight_db), alone = sign(cue->alone_db);

    return weight * alone < 0   ? _("both ways")
           : weight + alone > 0 ? _("for it")
           : weight + alone < 0 ? _("against it")
                                : _("for neither");
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
    tb_page_need(p, HEADING_AND_ROWS);
    tb_page_heading(p, _("Cues for and against, by weight"));
    tb_page_small(
        p,
        _("Decibans (ten times the decimal logarithm of a ratio): 10 dB is ten times likelier, 3 dB twice; "
          "above zero speaks for the declaration, below against it, and half a deciban or less for "
          "neither. Weight: what the cue adds to all the others; near zero where they say enough without it. "
          "By itself: how much likelier the cue is from the declared cloth than from what else it could be. "
          "Both ways: the two differ, since what the others say has changed what the cue means."));
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
