/*
 * names.c - what a market calls things: the names of fibres it accepts and prints, its phrases, what it would have said.
 *
 * All of it is rows. A market whose `names` is another market reads that one's rows, so that Great Britain needs no copy
 * of the names of the Union.
 */
#include "law/checks.h"
#include "tenterbook/status.h"

#include <stdlib.h>
#include <string.h>

/* --- the names of all markets in order ------------------------------------------------------------------------ */

static int by_market_lang_fibre(const struct tb_ref_law_name *x, const char *market, const char *lang,
                                const char *fibre)
{
    int order = strcmp(x->market, market);

    if (!order)
        order = strcmp(x->lang, lang);
    return order ? order : strcmp(x->fibre, fibre);
}

/* Of several names of a fibre the one that stands first in the table is printed: their order is kept. */
static int in_order(const void *a, const void *b)
{
    const struct tb_ref_law_name *x = *(const struct tb_ref_law_name *const *)a,
                                 *y = *(const struct tb_ref_law_name *const *)b;
    int order = by_market_lang_fibre(x, y->market, y->lang, y->fibre);

    return order ? order : (x > y) - (x < y);
}

/* The fibre under whose name this one goes by the group "named:NAME" of the market's names; itself mostly. */
static int goes_as(const struct tb_ref_market *m, int fibre)
{
    static const char begin[] = "named:";
    const char *key = tb_fibre_at(fibre)->key;

    for (size_t i = 0; i < tb_ref_law_group_n; i++) {
        const struct tb_ref_law_group *g = &tb_ref_law_group[i];

        if (strcmp(g->market, m->names) == 0 && strcmp(g->fibre, key) == 0 &&
            strncmp(g->group_key, begin, sizeof begin - 1) == 0)
            return tb_fibre_by_key(g->group_key + sizeof begin - 1);
    }
    return fibre;
}

/*
 * Sorted once, since the wording asks for names pair by pair. Which fibre goes under another's name is worked out here
 * for every market, for the same reason.
 */
void tb_law_names_build(struct tb_law_names *out)
{
    size_t fibres = tb_fibre_count();

    out->name = tb_array(const struct tb_ref_law_name *, tb_ref_law_name_n);
    out->n = 0;
    for (size_t i = 0; i < tb_ref_law_name_n; i++)
        if (!tb_ref_law_name[i].marks[0]) /* "virgin wool" is the name of a state, not of the fibre alone */
            out->name[out->n++] = &tb_ref_law_name[i];
    qsort(out->name, out->n, sizeof *out->name, in_order);
    out->as = tb_array(int, tb_ref_market_n *fibres);
    for (size_t m = 0; m < tb_ref_market_n; m++)
        for (size_t f = 0; f < fibres; f++)
            out->as[m * fibres + f] = goes_as(&tb_ref_market[m], (int)f);
}

void tb_law_names_free(struct tb_law_names *names)
{
    free(names->name);
    free(names->as);
    *names = (struct tb_law_names){ 0 };
}

/* --- the name to print ---------------------------------------------------------------------------------------- */

const char *tb_law_lang(const struct at_work *w)
{
    return w->facts->lang && w->facts->lang[0] ? w->facts->lang : w->market->lang;
}

