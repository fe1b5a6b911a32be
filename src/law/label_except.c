/*
 * What a label leaves out of the composition: "exclusive of ornamentation", "except elastic", "without decoration and
 * elastic". Which words begin it, and which name a thing that the law lets go, are rows of label_phrase.csv.
 */
#include "law/label.h"

#include <math.h>
#include <string.h>

#define FAR_MOST 6 /* words between "exclusive of" and what is left out */

/* What a phrase leaves out (how: "without:") or is a word for ("what:"): bits of tb_law_exclusion(); 0: nothing. */
static unsigned leaves_out(const struct token *t, const char *how)
{
    size_t n = strlen(how);

    for (size_t i = 0; i < t->lexes; i++)
        if (t->lex[i]->kind == LEX_PHRASE && strncmp(t->lex[i]->what, how, n) == 0 &&
            tb_law_exclusion(t->lex[i]->what + n))
            return tb_law_exclusion(t->lex[i]->what + n);
    return 0;
}

static bool ends_a_clause(const struct token *t)
{
    return t->kind == TOKEN_MARK && memchr(";.\n)]", t->mark, 6); /* the end of the text is a zero */
}

/* A sign or a word between two things that are left out: "decoration, elastic", "decoration and elastic". */
static bool joins(const struct token *t)
{
    return (t->kind == TOKEN_MARK && t->mark && strchr(",/&+", t->mark)) ||
           (t->kind == TOKEN_WORD && (tb_label_is(t, "filler") || tb_label_is(t, "from")));
}

/* Further things behind the one at hand are left out as well. */
static void take_further(struct parser *p)
{
    for (size_t i = p->i + 1; i <= p->i + FAR_MOST; i++) {
        const struct token *t = tb_label_at(p, i);

        if (leaves_out(t, "what:")) {
            p->l->excludes |= leaves_out(t, "what:");
            p->i = i;
        } else if (!joins(t)) {
            return;
        }
    }
}

bool tb_label_leaves_out(struct parser *p, const struct token *t)
{
    unsigned without = leaves_out(t, "without:");

    if (!without)
        return false;
    tb_label_end_share(p);
    p->l->excludes |= without;
    take_further(p);
    return true;
}

/* "exclusive of [4 % metallic] ornamentation": a figure before the word is no share of the composition. */
static void take_what(struct parser *p, size_t what)
{
    for (size_t i = p->i + 1; i < what; i++)
        if (tb_label_at(p, i)->kind == TOKEN_PERCENT)
            p->l->left_out = tb_label_at(p, i)->value;
    p->l->excludes |= leaves_out(tb_label_at(p, what), "what:");
    p->i = what;
    take_further(p);
}

/* The place of the word that says what is left out; TB_NOWHERE: the clause ends before it. */
static size_t find_what(const struct parser *p)
{
    for (size_t i = p->i + 1; i <= p->i + FAR_MOST && !ends_a_clause(tb_label_at(p, i)); i++)
        if (leaves_out(tb_label_at(p, i), "what:"))
            return i;
    return TB_NOWHERE;
}

/* "except 5 % nylon added to toe and heel": of the mass of the part it is added to, so no share of the cloth. */
static void take_exception(struct parser *p)
{
    size_t end = p->i + 1;
    bool figure = false;

    for (; !ends_a_clause(tb_label_at(p, end)); end++)
        if (tb_label_at(p, end)->kind == TOKEN_PERCENT) {
            p->l->except = tb_label_at(p, end)->value;
            figure = true;
        }
    p->l->excepted = true;
    if (figure)
        p->i = end - 1; /* without a figure what stands there is read on, so that nothing is dropped */
}

/* "decoration and elastic excluded": what stands before the word is left out. */
static bool take_before(struct parser *p)
{
    unsigned what = 0;

    for (size_t i = p->i;
         i && (leaves_out(tb_label_at(p, i - 1), "what:") || (what && joins(tb_label_at(p, i - 1)))); i--)
        what |= leaves_out(tb_label_at(p, i - 1), "what:");
    p->l->excludes |= what;
    return what;
}

void tb_label_except(struct parser *p)
{
    size_t what = find_what(p);

    tb_label_end_share(p);
    if (what == TB_NOWHERE && take_before(p))
        return;
    if (what == TB_NOWHERE)
        take_exception(p);
    else
        take_what(p, what);
}

/* "without elastic" leaves it out; "without chlorine" says nothing of the fibres, and is a word nobody understood. */
void tb_label_without(struct parser *p)
{
    if (find_what(p) == TB_NOWHERE)
        tb_label_add_stray(p);
    else
        tb_label_except(p);
}
