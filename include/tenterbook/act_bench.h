/*
 * act_bench.h - the acts of the bench: cut a swatch, burn it, test it, judge a lot, settle it.
 *
 * Moments are UTC, "2026-10-05T09:30:00Z", and have passed; NULL is now.
 */
#ifndef TENTERBOOK_ACT_BENCH_H
#define TENTERBOOK_ACT_BENCH_H

#include "tenterbook/act.h"
#include "tenterbook/work.h"

/* ---- cut ----------------------------------------------------------------------------------------------- */

struct tb_cut_request {
    const char *bolt;   /* number of the bolt, or NULL for known cloth */
    const char *lot;    /* reference of its lot; NULL where only one lot has a bolt of that number */
    const char *known;  /* composition of known cloth; NULL for a bolt */
    const char *part;   /* key of a part of the cloth: "warp"; NULL: whole */
    const char *kept;   /* where the unburnt half lies; NULL not said */
    const char *cut_at; /* NULL: now */
};
struct tb_cut_outcome {
    struct tb_swatch swatch; /* tag included */
    struct tb_lot lot;       /* lot.ref NULL for known cloth */
};
/*
 * tb_act_cut - register a swatch of a bolt, or of known cloth.
 *   fails   TB_ENOTFOUND no such lot or bolt; TB_EINVAL a part that is none, a number several lots have, known cloth
 *           whose composition cannot be read for certain, a moment to come
 */
tb_rc tb_act_cut(struct tb_cut_outcome *out, const struct tb_actor *actor,
                 const struct tb_cut_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
