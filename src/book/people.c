/* Settings and suppliers. */
#include "book/db.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_setting_get(const char **out, struct tb_book *b, const char *name, int64_t upto,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SETTING_LATEST);
    tb_rc rc;

    tb_bind_text(q, 1, name);
    tb_bind_whole(q, 2, upto);
    rc = tb_row(q, err);
    if (rc == TB_OK || rc == TB_ENOTFOUND) {
        *out = rc == TB_OK ? tb_col_text(q, 0, mem) : "";
        rc = TB_OK;
    }
    tb_done(q);
    return rc;
}

tb_rc tb_setting_set(struct tb_book *b, const char *name, const char *value, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SETTING_ADD);
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, name);
    tb_bind_text(q, 3, value);
    tb_bind_whole(q, 4, tb_entry(b));
    return tb_run(q, err);
}

static void take_setting(struct tb_setting *s, struct tb_stmt *q, struct tb_arena *mem)
{
    s->name = tb_col_text(q, 0, mem);
    s->value = tb_col_text(q, 1, mem);
}

tb_rc tb_setting_list(struct tb_setting **out, size_t *n, struct tb_book *b, const char *prefix,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SETTING_PREFIXED);
    tb_rc rc;

    tb_bind_text(q, 1, prefix);
    TB_LIST(rc, out, n, q, struct tb_setting, take_setting, mem, err);
    return rc;
}

static void take_supplier(struct tb_supplier *s, struct tb_stmt *q, struct tb_arena *mem)
{
    s->id = tb_col_text(q, 0, mem);
    s->name = tb_col_text(q, 1, mem);
}

tb_rc tb_supplier_list(struct tb_supplier **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SUPPLIER_ALL);
    tb_rc rc;

    TB_LIST(rc, out, n, q, struct tb_supplier, take_supplier, mem, err);
    return rc;
}

static tb_rc by_folded(struct tb_supplier *out, struct tb_book *b, const char *folded, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SUPPLIER_BY_FOLDED);
    tb_rc rc;

    tb_bind_text(q, 1, folded);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_supplier(out, q, mem);
    tb_done(q);
    return rc;
}

tb_rc tb_supplier_find(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                       struct tb_err *err)
{
    char *folded = tb_fold(name, strlen(name));
    tb_rc rc = by_folded(out, b, folded, mem, err);

    free(folded);
    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "no supplier is called '%s'", name) : rc;
}

tb_rc tb_supplier_ensure(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                         struct tb_err *err)
{
    char *folded = tb_fold(name, strlen(name)), id[TB_ID_LEN + 1];
    tb_rc rc = by_folded(out, b, folded, mem, err);

    if (rc == TB_ENOTFOUND && !*folded) {
        rc = tb_fail(err, TB_EINVAL, "the supplier has no name");
    } else if (rc == TB_ENOTFOUND) {
        struct tb_stmt *q = tb_query(b, TB_SQL_SUPPLIER_ADD);

        tb_id_make(id);
        tb_bind_text(q, 1, id);
        tb_bind_text(q, 2, name);
        tb_bind_text(q, 3, folded);
        tb_bind_whole(q, 4, tb_entry(b));
        if ((rc = tb_run(q, err)) == TB_OK)
            *out = (struct tb_supplier){ tb_arena_strdup(mem, id), tb_arena_strdup(mem, name) };
    }
    free(folded);
    return rc;
}
