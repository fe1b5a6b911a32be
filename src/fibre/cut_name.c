/* The names of parts in a text, and on which side of a name stands what the part is made of. */
#include "fibre/cut.h"
#include "fibre/reader.h"

#include <string.h>

const struct tb_token *tb_cut_at(const struct cutter *k, size_t i)
{
    static const struct tb_token beyond = { .kind = TB_TOKEN_COMMA };

    return i < k->n ? &k->t->item[k->loud[i]] : &beyond;
}

bool tb_cut_is_filler(const struct tb_token *t, const char *means)
{
    const struct tb_name *row = tb_row_of(t);

    return t->kind == TB_TOKEN_WORD && row && row->kind == TB_WORD_FILLER && strcmp(row->means, means) == 0;
}

bool tb_cut_is_part(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_WORD && t->what == TB_WORD_PART;
}

bool tb_cut_is_both(const struct tb_token *t)
{
    return tb_cut_is_part(t) && tb_row_of(t) && tb_row_of(t)->fibre >= 0;
}

/* "core yarn:" and "FR:", which may be French, say nothing of a cloth when a colon stands behind. */
static bool may_name_part(const struct tb_token *t)
{
    return t->what == TB_WORD_UNKNOWN || tb_cut_is_filler(t, "core") || tb_is_short(t);
}

/*
 * Words with a colon behind, an unknown one among them and no fibre, name a part of their own: "upper collar
 * facing:". Answers where the colon is, or i when the words from here are no such name. Without an unknown word they
 * are a heading, as in "fabric composition:".
 */
static size_t colon_behind(const struct cutter *k, size_t i)
{
    bool unknown = false;
    size_t end = i;

    for (; tb_cut_at(k, end)->kind == TB_TOKEN_WORD && !tb_names_fibre(tb_cut_at(k, end)); end++)
        unknown |= may_name_part(tb_cut_at(k, end));
    return unknown && tb_cut_at(k, end)->kind == TB_TOKEN_COLON ? end : i;
}

/* After "excluding", a part is named only to be left out. */
static bool is_left_out(const struct cutter *k, size_t i)
{
    while (i-- > 0 && tb_cut_at(k, i)->kind != TB_TOKEN_COMMA) {
        if (tb_cut_is_filler(tb_cut_at(k, i), "except"))
            return true;
        if (tb_is_atom(tb_cut_at(k, i)))
            return false;
    }
    return false;
}

bool tb_cut_names(const struct cutter *k, size_t i, size_t *end)
{
    size_t colon = colon_behind(k, i);

    *end = colon == i ? i : colon - 1;
    return (colon != i || tb_cut_is_part(tb_cut_at(k, i))) && !is_left_out(k, i);
}

static bool has_colon(const struct cutter *k, size_t end)
{
    return tb_cut_at(k, end + 1)->kind == TB_TOKEN_COLON;
}

static bool is_same_fibre(const struct tb_token *a, const struct tb_token *b)
{
    return tb_names_fibre(a) && tb_names_fibre(b) && tb_row_of(a) && tb_row_of(b) &&
           tb_row_of(a)->fibre == tb_row_of(b)->fibre;
}

bool tb_cut_has_kind(const struct cutter *k, size_t i)
{
    return i && !tb_is_atom(tb_cut_at(k, i - 2)) && tb_cut_at(k, i + 1)->kind == TB_TOKEN_NUMBER &&
           is_same_fibre(tb_cut_at(k, i - 1), tb_cut_at(k, i + 2));
}

/* They do when the text begins with one, when one has a colon, or when fibres follow the last one. */
bool tb_cut_parts_first(const struct cutter *k)
{
    bool seen = false, last_is_part = false;

    for (size_t i = 0, end; i < k->n; i++) {
        if (tb_cut_is_both(tb_cut_at(k, i)))
            continue;
        if (tb_cut_names(k, i, &end)) {
            if (!seen || has_colon(k, end))
                return true;
            last_is_part = true;
        } else if (tb_is_atom(tb_cut_at(k, i))) {
            seen = true;
            last_is_part = false;
        }
    }
    return !last_is_part;
}

/* Is there nothing of this statement beyond the token? A stroke right behind a part ends it: "warp/100% silk". */
static bool ends_statement(const struct tb_token *t, bool touches)
{
    return t->kind == TB_TOKEN_COMMA || tb_cut_is_part(t) || (touches && t->kind == TB_TOKEN_SLASH);
}

bool tb_cut_opens(struct cutter *k, size_t i, size_t end)
{
    bool before = false, after = false;

    for (size_t j = i; j-- > 0 && !before && !ends_statement(tb_cut_at(k, j), false);)
        before = tb_is_atom(tb_cut_at(k, j));
    for (size_t j = end + 1; !after && !ends_statement(tb_cut_at(k, j), j == end + 1); j++)
        after = tb_is_atom(tb_cut_at(k, j));
    if (before != after) /* where both or neither could be, it does as the name before it did */
        k->first = after;
    return k->first || has_colon(k, end) || tb_cut_has_kind(k, i);
}
