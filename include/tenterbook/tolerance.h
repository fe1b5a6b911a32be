/*
 * tolerance.h - by how many points what is found may differ from what is declared, market by market.
 *
 * The figures are rows of sql/reference/law_rule.csv; this picks the row that holds for one declared share, the same one
 * that a label is judged by (law.h). Pure. Information, not legal advice: the official text and local counsel decide.
 */
#ifndef TENTERBOOK_TOLERANCE_H
#define TENTERBOOK_TOLERANCE_H

#include "tenterbook/fibre.h"

/* What decides between rows besides the composition. */
struct tb_tolerance_facts {
    bool carded; /* the cloth went through carding */
    bool virgin; /* sold under a virgin wool name */
};

#define TB_CLAUSE_ROOM 128 /* bytes of a clause with its end */

/* One row. All text is static. */
struct tb_tolerance {
    double points;               /* percentage points of the fibre mass, 0..100; 0: none is allowed */
    bool strict;                 /* must stay below points, not at them */
    char clause[TB_CLAUSE_ROOM]; /* "16 CFR 303.43", as it is cited in that market */
    const char *says;            /* the rule in our own words */
    const char *source;          /* where it was read */
    const char *status;          /* "seen", "second-hand", "reading" or "memory" */
};

/*
 * tb_tolerance_find - the tolerance on one share of a declared part.
 *
 *   out       filled when there is one; untouched else
 *   market    key; one that is not known has no rules
 *   declared  the part, each fibre once: how many it has and which decides between rows. Borrowed for the call
 *   share     which of declared->share, below declared->n
 *   returns   false when the market's rules of now give none for it
 *   source    the clause of the row
 */
bool tb_tolerance_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                       size_t share, const struct tb_tolerance_facts *facts);

/*
 * tb_extraneous_find - how much undeclared fibre a market lets pass before shares are compared.
 *
 *   out       filled when there is such an allowance; untouched else
 *   returns   false when the market's rules of now know none for such a part
 */
bool tb_extraneous_find(struct tb_tolerance *out, const char *market, const struct tb_part *declared,
                        const struct tb_tolerance_facts *facts);

#endif
