/*
 * recall.h - inside the evidence module: the sums of burns that were weighed before, for burns that say the same.
 *
 * What is kept is found by what the burns say, one after the other, and what each counts; so it is the same to the last digit
 * whether it was recalled or weighed again.
 */
#ifndef TENTERBOOK_EVIDENCE_RECALL_H
#define TENTERBOOK_EVIDENCE_RECALL_H

#include "evidence/likelihood.h"
#include "evidence/pool.h"
#include "evidence/space.h"

/* What a pick is found by: of each of its readings the power and the terms. Yours to free. */
struct tb_text tb_recall_key(const struct tb_pick *p, const struct tb_terms *const *terms);
/* Were they weighed before? Then `out` is a copy of the sums, to be freed with tb_sums_free. */
bool tb_recall_find(struct tb_sums *out, const struct tb_recall *r, const struct tb_text *key);
/* A copy of the sums is kept; of many the oldest goes. */
void tb_recall_keep(struct tb_recall *r, const struct tb_text *key, const struct tb_sums *s);
/* Calls fn for 0 .. n - 1, side by side if `r` (or NULL) says how. */
void tb_recall_each(const struct tb_recall *r, void (*fn)(void *arg, size_t i), void *arg, size_t n);
/* Is that so? */
bool tb_recall_side_by_side(const struct tb_recall *r);
/* The pool of the burn of a group, of the last such burn only; NULL: none is made (tb_pool_of). `r` may be NULL. */
const struct tb_pool *tb_recall_pool(struct tb_recall *r, const struct tb_group *g);

#endif
