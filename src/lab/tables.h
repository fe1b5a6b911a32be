/* tables.h - inside the laboratory: lookups in its reference tables. */
#ifndef TENTERBOOK_LAB_TABLES_H
#define TENTERBOOK_LAB_TABLES_H

#include "tenterbook/lab.h"

struct tb_ref_lab_method;

/* Is `number` in a list such as "5;7;21"? */
bool tb_lab_lists(const char *list, int number);
/* Is `word` one of the words of a list separated by commas or spaces? NULL: no list. */
bool tb_lab_says(const char *conditions, const char *word);
/* The entry of a fibre in Annex I; 0: it has none. */
int tb_lab_eu_of(int fibre);
/* The row of a method; NULL: there is no method of that number. */
const struct tb_ref_lab_method *tb_lab_method_row(int number);

#endif
