/* same.h - inside the module: what two spellings of a supplier have set for them, and the days of lots that go by it. */
#ifndef TENTERBOOK_WORK_SAME_H
#define TENTERBOOK_WORK_SAME_H

#include "tenterbook/act_amend.h"
#include "work/act.h"

/* Lots and the days on which their supplier has to be told. Zeroed it is empty. */
struct tb_clocks {
    struct tb_clock_moved *lot; /* arrival_was and hidden_was are known */
    size_t n, cap;
};

/* tb_clocks_before - the days of all lots of a supplier, as they are now, in job->mem. Fails as tb_claim_of_lot. */
tb_rc tb_clocks_before(struct tb_clocks *out, struct tb_job *job, const char *supplier_id);
/* tb_clocks_moved - those of them whose days are others now, into out->moved. Fails as tb_claim_of_lot. */
tb_rc tb_clocks_moved(struct tb_same_outcome *out, struct tb_clocks *before, struct tb_job *job);
/* tb_set_for - terms and address that are set for this name by itself, in force or not. */
tb_rc tb_set_for(struct tb_set_for *out, struct tb_job *job, const char *supplier_id);

#endif
