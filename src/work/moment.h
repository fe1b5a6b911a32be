/* moment.h - inside the module: the moments of a request are checked where they are used. */
#ifndef TENTERBOOK_WORK_MOMENT_H
#define TENTERBOOK_WORK_MOMENT_H

#include "tenterbook/act_bench.h"

/*
 * TB_EINVAL unless the moment is a canonical one (2026-10-05T09:30:00Z) that has passed; NULL is now, and passes.
 *   what   begins the sentence: "the moment of the burn"
 */
tb_rc tb_moment_check(const char *what, const char *moment, struct tb_err *err);

/* A day, YYYY-MM-DD, or today where `day` is NULL. Fails TB_EINVAL, about "on": it is still to come. */
tb_rc tb_past_day(const char **out, const char *day, struct tb_arena *mem, struct tb_err *err);

#endif
