/* legend_show.c - after the first pass: which small tables tell something of the bolts that no column of theirs does. */
#include "intake/legend.h"

#include "intake/rows.h"
#include "tenterbook/utf8.h"

#include <string.h>

bool tb_legend_has(const struct tb_table_layout *l, enum tb_field f)
{
    if (f == TB_FIELD_WIDTH || f == TB_FIELD_WIDTH_USABLE)
        return l->of[TB_FIELD_WIDTH] || l->of[TB_FIELD_WIDTH_USABLE];
    if (f == TB_FIELD_MASS || f == TB_FIELD_MASS_LINEAR)
        return l->of[TB_FIELD_MASS] || l->of[TB_FIELD_MASS_LINEAR];
    return l->of[f];
}

static bool on_paper(const struct tb_table_layout *l, enum tb_field f)
{
    return l->of[f] && !l->of[f]->below;
}

enum tb_field tb_legend_key(const struct tb_legend *g, size_t k, const struct tb_table_layout *l)
{
    static const enum tb_field pair[][2] = { { TB_FIELD_COLOUR, TB_FIELD_SHADE_GROUP },
                                             { TB_FIELD_SHADE_GROUP, TB_FIELD_COLOUR },
                                             { TB_FIELD_ARTICLE, TB_FIELD_DESIGN },
                                             { TB_FIELD_DESIGN, TB_FIELD_ARTICLE } };
    enum tb_field f = g->column[k].field;
    bool both = false;

    if (!tb_legend_names(f) || on_paper(l, f))
        return tb_legend_names(f) ? f : TB_FIELD_NONE;
    for (size_t i = 0; i < TB_COUNT(pair); i++) {
        if (pair[i][0] != f || !on_paper(l, pair[i][1]))
            continue;
        for (size_t c = 0; c < g->columns; c++)
            both = both || g->column[c].field == pair[i][1];
        return both ? TB_FIELD_NONE : pair[i][1];
    }
    return TB_FIELD_NONE;
}

/* Is it in a sheet without bolts? Then it is of all sheets. */
static bool of_all(const struct tb_list_reader *r, const struct tb_legend *g)
{
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->sheet == g->sheet)
            return false;
    return true;
}

/* Is it a table of bolts itself, or does it stand between the bolts of one? */
static bool is_within(const struct tb_list_reader *r, const struct tb_legend *g)
{
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_table_layout *l = r->layout[i];

        if (l->sheet == g->sheet && g->last >= l->line && g->line <= l->last_length)
            return true;
    }
    return false;
}

/* Below the bolts of table l, does it head another table of the sheet? */
static bool heads_another(const struct tb_list_reader *r, const struct tb_legend *g,
                          const struct tb_table_layout *l)
{
    for (size_t i = 0; g->line > l->line && i < r->layouts; i++)
        if (r->layout[i]->sheet == g->sheet && r->layout[i]->line > g->last)
            return true;
    return false;
}

static bool is_of(const struct tb_list_reader *r, const struct tb_legend *g, const struct tb_table_layout *l)
{
    if (l->given || !l->of[TB_FIELD_LENGTH] || (g->measured && !l->of[TB_FIELD_BOLT]))
        return false;
    return of_all(r, g) || (l->sheet == g->sheet && !heads_another(r, g, l));
}

/* One row says what holds for all bolts where these have no other name. */
static bool is_title(const struct tb_list_reader *r, const struct tb_legend *g)
{
    if (g->rows > 1)
        return false;
    for (size_t k = 0; k < g->columns; k++)
        for (size_t i = 0; tb_legend_names(g->column[k].field) && i < r->goods_names; i++)
            if (r->goods[i].field == g->column[k].field && tb_legend_text(g, 0, k) &&
                !tb_fold_same(r->goods[i].text, tb_legend_text(g, 0, k)))
                return false;
    return true;
}

/* Has table l that field, or another legend that tells it, or is it left out? */
static bool is_there(const struct tb_list_reader *r, const struct tb_table_layout *l, enum tb_field f)
{
    for (size_t i = 0; i < r->shown.n; i++) {
        const struct tb_shown *s = &r->shown.at[i];

        if (s->legend && s->sheet == l->sheet && s->line == l->line && s->field == f)
            return true;
    }
    return tb_legend_has(l, f) || (r->opts->without & (uint64_t)1 << f);
}

/* What of the legend table l lacks gets columns behind its own. False: there is no room. */
static bool add_columns(struct tb_list_reader *r, size_t which, const struct tb_table_layout *l)
{
    const struct tb_legend *g = &r->legends->legend[which];
    struct tb_shown_all *all = &r->shown;
    size_t index = l->cells + 1; /* a cell too many shows */
    unsigned lacks = 0;

    for (size_t k = 0; k < g->columns; k++)
        lacks |= tb_legend_key(g, k, l) || is_there(r, l, g->column[k].field) ? 0 : 1u << k;
    for (size_t i = 0; i < all->n; i++)
        if (all->at[i].sheet == l->sheet && all->at[i].line == l->line && all->at[i].index >= index)
            index = all->at[i].index + 1;
    for (size_t k = 0; k < g->columns; k++) {
        if (!(lacks >> k & 1))
            continue;
        if (index >= TB_COLUMNS_MOST || all->n == TB_SHOWN_MOST)
            return false;
        all->at[all->n++] = (struct tb_shown){ .sheet = l->sheet,
                                               .line = l->line,
                                               .index = index,
                                               .field = g->column[k].field,
                                               .legend = which + 1,
                                               .told = k,
                                               .unit = g->column[k].unit,
                                               .header = g->column[k].header };
        index++;
    }
    return true;
}

/* What the legend is to table l. */
static enum tb_legend_state state_for(const struct tb_list_reader *r, const struct tb_legend *g,
                                      const struct tb_table_layout *l)
{
    bool key = false, more = false;

    for (size_t k = 0; k < g->columns; k++) {
        bool is = tb_legend_key(g, k, l) != TB_FIELD_NONE;

        key = key || is;
        more = more || (!is && !is_there(r, l, g->column[k].field));
    }
    if (!more)
        return (g->measured && !(g->counted && g->last < l->line)) || g->aside ? TB_LEGEND_SEEN
                                                                               : TB_LEGEND_SAME;
    if (key && !l->sides && !(g->measured && !g->counted))
        return TB_LEGEND_JOINED;
    return g->aside && !key ? TB_LEGEND_SEEN : TB_LEGEND_LOOSE;
}

static bool show(struct tb_list_reader *r, size_t which)
{
    struct tb_legend *g = &r->legends->legend[which];

    if (g->state != TB_LEGEND_SEEN || is_within(r, g))
        return false;
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_table_layout *l = r->layout[i];
        enum tb_legend_state state = is_of(r, g, l) ? state_for(r, g, l) : TB_LEGEND_SEEN;

        if (g->rows == 1 && (state != TB_LEGEND_JOINED || (g->last < l->line && is_title(r, g))))
            continue;
        if (state == TB_LEGEND_JOINED && !g->left && !add_columns(r, which, l))
            state = TB_LEGEND_LOOSE;
        g->state = state == TB_LEGEND_JOINED || (state && g->state != TB_LEGEND_JOINED) ? state : g->state;
    }
    return g->state != TB_LEGEND_SEEN;
}

bool tb_legend_show(struct tb_list_reader *r)
{
    bool any = false;

    if (!r->legends)
        return false;
    tb_legend_learn_end(r->legends);
    for (size_t i = r->legends->n; i > 0; i--) /* the nearest to the bolts first */
        any = show(r, i - 1) || any;
    return any;
}
