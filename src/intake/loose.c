/* loose.c - compositions outside the columns and headings: of which goods they are true, and what they contradict. */
#include "intake/rows.h"

#include "tenterbook/fibre.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const enum tb_field tells_apart[] = { TB_FIELD_ARTICLE, TB_FIELD_DESIGN, TB_FIELD_COLOUR,
                                             TB_FIELD_LOT };

void tb_learn_goods(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < TB_COUNT(tells_apart); i++) {
        const struct tb_cell *cell = tb_cell_at(row, r->now->of[tells_apart[i]]);
        bool again = !cell || !cell->type || tb_is_ditto(cell->text) || strlen(cell->text) < 2;

        for (size_t k = r->goods_names; k > 0 && !again; k--)
            again = r->goods[k - 1].field == tells_apart[i] && strcmp(r->goods[k - 1].text, cell->text) == 0;
        if (!again && r->goods_names < TB_GOODS_NAMES_MOST && !tb_row_says_total(r, row))
            r->goods[r->goods_names++] =
                (struct tb_goods_name){ tells_apart[i], tb_store_text(r->list->store, cell->text) };
    }
}

static bool letter(char c)
{
    return (unsigned char)c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

/* As a word of its own, both folded; Chinese, Japanese and Korean have no spaces between words. */
static bool has_word(const char *text, const char *word)
{
    size_t n = strlen(word);
    bool anywhere = (unsigned char)word[0] >= 0xE3;

    for (const char *at = strstr(text, word); n && at; at = strstr(at + 1, word))
        if (anywhere || ((at == text || !letter(at[-1])) && !letter(at[n])))
            return true;
    return false;
}

bool tb_loose_of_some(const struct tb_list_reader *r, const struct tb_loose *loose)
{
    char *before = loose->before ? tb_fold(loose->before, strlen(loose->before)) : NULL;
    bool found = false;

    for (size_t i = 0; before && i < r->goods_names && !found; i++) {
        const struct tb_goods_name *g = &r->goods[i];
        char *name = tb_fold(g->text, strlen(g->text));

        for (size_t k = 0; k < r->goods_names && !found; k++)
            found = k != i && r->goods[k].field == g->field && has_word(before, name);
        free(name);
    }
    free(before);
    return found;
}

/* Two readings of one composition: the same fibres with the same shares, in whatever words and order. */
static bool same(const struct tb_declaration *a, const struct tb_declaration *b)
{
    if (a->comp.n != b->comp.n)
        return false;
    for (size_t p = 0; p < a->comp.n; p++) {
        const struct tb_part *x = &a->comp.part[p], *y = &b->comp.part[p];

        for (size_t k = 0; k < x->n; k++)
            if (!(fabs(tb_part_percent(x, x->share[k].fibre) - tb_part_percent(y, x->share[k].fibre)) < 0.05))
                return false;
        if (x->n != y->n)
            return false;
    }
    return true;
}

static bool is_declared(const struct tb_packing_list *l, const struct tb_declaration *d)
{
    for (size_t i = 0; i < l->lots; i++) {
        struct tb_declaration lot;
        bool found;

        tb_declaration_read(&lot, l->lot[i].declared, strlen(l->lot[i].declared));
        found = same(d, &lot);
        tb_declaration_free(&lot);
        if (found)
            return true;
    }
    return false;
}

/* Where an option says what is declared, a person has looked at it. */
void tb_say_loose(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->looses && !r->opts->declared; i++) {
        const struct tb_loose *s = &r->loose[i];
        struct tb_declaration d;

        if (!s->below && !s->before && !tb_somewhere(r, TB_FIELD_COMPOSITION))
            continue;
        tb_declaration_read(&d, s->said, strlen(s->said));
        if (tb_declaration_clear(&d) && !is_declared(r->list, &d))
            tb_list_say(r->list,
                        "line %zu says '%s', and no bolt declares that: ask the supplier which is true",
                        s->line,
                        s->below ? tb_store_brief(r->list->store, s->said)
                                 : tb_store_internf(r->list->store, "%s%s", s->before ? s->before : "",
                                                    tb_store_brief(r->list->store, s->said)));
        tb_declaration_free(&d);
    }
    for (size_t i = 0; i < r->looses; i++)
        if (r->loose[i].behind)
            tb_list_say(r->list, "line %zu: of '%s' only the composition is read", r->loose[i].line,
                        tb_store_brief(r->list->store, r->loose[i].behind));
}
