/* Checks of what is claimed besides names and figures: exclusions, virgin, recycled, fineness, parts, origin. */
#include "law/inside.h"

#include "gen/ref_trade_bloc.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- "exclusive of ..." ------------------------------------------------------------------------------------ */

static unsigned exclusion_bit(const char *arg)
{
    static const struct {
        const char *arg;
        unsigned bit;
    } kind[] = { { "ornamentation", EXCLUDES_ORNAMENT },
                 { "decoration", EXCLUDES_DECORATION },
                 { "elastic", EXCLUDES_ELASTIC },
                 { "trimming", EXCLUDES_TRIMMING },
                 { "reinforcement", EXCLUDES_REINFORCEMENT } };

    for (size_t i = 0; i < TB_COUNT(kind); i++)
        if (strcmp(kind[i].arg, arg) == 0)
            return kind[i].bit;
    return 0;
}

/* A claim of one fibre, and a little of another in the cloth: ornamentation would have to be said. */
static void check_missing_ornament(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct part *p = w->cmp.part;

    if (p && p->n == 1 && !w->label->excludes && w->cmp.extraneous > 1e-9 &&
        rule_allows(r, w->cmp.extraneous))
        finding_add(w, r, "%g %% of another fibre was found: if it is ornamentation, '%s' follows at once",
                    w->cmp.extraneous,
                    tb_law_phrase_text(w->market, "without:ornamentation", "exclusive of ornamentation"));
}

/* What was found and is not named is what the phrase leaves out; the rest is compared without it. */
static void leave_out(struct at_work *w, const char *arg)
{
    bool elastic = strcmp(arg, "elastic") == 0;
    double off = 0;

    for (size_t i = 0; i < w->cmp.n; i++) {
        struct found *f = &w->cmp.found[i];

        if (f->share == TB_NOWHERE && !f->permitted &&
            (!elastic || group_has(w->market, "elastomer", f->fibre))) {
            f->permitted = true;
            off += f->percent;
        }
    }
    for (size_t i = 0; i < w->cmp.n && off < 100; i++)
        w->cmp.found[i].base = w->cmp.found[i].permitted ? 0 : w->cmp.found[i].base * 100 / (100 - off);
}

/* How much the phrase leaves out: as told, else (by mass) what was found and is not named. NAN: nobody knows. */
static double left_out(const struct at_work *w, bool area)
{
    if (area)
        return w->facts->area_share;
    return isnan(w->facts->left_out) && w->cmp.n && w->label->excludes ? w->cmp.extraneous
                                                                       : w->facts->left_out;
}

static void check_exclusion(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool area = strstr(r->unit, "area") != NULL, said = w->label->excludes & exclusion_bit(r->arg);
    double amount = left_out(w, area);
    const char *of = r->comparison[1] == '=' ? "at most" : "less than";
    const char *unit = area ? "% of the surface" : "% of the mass";

    if (strcmp(r->arg, "ornamentation_missing") == 0) {
        check_missing_ornament(w, r);
        return;
    }
    if (!said && (strcmp(r->kind, "omission") != 0 || isnan(amount)))
        return;
    if (isnan(amount))
        finding_add_as(w, r, TB_SEVERITY_NOTE,
                       "%s may be left out up to a limit (%s %g %s): say how much there is (--%s)", r->arg,
                       of, r->number, unit, area ? "area-share" : "left-out");
    else if (!rule_allows(r, amount))
        finding_add(w, r, "%s takes %g %s; it may be left out only where it is %s %g %%", r->arg, amount,
                    unit, of, r->number);
    else
        finding_add_as(w, r, TB_SEVERITY_NOTE, "%s at %g %s may be left out (%s %g %%)", r->arg, amount, unit,
                       of, r->number);
    if (isnan(amount) || rule_allows(r, amount))
        leave_out(w, r->arg);
}

/* --- virgin, recycled -------------------------------------------------------------------------------------- */

/* Was reclaimed fibre found under this share? */
static bool reclaimed_under(const struct at_work *w, const struct share *s)
{
    for (size_t i = 0; i < w->cmp.n; i++)
        if (w->cmp.found[i].marks & TB_MARK_RECYCLED && w->cmp.found[i].share != TB_NOWHERE &&
            &w->cmp.part->share[w->cmp.found[i].share] == s)
            return true;
    return false;
}

