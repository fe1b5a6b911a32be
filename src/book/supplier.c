/* Suppliers, found again however their name is written. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/limits.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_supplier_find(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                       struct tb_err *err)
{
    char *folded = tb_fold(name, strlen(name));
    tb_rc rc = tb_one_supplier(out, tb_sql_supplier_by_folded(b, folded), mem, err);

    free(folded);
    if (rc == TB_ENOTFOUND)
        rc = tb_fail(err, rc, "no supplier is called '%s'", name);
    return tb_nearest_offer(b, "supplier", NULL, name, rc, err);
}

tb_rc tb_supplier_as_written(struct tb_supplier *out, struct tb_book *b, const char *name,
                             struct tb_arena *mem, struct tb_err *err)
{
    char *folded = tb_fold(name, strlen(name));
    tb_rc rc = tb_one_supplier(out, tb_sql_supplier_as_written(b, folded), mem, err);

    free(folded);
    if (rc == TB_ENOTFOUND)
        rc = tb_fail(err, rc, "no supplier is called '%s'", name);
    return tb_nearest_offer(b, "supplier", NULL, name, rc, err);
}

tb_rc tb_supplier_same(struct tb_book *b, const char *supplier_id, const char *same_as_id, const char *why,
                       struct tb_err *err)
{
    return tb_put_supplier_same(
        &(struct tb_supplier_same_fact){ .supplier = supplier_id, .same_as = same_as_id, .why = why }, b,
        err);
}

static tb_rc add(struct tb_supplier *out, struct tb_book *b, const char *name, const char *folded,
                 struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier_fact f = { .id = tb_new_key(mem), .name = name, .folded = folded };
    tb_rc rc;

    if (!*folded)
        return tb_fail(err, TB_EINVAL, "the supplier has no name");
    if (strlen(name) > TB_NAME_MOST)
        return tb_fail(err, TB_EINVAL, "the name of the supplier has %zu bytes; it takes at most %d",
                       strlen(name), TB_NAME_MOST);
    if ((rc = tb_put_supplier(&f, b, err)) == TB_OK)
        *out = (struct tb_supplier){ .id = f.id, .name = tb_arena_strdup(mem, name) };
    return rc;
}

tb_rc tb_supplier_ensure(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                         struct tb_err *err)
{
    char *folded = tb_fold(name, strlen(name));
    tb_rc rc = tb_one_supplier(out, tb_sql_supplier_by_folded(b, folded), mem, err);

    if (rc == TB_ENOTFOUND)
        rc = add(out, b, name, folded, mem, err);
    free(folded);
    return rc;
}
