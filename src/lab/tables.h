/* Lookups in the laboratory's tables that the planner shares with the public ones. */
#ifndef TB_LAB_TABLES_H
#define TB_LAB_TABLES_H

#include "tenterbook/lab.h"

struct tb_ref_lab_method;

/* Is `number` in a list such as "5;7;21"? */
bool tb_lab_lists(const char *list, int number);
const struct tb_ref_lab_method *tb_lab_method_row(int number); /* NULL when there is none */

#endif
