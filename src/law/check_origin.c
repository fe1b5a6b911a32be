/*
 * check_origin.c - where the goods come from, under which act they fall, and content that nobody can determine.
 */
#include "law/checks.h"

#include <string.h>

/* --- unknown fibres ---------------------------------------------------------------------------------------------- */

/* "scraps": cloth scraps composed chiefly of one fibre; "all": nothing is known; "part": some of it is not. */
static bool unknown_of_kind(const struct at_work *w, const char *kind, const struct tb_part *p)
{
    if (strcmp(kind, "scraps") == 0)
        return w->label->chiefly;
    return (strcmp(kind, "all") == 0) == (p->n == 1);
}

/* kind "unknown": a note for content that may be stated as unknown: `arg` "all", "part" or "scraps". */
void tb_law_check_unknown(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre == TB_FIBRE_UNKNOWN && unknown_of_kind(w, r->arg, p))
                tb_law_finding(
                    w, r, "content that cannot be determined may be stated so; keep a note of why it cannot");
}

/* --- origin ------------------------------------------------------------------------------------------------------ */

/*
 * kind "origin": the country on the label, else the one the person who asks has given.
 *   arg  "required" it must be there; "imported" that word alone will not do; "bloc" nor will a trade bloc
 */
void tb_law_check_origin(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const char *origin = w->label->origin ? w->label->origin : w->facts->origin;

    if (strcmp(r->arg, "required") == 0 && !origin) {
        w->answer->origin_missing = true;
        tb_law_finding(w, r, "the country of origin stands on the label: say which it is (--origin)");
    } else if (strcmp(r->arg, "imported") == 0 && w->label->imported && !origin)
        tb_law_finding(w, r, "'imported' is said and the country is not");
    else if (strcmp(r->arg, "bloc") == 0 && origin && tb_law_trade_bloc(origin))
        tb_law_finding(w, r, "'%s' is a trade bloc, not a country of origin", origin);
}

/* --- which act --------------------------------------------------------------------------------------------------- */

/* "Wool Act"; the key of the regime where the table has no name for it. */
static const char *regime_name(const struct at_work *w, const char *regime)
{
    for (size_t i = 0; i < tb_ref_law_regime_n; i++)
        if (strcmp(tb_ref_law_regime[i].market, w->market->key) == 0 &&
            strcmp(tb_ref_law_regime[i].regime, regime) == 0)
            return tb_ref_law_regime[i].name;
    return regime;
}

/* kind "regime": a note where the group `arg` brought another act than the market's usual one; ask.c chose it. */
void tb_law_check_regime(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (strcmp(w->regime, r->arg) == 0)
        tb_law_finding(w, r, "there is %s in it, or it is said to be: the %s applies, not the %s", r->arg,
                       regime_name(w, r->arg), regime_name(w, w->market->regime));
}
