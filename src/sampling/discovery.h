/*
 * discovery.h - sums over the hypergeometric law shared by discovery, proof and acceptance. Within the module only.
 */
#ifndef TENTERBOOK_SAMPLING_DISCOVERY_H
#define TENTERBOOK_SAMPLING_DISCOVERY_H

/* Chance that none of `bad` shows among `drawn` of `lot`. Arguments are checked. */
double tb_discovery_miss(long lot, long bad, long drawn, double catch_chance);
/* Chance that at most `most` are shown. */
double tb_discovery_at_most(long most, long lot, long bad, long drawn, double catch_chance);

/* A limit is met when it is missed by no more than rounding: 1/20 is 1 - 0.95 although the doubles differ. */
#define TB_TIE (1 + 1e-12)

#endif
