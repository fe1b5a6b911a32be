/* judge.h - inside the evidence module: one question while it is answered. */
#ifndef TENTERBOOK_EVIDENCE_JUDGE_H
#define TENTERBOOK_EVIDENCE_JUDGE_H

#include "evidence/declared.h"

#define TB_GROUPS_MOST 4 /* parts burned apart that one declaration may be spread over */

/* The burns of one part, and what was declared of it. */
struct tb_group {
    enum tb_part_kind part;
    struct tb_pattern *pattern; /* n */
    size_t n;
    struct tb_sums sums;
    struct tb_declared declared;
    bool spread; /* several parts share one declared composition */
};

struct tb_question {
    const struct tb_evidence *ev;
    const struct tb_kernel *kernel;
    struct tb_group group[TB_GROUPS_MOST];
    size_t n;
    double log_declared, log_else;
};

/* log P(seen | declared) and log P(seen | anything else) of all groups together, from the parts' sums. */
void tb_question_answer(struct tb_question *q);

/* The pieces of the verdict beyond the ratio. */
struct tb_shortlist;
void tb_weigh_cues(struct tb_verdict *v, struct tb_shortlist *s); /* uses up s->chance */
/* Needs v->log_ratio; `alone`: the part is all that was burned. */
void tb_next_tests(struct tb_verdict *v, const struct tb_shortlist *s, bool alone);
void tb_power_table(struct tb_verdict *v, const struct tb_question *q);
void tb_take_posterior(struct tb_verdict *v, const struct tb_question *q);
void tb_verdict_note(struct tb_verdict *v, const char *fmt, ...) TB_PRINTF(2, 3);

#endif
