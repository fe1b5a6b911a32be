/*
 * word_lines.c - the lines of a label: a part with its word, and what follows the composition.
 */
#include "law/wording.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void tb_law_percent(struct tb_text *t, double percent)
{
    char s[32];
    size_t n;

    (void)snprintf(s, sizeof s, "%.2f", percent);
    for (n = strlen(s); n && s[n - 1] == '0';)
        s[--n] = '\0';
    if (n && s[n - 1] == '.')
        s[n - 1] = '\0';
    tb_text_add(t, s);
}

void tb_law_add_line(const struct wording *w, struct tb_text *t)
{
    struct tb_law_answer *a = w->at->answer;

    TB_PUSH_ROOM(a->wording, a->wordings, a->wording_cap);
    a->wording[a->wordings++] = tb_text_take(t);
}

/* --- a part ------------------------------------------------------------------------------------------------------ */

static void print_entry(const struct wording *w, struct tb_text *t, const struct entry *e)
{
    bool before = strcmp(w->m->percent_style, "before") == 0; /* "%60 pamuk" */

    tb_text_add(t, before ? "%" : "");
    tb_law_percent(t, e->percent);
    tb_text_add(t, before ? " " : strcmp(w->m->percent_style, "spaced") == 0 ? " % " : "% ");
    for (size_t i = 0; i < w->langs; i++)
        tb_text_addf(t, "%s%s", i ? " / " : "", e->text[i]);
}

static tb_rc no_word(const struct wording *w, enum tb_part_kind kind, const char *lang)
{
    if (kind == TB_PART_OTHER)
        return tb_fail(
            w->err, TB_EREFUSED,
            "a part is named by a word that is not known here: word it by hand, as the others are");
    return tb_fail(w->err, TB_EREFUSED, "no word for the %s on a label in %s (%s) is known",
                   tb_part_key(kind), w->m->in_words, lang);
}

/* "lining: ", in every language of the label. */
static tb_rc print_part_word(const struct wording *w, struct tb_text *t, enum tb_part_kind kind)
{
    tb_rc rc = TB_OK;
    char key[32];

    (void)snprintf(key, sizeof key, "part:%s", tb_part_key(kind));
    for (size_t i = 0; rc == TB_OK && i < w->langs; i++) {
        const struct tb_ref_label_phrase *phrase = tb_law_phrase(w->at->law, w->m, key, w->lang[i]);

        if (!phrase)
            return no_word(w, kind, w->lang[i]);
        rc = tb_law_unchecked(w, phrase->status, phrase->text, w->lang[i]);
        tb_text_addf(t, "%s%s", i ? " / " : "", phrase->text);
    }
    tb_text_add(t, ": ");
    return rc;
}

tb_rc tb_law_part_line(const struct wording *w, const struct tb_part *p, bool label_it)
{
    struct entry list[WORDING_SHARES_MOST];
    struct tb_text t = { 0 };
    size_t n = 0;
    tb_rc rc = tb_law_entries(w, p, list, &n);

    if (rc == TB_OK && label_it)
        rc = print_part_word(w, &t, p->kind);
    for (size_t i = 0; rc == TB_OK && i < n; i++) {
        if (i)
            tb_text_add(&t, ", ");
        print_entry(w, &t, &list[i]);
    }
    if (rc == TB_OK)
        tb_law_add_line(w, &t);
    tb_text_free(&t);
    return rc;
}

/* --- what follows the composition -------------------------------------------------------------------------------- */

static tb_rc add_exclusion(const struct wording *w, struct tb_text *t, const char *what)
{
    tb_rc rc = TB_OK;
    char key[40];

    (void)snprintf(key, sizeof key, "without:%s", what);
    for (size_t i = 0; i < w->langs && rc == TB_OK; i++) {
        const struct tb_ref_label_phrase *p = tb_law_phrase(w->at->law, w->m, key, w->lang[i]);

        if (!p)
            return tb_fail(w->err, TB_EREFUSED,
                           "no words are known that leave this out on a label in %s (%s)", w->m->in_words,
                           w->lang[i]);
        rc = tb_law_unchecked(w, p->status, p->text, w->lang[i]);
        tb_text_addf(t, "%s%s", i ? " / " : ", ", p->text);
    }
    return rc;
}

