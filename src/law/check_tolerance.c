/*
 * check_tolerance.c - is each share of the label within the tolerance of what was found, and what was not compared?
 *
 * Whatever could not be compared is said, since silence would pass for a yes.
 */
#include "law/checks.h"

#include <math.h>

/* --- tolerance --------------------------------------------------------------------------------------------------- */

/* "85 % or more" and "less than 15 %" hold exactly. */
static void judge_inequality(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s,
                             double found)
{
    if (s->marks & SAID_MORE && found < s->percent - PERCENT_NEAR)
        tb_law_finding(w, r, "%s is said to be %g %% or more; %g %% was found",
                       tb_law_fibre_text(w, s->fibre), s->percent, found);
    else if (s->marks & SAID_LESS && found >= s->percent - PERCENT_NEAR)
        tb_law_finding(w, r, "%s is said to be less than %g %%; %g %% was found",
                       tb_law_fibre_text(w, s->fibre), s->percent, found);
}

static void say_off(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s,
                    double found)
{
    const char *fibre = tb_law_fibre_text(w, s->fibre);

    if (r->number > 0)
        tb_law_finding(
            w, r, "%s is stated at %g %% and found at %.4g %%: %.3g points off, more than the %g allowed",
            fibre, s->percent, found, fabs(s->percent - found), r->number);
    else if (tb_law_fibres(w) == 1)
        tb_law_finding(w, r,
                       "%s is stated at %g %% and found at %.4g %%: a claim of one fibre has no tolerance",
                       fibre, s->percent, found);
    else
        tb_law_finding(w, r, "%s is stated at %g %% and found at %.4g %%: there is no tolerance for it",
                       fibre, s->percent, found);
}

static void judge_share(struct at_work *w, const struct tb_ref_law_rule *r, size_t k,
                        const struct tb_share *s)
{
    double found = tb_law_found_for(w, k);

    if (s->marks & (SAID_MORE | SAID_LESS))
        judge_inequality(w, r, s, found);
    else if (!tb_law_allows(r, fabs(s->percent - found)))
        say_off(w, r, s, found);
}

/* A fibre that is not on the label counts as stated at nothing. */
static void judge_unnamed(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || f->permitted || f->reported)
            continue;
        f->reported = true;
        if (!tb_law_allows(r, f->percent))
            tb_law_finding(w, r, "%s was found at %g %% and is not on the label",
                           tb_law_fibre_text(w, f->fibre), f->percent);
        else
            tb_law_finding_as(w, r, TB_SEVERITY_ADVICE, "%s was found at %g %% and is not on the label",
                              tb_law_fibre_text(w, f->fibre), f->percent);
    }
}

/*
 * kind "tolerance": at most `number` points between a stated share and the found one. The rows of a market stand in the
 * table with the narrow case first: the first whose conditions hold for a share decides it (compared.judged). The row
 * that decides the last share speaks of fibre nobody named as well, as if it were stated at nothing.
 */
void tb_law_check_tolerance(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool whole = true;

    if (!w->cmp.part || w->cmp.n == 0)
        return;
    for (size_t k = 0; k < w->cmp.part->n; k++) {
        struct tb_share s = tb_law_stated(w, k);

        if (!tb_law_speaks(w, k))
            continue;
        if (w->cmp.judged[k] || isnan(s.percent) || s.fibre < TB_FIBRE_UNKNOWN ||
            !tb_law_holds_for(w, r, &s)) {
            whole = whole && w->cmp.judged[k];
            continue;
        }
        w->cmp.judged[k] = true;
        judge_share(w, r, k, &s);
    }
    if (whole && !tb_law_bucket(w))
        judge_unnamed(w, r);
}

/* kind "present": a share that is stated, however small, must be there: a name may not be sold for nothing. */
void tb_law_check_present(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t k = 0; w->cmp.part && w->cmp.n && k < w->cmp.part->n; k++) {
        struct tb_share s = tb_law_stated(w, k);

        if (s.fibre >= 0 && tb_law_speaks(w, k) && tb_law_holds_for(w, r, &s) &&
            !tb_law_allows(r, tb_law_found_for(w, k)))
            tb_law_finding(w, r, "%s is stated at %g %% and none was found", tb_law_fibre_text(w, s.fibre),
                           s.percent);
    }
}

static bool differs(const struct at_work *w)
{
    for (size_t k = 0; w->cmp.part && w->cmp.n && k < w->cmp.part->n; k++) {
        double stated = tb_law_stated(w, k).percent;

        if (tb_law_speaks(w, k) && !isnan(stated) && fabs(stated - tb_law_found_for(w, k)) > PERCENT_NEAR)
            return true;
    }
    return false;
}

