/* The index over every phrase, name and word: what a label's words are looked up in. */
#include "law/inside.h"

#include "tenterbook/utf8.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* Folded, with hyphens and apostrophes as blanks and no blanks around a stroke: "T / C" and "t/c" are one. */
static char *index_key(const char *text)
{
    struct tb_text t = { 0 };
    char *folded = tb_fold(text, strlen(text));

    for (const char *s = folded; *s; s++) {
        char c = *s == '-' || *s == '\'' || *s == '(' || *s == ')' || *s == '.' || *s == ',' ? ' ' : *s;

        if (c == ' ' && (t.n == 0 || t.s[t.n - 1] == ' ' || t.s[t.n - 1] == '/'))
            continue;
        if (c == '/' && t.n && t.s[t.n - 1] == ' ')
            t.s[--t.n] = '\0';
        tb_text_addc(&t, c);
    }
    while (t.n && t.s[t.n - 1] == ' ')
        t.s[--t.n] = '\0';
    free(folded);
    return tb_text_take(&t);
}

static struct lex *add(struct tb_law *law, const char *text, enum lex_kind kind, const char *what)
{
    struct lex *l;
    size_t words = 1;

    TB_PUSH_ROOM(law->lex, law->n, law->cap);
    l = &law->lex[law->n++];
    *l = (struct lex){ .key = index_key(text), .kind = kind, .what = what, .lang = "", .fibre = -1 };
    for (const char *s = l->key; *s; s++)
        words += *s == ' ' || *s == '/';
    if (words > law->words_most)
        law->words_most = words;
    return l;
}

/* What a word of the table of names is to a label; NULL: we have words of our own for that kind. */
static const char *class_of(const struct tb_name *n)
{
    switch (n->kind) {
    case TB_WORD_CODE:
    case TB_WORD_AMBIGUOUS:
        return "abbreviation";
    case TB_WORD_TRADE_WORD:
        return "variety";
    case TB_WORD_TRADE_MARK:
        return "trade_mark";
    case TB_WORD_MISNOMER:
        return "misnomer";
    case TB_WORD_CONSTRUCTION:
        return "construction";
    case TB_WORD_VAGUE:
        return "vague";
    case TB_WORD_MARK:
        return "descriptor";
    default:
        return NULL;
    }
}

/* "recycled wool" is read as "recycled" and "wool", so that the word for the state of the fibre is not lost. */
static bool begins_with_a_state(const char *key)
{
    static const char *const state[] = { "recycled ",    "reclaimed ", "virgin ", "new ",
                                         "reprocessed ", "reused ",    "pure ",   "other " };

    for (size_t i = 0; i < TB_COUNT(state); i++)
        if (strncmp(key, state[i], strlen(state[i])) == 0)
            return true;
    return false;
}

/* "Egyptian cotton", "viscose from bamboo": the name in it is read by itself, the rest as what stands beside it. */
static bool holds_a_name(const struct tb_name *n)
{
    const char *s = n->word;

    if (n->kind != TB_WORD_TRADE_WORD || !strchr(s, ' '))
        return false;
    while (*s) {
        size_t len = strcspn(s, " "), rows;
        const struct tb_name *row = tb_name_find(s, len, &rows);

        if (row && row->kind < TB_WORD_SYNONYM)
            return true;
        s += len + (s[len] == ' ');
    }
    return false;
}

/* "rabbit" alone is the name of an animal: the fibre is "rabbit hair". No law lists it. */
static bool is_animal(const struct tb_name *n)
{
    if (n->kind != TB_WORD_SYNONYM)
        return false;
    for (size_t i = 0; i < tb_ref_law_word_n; i++)
        if (strcmp(tb_ref_law_word[i].class, "animal") == 0 &&
            strcasecmp(tb_ref_law_word[i].word, n->word) == 0)
            return true;
    return false;
}

