/*
 * check_parts.c - parts of a cloth: pile and back, warp and weft, elastic sections, and a cotton linen union.
 *
 * Laws differ on what may be stated apart. A lining can be taken out and has its own line everywhere; a pile without
 * its ratio says nothing about the cloth; warp and weft are one cloth.
 */
#include "law/checks.h"

#include <math.h>
#include <string.h>

static const struct tb_part *part_with(const struct at_work *w, enum tb_part_kind kind)
{
    EACH_PART (w, p)
        if (p->kind == kind)
            return p;
    return NULL;
}

static const struct tb_part *either(const struct at_work *w, enum tb_part_kind a, enum tb_part_kind b)
{
    const struct tb_part *p = part_with(w, a);

    return p ? p : part_with(w, b);
}

double tb_law_part_share(const struct at_work *w, enum tb_part_kind kind)
{
    return isnan(w->label->ratio[kind]) ? w->facts->part_share[kind] : w->label->ratio[kind];
}

/* A pile and a back of the same content make a cloth of that content, whatever each weighs. */
bool tb_law_same_content(const struct tb_part *a, const struct tb_part *b)
{
    for (size_t i = 0; i < a->n; i++) {
        size_t k = 0;

        while (k < b->n && (b->share[k].fibre != a->share[i].fibre || b->share[k].marks != a->share[i].marks))
            k++;
        if (k == b->n || (a->n > 1 && !(fabs(a->share[i].percent - b->share[k].percent) < PERCENT_NEAR)))
            return false;
    }
    return a->n == b->n;
}

static void check_ratio(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_part *front = either(w, TB_PART_PILE, TB_PART_FACE),
                         *back = either(w, TB_PART_BACK, TB_PART_GROUND);
    double a, b;

    if (!front || !back || tb_law_same_content(front, back))
        return;
    a = w->label->ratio[front->kind];
    b = w->label->ratio[back->kind];
    if (isnan(a) || isnan(b))
        tb_law_finding(w, r, "%s and %s are stated apart and the ratio between them is not given",
                       tb_part_key(front->kind), tb_part_key(back->kind));
    else if (!tb_law_allows(r, a + b))
        tb_law_finding(w, r, "%s and %s are given as %g and %g %% of the cloth: that is %g %%, not 100",
                       tb_part_key(front->kind), tb_part_key(back->kind), a, b, a + b);
}

static void check_backing(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_part *front = either(w, TB_PART_PILE, TB_PART_COATING),
                         *back = either(w, TB_PART_BACK, TB_PART_GROUND);

    if (front && back && front > back)
        tb_law_finding(w, r, "the %s is stated before the %s: it comes after", tb_part_key(back->kind),
                       tb_part_key(front->kind));
}

static void check_small_part(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p) {
        double share = tb_law_part_share(w, p->kind);

        if (w->label->comp.n > 1 && !isnan(share) && tb_law_allows(r, share))
            tb_law_finding(w, r,
                           "the %s is %g %% of the product, below %g %%: it may go without a statement "
                           "unless it is a main lining",
                           tb_part_key(p->kind), share, r->number);
    }
}

static void check_elastic(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        if (p->n && p->share->marks & SAID_ELASTIC)
            tb_law_finding(w, r, "the elastic section may list its fibres by name alone, in their order");
}

/* Warp and weft are no parts that anybody could take apart: a label speaks of the cloth. */
static void check_whole(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if ((part_with(w, TB_PART_WARP) || part_with(w, TB_PART_WEFT)) && !w->label->united)
        tb_law_finding(w, r, "warp and weft are stated apart: the figures of a label are of the whole cloth");
}

/*
 * kind "section":
 *   arg  "ratio" pile and back are given with their shares, which make up `number`; "backing" the back comes after;
 *        "small" a part below `number` per cent may go without a statement; "elastic" lists its fibres by name alone;
 *        "whole" warp and weft are not stated apart
 */
void tb_law_check_section(struct at_work *w, const struct tb_ref_law_rule *r)
{
    static const struct {
        const char *arg;
        check_fn *run;
    } section[] = { { "ratio", check_ratio },
                    { "backing", check_backing },
                    { "small", check_small_part },
                    { "elastic", check_elastic },
                    { "whole", check_whole } };

    for (size_t i = 0; i < TB_COUNT(section); i++)
        if (strcmp(section[i].arg, r->arg) == 0)
            section[i].run(w, r);
}

/* --- cotton linen union ------------------------------------------------------------------------------------------ */

/* % of flax in the cloth: the mass of the weft, else what an analysis found in the whole. NAN: nobody knows. */
static double flax_of(const struct at_work *w)
{
    double flax = tb_law_part_share(w, TB_PART_WEFT);
    const struct tb_part *whole = w->q->found ? tb_composition_part(w->q->found, TB_PART_WHOLE) : NULL;

    return isnan(flax) && whole ? tb_part_percent(whole, tb_fibre_by_key("flax")) : flax;
}

/*
 * kind "union": cotton warp, flax weft. Flax must reach `number` per cent, and the words for both follow the name, which
 * stands in place of figures.
 */
void tb_law_check_union(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double flax = flax_of(w);

    if (!w->label->united)
        return;
    if (!w->label->united_parts)
        tb_law_finding(
            w, r,
            "'cotton linen union' is followed by the words for a pure cotton warp and a pure linen weft");
    if (isnan(flax))
        tb_law_finding_as(
            w, r, TB_SEVERITY_ADVICE,
            "the name needs at least %g %% flax in the cloth: say what the weft weighs (--share weft=...)",
            r->number);
    else if (!tb_law_allows(r, flax))
        tb_law_finding(w, r, "flax is %g %% of the cloth; the name needs at least %g %%", flax, r->number);
}
