/*
 * outdated.h - recorded verdicts that would be reached otherwise by what is known today, so that the lots have to be judged again.
 *
 * The limits of a site go with the lots that a laboratory settled, its figures with its known cloth, drills, settings and the program.
 * Nobody judges every lot again for that: what was recorded is compared with the model in force (follows.h). Lots under a label of
 * ours and lots of which a laboratory decides are no part of it: their verdict decides nothing any more. Only reads.
 */
#ifndef TENTERBOOK_OUTDATED_H
#define TENTERBOOK_OUTDATED_H

#include "tenterbook/bench.h"
#include "tenterbook/verdict.h"

struct tb_outdated_lot {
    const char *ref, *supplier, *judged_at, *judged_by; /* reference, name, moment, name */
    const char *arrived;                                /* day */
    enum tb_grade grade;                                /* as recorded */
    bool unseen; /* it was weighed with other figures: what comes out now is seen once it is judged again */
};
struct tb_outdated {
    struct tb_outdated_lot *lot; /* n, by arrival and reference */
    size_t n, otherwise; /* otherwise: those of which another verdict would be reached; the rest is unseen */
};
/*
 * tb_outdated_read - of all lots that count, or of the one with this reference.
 *   ref     as the book has it; NULL: of all
 *   fails   TB_EFORMAT: the details of a verdict are damaged; what reading the book answers
 *   memory  all in mem
 */
tb_rc tb_outdated_read(struct tb_outdated *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                       struct tb_err *err);
/* A lot among them, by its reference; NULL: it is none of them. */
const struct tb_outdated_lot *tb_outdated_find(const struct tb_outdated *o, const char *ref);

/* A verdict that counts, as the book has it. */
struct tb_standing_verdict {
    const char *ref, *delivery, *supplier; /* delivery: id; supplier: name */
    const char *arrived;
    enum tb_verdict_kind verdict;
    double log_ratio;
    const char *reference, *detail; /* detail: "" where the rest says enough */
    const char *judged_at, *judged_by, *grade;
    double lowest, highest;
    bool one_look;
    int64_t analyses;
};
/*
 * tb_standing_verdict_list - those on the words of suppliers, by arrival and reference.
 *   reference  of the model in force: the details of a verdict that was made with it are left out where they say no more
 *   ref        of one lot; NULL: of all
 */
tb_rc tb_standing_verdict_list(struct tb_standing_verdict **out, size_t *n, struct tb_book *b,
                               const char *reference, const char *ref, struct tb_arena *mem,
                               struct tb_err *err);

#endif