static void check_virgin_share(struct at_work *w, const struct tb_ref_law_rule *r, const struct part *p,
                               const struct share *s)
{
    bool contradiction = s->marks & TB_MARK_RECYCLED || reclaimed_under(w, s);

    if (strcmp(r->arg, "recycled") == 0 && contradiction)
        finding_add(w, r, "'virgin' or 'new' is said of %s that was reclaimed",
                    s->fibre >= 0 ? tb_fibre_at(s->fibre)->name : "a fibre");
    else if (strcmp(r->arg, "proof") == 0 && !w->facts->virgin)
        finding_add(w, r,
                    "no test shows that wool is virgin: keep the supplier's proof and say so (--virgin)");
    else if (strcmp(r->arg, "blend") == 0 && p->n > 1 && !rule_allows(r, s->percent))
        finding_add(w, r, "virgin wool at %g %% of a blend: the name needs at least %g %%", s->percent,
                    r->number);
    else if (strcmp(r->arg, "others") == 0 && w->facts->carded && p->n > 1 &&
             !rule_allows(r, (double)p->n - 1))
        finding_add(w, r, "virgin wool is carded together with %zu other fibres; it may be mixed with one",
                    p->n - 1);
}

/* "'virgin wool' or 'fleece wool'": the one a label prints, then the others. Yours to free. */
static char *virgin_names(const struct at_work *w)
{
    const struct tb_ref_label_phrase *first = tb_law_phrase(w->market, "virgin_wool", w->market->lang);
    struct tb_text t = { 0 };

    if (first)
        tb_text_addf(&t, "'%s'", first->text);
    for (size_t i = 0; i < tb_ref_label_phrase_n; i++) {
        const struct tb_ref_label_phrase *p = &tb_ref_label_phrase[i];

        if (p != first && strcmp(p->market, w->market->names) == 0 && strcmp(p->key, "virgin_wool") == 0 &&
            strcmp(p->lang, w->market->lang) == 0)
            tb_text_addf(&t, "%s'%s'", t.n ? " or " : "", p->text);
    }
    return tb_text_take(&t);
}

/* The virgin-wool words of another language alone do not do in a market that has words of its own. */
static void check_virgin_language(struct at_work *w, const struct tb_ref_law_rule *r, const struct share *s)
{
    bool own = false, foreign = false;

    for (size_t i = 0; i < s->words; i++) {
        const struct token *t = &w->label->words.token[s->word[i]];

        for (size_t k = 0; k < t->lexes; k++)
            if (t->lex[k].kind == LEX_PHRASE && strcmp(t->lex[k].what, "virgin_wool") == 0) {
                own |= list_has(w->market->langs, t->lex[k].lang);
                foreign |= !list_has(w->market->langs, t->lex[k].lang);
            }
    }
    if (foreign && !own) {
        char *names = virgin_names(w);

        finding_add(w, r, "the words for virgin wool are not those of %s: say %s", w->market->in_words,
                    names);
        free(names);
    }
}

/* One of the names the market's own law has for virgin wool, in any language. */
static bool says_virgin_wool(const struct at_work *w, const struct token *t)
{
    for (size_t k = 0; k < t->lexes; k++)
        if (t->lex[k].kind == LEX_PHRASE && strcmp(t->lex[k].what, "virgin_wool") == 0 &&
            strcmp(t->lex[k].phrase->market, w->market->names) == 0)
            return true;
    return false;
}

/* "New wool" calls it virgin without the name the law has for that. */
static void check_virgin_name(struct at_work *w, const struct tb_ref_law_rule *r, const struct share *s)
{
    const struct tb_ref_label_phrase *name = tb_law_phrase(w->market, "virgin_wool", tb_law_lang(w));
    bool named = s->fibre != tb_fibre_by_key("wool") || !name;

    for (size_t i = 0; i < s->words; i++)
        named = named || says_virgin_wool(w, &w->label->words.token[s->word[i]]);
    if (!named)
        finding_add(w, r, "'virgin' or 'new' is said and the name of the law is not used: say '%s'",
                    name->text);
}

static void check_virgin(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            if (!(s->marks & TB_MARK_VIRGIN))
                continue;
            if (strcmp(r->arg, "english") == 0)
                check_virgin_language(w, r, s);
            else if (strcmp(r->arg, "named") == 0)
                check_virgin_name(w, r, s);
            else
                check_virgin_share(w, r, p, s);
        }
}

