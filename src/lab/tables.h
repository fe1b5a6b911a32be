/* tables.h - inside the laboratory: lookups in its reference tables, and the ways to separate a mixture. */
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

/* The ways to separate a mixture, while they are gathered. */
struct tb_lab_ways {
    struct tb_lab_way *way; /* room for TB_LAB_WAYS_MOST */
    size_t n;
    const struct tb_part *part;    /* two or three fibres */
    const char *const *conditions; /* one list a fibre; NULL: none said */
};
/* Every way of the tables, in no order; none twice. */
void tb_lab_ways(struct tb_lab_ways *p);

#endif
