/* judge_all.h - many lots weighed again at one go. */
#ifndef TENTERBOOK_CLI_JUDGE_ALL_H
#define TENTERBOOK_CLI_JUDGE_ALL_H

#include "cli/cmd.h"
#include "tenterbook/work.h"

struct tb_judged_again {
    size_t lots, kind[3] /* by enum tb_verdict_kind */, recorded, held;
};
/* Told of every lot whose verdict was recorded; the lot is as it was before. */
typedef void tb_judged_fn(void *arg, const struct tb_lot *lot, const struct tb_lot_verdict *v, bool held);
/*
 * tb_judge_again - weigh n lots, by reference, with the model in force, on every processor; record and hold as due.
 * Between tb_ctx_begin and tb_book_commit; on failure the caller rolls back, and nothing is recorded.
 *   fn   may be NULL
 */
tb_rc tb_judge_again(struct tb_judged_again *out, struct tb_ctx *ctx, const char **ref, size_t n,
                     tb_judged_fn *fn, void *arg, struct tb_err *err);
/* judge --all: every lot that was burnt. Writes nothing where nothing changed. */
tb_rc tb_judge_all(struct tb_ctx *ctx, struct tb_err *err);

#endif
