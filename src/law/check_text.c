/* Checks of the words and figures alone: names, words, percentages, order, language. */
#include "law/inside.h"

#include "gen/ref_language.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The words of a share for a message; yours to free. */
static char *share_text(const struct at_work *w, const struct share *s)
{
    return s->words ? token_text(&w->label->words, &w->label->words.token[s->word[0]]) : tb_strdup("a fibre");
}

/* --- names ------------------------------------------------------------------------------------------------ */

/* Does a rule of the market let a share of unknown fibres stand? */
static bool unknown_accepted(const struct at_work *w)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "unknown") == 0 &&
            (w->label->mixed || strcmp(w->rule[i]->holds, "mixed") != 0))
            return true;
    return false;
}

/* A word of a class that a rule of the market calls a fault: the name of the fibre is no second finding. */
static bool left_to_words(const struct at_work *w, const struct token *t)
{
    const struct lex *l = t && !token_entry(t, LEX_NAME) ? token_entry(t, LEX_CLASS) : NULL;

    for (size_t i = 0; l && i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "words") == 0 && strcmp(w->rule[i]->arg, l->what) == 0 &&
            strcmp(w->rule[i]->severity, "fault") == 0)
            return true;
    return false;
}

/* Down and feathers where they are no textile: a rule on parts of animals speaks of them. */
static bool is_animal_part(const struct at_work *w, const struct share *s)
{
    return s->fibre >= 0 && group_has(w->market, "animal_part", s->fibre);
}

static void name_share(struct at_work *w, const struct tb_ref_law_rule *r, const struct share *s)
{
    const char *status, *name;
    const struct token *t = s->words ? &w->label->words.token[s->word[0]] : NULL;
    char *said;

    if (s->fibre == TB_FIBRE_OTHER || s->fibre == SHARE_COMPOSITE || is_animal_part(w, s) ||
        left_to_words(w, t))
        return;
    said = share_text(w, s);
    if (s->fibre == TB_FIBRE_UNKNOWN) {
        if (!unknown_accepted(w))
            finding_add(w, r, "'%s' names no fibre and no rule of %s accepts it", said, w->market->in_words);
    } else if (s->fibre == SHARE_NO_FIBRE) {
        finding_add(w, r, "'%s' is not the name of a fibre in %s", said, w->market->in_words);
    } else if (!tb_law_share_named(w, s, NULL, &status)) {
        name = tb_law_name(w->law, w->market, s->fibre, tb_law_lang(w), NULL);
        if (name)
            finding_add(w, r, "'%s' is not a name used in %s: say '%s'", said, w->market->in_words, name);
        else
            finding_add(w, r, "'%s' is not a name used in %s", said, w->market->in_words);
    } else if (strcmp(status, "memory") == 0) {
        finding_add_as(w, r, TB_SEVERITY_NOTE, "'%s' is taken as a name from memory: nobody looked it up",
                       said);
    }
    free(said);
}

static void check_names(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool listed = strcmp(w->market->coverage, "full") == 0;

    if (label_shares(w->label) == 0 && !w->label->united && !w->label->super)
        finding_add(w, r, "the words name no fibre");
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (listed || s->fibre == SHARE_NO_FIBRE)
                name_share(w, r, s);
    for (size_t i = 0; i < w->label->strays && i < 5; i++) {
        char *said = token_text(&w->label->words, &w->label->words.token[w->label->stray[i]]);

        finding_add_as(w, r, TB_SEVERITY_NOTE, "'%s' was not understood and is not read as a fibre", said);
        free(said);
    }
}

/* --- words ------------------------------------------------------------------------------------------------ */

