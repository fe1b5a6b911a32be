/* seed.h - inside the module: seeds that the program makes. */
#ifndef TENTERBOOK_WORK_SEED_H
#define TENTERBOOK_WORK_SEED_H

/* 16 hexadecimal digits from the system's random source. */
#define TB_SEED_LEN 16
void tb_seed_make(char out[TB_SEED_LEN + 1]);

#endif