static void check_recycled(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_ref_label_phrase *phrase = tb_law_phrase(w->market, "recycled", w->market->lang);
    const char *word = phrase ? phrase->text : "recycled";
    bool after = phrase && tb_law_stands_after(phrase);

    for (size_t i = 0; i < w->cmp.n; i++) {
        const struct found *f = &w->cmp.found[i];

        if (f->fibre < 0 || !(f->marks & TB_MARK_RECYCLED) || f->share == TB_NOWHERE)
            continue;
        if (strcmp(r->arg, "any") != 0 && !group_has(w->market, r->arg, f->fibre))
            continue;
        if (!(w->cmp.part->share[f->share].marks & TB_MARK_RECYCLED))
            finding_add(w, r,
                        after ? "%g %% of %s was reclaimed and the label does not say so: '%s' stands behind "
                                "the name"
                              : "%g %% of %s was reclaimed and the label does not say so: '%s' stands before "
                                "the name",
                        f->percent, tb_fibre_at(f->fibre)->name, word);
    }
}

/* --- fineness ---------------------------------------------------------------------------------------------- */

static bool names_cashmere(const struct at_work *w)
{
    int cashmere = tb_fibre_by_key("cashmere");

    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre == cashmere)
                return true;
    return false;
}

static void check_cashmere(struct at_work *w, const struct tb_ref_law_rule *r, double value, const char *what,
                           const char *unit)
{
    if (isnan(value)) {
        if (strcmp(r->arg, "cashmere-mean") == 0)
            finding_add_as(w, r, TB_SEVERITY_NOTE,
                           "the name cashmere needs a mean diameter of at most %g micrometres (--micron)",
                           r->number);
    } else if (!rule_allows(r, value)) {
        finding_add(w, r, "%s is %g %s; cashmere allows at most %g", what, value, unit, r->number);
    }
}

static void check_diameter(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (strncmp(r->arg, "super-", 6) == 0) {
        if (w->label->super != atoi(r->arg + 6))
            return;
        if (isnan(w->facts->micron))
            finding_add_as(
                w, r, TB_SEVERITY_ADVICE,
                "Super %d's needs a mean diameter of at most %g micrometres: say what it is (--micron)",
                w->label->super, r->number);
        else if (!rule_allows(r, w->facts->micron))
            finding_add(w, r, "the mean diameter is %g micrometres; Super %d's allows at most %g",
                        w->facts->micron, w->label->super, r->number);
    } else if (names_cashmere(w)) {
        if (strcmp(r->arg, "cashmere-mean") == 0)
            check_cashmere(w, r, w->facts->micron, "the mean diameter", "micrometres");
        else if (strcmp(r->arg, "cashmere-coarse") == 0)
            check_cashmere(w, r, w->facts->coarse, "the share of fibres over 30 micrometres", "%");
        else
            check_cashmere(w, r, w->facts->cv, "the coefficient of variation", "%");
    }
}

/* --- parts ------------------------------------------------------------------------------------------------- */

static const struct part *part_with(const struct at_work *w, enum tb_part_kind kind)
{
    EACH_PART (w, p)
        if (p->kind == kind)
            return p;
    return NULL;
}

static const struct part *either(const struct at_work *w, enum tb_part_kind a, enum tb_part_kind b)
{
    const struct part *p = part_with(w, a);

    return p ? p : part_with(w, b);
}

/* Share of a part in the cloth: from the words, else from the person who asks. */
static double part_share(const struct at_work *w, enum tb_part_kind kind)
{
    return isnan(w->label->ratio[kind]) ? w->facts->part_share[kind] : w->label->ratio[kind];
}

static void check_ratio(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct part *front = either(w, TB_PART_PILE, TB_PART_FACE),
                      *back = either(w, TB_PART_BACK, TB_PART_GROUND);
    double a, b;

    if (!front || !back)
        return;
    a = w->label->ratio[front->kind];
    b = w->label->ratio[back->kind];
    if (isnan(a) || isnan(b))
        finding_add(w, r, "%s and %s are stated apart and the ratio between them is not given",
                    tb_part_key(front->kind), tb_part_key(back->kind));
    else if (!rule_allows(r, a + b))
        finding_add(w, r, "%s and %s are given as %g and %g %% of the cloth: that is %g %%, not 100",
                    tb_part_key(front->kind), tb_part_key(back->kind), a, b, a + b);
}

static void check_backing(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct part *front = either(w, TB_PART_PILE, TB_PART_COATING),
                      *back = either(w, TB_PART_BACK, TB_PART_GROUND);

    if (front && back && front > back)
        finding_add(w, r, "the %s is stated before the %s: it comes after", tb_part_key(back->kind),
                    tb_part_key(front->kind));
}

