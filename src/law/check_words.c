/*
 * check_words.c - words that are no names: abbreviations, misnomers, trade words, signs, parts of animals.
 *
 * The words and their classes are rows of law_word.csv and of the table of names; a market's rules say by `arg` which
 * classes it minds and how much. What is said in their place are rows of law_say.csv.
 */
#include "law/checks.h"
#include "tenterbook/status.h"

#include <string.h>

/* --- what makes a word good -------------------------------------------------------------------------------------- */

/* Does a name stand next to token i, in this direction, with descriptive words (and a figure) at most between? */
static bool name_on_side(const struct label *all, size_t i, int step, int fibre, bool over_figure)
{
    for (size_t k = i + (size_t)step; k < all->tokens; k += (size_t)step) {
        const struct token *t = &all->token[k];
        const struct lex *name = tb_label_entry(t, LEX_NAME);
        bool joins = t->kind == TOKEN_WORD || (t->kind == TOKEN_PERCENT && over_figure) ||
                     (t->kind == TOKEN_MARK && t->mark && strchr("R-/([)]'", t->mark));

        if (name)
            return fibre < 0 || name->fibre == fibre;
        if (!joins)
            return false;
    }
    return false;
}

/* fibre -1: any. */
static bool beside_name(const struct at_work *w, size_t i, int fibre, bool over_figure)
{
    return name_on_side(w->label, i, -1, fibre, over_figure) ||
           name_on_side(w->label, i, 1, fibre, over_figure);
}

static bool label_has_fibre(const struct at_work *w, int fibre)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre == fibre)
                return true;
    return false;
}

/*
 * A word of the class that the rest of the label makes good: "viscose from bamboo" names the fibre, "Tencel lyocell" and
 * "merino wool" have the name beside the trade word, "rabbit hair" is a fibre where "rabbit" is an animal, and "denim"
 * on a label that names its fibres hides nothing.
 */
static bool excused(const struct at_work *w, const char *cls, size_t i)
{
    const struct token *t = &w->label->token[i];
    const struct token *before = i ? t - 1 : NULL, *after = i + 1 < w->label->tokens ? t + 1 : NULL;
    const struct lex *l = tb_label_entry(t, LEX_CLASS);

    if (strcmp(cls, "bamboo") == 0)
        return w->facts->bast || (before && tb_label_is(before, "from") && beside_name(w, i, -1, false));
    if (strcmp(cls, "variety") == 0)
        return beside_name(w, i, l->fibre, false);
    if (strcmp(cls, "trade_mark") == 0)
        return beside_name(w, i, l->fibre, true);
    if (strcmp(cls, "animal") == 0)
        return after && tb_label_is(after, "hair");
    if (strcmp(cls, "animal_part") == 0)
        return w->label->animal_parts;
    if (strcmp(cls, "construction") == 0)
        return l->fibre < 0 ? tb_label_shares(w->label) > 0 : label_has_fibre(w, l->fibre);
    return false;
}

/* --- what is said of a word -------------------------------------------------------------------------------------- */

static void say_instead(struct at_work *w, const struct tb_ref_law_rule *r, const char *said,
                        const struct tb_ref_law_word *word, const char *instead)
{
    if (strcmp(r->arg, "construction") == 0)
        tb_law_finding(w, r, "'%s' is %s and tells no fibre: say %s", said, word->what, instead);
    else if (strcmp(r->arg, "abbreviation") == 0)
        tb_law_finding(w, r, "'%s' is %s and a label may not carry it: say %s", said, word->what, instead);
    else
        tb_law_finding(w, r, "'%s' is %s: say %s", said, word->what, instead);
}

/* Nothing is known to say in its place: the name of the fibre it hints at, if it hints at one. */
static void say_no_name(struct at_work *w, const struct tb_ref_law_rule *r, const char *said, int fibre)
{
    const char *name = fibre >= 0 ? tb_law_name(w->law, w->market, fibre, tb_law_lang(w), NULL) : NULL;

    if (name)
        tb_law_finding(w, r, "'%s' is not a name that a label may carry: say '%s'", said, name);
    else
        tb_law_finding(w, r, "'%s' is not a name that a label may carry", said);
}