/* kind "care": for an act without a figure: no number excuses a deviation, care does. */
void tb_law_check_care(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (differs(w))
        tb_law_finding(
            w, r,
            "the found shares differ from the stated ones: the act gives no number, so be ready to "
            "prove that it could not be avoided and that care was taken");
}

/* --- what could not be compared ---------------------------------------------------------------------------------- */

static void say_unpaired(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_part_kind kind)
{
    if (kind == TB_PART_WHOLE)
        tb_law_finding(w, r,
                       "what was found could not be compared: the label speaks of parts, so say which it is "
                       "(--actual \"%s: ...\")",
                       tb_part_key(w->label->comp.part[0].kind));
    else
        tb_law_finding(w, r, "what was found of the %s could not be compared: the label has no such part",
                       tb_part_key(kind));
}

/* Parts that were analysed and are not on the label: nobody compared them. */
static void unpaired_parts(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_composition *f = w->q->found;
    size_t seen[TB_PART_KINDS] = { 0 };

    for (size_t k = 0; f && k < f->n && !(f->n == 1 && w->label->comp.n == 1); k++)
        if (!tb_law_part(&w->label->comp, f->part[k].kind, seen[f->part[k].kind]++))
            say_unpaired(w, r, f->part[k].kind);
}

/* A fibre that is named more than once was compared as one: said once for each, at its second name. */
static void say_split(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t k = 1; w->cmp.part && w->cmp.n && k < w->cmp.part->n; k++)
        if (!tb_law_speaks(w, k))
            tb_law_finding_as(
                w, r, TB_SEVERITY_NOTE,
                "%s is named more than once: its shares are compared together, at %g %%, and how "
                "it is split cannot be verified by the analysis",
                tb_law_fibre_text(w, w->cmp.part->share[k].fibre), tb_law_stated(w, w->cmp.with[k]).percent);
}

/* Shares of the fibre, under whatever words and of whatever past, before this one, and % of all in the part. */
static size_t said_before(double *percent, const struct tb_part *p, const struct tb_share *s)
{
    size_t before = 0;

    *percent = 0;
    for (size_t i = 0; i < p->n; i++)
        if (p->share[i].fibre == s->fibre) {
            *percent += p->share[i].percent;
            before += &p->share[i] < s;
        }
    return before;
}

/* The same of words that nothing was compared with yet. */
static void say_split_words(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double percent;

    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre >= 0 && said_before(&percent, p, s) == 1 && !isnan(percent))
                tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                                  "%s is named more than once, %g %% in all: how it is split cannot be "
                                  "verified by an analysis",
                                  tb_law_share_text(w, s), percent);
}

/* What is said of a part of a fibre is compared with nothing, and no label that is offered repeats it. */
static void say_asides(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->label->asides; i++)
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE,
                          w->label->aside[i].share
                              ? "'%s' is left out: how a fibre is split cannot be verified by an analysis"
                              : "'%s' is left out: it is not clear of how much of which fibre it is said",
                          tb_law_quote(w, &w->label->aside[i].words));
}

/* Has the market a limit for what is left out, under the act that applies? */
static bool has_limit(const struct at_work *w, const char *what)
{
    return tb_law_rule(w, "exclusion", what) || tb_law_rule(w, "omission", what);
}

/* What the words leave out and no limit is held for would else go from the label without a word. */
static void say_without_limit(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; tb_law_exclusions[i]; i++)
        if (w->label->excludes & 1u << i && !has_limit(w, tb_law_exclusions[i]))
            tb_law_finding_as(
                w, r, TB_SEVERITY_ADVICE,
                "%s is left out by the words, and no limit for it is held here: see whether the law "
                "of %s lets it go unnamed",
                tb_law_exclusions[i], w->market->in_words);
}

/*
 * kind "compared": says what was not compared with the cloth, and where it differs from the words and no tolerance is
 * known to decide by.
 */
void tb_law_check_compared(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool judged = tb_law_has_rule(w, "extraneous", NULL);

    if (w->label->comp.n == 0)
        return;
    unpaired_parts(w, r);
    (w->q->found ? say_split : say_split_words)(w, r);
    say_asides(w, r);
    say_without_limit(w, r);
    for (size_t k = 0; w->cmp.part && k < w->cmp.part->n; k++)
        judged = judged || w->cmp.judged[k];
    if (judged || !differs(w))
        return;
    w->undecided = true;
    tb_law_finding(w, r,
                   "what was found differs from the words, and no tolerance for such a claim is known "
                   "here: decide by the text of the law");
}
