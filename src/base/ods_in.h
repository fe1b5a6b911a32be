/* ods_in.h - the insides of the reader of OpenDocument spreadsheets: packed as XLSX is, and read by the same code. */
#ifndef TENTERBOOK_BASE_ODS_IN_H
#define TENTERBOOK_BASE_ODS_IN_H

#include "base/xlsx_in.h"

#define TB_ODS_SHEETS_MOST 1000

/* Is this archive a document of that kind, of whatever sort, or a locked one? */
bool tb_ods_is(struct tb_xlsx *x);
/* Its sheets, into the sink. Fails TB_EFORMAT also where it is a text or a drawing, or locked with a password. */
tb_rc tb_ods_read(struct tb_xlsx *x, const struct tb_sheet_sink *sink);
/* The rows of all its sheets. */
tb_rc tb_ods_rows(struct tb_xlsx *x, const struct tb_sheet_sink *sink);

#endif
