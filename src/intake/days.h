/* days.h - inside the packing-list reader: days as people write them. */
#ifndef TENTERBOOK_INTAKE_DAYS_H
#define TENTERBOOK_INTAKE_DAYS_H

#include "tenterbook/date.h"

/* Orders of day, month and year, as bits. */
enum { TB_DAY_DMY = 1, TB_DAY_MDY = 2, TB_DAY_YMD = 4, TB_DAY_ALL = 7 };
struct tb_day_reading {
    char dmy[TB_DAY_LEN + 1], mdy[TB_DAY_LEN + 1], ymd[TB_DAY_LEN + 1]; /* "" where impossible */
};
/* Which orders are possible, 0: not a day. A day that reads the same in every order answers TB_DAY_ALL. */
unsigned tb_day_scan(struct tb_day_reading *out, const char *text);
/* The day in this order: 'd', 'm' or 'y' first; NULL where that is impossible. */
const char *tb_day_value(const struct tb_day_reading *r,
                         char order); /* 'd', 'm', 'y'; NULL where impossible */

#endif
