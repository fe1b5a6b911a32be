/* What a label may say of a composition: names, order, "other fibres", languages. Refuses where nothing lawful is known. */
#include "law/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NAMES_MOST 4
#define SHARES_MOST 64

/* One line entry: a share under its names, one a language. */
struct entry {
    char *text[NAMES_MOST];
    double percent;
    bool last;    /* "other fibres" */
    size_t place; /* of equal shares the one that was named first comes first */
};

struct wording {
    const struct tb_law *law;
    const struct tb_ref_market *m;
    const struct tb_law_facts *facts;
    char lang[NAMES_MOST][8];
    size_t langs;
    size_t others; /* how many fibres stand behind "other fibres" of the composition; 0: nobody counted */
    /* rows of the market that decide how it is said; NULL: it has none */
    const struct tb_ref_law_rule *small, *purpose, *one, *all, *named, *virgin_least, *virgin_others, *ratio,
        *union_of, *omission, *recycled_apart;
    struct tb_err *err;
};

void percent_print(struct tb_text *t, double percent)
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

/* The market's rule of a kind (and arg, where it is not NULL); NULL: it has none. */
static const struct tb_ref_law_rule *rule_of(const struct at_work *at, const char *kind, const char *arg)
{
    int place = tb_law_kind_of(kind);

    for (size_t i = 0; i < at->rules; i++) {
        const struct tb_ref_law_rule *r = at->rule[i];

        if (at->law->kind[r - tb_ref_law_rule] == place && (!arg || strcmp(r->arg, arg) == 0) &&
            (!r->regime[0] || strcmp(r->regime, at->regime) == 0))
            return r;
    }
    return NULL;
}

static tb_rc unchecked(const struct wording *w, const char *status, const char *name, const char *lang)
{
    if (strcmp(status, "memory") != 0 || w->facts->unchecked)
        return TB_OK;
    return tb_fail(w->err, TB_EREFUSED,
                   "'%s' (%s) is a word from memory that nobody looked up: it is not printed unless you say "
                   "so (--unchecked)",
                   name, lang);
}

/* The words for recycled fibre, of the name's gender where the language has one: "laine récupérée", "coton récupéré". */
static const struct tb_ref_label_phrase *recycled_phrase(const struct wording *w, int fibre, const char *lang)
{
    const struct tb_ref_label_phrase *p =
        group_has(w->m, "feminine", fibre) ? tb_law_phrase(w->m, "recycled_f", lang) : NULL;

    return p ? p : tb_law_phrase(w->m, "recycled", lang);
}

/* The mark that a label of this market must or may carry at the name; "" when there is none. *after: behind it. */
static tb_rc mark_text(const struct wording *w, int fibre, unsigned marks, const char *lang,
                       const char **text, bool *after)
{
    const struct tb_ref_label_phrase *p;

    *text = "";
    *after = false;
    if (!(marks & TB_MARK_RECYCLED) || w->recycled_apart)
        return TB_OK;
    if (!(p = recycled_phrase(w, fibre, lang)))
        return tb_fail(w->err, TB_EREFUSED, "no word for recycled fibre is known for %s", w->m->in_words);
    *text = p->text;
    *after = tb_law_stands_after(p);
    return unchecked(w, p->status, p->text, lang);
}

/* May the words for virgin wool stand here: proof, enough of it, and not too many others carded in with it? */
static bool virgin_allowed(const struct wording *w, const struct tb_share *s, size_t fibres)
{
    const struct tb_ref_law_rule *least = w->virgin_least, *most = w->virgin_others;

    if (!(s->marks & TB_MARK_VIRGIN) || !w->facts->virgin || s->fibre != tb_fibre_by_key("wool"))
        return false;
    return fibres == 1 || ((!least || rule_allows(least, s->percent)) &&
                           (!most || !w->facts->carded || rule_allows(most, (double)fibres - 1)));
}

