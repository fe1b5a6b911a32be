/* record.h - what the files of the command `record` share: records said in words. */
#ifndef TENTERBOOK_CLI_RECORD_H
#define TENTERBOOK_CLI_RECORD_H

#include "cli/show.h"

/* One supplier's record in words; supplier.name is NULL where only a tally is known. */
tb_rc record_say(FILE *out, const struct tb_supplier_record *s, struct tb_err *err);
/* Every supplier with the share that borrowed strength gives it; conf as tb_record_all takes it. */
tb_rc record_print_all(struct tb_ctx *ctx, const struct tb_tallies *t, double conf, struct tb_err *err);

#endif
