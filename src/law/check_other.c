/*
 * check_other.c - "other fibres": where they stand, what may be behind them, and how much.
 *
 * How many fibres are behind them can only be counted in the cloth; where nobody looked, the number on the label
 * (fibre, fibres) is all there is to go by.
 */
#include "law/checks.h"

#include <math.h>
#include <string.h>

/* A share of "other fibres" and the fibres of the cloth behind it. */
struct other {
    const struct tb_part *part;
    const struct tb_share *share;
    size_t kinds; /* fibres behind it; 0 where nobody looked */
    double most;  /* % of the largest of them; 0 where nobody looked */
};

/* What the cloth has behind the share. "Other fibres" of an analysis are several, and none of them is known. */
static void count_behind(const struct at_work *w, struct other *o)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        const struct found *f = &w->cmp.found[i];

        if (f->share != TB_NOWHERE)
            continue;
        o->kinds += f->fibre >= 0 ? 1 : 2;
        o->most = f->fibre >= 0 ? fmax(o->most, f->percent) : o->most;
    }
}

static void check_last(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o)
{
    if (o->share != &o->part->share[o->part->n - 1])
        tb_law_finding(w, r, "'other fibre' comes after the fibres that are named");
}

static void check_plural(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o)
{
    if (o->kinds > 1 && !(o->share->marks & SAID_PLURAL))
        tb_law_finding(w, r, "%zu fibres stand behind '%s': it is '%s'", o->kinds,
                       tb_law_phrase_text(w, "other_fibre", "other fibre"),
                       tb_law_phrase_text(w, "other_fibres", "other fibres"));
}

/* What was found there is counted: several are several, and one that is too large is found fault with where fibres are named. */
static void check_below(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o)
{
    if (o->kinds < 2 && !(o->share->marks & SAID_PLURAL) && !tb_law_allows(r, o->share->percent))
        tb_law_finding(w, r, "one fibre of %g %% is behind 'other fibre': from %g %% on it is named",
                       o->share->percent, r->number);
}

/*
 * In the singular it is one fibre, unless several were found there; in the plural it is several, unless what was found
 * has one beyond the number.
 */
static void check_one(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o)
{
    bool several = o->share->marks & SAID_PLURAL;

    if (tb_law_allows(r, o->share->percent))
        return;
    if (o->kinds == 0 && several)
        tb_law_finding_as(
            w, r, TB_SEVERITY_ADVICE,
            "'other fibres' at %g %% must be more than one fibre: one alone may stand there up to %g %%",
            o->share->percent, r->number);
    else if (o->kinds < 2)
        tb_law_finding(w, r,
                       "one fibre stands behind 'other fibres' with %g %%; one may stand there up to %g %%",
                       o->kinds ? o->most : o->share->percent, r->number);
    else if (!tb_law_allows(r, o->most))
        tb_law_finding(
            w, r,
            "one of the fibres behind 'other fibres' was found at %g %%; one may stand there up to "
            "%g %%",
            o->most, r->number);
    else if (!several)
        tb_law_finding_as(w, r, TB_SEVERITY_ADVICE, "%zu fibres stand behind words for one: say '%s'",
                          o->kinds, tb_law_phrase_text(w, "other_fibres", "other fibres"));
}

static void check_all(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o)
{
    if (!tb_law_allows(r, o->share->percent))
        tb_law_finding(w, r, "'other fibres' makes up %g %%; it may make up at most %g %%", o->share->percent,
                       r->number);
}

static void check_share(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o)
{
    static const struct {
        const char *arg;
        void (*run)(struct at_work *w, const struct tb_ref_law_rule *r, const struct other *o);
    } rule[] = { { "last", check_last },
                 { "plural", check_plural },
                 { "below", check_below },
                 { "one", check_one },
                 { "sum", check_all } };

    for (size_t i = 0; i < TB_COUNT(rule); i++)
        if (strcmp(rule[i].arg, r->arg) == 0)
            rule[i].run(w, r, o);
}

/*
 * kind "other", for every share of "other fibres" with a figure:
 *   arg  "last" it comes last; "plural" several fibres are spoken of as several; "below" one fibre stays below `number`;
 *        "one" one fibre alone up to `number`; "sum" all together up to `number`
 */
void tb_law_check_other(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            struct other o = { p, s, 0, 0 };

            if (w->cmp.part == p)
                count_behind(w, &o);
            if (s->fibre == TB_FIBRE_OTHER && !(s->marks & SAID_TOGETHER) && !isnan(s->percent))
                check_share(w, r, &o);
        }
}
