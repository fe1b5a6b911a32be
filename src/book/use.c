/* Goods taken into use: bolts that were cut into. */
#include "book/stmt.h"
#include "tenterbook/dispute.h"

#include <math.h>
#include <string.h>

/* A correction takes back one use of the same bolt, once. */
static tb_rc check_replaced(const struct tb_bolt_use *u, struct tb_book *b, const struct tb_bolt *bolt,
                            struct tb_arena *mem, struct tb_err *err)
{
    struct tb_use_corrected old;
    tb_rc rc;

    /* what takes a use back is a record of its own, so that both stay to be read */
    if (u->used == (u->replaces != NULL))
        return tb_fail(err, TB_EINVAL, "a use takes nothing back, and what takes one back names it");
    if (!u->replaces)
        return TB_OK;
    rc = tb_one_use_corrected(&old, tb_sql_bolt_use_replaced(b, u->replaces), mem, err);
    if (rc == TB_ENOTFOUND || (rc == TB_OK && (strcmp(old.bolt, bolt->id) != 0 || old.corrections > 0)))
        return tb_fail(err, TB_EINVAL, "there is no such use of bolt %s to take back", bolt->number);
    return rc;
}

tb_rc tb_bolt_use_add(struct tb_bolt_use *u, struct tb_book *b, const struct tb_bolt *bolt,
                      struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check_replaced(u, b, bolt, mem, err);

    if (rc != TB_OK)
        return rc;
    if (u->used_at && !tb_moment_valid(u->used_at))
        return tb_fail(err, TB_EINVAL, "the moment of cutting '%s' is not valid (YYYY-MM-DDThh:mm:ssZ)",
                       u->used_at);
    if (!isnan(u->metres) && !(u->metres > 0 && (isnan(bolt->metres) || u->metres <= bolt->metres)))
        return tb_fail(err, TB_EINVAL, "%g m cannot be cut from bolt %s, which has %.2f m", u->metres,
                       bolt->number, bolt->metres);
    u->id = tb_new_key(mem);
    u->bolt = bolt->id;
    u->used_at = u->used_at ? u->used_at : tb_moment_now(b, mem);
    return tb_put_bolt_use(u, b, err);
}

double tb_bolt_cut_off(const struct tb_bolt_use *use, size_t n, const char *bolt_id)
{
    double gone = 0;

    for (size_t i = 0; i < n; i++)
        if (strcmp(use[i].bolt, bolt_id) == 0 && !isnan(use[i].metres))
            gone += use[i].metres;
    return gone;
}

bool tb_bolt_used_whole(const struct tb_bolt_use *use, size_t n, const char *bolt_id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(use[i].bolt, bolt_id) == 0 && isnan(use[i].metres))
            return true;
    return false;
}
