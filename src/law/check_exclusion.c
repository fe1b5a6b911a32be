/*
 * check_exclusion.c - what may be left out of the composition: with the words "exclusive of ...", or without a word.
 *
 * It runs before anything is compared with the cloth: what was found and is left out by right is taken off first.
 */
#include "base/say.h"
#include "law/checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const tb_law_exclusions[] = { "ornamentation", "decoration",    "elastic",
                                          "trimming",      "reinforcement", NULL };

unsigned tb_law_exclusion(const char *what)
{
    for (unsigned i = 0; tb_law_exclusions[i]; i++)
        if (strcmp(tb_law_exclusions[i], what) == 0)
            return 1u << i;
    return 0;
}

/* A claim of one fibre, and a little of another in the cloth: ornamentation would have to be said. */
static void check_missing_ornament(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (tb_law_fibres(w) == 1 && !w->label->excludes && !w->label->excepted &&
        w->cmp.extraneous > PERCENT_NEAR && tb_law_allows(r, w->cmp.extraneous))
        tb_law_finding(w, r, "%g %% of another fibre was found: if it is ornamentation, '%s' follows at once",
                       w->cmp.extraneous,
                       tb_law_phrase_text(w, "without:ornamentation", "exclusive of ornamentation"));
}

/*
 * What was found and is not named is what the phrase leaves out; the rest is compared without it. Elastic is an
 * elastomer, while ornamentation may be of any fibre.
 */
static void leave_out(struct at_work *w, const char *arg)
{
    bool elastic = strcmp(arg, "elastic") == 0;
    double off = 0;

    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share == TB_NOWHERE && !f->permitted &&
            (!elastic || tb_law_group_has(w->market, "elastomer", f->fibre))) {
            f->permitted = true;
            off += f->percent;
        }
    }
    for (size_t i = 0; i < w->cmp.n && off < 100; i++)
        w->cmp.found[i].base = w->cmp.found[i].permitted ? 0 : w->cmp.found[i].base * 100 / (100 - off);
}

/* The figure on the label: of the whole cloth, where the market prints it as a share of the rest (`unit`). NAN: none. */
static double printed(const struct at_work *w, const struct tb_ref_law_rule *r)
{
    double n = w->label->left_out;

    return strstr(r->unit, "of the rest") ? n * 100 / (100 + n) : n;
}

/*
 * How much the phrase leaves out: as told, else (by mass) what was found and is not named; and no less than the label
 * itself says. NAN: nobody knows.
 */
static double left_out(const struct at_work *w, const struct tb_ref_law_rule *r, bool area)
{
    double known = w->facts->left_out;

    if (area)
        return w->facts->area_share;
    if (isnan(known) && w->cmp.n && w->label->excludes)
        known = w->cmp.extraneous;
    return fmax(known, w->label->excludes & tb_law_exclusion(r->arg) ? printed(w, r) : NAN);
}

/* "at most 5 %"; yours to free. */
static char *limit_text(const struct tb_ref_law_rule *r)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, tb_law_includes(r) ? _("at most %g %%") : _("less than %g %%"), r->number);
    return tb_text_take(&t);
}

static void ask_how_much(struct at_work *w, const struct tb_ref_law_rule *r, bool area, const char *limit)
{
    if (area)
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                          "%s may be left out up to a limit (%s of the surface): say how much there is "
                          "(--area-share)",
                          r->arg, limit);
    else
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                          "%s may be left out up to a limit (%s of the mass): say how much there is "
                          "(--left-out)",
                          r->arg, limit);
}

static void say_too_much(struct at_work *w, const struct tb_ref_law_rule *r, bool area, double amount,
                         const char *limit)
{
    if (area)
        tb_law_finding(w, r, "%s takes %g %% of the surface; it may be left out only where it is %s", r->arg,
                       amount, limit);
    else
        tb_law_finding(w, r, "%s takes %.4g %% of the mass; it may be left out only where it is %s", r->arg,
                       amount, limit);
}

static void say_allowed(struct at_work *w, const struct tb_ref_law_rule *r, bool area, double amount,
                        const char *limit)
{
    if (area)
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE, "%s at %g %% of the surface may be left out (%s)", r->arg,
                          amount, limit);
    else
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE, "%s at %.4g %% of the mass may be left out (%s)", r->arg,
                          amount, limit);
}

/*
 * kinds "exclusion" and "omission": up to `number` per cent, as `comparison` has it, of the mass or of the surface
 * (`unit` speaks of area). An omission needs no words on the label: it holds wherever the amount is known.
 *   arg  "ornamentation", "decoration", "elastic", "trimming", "reinforcement"; "ornamentation_missing": the words are
 *        not there and may be wanted
 */
void tb_law_check_exclusion(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool area = strstr(r->unit, "area") != NULL, said = w->label->excludes & tb_law_exclusion(r->arg);
    double amount = left_out(w, r, area);
    char *limit;

    if (strcmp(r->arg, "ornamentation_missing") == 0) {
        check_missing_ornament(w, r);
        return;
    }
    if (!said && (strcmp(r->kind, "omission") != 0 || isnan(amount)))
        return;
    limit = limit_text(r);
    if (isnan(amount))
        ask_how_much(w, r, area, limit);
    else if (!tb_law_allows(r, amount))
        say_too_much(w, r, area, amount, limit);
    else
        say_allowed(w, r, area, amount, limit);
    free(limit);
    if (isnan(amount) || tb_law_allows(r, amount))
        leave_out(w, r->arg);
}
