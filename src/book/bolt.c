/* Bolts: one by one, and very many at once. */
#include "book/named.h"
#include "book/private.h"
#include "tenterbook/limits.h"
#include "tenterbook/void.h"

#include <math.h>
#include <string.h>

tb_rc tb_bolt_add(const struct tb_bolt *bolt, struct tb_book *b, struct tb_err *err)
{
    char id[TB_ID_LEN + 1];
    tb_rc rc;

    if (bolt->kg > 0 && !(bolt->kg >= TB_KG_LEAST && bolt->kg <= TB_KG_MOST))
        return tb_fail(err, TB_EINVAL, "bolt %s weighs %g kg; it takes %g to %.0f kg", bolt->number, bolt->kg,
                       TB_KG_LEAST, TB_KG_MOST);
    if (bolt->weight_kg > 0 && !(bolt->weight_kg >= TB_KG_LEAST && bolt->weight_kg <= TB_KG_MOST))
        return tb_fail(err, TB_EINVAL, "bolt %s weighs %g kg; it takes %g to %.0f kg", bolt->number,
                       bolt->weight_kg, TB_KG_LEAST, TB_KG_MOST);
    if (!(isnan(bolt->metres) && bolt->kg > 0) &&
        !(bolt->metres >= TB_METRES_LEAST && bolt->metres <= TB_METRES_MOST))
        return tb_fail(err, TB_EINVAL, "bolt %s is %g m long; it takes %g to %.0f m", bolt->number,
                       bolt->metres, TB_METRES_LEAST, TB_METRES_MOST);
    if (!isnan(bolt->width_cm) && !(bolt->width_cm >= TB_WIDTH_LEAST && bolt->width_cm <= TB_WIDTH_MOST))
        return tb_fail(err, TB_EINVAL, "bolt %s is %g cm wide; it takes %g to %g cm", bolt->number,
                       bolt->width_cm, TB_WIDTH_LEAST, TB_WIDTH_MOST);
    if (!isnan(bolt->mass_gm2) && !(bolt->mass_gm2 >= TB_MASS_LEAST && bolt->mass_gm2 <= TB_MASS_MOST))
        return tb_fail(err, TB_EINVAL, "bolt %s weighs %g g/m2; it takes %g to %g g/m2", bolt->number,
                       bolt->mass_gm2, TB_MASS_LEAST, TB_MASS_MOST);
    if ((rc = tb_put_bolt(bolt, b, err)) != TB_OK || !(bolt->kg > 0 || bolt->weight_kg > 0))
        return rc;
    (void)strcpy(id, b->key); /* that of the bolt, until the next one is made */
    if (bolt->weight_kg > 0)
        return tb_put_bolt_weight(&(struct tb_bolt_weight_fact){ .bolt = id, .kg = bolt->weight_kg }, b, err);
    return tb_put_bolt_mass(
        &(struct tb_bolt_mass_fact){ .bolt = id, .kg = bolt->kg, .derived = bolt->derived }, b, err);
}

tb_rc tb_bolt_find(struct tb_bolt *out, struct tb_book *b, const char *lot_id, const char *number,
                   struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_one_bolt(out, tb_sql_bolt_by_lot_and_number(b, lot_id, number), mem, err);
    struct tb_bolt *like;
    size_t n;

    if (rc != TB_ENOTFOUND)
        return rc;
    if ((rc = tb_all_bolt(&like, &n, tb_sql_bolt_by_lot_and_number_like(b, lot_id, number), mem, err)) !=
        TB_OK)
        return rc;
    if (n == 0) {
        rc = tb_fail(err, TB_ENOTFOUND, "the lot has no bolt %s", number);
        rc = tb_bolt_voided_refuse(b, lot_id, number, rc, err);
        return tb_nearest_offer(b, "bolt", lot_id, number, rc, err);
    }
    *out = like[0];
    return n == 1 ? TB_OK
                  : tb_fail(err, TB_EINVAL, "bolt %s may be %s or %s of this lot; write it as on the bolt",
                            number, like[0].number, like[1].number);
}

/* --- very many -------------------------------------------------------------------------------------------------- */

/* Keeping an index on unordered text during a large load costs several times the load: from so many bolts on, and when
 * they are not few beside what is there already, it is made anew at the end. */
#define BULK 20000
#define FEW 4 /* fewer than one new for so many old ones */

tb_rc tb_bolts_begin(struct tb_book *b, int64_t how_many, struct tb_err *err)
{
    int64_t have = 0;
    tb_rc rc = tb_ask_whole(&have, tb_sql_bolt_rough_count(b), err);

    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    if (how_many < BULK || how_many < have / FEW)
        return TB_OK;
    rc = tb_run(tb_sql_bolt_number_index_drop(b), err);
    b->index_dropped = rc == TB_OK;
    return rc;
}

tb_rc tb_bolts_end(struct tb_book *b, struct tb_err *err)
{
    if (!b->index_dropped)
        return TB_OK;
    b->index_dropped = false;
    return tb_run(tb_sql_bolt_number_index_make(b), err);
}
