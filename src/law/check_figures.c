/*
 * check_figures.c - the figures of a label by themselves: whether they are there, add up and can be percentages at all.
 *
 * Nothing here asks what was found in the cloth, but for a single wool claim, which the cloth may bear out.
 */
#include "base/say.h"
#include "law/checks.h"

#include <math.h>

/* --- percentages that are missing -------------------------------------------------------------------------------- */

/* A group that may not stand without its figure: wool, and the finer hairs that take its place. */
static void check_group(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_part *p,
                        const struct tb_share *s)
{
    bool alone = !isnan(r->number); /* one fibre without a figure claims all of it, but for so much */
    const char *said;

    if (!isnan(s->percent) || s->marks & TB_MARK_PURE || !tb_law_group_has(w->market, r->arg, s->fibre))
        return;
    said = tb_law_share_text(w, s);
    if (p->n == 1 && alone && !w->q->found)
        tb_law_finding_as(w, r, TB_SEVERITY_ADVICE, "'%s' alone says that all of it is %s: is it? (--actual)",
                          said, r->arg);
    else if (p->n > 1 || !alone || w->cmp.extraneous > r->number + PERCENT_NEAR)
        tb_law_finding(w, r, "'%s' stands without its percentage", said);
}

static void check_each(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_part *p,
                       const struct tb_share *s)
{
    if (p->n >= 2 && !(s->marks & SAID_ELASTIC) && isnan(s->percent))
        tb_law_finding(w, r, "'%s' stands without a percentage", tb_law_share_text(w, s));
}

/*
 * kind "percent": each of several fibres carries its percentage.
 *   arg     a group that may not stand without one in any blend (us: wool, and the finer hairs)
 *   number  with arg: a claim of that fibre alone needs no figure while no more than this of another was found
 */
void tb_law_check_percent(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->chiefly && tb_law_has_rule(w, "unknown", "scraps"))
        return; /* "cloth scraps composed chiefly of X with minimum of N % recycled wool" */
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            (r->arg[0] ? check_group : check_each)(w, r, p, s);
}

/* --- percentages that cannot be ---------------------------------------------------------------------------------- */

/* kind "sum": the shares of each part add up to `number`. A part with a figure missing has no sum to be wrong. */
void tb_law_check_sum(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p) {
        struct tb_text figure = { 0 };
        double sum = 0;

        EACH_SHARE (p, s)
            sum += s->percent; /* one share without a figure makes it NAN, which every rule allows */
        if (p->n && !tb_law_allows(r, sum)) {
            tb_law_percent(&figure, sum);
            tb_law_finding(w, r, "the shares add up to %s %%, not 100", tb_text_str(&figure));
        }
        tb_text_free(&figure);
    }
}

static void say_malformed(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->label->tokens; i++) {
        const struct token *t = &w->label->token[i];

        if (t->kind == TOKEN_PERCENT && isnan(t->value))
            tb_law_finding(w, r, "'%s' is not a percentage", tb_law_quote(w, t));
    }
}

/* "(50 % recycled)": a figure beside those of the cloth that is of something else. */
static void say_of_a_part(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->label->asides; i++)
        if (w->label->aside[i].figure)
            tb_law_finding(
                w, r, "'%s' is said of a part of one fibre: each figure on a label is of the whole cloth",
                tb_law_quote(w, &w->label->aside[i].words));
}

/* kind "range": a percentage is a number above 0 and at most 100, and belongs to a fibre. */
void tb_law_check_range(struct at_work *w, const struct tb_ref_law_rule *r)
{
    size_t orphans = w->label->orphans;

    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (!isnan(s->percent) && (s->percent <= 0 || s->percent > 100))
                tb_law_finding(w, r, "a share is given as %.4g %%: a share lies above 0 and at most at 100",
                               s->percent);
    say_malformed(w, r);
    say_of_a_part(w, r);
    if (orphans)
        tb_law_finding(w, r,
                       _n("%zu percentage stands without a fibre to belong to",
                          "%zu percentages stand without a fibre to belong to", orphans),
                       orphans);
}

/* kind "rounding": a note only, since no law that was read forbids a fraction. */
void tb_law_check_rounding(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (!isnan(s->percent) && fabs(s->percent - round(s->percent)) > PERCENT_NEAR)
                tb_law_finding(w, r, "%g %% has a fraction: whole numbers are customary", s->percent);
}

/* kind "pure": what claims all of a part leaves no room for another fibre in it. */
void tb_law_check_pure(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if ((s->marks & TB_MARK_PURE || s->percent >= 100) && p->n > 1)
                tb_law_finding(w, r,
                               "'pure', 'all' or 100 %% is said of %s, and another fibre is named beside it",
                               tb_law_share_text(w, s));
}

/* kind "inequality": "85 % or more" may stand only above `number`, for below it it would say little. */
void tb_law_check_inequality(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->marks & SAID_MORE && !tb_law_allows(r, s->percent))
                tb_law_finding(w, r, "'or more' may be said of a share above %g %%, not of %g %%", r->number,
                               s->percent);
}

/* kind "except": a note on "except 5 % nylon added to toe and heel", whose figure is of another mass than the rest. */
void tb_law_check_except(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (!isnan(w->label->except))
        tb_law_finding(
            w, r, "%g %% of an added fibre is stated as an exception; it is of the mass of the base fibre",
            w->label->except);
    else if (w->label->excepted)
        tb_law_finding_as(w, r, TB_SEVERITY_ADVICE,
                          "something is excepted without a figure: say of what fibre it is, and how much");
}

/* kind "composite": constituents of a composite fibre add up to `number`, the larger first. */
void tb_law_check_composite(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_part *in = &w->label->inner;
    double sum = 0;
    bool falling = true;

    for (size_t i = 0; i < in->n; i++) {
        sum += in->share[i].percent;
        falling = falling && (i == 0 || in->share[i].percent <= in->share[i - 1].percent + PERCENT_NEAR);
    }
    if (in->n && (isnan(sum) || !tb_law_allows(r, sum)))
        tb_law_finding(w, r, "the constituents of the composite fibre do not add up to 100 %%");
    if (in->n && !falling)
        tb_law_finding(w, r, "the larger constituent of the composite fibre comes first");
}

/*
 * kind "form": not a figure, and like one: characters that no reader of the label sees may turn the order of those that are
 * seen, so that the label says one thing to the eye and another to a machine.
 */
void tb_law_check_form(struct at_work *w, const struct tb_ref_law_rule *r)
{
    size_t n = w->label->hidden;

    if (n)
        tb_law_finding(
            w, r,
            _n("the text holds %zu character nobody sees (a control, a mark of direction, a broken byte)",
               "the text holds %zu characters nobody sees (controls, marks of direction, broken bytes)", n),
            n);
}
