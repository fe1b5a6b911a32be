/* What is void, and what was amended. */
#include "tenterbook/void.h"

#include "book/stmt.h"

#include <string.h>

tb_rc tb_voiding_add(struct tb_voiding *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    v->id = tb_new_key(mem);
    v->voided_at = tb_moment_now(b, mem);
    return tb_put_voiding(v, b, err);
}

tb_rc tb_amendment_add(struct tb_amendment *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    a->id = tb_new_key(mem);
    a->amended_at = tb_moment_now(b, mem);
    return tb_put_amendment(a, b, err);
}

/* A sentence for each kind of record: languages put such words together in their own ways. */
static tb_rc refuse(const struct tb_voiding *v, struct tb_err *err)
{
    if (strcmp(v->about, "delivery") == 0)
        return tb_fail(err, TB_EREFUSED, "delivery %s is void: %s voided it at %s (%s)", v->ref, v->voided_by,
                       v->voided_at, v->why);
    if (strcmp(v->about, "lot") == 0)
        return tb_fail(err, TB_EREFUSED, "lot %s is void: %s voided it at %s (%s)", v->ref, v->voided_by,
                       v->voided_at, v->why);
    if (strcmp(v->about, "bolt") == 0)
        return tb_fail(err, TB_EREFUSED, "bolt %s is void: %s voided it at %s (%s)", v->ref, v->voided_by,
                       v->voided_at, v->why);
    return tb_fail(err, TB_EREFUSED, "swatch %s is void: %s voided it at %s (%s)", v->ref, v->voided_by,
                   v->voided_at, v->why);
}

tb_rc tb_voided_refuse(struct tb_book *b, const char *ref, tb_rc otherwise, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_voiding v;
    struct tb_err none;
    tb_rc rc = tb_one_voiding(&v, tb_sql_voiding_of_ref(b, ref), &mem, &none);

    if (rc == TB_OK)
        otherwise = refuse(&v, err);
    else if (rc != TB_ENOTFOUND) {
        *err = none;
        otherwise = rc;
    }
    tb_arena_free(&mem);
    return otherwise;
}

tb_rc tb_bolt_voided_refuse(struct tb_book *b, const char *lot_id, const char *number, tb_rc otherwise,
                            struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_err none = { 0 };
    struct tb_voiding *all;
    size_t n;
    tb_rc rc = tb_voiding_open(&all, &n, b, number, NULL, &mem, &none);

    if (rc != TB_OK) {
        *err = none;
        otherwise = rc;
    }
    for (size_t i = 0; rc == TB_OK && i < n; i++)
        if (strcmp(all[i].about, "bolt") == 0 && all[i].lot && strcmp(all[i].lot, lot_id) == 0) {
            otherwise = refuse(&all[i], err);
            break;
        }
    tb_arena_free(&mem);
    return otherwise;
}

tb_rc tb_hanging_on(struct tb_hanging *out, struct tb_book *b, const char *id, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = tb_one_hanging(out, tb_sql_hanging(b, id), &mem, err);

    tb_arena_free(&mem);
    return rc;
}
