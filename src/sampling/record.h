/* record.h - tallies of suppliers, checked. Within the module only. */
#ifndef TENTERBOOK_SAMPLING_RECORD_H
#define TENTERBOOK_SAMPLING_RECORD_H

#include "tenterbook/sampling.h"

/* 0 <= wrong <= lots of every supplier; the sums over all n of them. */
tb_rc tb_check_tally(long *lots, long *wrong, const struct tb_tally *t, size_t n, struct tb_err *err);

#endif