static void check_small_part(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p) {
        double share = part_share(w, p->kind);

        if (w->label->n > 1 && !isnan(share) && rule_allows(r, share))
            finding_add(w, r,
                        "the %s is %g %% of the product, below %g %%: it may go without a statement unless "
                        "it is a main lining",
                        tb_part_key(p->kind), share, r->number);
    }
}

static void check_section(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (strcmp(r->arg, "ratio") == 0)
        check_ratio(w, r);
    else if (strcmp(r->arg, "backing") == 0)
        check_backing(w, r);
    else if (strcmp(r->arg, "small") == 0)
        check_small_part(w, r);
    else if (strcmp(r->arg, "elastic") == 0) {
        EACH_PART (w, p)
            if (p->elastic)
                finding_add(w, r, "the elastic section may list its fibres by name alone, in their order");
    } else if ((part_with(w, TB_PART_WARP) || part_with(w, TB_PART_WEFT)) && !w->label->united) {
        finding_add(w, r, "warp and weft are stated apart: the figures of a label are of the whole cloth");
    }
}

/* Cotton warp, flax weft: flax must reach the rule's share, and the words for both follow the name. */
static void check_union(struct at_work *w, const struct tb_ref_law_rule *r)
{
    double flax = part_share(w, TB_PART_WEFT);
    int key = tb_fibre_by_key("flax");

    if (!w->label->united)
        return;
    for (size_t i = 0; w->q->found && isnan(flax) && i < w->q->found->n; i++)
        if (w->q->found->part[i].kind == TB_PART_WHOLE)
            flax = tb_part_percent(&w->q->found->part[i], key);
    if (!w->label->united_parts)
        finding_add(
            w, r,
            "'cotton linen union' is followed by the words for a pure cotton warp and a pure linen weft");
    if (isnan(flax))
        finding_add_as(
            w, r, TB_SEVERITY_ADVICE,
            "the name needs at least %g %% flax in the cloth: say what the weft weighs (--share weft=...)",
            r->number);
    else if (!rule_allows(r, flax))
        finding_add(w, r, "flax is %g %% of the cloth; the name needs at least %g %%", flax, r->number);
}

/* --- unknown fibres ---------------------------------------------------------------------------------------- */

static void check_unknown(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            bool alone = p->n == 1;

            if (s->fibre != TB_FIBRE_UNKNOWN)
                continue;
            if (strcmp(r->arg, "scraps") == 0 ? w->label->chiefly
                : strcmp(r->arg, "all") == 0  ? alone
                                              : !alone)
                finding_add(
                    w, r, "content that cannot be determined may be stated so; keep a note of why it cannot");
        }
}

/* --- origin ------------------------------------------------------------------------------------------------ */

static bool is_bloc(const char *origin)
{
    for (size_t i = 0; i < tb_ref_trade_bloc_n; i++)
        if (strcasecmp(origin, tb_ref_trade_bloc[i].name) == 0)
            return true;
    return false;
}

static void check_origin(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const char *origin = w->label->origin ? w->label->origin : w->facts->origin;

    if (strcmp(r->arg, "required") == 0 && !origin)
        finding_add(w, r, "the country of origin stands on the label: say which it is (--origin)");
    else if (strcmp(r->arg, "imported") == 0 && w->label->imported && !origin)
        finding_add(w, r, "'imported' is said and the country is not");
    else if (strcmp(r->arg, "bloc") == 0 && origin && is_bloc(origin))
        finding_add(w, r, "'%s' is a trade bloc, not a country of origin", origin);
}

/* "Wool Act"; the key of the regime where the table has no name for it. */
static const char *regime_name(const struct at_work *w, const char *regime)
{
    for (size_t i = 0; i < tb_ref_law_regime_n; i++)
        if (strcmp(tb_ref_law_regime[i].market, w->market->key) == 0 &&
            strcmp(tb_ref_law_regime[i].regime, regime) == 0)
            return tb_ref_law_regime[i].name;
    return regime;
}

/* Which act was applied. */
static void check_regime(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (strcmp(w->regime, r->arg) == 0)
        finding_add(w, r, "there is %s in it, or it is said to be: the %s applies, not the %s", r->arg,
                    regime_name(w, r->arg), regime_name(w, w->market->regime));
}

const struct check_kind tb_law_claim_checks[] = {
    { "regime", check_regime },
    { "exclusion", check_exclusion },
    { "omission", check_exclusion },
    { "virgin", check_virgin },
    { "recycled", check_recycled },
    { "diameter", check_diameter },
    { "section", check_section },
    { "union", check_union },
    { "unknown", check_unknown },
    { "origin", check_origin },
    { NULL, NULL },
};
