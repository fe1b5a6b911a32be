/*
 * shortlist.h - inside the evidence module: the compositions that carry the weight, one by one.
 *
 * The kernel sums over everything at once; where a single cue is taken out, or a test imagined, a list of what
 * matters will do: what the declaration leaves open, and of all else the pure fibres and pairs (fractions of 10,
 * 30, 50, 70 and 90 %) that hold more than a millionth of the posterior.
 */
#ifndef TENTERBOOK_EVIDENCE_SHORTLIST_H
#define TENTERBOOK_EVIDENCE_SHORTLIST_H

#include "evidence/judge.h"

struct tb_entry {
    struct tb_blend blend;
    bool declared, pooled; /* pooled: what its pattern makes of it stands in the list's pool */
    double log_weight;     /* prior within its side, and the likelihood of all observations */
    size_t row;            /* of the list's chances, or of the pool's */
};
struct tb_pool;

struct tb_shortlist {
    const struct tb_evidence *ev;
    const struct tb_group *group;
    struct tb_entry *entry;
    size_t n, cap;
    double log_else; /* log of the prior of all that is not as declared, of one and two fibres */
    size_t own;      /* entries that are not pooled; they come first */
    double
        *chance; /* [row * terms + term] of one pattern, of the own entries; at first of the group's last */
    struct tb_logs *logs;       /* [row] of the same */
    const struct tb_pool *pool; /* of the only pattern; NULL: nothing is pooled */
};
/*
 * The list of one part, weighed by all its observations; free with tb_shortlist_free. `pool` is of the group's burn (tb_pool_of),
 * or NULL; the list is the same with it and without.
 */
void tb_shortlist_make(struct tb_shortlist *out, const struct tb_evidence *ev, const struct tb_group *g,
                       const struct tb_pool *pool);
/* The same of a group for which nothing is declared, and nothing of it left out for being light. */
void tb_shortlist_all(struct tb_shortlist *out, const struct tb_evidence *ev, const struct tb_group *g);
/* Free it; it can be freed again. */
void tb_shortlist_free(struct tb_shortlist *s);
/* What the only pattern of the group makes of an entry, own or pooled; of a list that still has its figures. */
const struct tb_logs *tb_shortlist_logs(const struct tb_shortlist *s, const struct tb_entry *e);
/* The chances of another pattern in `chance` and `logs`, row by row of the own entries. */
void tb_shortlist_chances(struct tb_shortlist *s, size_t pattern);
/*
 * The weight of each entry within its side, adding up to 1 a side; gives log P(declared side) - log P(other side), each over
 * its prior: the evidence ratio as far as the list tells it.
 */
double tb_shortlist_weights(double *out, const struct tb_shortlist *s);
/*
 * What a test is expected to tell, in bits, of something that is so with this chance: result r comes with chance
 * declared[r] if it is so and other[r] if not.
 */
double tb_gain_bits(double chance, const double *declared, const double *other, int results);

#endif
