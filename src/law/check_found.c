/* The label against what was found in the cloth: what is missing, what is too much, what the law lets go. */
#include "law/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* --- pairing ----------------------------------------------------------------------------------------------- */

/* The place of part i among those of its kind: the second "other" part answers to the second one found. */
static size_t place_in_kind(const struct label *l, size_t i)
{
    size_t place = 0;

    for (size_t k = 0; k < i; k++)
        place += l->part[k].kind == l->part[i].kind;
    return place;
}

static const struct tb_part *found_part(const struct tb_composition *f, enum tb_part_kind kind, size_t place)
{
    for (size_t k = 0; k < f->n; k++)
        if (f->part[k].kind == kind && place-- == 0)
            return &f->part[k];
    return NULL;
}

/* The label's part and the found part that can be held against each other, pair by pair. */
static const struct tb_part *choose_parts(struct at_work *w, size_t pair)
{
    const struct tb_composition *f = w->q->found;
    const struct tb_part *p;
    bool only = f && w->label->n == 1 && f->n == 1;

    for (size_t i = 0; f && i < w->label->n; i++) {
        p = only ? &f->part[0] : found_part(f, w->label->part[i].kind, place_in_kind(w->label, i));
        if (!p || pair-- > 0)
            continue;
        w->cmp.part = &w->label->part[i];
        return p;
    }
    return NULL;
}

static bool covers(const struct at_work *w, int said, int found)
{
    if (said < 0 || found < 0)
        return false;
    return said == found || tb_law_same_name(w->law, w->market, said, found, tb_law_lang(w)) ||
           tb_law_name_covers(w->market, said, found);
}

static const struct share *bucket(const struct at_work *w)
{
    const struct part *p = w->cmp.part;

    for (size_t i = 0; p && i < p->n; i++)
        if (p->share[i].fibre == TB_FIBRE_OTHER || p->share[i].fibre == TB_FIBRE_UNKNOWN)
            return &p->share[i];
    return NULL;
}

/* The share of the label a found fibre answers to: its own name first, then a wider one ("wool" for cashmere). */
static size_t share_for(const struct at_work *w, int fibre, unsigned marks)
{
    const struct part *p = w->cmp.part;

    for (size_t i = 0; i < p->n; i++)
        if (p->share[i].fibre == fibre && fibre >= 0 && !((p->share[i].marks ^ marks) & TB_MARK_RECYCLED))
            return i;
    for (size_t i = 0; i < p->n; i++)
        if (p->share[i].fibre == fibre && fibre >= 0)
            return i;
    for (size_t i = 0; i < p->n; i++)
        if (covers(w, p->share[i].fibre, fibre) && !((p->share[i].marks ^ marks) & TB_MARK_RECYCLED))
            return i;
    for (size_t i = 0; i < p->n && !bucket(w); i++)
        if (covers(w, p->share[i].fibre, fibre))
            return i;
    return TB_NOWHERE;
}

bool compare_found(struct at_work *w, size_t pair)
{
    struct compared *c = &w->cmp;
    const struct tb_part *f;

    *c = (struct compared){ 0 };
    if (!(f = choose_parts(w, pair)))
        return false;
    c->judged = tb_array(bool, c->part->n ? c->part->n : 1);
    for (size_t i = 0; i < f->n; i++) {
        struct found one = { .fibre = f->share[i].fibre,
                             .percent = f->share[i].percent,
                             .base = f->share[i].percent,
                             .marks = f->share[i].marks,
                             .share = share_for(w, f->share[i].fibre, f->share[i].marks) };

        if (isnan(one.percent))
            one.percent = one.base = f->n == 1 ? 100 : 0;
        if (one.percent <= 0)
            continue;
        if (one.share == TB_NOWHERE)
            c->extraneous += one.percent;
        TB_PUSH_ROOM(c->found, c->n, c->cap);
        c->found[c->n++] = one;
    }
    return true;
}

