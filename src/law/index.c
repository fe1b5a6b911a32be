/*
 * What words mean to a label: the phrases and words of the law's own tables, and the table of names. A word may mean
 * several things ("of": a filler, and "viscose of bamboo"); all of them are kept, and whoever reads the label chooses.
 */
#include "law/inside.h"

#include "tenterbook/law_names.h"

#include <stdlib.h>
#include <string.h>

/* What a word of the table of names is to a label. A word for "per cent" is nothing without a number. */
static const struct {
    enum lex_kind kind;
    const char *what;
} meaning[TB_WORD_KINDS] = {
    [TB_WORD_LEGAL] = { LEX_NAME, "name" },           [TB_WORD_SYNONYM] = { LEX_NAME, "name" },
    [TB_WORD_CODE] = { LEX_CLASS, "abbreviation" },   [TB_WORD_AMBIGUOUS] = { LEX_CLASS, "abbreviation" },
    [TB_WORD_TRADE_WORD] = { LEX_CLASS, "variety" },  [TB_WORD_TRADE_MARK] = { LEX_CLASS, "trade_mark" },
    [TB_WORD_MISNOMER] = { LEX_CLASS, "misnomer" },   [TB_WORD_CONSTRUCTION] = { LEX_CLASS, "construction" },
    [TB_WORD_VAGUE] = { LEX_CLASS, "vague" },         [TB_WORD_MARK] = { LEX_CLASS, "descriptor" },
    [TB_WORD_OTHER] = { LEX_PHRASE, "other_fibres" }, [TB_WORD_UNDETERMINED] = { LEX_PHRASE, "unknown" },
    [TB_WORD_PART] = { LEX_PHRASE, "filler" },        [TB_WORD_HEADER] = { LEX_PHRASE, "filler" },
    [TB_WORD_FILLER] = { LEX_PHRASE, "filler" },      [TB_WORD_AND] = { LEX_PHRASE, "filler" },
};

/*
 * "Egyptian cotton", "pure new wool": the law asks for the name of the fibre and for each word that stands beside it,
 * so a label is read word by word. "Bottle fibre" is a word for a fibre only as a whole.
 */
static bool is_read_word_by_word(const struct tb_name *n, unsigned marks)
{
    if (!strchr(n->word, ' '))
        return false;
    return n->kind == TB_WORD_TRADE_WORD ? !marks : n->kind == TB_WORD_SYNONYM && marks;
}

/* "rabbit" alone is the name of an animal: the fibre is "rabbit hair". No law lists it. */
static bool is_animal(const struct tb_name *n)
{
    for (size_t i = 0; i < tb_ref_law_word_n && n->kind == TB_WORD_SYNONYM; i++)
        if (strcmp(tb_ref_law_word[i].class, "animal") == 0 &&
            strcasecmp(tb_ref_law_word[i].word, n->word) == 0)
            return true;
    return false;
}

static struct lex lex_of_name(const struct tb_name *n, unsigned marks)
{
    struct lex l = { .kind = meaning[n->kind].kind,
                     .what = meaning[n->kind].what,
                     .lang = n->lang,
                     .fibre = n->fibre,
                     .name = n };

    /* a word that is not known as a whole is looked up word by word */
    if (is_read_word_by_word(n, marks) || is_animal(n) || (l.kind == LEX_NAME && n->fibre < 0))
        l.kind = LEX_NONE;
    if (strncmp(n->means, "yarn:", 5) == 0) /* the law asks about each such word */
        l.kind = LEX_NONE;
    if (n->kind == TB_WORD_PART && tb_part_by_key(n->means) >= 0)
        l.what = "part"; /* which part: name->means */
    l.code = (n->kind == TB_WORD_CODE || n->kind == TB_WORD_AMBIGUOUS) && strlen(n->word) <= CODE_MOST;
    return l;
}

/* What a phrase stands for where a text is cut into parts: "part:lining", "what:elastic", "other_fibres". */
static enum tb_word_kind phrase_kind(const char *key)
{
    if (strncmp(key, "part:", 5) == 0 || strcmp(key, "section") == 0)
        return TB_WORD_PART;
    if (strncmp(key, "what:", 5) == 0)
        return TB_WORD_UNKNOWN; /* with a colon it names a part of its own */
    return tb_law_list_has("other_fibre|other_fibres|manmade", key)    ? TB_WORD_OTHER
           : tb_law_list_has("mixed|unknown|category", key)            ? TB_WORD_UNDETERMINED
           : tb_law_list_has("pure|virgin|recycled|recycled_old", key) ? TB_WORD_MARK
           : strcmp(key, "virgin_wool") == 0                           ? TB_WORD_LEGAL
                                                                       : TB_WORD_FILLER;
}

/* Which part of the cloth a phrase names; -1: none. */
static int phrase_part(const char *key)
{
    return phrase_kind(key) != TB_WORD_PART ? -1
           : strcmp(key, "section") == 0    ? TB_PART_OTHER
                                            : tb_part_by_key(key + 5);
}

/* Words that may stand in the place of a fibre fill a part, so that it is not taken for an empty one. */
static enum tb_word_kind class_kind(const char *class)
{
    return tb_law_list_has("abbreviation|variety|trade_mark|animal|misnomer|bamboo|implied|fur_look", class)
               ? TB_WORD_CODE
               : TB_WORD_CONSTRUCTION;
}

