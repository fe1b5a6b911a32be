/* Settings of the site: the latest value of a name counts. */
#include "book/stmt.h"

tb_rc tb_setting_get(const char **out, struct tb_book *b, const char *name, int64_t upto,
                     struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_ask_text(out, tb_sql_setting_latest(b, name, upto), mem, err);

    if (rc != TB_ENOTFOUND)
        return rc;
    *out = "";
    return TB_OK;
}

tb_rc tb_setting_set(struct tb_book *b, const char *name, const char *value, struct tb_err *err)
{
    return tb_put_setting(&(struct tb_setting_fact){ .name = name, .value = value }, b, err);
}
