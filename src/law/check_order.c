/*
 * check_order.c - which fibres are named, and in what order: the larger share first, small shares together behind.
 *
 * "Other fibre" and unknown content have places of their own (check_other.c) and do not count in the order.
 */
#include "law/checks.h"

#include <math.h>
#include <string.h>

/* Of one fibre, under whatever words, for the act that applies. */
static bool one_fibre(const struct at_work *w, const struct tb_share *a, const struct tb_share *b)
{
    return a->fibre == b->fibre &&
           !((a->marks ^ b->marks) & TB_MARK_RECYCLED && tb_law_past_counts(w, a->fibre));
}

/* % of a part that is the fibre of this share, under all names it has there; what is named apart by its past is not. */
static double of_the_fibre(const struct at_work *w, const struct tb_part *p, const struct tb_share *s)
{
    double sum = 0;

    for (size_t i = 0; i < p->n; i++)
        if (one_fibre(w, &p->share[i], s))
            sum += p->share[i].percent;
    return sum;
}

/* A fibre that is named again has its place where it was named first. */
static bool counted_in_order(const struct at_work *w, const struct tb_part *p, const struct tb_share *s)
{
    for (const struct tb_share *first = p->share; s->fibre >= 0 && first < s; first++)
        if (one_fibre(w, first, s))
            return false;
    return s->fibre != TB_FIBRE_OTHER && s->fibre != TB_FIBRE_UNKNOWN && !isnan(of_the_fibre(w, p, s));
}

/* kind "order": no fibre with a figure stands behind a smaller one of its part. Equal shares may stand in any order. */
void tb_law_check_order(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->blanks && tb_law_has_rule(w, "list", NULL))
        return; /* a printed list of names is in the order of the alphabet */
    EACH_PART (w, p) {
        const struct tb_share *before = NULL;

        EACH_SHARE (p, s) {
            double now, then;

            if (!counted_in_order(w, p, s))
                continue;
            now = of_the_fibre(w, p, s);
            then = before ? of_the_fibre(w, p, before) : now;
            if (now > then + PERCENT_NEAR)
                tb_law_finding(w, r, "%s (%g %%) stands after %s (%g %%): the larger share comes first",
                               tb_law_share_text(w, s), now, tb_law_share_text(w, before), then);
            before = s;
        }
    }
}

/* kind "list": lets a printed list of names with blanks for the figures keep its order; tb_law_check_order asks for it. */
void tb_law_check_list(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->blanks)
        tb_law_finding(w, r,
                       "read as a printed list with blank spaces: the order of predominance does not apply");
}

/* --- small shares ------------------------------------------------------------------------------------------------ */

/* Named as serving a purpose by the person who asks. */
static bool is_functional(const struct at_work *w, int fibre)
{
    for (size_t i = 0; i < w->facts->functionals; i++)
        if (w->facts->functional[i] == fibre)
            return true;
    return false;
}

/* "functional": of a group that serves a purpose by its nature, as elastomers stretch. "always": wool in a wool act. */
static bool by_group(const struct at_work *w, const char *kind, int fibre)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, kind) == 0 && tb_law_of_regime(w, w->rule[i]) &&
            tb_law_group_has(w->market, w->rule[i]->arg, fibre))
            return true;
    return false;
}

bool tb_law_named_when_small(const struct at_work *w, int fibre)
{
    return by_group(w, "always", fibre) || by_group(w, "functional", fibre) || is_functional(w, fibre);
}

/*
 * kind "small": a fibre at less than `number` is not named but goes to "other fibre", unless it serves a purpose. A
 * blend of many small fibres would otherwise sell the names of all.
 */
void tb_law_check_small(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            double all = of_the_fibre(w, p, s); /* without a figure for each of its names nobody knows it */

            if (s->fibre < 0 || isnan(all) || !tb_law_allows(r, all) || s->percent <= 0 ||
                tb_law_named_when_small(w, s->fibre))
                continue;
            tb_law_finding(
                w, r, "%s at %g %% is below %g %%: call it %s, unless it serves a purpose (--functional %s)",
                tb_law_share_text(w, s), s->percent, r->number,
                tb_law_phrase_text(w, "other_fibre", "other fibre"), tb_fibre_at(s->fibre)->key);
        }
}

/* kind "functional": a note where a small fibre is named by right: of the group `arg`, or said to serve a purpose. */
void tb_law_check_functional(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre >= 0 && !isnan(s->percent) && tb_law_allows(r, s->percent) &&
                (tb_law_group_has(w->market, r->arg, s->fibre) || is_functional(w, s->fibre)))
                tb_law_finding(w, r, "%s may be named at %g %%: it serves a purpose", tb_law_share_text(w, s),
                               s->percent);
}