static tb_rc fibre_text(const struct wording *w, const struct tb_share *s, size_t fibres, const char *lang,
                        char **out)
{
    const char *status = "memory", *name, *mark;
    const struct tb_ref_label_phrase *virgin = NULL;
    struct tb_text t = { 0 };
    bool after;
    tb_rc rc;

    if (virgin_allowed(w, s, fibres))
        virgin = tb_law_phrase(w->m, "virgin_wool", lang);
    name = virgin ? virgin->text : tb_law_name(w->law, w->m, s->fibre, lang, &status);
    if (virgin)
        status = virgin->status;
    if (!name)
        return tb_fail(w->err, TB_EREFUSED, "no name of %s for a label in %s (%s) is known",
                       tb_fibre_at(s->fibre)->name, w->m->in_words, lang);
    if ((rc = unchecked(w, status, name, lang)) != TB_OK ||
        (rc = mark_text(w, s->fibre, s->marks, lang, &mark, &after)) != TB_OK)
        return rc;
    tb_text_addf(&t, "%s%s%s%s%s", after ? "" : mark, *mark && !after ? " " : "", name,
                 *mark && after ? " " : "", after ? mark : "");
    *out = tb_text_take(&t);
    return TB_OK;
}

static tb_rc other_text(const struct wording *w, bool several, const char *lang, char **out)
{
    const struct tb_ref_label_phrase *p = tb_law_phrase(w->m, several ? "other_fibres" : "other_fibre", lang);
    tb_rc rc;

    if (!p)
        p = tb_law_phrase(w->m, "other_fibres", lang);
    if (!p)
        return tb_fail(w->err, TB_EREFUSED, "no words for 'other fibres' on a label in %s (%s) are known",
                       w->m->in_words, lang);
    if ((rc = unchecked(w, p->status, p->text, lang)) != TB_OK)
        return rc;
    *out = tb_strdup(p->text);
    return TB_OK;
}

/* --- shares into entries ------------------------------------------------------------------------------------ */

/* % of the part that goes under the same name: silk and weighted silk are both silk. */
static double under_one_name(const struct wording *w, const struct tb_part *p, const struct tb_share *s)
{
    double sum = s->percent;

    for (size_t i = 0; i < p->n; i++)
        if (&p->share[i] != s && p->share[i].fibre >= 0 &&
            !((p->share[i].marks ^ s->marks) & TB_MARK_RECYCLED) &&
            tb_law_same_name(w->law, w->m, p->share[i].fibre, s->fibre, w->lang[0]))
            sum += p->share[i].percent;
    return sum;
}

/* Below the market's line and without a purpose: the fibre goes to "other fibre". */
static bool goes_to_others(const struct wording *w, const struct tb_part *p, const struct tb_share *s)
{
    const struct tb_ref_law_rule *small = w->small, *purpose = w->purpose;

    if (s->fibre < 0)
        return true;
    if (!small || !rule_allows(small, under_one_name(w, p, s)))
        return false;
    if (group_has(w->m, "wool", s->fibre) || (purpose && group_has(w->m, purpose->arg, s->fibre)))
        return false;
    for (size_t i = 0; i < w->facts->functionals; i++)
        if (w->facts->functional[i] == s->fibre)
            return false;
    return true;
}

/* A named fibre whose name takes in the small one: 4 % modal is rayon where rayon is named. NULL: there is none. */
static const struct tb_share *wider(const struct wording *w, const struct tb_part *p,
                                    const struct tb_share *small)
{
    for (size_t i = 0; i < p->n && small->fibre >= 0; i++)
        if (p->share[i].fibre >= 0 && p->share[i].fibre != small->fibre &&
            !goes_to_others(w, p, &p->share[i]) && !((p->share[i].marks ^ small->marks) & TB_MARK_RECYCLED) &&
            tb_law_name_covers(w->m, p->share[i].fibre, small->fibre))
            return &p->share[i];
    return NULL;
}

static void entry_free(struct entry *e)
{
    for (size_t i = 0; i < NAMES_MOST; i++)
        free(e->text[i]);
    *e = (struct entry){ 0 };
}

static tb_rc name_entry(const struct wording *w, const struct tb_share *s, size_t fibres, struct entry *e)
{
    tb_rc rc = TB_OK;

    *e = (struct entry){ .percent = s->percent };
    for (size_t i = 0; i < w->langs && rc == TB_OK; i++)
        rc = fibre_text(w, s, fibres, w->lang[i], &e->text[i]);
    return rc;
}

/* Two fibres under one name are one line: viscose and modal are both rayon. */
static void put_entry(struct entry *list, size_t *n, struct entry *e)
{
    for (size_t i = 0; i < *n; i++)
        if (strcmp(list[i].text[0], e->text[0]) == 0) {
            list[i].percent += e->percent;
            entry_free(e);
            return;
        }
    e->place = *n;
    list[(*n)++] = *e;
    *e = (struct entry){ 0 };
}

