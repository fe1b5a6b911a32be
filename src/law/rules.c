/*
 * rules.c - the rows of the rules: which apply to a market on a day, and what their columns mean.
 *
 * A market that is based on another has the rows of both. A row of its own stands in place of one of the base that has
 * the same kind, arg and conditions, so that a single figure can be changed without copying the rest.
 */
#include "law/checks.h"

#include <math.h>
#include <string.h>

bool tb_law_list_has(const char *list, const char *word)
{
    return tb_word_listed(list, word, strlen(word), "|+ ");
}

bool tb_law_next_lang(const char *langs, size_t *at, char out[8])
{
    size_t n;

    *at += strspn(langs + *at, "|+");
    n = strcspn(langs + *at, "|+");
    if (n == 0 || n > 7)
        return false;
    memcpy(out, langs + *at, n);
    out[n] = '\0';
    *at += n;
    return true;
}

/*
 * Without a comparison, or with "=", the number is what shares add up to: printed to two places, they may be a
 * hundredth off. Everywhere else a figure at the number counts as the number, whatever arithmetic left over.
 */
bool tb_law_allows(const struct tb_ref_law_rule *r, double value)
{
    const char *c = r->comparison;

    if (isnan(r->number) || isnan(value))
        return true;
    if (strcmp(c, "<=") == 0)
        return value <= r->number + PERCENT_NEAR;
    if (strcmp(c, "<") == 0)
        return value < r->number - PERCENT_NEAR;
    if (strcmp(c, ">=") == 0)
        return value >= r->number - PERCENT_NEAR;
    if (strcmp(c, ">") == 0)
        return value > r->number + PERCENT_NEAR;
    return fabs(value - r->number) <= TB_LAW_SUM_NEAR + PERCENT_NEAR; /* "=": of a sum */
}

bool tb_law_includes(const struct tb_ref_law_rule *r)
{
    return r->comparison[0] && r->comparison[1] == '=';
}

/* Is the row of this group, and of the market or the one it is based on? */
static bool is_own(const struct tb_ref_law_group *g, const struct tb_ref_market *m, const char *group)
{
    return strcmp(g->group_key, group) == 0 &&
           (strcmp(g->market, m->key) == 0 || (m->based_on[0] && strcmp(g->market, m->based_on) == 0));
}

static bool is_of_all(const struct tb_ref_law_group *g, const char *group)
{
    return strcmp(g->group_key, group) == 0 && strcmp(g->market, "*") == 0;
}

/*
 * A group of the market's own, or of the market it is based on, stands in place of the one that serves all ("*"): a
 * market that lists its wools means those and no others.
 */
bool tb_law_group_has(const struct tb_ref_market *m, const char *group, int fibre)
{
    const char *key = fibre >= 0 ? tb_fibre_at(fibre)->key : NULL;
    bool own = false, of_all = false;

    for (size_t i = 0; key && i < tb_ref_law_group_n; i++) {
        const struct tb_ref_law_group *g = &tb_ref_law_group[i];

        if (is_own(g, m, group)) {
            if (strcmp(g->fibre, key) == 0)
                return true;
            own = true;
        } else if (is_of_all(g, group)) {
            of_all = of_all || strcmp(g->fibre, key) == 0;
        }
    }
    return of_all && !own;
}

bool tb_law_group_in(const struct tb_ref_market *m, const char *group, const struct tb_part *p)
{
    for (size_t i = 0; i < p->n; i++)
        if (tb_law_group_has(m, group, p->share[i].fibre))
            return true;
    return false;
}

/* --- which rules ------------------------------------------------------------------------------------------------- */

/* Without a day, rules without an end are in force, those to come as well: a label is printed for the days ahead. */
bool tb_law_in_force(const struct tb_ref_law_rule *r, const char *day)
{
    if (!day)
        return !r->until_day[0];
    return (!r->from_day[0] || strcmp(r->from_day, day) <= 0) &&
           (!r->until_day[0] || strcmp(day, r->until_day) < 0);
}

/* Has the market a row of its own that does what this row of its base does? Rows to read replace none. */
static bool replaced(const struct rule_list *list, const struct tb_ref_law_rule *base)
{
    for (size_t i = 0; i < list->n; i++)
        if (strcmp(list->rule[i]->kind, base->kind) == 0 && strcmp(base->kind, "inform") != 0 &&
            strcmp(list->rule[i]->arg, base->arg) == 0 && strcmp(list->rule[i]->market, base->market) != 0 &&
            strcmp(list->rule[i]->holds, base->holds) == 0)
            return true;
    return false;
}

static void add_rules(struct rule_list *list, const char *market, const char *day, bool base)
{
    for (size_t i = 0; i < tb_ref_law_rule_n; i++) {
        const struct tb_ref_law_rule *r = &tb_ref_law_rule[i];

        if (strcmp(r->market, market) != 0 || !tb_law_in_force(r, day) || (base && replaced(list, r)))
            continue;
        TB_PUSH_ROOM(list->rule, list->n, list->cap);
        list->rule[list->n++] = r;
    }
}

void tb_law_choose_rules(struct rule_list *out, const struct tb_ref_market *m, const char *day)
{
    add_rules(out, m->key, day, false);
    while (m && m->based_on[0]) {
        add_rules(out, m->based_on, day, true);
        m = tb_law_market(m->based_on);
    }
}

bool tb_law_has_rule(const struct at_work *w, const char *kind, const char *arg)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, kind) == 0 && (!arg || strcmp(w->rule[i]->arg, arg) == 0))
            return true;
    return false;
}

/* A row of one act is not at work under the other. */
bool tb_law_of_regime(const struct at_work *w, const struct tb_ref_law_rule *r)
{
    return !r->regime[0] || strcmp(r->regime, w->regime) == 0;
}

bool tb_law_past_counts(const struct at_work *w, int fibre)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "recycled") == 0 && tb_law_of_regime(w, w->rule[i]) &&
            (strcmp(w->rule[i]->arg, "any") == 0 || tb_law_group_has(w->market, w->rule[i]->arg, fibre)))
            return true;
    return false;
}

/* The rows' kinds were looked up when the tables were made ready: the wording asks for the same few again and again. */
const struct tb_ref_law_rule *tb_law_rule(const struct at_work *w, const char *kind, const char *arg)
{
    int place = tb_law_kind_of(kind);

    for (size_t i = 0; i < w->rules; i++) {
        const struct tb_ref_law_rule *r = w->rule[i];

        if (w->law->kind[r - tb_ref_law_rule] == place && (!arg || strcmp(r->arg, arg) == 0) &&
            tb_law_of_regime(w, r))
            return r;
    }
    return NULL;
}
