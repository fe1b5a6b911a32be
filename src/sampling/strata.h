/* strata.h - the dye lots a draw is spread over, checked. Within the module only. */
#ifndef TENTERBOOK_SAMPLING_STRATA_H
#define TENTERBOOK_SAMPLING_STRATA_H

#include "tenterbook/sampling.h"

/* Each stratum and all of them together are lots that can be sampled; *bolts: how many there are. */
tb_rc tb_check_strata(long *bolts, const struct tb_stratum *s, size_t n, struct tb_err *err);

#endif
