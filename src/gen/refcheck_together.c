/* refcheck_together.c - what no cell shows by itself: cues beside those of their channel, markets with their rules. */
#include "gen/refcheck.h"

#include "evidence/model.h"

#include <stdlib.h>
#include <string.h>

static bool same(const struct ref_table *t, size_t one, size_t other, const char *column)
{
    return strcmp(ref_cell(t, &t->row[one], column), ref_cell(t, &t->row[other], column)) == 0;
}

/* A channel is a first cue and a number of them: one that stands apart would count for another channel. */
static void check_cue(const struct ref_table *t, size_t i)
{
    const struct csv_row *r = &t->row[i];
    const char *key = r->cell[0], *channel = ref_cell(t, r, "channel");
    size_t n = strlen(channel);
    double from = strtod(ref_cell(t, r, "shows_from"), NULL), to = strtod(ref_cell(t, r, "shows_to"), NULL);

    if (strncmp(key, channel, n) != 0 || key[n] != ':' || !key[n + 1])
        ref_wrong(r, "the key of a cue is its channel, a colon and a name: '%s:...'", channel);
    if (!(0 <= from && from < to && to <= 1))
        ref_wrong(r, "shows_from and shows_to are shares of the mass, 0 <= shows_from < shows_to <= 1");
    for (size_t k = 0; i && !same(t, i, i - 1, "channel") && k < i; k++)
        if (same(t, i, k, "channel")) {
            ref_wrong(r, "it stands apart from the cues of its channel: put it among the rows of '%s'",
                      channel);
            return;
        }
}

/* The model keeps a handful of ramps and works each out once. */
static void check_ramps(const struct ref_table *t)
{
    size_t ramps = 0;

    for (size_t i = 0; i < t->rows; i++) {
        bool first = true;

        for (size_t k = 0; first && k < i; k++)
            first = !same(t, i, k, "shows_from") || !same(t, i, k, "shows_to");
        if (first && ++ramps > TB_RAMPS_MOST - 1) /* one more is that of a mount */
            ref_wrong(&t->row[i],
                      "shows_from and shows_to are one more pair than the %d the model holds: use a pair of "
                      "another cue",
                      TB_RAMPS_MOST - 1);
    }
}

/* The first row with this value in the column; NULL: there is none. */
static const struct csv_row *row_with(const struct ref_table *t, const char *column, const char *value)
{
    for (size_t i = 0; *value && i < t->rows; i++)
        if (strcmp(ref_cell(t, &t->row[i], column), value) == 0)
            return &t->row[i];
    return NULL;
}

/* Has the market a rule of this kind, of its own or from a market it is based on? */
static bool has_kind(const struct ref_table *markets, const struct csv_row *m, const char *kind)
{
    const struct ref_table *t = ref_table("law_rule");

    for (size_t far = 0; m && far <= markets->rows; far++) {
        for (size_t i = 0; i < t->rows; i++)
            if (strcmp(ref_cell(t, &t->row[i], "market"), m->cell[0]) == 0 &&
                strcmp(ref_cell(t, &t->row[i], "kind"), kind) == 0)
                return true;
        m = row_with(markets, "key", ref_cell(markets, m, "based_on"));
    }
    return false;
}

/* Where nothing asks for names and figures, any words at all would pass. */
static void check_market(const struct ref_table *t, const struct csv_row *r)
{
    static const char *const needed[] = { "names", "percent", "sum", "range" };

    for (size_t i = 0; i < TB_COUNT(needed); i++)
        if (!has_kind(t, r, needed[i]))
            ref_wrong(
                r,
                "no rule of kind '%s' in law_rule.csv: a market needs names, percent, sum and range, or "
                "based_on a market that has them, such as common",
                needed[i]);
    if (strcmp(ref_cell(t, r, "coverage"), "full") == 0 &&
        (!*ref_cell(t, r, "langs") || !row_with(ref_table("law_name"), "market", ref_cell(t, r, "names"))))
        ref_wrong(r, "a full market has langs, and in names a market with names of fibres in law_name.csv");
}

/* "named:viscose" and "cover:wool" speak of a fibre; any other group has a name of its own. */
static void check_group(const struct ref_table *t, const struct csv_row *r)
{
    const char *key = ref_cell(t, r, "group_key"), *colon = strchr(key, ':');

    if (colon && (!row_with(ref_table("fibre"), "key", colon + 1) ||
                  (strncmp(key, "named:", 6) != 0 && strncmp(key, "cover:", 6) != 0)))
        ref_wrong(r, "group_key is '%s'; with a colon it may be named: or cover: and a key of fibre.csv",
                  key);
}

/* What nobody looked up is no ground to reject a label. */
static void check_rule(const struct ref_table *t, const struct csv_row *r)
{
    if (strcmp(ref_cell(t, r, "status"), "memory") == 0 && strcmp(ref_cell(t, r, "severity"), "fault") == 0)
        ref_wrong(r, "a rule from memory makes no fault: its severity is advice or note");
}

void ref_check_together(void)
{
    const struct ref_table *cues = ref_table("cue"), *markets = ref_table("market"),
                           *groups = ref_table("law_group"), *rules = ref_table("law_rule");

    for (size_t i = 0; i < cues->rows; i++)
        check_cue(cues, i);
    check_ramps(cues);
    for (size_t i = 0; i < markets->rows; i++)
        check_market(markets, &markets->row[i]);
    for (size_t i = 0; i < groups->rows; i++)
        check_group(groups, &groups->row[i]);
    for (size_t i = 0; i < rules->rows; i++)
        check_rule(rules, &rules->row[i]);
}
