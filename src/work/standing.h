/* standing.h - inside the module: where the switching rules have a supplier, and when it was let in again. */
#ifndef TENTERBOOK_WORK_STANDING_H
#define TENTERBOOK_WORK_STANDING_H

#include "tenterbook/book.h"
#include "tenterbook/sampling.h"

/* Where the switching rules have a supplier now. */
tb_rc tb_supplier_standing(struct tb_switching *s, struct tb_book *b, const char *supplier_id,
                           struct tb_arena *mem, struct tb_err *err);
/* Day a supplier was let in again last; "" never. */
tb_rc tb_supplier_resumed(const char **day, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                          struct tb_err *err);
/* Name of the setting that keeps it; its value is the day, a space and what was put right. */
const char *tb_resumed_name(const char *supplier_id, struct tb_arena *mem);

#endif