/* "exclusive of ornamentation" at the end of the last line; a market that lets it go without a word needs none. */
static tb_rc exclusions(const struct wording *w)
{
    struct tb_law_answer *a = w->at->answer;
    unsigned excludes = w->at->label->excludes;
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (!excludes || a->wordings == 0 || tb_law_rule(w->at, "omission", NULL))
        return TB_OK;
    tb_text_add(&t, a->wording[a->wordings - 1]);
    for (size_t i = 0; tb_law_exclusions[i] && rc == TB_OK; i++)
        if (excludes & 1u << i)
            rc = add_exclusion(w, &t, tb_law_exclusions[i]);
    free(a->wording[a->wordings - 1]);
    a->wording[a->wordings - 1] = tb_text_take(&t);
    return rc;
}

static bool says_animal_parts(const struct at_work *at)
{
    for (size_t i = 0; i < at->label->tokens; i++)
        if (tb_label_is_class(&at->label->token[i], "animal_part"))
            return true;
    return at->label->animal_parts;
}

/* Parts of animals that are no textile: the law's sentence stands on the label, in its language. */
static tb_rc animal_line(const struct wording *w)
{
    const struct tb_ref_label_phrase *p = tb_law_phrase(w->at->law, w->m, "animal_parts", w->lang[0]);
    struct tb_text t = { 0 };
    tb_rc rc;

    if (!says_animal_parts(w->at) || !tb_law_rule(w->at, "words", "animal_part"))
        return TB_OK;
    if (!p)
        return tb_fail(w->err, TB_EREFUSED, "no words for parts of animals on a label in %s (%s) are known",
                       w->m->in_words, w->lang[0]);
    if ((rc = tb_law_unchecked(w, p->status, p->text, w->lang[0])) != TB_OK)
        return rc;
    tb_text_add(&t, p->text);
    tb_law_add_line(w, &t);
    return TB_OK;
}

/* What the person who asks has given, else the country the words name: words that name none are no origin to print. */
static const char *origin_of(const struct at_work *at)
{
    const char *said = at->label->origin;

    if (at->facts->origin)
        return at->facts->origin;
    return said && tb_law_country(said, at->market->lang) ? said : NULL;
}

/*
 * "Made in Germany", never "Made in Deutschland": the country is named in the language of the words before it. Where
 * its name in that language is not held it stands as it was given; what is no country at all, only for whoever takes that
 * on. Only where the market has words for it: a
 * label without an origin is found fault with elsewhere.
 */
static tb_rc origin_line(const struct wording *w)
{
    const char *origin = origin_of(w->at);
    struct tb_text t = { 0 };

    for (size_t i = 0; origin && i < w->langs; i++) {
        const struct tb_ref_label_phrase *p = tb_law_phrase(w->at->law, w->m, "origin", w->lang[i]);
        const char *name = tb_law_country(origin, w->lang[i]);

        if (p && !name && !tb_law_country_known(origin) && !w->at->facts->unchecked) {
            tb_text_free(&t);
            return tb_fail(w->err, TB_EREFUSED,
                           "'%s' is no country known here: give the one it is from in English or by its two "
                           "letters (--origin), or have it printed as it stands (--unchecked)",
                           origin);
        }
        if (p)
            tb_text_addf(&t, "%s%s %s", t.n ? " / " : "", p->text, name ? name : origin);
    }
    if (t.n)
        tb_law_add_line(w, &t);
    tb_text_free(&t);
    return TB_OK;
}

tb_rc tb_law_lines_after(const struct wording *w)
{
    tb_rc rc = exclusions(w);

    if (rc == TB_OK)
        rc = animal_line(w);
    return rc == TB_OK ? origin_line(w) : rc;
}
