/*
 * draw_evidence.h - what the evidence engine tells the command `draw`.
 */
#ifndef TENTERBOOK_CLI_DRAW_EVIDENCE_H
#define TENTERBOOK_CLI_DRAW_EVIDENCE_H

#include "cli/sampling/draw.h"
#include "tenterbook/work.h"

/* Sets catch_one and catch_from from the power of one careful burn, unless --catch says it. Where the model has no
 * figure they stay as they were. */
tb_rc draw_power(struct draw *d, struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_err *err);

/* Judges the bolts of a lot one by one. */
struct draw_judge {
    struct tb_arena mem;
    struct tb_evidence *ev;
    struct tb_declaration decl;
    struct tb_observation *obs;
    size_t n;
    struct tb_swatch *swatch;
    size_t swatches;
};
tb_rc draw_judge_open(struct draw_judge *j, struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_err *err);
tb_rc draw_judge_bolt(bool *is_false, struct draw_judge *j, const char *bolt_id, struct tb_err *err);
void draw_judge_close(struct draw_judge *j);

#endif
