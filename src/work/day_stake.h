/* day_stake.h - inside the module: what there is to burn of a lot, and what is at stake with it. */
#ifndef TENTERBOOK_WORK_DAY_STAKE_H
#define TENTERBOOK_WORK_DAY_STAKE_H

#include "tenterbook/goods.h"

#define TB_STAKE_METRES "m"
#define TB_STAKE_KILOGRAMS "kg"

/* Of a lot that was decided of in part, the bolts there are to burn; else the whole lot. */
tb_rc tb_left_find(struct tb_measured *out, struct tb_book *book, const struct tb_lot *lot,
                   struct tb_arena *passing, struct tb_err *err);

/* Its price in the unit of the invoice; without one, or where metres are asked for, its metres, else its kilograms. */
struct tb_stake {
    double value;         /* NAN: nobody knows how much of it there is */
    const char *currency; /* money, or TB_STAKE_METRES, TB_STAKE_KILOGRAMS; "" with NAN */
};
tb_rc tb_stake_find(struct tb_stake *out, struct tb_book *book, const struct tb_lot *lot,
                    const struct tb_measured *left, bool by_metres, struct tb_arena *passing,
                    struct tb_err *err);
/* tb_stake_is_money - neither metres nor kilograms. */
bool tb_stake_is_money(const char *currency);

#endif
