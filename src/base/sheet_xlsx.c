#include "sheet_in.h"
tb_rc tb_xlsx_read(const char *path, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    (void)path;
    (void)sink;
    return tb_fail(err, TB_EFORMAT, "this build does not read workbooks; save the sheet as CSV and give that");
}
