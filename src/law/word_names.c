/*
 * word_names.c - the words of a share on a label: the market's name, the words for its past, those for what is not named.
 *
 * A word that nobody looked up is refused, unless the person who asks takes that on, and told then: a misprint in a language
 * one does not read is not seen by anybody in the house.
 */
#include "law/wording.h"
#include "tenterbook/status.h"

#include <string.h>

tb_rc tb_law_unchecked(const struct wording *w, const char *status, const char *name, const char *lang)
{
    const struct tb_ref_law_rule *names = tb_law_rule(w->at, "names", NULL);

    if (!tb_status_memory(status))
        return TB_OK;
    if (w->at->facts->unchecked && names)
        tb_law_finding_as(w->at, names, TB_SEVERITY_NOTE,
                          "'%s' (%s) is printed from memory: nobody looked it up; the command names takes "
                          "such words over from an official copy",
                          name, lang);
    if (w->at->facts->unchecked)
        return TB_OK;
    return tb_fail(w->err, TB_EREFUSED,
                   "'%s' (%s) is a word from memory that nobody looked up: it is not printed unless you say "
                   "so (--unchecked); the command names takes such words over from an official copy",
                   name, lang);
}

/* Of the name's gender where the language has one: "laine récupérée", "coton récupéré". */
static const struct tb_ref_label_phrase *recycled_phrase(const struct wording *w, int fibre, const char *lang)
{
    const struct tb_ref_label_phrase *p = tb_law_group_has(w->m, "feminine", fibre)
                                              ? tb_law_phrase(w->at->law, w->m, "recycled_f", lang)
                                              : NULL;

    return p ? p : tb_law_phrase(w->at->law, w->m, "recycled", lang);
}

/* The word for recycled fibre that stands at the name; *mark NULL: none does, or the law wants it said apart. */
static tb_rc find_mark(const struct tb_ref_label_phrase **mark, const struct wording *w,
                       const struct tb_share *s, const char *lang)
{
    *mark = NULL;
    if (!(s->marks & TB_MARK_RECYCLED) || tb_law_rule(w->at, "words", "recycled"))
        return TB_OK;
    *mark = recycled_phrase(w, s->fibre, lang);
    if (!*mark)
        return tb_fail(w->err, TB_EREFUSED, "no word for recycled fibre is known for %s", w->m->in_words);
    return tb_law_unchecked(w, (*mark)->status, (*mark)->text, lang);
}

/* May the words for virgin wool stand here: proof, enough of it, and not too many others carded in with it? */
static bool virgin_allowed(const struct wording *w, const struct tb_share *s, size_t fibres)
{
    const struct tb_ref_law_rule *least = tb_law_rule(w->at, "virgin", "blend"),
                                 *most = tb_law_rule(w->at, "virgin", "others");

    if (!(s->marks & TB_MARK_VIRGIN) || !w->at->facts->virgin || s->fibre != tb_fibre_by_key("wool"))
        return false;
    if (fibres == 1)
        return true;
    return (!least || tb_law_allows(least, s->percent)) &&
           (!most || !w->at->facts->carded || tb_law_allows(most, (double)fibres - 1));
}

static tb_rc find_name(const char **name, const struct wording *w, const struct tb_share *s, size_t fibres,
                       const char *lang)
{
    const struct tb_ref_label_phrase *virgin =
        virgin_allowed(w, s, fibres) ? tb_law_phrase(w->at->law, w->m, "virgin_wool", lang) : NULL;
    const char *status = virgin ? virgin->status : "memory";

    *name = virgin ? virgin->text : tb_law_name(w->at->law, w->m, s->fibre, lang, &status);
    if (!*name)
        return tb_fail(w->err, TB_EREFUSED, "no name of %s for a label in %s (%s) is known",
                       tb_fibre_at(s->fibre)->name, w->m->in_words, lang);
    return tb_law_unchecked(w, status, *name, lang);
}

tb_rc tb_law_word_fibre(const struct wording *w, const struct tb_share *s, size_t fibres, const char *lang,
                        const char **out)
{
    const struct tb_ref_label_phrase *mark;
    const char *name;
    struct tb_text t = { 0 };
    tb_rc rc;

    if ((rc = find_name(&name, w, s, fibres, lang)) != TB_OK || (rc = find_mark(&mark, w, s, lang)) != TB_OK)
        return rc;
    *out = name;
    if (!mark)
        return TB_OK;
    if (tb_law_stands_after(mark))
        tb_text_addf(&t, "%s %s", name, mark->text);
    else
        tb_text_addf(&t, "%s %s", mark->text, name);
    *out = tb_arena_strdup(w->mem, tb_text_str(&t));
    tb_text_free(&t);
    return TB_OK;
}

/* A market may have one phrase for one fibre and for several. */
tb_rc tb_law_word_others(const struct wording *w, bool several, const char *lang, const char **out)
{
    const struct tb_ref_label_phrase *p =
        several ? NULL : tb_law_phrase(w->at->law, w->m, "other_fibre", lang);

    if (!p)
        p = tb_law_phrase(w->at->law, w->m, "other_fibres", lang);
    if (!p)
        return tb_fail(w->err, TB_EREFUSED, "no words for 'other fibres' on a label in %s (%s) are known",
                       w->m->in_words, lang);
    *out = p->text;
    return tb_law_unchecked(w, p->status, p->text, lang);
}
