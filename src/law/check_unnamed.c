/*
 * check_unnamed.c - fibre that was found and is not named: what must be named, what the law lets go, and what follows.
 *
 * The checks run in the order of kinds.c and mark each found fibre: `reported` once a finding speaks of it, `permitted`
 * once the law lets it go. Later ones pass over what is marked, so that one deviation is one finding.
 */
#include "law/checks.h"

#include <math.h>
#include <string.h>

/* --- what must be named ------------------------------------------------------------------------------------------ */

/* kind "disclose": a fibre of `number` per cent or more is named, also where there is a line for other fibres. */
void tb_law_check_disclose(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || f->fibre < 0 || !tb_law_allows(r, f->percent))
            continue;
        f->reported = true;
        tb_law_finding(w, r, "%s was found at %g %% and is not named: a fibre of %g %% or more is",
                       tb_law_fibre_text(w, f->fibre), f->percent, r->number);
    }
}

/* kind "always": the group `arg` is named however little of it there is. */
void tb_law_check_always(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || !tb_law_group_has(w->market, r->arg, f->fibre))
            continue;
        f->reported = true;
        tb_law_finding(w, r, "%s was found at %g %% and is not named: %s is named however little there is",
                       tb_law_fibre_text(w, f->fibre), f->percent, r->arg);
    }
}

/* --- what may go unnamed ----------------------------------------------------------------------------------------- */

/* Too much unless the cloth was carded: then say so. */
static void ask_whether_carded(struct at_work *w, double sum)
{
    const char *claim = tb_law_fibres(w) == 1 ? "single" : "blend";

    for (size_t i = 0; i < w->rules && !w->facts->carded && !tb_law_virgin_said(w); i++) {
        const struct tb_ref_law_rule *r = w->rule[i];

        if (strcmp(r->kind, "extraneous") == 0 && tb_law_list_has(r->holds, "carded") &&
            tb_law_list_has(r->holds, claim) && tb_law_allows(r, sum))
            tb_law_finding_as(
                w, r, TB_SEVERITY_ADVICE,
                "if the cloth went through carding, %g %% of unnamed fibre may pass: say so (--carded)", sum);
    }
}

/* Does the row speak of this fibre: nobody named it, no other row spoke of it, and it is of the row's group? */
static bool concerns(const struct at_work *w, const struct tb_ref_law_rule *r, const struct found *f)
{
    return f->share == TB_NOWHERE && !f->permitted && !f->reported &&
           (!r->arg[0] || tb_law_group_has(w->market, r->arg, f->fibre));
}

static void say_permitted(struct at_work *w, const struct tb_ref_law_rule *r, const struct found *f)
{
    const char *fibre = tb_law_fibre_text(w, f->fibre);

    if (tb_law_includes(r))
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                          "%s at %g %% is not named and may go unnamed (at most %g %%)", fibre, f->percent,
                          r->number);
    else
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                          "%s at %g %% is not named and may go unnamed (less than %g %%)", fibre, f->percent,
                          r->number);
}

static void say_excess(struct at_work *w, const struct tb_ref_law_rule *r, const struct found *f)
{
    const char *fibre = tb_law_fibre_text(w, f->fibre);

    if (tb_law_includes(r))
        tb_law_finding(w, r, "%s was found at %g %% and is not named; fibre not named must be at most %g %%",
                       fibre, f->percent, r->number);
    else
        tb_law_finding(w, r,
                       "%s was found at %g %% and is not named; fibre not named must be less than %g %%",
                       fibre, f->percent, r->number);
}

/*
 * kind "extraneous": up to `number` per cent fibre nobody named is let go; above it, each such fibre is a fault. A row
 * for the group `arg` (a trace of metal against static) only lets go: what is above it counts with all others.
 */
void tb_law_check_extraneous(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double sum = 0;
    bool allowed;

    if (!w->cmp.part || tb_law_bucket(w) || !tb_law_holds_for(w, r, NULL))
        return;
    for (size_t i = 0; i < w->cmp.n; i++)
        if (concerns(w, r, &w->cmp.found[i]))
            sum += w->cmp.found[i].percent;
    allowed = tb_law_allows(r, sum);
    if (sum <= PERCENT_NEAR || (r->arg[0] && !allowed))
        return;
    if (!allowed)
        ask_whether_carded(w, sum);
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (!concerns(w, r, f))
            continue;
        f->permitted = allowed;
        f->reported = !allowed;
        (allowed ? say_permitted : say_excess)(w, r, f);
    }
}

/* --- what follows for the rest ----------------------------------------------------------------------------------- */

static double permitted_sum(const struct at_work *w)
{
    double sum = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        sum += w->cmp.found[i].permitted ? w->cmp.found[i].percent : 0;
    return sum;
}

/* kind "base": shares are compared on the mass that is left when permitted fibre is taken off. */
void tb_law_check_base(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double off = w->cmp.part ? permitted_sum(w) : 0;

    if (off <= PERCENT_NEAR || off >= 100)
        return;
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        f->base = f->permitted ? 0 : f->percent * 100 / (100 - off);
    }
    tb_law_finding(w, r, "the shares are compared without the %g %% of fibre that may go unnamed", off);
}

/* Is the fibre of the chemical type of one that is named? Those that burn alike are. */
static bool of_a_named_type(const struct at_work *w, int fibre)
{
    for (size_t k = 0; k < w->cmp.part->n && fibre >= 0; k++) {
        int said = w->cmp.part->share[k].fibre;

        if (said >= 0 && strcmp(tb_fibre_at(said)->burn_class, tb_fibre_at(fibre)->burn_class) == 0)
            return true;
    }
    return false;
}

static double found_of_all(const struct at_work *w, size_t share)
{
    double found = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        found += w->cmp.found[i].share == share ? w->cmp.found[i].percent : 0;
    return found;
}

/*
 * kind "cumulate": both allowances together only where the fibre let go is of the chemical type of one that is named.
 * Where it is not, each share must also lie within `number` points on the whole mass: our reading of the rule
 * (docs/law.md, "Readings of ours").
 */
void tb_law_check_cumulate(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool kin = true;

    if (tb_law_fibres(w) < 2 || permitted_sum(w) <= PERCENT_NEAR)
        return;
    for (size_t i = 0; i < w->cmp.n; i++)
        kin = kin && (!w->cmp.found[i].permitted || of_a_named_type(w, w->cmp.found[i].fibre));
    for (size_t k = 0; k < w->cmp.part->n && !kin; k++) {
        struct tb_share s = tb_law_stated(w, k);
        double off = fabs(s.percent - found_of_all(w, k));

        if (tb_law_speaks(w, k) && !isnan(off) && !tb_law_allows(r, off))
            tb_law_finding(w, r,
                           "%s is %g points off on the whole mass, and the unnamed fibre is of another "
                           "chemical type: the two allowances do not add up",
                           tb_law_fibre_text(w, s.fibre), off);
    }
}
