/*
 * A declaration: the words as received, what was read from them, and the doubts. Read in four steps: the text into
 * tokens (scan.c), the tokens into parts (cut.c), each part into statements (atoms.c, pair.c), and those into shares
 * (arrange.c).
 */
#include "fibre/reader.h"

#include <stdlib.h>
#include <string.h>

static bool has_fibres(const struct tb_composition *c)
{
    for (size_t i = 0; i < c->n; i++)
        if (c->part[i].n)
            return true;
    return false;
}

/* What is in no part says nothing here: neighbours are neighbours over a bracket. But no figure is lost unsaid. */
static void drop_asides(struct tb_declaration *d, struct tb_tokens *t, struct tb_cut *cut)
{
    size_t kept = 0;

    for (size_t i = 0; i < t->n; i++) {
        const struct tb_token *x = &t->item[i];

        if (cut->of[i] != TB_CUT_ASIDE) {
            cut->of[kept] = cut->of[i];
            t->item[kept++] = *x;
        } else if (x->kind == TB_TOKEN_NUMBER) {
            tb_doubt_add(d, TB_DOUBT_NUMBER, x->at, x->len, NULL,
                         "'%.*s' is said of a part of the cloth, not of a fibre", (int)x->len,
                         d->text + x->at);
        }
    }
    t->n = kept;
}

/*
 * The row that decides is not always the first with the word: a row may count only as it is written. The law asks for
 * all of them, so the word is noted with the first.
 */
static struct tb_word word_of(const struct tb_token *t)
{
    const struct tb_name *name = t->row < 0 ? NULL : &tb_name_table[t->row];
    int first = t->row;

    while (first > 0 && tb_name_more[first].rows == 0)
        first--;
    return (struct tb_word){ .at = t->at,
                             .len = t->len,
                             .kind = t->what,
                             .fibre = !name                             ? -1
                                      : t->what == TB_WORD_OTHER        ? TB_FIBRE_OTHER
                                      : t->what == TB_WORD_UNDETERMINED ? TB_FIBRE_UNKNOWN
                                                                        : name->fibre,
                             .part = TB_NOWHERE,
                             .share = TB_NOWHERE,
                             .name = name ? &tb_name_table[first] : NULL,
                             .names = name ? tb_name_more[first].rows : 0 };
}

static void note_words(struct tb_declaration *d, const struct tb_tokens *tokens)
{
    for (size_t i = 0; i < tokens->n; i++) {
        struct tb_token *t = &tokens->item[i];

        if (t->kind != TB_TOKEN_WORD)
            continue;
        t->word = d->words;
        TB_PUSH_ROOM(d->word, d->words, d->words_cap);
        d->word[d->words++] = word_of(t);
    }
}

void tb_declaration_read(struct tb_declaration *out, const char *text, size_t n)
{
    struct tb_tokens tokens;
    struct tb_cut cut;
    size_t most = n > TB_DECLARATION_MOST ? TB_DECLARATION_MOST : n;
    size_t len;

    *out = (struct tb_declaration){ .text = tb_strndup(text ? text : "", text ? most : 0), .also = -1 };
    len = strlen(out->text);
    tb_tokens_read(&tokens, out->text, len, NULL);
    tb_take_beside(&tokens, out->text);
    tb_take_yarn(&tokens);
    note_words(out, &tokens);
    tb_tokens_cut(&cut, &tokens);
    drop_asides(out, &tokens, &cut);
    tb_arrange(out, &tokens, &cut);
    tb_cut_free(&cut);
    tb_tokens_free(&tokens);
    if (!has_fibres(&out->comp)) { /* parts without a single fibre are no composition: "lining:" */
        tb_composition_free(&out->comp);
        for (size_t i = 0; i < out->words; i++)
            out->word[i].part = out->word[i].share = TB_NOWHERE;
        tb_doubt_add(out, TB_DOUBT_EMPTY, 0, len, NULL, "no composition can be read in this text");
    }
    if (n > TB_DECLARATION_MOST)
        tb_doubt_add(out, TB_DOUBT_UNKNOWN_WORD, len, 0, NULL,
                     "the text is longer than %d bytes, and the rest was not read", TB_DECLARATION_MOST);
    else if (text && len < n)
        tb_doubt_add(out, TB_DOUBT_UNKNOWN_WORD, len, 0, NULL,
                     "a zero byte ends the text here, and the rest was not read");
}

void tb_declaration_free(struct tb_declaration *d)
{
    if (!d)
        return;
    for (size_t i = 0; i < d->n; i++) {
        free(d->doubt[i].say);
        free(d->doubt[i].choices);
    }
    free(d->doubt);
    free(d->word);
    free(d->text);
    tb_composition_free(&d->comp);
    *d = (struct tb_declaration){ 0 };
}

bool tb_declaration_clear(const struct tb_declaration *d)
{
    if (d->comp.n == 0)
        return false;
    for (size_t i = 0; i < d->n; i++)
        if (tb_doubt_blocks(d->doubt[i].kind))
            return false;
    for (size_t i = 0; i < d->comp.n; i++) {
        if (d->comp.part[i].n == 0)
            return false;
        for (size_t k = 0; k < d->comp.part[i].n; k++)
            if (d->comp.part[i].share[k].fibre == TB_FIBRE_UNKNOWN)
                return false;
    }
    return true;
}