void compared_free(struct compared *c)
{
    free(c->found);
    free(c->judged);
    *c = (struct compared){ 0 };
}

/* --- helpers ----------------------------------------------------------------------------------------------- */

/* The fibre for a message, with the part of the label where there are several: "cotton (lining)". */
static const char *fibre_text(struct at_work *w, int fibre)
{
    const char *name = fibre >= 0                ? tb_fibre_at(fibre)->name
                       : fibre == TB_FIBRE_OTHER ? "other fibre"
                                                 : "an unknown fibre";
    bool several = w->label->n > 1 && w->cmp.part && w->cmp.part->kind != TB_PART_WHOLE;

    if (!several)
        return name;
    (void)snprintf(w->named, sizeof w->named, "%s (%s)", name, tb_part_key(w->cmp.part->kind));
    return w->named;
}

/* What was found for one share, after permitted fibre was taken off. A bucket holds what nothing else does. */
static double found_for(const struct at_work *w, size_t share)
{
    const struct share *s = &w->cmp.part->share[share];
    bool holds_rest = s == bucket(w);
    double sum = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        if (w->cmp.found[i].share == share || (holds_rest && w->cmp.found[i].share == TB_NOWHERE))
            sum += w->cmp.found[i].base;
    return sum;
}

static bool virgin_said(const struct at_work *w)
{
    for (size_t i = 0; w->cmp.part && i < w->cmp.part->n; i++)
        if (w->cmp.part->share[i].marks & TB_MARK_VIRGIN &&
            group_has(w->market, "wool", w->cmp.part->share[i].fibre))
            return true;
    return false;
}

static int fibre_at(const void *part, size_t i)
{
    return ((const struct part *)part)->share[i].fibre;
}

/* Do all conditions of the row hold for the share (NULL: for the part)? */
static bool holds(const struct at_work *w, const struct tb_ref_law_rule *r, const struct share *s)
{
    const struct part *p = w->cmp.part;
    struct held h = { .market = w->market,
                      .part = p,
                      .fibre_at = fibre_at,
                      .fibres = p ? p->n : 0,
                      .kind = p ? p->kind : TB_PART_WHOLE,
                      .carded = w->facts->carded,
                      .virgin = virgin_said(w),
                      .share = s != NULL,
                      .fibre = s ? s->fibre : -1,
                      .percent = s ? s->percent : NAN,
                      .inequality = s && (s->more || s->less) };

    return rule_holds(r, &h);
}

/* --- undeclared fibre -------------------------------------------------------------------------------------- */

/* Too much unless the cloth was carded: then say so. */
static void ask_whether_carded(struct at_work *w, double sum)
{
    bool single = w->cmp.part->n == 1;

    for (size_t i = 0; i < w->rules && !w->facts->carded && !virgin_said(w); i++) {
        const struct tb_ref_law_rule *r = w->rule[i];

        if (strcmp(r->kind, "extraneous") == 0 && list_has(r->holds, "carded") &&
            list_has(r->holds, single ? "single" : "blend") && rule_allows(r, sum))
            finding_add_as(
                w, r, TB_SEVERITY_ADVICE,
                "if the cloth went through carding, %g %% of unnamed fibre may pass: say so (--carded)", sum);
    }
}

/* Fibre nobody named, up to the rule's share, is let go; above it, it is a fault. */
static void check_extraneous(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool group = r->arg[0] != '\0';
    double sum = 0;

    if (!w->cmp.part || bucket(w) || !holds(w, r, NULL))
        return;
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share == TB_NOWHERE && !f->permitted && !f->reported &&
            (!group || group_has(w->market, r->arg, f->fibre)))
            sum += f->percent;
    }
    if (sum <= 1e-9 || (group && !rule_allows(r, sum)))
        return;
    if (!rule_allows(r, sum))
        ask_whether_carded(w, sum);
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || f->permitted || f->reported ||
            (group && !group_has(w->market, r->arg, f->fibre)))
            continue;
        f->permitted = rule_allows(r, sum);
        f->reported = !f->permitted;
        if (f->permitted)
            finding_add_as(w, r, TB_SEVERITY_NOTE, "%s at %g %% is not named and may go unnamed (%s %g %%)",
                           fibre_text(w, f->fibre), f->percent,
                           r->comparison[1] == '=' ? "at most" : "less than", r->number);
        else
            finding_add(w, r, "%s was found at %g %% and is not named; fibre not named must be %s %g %%",
                        fibre_text(w, f->fibre), f->percent,
                        r->comparison[1] == '=' ? "at most" : "less than", r->number);
    }
}

