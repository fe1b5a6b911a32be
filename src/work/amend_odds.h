/* amend_odds.h - inside the module: what the book holds that an amended delivery is at odds with. */
#ifndef TENTERBOOK_WORK_AMEND_ODDS_H
#define TENTERBOOK_WORK_AMEND_ODDS_H

#include "work/amend_unit.h"

/*
 * tb_odds_of_unit - the first bolt of a lot of which more was cut off than it has once its lengths are computed anew.
 *   out    a sentence without its full stop, in the memory of the job; left as it is where there is none
 */
tb_rc tb_odds_of_unit(const char **out, struct tb_job *j, const struct tb_lot *lot,
                      const struct tb_unit_change *unit);
/*
 * tb_odds_of_day - the earliest thing that was done with a lot before the day on which its goods are said to have come: a swatch cut, a
 * burn, a cut into use, a decision. What was before the old day of arrival too, where that is the later one, is no news.
 *   out    as above
 */
tb_rc tb_odds_of_day(const char **out, struct tb_job *j, const struct tb_lot *lot, const char *day);

#endif
