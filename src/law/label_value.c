/* A label as a value: counted, turned into a composition, read as a supplier's words, freed. */
#include "law/inside.h"

#include <math.h>
#include <stdlib.h>

void tb_law_label_free(struct label *l)
{
    tb_composition_free(&l->comp);
    for (size_t i = 0; i < l->tokens; i++)
        free(l->token[i].lex);
    free(l->token);
    tb_cut_free(&l->cut);
    free(l->inner.share);
    free(l->stray);
    free(l->aside);
    free(l->origin);
    *l = (struct label){ 0 };
}

size_t tb_label_shares(const struct label *l)
{
    size_t n = 0;

    for (size_t i = 0; i < l->comp.n; i++)
        n += l->comp.part[i].n;
    return n;
}

bool tb_label_settle(struct label *l)
{
    for (size_t i = 0; i < l->comp.n; i++)
        for (size_t k = 0; k < l->comp.part[i].n; k++) {
            struct tb_share *s = &l->comp.part[i].share[k];

            if (isnan(s->percent) && l->comp.part[i].n == 1)
                s->percent = 100; /* "wool": all of it */
            if (s->fibre < TB_FIBRE_UNKNOWN || !(s->percent > 0 && s->percent <= 100))
                return false;
            s->marks &= ~(unsigned)SAID_ALL;
        }
    return l->comp.n > 0;
}

/* Figures that were read and belong to nothing count too: they are the fault to be told. */
static bool has_figures(const struct label *l)
{
    for (size_t i = 0; i < l->comp.n; i++)
        for (size_t k = 0; k < l->comp.part[i].n; k++)
            if (!isnan(l->comp.part[i].share[k].percent))
                return true;
    return l->united || l->inner.n || l->orphans;
}

/* The two cut words differently, so a word of the declaration may be several tokens of the label, or half of one. */
static void name_by(struct label *l, const struct tb_word *w)
{
    for (size_t i = 0; i < l->tokens; i++) {
        struct token *t = &l->token[i];

        if (t->at < w->at + w->len && w->at < t->at + t->len)
            t->share = l->comp.part[w->part].share[w->share].id;
    }
}

/*
 * "CO 60 PES 40", "65/35 poly/cotton": no label is written so, but people ask what a label should say instead. Only where
 * the label has no figure of its own and the declaration leaves nothing open.
 */
void tb_law_label_read_freely(struct label *l, const char *text, size_t n)
{
    struct tb_declaration d = { 0 };

    if (has_figures(l))
        return;
    tb_declaration_read(&d, text, n);
    if (tb_declaration_clear(&d)) {
        tb_composition_free(&l->comp);
        l->strays = 0;
        l->comp = d.comp;
        d.comp = (struct tb_composition){ 0 };
        for (size_t i = 0; i < l->comp.n; i++)
            for (size_t k = 0; k < l->comp.part[i].n; k++) {
                l->comp.part[i].share[k].marks |= SAID_PLURAL;
                l->comp.part[i].share[k].id = ++l->ids;
            }
        for (size_t i = 0; i < d.words; i++)
            if (d.word[i].share != TB_NOWHERE)
                name_by(l, &d.word[i]);
    }
    tb_declaration_free(&d);
}
