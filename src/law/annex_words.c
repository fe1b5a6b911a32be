/*
 * annex_words.c - cells and quotations of a saved copy, by the fibre and the phrase they are words for.
 */
#include "tenterbook/law_names.h"

#include "gen/ref_annex_row.h"
#include "law/inside.h"

#include "tenterbook/status.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define NAME_MOST 80 /* bytes of a name of a fibre */
#define ROWS_FROM 18 /* of Table 1 */

struct words {
    struct tb_law_word *word;
    size_t n, cap;
    const struct tb_ref_market *market;
    const char *lang;
    struct tb_arena *mem;
    const struct tb_law *law;
};

/* What was held: the printed name or phrase of the tables. */
static void hold(const struct words *w, struct tb_law_word *word)
{
    const char *status = "";

    word->held = "";
    if (word->phrase) {
        const struct tb_ref_label_phrase *p = tb_law_phrase(w->law, w->market, word->key, w->lang);

        word->held = p ? p->text : "";
        status = p ? p->status : "";
    } else {
        const char *name = tb_law_name(w->law, w->market, tb_fibre_by_key(word->key), w->lang, &status);

        word->held = name ? name : "";
    }
    word->status = status;
}

static void add(struct words *w, const struct tb_law_seen *from, const char *key, const char *text, size_t n)
{
    struct tb_law_word word = { .key = key, .phrase = from->quoted, .number = from->number };

    while (n && text[n - 1] == ' ')
        n--;
    if (!n || n > (from->quoted ? TB_LAW_TEXT_MOST : NAME_MOST))
        return;
    word.text = tb_arena_strndup(w->mem, text, n);
    hold(w, &word);
    TB_PUSH_ROOM(w->word, w->n, w->cap);
    w->word[w->n++] = word;
}

/* --- names ------------------------------------------------------------------------------------------------------- */

/* Without what stands in brackets, and without spaces at the ends: "coir (coconut)", "otter (1)". */
static char *plain(const char *text)
{
    struct tb_text out = { 0 };
    int depth = 0;

    for (const char *at = text; *at; at++) {
        if (*at == '(')
            depth++;
        else if (*at == ')' && depth)
            depth--;
        else if (!depth && !(*at == ' ' && (!out.n || out.s[out.n - 1] == ' ')))
            tb_text_addc(&out, *at);
    }
    while (out.n && out.s[out.n - 1] == ' ')
        out.s[--out.n] = '\0';
    return tb_text_take(&out);
}

static size_t places_of(const struct words *w, int number)
{
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_annex_row_n; i++)
        n +=
            tb_ref_annex_row[i].number == number && strcmp(tb_ref_annex_row[i].market, w->market->names) == 0;
    return n;
}

static const char *fibre_of(const struct words *w, int number, size_t place)
{
    for (size_t i = 0; i < tb_ref_annex_row_n; i++)
        if (tb_ref_annex_row[i].number == number && (size_t)tb_ref_annex_row[i].place == place &&
            strcmp(tb_ref_annex_row[i].market, w->market->names) == 0)
            return tb_ref_annex_row[i].fibre;
    return NULL;
}

/* "polyamide or nylon": either word; the one between them is not known in every language, so there must be one. */
static void either(struct words *w, const struct tb_law_seen *s, const char *text, const char *key)
{
    size_t first = strcspn(text, " /"), second;
    const char *rest = text + first;

    if (*rest == ' ') {
        rest += 1;
        second = strcspn(rest, " ");
        rest = rest[second] == ' ' && !strchr(rest + second + 1, ' ') ? rest + second + 1 : NULL;
    } else if (*rest == '/') {
        rest += 1;
    }
    if (rest && *rest) {
        add(w, s, key, text, first);
        add(w, s, key, rest, strlen(rest));
    } else {
        add(w, s, key, text, strlen(text));
    }
}

/* A list of animals; the last one may be followed by words about wool and hair, so only its first word is taken. */
static void each(struct words *w, const struct tb_law_seen *s, const char *text, size_t places)
{
    const char *at = text;
    size_t commas = 0;

    for (const char *c = text; *c; c++)
        commas += *c == ',' || *c == ';';
    if (commas + 1 < places)
        return; /* not the list that is known: whose word is whose cannot be told */
    for (size_t place = 1; place <= places; place++) {
        size_t n = strcspn(at, ",;");

        add(w, s, fibre_of(w, s->number, place), at,
            place == places && commas + 1 == places ? strcspn(at, " ") : n);
        at += n;
        at += strspn(at, ",; ");
    }
}

static void take_row(struct words *w, const struct tb_law_seen *s)
{
    size_t places = places_of(w, s->number);
    char *text = plain(s->text);

    if (places == 1)
        add(w, s, fibre_of(w, s->number, 1), text, strlen(text));
    else if (places == 2)
        either(w, s, text, fibre_of(w, s->number, 1));
    else if (places)
        each(w, s, text, places);
    free(text);
}

/* --- phrases ----------------------------------------------------------------------------------------------------- */

