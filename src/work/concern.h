/* concern.h - inside the module: which journal rows make a plan worthless that was made before they came. */
#ifndef TENTERBOOK_WORK_CONCERN_H
#define TENTERBOOK_WORK_CONCERN_H

#include "tenterbook/book.h"

/* Whether a row can change what is known of a lot: one of that lot, or of no lot, unless it is a new delivery. */
bool tb_row_concerns_lot(const struct tb_journal_row *row, const char *lot_ref);
/*
 * Whether a row can change the verdict on a lot or what was decided of it: a burn of it does, and so do known cloth, a
 * file of burns and some settings; a swatch that is cut, a bolt that goes into use or the days of an answer do not.
 * A verb of a later program is taken to.
 */
bool tb_row_concerns_judging(const struct tb_journal_row *row, const char *lot_ref);
/* Whether it can change the verdicts on all lots. */
bool tb_row_concerns_all_judging(const struct tb_journal_row *row);

#endif
