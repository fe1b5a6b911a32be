/*
 * check_virgin.c - "virgin", "new" and "recycled": what was said of the fibre's past, and what was found of it.
 *
 * No test shows that wool is virgin. What can be seen is a contradiction: it is called virgin and recycled, or
 * reclaimed fibre was found under the name.
 */
#include "base/say.h"
#include "law/checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- virgin ------------------------------------------------------------------------------------------------------ */

/* Was reclaimed fibre found under this share? */
static bool reclaimed_under(const struct at_work *w, const struct tb_share *s)
{
    for (size_t i = 0; i < w->cmp.n; i++)
        if (w->cmp.found[i].marks & TB_MARK_RECYCLED && w->cmp.found[i].share != TB_NOWHERE &&
            &w->cmp.part->share[w->cmp.found[i].share] == s)
            return true;
    return false;
}

static void check_share(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_part *p,
                        const struct tb_share *s)
{
    bool contradiction = s->marks & TB_MARK_RECYCLED || reclaimed_under(w, s);

    if (strcmp(r->arg, "recycled") == 0 && contradiction)
        tb_law_finding(w, r, "'virgin' or 'new' is said of %s that was reclaimed",
                       s->fibre >= 0 ? tb_fibre_at(s->fibre)->name : _("a fibre"));
    else if (strcmp(r->arg, "proof") == 0 && !w->facts->virgin)
        tb_law_finding(w, r,
                       "no test shows that wool is virgin: keep the supplier's proof and say so (--virgin)");
    else if (strcmp(r->arg, "blend") == 0 && p->n > 1 && !tb_law_allows(r, s->percent))
        tb_law_finding(w, r, "virgin wool at %g %% of a blend: the name needs at least %g %%", s->percent,
                       r->number);
    else if (strcmp(r->arg, "others") == 0 && w->facts->carded && p->n > 1 &&
             !tb_law_allows(r, (double)p->n - 1))
        tb_law_finding(w, r, "virgin wool is carded together with %zu other fibres; it may be mixed with one",
                       p->n - 1);
}

static bool is_virgin_wool(const struct lex *l)
{
    return l->kind == LEX_PHRASE && strcmp(l->what, "virgin_wool") == 0;
}

/* Another name the market has for it in its own language, "fleece wool"; NULL: there is none. */
static const struct tb_ref_label_phrase *second_name(const struct at_work *w,
                                                     const struct tb_ref_label_phrase *first)
{
    for (size_t i = 0; i < tb_ref_label_phrase_n; i++) {
        const struct tb_ref_label_phrase *p = &tb_ref_label_phrase[i];

        if (p != first && strcmp(p->market, w->market->names) == 0 && strcmp(p->key, "virgin_wool") == 0 &&
            strcmp(p->lang, w->market->lang) == 0)
            return p;
    }
    return NULL;
}

static void say_foreign(struct at_work *w, const struct tb_ref_law_rule *r)
{
    const struct tb_ref_label_phrase *first =
                                         tb_law_phrase(w->law, w->market, "virgin_wool", w->market->lang),
                                     *second = second_name(w, first);

    if (first && second)
        tb_law_finding(w, r, "the words for virgin wool are not those of %s: say '%s' or '%s'",
                       w->market->in_words, first->text, second->text);
    else if (first)
        tb_law_finding(w, r, "the words for virgin wool are not those of %s: say '%s'", w->market->in_words,
                       first->text);
    else
        tb_law_finding(w, r, "the words for virgin wool are not those of %s", w->market->in_words);
}

/* The virgin-wool words of another language alone do not do in a market that has words of its own. */
static void check_own_language(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s)
{
    bool own = false, foreign = false;

    EACH_WORD(w->label, s, t)
    for (size_t k = 0; k < t->lexes; k++)
        if (is_virgin_wool(t->lex[k])) {
            own |= tb_law_list_has(w->market->langs, t->lex[k]->lang);
            foreign |= !tb_law_list_has(w->market->langs, t->lex[k]->lang);
        }
    if (foreign && !own)
        say_foreign(w, r);
}

/* One of the names the market's own law has for virgin wool, in any language. */
static bool says_virgin_wool(const struct at_work *w, const struct token *t)
{
    for (size_t k = 0; k < t->lexes; k++)
        if (is_virgin_wool(t->lex[k]) && strcmp(t->lex[k]->phrase->market, w->market->names) == 0)
            return true;
    return false;
}

/* "New wool" calls it virgin without the name the law has for that. */
static void check_name(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s)
{
    const struct tb_ref_label_phrase *name = tb_law_phrase(w->law, w->market, "virgin_wool", tb_law_lang(w));
    bool named = s->fibre != tb_fibre_by_key("wool") || !name;

    EACH_WORD(w->label, s, t)
    named = named || says_virgin_wool(w, t);
    if (!named)
        tb_law_finding(w, r, "'virgin' or 'new' is said and the name of the law is not used: say '%s'",
                       name->text);
}

/*
 * kind "virgin", for every share that is said to be virgin or new:
 *   arg  "recycled" nothing may contradict it; "proof" the supplier's proof is kept; "blend" at least `number` per cent;
 *        "others" carded together with at most `number` other fibres; "named" by the name of the law; "language" in a
 *        language of the market
 */
void tb_law_check_virgin(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s) {
            if (!(s->marks & TB_MARK_VIRGIN))
                continue;
            if (strcmp(r->arg, "language") == 0)
                check_own_language(w, r, s);
            else if (strcmp(r->arg, "named") == 0)
                check_name(w, r, s);
            else
                check_share(w, r, p, s);
        }
}

/* --- recycled ---------------------------------------------------------------------------------------------------- */

static void say_recycled(struct at_work *w, const struct tb_ref_law_rule *r, const struct found *f)
{
    const struct tb_ref_label_phrase *phrase = tb_law_phrase(w->law, w->market, "recycled", w->market->lang);
    const char *fibre = tb_fibre_at(f->fibre)->name, *word = phrase ? phrase->text : "recycled";

    if (phrase && tb_law_stands_after(phrase))
        tb_law_finding(w, r,
                       "%g %% of %s was reclaimed and the label does not say so: '%s' stands behind the name",
                       f->percent, fibre, word);
    else
        tb_law_finding(w, r,
                       "%g %% of %s was reclaimed and the label does not say so: '%s' stands before the name",
                       f->percent, fibre, word);
}

/* kind "recycled": fibre of the group `arg` ("any": all) that was found reclaimed is said to be. */
void tb_law_check_recycled(struct at_work *w, const struct tb_ref_law_rule *r)
{
    for (size_t i = 0; i < w->cmp.n; i++) {
        const struct found *f = &w->cmp.found[i];

        if (f->fibre < 0 || !(f->marks & TB_MARK_RECYCLED) || f->share == TB_NOWHERE)
            continue;
        if (strcmp(r->arg, "any") != 0 && !tb_law_group_has(w->market, r->arg, f->fibre))
            continue;
        if (!(w->cmp.part->share[f->share].marks & TB_MARK_RECYCLED))
            say_recycled(w, r, f);
    }
}