static double permitted_sum(const struct at_work *w)
{
    double sum = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        sum += w->cmp.found[i].permitted ? w->cmp.found[i].percent : 0;
    return sum;
}

/* Shares are compared on the mass that is left when permitted fibre is taken off. */
static void check_base(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double off = w->cmp.part ? permitted_sum(w) : 0;

    if (off <= 1e-9 || off >= 100)
        return;
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        f->base = f->permitted ? 0 : f->percent * 100 / (100 - off);
    }
    finding_add(w, r, "the shares are compared without the %g %% of fibre that may go unnamed", off);
}

/*
 * Both allowances together only where the fibre let go is of the chemical type of one that is named. Where it is
 * not, each share must also lie within the tolerance on the whole mass: our reading of the rule.
 */
static void check_cumulate(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool kin = true;

    if (!w->cmp.part || w->cmp.part->n < 2 || permitted_sum(w) <= 1e-9)
        return;
    for (size_t i = 0; i < w->cmp.n; i++) {
        const struct found *f = &w->cmp.found[i];
        bool like = !f->permitted;

        for (size_t k = 0; k < w->cmp.part->n && f->fibre >= 0 && !like; k++) {
            int said = w->cmp.part->share[k].fibre;

            like = said >= 0 && strcmp(tb_fibre_at(said)->burn_class, tb_fibre_at(f->fibre)->burn_class) == 0;
        }
        kin = kin && like;
    }
    for (size_t k = 0; k < w->cmp.part->n && !kin; k++) {
        const struct share *s = &w->cmp.part->share[k];
        double found = 0;

        for (size_t i = 0; i < w->cmp.n; i++)
            found += w->cmp.found[i].share == k ? w->cmp.found[i].percent : 0;
        if (!isnan(s->percent) && !rule_allows(r, fabs(s->percent - found)))
            finding_add(w, r,
                        "%s is %g points off on the whole mass, and the unnamed fibre is of another chemical "
                        "type: the two allowances do not add up",
                        fibre_text(w, s->fibre), fabs(s->percent - found));
    }
}

/* A fibre of this share or more is named, also where there is a line for other fibres. */
static void check_disclose(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || f->fibre < 0 || !rule_allows(r, f->percent))
            continue;
        f->reported = true;
        finding_add(w, r, "%s was found at %g %% and is not named: a fibre of %g %% or more is",
                    fibre_text(w, f->fibre), f->percent, r->number);
    }
}

/* A group is named however little of it there is. */
static void check_always(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || !group_has(w->market, r->arg, f->fibre))
            continue;
        f->reported = true;
        finding_add(w, r, "%s was found at %g %% and is not named: %s is named however little there is",
                    fibre_text(w, f->fibre), f->percent, r->arg);
    }
}

/* --- "other fibres" ---------------------------------------------------------------------------------------- */

