/* room.h - inside the evidence module: working memory for one observation at one chunk. */
#ifndef TENTERBOOK_EVIDENCE_ROOM_H
#define TENTERBOOK_EVIDENCE_ROOM_H

#include "evidence/factored.h"
#include "evidence/strip.h"

/* Open with tb_room_open, free with tb_room_free; borrows the observation. One thread at a time. */
struct tb_room {
    const struct tb_factored *of;
    int roles, chunk; /* the layout and chunk that `role` holds; 0 roles: none yet */
    double *role[3];  /* [(fibre * rows + row) * TB_CHUNK + lane] */
    double *x;        /* [row * TB_CHUNK + lane]: the fibres before the last, met */
};
/* Memory for one observation, which is borrowed; free with tb_room_free. */
void tb_room_open(struct tb_room *r, const struct tb_factored *of);
/* Free it and make it reusable. */
void tb_room_free(struct tb_room *r);
/* The two products of every composition of a strip. Strips are quickest in the order of tb_strip_next. */
void tb_room_fill(double *telling, double *rest, struct tb_room *r, const struct tb_strip *s,
                  const struct tb_kernel *kernel);

#endif