static int by_percent(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;

    if (x->last != y->last)
        return x->last ? 1 : -1;
    if (fabs(x->percent - y->percent) > 1e-9)
        return x->percent > y->percent ? -1 : 1;
    return (x->place > y->place) - (x->place < y->place);
}

/* The market's caps on "other fibres": one fibre, several together, or none from the share where a fibre is named. */
static tb_rc others_allowed(const struct wording *w, const struct tb_part *p, double sum, size_t several)
{
    const struct tb_ref_law_rule *one = w->one, *all = w->all, *named = w->named;
    bool own = false;

    for (size_t i = 0; i < p->n; i++) {
        own |= p->share[i].fibre == TB_FIBRE_OTHER;
        if (p->share[i].fibre == TB_FIBRE_UNKNOWN)
            return tb_fail(
                w->err, TB_EREFUSED,
                "part of the composition is unknown: find out what it is, or say by hand why it cannot be");
    }
    if (all && !rule_allows(all, sum))
        return tb_fail(w->err, TB_EREFUSED, "'other fibres' would make up %g %%; at most %g %% may", sum,
                       all->number);
    if (one && several == 1 && !rule_allows(one, sum))
        return tb_fail(w->err, TB_EREFUSED,
                       "one fibre of %g %% cannot stand as 'other fibres': at most %g %% may", sum,
                       one->number);
    if (named && own && several == 1 && rule_allows(named, sum))
        return tb_fail(w->err, TB_EREFUSED, "other fibre makes up %g %%: from %g %% on a fibre is named", sum,
                       named->number);
    return TB_OK;
}

static tb_rc add_others(const struct wording *w, const struct tb_part *p, struct entry *list, size_t *n)
{
    struct entry e = { .last = true };
    size_t several = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < p->n; i++)
        if (goes_to_others(w, p, &p->share[i]) && !wider(w, p, &p->share[i])) {
            e.percent += p->share[i].percent;
            several += p->share[i].fibre >= 0 ? 1
                       : w->others            ? w->others
                                              : 2; /* a sum nobody counted is several */
        }
    if (e.percent <= 0)
        return TB_OK;
    if ((rc = others_allowed(w, p, e.percent, several)) != TB_OK)
        return rc;
    for (size_t i = 0; i < w->langs && rc == TB_OK; i++)
        rc = other_text(w, several > 1, w->lang[i], &e.text[i]);
    if (rc == TB_OK)
        list[(*n)++] = e;
    else
        entry_free(&e);
    return rc;
}

static tb_rc wrong_sum(const struct wording *w, double sum)
{
    struct tb_text t = { 0 };
    tb_rc rc;

    percent_print(&t, sum);
    rc = tb_fail(w->err, TB_EREFUSED, "the shares add up to %s %%, not 100, so no label can be worded",
                 tb_text_str(&t));
    tb_text_free(&t);
    return rc;
}

static tb_rc sound(const struct wording *w, const struct tb_part *p)
{
    double sum = tb_part_sum(p);

    if (p->n == 0 || p->n > SHARES_MOST - 1)
        return tb_fail(w->err, TB_EREFUSED,
                       p->n ? "a label of %zu fibres cannot be set" : "there is no fibre to name (%zu)",
                       p->n);
    if (isnan(sum))
        return tb_fail(w->err, TB_EREFUSED, "a share has no percentage, so no label can be worded");
    for (size_t i = 0; i < p->n; i++)
        if (!(p->share[i].percent > 0 && p->share[i].percent <= 100))
            return tb_fail(w->err, TB_EREFUSED, "a share of %g %% cannot stand on a label",
                           p->share[i].percent);
    return fabs(sum - 100) > 0.011 ? wrong_sum(w, sum) : TB_OK;
}

static tb_rc entries(const struct wording *w, const struct tb_part *p, struct entry *list, size_t *n)
{
    tb_rc rc = sound(w, p);

    *n = 0;
    for (size_t i = 0; rc == TB_OK && i < p->n; i++) {
        struct entry e = { 0 };

        const struct tb_share *s = &p->share[i];

        if (goes_to_others(w, p, s) && (s = wider(w, p, s)) == NULL)
            continue;
        rc = name_entry(w, s, p->n, &e);
        e.percent = p->share[i].percent;
        if (rc == TB_OK)
            put_entry(list, n, &e);
        entry_free(&e);
    }
    if (rc == TB_OK && *n == 0)
        rc = tb_fail(w->err, TB_EREFUSED, "no fibre reaches the share from which it is named");
    if (rc == TB_OK)
        rc = add_others(w, p, list, n);
    qsort(list, *n, sizeof *list, by_percent);
    return rc;
}

