/*
 * paper_verdict.h - the verdict that papers about a lot speak of: the last one on the words of the supplier, and no other.
 */
#ifndef TENTERBOOK_PAPER_VERDICT_H
#define TENTERBOOK_PAPER_VERDICT_H

#include "tenterbook/work.h"

/* What a verdict was made of, for whoever weighs the same again. */
struct tb_paper_verdict {
    struct tb_lot_verdict v; /* observations 0: there is none */
    struct tb_lot lot;       /* as the verdict counts its bolts */
};
/*
 * tb_paper_verdict - that verdict with all it rests on, weighed again.
 *
 * Of a lot under the words of the supplier it is weighed as everything is known now, and has to come out as it was recorded. Of a
 * lot that has a label of ours it stays as it was: what was weighed since is weighed against our own words.
 *
 *   want    TB_WANT_...
 *   fails   TB_EREFUSED: what was recorded no longer follows from what is known, and the lot has to be judged again first;
 *           as tb_bench_judge
 *   memory  text of lot in mem; free with tb_lot_verdict_free(&out->v), also where it is zeroed
 */
tb_rc tb_paper_verdict(struct tb_paper_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                       unsigned want, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_paper_verdict_weigh - the same by a model that is given, from the book of a paper: nothing is held against what was recorded.
 *   told    the recorded verdict on the words of the supplier; NULL: there is none
 *   ev      of the state that tb_paper_verdict_row names
 */
tb_rc tb_paper_verdict_weigh(struct tb_paper_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                             const struct tb_judged *told, const struct tb_evidence *ev, unsigned want,
                             struct tb_err *err);
/* The journal row up to which it is weighed: TB_BOOK_NOW, or of a label of ours that of its verdict. */
int64_t tb_paper_verdict_row(const struct tb_lot *lot, const struct tb_judged *told);

#endif
