/* beside.h - inside the packing-list reader: tables that stand side by side on a page. */
#ifndef TENTERBOOK_INTAKE_BESIDE_H
#define TENTERBOOK_INTAKE_BESIDE_H

#include "intake/reader.h"

/* A row goes to the pass that is on; rows of tables side by side are held back until the last of them, and go table by table. */
tb_rc tb_beside_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err);
/* The end of a sheet: what was held back is handed on. */
tb_rc tb_beside_end(struct tb_list_reader *r, struct tb_err *err);
/* Frees what was held back, where a pass ended early. */
void tb_beside_free(struct tb_list_reader *r);

#endif
