/* seed.h - inside the module: seeds that the program makes. */
#ifndef TENTERBOOK_WORK_SEED_H
#define TENTERBOOK_WORK_SEED_H

#include "tenterbook/base.h"

/* 16 hexadecimal digits from the system's random source, in mem. */
const char *tb_seed_make(struct tb_arena *mem);

#endif
