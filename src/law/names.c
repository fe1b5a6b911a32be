/* Names a market accepts for a fibre, and the one to print. */
#include "law/inside.h"

#include <string.h>

const char *names_key(const struct tb_ref_market *m)
{
    return m->based_on[0] && strcmp(m->coverage, "full") == 0 ? m->based_on : m->key;
}

/* Canadian French has rows of its own. */
static const char *lang_of(const char *market, const char *lang)
{
    return strcmp(market, "ca") == 0 && strcmp(lang, "fr") == 0 ? "fr_ca" : lang;
}

static bool accepted(const char *key, const char *langs, const struct lex *l, const char *lang)
{
    if (l->kind != LEX_NAME || !list_has(l->name->markets, key))
        return false;
    if (lang)
        return strcmp(l->lang, lang_of(key, lang)) == 0;
    return list_has(langs, l->lang) || strcmp(l->lang, "fr_ca") == 0;
}

static bool better(const char *now, const char *then)
{
    return !then || (strcmp(now, "seen") == 0 && strcmp(then, "seen") != 0);
}

/* "other fibres" and "unknown fibres" have a language too. */
static bool phrase_in(const struct share *s, const struct lex *l, const char *lang)
{
    return (s->fibre == TB_FIBRE_OTHER || s->fibre == TB_FIBRE_UNKNOWN) && l->kind == LEX_PHRASE &&
           (!lang || strncmp(l->lang, lang, 2) == 0);
}

bool share_named_in(const struct at_work *w, const struct share *s, const char *lang, const char **status)
{
    const char *key = names_key(w->market);
    bool in = false;

    *status = NULL;
    for (size_t i = 0; i < s->words; i++) {
        const struct token *t = &w->label->words.token[s->word[i]];

        for (size_t k = 0; k < t->lexes; k++) {
            const struct lex *l = &t->lex[k];
            bool virgin = l->kind == LEX_PHRASE && strcmp(l->what, "virgin_wool") == 0 && s->fibre >= 0 &&
                          (lang ? strcmp(l->lang, lang) == 0 : list_has(w->market->langs, l->lang));

            if (!virgin && !phrase_in(s, l, lang) && !accepted(key, w->market->langs, l, lang))
                continue;
            in = true;
            if (l->name && better(l->name->status, *status))
                *status = l->name->status;
            else if (l->phrase && better(l->phrase->status, *status))
                *status = l->phrase->status;
        }
    }
    if (!*status)
        *status = "seen";
    return in;
}

/* The status of a name's row in the market; NULL: no row. */
static const char *status_of(const char *key, const char *name, const char *lang)
{
    size_t n;
    const struct tb_name *row = tb_name_find(name, strlen(name), &n);

    for (size_t i = 0; row && i < n; i++)
        if (list_has(row[i].markets, key) && strcmp(row[i].lang, lang) == 0)
            return row[i].status;
    return NULL;
}

const char *printed_name(const struct tb_ref_market *m, int fibre, const char *lang)
{
    const struct tb_fibre *f = tb_fibre_at(fibre);
    const char *key = names_key(m), *status = NULL, *name;

    if (strcmp(key, "us") == 0)
        name = f->us_name;
    else if (strcmp(key, "ca") == 0)
        name = strcmp(lang, "fr") == 0 ? f->ca_name_fr : f->ca_name;
    else
        name = tb_fibre_name_in(fibre, *lang ? lang : "en", &status);
    return name && name[0] ? name : NULL;
}

const char *name_to_print(const struct tb_ref_market *m, int fibre, const char *lang, const char **status)
{
    const char *key = names_key(m), *name = printed_name(m, fibre, lang);

    *status = NULL;
    if (!name)
        return NULL;
    if (strcmp(key, "us") == 0 || strcmp(key, "ca") == 0)
        *status = status_of(key, name, lang_of(key, lang));
    else
        (void)tb_fibre_name_in(fibre, *lang ? lang : "en", status);
    if (!*status)
        *status = "memory";
    return name;
}

bool same_printed_name(const struct tb_ref_market *m, int a, int b, const char *lang)
{
    const char *x = printed_name(m, a, lang), *y = printed_name(m, b, lang);

    return x && y && strcmp(x, y) == 0;
}

bool name_covers(const struct tb_ref_market *m, int said, int found)
{
    char group[64] = "cover:";

    (void)strncat(group, tb_fibre_at(said)->key, sizeof group - strlen(group) - 1);
    return group_has(m, group, found);
}

const struct tb_ref_label_phrase *phrase_to_print(const struct tb_ref_market *m, const char *key,
                                                  const char *lang)
{
    const struct tb_ref_label_phrase *any = NULL;

    for (size_t i = 0; i < tb_ref_label_phrase_n; i++) {
        const struct tb_ref_label_phrase *p = &tb_ref_label_phrase[i];

        if (strcmp(p->key, key) != 0 || strcmp(p->lang, lang) != 0 || strcmp(p->use_for, "print") != 0)
            continue;
        if (strcmp(p->market, names_key(m)) == 0)
            return p;
        if (!p->market[0] && !any)
            any = p;
    }
    return any;
}
