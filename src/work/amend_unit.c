/* What a list's figures were, said to be of another unit than they were taken in: always from the figures as written. */
#include "work/amend_unit.h"

#include "base/say.h"
#include "tenterbook/intake.h"

#include <math.h>
#include <string.h>

static const char as_read[] = "read";

/* The last amendment of the unit is the one that counts. */
static const char *unit_of(const struct tb_amendment *amendment, size_t n)
{
    const char *unit = as_read;

    for (size_t i = 0; i < n; i++)
        if (strcmp(amendment[i].field, "unit") == 0)
            unit = amendment[i].new;
    return unit;
}

static tb_rc stored_now(const char **out, struct tb_job *j, const char *lot)
{
    struct tb_amendment *list;
    size_t n;
    tb_rc rc = tb_amendment_list(&list, &n, j->b, lot, j->mem, j->err);

    if (rc == TB_OK)
        *out = unit_of(list, n);
    return rc;
}

/* What the lengths as read are multiplied by: lot_unit of the schema has the same. */
static double factor_of(const char *stored)
{
    double yard = tb_unit_metres(TB_UNIT_YD);

    return strcmp(stored, "yd") == 0 ? yard : strcmp(stored, "m") == 0 ? 1 / yard : 1;
}

static tb_rc refuse(struct tb_job *j, tb_rc rc)
{
    return tb_about(j->err, rc, "unit");
}

/* The one unit that all lengths of a lot were written in. */
static tb_rc find_written(enum tb_unit *out, struct tb_job *j, const struct tb_lot *lot)
{
    struct tb_bolt *bolt;
    size_t n;
    tb_rc rc = tb_bolt_list(&bolt, &n, j->b, lot->id, j->mem, j->err);

    *out = n ? tb_length_said_in(bolt[0].said) : TB_UNIT_M;
    for (size_t i = 1; i < n && rc == TB_OK; i++)
        if (tb_length_said_in(bolt[i].said) != *out)
            return refuse(j, tb_fail(j->err, TB_EREFUSED,
                                     "the lengths of lot %s were written in several units; void the delivery "
                                     "and receive its list with the right ones",
                                     lot->ref));
    if (rc == TB_OK && *out != TB_UNIT_M && *out != TB_UNIT_YD)
        rc = refuse(j, tb_fail(j->err, TB_EREFUSED,
                               "the lengths of lot %s were written in neither yards nor metres; void the "
                               "delivery and receive its list with the right unit",
                               lot->ref));
    return rc;
}

/* A price by the yard of cloth that was measured in metres stays one: it does not follow the lengths. */
static tb_rc check_price(struct tb_job *j, const struct tb_lot *lot, enum tb_unit written)
{
    struct tb_invoiced price;
    tb_rc rc = tb_lot_invoiced(&price, j->b, lot, j->mem, j->err);

    if (rc != TB_OK || isnan(price.price) || strcmp(price.unit, "kg") == 0 ||
        strcmp(price.unit, tb_unit_key(written)) == 0)
        return rc;
    return refuse(j, tb_fail(j->err, TB_EREFUSED,
                             "lot %s was measured in %s and priced by the %s; void the delivery and receive "
                             "its list with the right units",
                             lot->ref, tb_unit_key(written), price.unit));
}

tb_rc tb_unit_change_of(struct tb_unit_change *out, struct tb_job *j, const struct tb_lot *lot,
                        const char *asked)
{
    enum tb_unit written = TB_UNIT_NONE;
    tb_rc rc;

    *out = (struct tb_unit_change){ .new = as_read };
    if (lot->kg > 0)
        return refuse(j, tb_fail(j->err, TB_EREFUSED,
                                 "lot %s was counted in kilograms: its lengths were neither yards nor metres",
                                 lot->ref));
    if ((rc = stored_now(&out->old, j, lot->id)) != TB_OK)
        return rc;
    if (strcmp(asked, as_read) != 0) {
        if ((rc = find_written(&written, j, lot)) != TB_OK)
            return rc;
        if (strcmp(asked, tb_unit_key(written)) != 0)
            out->new = asked;
    }
    out->metres_was = lot->metres;
    out->metres = lot->metres * factor_of(out->new) / factor_of(out->old);
    if (out->new != as_read && strcmp(out->old, as_read) == 0)
        rc = check_price(j, lot, written);
    return rc;
}

void tb_said_as_amended(struct tb_bolt *bolt, size_t bolts, const struct tb_amendment *amendment,
                        size_t amendments, struct tb_arena *mem)
{
    const char *unit = unit_of(amendment, amendments);

    for (size_t i = 0; i < bolts && strcmp(unit, as_read) != 0; i++)
        bolt[i].said = strcmp(unit, "yd") == 0 && !isnan(bolt[i].metres)
                           ? tb_arena_printf(mem, "%.8g yd", bolt[i].metres / tb_unit_metres(TB_UNIT_YD))
                           : "";
}