const char *tb_law_name(const struct tb_law *law, const struct tb_ref_market *m, int fibre, const char *lang,
                        const char **status)
{
    const struct tb_law_names *names = &law->names;
    int as = names->as[(size_t)(m - tb_ref_market) * tb_fibre_count() + (size_t)fibre];
    const char *key = tb_fibre_at(as)->key;
    size_t low = 0, high = names->n;

    for (size_t i = 0; i < law->kept.names; i++) {
        const struct tb_name *n = &law->kept.name[i];

        if (n->fibre == as && strcmp(n->lang, lang) == 0 && strcmp(n->market, m->names) == 0) {
            if (status)
                *status = n->status;
            return n->word;
        }
    }
    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (by_market_lang_fibre(names->name[middle], m->names, lang, key) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    if (low == names->n || by_market_lang_fibre(names->name[low], m->names, lang, key) != 0)
        return NULL;
    if (status)
        *status = names->name[low]->status;
    return names->name[low]->name;
}

bool tb_law_same_name(const struct tb_law *law, const struct tb_ref_market *m, int a, int b, const char *lang)
{
    const char *x = tb_law_name(law, m, a, lang, NULL), *y = tb_law_name(law, m, b, lang, NULL);

    return x && y && strcmp(x, y) == 0;
}

bool tb_law_name_covers(const struct tb_ref_market *m, int said, int found)
{
    char group[64] = "cover:";

    (void)strncat(group, tb_fibre_at(said)->key, sizeof group - strlen(group) - 1);
    return tb_law_group_has(m, group, found);
}

/* --- the names a label may carry ------------------------------------------------------------------------------ */

static bool accepted(const struct tb_ref_market *m, const struct lex *l, const char *lang)
{
    if (l->kind != LEX_NAME || strcmp(l->name->market, m->names) != 0)
        return false;
    return lang ? strcmp(l->lang, lang) == 0 : tb_law_list_has(m->langs, l->lang);
}

static bool better(const char *now, const char *then)
{
    return !then || (tb_status_seen(now) && !tb_status_seen(then));
}

/* "other fibres" and "unknown fibres" have a language too. */
static bool phrase_in(const struct tb_share *s, const struct lex *l, const char *lang)
{
    return (s->fibre == TB_FIBRE_OTHER || s->fibre == TB_FIBRE_UNKNOWN) && l->kind == LEX_PHRASE &&
           (!lang || strcmp(l->lang, lang) == 0);
}

/*
 * One of its words is enough: "Wool / Laine" is a name in either language. Of several rows for one word the one that
 * was seen counts, for a name that somebody read is not doubtful because another table has it from memory.
 */
bool tb_law_share_named(const struct at_work *w, const struct tb_share *s, const char *lang,
                        const char **status)
{
    bool in = false;

    *status = NULL;
    EACH_WORD(w->label, s, t)
    for (size_t k = 0; k < t->lexes; k++) {
        const struct lex *l = t->lex[k];
        bool virgin = l->kind == LEX_PHRASE && strcmp(l->what, "virgin_wool") == 0 && s->fibre >= 0 &&
                      (lang ? strcmp(l->lang, lang) == 0 : tb_law_list_has(w->market->langs, l->lang));

        if (!virgin && !phrase_in(s, l, lang) && !accepted(w->market, l, lang))
            continue;
        in = true;
        if (l->name && better(l->name->status, *status))
            *status = l->name->status;
        else if (l->phrase && better(l->phrase->status, *status))
            *status = l->phrase->status;
    }
    if (!*status)
        *status = "seen";
    return in;
}

/* --- phrases and sayings -------------------------------------------------------------------------------------- */

bool tb_law_stands_after(const struct tb_ref_label_phrase *p)
{
    return strcmp(p->use_for, "print after") == 0;
}

/* What was taken over first, the market's own before one that serves all markets. Rows that are only read are passed over. */
const struct tb_ref_label_phrase *tb_law_phrase(const struct tb_law *law, const struct tb_ref_market *m,
                                                const char *key, const char *lang)
{
    const struct tb_ref_label_phrase *any = NULL;

    for (size_t i = 0; i < law->kept.phrases; i++) {
        const struct tb_ref_label_phrase *p = &law->kept.phrase[i];

        if (strcmp(p->key, key) == 0 && strcmp(p->lang, lang) == 0 && strcmp(p->market, m->names) == 0)
            return p;
    }
    for (size_t i = 0; i < tb_ref_label_phrase_n; i++) {
        const struct tb_ref_label_phrase *p = &tb_ref_label_phrase[i];

        if (strcmp(p->key, key) != 0 || strcmp(p->lang, lang) != 0 || strncmp(p->use_for, "print", 5) != 0)
            continue;
        if (strcmp(p->market, m->names) == 0)
            return p;
        if (!p->market[0] && !any)
            any = p;
    }
    return any;
}

const char *tb_law_phrase_text(const struct at_work *w, const char *key, const char *otherwise)
{
    const struct tb_ref_label_phrase *p = tb_law_phrase(w->law, w->market, key, w->market->lang);

    return p ? p->text : otherwise;
}

static const char *say_in(const struct tb_ref_market *m, const char *say, const char *lang)
{
    for (size_t i = 0; i < tb_ref_law_say_n; i++)
        if (strcmp(tb_ref_law_say[i].say, say) == 0 && strcmp(tb_ref_law_say[i].market, m->names) == 0 &&
            strcmp(tb_ref_law_say[i].lang, lang) == 0)
            return tb_ref_law_say[i].text;
    return NULL;
}

/* In the language of the label where there is a row for it, else in the market's own: both name its fibres rightly. */
const char *tb_law_say(const struct at_work *w, const struct tb_ref_law_word *word)
{
    const char *text = say_in(w->market, word->say, tb_law_lang(w));

    return text ? text : say_in(w->market, word->say, w->market->lang);
}
