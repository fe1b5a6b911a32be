/*
 * The tokens of a text as a label has them: each word with everything that the tables say of it. The text is cut by
 * src/fibre, as a declaration is; only what the words mean is different, since the law asks which word was used.
 */
#include "law/inside.h"

#include "tenterbook/token.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unictype.h>

#define SHORT_MOST 3   /* bytes of a word so short that it may mean something else in another language */
#define QUOTED_FROM 60 /* bytes from which a message quotes no more of a word */

/* Characters that nobody sees: controls, marks of direction and other signs of format, broken bytes. */
static bool is_unseen(unsigned cp)
{
    return tb_utf8_control(cp) || cp == 0xFFFD || uc_is_general_category(cp, UC_FORMAT);
}

/* Who reads: the tables of the law, and the languages of the market. */
struct reader {
    const struct tb_law *law;
    const char *langs;
};

/* Three letters without an accent: they may be a word of another language, as "la" and "in" are. */
static bool is_short(const char *written, size_t len)
{
    for (size_t i = 0; i < len; i++)
        if ((unsigned char)written[i] >= 0x80)
            return false;
    return len <= SHORT_MOST;
}

static bool in_capitals(const char *written, size_t len)
{
    for (size_t i = 0; i < len; i++)
        if (written[i] >= 'a' && written[i] <= 'z')
            return false;
    return true;
}

/* A code counts in capitals only, and a short foreign name only where its language may be on the label. */
static bool knows(const void *who, size_t row, const char *written, size_t len)
{
    const struct reader *r = who;
    const struct lex *l = &r->law->name[row];

    if (l->kind == LEX_NONE || (l->code && (len < 2 || !in_capitals(written, len))))
        return false;
    return strcmp(l->what, "filler") == 0 || !l->lang[0] || strcmp(l->lang, "en") == 0 ||
           !is_short(written, len) || strcmp(r->langs, ANY_LANGUAGE) == 0 ||
           tb_law_list_has(r->langs, l->lang);
}

static void add_entry(struct token *t, const struct lex *l)
{
    TB_PUSH_ROOM(t->lex, t->lexes, t->lex_cap);
    t->lex[t->lexes++] = l;
}

/* The law's own entries for a word come before those of the table of names. */
static void add_entries(struct token *out, const struct tb_token *t, const char *text,
                        const struct tb_vocabulary *v)
{
    const struct reader *r = v->who;

    for (size_t i = 0; i < t->phrases; i++)
        add_entry(out, &r->law->own[v->phrases->item[t->phrase + i].row]);
    for (int row = t->row; row >= 0; row = tb_token_next_row(t, row, text, v))
        add_entry(out, &r->law->name[row]);
}

/* "-5 %" at the beginning or after a space is a figure below zero; in "cotton-5 %" the dash only joins. */
static bool is_negative(const struct tb_token *dash, const struct tb_token *t, const char *text)
{
    return t->kind == TB_TOKEN_NUMBER && dash->sign == '-' && dash->at + dash->len == t->at &&
           (dash->at == 0 || strchr(" \t\n(", text[dash->at - 1]));
}

/* Every sign is a mark to a label, the quiet ones too: a star, brackets, a line to fill in. */
static struct token token_of(const struct tb_token *t)
{
    bool number = t->kind == TB_TOKEN_NUMBER || t->kind == TB_TOKEN_MEASURE;

    return (struct token){ .kind = t->kind == TB_TOKEN_WORD ? TOKEN_WORD
                                   : !number                ? TOKEN_MARK
                                   : t->percent             ? TOKEN_PERCENT
                                                            : TOKEN_NUMBER,
                           .at = t->at,
                           .len = t->len,
                           .value = isnan(t->to) ? t->value : NAN, /* a range is no figure */
                           .mark = t->sign,
                           .part = t->part };
}

void tb_label_cut(struct label *out, const struct tb_law *law, const char *langs, const char *text, size_t n)
{
    struct reader r = { law, langs };
    struct tb_vocabulary v = { &law->phrases, knows, &r };
    struct tb_tokens all;

    out->text = text;
    for (size_t at = 0; at < n;) {
        unsigned cp;

        at += tb_utf8_next(text + at, n - at, &cp);
        out->hidden += is_unseen(cp);
    }
    tb_tokens_read(&all, text, n, &v);
    tb_tokens_cut(&out->cut, &all);
    for (size_t i = 0; i < all.n; i++) {
        const struct tb_token *t = &all.item[i];
        struct token token = token_of(t);

        token.in = out->cut.of[i];
        if (i && is_negative(t - 1, t, text)) { /* the dash is part of the figure */
            out->tokens--;
            token.value = -token.value;
            token.at--;
            token.len++;
        }
        if (t->kind == TB_TOKEN_WORD)
            add_entries(&token, t, text, &v);
        TB_PUSH_ROOM(out->token, out->tokens, out->token_cap);
        out->token[out->tokens++] = token;
    }
    tb_tokens_free(&all);
}

bool tb_label_is(const struct token *t, const char *phrase_key)
{
    for (size_t i = 0; i < t->lexes; i++)
        if (t->lex[i]->kind == LEX_PHRASE && strcmp(t->lex[i]->what, phrase_key) == 0)
            return true;
    return false;
}

bool tb_label_is_class(const struct token *t, const char *word_class)
{
    const struct lex *l = tb_label_entry(t, LEX_CLASS);

    /* a word that is a name as well is taken for the name, and a phrase is taken for what the phrase says */
    if (!l || tb_label_entry(t, LEX_NAME) || strcmp(l->what, word_class) != 0)
        return false;
    return !tb_label_entry(t, LEX_PHRASE) || tb_label_is(t, "filler");
}

const struct lex *tb_label_entry(const struct token *t, enum lex_kind kind)
{
    for (size_t i = 0; i < t->lexes; i++)
        if (t->lex[i]->kind == kind)
            return t->lex[i];
    return NULL;
}

void tb_label_quote(char out[QUOTED_MOST], const struct label *l, const struct token *t)
{
    size_t used = 0;

    for (size_t i = 0; i < t->len && used < QUOTED_FROM;) {
        unsigned cp;
        size_t len = tb_utf8_next(l->text + t->at + i, t->len - i, &cp);

        if (!is_unseen(cp))
            used += (size_t)snprintf(out + used, QUOTED_MOST - used, "%.*s", (int)len, l->text + t->at + i);
        i += len;
    }
    (void)snprintf(out + used, QUOTED_MOST - used, "%s", used < QUOTED_FROM ? "" : "...");
}
