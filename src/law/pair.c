/*
 * pair.c - the label beside the cloth: which part answers to which, and which share to which fibre.
 *
 * A label and an analysis are made by different people: one names the shell, the other the cloth as a whole; one says
 * wool, the other cashmere. Everything that is compared later stands on the pairs made here.
 */
#include "law/checks.h"

#include <math.h>
#include <stdlib.h>

/* --- parts ------------------------------------------------------------------------------------------------------- */

const struct tb_part *tb_law_part(const struct tb_composition *c, enum tb_part_kind kind, size_t place)
{
    for (size_t k = 0; k < c->n; k++)
        if (c->part[k].kind == kind && place-- == 0)
            return &c->part[k];
    return NULL;
}

/* A single part on both sides is one pair, whatever it is called on either. */
static const struct tb_part *choose_parts(struct at_work *w, size_t pair)
{
    const struct tb_composition *f = w->q->found;
    const struct tb_part *p;
    size_t seen[TB_PART_KINDS] = { 0 };
    bool only = f && w->label->comp.n == 1 && f->n == 1;

    for (size_t i = 0; f && i < w->label->comp.n; i++) {
        enum tb_part_kind kind = w->label->comp.part[i].kind;

        p = only ? &f->part[0] : tb_law_part(f, kind, seen[kind]++);
        if (!p || pair-- > 0)
            continue;
        w->cmp.part = &w->label->comp.part[i];
        return p;
    }
    return NULL;
}

/* --- shares ------------------------------------------------------------------------------------------------------ */

const struct tb_share *tb_law_bucket(const struct at_work *w)
{
    const struct tb_part *p = w->cmp.part;

    for (size_t i = 0; p && i < p->n; i++)
        if (p->share[i].fibre == TB_FIBRE_OTHER || p->share[i].fibre == TB_FIBRE_UNKNOWN)
            return &p->share[i];
    return NULL;
}

static bool covers(const struct at_work *w, int said, int found)
{
    if (said < 0 || found < 0)
        return false;
    return said == found || tb_law_same_name(w->law, w->market, said, found, tb_law_lang(w)) ||
           tb_law_name_covers(w->market, said, found);
}

static bool same_fibre(const struct at_work *w, int said, int found)
{
    (void)w;
    return said == found && found >= 0;
}

/* First share of the part that fits; `alike`: recycled for recycled only. */
static size_t first_share(const struct at_work *w, bool (*fits)(const struct at_work *w, int said, int found),
                          int fibre, unsigned marks, bool alike)
{
    const struct tb_part *p = w->cmp.part;

    for (size_t i = 0; i < p->n; i++)
        if (fits(w, p->share[i].fibre, fibre) && !(alike && (p->share[i].marks ^ marks) & TB_MARK_RECYCLED))
            return i;
    return TB_NOWHERE;
}

/*
 * The share of the label a found fibre answers to: its own name first, then a wider one ("wool" for cashmere). Where
 * the label has "other fibres", a wider name of another past does not take it in: it may stand behind those.
 */
static size_t share_for(const struct at_work *w, int fibre, unsigned marks)
{
    size_t at = first_share(w, same_fibre, fibre, marks, true);

    if (at == TB_NOWHERE)
        at = first_share(w, same_fibre, fibre, marks, false);
    if (at == TB_NOWHERE)
        at = first_share(w, covers, fibre, marks, true);
    if (at == TB_NOWHERE && !tb_law_bucket(w))
        at = first_share(w, covers, fibre, marks, false);
    return at;
}

/* Was some of the fibre found to be reclaimed? Then the cloth tells what the label splits by that. */
static bool found_reclaimed(const struct at_work *w, const struct tb_part *found, int fibre)
{
    for (size_t i = 0; i < found->n; i++)
        if (found->share[i].marks & TB_MARK_RECYCLED && covers(w, fibre, found->share[i].fibre))
            return true;
    return false;
}