/* --- lines -------------------------------------------------------------------------------------------------- */

static void add_line(struct tb_law_answer *a, struct tb_text *t)
{
    TB_PUSH_ROOM(a->wording, a->wordings, a->wording_cap);
    a->wording[a->wordings++] = tb_text_take(t);
}

static void entry_print(const struct wording *w, struct tb_text *t, const struct entry *e)
{
    percent_print(t, e->percent);
    tb_text_add(t, strcmp(w->m->percent_style, "spaced") == 0 ? " % " : "% ");
    for (size_t i = 0; i < w->langs; i++)
        if (i == 0 || strcmp(e->text[i], e->text[0]) != 0 || w->langs > 1)
            tb_text_addf(t, "%s%s", i ? " / " : "", e->text[i]);
}

static tb_rc part_line(const struct wording *w, struct tb_law_answer *a, const struct tb_part *p,
                       bool label_it)
{
    struct entry list[SHARES_MOST] = { 0 };
    struct tb_text t = { 0 };
    size_t n = 0;
    tb_rc rc = entries(w, p, list, &n);
    char key[32];

    for (size_t i = 0; rc == TB_OK && label_it && i < w->langs; i++) {
        const struct tb_ref_label_phrase *phrase;

        (void)snprintf(key, sizeof key, "part:%s", tb_part_key(p->kind));
        phrase = tb_law_phrase(w->m, key, w->lang[i]);
        if (!phrase && p->kind == TB_PART_OTHER)
            rc = tb_fail(
                w->err, TB_EREFUSED,
                "a part is named by a word that is not known here: word it by hand, as the others are");
        else if (!phrase)
            rc = tb_fail(w->err, TB_EREFUSED, "no word for the %s on a label in %s is known",
                         tb_part_key(p->kind), w->lang[i]);
        else if ((rc = unchecked(w, phrase->status, phrase->text, w->lang[i])) == TB_OK)
            tb_text_addf(&t, "%s%s", i ? " / " : "", phrase->text);
    }
    if (rc == TB_OK && label_it)
        tb_text_add(&t, ": ");
    for (size_t i = 0; rc == TB_OK && i < n; i++) {
        if (i)
            tb_text_add(&t, ", ");
        entry_print(w, &t, &list[i]);
    }
    if (rc == TB_OK)
        add_line(a, &t);
    for (size_t i = 0; i < SHARES_MOST; i++)
        entry_free(&list[i]);
    tb_text_free(&t);
    return rc;
}

/* --- parts -------------------------------------------------------------------------------------------------- */

static const struct tb_part *only(const struct tb_composition *c, enum tb_part_kind kind, const char *fibre)
{
    const struct tb_part *p = tb_composition_part(c, kind);

    return p && p->n == 1 && p->share[0].fibre == tb_fibre_by_key(fibre) ? p : NULL;
}

/* Cotton warp, flax weft, flax 40 % or more: the cotton linen union, in place of figures. */
static bool union_line(const struct wording *w, struct tb_law_answer *a, const struct tb_composition *c)
{
    const struct tb_ref_label_phrase *name = tb_law_phrase(w->m, "union", w->lang[0]),
                                     *parts = tb_law_phrase(w->m, "union_parts", w->lang[0]);
    struct tb_text t = { 0 };

    if (!w->union_of || c->n != 2 || !only(c, TB_PART_WARP, "cotton") || !only(c, TB_PART_WEFT, "flax"))
        return false;
    if (isnan(w->facts->part_share[TB_PART_WEFT]) ||
        !rule_allows(w->union_of, w->facts->part_share[TB_PART_WEFT]) || !name || !parts)
        return false;
    tb_text_addf(&t, "%s, %s", name->text, parts->text);
    add_line(a, &t);
    return true;
}

