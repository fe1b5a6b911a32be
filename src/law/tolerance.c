/*
 * tolerance.c - which tolerance row holds for a declared share.
 *
 * The same rows as for labels, asked for by laboratory results: there the figures have an uncertainty of their own, so
 * that the number is handed out and not judged here.
 */
#include "tenterbook/tolerance.h"

#include "law/checks.h"

#include <math.h>
#include <string.h>

/* A market with several acts has rows that say which one a fibre brings: the wool act where there is wool. */
static const char *regime_of(const struct tb_ref_market *m, const struct tb_part *p)
{
    const char *regime = m->regime;

    for (size_t i = 0; i < tb_ref_law_rule_n; i++) {
        const struct tb_ref_law_rule *r = &tb_ref_law_rule[i];

        if (strcmp(r->kind, "regime") == 0 && strcmp(r->market, m->key) == 0 && tb_law_in_force(r, NULL) &&
            tb_law_group_in(m, r->arg, p))
            regime = r->arg;
    }
    return regime;
}

static bool regime_fits(const struct tb_ref_law_rule *r, const struct tb_ref_market *m,
                        const struct tb_part *p)
{
    return !r->regime[0] || !m->regime[0] || strcmp(r->regime, regime_of(m, p)) == 0;
}

/*
 * First row of the kind that holds, in the market itself or in the one it is based on. share NULL: the part as a whole.
 * Rows for a group of fibres are passed over: they let a trace go and are no allowance for fibre in general.
 */
static bool find(struct tb_tolerance *out, const char *market, const char *kind,
                 const struct tb_part *declared, const struct tb_share *share,
                 const struct tb_tolerance_facts *facts)
{
    struct held h = { tb_law_market(market), declared, declared->n, share, facts->carded, facts->virgin };

    for (const struct tb_ref_market *m = h.market; m; m = tb_law_market(m->based_on))
        for (size_t i = 0; i < tb_ref_law_rule_n; i++) {
            const struct tb_ref_law_rule *r = &tb_ref_law_rule[i];

            if (strcmp(r->market, m->key) != 0 || strcmp(r->kind, kind) != 0 || r->arg[0] ||
                !tb_law_in_force(r, NULL) || isnan(r->number) || !regime_fits(r, m, declared) ||
                !tb_law_holds(r, &h))
                continue;
            *out = (struct tb_tolerance){ .points = r->number,
                                          .strict = strcmp(r->comparison, "<") == 0,
                                          .says = r->says,
                                          .source = r->source,
                                          .status = r->status };
            tb_law_clause(out->clause, sizeof out->clause, h.market, r);
            return true;
        }
    return false;
}

bool tb_tolerance_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                       size_t share, const struct tb_tolerance_facts *facts)
{
    return find(out, market, "tolerance", declared, &declared->share[share], facts);
}

bool tb_extraneous_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                        const struct tb_tolerance_facts *facts)
{
    return find(out, market, "extraneous", declared, NULL, facts);
}