/* Is a fibre named by a word next to token i, other descriptive words (and a percentage, over_figure) aside? */
static bool beside_name(const struct at_work *w, size_t i, int fibre, bool over_figure)
{
    const struct words *all = &w->label->words;

    for (int step = -1; step <= 1; step += 2)
        for (size_t k = i + (size_t)step; k < all->n; k += (size_t)step) {
            const struct token *t = &all->token[k];
            const struct lex *name = token_entry(t, LEX_NAME);

            if (name && (fibre < 0 || name->fibre == fibre))
                return true;
            if (t->kind == TOKEN_PERCENT && over_figure)
                continue;
            if (t->kind != TOKEN_WORD && !(t->kind == TOKEN_MARK && strchr("R-/('", t->mark) && t->mark))
                break;
            if (name)
                break;
        }
    return false;
}

static bool label_has_fibre(const struct at_work *w, int fibre)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre == fibre)
                return true;
    return false;
}

/* A word of the class that the rest of the label makes good. */
static bool excused(const struct at_work *w, const char *cls, size_t i)
{
    const struct token *t = &w->label->words.token[i];
    const struct token *before = i ? t - 1 : NULL, *after = i + 1 < w->label->words.n ? t + 1 : NULL;
    const struct lex *l = token_entry(t, LEX_CLASS);

    if (strcmp(cls, "bamboo") == 0)
        return w->facts->bast || (before && token_is(before, "from") && beside_name(w, i, -1, false));
    if (strcmp(cls, "variety") == 0)
        return beside_name(w, i, l->fibre, false);
    if (strcmp(cls, "trade_mark") == 0)
        return beside_name(w, i, l->fibre, true);
    if (strcmp(cls, "animal") == 0)
        return after && token_is(after, "hair");
    if (strcmp(cls, "animal_part") == 0)
        return w->label->animal_parts;
    if (strcmp(cls, "construction") == 0)
        return l->fibre < 0 ? label_shares(w->label) > 0 : label_has_fibre(w, l->fibre);
    if (strcmp(cls, "implied") == 0)
        return false;
    return false;
}

static void say_word(struct at_work *w, const struct tb_ref_law_rule *r, const struct token *t)
{
    const struct lex *l = token_entry(t, LEX_CLASS);
    char *said = token_text(&w->label->words, t);
    const char *instead = l->word ? tb_law_say(w, l->word) : NULL;
    const char *name = l->fibre >= 0 ? tb_law_name(w->law, w->market, l->fibre, tb_law_lang(w), NULL) : NULL;

    if (strcmp(r->arg, "descriptor") == 0)
        finding_add(w, r, "'%s' describes the fibre and may stand beside its name if it is true", said);
    else if (strcmp(r->arg, "trade_mark") == 0)
        finding_add(w, r, "'%s' is a trade word: put the name of the fibre beside it", said);
    else if (instead)
        finding_add(w, r, "'%s' is %s%s%s: say %s", said, l->word->what,
                    strcmp(r->arg, "construction") == 0 ? " and tells no fibre" : "",
                    strcmp(r->arg, "abbreviation") == 0 ? " and a label may not carry it" : "", instead);
    else if (name)
        finding_add(w, r, "'%s' is no name a label may carry: say '%s'", said, name);
    else
        finding_add(w, r, "'%s' is no name a label may carry", said);
    free(said);
}

/* A star, ditto marks, a registered sign: words that are signs. */
static void check_signs(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool footnote = strcmp(r->arg, "footnote") == 0;

    for (size_t i = 0; i < w->label->words.n; i++) {
        const struct token *t = &w->label->words.token[i];

        if (t->kind != TOKEN_MARK || t->mark != (footnote ? '*' : 'R'))
            continue;
        if (footnote)
            finding_add(w, r,
                        "a star sends the reader to a footnote: required words stand where they belong");
        else if (i && t[-1].kind == TOKEN_WORD && !token_entry(t - 1, LEX_CLASS) &&
                 !beside_name(w, i - 1, -1, true))
            finding_add(w, r, "a trade mark stands without the name of the fibre beside it");
    }
}

static void check_recycled_words(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->marks & TB_MARK_RECYCLED)
                finding_add(w, r, "'recycled' is no part of the composition: say it apart from it");
}