static void add_name(struct tb_law *law, const struct tb_name *n)
{
    const char *what = class_of(n);
    struct lex *l;

    if (holds_a_name(n) || is_animal(n))
        return;
    if (n->kind <= TB_WORD_SYNONYM && n->fibre >= 0)
        l = add(law, n->word, LEX_NAME, "name");
    else if (what)
        l = add(law, n->word, LEX_CLASS, what);
    else if (n->kind == TB_WORD_PART || n->kind == TB_WORD_HEADER || n->kind == TB_WORD_FILLER ||
             n->kind == TB_WORD_AND)
        l = add(law, n->word, LEX_PHRASE, "filler");
    else if (n->kind == TB_WORD_OTHER)
        l = add(law, n->word, LEX_PHRASE, "other_fibres");
    else if (n->kind == TB_WORD_UNDETERMINED)
        l = add(law, n->word, LEX_PHRASE, "unknown");
    else
        return;
    l->name = n;
    l->lang = n->lang;
    l->fibre = n->fibre;
    l->code = (n->kind == TB_WORD_CODE || n->kind == TB_WORD_AMBIGUOUS) && strlen(n->word) <= 4;
    if (n->kind == TB_WORD_PART && tb_part_by_key(n->means) >= 0)
        l->what = "part"; /* which part: name->means */
    if (l->kind == LEX_NAME && begins_with_a_state(l->key)) {
        free(l->key);
        law->n--;
    }
}

/* Our own rows come before those of the table of names, phrases before names before classes. */
static int by_key(const void *a, const void *b)
{
    const struct lex *x = a, *y = b;
    int order = strcmp(x->key, y->key);

    if (order)
        return order;
    if (x->kind != y->kind)
        return x->kind < y->kind ? -1 : 1;
    if (!x->name != !y->name)
        return x->name ? 1 : -1;
    if (x->name && y->name && x->name->kind != y->name->kind)
        return x->name->kind < y->name->kind ? -1 : 1;
    return (x->phrase > y->phrase) - (x->phrase < y->phrase) + (x->word > y->word) - (x->word < y->word) +
           (x->name > y->name) - (x->name < y->name);
}

struct tb_law *tb_law_new(void)
{
    struct tb_law *law = tb_new(struct tb_law);

    for (size_t i = 0; i < tb_ref_label_phrase_n; i++) {
        struct lex *l = add(law, tb_ref_label_phrase[i].text, LEX_PHRASE, tb_ref_label_phrase[i].key);

        l->phrase = &tb_ref_label_phrase[i];
        l->lang = tb_ref_label_phrase[i].lang;
    }
    for (size_t i = 0; i < tb_ref_law_word_n; i++) {
        struct lex *l = add(law, tb_ref_law_word[i].word, LEX_CLASS, tb_ref_law_word[i].class);

        l->word = &tb_ref_law_word[i];
        l->fibre = tb_fibre_by_key(tb_ref_law_word[i].fibre);
    }
    for (size_t i = 0; i < tb_name_count(); i++)
        add_name(law, tb_name_at(i));
    qsort(law->lex, law->n, sizeof *law->lex, by_key);
    tb_law_names_build(&law->names);
    law->kind = tb_array(int, tb_ref_law_rule_n);
    for (size_t i = 0; i < tb_ref_law_rule_n; i++)
        law->kind[i] = tb_law_kind_of(tb_ref_law_rule[i].kind);
    law->market = tb_array(struct rule_list, tb_ref_market_n);
    for (size_t i = 0; i < tb_ref_market_n; i++)
        choose_rules(&law->market[i], &tb_ref_market[i], NULL);
    return law;
}

void tb_law_free(struct tb_law *law)
{
    if (!law)
        return;
    for (size_t i = 0; i < law->n; i++)
        free(law->lex[i].key);
    free(law->lex);
    tb_law_names_free(&law->names);
    free(law->kind);
    for (size_t i = 0; i < tb_ref_market_n; i++)
        free(law->market[i].rule);
    free(law->market);
    free(law);
}

const struct lex *tb_law_find(const struct tb_law *law, const char *key, size_t *n)
{
    size_t low = 0, high = law->n;

    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (strcmp(law->lex[middle].key, key) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    *n = 0;
    while (low + *n < law->n && strcmp(law->lex[low + *n].key, key) == 0)
        ++*n;
    return *n ? &law->lex[low] : NULL;
}

bool token_is(const struct token *t, const char *phrase_key)
{
    for (size_t i = 0; i < t->lexes; i++)
        if (t->lex[i].kind == LEX_PHRASE && strcmp(t->lex[i].what, phrase_key) == 0)
            return true;
    return false;
}

bool token_class(const struct token *t, const char *word_class)
{
    const struct lex *l = token_entry(t, LEX_CLASS);

    if (!l || token_entry(t, LEX_NAME) || strcmp(l->what, word_class) != 0)
        return false;
    return !token_entry(t, LEX_PHRASE) || token_is(t, "filler");
}

const struct lex *token_entry(const struct token *t, enum lex_kind kind)
{
    for (size_t i = 0; i < t->lexes; i++)
        if (t->lex[i].kind == kind)
            return &t->lex[i];
    return NULL;
}
