/* some.h - inside the evidence module: some of what was seen of one part, weighed as if it were all. */
#ifndef TENTERBOOK_EVIDENCE_SOME_H
#define TENTERBOOK_EVIDENCE_SOME_H

#include "evidence/judge.h"

/* The pure cloth of a fibre, if it is not as declared; false: it is. */
bool tb_pure_other(struct tb_blend *out, const struct tb_question *q, const struct tb_group *g, int fibre);
/* A blend of fewer than TB_BLEND_MOST fibres, with a part (0 to 1) of one that is not in it. */
struct tb_blend tb_mixed_blend(const struct tb_blend *declared, int fibre, double part);

/* What is left of the observations of a group. */
struct tb_some {
    struct tb_pattern *pattern; /* n */
    struct tb_terms *terms;
    size_t n;
};
/* Room for all of a group, nothing taken yet; free with tb_some_free. */
struct tb_some tb_some_open(const struct tb_group *g);
void tb_some_free(struct tb_some *l);

#define TB_SOME_ALL (-1)   /* all channels */
#define TB_SOME_BURNS (-2) /* those of a flame */
#define TB_SOME_NOBODY ((size_t)-1)
/* The channels (bits) that a number stands for: itself, or one of these names. */
unsigned tb_channels_of(const struct tb_evidence *ev, int name);
/* One look, what one person saw in one channel or several, or `without` it all the others. */
void tb_some_take(struct tb_some *out, const struct tb_evidence *ev, const struct tb_group *g, size_t person,
                  int channel, bool without);
/* Of each pattern i of the group the channels keep[i] (bits). */
void tb_some_keep(struct tb_some *out, const struct tb_evidence *ev, const struct tb_group *g,
                  const unsigned *keep);
/* As if it had been seen once, by one person: what it says by itself. Nothing for what counts nothing. */
void tb_some_as_one(struct tb_some *l);
/*
 * tb_some_log_ratio - log of how much likelier it is of what is declared than of the pure cloths that burn differently, by how often
 * each comes; 0 where nothing is left.
 */
double tb_some_log_ratio(const struct tb_question *q, const struct tb_group *g, const struct tb_some *l);

#endif
