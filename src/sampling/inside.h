/* inside.h - what the files of src/sampling share: refusals, sums over a draw, tallies and dye lots checked. */
#ifndef TENTERBOOK_SAMPLING_INSIDE_H
#define TENTERBOOK_SAMPLING_INSIDE_H

#include "tenterbook/sampling.h"

/* ---- refusals, each one sentence ------------------------------------------------------------------------ */

/* 1 .. TB_LOT_MOST bolts. */
tb_rc tb_check_lot(long lot, struct tb_err *err);
/* A number of such bolts, 0 .. bolts. */
tb_rc tb_check_false(long n, long bolts, struct tb_err *err);
/* Bolts cut, 0 .. bolts. */
tb_rc tb_check_cut(long n, long bolts, struct tb_err *err);
/* Bolts burned, 0 .. bolts. */
tb_rc tb_check_burned(long n, long bolts, struct tb_err *err);
/* A confidence above 0 and below 1. */
tb_rc tb_check_sure(double sure, struct tb_err *err);
/* A chance above 0 and up to 1. */
tb_rc tb_check_catch(double catch_chance, struct tb_err *err);
/* A share from 0 to 1. */
tb_rc tb_check_share(double share, struct tb_err *err);
/* 0 <= wrong <= lots of every supplier; the sums over all n of them. */
tb_rc tb_check_tally(long *lots, long *wrong, const struct tb_tally *t, size_t n, struct tb_err *err);
/* Each stratum and all of them together are lots that can be sampled; *bolts: how many there are. */
tb_rc tb_check_strata(long *bolts, const struct tb_stratum *s, size_t n, struct tb_err *err);

/* ---- sums over the hypergeometric law -------------------------------------------------------------------- */

/* Chance that none of `bad` shows among `drawn` of `lot`. Arguments are checked. */
double tb_discovery_miss(long lot, long bad, long drawn, double catch_chance);
/* Chance that at most `most` are shown. */
double tb_discovery_at_most(long most, long lot, long bad, long drawn, double catch_chance);

/* A limit is met when it is missed by no more than rounding: 1/20 is 1 - 0.95 although the doubles differ. */
#define TB_TIE (1 + 1e-12)

#endif