/*
 * The first share of the label that no analysis can tell from this one: merino is wool, Pima and Upland are both cotton,
 * and so is organic cotton. Recycled fibre stays apart where the cloth was looked at for it.
 */
static size_t compared_with(const struct at_work *w, const struct tb_part *found, size_t share)
{
    const struct tb_share *s = w->cmp.part->share;

    for (size_t i = 0; i < share && s[share].fibre >= 0; i++)
        if (s[i].fibre == s[share].fibre &&
            !((s[i].marks ^ s[share].marks) & TB_MARK_RECYCLED && found_reclaimed(w, found, s[share].fibre)))
            return i;
    return share;
}

bool tb_law_speaks(const struct at_work *w, size_t share)
{
    return w->cmp.with[share] == share;
}

size_t tb_law_fibres(const struct at_work *w)
{
    size_t n = 0;

    for (size_t i = 0; w->cmp.part && i < w->cmp.part->n; i++)
        n += tb_law_speaks(w, i);
    return n;
}

struct tb_share tb_law_stated(const struct at_work *w, size_t share)
{
    struct tb_share all = w->cmp.part->share[share];

    for (size_t i = share + 1; i < w->cmp.part->n; i++)
        if (w->cmp.with[i] == share) {
            all.percent += w->cmp.part->share[i].percent;
            all.marks |= w->cmp.part->share[i].marks;
        }
    return all;
}

static void add_found(struct at_work *w, const struct tb_part *f, const struct tb_share *s)
{
    struct compared *c = &w->cmp;
    double percent = isnan(s->percent) ? f->n == 1 ? 100 : 0 : s->percent; /* "wool": all of it */
    struct found one = { .fibre = s->fibre, .percent = percent, .base = percent, .marks = s->marks };

    if (percent <= 0)
        return;
    one.share = share_for(w, s->fibre, s->marks);
    if (one.share == TB_NOWHERE)
        c->extraneous += percent;
    else
        one.share = c->with[one.share];
    TB_PUSH_ROOM(c->found, c->n, c->cap);
    c->found[c->n++] = one;
}

bool tb_law_compare(struct at_work *w, size_t pair)
{
    const struct tb_part *f;

    w->cmp = (struct compared){ 0 };
    if (!(f = choose_parts(w, pair)))
        return false;
    w->cmp.judged = tb_array(bool, w->cmp.part->n ? w->cmp.part->n : 1);
    w->cmp.with = tb_array(size_t, w->cmp.part->n ? w->cmp.part->n : 1);
    for (size_t i = 0; i < w->cmp.part->n; i++)
        w->cmp.with[i] = compared_with(w, f, i);
    for (size_t i = 0; i < f->n; i++)
        add_found(w, f, &f->share[i]);
    return true;
}

void tb_law_compared_free(struct compared *c)
{
    free(c->found);
    free(c->judged);
    free(c->with);
    *c = (struct compared){ 0 };
}

/* --- what was found for a share ---------------------------------------------------------------------------------- */

/* A bucket holds what answers to nothing else. */
double tb_law_found_for(const struct at_work *w, size_t share)
{
    const struct tb_share *s = &w->cmp.part->share[share];
    bool holds_rest = s == tb_law_bucket(w);
    double sum = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        if (w->cmp.found[i].share == share || (holds_rest && w->cmp.found[i].share == TB_NOWHERE))
            sum += w->cmp.found[i].base;
    return sum;
}

bool tb_law_virgin_said(const struct at_work *w)
{
    for (size_t i = 0; w->cmp.part && i < w->cmp.part->n; i++)
        if (w->cmp.part->share[i].marks & TB_MARK_VIRGIN &&
            tb_law_group_has(w->market, "wool", w->cmp.part->share[i].fibre))
            return true;
    return false;
}

bool tb_law_holds_for(const struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s)
{
    struct held h = { w->market, w->cmp.part, tb_law_fibres(w), s, w->facts->carded, tb_law_virgin_said(w) };

    return tb_law_holds(r, &h);
}
