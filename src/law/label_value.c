/* A label as a value: counted, turned into a composition, read as a supplier's words, freed. */
#include "law/inside.h"

#include <math.h>
#include <stdlib.h>

static void free_parts(struct label *l)
{
    for (size_t i = 0; i < l->n; i++)
        free(l->part[i].share);
    free(l->part);
    l->part = NULL;
    l->n = l->cap = 0;
}

void tb_law_label_free(struct label *l)
{
    free_parts(l);
    for (size_t i = 0; i < l->tokens; i++)
        free(l->token[i].lex);
    free(l->token);
    tb_cut_free(&l->cut);
    free(l->inner.share);
    free(l->stray);
    free(l->origin);
    *l = (struct label){ 0 };
}

size_t tb_label_shares(const struct label *l)
{
    size_t n = 0;

    for (size_t i = 0; i < l->n; i++)
        n += l->part[i].n;
    return n;
}

bool tb_label_composition(struct tb_composition *out, const struct label *l)
{
    *out = (struct tb_composition){ 0 };
    for (size_t i = 0; i < l->n; i++) {
        struct tb_part *part = tb_composition_add_part(out, l->part[i].kind);

        for (size_t k = 0; k < l->part[i].n; k++) {
            const struct share *s = &l->part[i].share[k];
            double percent =
                isnan(s->percent) && l->part[i].n == 1 ? 100 : s->percent; /* "wool": all of it */

            if (s->fibre < TB_FIBRE_UNKNOWN || !(percent > 0 && percent <= 100)) {
                tb_composition_free(out);
                return false;
            }
            tb_part_add_share(part, s->fibre, percent)->marks = s->marks;
        }
    }
    return out->n > 0;
}

/* Figures that were read and belong to nothing count too: they are the fault to be told. */
static bool has_figures(const struct label *l)
{
    for (size_t i = 0; i < l->n; i++)
        for (size_t k = 0; k < l->part[i].n; k++)
            if (!isnan(l->part[i].share[k].percent))
                return true;
    return l->united || l->inner.n || l->orphans;
}

static void take_part(struct label *l, const struct tb_part *from)
{
    struct part *to;

    TB_PUSH_ROOM(l->part, l->n, l->cap);
    to = &l->part[l->n++];
    *to = (struct part){ .kind = from->kind };
    for (size_t k = 0; k < from->n; k++) {
        const struct tb_share *s = &from->share[k];

        TB_PUSH_ROOM(to->share, to->n, to->cap);
        to->share[to->n++] = (struct share){
            .fibre = s->fibre, .percent = s->percent, .marks = s->marks, .plural = true, .id = ++l->ids
        };
    }
}

/* The two cut words differently, so a word of the declaration may be several tokens of the label, or half of one. */
static void name_by(struct label *l, const struct tb_word *w)
{
    for (size_t i = 0; i < l->tokens; i++) {
        struct token *t = &l->token[i];

        if (t->at < w->at + w->len && w->at < t->at + t->len)
            t->share = l->part[w->part].share[w->share].id;
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
        free_parts(l);
        l->strays = 0;
        for (size_t i = 0; i < d.comp.n; i++)
            take_part(l, &d.comp.part[i]);
        for (size_t i = 0; i < d.words; i++)
            if (d.word[i].share != TB_NOWHERE)
                name_by(l, &d.word[i]);
    }
    tb_declaration_free(&d);
}
