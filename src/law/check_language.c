/*
 * check_language.c - is the composition given in the languages of the market?
 *
 * A word that is no name in the market at all is a matter of names: one mistake is one finding.
 */
#include "law/checks.h"

#include "gen/ref_language.h"

#include <string.h>

/* A share named by a code or a trade word alone is a matter of names, not of language. */
static bool has_name(const struct at_work *w, const struct tb_share *s)
{
    EACH_WORD(w->label, s, t)
    if (!tb_label_entry(t, LEX_CLASS) || tb_label_entry(t, LEX_NAME))
        return true;
    return false;
}

/* Written in a language of the market and no name there: "rayon" in the Union. A matter of names as well. */
static bool wrong_name(const struct at_work *w, const struct tb_share *s)
{
    const char *status;
    bool own = false;

    if (s->fibre < 0 || tb_law_share_named(w, s, NULL, &status))
        return false;
    EACH_WORD(w->label, s, t)
    for (size_t k = 0; k < t->lexes; k++)
        own |= t->lex[k]->kind == LEX_NAME &&
               (!t->lex[k]->lang[0] || tb_law_list_has(w->market->langs, t->lex[k]->lang));
    return own;
}

/* "Esperanto"; the code itself where the table has no name for it. */
static const char *language_name(const char *lang)
{
    for (size_t i = 0; i < tb_ref_language_n; i++)
        if (strcmp(tb_ref_language[i].key, lang) == 0)
            return tb_ref_language[i].name;
    return lang;
}

/* Is every share that has a language named in this one? */
static bool all_in(const struct at_work *w, const char *lang)
{
    size_t named = 0;

    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            const char *status;

            if ((s->fibre < 0 && s->fibre != TB_FIBRE_OTHER) || !has_name(w, s) || wrong_name(w, s))
                continue;
            if (!tb_law_share_named(w, s, lang, &status))
                return false;
            named++;
        }
    return named > 0;
}

static bool has_a_language(const struct at_work *w)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre >= 0 && has_name(w, s) && !wrong_name(w, s))
                return true;
    return false;
}

/* "en+fr": each of them is missed by itself. */
static void check_every(struct at_work *w, const struct tb_ref_law_rule *r, const char *langs)
{
    char lang[8];
    size_t at = 0;

    while (tb_law_next_lang(langs, &at, lang))
        if (!all_in(w, lang))
            tb_law_finding(w, r, "the composition is not given in %s", language_name(lang));
}

/* "bg|cs|...", or a single one. */
static void check_any(struct at_work *w, const struct tb_ref_law_rule *r, const char *langs)
{
    char lang[8];
    size_t at = 0;

    while (tb_law_next_lang(langs, &at, lang))
        if (all_in(w, lang))
            return;
    if (strchr(langs, '|') || strchr(langs, '+'))
        tb_law_finding(w, r, "the names are not all in one official language of the market (%s)",
                       w->market->in_words);
    else
        tb_law_finding(w, r, "the composition is not given in %s", language_name(langs));
}

/*
 * kind "language": the languages are those of market.csv: all of "en+fr", one and the same of "bg|cs|...". With --lang
 * the one that is asked for; where only one official language is in use any one of "en+fr" will do.
 */
void tb_law_check_language(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const char *langs = w->market->langs;

    if (w->facts->lang && !strchr(langs, '+'))
        langs = w->facts->lang;
    if (!has_a_language(w))
        return;
    if (strchr(langs, '+') && !w->facts->one_language)
        check_every(w, r, langs);
    else
        check_any(w, r, langs);
}
