/*
 * check.h - the refusals every function of the module shares, each one sentence. Within the module only.
 */
#ifndef TENTERBOOK_SAMPLING_CHECK_H
#define TENTERBOOK_SAMPLING_CHECK_H

#include "tenterbook/base.h"

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

#endif