/* Which quotation of which article is which phrase. In Article 7 all but "100 %" are words for a pure product. */
static const char *phrase_of(const struct tb_law_seen *s)
{
    static const struct {
        int article, place;
        const char *key;
    } known[] = { { 9, 1, "other_fibres" }, { 9, 2, "union" }, { 9, 3, "union_parts" },
                  { 9, 4, "mixed" },        { 9, 5, "mixed" }, { 12, 1, "animal_parts" } };

    if (s->number == 7)
        return strchr(s->text, '%') ? NULL : "pure";
    for (size_t i = 0; i < TB_COUNT(known); i++)
        if (known[i].article == s->number && known[i].place == s->place)
            return known[i].key;
    return NULL;
}

/* --- one word for two fibres ------------------------------------------------------------------------------------- */

static bool same_word(const char *a, const char *b)
{
    char *x = tb_fold_accented(a, strlen(a)), *y = tb_fold_accented(b, strlen(b));
    bool same = strcmp(x, y) == 0;

    free(x);
    free(y);
    return same;
}

/* A table that is out of step names each fibre by the word of its neighbour. */
static void in_the_tables(const struct words *w, struct tb_law_word *word)
{
    for (size_t i = 0; i < tb_ref_annex_row_n; i++) {
        const struct tb_ref_annex_row *r = &tb_ref_annex_row[i];
        const char *status = "", *name;

        if (strcmp(r->market, w->market->names) != 0 || strcmp(r->fibre, word->key) == 0)
            continue;
        name = tb_law_name(w->law, w->market, tb_fibre_by_key(r->fibre), w->lang, &status);
        if (!name || !same_word(name, word->text))
            continue;
        word->other = r->fibre;
        word->other_seen = !tb_status_memory(status);
        return;
    }
}

static void find_others(struct words *w)
{
    for (size_t i = 0; i < w->n; i++) {
        if (w->word[i].phrase)
            continue;
        in_the_tables(w, &w->word[i]);
        for (size_t k = 0; k < w->n && !w->word[i].other; k++)
            if (!w->word[k].phrase && strcmp(w->word[i].key, w->word[k].key) != 0 &&
                same_word(w->word[i].text, w->word[k].text))
                w->word[i].other = w->word[k].key;
    }
}

size_t tb_law_copy_missing(int row[TB_LAW_ROWS_MOST], const struct tb_law_word *word, size_t n,
                           const char *market)
{
    const struct words w = { .market = tb_law_market(market) };
    size_t missing = 0;

    for (int number = 1; number <= TB_LAW_ROWS_MOST; number++) {
        size_t i = 0;

        while (i < n && (word[i].phrase || word[i].number != number))
            i++;
        if (i == n && w.market && places_of(&w, number))
            row[missing++] = number;
    }
    return missing;
}

/* --- the copy ---------------------------------------------------------------------------------------------------- */

static tb_rc check(const struct words *w, const struct tb_law_copy *copy, struct tb_err *err)
{
    int rows = 0;

    if (places_of(w, 1) == 0)
        return tb_fail(err, TB_EINVAL, "the names of %s do not stand in numbered rows that are known here",
                       w->market->in_words);
    if (!w->market->langs[0])
        return tb_fail(err, TB_EINVAL,
                       "names for %s cannot be read from a copy: its languages are not known here",
                       w->market->in_words);
    if (!tb_law_list_has(w->market->langs, w->lang))
        return tb_fail(err, TB_EINVAL, "a label in %s is not in '%.20s'; its languages are %s",
                       w->market->in_words, w->lang, w->market->langs);
    for (size_t i = 0; i < copy->n; i++)
        rows += !copy->seen[i].quoted && copy->seen[i].number == rows + 1;
    if (rows < ROWS_FROM)
        return tb_fail(err, TB_EFORMAT,
                       "Annex I was not found: no table has rows numbered 1 to %d; save the page of the "
                       "consolidated text in HTML, as UTF-8",
                       ROWS_FROM);
    return TB_OK;
}

tb_rc tb_law_copy_words(struct tb_law_word **out, size_t *n, const struct tb_law_copy *copy,
                        const char *market, const char *lang, struct tb_arena *mem, struct tb_err *err)
{
    struct words w = { .lang = lang, .mem = mem };
    struct tb_law *law;
    tb_rc rc = tb_market_check(market, err);

    if (rc != TB_OK)
        return rc;
    w.market = tb_law_market(market);
    if ((rc = check(&w, copy, err)) != TB_OK)
        return rc;
    w.law = law = tb_law_new();
    for (size_t i = 0; i < copy->n; i++) {
        const struct tb_law_seen *s = &copy->seen[i];

        if (!s->quoted)
            take_row(&w, s);
        else if (phrase_of(s))
            add(&w, s, phrase_of(s), s->text, strlen(s->text));
    }
    find_others(&w);
    *out = tb_arena_alloc(mem, (w.n ? w.n : 1) * sizeof *w.word);
    if (w.n)
        memcpy(*out, w.word, w.n * sizeof *w.word);
    *n = w.n;
    free(w.word);
    tb_law_free(law);
    return TB_OK;
}
