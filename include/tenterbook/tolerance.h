/*
 * tolerance.h - by how many points what is found may differ from what is declared, market by market.
 *
 * The figures are rows of sql/reference/law_rule.csv; this picks the row that holds for one declared share.
 * Pure. Information, not legal advice: the official text and local counsel decide.
 */
#ifndef TENTERBOOK_TOLERANCE_H
#define TENTERBOOK_TOLERANCE_H

#include "tenterbook/fibre.h"

/* What decides between rows besides the composition. */
struct tb_tolerance_facts {
    bool carded; /* the cloth went through carding */
    bool virgin; /* sold under a virgin wool name */
};

/* One row. All text is static. */
struct tb_tolerance {
    double points;      /* percentage points of the fibre mass; 0: none is allowed */
    bool strict;        /* must stay below points, not at them */
    const char *clause; /* "16 CFR 303.43" */
    const char *says, *source;
    const char *status; /* "seen", "second-hand", "reading" or "memory" */
};
/*
 * tb_tolerance_find - the tolerance on share number `share` of a declared part.
 *   returns  false when the market's rules give none for it
 */
bool tb_tolerance_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                       size_t share, const struct tb_tolerance_facts *facts);
/*
 * tb_extraneous_find - how much undeclared fibre a market lets pass before shares are compared.
 *   returns  false when its rules know no such allowance
 */
bool tb_extraneous_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                        const struct tb_tolerance_facts *facts);

#endif