/* Warp and weft, weighed: the composition of the whole. False when a mass is missing. */
static bool join_parts(struct tb_composition *out, const struct tb_composition *c,
                       const struct tb_law_facts *f)
{
    struct tb_part *whole = tb_composition_add_part(out, TB_PART_WHOLE);
    double total = 0;

    for (size_t i = 0; i < c->n; i++)
        total += f->part_share[c->part[i].kind];
    if (!(fabs(total - 100) < 0.01))
        return false;
    for (size_t i = 0; i < c->n; i++)
        for (size_t k = 0; k < c->part[i].n; k++) {
            const struct tb_share *s = &c->part[i].share[k];
            double percent = s->percent * f->part_share[c->part[i].kind] / 100;
            size_t at = 0;

            while (at < whole->n &&
                   (whole->share[at].fibre != s->fibre || whole->share[at].marks != s->marks))
                at++;
            if (at < whole->n)
                whole->share[at].percent += percent;
            else
                tb_part_add_share(whole, s->fibre, percent)->marks = s->marks;
        }
    return true;
}

static bool woven_apart(const struct tb_composition *c)
{
    return tb_composition_part(c, TB_PART_WARP) || tb_composition_part(c, TB_PART_WEFT);
}

static bool pile_and_back(const struct tb_composition *c)
{
    return (tb_composition_part(c, TB_PART_PILE) || tb_composition_part(c, TB_PART_FACE)) &&
           (tb_composition_part(c, TB_PART_BACK) || tb_composition_part(c, TB_PART_GROUND));
}

/* "(pile 60 %, back 40 %)" where the law asks for the ratio. */
static tb_rc ratio_line(const struct wording *w, struct tb_law_answer *a, const struct tb_composition *c)
{
    struct tb_text t = { 0 };
    double total = 0;

    for (size_t i = 0; i < c->n; i++)
        total += w->facts->part_share[c->part[i].kind];
    if (!(fabs(total - 100) < 0.01))
        return tb_fail(w->err, TB_EREFUSED,
                       "pile and back may be stated apart only with the ratio between them: give both "
                       "(--share pile=... --share back=...)");
    for (size_t i = 0; i < c->n; i++) {
        tb_text_addf(&t, "%s%s ", i ? ", " : "(", tb_part_key(c->part[i].kind));
        percent_print(&t, w->facts->part_share[c->part[i].kind]);
        tb_text_addc(&t, '%');
    }
    tb_text_addc(&t, ')');
    add_line(a, &t);
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

static tb_rc all_parts(const struct wording *w, struct tb_law_answer *a, const struct tb_composition *c)
{
    tb_rc rc = TB_OK;

    if (woven_apart(c) && !union_line(w, a, c)) {
        struct tb_composition whole = { 0 };

        rc = join_parts(&whole, c, w->facts)
                 ? part_line(w, a, &whole.part[0], false)
                 : tb_fail(w->err, TB_EREFUSED,
                           "a label gives the whole cloth: say what warp and weft weigh in it (--share "
                           "warp=... --share weft=...)");
        tb_composition_free(&whole);
        return rc;
    }
    for (size_t i = 0; i < c->n && rc == TB_OK && !woven_apart(c); i++)
        rc = part_line(w, a, &c->part[i], needs_word(c, &c->part[i]));
    if (rc == TB_OK && pile_and_back(c) && w->ratio)
        rc = ratio_line(w, a, c);
    return rc;
}

/* "exclusive of ornamentation": what the label leaves out is said on it, after the composition. */
static tb_rc exclusions(const struct wording *w, struct tb_law_answer *a, unsigned excludes)
{
    static const struct {
        unsigned bit;
        const char *key;
    } kind[] = { { EXCLUDES_ORNAMENT, "without:ornamentation" },
                 { EXCLUDES_DECORATION, "without:decoration" },
                 { EXCLUDES_ELASTIC, "without:elastic" },
                 { EXCLUDES_TRIMMING, "without:trimming" },
                 { EXCLUDES_REINFORCEMENT, "without:reinforcement" } };
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (!excludes || a->wordings == 0)
        return TB_OK;
    tb_text_add(&t, a->wording[a->wordings - 1]);
    for (size_t k = 0; k < TB_COUNT(kind); k++)
        for (size_t i = 0; i < w->langs && rc == TB_OK && excludes & kind[k].bit; i++) {
            const struct tb_ref_label_phrase *p = tb_law_phrase(w->m, kind[k].key, w->lang[i]);

            rc = p ? unchecked(w, p->status, p->text, w->lang[i])
                   : tb_fail(w->err, TB_EREFUSED,
                             "no words are known that leave this out on a label in %s (%s)", w->m->in_words,
                             w->lang[i]);
            if (p)
                tb_text_addf(&t, "%s%s", i ? " / " : ", ", p->text);
        }
    free(a->wording[a->wordings - 1]);
    a->wording[a->wordings - 1] = tb_text_take(&t);
    return rc;
}

/* Parts of animals that are no textile: the law's sentence stands on the label, in its language. */
static tb_rc animal_line(const struct wording *w, const struct at_work *at)
{
    const struct words *said = &at->label->words;
    bool there = at->label->animal_parts;
    const struct tb_ref_label_phrase *p;
    struct tb_text t = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < said->n; i++)
        there = there || token_class(&said->token[i], "animal_part");
    if (!there || !rule_of(at, "words", "animal_part"))
        return TB_OK;
    if (!(p = tb_law_phrase(w->m, "animal_parts", w->lang[0])))
        return tb_fail(w->err, TB_EREFUSED, "no words for parts of animals on a label in %s (%s) are known",
                       w->m->in_words, w->lang[0]);
    if ((rc = unchecked(w, p->status, p->text, w->lang[0])) != TB_OK)
        return rc;
    tb_text_add(&t, p->text);
    add_line(at->answer, &t);
    return TB_OK;
}