static void check_other_share(struct at_work *w, const struct tb_ref_law_rule *r, const struct part *p,
                              const struct share *s)
{
    size_t kinds = 0;
    bool known = w->cmp.part == p;

    for (size_t i = 0; known && i < w->cmp.n; i++)
        kinds += w->cmp.found[i].share != TB_NOWHERE ? 0
                 : w->cmp.found[i].fibre >= 0        ? 1
                                                     : 2; /* a sum is several */
    if (strcmp(r->arg, "last") == 0) {
        if (s != &p->share[p->n - 1])
            finding_add(w, r, "'other fibre' comes after the fibres that are named");
    } else if (strcmp(r->arg, "plural") == 0) {
        if (known && kinds > 1 && !s->plural)
            finding_add(w, r, "%zu fibres stand behind '%s': it is '%s'", kinds,
                        tb_law_phrase_text(w->market, "other_fibre", "other fibre"),
                        tb_law_phrase_text(w->market, "other_fibres", "other fibres"));
    } else if (strcmp(r->arg, "below") == 0) {
        if (!s->plural && !rule_allows(r, s->percent))
            finding_add(w, r, "one fibre of %g %% is behind 'other fibre': from %g %% on it is named",
                        s->percent, r->number);
    } else if (strcmp(r->arg, "one") == 0) {
        if (known && kinds == 1 && !rule_allows(r, s->percent))
            finding_add(w, r,
                        "one fibre stands behind 'other fibres' with %g %%; one may stand there up to %g %%",
                        s->percent, r->number);
        else if (!known && !rule_allows(r, s->percent))
            finding_add_as(
                w, r, TB_SEVERITY_ADVICE,
                "'other fibres' at %g %% must be more than one fibre: one alone may stand there up to %g %%",
                s->percent, r->number);
    } else if (!rule_allows(r, s->percent)) {
        finding_add(w, r, "'other fibres' makes up %g %%; it may make up at most %g %%", s->percent,
                    r->number);
    }
}

static void check_other(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->label->n; i++)
        for (size_t k = 0; k < w->label->part[i].n; k++) {
            const struct share *s = &w->label->part[i].share[k];

            if (s->fibre == TB_FIBRE_OTHER && !s->aggregate && !isnan(s->percent))
                check_other_share(w, r, &w->label->part[i], s);
        }
}

/* --- tolerance --------------------------------------------------------------------------------------------- */

/* "85 % or more" and "less than 15 %" hold exactly. */
static void judge_inequality(struct at_work *w, const struct tb_ref_law_rule *r, size_t k)
{
    const struct share *s = &w->cmp.part->share[k];
    double found = found_for(w, k);

    if (s->more && found < s->percent - 1e-9)
        finding_add(w, r, "%s is said to be %g %% or more; %g %% was found", fibre_text(w, s->fibre),
                    s->percent, found);
    else if (s->less && found >= s->percent - 1e-9)
        finding_add(w, r, "%s is said to be less than %g %%; %g %% was found", fibre_text(w, s->fibre),
                    s->percent, found);
}

static void judge_share(struct at_work *w, const struct tb_ref_law_rule *r, size_t k)
{
    const struct share *s = &w->cmp.part->share[k];
    double found = found_for(w, k), off = fabs(s->percent - found);

    if (s->more || s->less)
        judge_inequality(w, r, k);
    else if (!rule_allows(r, off) && r->number > 0)
        finding_add(w, r,
                    "%s is stated at %g %% and found at %.4g %%: %.3g points off, more than the %g allowed",
                    fibre_text(w, s->fibre), s->percent, found, off, r->number);
    else if (!rule_allows(r, off))
        finding_add(w, r, "%s is stated at %g %% and found at %.4g %%: %s", fibre_text(w, s->fibre),
                    s->percent, found,
                    w->cmp.part->n == 1 ? "a claim of one fibre has no tolerance"
                                        : "there is no tolerance for it");
}

/* A fibre that is not on the label counts as stated at nothing. */
static void judge_unnamed(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE || f->permitted || f->reported)
            continue;
        f->reported = true;
        if (!rule_allows(r, f->percent))
            finding_add(w, r, "%s was found at %g %% and is not on the label", fibre_text(w, f->fibre),
                        f->percent);
        else
            finding_add_as(w, r, TB_SEVERITY_ADVICE, "%s was found at %g %% and is not on the label",
                           fibre_text(w, f->fibre), f->percent);
    }
}

