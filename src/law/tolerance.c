/* Which tolerance row holds for a declared share. */
#include "tenterbook/tolerance.h"

#include "gen/ref_law_rule.h"
#include "gen/ref_market.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_wool(int fibre)
{
    int eu = fibre >= 0 ? tb_fibre_at(fibre)->eu_number : 0;

    return eu >= 1 && eu <= 3; /* wool and animal hair, Annex I */
}

static bool has_wool(const struct tb_part *p)
{
    for (size_t i = 0; i < p->n; i++)
        if (is_wool(p->share[i].fibre))
            return true;
    return false;
}

struct question {
    const struct tb_part *part;
    const struct tb_share *share; /* NULL: the part as a whole */
    const struct tb_tolerance_facts *facts;
};

static bool is_word(const char *word, size_t n, const char *is)
{
    return strlen(is) == n && strncmp(word, is, n) == 0;
}

/* "stated<=10" or "multiple=5": the number after the sign. */
static bool share_word_holds(const struct question *q, const char *word, size_t n)
{
    double percent = q->share ? q->share->percent : NAN;

    if (n > 8 && strncmp(word, "stated<=", 8) == 0)
        return percent <= strtod(word + 8, NULL);
    if (n > 9 && strncmp(word, "multiple=", 9) == 0)
        return fabs(remainder(percent, strtod(word + 9, NULL))) < 1e-9;
    if (is_word(word, n, "group=wool"))
        return q->share && is_wool(q->share->fibre);
    return false; /* a condition that a composition does not tell, such as "inequality" */
}

static bool word_holds(const struct question *q, const char *word, size_t n)
{
    if (is_word(word, n, "single"))
        return q->part->n == 1;
    if (is_word(word, n, "blend"))
        return q->part->n > 1;
    if (is_word(word, n, "carded"))
        return q->facts->carded;
    if (is_word(word, n, "not-carded"))
        return !q->facts->carded;
    if (is_word(word, n, "virgin"))
        return q->facts->virgin;
    if (is_word(word, n, "not-virgin"))
        return !q->facts->virgin;
    return share_word_holds(q, word, n);
}

static bool holds(const struct question *q, const char *conditions)
{
    for (size_t n; *conditions; conditions += n) {
        conditions += strspn(conditions, " ");
        n = strcspn(conditions, " ");
        if (n && !word_holds(q, conditions, n))
            return false;
    }
    return true;
}

static const struct tb_ref_market *market_row(const char *key)
{
    for (size_t i = 0; i < tb_ref_market_n; i++)
        if (strcmp(tb_ref_market[i].key, key) == 0)
            return &tb_ref_market[i];
    return NULL;
}

/* A market with two acts has the wool act where there is wool. */
static bool regime_fits(const struct question *q, const struct tb_ref_law_rule *r,
                        const struct tb_ref_market *m)
{
    if (!r->regime[0] || !m->regime[0])
        return true;
    return strcmp(r->regime, has_wool(q->part) ? "wool" : m->regime) == 0;
}

static bool in_force(const struct tb_ref_law_rule *r)
{
    return r->until_day[0] == '\0';
}

/* First row of the kind that holds, in the market itself or in the one it builds on. */
static bool find(struct tb_tolerance *out, const char *market, const char *kind, const struct question *q)
{
    for (const struct tb_ref_market *m = market_row(market); m; m = market_row(m->based_on))
        for (size_t i = 0; i < tb_ref_law_rule_n; i++) {
            const struct tb_ref_law_rule *r = &tb_ref_law_rule[i];

            if (strcmp(r->market, m->key) != 0 || strcmp(r->kind, kind) != 0 || r->arg[0] || !in_force(r) ||
                isnan(r->number) || !regime_fits(q, r, m) || !holds(q, r->holds))
                continue;
            *out = (struct tb_tolerance){ .points = r->number,
                                          .strict = strcmp(r->comparison, "<") == 0,
                                          .clause = r->clause,
                                          .says = r->says,
                                          .source = r->source,
                                          .status = r->status };
            return true;
        }
    return false;
}

bool tb_tolerance_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                       size_t share, const struct tb_tolerance_facts *facts)
{
    struct question q = { declared, &declared->share[share], facts };

    return find(out, market, "tolerance", &q);
}

bool tb_extraneous_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                        const struct tb_tolerance_facts *facts)
{
    struct question q = { declared, NULL, facts };

    return find(out, market, "extraneous", &q);
}
