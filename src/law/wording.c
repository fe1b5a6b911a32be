/*
 * wording.c - what a label may say of a composition: in which languages, part by part.
 *
 * It refuses where nothing lawful is known: a wrong label costs more than one that is worded by hand. The names are in
 * word_names.c, the order in word_entries.c, the lines in word_lines.c.
 */
#include "law/wording.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Shares of parts are given as they were weighed, to two places. */
#define WHOLE_NEAR 0.01

/* --- languages --------------------------------------------------------------------------------------------------- */

static bool one_of_all(const struct wording *w)
{
    return strchr(w->m->langs, '+') != NULL;
}

static void add_langs(struct wording *w, const char *but)
{
    size_t at = 0;
    char lang[8];

    while (w->langs < WORDING_LANGS_MOST && tb_law_next_lang(w->m->langs, &at, lang))
        if (!but || strcmp(lang, but) != 0)
            memcpy(w->lang[w->langs++], lang, sizeof lang);
}

/* All of "en+fr", the one asked for first; one of "bg|cs|...": the one asked for, else the market's own. */
static void choose_langs(struct wording *w)
{
    const struct tb_law_facts *f = w->at->facts;

    if (one_of_all(w) && !f->lang) {
        add_langs(w, NULL);
        return;
    }
    (void)snprintf(w->lang[0], sizeof w->lang[0], "%s", f->lang ? f->lang : w->m->lang);
    w->langs = 1;
    if (one_of_all(w) && !f->one_language)
        add_langs(w, w->lang[0]);
}

/* --- parts ------------------------------------------------------------------------------------------------------- */

static const struct tb_part *only(const struct tb_composition *c, enum tb_part_kind kind, const char *fibre)
{
    const struct tb_part *p = tb_composition_part(c, kind);

    return p && p->n == 1 && p->share[0].fibre == tb_fibre_by_key(fibre) ? p : NULL;
}

/*
 * Cotton warp, flax weft, and flax enough: the cotton linen union, in place of figures. The mass of the weft must have
 * been said, for the share of flax in the cloth is what the name stands on.
 */
static bool union_line(const struct wording *w, const struct tb_composition *c)
{
    const struct tb_ref_law_rule *rule = tb_law_rule(w->at, "union", NULL);
    const struct tb_ref_label_phrase *name = tb_law_phrase(w->at->law, w->m, "union", w->lang[0]),
                                     *parts = tb_law_phrase(w->at->law, w->m, "union_parts", w->lang[0]);
    double flax = tb_law_part_share(w->at, TB_PART_WEFT);
    struct tb_text t = { 0 };

    if (!rule || c->n != 2 || !only(c, TB_PART_WARP, "cotton") || !only(c, TB_PART_WEFT, "flax"))
        return false;
    if (isnan(flax) || !tb_law_allows(rule, flax) || !name || !parts)
        return false;
    tb_text_addf(&t, "%s, %s", name->text, parts->text);
    tb_law_add_line(w, &t);
    return true;
}

/* Do the masses of all parts make up the cloth? */
static bool weighed(const struct wording *w, const struct tb_composition *c)
{
    double total = 0;

    for (size_t i = 0; i < c->n; i++)
        total += tb_law_part_share(w->at, c->part[i].kind);
    return fabs(total - 100) < WHOLE_NEAR;
}

static void add_to(struct tb_part *whole, const struct tb_share *s, double percent)
{
    size_t at = 0;

    while (at < whole->n && (whole->share[at].fibre != s->fibre || whole->share[at].marks != s->marks))
        at++;
    if (at < whole->n)
        whole->share[at].percent += percent;
    else
        tb_part_add_share(whole, s->fibre, percent)->marks = s->marks;
}