/* The law's own sentence in the language of the label, where somebody read it; else in the market's own. */
static const char *animal_phrase(const struct at_work *w)
{
    const struct tb_ref_label_phrase *p = tb_law_phrase(w->market, "animal_parts", tb_law_lang(w));

    return p && strcmp(p->status, "memory") != 0
               ? p->text
               : tb_law_phrase_text(w->market, "animal_parts", "contains parts of animals");
}

static void say_animal_part(struct at_work *w, const struct tb_ref_law_rule *r, char *said)
{
    finding_add(w, r, "'%s' is a part of an animal that is no textile: say '%s'", said, animal_phrase(w));
    free(said);
}

static void check_animal_shares(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            if (is_animal_part(w, s) && !w->label->animal_parts)
                say_animal_part(w, r, share_text(w, s));
        }
}

static void check_words(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (strcmp(r->arg, "footnote") == 0 || strcmp(r->arg, "trade_mark") == 0)
        check_signs(w, r);
    if (strcmp(r->arg, "recycled") == 0)
        check_recycled_words(w, r);
    if (strcmp(r->arg, "animal_part") == 0)
        check_animal_shares(w, r);
    for (size_t i = 0; i < w->label->words.n; i++) {
        const struct token *t = &w->label->words.token[i];

        if (strcmp(r->arg, "old_recycled") == 0 && token_is(t, "recycled_old"))
            finding_add(w, r, "'reprocessed' and 'reused' are words of the past: say '%s'",
                        tb_law_phrase_text(w->market, "recycled", "recycled"));
        if (!token_class(t, r->arg) || excused(w, r->arg, i))
            continue;
        if (strcmp(r->arg, "animal_part") == 0)
            say_animal_part(w, r, token_text(&w->label->words, t));
        else
            say_word(w, r, t);
    }
}

/* --- figures ---------------------------------------------------------------------------------------------- */

static bool group_alone_without_figure(const struct at_work *w, const struct tb_ref_law_rule *r,
                                       const struct share *s)
{
    return isnan(s->percent) && !s->pure && group_has(w->market, r->arg, s->fibre);
}

/* A group that may not stand without its figure: wool, and the finer hairs that take its place. */
static void check_group_figures(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool alone = !isnan(r->number); /* one fibre without a figure claims all of it, but for so much */

    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            char *said;

            if (!group_alone_without_figure(w, r, s))
                continue;
            said = share_text(w, s);
            if (p->n == 1 && alone && !w->q->found)
                finding_add_as(w, r, TB_SEVERITY_ADVICE,
                               "'%s' alone says that all of it is %s: is it? (--actual)", said, r->arg);
            else if (p->n > 1 || !alone || w->cmp.extraneous > r->number + 1e-9)
                finding_add(w, r, "'%s' stands without its percentage", said);
            free(said);
        }
}

static void check_percent(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->chiefly && market_has(w, "unknown", "scraps"))
        return; /* "cloth scraps composed chiefly of X with minimum of N % recycled wool" */
    if (r->arg[0]) {
        check_group_figures(w, r);
        return;
    }
    EACH_PART (w, p) {
        if (p->n < 2 || p->elastic)
            continue;
        EACH_SHARE (p, s) {
            char *said;

            if (!isnan(s->percent))
                continue;
            said = share_text(w, s);
            finding_add(w, r, "'%s' stands without a percentage", said);
            free(said);
        }
    }
}

static void check_sum(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p) {
        struct tb_text figure = { 0 };
        double sum = 0;
        bool known = p->n > 0;

        EACH_SHARE (p, s) {
            known = known && !isnan(s->percent);
            sum += s->percent;
        }
        if (known && !rule_allows(r, sum)) {
            percent_print(&figure, sum);
            finding_add(w, r, "the shares add up to %s %%, not 100", tb_text_str(&figure));
        }
        tb_text_free(&figure);
    }
}

