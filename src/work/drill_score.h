/* drill_score.h - inside the module: answered cards as they are scored. */
#ifndef TENTERBOOK_WORK_DRILL_SCORE_H
#define TENTERBOOK_WORK_DRILL_SCORE_H

#include "tenterbook/act_drill.h"

struct tb_answered {
    const struct tb_card *card;
    size_t truth, named; /* places in the list of classes */
    struct tb_burn burn; /* what was seen */
};
/* Everything that scores are computed of. */
struct tb_answers {
    struct tb_answered *answered; /* in the order of the cards */
    size_t n;
    size_t classes;
    const char *const *class_key;
    struct tb_doubled *pair; /* burns of real bolts by two people */
    size_t pairs;
};
/* The scores of one tester, by name; the book is read for the burns of pairs. Text and arrays in mem. */
tb_rc tb_drill_tester_score(struct tb_drill_tester *out, const struct tb_answers *a, const char *name,
                            struct tb_book *b, struct tb_arena *mem, struct tb_err *err);

#endif
