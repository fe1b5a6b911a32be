/* Suppliers, found again however their name is written. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/limits.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

/*
 * A name that differs from one in the book by accents alone, and is of somebody else, is kept with its accents behind a space: no
 * other name folds to that.
 */
static char *own_form(const char *name)
{
    char *accented = tb_fold_accented(name, strlen(name));
    struct tb_text t = { 0 };

    tb_text_addf(&t, " %s", accented);
    free(accented);
    return tb_text_take(&t);
}

typedef struct tb_stmt *by_form(struct tb_book *b, const char *folded);

/* Its own form first, then the one that all spellings share. */
static tb_rc look_up(struct tb_supplier *out, struct tb_book *b, by_form *by, const char *name,
                     struct tb_arena *mem, struct tb_err *err)
{
    char *own = own_form(name), *folded = tb_fold(name, strlen(name));
    tb_rc rc = tb_one_supplier(out, by(b, own), mem, err);

    if (rc == TB_ENOTFOUND)
        rc = tb_one_supplier(out, by(b, folded), mem, err);
    free(own);
    free(folded);
    return rc;
}

static tb_rc find(struct tb_supplier *out, struct tb_book *b, by_form *by, const char *name,
                  struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = look_up(out, b, by, name, mem, err);

    if (rc == TB_ENOTFOUND)
        rc = tb_fail(err, rc, "no supplier is called '%s'", name);
    return tb_nearest_offer(b, "supplier", NULL, name, rc, err);
}

tb_rc tb_supplier_find(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                       struct tb_err *err)
{
    return find(out, b, tb_sql_supplier_by_folded, name, mem, err);
}

tb_rc tb_supplier_as_written(struct tb_supplier *out, struct tb_book *b, const char *name,
                             struct tb_arena *mem, struct tb_err *err)
{
    return find(out, b, tb_sql_supplier_as_written, name, mem, err);
}

bool tb_supplier_spelled(const char *a, const char *b)
{
    char *x = tb_fold_accented(a, strlen(a)), *y = tb_fold_accented(b, strlen(b));
    bool same = strcmp(x, y) == 0;

    free(x);
    free(y);
    return same;
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
    tb_rc rc = look_up(out, b, tb_sql_supplier_as_written, name, mem, err);

    if (rc == TB_ENOTFOUND)
        rc = add(out, b, name, folded, mem, err);
    free(folded);
    return rc;
}

tb_rc tb_supplier_apart(struct tb_supplier *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_supplier there;
    tb_rc rc = look_up(&there, b, tb_sql_supplier_as_written, name, mem, err);
    char *form;

    if (rc == TB_OK && tb_supplier_spelled(there.name, name))
        return tb_fail(err, TB_EEXISTS, "%s is in the book by this very name", there.name);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    form = rc == TB_OK ? own_form(name) : tb_fold(name, strlen(name));
    rc = add(out, b, name, form, mem, err);
    free(form);
    return rc;
}