static void check_range(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (!isnan(s->percent) && (s->percent <= 0 || s->percent > 100))
                finding_add(w, r, "a share is given as %.4g %%: a share lies above 0 and at most at 100",
                            s->percent);
    for (size_t i = 0; i < w->label->words.n; i++) {
        const struct token *t = &w->label->words.token[i];

        if (t->kind == TOKEN_PERCENT && isnan(t->value)) {
            char *said = token_text(&w->label->words, t);

            finding_add(w, r, "'%s' is no percentage", said);
            free(said);
        }
    }
    if (w->label->orphans)
        finding_add(w, r, "%zu percentage%s without a fibre to belong to", w->label->orphans,
                    w->label->orphans == 1 ? " stands" : "s stand");
}

static bool counted_in_order(const struct share *s)
{
    return s->fibre != TB_FIBRE_OTHER && s->fibre != TB_FIBRE_UNKNOWN && !isnan(s->percent);
}

static void check_order(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->blanks && market_has(w, "list", NULL))
        return; /* a printed list of names is in the order of the alphabet */
    EACH_PART (w, p) {
        const struct share *before = NULL;

        EACH_SHARE (p, s) {
            if (!counted_in_order(s))
                continue;
            if (before && s->percent > before->percent + 1e-9) {
                char *a = share_text(w, s), *b = share_text(w, before);

                finding_add(w, r, "%s (%g %%) stands after %s (%g %%): the larger share comes first", a,
                            s->percent, b, before->percent);
                free(a);
                free(b);
            }
            before = s;
        }
    }
}

static void check_list(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->blanks)
        finding_add(w, r, "read as a printed list with blanks: the order of predominance does not apply");
}

static bool is_functional(const struct at_work *w, int fibre)
{
    for (size_t i = 0; i < w->facts->functionals; i++)
        if (w->facts->functional[i] == fibre)
            return true;
    return false;
}

static bool by_group(const struct at_work *w, int fibre)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "functional") == 0 && group_has(w->market, w->rule[i]->arg, fibre))
            return true;
    return false;
}

static void check_small(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            char *said;

            if (s->fibre < 0 || isnan(s->percent) || !rule_allows(r, s->percent) || s->percent <= 0)
                continue;
            if (group_has(w->market, "wool", s->fibre) || by_group(w, s->fibre) || is_functional(w, s->fibre))
                continue;
            said = share_text(w, s);
            finding_add(
                w, r, "%s at %g %% is below %g %%: call it %s, unless it serves a purpose (--functional %s)",
                said, s->percent, r->number, tb_law_phrase_text(w->market, "other_fibre", "other fibre"),
                tb_fibre_at(s->fibre)->key);
            free(said);
        }
}

static void check_functional(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            char *said;

            if (s->fibre < 0 || isnan(s->percent) || !rule_allows(r, s->percent))
                continue;
            if (!group_has(w->market, r->arg, s->fibre) && !is_functional(w, s->fibre))
                continue;
            said = share_text(w, s);
            finding_add(w, r, "%s may be named at %g %%: it serves a purpose", said, s->percent);
            free(said);
        }
}

static void check_pure(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if ((s->pure || s->percent >= 100) && p->n > 1) {
                char *said = share_text(w, s);

                finding_add(w, r,
                            "'pure', 'all' or 100 %% is said of %s, and another fibre is named beside it",
                            said);
                free(said);
            }
}

static void check_rounding(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (!isnan(s->percent) && fabs(s->percent - round(s->percent)) > 1e-9)
                finding_add(w, r, "%g %% has a fraction: whole numbers are customary", s->percent);
}

static void check_form(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (w->label->words.hidden)
        finding_add(w, r,
                    "the text holds %zu character%s nobody sees (controls, marks of direction, broken bytes)",
                    w->label->words.hidden, w->label->words.hidden == 1 ? "" : "s");
}

static void check_composite(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct part *in = &w->label->inner;
    double sum = 0;
    bool falling = true;

    for (size_t i = 0; i < in->n; i++) {
        sum += in->share[i].percent;
        falling = falling && (i == 0 || in->share[i].percent <= in->share[i - 1].percent + 1e-9);
    }
    if (in->n && (isnan(sum) || !rule_allows(r, sum)))
        finding_add(w, r, "the constituents of the composite fibre do not add up to 100 %%");
    if (in->n && !falling)
        finding_add(w, r, "the larger constituent of the composite fibre comes first");
}