/* Warp and weft, weighed: the composition of the whole. */
static tb_rc whole_line(const struct wording *w, const struct tb_composition *c)
{
    struct tb_composition all = { 0 };
    struct tb_part *whole;
    tb_rc rc;

    if (!weighed(w, c))
        return tb_fail(w->err, TB_EREFUSED,
                       "a label gives the whole cloth: say what warp and weft weigh in it (--share warp=... "
                       "--share weft=...)");
    whole = tb_composition_add_part(&all, TB_PART_WHOLE);
    for (size_t i = 0; i < c->n; i++)
        for (size_t k = 0; k < c->part[i].n; k++)
            add_to(whole, &c->part[i].share[k],
                   c->part[i].share[k].percent * tb_law_part_share(w->at, c->part[i].kind) / 100);
    rc = tb_law_part_line(w, whole, false);
    tb_composition_free(&all);
    return rc;
}

static bool woven_apart(const struct tb_composition *c)
{
    return tb_composition_part(c, TB_PART_WARP) || tb_composition_part(c, TB_PART_WEFT);
}

static const struct tb_part *either(const struct tb_composition *c, enum tb_part_kind a, enum tb_part_kind b)
{
    const struct tb_part *p = tb_composition_part(c, a);

    return p ? p : tb_composition_part(c, b);
}

/* Pile and back that differ: what the cloth is made of depends on what each weighs. */
static bool pile_and_back(const struct tb_composition *c)
{
    const struct tb_part *front = either(c, TB_PART_PILE, TB_PART_FACE),
                         *back = either(c, TB_PART_BACK, TB_PART_GROUND);

    return front && back && !tb_law_same_content(front, back);
}

/* "(pile 60 %, back 40 %)" where the law asks for the ratio. */
static tb_rc ratio_line(const struct wording *w, const struct tb_composition *c)
{
    struct tb_text t = { 0 };

    if (!weighed(w, c))
        return tb_fail(w->err, TB_EREFUSED,
                       "pile and back may be stated apart only with the ratio between them: give both "
                       "(--share pile=... --share back=...)");
    for (size_t i = 0; i < c->n; i++) {
        tb_text_addf(&t, "%s%s ", i ? ", " : "(", tb_part_key(c->part[i].kind));
        tb_law_percent(&t, tb_law_part_share(w->at, c->part[i].kind));
        tb_text_addc(&t, '%');
    }
    tb_text_addc(&t, ')');
    tb_law_add_line(w, &t);
    return TB_OK;
}

/* The main cloth stands without a word for it, the lining under its own; two such statements need words. */
static bool needs_word(const struct tb_composition *c, const struct tb_part *p)
{
    size_t whole = 0;

    for (size_t i = 0; i < c->n; i++)
        whole += c->part[i].kind == TB_PART_WHOLE;
    return p->kind != TB_PART_WHOLE || whole > 1;
}

static tb_rc all_parts(const struct wording *w, const struct tb_composition *c)
{
    tb_rc rc = TB_OK;

    if (c->n == 0)
        return tb_fail(w->err, TB_EREFUSED, "there is no composition to word");
    if (woven_apart(c))
        return union_line(w, c) ? TB_OK : whole_line(w, c);
    for (size_t i = 0; i < c->n && rc == TB_OK; i++)
        rc = tb_law_part_line(w, &c->part[i], needs_word(c, &c->part[i]));
    if (rc == TB_OK && pile_and_back(c) && tb_law_rule(w->at, "section", "ratio"))
        rc = ratio_line(w, c);
    return rc;
}

/* Half a label is none: where a later line cannot be worded, the earlier ones go. */
tb_rc tb_law_wording(struct at_work *at, const struct tb_composition *c, size_t others, struct tb_err *err)
{
    struct tb_law_answer *out = at->answer;
    struct tb_arena mem = { 0 };
    struct wording w = { .at = at, .m = at->market, .others = others, .mem = &mem, .err = err };
    tb_rc rc;

    choose_langs(&w);
    if (!w.m->langs[0])
        return tb_fail(err, TB_EREFUSED, "the names of fibres of %s are not held here: no wording is offered",
                       w.m->in_words);
    rc = all_parts(&w, c);
    if (rc == TB_OK)
        rc = tb_law_lines_after(&w);
    if (rc != TB_OK)
        while (out->wordings)
            free(out->wording[--out->wordings]);
    tb_arena_free(&mem);
    return rc;
}