static tb_rc origin_line(const struct wording *w, struct tb_law_answer *a)
{
    const struct tb_ref_label_phrase *p = tb_law_phrase(w->m, "origin", w->lang[0]);
    struct tb_text t = { 0 };

    if (!w->facts->origin || !p)
        return TB_OK;
    tb_text_addf(&t, "%s %s", p->text, w->facts->origin);
    add_line(a, &t);
    return TB_OK;
}

/* The languages the label is to be in: all of "en+fr", one of "bg|cs|...": the one asked for, else the market's
 * own. */
static void choose_langs(struct wording *w)
{
    const char *langs = w->m->langs;
    size_t at = 0;
    char lang[8];

    if (strchr(langs, '+') && !w->facts->lang) {
        while (w->langs < NAMES_MOST && next_lang(langs, &at, lang))
            memcpy(w->lang[w->langs++], lang, sizeof lang);
        return;
    }
    (void)snprintf(w->lang[0], sizeof w->lang[0], "%s", w->facts->lang ? w->facts->lang : w->m->lang);
    w->langs = 1;
    if (strchr(langs, '+') && !w->facts->one_language) { /* both, the one asked for first */
        while (w->langs < NAMES_MOST && next_lang(langs, &at, lang))
            if (strcmp(lang, w->lang[0]) != 0)
                memcpy(w->lang[w->langs++], lang, sizeof lang);
    }
}

static void rows_that_decide(struct wording *w, const struct at_work *at)
{
    w->small = rule_of(at, "small", NULL);
    w->purpose = rule_of(at, "functional", NULL);
    w->one = rule_of(at, "other", "one");
    w->all = rule_of(at, "other", "sum");
    w->named = rule_of(at, "disclose", NULL);
    w->virgin_least = rule_of(at, "virgin", "blend");
    w->virgin_others = rule_of(at, "virgin", "others");
    w->ratio = rule_of(at, "section", "ratio");
    w->union_of = rule_of(at, "union", NULL);
    w->omission = rule_of(at, "omission", NULL);
    w->recycled_apart = rule_of(at, "words", "recycled");
}

tb_rc law_wording(const struct at_work *at, const struct tb_composition *c, size_t others, struct tb_err *err)
{
    struct tb_law_answer *out = at->answer;
    struct wording w = { .law = at->law, .m = at->market, .facts = at->facts, .others = others, .err = err };
    tb_rc rc;

    choose_langs(&w);
    rows_that_decide(&w, at);
    if (strcmp(w.m->coverage, "full") != 0)
        return tb_fail(err, TB_EREFUSED, "the rules of %s are known only in part here: no wording is offered",
                       w.m->in_words);
    rc = c->n ? all_parts(&w, out, c) : tb_fail(err, TB_EREFUSED, "there is no composition to word");
    if (rc == TB_OK && !w.omission)
        rc = exclusions(&w, out, at->label->excludes);
    if (rc == TB_OK)
        rc = animal_line(&w, at);
    if (rc == TB_OK)
        rc = origin_line(&w, out);
    if (rc != TB_OK)
        while (out->wordings)
            free(out->wording[--out->wordings]);
    return rc;
}