static void check_tolerance(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool whole = true;

    if (!w->cmp.part || w->cmp.n == 0)
        return;
    for (size_t k = 0; k < w->cmp.part->n; k++) {
        const struct share *s = &w->cmp.part->share[k];

        if (w->cmp.judged[k] || isnan(s->percent) || s->fibre < TB_FIBRE_UNKNOWN || !holds(w, r, s)) {
            whole = whole && w->cmp.judged[k];
            continue;
        }
        w->cmp.judged[k] = true;
        judge_share(w, r, k);
    }
    if (whole && !bucket(w))
        judge_unnamed(w, r);
}

/* A share that is stated, however small, must be there. */
static void check_present(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t k = 0; w->cmp.part && w->cmp.n && k < w->cmp.part->n; k++) {
        const struct share *s = &w->cmp.part->share[k];

        if (s->fibre >= 0 && holds(w, r, s) && !rule_allows(r, found_for(w, k)))
            finding_add(w, r, "%s is stated at %g %% and none was found", fibre_text(w, s->fibre),
                        s->percent);
    }
}

/* No figure excuses a deviation: care does. */
static void check_care(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t k = 0; w->cmp.part && w->cmp.n && k < w->cmp.part->n; k++) {
        const struct share *s = &w->cmp.part->share[k];

        if (isnan(s->percent) || fabs(s->percent - found_for(w, k)) <= 1e-9)
            continue;
        finding_add(w, r,
                    "the found shares differ from the stated ones: the act gives no number, so be ready to "
                    "prove that it could not be avoided and that care was taken");
        return;
    }
}

/* --- what could not be compared --------------------------------------------------------------------------- */

static bool has_part(const struct label *l, enum tb_part_kind kind, size_t place)
{
    for (size_t i = 0; i < l->n; i++)
        if (l->part[i].kind == kind && place_in_kind(l, i) == place)
            return true;
    return false;
}

static void say_unpaired(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_part_kind kind)
{
    if (kind == TB_PART_WHOLE)
        finding_add(w, r,
                    "what was found could not be compared: the label speaks of parts, so say which it is "
                    "(--actual \"%s: ...\")",
                    tb_part_key(w->label->part[0].kind));
    else
        finding_add(w, r, "what was found of the %s could not be compared: the label has no such part",
                    tb_part_key(kind));
}

/* Parts that were analysed and are not on the label: nobody compared them. */
static void unpaired_parts(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_composition *f = w->q->found;
    size_t seen[TB_PART_KINDS] = { 0 };

    for (size_t k = 0; f && k < f->n && !(f->n == 1 && w->label->n == 1); k++)
        if (!has_part(w->label, f->part[k].kind, seen[f->part[k].kind]++))
            say_unpaired(w, r, f->part[k].kind);
}

/* Silence would pass for a yes: say what was not compared, and where no tolerance is known to compare by. */
static void check_compared(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool judged = market_has(w, "extraneous", NULL), differs = false;

    if (w->label->n == 0)
        return;
    unpaired_parts(w, r);
    for (size_t k = 0; w->cmp.part && k < w->cmp.part->n; k++) {
        const struct share *s = &w->cmp.part->share[k];

        judged = judged || w->cmp.judged[k];
        differs = differs || (!isnan(s->percent) && fabs(s->percent - found_for(w, k)) > 1e-9);
    }
    if (w->cmp.part && w->cmp.n && differs && !judged)
        finding_add(w, r,
                    "what was found differs from the words, and no tolerance for such a claim is known here: "
                    "decide by the text of the law");
}

const struct check_kind tb_law_found_checks[] = {
    { "always", check_always },
    { "disclose", check_disclose },
    { "other", check_other },
    { "present", check_present },
    { "extraneous", check_extraneous },
    { "base", check_base },
    { "cumulate", check_cumulate },
    { "tolerance", check_tolerance },
    { "care", check_care },
    { "compared", check_compared },
    { NULL, NULL },
};
