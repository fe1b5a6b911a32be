/* ways.h - inside the laboratory: the ways to separate a mixture, while they are gathered. */
#ifndef TENTERBOOK_LAB_WAYS_H
#define TENTERBOOK_LAB_WAYS_H

#include "tenterbook/lab.h"

struct tb_lab_ways {
    struct tb_lab_way *way; /* room for TB_LAB_WAYS_MOST */
    size_t n;
    const struct tb_part *part;    /* two or three fibres */
    const char *const *conditions; /* one list a fibre; NULL: none said */
};
/* Every way of the tables, in no order; none twice. */
void tb_lab_ways(struct tb_lab_ways *p);

#endif
