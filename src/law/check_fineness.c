/*
 * check_fineness.c - how fine a fibre must be to bear a name: cashmere, and the Super grades of wool.
 *
 * The figures are measured, not read from the label, so that a check whose figure is missing asks for it.
 */
#include "law/checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool names_cashmere(const struct at_work *w)
{
    int cashmere = tb_fibre_by_key("cashmere");

    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre == cashmere)
                return true;
    return false;
}

static void check_grade(struct at_work *w, const struct tb_ref_law_rule *r, int grade)
{
    double micron = w->facts->micron;

    if (w->label->super != grade)
        return;
    if (isnan(micron))
        tb_law_finding_as(
            w, r, TB_SEVERITY_ADVICE,
            "Super %d's needs a mean diameter of at most %g micrometres: say what it is (--micron)", grade,
            r->number);
    else if (!tb_law_allows(r, micron))
        tb_law_finding(w, r, "the mean diameter is %g micrometres; Super %d's allows at most %g", micron,
                       grade, r->number);
}

/* The mean is asked for where it is not known: without it nobody can say what the fibre is. */
static void check_mean(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double micron = w->facts->micron;

    if (isnan(micron))
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                          "the name cashmere needs a mean diameter of at most %g micrometres (--micron)",
                          r->number);
    else if (!tb_law_allows(r, micron))
        tb_law_finding(w, r, "the mean diameter is %g micrometres; cashmere allows at most %g", micron,
                       r->number);
}

/*
 * kind "diameter": `number` is the most that is allowed.
 *   arg  "super-120": mean diameter in micrometres for that grade; "cashmere-mean" the same for cashmere;
 *        "cashmere-coarse" % of fibres over 30 micrometres; "cashmere-cv" coefficient of variation in %
 */
void tb_law_check_diameter(struct at_work *w, const struct tb_ref_law_rule *r)
{
    static const char super[] = "super-";
    const struct tb_law_facts *f = w->facts;

    if (strncmp(r->arg, super, sizeof super - 1) == 0)
        check_grade(w, r, atoi(r->arg + sizeof super - 1));
    else if (!names_cashmere(w))
        return;
    else if (strcmp(r->arg, "cashmere-mean") == 0)
        check_mean(w, r);
    else if (strcmp(r->arg, "cashmere-coarse") == 0 && !tb_law_allows(r, f->coarse))
        tb_law_finding(w, r, "the share of fibres over 30 micrometres is %g %%; cashmere allows at most %g",
                       f->coarse, r->number);
    else if (strcmp(r->arg, "cashmere-cv") == 0 && !tb_law_allows(r, f->cv))
        tb_law_finding(w, r, "the coefficient of variation is %g %%; cashmere allows at most %g", f->cv,
                       r->number);
}