static void say_word(struct at_work *w, const struct tb_ref_law_rule *r, const struct token *t)
{
    const struct lex *l = tb_label_entry(t, LEX_CLASS);
    const char *instead = l->word ? tb_law_say(w, l->word) : NULL;
    const char *said = tb_law_quote(w, t);

    if (strcmp(r->arg, "descriptor") == 0)
        tb_law_finding(w, r, "'%s' describes the fibre and may stand beside its name if it is true", said);
    else if (strcmp(r->arg, "trade_mark") == 0)
        tb_law_finding(w, r, "'%s' is a trade word: put the name of the fibre beside it", said);
    else if (instead)
        say_instead(w, r, said, l->word, instead);
    else
        say_no_name(w, r, said, l->fibre);
}

/* A star that sends the reader elsewhere, or a registered sign: words that are signs. */
static void check_signs(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool footnote = strcmp(r->arg, "footnote") == 0;

    for (size_t i = 0; i < w->label->tokens; i++) {
        const struct token *t = &w->label->token[i];

        if (t->kind != TOKEN_MARK || t->mark != (footnote ? '*' : 'R'))
            continue;
        if (footnote)
            tb_law_finding(w, r,
                           "a star sends the reader to a footnote: required words stand where they belong");
        else if (i && t[-1].kind == TOKEN_WORD && !tb_label_entry(t - 1, LEX_CLASS) &&
                 !beside_name(w, i - 1, -1, true))
            tb_law_finding(w, r, "a trade mark stands without the name of the fibre beside it");
    }
}

static void check_recycled_words(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->marks & TB_MARK_RECYCLED)
                tb_law_finding(w, r, "'recycled' is not part of the composition: say it apart from it");
}

/* --- parts of animals -------------------------------------------------------------------------------------------- */

/* The law's own sentence in the language of the label, where somebody read it; else in the market's own. */
static const char *animal_phrase(const struct at_work *w)
{
    const struct tb_ref_label_phrase *p = tb_law_phrase(w->law, w->market, "animal_parts", tb_law_lang(w));

    return p && !tb_status_memory(p->status)
               ? p->text
               : tb_law_phrase_text(w, "animal_parts", "contains parts of animals");
}

static void say_animal_part(struct at_work *w, const struct tb_ref_law_rule *r, const char *said)
{
    tb_law_finding(w, r, "'%s' is a part of an animal that is not a textile: say '%s'", said,
                   animal_phrase(w));
}

/* Down and feathers carry a figure like a fibre, and are parts of animals where the market's group says so. */
static void check_animal_shares(struct at_work *w, const struct tb_ref_law_rule *r)
{
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (tb_law_group_has(w->market, "animal_part", s->fibre) && !w->label->animal_parts)
                say_animal_part(w, r, tb_law_share_text(w, s));
}

/* --- all words --------------------------------------------------------------------------------------------------- */

static void check_token(struct at_work *w, const struct tb_ref_law_rule *r, size_t i)
{
    const struct token *t = &w->label->token[i];

    if (strcmp(r->arg, "old_recycled") == 0 && tb_label_is(t, "recycled_old"))
        tb_law_finding(w, r, "'reprocessed' and 'reused' are words of the past: say '%s'",
                       tb_law_phrase_text(w, "recycled", "recycled"));
    if (!tb_label_is_class(t, r->arg) || excused(w, r->arg, i))
        return;
    if (strcmp(r->arg, "animal_part") == 0)
        say_animal_part(w, r, tb_law_quote(w, t));
    else
        say_word(w, r, t);
}

/*
 * kind "words": every word of the class `arg`. Four classes are more than a list of words: a star ("footnote") and a
 * registered sign ("trade_mark") are marks, "recycled" is said of a share by whatever word, and down ("animal_part") has
 * a figure like a fibre.
 */
void tb_law_check_words(struct at_work *w, const struct tb_ref_law_rule *r)
{
    if (strcmp(r->arg, "footnote") == 0 || strcmp(r->arg, "trade_mark") == 0)
        check_signs(w, r);
    if (strcmp(r->arg, "recycled") == 0)
        check_recycled_words(w, r);
    if (strcmp(r->arg, "animal_part") == 0)
        check_animal_shares(w, r);
    for (size_t i = 0; i < w->label->tokens; i++)
        check_token(w, r, i);
}