static void check_inequality(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->more && !rule_allows(r, s->percent))
                finding_add(w, r, "'or more' may be said of a share above %g %%, not of %g %%", r->number,
                            s->percent);
}

static void check_except(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (!isnan(w->label->except))
        finding_add(w, r,
                    "%g %% of an added fibre is stated as an exception; it is of the mass of the base fibre",
                    w->label->except);
}

/* --- language --------------------------------------------------------------------------------------------- */

/* A share named by a code or a trade word alone is a matter of names, not of language. */
static bool has_name(const struct at_work *w, const struct share *s)
{
    for (size_t i = 0; i < s->words; i++)
        if (!token_entry(&w->label->words.token[s->word[i]], LEX_CLASS) ||
            token_entry(&w->label->words.token[s->word[i]], LEX_NAME))
            return true;
    return false;
}

/* Written in a language of the market and no name there: "rayon" in the Union. A matter of names as well. */
static bool wrong_name(const struct at_work *w, const struct share *s)
{
    const char *status;
    bool own = false;

    if (s->fibre < 0 || tb_law_share_named(w, s, NULL, &status))
        return false;
    for (size_t i = 0; i < s->words; i++) {
        const struct token *t = &w->label->words.token[s->word[i]];

        for (size_t k = 0; k < t->lexes; k++)
            own |= t->lex[k].kind == LEX_NAME &&
                   (!t->lex[k].lang[0] || list_has(w->market->langs, t->lex[k].lang));
    }
    return own;
}

static const char *language_name(const char *lang)
{
    for (size_t i = 0; i < tb_ref_language_n; i++)
        if (strcmp(tb_ref_language[i].key, lang) == 0)
            return tb_ref_language[i].name;
    return lang;
}

/* Every share has a name in this language. *unseen: one of them is from memory. */
static bool all_in(const struct at_work *w, const char *lang, bool *unseen)
{
    size_t named = 0;

    *unseen = false;
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            const char *status;

            if ((s->fibre < 0 && s->fibre != TB_FIBRE_OTHER) || !has_name(w, s) || wrong_name(w, s))
                continue;
            if (!tb_law_share_named(w, s, lang, &status))
                return false;
            *unseen |= strcmp(status, "memory") == 0;
            named++;
        }
    return named > 0;
}

static void check_language(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const char *langs = w->facts->lang && !strchr(w->market->langs, '+') ? w->facts->lang : w->market->langs;
    bool every = strchr(langs, '+') && !w->facts->one_language, any = false, unseen = false;
    char lang[8];
    size_t at = 0, shares = 0;

    EACH_PART (w, p)
        EACH_SHARE (p, s)
            shares += s->fibre >= 0 && has_name(w, s) && !wrong_name(w, s);
    if (!shares)
        return;
    while (next_lang(langs, &at, lang)) {
        bool in = all_in(w, lang, &unseen);

        any |= in;
        if (every && !in)
            finding_add(w, r, "the composition is not given in %s", language_name(lang));
        if (any && !every)
            break;
    }
    if (every || any)
        return;
    if (strchr(langs, '|') || strchr(langs, '+'))
        finding_add(w, r, "the names are not all in one official language of the market (%s)",
                    w->market->in_words);
    else
        finding_add(w, r, "the composition is not given in %s", language_name(langs));
}

const struct check_kind tb_law_text_checks[] = {
    { "names", check_names },
    { "words", check_words },
    { "percent", check_percent },
    { "sum", check_sum },
    { "range", check_range },
    { "order", check_order },
    { "list", check_list },
    { "small", check_small },
    { "functional", check_functional },
    { "pure", check_pure },
    { "rounding", check_rounding },
    { "form", check_form },
    { "composite", check_composite },
    { "inequality", check_inequality },
    { "except", check_except },
    { "language", check_language },
    { NULL, NULL },
};