/* Phrases come before words, since the first entry of a text decides. */
static void add_own(struct tb_law *law)
{
    size_t n = 0;

    law->own =
        tb_array(struct lex, tb_ref_label_phrase_n + tb_ref_law_word_n + law->kept.phrases + law->kept.names);
    for (size_t i = 0; i < tb_ref_label_phrase_n; i++, n++) {
        const struct tb_ref_label_phrase *p = &tb_ref_label_phrase[i];

        law->own[n] = (struct lex){ LEX_PHRASE, p->key, p->lang, .fibre = -1, .phrase = p };
        tb_phrases_add(&law->phrases, p->text, n, phrase_kind(p->key), phrase_part(p->key));
    }
    for (size_t i = 0; i < tb_ref_law_word_n; i++, n++) {
        const struct tb_ref_law_word *w = &tb_ref_law_word[i];

        law->own[n] = (struct lex){ LEX_CLASS, w->class, "", tb_fibre_by_key(w->fibre), .word = w };
        tb_phrases_add(&law->phrases, w->word, n, class_kind(w->class), -1);
    }
    for (size_t i = 0; i < law->kept.phrases; i++, n++) {
        const struct tb_ref_label_phrase *p = &law->kept.phrase[i];

        law->own[n] = (struct lex){ LEX_PHRASE, p->key, p->lang, .fibre = -1, .phrase = p };
        tb_phrases_add(&law->phrases, p->text, n, phrase_kind(p->key), phrase_part(p->key));
    }
    for (size_t i = 0; i < law->kept.names; i++, n++) {
        const struct tb_name *name = &law->kept.name[i];

        law->own[n] = (struct lex){ LEX_NAME, "name", name->lang, name->fibre, .name = name };
        tb_phrases_add(&law->phrases, name->word, n, TB_WORD_LEGAL, -1);
    }
    tb_phrases_sort(&law->phrases);
}

/* The key of a phrase as the tables have it, so that it outlives whoever gave it; NULL: there is none. */
static const char *phrase_key(const char *key)
{
    for (size_t i = 0; i < tb_ref_label_phrase_n; i++)
        if (strcmp(tb_ref_label_phrase[i].key, key) == 0)
            return tb_ref_label_phrase[i].key;
    return NULL;
}

static void keep(struct tb_law *law, const struct tb_law_kept *k)
{
    static const char source[] = "taken over from a saved copy of the law";
    const struct tb_ref_market *m = tb_law_market(k->market);
    const char *lang = tb_arena_strdup(&law->mem, k->lang), *text = tb_arena_strdup(&law->mem, k->text),
               *key = phrase_key(k->key);
    int fibre = tb_fibre_by_key(k->key);

    if (m && fibre >= 0)
        law->kept.name[law->kept.names++] = (struct tb_name){ .word = text,
                                                              .lang = lang,
                                                              .kind = TB_WORD_LEGAL,
                                                              .fibre = fibre,
                                                              .means = "",
                                                              .market = m->names,
                                                              .status = "seen",
                                                              .source = source };
    else if (m && key)
        law->kept.phrase[law->kept.phrases++] = (struct tb_ref_label_phrase){ .market = m->names,
                                                                              .key = key,
                                                                              .lang = lang,
                                                                              .text = text,
                                                                              .use_for = "print",
                                                                              .source = source,
                                                                              .status = "seen" };
}

struct tb_law *tb_law_new(void)
{
    return tb_law_new_with(NULL, 0);
}

struct tb_law *tb_law_new_with(const struct tb_law_kept *kept, size_t n)
{
    struct tb_law *law = tb_new(struct tb_law);

    law->kept.name = tb_array(struct tb_name, n + 1);
    law->kept.phrase = tb_array(struct tb_ref_label_phrase, n + 1);
    for (size_t i = 0; i < n; i++)
        keep(law, &kept[i]);
    add_own(law);
    law->name = tb_array(struct lex, tb_name_count());
    for (size_t i = 0; i < tb_name_count(); i++)
        law->name[i] = lex_of_name(tb_name_at(i), tb_name_marks(i));
    tb_law_names_build(&law->names);
    law->kind = tb_array(int, tb_ref_law_rule_n);
    for (size_t i = 0; i < tb_ref_law_rule_n; i++)
        law->kind[i] = tb_law_kind_of(tb_ref_law_rule[i].kind);
    law->market = tb_array(struct rule_list, tb_ref_market_n);
    for (size_t i = 0; i < tb_ref_market_n; i++)
        tb_law_choose_rules(&law->market[i], &tb_ref_market[i], NULL);
    return law;
}

void tb_law_free(struct tb_law *law)
{
    if (!law)
        return;
    tb_phrases_free(&law->phrases);
    free(law->own);
    free(law->name);
    tb_law_names_free(&law->names);
    free(law->kind);
    for (size_t i = 0; i < tb_ref_market_n; i++)
        free(law->market[i].rule);
    free(law->market);
    free(law->kept.name);
    free(law->kept.phrase);
    tb_arena_free(&law->mem);
    free(law);
}
